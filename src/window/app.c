/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/app.h"

#include "window/habits/habits.h"
#include "window/settings.h"
#include "window/window.h"
#include "window-resources.h"

#include <glib/gi18n.h>
#include <locale.h>

typedef struct
{
  gboolean demo, demo_round;
  char *office, *job;
} Wish;

/* Opens what was asked for, else what was open last; a window without a job says what can be done. */
static void
open_wish (TallySession *session, const Wish *wish)
{
  g_autofree char *kept = settings_get ("office", "path");
  g_autofree char *path = wish->office ? g_strdup (wish->office) : kept ? g_strdup (kept) : store_default_path ();
  g_autoptr (GError) error = NULL;
  gint64 id = 0;

  if (!session_open_office (session, path, TRUE, &error))
    {
      session_say (session, SESSION_REFUSED, "%s", error->message);
      return;
    }
  if (wish->demo || wish->demo_round)
    {
      if (!(wish->demo ? session_open_demo : session_open_demo_round) (session, &error))
        session_say (session, SESSION_REFUSED, "%s", error->message);
      return;
    }
  if (wish->job)
    {
      id = store_find_job (session_store (session), wish->job);
      if (id == 0)
        session_say (session, SESSION_REFUSED, _ ("%s holds no job “%s”"), path, wish->job);
    }
  else
    id = settings_get_int ("office", "job", 0);
  if (id > 0 && !session_open_job (session, id, &error) && wish->job)
    session_say (session, SESSION_REFUSED, "%s", error->message);
}

static void
activate_cb (AdwApplication *app, Wish *wish)
{
  GtkWindow *present = gtk_application_get_active_window (GTK_APPLICATION (app));
  g_autoptr (TallySession) session = NULL;
  TallyWindow *window;

  if (present)
    {
      gtk_window_present (present);
      return;
    }
  tally_preferences_apply ();
  session = session_new ();
  window = tally_window_new (app, session);
  open_wish (session, wish);
  gtk_window_present (GTK_WINDOW (window));
}

int
tally_app_run (int argc, char **argv)
{
  Wish wish = { FALSE, FALSE, NULL, NULL };
  const GOptionEntry entries[] = {
    { "demo", 0, 0, G_OPTION_ARG_NONE, &wish.demo, N_ ("Open the invented demo job"), NULL },
    { "demo-round", 0, 0, G_OPTION_ARG_NONE, &wish.demo_round, N_ ("Open the invented demo job of round duct"), NULL },
    { "office", 0, 0, G_OPTION_ARG_FILENAME, &wish.office, N_ ("Office file"), N_ ("FILE") },
    { "job", 0, 0, G_OPTION_ARG_STRING, &wish.job, N_ ("A job of the office file"), N_ ("NAME") },
    G_OPTION_ENTRY_NULL,
  };
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (AdwApplication) app = NULL;
  int status;

  setlocale (LC_ALL, "");
  /* Figures are read and written alike everywhere; the workbook library prints numbers by this locale. */
  setlocale (LC_NUMERIC, "C");
  bindtextdomain (GETTEXT_PACKAGE, SEAMTALLY_LOCALEDIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  g_set_application_name (_ ("Seamtally"));
  g_option_context_add_main_entries (context, entries, GETTEXT_PACKAGE);
  if (!g_option_context_parse (context, &argc, &argv, &error))
    {
      g_printerr ("seamtally: %s\n", error->message);
      return 2;
    }
  /* Nothing else in a static library refers to the resource. */
  g_resources_register (tally_window_get_resource ());
  gtk_disable_setlocale ();
  if (!gtk_init_check ())
    {
      g_printerr ("seamtally: %s\n", _ ("there is no display to open the window on; seamtally --help lists the commands"));
      return 3;
    }
  /* Each start is a window of its own: two jobs side by side are two processes on one office file. */
  app = adw_application_new ("org.seamtally.Seamtally", G_APPLICATION_NON_UNIQUE);
  /* style.css and style-dark.css are found there by the toolkit. */
  g_application_set_resource_base_path (G_APPLICATION (app), "/seamtally/ui");
  g_signal_connect (app, "activate", G_CALLBACK (activate_cb), &wish);
  status = g_application_run (G_APPLICATION (app), 1, argv);
  g_free (wish.office);
  g_free (wish.job);
  return status;
}
