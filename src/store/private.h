/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the files of store/ and its tests share. */

#include "store/db.h"

G_BEGIN_DECLS

/* One step of the schema: brings a file from version - 1 to version. */
typedef struct
{
  int version;
  const char *sql;
} StoreMigration;

/* How to open, for tests; 0 or NULL: as the program does. */
typedef struct
{
  const char *vfs;
  int busy_ms;
  const StoreMigration *migration; /* versions 1, 2, ... in order */
  int n_migrations;
} StoreOptions;

/* A column of a job table and the field of a record that it holds. */
typedef struct
{
  char *name;
  int field;
  int slot;      /* into num, or into text */
  gboolean text;
} StoreColumn;

/* A type of record as a table, and the statements made from its descriptors. Parameters: ?1 job id, ?2 record id, ?3
 * ord, the columns from ?4 on. Columns of a result: id, ord, then the columns. */
typedef struct
{
  const char *name;
  GArray *column;    /* StoreColumn */
  char *select;      /* all of a job, by id */
  char *select_one;
  char *insert;      /* NULL for the head: its row is made with the job */
  char *update;
  char *remove;      /* NULL for the head */
  char *copy;        /* all of job ?1 to job ?2, which has none yet */
} StoreTable;

struct _Store
{
  grefcount refs;
  Db *db;
  StoreTable *table[JOB_N_TYPES];
  GHashTable *catalogue; /* gint64 revision -> Catalogue */
  GHashTable *known;     /* figures of records that passed their check */
};

/* schema.c */
const StoreMigration *store_migrations (int *n);
StoreTable *store_table_new (JobType type);
void store_table_free (StoreTable *table);
/* Brings @db from its version to the newest of the list, one transaction a step; 0 is an empty file. */
gboolean store_schema_migrate (Db *db, const StoreMigration *migration, int n, GError **error);
/* Whether tables, indices and triggers are those that the list makes, and no others. */
gboolean store_schema_check (Db *db, const StoreMigration *migration, int n, GError **error);

/* office.c */
Store *store_open_with (const char *path, gboolean create, const StoreOptions *options, GError **error);
/* Now, UTC, to the second. */
char *store_now (void);

/* backup.c */
gboolean store_copy_file (Db *db, const char *path, GError **error);
/* Makes sure that a file (and the name of it in its folder) is on the disk, not only in memory. */
gboolean store_sync_file (const char *path, GError **error);
/* For a new file beside @path, which is made, empty. NULL with @error. */
char *store_part_file (const char *path, GError **error);

/* catalogue-io.c: inside a transaction of the caller. The new revision, 0 with @error. */
gint64 store_write_revision (Db *db, CsvTable *const table[CATALOGUE_N_SHEETS], const char *reason, const char *source,
                             GError **error);

/* record-check.c */
GHashTable *store_known_new (void);
/* Text is UTF-8, figures are such as can be typed, places in lists are there. */
gboolean store_check_record (Store *store, const JobRecord *record, int code, GError **error);
/* Names table, id and column. Always FALSE. */
gboolean store_fail_value (Store *store, const JobRecord *record, const char *column, int code, GError **error);

/* job-io.c */
gboolean store_read_records (Store *store, gint64 job_id, GPtrArray *records, GError **error);
/* Adds (@before NULL), replaces or deletes (@after NULL) one record. @compare: the row must still be as in @before. */
gboolean store_write_record (Store *store, gint64 job_id, const JobRecord *before, const JobRecord *after,
                             gboolean compare, GError **error);
gboolean store_log (Store *store, gint64 job_id, gint64 seq, const char *label, const char *detail, GError **error);
/* Sets STORE_ERROR_NOT_FOUND for a job; FALSE. */
gboolean store_no_job (Store *store, gint64 id, GError **error);

G_END_DECLS
