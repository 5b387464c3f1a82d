/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "exchange/runs-csv.h"

#include <string.h>

/* Jobs, files and figures: invented demo (demo.md, and data/demo-*.csv from it). */

typedef struct
{
  TallyJob *job;
  CsvTable *table;
  GPtrArray *parse_faults;
  RunsImport *import;
} Fixture;

static void
read_text (Fixture *f, TallyJob *job, const char *text)
{
  f->job = g_object_ref (job);
  f->parse_faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  f->table = csv_parse (text, -1, "runs.csv", f->parse_faults);
  g_assert_nonnull (f->table);
  f->import = runs_import_new (job, f->table);
  runs_import_read (f->import, job);
}

static void
clear (Fixture *f)
{
  runs_import_free (f->import);
  csv_table_free (f->table);
  g_ptr_array_unref (f->parse_faults);
  g_object_unref (f->job);
}

static const JobRecord *
run_at (const Fixture *f, guint i)
{
  return g_ptr_array_index (f->import->runs, i);
}

static char *
fault_words_at (const Fixture *f, guint i)
{
  g_assert_cmpuint (i, <, f->import->faults->len);
  return csv_fault_words (g_ptr_array_index (f->import->faults, i));
}

static TallyJob *
empty_job (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();

  return job_new (catalogue, "import");
}

static TallyJob *
demo_job (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();

  return exchange_demo_job (catalogue);
}

/* Text of every record of a job, to see that nothing changed. */
static char *
state_of (TallyJob *job)
{
  GString *out = g_string_new (NULL);

  for (int t = 0; t < JOB_N_TYPES; t++)
    for (guint i = 0; i < job_n (job, (JobType) t); i++)
      {
        const JobRecord *r = job_at (job, (JobType) t, i);
        g_string_append_printf (out, "%d %" G_GINT64_FORMAT " %" G_GINT64_FORMAT, t, r->id, r->ord);
        for (int f = 0; f < job_type_info ((JobType) t)->n_fields; f++)
          {
            g_autofree char *text = job_record_print (r, f, job_names (job));
            g_string_append_printf (out, "|%s", text);
          }
        g_string_append_c (out, '\n');
      }
  return g_string_free (out, FALSE);
}

/* Whether two runs hold the same, id and order aside. */
static void
assert_same_run (const JobRecord *a, const JobRecord *b)
{
  g_autoptr (JobRecord) x = job_record_copy (a), y = job_record_copy (b);

  x->id = y->id = 0;
  x->ord = y->ord = 0;
  g_assert_true (job_record_equal (x, y));
}

/* demo.md: 104 runs and 11 counted lines, three systems, three areas, nine cells. */
static void
test_demo (void)
{
  g_autoptr (TallyJob) job = demo_job ();
  int kinds[DUCT_N_KINDS] = { 0 }, own_class = 0, outdoors = 0;
  const JobRecord *system = job_at (job, JOB_SYSTEM, 1);

  g_assert_cmpuint (job_n (job, JOB_RUN), ==, 115);
  g_assert_cmpuint (job_n (job, JOB_SYSTEM), ==, 3);
  g_assert_cmpuint (job_n (job, JOB_AREA), ==, 3);
  g_assert_cmpuint (job_n (job, JOB_CELL), ==, 9);
  g_assert_cmpuint (job_n (job, JOB_CHANGE), ==, 0);
  g_assert_cmpstr (job_head (job)->text[HEAD_NAME], ==, "Brindlemoor Archive and Reading Rooms");
  g_assert_cmpstr (job_head (job)->text[HEAD_METHOD], ==, "slip-on-bolted");
  g_assert_cmpstr (system->text[SYSTEM_KEY], ==, "RA-1");
  g_assert_cmpint (system->num[SYSTEM_SIGN], ==, 1);
  g_assert_cmpint (job_at (job, JOB_AREA, 0)->num[AREA_FACTOR], ==, 1100000);
  g_assert_cmpint (job_at (job, JOB_AREA, 0)->num[AREA_HEIGHT], ==, 14 * LENGTH_NM_PER_FT);
  g_assert_null (job_undo_label (job));
  for (guint i = 0; i < 115; i++)
    {
      const JobRecord *run = job_at (job, JOB_RUN, i);
      kinds[run->num[RUN_KIND]]++;
      own_class += run->num[RUN_CLASS] != JOB_UNSET;
      outdoors += run->num[RUN_EXPOSURE] == DUCT_OUTDOORS;
      g_assert_null (run->raw);
      g_assert_true (run->num[RUN_SYSTEM] != JOB_UNSET && run->num[RUN_AREA] != JOB_UNSET);
    }
  g_assert_cmpint (kinds[DUCT_COUNTED], ==, 11);
  g_assert_cmpint (outdoors, ==, 1);
  /* Counted by hand in runs.csv: class 1 below the class 4 cells of SA-1 (5 on Level 1, 5 on Level 2), -1 below -2 of
   * RA-1 (2 and 2), -1/2 below -1 of EA-1 (5 and 5). */
  g_assert_cmpint (own_class, ==, 24);
  /* The first run: an end at the unit, a length in feet, class 6 inherited from its cell. */
  const JobRecord *first = job_at (job, JOB_RUN, 0);
  g_assert_cmpint (first->num[RUN_LENGTH], ==, 14 * LENGTH_NM_PER_FT);
  g_assert_cmpint (first->num[RUN_W], ==, 96 * LENGTH_NM_PER_IN);
  g_assert_cmpint (first->num[RUN_FIRST_END], ==, DUCT_END_EQUIPMENT);
  g_assert_cmpint (first->num[RUN_CLASS], ==, JOB_UNSET);
}

/* demo.md: the addendum reaches the ten runs that inherit the class of SA-1 x Level 1. */
static void
test_addendum_reach (void)
{
  g_autoptr (TallyJob) job = demo_job ();
  const JobNames *names = job_names (job);
  gint64 system = names->find (names->data, JOB_SYSTEM, "SA-1"), area = names->find (names->data, JOB_AREA, "Level 1");
  int inheriting = 0;

  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (job, JOB_RUN, i);
      inheriting += run->num[RUN_SYSTEM] == system && run->num[RUN_AREA] == area && run->num[RUN_KIND] != DUCT_COUNTED
                    && run->num[RUN_CLASS] == JOB_UNSET;
    }
  g_assert_cmpint (inheriting, ==, 10);
}

static void
test_demo_file (void)
{
  g_autoptr (TallyJob) job = empty_job ();
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (CsvTable) table = catalogue_data ("demo-runs", faults);
  g_autoptr (RunsImport) import = runs_import_new (job, table);
  g_autofree char *before = state_of (job);

  runs_import_read (import, job);
  g_assert_cmpuint (import->faults->len, ==, 0);
  g_assert_cmpuint (import->runs->len, ==, 115);
  g_assert_cmpuint (import->new_systems->len, ==, 3);
  g_assert_cmpuint (import->new_areas->len, ==, 3);
  /* A new system is its name and no more. */
  const JobRecord *system = g_ptr_array_index (import->new_systems, 0);
  g_assert_cmpstr (system->text[SYSTEM_KEY], ==, "SA-1");
  for (int i = 0; i < SYSTEM_N_NUM; i++)
    g_assert_cmpint (system->num[i], ==, JOB_UNSET);

  /* Read, made into an edit and not accepted: the job is as before. */
  g_autoptr (JobEdit) left = runs_import_edit (import, job, FALSE);
  g_autofree char *after = state_of (job);
  g_assert_cmpstr (before, ==, after);
  g_assert_cmpuint (left->deltas->len, ==, 121);

  g_assert_true (job_apply (job, g_steal_pointer (&left), NULL));
  g_assert_cmpuint (job_n (job, JOB_RUN), ==, 115);
  g_assert_cmpuint (job_n (job, JOB_SYSTEM), ==, 3);
  g_assert_true (job_undo (job, NULL));
  g_autofree char *undone = state_of (job);
  g_assert_cmpstr (before, ==, undone);
}

/* The columns in another order give the same runs. */
static void
test_shuffled (void)
{
  g_autoptr (TallyJob) job = empty_job ();
  g_autoptr (GRand) rand = g_rand_new_with_seed (20240615);
  g_autoptr (CsvTable) table = catalogue_data ("demo-runs", NULL);
  g_autoptr (RunsImport) import = runs_import_new (job, table);
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree int *order = g_new (int, table->head->len);
  guint n = table->head->len;
  Fixture f;

  for (guint c = 0; c < n; c++)
    order[c] = (int) c;
  for (guint c = n - 1; c > 0; c--)
    {
      int other = g_rand_int_range (rand, 0, (gint32) c + 1), kept = order[c];
      order[c] = order[other];
      order[other] = kept;
    }
  for (guint c = 0; c < n; c++)
    {
      g_autofree char *loud = g_ascii_strup (g_ptr_array_index (table->head, (guint) order[c]), -1);
      csv_append_cell (text, loud, c == 0);
    }
  g_string_append_c (text, '\n');
  for (guint row = 0; row < table->row->len; row++)
    {
      for (guint c = 0; c < n; c++)
        csv_append_cell (text, csv_cell (table, row, order[c]), c == 0);
      g_string_append_c (text, '\n');
    }
  /* Accepted first, so that both know the systems by the same ids. */
  runs_import_read (import, job);
  g_assert_true (job_apply (job, runs_import_edit (import, job, FALSE), NULL));
  read_text (&f, job, text->str);
  g_assert_cmpuint (f.import->faults->len, ==, 0);
  g_assert_cmpuint (f.import->runs->len, ==, 115);
  g_assert_cmpuint (f.import->new_systems->len, ==, 0);
  for (guint i = 0; i < 115; i++)
    assert_same_run (run_at (&f, i), job_at (job, JOB_RUN, i));
  clear (&f);
}

/* One bad cell in a line that is whole without it. */
static const struct
{
  const char *head, *good, *bad;
  int column;
  const char *words[2]; /* what is wrong, what to do */
} bad_cells[] = {
  { "kind,size,length", "straight,24x12,46", "strait,24x12,46", 1, { "strait", "radius elbow" } },
  { "kind,size,length", "straight,24x12,46", ",24x12,46", 1, { "no kind", "mitred elbow" } },
  { "kind,size,length", "straight,24x12,46", "straight,24,46", 2, { "two sides", "24x12" } },
  { "kind,size,length", "straight,24x12,46", "straight,,46", 2, { "no size", "24x12" } },
  { "kind,size,length", "straight,24x12,46", "straight,24x1,46", 2, { "1 in", "over" } },
  { "kind,size,length", "straight,24x12,46", "straight,24x12,fortysix", 3, { "not understood", "600 mm" } },
  { "kind,size,length", "straight,24x12,46", "straight,24x12,\"1,200\"", 3, { "comma", "point" } },
  { "kind,size,length", "straight,24x12,46", "straight,24x12,", 3, { "length", "enter it" } },
  { "kind,size,length", "straight,24x12,46", "straight,24x12,-46", 3, { "not over 0", "positive" } },
  { "kind,size,size2", "transition,24x12,18x10", "transition,24x12,18by", 3, { "number", "24" } },
  { "kind,size,size2", "transition,24x12,18x10", "transition,24x12,", 3, { "no size", "18x10" } },
  { "kind,size,count", "tap,24x12,3", "tap,24x12,three", 3, { "not", "" } },
  { "kind,size,count", "tap,24x12,3", "tap,24x12,0", 3, { "bounds", "figure from" } },
  { "kind,size,count", "tap,24x12,3", "tap,24x12,2.5", 3, { "whole", "whole" } },
  { "kind,size,angle", "radius elbow,24x12,90", "radius elbow,24x12,right", 3, { "not understood", "" } },
  { "kind,size,angle", "mitred elbow,24x12,90", "mitred elbow,24x12,120", 3, { "too large", "check" } },
  { "kind,size,throat", "radius elbow,24x12,24", "radius elbow,24x12,R", 3, { "not understood", "600 mm" } },
  { "kind,size,offset", "offset,24x12,12", "offset,24x12,60", 3, { "aside", "longer" } },
  { "kind,size,legs", "mitred elbow,24x12,6", "mitred elbow,24x12,six", 3, { "not understood", "" } },
  { "kind,size,on_edge", "radius elbow,24x12,yes", "radius elbow,24x12,maybe", 3, { "maybe", "yes" } },
  { "kind,size,first_end", "end cap,24x12,open", "end cap,24x12,fan", 3, { "fan", "equipment" } },
  { "kind,size,first_end", "tap,24x12,", "tap,24x12,open", 3, { "no first end", "clear" } },
  { "kind,size,last_end", "end cap,24x12,", "end cap,24x12,open", 3, { "no last end", "clear" } },
  { "kind,size,fit_pieces", "tap,24x12,1", "tap,24x12,some", 3, { "not", "" } },
  { "kind,size,class", "tap,24x12,-1/2", "tap,24x12,low", 3, { "not understood", "500 Pa" } },
  { "kind,size,exposure", "tap,24x12,outdoors", "tap,24x12,roof", 3, { "roof", "outdoors" } },
  { "kind,size,metal", "tap,24x12,stainless", "tap,24x12,tin", 3, { "tin", "galvanised" } },
  { "kind,item,price", "counted,rod,1.50", "counted,rod,1.55555", 3, { "", "" } },
  { "kind,item,shop_minutes", "counted,rod,10", "counted,rod,-10", 3, { "bounds", "figure from" } },
  { "kind,item,field_minutes", "counted,rod,10", "counted,rod,1h", 3, { "not", "" } },
  { "kind,item", "counted,rod", "counted,", 2, { "nothing", "item" } },
};

static void
test_bad_cells (void)
{
  g_autoptr (TallyJob) job = empty_job ();

  for (gsize i = 0; i < G_N_ELEMENTS (bad_cells); i++)
    {
      g_autofree char *text = g_strdup_printf ("# comment\n%s\n%s\n\n%s\n%s\n", bad_cells[i].head, bad_cells[i].good,
                                               bad_cells[i].bad, bad_cells[i].good);
      g_autofree char *place = g_strdup_printf ("runs.csv:5, column %d (", bad_cells[i].column);
      Fixture f;

      read_text (&f, job, text);
      if (f.import->faults->len != 1)
        g_error ("“%s”: %u faults", bad_cells[i].bad, f.import->faults->len);
      const CsvFault *fault = g_ptr_array_index (f.import->faults, 0);
      g_autofree char *words = csv_fault_words (fault);
      if (!g_str_has_prefix (words, place) || !strstr (fault->what, bad_cells[i].words[0])
          || !strstr (fault->remedy, bad_cells[i].words[1]) || !*fault->what || !*fault->remedy)
        g_error ("“%s”: %s", bad_cells[i].bad, words);
      g_assert_cmpuint (f.import->runs->len, ==, 3);

      /* The two good lines come in, the bad one only when asked for, as typed. */
      g_autoptr (JobEdit) good = runs_import_edit (f.import, job, FALSE);
      g_autoptr (JobEdit) all = runs_import_edit (f.import, job, TRUE);
      g_assert_cmpuint (good->deltas->len, ==, 2);
      g_assert_cmpuint (all->deltas->len, ==, 3);
      clear (&f);
    }
}

static void
test_faulty_kept (void)
{
  g_autoptr (TallyJob) job = empty_job ();
  JobRunResult result;
  Fixture f;

  read_text (&f, job, "system,kind,size,length,count\nSA-9,straight,24x12,forty,x\nSA-8,straight,24x12,46,2\n");
  g_assert_cmpuint (f.import->faults->len, ==, 2); /* both cells of the one line */
  g_assert_cmpuint (f.import->new_systems->len, ==, 2);
  g_autoptr (JobEdit) good = runs_import_edit (f.import, job, FALSE);
  g_assert_cmpuint (good->deltas->len, ==, 2); /* SA-9 is named by the faulty line alone */
  g_assert_true (job_apply (job, runs_import_edit (f.import, job, TRUE), NULL));
  clear (&f);

  const JobRecord *run = job_at (job, JOB_RUN, 0);
  g_assert_cmpstr (job_record_raw (run, job_field_find (JOB_RUN, "length")), ==, "forty");
  g_assert_cmpstr (job_record_raw (run, job_field_find (JOB_RUN, "count")), ==, "x");
  g_assert_false (job_compute (job, run, JOB_OWN_METHOD, &result));
  g_assert_nonnull (result.fault);
  job_run_result_clear (&result);
}

static void
test_units (void)
{
  g_autoptr (TallyJob) job = empty_job ();
  Fixture f;

  read_text (&f, job,
             "kind;size;length;throat;count\n"
             "straight;24x12;46;;\n"
             "transition;24x12;30 in;;1\n"
             "straight;600x300 mm;0.75 m;;2\n"
             "radius elbow;24 x 12 in;;1 ft;\n");
  g_assert_cmpuint (f.import->faults->len, ==, 1); /* the transition has no second size */
  g_assert_cmpint (run_at (&f, 0)->num[RUN_LENGTH], ==, 46 * LENGTH_NM_PER_FT);
  g_assert_cmpint (run_at (&f, 0)->num[RUN_COUNT], ==, JOB_UNSET);
  g_assert_cmpint (run_at (&f, 1)->num[RUN_LENGTH], ==, 30 * LENGTH_NM_PER_IN);
  g_assert_cmpint (run_at (&f, 1)->num[RUN_COUNT], ==, 1000);
  g_assert_cmpint (run_at (&f, 2)->num[RUN_LENGTH], ==, 750 * LENGTH_NM_PER_MM);
  g_assert_cmpint (run_at (&f, 2)->num[RUN_W], ==, 600 * LENGTH_NM_PER_MM);
  g_assert_cmpint (run_at (&f, 3)->num[RUN_THROAT], ==, 12 * LENGTH_NM_PER_IN);
  clear (&f);
}

static void
test_headings (void)
{
  g_autoptr (TallyJob) job = empty_job ();
  Fixture f;

  read_text (&f, job, "kind,size,lenght,length,weight\nstraight,24x12,46,46,9\n");
  g_assert_cmpuint (f.import->faults->len, ==, 2);
  g_autofree char *words = fault_words_at (&f, 0);
  g_assert_true (g_str_has_prefix (words, "runs.csv:1, column 3 (lenght): "));
  g_assert_nonnull (strstr (words, "Field minutes"));
  g_assert_nonnull (strstr (words, "Second size"));
  g_assert_cmpuint (f.import->runs->len, ==, 1);
  /* Mapped by hand, then read again. */
  f.import->field[4] = job_field_find (JOB_RUN, "note");
  f.import->field[2] = job_field_find (JOB_RUN, "count");
  runs_import_read (f.import, job);
  g_assert_cmpuint (f.import->faults->len, ==, 0);
  g_assert_cmpstr (run_at (&f, 0)->text[RUN_NOTE], ==, "9");
  g_assert_cmpint (run_at (&f, 0)->num[RUN_COUNT], ==, 46000);
  clear (&f);

  read_text (&f, job, "size,length\n24x12,46\n");
  g_assert_cmpuint (f.import->runs->len, ==, 0);
  g_assert_cmpuint (f.import->faults->len, ==, 1);
  g_autofree char *missing = fault_words_at (&f, 0);
  g_assert_true (g_str_has_prefix (missing, "runs.csv:1: "));
  g_assert_nonnull (strstr (missing, "kind"));
  g_autoptr (JobEdit) nothing = runs_import_edit (f.import, job, TRUE);
  g_assert_cmpuint (nothing->deltas->len, ==, 0);
  clear (&f);

  /* Kind alone is enough of a heading. */
  read_text (&f, job, "kind\nend cap\n");
  g_assert_cmpuint (f.import->runs->len, ==, 1);
  g_autofree char *no_size = fault_words_at (&f, 0);
  g_assert_true (g_str_has_prefix (no_size, "runs.csv:2: no size"));
  clear (&f);
}

static void
test_inherited (void)
{
  g_autoptr (TallyJob) job = demo_job ();
  Fixture f;

  read_text (&f, job,
             "system,area,kind,size,class,exposure,metal,method\n"
             "SA-1,Level 1,tap,24x12,4,indoors,galvanised,slip-on-bolted\n"
             "sa-1,LEVEL 1,tap,24x12,-4,outdoors,stainless,slip-on-driven\n"
             "RA-1,Plant,tap,24x12,-500 Pa,,,\n"
             ",,tap,24x12,4,indoors,galvanised,slip-on-bolted\n"
             "SA-1,Roof,tap,24x12,4,,,\n");
  g_assert_cmpuint (f.import->faults->len, ==, 0);
  g_assert_cmpuint (f.import->new_systems->len, ==, 0); /* sa-1 is SA-1 */
  g_assert_cmpuint (f.import->new_areas->len, ==, 1);
  for (guint i = 0; i < 5; i++)
    {
      const JobRecord *run = run_at (&f, i);
      gboolean differs = i == 1;
      g_assert_cmpint (run->num[RUN_EXPOSURE], ==, differs ? DUCT_OUTDOORS : JOB_UNSET);
      g_assert_cmpint (run->num[RUN_METAL], ==, differs ? DUCT_STAINLESS : JOB_UNSET);
      g_assert_cmpstr (run->text[RUN_METHOD], ==, differs ? "slip-on-driven" : NULL);
    }
  g_assert_cmpint (run_at (&f, 0)->num[RUN_CLASS], ==, JOB_UNSET);
  g_assert_cmpint (run_at (&f, 1)->num[RUN_CLASS], ==, -4000);
  g_assert_cmpint (run_at (&f, 1)->num[RUN_SYSTEM], ==, run_at (&f, 0)->num[RUN_SYSTEM]);
  g_assert_cmpint (run_at (&f, 1)->num[RUN_AREA], ==, run_at (&f, 0)->num[RUN_AREA]);
  g_assert_cmpint (run_at (&f, 2)->num[RUN_CLASS], ==, JOB_UNSET);
  g_assert_cmpint (run_at (&f, 3)->num[RUN_CLASS], ==, 4000); /* the job gives none */
  g_assert_cmpint (run_at (&f, 4)->num[RUN_CLASS], ==, 4000); /* a new area has no cell */
  clear (&f);
}

/* Written, read into the same job: the same runs. */
static void
check_round_trip (TallyJob *job)
{
  g_autofree char *text = exchange_runs_csv (job);
  Fixture f;

  read_text (&f, job, text);
  g_assert_cmpuint (f.parse_faults->len, ==, 0);
  g_assert_cmpuint (f.import->new_systems->len, ==, 0);
  g_assert_cmpuint (f.import->runs->len, ==, job_n (job, JOB_RUN));
  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    assert_same_run (run_at (&f, i), job_at (job, JOB_RUN, i));
  clear (&f);
}

static void
test_round_trip (void)
{
  g_autoptr (TallyJob) job = demo_job ();
  Fixture f;

  check_round_trip (job);
  /* What is hard to write: quotes, separators, comment signs, line ends, raw text, odd fractions, every field. */
  read_text (&f, job,
             "system,area,drawing,kind,size,size2,length,count,angle,throat,offset,shift,legs,on_edge,first_end,last_end,"
             "fit_pieces,class,exposure,metal,gauge,method,item,price,shop_minutes,field_minutes,note\n"
             "\"#1 \"\"north\"\"\",\"a;b,c\",\"M\n2\",transition,600x300 mm,12 1/3x9,1/3,2,,,,-1/64,,no,raw,sleeve,3,1.125,"
             "outdoors,aluminium,22,slip-and-drive,,,,,\"90°; =1+1\"\n"
             "SA-1,Level 1,,mitred elbow,9.7x8,,,,22.5,,,,5,yes,joint,open,,-1 1/2,,black steel,,,,,,,\n"
             "SA-1,Level 1,,radius elbow,9.7x8,,,,12.345678,7.123456,,,,,,,,,,,,,,,,,\n"
             ",,,counted,,,2'-6 1/2\",0.125,,,,,,,,,,,,,,,lift week,12.3456,1.5,0.000001,\n"
             "SA-1,,,wedge,24by,,  long ,two,,,,,,,,,,,,,,,,,,,\n");
  g_assert_true (job_apply (job, runs_import_edit (f.import, job, TRUE), NULL));
  clear (&f);
  g_assert_cmpuint (job_n (job, JOB_RUN), ==, 120);
  check_round_trip (job);

  JobRecord *metric = job_record_copy (job_head (job));
  JobEdit *edit = job_edit_new ("metric");
  metric->num[HEAD_UNITS] = 1;
  job_edit_add (edit, job_record_ref (job_head (job)), metric);
  g_assert_true (job_apply (job, edit, NULL));
  g_autofree char *text = exchange_runs_csv (job);
  g_assert_nonnull (strstr (text, ",600x300 mm,"));
  check_round_trip (job);
}

/* Lines of words come in, stay what they are, and go out again. */
static void
test_note_lines (void)
{
  g_autoptr (TallyJob) job = demo_job ();
  JobScope all = { 0, 0 };
  JobTotals totals;
  Fixture f;

  read_text (&f, job,
             "system,area,drawing,kind,size,length,note\n"
             "SA-1,Level 2,M-202,note,,,-- second floor --\n"
             "SA-1,Level 2,M-202,straight,24x12,46,\n"
             ",,,,,,\"riser \"\"R\"\", by others\"\n"
             ",,,NOTE,,,\n");
  g_assert_cmpuint (f.import->faults->len, ==, 0);
  g_assert_cmpuint (f.import->runs->len, ==, 4);
  g_assert_true (job_apply (job, runs_import_edit (f.import, job, FALSE), NULL));
  clear (&f);
  job_totals (job, &all, JOB_OWN_METHOD, &totals);
  g_assert_cmpint (totals.runs, ==, 116);
  g_assert_cmpint (totals.not_priced, ==, 0);
  g_assert_cmpint (totals.notes, ==, 3);
  job_totals_clear (&totals);
  g_autofree char *text = exchange_runs_csv (job);
  g_assert_nonnull (strstr (text, "SA-1,Level 2,M-202,note,"));
  check_round_trip (job);

  /* What could have been counted does not pass as words. */
  read_text (&f, job, "kind,size,note\nnote,24x12,by others\n,24x12,by others\n");
  g_assert_cmpuint (f.import->faults->len, ==, 2);
  g_autofree char *first = fault_words_at (&f, 0), *second = fault_words_at (&f, 1);
  g_assert_nonnull (strstr (first, "clear it, or write another kind"));
  g_assert_nonnull (strstr (second, "no kind is given"));
  clear (&f);
}

/* Whatever stands in the cells: a run a row, each fault at a line and column with words, and what was taken goes out and in
 * again unchanged. */
static void
test_garbage (void)
{
  static const char *const cells[] = {
    "", "", "", "straight", "tap", "counted", "radius elbow", "transition", "24x12", "18x10", "46", "-3", "0", "x", "1/0",
    "90", "yes", "open", "2", "-1/2", "rod", "SA-1", "Level 9", "99999999999999999999", "\xEF\xBB\xBF", "\"", "a\nb", ";", "#",
  };
  g_autoptr (GRand) rand = g_rand_new_with_seed (20240616);
  const JobTypeInfo *info = job_type_info (JOB_RUN);
  guint accepted = 0;

  for (int round = 0; round < 60; round++)
    {
      g_autoptr (TallyJob) job = demo_job ();
      g_autoptr (GString) text = g_string_new ("kind");
      Fixture f;

      for (int c = 0; c < info->n_fields; c++)
        if (strcmp (info->field[c].key, "kind") != 0)
          csv_append_cell (text, info->field[c].key, FALSE);
      g_string_append_c (text, '\n');
      for (int row = 0; row < 20; row++)
        {
          for (int c = 0; c < info->n_fields; c++)
            {
              const char *cell = cells[g_rand_int_range (rand, 0, (gint32) G_N_ELEMENTS (cells))];
              if (c == 0)
                cell = cells[g_rand_int_range (rand, 3, 8)];
              else if (c == 4) /* the size: the kind stands first */
                cell = "24x12";
              else if (g_rand_int_range (rand, 0, 12) > 0) /* mostly empty, so that a line may be whole */
                cell = "";
              csv_append_cell (text, cell, c == 0);
            }
          g_string_append_c (text, '\n');
        }
      read_text (&f, job, text->str);
      g_assert_cmpuint (f.import->runs->len, ==, f.table->row->len);
      for (guint i = 0; i < f.import->faults->len; i++)
        {
          const CsvFault *fault = g_ptr_array_index (f.import->faults, i);
          g_assert_cmpint (fault->line, >, 1);
          g_assert_cmpint (fault->column, >, 0);
          g_assert_true (*fault->what && *fault->remedy && g_utf8_validate (fault->what, -1, NULL));
        }
      JobEdit *edit = runs_import_edit (f.import, job, round % 2);
      accepted += edit->deltas->len;
      g_assert_true (job_apply (job, edit, NULL));
      check_round_trip (job);
      g_assert_true (job_undo (job, NULL));
      clear (&f);
    }
  g_assert_cmpuint (accepted, >, 60);
}

static void
check_records (TallyJob *job, JobType type, const char *text, const char *words)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (CsvTable) table = csv_parse (text, -1, "rows.csv", faults);
  g_autofree char *before = state_of (job);
  g_autoptr (GError) error = NULL;

  g_assert_false (exchange_read_records (job, type, table, faults, &error));
  g_assert_error (error, JOB_ERROR, JOB_ERROR_INVALID);
  g_assert_cmpuint (faults->len, ==, 1);
  g_autofree char *is = csv_fault_words (g_ptr_array_index (faults, 0));
  g_autofree char *after = state_of (job);
  if (!strstr (is, words))
    g_error ("no “%s” in: %s", words, is);
  g_assert_cmpstr (before, ==, after);
}

static void
test_records (void)
{
  g_autoptr (TallyJob) job = demo_job ();

  check_records (job, JOB_SYSTEM, "system,sign\nHA-1,+\nSA-1,-\n", "rows.csv:3: the job or a row before");
  check_records (job, JOB_SYSTEM, "system,sign\nHA-1,+\nHA-1,-\n", "rows.csv:3: the job or a row before");
  check_records (job, JOB_SYSTEM, "system,sign\n,+\n", "rows.csv:2: the row has no name");
  check_records (job, JOB_SYSTEM, "system,sign\nHA-1,up\n", "rows.csv:2, column 2 (sign)");
  check_records (job, JOB_AREA, "area,height\nRoof,3\n", "rows.csv:1, column 2 (height)");
  check_records (job, JOB_CELL, "system,area,class\nSA-1,Roof,2\n", "rows.csv:2, column 2 (area)");
  check_records (job, JOB_CELL, "system,area,class\nSA-1,,2\n", "no area");
  check_records (job, JOB_CELL, "system,area,class\nSA-1,Plant,2\n", "rows.csv:2: the job or a row before");
  check_records (job, JOB_HEAD, "name\na\nb\n", "one row");
  check_records (job, JOB_RUN, "kind,size\ntap,24\n", "rows.csv:2, column 2 (size)");

  g_autoptr (CsvTable) table = csv_parse ("Area,times,Source,STATUS\nRoof,2,x,y\n", -1, "rows.csv", NULL);
  g_assert_true (exchange_read_records (job, JOB_AREA, table, NULL, NULL));
  g_assert_cmpuint (job_n (job, JOB_AREA), ==, 4);
  g_assert_cmpint (job_at (job, JOB_AREA, 3)->num[AREA_TIMES], ==, 2);
  g_assert_true (job_undo (job, NULL));
  g_assert_cmpuint (job_n (job, JOB_AREA), ==, 3);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/exchange/runs-csv/demo", test_demo);
  g_test_add_func ("/exchange/runs-csv/addendum-reach", test_addendum_reach);
  g_test_add_func ("/exchange/runs-csv/demo-file", test_demo_file);
  g_test_add_func ("/exchange/runs-csv/shuffled", test_shuffled);
  g_test_add_func ("/exchange/runs-csv/bad-cells", test_bad_cells);
  g_test_add_func ("/exchange/runs-csv/faulty-kept", test_faulty_kept);
  g_test_add_func ("/exchange/runs-csv/units", test_units);
  g_test_add_func ("/exchange/runs-csv/headings", test_headings);
  g_test_add_func ("/exchange/runs-csv/inherited", test_inherited);
  g_test_add_func ("/exchange/runs-csv/round-trip", test_round_trip);
  g_test_add_func ("/exchange/runs-csv/note-lines", test_note_lines);
  g_test_add_func ("/exchange/runs-csv/garbage", test_garbage);
  g_test_add_func ("/exchange/runs-csv/records", test_records);
  return g_test_run ();
}
