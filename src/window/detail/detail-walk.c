/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/detail/detail-private.h"

#include "base/decimal.h"

#include <glib/gi18n.h>

/* One line of the build-up taken apart; looked up anew when it is opened. */
typedef struct
{
  TallySession *session;
  JobScope scope;
  GArray *ids; /* (nullable): of runs, instead of the scope */
  char *line;  /* key */
} Walk;

static void
walk_free (gpointer data)
{
  Walk *w = data;

  g_clear_pointer (&w->ids, g_array_unref);
  g_free (w->line);
  g_free (w);
}

/* What a walk starts from. */
static void
read_totals (TallyJob *job, const JobScope *scope, const GArray *ids, JobTotals *totals)
{
  int n = job_basis (job)->n_methods;

  if (!ids)
    {
      job_totals (job, scope, JOB_OWN_METHOD, totals);
      return;
    }
  g_autofree JobTotals *each = g_new0 (JobTotals, (gsize) n + 1);
  job_totals_of_runs (job, (const gint64 *) (gpointer) ids->data, ids->len, each);
  for (int i = 0; i < n; i++)
    job_totals_clear (&each[i]);
  *totals = each[n];
}

static void
add_part (GtkWidget *table, const char *name, double quantity, const char *unit, gint64 rate, double amount, const char *source,
          const char *status)
{
  g_autofree char *sum = detail_fixed (amount, 2), *n = detail_fixed (quantity, 1), *each = decimal_print (rate, 4, 2, TRUE);
  g_autofree char *under = unit ? g_strdup_printf (_ ("%s %s at %s · %s, %s"), n, unit, each, status, source)
                                : g_strdup_printf ("%s", source);
  const char *head[] = { name, sum }, *foot[] = { under };

  detail_table_row (table, NULL, head, 2);
  detail_table_row (table, "caption dim-label", foot, 1);
}

static void
fill_items (GtkWidget *table, const CostBasis *basis, const JobTotals *totals, int group)
{
  CostMeasure own = group == COST_RENTAL ? COST_OWN_RENTAL : COST_OWN_MATERIAL;
  gint64 money = totals->vector[cost_measure_slot (basis, own)];

  for (int i = 0; i < basis->n_items; i++)
    {
      const CostItem *item = catalogue_item (basis->catalogue, i);
      if ((int) item->group == group && totals->vector[i] != 0)
        add_part (table, item->key, (double) totals->vector[i] / 1e6, item->unit, basis->price[i],
                  num_wide_to_double ((NumWide) totals->vector[i] * basis->price[i]) / 1e10, item->source, duct_status_key (item->status));
    }
  if (money != 0 && group != COST_ONCE)
    add_part (table, _ ("counted lines with a price of their own"), 0, NULL, 0, (double) money / 1e10, _ ("entered on the runs"), "");
}

static void
fill_labour (GtkWidget *table, const CostBasis *basis, const JobTotals *totals, gboolean shop)
{
  for (int i = 0; i < basis->n_slots; i++)
    {
      const CostSlot *slot = &basis->slots[i];
      const LabourStep *step = slot->step >= 0 ? catalogue_step (basis->catalogue, slot->step) : NULL;
      const LabourCrew *crew = g_ptr_array_index (basis->catalogue->labour->crews, (guint) slot->crew);
      NumWide time = totals->slot_time[i];
      g_autofree char *name = g_strdup_printf ("%s (%s)", step ? step->key : _ ("minutes of counted lines"), labour_place_key (slot->place));

      if (crew->shop == shop && time != 0)
        add_part (table, name, num_wide_to_double (time) / COST_TIME_DEN, _ ("worker-h"), basis->rate[slot->crew],
                  num_wide_to_double (time * basis->rate[slot->crew]) / num_wide_to_double (COST_LABOUR_DEN),
                  step ? step->source : _ ("entered on the runs"), step ? step->status : "");
    }
}

static void
fill_line (GtkWidget *box, gpointer data)
{
  Walk *w = data;
  TallyJob *job = session_job (w->session);
  const CostBasis *basis = job ? job_basis (job) : NULL;
  int at = basis ? buildup_find (basis, w->line) : -1;
  const CostBuildLine *line;
  JobTotals totals;

  if (at < 0)
    return;
  line = g_ptr_array_index (basis->buildup, (guint) at);
  read_totals (job, &w->scope, w->ids, &totals);
  GtkWidget *table = detail_table (box);
  if (line->op == COST_OP_ITEMS)
    fill_items (table, basis, &totals, line->which);
  else
    fill_labour (table, basis, &totals, line->which == 1);
  if (!gtk_widget_get_first_child (table))
    detail_words (box, "caption dim-label", "%s", _ ("Nothing of it is in this part of the job."));
  job_totals_clear (&totals);
}

static char *
title_of (TallySession *session, const JobScope *scope, const GArray *ids)
{
  const JobNames *names = job_names (session_job (session));
  const char *system = scope->system > 0 ? names->name (names->data, JOB_SYSTEM, scope->system) : scope->system < 0 ? _ ("no system") : NULL;
  const char *area = scope->area > 0 ? names->name (names->data, JOB_AREA, scope->area) : scope->area < 0 ? _ ("no area") : NULL;

  if (ids)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "Cost of %u selected run", "Cost of %u selected runs", ids->len), ids->len);
  if (system && area)
    return g_strdup_printf (_ ("Cost of %s, %s"), system, area);
  if (system || area)
    return g_strdup_printf (_ ("Cost of %s"), system ? system : area);
  return g_strdup (_ ("From the price to its sources"));
}

/* How a line without parts of its own comes about, in words. */
static char *
how (const CostBasis *basis, const CostBuildLine *line)
{
  g_autoptr (GString) of = g_string_new (NULL);
  g_autofree char *rate = decimal_print (line->rate_ppm, 4, 0, FALSE);

  for (guint i = 0; i < line->refs->len; i++)
    {
      const CostBuildLine *ref = g_ptr_array_index (basis->buildup, (guint) g_array_index (line->refs, int, i));
      g_string_append_printf (of, "%s%s", i ? ", " : "", ref->label);
    }
  switch (line->op)
    {
    case COST_OP_RATE:
      return g_strdup_printf (_ ("%s %% of: %s"), rate, of->str);
    case COST_OP_MARKUP:
      return g_strdup_printf (_ ("%s %% on top of: %s"), rate, of->str);
    case COST_OP_MARGIN:
      return g_strdup_printf (_ ("%s %% of the price that includes it, over: %s"), rate, of->str);
    case COST_OP_AMOUNT:
      return g_strdup (_ ("entered as an amount"));
    case COST_OP_SUM:
      return g_strdup_printf (_ ("sum of: %s"), of->str);
    case COST_OP_ITEMS:
    case COST_OP_LABOUR:
    default:
      return g_strdup ("");
    }
}

static gboolean *
state_of (GHashTable *open, const char *key)
{
  gboolean *state = g_hash_table_lookup (open, key);

  if (!state)
    g_hash_table_insert (open, g_strdup (key), state = g_new0 (gboolean, 1));
  return state;
}

/* The row of the line, for the pane to scroll to. */
static GtkWidget *
add_line (GtkWidget *box, const Walk *of, const CostBasis *basis, const CostBuildLine *line, gint64 value, gboolean asked, GHashTable *open)
{
  GtkWidget *table = detail_table (box);
  g_autofree char *money = session_money (of->session, value), *words = how (basis, line);
  gboolean sum = line->op == COST_OP_SUM;
  const char *cells[] = { line->label, money };

  detail_table_row (table, sum ? "heading" : NULL, cells, 2);
  if (asked)
    gtk_widget_add_css_class (table, "detail-asked");
  if (line->op == COST_OP_ITEMS || line->op == COST_OP_LABOUR)
    {
      Walk *w = g_new (Walk, 1);
      gboolean *state = state_of (open, line->key);
      *w = (Walk) { of->session, of->scope, of->ids ? g_array_ref (of->ids) : NULL, g_strdup (line->key) };
      *state = *state || asked;
      detail_expander (box, line->op == COST_OP_ITEMS ? _ ("its items") : _ ("its steps"), state, fill_line, w, walk_free);
    }
  else if (!sum || asked)
    detail_words (box, "caption dim-label", "%s", words);
  return table;
}

#define MOST_ADDED 5000 /* runs */

GtkWidget *
detail_add_walk (GtkWidget *box, TallySession *session, const GArray *ids, const char *asked, GHashTable *open)
{
  TallyJob *job = session_job (session);
  Walk of = { .session = session, .scope = *session_scope (session) };
  gboolean part = of.scope.system != 0 || of.scope.area != 0 || ids;
  g_autofree char *title = title_of (session, &of.scope, ids);
  const CostBasis *basis = job_basis (job);
  gboolean beyond = asked && buildup_find (basis, asked) > buildup_find (basis, "cost");
  int last = part && !beyond ? buildup_find (basis, "cost") : -1;
  g_autoptr (GArray) kept = ids ? g_array_copy ((GArray *) ids) : NULL;
  GtkWidget *goal = NULL;
  JobTotals totals;

  detail_words (box, "title-4", "%s", title);
  if (ids && ids->len > MOST_ADDED)
    {
      detail_words (box, "dim-label", "%s", _ ("That many are not added up here: select fewer, or a part in the job map."));
      return NULL;
    }
  of.ids = kept;
  read_totals (job, &of.scope, kept, &totals);
  g_autoptr (BuildUp) b = buildup_new (basis, &totals.sums, session_decimals (session));
  if (totals.not_priced > 0)
    detail_words (box, "attention", ngettext ("%d run is not priced and not in these figures.", "%d runs are not priced and not in these figures.",
                                              (gulong) totals.not_priced), (int) totals.not_priced);
  detail_words (box, "dim-label", "%s", _ ("Select one run to see how it is built."));
  for (guint i = 0; i < basis->buildup->len && (last < 0 || (int) i <= last); i++)
    {
      const CostBuildLine *line = g_ptr_array_index (basis->buildup, i);
      gboolean this = g_strcmp0 (line->key, asked) == 0;
      GtkWidget *row = add_line (box, &of, basis, line, b->value[i], this, open);
      if (this)
        goal = row;
    }
  job_totals_clear (&totals);
  return goal;
}
