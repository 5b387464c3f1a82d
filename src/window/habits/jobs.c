/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/habits/habits.h"

#include "cost/retire.h"
#include "window/habits/habits-private.h"
#include "window/habits/sheet-page.h"
#include "window/settings.h"

#include <adwaita.h>
#include <glib/gi18n.h>

typedef struct
{
  TallySession *session;
  GtkWindow *window;
  GtkLabel *conclusion;
  GtkListBox *list, *recent;
  GtkWidget *recent_box, *name;
  GtkWidget *keep; /* (nullable): of the job whose deletion waits for a yes */
  gint64 doomed; /* job whose deletion waits for a yes */
} Jobs;

typedef struct
{
  Jobs *jobs;
  gint64 id;
  char *name;
} Row;

static void fill (Jobs *jobs);
static void focus (Jobs *jobs);

static void
row_free (gpointer data, GClosure *closure)
{
  Row *row = data;

  (void) closure;
  g_free (row->name);
  g_free (row);
}

static void
complain (Jobs *jobs, GError *error)
{
  session_say (jobs->session, SESSION_REFUSED, "%s", error->message);
}

/* ---- recent jobs: "office path\tid\tname", the last one first ---- */

#define MOST_RECENT 6

static void
remember (TallySession *session, const char *name)
{
  g_autofree char *entry = g_strdup_printf ("%s\t%" G_GINT64_FORMAT "\t%s", store_path (session_store (session)), session_job_id (session), name);
  g_autofree char *head = g_strdup_printf ("%s\t%" G_GINT64_FORMAT "\t", store_path (session_store (session)), session_job_id (session));
  g_autoptr (GPtrArray) kept = g_ptr_array_new_with_free_func (g_free);

  for (int i = 0; i < MOST_RECENT; i++)
    {
      g_autofree char *key = g_strdup_printf ("job%d", i);
      char *old = settings_get ("recent", key);
      if (old && !g_str_has_prefix (old, head))
        g_ptr_array_add (kept, old);
      else
        g_free (old);
    }
  g_ptr_array_insert (kept, 0, g_strdup (entry));
  for (guint i = 0; i < MOST_RECENT; i++)
    {
      g_autofree char *key = g_strdup_printf ("job%u", i);
      settings_set ("recent", key, i < kept->len ? g_ptr_array_index (kept, i) : NULL);
    }
}

void
habits_remember_job (TallySession *session)
{
  TallyJob *job = session_job (session);
  const char *name = job ? job_head (job)->text[HEAD_NAME] : NULL;

  if (session_store (session) && job)
    remember (session, name ? name : _ ("job without a name"));
}

static void
open_job (Jobs *jobs, gint64 id)
{
  g_autoptr (GError) error = NULL;

  if (!session_open_job (jobs->session, id, &error))
    {
      complain (jobs, error);
      return;
    }
  habits_remember_job (jobs->session);
  gtk_window_close (jobs->window);
}

static void
recent_cb (GtkButton *button, Jobs *jobs)
{
  const char *path = g_object_get_data (G_OBJECT (button), "path");
  gint64 id = g_ascii_strtoll (g_object_get_data (G_OBJECT (button), "id"), NULL, 10);
  g_autoptr (GError) error = NULL;

  if (g_strcmp0 (path, session_store (jobs->session) ? store_path (session_store (jobs->session)) : NULL) != 0
      && !session_open_office (jobs->session, path, FALSE, &error))
    {
      complain (jobs, error);
      return;
    }
  open_job (jobs, id);
}

static gboolean
is_open (TallySession *session, char **part)
{
  return session_store (session) && g_strcmp0 (part[0], store_path (session_store (session))) == 0
         && g_ascii_strtoll (part[1], NULL, 10) == session_job_id (session);
}

static void
fill_recent (Jobs *jobs)
{
  GtkWidget *child;
  guint n = 0;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (jobs->recent))))
    gtk_list_box_remove (jobs->recent, child);
  for (int i = 0; i < MOST_RECENT; i++)
    {
      g_autofree char *key = g_strdup_printf ("job%d", i);
      g_autofree char *entry = settings_get ("recent", key);
      g_auto (GStrv) part = g_strsplit (entry ? entry : "", "\t", 3);
      GtkWidget *row, *open;
      if (g_strv_length (part) != 3 || is_open (jobs->session, part))
        continue;
      g_autofree char *title = g_markup_escape_text (part[2], -1), *under = g_markup_escape_text (part[0], -1);
      row = adw_action_row_new ();
      adw_preferences_row_set_title (ADW_PREFERENCES_ROW (row), title);
      adw_action_row_set_subtitle (ADW_ACTION_ROW (row), under);
      open = gtk_button_new_with_label (_ ("Open"));
      gtk_widget_set_valign (open, GTK_ALIGN_CENTER);
      g_object_set_data_full (G_OBJECT (open), "path", g_strdup (part[0]), g_free);
      g_object_set_data_full (G_OBJECT (open), "id", g_strdup (part[1]), g_free);
      g_signal_connect (open, "clicked", G_CALLBACK (recent_cb), jobs);
      adw_action_row_add_suffix (ADW_ACTION_ROW (row), open);
      gtk_list_box_append (jobs->recent, row);
      n++;
    }
  gtk_widget_set_visible (jobs->recent_box, n > 0);
}

/* ---- the jobs of the office ---- */

static void
open_cb (GtkButton *button, Row *row)
{
  (void) button;
  open_job (row->jobs, row->id);
}

static void
copy_cb (GtkButton *button, Row *row)
{
  g_autofree char *name = g_strdup_printf (_ ("Copy of %s"), row->name);
  g_autoptr (GError) error = NULL;
  Jobs *jobs = row->jobs;

  (void) button;
  if (store_duplicate_job (session_store (jobs->session), row->id, name, &error) == 0)
    complain (jobs, error);
  else
    session_say (jobs->session, SESSION_SAID, _ ("“%s” is there now"), name);
  fill (jobs);
  focus (jobs);
}

/* The button that was pressed is gone with its row: keys go on from the one that keeps a job, else from the name. */
static void
focus (Jobs *jobs)
{
  if (!jobs->keep || !gtk_widget_grab_focus (jobs->keep))
    gtk_widget_grab_focus (jobs->name);
}

static void
delete_cb (GtkButton *button, Row *row)
{
  Jobs *jobs = row->jobs;

  (void) button;
  jobs->doomed = row->id;
  fill (jobs);
  focus (jobs);
}

static void
keep_cb (GtkButton *button, Row *row)
{
  Jobs *jobs = row->jobs;

  (void) button;
  jobs->doomed = 0;
  fill (jobs);
  focus (jobs);
}

static void
really_cb (GtkButton *button, Row *row)
{
  Jobs *jobs = row->jobs;
  g_autofree char *name = g_strdup (row->name);
  g_autoptr (GError) error = NULL;
  gint64 id = row->id;

  (void) button;
  jobs->doomed = 0;
  if (session_job_id (jobs->session) == id)
    session_close_job (jobs->session);
  if (!store_delete_job (session_store (jobs->session), id, &error))
    complain (jobs, error);
  else
    session_say (jobs->session, SESSION_SAID, _ ("“%s” is deleted"), name);
  fill (jobs);
  focus (jobs);
}

static GtkWidget *
add_button (GtkWidget *row, Jobs *jobs, const StoreJobInfo *info, const char *label, const char *css, GCallback callback)
{
  GtkWidget *button = gtk_button_new_with_label (label);
  g_autofree char *name = g_strdup_printf ("%s: %s", label, info->name);
  Row *data = g_new (Row, 1);

  *data = (Row) { jobs, info->id, g_strdup (info->name) };
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  if (css)
    gtk_widget_add_css_class (button, css);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect_data (button, "clicked", callback, data, row_free, 0);
  adw_action_row_add_suffix (ADW_ACTION_ROW (row), button);
  return button;
}

/* "2030-01-31T12:00:00Z" as a date and time of this place. */
static char *
when (const char *at)
{
  g_autoptr (GDateTime) utc = g_date_time_new_from_iso8601 (at, NULL);
  g_autoptr (GDateTime) local = utc ? g_date_time_to_local (utc) : NULL;

  return local ? g_date_time_format (local, "%Y-%m-%d %H:%M") : g_strdup (at);
}

static GtkWidget *
job_row (Jobs *jobs, const StoreJobInfo *info)
{
  GtkWidget *row = adw_action_row_new ();
  gboolean here = info->id == session_job_id (jobs->session), doomed = info->id == jobs->doomed;
  g_autofree char *title = g_markup_escape_text (*info->name ? info->name : _ ("job without a name"), -1), *at = when (info->edited_at);
  g_autofree char *runs = g_strdup_printf (ngettext ("%d run", "%d runs", (gulong) info->runs), (int) info->runs);
  g_autofree char *words = doomed ? g_strdup (_ ("Delete this job for good? It cannot be brought back."))
                                  : g_strdup_printf (_ ("%s · changed %s%s"), runs, at, here ? _ (" · open in this window") : "");
  g_autofree char *under = g_markup_escape_text (words, -1);

  adw_preferences_row_set_title (ADW_PREFERENCES_ROW (row), title);
  adw_action_row_set_subtitle (ADW_ACTION_ROW (row), under);
  if (doomed)
    {
      jobs->keep = add_button (row, jobs, info, _ ("Keep it"), NULL, G_CALLBACK (keep_cb));
      add_button (row, jobs, info, _ ("Delete for good"), "destructive-action", G_CALLBACK (really_cb));
      return row;
    }
  if (!here)
    add_button (row, jobs, info, _ ("Open"), NULL, G_CALLBACK (open_cb));
  add_button (row, jobs, info, _ ("Duplicate"), "flat", G_CALLBACK (copy_cb));
  add_button (row, jobs, info, _ ("Delete…"), "flat", G_CALLBACK (delete_cb));
  return row;
}

static void
fill (Jobs *jobs)
{
  Store *store = session_store (jobs->session);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) list = store ? store_jobs (store, &error) : NULL;
  g_autofree char *file = store ? g_path_get_basename (store_path (store)) : NULL;
  g_autofree char *words = NULL;
  GtkWidget *child;

  jobs->keep = NULL;
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (jobs->list))))
    gtk_list_box_remove (jobs->list, child);
  if (!store)
    words = g_strdup (_ ("No office file is open: choose one first."));
  else if (!list)
    {
      words = g_strdup (_ ("The jobs cannot be read."));
      complain (jobs, error);
    }
  else
    words = g_strdup_printf (ngettext ("%u job in %s", "%u jobs in %s", list->len), list->len, file);
  gtk_label_set_label (jobs->conclusion, words);
  for (guint i = 0; list && i < list->len; i++)
    gtk_list_box_append (jobs->list, job_row (jobs, g_ptr_array_index (list, i)));
  gtk_widget_set_visible (GTK_WIDGET (jobs->list), list && list->len > 0);
  gtk_widget_set_sensitive (jobs->name, store != NULL);
  fill_recent (jobs);
}

/* ---- a new job ---- */

/* The first rule set that answers ordinary runs, unless it is retired. */
static int
start_set (const Catalogue *catalogue)
{
  int set = duct_rules_start_set (catalogue->rules);

  return set >= 0 && catalogue_is_retired (catalogue, CATALOGUE_RULE_SETS,
                                           ((DuctRuleSet *) g_ptr_array_index (catalogue->rules->sets, (guint) set))->key)
             ? catalogue_first_rule_set (catalogue)
             : set;
}

/* What a job starts with: the preferences for new jobs, else the first rule set that answers ordinary runs and the first method. */
static void
start_values (TallyJob *job, const Catalogue *catalogue)
{
  static const char *const keys[] = { "rule_set", "method", "units", "currency", "decimals", "metal" };
  int set = start_set (catalogue), method = catalogue_first_method (catalogue);

  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      g_autofree char *text = settings_get ("new jobs", keys[i]);
      int field = job_field_find (JOB_HEAD, keys[i]);
      if (!text && g_str_equal (keys[i], "rule_set") && set >= 0)
        text = g_strdup (((DuctRuleSet *) g_ptr_array_index (catalogue->rules->sets, (guint) set))->key);
      if (!text && g_str_equal (keys[i], "method") && method >= 0)
        text = g_strdup (catalogue_method (catalogue, method)->key);
      if (text)
        job_edit_field (job, JOB_HEAD, job_head (job)->id, field, text, NULL, NULL);
    }
}

/* What gauges go by is for the estimator to know from the start. */
static void
say_start (TallySession *session, TallyJob *job)
{
  const DuctRules *rules = job_basis (job)->catalogue->rules;
  const char *key = job_head (job)->text[HEAD_RULE_SET];
  int set = key ? duct_rules_find_set (rules, key) : -1;

  if (set >= 0)
    session_say (session, SESSION_SAID, _ ("Gauges go by the rule set “%s”; Preferences name another"),
                 ((const DuctRuleSet *) g_ptr_array_index (rules->sets, (guint) set))->name);
}

static void
new_cb (GtkWidget *widget, Jobs *jobs)
{
  Store *store = session_store (jobs->session);
  g_autofree char *name = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (jobs->name))));
  g_autoptr (GError) error = NULL;
  g_autoptr (Catalogue) catalogue = NULL;
  g_autoptr (TallyJob) job = NULL;
  g_autoptr (TallySession) session = NULL;
  gint64 id;

  (void) widget;
  if (!*name)
    {
      session_say (jobs->session, SESSION_REFUSED, "%s", _ ("a job needs a name: type it first"));
      gtk_widget_grab_focus (jobs->name);
      return;
    }
  catalogue = store ? store_catalogue (store, 0, &error) : NULL;
  if (!catalogue)
    {
      if (error)
        complain (jobs, error);
      return;
    }
  job = job_new (catalogue, name);
  start_values (job, catalogue);
  id = store_create_job (store, job, 0, &error);
  if (id == 0)
    {
      complain (jobs, error);
      return;
    }
  session = g_object_ref (jobs->session);
  open_job (jobs, id);
  say_start (session, job);
}

/* ---- the window ---- */

static void
office_cb (GtkButton *button, Jobs *jobs)
{
  (void) button;
  tally_office_choose (jobs->session, jobs->window);
}

static void
job_cb (TallySession *session, Jobs *jobs)
{
  (void) session;
  jobs->doomed = 0;
  fill (jobs);
}

static void
jobs_gone (gpointer data, GObject *where)
{
  Jobs *jobs = data;

  (void) where;
  g_signal_handlers_disconnect_by_data (jobs->session, jobs);
  g_object_unref (jobs->session);
  g_free (jobs);
}

static GtkWidget *
new_line (Jobs *jobs)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *button = gtk_button_new_with_label (_ ("New job"));

  jobs->name = gtk_entry_new ();
  gtk_entry_set_placeholder_text (GTK_ENTRY (jobs->name), _ ("Name of a new job"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (jobs->name), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Name of a new job"), -1);
  gtk_widget_set_hexpand (jobs->name, TRUE);
  gtk_widget_add_css_class (button, "suggested-action");
  g_signal_connect (jobs->name, "activate", G_CALLBACK (new_cb), jobs);
  g_signal_connect (button, "clicked", G_CALLBACK (new_cb), jobs);
  gtk_box_append (GTK_BOX (line), jobs->name);
  gtk_box_append (GTK_BOX (line), button);
  return line;
}

static GtkListBox *
boxed_list (GtkWidget *box, const char *name)
{
  GtkWidget *list = gtk_list_box_new ();

  gtk_list_box_set_selection_mode (GTK_LIST_BOX (list), GTK_SELECTION_NONE);
  gtk_widget_add_css_class (list, "boxed-list");
  gtk_accessible_update_property (GTK_ACCESSIBLE (list), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_box_append (GTK_BOX (box), list);
  return GTK_LIST_BOX (list);
}

void
tally_jobs_present (TallySession *session, GtkWindow *parent)
{
  Jobs *jobs = g_new0 (Jobs, 1);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12), *scrolled = gtk_scrolled_window_new (), *clamp = adw_clamp_new ();
  GtkWidget *office = gtk_button_new_with_label (_ ("Another office file…")), *title = gtk_label_new (_ ("Opened lately"));

  jobs->session = g_object_ref (session);
  jobs->window = tally_side_window_new (parent, NULL, _ ("Jobs"), 760, 620);
  g_object_set_data (G_OBJECT (jobs->window), "jobs", jobs);
  jobs->conclusion = GTK_LABEL (tally_conclusion_new (NULL));
  gtk_widget_add_css_class (box, "side-page");
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (jobs->conclusion));
  gtk_box_append (GTK_BOX (box), new_line (jobs));
  jobs->list = boxed_list (box, _ ("Jobs of the office file"));
  gtk_widget_set_halign (office, GTK_ALIGN_START);
  g_signal_connect (office, "clicked", G_CALLBACK (office_cb), jobs);
  gtk_box_append (GTK_BOX (box), office);
  jobs->recent_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_widget_add_css_class (title, "heading");
  gtk_box_append (GTK_BOX (jobs->recent_box), title);
  jobs->recent = boxed_list (jobs->recent_box, _ ("Opened lately"));
  gtk_box_append (GTK_BOX (box), jobs->recent_box);
  adw_clamp_set_child (ADW_CLAMP (clamp), box);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), clamp);
  tally_side_window_set (jobs->window, NULL, tally_notice_new (session, scrolled));
  habits_remember_job (session);
  g_signal_connect (session, "job", G_CALLBACK (job_cb), jobs);
  g_object_weak_ref (G_OBJECT (jobs->window), jobs_gone, jobs);
  fill (jobs);
  gtk_window_present (jobs->window);
}
