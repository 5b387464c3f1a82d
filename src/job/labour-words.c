/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/labour-model.h"

#include "base/decimal.h"
#include "job/job-private.h"
#include "job/setting.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define MILLION 1000000

/* A bucket that holds something. */
static gboolean
in_use (TallyJob *job, const JobBucket *b)
{
  int n = job->basis->n_methods;
  gsize at = (gsize) n * (gsize) job->basis->n_vector + (gsize) cost_measure_slot (job->basis, COST_RUNS);

  return b->vector[at] > 0 || b->not_priced[n] > 0;
}

/* The largest joint factor of conditions on minutes that the bucket has, and where. */
static gint64
conditions_most (TallyJob *job, const JobBucket *b, const CostSlot **where)
{
  const CostBasis *basis = job->basis;
  const gint64 *vector = b->vector + (gsize) basis->n_methods * (gsize) basis->n_vector + basis->n_items;
  LabourFactors factors;
  gint64 most = 0;

  job_bucket_conditions (job, b, &factors);
  for (int i = 0; i < basis->n_slots; i++)
    {
      const CostSlot *slot = &basis->slots[i];
      gint64 ppm = factors.ppm[slot->group][slot->place];
      if (slot->place == LABOUR_JOINT && b->floor_ppm > 0)
        ppm = MAX (ppm, factors.floor_joint[slot->group]);
      if (vector[i] == 0 || slot->shared || ppm <= most)
        continue;
      most = ppm;
      if (where)
        *where = slot;
    }
  return most;
}

guint
job_over_cap (TallyJob *job)
{
  GHashTableIter iter;
  JobBucket *b;
  guint n = 0;

  g_hash_table_iter_init (&iter, job->buckets);
  while (g_hash_table_iter_next (&iter, (gpointer *) &b, NULL))
    n += in_use (job, b) && conditions_most (job, b, NULL) > job_labour (job)->cap;
  return n;
}

/* ---- in words ---- */

static char *
factor_text (gint64 ppm)
{
  return decimal_print (num_div (ppm, 100), 4, 2, FALSE);
}

static void
overtime_words (TallyJob *job, GPtrArray *out)
{
  const JobLabour *l = job_labour (job);
  const char *where = job_setting_say (job, "overtime.places");

  if (l->paid != LABOUR_PAID_ONE)
    {
      g_autofree char *paid = labour_paid_print (l->paid);
      g_ptr_array_add (out, g_strdup_printf (_ ("overtime in %s: %g h a week, those over %d paid %g times: x %s on wage; premium %.2f %% on "
                                                "hours worked, %.2f %% of the total pay"),
                                             where, l->hours, LABOUR_STRAIGHT_WEEK, l->premium, paid,
                                             100 * labour_premium_on_hours (l->paid), 100 * labour_premium_on_pay (l->paid)));
    }
  if (l->lost)
    {
      g_autofree char *factor = factor_text (l->loss.factor_ppm);
      const char *means = l->loss.basis == LABOUR_LOSS_MULTIPLY ? _ ("time is base × (1 + loss)") : _ ("time is base / (1 − loss)");
      g_autofree char *on = l->weeks > l->loss.weeks_known
                                ? g_strdup_printf (_ (" (the table ends at week %d: its last loss goes on)"), l->loss.weeks_known)
                                : g_strdup ("");
      g_ptr_array_add (out, g_strdup_printf (ngettext ("loss of output in %s by the table “%s”, %d week of %g h%s: %.2f %% on average; %s, "
                                                       "%s: x %s on the minutes. None of these tables is binding",
                                                       "loss of output in %s by the table “%s”, %d weeks of %g h%s: %.2f %% on average; %s, "
                                                       "%s: x %s on the minutes. None of these tables is binding", (gulong) l->weeks),
                                             where, l->table, l->weeks, l->hours, on, 100 * l->loss.loss, means,
                                             l->loss.basis_is_tables ? _ ("as the table says") : _ ("as this job chose"), factor));
    }
}

/* Each method learns over the joints that it makes of the job. */
static char *
learning_words (TallyJob *job)
{
  const JobLabour *l = job_labour (job);
  g_autoptr (GArray) methods = job_methods_listed (job, -1);
  g_autoptr (GString) others = g_string_new (NULL);
  gint64 joints, ppm = job_learning (job, JOB_OWN_METHOD, &joints);
  g_autofree char *factor = factor_text (ppm);

  for (guint i = 0; i < methods->len; i++)
    {
      int m = g_array_index (methods, int, i);
      gint64 n, other = job_learning (job, m, &n);
      g_autofree char *text = factor_text (other);
      if (n != joints)
        g_string_append_printf (others, _ ("; %s over %d x %s"), catalogue_method (job->catalogue, m)->key, (int) n, text);
    }
  /* Translators: the entered minutes are those of a crew that knows the work; learning never goes below them. */
  g_autofree char *holds
      = l->learning == LABOUR_LEARNING_UNIT
            ? g_strdup_printf (_ ("the entered minutes are those of joint %d and hold from there on"), (int) l->known)
            : g_strdup_printf (ngettext ("the entered minutes are the average of the first %d joint and hold from there on",
                                         "the entered minutes are the average of the first %d joints and hold from there on",
                                         (gulong) l->known),
                               (int) l->known);
  return g_strdup_printf (ngettext ("learning by the %s: %g %% left at each doubling, %s; over %d joint x %s on steps at the joint%s",
                                    "learning by the %s: %g %% left at each doubling, %s; over %d joints x %s on steps at the joint%s",
                                    (gulong) joints),
                          labour_learning_say (l->learning), l->slope * 100, holds, (int) joints, factor, others->str);
}

static void
area_words (TallyJob *job, GPtrArray *out)
{
  for (guint i = 0; i < job_n (job, JOB_AREA); i++)
    {
      const JobRecord *a = job_at (job, JOB_AREA, i);
      g_autoptr (GString) words = g_string_new (NULL);
      gint64 floor = a->num[AREA_FLOOR_SHARE], remade = a->num[AREA_REMADE], raised = a->num[AREA_RAISED];
      if (floor != JOB_UNSET && floor > 0)
        g_string_append_printf (words, _ ("; %.4g %% of the joints made on the floor"), (double) floor / 1e4);
      if (raised != JOB_UNSET && raised > 1)
        g_string_append_printf (words, _ ("; %d pieces raised together share the fixed minutes of raising"), (int) raised);
      if (remade != JOB_UNSET && remade > 0)
        g_string_append_printf (words, _ ("; %.4g %% of the joints made once more"), (double) remade / 1e4);
      if (words->len > 0)
        g_ptr_array_add (out, g_strdup_printf ("%s: %s", a->text[AREA_KEY], words->str + 2));
    }
}

GPtrArray *
job_labour_words (TallyJob *job)
{
  const JobLabour *l = job_labour (job);
  GPtrArray *out = g_ptr_array_new_with_free_func (g_free);

  if (l->join != LABOUR_JOIN_PRODUCT)
    g_ptr_array_add (out, g_strdup (_ ("conditions add: the joint factor is 1 + the sum of what each puts on top")));
  if (l->learning != LABOUR_LEARNING_NONE)
    g_ptr_array_add (out, learning_words (job));
  overtime_words (job, out);
  area_words (job, out);
  return out;
}

static void
append_name (GString *out, const char *name)
{
  g_string_append_printf (out, "%s%s", out->len > 0 ? ", " : "", name);
}

/* Whether an area holds a figure above @plain. */
static gboolean
any_area (TallyJob *job, int slot, gint64 plain)
{
  for (guint i = 0; i < job_n (job, JOB_AREA); i++)
    {
      gint64 v = job_at (job, JOB_AREA, i)->num[slot];
      if (v != JOB_UNSET && v > plain)
        return TRUE;
    }
  return FALSE;
}

char *
job_labour_names (TallyJob *job)
{
  const JobLabour *l = job_labour (job);
  g_autoptr (GString) out = g_string_new (NULL);

  if (l->join != LABOUR_JOIN_PRODUCT)
    append_name (out, _ ("conditions add"));
  if (l->learning != LABOUR_LEARNING_NONE)
    {
      g_autofree char *name = g_strdup_printf (_ ("learning by the %s"), labour_learning_say (l->learning));
      append_name (out, name);
    }
  if (l->paid != LABOUR_PAID_ONE)
    {
      g_autofree char *name = g_strdup_printf (_ ("overtime of %g h a week"), l->hours);
      append_name (out, name);
    }
  if (l->lost)
    {
      g_autofree char *name = g_strdup_printf (_ ("loss of output by the table “%s”"), l->table);
      append_name (out, name);
    }
  if (any_area (job, AREA_FLOOR_SHARE, 0))
    append_name (out, _ ("joints made on the floor"));
  if (any_area (job, AREA_RAISED, 1))
    append_name (out, _ ("pieces raised together"));
  if (any_area (job, AREA_REMADE, 0))
    append_name (out, _ ("joints remade"));
  return out->len > 0 ? g_strdup (out->str) : NULL;
}

static char *
bucket_name (TallyJob *job, const JobBucket *b)
{
  const JobRecord *system = job_find (job, JOB_SYSTEM, b->system), *area = job_find (job, JOB_AREA, b->area);
  g_autofree char *own = b->condition ? g_strdup_printf (_ (", runs with “%s”"), b->condition) : g_strdup ("");

  return g_strdup_printf ("%s, %s%s", system ? system->text[SYSTEM_KEY] : _ ("no system"), area ? area->text[AREA_KEY] : _ ("no area"),
                          own);
}

static int
by_text (gconstpointer a, gconstpointer b)
{
  return strcmp (*(char *const *) a, *(char *const *) b);
}

static void
cap_cautions (TallyJob *job, GPtrArray *out)
{
  g_autofree char *cap = decimal_print (job_labour (job)->cap, 6, 0, FALSE);
  g_autoptr (GPtrArray) lines = g_ptr_array_new ();
  GHashTableIter iter;
  JobBucket *b;

  g_hash_table_iter_init (&iter, job->buckets);
  while (g_hash_table_iter_next (&iter, (gpointer *) &b, NULL))
    {
      const CostSlot *where = NULL;
      gint64 most = in_use (job, b) ? conditions_most (job, b, &where) : 0;
      if (!where || most <= job_labour (job)->cap)
        continue;
      g_autofree char *name = bucket_name (job, b), *factor = factor_text (most);
      g_ptr_array_add (lines, g_strdup_printf (_ ("%s: conditions together x %s on “%s” (%s), over the %s from which the job warns; it counts "
                                                  "as it stands"),
                                               name, factor, labour_group_key (where->group), labour_place_key (where->place), cap));
    }
  g_ptr_array_sort (lines, by_text);
  for (guint i = 0; i < lines->len; i++)
    {
      /* Counted lines stand in a bucket of their own. */
      if (i > 0 && strcmp (lines->pdata[i], lines->pdata[i - 1]) == 0)
        continue;
      g_ptr_array_add (out, g_strdup (lines->pdata[i]));
    }
  g_ptr_array_set_free_func (lines, g_free);
}

GPtrArray *
job_labour_cautions (TallyJob *job)
{
  const JobLabour *l = job_labour (job);
  GPtrArray *out = g_ptr_array_new_with_free_func (g_free);
  const JobRecord *named = l->learning != LABOUR_LEARNING_NONE ? job_find_new_crew (job, NULL) : NULL;
  Fault *fault = NULL;
  LabourLoss loss;

  cap_cautions (job, out);
  if (named)
    {
      g_autofree char *where = job_record_name (job, named);
      g_ptr_array_add (out, g_strdup_printf (_ ("learning and the condition “%s” of %s slow the same hours twice: take one of them off"),
                                             job_new_crew (job, named)->key, where));
    }
  if (*l->table && l->weeks > 0 && !l->lost
      && !labour_loss_average (job->catalogue->labour, l->table, l->hours, l->weeks, LABOUR_LOSS_DIVIDE, &loss, &fault))
    {
      g_ptr_array_add (out, g_strdup_printf (_ ("no loss of output counts: %s; %s"), fault->what, fault->remedy));
      fault_free (fault);
    }
  if (l->lost && l->weeks > l->loss.weeks_known)
    g_ptr_array_add (out, g_strdup_printf (_ ("the table “%s” ends at week %d: its last loss goes on to week %d"), l->table,
                                           l->loss.weeks_known, l->weeks));
  return out;
}

static void
add_uses (TallyJob *job, GArray *out, const char *from, const char *keys)
{
  const LabourTables *labour = job->catalogue->labour;
  g_auto (GStrv) words = g_strsplit (keys ? keys : "", ";", -1);

  for (char **w = words; *w; w++)
    {
      int i = labour_find_condition (labour, g_strstrip (*w));
      const LabourCondition *c = i >= 0 ? g_ptr_array_index (labour->conditions, (guint) i) : NULL;
      if (!c)
        continue;
      JobConditionUse use = { from, c->key, c->reason, c->source, c->status, c->factor_ppm };
      g_array_append_val (out, use);
    }
}

GArray *
job_conditions_of (TallyJob *job, const JobRecord *run)
{
  const JobRecord *system = job_find (job, JOB_SYSTEM, run->num[RUN_SYSTEM]), *area = job_find (job, JOB_AREA, run->num[RUN_AREA]);
  GArray *out = g_array_new (FALSE, FALSE, sizeof (JobConditionUse));

  add_uses (job, out, _ ("job"), job_head (job)->text[HEAD_CONDITION]);
  add_uses (job, out, _ ("area"), area ? area->text[AREA_CONDITION] : NULL);
  if (area && area->num[AREA_FACTOR] != JOB_UNSET && area->num[AREA_FACTOR] != MILLION)
    {
      JobConditionUse use = { _ ("area"), _ ("field factor"), _ ("entered for the area"), "", "shop's own", area->num[AREA_FACTOR] };
      g_array_append_val (out, use);
    }
  add_uses (job, out, _ ("system"), system ? system->text[SYSTEM_CONDITION] : NULL);
  add_uses (job, out, _ ("run"), run->text[RUN_CONDITION]);
  return out;
}

void
job_labour_effect (TallyJob *job, int method, JobLabourEffect *effect)
{
  const CostBasis *basis = job->basis;
  const GPtrArray *crews = job->catalogue->labour->crews;
  JobScope whole = { 0, 0 };
  gint64 plain[2] = { 0, 0 };
  JobTotals totals;

  job_totals (job, &whole, method, &totals);
  for (int i = 0; i < basis->n_slots; i++)
    {
      const CostSlot *slot = &basis->slots[i];
      if (!slot->shared)
        plain[((const LabourCrew *) g_ptr_array_index (crews, (guint) slot->crew))->shop] += totals.vector[basis->n_items + i];
    }
  effect->field_hours = num_wide_to_double (totals.sums.time[0]) / COST_TIME_DEN;
  effect->shop_hours = num_wide_to_double (totals.sums.time[1]) / COST_TIME_DEN;
  effect->plain_field = (double) plain[0] / 3.6e6;
  effect->plain_shop = (double) plain[1] / 3.6e6;
  job_totals_clear (&totals);
}

char *
job_labour_conclusion (TallyJob *job)
{
  const JobLabour *l = job_labour (job);
  JobLabourEffect e;

  job_labour_effect (job, JOB_OWN_METHOD, &e);
  double more = e.field_hours - e.plain_field, shop = e.shop_hours - e.plain_shop;
  g_autofree char *side = fabs (shop) < 0.05 ? g_strdup ("") : g_strdup_printf (_ ("; in the shop %+.1f"), shop);
  const char *who = l->learning == LABOUR_LEARNING_NONE && !l->lost ? _ ("Conditions") : l->lost && l->learning != LABOUR_LEARNING_NONE
                      ? _ ("Conditions, learning and overtime")
                    : l->lost ? _ ("Conditions and overtime") : _ ("Conditions and learning");

  if (e.plain_field <= 0)
    return g_strdup (_ ("The job has no field worker-hours yet."));
  if (fabs (more) < 0.05)
    return g_strdup_printf (_ ("Nothing here moves the field worker-hours of this job: %.1f%s."), e.field_hours, side);
  return g_strdup_printf (more > 0 ? _ ("%s add %.1f field worker-hours, %.1f %%: %.1f instead of %.1f%s.")
                                   : _ ("%s take off %.1f field worker-hours, %.1f %%: %.1f instead of %.1f%s."),
                          who, fabs (more), 100 * fabs (more) / e.plain_field, e.field_hours, e.plain_field, side);
}

gboolean
job_conditions_name (const char *list, const char *key)
{
  g_auto (GStrv) words = g_strsplit (list ? list : "", ";", -1);

  for (char **w = words; *w; w++)
    if (strcmp (g_strstrip (*w), key) == 0)
      return TRUE;
  return FALSE;
}

char *
job_conditions_with (const char *list, const char *key, gboolean named)
{
  g_auto (GStrv) words = g_strsplit (list ? list : "", ";", -1);
  GString *out = g_string_new (NULL);

  for (char **w = words; *w; w++)
    if (*g_strstrip (*w) && strcmp (*w, key) != 0)
      g_string_append_printf (out, "%s%s", out->len > 0 ? "; " : "", *w);
  if (named)
    g_string_append_printf (out, "%s%s", out->len > 0 ? "; " : "", key);
  return g_string_free (out, FALSE);
}
