/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the construction of a job rests on. The demo job and its ladder of gauges: invented demo. */
#include "job/construction.h"

#include "base/measure.h"
#include "exchange/runs-csv.h"

#include <stdlib.h>
#include <string.h>

static Catalogue *starter;

/* One rule set for the whole job, the systems' own taken away. */
static void
set_rules (TallyJob *job, const char *key)
{
  static const JobType types[] = { JOB_HEAD, JOB_SYSTEM, JOB_CELL };
  JobEdit *edit = job_edit_new ("rules");

  for (gsize t = 0; t < G_N_ELEMENTS (types); t++)
    for (guint i = 0; i < job_n (job, types[t]); i++)
      {
        const JobRecord *before = job_at (job, types[t], i);
        JobRecord *after = job_record_copy (before);
        int field = job_field_find (types[t], "rule_set");
        if (field >= 0)
          job_record_read (after, field, types[t] == JOB_HEAD ? key : "", job_names (job), NULL);
        job_edit_add (edit, job_record_ref (before), after);
      }
  g_assert_true (job_apply (job, edit, NULL));
}

static void
set_run (TallyJob *job, const JobRecord *before, const char *key, const char *text)
{
  JobEdit *edit = job_edit_new ("run");
  JobRecord *after = job_record_copy (before);
  Fault *fault = NULL;

  job_record_read (after, job_field_find (JOB_RUN, key), text, job_names (job), &fault);
  g_assert_null (fault);
  job_edit_add (edit, job_record_ref (before), after);
  g_assert_true (job_apply (job, edit, NULL));
}

static gboolean
is_measured (const JobRecord *run)
{
  return run->num[RUN_KIND] != JOB_UNSET && duct_kind_measured ((DuctKind) run->num[RUN_KIND]);
}

/* Runs and net sheet of one table over its rows. */
static guint
runs_of (const JobConstruction *c, const char *table, gint64 *mg)
{
  guint runs = 0;

  *mg = 0;
  for (guint i = 0; i < c->rests->len; i++)
    {
      const JobRest *rest = g_ptr_array_index (c->rests, i);
      if (strcmp (rest->table, table) != 0)
        continue;
      runs += rest->runs;
      *mg += rest->net_mg;
    }
  return runs;
}

/* Every run has one gauge row and one row of the sheet table: their runs and pounds are those of the job, counted here again. */
static void
test_demo (void)
{
  g_autoptr (TallyJob) job = exchange_demo_job (starter);
  g_autoptr (JobConstruction) c = job_construction (job);
  guint measured = 0;
  gint64 net = 0, mg;

  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (job, JOB_RUN, i);
      JobRunResult r;
      if (!is_measured (run))
        continue;
      measured++;
      g_assert_true (job_compute (job, run, JOB_OWN_METHOD, &r));
      for (int l = 0; l < r.measure.n_lots; l++)
        net += r.measure.lot[l].n * r.measure.lot[l].one[DUCT_NET_LB] * (r.count / 1000);
      job_run_result_clear (&r);
    }
  g_test_message ("%u of %u runs, %.1f lb", c->runs, measured, measure_lb (net));
  g_assert_cmpuint (measured, >, 50);
  g_assert_cmpuint (c->runs, ==, measured);
  g_assert_cmpuint (c->unanswered->len, ==, 0);
  g_assert_cmpuint (runs_of (c, "gauges", &mg), ==, measured);
  g_assert_cmpint (mg, ==, net);
  g_assert_cmpuint (runs_of (c, "sheets", &mg), ==, measured);
  g_assert_cmpint (mg, ==, net);
  g_assert_cmpuint (c->weak, ==, measured); /* the ladder is invented, and every run has a gauge of it */
}

/* The first run of a row rests on it; a row stands once; its table is in order and the weaker status goes first. */
static void
test_rows (void)
{
  g_autoptr (TallyJob) job = exchange_demo_job (starter);
  g_autoptr (JobConstruction) c = job_construction (job);
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  const JobRest *before = NULL;
  guint invented = 0, published = 0;

  g_assert_cmpuint (c->rests->len, >, 10);
  for (guint i = 0; i < c->rests->len; i++)
    {
      const JobRest *rest = g_ptr_array_index (c->rests, i);
      g_assert_true (*rest->words != '\0');
      g_assert_cmpuint (rest->runs, >, 0);
      g_assert_cmpuint (rest->runs, <=, 2 * c->runs); /* a frame at either end may take rows of its own */
      g_assert_nonnull (job_find (job, JOB_RUN, rest->first_run));
      g_assert_true (g_hash_table_add (seen, g_strconcat (rest->table, "\t", rest->words, NULL)));
      if (before)
        g_assert_cmpint (strcmp (before->table, rest->table), <=, 0);
      if (before && strcmp (before->table, rest->table) == 0)
        g_assert_cmpint (before->status, >=, rest->status);
      if (strcmp (rest->table, "gauges") == 0)
        {
          g_assert_true (g_str_has_prefix (rest->words, "demo: "));
          g_assert_cmpint (rest->status, ==, DUCT_INVENTED_DEMO);
          g_assert_nonnull (strstr (rest->source, "invented"));
          invented++;
        }
      published += rest->status == DUCT_PUBLISHED;
      before = rest;
    }
  g_assert_cmpuint (invented, >, 3);
  g_assert_cmpuint (published, >, 0); /* sheet weights: ASTM and gauge tables */
}

/* The ladder ends at class 6: a run of class 10 is listed with its words and the field that asks for it, and is not counted as built. */
static void
test_unanswered (void)
{
  g_autoptr (TallyJob) job = exchange_demo_job (starter);
  g_autoptr (JobConstruction) before = job_construction (job);
  gint64 id = job_at (job, JOB_RUN, 3)->id;

  set_run (job, job_at (job, JOB_RUN, 3), "class", "10");
  g_autoptr (JobConstruction) c = job_construction (job);
  g_assert_cmpuint (c->unanswered->len, ==, 1);
  g_assert_cmpuint (c->runs, ==, before->runs - 1);
  const JobUnanswered *u = g_ptr_array_index (c->unanswered, 0);
  g_assert_cmpint (u->run, ==, id);
  g_assert_cmpint (u->field, ==, job_field_find (JOB_RUN, "class"));
  g_test_message ("%s: %s", u->what, u->remedy);
  g_assert_nonnull (strstr (u->what, "10"));
  g_assert_nonnull (strstr (u->what, "highest class is 6"));
  g_assert_true (*u->remedy != '\0');
}

/* The city's schedule (City of Zephyrhills specification 99184) has rows to class 2: runs over it have no answer, the others rest on
 * published gauge rows; a gauge entered on a run is the shop's own and never weak. */
static void
test_other_rules (void)
{
  g_autoptr (TallyJob) job = exchange_demo_job (starter);
  guint over = 0, measured = 0;
  gint64 mg;

  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      JobRunResult r;
      if (!is_measured (job_at (job, JOB_RUN, i)))
        continue;
      g_assert_true (job_compute (job, job_at (job, JOB_RUN, i), JOB_OWN_METHOD, &r));
      measured++;
      over += ABS (r.shape.pressure) > 2000;
      job_run_result_clear (&r);
    }
  g_assert_cmpuint (over, >, 0);
  g_assert_cmpuint (over, <, measured);
  set_rules (job, "city-low-pressure");
  g_autoptr (JobConstruction) c = job_construction (job);
  g_assert_cmpuint (c->unanswered->len, ==, over);
  g_assert_cmpuint (c->runs, ==, measured - over);
  g_assert_cmpuint (runs_of (c, "gauges", &mg), ==, measured - over);
  for (guint i = 0; i < c->rests->len; i++)
    {
      const JobRest *rest = g_ptr_array_index (c->rests, i);
      if (strcmp (rest->table, "gauges") != 0)
        continue;
      g_assert_true (g_str_has_prefix (rest->words, "city-low-pressure: "));
      g_assert_cmpint (rest->status, ==, DUCT_PUBLISHED);
    }
}

/* A field of the head, and of every system. */
static void
set_all (TallyJob *job, JobType type, const char *key, const char *text)
{
  JobEdit *edit = job_edit_new (key);

  for (guint i = 0; i < job_n (job, type); i++)
    {
      const JobRecord *before = job_at (job, type, i);
      JobRecord *after = job_record_copy (before);
      g_assert_true (job_record_read (after, job_field_find (type, key), text, job_names (job), NULL));
      job_edit_add (edit, job_record_ref (before), after);
    }
  g_assert_true (job_apply (job, edit, NULL));
}

static void
assert_all_unanswered (TallyJob *job, const char *words)
{
  g_autoptr (JobConstruction) c = job_construction (job);

  g_assert_cmpuint (c->unanswered->len, >, 50);
  for (guint i = 0; i < c->unanswered->len; i++)
    g_assert_nonnull (strstr (((JobUnanswered *) g_ptr_array_index (c->unanswered, i))->what, words));
}

/* What the job's head names wrongly is refused by its own name: a set of gauges alone for the supports, and an edition that the
 * tables do not have (not the seal class, which is known). */
static void
test_named_wrongly (void)
{
  g_autoptr (TallyJob) job = exchange_demo_job (starter);

  set_all (job, JOB_SYSTEM, "supports", "");
  set_all (job, JOB_HEAD, "supports", "dwelling-code");
  assert_all_unanswered (job, "lists no supports");
  set_all (job, JOB_HEAD, "supports", "");
  set_all (job, JOB_SYSTEM, "seal", "A");
  set_all (job, JOB_HEAD, "leakage_edition", "no such edition");
  assert_all_unanswered (job, "edition");
  set_all (job, JOB_HEAD, "leakage_edition", "");
  g_autoptr (JobConstruction) c = job_construction (job);
  g_assert_cmpuint (c->unanswered->len, ==, 0);
}

/* A strap table to a half perimeter of 168 in has no row for 110x110: complete hangers are counted, and the report says so. */
static void
test_no_support (void)
{
  g_autoptr (TallyJob) job = exchange_demo_job (starter);
  guint told = 0, at = 0;

  set_all (job, JOB_SYSTEM, "supports", "");
  set_all (job, JOB_HEAD, "supports", "straps-10ft");
  while (job_at (job, JOB_RUN, at)->num[RUN_KIND] != DUCT_STRAIGHT)
    at++;
  set_run (job, job_at (job, JOB_RUN, at), "size", "110x110");
  g_autoptr (JobConstruction) c = job_construction (job);
  for (guint i = 0; i < c->cautions->len; i++)
    told += g_array_index (c->cautions, JobCaution, i).note == DUCT_NOTE_NO_SUPPORT;
  g_assert_cmpuint (told, ==, 1);
  g_autofree char *text = job_construction_text (job, c);
  g_assert_nonnull (strstr (text, duct_note_words (DUCT_NOTE_NO_SUPPORT)));
}

/* Cautions come from the measurement: one a kind, with the runs it was met on. */
static void
test_cautions (void)
{
  g_autoptr (TallyJob) job = exchange_demo_job (starter);
  g_autoptr (JobConstruction) c = job_construction (job);
  guint met[DUCT_N_NOTES] = { 0 }, listed = 0;

  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      JobRunResult r;
      if (!is_measured (job_at (job, JOB_RUN, i)))
        continue;
      g_assert_true (job_compute (job, job_at (job, JOB_RUN, i), JOB_OWN_METHOD, &r));
      for (int n = 0; n < DUCT_N_NOTES; n++)
        met[n] += (r.measure.notes >> n) & 1u;
      job_run_result_clear (&r);
    }
  for (int n = 0; n < DUCT_N_NOTES; n++)
    for (guint i = 0; i < c->cautions->len; i++)
      {
        const JobCaution *caution = &g_array_index (c->cautions, JobCaution, i);
        if (caution->note != (DuctNote) (1u << n))
          continue;
        g_assert_cmpuint (caution->runs, ==, met[n]);
        met[n] = 0;
        listed++;
      }
  for (int n = 0; n < DUCT_N_NOTES; n++)
    g_assert_cmpuint (met[n], ==, 0);
  g_assert_cmpuint (listed, ==, c->cautions->len);
  g_assert_cmpuint (listed, >, 0);
  g_assert_nonnull (strstr (job_construction_caution (), "engineer of record"));
}

/* As text: the conclusion, what is not built, the rows with a tab between their cells, the last word; a job in metric units weighs in
 * kilograms (1 lb is 0.45359237 kg by definition). Built in steps it is the same. */
static void
test_text (void)
{
  g_autoptr (TallyJob) job = exchange_demo_job (starter);
  JobConstruction *c;
  guint steps = 1, rows = 0;

  set_run (job, job_at (job, JOB_RUN, 3), "class", "10");
  c = job_construction_begin ();
  while (job_construction_step (c, job, 7))
    steps++;
  g_assert_cmpuint (steps, ==, (job_n (job, JOB_RUN) + 6) / 7);
  g_autofree char *text = job_construction_text (job, c);
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  g_assert_cmpstr (lines[0], ==, "103 runs are built, all of them on remembered or invented figures; 1 is not built.");
  g_assert_true (g_str_has_prefix (lines[3], "run 4, "));
  g_assert_nonnull (strstr (text, "\tnet lb\t"));
  for (char **line = lines; *line; line++)
    {
      g_auto (GStrv) cells = g_strsplit (*line, "\t", -1);
      if (g_strv_length (cells) != 6 || strcmp (cells[0], "table") == 0)
        continue;
      g_assert_cmpuint ((guint) atoi (cells[3]), ==, ((JobRest *) g_ptr_array_index (c->rests, rows))->runs);
      rows++;
    }
  g_assert_cmpuint (rows, ==, c->rests->len);
  g_assert_true (g_str_has_suffix (g_strchomp (text), job_construction_caution ()));

  const JobRecord *head = job_head (job);
  JobEdit *edit = job_edit_new ("units");
  JobRecord *after = job_record_copy (head);
  after->num[HEAD_UNITS] = 1;
  job_edit_add (edit, job_record_ref (head), after);
  g_assert_true (job_apply (job, edit, NULL));
  g_autofree char *metric = job_construction_text (job, c);
  const JobRest *first = g_ptr_array_index (c->rests, 0);
  g_autofree char *kg = g_strdup_printf ("\t%.1f\t", measure_lb (first->net_mg) * 0.45359237);
  g_assert_nonnull (strstr (metric, "\tnet kg\t"));
  g_assert_nonnull (strstr (metric, kg));
  job_construction_free (c);
}

/* A job without runs rests on nothing. */
static void
test_empty (void)
{
  g_autoptr (TallyJob) job = job_new (starter, "nothing yet");
  g_autoptr (JobConstruction) c = job_construction (job);

  g_assert_cmpuint (c->rests->len + c->unanswered->len + c->cautions->len + c->runs + c->weak, ==, 0);
}

int
main (int argc, char **argv)
{
  int result;

  g_test_init (&argc, &argv, NULL);
  starter = catalogue_starter ();
  g_test_add_func ("/job/construction/demo", test_demo);
  g_test_add_func ("/job/construction/rows", test_rows);
  g_test_add_func ("/job/construction/unanswered", test_unanswered);
  g_test_add_func ("/job/construction/other-rules", test_other_rules);
  g_test_add_func ("/job/construction/cautions", test_cautions);
  g_test_add_func ("/job/construction/named-wrongly", test_named_wrongly);
  g_test_add_func ("/job/construction/no-support", test_no_support);
  g_test_add_func ("/job/construction/text", test_text);
  g_test_add_func ("/job/construction/empty", test_empty);
  result = g_test_run ();
  catalogue_unref (starter);
  return result;
}
