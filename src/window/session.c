/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/session.h"

#include "base/money.h"
#include "exchange/runs-csv.h"
#include "job/figure.h"

#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>

/* How long an edit waits, with the window, for another program that keeps the file locked. */
#define PATIENCE_MS 700

struct _TallySession
{
  GObject parent_instance;

  Store *store;
  TallyJob *job;
  gint64 job_id;
  JobScope scope;
  GArray *selection; /* gint64 */
  char *total;       /* (nullable) */
};

enum { JOB, CHANGED, SCOPE, SELECTION, SAID, N_SIGNALS };

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TallySession, tally_session, G_TYPE_OBJECT)

static void
job_changed_cb (TallyJob *job, JobEdit *edit, TallySession *session)
{
  (void) job;
  g_signal_emit (session, signals[CHANGED], 0, edit);
}

static void
drop_job (TallySession *session)
{
  if (session->job)
    g_signal_handlers_disconnect_by_data (session->job, session);
  g_clear_object (&session->job);
  session->job_id = 0;
  session->scope = (JobScope) { 0, 0 };
  g_array_set_size (session->selection, 0);
  g_clear_pointer (&session->total, g_free);
}

static void
tally_session_finalize (GObject *object)
{
  TallySession *session = TALLY_SESSION (object);

  drop_job (session);
  g_array_unref (session->selection);
  g_clear_pointer (&session->store, store_close);
  G_OBJECT_CLASS (tally_session_parent_class)->finalize (object);
}

static void
tally_session_class_init (TallySessionClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tally_session_finalize;
  signals[JOB] = g_signal_new ("job", TALLY_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[CHANGED] = g_signal_new ("changed", TALLY_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1,
                                   G_TYPE_POINTER);
  signals[SCOPE] = g_signal_new ("scope", TALLY_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SELECTION] = g_signal_new ("selection", TALLY_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SAID] = g_signal_new ("said", TALLY_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2,
                                G_TYPE_STRING, G_TYPE_INT);
}

static void
tally_session_init (TallySession *session)
{
  session->selection = g_array_new (FALSE, FALSE, sizeof (gint64));
}

TallySession *
session_new (void)
{
  return g_object_new (TALLY_TYPE_SESSION, NULL);
}

static gboolean
same_file (const char *a, const char *b)
{
  GStatBuf x, y;

  return g_stat (a, &x) == 0 && g_stat (b, &y) == 0 && x.st_dev == y.st_dev && x.st_ino == y.st_ino;
}

gboolean
session_open_office (TallySession *session, const char *path, gboolean create, GError **error)
{
  Store *store;

  /* The office that is open, once more: its first connection is to be closed last (store/lock.c). */
  if (session->store && same_file (store_path (session->store), path))
    {
      session_close_job (session);
      return TRUE;
    }
  store = store_open (path, create, error);
  if (!store)
    return FALSE;
  store_set_patience (store, PATIENCE_MS);
  drop_job (session);
  g_clear_pointer (&session->store, store_close);
  session->store = store;
  g_signal_emit (session, signals[JOB], 0);
  return TRUE;
}

Store *
session_store (TallySession *session)
{
  return session->store;
}

gboolean
session_open_job (TallySession *session, gint64 id, GError **error)
{
  TallyJob *job = store_open_job (session->store, id, error);

  if (!job)
    return FALSE;
  drop_job (session);
  session->job = job;
  session->job_id = id;
  g_signal_connect (job, "changed", G_CALLBACK (job_changed_cb), session);
  g_signal_emit (session, signals[JOB], 0);
  return TRUE;
}

gboolean
session_reopen_job (TallySession *session, GError **error)
{
  JobScope scope = session->scope;

  if (!session_open_job (session, session->job_id, error))
    return FALSE;
  if ((scope.system <= 0 || job_find (session->job, JOB_SYSTEM, scope.system))
      && (scope.area <= 0 || job_find (session->job, JOB_AREA, scope.area)))
    session_set_scope (session, scope.system, scope.area);
  return TRUE;
}

void
session_close_job (TallySession *session)
{
  drop_job (session);
  g_signal_emit (session, signals[JOB], 0);
}

static gboolean
open_demo (TallySession *session, TallyJob *(*make) (Catalogue *), GError **error)
{
  g_autoptr (Catalogue) catalogue = store_catalogue (session->store, 0, error);
  g_autoptr (TallyJob) demo = NULL;
  gint64 id;

  if (!catalogue)
    return FALSE;
  demo = make (catalogue);
  id = store_find_job (session->store, job_head (demo)->text[HEAD_NAME]);
  if (id == 0)
    id = store_create_job (session->store, demo, 0, error);
  return id > 0 && session_open_job (session, id, error);
}

gboolean
session_open_demo (TallySession *session, GError **error)
{
  return open_demo (session, exchange_demo_job, error);
}

gboolean
session_open_demo_round (TallySession *session, GError **error)
{
  return open_demo (session, exchange_demo_round_job, error);
}

TallyJob *
session_job (TallySession *session)
{
  return session->job;
}

gint64
session_job_id (TallySession *session)
{
  return session->job_id;
}

const JobScope *
session_scope (TallySession *session)
{
  return &session->scope;
}

void
session_set_scope (TallySession *session, gint64 system, gint64 area)
{
  if (session->scope.system == system && session->scope.area == area)
    return;
  session->scope = (JobScope) { system, area };
  g_signal_emit (session, signals[SCOPE], 0);
}

const GArray *
session_selection (TallySession *session)
{
  return session->selection;
}

void
session_set_selection (TallySession *session, const gint64 *ids, gsize n)
{
  gboolean asked = session->total != NULL;

  g_clear_pointer (&session->total, g_free);
  if (!asked && n == session->selection->len && (n == 0 || memcmp (ids, session->selection->data, n * sizeof *ids) == 0))
    return;
  g_array_set_size (session->selection, 0);
  if (n > 0)
    g_array_append_vals (session->selection, ids, (guint) n);
  g_signal_emit (session, signals[SELECTION], 0);
}

const char *
session_total (TallySession *session)
{
  return session->total;
}

void
session_set_total (TallySession *session, const char *line)
{
  if (g_strcmp0 (session->total, line) == 0)
    return;
  g_free (session->total);
  session->total = g_strdup (line);
  g_signal_emit (session, signals[SELECTION], 0);
}

static gboolean
refused (TallySession *session, GError *error)
{
  gboolean stale = g_error_matches (error, STORE_ERROR, STORE_ERROR_CONFLICT);

  session_say (session, stale ? SESSION_REFUSED_STALE : SESSION_REFUSED, "%s", error->message);
  g_error_free (error);
  return FALSE;
}

gboolean
session_apply (TallySession *session, JobEdit *edit)
{
  GError *error = NULL;

  return job_apply (session->job, edit, &error) ? TRUE : refused (session, error);
}

gboolean
session_edit_field (TallySession *session, JobType type, gint64 id, int field, const char *text, Fault **fault)
{
  GError *error = NULL;

  return job_edit_field (session->job, type, id, field, text, fault, &error) ? TRUE : refused (session, error);
}

gboolean
session_set_figure (TallySession *session, const char *label, const char *object, const char *key, const char *field,
                    const char *value)
{
  JobEdit *edit = job_edit_new (label);

  job_edit_figure (session->job, edit, object, key, field, value);
  return session_apply (session, edit);
}

void
session_undo (TallySession *session)
{
  GError *error = NULL;

  if (session->job && !job_undo (session->job, &error))
    refused (session, error);
}

void
session_redo (TallySession *session)
{
  GError *error = NULL;

  if (session->job && !job_redo (session->job, &error))
    refused (session, error);
}

void
session_touch (TallySession *session)
{
  g_signal_emit (session, signals[CHANGED], 0, NULL);
}

/* Faults are told behind a colon elsewhere; alone they are a sentence. Names of files and the like stay as they are. */
static void
capital (char *text)
{
  gsize word = strspn (text, "abcdefghijklmnopqrstuvwxyz");

  if (word > 0 && strchr (" ,:;", text[word]))
    text[0] = g_ascii_toupper (text[0]);
}

void
session_say (TallySession *session, SessionSaid how, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  g_autofree char *text = g_strdup_vprintf (format, args);
  va_end (args);
  capital (text);
  g_signal_emit (session, signals[SAID], 0, text, (int) how);
}

int
session_decimals (TallySession *session)
{
  return session->job ? job_decimals (session->job) : 2;
}

char *
session_money (TallySession *session, gint64 minor)
{
  return money_print (minor, session_decimals (session), TRUE);
}

char *
session_figure (double value, int decimals, gboolean sign)
{
  double scale = 1;
  gint64 whole;

  for (int i = 0; i < decimals; i++)
    scale *= 10;
  if (!num_from_double (value * scale, &whole))
    return g_strdup ("–");
  g_autofree char *text = money_print (whole, decimals, TRUE);
  return sign && whole > 0 ? g_strconcat ("+", text, NULL) : g_steal_pointer (&text);
}
