/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loading and saving 100 000 runs, each beside a yardstick of the same run: bare SQLite with the same figures, and a frame of
 * 16 ms for one edit that is kept on disk. */
#include "bench/bench.h"

#include "store/store.h"

#include <glib/gstdio.h>
#include <sqlite3.h>
#include <stdio.h>

#define ROWS 100000
#define COLUMNS (RUN_N_NUM + 3) /* id, job, ord and every number of a run */

static void
report (const char *what, double ours, const char *yardstick, double theirs)
{
  printf ("%-46s %10.1f ms   %-28s %10.1f ms   ratio %5.2f\n", what, ours * 1e3, yardstick, theirs * 1e3, ours / theirs);
}

static void
must (int rc)
{
  if (rc != SQLITE_OK && rc != SQLITE_DONE && rc != SQLITE_ROW)
    g_error ("SQLite: %s", sqlite3_errstr (rc));
}

/* The same figures into one plain table, in one transaction. */
static void
bare_save (const char *path)
{
  sqlite3 *db;
  sqlite3_stmt *insert;
  g_autoptr (GString) sql = g_string_new ("CREATE TABLE run (");

  g_unlink (path);
  must (sqlite3_open (path, &db));
  for (int c = 0; c < COLUMNS; c++)
    g_string_append_printf (sql, "%sc%d INTEGER", c ? "," : "", c);
  g_string_append (sql, ") STRICT");
  must (sqlite3_exec (db, "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL", NULL, NULL, NULL));
  must (sqlite3_exec (db, sql->str, NULL, NULL, NULL));
  g_string_assign (sql, "INSERT INTO run VALUES (?");
  for (int c = 1; c < COLUMNS; c++)
    g_string_append (sql, ",?");
  g_string_append_c (sql, ')');
  must (sqlite3_exec (db, "BEGIN", NULL, NULL, NULL));
  must (sqlite3_prepare_v2 (db, sql->str, -1, &insert, NULL));
  for (int r = 0; r < ROWS; r++)
    {
      for (int c = 0; c < COLUMNS; c++)
        must (sqlite3_bind_int64 (insert, c + 1, (sqlite3_int64) r * 1000003 + c));
      must (sqlite3_step (insert));
      must (sqlite3_reset (insert));
    }
  must (sqlite3_finalize (insert));
  must (sqlite3_exec (db, "COMMIT", NULL, NULL, NULL));
  must (sqlite3_close (db));
}

static gint64 sum; /* keeps the loop from being thrown away */

static void
bare_load (const char *path)
{
  sqlite3 *db;
  sqlite3_stmt *select;

  must (sqlite3_open (path, &db));
  must (sqlite3_prepare_v2 (db, "SELECT * FROM run ORDER BY c0", -1, &select, NULL));
  while (sqlite3_step (select) == SQLITE_ROW)
    for (int c = 0; c < COLUMNS; c++)
      sum += sqlite3_column_int64 (select, c);
  must (sqlite3_finalize (select));
  must (sqlite3_close (db));
}

static void
store_files (const char *folder, TallyJob *job)
{
  g_autofree char *path = g_build_filename (folder, "office.db", NULL);
  g_autofree char *bare = g_build_filename (folder, "bare.db", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) store = store_open (path, TRUE, &error);
  gint64 id = 0;
  double save, load, save_bare, load_bare;

  if (!store)
    g_error ("%s", error->message);
  save = bench_best (1, id = store_create_job (store, job, 0, &error));
  if (id == 0)
    g_error ("%s", error->message);
  save_bare = bench_best (3, bare_save (bare));
  report ("save 100 000 runs", save, "SQLite, same cells", save_bare);
  load = bench_best (3, {
    g_autoptr (TallyJob) loaded = store_open_job (store, id, &error);
    if (!loaded)
      g_error ("%s", error->message);
  });
  load_bare = bench_best (3, bare_load (bare));
  report ("load 100 000 runs, checked and priced", load, "SQLite, same cells", load_bare);

  g_autoptr (TallyJob) stored = store_open_job (store, id, &error);
  guint i = 0;
  double edit = bench_best (50, {
    i++;
    job_edit_field (stored, JOB_RUN, job_at (stored, JOB_RUN, (i * 7919) % ROWS)->id, job_field_find (JOB_RUN, "size"),
                    i % 2 ? "26x14" : "30x20", NULL, NULL);
  });
  report ("one edit of 100 000 runs, kept on disk", edit, "one frame", 0.016);
}

int
main (void)
{
  g_autofree char *folder = g_dir_make_tmp ("seamtally-bench-XXXXXX", NULL);
  g_autoptr (TallyJob) job = bench_job (ROWS, TRUE);

  store_files (folder, job);
  return sum == 1;
}
