/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/closeout/closeout-view.h"

#include "chart/bars.h"
#include "window/chart-area.h"
#include "window/hours/figures-table.h"
#include "window/hours/hours-book.h"
#include "window/hours/hours-words.h"

#include <glib/gi18n.h>
#include <math.h>

#define TALLY_TYPE_CLOSEOUT_VIEW (tally_closeout_view_get_type ())
G_DECLARE_FINAL_TYPE (TallyCloseoutView, tally_closeout_view, TALLY, CLOSEOUT_VIEW, GtkBox)

struct _TallyCloseoutView
{
  GtkBox parent_instance;

  /* Template widgets */
  GtkLabel *conclusion, *about, *few, *split;
  GtkBox *content, *groups_box, *areas_box, *accuracy_box, *picture_box;

  /* Borrowed */
  GtkWidget *groups, *areas, *accuracy;
  TallyChartArea *picture;

  /* Owned */
  TallySession *session;
  TallyHoursBook *book;
  gboolean stale;
  guint refresh;
};

G_DEFINE_FINAL_TYPE (TallyCloseoutView, tally_closeout_view, GTK_TYPE_BOX)

/* ---- tables ---- */

static void
begin (GtkWidget *table, const char *first)
{
  const FiguresColumn columns[] = { { first, "", FALSE },
                                    { _ ("Estimated"), _ ("worker-h, the whole"), TRUE },
                                    { _ ("Done"), _ ("by the ticks"), TRUE },
                                    { _ ("Estimate of what is done"), _ ("worker-h"), TRUE },
                                    { _ ("Actual"), _ ("worker-h spent"), TRUE },
                                    { _ ("Difference"), _ ("actual less estimate"), TRUE },
                                    { _ ("Actual / estimate"), _ ("below 1 is good"), TRUE } };

  figures_table_begin (table, columns, G_N_ELEMENTS (columns));
}

/* @alone: the estimate of what is done may be held against the hours. */
static void
add_line (GtkWidget *table, const char *name, const Earned *e, gboolean alone, gboolean sum)
{
  gboolean both = alone && e->ev > 0 && e->ac > 0;
  g_autofree char *estimated = hours_words_figure (e->bac), *done = hours_words_percent (earned_share (e));
  g_autofree char *earned = hours_words_figure (e->ev), *spent = hours_words_figure (e->ac);
  g_autofree char *difference = both ? session_figure (e->ac - e->ev, fabs (e->ac - e->ev) < 9.95 ? 1 : 0, TRUE)
                                     : hours_words_figure ((double) NAN);
  g_autofree char *ratio = hours_words_ratio (both ? earned_actual_ratio (e) : (double) NAN);
  const char *const text[] = { name, estimated, done, earned, spent, difference, ratio };

  figures_table_add (table, text, sum, -1);
}

static void
fill_groups (TallyCloseoutView *self, const Earned *all)
{
  begin (self->groups, _ ("Step group"));
  for (int group = 0; group < LABOUR_N_GROUPS; group++)
    {
      Earned e;
      standing_get (hours_book_standing (self->book), -1, group, &e);
      if (e.bac > 0 || e.ac > 0)
        add_line (self->groups, hours_group_name ((LabourGroup) group), &e, TRUE, FALSE);
    }
  add_line (self->groups, _ ("job"), all, TRUE, TRUE);
}

static void
fill_areas (TallyCloseoutView *self, const Earned *all)
{
  const GArray *areas = standing_areas (hours_book_standing (self->book));
  gboolean split = FALSE;

  begin (self->areas, _ ("Area"));
  for (guint i = 0; i < areas->len; i++)
    {
      gint64 area = g_array_index (areas, gint64, i);
      g_autofree char *name = area == 0 ? g_strdup (_ ("whole job")) : hours_book_area_name (self->book, area);
      Earned e;
      standing_get (hours_book_standing (self->book), area, -1, &e);
      add_line (self->areas, name, &e, standing_comparable (hours_book_standing (self->book), area), FALSE);
      split = split || !standing_comparable (hours_book_standing (self->book), area);
    }
  add_line (self->areas, _ ("job"), all, TRUE, TRUE);
  gtk_widget_set_visible (GTK_WIDGET (self->split), split);
}

static void
fill_accuracy (TallyCloseoutView *self, const Accuracy *a)
{
  const FiguresColumn columns[] = { { _ ("Figure"), "", FALSE }, { _ ("Value"), "", TRUE }, { _ ("What it says"), "", FALSE } };
  g_autofree char *n = g_strdup_printf ("%u", (guint) a->n), *bias = hours_words_ratio (a->bias);
  g_autofree char *typical = hours_words_percent (a->typical);
  g_autofree char *near = hours_words_percent (a->within_10), *fair = hours_words_percent (a->within_25);
  const char *const lines[][3] = {
    { _ ("Codes compared"), n, _ ("area and step group with hours spent and runs ticked") },
    { _ ("Bias"), bias, _ ("geometric mean of actual / estimate: 1.10 means ten per cent more than estimated, typically") },
    { _ ("Typical error"), typical, _ ("half of the codes were closer, half further off; as a share of the actual") },
    { _ ("Within 10 %"), near, _ ("share of the codes") },
    { _ ("Within 25 %"), fair, _ ("share of the codes") },
  };

  figures_table_begin (self->accuracy, columns, G_N_ELEMENTS (columns));
  for (gsize i = 0; i < G_N_ELEMENTS (lines); i++)
    figures_table_add (self->accuracy, lines[i], FALSE, -1);
}

/* ---- the picture: actual over estimate, a bar a code ---- */

typedef struct
{
  ChartBars bars;
  ChartBar *bar;
  GPtrArray *words;
} Picture;

static void
picture_free (gpointer data)
{
  Picture *p = data;

  g_free (p->bar);
  g_ptr_array_unref (p->words);
  g_free (p);
}

static double
picture_height (const ChartPaper *paper, double width, gpointer data)
{
  return chart_bars_height (paper, &((Picture *) data)->bars, width);
}

static void
picture_draw (const ChartPaper *paper, double width, gpointer data)
{
  chart_bars_draw (paper, &((Picture *) data)->bars, width);
}

static GPtrArray *
picture_spots (const ChartPaper *paper, double width, gpointer data)
{
  return chart_bars_spots (paper, &((Picture *) data)->bars, width);
}

static const char *
keep (Picture *p, char *words)
{
  g_ptr_array_add (p->words, words);
  return words;
}

static void
fill_picture (TallyCloseoutView *self)
{
  g_autoptr (GArray) codes = standing_codes (hours_book_standing (self->book));
  Picture *p = g_new0 (Picture, 1);
  g_autofree char *table = NULL;

  p->words = g_ptr_array_new_with_free_func (g_free);
  p->bar = g_new0 (ChartBar, codes->len + 2);
  p->bars = (ChartBars) { .bar = p->bar, .axis = _ ("actual / estimate of what is done; hatched: as estimated"), .name = _ ("code") };
  p->bar[p->bars.n++] = (ChartBar) { .name = _ ("as estimated"), .text = "1.00", .value = 1, .low = NAN, .high = NAN,
                                     .baseline = TRUE };
  for (guint i = 0; i < codes->len; i++)
    {
      const StandingCode *code = &g_array_index (codes, StandingCode, i);
      g_autofree char *area = hours_book_area_name (self->book, code->area);

      if (!(code->figures.ev > 0 && code->figures.ac > 0))
        continue;
      p->bar[p->bars.n++] = (ChartBar) {
        .name = keep (p, g_strdup_printf ("%s, %s", hours_group_name (code->group), area)),
        .text = keep (p, hours_words_ratio (earned_actual_ratio (&code->figures))),
        .value = earned_actual_ratio (&code->figures),
        .low = NAN,
        .high = NAN,
      };
    }
  gtk_widget_set_visible (GTK_WIDGET (self->picture), p->bars.n > 1);
  table = chart_bars_table (&p->bars);
  tally_chart_area_set (self->picture, picture_height, picture_draw, p, picture_free, table);
  tally_chart_area_set_spots (self->picture, picture_spots);
}

/* ---- words ---- */

static char *
conclusion_words (const Earned *all, const Accuracy *a)
{
  double ratio = earned_actual_ratio (all);
  g_autofree char *spent = hours_words_figure (all->ac), *earned = hours_words_figure (all->ev);
  g_autofree char *percent = session_figure (fabs (ratio - 1) * 100, 0, FALSE);

  if (all->bac <= 0)
    return g_strdup (_ ("Nothing is estimated yet, so there is nothing to compare."));
  if (all->ac <= 0)
    return g_strdup (_ ("No hours are booked yet, so there is nothing to compare with the estimate."));
  if (all->ev <= 0)
    return g_strdup (_ ("No run is ticked as done yet, so it is not known what the hours were spent on."));
  if (fabs (ratio - 1) < 0.005)
    return g_strdup_printf (_ ("What is done was estimated at %s worker-hours and took %s: as estimated."), earned, spent);
  if (a->n == 0)
    return g_strdup_printf (_ ("What is done was estimated at %s worker-hours; %s are booked, on other codes than the work that is ticked."),
                            earned, spent);
  return g_strdup_printf (ratio > 1 ? _ ("What is done was estimated at %s worker-hours and took %s: %s %% more.")
                                    : _ ("What is done was estimated at %s worker-hours and took %s: %s %% less."),
                          earned, spent, percent);
}

static char *
about_words (const Earned *all)
{
  double done = earned_share (all);
  g_autofree char *percent = hours_words_percent (done);

  if (all->bac <= 0)
    return g_strdup ("");
  if (done > 0.9995)
    return g_strdup (_ ("Every run is ticked: this is the whole job. The estimate stands against all hours booked."));
  return g_strdup_printf (_ ("The job is %s done by its ticks, so hours are compared with the estimate of what is done, not with the whole. "
                             "Close it when every run is ticked and every hour booked."),
                          percent);
}

static void
show_few (TallyCloseoutView *self, const Accuracy *a)
{
  g_autofree char *words = NULL;

  if (a->n == 0)
    words = g_strdup (_ ("There is nothing to compare yet: bias and typical error need codes with hours spent and runs ticked."));
  else if (a->n < ACCURACY_FEW)
    words = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE,
                                          "Only %u code can be compared: too few to correct an estimate by.",
                                          "Only %u codes can be compared: too few to correct an estimate by.", (gulong) a->n),
                             (guint) a->n);
  else
    words = g_strdup (_ ("One job is one crew, one site and one season: correct the minutes of steps only when several jobs say the same."));
  gtk_label_set_label (self->few, words);
  if (a->n < ACCURACY_FEW)
    gtk_widget_add_css_class (GTK_WIDGET (self->few), "attention");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self->few), "attention");
}

static void
fill (TallyCloseoutView *self)
{
  const char *trouble = hours_book_trouble (self->book);
  gboolean ready = hours_book_ready (self->book);
  g_autofree char *words = NULL, *about = NULL;
  Accuracy accuracy;
  Earned all;

  self->stale = FALSE;
  gtk_widget_set_visible (GTK_WIDGET (self->content), ready);
  if (!ready)
    {
      gtk_label_set_label (self->conclusion, trouble ? _ ("The hours of this job cannot be read.") : _ ("No job is open."));
      gtk_label_set_label (self->about, trouble ? trouble : "");
      return;
    }
  standing_get (hours_book_standing (self->book), -1, -1, &all);
  standing_accuracy (hours_book_standing (self->book), &accuracy);
  words = conclusion_words (&all, &accuracy);
  about = about_words (&all);
  gtk_label_set_label (self->conclusion, words);
  gtk_label_set_label (self->about, about);
  fill_groups (self, &all);
  fill_areas (self, &all);
  fill_accuracy (self, &accuracy);
  show_few (self, &accuracy);
  fill_picture (self);
}

/* ---- what happens ---- */

static gboolean
refresh_cb (gpointer data)
{
  TallyCloseoutView *self = data;

  self->refresh = 0;
  fill (self);
  return G_SOURCE_REMOVE;
}

static void
book_cb (TallyHoursBook *book, TallyCloseoutView *self)
{
  (void) book;
  self->stale = TRUE;
  if (self->refresh == 0 && gtk_widget_get_mapped (GTK_WIDGET (self)))
    self->refresh = g_idle_add (refresh_cb, self);
}

static void
closeout_map (GtkWidget *widget)
{
  TallyCloseoutView *self = TALLY_CLOSEOUT_VIEW (widget);

  if (self->stale)
    fill (self);
  GTK_WIDGET_CLASS (tally_closeout_view_parent_class)->map (widget);
}

/* ---- the widget ---- */

static void
tally_closeout_view_dispose (GObject *object)
{
  TallyCloseoutView *self = TALLY_CLOSEOUT_VIEW (object);

  g_clear_handle_id (&self->refresh, g_source_remove);
  gtk_widget_dispose_template (GTK_WIDGET (self), TALLY_TYPE_CLOSEOUT_VIEW);
  g_clear_object (&self->book);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_closeout_view_parent_class)->dispose (object);
}

static void
tally_closeout_view_class_init (TallyCloseoutViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tally_closeout_view_dispose;
  widget->map = closeout_map;
  gtk_widget_class_set_template_from_resource (widget, "/seamtally/ui/closeout-view.ui");
#define CHILD(name) gtk_widget_class_bind_template_child (widget, TallyCloseoutView, name)
  CHILD (conclusion);
  CHILD (about);
  CHILD (few);
  CHILD (split);
  CHILD (content);
  CHILD (groups_box);
  CHILD (areas_box);
  CHILD (accuracy_box);
  CHILD (picture_box);
#undef CHILD
}

static void
tally_closeout_view_init (TallyCloseoutView *self)
{
  GtkWidget *picture = tally_chart_area_new (_ ("Actual against estimate, by code"));

  gtk_widget_init_template (GTK_WIDGET (self));
  self->groups = figures_table_new (_ ("Estimate and actual by step group"));
  self->areas = figures_table_new (_ ("Estimate and actual by area"));
  self->accuracy = figures_table_new (_ ("How well it was estimated"));
  self->picture = TALLY_CHART_AREA (picture);
  gtk_widget_set_hexpand (picture, TRUE);
  gtk_box_append (self->groups_box, self->groups);
  gtk_box_append (self->areas_box, self->areas);
  gtk_box_append (self->accuracy_box, self->accuracy);
  gtk_box_append (self->picture_box, picture);
  self->stale = TRUE;
}

GtkWidget *
tally_closeout_view_new (TallySession *session)
{
  TallyCloseoutView *self = g_object_new (TALLY_TYPE_CLOSEOUT_VIEW, NULL);

  self->session = g_object_ref (session);
  self->book = g_object_ref (hours_book_of (session));
  g_signal_connect_object (self->book, "changed", G_CALLBACK (book_cb), self, 0);
  return GTK_WIDGET (self);
}
