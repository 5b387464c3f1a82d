/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "job/cell.h"

#include "job/note-line.h"

#include <string.h>

/* What is typed into one cell of a run. Sizes, words and jobs: invented demo; the words are common practice. */

static TallyJob *
new_job (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  TallyJob *job = job_new (catalogue, "cells");

  g_assert_true (job_edit_field (job, JOB_HEAD, 1, job_field_find (JOB_HEAD, "rule_set"), "demo", NULL, NULL));
  g_assert_true (job_edit_field (job, JOB_HEAD, 1, job_field_find (JOB_HEAD, "method"), "slip-on-bolted", NULL, NULL));
  return job;
}

static gboolean
cell (TallyJob *job, JobRecord *run, const char *key, const char *text)
{
  Fault *fault = NULL;
  gboolean read = job_cell_read (run, job_field_find (JOB_RUN, key), text, job_names (job), &fault);

  g_assert_true (read == (fault == NULL));
  g_clear_pointer (&fault, fault_free);
  return read;
}

static void
assert_field (TallyJob *job, const JobRecord *run, const char *key, const char *expected)
{
  g_autofree char *text = job_record_print (run, job_field_find (JOB_RUN, key), job_names (job));

  g_assert_cmpstr (text, ==, expected);
}

static void
test_words (void)
{
  static const struct
  {
    const char *key, *typed, *means; /* means NULL: it is not understood */
  } rows[] = {
    { "kind", "elbow", "radius elbow" },   { "kind", "EL", "radius elbow" },       { "kind", "bend", "radius elbow" },
    { "kind", "mitre", "mitred elbow" },   { "kind", "square elbow", "mitred elbow" }, { "kind", "str", "straight" },
    { "kind", "trans", "transition" },     { "kind", "mit", "mitred elbow" },      { "kind", "cap", "end cap" },
    { "kind", "spiral", "round duct" },    { "kind", "remark", "note" },           { "kind", " Tap ", "tap" },
    { "kind", "s", NULL },                 { "kind", "strait", NULL },             { "kind", "galv", NULL },
    { "metal", "galv", "galvanised" },     { "metal", "aluminum", "aluminium" },   { "metal", "elbow", NULL },
    { "first_end", "flexible", "flexible connector" }, { "exposure", "outdoors", "outdoors" },
  };
  g_autoptr (TallyJob) job = new_job ();

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (JobRecord) run = job_record_new (JOB_RUN, 0, 0);
      if (cell (job, run, rows[i].key, rows[i].typed) != (rows[i].means != NULL))
        g_error ("“%s” as %s", rows[i].typed, rows[i].key);
      assert_field (job, run, rows[i].key, rows[i].means ? rows[i].means : rows[i].typed);
    }
}

/* The cell of the size is both sizes, and what is typed into it is all of it. */
static void
test_sizes (void)
{
  static const char *const marks[] = { " > ", ">", " -> ", " to ", " → " };
  g_autoptr (TallyJob) job = new_job ();

  for (gsize i = 0; i < G_N_ELEMENTS (marks); i++)
    {
      g_autoptr (JobRecord) run = job_record_new (JOB_RUN, 0, 0);
      g_autofree char *text = g_strconcat ("24x12", marks[i], "18x10", NULL);
      g_assert_true (cell (job, run, "kind", "transition"));
      g_assert_true (cell (job, run, "size", text));
      assert_field (job, run, "size", "24x12");
      assert_field (job, run, "size2", "18x10");
      g_assert_true (cell (job, run, "size", "20x10"));
      assert_field (job, run, "size", "20x10");
      assert_field (job, run, "size2", "");
      g_assert_false (cell (job, run, "size", "24x12 > garbage"));
      assert_field (job, run, "size", "24x12");
      assert_field (job, run, "size2", "garbage");
      g_assert_true (job_cell_wrong (job, run, job_field_find (JOB_RUN, "size2"), NULL));
      g_assert_false (cell (job, run, "size", "garbage"));
      assert_field (job, run, "size", "garbage");
      assert_field (job, run, "size2", "");
    }
}

/* A second size on a straight is kept, and told. */
static void
test_second_on_straight (void)
{
  g_autoptr (TallyJob) job = new_job ();
  g_autoptr (JobRecord) run = job_record_new (JOB_RUN, 0, 0);

  g_assert_true (cell (job, run, "kind", "straight"));
  g_assert_true (cell (job, run, "size", "24x12 > 18x10"));
  g_assert_true (job_field_unused (run, job_field_find (JOB_RUN, "size2")));
  g_autofree char *words = job_caution_words (job_basis (job)->catalogue, run);
  g_assert_nonnull (strstr (words, "Second size is not used"));
}

/* Each says what is wrong in it, whichever of them is why the run is not priced. */
static void
test_wrong (void)
{
  g_autoptr (TallyJob) job = new_job ();
  g_autoptr (JobRecord) run = job_record_new (JOB_RUN, 0, 0);
  Fault *fault = NULL;
  JobRunResult r;

  cell (job, run, "kind", "straight");
  cell (job, run, "size", "24x12");
  cell (job, run, "class", "2");
  cell (job, run, "length", "long");
  cell (job, run, "method", "nailed");
  cell (job, run, "gauge", "99");
  g_assert_false (job_compute (job, run, JOB_OWN_METHOD, &r));
  g_assert_cmpint (r.fault_field, ==, job_field_find (JOB_RUN, "length"));
  job_run_result_clear (&r);
  g_assert_true (job_cell_wrong (job, run, job_field_find (JOB_RUN, "length"), NULL));
  g_assert_true (job_cell_wrong (job, run, job_field_find (JOB_RUN, "gauge"), NULL));
  g_assert_false (job_cell_wrong (job, run, job_field_find (JOB_RUN, "size"), NULL));
  g_assert_true (job_cell_wrong (job, run, job_field_find (JOB_RUN, "method"), &fault));
  g_assert_nonnull (strstr (fault->what, "nailed"));
  /* The remedy names the keys there are. */
  g_assert_nonnull (strstr (fault->remedy, "slip-on-bolted"));
  g_assert_nonnull (strstr (fault->remedy, "slip-and-drive"));
  fault_free (fault);
  cell (job, run, "length", "20");
  cell (job, run, "gauge", "22");
  g_assert_false (job_compute (job, run, JOB_OWN_METHOD, &r));
  g_assert_cmpint (r.fault_field, ==, job_field_find (JOB_RUN, "method"));
  g_assert_nonnull (strstr (r.fault->remedy, "slip-and-drive"));
  job_run_result_clear (&r);
  /* In any case. */
  cell (job, run, "method", "Slip-And-Drive");
  g_assert_false (job_cell_wrong (job, run, job_field_find (JOB_RUN, "method"), NULL));
  g_assert_true (job_compute (job, run, JOB_OWN_METHOD, &r));
  g_assert_cmpint (r.asked, ==, catalogue_find_method (job_basis (job)->catalogue, "slip-and-drive"));
  job_run_result_clear (&r);
}

static void
test_minutes (void)
{
  static const struct
  {
    const char *item, *field, *price;
    gboolean missing;
  } rows[] = { { "access door 12 in", "", "", TRUE },  { "access door 12 in", "25", "", FALSE }, { "access door 12 in", "0", "", FALSE },
               { "access door 12 in", "", "40", TRUE }, { "lift week", "", "", FALSE },           { "", "", "950", FALSE } };
  g_autoptr (TallyJob) job = new_job ();
  const Catalogue *catalogue = job_basis (job)->catalogue;

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (JobRecord) run = job_record_new (JOB_RUN, 0, 0);
      g_assert_true (cell (job, run, "kind", "counted"));
      /* The item stands in the cell of the size. */
      g_assert_true (cell (job, run, "size", rows[i].item));
      g_assert_true (cell (job, run, "field_minutes", rows[i].field));
      g_assert_true (cell (job, run, "price", rows[i].price));
      g_autofree char *words = job_caution_words (catalogue, run);
      g_assert_cmpint (job_minutes_missing (catalogue, run), ==, rows[i].missing);
      g_assert_true ((words != NULL && strstr (words, "no minutes: 0.0 h")) == rows[i].missing);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/cell/words", test_words);
  g_test_add_func ("/cell/sizes", test_sizes);
  g_test_add_func ("/cell/second-on-straight", test_second_on_straight);
  g_test_add_func ("/cell/wrong", test_wrong);
  g_test_add_func ("/cell/minutes", test_minutes);
  return g_test_run ();
}
