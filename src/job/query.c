/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/query.h"

#include "job/note-line.h"

#include <string.h>

/* What a row is ordered by. Rows without a value stand last in either direction, before them those whose text could not
 * be read. */
typedef enum
{
  RANK_VALUE,
  RANK_RAW,
  RANK_EMPTY,
} Rank;

typedef struct
{
  guint position;
  Rank rank;
  double figure;  /* of computed columns */
  gint64 a, b;    /* numbers; sizes have two */
  char *key;      /* (nullable): collation key of text */
} SortKey;

/* A run that is looked at; computed when something asks for it, once. */
typedef struct
{
  TallyJob *job;
  const JobRecord *run;
  gboolean computed, priced;
  JobRunResult result;
} Row;

static void
filter_free (gpointer data)
{
  JobFilter *filter = data;

  g_clear_pointer (&filter->values, g_ptr_array_unref);
  g_free (filter->words);
  g_free (filter);
}

void
job_query_init (JobQuery *query)
{
  *query = (JobQuery) { .sort_field = -1 };
}

void
job_query_clear (JobQuery *query)
{
  g_free (query->find);
  g_clear_pointer (&query->filters, g_ptr_array_unref);
  job_query_init (query);
}

void
job_query_show_all (JobQuery *query)
{
  g_clear_pointer (&query->find, g_free);
  g_clear_pointer (&query->filters, g_ptr_array_unref);
  query->not_priced = FALSE;
}

const JobFilter *
job_query_filter_of (const JobQuery *query, int column)
{
  for (guint i = 0; query->filters && i < query->filters->len; i++)
    {
      const JobFilter *filter = g_ptr_array_index (query->filters, i);
      if (filter->column == column)
        return filter;
    }
  return NULL;
}

void
job_query_filter (JobQuery *query, int column, const char *const *values, gsize n, const char *words)
{
  const JobFilter *present = job_query_filter_of (query, column);
  JobFilter *filter;

  /* Made first: @values may be those of the filter that goes. */
  filter = g_new0 (JobFilter, 1);
  filter->column = column;
  filter->values = n > 0 ? g_ptr_array_new_with_free_func (g_free) : NULL;
  for (gsize i = 0; i < n; i++)
    g_ptr_array_add (filter->values, g_strdup (values[i]));
  filter->words = words && *words ? g_utf8_casefold (words, -1) : NULL;
  if (present)
    g_ptr_array_remove (query->filters, (gpointer) present);
  if (!filter->values && !filter->words)
    filter_free (filter);
  else
    {
      if (!query->filters)
        query->filters = g_ptr_array_new_with_free_func (filter_free);
      g_ptr_array_add (query->filters, filter);
    }
}

static const JobRunResult *
result_of (Row *row)
{
  if (!row->computed)
    row->priced = job_compute (row->job, row->run, JOB_OWN_METHOD, &row->result);
  row->computed = TRUE;
  return &row->result;
}

static void
row_clear (Row *row)
{
  if (row->computed)
    job_run_result_clear (&row->result);
}

static char *
text_of (Row *row, int column)
{
  return job_column_text (row->job, row->run, column, job_column_needs_result (column) ? result_of (row) : NULL);
}

static gboolean
in_part (gint64 wanted, gint64 id)
{
  if (wanted == 0)
    return TRUE;
  return wanted == -1 ? id == JOB_UNSET : id == wanted;
}

static gboolean
contains (TallyJob *job, const JobRecord *run, const char *folded)
{
  for (int f = 0; f < job_type_info (JOB_RUN)->n_fields; f++)
    {
      if (!job_record_is_set (run, f))
        continue;
      g_autofree char *text = job_record_print (run, f, job_names (job));
      g_autofree char *low = g_utf8_casefold (text, -1);
      if (strstr (low, folded))
        return TRUE;
    }
  return FALSE;
}

static gboolean
filter_holds (Row *row, const JobFilter *filter)
{
  g_autofree char *text = text_of (row, filter->column);

  if (filter->values && !g_ptr_array_find_with_equal_func (filter->values, text, g_str_equal, NULL))
    return FALSE;
  if (!filter->words)
    return TRUE;
  g_autofree char *low = g_utf8_casefold (text, -1);
  return strstr (low, filter->words) != NULL;
}

/* The cheap questions first. @but: a column whose filter is not asked, -1. */
static gboolean
matches (Row *row, const JobQuery *query, const char *folded, int but)
{
  if (!in_part (query->scope.system, row->run->num[RUN_SYSTEM]) || !in_part (query->scope.area, row->run->num[RUN_AREA])
      || (folded && !contains (row->job, row->run, folded)))
    return FALSE;
  for (guint i = 0; query->filters && i < query->filters->len; i++)
    {
      const JobFilter *filter = g_ptr_array_index (query->filters, i);
      if (filter->column != but && !filter_holds (row, filter))
        return FALSE;
    }
  if (!query->not_priced)
    return TRUE;
  result_of (row);
  return !row->priced;
}

gboolean
job_query_holds (TallyJob *job, const JobQuery *query, const JobRecord *run)
{
  g_autofree char *folded = query->find && *query->find ? g_utf8_casefold (query->find, -1) : NULL;
  Row row = { .job = job, .run = run };
  gboolean holds = matches (&row, query, folded, -1);

  row_clear (&row);
  return holds;
}

/* Words are ordered as words, also those of closed lists and the names of systems and areas. */
static gboolean
sorts_as_text (JobAs as)
{
  switch (as)
    {
    case JOB_AS_TEXT:
    case JOB_AS_KIND:
    case JOB_AS_END:
    case JOB_AS_EXPOSURE:
    case JOB_AS_METAL:
    case JOB_AS_SYSTEM:
    case JOB_AS_AREA:
      return TRUE;
    case JOB_AS_SIZE:
    case JOB_AS_LENGTH_IN:
    case JOB_AS_LENGTH_FT:
    case JOB_AS_COUNT:
    case JOB_AS_WHOLE:
    case JOB_AS_DECIMALS:
    case JOB_AS_ANGLE:
    case JOB_AS_CLASS:
    case JOB_AS_YES_NO:
    case JOB_AS_PRICE:
    case JOB_AS_MINUTES:
    case JOB_AS_FACTOR:
    case JOB_AS_UNITS:
    case JOB_AS_SIGN:
    default:
      return FALSE;
    }
}

/* By what the column shows, inherited or not. */
static SortKey
sort_key (Row *row, guint position, int column)
{
  const JobRecord *run = row->run;
  SortKey key = { .position = position, .rank = RANK_EMPTY };
  const JobField *f;

  if (column >= JOB_COLUMN_COMPUTED)
    {
      if (job_column_figure (row->job, run, column, result_of (row), &key.figure))
        key.rank = RANK_VALUE;
      return key;
    }
  f = &job_type_info (JOB_RUN)->field[column];
  if (job_is_note_line (run) && f->as == JOB_AS_SIZE)
    return key; /* words stand there */
  if (job_record_raw (run, column) || sorts_as_text (f->as))
    {
      g_autofree char *text = text_of (row, column);
      if (!*text)
        return key;
      key.rank = job_record_raw (run, column) ? RANK_RAW : RANK_VALUE;
      key.key = g_utf8_collate_key (text, -1);
      return key;
    }
  if (job_record_is_set (run, column))
    {
      key.rank = RANK_VALUE;
      key.a = run->num[f->slot];
      key.b = f->as == JOB_AS_SIZE ? run->num[f->slot + 1] : 0;
    }
  else if (f->as == JOB_AS_CLASS)
    {
      g_autofree char *inherited = job_column_inherited (row->job, run, column, result_of (row));
      if (inherited)
        {
          key.rank = RANK_VALUE;
          key.a = row->result.shape.pressure;
        }
    }
  return key;
}

static void
sort_key_clear (gpointer data)
{
  g_free (((SortKey *) data)->key);
}

static int
sign_of (gint64 a, gint64 b)
{
  return (a > b) - (a < b);
}

static int
compare_values (const SortKey *x, const SortKey *y)
{
  if (x->key && y->key)
    return strcmp (x->key, y->key);
  if (x->figure < y->figure || x->figure > y->figure)
    return x->figure < y->figure ? -1 : 1;
  return x->a != y->a ? sign_of (x->a, y->a) : sign_of (x->b, y->b);
}

static int
compare_keys (gconstpointer left, gconstpointer right, gpointer data)
{
  const SortKey *x = left, *y = right;
  int order;

  if (x->rank != y->rank)
    return sign_of (x->rank, y->rank);
  order = compare_values (x, y);
  if (order != 0)
    return GPOINTER_TO_INT (data) ? -order : order;
  return sign_of (x->position, y->position);
}

GArray *
job_query_run (TallyJob *job, const JobQuery *query)
{
  GArray *out = g_array_new (FALSE, FALSE, sizeof (guint));
  g_autoptr (GArray) keys = g_array_new (FALSE, FALSE, sizeof (SortKey));
  g_autofree char *folded = query->find && *query->find ? g_utf8_casefold (query->find, -1) : NULL;
  guint n = job_n (job, JOB_RUN);

  g_array_set_clear_func (keys, sort_key_clear);
  for (guint i = 0; i < n; i++)
    {
      Row row = { .job = job, .run = job_at (job, JOB_RUN, i) };
      gboolean held = matches (&row, query, folded, -1);
      if (held && query->sort_field >= 0)
        {
          SortKey key = sort_key (&row, i, query->sort_field);
          g_array_append_val (keys, key);
        }
      if (held)
        g_array_append_val (out, i);
      row_clear (&row);
    }
  if (query->sort_field < 0)
    return out;
  g_array_sort_with_data (keys, compare_keys, GINT_TO_POINTER (query->descending));
  for (guint i = 0; i < out->len; i++)
    g_array_index (out, guint, i) = g_array_index (keys, SortKey, i).position;
  return out;
}

/* ---- the values of a column ---- */

static void
value_free (gpointer data)
{
  JobValue *value = data;

  g_free (value->text);
  g_free (value);
}

GPtrArray *
job_query_values (TallyJob *job, const JobQuery *query, int column)
{
  GPtrArray *out = g_ptr_array_new_with_free_func (value_free);
  g_autoptr (GHashTable) known = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GArray) keys = g_array_new (FALSE, FALSE, sizeof (SortKey));
  g_autoptr (GPtrArray) found = g_ptr_array_new ();
  g_autofree char *folded = query->find && *query->find ? g_utf8_casefold (query->find, -1) : NULL;
  guint n = job_n (job, JOB_RUN);

  g_array_set_clear_func (keys, sort_key_clear);
  for (guint i = 0; i < n; i++)
    {
      Row row = { .job = job, .run = job_at (job, JOB_RUN, i) };
      if (matches (&row, query, folded, column))
        {
          g_autofree char *text = text_of (&row, column);
          JobValue *value = g_hash_table_lookup (known, text);
          if (!value)
            {
              SortKey key = sort_key (&row, found->len, column);
              g_array_append_val (keys, key);
              value = g_new0 (JobValue, 1);
              value->text = g_steal_pointer (&text);
              g_hash_table_insert (known, value->text, value);
              g_ptr_array_add (found, value);
            }
          value->n++;
        }
      row_clear (&row);
    }
  g_array_sort_with_data (keys, compare_keys, NULL);
  for (guint i = 0; i < keys->len; i++)
    g_ptr_array_add (out, g_ptr_array_index (found, g_array_index (keys, SortKey, i).position));
  return out;
}
