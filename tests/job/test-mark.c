/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Marks of the invented demo job and what changed since. Source of the figures of the addendum: invented demo. */
#include "base/measure.h"
#include "exchange/runs-csv.h"
#include "job/mark.h"

#include <string.h>

static TallyJob *
demo (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();

  return exchange_demo_job (catalogue);
}

static gint64
find (TallyJob *job, JobType type, const char *name)
{
  return job_names (job)->find (job_names (job)->data, type, name);
}

static void
set (TallyJob *job, JobType type, gint64 id, const char *field, const char *text)
{
  Fault *fault = NULL;

  g_assert_true (job_edit_field (job, type, id, job_field_find (type, field), text, &fault, NULL));
  g_clear_pointer (&fault, fault_free);
}

static void
raise_class (TallyJob *job)
{
  gint64 system = find (job, JOB_SYSTEM, "SA-1"), area = find (job, JOB_AREA, "Level 1"), id = 0;

  for (guint i = 0; i < job_n (job, JOB_CELL); i++)
    if (job_at (job, JOB_CELL, i)->num[CELL_SYSTEM] == system && job_at (job, JOB_CELL, i)->num[CELL_AREA] == area)
      id = job_at (job, JOB_CELL, i)->id;
  g_assert_cmpint (id, >, 0);
  set (job, JOB_CELL, id, "class", "6");
}

/* The parts of a mark add up to its whole: money to the cent, weight to the milligram, time to the rounding of each part. */
static void
assert_adds_up (const JobMark *mark)
{
  MarkPart sum = { 0 };

  for (guint i = 0; i < mark->parts->len; i++)
    {
      const MarkPart *part = &g_array_index (mark->parts, MarkPart, i);
      sum.price += part->price;
      sum.cost += part->cost;
      sum.field_ms += part->field_ms;
      sum.shop_ms += part->shop_ms;
      sum.net_mg += part->net_mg;
      sum.not_priced += part->not_priced;
    }
  g_assert_cmpint (sum.price, ==, mark->all.price);
  g_assert_cmpint (sum.cost, ==, mark->all.cost);
  g_assert_cmpint (sum.net_mg, ==, mark->all.net_mg);
  g_assert_cmpint (sum.not_priced, ==, mark->all.not_priced);
  g_assert_cmpint (ABS (sum.field_ms - mark->all.field_ms), <=, (gint64) mark->parts->len);
  g_assert_cmpint (ABS (sum.shop_ms - mark->all.shop_ms), <=, (gint64) mark->parts->len);
}

/* invented demo: price 207,590.42, cost 174,857.16, 819.68 field and 425.02 shop worker-hours, 28,322.7 lb, three systems */
static void
test_take (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobMark) mark = job_mark_take (job, "before addendum 2", 1900000000);

  g_assert_cmpstr (mark->name, ==, "before addendum 2");
  g_assert_cmpint (mark->at, ==, 1900000000);
  g_assert_cmpint (mark->decimals, ==, 2);
  g_assert_cmpuint (mark->parts->len, ==, 3);
  g_assert_cmpstr (g_array_index (mark->parts, MarkPart, 0).system, ==, "SA-1");
  g_assert_cmpfloat_with_epsilon ((double) mark->all.price / 100, 207590.42, 20.7);
  g_assert_cmpfloat_with_epsilon ((double) mark->all.cost / 100, 174857.16, 17.4);
  g_assert_cmpfloat_with_epsilon ((double) mark->all.field_ms / 3.6e6, 819.68, 0.08);
  g_assert_cmpfloat_with_epsilon ((double) mark->all.shop_ms / 3.6e6, 425.02, 0.04);
  g_assert_cmpfloat_with_epsilon (measure_lb (mark->all.net_mg), 28322.7, 2.8);
  g_assert_cmpint (mark->all.not_priced, ==, 0);
  assert_adds_up (mark);
}

/* invented demo: the class of one cell raised gives +2,799.76, +12.71 field h, +1.65 shop h, +630.8 lb, all of it in SA-1 but
 * for cents that the other systems' shares are rounded by. */
static void
test_addendum (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobMark) before = job_mark_take (job, "before addendum 2", 1);
  const MarkPart *part;

  raise_class (job);
  g_autoptr (JobMark) now = job_mark_take (job, NULL, 2);
  g_autoptr (JobMark) since = job_mark_compare (before, now);
  g_assert_cmpstr (since->name, ==, "before addendum 2");
  g_assert_cmpint (since->at, ==, 1);
  g_assert_cmpfloat_with_epsilon ((double) since->all.price / 100, 2799.76, 0.03);
  g_assert_cmpfloat_with_epsilon ((double) since->all.field_ms / 3.6e6, 12.71, 0.005);
  g_assert_cmpfloat_with_epsilon ((double) since->all.shop_ms / 3.6e6, 1.65, 0.005);
  g_assert_cmpfloat_with_epsilon (measure_lb (since->all.net_mg), 630.8, 0.1);
  g_assert_cmpuint (since->parts->len, >=, 1);
  part = &g_array_index (since->parts, MarkPart, 0);
  g_assert_cmpstr (part->system, ==, "SA-1");
  g_assert_cmpint (part->net_mg, ==, since->all.net_mg);
  g_assert_cmpint (part->field_ms, ==, since->all.field_ms);
  for (guint i = 1; i < since->parts->len; i++)
    {
      part = &g_array_index (since->parts, MarkPart, i);
      g_assert_cmpint (part->net_mg, ==, 0);
      g_assert_cmpint (ABS (part->price), <=, 5);
    }
  assert_adds_up (since);

  g_assert_true (job_undo (job, NULL));
  g_autoptr (JobMark) undone = job_mark_take (job, NULL, 3);
  g_autoptr (JobMark) none = job_mark_compare (before, undone);
  g_assert_cmpuint (none->parts->len, ==, 0);
  g_assert_cmpint (none->all.price, ==, 0);
}

/* A system that is gone, one that is new, a run that lost its system, one that is not priced any more, other decimals. */
static void
test_places_change (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobMark) before = job_mark_take (job, "first count", 1);
  gint64 ea = find (job, JOB_SYSTEM, "EA-1");
  gboolean gone = FALSE, fresh = FALSE, rest = FALSE;
  guint moved = 0;

  set (job, JOB_SYSTEM, ea, "system", "EA-9, \"kitchen\"");
  for (guint i = 0; i < job_n (job, JOB_RUN) && moved < 2; i++)
    if (job_at (job, JOB_RUN, i)->num[RUN_SYSTEM] == ea)
      {
        set (job, JOB_RUN, job_at (job, JOB_RUN, i)->id, moved == 0 ? "system" : "size", moved == 0 ? "" : "no size");
        moved++;
      }
  set (job, JOB_HEAD, 1, "decimals", "0");
  g_autoptr (JobMark) now = job_mark_take (job, NULL, 2);
  g_autoptr (JobMark) since = job_mark_compare (before, now);
  assert_adds_up (now);
  g_assert_cmpint (since->decimals, ==, 0);
  g_assert_cmpint (since->all.not_priced, >=, 1);
  for (guint i = 0; i < since->parts->len; i++)
    {
      const MarkPart *part = &g_array_index (since->parts, MarkPart, i);
      gone = gone || (g_strcmp0 (part->system, "EA-1") == 0 && part->net_mg < 0 && part->price < 0);
      fresh = fresh || (g_strcmp0 (part->system, "EA-9, \"kitchen\"") == 0 && part->net_mg > 0);
      rest = rest || !part->system;
      if (g_strcmp0 (part->system, "RA-1") == 0) /* only its share of rounded lines may move */
        {
          g_assert_cmpint (part->net_mg, ==, 0);
          g_assert_cmpint (ABS (part->price), <=, 2);
        }
    }
  g_assert_true (gone);
  g_assert_true (fresh);
  g_assert_true (rest);
}

static void
test_text (void)
{
  g_autoptr (TallyJob) job = demo ();

  set (job, JOB_SYSTEM, find (job, JOB_SYSTEM, "EA-1"), "system", " two\nlines, \"quoted\"; ");
  set (job, JOB_RUN, job_at (job, JOB_RUN, 0)->id, "system", "");
  g_autoptr (JobMark) mark = job_mark_take (job, "before, \"addendum\"\n2", 1900000000);
  g_autofree char *text = job_mark_print (mark);
  g_autoptr (Fault) fault = NULL;
  g_autoptr (JobMark) again = job_mark_parse (text, &fault);
  g_assert_null (fault);
  g_autofree char *twice = job_mark_print (again);
  g_assert_cmpstr (text, ==, twice);
  g_assert_cmpstr (again->name, ==, mark->name);
  g_assert_cmpint (again->at, ==, mark->at);
  g_assert_cmpint (again->all.price, ==, mark->all.price);
  g_assert_cmpuint (again->parts->len, ==, mark->parts->len);
  g_assert_null (g_array_index (again->parts, MarkPart, again->parts->len - 1).system);
  g_autoptr (JobMark) none = job_mark_compare (again, mark);
  g_assert_cmpuint (none->parts->len, ==, 0);
}

/* Whatever the file of settings holds: a mark or a fault in words. */
static void
test_broken_text (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobMark) mark = job_mark_take (job, "x", 1);
  g_autofree char *text = job_mark_print (mark);
  static const char *const broken[] = { "", "what\n", "mark,x,1,2,3,4,5,6,7,8\n", "\xff\xfe" };
  g_autoptr (GRand) rand = g_rand_new_with_seed (82);
  gsize length = strlen (text);
  guint refused = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (broken); i++)
    {
      g_autoptr (Fault) fault = NULL;
      g_assert_null (job_mark_parse (broken[i], &fault));
      g_assert_cmpstr (fault->remedy, !=, "");
    }
  for (int i = 0; i < 2000; i++)
    {
      g_autofree char *bad = g_strdup (text);
      g_autoptr (Fault) fault = NULL;
      bad[g_rand_int_range (rand, 0, (int) length)] = (char) g_rand_int_range (rand, 1, 128);
      g_autoptr (JobMark) read = job_mark_parse (bad, &fault);
      g_assert_true ((read == NULL) == (fault != NULL));
      refused += read == NULL;
    }
  g_assert_cmpuint (refused, >, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/job/mark/take", test_take);
  g_test_add_func ("/job/mark/addendum", test_addendum);
  g_test_add_func ("/job/mark/places-change", test_places_change);
  g_test_add_func ("/job/mark/text", test_text);
  g_test_add_func ("/job/mark/broken-text", test_broken_text);
  return g_test_run ();
}
