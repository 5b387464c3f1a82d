/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/mix/mix-page.h"

#include "window/methods/setting-entry.h"
#include "window/mix/mix-private.h"
#include "window/walk.h"
#include "window/words.h"

#include <glib/gi18n.h>

/* Rows of groups shown before all are asked for. */
#define MOST_ROWS 40

#define TALLY_TYPE_MIX_PAGE (tally_mix_page_get_type ())
G_DECLARE_FINAL_TYPE (TallyMixPage, tally_mix_page, TALLY, MIX_PAGE, GtkWidget)

/* What the thread and the page share: numbers alone, and the problem that the thread only reads. */
typedef struct
{
  JobMix *mix;
  int stop, share; /* atomic; share in thousandths */
} Work;

struct _TallyMixPage
{
  GtkWidget parent_instance;

  GtkWidget *scroll; /* owned; the rest borrowed */
  GtkLabel *conclusion, *about, *legend, *choices, *left_out;
  GtkWidget *progress_row, *answers, *use, *all_rows, *changes_box;
  GtkProgressBar *progress;
  TallyFigureGrid *figures, *parts, *groups, *changes;
  TallyChartArea *picture;

  TallySession *session;
  MixAnswer answer;
  Work *work; /* (nullable): under way */
  guint refresh, watch;
  gint64 started;
  gboolean stale, every_row;
};

G_DEFINE_FINAL_TYPE (TallyMixPage, tally_mix_page, GTK_TYPE_WIDGET)

/* ---- showing ---- */

static void
allow_cb (gpointer data, guint group, guint method, gboolean allow)
{
  TallyMixPage *self = data;
  TallyJob *job = session_job (self->session);
  JobEdit *edit = job_edit_new (_ ("methods allowed"));

  if (job && self->answer.mix)
    job_edit_mix_not (job, edit, job_mix_group (self->answer.mix, group),
                      g_array_index (self->answer.mix->method, int, method), !allow);
  if (edit->deltas->len == 0)
    job_edit_free (edit);
  else
    session_apply (self->session, edit);
}

static void
clear_answer (TallyMixPage *self)
{
  /* Buttons of the rows hold the answer. */
  tally_figure_grid_clear (self->groups);
  g_clear_pointer (&self->answer.report, cost_mix_report_free);
  g_clear_pointer (&self->answer.mix, job_mix_free);
}

/* Words of a fault as a sentence of its own. */
static char *
sentence (const char *words)
{
  gunichar first = g_unichar_toupper (g_utf8_get_char (words));
  char head[7] = { 0 };

  if (!*words)
    return g_strdup ("");
  g_unichar_to_utf8 (first, head);
  return g_strdup_printf ("%s%s.", head, g_utf8_next_char (words));
}

static void show_words (TallyMixPage *self, const char *words, const char *more);

static void
show_fault (TallyMixPage *self, const Fault *fault)
{
  g_autofree char *what = sentence (fault->what), *remedy = sentence (fault->remedy);

  show_words (self, what, remedy);
}

/* A sentence instead of an answer; the limits stay at hand. */
static void
show_words (TallyMixPage *self, const char *words, const char *more)
{
  clear_answer (self);
  gtk_label_set_label (self->conclusion, words);
  gtk_label_set_label (self->about, more ? more : "");
  gtk_widget_set_visible (GTK_WIDGET (self->about), more != NULL);
  gtk_widget_set_visible (self->answers, FALSE);
  gtk_widget_set_sensitive (self->use, FALSE);
}

static void
show_rows (TallyMixPage *self)
{
  guint left =
      mix_show_groups (self->groups, self->session, &self->answer, self->every_row ? 0 : MOST_ROWS, allow_cb, self);

  if (left > 0)
    {
      g_autofree char *words =
          g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u more group, each with less money in it",
                                        "%u more groups, each with less money in them", left),
                           left);
      gtk_label_set_label (self->left_out, words);
    }
  gtk_widget_set_visible (gtk_widget_get_parent (GTK_WIDGET (self->left_out)), left > 0);
}

static void
show_about (TallyMixPage *self, const CostMixPlan *best, gboolean differs)
{
  const JobMix *mix = self->answer.mix;
  gint64 less = mix->own_cost - job_mix_cost (mix, best);
  g_autofree char *now = job_mix_money (mix, mix->own_cost), *money = job_mix_money (mix, ABS (less)), *out = NULL;

  if (!differs)
    out = g_strdup (_ ("The job stands so already."));
  else
    out =
        g_strdup_printf (less >= 0
                             ? _ ("The job as it stands costs %s; this mix is %s less.")
                             : _ ("The job as it stands costs %s, but does not keep the limits; this mix is %s more."),
                         now, money);
  g_autofree char *beside = job_mix_beside (mix, best), *both = g_strconcat (out, *beside ? " " : "", beside, NULL);
  gtk_label_set_label (self->about, both);
  gtk_widget_set_visible (GTK_WIDGET (self->about), TRUE);
}

static void
show_choices (TallyMixPage *self, TallyJob *job)
{
  g_autoptr (GPtrArray) choices = job_mix_choices (job, self->answer.mix);
  GString *words = g_string_new (NULL);

  for (guint i = 0; i < choices->len; i++)
    g_string_append_printf (words, "%s• %s", i > 0 ? "\n" : "", (char *) g_ptr_array_index (choices, i));
  gtk_label_set_label (self->choices, words->str);
  g_string_free (words, TRUE);
}

static void
show_answer (TallyMixPage *self)
{
  TallyJob *job = session_job (self->session);
  const CostMixPlan *best = g_ptr_array_index (self->answer.report->best->plan, 0);
  g_autofree char *words = job_mix_conclusion (self->answer.mix, self->answer.report), *legend = NULL;
  g_autoptr (JobEdit) edit = job_edit_mix (job, self->answer.mix, best, "");
  gboolean differs = edit->deltas->len > 0;

  gtk_label_set_label (self->conclusion, words);
  /* The job as it stands, which the mix is held against; each group leads to its own runs. */
  tally_walk_mark (GTK_WIDGET (self), "cost", NULL, NULL, NULL, "job");
  show_about (self, best, differs);
  gtk_widget_set_sensitive (self->use, differs);
  gtk_widget_set_visible (self->answers, TRUE);
  mix_show_figures (self->figures, &self->answer);
  mix_show_parts (self->parts, &self->answer);
  mix_show_changes (self->changes, &self->answer);
  gtk_widget_set_visible (self->changes_box, differs);
  legend = mix_show_picture (self->picture, session_job (self->session), &self->answer);
  gtk_label_set_label (self->legend, legend);
  show_rows (self);
  show_choices (self, job);
}

/* ---- solving beside the main loop ---- */

static gboolean
progress_cb (gpointer data, double share, const CostMixPlan *best)
{
  Work *work = data;

  (void) best;
  g_atomic_int_set (&work->share, (int) (share * 1000));
  return !g_atomic_int_get (&work->stop);
}

typedef struct
{
  CostMixReport *report;
  Fault *fault;
} Solved;

static void
solved_free (gpointer data)
{
  Solved *solved = data;

  g_clear_pointer (&solved->report, cost_mix_report_free);
  g_clear_pointer (&solved->fault, fault_free);
  g_free (solved);
}

static void
work_free (gpointer data)
{
  Work *work = data;

  g_clear_pointer (&work->mix, job_mix_free);
  g_free (work);
}

static void
solve_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Work *work = data;
  CostMixHow how = { .wanted = 3, .progress = progress_cb, .data = work };
  Solved *solved = g_new0 (Solved, 1);

  (void) source;
  (void) cancellable;
  solved->report = cost_mix_report_new (work->mix->mix, &how, &solved->fault);
  g_task_return_pointer (task, solved, solved_free);
}

static void
end_watch (TallyMixPage *self)
{
  g_clear_handle_id (&self->watch, g_source_remove);
  gtk_widget_set_visible (self->progress_row, FALSE);
}

static void
solved_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  TallyMixPage *self = TALLY_MIX_PAGE (source);
  Work *work = g_task_get_task_data (G_TASK (result));
  Solved *solved = g_task_propagate_pointer (G_TASK (result), NULL);

  (void) data;
  /* A newer question, or no page any more. */
  if (self->work == work && self->scroll)
    {
      self->work = NULL;
      end_watch (self);
      if (solved->report && session_job (self->session))
        {
          clear_answer (self);
          self->answer = (MixAnswer){ g_steal_pointer (&work->mix), g_steal_pointer (&solved->report) };
          show_answer (self);
        }
      else if (g_atomic_int_get (&work->stop) && self->answer.report)
        gtk_label_set_label (self->about,
                             _ ("Stopped before any mix within the limits was found; what stands here is the answer "
                                "before. Change a limit to look again."));
      else if (solved->fault)
        show_fault (self, solved->fault);
    }
  solved_free (solved);
}

static gboolean
watch_cb (gpointer data)
{
  TallyMixPage *self = data;

  if (!self->work)
    {
      self->watch = 0;
      return G_SOURCE_REMOVE;
    }
  if (g_get_monotonic_time () - self->started > 500000 && !gtk_widget_get_visible (self->progress_row))
    {
      gtk_widget_set_visible (self->progress_row, TRUE);
      gtk_label_set_label (self->about, self->answer.report
                                            ? _ ("Looking for the best mix; what stands here is the answer before.")
                                            : _ ("Looking for the best mix."));
      gtk_widget_set_visible (GTK_WIDGET (self->about), TRUE);
    }
  gtk_progress_bar_set_fraction (self->progress, g_atomic_int_get (&self->work->share) / 1000.0);
  return G_SOURCE_CONTINUE;
}

static void
cancel_cb (GtkButton *button, TallyMixPage *self)
{
  (void) button;
  if (!self->work)
    return;
  g_atomic_int_set (&self->work->stop, 1);
  gtk_label_set_label (self->about, _ ("Stopping; the best so far is kept."));
}

static void
drop_work (TallyMixPage *self)
{
  if (self->work)
    g_atomic_int_set (&self->work->stop, 1);
  self->work = NULL;
}

static void
start (TallyMixPage *self)
{
  TallyJob *job = session_job (self->session);
  g_autoptr (Fault) fault = NULL;
  g_autoptr (GTask) task = NULL;
  JobMix *mix;

  drop_work (self);
  end_watch (self);
  if (!job)
    {
      show_words (self, _ ("No job is open."), NULL);
      return;
    }
  mix = job_mix_new (job, &fault);
  if (!mix)
    {
      show_fault (self, fault);
      return;
    }
  self->work = g_new0 (Work, 1);
  self->work->mix = mix;
  self->started = g_get_monotonic_time ();
  gtk_widget_set_sensitive (self->use, FALSE);
  self->watch = g_timeout_add (100, watch_cb, self);
  task = g_task_new (self, NULL, solved_cb, NULL);
  g_task_set_task_data (task, self->work, work_free);
  g_task_run_in_thread (task, solve_thread);
}

/* ---- when ---- */

static gboolean
refresh_cb (gpointer data)
{
  TallyMixPage *self = data;

  self->refresh = 0;
  self->stale = FALSE;
  start (self);
  return G_SOURCE_REMOVE;
}

static void
queue_refresh (TallyMixPage *self)
{
  self->stale = TRUE;
  /* What was asked before is of no use any more. */
  drop_work (self);
  if (self->refresh == 0 && gtk_widget_get_mapped (GTK_WIDGET (self)))
    self->refresh = g_idle_add (refresh_cb, self);
}

static void
page_map (GtkWidget *widget)
{
  TallyMixPage *self = TALLY_MIX_PAGE (widget);

  GTK_WIDGET_CLASS (tally_mix_page_parent_class)->map (widget);
  if (self->stale)
    queue_refresh (self);
}

static void
job_cb (TallySession *session, TallyMixPage *self)
{
  (void) session;
  self->every_row = FALSE;
  show_words (self, "", NULL);
  queue_refresh (self);
}

static void
changed_cb (TallySession *session, JobEdit *edit, TallyMixPage *self)
{
  (void) session;
  (void) edit;
  queue_refresh (self);
}

static void
use_cb (GtkButton *button, TallyMixPage *self)
{
  TallyJob *job = session_job (self->session);
  JobEdit *edit;

  (void) button;
  if (!job || !self->answer.report || self->stale)
    return;
  edit = job_edit_mix (job, self->answer.mix, g_ptr_array_index (self->answer.report->best->plan, 0),
                       _ ("mix of methods"));
  if (edit->deltas->len == 0)
    {
      job_edit_free (edit);
      return;
    }
  guint runs = edit->deltas->len;
  if (session_apply (self->session, edit))
    session_say (self->session, SESSION_SAID_UNDO,
                 g_dngettext (GETTEXT_PACKAGE, "%u run has its method of the mix",
                              "%u runs have their method of the mix", runs),
                 runs);
}

static void
all_rows_cb (GtkButton *button, TallyMixPage *self)
{
  (void) button;
  self->every_row = TRUE;
  if (self->answer.report && session_job (self->session))
    show_rows (self);
}

/* ---- the widget ---- */

static GtkWidget *
add_label (GtkWidget *box, const char *style)
{
  GtkWidget *label = tally_words_new (NULL, style);

  gtk_box_append (GTK_BOX (box), label);
  return label;
}

static void
add_heading (GtkWidget *box, const char *words)
{
  gtk_label_set_label (GTK_LABEL (add_label (box, "heading")), words);
}

static void
add_limits (TallyMixPage *self, GtkWidget *box)
{
  static const char *const keys[] = { "mix.hours", "mix.weeks",          "mix.methods",
                                      "mix.bands", "mix.boundary_money", "mix.boundary_minutes" };
  GtkWidget *grid = gtk_grid_new ();

  gtk_grid_set_column_spacing (GTK_GRID (grid), 22);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 8);
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    gtk_grid_attach (GTK_GRID (grid), tally_setting_entry_new (self->session, keys[i]), (int) i % 3, (int) i / 3, 1, 1);
  gtk_box_append (GTK_BOX (box), grid);
}

static void
add_bar (TallyMixPage *self, GtkWidget *box)
{
  GtkWidget *cancel = gtk_button_new_with_mnemonic (_ ("_Stop, keep the best so far")),
            *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);

  self->use = gtk_button_new_with_mnemonic (_ ("_Use this mix"));
  gtk_widget_add_css_class (self->use, "suggested-action");
  gtk_widget_set_halign (self->use, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (self->use, _ ("Writes the methods on the runs; one undo takes them back"));
  g_signal_connect (self->use, "clicked", G_CALLBACK (use_cb), self);
  gtk_box_append (GTK_BOX (row), self->use);
  self->progress_row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  self->progress = GTK_PROGRESS_BAR (gtk_progress_bar_new ());
  gtk_widget_set_valign (GTK_WIDGET (self->progress), GTK_ALIGN_CENTER);
  gtk_widget_set_size_request (GTK_WIDGET (self->progress), 220, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->progress), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Looking for the best mix"), -1);
  g_signal_connect (cancel, "clicked", G_CALLBACK (cancel_cb), self);
  gtk_box_append (GTK_BOX (self->progress_row), GTK_WIDGET (self->progress));
  gtk_box_append (GTK_BOX (self->progress_row), cancel);
  gtk_widget_set_visible (self->progress_row, FALSE);
  gtk_box_append (GTK_BOX (row), self->progress_row);
  gtk_box_append (GTK_BOX (box), row);
}

static TallyFigureGrid *
add_grid (GtkWidget *box, const char *title)
{
  GtkWidget *grid = tally_figure_grid_new (title);

  add_heading (box, title);
  gtk_box_append (GTK_BOX (box), grid);
  return TALLY_FIGURE_GRID (grid);
}

static void
add_answers (TallyMixPage *self, GtkWidget *box)
{
  GtkWidget *more = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);

  self->answers = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  self->picture = TALLY_CHART_AREA (tally_chart_area_new (_ ("Method by place, class and size")));
  gtk_box_append (GTK_BOX (self->answers), GTK_WIDGET (self->picture));
  self->legend = GTK_LABEL (add_label (self->answers, "dim-label"));
  self->figures = add_grid (self->answers, _ ("Beside it"));
  self->parts = add_grid (self->answers, _ ("What its cost is made of"));
  self->changes_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  self->changes = add_grid (self->changes_box, _ ("What changes against the job as it stands"));
  gtk_box_append (GTK_BOX (self->answers), self->changes_box);
  self->groups = add_grid (self->answers, _ ("Groups of runs"));
  self->left_out = GTK_LABEL (add_label (more, "dim-label"));
  self->all_rows = gtk_button_new_with_label (_ ("Show all"));
  g_signal_connect (self->all_rows, "clicked", G_CALLBACK (all_rows_cb), self);
  gtk_box_append (GTK_BOX (more), self->all_rows);
  gtk_box_append (GTK_BOX (self->answers), more);
  add_heading (self->answers, _ ("Choices this rests on"));
  self->choices = GTK_LABEL (add_label (self->answers, "dim-label"));
  gtk_box_append (GTK_BOX (box), self->answers);
}

static void
tally_mix_page_dispose (GObject *object)
{
  TallyMixPage *self = TALLY_MIX_PAGE (object);

  drop_work (self);
  g_clear_handle_id (&self->refresh, g_source_remove);
  g_clear_handle_id (&self->watch, g_source_remove);
  if (self->scroll)
    clear_answer (self);
  g_clear_pointer (&self->scroll, gtk_widget_unparent);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_mix_page_parent_class)->dispose (object);
}

static void
tally_mix_page_class_init (TallyMixPageClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tally_mix_page_dispose;
  GTK_WIDGET_CLASS (klass)->map = page_map;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
tally_mix_page_init (TallyMixPage *self)
{
  self->stale = TRUE;
}

GtkWidget *
tally_mix_page_new (TallySession *session)
{
  TallyMixPage *self = g_object_new (TALLY_TYPE_MIX_PAGE, NULL);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  self->session = g_object_ref (session);
  self->scroll = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroll), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_widget_set_parent (self->scroll, GTK_WIDGET (self));
  gtk_widget_add_css_class (box, "methods-view");
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroll), box);
  self->conclusion = GTK_LABEL (add_label (box, "conclusion"));
  self->about = GTK_LABEL (add_label (box, "dim-label"));
  add_bar (self, box);
  add_limits (self, box);
  add_answers (self, box);
  show_words (self, "", NULL);
  g_signal_connect_object (session, "job", G_CALLBACK (job_cb), self, 0);
  g_signal_connect_object (session, "changed", G_CALLBACK (changed_cb), self, 0);
  return GTK_WIDGET (self);
}
