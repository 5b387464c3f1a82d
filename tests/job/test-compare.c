/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/claim.h"
#include "cost/sensitivity.h"
#include "exchange/runs-csv.h"
#include "job/compare.h"
#include "job/setting.h"
#include "job/what-if.h"

#include <math.h>
#include <string.h>

/* Ways of the demo job beside each other (invented demo; figures of the whole job by an independent program). */

static TallyJob *
demo (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();

  return exchange_demo_job (catalogue);
}

static void
keep_what_if (TallyJob *job, const char *name, const char *text)
{
  JobEdit *edit = job_edit_new (name);
  CostChange *change = cost_change_parse (text, NULL);

  job_edit_what_if (job, edit, name, change, change->value);
  cost_change_free (change);
  g_assert_true (job_apply (job, edit, NULL));
}

static void
set (TallyJob *job, const char *key, const char *value)
{
  JobEdit *edit = job_edit_new (key);

  job_edit_setting (job, edit, key, value);
  g_assert_true (job_apply (job, edit, NULL));
}

static const JobWay two[] = { { "slip-on-bolted", NULL }, { "slip-on-driven", NULL } };

static void
test_demo (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobComparison) c = job_compare (job, two, 2, 0, NULL);
  const JobWayFigures *a = job_comparison_way (c, 0), *b = job_comparison_way (c, 1);

  /* invented demo: the table of the whole job, likely; a cent or two may differ */
  g_assert_cmpint (ABS (a->option.cost - 17485716), <=, 2);
  g_assert_cmpint (ABS (b->option.cost - 17144467), <=, 2);
  g_assert_cmpint (a->option.once, ==, 0);
  g_assert_cmpint (b->option.once, ==, 190000);
  g_assert_cmpfloat (fabs (a->option.field_hours - 819.68), <, 0.01);
  /* 4 workers of 8 hours (the settings' defaults) */
  g_assert_cmpfloat (fabs (a->crew_days - a->option.field_hours / 32), <, 1e-9);
  g_assert_cmpint (a->labour, ==, buildup_get (a->option.buildup, "shop") + buildup_get (a->option.buildup, "field"));
  g_assert_cmpuint (job_comparison_best (c), ==, 1);
  /* The gain is the difference of what is printed, to the cent (computed from the build-ups). */
  g_assert_cmpfloat (fabs (job_way_gain (a, b) * 100 - (double) (a->whole - b->whole)), <, 1e-6);
  /* invented demo: the gain after tooling is 1,512 */
  g_assert_cmpfloat (fabs (job_way_gain (a, b) - 1512), <, 1);
}

/* Swapped, every difference changes its sign; a method against itself differs in nothing. */
static void
test_swap (void)
{
  static const JobWay other[] = { { "slip-on-driven", NULL }, { "slip-on-bolted", NULL } };
  static const JobWay same[] = { { "integral-bolted", NULL }, { "integral-bolted", NULL } };
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobComparison) c = job_compare (job, two, 2, 0, NULL), d = job_compare (job, other, 2, 0, NULL),
                            e = job_compare (job, same, 2, 0, NULL);
  const JobWayFigures *x = job_comparison_way (e, 0), *y = job_comparison_way (e, 1);
  g_autoptr (GArray) evens = cost_break_evens (job_basis (job), &x->option, &y->option);

  g_assert_true (job_way_gain (job_comparison_way (c, 0), job_comparison_way (c, 1))
                 == -job_way_gain (job_comparison_way (d, 0), job_comparison_way (d, 1)));
  g_assert_true (job_way_gain (x, y) == 0);
  g_assert_cmpint (x->whole, ==, y->whole);
  g_assert_cmpint (x->labour, ==, y->labour);
  g_assert_true (x->crew_days == y->crew_days);
  for (guint i = 0; i < evens->len; i++)
    {
      const CostEven *even = &g_array_index (evens, CostEven, i);
      g_assert_true (even->gain == 0);
      g_assert_true (even->equal);
    }
  for (int by = 0; by < JOB_N_BY; by++)
    {
      g_autoptr (JobBreakout) b = job_break_out (e, (JobBy) by);
      for (guint p = 0; p < b->n_parts; p++)
        g_assert_true (memcmp (job_breakout_at (b, p, 0), job_breakout_at (b, p, 1), sizeof (JobPartFigures)) == 0);
    }
}

/* A what-if that says what is so already changes nothing; one that changes a price changes just that way. */
static void
test_what_if (void)
{
  static const JobWay ways[] = { { "slip-on-bolted", NULL }, { "slip-on-bolted", "nothing" }, { "slip-on-bolted", "dear" },
                                 { "slip-on-driven", "dear" } };
  g_autoptr (TallyJob) job = demo ();
  keep_what_if (job, "nothing", "item.galvanised sheet.price=.98"); /* today's price, invented demo */
  keep_what_if (job, "dear", "item.galvanised sheet.price=1.98");
  g_autoptr (JobComparison) c = job_compare (job, ways, 4, 0, NULL);
  const JobWayFigures *now = job_comparison_way (c, 0), *dear = job_comparison_way (c, 2);
  double sheet = (double) now->totals.vector[catalogue_find_item (job_basis (job)->catalogue, "galvanised sheet")] / 1e6;

  g_assert_cmpint (job_comparison_way (c, 1)->whole, ==, now->whole);
  g_assert_true (job_way_gain (now, job_comparison_way (c, 1)) == 0);
  /* A currency unit more a pound, and 7.25 % tax on it (invented demo). */
  g_assert_cmpfloat (fabs (-job_way_gain (now, dear) - sheet * 1.0725), <, 0.011); /* lines are rounded to the cent */
  g_assert_true (job_comparison_way (c, 3)->job == dear->job);
  g_assert_cmpstr (dear->what_if, ==, "dear");
}

static void
test_faults (void)
{
  static const JobWay ways[] = { { "slip-on-bolted", NULL }, { "slip-on-bolted", "no such" }, { "glue", NULL },
                                 { "slip-on-bolted", "broken" } };
  g_autoptr (TallyJob) job = demo ();
  keep_what_if (job, "broken", "item.no such item.price=1");
  g_autoptr (JobComparison) c = job_compare (job, ways, 4, 0, NULL);

  g_assert_null (job_comparison_way (c, 0)->fault);
  for (guint i = 1; i < 4; i++)
    {
      const Fault *fault = job_comparison_way (c, i)->fault;
      g_assert_nonnull (fault);
      g_assert_true (fault->what && *fault->what && fault->remedy && *fault->remedy);
    }
  g_assert_cmpuint (job_comparison_best (c), ==, 0);
  /* Parts of a way that cannot be computed are zero; the others add up. */
  g_autoptr (JobBreakout) b = job_break_out (c, JOB_BY_AREA);
  g_assert_cmpint (job_breakout_at (b, 0, 1)->cost, ==, 0);
  g_assert_cmpint (job_breakout_at (b, 0, 0)->cost, >, 0);
}

static void
assert_adds_up (const JobComparison *c, JobBy by)
{
  g_autoptr (JobBreakout) b = job_break_out (c, by);

  g_assert_cmpuint (b->n_parts, >, 1);
  for (guint w = 0; w < b->n_ways; w++)
    {
      const JobWayFigures *f = job_comparison_way (c, w);
      JobPartFigures sum = { 0 };
      for (guint p = 0; p < b->n_parts; p++)
        {
          const JobPartFigures *x = job_breakout_at (b, p, w);
          sum.material += x->material;
          sum.labour += x->labour;
          sum.cost += x->cost;
          sum.price += x->price;
          sum.shop += x->shop;
          sum.field += x->field;
          sum.pieces += x->pieces;
          sum.joints += x->joints;
          sum.net_mg += x->net_mg;
        }
      g_assert_cmpint (sum.material, ==, f->option.material);
      g_assert_cmpint (sum.labour, ==, f->labour);
      g_assert_cmpint (sum.cost, ==, f->option.cost);
      g_assert_cmpint (sum.price, ==, f->option.price);
      g_assert_cmpfloat (fabs ((double) sum.shop / 100 - f->option.shop_hours), <=, 0.00501);
      g_assert_cmpfloat (fabs ((double) sum.field / 100 - f->option.field_hours), <=, 0.00501);
      g_assert_cmpint (sum.pieces, ==, f->option.pieces);
      g_assert_cmpint (sum.joints, ==, f->option.joints);
      g_assert_cmpint (sum.net_mg, ==, f->option.net_mg);
    }
}

static void
test_break_out (void)
{
  static const JobWay ways[] = { { NULL, NULL }, { "slip-on-driven", NULL }, { "slip-and-drive", "dear" } };
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  keep_what_if (job, "dear", "area.Level 1.field_condition=1.25");
  g_autoptr (JobComparison) c = job_compare (job, ways, 3, 0, NULL);

  for (guint i = 0; i < job_n (job, JOB_RUN); i += 3)
    g_array_append_val (ids, job_at (job, JOB_RUN, i)->id);
  const JobPart some = { .ids = (const gint64 *) (gpointer) ids->data, .n_ids = ids->len };
  const JobPart level = { .scope = { 0, job_at (job, JOB_AREA, 1)->id } };
  g_autoptr (JobComparison) d = job_compare (job, ways, 3, 0, &some), e = job_compare (job, ways, 3, 0, &level);
  for (int by = 0; by < JOB_N_BY; by++)
    {
      assert_adds_up (c, (JobBy) by);
      assert_adds_up (d, (JobBy) by);
      if (by != JOB_BY_AREA)
        assert_adds_up (e, (JobBy) by);
    }
}

/* The same with joints on the floor, remade joints, learning and conditions on. */
static void
test_break_out_labour (void)
{
  static const JobWay ways[] = { { "slip-on-bolted", NULL }, { "slip-on-driven", NULL }, { "integral-bolted", NULL } };
  g_autoptr (TallyJob) job = demo ();
  gint64 level = job_at (job, JOB_AREA, 1)->id;

  g_assert_true (job_edit_field (job, JOB_AREA, level, job_field_find (JOB_AREA, "share_joints_on_floor"), "0.35", NULL, NULL));
  g_assert_true (job_edit_field (job, JOB_AREA, level, job_field_find (JOB_AREA, "share_joints_remade"), "0.07", NULL, NULL));
  g_assert_true (job_edit_field (job, JOB_AREA, level, job_field_find (JOB_AREA, "pieces_raised_together"), "3", NULL, NULL));
  g_assert_true (job_edit_field (job, JOB_AREA, level, job_field_find (JOB_AREA, "condition"), "high work", NULL, NULL));
  set (job, "learning.model", "unit");
  g_autoptr (JobComparison) c = job_compare (job, ways, 3, 0, NULL);
  for (int by = 0; by < JOB_N_BY; by++)
    assert_adds_up (c, (JobBy) by);
}

/* Bands follow the setting; words that are no sizes are passed over. */
static void
test_bands (void)
{
  g_autoptr (TallyJob) job = demo ();
  set (job, "mix.bands", "24, wide 12 40");
  g_autoptr (GArray) bands = job_size_bands (job);
  g_autoptr (JobComparison) c = job_compare (job, two, 2, 0, NULL);
  g_autoptr (JobBreakout) b = job_break_out (c, JOB_BY_BAND);

  g_assert_cmpuint (bands->len, ==, 2);
  g_assert_cmpint (g_array_index (bands, gint64, 0), ==, 12 * LENGTH_NM_PER_IN);
  g_assert_cmpstr (b->part[0], ==, "to 12 in");
  g_assert_cmpstr (b->part[2], ==, "over 40 in");
}

static void
assert_dates (TallyJob *job, double days, const char *start, const char *finish)
{
  GDate from, to;
  char text[16];

  g_assert_true (job_field_dates (job, days, NULL, &from, &to));
  g_date_strftime (text, sizeof text, "%Y-%m-%d", &from);
  g_assert_cmpstr (text, ==, start);
  g_date_strftime (text, sizeof text, "%Y-%m-%d", &to);
  g_assert_cmpstr (text, ==, finish);
}

/* common practice: working days Monday to Friday; 1 March 2027 is a Monday (calendar). */
static void
test_dates (void)
{
  g_autoptr (TallyJob) job = demo ();
  GDate from, to;

  g_assert_false (job_field_dates (job, 3, NULL, &from, &to));
  set (job, "crew.start", "2027-03-01");
  assert_dates (job, 0, "2027-03-01", "2027-03-01");
  assert_dates (job, 1, "2027-03-01", "2027-03-01");
  assert_dates (job, 4.2, "2027-03-01", "2027-03-05");
  assert_dates (job, 5, "2027-03-01", "2027-03-05");
  assert_dates (job, 5.01, "2027-03-01", "2027-03-08");
  assert_dates (job, 25.6, "2027-03-01", "2027-04-05");
  /* From a Saturday work begins on Monday. */
  set (job, "crew.start", "2027-02-27");
  assert_dates (job, 6, "2027-03-01", "2027-03-08");
  set (job, "crew.heads", "8");
  g_assert_cmpfloat (job_crew_days (job, 640), ==, 10);
}

static void
keep_stock (TallyJob *job, const char *item, gint64 on_hand, gint64 lead)
{
  JobEdit *edit = job_edit_new (item);

  job_edit_stock (job, edit, item, on_hand, lead);
  g_assert_true (job_apply (job, edit, NULL));
}

static const JobStockLine *
find_line (const JobWayFigures *f, const char *key)
{
  for (guint i = 0; i < f->stock.line->len; i++)
    {
      const JobStockLine *line = &g_array_index (f->stock.line, JobStockLine, i);
      if (g_str_equal (catalogue_item (job_basis (f->job)->catalogue, line->item)->key, key))
        return line;
    }
  return NULL;
}

static void
test_stock (void)
{
  g_autoptr (TallyJob) job = demo ();
  keep_stock (job, "bolt and nut 3/8 x 1", 500000, -1);
  keep_stock (job, "corner for bolts", 100000000, 30); /* more than is needed: its lead time does not matter */
  keep_stock (job, "driven fastener", 0, 21);
  keep_stock (job, "galvanised sheet", 0, 35);
  /* An office file keeps no count of nothing. */
  g_assert_true (job_at (job, JOB_STOCK, 2)->num[STOCK_ON_HAND] == JOB_UNSET);
  set (job, "crew.start", "2027-03-01");
  set (job, "stock.ordered", "2027-02-15");
  g_autoptr (JobComparison) c = job_compare (job, two, 2, 0, NULL);
  const JobWayFigures *a = job_comparison_way (c, 0), *b = job_comparison_way (c, 1);
  const JobStockLine *bolt = find_line (a, "bolt and nut 3/8 x 1"), *corner = find_line (a, "corner for bolts");
  gint64 joints = a->option.joints / 1000;

  /* Four bolts and eight corners a flanged joint are common practice; the demo has 534 and 67 unmatched ends. */
  g_assert_cmpint (bolt->need, ==, joints * 4 * 1000000);
  g_assert_cmpint (bolt->used, ==, 500 * G_GINT64_CONSTANT (1000000));
  g_assert_cmpint (bolt->buy, ==, bolt->need - bolt->used);
  /* 500 at .36 (invented demo) */
  g_assert_cmpint (bolt->value_used, ==, 18000);
  g_assert_cmpint (corner->buy, ==, 0);
  g_assert_cmpint (a->stock.value_used, ==, bolt->value_used + corner->value_used);
  g_assert_cmpint (a->stock.lead_days, ==, 35);
  g_assert_cmpint (a->stock.joint_days, ==, -1);
  g_assert_cmpint (b->stock.joint_days, ==, 21);
  /* Stock is not free: the cost stays. */
  g_assert_cmpint (ABS (a->option.cost - 17485716), <=, 2);
  /* Ordered on 15 February, fasteners are there on 8 March. */
  g_assert_cmpint (g_date_get_day (&a->start), ==, 1);
  g_assert_cmpint (g_date_get_day (&b->start), ==, 8);
  /* Taken out again, no record is left. */
  keep_stock (job, "driven fastener", 0, -1);
  g_assert_cmpuint (job_n (job, JOB_STOCK), ==, 3);
  g_assert_true (job_undo (job, NULL));
  g_assert_cmpuint (job_n (job, JOB_STOCK), ==, 4);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/job/compare/demo", test_demo);
  g_test_add_func ("/job/compare/swap", test_swap);
  g_test_add_func ("/job/compare/what-if", test_what_if);
  g_test_add_func ("/job/compare/faults", test_faults);
  g_test_add_func ("/job/compare/break-out", test_break_out);
  g_test_add_func ("/job/compare/break-out-labour", test_break_out_labour);
  g_test_add_func ("/job/compare/bands", test_bands);
  g_test_add_func ("/job/compare/dates", test_dates);
  g_test_add_func ("/job/compare/stock", test_stock);
  return g_test_run ();
}
