/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/methods/methods-more.h"

#include "base/money.h"
#include "job/compare.h"
#include "job/what-if.h"
#include "window/chart-area.h"
#include "window/methods/figure-grid.h"
#include "window/methods/methods-pictures.h"
#include "window/methods/setting-entry.h"
#include "window/walk.h"
#include "window/words.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* Beyond, parts, what-ifs and sensitivity take longer than a glance: they are worked out when they are asked for. */
#define MOST_AT_ONCE 1500

struct _TallyMethodsMore
{
  GtkWidget parent_instance;

  GtkWidget *box, *settings, *ask, *rest, *by, *drive_note, *heat_note, *legend; /* borrowed, but for box */
  GtkWidget *way_title, *way_note, *square;
  TallyFigureGrid *ways, *parts;
  TallyChartArea *drives, *heat;

  /* Owned */
  TallySession *session;
  JobComparison *comparison;
  const MethodsChances *chances; /* borrowed */
  guint chosen;              /* way; the comparison's length: none */
  gboolean asked, filling;
  MethodsOf of;
};

G_DEFINE_FINAL_TYPE (TallyMethodsMore, tally_methods_more, GTK_TYPE_WIDGET)

/* ---- words ---- */

static char *
whole_money (const JobComparison *c, gint64 minor)
{
  return methods_number ((double) minor / pow (10, c->decimals), 0);
}

static char *
difference_words (const JobComparison *c, gint64 difference)
{
  g_autofree char *text = whole_money (c, ABS (difference));

  return methods_difference (strcmp (text, "0") == 0 ? 0 : (double) difference, text);
}

static char *
date_words (gboolean there, const GDate *date)
{
  char text[64] = "";

  if (there)
    g_date_strftime (text, sizeof text, "%e %b %Y", date);
  return g_strdup (there ? text : "–");
}

static const char *
currency_of (const JobComparison *c)
{
  const char *currency = job_head (c->job)->text[HEAD_CURRENCY];

  return currency ? currency : _ ("money");
}

/* ---- the ways ---- */

/* Whether any way waits for an order. */
static gboolean
has_leads (const JobComparison *c)
{
  for (guint i = 0; i < c->way->len; i++)
    if (!job_comparison_way (c, i)->fault && job_comparison_way (c, i)->stock.joint_days >= 0)
      return TRUE;
  return FALSE;
}

/* "77 %" and the verdict's word; of the baseline, what-ifs and a part nothing. */
static void
add_chance (TallyMethodsMore *self, const JobWayFigures *f, gboolean is_base)
{
  const MethodsChance *chance = is_base || f->what_if ? NULL : methods_chances_of (self->chances, f->method);
  g_autofree char *text = chance ? g_strdup_printf (_ ("%.0f %%"), chance->chance * 100) : g_strdup ("–");

  tally_figure_grid_cell (self->ways, text, chance && chance->gains ? job_verdict_say (chance->verdict) : NULL, FALSE);
}

/* A figure that the walk to its causes begins at: it takes the focus and says what it is. */
static void
mark (TallyMethodsMore *self, GtkWidget *cell, const JobWayFigures *f, const JobWayFigures *base, const char *figure, const char *text)
{
  static const char *const part[METHODS_N_OF] = { "job", "part", "runs" };
  const Catalogue *catalogue = job_basis (f->job)->catalogue;
  g_autofree char *spoken = g_strdup_printf ("%s: %s", f->name, text);

  gtk_widget_set_focusable (cell, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (cell), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  tally_walk_mark (cell, figure, f->method >= 0 ? catalogue_method (catalogue, f->method)->key : NULL,
                   f == base || base->method < 0 ? NULL : catalogue_method (catalogue, base->method)->key, f->what_if, part[self->of]);
}

static void
add_way_row (TallyMethodsMore *self, const JobWayFigures *f, const JobWayFigures *base)
{
  const JobComparison *c = self->comparison;
  gboolean is_base = f == base;

  tally_figure_grid_row (self->ways, is_base);
  if (f->fault)
    {
      g_autofree char *words = fault_words (f->fault, NULL);
      tally_figure_grid_cell (self->ways, f->name, words, FALSE);
      return;
    }
  g_autofree char *labour = whole_money (c, f->labour), *cost = whole_money (c, f->whole), *field = methods_number (f->option.field_hours, 1);
  g_autofree char *against = is_base ? NULL : difference_words (c, f->whole - base->whole), *days = methods_number (f->crew_days, 1);
  g_autofree char *finish = date_words (f->dated, &f->finish), *cash = whole_money (c, f->whole - f->stock.value_used);
  g_autofree char *used = f->stock.value_used ? whole_money (c, f->stock.value_used) : NULL;
  g_autofree char *stock = used ? g_strdup_printf (_ ("%s from stock"), used) : NULL;
  g_autofree char *lead = f->stock.joint_days >= 0 ? g_strdup_printf ("%" G_GINT64_FORMAT, f->stock.joint_days) : g_strdup ("–");
  tally_figure_grid_cell (self->ways, f->name, is_base ? _ ("baseline") : NULL, FALSE);
  mark (self, tally_figure_grid_cell (self->ways, cost, against, f->whole < base->whole), f, base, "cost", cost);
  add_chance (self, f, is_base);
  tally_figure_grid_cell (self->ways, labour, NULL, FALSE);
  mark (self, tally_figure_grid_cell (self->ways, field, NULL, FALSE), f, base, "field-hours", field);
  tally_figure_grid_cell (self->ways, days, NULL, FALSE);
  tally_figure_grid_cell (self->ways, finish, NULL, FALSE);
  tally_figure_grid_cell (self->ways, cash, stock, FALSE);
  if (has_leads (c))
    tally_figure_grid_cell (self->ways, lead,
                            f->stock.joint_item >= 0 ? catalogue_item (job_basis (f->job)->catalogue, f->stock.joint_item)->key : NULL,
                            FALSE);
}

/* The baseline under the same what-if, which comes before the others of it; the baseline under a what-if is held against today's. */
static const JobWayFigures *
held_against (const JobComparison *c, guint way)
{
  const JobWayFigures *base = job_comparison_way (c, c->baseline), *f = job_comparison_way (c, way);

  for (guint i = 0; f->what_if && i < way; i++)
    {
      const JobWayFigures *b = job_comparison_way (c, i);
      if (!b->fault && b->method == base->method && g_strcmp0 (b->what_if, f->what_if) == 0)
        return b;
    }
  return base;
}

static void
show_ways (TallyMethodsMore *self)
{
  const JobComparison *c = self->comparison;
  g_autofree char *crew = job_crew_words (c->job);
  const char *chance = methods_chances_words (self->chances);
  g_autofree char *note
    = g_strconcat (chance, *chance ? "\n" : "", crew, " ",
                   _ ("Stock on hand is used first and counts at its price, as it is not free: the cost stays, the cash to spend is lower "
                      "by it, before tax. Lead times are calendar days from the order, of what closes joints; an item without one counts "
                      "as at hand. Under a what-if each method is held against the baseline under the same what-if, and that against "
                      "today's; how sure a what-if is stands under “Risk”. Stock, lead times and what-ifs are written down under “What if”."),
                   NULL);

  tally_figure_grid_clear (self->ways);
  tally_figure_grid_head (self->ways, _ ("Way"), NULL);
  tally_figure_grid_head (self->ways, _ ("Cost and tooling"), currency_of (c));
  tally_figure_grid_head (self->ways, _ ("Chance to beat"), _ ("the baseline"));
  tally_figure_grid_head (self->ways, _ ("Labour"), currency_of (c));
  tally_figure_grid_head (self->ways, _ ("Field"), _ ("worker-h"));
  tally_figure_grid_head (self->ways, _ ("Crew-days"), "");
  tally_figure_grid_head (self->ways, _ ("Finish"), _ ("Mon to Fri"));
  tally_figure_grid_head (self->ways, _ ("Cash to spend"), currency_of (c));
  if (has_leads (c))
    tally_figure_grid_head (self->ways, _ ("Joints from"), _ ("day after order"));
  for (guint i = 0; i < c->way->len; i++)
    add_way_row (self, job_comparison_way (c, i), held_against (c, i));
  gtk_label_set_label (GTK_LABEL (self->way_note), note);
}

/* ---- the parts ---- */

static void
show_parts (TallyMethodsMore *self)
{
  const JobComparison *c = self->comparison;
  JobBy by = (JobBy) MIN (gtk_drop_down_get_selected (GTK_DROP_DOWN (self->by)), JOB_N_BY - 1);
  g_autoptr (JobBreakout) b = job_break_out (c, by);

  tally_figure_grid_clear (self->parts);
  tally_figure_grid_head (self->parts, job_by_title (by), NULL);
  tally_figure_grid_head (self->parts, _ ("Joints"), _ ("baseline"));
  for (guint w = 0; w < b->n_ways; w++)
    if (!job_comparison_way (c, w)->what_if)
      tally_figure_grid_head (self->parts, job_comparison_way (c, w)->name, w == c->baseline ? _ ("baseline, cost") : _ ("cost"));
  for (guint p = 0; p < b->n_parts; p++)
    {
      g_autofree char *joints = methods_number ((double) job_breakout_at (b, p, c->baseline)->joints / 1e3, 0);
      tally_figure_grid_row (self->parts, FALSE);
      tally_figure_grid_cell (self->parts, b->part[p], NULL, FALSE);
      tally_figure_grid_cell (self->parts, joints, NULL, FALSE);
      for (guint w = 0; w < b->n_ways; w++)
        {
          gint64 cost = job_breakout_at (b, p, w)->cost, less = cost - job_breakout_at (b, p, c->baseline)->cost;
          if (job_comparison_way (c, w)->what_if)
            continue;
          g_autofree char *text = whole_money (c, cost), *against = w == c->baseline ? NULL : difference_words (c, less);
          tally_figure_grid_cell (self->parts, text, against, less < 0);
        }
    }
}

/* ---- pictures ---- */

static void
show_drives (TallyMethodsMore *self)
{
  gboolean any = self->chosen < self->comparison->way->len && self->chosen != self->comparison->baseline;
  g_autofree char *words = NULL;

  gtk_widget_set_visible (GTK_WIDGET (self->drives), any);
  words = any ? methods_show_drives (self->drives, self->comparison, self->chosen)
              : g_strdup (_ ("Choose another method than the baseline in the table to rank what its gain hangs on."));
  gtk_label_set_label (GTK_LABEL (self->drive_note), words);
}

static void
show_heat (TallyMethodsMore *self)
{
  gboolean square = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->square));
  g_autofree char *legend = NULL, *words = methods_show_heat (self->heat, self->comparison->job, square, &legend);

  gtk_label_set_label (GTK_LABEL (self->heat_note), words);
  gtk_label_set_label (GTK_LABEL (self->legend), legend);
  gtk_widget_set_visible (self->legend, *legend != '\0');
  gtk_widget_set_visible (self->square, *legend != '\0' || square);
}

static gboolean
is_large (const JobComparison *c)
{
  return job_n (c->job, JOB_RUN) > MOST_AT_ONCE;
}

static void
show_rest (TallyMethodsMore *self)
{
  gboolean now = self->asked || !is_large (self->comparison);

  gtk_widget_set_visible (self->ask, !now);
  gtk_widget_set_visible (self->rest, now);
  if (!now)
    return;
  show_parts (self);
  show_drives (self);
  show_heat (self);
}

static void
ask_cb (GtkButton *button, TallyMethodsMore *self)
{
  (void) button;
  self->asked = TRUE;
  if (self->comparison)
    show_rest (self);
}

static void
by_cb (GtkDropDown *by, GParamSpec *spec, TallyMethodsMore *self)
{
  (void) by;
  (void) spec;
  if (self->comparison && !self->filling && gtk_widget_get_visible (self->rest))
    show_parts (self);
}

static void
square_cb (GtkCheckButton *square, TallyMethodsMore *self)
{
  (void) square;
  if (self->comparison)
    show_heat (self);
}

/* ---- what is asked ---- */

static void
add_way (GArray *ways, const MethodsData *data, int method, const char *what_if)
{
  JobWay way = { catalogue_method (data->basis->catalogue, method)->key, what_if };

  g_array_append_val (ways, way);
}

void
tally_methods_more_set (TallyMethodsMore *self, TallySession *session, const MethodsData *data, const gboolean *shown, int baseline,
                        int chosen, const MethodsChances *chances)
{
  g_autoptr (GArray) ways = g_array_new (FALSE, TRUE, sizeof (JobWay));
  g_autoptr (GPtrArray) sets = NULL;
  const GArray *selection = session_selection (session);
  JobPart part = { { 0, 0 }, NULL, 0 };

  if (!self->session)
    {
      static const char *const keys[] = { "crew.heads", "crew.day_hours", "crew.start", "stock.ordered" };
      self->session = g_object_ref (session);
      for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
        gtk_box_append (GTK_BOX (self->settings), tally_setting_entry_new (session, keys[i]));
    }
  self->chances = chances;
  self->of = data ? data->of : METHODS_JOB;
  g_clear_pointer (&self->comparison, job_comparison_free);
  if (!data || baseline < 0)
    return;
  if (data->of == METHODS_PART)
    part.scope = *session_scope (session);
  else if (data->of == METHODS_RUNS)
    part = (JobPart) { { 0, 0 }, (const gint64 *) (gconstpointer) selection->data, selection->len };
  add_way (ways, data, baseline, NULL);
  self->chosen = G_MAXUINT;
  for (int m = 0; m < data->n; m++)
    if (m != baseline && ((shown[m] && data->listed[m]) || m == chosen))
      {
        if (m == chosen)
          self->chosen = ways->len;
        add_way (ways, data, m, NULL);
      }
  /* A what-if is another job: of a large one it takes its time. */
  sets = job_what_ifs (data->job);
  for (guint i = 0; i < sets->len && (self->asked || job_n (data->job, JOB_RUN) <= MOST_AT_ONCE); i++)
    {
      /* Whether the answer changes only a comparison under the same what-if says. */
      add_way (ways, data, baseline, g_ptr_array_index (sets, i));
      for (int m = 0; m < data->n; m++)
        if (m != baseline && ((shown[m] && data->listed[m]) || m == chosen))
          add_way (ways, data, m, g_ptr_array_index (sets, i));
    }
  self->comparison = job_compare (data->job, (const JobWay *) (gpointer) ways->data, ways->len, 0, &part);
  show_ways (self);
  show_rest (self);
}

void
tally_methods_more_update (TallyMethodsMore *self)
{
  if (self->comparison)
    show_ways (self);
}

/* ---- the widget ---- */

static void
tally_methods_more_dispose (GObject *object)
{
  TallyMethodsMore *self = TALLY_METHODS_MORE (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_pointer (&self->comparison, job_comparison_free);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_methods_more_parent_class)->dispose (object);
}

static void
tally_methods_more_class_init (TallyMethodsMoreClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tally_methods_more_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
build_parts (TallyMethodsMore *self)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  const char *titles[JOB_N_BY + 1] = { NULL };

  for (int by = 0; by < JOB_N_BY; by++)
    titles[by] = job_by_title ((JobBy) by);
  tally_box_add (line, tally_words_new (_ ("Cost broken out by"), "heading"));
  self->by = tally_box_add (line, gtk_drop_down_new_from_strings (titles));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->by), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Cost broken out by"), -1);
  g_signal_connect (self->by, "notify::selected", G_CALLBACK (by_cb), self);
  tally_box_add (self->rest, line);
  self->parts = TALLY_FIGURE_GRID (tally_box_add (self->rest, tally_figure_grid_new (_ ("Parts"))));
  tally_box_add (self->rest, tally_words_new (_ ("Parts add up to the whole to the cent (largest remainder). Tooling is bought once and stands in no part. Size "
                             "bands are the job's, as under “Mix”."),
                          "dim-label"));
}

static void
build_pictures (TallyMethodsMore *self)
{
  GtkWidget *columns = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 36), *left = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8),
            *right = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);

  gtk_box_set_homogeneous (GTK_BOX (columns), TRUE);
  gtk_widget_set_margin_top (columns, 12);
  self->drives = TALLY_CHART_AREA (tally_box_add (left, tally_chart_area_new (_ ("What would change the answer"))));
  self->drive_note = tally_box_add (left, tally_words_new ("", "dim-label"));
  self->heat = TALLY_CHART_AREA (tally_box_add (right, tally_chart_area_new (_ ("Cheapest by size and class"))));
  self->legend = tally_box_add (right, tally_words_new ("", "methods-legend"));
  self->square = tally_box_add (right, gtk_check_button_new_with_label (_ ("Square sizes, in place of the job's proportion")));
  g_signal_connect (self->square, "toggled", G_CALLBACK (square_cb), self);
  self->heat_note = tally_box_add (right, tally_words_new ("", "dim-label"));
  tally_box_add (columns, left);
  tally_box_add (columns, right);
  tally_box_add (self->rest, columns);
}

static void
tally_methods_more_init (TallyMethodsMore *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  self->filling = TRUE;
  self->way_title = tally_box_add (self->box, tally_words_new (_ ("Crew, dates, orders and what-ifs"), "heading"));
  self->settings = tally_box_add (self->box, gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 18));
  self->ways = TALLY_FIGURE_GRID (tally_box_add (self->box, tally_figure_grid_new (_ ("Ways"))));
  self->way_note = tally_box_add (self->box, tally_words_new ("", "dim-label"));
  self->ask = tally_box_add (self->box, gtk_button_new_with_label (_ ("Work out parts, what-ifs and what would change the answer")));
  gtk_widget_set_halign (self->ask, GTK_ALIGN_START);
  g_signal_connect (self->ask, "clicked", G_CALLBACK (ask_cb), self);
  self->rest = tally_box_add (self->box, gtk_box_new (GTK_ORIENTATION_VERTICAL, 10));
  build_parts (self);
  build_pictures (self);
  self->filling = FALSE;
}
