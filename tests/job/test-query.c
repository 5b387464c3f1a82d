/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "job/note-line.h"
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
      if (i > 0)
        system->num[SYSTEM_CLASS] = i == 1 ? 3000 : -1000;
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

/* What is entered; for a class without an entry that of the run's system or of the job, where the run can be measured as far as
 * that; gauges those entered, unless the run is priced: then that of its sheet. The words of a note stand for its size. */
static char *
printed (TallyJob *job, guint row, int field)
{
  const JobRecord *run = job_at (job, JOB_RUN, row);
  char *text = job_record_print (run, field, job_names (job));
  gboolean class = field == job_field_find (JOB_RUN, "class"), gauge = field == job_field_find (JOB_RUN, "gauge"), priced;
  const JobRecord *system = run->num[RUN_SYSTEM] == JOB_UNSET ? NULL : job_find (job, JOB_SYSTEM, run->num[RUN_SYSTEM]);
  JobRunResult r;

  if (job_is_note_line (run) && field == job_field_find (JOB_RUN, "size"))
    {
      g_free (text);
      return g_strdup (run->text[RUN_NOTE] ? run->text[RUN_NOTE] : "");
    }
  if (*text || (!class && !gauge) || !duct_kind_measured ((DuctKind) run->num[RUN_KIND]))
    return text;
  priced = job_compute (job, run, JOB_OWN_METHOD, &r);
  if (class && r.shape.pressure != 0)
    {
      int own = job_field_find (JOB_SYSTEM, "class");
      g_free (text);
      text = system && job_record_is_set (system, own) ? job_record_print (system, own, job_names (job))
                                                       : job_record_print (job_head (job), job_field_find (JOB_HEAD, "class"), job_names (job));
    }
  if (gauge && priced && duct_kind_has_gauge ((DuctKind) run->num[RUN_KIND]))
    {
      g_free (text);
      text = g_strdup (duct_rules_sheet (job_basis (job)->catalogue->rules, r.build.sheet)->label);
    }
  job_run_result_clear (&r);
  return text;
}

/* What a row is ordered by: a note has no size. */
static char *
ordered_by (TallyJob *job, guint row, int field)
{
  return job_is_note_line (job_at (job, JOB_RUN, row)) && field == job_field_find (JOB_RUN, "size") ? g_strdup ("")
                                                                                                    : printed (job, row, field);
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
  g_autofree char *x = ordered_by (job, a, field), *y = ordered_by (job, b, field);
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
  for (guint i = 0; query->filters && i < query->filters->len; i++)
    {
      const JobFilter *filter = g_ptr_array_index (query->filters, i);
      g_autofree char *text = printed (job, row, filter->column), *low = g_utf8_strdown (text, -1);
      gboolean any = filter->values == NULL;
      for (guint v = 0; filter->values && v < filter->values->len; v++)
        any = any || strcmp (text, g_ptr_array_index (filter->values, v)) == 0;
      if (!any || (filter->words && !strstr (low, filter->words)))
        return FALSE;
    }
  for (int f = 0; !found && f < job_type_info (JOB_RUN)->n_fields; f++)
    {
      g_autofree char *text = job_record_print (job_at (job, JOB_RUN, row), f, job_names (job));
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
    const char *key, *value[3], *words;
  } filters[] = { { NULL, { NULL }, NULL },          { "kind", { "tap" }, NULL },      { "class", { "-1/2", "2" }, NULL },
                  { "note", { "" }, NULL },          { "size", { "nonsense" }, NULL }, { "note", { NULL }, "WEATHER" },
                  { "class", { "3" }, NULL },        { "length", { "9", "10", "100" }, "0" } };
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
          int column = job_field_find (JOB_RUN, filters[filter].key);
          gsize n = 0;
          while (n < 3 && filters[filter].value[n])
            n++;
          job_query_filter (&query, column, filters[filter].value, n, filters[filter].words);
        }
      query.sort_field = g_rand_boolean (rand) ? job_field_find (JOB_RUN, "length") : -1;
      query.descending = g_rand_boolean (rand);
      check_query (job, &query, TRUE);
      g_autoptr (GArray) rows = job_query_run (job, &query);
      for (guint row = 0; row < job_n (job, JOB_RUN); row++)
        g_assert_true (job_query_holds (job, &query, job_at (job, JOB_RUN, row)) == oracle_holds (job, row, &query));
      found += rows->len;
      job_query_clear (&query);
    }
  g_assert_cmpuint (found, >, 50); /* the filters let something through */
}

static void
set_head (TallyJob *job, const char *key, const char *text)
{
  g_assert_true (job_edit_field (job, JOB_HEAD, job_head (job)->id, job_field_find (JOB_HEAD, key), text, NULL, NULL));
}

/* Computed columns against a plain run over job_compute(); what has no figure stands last either way. */
static void
test_computed (void)
{
  static const int columns[] = { JOB_COLUMN_PIECES, JOB_COLUMN_NET, JOB_COLUMN_SHOP, JOB_COLUMN_FIELD, JOB_COLUMN_COST };
  g_autoptr (GRand) rand = g_rand_new_with_seed (20240615);
  g_autoptr (TallyJob) job = random_job (rand, 120);
  const Catalogue *catalogue = job_basis (job)->catalogue;
  guint figures = 0;

  set_head (job, "rule_set", ((const DuctRuleSet *) g_ptr_array_index (catalogue->rules->sets, 0))->key);
  set_head (job, "method", catalogue_method (catalogue, 0)->key);
  set_head (job, "class", "1/2");
  for (gsize i = 0; i < G_N_ELEMENTS (columns); i++)
    for (int descending = 0; descending < 2; descending++)
      {
        JobQuery query;
        double before = 0;
        gboolean any = FALSE, ended = FALSE;
        job_query_init (&query);
        query.sort_field = columns[i];
        query.descending = descending;
        g_autoptr (GArray) rows = job_query_run (job, &query);
        g_assert_cmpuint (rows->len, ==, 120);
        for (guint row = 0; row < rows->len; row++)
          {
            const JobRecord *run = job_at (job, JOB_RUN, g_array_index (rows, guint, row));
            JobRunResult r;
            double figure;
            job_compute (job, run, JOB_OWN_METHOD, &r);
            gboolean has = job_column_figure (job, run, columns[i], &r, &figure);
            job_run_result_clear (&r);
            g_assert_false (has && ended);
            if (has && any)
              g_assert_true (descending ? figure <= before : figure >= before);
            any = any || has;
            ended = !has;
            before = has ? figure : before;
            figures += has ? 1 : 0;
          }
        job_query_clear (&query);
      }
  g_assert_cmpuint (figures, >, 20);
}

/* Texts and counts of a column; its own filter does not narrow them, those of others do. */
static void
test_values (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20240616);
  g_autoptr (TallyJob) job = random_job (rand, 80);
  int class = job_field_find (JOB_RUN, "class"), kind = job_field_find (JOB_RUN, "kind");
  JobQuery query;

  job_query_init (&query);
  job_query_filter (&query, class, (const char *const[]) { "3" }, 1, NULL);
  job_query_filter (&query, kind, NULL, 0, "ELBOW");
  g_autoptr (GPtrArray) values = job_query_values (job, &query, class);
  guint sum = 0, elbows = 0;
  double before = -1000;
  for (guint i = 0; i < values->len; i++)
    {
      const JobValue *value = g_ptr_array_index (values, i);
      double figure[2];
      guint n = 0;
      for (guint row = 0; row < job_n (job, JOB_RUN); row++)
        {
          g_autofree char *text = printed (job, row, class), *k = printed (job, row, kind);
          n += strcmp (text, value->text) == 0 && strstr (k, "elbow") ? 1 : 0;
        }
      g_assert_cmpuint (value->n, ==, n);
      if (*value->text)
        {
          g_assert_true (as_figures (value->text, figure));
          g_assert_cmpfloat (figure[0], >, before);
          before = figure[0];
        }
      sum += n;
    }
  for (guint row = 0; row < job_n (job, JOB_RUN); row++)
    {
      g_autofree char *k = printed (job, row, kind);
      elbows += strstr (k, "elbow") != NULL;
    }
  g_assert_cmpuint (sum, ==, elbows);
  g_assert_cmpuint (values->len, >, 3);
  /* Free again. */
  job_query_filter (&query, kind, NULL, 0, "");
  g_assert_null (job_query_filter_of (&query, kind));
  g_assert_nonnull (job_query_filter_of (&query, class));
  job_query_clear (&query);
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
  g_test_add_func ("/job/query/computed", test_computed);
  g_test_add_func ("/job/query/values", test_values);
  return g_test_run ();
}
