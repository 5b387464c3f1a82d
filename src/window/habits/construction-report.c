/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/habits/habits.h"

#include "base/measure.h"
#include "cost/rests.h"
#include "job/construction.h"
#include "window/catalogue/catalogue-window.h"
#include "window/habits/sheet-page.h"
#include "window/words.h"

#include <glib/gi18n.h>
#include <string.h>

/* The report is made in steps between frames, so that a large job stops nothing; closing the window or an edit ends it. */

#define RUNS_A_STEP 300
#define SAY_FROM 4000     /* runs: below it is done before one could read how far it is */
#define MOST_LISTED 300   /* runs without an answer; the text has all */
#define PAUSE_MS 300      /* after an edit */

typedef struct
{
  TallySession *session;
  GtkWindow *window, *parent; /* parent: weak */
  GtkLabel *conclusion;
  GtkWidget *page, *copy;
  JobConstruction *making, *report; /* (nullable) */
  guint idle, wait;
} Report;

static void
gone (gpointer data, GObject *where)
{
  Report *r = data;

  (void) where;
  g_signal_handlers_disconnect_by_data (r->session, r);
  g_clear_handle_id (&r->idle, g_source_remove);
  g_clear_handle_id (&r->wait, g_source_remove);
  g_clear_pointer (&r->making, job_construction_free);
  g_clear_pointer (&r->report, job_construction_free);
  g_clear_weak_pointer (&r->parent);
  g_object_unref (r->session);
  g_free (r);
}

/* ---- parts ---- */

static void
add_heading (Report *r, const char *text)
{
  gtk_box_append (GTK_BOX (r->page), tally_words_in_cell_new (text, "report-heading"));
}

static void
activated_cb (GtkListBox *list, GtkListBoxRow *row, Report *r)
{
  const gint64 *id = g_object_get_data (G_OBJECT (row), "run");

  (void) list;
  if (!id || !r->parent)
    return;
  session_set_selection (r->session, id, 1);
  gtk_window_present (r->parent);
  gtk_widget_activate_action (GTK_WIDGET (r->parent), "runs.show-run", "x", *id);
}

static void
add_unanswered (Report *r, TallyJob *job, const JobConstruction *c)
{
  GtkWidget *list = gtk_list_box_new ();
  guint listed = MIN (c->unanswered->len, MOST_LISTED);

  add_heading (r, _ ("Not built: no table answered. Activate a line to go to the run."));
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (list), GTK_SELECTION_NONE);
  gtk_widget_add_css_class (list, "report-open");
  gtk_accessible_update_property (GTK_ACCESSIBLE (list), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Runs that are not built"), -1);
  g_signal_connect (list, "row-activated", G_CALLBACK (activated_cb), r);
  for (guint i = 0; i < listed; i++)
    {
      const JobUnanswered *u = g_ptr_array_index (c->unanswered, i);
      g_autofree char *name = job_construction_run (job, u->run);
      g_autofree char *why = *u->remedy ? g_strdup_printf (_ ("%s: %s"), u->what, u->remedy) : g_strdup (u->what);
      g_autofree char *spoken = g_strdup_printf ("%s, %s", name, why);
      GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12), *row = gtk_list_box_row_new (), *title = tally_words_in_cell_new (name, "heading");
      GtkWidget *reason = tally_words_in_cell_new (why, NULL);
      gtk_label_set_width_chars (GTK_LABEL (title), 24);
      gtk_label_set_max_width_chars (GTK_LABEL (title), 24);
      gtk_widget_set_hexpand (reason, TRUE);
      gtk_box_append (GTK_BOX (line), title);
      gtk_box_append (GTK_BOX (line), reason);
      gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), line);
      gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
      g_object_set_data_full (G_OBJECT (row), "run", g_memdup2 (&u->run, sizeof u->run), g_free);
      gtk_list_box_append (GTK_LIST_BOX (list), row);
    }
  gtk_box_append (GTK_BOX (r->page), list);
  if (listed < c->unanswered->len)
    {
      g_autofree char *more = g_strdup_printf (_ ("and %u more; the copied text has all of them"), c->unanswered->len - listed);
      gtk_box_append (GTK_BOX (r->page), tally_words_in_cell_new (more, "dim-label"));
    }
}

static const char *
table_title (const char *key)
{
  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    if (strcmp (catalogue_sheet_key ((CatalogueSheet) i), key) == 0)
      return catalogue_sheet_title ((CatalogueSheet) i);
  return key;
}

enum { COL_ROW, COL_STATUS, COL_RUNS, COL_NET, COL_SOURCE };

static void
put_figure (GtkGrid *grid, int column, int row, const char *text, const char *css)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_label_set_yalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "figure");
  if (css)
    gtk_widget_add_css_class (label, css);
  gtk_grid_attach (grid, label, column, row, 1, 1);
}

static void
put_words (GtkGrid *grid, int column, int row, const char *text, int chars, const char *css)
{
  GtkWidget *label = tally_words_in_cell_new (text, css);

  gtk_widget_set_hexpand (label, TRUE);
  gtk_label_set_width_chars (GTK_LABEL (label), chars / 2);
  gtk_label_set_max_width_chars (GTK_LABEL (label), chars);
  gtk_grid_attach (grid, label, column, row, 1, 1);
}

static void
add_rest (GtkGrid *grid, int row, const JobRest *rest, gboolean metric)
{
  g_autofree char *runs = session_figure (rest->runs, 0, FALSE);
  g_autofree char *net = session_figure (metric ? (double) rest->net_mg / 1e6 : measure_lb (rest->net_mg), 1, FALSE);
  GtkWidget *mark = gtk_label_new (duct_status_key (rest->status));

  put_words (grid, COL_ROW, row, rest->words, 70, NULL);
  gtk_widget_add_css_class (mark, "status-mark");
  if (cost_status_weak (rest->status))
    gtk_widget_add_css_class (mark, "attention");
  gtk_widget_set_halign (mark, GTK_ALIGN_START);
  gtk_widget_set_valign (mark, GTK_ALIGN_START);
  gtk_grid_attach (grid, mark, COL_STATUS, row, 1, 1);
  put_figure (grid, COL_RUNS, row, runs, NULL);
  put_figure (grid, COL_NET, row, net, NULL);
  put_words (grid, COL_SOURCE, row, rest->source, 60, "dim-label");
}

static void
add_rests (Report *r, TallyJob *job, const JobConstruction *c)
{
  GtkGrid *grid = GTK_GRID (gtk_grid_new ());
  gboolean metric = job_names (job)->metric;
  const char *table = NULL;
  int row = 0;

  add_heading (r, _ ("What the construction rests on, table by table"));
  gtk_grid_set_column_spacing (grid, 18);
  gtk_grid_set_row_spacing (grid, 4);
  put_words (grid, COL_ROW, row, _ ("Row"), 70, "report-head");
  gtk_grid_attach (grid, tally_words_in_cell_new (_ ("Status"), "report-head"), COL_STATUS, row, 1, 1);
  put_figure (grid, COL_RUNS, row, _ ("Runs"), "report-head");
  put_figure (grid, COL_NET, row, metric ? _ ("Net, kg") : _ ("Net, lb"), "report-head");
  put_words (grid, COL_SOURCE, row++, _ ("Source"), 60, "report-head");
  for (guint i = 0; i < c->rests->len; i++)
    {
      const JobRest *rest = g_ptr_array_index (c->rests, i);
      if (g_strcmp0 (table, rest->table) != 0)
        gtk_grid_attach (grid, tally_words_in_cell_new (table_title (rest->table), "report-table"), COL_ROW, row++, 5, 1);
      table = rest->table;
      add_rest (grid, row++, rest, metric);
    }
  gtk_box_append (GTK_BOX (r->page), GTK_WIDGET (grid));
  gtk_box_append (GTK_BOX (r->page), tally_words_in_cell_new (_ ("Weights leave out how often an area is built. A run rests on rows of several tables: the weights "
                                               "of different tables do not add up."),
                                            "dim-label"));
}

static void
add_cautions (Report *r, const JobConstruction *c)
{
  add_heading (r, _ ("Cautions"));
  for (guint i = 0; i < c->cautions->len; i++)
    {
      const JobCaution *caution = &g_array_index (c->cautions, JobCaution, i);
      g_autofree char *text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u run: %s", "%u runs: %s", caution->runs), caution->runs,
                                               duct_note_words (caution->note));
      gtk_box_append (GTK_BOX (r->page), tally_words_in_cell_new (text, NULL));
    }
  gtk_box_append (GTK_BOX (r->page), tally_words_in_cell_new (job_construction_caution (), "report-caution"));
}

static void
fill (Report *r)
{
  TallyJob *job = session_job (r->session);
  g_autofree char *text = job_construction_words (r->report);
  GtkWidget *child;

  gtk_label_set_label (r->conclusion, text);
  while ((child = gtk_widget_get_first_child (r->page)))
    gtk_box_remove (GTK_BOX (r->page), child);
  if (r->report->unanswered->len > 0)
    add_unanswered (r, job, r->report);
  if (r->report->rests->len > 0)
    add_rests (r, job, r->report);
  add_cautions (r, r->report);
  gtk_widget_set_sensitive (r->copy, TRUE);
}

/* ---- making it ---- */

static gboolean
step_cb (gpointer data)
{
  Report *r = data;
  TallyJob *job = session_job (r->session);

  if (job_construction_step (r->making, job, RUNS_A_STEP))
    {
      if (job_n (job, JOB_RUN) >= SAY_FROM)
        {
          g_autofree char *at = session_figure (r->making->next, 0, FALSE), *of = session_figure (job_n (job, JOB_RUN), 0, FALSE);
          g_autofree char *text = g_strdup_printf (_ ("Looking at run %s of %s …"), at, of);
          gtk_label_set_label (r->conclusion, text);
        }
      return G_SOURCE_CONTINUE;
    }
  r->idle = 0;
  g_clear_pointer (&r->report, job_construction_free);
  r->report = g_steal_pointer (&r->making);
  fill (r);
  return G_SOURCE_REMOVE;
}

static gboolean
start_cb (gpointer data)
{
  Report *r = data;

  r->wait = 0;
  r->making = job_construction_begin ();
  r->idle = g_idle_add (step_cb, r);
  return G_SOURCE_REMOVE;
}

/* What is half made is of the job before. */
static void
stop (Report *r)
{
  g_clear_handle_id (&r->idle, g_source_remove);
  g_clear_handle_id (&r->wait, g_source_remove);
  g_clear_pointer (&r->making, job_construction_free);
}

static void
changed_cb (TallySession *session, gpointer edit, Report *r)
{
  (void) edit;
  stop (r);
  if (session_job (session))
    r->wait = g_timeout_add (PAUSE_MS, start_cb, r);
}

static void
job_cb (TallySession *session, Report *r)
{
  stop (r);
  if (session_job (session))
    start_cb (r);
  else
    gtk_window_close (r->window);
}

static void
copy_cb (GtkButton *button, Report *r)
{
  g_autofree char *text = r->report && session_job (r->session) ? job_construction_text (session_job (r->session), r->report) : NULL;

  if (!text)
    return;
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (button)), text);
  session_say (r->session, SESSION_SAID, _ ("The construction report is copied as text"));
}

/* ---- the window ---- */

static GtkWidget *
build (Report *r)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *scrolled = gtk_scrolled_window_new ();

  r->conclusion = GTK_LABEL (tally_conclusion_new (_ ("Looking at the runs …")));
  gtk_widget_set_hexpand (GTK_WIDGET (r->conclusion), TRUE);
  r->copy = gtk_button_new_with_label (_ ("Copy as text"));
  gtk_widget_set_valign (r->copy, GTK_ALIGN_START);
  gtk_widget_set_sensitive (r->copy, FALSE);
  g_signal_connect (r->copy, "clicked", G_CALLBACK (copy_cb), r);
  gtk_widget_add_css_class (head, "report-top");
  gtk_box_append (GTK_BOX (head), GTK_WIDGET (r->conclusion));
  gtk_box_append (GTK_BOX (head), r->copy);
  r->page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_add_css_class (r->page, "report-page");
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), r->page);
  gtk_widget_set_vexpand (scrolled, TRUE);
  gtk_box_append (GTK_BOX (box), head);
  gtk_box_append (GTK_BOX (box), scrolled);
  return box;
}

void
tally_construction_present (TallySession *session, GtkWindow *parent)
{
  Report *r;

  if (!session_job (session))
    return;
  r = g_new0 (Report, 1);
  r->session = g_object_ref (session);
  g_set_weak_pointer (&r->parent, parent);
  r->window = tally_side_window_new (parent, session, _ ("Construction report"), 1200, 720);
  tally_side_window_set (r->window, NULL, tally_notice_new (session, build (r)));
  g_signal_connect (session, "changed", G_CALLBACK (changed_cb), r);
  g_signal_connect (session, "job", G_CALLBACK (job_cb), r);
  g_object_weak_ref (G_OBJECT (r->window), gone, r);
  start_cb (r);
  gtk_window_present (r->window);
}
