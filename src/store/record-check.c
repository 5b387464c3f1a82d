/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/private.h"

#include <glib/gi18n.h>

/* Checks of a record, alike for what is read from a file and what is written to it: a file never takes what it would
 * later refuse to give back. */

#define MAX_KNOWN 100000

gboolean
store_fail_value (Store *store, const JobRecord *record, const char *column, int code, GError **error)
{
  g_autofree char *name = g_filename_display_name (store->db->path);

  g_set_error (error, STORE_ERROR, code,
               code == STORE_ERROR_DAMAGED
               ? _("%s holds a value that cannot be (table %s, id %" G_GINT64_FORMAT ", column %s): take a backup")
               : _("%s cannot keep a value (table %s, id %" G_GINT64_FORMAT ", column %s): enter another"),
               name, store->table[record->type]->name, record->id, column);
  return FALSE;
}

/* The lists behind these numbers are append only, since the numbers are what an office file holds. */
static gint64
list_length (JobAs as)
{
  switch ((int) as)
    {
    case JOB_AS_KIND:
      return DUCT_N_KINDS;
    case JOB_AS_END:
      return DUCT_N_ENDS;
    case JOB_AS_EXPOSURE:
      return DUCT_N_EXPOSURES;
    case JOB_AS_METAL:
      return DUCT_N_METALS;
    case JOB_AS_YES_NO:
    case JOB_AS_UNITS:
    case JOB_AS_SIGN:
      return 2;
    default:
      return 0;
    }
}

/* Figures pass the reader of typed input: what it would not read back from its own print cannot have been typed. */
static gboolean
can_be_typed (JobType type, int field, gint64 value)
{
  const JobField *at = &job_type_info (type)->field[field];
  g_autoptr (JobRecord) record = job_record_new (type, 1, 0);
  g_autofree char *text = NULL;

  record->num[at->slot] = value;
  if (at->as == JOB_AS_SIZE)
    record->num[at->slot + 1] = value;
  text = job_record_print (record, field, NULL);
  return job_record_read (record, field, text, NULL, NULL) && record->num[at->slot] == value;
}

typedef struct
{
  gint64 value;
  JobAs as;
} Known;

static guint
known_hash (gconstpointer data)
{
  const Known *known = data;

  return g_int64_hash (&known->value) * 31u + (guint) known->as;
}

static gboolean
known_equal (gconstpointer a, gconstpointer b)
{
  return ((const Known *) a)->value == ((const Known *) b)->value && ((const Known *) a)->as == ((const Known *) b)->as;
}

GHashTable *
store_known_new (void)
{
  return g_hash_table_new_full (known_hash, known_equal, g_free, NULL);
}

/* A hundred thousand rows repeat some hundred figures: each is tried once. */
static gboolean
value_ok (Store *store, JobType type, int field, gint64 value)
{
  Known key = { value, job_type_info (type)->field[field].as };
  gint64 n = list_length (key.as);

  if (n > 0)
    return value >= 0 && value < n;
  if (key.as == JOB_AS_SYSTEM || key.as == JOB_AS_AREA)
    return value > 0;
  if (g_hash_table_contains (store->known, &key))
    return TRUE;
  if (!can_be_typed (type, field, value))
    return FALSE;
  if (g_hash_table_size (store->known) >= MAX_KNOWN)
    g_hash_table_remove_all (store->known);
  return g_hash_table_add (store->known, g_memdup2 (&key, sizeof key));
}

/* Both figures of a size or none; other fields have but one. */
static gboolean
whole_size (const JobRecord *record, const JobField *field)
{
  return field->as != JOB_AS_SIZE ||
         (record->num[field->slot] == JOB_UNSET) == (record->num[field->slot + 1] == JOB_UNSET);
}

gboolean
store_check_record (Store *store, const JobRecord *record, int code, GError **error)
{
  const JobTypeInfo *info = job_type_info (record->type);
  const GArray *column = store->table[record->type]->column;

  for (guint i = 0; i < column->len; i++)
    {
      const StoreColumn *at = &g_array_index (column, StoreColumn, i);
      gboolean good;

      if (at->text)
        good = record->text[at->slot] == NULL || g_utf8_validate (record->text[at->slot], -1, NULL);
      else
        good = whole_size (record, &info->field[at->field]) &&
               (record->num[at->slot] == JOB_UNSET || value_ok (store, record->type, at->field, record->num[at->slot]));
      if (!good)
        return store_fail_value (store, record, at->name, code, error);
    }
  for (guint i = 0; record->raw != NULL && i < record->raw->len; i++)
    {
      const JobRaw *raw = g_ptr_array_index (record->raw, i);

      if (raw->field < 0 || raw->field >= info->n_fields || !g_utf8_validate (raw->text, -1, NULL))
        return store_fail_value (store, record, "raw", code, error);
    }
  return TRUE;
}
