/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The decision on one page: the memo as it prints, with the choice of the two methods. The trials run in a thread. */
#include "config.h"

#include "window/memo/memo-page.h"

#include "window/memo/memo-out.h"
#include "window/memo/memo-sheet.h"
#include "window/walk.h"
#include "window/words.h"

#include <glib/gi18n.h>
#include <string.h>

#define SETTLE_MS 200 /* several edits in a row are followed once */

#define TALLY_TYPE_MEMO_PAGE (tally_memo_page_get_type ())
G_DECLARE_FINAL_TYPE (TallyMemoPage, tally_memo_page, TALLY, MEMO_PAGE, GtkWidget)

struct _TallyMemoPage
{
  GtkWidget parent_instance;

  GtkWidget *scroll, *bar, *busy, *save, *copy, *print; /* borrowed, but for scroll */
  GtkLabel *conclusion, *about;
  GtkDropDown *baseline, *method, *paper;
  TallyMemoSheet *sheet;

  TallySession *session;
  Memo *memo;          /* (nullable) */
  GArray *methods;     /* int: of the drop-downs */
  char *baseline_key, *method_key; /* (nullable): as chosen by the user */
  GCancellable *running; /* (nullable): of the trials that are under way */
  gboolean stale, filling;
  guint settle;
};

G_DEFINE_FINAL_TYPE (TallyMemoPage, tally_memo_page, GTK_TYPE_WIDGET)

static MemoPaper
paper_of (TallyMemoPage *self)
{
  return gtk_drop_down_get_selected (self->paper) == 1 ? MEMO_LETTER : MEMO_A4;
}

/* ---- the answer ---- */

static void
forget (TallyMemoPage *self)
{
  tally_memo_sheet_set (self->sheet, NULL, paper_of (self));
  g_clear_pointer (&self->memo, memo_free);
}

static void
sensitive (TallyMemoPage *self, gboolean there)
{
  gtk_widget_set_sensitive (self->save, there);
  gtk_widget_set_sensitive (self->copy, there);
  gtk_widget_set_sensitive (self->print, there);
}

/* What stands below is from before the last change, or is not any more: the words above the page say so, and nothing leaves it. */
static void
outdate (TallyMemoPage *self, gboolean old)
{
  gboolean shown = self->memo != NULL;

  gtk_widget_set_opacity (GTK_WIDGET (self->sheet), old && shown ? 0.45 : 1);
  /* In the place of what the page rests on, so that nothing moves. */
  if (old && shown)
    gtk_label_set_label (self->about, _ ("The page below is from before the last change: drawing the trials anew…"));
  gtk_widget_set_visible (self->busy, old && !shown);
  sensitive (self, !old && shown);
}

static void
show_memo (TallyMemoPage *self, Memo *memo)
{
  const Catalogue *catalogue = job_basis (session_job (self->session))->catalogue;

  forget (self);
  self->memo = memo;
  gtk_label_set_label (self->conclusion, memo->answer);
  gtk_label_set_label (self->about, memo->foot);
  tally_memo_sheet_set (self->sheet, memo, paper_of (self));
  tally_walk_mark (GTK_WIDGET (self), "cost", catalogue_method (catalogue, memo->method[1])->key,
                   catalogue_method (catalogue, memo->method[0])->key, NULL, "job");
  outdate (self, FALSE);
}

static void
say (TallyMemoPage *self, const char *words)
{
  forget (self);
  gtk_label_set_label (self->conclusion, words);
  gtk_label_set_label (self->about, "");
  tally_walk_mark (GTK_WIDGET (self), NULL, NULL, NULL, NULL, NULL);
  outdate (self, FALSE);
}

/* ---- trials in a thread ---- */

typedef struct
{
  JobRisk *risk;
  GCancellable *cancel;
  char *baseline, *method, *date;
  gint64 revision;
} Work;

static void
work_free (gpointer data)
{
  Work *w = data;

  job_risk_free (w->risk);
  g_object_unref (w->cancel);
  g_free (w->baseline);
  g_free (w->method);
  g_free (w->date);
  g_free (w);
}

static gboolean
go_on (gpointer data, double share)
{
  (void) share;
  return !g_cancellable_is_cancelled (data);
}

static void
in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Work *w = data;

  (void) source;
  (void) cancellable;
  g_task_return_pointer (task, job_risk_run (w->risk, go_on, w->cancel, NULL), (GDestroyNotify) risk_result_free);
}

static void
done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  TallyMemoPage *self = TALLY_MEMO_PAGE (source);
  Work *w = g_task_get_task_data (G_TASK (result));
  g_autoptr (RiskResult) answer = g_task_propagate_pointer (G_TASK (result), NULL);
  MemoAsk ask = { w->baseline, w->method, w->date, w->revision };
  Fault *fault = NULL;
  Memo *memo;

  (void) data;
  if (g_cancellable_is_cancelled (w->cancel) || !self->session || !session_job (self->session))
    return;
  g_clear_object (&self->running);
  memo = memo_new (session_job (self->session), &ask, answer ? w->risk : NULL, answer, &fault);
  if (memo)
    show_memo (self, memo);
  else
    {
      g_autofree char *words = fault_words (fault, NULL);
      say (self, words);
      fault_free (fault);
    }
}

static void
stop (TallyMemoPage *self)
{
  if (self->running)
    g_cancellable_cancel (self->running);
  g_clear_object (&self->running);
}

static gint64
revision_of (TallySession *session)
{
  g_autoptr (GPtrArray) jobs = session_store (session) ? store_jobs (session_store (session), NULL) : NULL;

  for (guint i = 0; jobs && i < jobs->len; i++)
    {
      const StoreJobInfo *info = g_ptr_array_index (jobs, i);
      if (info->id == session_job_id (session))
        return info->revision;
    }
  return 0;
}

/* ---- what is asked ---- */

/* The methods in the drop-downs; they are filled anew when there are others. */
static void
fill_methods (TallyMemoPage *self, TallyJob *job, int baseline, int method)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  g_autoptr (GArray) listed = job_methods_listed (job, baseline);
  GtkDropDown *drop[] = { self->baseline, self->method };
  int chosen[] = { baseline, method };

  if (method >= 0)
    {
      gboolean there = FALSE;
      for (guint i = 0; i < listed->len; i++)
        there = there || g_array_index (listed, int, i) == method;
      if (!there)
        g_array_append_val (listed, method);
    }
  self->filling = TRUE;
  for (int k = 0; k < 2; k++)
    {
      g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
      guint at = GTK_INVALID_LIST_POSITION;
      for (guint i = 0; i < listed->len; i++)
        {
          const CostMethod *m = catalogue_method (catalogue, g_array_index (listed, int, i));
          gtk_string_list_append (names, *m->name ? m->name : m->key);
          if (g_array_index (listed, int, i) == chosen[k])
            at = i;
        }
      gtk_drop_down_set_model (drop[k], G_LIST_MODEL (names));
      gtk_drop_down_set_selected (drop[k], at);
    }
  g_clear_pointer (&self->methods, g_array_unref);
  self->methods = g_steal_pointer (&listed);
  self->filling = FALSE;
}

static void
refresh (TallyMemoPage *self)
{
  TallyJob *job = session_job (self->session);
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  g_autofree char *date = g_date_time_format (now, "%F");
  MemoAsk ask = { self->baseline_key, self->method_key, date, 0 };
  Fault *fault = NULL;
  int baseline, method;
  JobRisk *risk = NULL;

  self->stale = FALSE;
  stop (self);
  gtk_widget_set_sensitive (self->bar, job != NULL);
  if (!job)
    {
      say (self, _ ("No job is open."));
      return;
    }
  if (job_n (job, JOB_RUN) == 0)
    {
      say (self, _ ("This job has no runs yet."));
      return;
    }
  /* What was chosen may be gone with another job or revision. */
  if (!memo_methods (job, &ask, &baseline, &method, &fault))
    {
      g_clear_pointer (&fault, fault_free);
      g_clear_pointer (&self->method_key, g_free);
      ask.method = NULL;
      if (!memo_methods (job, &ask, &baseline, &method, NULL))
        {
          g_clear_pointer (&self->baseline_key, g_free);
          ask.baseline = NULL;
          memo_methods (job, &ask, &baseline, &method, &fault);
        }
    }
  if (!fault)
    {
      fill_methods (self, job, baseline, method);
      risk = memo_risk (job, &ask, &fault);
    }
  if (!risk)
    {
      g_autofree char *words = fault_words (fault, NULL);
      say (self, words);
      fault_free (fault);
      return;
    }
  const Catalogue *catalogue = job_basis (job)->catalogue;
  g_autoptr (GTask) task = g_task_new (self, NULL, done_cb, NULL);
  Work *w = g_new0 (Work, 1);
  self->running = g_cancellable_new ();
  *w = (Work) { risk, g_object_ref (self->running), g_strdup (catalogue_method (catalogue, baseline)->key),
                g_strdup (catalogue_method (catalogue, method)->key), g_steal_pointer (&date), revision_of (self->session) };
  outdate (self, TRUE);
  g_task_set_task_data (task, w, work_free);
  g_task_run_in_thread (task, in_thread);
}

static gboolean
settle_cb (gpointer data)
{
  TallyMemoPage *self = data;

  self->settle = 0;
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    refresh (self);
  return G_SOURCE_REMOVE;
}

static void
make_stale (TallyMemoPage *self)
{
  self->stale = TRUE;
  if (self->memo)
    outdate (self, TRUE);
  if (gtk_widget_get_mapped (GTK_WIDGET (self)) && self->settle == 0)
    self->settle = g_timeout_add (SETTLE_MS, settle_cb, self);
}

static void
job_cb (TallySession *session, TallyMemoPage *self)
{
  (void) session;
  g_clear_pointer (&self->baseline_key, g_free);
  g_clear_pointer (&self->method_key, g_free);
  stop (self);
  say (self, "");
  make_stale (self);
}

static void
changed_cb (TallySession *session, gpointer edit, TallyMemoPage *self)
{
  (void) session;
  (void) edit;
  make_stale (self);
}

static void
map_cb (GtkWidget *widget, gpointer data)
{
  (void) data;
  if (TALLY_MEMO_PAGE (widget)->stale)
    refresh (TALLY_MEMO_PAGE (widget));
}

static void
chosen_cb (GtkDropDown *drop, GParamSpec *pspec, TallyMemoPage *self)
{
  TallyJob *job = session_job (self->session);
  guint at = gtk_drop_down_get_selected (drop);
  char **key = drop == self->baseline ? &self->baseline_key : &self->method_key;

  (void) pspec;
  if (self->filling || !job || !self->methods || at >= self->methods->len)
    return;
  g_free (*key);
  *key = g_strdup (catalogue_method (job_basis (job)->catalogue, g_array_index (self->methods, int, at))->key);
  /* The two change places rather than being one. */
  if (self->memo && g_strcmp0 (self->baseline_key, self->method_key) == 0)
    {
      char **other = drop == self->baseline ? &self->method_key : &self->baseline_key;
      int was = self->memo->method[drop == self->baseline ? 0 : 1];
      g_free (*other);
      *other = g_strdup (catalogue_method (job_basis (job)->catalogue, was)->key);
    }
  refresh (self);
}

static void
paper_cb (GtkDropDown *drop, GParamSpec *pspec, TallyMemoPage *self)
{
  (void) drop;
  (void) pspec;
  tally_memo_sheet_set (self->sheet, self->memo, paper_of (self));
}

/* ---- out ---- */

static void
save_cb (GtkButton *button, TallyMemoPage *self)
{
  (void) button;
  tally_memo_save (self->session, GTK_WIDGET (self), (const Memo *const *) &self->memo, paper_of (self));
}

static void
print_cb (GtkButton *button, TallyMemoPage *self)
{
  (void) button;
  tally_memo_print (self->session, GTK_WIDGET (self), (const Memo *const *) &self->memo, paper_of (self));
}

static void
copy_cb (GtkButton *button, TallyMemoPage *self)
{
  g_autofree char *text = self->memo ? memo_text (self->memo) : NULL;

  (void) button;
  if (!text)
    return;
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (self)), text);
  session_say (self->session, SESSION_SAID, "%s", _ ("The memo is copied as text"));
}

/* ---- the page ---- */

static void
tally_memo_page_dispose (GObject *object)
{
  TallyMemoPage *self = TALLY_MEMO_PAGE (object);

  g_clear_handle_id (&self->settle, g_source_remove);
  if (self->running)
    g_cancellable_cancel (self->running);
  g_clear_object (&self->running);
  g_clear_pointer (&self->scroll, gtk_widget_unparent);
  g_clear_pointer (&self->memo, memo_free);
  g_clear_pointer (&self->methods, g_array_unref);
  g_clear_pointer (&self->baseline_key, g_free);
  g_clear_pointer (&self->method_key, g_free);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_memo_page_parent_class)->dispose (object);
}

static void
tally_memo_page_class_init (TallyMemoPageClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tally_memo_page_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static GtkLabel *
add_label (GtkWidget *box, const char *class)
{
  GtkWidget *label = tally_words_new (NULL, class);

  gtk_box_append (GTK_BOX (box), label);
  return GTK_LABEL (label);
}

/* Words above a control, which they name. */
static void
add_field (GtkWidget *row, const char *words, GtkWidget *control, int width)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2), *label = gtk_label_new (words);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "caption");
  gtk_widget_set_size_request (control, width, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (control), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  gtk_box_append (GTK_BOX (box), label);
  gtk_box_append (GTK_BOX (box), control);
  gtk_box_append (GTK_BOX (row), box);
}

static GtkWidget *
add_button (GtkWidget *row, const char *words, GCallback callback, TallyMemoPage *self)
{
  GtkWidget *button = gtk_button_new_with_label (words);

  gtk_widget_set_valign (button, GTK_ALIGN_END);
  g_signal_connect (button, "clicked", callback, self);
  gtk_box_append (GTK_BOX (row), button);
  return button;
}

/* A drop-down whose button stays narrow whatever the names are; its list shows them whole. */
static GtkDropDown *
method_drop (void)
{
  static const char row[] = "<interface><template class=\"GtkListItem\"><property name=\"child\"><object class=\"GtkLabel\">"
                            "%s<property name=\"xalign\">0</property><binding name=\"label\">"
                            "<lookup name=\"string\" type=\"GtkStringObject\"><lookup name=\"item\">GtkListItem</lookup></lookup>"
                            "</binding></object></property></template></interface>";
  static const char *const more[] = { "<property name=\"ellipsize\">end</property><property name=\"width-chars\">18</property>"
                                      "<property name=\"max-width-chars\">18</property>",
                                      "" };
  GtkWidget *drop = gtk_drop_down_new (NULL, NULL);

  for (int i = 0; i < 2; i++)
    {
      g_auto (GStrv) parts = g_strsplit (row, "%s", 2);
      g_autofree char *text = g_strconcat (parts[0], more[i], parts[1], NULL);
      g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
      g_autoptr (GtkListItemFactory) factory = gtk_builder_list_item_factory_new_from_bytes (NULL, bytes);
      if (i == 0)
        gtk_drop_down_set_factory (GTK_DROP_DOWN (drop), factory);
      else
        gtk_drop_down_set_list_factory (GTK_DROP_DOWN (drop), factory);
    }
  return GTK_DROP_DOWN (drop);
}

static GtkWidget *
make_bar (TallyMemoPage *self)
{
  static const char *const papers[] = { "A4", N_ ("Letter"), NULL };
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *room = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  self->baseline = method_drop ();
  self->method = method_drop ();
  self->paper = GTK_DROP_DOWN (gtk_drop_down_new_from_strings ((const char *const[]){ papers[0], _ (papers[1]), NULL }));
  gtk_drop_down_set_selected (self->paper, memo_paper () == MEMO_LETTER ? 1 : 0);
  add_field (row, _ ("Baseline"), GTK_WIDGET (self->baseline), -1);
  add_field (row, _ ("Held against it"), GTK_WIDGET (self->method), -1);
  add_field (row, _ ("Paper"), GTK_WIDGET (self->paper), 90);
  gtk_widget_set_hexpand (room, TRUE);
  gtk_box_append (GTK_BOX (row), room);
  self->save = add_button (row, _ ("Save as PDF…"), G_CALLBACK (save_cb), self);
  self->copy = add_button (row, _ ("Copy as text"), G_CALLBACK (copy_cb), self);
  self->print = add_button (row, _ ("Print…"), G_CALLBACK (print_cb), self);
  g_signal_connect (self->baseline, "notify::selected", G_CALLBACK (chosen_cb), self);
  g_signal_connect (self->method, "notify::selected", G_CALLBACK (chosen_cb), self);
  g_signal_connect (self->paper, "notify::selected", G_CALLBACK (paper_cb), self);
  return row;
}

static void
tally_memo_page_init (TallyMemoPage *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  self->stale = TRUE;
  gtk_widget_add_css_class (box, "memo-page");
  self->conclusion = add_label (box, "conclusion");
  self->about = add_label (box, "dim-label");
  self->bar = make_bar (self);
  gtk_box_append (GTK_BOX (box), self->bar);
  self->busy = gtk_label_new (_ ("Drawing the trials…"));
  gtk_label_set_xalign (GTK_LABEL (self->busy), 0);
  gtk_widget_set_visible (self->busy, FALSE);
  self->sheet = TALLY_MEMO_SHEET (tally_memo_sheet_new ());
  gtk_box_append (GTK_BOX (box), self->busy);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->sheet));
  self->scroll = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroll), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroll), box);
  gtk_widget_set_parent (self->scroll, GTK_WIDGET (self));
  g_signal_connect (self, "map", G_CALLBACK (map_cb), NULL);
}

GtkWidget *
tally_memo_page_new (TallySession *session)
{
  TallyMemoPage *self = g_object_new (TALLY_TYPE_MEMO_PAGE, NULL);

  self->session = g_object_ref (session);
  sensitive (self, FALSE);
  g_signal_connect_object (session, "job", G_CALLBACK (job_cb), self, 0);
  g_signal_connect_object (session, "changed", G_CALLBACK (changed_cb), self, 0);
  return GTK_WIDGET (self);
}
