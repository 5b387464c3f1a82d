/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a job stands, on the invented demo job: what is estimated is what an independent program gave for it (shop 425.02 and field
 * 819.68 worker-hours of the whole job, source: invented demo), and what is earned follows from the ticks by the rule of
 * track/standing.h. */
#include "exchange/runs-csv.h"
#include "track/standing.h"

#include <math.h>

typedef struct
{
  Catalogue *catalogue;
  TallyJob *job;
  Standing *standing;
  GPtrArray *hours;
  GArray *ticks;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  (void) data;
  f->catalogue = catalogue_starter ();
  f->job = exchange_demo_job (f->catalogue);
  f->standing = standing_new ();
  f->hours = hours_list_new ();
  f->ticks = g_array_new (FALSE, FALSE, sizeof (DoneTick));
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  (void) data;
  standing_free (f->standing);
  g_ptr_array_unref (f->hours);
  g_array_unref (f->ticks);
  g_object_unref (f->job);
  catalogue_unref (f->catalogue);
}

static Earned
get (Fixture *f, gint64 area, int group)
{
  Earned e;

  standing_update (f->standing, f->job, f->hours, f->ticks);
  standing_get (f->standing, area, group, &e);
  return e;
}

static void
tick (Fixture *f, gint64 run, DoneStage stage, gint64 ppm)
{
  DoneTick made = { run, stage, ppm, 740000 };

  g_array_append_val (f->ticks, made);
}

#define SAME(a, b) g_assert_cmpfloat_with_epsilon (a, b, 1e-9 * (1 + fabs ((double) (b))))

static void
test_estimated (Fixture *f, gconstpointer data)
{
  Earned all = get (f, -1, -1), sum = { 0 };

  (void) data;
  g_assert_cmpfloat_with_epsilon (all.bac, 425.02 + 819.68, 0.011);
  g_assert_cmpfloat (all.ev, ==, 0);
  g_assert_cmpfloat (all.ac, ==, 0);
  g_assert_true (isnan (all.pv));
  g_assert_cmpint (standing_not_priced (f->standing), ==, 0);
  for (int group = 0; group < LABOUR_N_GROUPS; group++)
    sum.bac += get (f, -1, group).bac;
  SAME (sum.bac, all.bac);
  sum.bac = 0;
  for (guint i = 0; i < standing_areas (f->standing)->len; i++)
    sum.bac += get (f, g_array_index (standing_areas (f->standing), gint64, i), -1).bac;
  SAME (sum.bac, all.bac);
  g_assert_cmpuint (standing_areas (f->standing)->len, ==, 3);
}

/* All runs tested: earned is what was estimated, in every group and area. */
static void
test_all_done (Fixture *f, gconstpointer data)
{
  (void) data;
  for (guint i = 0; i < job_n (f->job, JOB_RUN); i++)
    tick (f, job_at (f->job, JOB_RUN, i)->id, DONE_TESTED, DONE_ALL);
  for (int group = -1; group < LABOUR_N_GROUPS; group++)
    {
      Earned e = get (f, -1, group);
      SAME (e.ev, e.bac);
    }
  for (guint i = 0; i < job_n (f->job, JOB_AREA); i++)
    {
      Earned e = get (f, job_at (f->job, JOB_AREA, i)->id, -1);
      g_assert_cmpfloat (e.bac, >, 1);
      SAME (e.ev, e.bac);
    }
}

static void
test_stages (Fixture *f, gconstpointer data)
{
  const JobRecord *run = job_at (f->job, JOB_RUN, 0);
  double hours[DONE_N_STAGES];
  Earned fab, hang, deliver, seal;

  (void) data;
  g_assert_true (standing_run (f->standing, f->job, run, hours));
  for (int i = 0; i < DONE_N_STAGES; i++)
    g_assert_cmpfloat (hours[i], >, 0);

  tick (f, run->id, DONE_FABRICATED, 500000);
  SAME (get (f, -1, -1).ev, hours[DONE_FABRICATED] / 2);
  SAME (get (f, run->num[RUN_AREA], LABOUR_FABRICATE).ev, hours[DONE_FABRICATED] / 2);

  /* Hung by a quarter: made by half still, the joints not earned. */
  tick (f, run->id, DONE_HUNG, 250000);
  SAME (get (f, -1, -1).ev, hours[DONE_FABRICATED] / 2 + hours[DONE_HUNG] / 4);
  deliver = get (f, -1, LABOUR_DELIVER);
  hang = get (f, -1, LABOUR_HANG_AND_JOIN);
  g_assert_cmpfloat (deliver.ev, >, 0);
  g_assert_cmpfloat (hang.ev, >, 0);
  SAME (deliver.ev + hang.ev, hours[DONE_HUNG] / 4);

  /* Joined takes hung and fabricated along; what is sealed and tested is not. */
  tick (f, run->id, DONE_JOINED, DONE_ALL);
  fab = get (f, -1, LABOUR_FABRICATE);
  seal = get (f, -1, LABOUR_SEAL_AND_TEST);
  SAME (fab.ev, hours[DONE_FABRICATED]);
  g_assert_cmpfloat (seal.ev, ==, 0);
  SAME (get (f, -1, -1).ev, hours[DONE_FABRICATED] + hours[DONE_HUNG] + hours[DONE_JOINED]);
}

/* A counted line has minutes of no stage: each stage earns a quarter of them. 30 worker-minutes on 4 pieces are 2 hours. */
static void
test_general (Fixture *f, gconstpointer data)
{
  JobEdit *edit = job_edit_new ("counted");
  JobRecord *run = job_record_new (JOB_RUN, job_take_id (f->job, JOB_RUN), G_MAXINT32);
  gint64 id = run->id;

  (void) data;
  g_assert_true (job_record_read (run, job_field_find (JOB_RUN, "kind"), "counted", NULL, NULL));
  g_assert_true (job_record_read (run, job_field_find (JOB_RUN, "count"), "4", NULL, NULL));
  g_assert_true (job_record_read (run, job_field_find (JOB_RUN, "field_minutes"), "30", NULL, NULL));
  job_edit_add (edit, NULL, run);
  g_assert_true (job_apply (f->job, edit, NULL));
  SAME (get (f, 0, LABOUR_GENERAL).bac, 2);
  g_assert_cmpint (g_array_index (standing_areas (f->standing), gint64, 0), ==, 0);
  tick (f, id, DONE_FABRICATED, DONE_ALL);
  SAME (get (f, 0, LABOUR_GENERAL).ev, 0.5);
  tick (f, id, DONE_TESTED, DONE_ALL);
  SAME (get (f, 0, LABOUR_GENERAL).ev, 2);
}

static void
test_spent (Fixture *f, gconstpointer data)
{
  gint64 area = job_at (f->job, JOB_AREA, 1)->id;
  const GArray *areas;
  Earned e;

  (void) data;
  g_ptr_array_add (f->hours, hours_entry_new (740000, area, LABOUR_DELIVER, 7500, NULL));
  g_ptr_array_add (f->hours, hours_entry_new (740001, 0, LABOUR_GENERAL, 250, NULL));
  g_ptr_array_add (f->hours, hours_entry_new (740001, 999, LABOUR_GENERAL, 1000, NULL)); /* of an area that is gone */
  SAME (get (f, area, LABOUR_DELIVER).ac, 7.5);
  SAME (get (f, 0, -1).ac, 0.25);
  SAME (get (f, 999, -1).ac, 1);
  e = get (f, -1, -1);
  SAME (e.ac, 8.75);
  areas = standing_areas (f->standing);
  g_assert_cmpuint (areas->len, ==, 5);
  g_assert_cmpint (g_array_index (areas, gint64, 0), ==, 0);
  g_assert_cmpint (g_array_index (areas, gint64, 4), ==, 999);
}

static const StandingCode *
code_of (const GArray *codes, gint64 area, LabourGroup group)
{
  for (guint i = 0; i < codes->len; i++)
    if (g_array_index (codes, StandingCode, i).area == area && g_array_index (codes, StandingCode, i).group == group)
      return &g_array_index (codes, StandingCode, i);
  return NULL;
}

/* Hours of one area stand against that area, hours of the whole job against the others; all codes add up to the job. */
static void
test_codes (Fixture *f, gconstpointer data)
{
  gint64 area = job_at (f->job, JOB_AREA, 1)->id;
  g_autoptr (GArray) codes = NULL;
  Earned all, own, group, sum = { 0 };
  Accuracy a;

  (void) data;
  for (guint i = 0; i < job_n (f->job, JOB_RUN); i++)
    tick (f, job_at (f->job, JOB_RUN, i)->id, DONE_TESTED, DONE_ALL);
  own = get (f, area, LABOUR_DELIVER);
  /* Twice what was estimated in the area, half of it elsewhere: by hand a bias of 1 and errors of 1/2 and 1. */
  g_ptr_array_add (f->hours, hours_entry_new (740000, area, LABOUR_DELIVER, llround (own.bac * 2000), NULL));
  group = get (f, -1, LABOUR_DELIVER);
  g_ptr_array_add (f->hours, hours_entry_new (740000, 0, LABOUR_DELIVER, llround ((group.bac - own.bac) * 500), NULL));
  all = get (f, -1, -1);
  /* The area stands alone in all it has hours for; another has its share in hours of the whole job. */
  g_assert_true (standing_comparable (f->standing, area));
  g_assert_false (standing_comparable (f->standing, job_at (f->job, JOB_AREA, 0)->id));
  g_assert_false (standing_comparable (f->standing, 0));
  codes = standing_codes (f->standing);
  SAME (code_of (codes, area, LABOUR_DELIVER)->figures.bac, own.bac);
  SAME (code_of (codes, 0, LABOUR_DELIVER)->figures.bac, group.bac - own.bac);
  g_assert_null (code_of (codes, area, LABOUR_FABRICATE));
  for (guint i = 0; i < codes->len; i++)
    {
      const Earned *e = &g_array_index (codes, StandingCode, i).figures;
      sum.bac += e->bac;
      sum.ev += e->ev;
      sum.ac += e->ac;
    }
  SAME (sum.bac, all.bac);
  SAME (sum.ev, all.ev);
  SAME (sum.ac, all.ac);

  standing_accuracy (f->standing, &a);
  g_assert_cmpuint (a.n, ==, 2);
  g_assert_cmpuint (a.left_out, ==, codes->len - 2);
  g_assert_cmpfloat_with_epsilon (a.bias, 1, 1e-3);
  g_assert_cmpfloat_with_epsilon (a.typical, 0.75, 1e-3);
}

/* What was kept of a run is dropped when the job changes; ticks of a run that is gone earn nothing. */
static void
test_changes (Fixture *f, gconstpointer data)
{
  const JobRecord *run = job_at (f->job, JOB_RUN, 0);
  gint64 id = run->id;
  JobEdit *edit;
  double before;

  (void) data;
  tick (f, id, DONE_TESTED, DONE_ALL);
  tick (f, 123456, DONE_TESTED, DONE_ALL);
  before = get (f, -1, -1).ev;
  g_assert_cmpfloat (before, >, 0);
  g_assert_true (job_edit_field (f->job, JOB_RUN, id, job_field_find (JOB_RUN, "count"), "3", NULL, NULL));
  standing_forget (f->standing);
  SAME (get (f, -1, -1).ev, 3 * before);

  edit = job_edit_new ("delete");
  job_edit_add (edit, job_record_ref (job_find (f->job, JOB_RUN, id)), NULL);
  g_assert_true (job_apply (f->job, edit, NULL));
  standing_forget (f->standing);
  g_assert_cmpfloat (get (f, -1, -1).ev, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, run) g_test_add ("/track/standing/" name, Fixture, NULL, set_up, run, tear_down)
  ADD ("estimated", test_estimated);
  ADD ("all-done", test_all_done);
  ADD ("stages", test_stages);
  ADD ("general", test_general);
  ADD ("spent", test_spent);
  ADD ("codes", test_codes);
  ADD ("changes", test_changes);
#undef ADD
  return g_test_run ();
}
