/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Marks of a job in an office file. All data here is invented demo. */
#include "helper.h"

static JobMark *
mark_new (TallyJob *job, const char *name, gint64 at)
{
  return job_mark_take (job, name, at);
}

static void
test_keep (void)
{
  g_autofree char *folder = folder_new (), *path = g_build_filename (folder, "office.seam", NULL);
  Store *store = office_open (path);
  g_autoptr (GError) error = NULL;
  Catalogue *catalogue = store_catalogue (store, 0, NULL);
  g_autoptr (TallyJob) memory = job_new (catalogue, "marked");
  gint64 job = store_create_job (store, memory, 0, &error), other, first, second;

  g_assert_no_error (error);
  other = store_create_job (store, memory, 0, &error);
  g_autoptr (JobMark) one = mark_new (memory, "before, \"addendum\"\n2", 100), two = mark_new (memory, "", 200);
  first = store_add_mark (store, job, one, &error);
  g_assert_no_error (error);
  second = store_add_mark (store, job, two, &error);
  g_assert_no_error (error);
  g_assert_cmpint (second, >, first);
  store_close (store);

  store = store_open (path, FALSE, &error);
  g_assert_no_error (error);
  g_autoptr (GPtrArray) marks = store_marks (store, job, &error), none = store_marks (store, other, &error);
  g_assert_cmpuint (none->len, ==, 0);
  g_assert_cmpuint (marks->len, ==, 2);
  g_assert_cmpstr (((StoreMark *) marks->pdata[0])->mark->name, ==, one->name);
  g_assert_cmpint (((StoreMark *) marks->pdata[0])->mark->all.price, ==, one->all.price);
  g_assert_cmpint (((StoreMark *) marks->pdata[1])->mark->at, ==, 200);

  g_assert_true (store_remove_mark (store, first, &error));
  g_autoptr (GPtrArray) left = store_marks (store, job, &error);
  g_assert_cmpuint (left->len, ==, 1);
  g_assert_cmpint (((StoreMark *) left->pdata[0])->id, ==, second);

  /* It goes with its job. */
  g_assert_true (store_delete_job (store, job, &error));
  g_autoptr (GPtrArray) gone = store_marks (store, job, &error);
  g_assert_cmpuint (gone->len, ==, 0);
  catalogue_unref (catalogue);
  store_close (store);
  folder_free (g_steal_pointer (&folder));
}

/* A mark needs its job; a mark that is no mark is told as such and can be removed. */
static void
test_broken (void)
{
  g_autofree char *folder = folder_new (), *path = g_build_filename (folder, "office.seam", NULL);
  Store *store = office_open (path);
  g_autoptr (GError) error = NULL;
  Catalogue *catalogue = store_catalogue (store, 0, NULL);
  g_autoptr (TallyJob) memory = job_new (catalogue, "marked");
  gint64 job = store_create_job (store, memory, 0, NULL);
  g_autoptr (JobMark) mark = mark_new (memory, "x", 1), wild = mark_new (memory, "\xff\xfe", 1);

  g_assert_cmpint (store_add_mark (store, job + 50, mark, &error), ==, 0);
  g_assert_error (error, STORE_ERROR, STORE_ERROR_NOT_FOUND);
  g_clear_error (&error);
  g_assert_cmpint (store_add_mark (store, job, wild, &error), ==, 0);
  g_assert_error (error, STORE_ERROR, STORE_ERROR_INVALID);
  g_clear_error (&error);
  g_assert_true (db_do (store->db, NULL, "INSERT INTO mark (job_id, figures) VALUES (?1, ?2)", "it", job, "nonsense"));
  g_autoptr (GPtrArray) marks = store_marks (store, job, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (marks->len, ==, 1);
  g_assert_null (((StoreMark *) marks->pdata[0])->mark);
  g_assert_true (store_remove_mark (store, ((StoreMark *) marks->pdata[0])->id, &error));
  catalogue_unref (catalogue);
  store_close (store);
  folder_free (g_steal_pointer (&folder));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/store/marks/keep", test_keep);
  g_test_add_func ("/store/marks/broken", test_broken);
  return g_test_run ();
}
