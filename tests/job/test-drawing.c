/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "exchange/runs-csv.h"
#include "job/drawing.h"

static JobDrawing
find (TallyJob *job, const char *key)
{
  g_autoptr (GPtrArray) all = job_drawings (job);
  JobDrawing found = { NULL, 0, FALSE, 0, 0 };

  for (guint i = 0; i < all->len; i++)
    if (g_str_equal (((JobDrawing *) g_ptr_array_index (all, i))->key, key))
      found = *(JobDrawing *) g_ptr_array_index (all, i);
  found.key = NULL;
  return found;
}

/* The invented demo job has drawings M-201 ... M-303; a reissue asks for every run of that drawing again, and for no other. */
static void
test_reissue (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = exchange_demo_job (catalogue);
  JobDrawing before = find (job, "M-201"), after;

  g_assert_cmpuint (before.runs, ==, 17);
  g_assert_cmpuint (before.recheck, ==, 0);
  g_assert_true (job_apply (job, job_drawing_set_done (job, "M-201", TRUE), NULL));
  g_assert_true (find (job, "M-201").done);
  g_assert_true (job_apply (job, job_drawing_reissue (job, "M-201"), NULL));
  after = find (job, "M-201");
  g_assert_cmpint (after.issue, ==, 2);
  g_assert_false (after.done);
  g_assert_cmpuint (after.recheck, ==, after.runs);
  g_assert_cmpuint (find (job, "M-202").recheck, ==, 0);
  g_assert_true (job_apply (job, job_drawing_checked (job, "M-201"), NULL));
  g_assert_cmpuint (find (job, "M-201").recheck, ==, 0);
  g_assert_true (job_undo (job, NULL));
  g_assert_cmpuint (find (job, "M-201").recheck, ==, before.runs);
  while (job_undo_label (job))
    g_assert_true (job_undo (job, NULL));
  g_assert_cmpint (find (job, "M-201").issue, ==, 1);
  g_assert_true (job_check_totals (job));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/job/drawing/reissue", test_reissue);
  return g_test_run ();
}
