/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "job/query.h"

#include <string.h>

/* Random runs against an oracle that knows nothing of the query's ways: it picks the rows one by one, the least first,
 * from printed text. All figures: invented demo. */

static const char *const systems[] = { "SA-1", "RA-1", "ea-1" };
static const char *const areas[] = { "Plant", "Level 2", "Level 10" };

static TallyJob *
random_job (GRand *rand, int n)
{
  static const char *const notes[] = { "", "", "Weatherproof", "weather", "Ärger", "Zeta", "alpha", "24x12" };
  static const char *const sizes[] = { "", "24x12", "24x8", "8x24", "100x50", "9 1/2x9", "nonsense" };
  static const char *const lengths[] = { "", "9", "10", "100", "9.5", "ten" };
  static const char *const classes[] = { "", "-2", "-1/2", "1/2", "2", "10" };
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  TallyJob *job = job_new (catalogue, "query");
  JobEdit *edit = job_edit_new ("set up");

#define ANY(list) list[g_rand_int_range (rand, 0, (gint32) G_N_ELEMENTS (list))]
  for (gsize i = 0; i < G_N_ELEMENTS (systems); i++)
    {
      JobRecord *system = job_record_new (JOB_SYSTEM, (gint64) i + 1, (gint64) i);
      JobRecord *area = job_record_new (JOB_AREA, (gint64) i + 1, (gint64) i);
      job_record_set_text (system, SYSTEM_KEY, systems[i]);
      job_record_set_text (area, AREA_KEY, areas[i]);
      job_edit_add (edit, NULL, system);
      job_edit_add (edit, NULL, area);
    }
  g_assert_true (job_apply (job, edit, NULL));
  edit = job_edit_new ("runs");
  for (int i = 0; i < n; i++)
    {
      JobRecord *run = job_record_new (JOB_RUN, job_take_id (job, JOB_RUN), g_rand_int_range (rand, 0, n));
      if (g_rand_int_range (rand, 0, 4))
        run->num[RUN_SYSTEM] = g_rand_int_range (rand, 1, 4);
      if (g_rand_int_range (rand, 0, 4))
        run->num[RUN_AREA] = g_rand_int_range (rand, 1, 4);
      run->num[RUN_KIND] = g_rand_int_range (rand, 0, DUCT_N_KINDS);
      job_record_read (run, job_field_find (JOB_RUN, "size"), ANY (sizes), job_names (job), NULL);
      job_record_read (run, job_field_find (JOB_RUN, "length"), ANY (lengths), job_names (job), NULL);
      job_record_read (run, job_field_find (JOB_RUN, "class"), ANY (classes), job_names (job), NULL);
      job_record_set_text (run, RUN_NOTE, ANY (notes));
      job_record_set_text (run, RUN_GAUGE, g_rand_boolean (rand) ? "22" : "");
      job_edit_add (edit, NULL, run);
    }
#undef ANY
  g_assert_true (job_apply (job, edit, NULL));
  return job;
}

static char *
printed (TallyJob *job, guint row, int field)
{
  return job_record_print (job_at (job, JOB_RUN, row), field, job_names (job));
}

/* "9 1/2x9" as 9.5 and 9; a plain figure with its sign as itself. FALSE for text that is no figure. */
static gboolean
as_figures (const char *text, double out[2])
{
  g_auto (GStrv) sides = g_strsplit (text, "x", 2);

  out[0] = out[1] = 0;
  for (int i = 0; i < 2 && sides[i]; i++)
    {
      gboolean minus = sides[i][0] == '-';
      char *rest;
      double v = g_ascii_strtod (sides[i] + minus, &rest);
      if (rest == sides[i] + minus)
        return FALSE;
      if (*rest == '/')
        v /= g_ascii_strtod (rest + 1, &rest);
      else if (*rest == ' ')
        {
          double over = g_ascii_strtod (rest, &rest);
          v += over / g_ascii_strtod (rest + 1, &rest);
        }
      if (*rest)
        return FALSE;
      out[i] = minus ? -v : v;
    }
  return TRUE;
}

/* Whether row @a stands before row @b, where not equal. */
static int
oracle_compare (TallyJob *job, guint a, guint b, int field, gboolean numeric, gboolean descending)
{
  g_autofree char *x = printed (job, a, field), *y = printed (job, b, field);
  double fx[2], fy[2];
  gboolean nx = as_figures (x, fx), ny = as_figures (y, fy);
  int order;

  if (!*x || !*y)
    return *x ? -1 : *y ? 1 : 0;
  if (!numeric)
    order = g_utf8_collate (x, y);
  else if (!nx || !ny)
    {
      if (nx || ny)
        return nx ? -1 : 1;
      order = g_utf8_collate (x, y);
    }
  else
    order = fx[0] != fy[0] ? (fx[0] < fy[0] ? -1 : 1) : fx[1] != fy[1] ? (fx[1] < fy[1] ? -1 : 1) : 0;
  return descending ? -order : order;
}

static gboolean
oracle_holds (TallyJob *job, guint row, const JobQuery *query)
{
  g_autofree char *system = printed (job, row, job_field_find (JOB_RUN, "system"));
  g_autofree char *area = printed (job, row, job_field_find (JOB_RUN, "area"));
  const char *system_wanted = query->scope.system > 0 ? systems[query->scope.system - 1] : "";
  const char *area_wanted = query->scope.area > 0 ? areas[query->scope.area - 1] : "";
  gboolean found = query->find == NULL;

  if ((query->scope.system != 0 && strcmp (system, system_wanted) != 0)
      || (query->scope.area != 0 && strcmp (area, area_wanted) != 0))
    return FALSE;
  if (query->filter_field >= 0)
    {
      g_autofree char *text = printed (job, row, query->filter_field);
      if (strcmp (text, query->filter_text) != 0)
        return FALSE;
    }
  for (int f = 0; !found && f < job_type_info (JOB_RUN)->n_fields; f++)
    {
      g_autofree char *text = printed (job, row, f);
      g_autofree char *low = g_utf8_strdown (text, -1), *wanted = g_utf8_strdown (query->find, -1);
      found = strstr (low, wanted) != NULL;
    }
  if (found && query->not_priced)
    {
      JobRunResult result;
      gboolean priced = job_compute (job, job_at (job, JOB_RUN, row), JOB_OWN_METHOD, &result);
      job_run_result_clear (&result);
      return !priced;
    }
  return found;
}

static void
check_query (TallyJob *job, const JobQuery *query, gboolean numeric)
{
  g_autoptr (GArray) rows = job_query_run (job, query);
  g_autofree gboolean *used = g_new0 (gboolean, job_n (job, JOB_RUN));
  guint held = 0;

  for (guint row = 0; row < job_n (job, JOB_RUN); row++)
    held += oracle_holds (job, row, query) ? 1 : 0;
  g_assert_cmpuint (rows->len, ==, held);
  for (guint i = 0; i < rows->len; i++)
    {
      int least = -1;
      for (guint row = 0; row < job_n (job, JOB_RUN); row++)
        if (!used[row] && oracle_holds (job, row, query)
            && (least < 0
                || (query->sort_field >= 0
                    && oracle_compare (job, row, (guint) least, query->sort_field, numeric, query->descending) < 0)))
          least = (int) row;
      g_assert_cmpint (least, ==, (int) g_array_index (rows, guint, i));
      used[least] = TRUE;
    }
}

static void
test_order (void)
{
  static const struct
  {
    const char *key;
    gboolean numeric;
  } fields[] = { { "size", TRUE }, { "length", TRUE }, { "class", TRUE }, { "note", FALSE }, { "kind", FALSE },
                 { "system", FALSE }, { "area", FALSE }, { "gauge", FALSE } };
  g_autoptr (GRand) rand = g_rand_new_with_seed (20240612);
  g_autoptr (TallyJob) job = random_job (rand, 60);

  for (gsize i = 0; i < G_N_ELEMENTS (fields); i++)
    for (int descending = 0; descending < 2; descending++)
      {
        JobQuery query;
        job_query_init (&query);
        query.sort_field = job_field_find (JOB_RUN, fields[i].key);
        query.descending = descending;
        check_query (job, &query, fields[i].numeric);
        job_query_clear (&query);
      }
}

static void
test_filter (void)
{
  static const char *const finds[] = { NULL, "WEATHER", "24x", "ärger", "sa-", "elbow", "nobody" };
  static const struct
  {
    const char *key, *text;
  } filters[] = { { NULL, NULL }, { "kind", "tap" }, { "class", "-1/2" }, { "note", "" }, { "size", "nonsense" } };
  g_autoptr (GRand) rand = g_rand_new_with_seed (20240613);
  g_autoptr (TallyJob) job = random_job (rand, 50);
  guint found = 0;

  for (int i = 0; i < 200; i++)
    {
      JobQuery query;
      gsize filter = (gsize) g_rand_int_range (rand, 0, (gint32) G_N_ELEMENTS (filters));
      job_query_init (&query);
      query.scope = (JobScope) { g_rand_int_range (rand, -1, 4), g_rand_int_range (rand, -1, 4) };
      query.find = g_strdup (finds[g_rand_int_range (rand, 0, (gint32) G_N_ELEMENTS (finds))]);
      query.not_priced = g_rand_int_range (rand, 0, 4) == 0;
      if (filters[filter].key)
        {
          query.filter_field = job_field_find (JOB_RUN, filters[filter].key);
          query.filter_text = g_strdup (filters[filter].text);
        }
      query.sort_field = g_rand_boolean (rand) ? job_field_find (JOB_RUN, "length") : -1;
      query.descending = g_rand_boolean (rand);
      check_query (job, &query, TRUE);
      g_autoptr (GArray) rows = job_query_run (job, &query);
      found += rows->len;
      job_query_clear (&query);
    }
  g_assert_cmpuint (found, >, 50); /* the filters let something through */
}

static void
test_everything (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20240614);
  g_autoptr (TallyJob) job = random_job (rand, 40);
  JobQuery query;

  job_query_init (&query);
  g_autoptr (GArray) rows = job_query_run (job, &query);
  g_assert_cmpuint (rows->len, ==, 40);
  for (guint i = 0; i < rows->len; i++)
    g_assert_cmpuint (g_array_index (rows, guint, i), ==, i);
  job_query_clear (&query);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/job/query/everything", test_everything);
  g_test_add_func ("/job/query/order", test_order);
  g_test_add_func ("/job/query/filter", test_filter);
  return g_test_run ();
}
