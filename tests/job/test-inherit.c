/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a run inherits is what it is priced with. */
#include "exchange/runs-csv.h"
#include "job/inherit.h"

static TallyJob *
demo (void)
{
  g_autoptr (Catalogue) starter = catalogue_starter ();

  return exchange_demo_job (starter);
}

static char *
inherited (TallyJob *job, const JobRecord *run, const char *key, JobOrigin *origin)
{
  char *text = NULL;

  *origin = job_inherited (job, run, job_field_find (JOB_RUN, key), &text);
  g_assert_nonnull (text);
  return text;
}

/* On every geometric run of the demo that has no entry of its own (invented demo). */
static void
test_demo (void)
{
  g_autoptr (TallyJob) job = demo ();
  const JobNames *names = job_names (job);
  guint held = 0;

  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (job, JOB_RUN, i);
      JobRunResult r;
      JobOrigin from;

      if (job_compute (job, run, JOB_OWN_METHOD, &r) && r.method >= 0)
        {
          g_autoptr (JobRecord) read = job_record_new (JOB_RUN, 1, 0);
          g_autofree char *class_text = inherited (job, run, "class", &from);
          g_autofree char *method = inherited (job, run, "method", &from);

          g_assert_true (job_record_read (read, job_field_find (JOB_RUN, "class"), class_text, names, NULL));
          if (run->num[RUN_CLASS] == JOB_UNSET)
            g_assert_cmpint (ABS (read->num[RUN_CLASS]), ==, ABS (r.shape.pressure));
          if (!run->text[RUN_METHOD])
            g_assert_cmpstr (method, ==, catalogue_method (job_basis (job)->catalogue, r.asked)->key);
          held++;
        }
      job_run_result_clear (&r);
    }
  g_assert_cmpuint (held, >, 20);
}

static void
change (TallyJob *job, JobType type, gint64 id, const char *key, const char *text)
{
  g_assert_true (job_edit_field (job, type, id, job_field_find (type, key), text, NULL, NULL));
}

/* Cell before system before job; what is entered on the run itself changes nothing of it; unreadable text is nobody's. */
static void
test_order (void)
{
  g_autoptr (TallyJob) job = demo ();
  const JobRecord *run = job_at (job, JOB_RUN, 0);
  gint64 system = run->num[RUN_SYSTEM], id = run->id;
  g_autofree char *nowhere = NULL, *of_job = NULL, *of_system = NULL, *again = NULL, *of_cell = NULL;
  JobEdit *edit;
  JobRecord *cell;
  JobOrigin from;

  for (guint i = job_n (job, JOB_CELL); i-- > 0;)
    {
      edit = job_edit_new ("x");
      job_edit_add (edit, job_record_ref (job_at (job, JOB_CELL, i)), NULL);
      g_assert_true (job_apply (job, edit, NULL));
    }
  change (job, JOB_SYSTEM, system, "exposure", "");
  change (job, JOB_HEAD, job_head (job)->id, "exposure", "");
  nowhere = inherited (job, run, "exposure", &from);
  g_assert_cmpint (from, ==, JOB_FROM_NOWHERE);
  g_assert_cmpstr (nowhere, ==, "");
  change (job, JOB_HEAD, job_head (job)->id, "exposure", "outdoors");
  of_job = inherited (job, run, "exposure", &from);
  g_assert_cmpint (from, ==, JOB_FROM_JOB);
  g_assert_cmpstr (of_job, ==, "outdoors");
  change (job, JOB_SYSTEM, system, "exposure", "indoors");
  of_system = inherited (job, run, "exposure", &from);
  g_assert_cmpint (from, ==, JOB_FROM_SYSTEM);
  g_assert_cmpstr (of_system, ==, "indoors");
  change (job, JOB_SYSTEM, system, "exposure", "on the moon");
  again = inherited (job, run, "exposure", &from);
  g_assert_cmpint (from, ==, JOB_FROM_JOB);

  cell = job_record_new (JOB_CELL, job_take_id (job, JOB_CELL), 0);
  cell->num[CELL_SYSTEM] = system;
  cell->num[CELL_AREA] = run->num[RUN_AREA];
  g_assert_true (job_record_read (cell, job_field_find (JOB_CELL, "exposure"), "indoors", job_names (job), NULL));
  edit = job_edit_new ("x");
  job_edit_add (edit, NULL, cell);
  g_assert_true (job_apply (job, edit, NULL));
  change (job, JOB_RUN, id, "exposure", "outdoors");
  run = job_find (job, JOB_RUN, id);
  of_cell = inherited (job, run, "exposure", &from);
  g_assert_cmpint (from, ==, JOB_FROM_CELL);
  g_assert_cmpstr (of_cell, ==, "indoors");
}

static void
test_fields (void)
{
  g_assert_true (job_inherits (job_field_find (JOB_RUN, "method")));
  g_assert_false (job_inherits (job_field_find (JOB_RUN, "size")));
  g_assert_false (job_inherits (job_field_find (JOB_RUN, "system")));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/inherit/demo", test_demo);
  g_test_add_func ("/inherit/order", test_order);
  g_test_add_func ("/inherit/fields", test_fields);
  return g_test_run ();
}
