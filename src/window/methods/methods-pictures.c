/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/methods/methods-pictures.h"

#include "base/measure.h"
#include "base/money.h"
#include "chart/bars.h"
#include "chart/matrix.h"
#include "chart/swing.h"
#include "job/heat.h"
#include "job/sensitivity.h"
#include "window/methods/methods-model.h"
#include "window/walk.h"

#include <glib/gi18n.h>
#include <math.h>

#define MOST_BARS 10

/* ---- cost by method ---- */

/* Bars with the words they borrow. */
typedef struct
{
  ChartBars bars;
  ChartBar *bar;
  char **name, **text;
  char *axis;
  GPtrArray *walks; /* while it is filled */
} Costs;

static void
costs_free (gpointer data)
{
  Costs *p = data;

  g_strfreev (p->name);
  g_strfreev (p->text);
  g_free (p->bar);
  g_free (p->axis);
  g_free (p);
}

static double
costs_height (const ChartPaper *paper, double width, gpointer data)
{
  return chart_bars_height (paper, &((Costs *) data)->bars, width);
}

static void
costs_draw (const ChartPaper *paper, double width, gpointer data)
{
  chart_bars_draw (paper, &((Costs *) data)->bars, width);
}

static GPtrArray *
costs_spots (const ChartPaper *paper, double width, gpointer data)
{
  return chart_bars_spots (paper, &((Costs *) data)->bars, width);
}

static gboolean
add_cost (Costs *p, const MethodsData *data, int method, int baseline, const MethodsChances *chances)
{
  static const char *const part[METHODS_N_OF] = { "job", "part", "runs" };
  gboolean priced = data->totals[method].runs > 0;
  const MethodsChance *chance = priced ? methods_chances_of (chances, method) : NULL;
  gsize i = p->bars.n++;

  if (method == baseline)
    p->walks = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (p->walks, tally_walk_line ("cost", catalogue_method (data->basis->catalogue, method)->key,
                                              catalogue_method (data->basis->catalogue, baseline)->key, NULL, part[data->of]));
  p->name[i] = g_strdup (methods_name (data, method));
  p->text[i] = priced ? methods_money (data, methods_whole (data, method)) : g_strdup (_ ("not priced"));
  p->bar[i] = (ChartBar) { .name = p->name[i],
                           .text = p->text[i],
                           .value = priced ? (double) methods_whole (data, method) / pow (10, data->decimals) : NAN,
                           .low = chance ? chance->low : NAN,
                           .high = chance ? chance->high : NAN,
                           .baseline = method == baseline };
  return chance != NULL;
}

void
methods_show_bars (TallyChartArea *area, const MethodsData *data, const gboolean *shown, int baseline, const MethodsChances *chances)
{
  Costs *p = g_new0 (Costs, 1);
  g_autofree char *table = NULL;
  gboolean ranges;

  p->bar = g_new0 (ChartBar, (gsize) data->n + 1);
  p->name = g_new0 (char *, (gsize) data->n + 1);
  p->text = g_new0 (char *, (gsize) data->n + 1);
  ranges = add_cost (p, data, baseline, baseline, chances);
  for (int m = 0; m < data->n; m++)
    if (shown[m] && data->listed[m] && m != baseline)
      ranges = add_cost (p, data, m, baseline, chances) && ranges;
  /* All with their range, or none: bars of two kinds cannot be compared. */
  for (gsize i = 0; !ranges && i < p->bars.n; i++)
    p->bar[i].low = p->bar[i].high = NAN;
  p->axis = g_strdup_printf (ranges ? _ ("cost and tooling, %s: 10 to 90 %% of the trials, and likely") : _ ("cost and tooling, %s"),
                             data->currency);
  p->bars.bar = p->bar;
  p->bars.axis = p->axis;
  p->bars.name = _ ("method");
  table = chart_bars_table (&p->bars);
  tally_chart_area_set (area, costs_height, costs_draw, p, costs_free, table);
  tally_chart_area_set_spots (area, costs_spots);
  tally_chart_area_set_walks (area, g_steal_pointer (&p->walks));
}

/* ---- ranked bars ---- */

typedef struct
{
  ChartSwing swing;
  ChartSwingBar *bar;
  GPtrArray *words; /* char * */
  GPtrArray *drives;
} Ranked;

static void
ranked_free (gpointer data)
{
  Ranked *r = data;

  g_ptr_array_unref (r->words);
  g_free (r->bar);
  g_ptr_array_unref (r->drives);
  g_free (r);
}

static double
ranked_height (const ChartPaper *paper, double width, gpointer data)
{
  return chart_swing_height (paper, &((Ranked *) data)->swing, width);
}

static void
ranked_draw (const ChartPaper *paper, double width, gpointer data)
{
  chart_swing_draw (paper, &((Ranked *) data)->swing, width);
}

static GPtrArray *
ranked_spots (const ChartPaper *paper, double width, gpointer data)
{
  return chart_swing_spots (paper, &((Ranked *) data)->swing, width);
}

static const char *
ranked_keep (Ranked *r, char *words)
{
  g_ptr_array_add (r->words, words);
  return words;
}

/* What lies behind each end of each bar. */
static GPtrArray *
drive_walks (const JobComparison *c, guint chosen, GPtrArray *drives, gsize n)
{
  const Catalogue *catalogue = job_basis (c->job)->catalogue;
  int method = job_comparison_way (c, chosen)->method, base = job_comparison_way (c, c->baseline)->method;
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);

  for (gsize i = 0; i < 2 * n; i++)
    {
      const JobDrive *d = g_ptr_array_index (drives, i / 2);
      g_autofree char *figure = tally_walk_figure (c->job,
                                                   d->kind == JOB_DRIVE_STEP   ? COST_EVEN_STEP
                                                   : d->kind == JOB_DRIVE_ITEM ? COST_EVEN_ITEM
                                                   : d->kind == JOB_DRIVE_FIELD_RATE || d->kind == JOB_DRIVE_FIELD_CREW
                                                     ? COST_EVEN_FIELD_RATE
                                                     : COST_EVEN_TOOLING,
                                                   d->target);
      g_ptr_array_add (lines, tally_walk_line (figure, method >= 0 ? catalogue_method (catalogue, method)->key : NULL,
                                               base >= 0 ? catalogue_method (catalogue, base)->key : NULL, NULL, "job"));
    }
  return lines;
}

char *
methods_show_drives (TallyChartArea *area, const JobComparison *c, guint chosen)
{
  Ranked *r = g_new0 (Ranked, 1);
  const JobWayFigures *base = job_comparison_way (c, c->baseline), *way = job_comparison_way (c, chosen);
  const char *currency = job_head (c->job)->text[HEAD_CURRENCY];
  double gain = job_way_gain (base, way);
  g_autofree char *table = NULL, *today = methods_number (gain, 0);
  gsize n;

  r->drives = job_sensitivity (c, c->baseline, chosen);
  r->words = g_ptr_array_new_with_free_func (g_free);
  n = MIN (r->drives->len, MOST_BARS);
  r->bar = g_new0 (ChartSwingBar, n + 1);
  for (gsize i = 0; i < n; i++)
    {
      const JobDrive *d = g_ptr_array_index (r->drives, i);
      /* Where the sign turns, as a figure of its own unit. */
      r->bar[i] = (ChartSwingBar) { .name = ranked_keep (r, d->swing.turns ? g_strdup_printf (_ ("%s, turns at %.3g"), d->name, d->swing.even)
                                                                          : g_strdup (d->name)),
                                    .low = d->swing.gain_low,
                                    .high = d->swing.gain_high,
                                    .low_words = ranked_keep (r, g_strdup_printf ("%.3g", d->swing.low)),
                                    .high_words = ranked_keep (r, g_strdup_printf ("%.3g", d->swing.high)) };
    }
  r->swing = (ChartSwing) { .bar = r->bar,
                            .n = n,
                            .centre = gain,
                            .axis = ranked_keep (r, g_strdup_printf (_ ("gain over the baseline, %s, tooling included"), currency ? currency : _ ("money"))),
                            .name = _ ("figure"),
                            .low_name = _ ("the figure at its low end"),
                            .high_name = _ ("at its high end") };
  table = chart_swing_table (&r->swing);
  tally_chart_area_set (area, ranked_height, ranked_draw, r, ranked_free, table);
  tally_chart_area_set_spots (area, ranked_spots);
  tally_chart_area_set_walks (area, drive_walks (c, chosen, r->drives, n));
  return g_strdup_printf (_ ("%s over %s: a gain of %s today (the middle line). One figure moved at a time, widest swing first: minutes from "
                             "their own low to high, prices, rates and field factors 10 %% either way (common practice), the pace of the "
                             "crews by the job's risk settings. “Turns”: where the gain is zero; of minutes as a multiple of today's."),
                          way->name, base->name, today);
}

/* ---- heat table ---- */

typedef struct
{
  ChartMatrix matrix;
  ChartField *field;
  char **text, **row, **column, **words;
} Heat;

static void
heat_free (gpointer data)
{
  Heat *h = data;

  g_strfreev (h->text);
  g_strfreev (h->row);
  g_strfreev (h->column);
  g_strfreev (h->words);
  g_free (h->field);
  g_free (h);
}

static double
heat_height (const ChartPaper *paper, double width, gpointer data)
{
  return chart_matrix_height (paper, &((Heat *) data)->matrix, width);
}

static void
heat_draw (const ChartPaper *paper, double width, gpointer data)
{
  chart_matrix_draw (paper, &((Heat *) data)->matrix, width);
}

/* A field says by how much it is won, too. */
static GPtrArray *
heat_spots (const ChartPaper *paper, double width, gpointer data)
{
  Heat *h = data;
  GPtrArray *spots = chart_matrix_spots (paper, &h->matrix, width);

  for (guint i = 0; i < spots->len && i < h->matrix.rows * h->matrix.columns; i++)
    {
      ChartSpot *spot = g_ptr_array_index (spots, i);
      g_free (spot->words);
      spot->words = g_strdup (h->words[i]);
    }
  return spots;
}

static const char *
name_of (const Catalogue *catalogue, int method)
{
  const CostMethod *m = catalogue_method (catalogue, method);

  return *m->name ? m->name : m->key;
}

static char *
cell_words (TallyJob *job, const JobHeat *heat, guint k, guint s)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  const JobHeatCell *cell = job_heat_at (heat, k, s);
  g_autofree char *pressure = pressure_print_both (heat->pressure[k]);
  g_autofree char *size = duct_size_print (heat->longer[s], heat->shorter[s], job_names (job)->metric ? LENGTH_STYLE_MM : LENGTH_STYLE_IN);

  if (cell->winner < 0)
    return g_strdup_printf (_ ("%s, %s: not priced"), size, pressure);
  if (cell->second < 0)
    return g_strdup_printf (_ ("%s, %s: %s, %.2f a foot; no other is allowed"), size, pressure, name_of (catalogue, cell->winner),
                            cell->cost);
  if (job_heat_ties (cell))
    return g_strdup_printf (_ ("%s, %s: %s or %s, same cost, %.2f a foot"), size, pressure, name_of (catalogue, cell->winner),
                            name_of (catalogue, cell->second), cell->cost);
  return g_strdup_printf (_ ("%s, %s: %s, %.2f a foot; second %s, %.2f more"), size, pressure, name_of (catalogue, cell->winner), cell->cost,
                          name_of (catalogue, cell->second), cell->margin);
}

static gboolean
wins (const JobHeat *heat, int method)
{
  for (guint i = 0; i < heat->n_classes * heat->n_sizes; i++)
    if (heat->cell[i].winner == method)
      return TRUE;
  return FALSE;
}

/* Those that win anywhere, as far apart in lightness as they can be. */
static double
shade_of (const JobHeat *heat, int method)
{
  guint n = 0, place = 0;

  for (guint i = 0; i < heat->methods->len; i++)
    {
      int m = g_array_index (heat->methods, int, i);
      if (!wins (heat, m))
        continue;
      if (m == method)
        place = n;
      n++;
    }
  return n > 1 ? 0.05 + 0.95 * (double) place / (double) (n - 1) : 0.4;
}

/* Who wins nowhere alone may cost as little as who does. */
static char *
tie_words (const JobHeat *heat, int method)
{
  for (guint i = 0; i < heat->n_classes * heat->n_sizes; i++)
    if (heat->cell[i].second == method && job_heat_ties (&heat->cell[i]))
      {
        g_autofree char *mark = job_heat_mark (heat, heat->cell[i].winner);
        return g_strdup_printf (_ (" (same cost as %s)"), mark);
      }
  return g_strdup (_ (" (nowhere)"));
}

static char *
legend_of (TallyJob *job, const JobHeat *heat)
{
  g_autoptr (GString) legend = g_string_new (NULL);

  for (guint i = 0; i < heat->methods->len; i++)
    {
      int m = g_array_index (heat->methods, int, i);
      g_autofree char *mark = job_heat_mark (heat, m), *place = wins (heat, m) ? g_strdup ("") : tie_words (heat, m);
      g_string_append_printf (legend, "%s%s  %s%s", i ? "\n" : "", mark, name_of (job_basis (job)->catalogue, m), place);
    }
  return g_string_free (g_steal_pointer (&legend), FALSE);
}

/* The whole job by who wins a field, against the second there. */
static GPtrArray *
heat_walks (TallyJob *job, const JobHeat *heat)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < heat->n_classes * heat->n_sizes; i++)
    {
      const JobHeatCell *cell = &heat->cell[i];
      g_ptr_array_add (lines, cell->winner < 0 ? NULL
                                               : tally_walk_line ("cost", catalogue_method (catalogue, cell->winner)->key,
                                                                  cell->second < 0 ? NULL : catalogue_method (catalogue, cell->second)->key,
                                                                  NULL, "job"));
    }
  return lines;
}

char *
methods_show_heat (TallyChartArea *area, TallyJob *job, gboolean square, char **legend)
{
  Heat *h = g_new0 (Heat, 1);
  g_autoptr (JobHeat) heat = job_heat (job, square, NULL);
  gboolean metric = job_names (job)->metric;
  gsize n = heat->n_classes * heat->n_sizes;
  g_autofree char *table = NULL;

  h->field = g_new0 (ChartField, n);
  h->text = g_new0 (char *, n + 1);
  h->words = g_new0 (char *, n + 1);
  h->row = g_new0 (char *, (gsize) heat->n_classes + 1);
  h->column = g_new0 (char *, (gsize) heat->n_sizes + 1);
  for (guint k = 0; k < heat->n_classes; k++)
    {
      h->row[k] = pressure_print (heat->pressure[k], metric);
      for (guint s = 0; s < heat->n_sizes; s++)
        {
          gsize i = (gsize) k * heat->n_sizes + s;
          h->text[i] = job_heat_mark (heat, heat->cell[i].winner);
          h->words[i] = cell_words (job, heat, k, s);
          h->field[i] = (ChartField) { .text = h->text[i], .shade = shade_of (heat, heat->cell[i].winner) };
        }
    }
  for (guint s = 0; s < heat->n_sizes; s++)
    h->column[s] = length_print (heat->longer[s], metric ? LENGTH_STYLE_MM : LENGTH_STYLE_IN);
  h->matrix = (ChartMatrix) { .field = h->field,
                              .rows = heat->n_classes,
                              .columns = heat->n_sizes,
                              .row = (const char *const *) h->row,
                              .column = (const char *const *) h->column,
                              .corner = metric ? _ ("class") : _ ("class, in w.g."),
                              .axis = metric ? _ ("longest side, mm") : _ ("longest side, in") };
  table = chart_matrix_table (&h->matrix);
  tally_chart_area_set (area, heat_height, heat_draw, h, heat_free, table);
  tally_chart_area_set_spots (area, heat_spots);
  tally_chart_area_set_walks (area, heat_walks (job, heat));
  gtk_widget_set_visible (GTK_WIDGET (area), heat->methods->len > 0);
  *legend = legend_of (job, heat);
  return job_heat_words (job, heat);
}
