/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"
#include "store/store.h"

G_BEGIN_DECLS

/* What one window works on: an office file, the job that is open, the part of it that is looked at and the runs that are selected.
 * Views hold the session and nothing of each other; all edits go through session_apply(). No widgets here. */
#define TALLY_TYPE_SESSION (tally_session_get_type ())
G_DECLARE_FINAL_TYPE (TallySession, tally_session, TALLY, SESSION, GObject)
/* Signals:
 * "job" ()              another job was opened (or none is left); everything must be looked up anew
 * "changed" (JobEdit *) the job changed by an edit, undo or redo; totals are up to date. NULL: anything may have changed
 * "scope" ()            the part looked at changed
 * "selection" ()        the selected runs, or the total that is asked about, changed
 * "said" (char *, int)  something to tell the user; a SessionSaid */

typedef enum
{
  SESSION_SAID,       /* a toast */
  SESSION_SAID_UNDO,  /* a toast with an undo button */
  SESSION_REFUSED,    /* an edit that did not happen, and why: stays until read */
  SESSION_REFUSED_STALE, /* the same, as the job was changed elsewhere: session_reopen_job() mends it */
} SessionSaid;

TallySession *session_new (void);

/* Opens (and makes, with @create) an office file; its jobs are not opened. FALSE with @error: the old one stays. */
gboolean session_open_office (TallySession *session, const char *path, gboolean create, GError **error);
Store *session_store (TallySession *session); /* (nullable) */

/* Opens a job of the office. The one before is left (everything is on disk already). */
gboolean session_open_job (TallySession *session, gint64 id, GError **error);
/* The open job as it is in the file now, the same part of it shown; what was undone here before cannot be undone any more. */
gboolean session_reopen_job (TallySession *session, GError **error);
void session_close_job (TallySession *session);
TallyJob *session_job (TallySession *session); /* (nullable) */
gint64 session_job_id (TallySession *session);
/* Opens the demo job of the office, making it when it is not there. */
gboolean session_open_demo (TallySession *session, GError **error);
/* The same with the demo job of round duct. */
gboolean session_open_demo_round (TallySession *session, GError **error);

/* The part looked at: 0 any, -1 runs without one. */
const JobScope *session_scope (TallySession *session);
void session_set_scope (TallySession *session, gint64 system, gint64 area);

/* Ids of the selected runs (gint64), in order. (transfer none) */
const GArray *session_selection (TallySession *session);
void session_set_selection (TallySession *session, const gint64 *ids, gsize n);

/* The line of the build-up that is asked about ("cost", "price") instead of the selected runs: what it rests on is shown. NULL:
 * none; another selection ends it. Tells by the signal "selection". */
const char *session_total (TallySession *session);
void session_set_total (TallySession *session, const char *line);

/* Applies an edit (takes it). When it is refused nothing changes, the reason is said (SESSION_REFUSED), and FALSE returned. */
gboolean session_apply (TallySession *session, JobEdit *edit);
/* One field of one record, as job_edit_field(): @fault says why a value is kept as typed. */
gboolean session_edit_field (TallySession *session, JobType type, gint64 id, int field, const char *text, Fault **fault);
/* Sets one figure of the catalogue for this job (a JOB_CHANGE record): object, key, field as CostChange; value NULL takes the
 * change back. */
gboolean session_set_figure (TallySession *session, const char *label, const char *object, const char *key, const char *field,
                             const char *value);
void session_undo (TallySession *session);
void session_redo (TallySession *session);
/* Tells views that something outside the edits changed (catalogue, hours). */
void session_touch (TallySession *session);

void session_say (TallySession *session, SessionSaid how, const char *format, ...) G_GNUC_PRINTF (3, 4);

/* Money of the open job as text, "1,234.50"; decimals of its currency. */
char *session_money (TallySession *session, gint64 minor);
int session_decimals (TallySession *session);
/* A figure with thousands commas and so many decimals, "1,245.5"; @sign: with a plus too. */
char *session_figure (double value, int decimals, gboolean sign);

G_END_DECLS
