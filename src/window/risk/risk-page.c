/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/risk/risk-page.h"

#include "window/chart-area.h"
#include "window/methods/figure-grid.h"
#include "window/risk/risk-choices.h"
#include "window/risk/risk-pictures.h"
#include "window/risk/risk-table.h"
#include "window/risk/risk-work.h"
#include "window/words.h"

#include "job/setting.h"

#include <glib/gi18n.h>
#include <string.h>

#define TICK_MS 100
#define SETTLE_MS 150 /* several edits in a row are followed once */

#define TALLY_TYPE_RISK_PAGE (tally_risk_page_get_type ())
G_DECLARE_FINAL_TYPE (TallyRiskPage, tally_risk_page, TALLY, RISK_PAGE, GtkWidget)

struct _TallyRiskPage
{
  GtkWidget parent_instance;

  GtkWidget *scroll, *answers, *running, *bar, *again; /* borrowed, but for scroll */
  GtkLabel *conclusion, *about, *notes;
  GtkDropDown *baseline, *other;
  TallyFigureGrid *table;
  TallyChartArea *curve, *gain, *cost;

  TallySession *session;
  RiskAnswer *answer;              /* (nullable): the last one, kept until the next is there */
  RiskWork *work;                  /* borrowed while it runs */
  GArray *methods;                 /* int: of the drop-down */
  char *baseline_key, *other_name; /* (nullable): as chosen by the user */
  gboolean stale, filling, old; /* @old: what is shown is from before a change that was not followed */
  guint tick, settle;
};

G_DEFINE_FINAL_TYPE (TallyRiskPage, tally_risk_page, GTK_TYPE_WIDGET)

/* ---- what is shown ---- */

static void
fill_notes (TallyRiskPage *self)
{
  g_autofree char *choices = g_strjoinv ("\n", self->answer->choices);
  g_autofree char *all = g_strdup_printf (
      _ ("10, 50, 80 and 90 %%: as many of the trials cost no more; ± is the wider half of the 95 %% interval that the "
         "number of trials leaves. The range under a gain goes from 10 to 90 %%.\n%s\nWhat moves it: %s."),
      choices, risk_drivers_say (self->answer->how));

  gtk_label_set_label (self->notes, all);
}

/* The way that is told about: the user's, else the one with the largest likely gain; 0 where the baseline stands alone. */
static guint
told_way (TallyRiskPage *self)
{
  const RiskAnswer *a = self->answer;

  for (guint i = 1; self->other_name && i < a->risk->ways->len; i++)
    if (strcmp (job_risk_way (a->risk, i)->name, self->other_name) == 0)
      return i;
  return a->best;
}

static void
show_told (TallyRiskPage *self)
{
  guint way = told_way (self);

  g_autofree char *before = g_strdup_printf (_ ("Before the last change: %s"), self->answer->way[way].sentence);

  gtk_label_set_label (self->conclusion, self->old ? before : self->answer->way[way].sentence);
  tally_risk_drivers_set (self->gain, self->answer, way);
  gtk_widget_set_visible (GTK_WIDGET (self->gain), way > 0);
  tally_risk_mark (self->answer, GTK_WIDGET (self->gain), way);
}

static void
name_cb (GtkButton *button, TallyRiskPage *self)
{
  guint i = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "way"));

  if (i > 0 && self->answer)
    gtk_drop_down_set_selected (self->other, i - 1);
}

static void
fill_other (TallyRiskPage *self)
{
  const JobRisk *risk = self->answer->risk;
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  for (guint i = 1; i < risk->ways->len; i++)
    gtk_string_list_append (names, job_risk_way (risk, i)->name);
  self->filling = TRUE;
  gtk_drop_down_set_model (self->other, G_LIST_MODEL (names));
  gtk_widget_set_sensitive (GTK_WIDGET (self->other), risk->ways->len > 1);
  if (told_way (self) > 0)
    gtk_drop_down_set_selected (self->other, told_way (self) - 1);
  self->filling = FALSE;
}

static char *
about_words (const JobRisk *risk)
{
  g_autofree char *trials = session_figure ((double) risk->trials, 0, FALSE);

  return g_strdup_printf (_ ("%s trials · seed %" G_GUINT64_FORMAT
                             " · spread: %s (L3) · common causes are sampled once a trial for all methods"),
                          trials, risk->seed, spread_say (risk->spread));
}

static void
show_answer (TallyRiskPage *self)
{
  fill_other (self);
  tally_risk_table_fill (self->table, self->answer, G_CALLBACK (name_cb), self);
  fill_notes (self);
  tally_risk_curve_set (self->curve, self->answer);
  tally_risk_drivers_set (self->cost, self->answer, 0);
  tally_risk_mark (self->answer, GTK_WIDGET (self->curve), 0);
  tally_risk_mark (self->answer, GTK_WIDGET (self->cost), 0);
  show_told (self);
  gtk_widget_set_visible (self->answers, TRUE);
}

/* ---- running ---- */

static void queue (TallyRiskPage *self);

/* The line under the conclusion tells what it rests on, or what is going on; the bar has its place there always.
 * @state: (nullable); @fault: it is why there is nothing newer. */
static void
show_running (TallyRiskPage *self, gboolean running, const char *state, gboolean fault)
{
  g_autofree char *about = state ? g_strdup (state) : self->answer ? about_words (self->answer->risk) : g_strdup ("");

  gtk_widget_set_opacity (self->running, running ? 1 : 0);
  gtk_widget_set_sensitive (self->running, running);
  gtk_widget_set_visible (self->running, running || !state);
  gtk_widget_set_visible (self->again, !running && state != NULL && !fault);
  gtk_label_set_label (self->about, about);
  if (fault)
    {
      gtk_widget_add_css_class (GTK_WIDGET (self->about), "attention");
      gtk_widget_remove_css_class (GTK_WIDGET (self->about), "dim-label");
    }
  else
    {
      gtk_widget_remove_css_class (GTK_WIDGET (self->about), "attention");
      gtk_widget_add_css_class (GTK_WIDGET (self->about), "dim-label");
    }
  self->old = !running && state != NULL && self->answer != NULL;
  gtk_widget_set_opacity (self->answers, self->old ? 0.5 : 1);
  if (self->old)
    show_told (self);
  if (!running)
    g_clear_handle_id (&self->tick, g_source_remove);
}

static void
done_cb (gpointer page, RiskWork *work, RiskAnswer *answer, const Fault *fault)
{
  TallyRiskPage *self = page;

  /* An older run that was given up for this one has nothing to say. */
  if (self->work != work)
    {
      g_clear_pointer (&answer, risk_answer_free);
      return;
    }
  self->work = NULL;
  if (answer)
    {
      g_clear_pointer (&self->answer, risk_answer_free);
      self->answer = answer;
      show_running (self, FALSE, NULL, FALSE);
      show_answer (self);
      return;
    }
  g_autofree char *words = fault ? fault_words (fault, NULL)
                                 : g_strdup (_ ("Stopped: what stands below was computed before the last change"));
  show_running (self, FALSE, words, fault != NULL);
  if (!self->answer)
    gtk_label_set_label (self->conclusion,
                         fault ? _ ("The risk cannot be computed.") : _ ("Stopped before there was an answer."));
}

static gboolean
tick_cb (gpointer data)
{
  TallyRiskPage *self = data;

  if (self->work)
    gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->bar), risk_work_share (self->work));
  return G_SOURCE_CONTINUE;
}

static void
forget_work (TallyRiskPage *self)
{
  if (self->work)
    risk_work_stop (self->work);
  self->work = NULL;
}

static void
cancel_cb (GtkButton *button, TallyRiskPage *self)
{
  (void) button;
  if (self->work)
    risk_work_stop (self->work);
}

static void
again_cb (GtkButton *button, TallyRiskPage *self)
{
  (void) button;
  queue (self);
}

/* The user's, else the job's method, else the first that is listed; the drop-down follows. */
static int
find_baseline (TallyRiskPage *self, TallyJob *job)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  const char *own = self->baseline_key ? self->baseline_key : job_head (job)->text[HEAD_METHOD];
  int method = own ? catalogue_find_method (catalogue, own) : -1;
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  guint at = 0;

  g_clear_pointer (&self->methods, g_array_unref);
  self->methods = job_methods_listed (job, method);
  if (method < 0 && self->methods->len > 0)
    method = g_array_index (self->methods, int, 0);
  for (guint i = 0; i < self->methods->len; i++)
    {
      gtk_string_list_append (names, catalogue_method (catalogue, g_array_index (self->methods, int, i))->name);
      at = g_array_index (self->methods, int, i) == method ? i : at;
    }
  self->filling = TRUE;
  gtk_drop_down_set_model (self->baseline, G_LIST_MODEL (names));
  gtk_drop_down_set_selected (self->baseline, at);
  self->filling = FALSE;
  return method;
}

static void
start (TallyRiskPage *self)
{
  TallyJob *job = session_job (self->session);
  int baseline = job ? find_baseline (self, job) : -1;

  self->stale = FALSE;
  forget_work (self);
  if (baseline < 0 || job_n (job, JOB_RUN) == 0)
    {
      g_clear_pointer (&self->answer, risk_answer_free);
      show_running (self, FALSE, NULL, FALSE);
      gtk_widget_set_visible (self->answers, FALSE);
      gtk_label_set_label (self->conclusion, !job                        ? _ ("No job is open.")
                                             : job_n (job, JOB_RUN) == 0 ? _ ("This job has no runs yet.")
                                                                         : _ ("The catalogue has no method."));
      return;
    }
  self->work = risk_work_start (self->session, baseline, G_OBJECT (self), done_cb);
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->bar), 0);
  show_running (self, TRUE,
                self->answer ? _ ("Drawing anew: what stands below is from before the last change") : _ ("Drawing"),
                FALSE);
  if (self->tick == 0)
    self->tick = g_timeout_add (TICK_MS, tick_cb, self);
}

static gboolean
settle_cb (gpointer data)
{
  TallyRiskPage *self = data;

  self->settle = 0;
  start (self);
  return G_SOURCE_REMOVE;
}

/* What nobody looks at waits. */
static void
queue (TallyRiskPage *self)
{
  self->stale = TRUE;
  if (self->settle == 0 && gtk_widget_get_mapped (GTK_WIDGET (self)))
    self->settle = g_timeout_add (SETTLE_MS, settle_cb, self);
}

static void
changed_cb (TallySession *session, JobEdit *edit, TallyRiskPage *self)
{
  (void) session;
  (void) edit;
  queue (self);
}

/* Figures of another job say nothing about this one. */
static void
job_cb (TallySession *session, TallyRiskPage *self)
{
  (void) session;
  forget_work (self);
  g_clear_pointer (&self->answer, risk_answer_free);
  g_clear_pointer (&self->baseline_key, g_free);
  g_clear_pointer (&self->other_name, g_free);
  gtk_widget_set_visible (self->answers, FALSE);
  gtk_label_set_label (self->conclusion, "");
  gtk_label_set_label (self->about, "");
  queue (self);
}

static void
baseline_cb (GtkDropDown *drop, GParamSpec *spec, TallyRiskPage *self)
{
  TallyJob *job = session_job (self->session);
  guint at = gtk_drop_down_get_selected (drop);

  (void) spec;
  if (self->filling || !job || !self->methods || at >= self->methods->len)
    return;
  g_free (self->baseline_key);
  self->baseline_key =
      g_strdup (catalogue_method (job_basis (job)->catalogue, g_array_index (self->methods, int, at))->key);
  queue (self);
}

/* Another way is told about; nothing is drawn for that. */
static void
other_cb (GtkDropDown *drop, GParamSpec *spec, TallyRiskPage *self)
{
  guint at = gtk_drop_down_get_selected (drop);

  (void) spec;
  if (self->filling || !self->answer || at + 1 >= self->answer->risk->ways->len)
    return;
  g_free (self->other_name);
  self->other_name = g_strdup (job_risk_way (self->answer->risk, at + 1)->name);
  show_told (self);
}

/* ---- the widget ---- */

static void
tally_risk_page_map (GtkWidget *widget)
{
  TallyRiskPage *self = TALLY_RISK_PAGE (widget);

  GTK_WIDGET_CLASS (tally_risk_page_parent_class)->map (widget);
  if (self->stale)
    queue (self);
}

static void
tally_risk_page_dispose (GObject *object)
{
  TallyRiskPage *self = TALLY_RISK_PAGE (object);

  forget_work (self);
  g_clear_handle_id (&self->tick, g_source_remove);
  g_clear_handle_id (&self->settle, g_source_remove);
  g_clear_pointer (&self->scroll, gtk_widget_unparent);
  g_clear_pointer (&self->answer, risk_answer_free);
  g_clear_pointer (&self->methods, g_array_unref);
  g_clear_pointer (&self->baseline_key, g_free);
  g_clear_pointer (&self->other_name, g_free);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_risk_page_parent_class)->dispose (object);
}

static void
tally_risk_page_class_init (TallyRiskPageClass *klass)
{
  GTK_WIDGET_CLASS (klass)->map = tally_risk_page_map;
  G_OBJECT_CLASS (klass)->dispose = tally_risk_page_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

/* What the figures rest on, or how far a run is. */
static GtkWidget *
state_new (TallyRiskPage *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12), *stop = gtk_button_new_with_mnemonic (_ ("_Stop"));

  self->about = GTK_LABEL (tally_words_new (NULL, "dim-label"));
  gtk_widget_set_hexpand (GTK_WIDGET (self->about), TRUE);
  self->running = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  self->bar = gtk_progress_bar_new ();
  gtk_widget_set_valign (self->bar, GTK_ALIGN_CENTER);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->bar), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Trials drawn"), -1);
  g_signal_connect (stop, "clicked", G_CALLBACK (cancel_cb), self);
  gtk_box_append (GTK_BOX (self->running), self->bar);
  gtk_box_append (GTK_BOX (self->running), stop);
  self->again = gtk_button_new_with_mnemonic (_ ("_Draw again"));
  g_signal_connect (self->again, "clicked", G_CALLBACK (again_cb), self);
  gtk_widget_add_css_class (box, "risk-state");
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->about));
  gtk_box_append (GTK_BOX (box), self->running);
  gtk_box_append (GTK_BOX (box), self->again);
  return box;
}

static GtkDropDown *
drop_new (GtkWidget *box, const char *caption, const char *name)
{
  GtkWidget *label = gtk_label_new_with_mnemonic (caption), *drop = gtk_drop_down_new (NULL, NULL);

  gtk_label_set_mnemonic_widget (GTK_LABEL (label), drop);
  gtk_accessible_update_property (GTK_ACCESSIBLE (drop), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_box_append (GTK_BOX (box), label);
  gtk_box_append (GTK_BOX (box), drop);
  return GTK_DROP_DOWN (drop);
}

static GtkWidget *
bar_new (TallyRiskPage *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  self->other = drop_new (box, _ ("Does _this pay"), _ ("Method that is told about"));
  self->baseline = drop_new (box, _ ("against the _baseline"), _ ("Baseline"));
  g_signal_connect (self->other, "notify::selected", G_CALLBACK (other_cb), self);
  g_signal_connect (self->baseline, "notify::selected", G_CALLBACK (baseline_cb), self);
  return box;
}

static GtkWidget *
answers_new (TallyRiskPage *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 16);

  self->table = TALLY_FIGURE_GRID (tally_figure_grid_new (_ ("Risk by method")));
  self->curve = TALLY_CHART_AREA (tally_chart_area_new (_ ("How many of the trials cost no more")));
  self->gain = TALLY_CHART_AREA (tally_chart_area_new (NULL));
  self->cost = TALLY_CHART_AREA (tally_chart_area_new (NULL));
  self->notes = GTK_LABEL (tally_words_new (NULL, "dim-label"));
  gtk_label_set_selectable (self->notes, FALSE);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->table));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->curve));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->gain));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->cost));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->notes));
  return box;
}

static void
tally_risk_page_init (TallyRiskPage *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  self->stale = TRUE;
  self->conclusion = GTK_LABEL (tally_words_new (NULL, "conclusion"));
  self->answers = answers_new (self);
  gtk_widget_set_visible (self->answers, FALSE);
  gtk_widget_add_css_class (box, "methods-view");
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->conclusion));
  gtk_box_append (GTK_BOX (box), state_new (self));
  gtk_box_append (GTK_BOX (box), bar_new (self));
  gtk_box_append (GTK_BOX (box), self->answers);
  self->scroll = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroll), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroll), box);
  gtk_widget_set_parent (self->scroll, GTK_WIDGET (self));
  show_running (self, FALSE, NULL, FALSE);
}

GtkWidget *
tally_risk_page_new (TallySession *session)
{
  TallyRiskPage *self = g_object_new (TALLY_TYPE_RISK_PAGE, NULL);
  GtkWidget *expander = gtk_expander_new_with_mnemonic (_ ("_Choices: spread, trials, confidence, common factors"));
  GtkWidget *box = gtk_widget_get_parent (self->answers);

  self->session = g_object_ref (session);
  gtk_accessible_update_property (GTK_ACCESSIBLE (expander), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Choices: spread, trials, confidence, common factors"), -1);
  gtk_expander_set_child (GTK_EXPANDER (expander), tally_risk_choices_new (session));
  gtk_box_insert_child_after (GTK_BOX (box), expander, gtk_widget_get_prev_sibling (self->answers));
  g_signal_connect_object (session, "changed", G_CALLBACK (changed_cb), self, 0);
  g_signal_connect_object (session, "job", G_CALLBACK (job_cb), self, 0);
  return GTK_WIDGET (self);
}
