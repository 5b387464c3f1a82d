/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/detail/detail.h"

#include "window/detail/detail-private.h"

#include <glib/gi18n.h>

/* Explains the selected run, what several selected runs come to, or a total that was pressed; without any, the price. Rebuilt once a frame at most, however many edits came. */

#define TALLY_TYPE_DETAIL (tally_detail_get_type ())
G_DECLARE_FINAL_TYPE (TallyDetail, tally_detail, TALLY, DETAIL, GtkWidget)

struct _TallyDetail
{
  GtkWidget parent_instance;

  GtkWidget *scrolled;
  GtkWidget *above, *overrides_box, *below; /* borrowed: parts of what scrolls */
  DetailOverrides *overrides;
  TallySession *session;
  GHashTable *open;        /* lines of the walk that are expanded */
  gboolean lines_open, choices_open;
  gint64 shown;            /* run, 0: a total */
  char *asked;             /* (nullable): line of the total that was asked about last */
  GtkWidget *goal;         /* (nullable): to scroll to; weak */
  guint tick, scroll;
};

G_DEFINE_FINAL_TYPE (TallyDetail, tally_detail, GTK_TYPE_WIDGET)

static void
empty (GtkWidget *box)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (box)))
    gtk_box_remove (GTK_BOX (box), child);
}

static const JobRecord *
selected_run (TallyDetail *self, TallyJob *job)
{
  const GArray *ids = session_selection (self->session);

  return job && ids->len > 0 ? job_find (job, JOB_RUN, g_array_index (ids, gint64, 0)) : NULL;
}

static void
show_run (TallyDetail *self, TallyJob *job, const JobRecord *run)
{
  DetailRun r = { .session = self->session, .job = job, .run = run };
  JobRunResult result;

  r.number = (guint) job_position (job, run->id) + 1;
  r.priced = job_compute (job, run, JOB_OWN_METHOD, &result);
  r.result = &result;
  detail_add_head (self->above, &r);
  detail_overrides_update (self->overrides, &r);
  detail_add_choices (self->below, &r, &self->choices_open);
  detail_add_covering (self->below, &r);
  detail_add_lots (self->below, &r);
  detail_add_joint (self->below, &r);
  detail_add_methods (self->below, &r);
  detail_add_lines (self->below, &r, &self->lines_open);
  job_run_result_clear (&result);
}

/* When the lines have their places. */
static gboolean
scroll_cb (gpointer data)
{
  TallyDetail *self = data;
  GtkAdjustment *adjustment = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scrolled));
  graphene_rect_t place;

  self->scroll = 0;
  if (self->goal && gtk_widget_compute_bounds (self->goal, gtk_widget_get_parent (self->above), &place))
    gtk_adjustment_set_value (adjustment, (double) place.origin.y - 60);
  return G_SOURCE_REMOVE;
}

static void
rebuild (TallyDetail *self)
{
  TallyJob *job = session_job (self->session);
  const char *asked = session_total (self->session);
  const GArray *ids = session_selection (self->session);
  gboolean several = job && !asked && ids->len > 1;
  const JobRecord *run = asked || several ? NULL : selected_run (self, job);
  gint64 shown = run ? run->id : 0;
  gboolean again = shown == self->shown && g_strcmp0 (asked, self->asked) == 0;
  GtkWidget *goal = NULL;

  empty (self->above);
  empty (self->below);
  if (run)
    show_run (self, job, run);
  else
    {
      detail_overrides_update (self->overrides, NULL);
      if (job && asked && detail_add_answer (self->above, self->session, asked, self->open))
        goal = NULL;
      else if (job)
        goal = detail_add_walk (self->above, self->session, several ? ids : NULL, again ? NULL : asked, self->open);
      else
        detail_words (self->above, "dim-label", "%s", _ ("No job is open."));
    }
  if (!again)
    gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scrolled)), 0);
  self->shown = shown;
  g_free (self->asked);
  self->asked = g_strdup (asked);
  g_set_weak_pointer (&self->goal, goal);
  if (goal && self->scroll == 0)
    self->scroll = g_timeout_add (60, scroll_cb, self);
}

static gboolean
tick_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  TallyDetail *self = TALLY_DETAIL (widget);

  (void) clock;
  (void) data;
  self->tick = 0;
  rebuild (self);
  return G_SOURCE_REMOVE;
}

/* A folded pane has no frames: it is made when it is shown. */
static void
queue (TallyDetail *self)
{
  if (self->tick == 0)
    self->tick = gtk_widget_add_tick_callback (GTK_WIDGET (self), tick_cb, NULL, NULL);
}

static void
changed_cb (TallySession *session, gpointer edit, TallyDetail *self)
{
  (void) session;
  (void) edit;
  queue (self);
}

static void
simple_cb (TallySession *session, TallyDetail *self)
{
  (void) session;
  queue (self);
}

static void
tally_detail_dispose (GObject *object)
{
  TallyDetail *self = TALLY_DETAIL (object);

  if (self->tick)
    gtk_widget_remove_tick_callback (GTK_WIDGET (self), self->tick);
  self->tick = 0;
  g_clear_handle_id (&self->scroll, g_source_remove);
  g_clear_weak_pointer (&self->goal);
  g_clear_pointer (&self->asked, g_free);
  g_clear_pointer (&self->scrolled, gtk_widget_unparent);
  g_clear_pointer (&self->overrides, detail_overrides_free);
  g_clear_pointer (&self->open, g_hash_table_unref);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_detail_parent_class)->dispose (object);
}

static void
tally_detail_class_init (TallyDetailClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tally_detail_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "detail");
}

static void
tally_detail_init (TallyDetail *self)
{
  GtkWidget *content = detail_box (0);

  self->open = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->scrolled = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_widget_set_size_request (self->scrolled, 300, -1);
  gtk_widget_add_css_class (content, "detail-content");
  self->above = detail_box (4);
  self->overrides_box = detail_box (4);
  self->below = detail_box (4);
  gtk_box_append (GTK_BOX (content), self->above);
  gtk_box_append (GTK_BOX (content), self->overrides_box);
  gtk_box_append (GTK_BOX (content), self->below);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scrolled), content);
  gtk_widget_set_parent (self->scrolled, GTK_WIDGET (self));
}

GtkWidget *
tally_detail_new (TallySession *session)
{
  TallyDetail *self = g_object_new (TALLY_TYPE_DETAIL, NULL);

  self->session = g_object_ref (session);
  self->overrides = detail_overrides_new (self->overrides_box, session);
  detail_overrides_update (self->overrides, NULL);
  g_signal_connect_object (session, "job", G_CALLBACK (simple_cb), self, 0);
  g_signal_connect_object (session, "selection", G_CALLBACK (simple_cb), self, 0);
  g_signal_connect_object (session, "scope", G_CALLBACK (simple_cb), self, 0);
  g_signal_connect_object (session, "changed", G_CALLBACK (changed_cb), self, 0);
  queue (self);
  return GTK_WIDGET (self);
}
