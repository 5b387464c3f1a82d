/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/column.h"

#include "base/measure.h"
#include "base/money.h"
#include "base/num.h"
#include "job/note-line.h"

#include <string.h>

/* Decimals of the computed columns, in their order. */
static const int decimals[] = { 0, 0, 0, 0, 1, 1, 0 };

static const char *
key_of (int field)
{
  return job_type_info (JOB_RUN)->field[field].key;
}

static gboolean
is (int field, const char *key)
{
  return strcmp (key_of (field), key) == 0;
}

gboolean
job_column_needs_result (int column)
{
  static const char *const keys[] = { "class", "method", "gauge", "exposure", "metal", NULL };

  return column >= JOB_COLUMN_COMPUTED || g_strv_contains (keys, key_of (column));
}

char *
job_figure_print (double value, int places)
{
  double scale = 1;
  gint64 whole;

  for (int i = 0; i < places; i++)
    scale *= 10;
  return num_from_double (value * scale, &whole) ? money_print (whole, places, TRUE) : g_strdup ("–");
}

/* Figures of a measured run; a counted line has hours and money alone. */
static gboolean
computed (TallyJob *job, const JobRecord *run, int column, const JobRunResult *r, double *figure)
{
  const CostBasis *basis = job_basis (job);
  gboolean metric = job_names (job)->metric;
  CostSums sums;

  if (!r->vector || job_is_note_line (run) || (r->method < 0 && column < JOB_COLUMN_SHOP))
    return FALSE;
#define V(m) r->vector[cost_measure_slot (basis, m)]
#define MASS(mg) (metric ? (double) (mg) / 1e6 : measure_lb (mg))
  switch (column)
    {
    case JOB_COLUMN_PIECES:
      *figure = (double) V (COST_PIECES) / 1000;
      return TRUE;
    case JOB_COLUMN_JOINTS:
      *figure = (double) V (COST_JOINTS) / 1000;
      return TRUE;
    case JOB_COLUMN_NET:
      *figure = MASS (V (COST_NET_MG));
      return TRUE;
    case JOB_COLUMN_SHIPPED:
      *figure = MASS (V (COST_SHIPPED_MG));
      return TRUE;
    default:
      break;
    }
#undef V
#undef MASS
  job_run_sums (job, run, r->vector, &sums);
  if (column == JOB_COLUMN_SHOP || column == JOB_COLUMN_FIELD)
    {
      *figure = num_wide_to_double (sums.time[column == JOB_COLUMN_SHOP]) / COST_TIME_DEN;
      return TRUE;
    }
  g_autoptr (BuildUp) up = buildup_new (basis, &sums, 2);
  *figure = (double) buildup_get (up, "cost") / 100;
  return TRUE;
}

gboolean
job_column_adds_up (int column)
{
  if (column >= JOB_COLUMN_COMPUTED)
    return TRUE;
  return is (column, "length") || is (column, "count") || is (column, "fit_pieces") || is (column, "shop_minutes")
         || is (column, "field_minutes");
}

gboolean
job_column_figure (TallyJob *job, const JobRecord *run, int column, const JobRunResult *result, double *figure)
{
  const JobField *f;

  if (!job_column_adds_up (column))
    return FALSE;
  if (column >= JOB_COLUMN_COMPUTED)
    return computed (job, run, column, result, figure);
  f = &job_type_info (JOB_RUN)->field[column];
  if (job_is_note_line (run) || run->num[f->slot] == JOB_UNSET)
    return FALSE;
  switch ((int) f->as)
    {
    case JOB_AS_LENGTH_FT:
      *figure = (double) run->num[f->slot] / (double) (job_names (job)->metric ? LENGTH_NM_PER_M : LENGTH_NM_PER_FT);
      return TRUE;
    case JOB_AS_COUNT:
      *figure = (double) run->num[f->slot] / 1000;
      return TRUE;
    case JOB_AS_MINUTES:
      *figure = (double) run->num[f->slot] / 1e6;
      return TRUE;
    default:
      *figure = (double) run->num[f->slot];
      return TRUE;
    }
}

/* Pascals below a heading that says so. */
static char *
class_text (gint64 pressure, gboolean metric)
{
  char *text = pressure_print (pressure, metric);

  if (g_str_has_suffix (text, " Pa"))
    text[strlen (text) - strlen (" Pa")] = '\0';
  return text;
}

char *
job_column_inherited (TallyJob *job, const JobRecord *run, int field, const JobRunResult *r)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;

  if (field >= JOB_COLUMN_COMPUTED || run->num[RUN_KIND] == JOB_UNSET || !duct_kind_measured ((DuctKind) run->num[RUN_KIND]))
    return NULL;
  if (is (field, "class"))
    return r->shape.pressure != 0 ? class_text (r->shape.pressure, job_names (job)->metric) : NULL;
  if (is (field, "method"))
    {
      /* What is used in the end is what counts: a fallback is told in words beside it. */
      int method = r->method >= 0 ? r->method : r->asked;
      return method >= 0 ? g_strdup (catalogue_method (catalogue, method)->key) : NULL;
    }
  if (is (field, "gauge"))
    return r->method >= 0 && duct_kind_has_gauge ((DuctKind) r->shape.kind)
             ? g_strdup (duct_rules_sheet (catalogue->rules, r->build.sheet)->label)
             : NULL;
  if (is (field, "exposure"))
    return g_strdup (duct_exposure_key ((DuctExposure) r->shape.exposure));
  if (is (field, "metal"))
    return g_strdup (duct_metal_key ((DuctMetal) r->shape.metal));
  return NULL;
}

/* The words of a note stand where sizes do. */
static char *
note_line_text (TallyJob *job, const JobRecord *run, int column)
{
  if (column >= JOB_COLUMN_COMPUTED)
    return g_strdup ("");
  if (is (column, "size"))
    return g_strdup (job_note_line_words (run));
  if (is (column, "kind"))
    return g_strdup (duct_kind_info (DUCT_REMARK)->key);
  return job_record_print (run, column, job_names (job));
}

static char *
size_text (TallyJob *job, const JobRecord *run, int column)
{
  g_autofree char *size = job_record_print (run, column, job_names (job));
  g_autofree char *second = job_record_print (run, job_field_find (JOB_RUN, "size2"), job_names (job));

  if (run->num[RUN_KIND] == DUCT_COUNTED && !*size && run->text[RUN_ITEM])
    return g_strdup (run->text[RUN_ITEM]);
  return *second ? g_strdup_printf ("%s > %s", size, second) : g_steal_pointer (&size);
}

char *
job_column_text (TallyJob *job, const JobRecord *run, int column, const JobRunResult *r)
{
  char *inherited;
  double figure;

  if (job_is_note_line (run))
    return note_line_text (job, run, column);
  if (column >= JOB_COLUMN_COMPUTED)
    return computed (job, run, column, r, &figure) ? job_figure_print (figure, decimals[column - JOB_COLUMN_COMPUTED])
                                                   : g_strdup ("");
  if (is (column, "size"))
    return size_text (job, run, column);
  if (is (column, "class") && run->num[RUN_CLASS] != JOB_UNSET && !job_record_raw (run, column))
    return class_text (run->num[RUN_CLASS], job_names (job)->metric);
  g_autofree char *text = job_record_print (run, column, job_names (job));
  if (*text || !job_column_needs_result (column))
    return g_steal_pointer (&text);
  inherited = job_column_inherited (job, run, column, r);
  return inherited ? inherited : g_steal_pointer (&text);
}
