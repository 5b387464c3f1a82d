/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/bench.h"

/* The starter catalogue with its last method left out: four remain. */
static Catalogue *
four_methods (void)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new ();
  CsvTable *table[CATALOGUE_N_SHEETS];
  Catalogue *catalogue;

  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    table[i] = catalogue_data (catalogue_sheet_key ((CatalogueSheet) i), faults);
  while (table[CATALOGUE_METHODS]->row->len > 4)
    g_ptr_array_remove_index (table[CATALOGUE_METHODS]->row, 4);
  /* The methods for round duct are among those left out. */
  for (guint i = 0; i < table[CATALOGUE_METHODS]->row->len; i++)
    {
      GPtrArray *cell = ((CsvRow *) g_ptr_array_index (table[CATALOGUE_METHODS]->row, i))->cell;
      int round = csv_column (table[CATALOGUE_METHODS], "round");
      g_free (g_ptr_array_index (cell, round));
      g_ptr_array_index (cell, round) = g_strdup ("");
    }
  catalogue = catalogue_new (table, faults);
  if (!catalogue)
    g_error ("the starter catalogue does not load");
  return catalogue;
}

static void
add_places (TallyJob *job)
{
  JobEdit *edit = job_edit_new ("places");

  for (int i = 1; i <= 12; i++)
    {
      JobRecord *area = job_record_new (JOB_AREA, job_take_id (job, JOB_AREA), i);
      g_autofree char *name = g_strdup_printf ("Level %d", i);
      job_record_set_text (area, AREA_KEY, name);
      area->num[AREA_FACTOR] = 1000000 + 10000 * i;
      job_edit_add (edit, NULL, area);
    }
  for (int i = 1; i <= 8; i++)
    {
      JobRecord *system = job_record_new (JOB_SYSTEM, job_take_id (job, JOB_SYSTEM), i);
      g_autofree char *name = g_strdup_printf ("S-%d", i);
      job_record_set_text (system, SYSTEM_KEY, name);
      system->num[SYSTEM_CLASS] = i % 2 ? 2000 : 1000;
      job_edit_add (edit, NULL, system);
    }
  if (!job_apply (job, edit, NULL))
    g_error ("the benchmark job cannot be set up");
}

static JobRecord *
make_run (TallyJob *job, guint i, gboolean distinct)
{
  static const DuctKind kinds[] = { DUCT_STRAIGHT, DUCT_STRAIGHT, DUCT_STRAIGHT, DUCT_RADIUS_ELBOW, DUCT_TRANSITION, DUCT_TAP };
  JobRecord *run = job_record_new (JOB_RUN, job_take_id (job, JOB_RUN), ((gint64) i + 1) << 20);
  guint v = distinct ? i : i % 300;

  run->num[RUN_SYSTEM] = 1 + v % 8;
  run->num[RUN_AREA] = 1 + v / 8 % 12;
  run->num[RUN_KIND] = kinds[v % G_N_ELEMENTS (kinds)];
  run->num[RUN_W] = (8 + 2 * (v / 6 % 30)) * LENGTH_NM_PER_IN;
  run->num[RUN_H] = (6 + 2 * (v / 11 % 12)) * LENGTH_NM_PER_IN;
  if (run->num[RUN_KIND] == DUCT_STRAIGHT)
    run->num[RUN_LENGTH] = 10 * LENGTH_NM_PER_FT + (gint64) v * 396875; /* 1/64 in apart: no two alike */
  else
    run->num[RUN_W] += distinct ? (gint64) v * 6350 : 0;
  if (run->num[RUN_KIND] == DUCT_TRANSITION)
    {
      run->num[RUN_W2] = run->num[RUN_W] - 2 * LENGTH_NM_PER_IN;
      run->num[RUN_H2] = run->num[RUN_H];
    }
  run->num[RUN_COUNT] = 1000;
  return run;
}

TallyJob *
bench_job (guint rows, gboolean distinct)
{
  g_autoptr (Catalogue) catalogue = four_methods ();
  TallyJob *job = job_new (catalogue, "Benchmark");
  JobEdit *edit = job_edit_new ("runs");

  job_edit_field (job, JOB_HEAD, 1, job_field_find (JOB_HEAD, "method"), "slip-on-bolted", NULL, NULL);
  job_edit_field (job, JOB_HEAD, 1, job_field_find (JOB_HEAD, "rule_set"), "demo", NULL, NULL);
  add_places (job);
  for (guint i = 0; i < rows; i++)
    job_edit_add (edit, NULL, make_run (job, i, distinct));
  if (!job_apply (job, edit, NULL))
    g_error ("the benchmark job cannot be filled");
  return job;
}
