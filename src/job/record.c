/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/record.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "duct/kind.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static void
raw_free (gpointer data)
{
  JobRaw *raw = data;

  g_free (raw->text);
  g_free (raw);
}

JobRecord *
job_record_new (JobType type, gint64 id, gint64 ord)
{
  const JobTypeInfo *info = job_type_info (type);
  gsize nums = sizeof (gint64) * (gsize) info->n_num, texts = sizeof (char *) * (gsize) info->n_text;
  /* One block: a job has a hundred thousand of these. */
  JobRecord *record = g_malloc0 (sizeof (JobRecord) + nums + texts);

  g_ref_count_init (&record->refs);
  record->type = type;
  record->id = id;
  record->ord = ord;
  record->num = (gint64 *) (gpointer) (record + 1);
  record->text = (char **) (gpointer) (record->num + info->n_num);
  for (int i = 0; i < info->n_num; i++)
    record->num[i] = JOB_UNSET;
  return record;
}

JobRecord *
job_record_copy (const JobRecord *record)
{
  const JobTypeInfo *info = job_type_info (record->type);
  JobRecord *copy = job_record_new (record->type, record->id, record->ord);

  memcpy (copy->num, record->num, sizeof (gint64) * (gsize) info->n_num);
  for (int i = 0; i < info->n_text; i++)
    if (record->text[i])
      copy->text[i] = g_ref_string_acquire (record->text[i]);
  for (guint i = 0; record->raw && i < record->raw->len; i++)
    {
      const JobRaw *raw = g_ptr_array_index (record->raw, i);
      job_record_set_raw (copy, raw->field, raw->text);
    }
  return copy;
}

JobRecord *
job_record_ref (const JobRecord *record)
{
  /* Records are immutable but for their count. */
  JobRecord *r = (JobRecord *) record;

  g_ref_count_inc (&r->refs);
  return r;
}

void
job_record_unref (JobRecord *record)
{
  const JobTypeInfo *info = job_type_info (record->type);

  if (!g_ref_count_dec (&record->refs))
    return;
  for (int i = 0; i < info->n_text; i++)
    if (record->text[i])
      g_ref_string_release (record->text[i]);
  g_clear_pointer (&record->raw, g_ptr_array_unref);
  g_free (record);
}

gboolean
job_record_equal (const JobRecord *a, const JobRecord *b)
{
  const JobTypeInfo *info = job_type_info (a->type);
  guint n_a = a->raw ? a->raw->len : 0, n_b = b->raw ? b->raw->len : 0;

  if (a == b)
    return TRUE;
  if (a->type != b->type || a->id != b->id || a->ord != b->ord || n_a != n_b
      || memcmp (a->num, b->num, sizeof (gint64) * (gsize) info->n_num) != 0)
    return FALSE;
  for (int i = 0; i < info->n_text; i++)
    if (g_strcmp0 (a->text[i], b->text[i]) != 0)
      return FALSE;
  for (guint i = 0; i < n_a; i++)
    {
      const JobRaw *raw = g_ptr_array_index (a->raw, i);
      if (g_strcmp0 (raw->text, job_record_raw (b, raw->field)) != 0)
        return FALSE;
    }
  return TRUE;
}

void
job_record_set_text (JobRecord *record, int slot, const char *text)
{
  g_clear_pointer (&record->text[slot], g_ref_string_release);
  if (text && *text)
    record->text[slot] = g_ref_string_new_intern (text);
}

void
job_record_set_raw (JobRecord *record, int field, const char *text)
{
  for (guint i = 0; record->raw && i < record->raw->len; i++)
    if (((JobRaw *) g_ptr_array_index (record->raw, i))->field == field)
      {
        g_ptr_array_remove_index (record->raw, i);
        break;
      }
  if (text)
    {
      JobRaw *raw = g_new0 (JobRaw, 1);
      if (!record->raw)
        record->raw = g_ptr_array_new_with_free_func (raw_free);
      raw->field = field;
      raw->text = g_strdup (text);
      g_ptr_array_add (record->raw, raw);
    }
  else if (record->raw && record->raw->len == 0)
    g_clear_pointer (&record->raw, g_ptr_array_unref);
}

const char *
job_record_raw (const JobRecord *record, int field)
{
  for (guint i = 0; record->raw && i < record->raw->len; i++)
    {
      const JobRaw *raw = g_ptr_array_index (record->raw, i);
      if (raw->field == field)
        return raw->text;
    }
  return NULL;
}

gboolean
job_record_is_set (const JobRecord *record, int field)
{
  const JobField *f = &job_type_info (record->type)->field[field];

  if (job_record_raw (record, field))
    return TRUE;
  return f->as == JOB_AS_TEXT ? record->text[f->slot] != NULL : record->num[f->slot] != JOB_UNSET;
}

static gboolean
whole_between (const char *text, int decimals, gint64 least, gint64 most, gint64 *v, Fault **fault)
{
  if (!decimal_parse (text, decimals, v, fault))
    return FALSE;
  if (*v < least || *v > most)
    {
      g_autofree char *low = decimal_print (least, decimals, 0, TRUE);
      g_autofree char *high = decimal_print (most, decimals, 0, TRUE);
      g_autofree char *remedy = g_strdup_printf (_ ("enter a figure from %s to %s"), low, high);
      return fault_set (fault, fault_new (0, remedy, _ ("“%s” is out of bounds"), text));
    }
  return TRUE;
}

static gboolean
read_word (const char *text, const char *const *keys, gsize n, gint64 *v, Fault **fault)
{
  int i = duct_word_index (text, keys, n);

  if (i < 0)
    {
      g_autofree char *remedy = g_strdup_printf (_ ("write %s or %s"), keys[0], keys[1]);
      return fault_set (fault, fault_new (0, remedy, _ ("“%s” is not known here"), text));
    }
  *v = i;
  return TRUE;
}

static const char *const yes_no_keys[] = { "no", "yes" };
static const char *const units_keys[] = { "inch-pound", "metric" };
static const char *const sign_keys[] = { "+", "-" };

static gboolean
read_name (const char *text, JobType type, const JobNames *names, gint64 *v, Fault **fault)
{
  *v = names ? names->find (names->data, type, text) : 0;
  if (*v > 0)
    return TRUE;
  return fault_set (fault, fault_new (0, type == JOB_SYSTEM ? _ ("add the system first, or write one that is there")
                                                            : _ ("add the area first, or write one that is there"),
                                      type == JOB_SYSTEM ? _ ("there is no system “%s”") : _ ("there is no area “%s”"), text));
}

/* A value of one field; @v has room for two numbers (sizes). */
static gboolean
read_value (JobAs as, const char *text, const JobNames *names, gint64 v[2], Fault **fault)
{
  gboolean metric = names && names->metric;
  int i = 0;

  switch (as)
    {
    case JOB_AS_SIZE:
      return duct_size_parse (text, metric ? LENGTH_MM : LENGTH_IN, &v[0], &v[1], fault);
    case JOB_AS_LENGTH_IN:
      return length_parse (text, metric ? LENGTH_MM : LENGTH_IN, &v[0], fault);
    case JOB_AS_LENGTH_FT:
      return length_parse (text, metric ? LENGTH_M : LENGTH_FT, &v[0], fault);
    case JOB_AS_COUNT:
      return whole_between (text, 3, 1, G_GINT64_CONSTANT (1000000000), &v[0], fault);
    case JOB_AS_WHOLE:
      return whole_between (text, 0, 0, 1000000, &v[0], fault);
    case JOB_AS_DECIMALS:
      return whole_between (text, 0, 0, 4, &v[0], fault);
    case JOB_AS_ANGLE:
      return angle_parse (text, &v[0], fault);
    case JOB_AS_CLASS:
      return pressure_parse_bare (text, metric, &v[0], fault);
    case JOB_AS_PRICE:
      return whole_between (text, 4, 0, G_GINT64_CONSTANT (100000000000), &v[0], fault);
    case JOB_AS_MINUTES:
      return whole_between (text, 6, 0, G_GINT64_CONSTANT (1000000) * 1000000, &v[0], fault);
    case JOB_AS_FACTOR:
      return whole_between (text, 6, 0, 10000000, &v[0], fault);
    case JOB_AS_YES_NO:
      return read_word (text, yes_no_keys, 2, &v[0], fault);
    case JOB_AS_UNITS:
      return read_word (text, units_keys, 2, &v[0], fault);
    case JOB_AS_SIGN:
      return read_word (text, sign_keys, 2, &v[0], fault);
    case JOB_AS_SYSTEM:
      return read_name (text, JOB_SYSTEM, names, &v[0], fault);
    case JOB_AS_AREA:
      return read_name (text, JOB_AREA, names, &v[0], fault);
    case JOB_AS_KIND:
      if (!duct_kind_parse (text, (DuctKind *) &i, fault))
        return FALSE;
      break;
    case JOB_AS_END:
      if (!duct_end_parse (text, (DuctEnd *) &i, fault))
        return FALSE;
      break;
    case JOB_AS_EXPOSURE:
      if (!duct_exposure_parse (text, (DuctExposure *) &i, fault))
        return FALSE;
      break;
    case JOB_AS_METAL:
      if (!duct_metal_parse (text, (DuctMetal *) &i, fault))
        return FALSE;
      break;
    case JOB_AS_TEXT:
    default:
      return FALSE;
    }
  v[0] = i;
  return TRUE;
}

/* A bare figure is a diameter where the kind that stands in the row already is round there. */
static gboolean
read_diameter (const JobRecord *record, const JobField *f, const char *text, const JobNames *names, gint64 v[2])
{
  const DuctKindInfo *info;

  if (f->as != JOB_AS_SIZE || record->type != JOB_RUN || record->num[RUN_KIND] == JOB_UNSET)
    return FALSE;
  info = duct_kind_info ((DuctKind) record->num[RUN_KIND]);
  if ((f->slot == RUN_W ? info->section : info->second) != DUCT_ROUND
      || !length_parse (text, names && names->metric ? LENGTH_MM : LENGTH_IN, &v[0], NULL))
    return FALSE;
  v[1] = 0;
  return TRUE;
}

/* What an area measures upwards has no sign, and a factor is over nothing. */
static gboolean
check_bounds (const JobRecord *record, const JobField *f, gint64 v, Fault **fault)
{
  if (record->type == JOB_AREA && f->as == JOB_AS_FACTOR && f->slot == AREA_FACTOR && v <= 0)
    return fault_set (fault, fault_new (0, _ ("enter a factor over 0 and up to 10, such as 1.10 for ten per cent more"),
                                        _ ("a factor of 0 would leave no minutes")));
  if (record->type == JOB_AREA && f->as == JOB_AS_WHOLE && f->slot == AREA_RAISED && v < 1)
    return fault_set (fault, fault_new (0, _ ("enter 1 where each piece goes up by itself, or more"), _ ("no piece would go up")));
  if (record->type != JOB_AREA || (f->slot != AREA_DROP && f->slot != AREA_HEIGHT) || f->as != JOB_AS_LENGTH_FT || v >= 0)
    return TRUE;
  return fault_set (fault, fault_new (0, _ ("enter 0 or a positive length"), _ ("this length is below 0")));
}

/* A share of an area's joints is a factor that ends at 1. */
static gboolean
read_field (const JobRecord *record, const JobField *f, const char *text, const JobNames *names, gint64 v[2], Fault **fault)
{
  if (record->type == JOB_AREA && f->as == JOB_AS_FACTOR && f->slot != AREA_FACTOR)
    return whole_between (text, 6, 0, 1000000, &v[0], fault);
  return read_value (f->as, text, names, v, fault);
}

gboolean
job_record_read (JobRecord *record, int field, const char *text, const JobNames *names, Fault **fault)
{
  const JobField *f = &job_type_info (record->type)->field[field];
  g_autofree char *clean = g_strstrip (g_strdup (text ? text : ""));
  gint64 v[2] = { JOB_UNSET, JOB_UNSET };
  gboolean read = TRUE;

  job_record_set_raw (record, field, NULL);
  if (f->as == JOB_AS_TEXT)
    {
      job_record_set_text (record, f->slot, clean);
      return TRUE;
    }
  if (*clean
      && ((!read_diameter (record, f, clean, names, v) && !read_field (record, f, clean, names, v, NULL)
           && !job_word_read (f->as, clean, &v[0]) && !read_field (record, f, clean, names, v, fault))
          || !check_bounds (record, f, v[0], fault)))
    {
      job_record_set_raw (record, field, text);
      v[0] = v[1] = JOB_UNSET;
      read = FALSE;
    }
  record->num[f->slot] = v[0];
  if (f->as == JOB_AS_SIZE)
    record->num[f->slot + 1] = v[1];
  return read;
}

char *
job_record_print (const JobRecord *record, int field, const JobNames *names)
{
  const JobField *f = &job_type_info (record->type)->field[field];
  const char *raw = job_record_raw (record, field), *text = NULL;
  gboolean metric = names && names->metric;

  if (raw)
    return g_strdup (raw);
  if (f->as == JOB_AS_TEXT)
    return g_strdup (record->text[f->slot] ? record->text[f->slot] : "");
  gint64 v = record->num[f->slot];
  if (v == JOB_UNSET)
    return g_strdup ("");
  switch (f->as)
    {
    case JOB_AS_SIZE:
      return duct_size_print (v, record->num[f->slot + 1], metric ? LENGTH_STYLE_MM : LENGTH_STYLE_IN);
    case JOB_AS_LENGTH_IN:
      return length_print (v, metric ? LENGTH_STYLE_MM : LENGTH_STYLE_IN);
    case JOB_AS_LENGTH_FT:
      return length_print (v, metric ? LENGTH_STYLE_M : LENGTH_STYLE_FT);
    case JOB_AS_COUNT:
      return decimal_print (v, 3, 0, FALSE);
    case JOB_AS_WHOLE:
    case JOB_AS_DECIMALS:
      return decimal_print (v, 0, 0, FALSE);
    case JOB_AS_ANGLE:
      return angle_print (v);
    case JOB_AS_CLASS:
      return pressure_print (v, metric);
    case JOB_AS_PRICE:
      return decimal_print (v, 4, 2, FALSE);
    case JOB_AS_MINUTES:
      return decimal_print (v, 6, 0, FALSE);
    case JOB_AS_FACTOR:
      return decimal_print (v, 6, 2, FALSE);
    case JOB_AS_YES_NO:
      text = yes_no_keys[v == 1];
      break;
    case JOB_AS_UNITS:
      text = units_keys[v == 1];
      break;
    case JOB_AS_SIGN:
      text = sign_keys[v == 1];
      break;
    case JOB_AS_KIND:
      text = duct_kind_info ((DuctKind) v)->key;
      break;
    case JOB_AS_END:
      text = duct_end_key ((DuctEnd) v);
      break;
    case JOB_AS_EXPOSURE:
      text = duct_exposure_key ((DuctExposure) v);
      break;
    case JOB_AS_METAL:
      text = duct_metal_key ((DuctMetal) v);
      break;
    case JOB_AS_SYSTEM:
    case JOB_AS_AREA:
      text = names ? names->name (names->data, f->as == JOB_AS_SYSTEM ? JOB_SYSTEM : JOB_AREA, v) : NULL;
      break;
    case JOB_AS_TEXT:
    default:
      break;
    }
  return g_strdup (text ? text : "");
}
