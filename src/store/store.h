/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"
#include "job/mark.h"
#include "track/done.h"
#include "track/hours.h"

G_BEGIN_DECLS

/* An office file: one SQLite database with the catalogue's revisions, the jobs and the history of their edits. What
 * is written here is on the disk when the function returns TRUE, and is not there at all when it returns FALSE. One
 * Store is one connection and belongs to the thread that opened it; another thread opens the file again. */
typedef struct _Store Store;

/* "SmTy", the application id in the header of an office file: tells it from other databases. Never changes. */
#define STORE_APPLICATION_ID 0x536D5479

#define STORE_ERROR (store_error_quark ())
GQuark store_error_quark (void);
/* The message always names the file and what to do. */
typedef enum
{
  STORE_ERROR_NOT_FOUND, /* no such file, job or revision */
  STORE_ERROR_FOREIGN,   /* not a database, or another program's */
  STORE_ERROR_NEWER,     /* made by a newer version of the program */
  STORE_ERROR_DAMAGED,
  STORE_ERROR_LOCKED,    /* another program keeps it locked */
  STORE_ERROR_READ_ONLY, /* the file or its folder */
  STORE_ERROR_FULL,      /* the disk */
  STORE_ERROR_CONFLICT,  /* the job was changed elsewhere since it was opened */
  STORE_ERROR_INVALID,   /* what should be written breaks a rule of the file */
  STORE_ERROR_FAILED,    /* any other trouble with reading or writing */
} StoreError;

/* Where the office file lies when the user names none; (transfer full). */
char *store_default_path (void);

/* Opens an office file after checking that it is one, sound and of a version known here; an older one is brought up
 * to date behind a copy of it, NAME.before-vN.bak. @create: where there is no file, makes one with the starter
 * catalogue as revision 1 (complete or not at all). A file that is refused is left as it was, byte for byte. */
Store *store_open (const char *path, gboolean create, GError **error);
/* Gives up the caller's hold; jobs that are still open keep the file open until they are freed. */
void store_close (Store *store);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Store, store_close)
const char *store_path (Store *store);
/* How long a call waits for another program that keeps the file locked before it is refused with STORE_ERROR_LOCKED; 5 s when
 * nothing is said. */
void store_set_patience (Store *store, int ms);
/* Copies the office into @path, through a file beside it that is renamed at the end; an older file there is
 * replaced. Edits may go on meanwhile. */
gboolean store_backup (Store *store, const char *path, GError **error);

/* ---- catalogue ---- */

typedef struct
{
  gint64 id;
  char *at;     /* UTC, "2030-01-31T12:00:00Z" */
  char *reason;
  char *source;
} StoreRevision;

void store_revision_free (StoreRevision *revision);
/* Accepted revisions, oldest first: GPtrArray of StoreRevision *. */
GPtrArray *store_revisions (Store *store, GError **error);
/* Id of the newest accepted revision, 0 with @error. */
gint64 store_newest_revision (Store *store, GError **error);
/* The catalogue of a revision; 0: of the newest. Kept, so that jobs on one revision share it. (transfer full) */
Catalogue *store_catalogue (Store *store, gint64 revision, GError **error);
/* Writes @table (each must be there; borrowed) as a new accepted revision and gives its id; 0 with @error when a
 * table is faulty. It is read back and checked before it is accepted. */
gint64 store_add_revision (Store *store, CsvTable *const table[CATALOGUE_N_SHEETS], const char *reason,
                           const char *source, GError **error);

/* The draft of the next revision, of which an office has one. It is kept however faulty it is. */
typedef struct
{
  gint64 id;       /* another one after every change: who changes the draft says which one was seen */
  gint64 revision; /* the one it was begun on */
  char *at;        /* UTC, of the last change */
  char *who;
  CsvTable *table[CATALOGUE_N_SHEETS]; /* NULL: as in that revision */
} StoreDraft;

void store_draft_free (StoreDraft *draft);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (StoreDraft, store_draft_free)
/* The draft, *@draft NULL where there is none. (transfer full) */
gboolean store_read_draft (Store *store, StoreDraft **draft, GError **error);
/* Keeps a draft begun on @revision in the place of the one with the id @seen (0: there was none) and gives its id, 0 with @error:
 * STORE_ERROR_CONFLICT when there is another one by now. @table: borrowed; NULL for sheets as they are in the revision. */
gint64 store_keep_draft (Store *store, gint64 seen, gint64 revision, CsvTable *const table[CATALOGUE_N_SHEETS], GError **error);
/* @seen: STORE_ANY_DRAFT for whatever is there, as when it cannot be read. */
#define STORE_ANY_DRAFT (-1)
gboolean store_drop_draft (Store *store, gint64 seen, GError **error);
/* As store_add_revision(), and drops the draft with the id @seen (0: there is none), both or neither. */
gint64 store_accept_draft (Store *store, gint64 seen, CsvTable *const table[CATALOGUE_N_SHEETS], const char *reason,
                           const char *source, GError **error);

/* ---- jobs ---- */

typedef struct
{
  gint64 id;
  char *uid;        /* 128 random bits in hex: the same job in a copy of the file */
  char *name;
  gint64 revision;
  gint64 runs;
  char *created_at; /* UTC */
  char *edited_at;
} StoreJobInfo;

void store_job_info_free (StoreJobInfo *info);
/* All jobs in the order of their names: GPtrArray of StoreJobInfo *. */
GPtrArray *store_jobs (Store *store, GError **error);
/* Id of the job of this name (the oldest, when there are several), 0 when there is none or it cannot be read. */
gint64 store_find_job (Store *store, const char *name);

/* Opens a job: every edit of it goes to the file first and happens only when the file took it. An edit is refused with
 * STORE_ERROR_CONFLICT when another window or program has changed or deleted the job meanwhile. (transfer full) */
TallyJob *store_open_job (Store *store, gint64 id, GError **error);
/* Moves an open job of the store to another accepted revision, in the file and in memory, with all totals anew. It counts as an edit:
 * refused with STORE_ERROR_CONFLICT when the job was changed elsewhere, and other windows find it changed. FALSE: nothing happened,
 * STORE_ERROR_INVALID when a figure changed for the job has no place in that revision. */
gboolean store_set_job_revision (TallyJob *job, gint64 revision, GError **error);
/* Writes a job in memory as a new job of the office on @revision (0: the newest) and gives its id, 0 with @error.
 * The job in memory is not tied to the file by this: open the new one. */
gint64 store_create_job (Store *store, TallyJob *job, gint64 revision, GError **error);
/* Copies a job under another name; gives the id of the copy, 0 with @error. Hours spent and what is done stay with the job
 * they belong to: the copy has none. */
gint64 store_duplicate_job (Store *store, gint64 id, const char *name, GError **error);
gboolean store_delete_job (Store *store, gint64 id, GError **error);

/* ---- hours spent, and what is done ---- */

/* The time sheet of a job by day, then in the order it was entered: GPtrArray of HoursEntry * with its ids. (transfer full) */
GPtrArray *store_hours (Store *store, gint64 job_id, GError **error);
/* Adds, changes and deletes entries in one transaction, all or none; ids of new ones are put into @edit. An entry that comes back
 * by hours_edit_inverse() keeps its id. Refused with STORE_ERROR_CONFLICT when an entry is not as it was before. */
gboolean store_hours_apply (Store *store, gint64 job_id, HoursEdit *edit, GError **error);
/* A number that no batch of the job has yet; 0 with @error. */
gint64 store_hours_new_batch (Store *store, gint64 job_id, GError **error);

/* Ticks of a job: GArray of DoneTick. (transfer full) */
GArray *store_done (Store *store, gint64 job_id, GError **error);
/* Sets ticks in one transaction, all or none; a share of 0 takes one back. */
gboolean store_done_set (Store *store, gint64 job_id, const DoneTick *tick, gsize n, const char *label, GError **error);

/* One line of a job's history. */
typedef struct
{
  gint64 seq;
  char *at, *who, *label, *detail;
} StoreLogLine;

void store_log_line_free (StoreLogLine *line);
/* What was done to a job, oldest first: GPtrArray of StoreLogLine *. */
GPtrArray *store_job_log (Store *store, gint64 id, GError **error);

/* ---- marks ---- */

typedef struct
{
  gint64 id;
  JobMark *mark; /* (nullable): NULL where the file holds something else */
} StoreMark;

void store_mark_free (StoreMark *mark);
/* Marks of a job in the order in which they were set: GPtrArray of StoreMark *. */
GPtrArray *store_marks (Store *store, gint64 job_id, GError **error);
/* Keeps a mark with a line in the job's history, and gives its id; 0 with @error. It is no edit of the job. */
gint64 store_add_mark (Store *store, gint64 job_id, const JobMark *mark, GError **error);
gboolean store_remove_mark (Store *store, gint64 id, GError **error);

G_END_DECLS
