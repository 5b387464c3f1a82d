/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Folders, offices and random jobs for the tests of store/. All data here is invented. */

#include "store/private.h"

#include <glib/gstdio.h>
#include <string.h>

static inline char *
folder_new (void)
{
  g_autoptr (GError) error = NULL;
  char *folder = g_dir_make_tmp ("seamtally-store-XXXXXX", &error);

  g_assert_no_error (error);
  return folder;
}

static inline guint
folder_count (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  g_assert_nonnull (dir);
  while (g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static inline void
folder_free (char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  g_assert_nonnull (dir);
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_assert_cmpint (g_remove (path), ==, 0);
    }
  g_assert_cmpint (g_rmdir (folder), ==, 0);
  g_free (folder);
}

static inline GBytes *
file_bytes (const char *path)
{
  g_autoptr (GError) error = NULL;
  char *text;
  gsize length;

  g_file_get_contents (path, &text, &length, &error);
  g_assert_no_error (error);
  return g_bytes_new_take (text, length);
}

static inline void
file_write (const char *path, GBytes *bytes)
{
  g_autoptr (GError) error = NULL;
  gsize length;
  const char *data = g_bytes_get_data (bytes, &length);

  g_file_set_contents_full (path, data, (gssize) length, G_FILE_SET_CONTENTS_CONSISTENT, 0666, &error);
  g_assert_no_error (error);
}

static inline void
assert_file_is (const char *path, GBytes *bytes)
{
  g_autoptr (GBytes) now = file_bytes (path);

  g_assert_true (g_bytes_equal (now, bytes));
}

/* The message of a refusal names the file and tells what to do (behind the colon). */
static inline void
assert_refused (GError **error, int code, const char *path)
{
  g_autofree char *base = g_path_get_basename (path);

  g_assert_error (*error, STORE_ERROR, code);
  g_assert_nonnull (strstr ((*error)->message, base));
  g_assert_nonnull (strstr ((*error)->message, ": "));
  g_assert_true (g_utf8_validate ((*error)->message, -1, NULL));
  g_clear_error (error);
}

static inline Store *
office_open (const char *path)
{
  g_autoptr (GError) error = NULL;
  Store *store = store_open (path, TRUE, &error);

  g_assert_no_error (error);
  g_assert_nonnull (store);
  return store;
}

/* Runs SQL by a connection of its own, with none of our checks. */
static inline void
plant (const char *path, const char *sql)
{
  sqlite3 *handle;
  char *message = NULL;

  g_assert_cmpint (sqlite3_open (path, &handle), ==, SQLITE_OK);
  sqlite3_exec (handle, sql, NULL, NULL, &message);
  g_assert_cmpstr (message, ==, NULL);
  g_assert_cmpint (sqlite3_close (handle), ==, SQLITE_OK);
}

/* As one file without a log beside it, as a copy on a stick would be. */
static inline void
plant_single (const char *path)
{
  plant (path, "PRAGMA journal_mode = DELETE");
}

static inline void
assert_same_job (TallyJob *a, TallyJob *b)
{
  for (JobType type = 0; type < JOB_N_TYPES; type++)
    {
      g_assert_cmpuint (job_n (a, type), ==, job_n (b, type));
      for (guint i = 0; i < job_n (a, type); i++)
        {
          g_assert_cmpint (job_at (a, type, i)->id, ==, job_at (b, type, i)->id);
          g_assert_true (job_record_equal (job_at (a, type, i), job_at (b, type, i)));
        }
    }
}

/* Reads the job anew through another connection and compares. */
static inline void
assert_kept (const char *path, gint64 id, TallyJob *job)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) store = office_open (path);
  g_autoptr (TallyJob) again = store_open_job (store, id, &error);

  g_assert_no_error (error);
  assert_same_job (job, again);
}

/* ---- random records, as people type them ---- */

static inline const char *
random_text (GRand *rand, JobAs as)
{
  static const char *const text[] = { "", "mains", "\"A\", 'b'; c", "Z\xC3\xBCrich \xE2\x82\xAC", "two\nlines", "0" };
  static const char *const size[] = { "24x12", "600x300 mm", "24 by", "30 x 16", "" };
  static const char *const length[] = { "46", "12 1/2", "3.25", "7 m", "long", "" };
  static const char *const number[] = { "1", "2", "12", "2.5", "many", "" };
  static const char *const sheet_class[] = { "2", "-1", "1/2", "500 Pa", "high", "" };
  static const char *const kind[] = { "straight", "tap", "end cap", "offset", "boot", "" };
  static const char *const end[] = { "joint", "open", "raw", "equipment", "shut", "" };
  static const char *const word[] = { "yes", "no", "+", "-", "indoors", "outdoors", "galvanised", "aluminium", "metric",
                                      "inch-pound", "quite" };
#define ONE_OF(list) (list[g_rand_int_range (rand, 0, (gint32) G_N_ELEMENTS (list))])
  switch ((int) as)
    {
    case JOB_AS_TEXT:
      return ONE_OF (text);
    case JOB_AS_SIZE:
      return ONE_OF (size);
    case JOB_AS_LENGTH_IN:
    case JOB_AS_LENGTH_FT:
      return ONE_OF (length);
    case JOB_AS_CLASS:
      return ONE_OF (sheet_class);
    case JOB_AS_KIND:
      return ONE_OF (kind);
    case JOB_AS_END:
      return ONE_OF (end);
    case JOB_AS_YES_NO:
    case JOB_AS_SIGN:
    case JOB_AS_EXPOSURE:
    case JOB_AS_METAL:
    case JOB_AS_UNITS:
      return ONE_OF (word);
    default:
      return ONE_OF (number);
    }
#undef ONE_OF
}

/* Fills some fields of a record that is not shared yet so that the job may take it. References go to systems and
 * areas that are there; a change is one of an item's price. */
static inline void
random_record (GRand *rand, TallyJob *job, JobRecord *record, Catalogue *catalogue)
{
  const JobTypeInfo *info = job_type_info (record->type);
  g_autofree char *name = g_strdup_printf ("N-%u", g_rand_int_range (rand, 0, 1000));

  for (int i = 0; i < info->n_fields; i++)
    {
      const JobField *field = &info->field[i];
      JobType other = field->as == JOB_AS_SYSTEM ? JOB_SYSTEM : JOB_AREA;

      if (field->as != JOB_AS_SYSTEM && field->as != JOB_AS_AREA)
        {
          if (g_rand_boolean (rand))
            job_record_read (record, i, random_text (rand, field->as), job_names (job), NULL);
        }
      else if (job_n (job, other) > 0)
        record->num[field->slot] = job_at (job, other, (guint) g_rand_int_range (rand, 0, (gint32) job_n (job,
                                                                                                          other)))->id;
    }
  if (record->type == JOB_SYSTEM)
    job_record_set_text (record, SYSTEM_KEY, name);
  else if (record->type == JOB_AREA)
    job_record_set_text (record, AREA_KEY, name);
  else if (record->type == JOB_CHANGE)
    {
      guint item = (guint) g_rand_int_range (rand, 0, (gint32) catalogue->items->len);
      job_record_set_text (record, CHANGE_OBJECT, "item");
      job_record_set_text (record, CHANGE_KEY, catalogue_item (catalogue, (int) item)->key);
      job_record_set_text (record, CHANGE_FIELD, "price");
      job_record_set_text (record, CHANGE_VALUE, g_rand_boolean (rand) ? "1.25" : "3");
    }
}
