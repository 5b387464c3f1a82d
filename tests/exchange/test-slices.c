/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading a CSV of runs in slices gives what reading it at once gives. Lines and figures: invented demo. */
#include "exchange/runs-csv.h"

static CsvTable *
make_table (void)
{
  static const char *const lines[] = { "SA-1,Plant,straight,24x12,10,1,2", "SA-1,Loft,straight,24 by,10,1,2", "XA-9,Loft,tap,12x8,,2,",
                                       "SA-1,Plant,elbow of some sort,,,1,6", "XA-9,Plant,straight,20x10,long,1,2" };
  g_autoptr (GString) text = g_string_new ("system,area,kind,size,length,count,class\n");

  for (guint i = 0; i < 103; i++)
    g_string_append_printf (text, "%s\n", lines[i * 7 % G_N_ELEMENTS (lines)]);
  return csv_parse (text->str, -1, "runs.csv", NULL);
}

static void
assert_same_record (const JobRecord *a, const JobRecord *b, gboolean named)
{
  for (int field = 0; field < job_type_info (a->type)->n_fields; field++)
    g_assert_cmpstr (job_record_raw (a, field), ==, job_record_raw (b, field));
  for (int i = 0; i < job_type_info (a->type)->n_text; i++)
    g_assert_cmpstr (a->text[i], ==, b->text[i]);
  /* Ids of new systems and areas are taken anew at each reading. */
  for (int i = 0; i < job_type_info (a->type)->n_num; i++)
    if (named || (i != RUN_SYSTEM && i != RUN_AREA))
      g_assert_cmpint (a->num[i], ==, b->num[i]);
}

static void
test_same (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = exchange_demo_job (catalogue);
  g_autoptr (CsvTable) table = make_table ();
  g_autoptr (RunsImport) whole = runs_import_new (job, table), sliced = runs_import_new (job, table);
  guint steps = 1;

  runs_import_read (whole, job);
  runs_import_begin (sliced);
  g_assert_cmpuint (sliced->runs->len, ==, 0);
  while (runs_import_step (sliced, job, 10))
    g_assert_cmpuint (sliced->runs->len, ==, 10 * steps++);
  g_assert_cmpuint (steps, ==, 11);
  g_assert_false (runs_import_step (sliced, job, 10));
  g_assert_cmpuint (whole->runs->len, ==, 103);
  g_assert_cmpuint (sliced->runs->len, ==, 103);
  for (guint i = 0; i < 103; i++)
    assert_same_record (g_ptr_array_index (whole->runs, i), g_ptr_array_index (sliced->runs, i), FALSE);
  g_assert_cmpuint (whole->faults->len, >, 20);
  g_assert_cmpuint (sliced->faults->len, ==, whole->faults->len);
  for (guint i = 0; i < whole->faults->len; i++)
    {
      g_autofree char *a = csv_fault_words (g_ptr_array_index (whole->faults, i));
      g_autofree char *b = csv_fault_words (g_ptr_array_index (sliced->faults, i));
      g_assert_cmpstr (a, ==, b);
    }
  g_assert_cmpuint (sliced->new_systems->len, ==, 1);
  g_assert_cmpuint (sliced->new_areas->len, ==, 1);
}

/* Begun again in the middle nothing is there twice, and the edit is taken whole. */
static void
test_again (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = exchange_demo_job (catalogue);
  g_autoptr (CsvTable) table = make_table ();
  g_autoptr (RunsImport) import = runs_import_new (job, table);
  g_autoptr (GError) error = NULL;
  guint before = job_n (job, JOB_RUN);

  runs_import_begin (import);
  g_assert_true (runs_import_step (import, job, 50));
  runs_import_begin (import);
  g_assert_false (runs_import_step (import, job, 1000));
  g_assert_cmpuint (import->runs->len, ==, 103);
  g_assert_cmpuint (import->new_systems->len, ==, 1);
  g_assert_true (job_apply (job, runs_import_edit (import, job, TRUE), &error));
  g_assert_no_error (error);
  g_assert_cmpuint (job_n (job, JOB_RUN), ==, before + 103);
  g_assert_true (job_check_totals (job));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/exchange/slices/same", test_same);
  g_test_add_func ("/exchange/slices/again", test_again);
  return g_test_run ();
}
