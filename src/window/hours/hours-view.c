/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/hours/hours-view.h"

#include "window/grid/grid.h"
#include "window/habits/sheet-page.h"
#include "window/hours/done-model.h"
#include "window/hours/figures-table.h"
#include "window/hours/hours-csv-read.h"
#include "window/hours/hours-words.h"
#include "window/hours/week-model.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define TALLY_TYPE_HOURS_VIEW (tally_hours_view_get_type ())
G_DECLARE_FINAL_TYPE (TallyHoursView, tally_hours_view, TALLY, HOURS_VIEW, GtkBox)

struct _TallyHoursView
{
  GtkBox parent_instance;

  /* Template widgets */
  GtkLabel *conclusion, *about, *week_label, *done_label;
  GtkToggleButton *by_group, *by_area, *by_code;
  GtkScrolledWindow *table_scroll;
  GtkStack *tools, *sheets;
  GtkBox *content, *file_tools, *answers;

  /* Borrowed */
  GtkWidget *table;
  TallyGrid *week_grid, *done_grid;

  /* Owned */
  TallySession *session;
  TallyHoursBook *book;
  TallyWeekModel *week;
  TallyDoneModel *done;
  gboolean stale, other_job, other_runs;
  guint refresh;
};

G_DEFINE_FINAL_TYPE (TallyHoursView, tally_hours_view, GTK_TYPE_BOX)

/* ---- the table ---- */

/* @name or @area NULL: the table has no such column. @alone: earned may be held against spent. */
static void
add_line (TallyHoursView *self, const char *name, const char *area, const Earned *e, gboolean alone, gboolean sum)
{
  gboolean attention = FALSE;
  const char *reading = alone ? hours_words_reading (e, &attention) : _ ("partly on whole job");
  g_autofree char *estimated = hours_words_figure (e->bac), *done = hours_words_percent (earned_share (e));
  g_autofree char *earned = hours_words_figure (e->ev), *spent = hours_words_figure (e->ac);
  g_autofree char *ratio = hours_words_ratio (alone && e->ev > 0 && e->ac > 0 ? earned_actual_ratio (e) : (double) NAN);
  g_autofree char *rate = hours_words_figure (alone ? earned_forecast (e, EARNED_AT_THIS_RATE) : (double) NAN);
  g_autofree char *rest = hours_words_figure (alone ? earned_forecast (e, EARNED_AS_ESTIMATED) : (double) NAN);
  const char *text[10] = { name };
  int n = name ? 1 : 0;

  if (area)
    text[n++] = area;
  for (const char *const *p = (const char *const[]) { estimated, done, earned, spent, ratio, rate, rest, reading, NULL }; *p; p++)
    text[n++] = *p;
  figures_table_add (self->table, text, sum, attention ? n - 1 : -1);
}

static void
add_group (TallyHoursView *self, int group)
{
  Earned e;

  standing_get (hours_book_standing (self->book), -1, group, &e);
  if (e.bac > 0 || e.ac > 0)
    add_line (self, hours_group_name ((LabourGroup) group), NULL, &e, TRUE, FALSE);
}

static void
add_area (TallyHoursView *self, gint64 area)
{
  g_autofree char *name = hours_book_area_name (self->book, area);
  Earned e;

  standing_get (hours_book_standing (self->book), area, -1, &e);
  add_line (self, NULL, area == 0 ? _ ("whole job") : name, &e,
            standing_comparable (hours_book_standing (self->book), area), FALSE);
}

static void
add_codes (TallyHoursView *self)
{
  g_autoptr (GArray) codes = standing_codes (hours_book_standing (self->book));

  for (guint i = 0; i < codes->len; i++)
    {
      const StandingCode *code = &g_array_index (codes, StandingCode, i);
      gboolean split = (i > 0 && g_array_index (codes, StandingCode, i - 1).group == code->group);
      g_autofree char *name = code->area == 0 ? g_strdup (split ? _ ("all others") : _ ("whole job"))
                                              : hours_book_area_name (self->book, code->area);
      add_line (self, hours_group_name (code->group), name, &code->figures, TRUE, FALSE);
    }
}

static void
fill_table (TallyHoursView *self)
{
  const FiguresColumn columns[] = { { _ ("Step group"), "", FALSE },
                                    { _ ("Area"), "", FALSE },
                                    { _ ("Estimated"), _ ("worker-h"), TRUE },
                                    { _ ("Done"), _ ("of estimated"), TRUE },
                                    { _ ("Earned"), _ ("worker-h"), TRUE },
                                    { _ ("Spent"), _ ("worker-h"), TRUE },
                                    { _ ("Spent / earned"), _ ("below 1 is good"), TRUE },
                                    { _ ("Forecast 1"), _ ("at this rate, h"), TRUE },
                                    { _ ("Forecast 2"), _ ("rest as estimated, h"), TRUE },
                                    { _ ("Reading"), "", FALSE } };
  const GArray *areas = standing_areas (hours_book_standing (self->book));
  gboolean by_area = gtk_toggle_button_get_active (self->by_area), by_code = gtk_toggle_button_get_active (self->by_code);
  FiguresColumn shown[G_N_ELEMENTS (columns)];
  int n = 0;
  Earned all;

  for (gsize i = 0; i < G_N_ELEMENTS (columns); i++)
    if (i > 1 || by_code || (i == 1) == by_area)
      shown[n++] = columns[i];
  figures_table_begin (self->table, shown, n);
  if (by_area)
    for (guint i = 0; i < areas->len; i++)
      add_area (self, g_array_index (areas, gint64, i));
  else if (by_code)
    add_codes (self);
  else
    for (int group = 0; group < LABOUR_N_GROUPS; group++)
      add_group (self, group);
  standing_get (hours_book_standing (self->book), -1, -1, &all);
  add_line (self, by_area ? NULL : _ ("job"), by_area ? _ ("job") : by_code ? "" : NULL, &all, TRUE, TRUE);
}

/* ---- words ---- */

static char *
about_words (TallyHoursView *self)
{
  gint64 not_priced = standing_not_priced (hours_book_standing (self->book));
  g_autofree char *missing = NULL;

  if (not_priced > 0)
    missing = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d run is not priced: its work is in no estimate. ",
                                            "%d runs are not priced: their work is in no estimate. ", (gulong) not_priced),
                               (int) not_priced);
  return g_strconcat (missing ? missing : "",
                      _ ("Quantities ticked by run. Forecast 1: estimated × spent / earned. Forecast 2: spent + estimated - earned."),
                      NULL);
}

static void
show_week (TallyHoursView *self)
{
  gint64 monday = week_model_monday (self->week);
  g_autofree char *first = hours_day_print (monday), *last = hours_day_print (monday + 6);
  double hours = (double) hours_sum (hours_book_entries (self->book), -1, -1, monday, monday + 6) / 1000;
  g_autofree char *sum = session_figure (hours, hours < 100 ? 1 : 0, FALSE);
  g_autofree char *words = g_strdup_printf (_ ("%s to %s: %s worker-hours"), first, last, sum);

  gtk_label_set_label (self->week_label, words);
}

static void
show_done (TallyHoursView *self)
{
  TallyJob *job = session_job (self->session);
  guint n = grid_model_n_rows (TALLY_GRID_MODEL (self->done)), all;
  g_autofree char *words = NULL;
  JobScope whole = { 0, 0 };
  JobTotals totals;

  job_totals (job, &whole, JOB_OWN_METHOD, &totals);
  all = job_n (job, JOB_RUN) - (guint) totals.notes;
  job_totals_clear (&totals);
  if (n == all)
    words = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u run", "%u runs", n), n);
  else
    words = g_strdup_printf (_ ("%u of %u runs: the part chosen in the job map"), n, all);
  gtk_label_set_label (self->done_label, words);
}

/* ---- filling ---- */

static void
to_last_week (TallyHoursView *self)
{
  const GPtrArray *entries = hours_book_entries (self->book);
  const HoursEntry *last = entries->len ? g_ptr_array_index (entries, entries->len - 1) : NULL;
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  g_autofree char *today = g_date_time_format (now, "%Y-%m-%d");
  gint64 day;

  if (last)
    week_model_set_monday (self->week, hours_monday (last->day));
  else if (hours_day_parse (today, &day, NULL))
    week_model_set_monday (self->week, hours_monday (day));
}

static void
fill (TallyHoursView *self)
{
  const char *trouble = hours_book_trouble (self->book);
  gboolean ready = hours_book_ready (self->book);
  g_autofree char *words = NULL, *about = NULL;
  Earned all;

  self->stale = FALSE;
  gtk_widget_set_visible (GTK_WIDGET (self->content), ready);
  if (self->other_job)
    week_model_reset (self->week);
  if (self->other_job && ready)
    to_last_week (self);
  if (self->other_job || self->other_runs)
    done_model_reset (self->done);
  else
    done_model_refresh (self->done);
  if (!self->other_job)
    week_model_refresh (self->week);
  self->other_job = self->other_runs = FALSE;
  if (!ready)
    {
      gtk_label_set_label (self->conclusion, trouble ? _ ("The hours of this job cannot be read.") : _ ("No job is open."));
      gtk_label_set_label (self->about, trouble ? trouble : "");
      return;
    }
  standing_get (hours_book_standing (self->book), -1, -1, &all);
  words = hours_words_conclusion (&all);
  about = about_words (self);
  gtk_label_set_label (self->conclusion, words);
  gtk_label_set_label (self->about, about);
  fill_table (self);
  show_week (self);
  show_done (self);
}

/* Many edits in a row are followed once; what nobody looks at waits. */
static gboolean
refresh_cb (gpointer data)
{
  TallyHoursView *self = data;

  self->refresh = 0;
  fill (self);
  return G_SOURCE_REMOVE;
}

static void
queue_refresh (TallyHoursView *self)
{
  self->stale = TRUE;
  if (self->refresh == 0 && gtk_widget_get_mapped (GTK_WIDGET (self)))
    self->refresh = g_idle_add (refresh_cb, self);
}

static void
hours_map (GtkWidget *widget)
{
  TallyHoursView *self = TALLY_HOURS_VIEW (widget);

  if (self->stale)
    fill (self);
  GTK_WIDGET_CLASS (tally_hours_view_parent_class)->map (widget);
}

/* ---- what happens ---- */

static void
job_cb (TallySession *session, TallyHoursView *self)
{
  (void) session;
  self->other_job = TRUE;
  queue_refresh (self);
}

static void
changed_cb (TallySession *session, JobEdit *edit, TallyHoursView *self)
{
  (void) session;
  (void) edit;
  self->other_runs = TRUE;
  queue_refresh (self);
}

static void
scope_cb (TallySession *session, TallyHoursView *self)
{
  (void) session;
  self->other_runs = TRUE;
  queue_refresh (self);
}

static void
book_cb (TallyHoursBook *book, TallyHoursView *self)
{
  (void) book;
  queue_refresh (self);
}

static void
by_toggled_cb (GtkToggleButton *button, TallyHoursView *self)
{
  if (gtk_toggle_button_get_active (button) && self->book)
    queue_refresh (self);
}

static void
move_week (TallyHoursView *self, int days)
{
  week_model_set_monday (self->week, week_model_monday (self->week) + days);
  show_week (self);
}

static void
before_cb (GtkButton *button, TallyHoursView *self)
{
  (void) button;
  move_week (self, -7);
}

static void
after_cb (GtkButton *button, TallyHoursView *self)
{
  (void) button;
  move_week (self, 7);
}

static void
last_cb (GtkButton *button, TallyHoursView *self)
{
  (void) button;
  to_last_week (self);
  show_week (self);
}

static void
fill_selection (TallyHoursView *self, gint64 ppm)
{
  guint row0, column0, row1, column1;

  grid_get_selection (self->done_grid, &row0, &column0, &row1, &column1);
  if (column1 < DONE_COLUMN_STAGE)
    session_say (self->session, SESSION_SAID, _ ("Select cells of the four stages first"));
  else
    done_model_fill (self->done, row0, column0, row1, column1, ppm);
}

static void
all_done_cb (GtkButton *button, TallyHoursView *self)
{
  (void) button;
  fill_selection (self, DONE_ALL);
}

static void
not_done_cb (GtkButton *button, TallyHoursView *self)
{
  (void) button;
  fill_selection (self, 0);
}

static void
sheet_cb (GtkStack *stack, GParamSpec *spec, TallyHoursView *self)
{
  const char *name = gtk_stack_get_visible_child_name (stack);

  (void) spec;
  if (name && gtk_stack_get_child_by_name (self->tools, name))
    gtk_stack_set_visible_child_name (self->tools, name);
}

/* ---- the widget ---- */

static void
tally_hours_view_dispose (GObject *object)
{
  TallyHoursView *self = TALLY_HOURS_VIEW (object);

  g_clear_handle_id (&self->refresh, g_source_remove);
  gtk_widget_dispose_template (GTK_WIDGET (self), TALLY_TYPE_HOURS_VIEW);
  g_clear_object (&self->week);
  g_clear_object (&self->done);
  g_clear_object (&self->book);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_hours_view_parent_class)->dispose (object);
}

static void
tally_hours_view_class_init (TallyHoursViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tally_hours_view_dispose;
  widget->map = hours_map;
  gtk_widget_class_set_template_from_resource (widget, "/seamtally/ui/hours-view.ui");
#define CHILD(name) gtk_widget_class_bind_template_child (widget, TallyHoursView, name)
  CHILD (conclusion);
  CHILD (about);
  CHILD (week_label);
  CHILD (done_label);
  CHILD (by_group);
  CHILD (by_area);
  CHILD (by_code);
  CHILD (table_scroll);
  CHILD (tools);
  CHILD (sheets);
  CHILD (content);
  CHILD (file_tools);
  CHILD (answers);
#undef CHILD
#define CALL(name) gtk_widget_class_bind_template_callback (widget, name)
  CALL (by_toggled_cb);
  CALL (before_cb);
  CALL (after_cb);
  CALL (last_cb);
  CALL (all_done_cb);
  CALL (not_done_cb);
  CALL (sheet_cb);
#undef CALL
}

static void
tally_hours_view_init (TallyHoursView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->table = figures_table_new (_ ("Estimated, earned and spent worker-hours"));
  gtk_scrolled_window_set_child (self->table_scroll, self->table);
  self->stale = self->other_job = TRUE;
}

GtkWidget *
tally_hours_view_new (TallySession *session)
{
  TallyHoursView *self = g_object_new (TALLY_TYPE_HOURS_VIEW, NULL);
  GtkWidget *week, *done;

  self->session = g_object_ref (session);
  self->book = g_object_ref (hours_book_of (session));
  self->week = week_model_new (session);
  self->done = done_model_new (session);
  week = tally_sheet_page_new (TALLY_GRID_MODEL (self->week), _ ("Time sheet of a week"), &self->week_grid);
  done = tally_sheet_page_new (TALLY_GRID_MODEL (self->done), _ ("What is done of each run"), &self->done_grid);
  grid_set_frozen (self->week_grid, 2);
  grid_set_frozen (self->done_grid, 3);
  gtk_stack_add_titled (self->sheets, week, "week", _ ("Time sheet"));
  gtk_stack_add_titled (self->sheets, done, "done", _ ("What is done"));
  gtk_box_append (self->file_tools, hours_csv_button_new (session, self->answers));
  g_signal_connect_object (session, "job", G_CALLBACK (job_cb), self, 0);
  g_signal_connect_object (session, "changed", G_CALLBACK (changed_cb), self, 0);
  g_signal_connect_object (session, "scope", G_CALLBACK (scope_cb), self, 0);
  g_signal_connect_object (self->book, "changed", G_CALLBACK (book_cb), self, 0);
  return GTK_WIDGET (self);
}
