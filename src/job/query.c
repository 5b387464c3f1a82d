/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/query.h"

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
  gint64 a, b; /* numbers; sizes have two */
  char *key;   /* (nullable): collation key of text */
} SortKey;

void
job_query_init (JobQuery *query)
{
  *query = (JobQuery) { .sort_field = -1, .filter_field = -1 };
}

void
job_query_clear (JobQuery *query)
{
  g_free (query->find);
  g_free (query->filter_text);
  job_query_init (query);
}

static gboolean
in_part (gint64 wanted, gint64 id)
{
  if (wanted == 0)
    return TRUE;
  return wanted == -1 ? id == JOB_UNSET : id == wanted;
}

static gboolean
is_empty (const JobRecord *run, int field)
{
  const JobField *f = &job_type_info (JOB_RUN)->field[field];

  if (job_record_raw (run, field))
    return FALSE;
  return f->as == JOB_AS_TEXT ? run->text[f->slot] == NULL : run->num[f->slot] == JOB_UNSET;
}

static gboolean
contains (TallyJob *job, const JobRecord *run, const char *folded)
{
  for (int f = 0; f < job_type_info (JOB_RUN)->n_fields; f++)
    {
      if (is_empty (run, f))
        continue;
      g_autofree char *text = job_record_print (run, f, job_names (job));
      g_autofree char *low = g_utf8_casefold (text, -1);
      if (strstr (low, folded))
        return TRUE;
    }
  return FALSE;
}

static gboolean
prints_as (TallyJob *job, const JobRecord *run, int field, const char *wanted)
{
  g_autofree char *text = job_record_print (run, field, job_names (job));

  return g_strcmp0 (text, wanted ? wanted : "") == 0;
}

static gboolean
is_priced (TallyJob *job, const JobRecord *run)
{
  JobRunResult result = { 0 };
  gboolean priced = job_compute (job, run, JOB_OWN_METHOD, &result);

  job_run_result_clear (&result);
  return priced;
}

/* The cheap questions first. */
static gboolean
matches (TallyJob *job, const JobRecord *run, const JobQuery *query, const char *folded)
{
  return in_part (query->scope.system, run->num[RUN_SYSTEM]) && in_part (query->scope.area, run->num[RUN_AREA])
         && (query->filter_field < 0 || prints_as (job, run, query->filter_field, query->filter_text))
         && (!folded || contains (job, run, folded)) && (!query->not_priced || !is_priced (job, run));
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

static SortKey
sort_key (TallyJob *job, guint position, int field)
{
  const JobRecord *run = job_at (job, JOB_RUN, position);
  const JobField *f = &job_type_info (JOB_RUN)->field[field];
  SortKey key = { .position = position, .rank = RANK_EMPTY };

  if (is_empty (run, field))
    return key;
  key.rank = job_record_raw (run, field) ? RANK_RAW : RANK_VALUE;
  if (key.rank == RANK_RAW || sorts_as_text (f->as))
    {
      g_autofree char *text = job_record_print (run, field, job_names (job));
      key.key = g_utf8_collate_key (text, -1);
      return key;
    }
  key.a = run->num[f->slot];
  key.b = f->as == JOB_AS_SIZE ? run->num[f->slot + 1] : 0;
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
compare_keys (gconstpointer left, gconstpointer right, gpointer data)
{
  const SortKey *x = left, *y = right;
  int order = 0;

  if (x->rank != y->rank)
    return sign_of (x->rank, y->rank);
  if (x->key && y->key)
    order = strcmp (x->key, y->key);
  else if ((order = sign_of (x->a, y->a)) == 0)
    order = sign_of (x->b, y->b);
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
    if (matches (job, job_at (job, JOB_RUN, i), query, folded))
      g_array_append_val (out, i);
  if (query->sort_field < 0)
    return out;

  for (guint i = 0; i < out->len; i++)
    {
      SortKey key = sort_key (job, g_array_index (out, guint, i), query->sort_field);
      g_array_append_val (keys, key);
    }
  g_array_sort_with_data (keys, compare_keys, GINT_TO_POINTER (query->descending));
  for (guint i = 0; i < out->len; i++)
    g_array_index (out, guint, i) = g_array_index (keys, SortKey, i).position;
  return out;
}
