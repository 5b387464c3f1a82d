/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/claim.h"

#include "base/table.h"
#include "cost/sensitivity.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
claim_free (gpointer data)
{
  CostClaim *claim = data;

  g_free (claim->key);
  g_array_unref (claim->steps);
  g_free (claim->note);
  g_free (claim->source);
  g_free (claim);
}

static void
read_steps (const Catalogue *catalogue, const TableReader *r, CostClaim *claim)
{
  g_auto (GStrv) words = g_strsplit (table_cell (r, "steps"), "|", -1);
  guint named = 0;

  for (char **w = words; *w; w++)
    {
      int step;
      if (!*g_strstrip (*w))
        continue;
      named++;
      step = labour_find_step (catalogue->labour, *w);
      if (step < 0)
        {
          g_autofree char *what = g_strdup_printf (_ ("there is no step “%s”"), *w);
          table_complain (r, "steps", what, _ ("name steps of the sheet of steps, joined by |"));
        }
      else
        g_array_append_val (claim->steps, step);
    }
  if (named == 0)
    table_complain (r, "steps", _ ("a claim must name the steps that it means"), _ ("name one or more steps, joined by |"));
}

void
catalogue_read_claims (Catalogue *catalogue, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "claim", "steps", "cut_pct", "method", "note", "source", "status", NULL };
  TableReader r;

  catalogue->claims = g_ptr_array_new_with_free_func (claim_free);
  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      CostClaim *claim = g_new0 (CostClaim, 1);

      claim->steps = g_array_new (FALSE, FALSE, sizeof (int));
      claim->key = g_strdup (table_cell (&r, "claim"));
      if (!*claim->key)
        table_complain (&r, "claim", _ ("the row has no key"), _ ("enter one"));
      else if (catalogue_find_claim (catalogue, claim->key) >= 0)
        table_complain (&r, "claim", _ ("this key stands twice"), _ ("give each row its own"));
      g_ptr_array_add (catalogue->claims, claim);
      read_steps (catalogue, &r, claim);
      claim->cut_ppm = table_decimal (&r, "cut_pct", 4, 0, 0, 1000000);
      if (!*table_cell (&r, "cut_pct"))
        table_complain (&r, "cut_pct", _ ("a claim must say how much it saves"), _ ("enter a share of 0 to 100 %"));
      claim->method = catalogue_find_method (catalogue, table_cell (&r, "method"));
      if (claim->method < 0)
        table_complain (&r, "method", _ ("there is no such method"), _ ("name the method that the claim is made for"));
      claim->note = g_strdup (table_cell (&r, "note"));
      claim->source = g_strdup (table_cell (&r, "source"));
      claim->status = DUCT_SHOPS_OWN;
      if (!duct_status_parse (table_cell (&r, "status"), &claim->status))
        table_complain (&r, "status", _ ("not a status"),
                        _ ("write published, published*, computed, common practice, from memory, shop's own or invented demo"));
    }
}

int
catalogue_find_claim (const Catalogue *catalogue, const char *key)
{
  return table_find (catalogue->claims, key);
}

int
catalogue_claim_of_method (const Catalogue *catalogue, int method)
{
  for (guint i = 0; catalogue->claims && i < catalogue->claims->len; i++)
    if (((CostClaim *) g_ptr_array_index (catalogue->claims, i))->method == method)
      return (int) i;
  return -1;
}

/* ---- what it comes to ---- */

static gboolean
names_step (const CostClaim *claim, int step)
{
  for (guint i = 0; i < claim->steps->len; i++)
    if (g_array_index (claim->steps, int, i) == step)
      return TRUE;
  return FALSE;
}

/* Minutes and money of some slots of an option. */
typedef struct
{
  double minutes, money;
} Work;

/* @named: the steps of the claim; else all steps placed at the joint. */
static Work
work_of (const CostOption *o, const CostClaim *claim, gboolean named)
{
  const CostBasis *basis = o->buildup->basis;
  CostSums part = { 0 };
  NumWide time = 0;

  for (int s = 0; o->sums.slot_time && s < basis->n_slots; s++)
    {
      const CostSlot *slot = &basis->slots[s];
      if (named ? !names_step (claim, slot->step) : slot->place != LABOUR_JOINT)
        continue;
      time += o->sums.slot_time[s];
      part.labour[slot->place == LABOUR_SHOP] += o->sums.slot_time[s] * basis->rate[slot->crew];
    }
  return (Work) { num_wide_to_double (time) / (COST_TIME_DEN / 60), cost_part_of_sums (basis, &part) };
}

static double
share (double part, double whole)
{
  return whole > 0 ? part / whole : NAN;
}

static void
fill_saving (CostSaving *s, const CostClaimResult *r, double minutes, double gain)
{
  *s = (CostSaving) { minutes, share (minutes, r->steps_minutes), share (minutes, r->joint_minutes),
                      share (minutes, r->piece_minutes), gain };
}

void
cost_claim_result (const CostClaim *claim, const CostOption *a, const CostOption *b, CostClaimResult *r)
{
  double joints = (double) a->joints / 1e3, joints_b = (double) b->joints / 1e3, cut = (double) claim->cut_ppm / 1e6;
  Work named = work_of (a, claim, TRUE), joint = work_of (a, claim, FALSE), other = work_of (b, claim, FALSE);
  double gain = cost_part_whole (a) - cost_part_whole (b), none;

  *r = (CostClaimResult) { .least = NAN };
  if (joints <= 0 || joints_b <= 0 || named.minutes <= 0)
    return;
  r->applies = TRUE;
  r->steps_minutes = named.minutes / joints;
  r->joint_minutes = joint.minutes / joints;
  r->piece_minutes = a->field_hours * 60 / joints;
  /* A joint against a joint: the method may have more or fewer of them. */
  fill_saving (&r->own, r, joint.minutes / joints - other.minutes / joints_b, cost_option_gain (a, b));
  /* The method with the baseline's minutes at each of its own joints, nothing cut: what is left to save. */
  none = gain + other.money - joint.money / joints * joints_b;
  fill_saving (&r->claimed, r, cut * r->steps_minutes, none + cut * named.money / joints * joints_b);
  r->slope = named.money / joints * joints_b / r->steps_minutes;
  if (named.money > 0)
    r->least = -none / (named.money / joints * joints_b);
}
