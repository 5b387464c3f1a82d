/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures changed for one job, and what is open before its price goes out. Figures of the demo job: invented demo. */
#include "exchange/runs-csv.h"
#include "job/figure.h"
#include "job/open-points.h"

#include <string.h>

static TallyJob *
demo (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();

  return exchange_demo_job (catalogue);
}

static void
set (TallyJob *job, const char *key, const char *field, const char *value)
{
  JobEdit *edit = job_edit_new ("test");

  job_edit_figure (job, edit, "buildup", key, field, value);
  g_assert_true (job_apply (job, edit, NULL));
}

static gint64
price (TallyJob *job)
{
  JobScope whole = { 0, 0 };
  JobTotals totals;
  gint64 value;

  job_totals (job, &whole, JOB_OWN_METHOD, &totals);
  g_autoptr (BuildUp) up = buildup_new (job_basis (job), &totals.sums, 2);
  value = buildup_get (up, "price");
  job_totals_clear (&totals);
  return value;
}

/* Set, set again, taken back: one record at most, and the price is back to the cent. */
static void
test_set (void)
{
  g_autoptr (TallyJob) job = demo ();
  gint64 before = price (job), at_ten;

  set (job, "overhead", "rate", "10");
  at_ten = price (job);
  g_assert_cmpint (at_ten, <, before);
  g_assert_cmpstr (job_at (job, JOB_CHANGE, 0)->text[CHANGE_VALUE], ==, "10");
  g_assert_true (job_find_change (job, "buildup", "overhead", "rate") == job_at (job, JOB_CHANGE, 0));
  set (job, "overhead", "rate", "15");
  g_assert_cmpuint (job_n (job, JOB_CHANGE), ==, 1);
  g_assert_cmpint (price (job), >, before);
  set (job, "overhead", "rate", "15"); /* says so already: no edit to undo */
  g_assert_true (job_undo (job, NULL));
  g_assert_cmpint (price (job), ==, at_ten);
  set (job, "overhead", "rate", NULL);
  g_assert_cmpuint (job_n (job, JOB_CHANGE), ==, 0);
  g_assert_null (job_find_change (job, "buildup", "overhead", "rate"));
  g_assert_cmpint (price (job), ==, before);
}

/* Two figures in one edit: the way profit is stated and its rate; 6 % markup is 5.6604 % margin (u / (1 + u)). */
static void
test_two_at_once (void)
{
  g_autoptr (TallyJob) job = demo ();
  JobEdit *edit = job_edit_new ("profit as a margin");
  gint64 before = price (job);

  job_edit_figure (job, edit, "buildup", "profit", "rate", "5.6604");
  job_edit_figure (job, edit, "buildup", "profit", "op", "margin");
  g_assert_true (job_apply (job, edit, NULL));
  g_assert_cmpuint (job_n (job, JOB_CHANGE), ==, 2);
  g_assert_cmpint (ABS (price (job) - before), <=, 20); /* 0.0000004 of the price, from the four decimals of the rate */
  g_assert_true (job_undo (job, NULL));
  g_assert_cmpuint (job_n (job, JOB_CHANGE), ==, 0);
  g_assert_cmpint (price (job), ==, before);
}

static void
test_check (void)
{
  static const struct
  {
    const char *object, *key, *field, *value;
    gboolean good;
  } rows[] = {
    { "buildup", "overhead", "rate", "12.5", TRUE }, { "buildup", "overhead", "rate", "-20", TRUE },
    { "buildup", "overhead", "rate", "1001", FALSE }, { "buildup", "nothing", "rate", "1", FALSE },
    { "buildup", "cost", "rate", "1", FALSE },        { "buildup", "adjustment", "amount", "-80", TRUE },
    { "rate", "", "field", "95", TRUE },              { "rate", "", "field", "-1", FALSE },
    { "buildup", "profit", "op", "margin", TRUE },    { "buildup", "profit", "op", "gift", FALSE },
  };
  g_autoptr (TallyJob) job = demo ();
  gint64 before = price (job);

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (Fault) fault = NULL;
      g_assert_true (job_check_figure (job, rows[i].object, rows[i].key, rows[i].field, rows[i].value, &fault) == rows[i].good);
      g_assert_true ((fault == NULL) == rows[i].good);
    }
  /* what is set already is replaced in the check, not set twice */
  set (job, "profit", "op", "margin");
  g_assert_false (job_check_figure (job, "buildup", "profit", "rate", "100", NULL));
  g_assert_true (job_check_figure (job, "buildup", "profit", "rate", "99", NULL));
  set (job, "profit", "op", NULL);
  g_assert_cmpint (price (job), ==, before);
}

static void
test_read (void)
{
  static const struct
  {
    const char *typed;
    gboolean percent;
    const char *value;
  } rows[] = { { " 7.25 % ", TRUE, "7.25" }, { "12", TRUE, "12" },        { "12%", FALSE, NULL },  { "-1,900.00", FALSE, "-1900" },
               { "", TRUE, NULL },           { "%", TRUE, NULL },         { "6 %%", TRUE, NULL },  { "0.00005", TRUE, NULL },
               { "twelve", TRUE, NULL },     { "\xe2\x88\x92" "80", FALSE, "-80" } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (Fault) fault = NULL;
      g_autofree char *value = job_figure_read (rows[i].typed, rows[i].percent, &fault);
      g_assert_cmpstr (value, ==, rows[i].value);
      g_assert_true ((value == NULL) == (fault != NULL));
    }
}

/* ---- open points ---- */

/* How many (G_MININT64: the point is not there), and whether it must be settled. */
static gint64
find_point (const GArray *points, JobPointKind kind, gboolean *must)
{
  for (guint i = 0; i < points->len; i++)
    {
      const JobPoint *point = &g_array_index (points, JobPoint, i);
      if (point->kind == kind)
        {
          *must = point->must;
          return point->n;
        }
    }
  return G_MININT64;
}

static void
set_field (TallyJob *job, JobType type, gint64 id, const char *field, const char *text)
{
  Fault *fault = NULL;

  g_assert_true (job_edit_field (job, type, id, job_field_find (type, field), text, &fault, NULL));
  g_clear_pointer (&fault, fault_free);
}

/* The demo rests on invented figures and has all else; each thing that is broken adds its point with its count. */
static void
test_points (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (GArray) fresh = job_open_points (job);
  gboolean must = FALSE;

  g_assert_cmpuint (fresh->len, ==, 1);
  g_assert_cmpint (find_point (fresh, JOB_POINT_WEAK, &must), >, 0);
  set_field (job, JOB_RUN, job_at (job, JOB_RUN, 3)->id, "size", "wide");
  set_field (job, JOB_RUN, job_at (job, JOB_RUN, 5)->id, "size", "wide");
  set_field (job, JOB_SYSTEM, job_at (job, JOB_SYSTEM, 1)->id, "class", "high");
  set_field (job, JOB_HEAD, 1, "engineer", "");
  set_field (job, JOB_HEAD, 1, "client", "");
  set (job, "adjustment", "amount", "-20000");
  set (job, "overhead", "rate", "11");
  set (job, "profit", "rate", "0.5");
  set (job, "profit", "op", "margin"); /* the same figure, stated another way */
  g_autoptr (GArray) points = job_open_points (job);
  g_assert_cmpint (find_point (points, JOB_POINT_NOT_PRICED, &must), >=, 2);
  g_assert_cmpint (find_point (points, JOB_POINT_UNREAD, &must), ==, 1);
  g_assert_cmpint (find_point (points, JOB_POINT_NO_PROFIT, &must), <, 0);
  g_assert_cmpint (find_point (points, JOB_POINT_ENGINEER, &must), ==, 0);
  g_assert_true (must);
  g_assert_cmpint (find_point (points, JOB_POINT_CLIENT, &must), ==, 0);
  g_assert_false (must);
  g_assert_cmpint (find_point (points, JOB_POINT_ADJUSTED, &must), ==, -2000000);
  g_assert_cmpint (find_point (points, JOB_POINT_CHANGED, &must), ==, 2);
  g_assert_cmpint (find_point (points, JOB_POINT_EMPTY, &must), ==, G_MININT64);
}

static void
test_empty (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = job_new (catalogue, "empty");
  g_autoptr (GArray) points = job_open_points (job);
  gboolean must = FALSE;

  g_assert_cmpint (find_point (points, JOB_POINT_EMPTY, &must), ==, 0);
  g_assert_cmpint (find_point (points, JOB_POINT_NO_PROFIT, &must), ==, G_MININT64);
  g_assert_cmpint (find_point (points, JOB_POINT_WEAK, &must), ==, G_MININT64);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/job/figure/set", test_set);
  g_test_add_func ("/job/figure/two-at-once", test_two_at_once);
  g_test_add_func ("/job/figure/check", test_check);
  g_test_add_func ("/job/figure/read", test_read);
  g_test_add_func ("/job/open-points/points", test_points);
  g_test_add_func ("/job/open-points/empty", test_empty);
  return g_test_run ();
}
