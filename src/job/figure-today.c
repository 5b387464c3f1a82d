/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/figure-today.h"

#include "base/decimal.h"
#include "cost/retire.h"
#include "job/figure.h"
#include "job/setting.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static char *
none (const CostChange *change, Fault **fault)
{
  fault_set (fault, fault_new (-1, _ ("choose a figure from the lists"), _ ("there is no figure “%s%s%s.%s” in this job"), change->object,
                               *change->key ? "." : "", change->key, change->field));
  return NULL;
}

/* Adds a value that is not there yet: "12 / 14". */
static void
add_distinct (GString *out, const char *text)
{
  g_auto (GStrv) present = g_strsplit (out->str, " / ", -1);

  if (out->len == 0)
    g_string_assign (out, text);
  else if (!g_strv_contains ((const char *const *) present, text))
    g_string_append_printf (out, " / %s", text);
}

static char *
item_today (const CostBasis *basis, const CostChange *change, Fault **fault)
{
  int i = catalogue_find_item (basis->catalogue, change->key);

  if (i >= 0 && strcmp (change->field, "price") == 0)
    return decimal_print (basis->price[i], 4, 2, FALSE);
  if (i >= 0 && strcmp (change->field, "overage") == 0)
    return decimal_print (basis->overage_ppm[i], 4, 0, FALSE);
  return none (change, fault);
}

static char *
step_today (const CostBasis *basis, const CostChange *change, Fault **fault)
{
  static const char *const points[LABOUR_N_POINTS] = { "low", "likely", "high" };
  int i = labour_find_step (basis->catalogue->labour, change->key);
  g_autoptr (GString) out = g_string_new (NULL);

  for (int p = 0; i >= 0 && p < LABOUR_N_POINTS; p++)
    {
      const GArray *bands = g_ptr_array_index (basis->bands, (guint) i);
      const char *rest = g_str_has_prefix (change->field, points[p]) ? change->field + strlen (points[p]) : NULL;
      if (!rest || (*rest && strcmp (rest, "_per_ft") != 0 && strcmp (rest, "_per_lb") != 0))
        continue;
      for (guint b = 0; b < bands->len; b++)
        {
          const LabourBand *band = &g_array_index (bands, LabourBand, b);
          const gint64 *figure = !*rest ? band->fixed : strcmp (rest, "_per_ft") == 0 ? band->per_ft : band->per_lb;
          g_autofree char *text = decimal_print (figure[p], LABOUR_MINUTE_DECIMALS, 0, FALSE);
          add_distinct (out, text);
        }
    }
  return out->len ? g_string_free (g_steal_pointer (&out), FALSE) : none (change, fault);
}

static char *
rate_today (const CostBasis *basis, const CostChange *change, Fault **fault)
{
  const GPtrArray *crews = basis->catalogue->labour->crews;
  gboolean shop = strcmp (change->field, "shop") == 0;
  g_autoptr (GString) out = g_string_new (NULL);

  for (guint i = 0; i < crews->len; i++)
    {
      const LabourCrew *crew = g_ptr_array_index (crews, i);
      gboolean side = !*change->key && (shop || strcmp (change->field, "field") == 0) && crew->shop == shop;
      gboolean one = strcmp (change->field, "hour") == 0 && strcmp (crew->key, change->key) == 0;
      g_autofree char *text = decimal_print (basis->rate[i], 4, 2, FALSE);
      if (side || one)
        add_distinct (out, text);
    }
  return out->len ? g_string_free (g_steal_pointer (&out), FALSE) : none (change, fault);
}

static char *
buildup_today (const CostBasis *basis, const CostChange *change, Fault **fault)
{
  int i = buildup_find (basis, change->key);
  const CostBuildLine *line = i >= 0 ? g_ptr_array_index (basis->buildup, (guint) i) : NULL;
  gboolean rated = line && (line->op == COST_OP_RATE || line->op == COST_OP_MARKUP || line->op == COST_OP_MARGIN);

  if (rated && strcmp (change->field, "rate") == 0)
    return decimal_print (line->rate_ppm, 4, 0, FALSE);
  if (rated && line->op != COST_OP_RATE && strcmp (change->field, "op") == 0)
    return g_strdup (line->op == COST_OP_MARGIN ? "margin" : "markup");
  if (line && line->op == COST_OP_AMOUNT && strcmp (change->field, "amount") == 0)
    return decimal_print (line->amount, 4, 2, FALSE);
  return none (change, fault);
}

/* -1: the change names no record. */
static int
type_of (const char *object)
{
  static const struct
  {
    const char *object;
    JobType type;
  } types[] = { { "job", JOB_HEAD }, { "system", JOB_SYSTEM }, { "area", JOB_AREA }, { "cell", JOB_CELL } };

  for (gsize i = 0; i < G_N_ELEMENTS (types); i++)
    if (strcmp (types[i].object, object) == 0)
      return types[i].type;
  return -1;
}

/* The record that a change names; of a cell that is not written down yet NULL with @system and @area set. */
static const JobRecord *
record_of (TallyJob *job, const CostChange *change, gint64 *system, gint64 *area)
{
  const JobNames *names = job_names (job);
  int type = type_of (change->object);
  gint64 id;

  *system = *area = 0;
  if (type == JOB_HEAD)
    return job_head (job);
  if (type == JOB_CELL)
    return job_find_cell_named (job, change->key, system, area);
  id = names->find (names->data, (JobType) type, change->key);
  return id > 0 ? job_find (job, (JobType) type, id) : NULL;
}

char *
job_figure_today (TallyJob *job, const CostChange *change, Fault **fault)
{
  const CostBasis *basis = job_basis (job);
  gint64 system, area;

  if (strcmp (change->object, "item") == 0)
    return item_today (basis, change, fault);
  if (strcmp (change->object, "step") == 0)
    return step_today (basis, change, fault);
  if (strcmp (change->object, "rate") == 0)
    return rate_today (basis, change, fault);
  if (strcmp (change->object, "buildup") == 0)
    return buildup_today (basis, change, fault);
  if (strcmp (change->object, "setting") == 0)
    {
      g_autofree char *key = *change->key ? g_strdup_printf ("%s.%s", change->key, change->field) : g_strdup (change->field);
      return job_setting_find (key) ? g_strdup (job_setting (job, key)) : none (change, fault);
    }
  if (type_of (change->object) < 0)
    return none (change, fault);
  const JobRecord *record = record_of (job, change, &system, &area);
  int field = job_field_find ((JobType) type_of (change->object), change->field);
  if (field >= 0 && !record && system > 0 && area > 0)
    return g_strdup ("");
  return record && field >= 0 ? job_record_print (record, field, job_names (job)) : none (change, fault);
}

/* ---- lists ---- */

GPtrArray *
job_figure_objects (void)
{
  static const char *const objects[] = { "item", "step", "rate", "buildup", "area", "system", "job", "setting" };
  GPtrArray *out = g_ptr_array_new_with_free_func (g_free);

  for (gsize i = 0; i < G_N_ELEMENTS (objects); i++)
    g_ptr_array_add (out, g_strdup (objects[i]));
  return out;
}

static void
add_records (TallyJob *job, JobType type, int slot, GPtrArray *out)
{
  for (guint i = 0; i < job_n (job, type); i++)
    g_ptr_array_add (out, g_strdup (job_at (job, type, i)->text[slot]));
}

/* Settings: the word before the first dot; those without a dot stand by themselves. */
static void
add_settings (GPtrArray *out)
{
  gsize n;
  const JobSetting *settings = job_settings (&n);

  for (gsize i = 0; i < n; i++)
    {
      const char *dot = strrchr (settings[i].key, '.');
      g_autofree char *key = dot ? g_strndup (settings[i].key, (gsize) (dot - settings[i].key)) : g_strdup ("");
      if (!g_ptr_array_find_with_equal_func (out, key, g_str_equal, NULL))
        g_ptr_array_add (out, g_steal_pointer (&key));
    }
}

GPtrArray *
job_figure_keys (TallyJob *job, const char *object)
{
  GPtrArray *out = g_ptr_array_new_with_free_func (g_free);
  const CostBasis *basis = job_basis (job);
  const Catalogue *c = basis->catalogue;

  if (strcmp (object, "item") == 0)
    for (guint i = 0; i < c->items->len; i++)
      {
        const char *key = catalogue_item (c, (int) i)->key;
        if (!catalogue_is_retired (c, CATALOGUE_ITEMS, key))
          g_ptr_array_add (out, g_strdup (key));
      }
  else if (strcmp (object, "step") == 0)
    for (guint i = 0; i < c->labour->steps->len; i++)
      g_ptr_array_add (out, g_strdup (catalogue_step (c, (int) i)->key));
  else if (strcmp (object, "rate") == 0)
    {
      g_ptr_array_add (out, g_strdup (""));
      for (guint i = 0; i < c->labour->crews->len; i++)
        g_ptr_array_add (out, g_strdup (((LabourCrew *) g_ptr_array_index (c->labour->crews, i))->key));
    }
  else if (strcmp (object, "buildup") == 0)
    for (guint i = 0; i < basis->buildup->len; i++)
      {
        const CostBuildLine *line = g_ptr_array_index (basis->buildup, i);
        if (line->op == COST_OP_RATE || line->op == COST_OP_MARKUP || line->op == COST_OP_MARGIN || line->op == COST_OP_AMOUNT)
          g_ptr_array_add (out, g_strdup (line->key));
      }
  else if (strcmp (object, "area") == 0)
    add_records (job, JOB_AREA, AREA_KEY, out);
  else if (strcmp (object, "system") == 0)
    add_records (job, JOB_SYSTEM, SYSTEM_KEY, out);
  else if (strcmp (object, "setting") == 0)
    add_settings (out);
  else
    g_ptr_array_add (out, g_strdup (""));
  return out;
}

static void
add_words (GPtrArray *out, const char *const *words)
{
  for (; *words; words++)
    g_ptr_array_add (out, g_strdup (*words));
}

/* Only those that the step has: a change of minutes a foot on a driver without a length would be refused. */
static void
add_step_fields (const CostBasis *basis, const char *key, GPtrArray *out)
{
  static const char *const ends[] = { "", "_per_ft", "_per_lb" }, *const points[] = { "likely", "low", "high" };
  int i = labour_find_step (basis->catalogue->labour, key);
  const GArray *bands = i >= 0 ? g_ptr_array_index (basis->bands, (guint) i) : NULL;

  for (int e = 0; bands && e < 3; e++)
    {
      gboolean any = FALSE;
      for (guint b = 0; b < bands->len; b++)
        {
          const LabourBand *band = &g_array_index (bands, LabourBand, b);
          const gint64 *figure = e == 0 ? band->fixed : e == 1 ? band->per_ft : band->per_lb;
          any = any || figure[LABOUR_HIGH] > 0;
        }
      for (int p = 0; any && p < 3; p++)
        g_ptr_array_add (out, g_strconcat (points[p], ends[e], NULL));
    }
}

static void
add_setting_fields (const char *key, GPtrArray *out)
{
  gsize n;
  const JobSetting *settings = job_settings (&n);

  for (gsize i = 0; i < n; i++)
    {
      const char *dot = strrchr (settings[i].key, '.');
      gsize length = dot ? (gsize) (dot - settings[i].key) : 0;
      if (strlen (key) == length && strncmp (settings[i].key, key, length) == 0)
        g_ptr_array_add (out, g_strdup (dot ? dot + 1 : settings[i].key));
    }
}

GPtrArray *
job_figure_fields (TallyJob *job, const char *object, const char *key)
{
  static const char *const item[] = { "price", "overage", NULL }, *const side[] = { "field", "shop", NULL }, *const hour[] = { "hour", NULL };
  GPtrArray *out = g_ptr_array_new_with_free_func (g_free);
  const CostBasis *basis = job_basis (job);
  int type = type_of (object);

  if (strcmp (object, "item") == 0)
    add_words (out, item);
  else if (strcmp (object, "step") == 0)
    add_step_fields (basis, key, out);
  else if (strcmp (object, "rate") == 0)
    add_words (out, *key ? hour : side);
  else if (strcmp (object, "buildup") == 0)
    {
      int i = buildup_find (basis, key);
      const CostBuildLine *line = i >= 0 ? g_ptr_array_index (basis->buildup, (guint) i) : NULL;
      if (line)
        g_ptr_array_add (out, g_strdup (line->op == COST_OP_AMOUNT ? "amount" : "rate"));
      if (line && (line->op == COST_OP_MARKUP || line->op == COST_OP_MARGIN))
        g_ptr_array_add (out, g_strdup ("op"));
    }
  else if (strcmp (object, "setting") == 0)
    add_setting_fields (key, out);
  else if (type >= 0)
    for (int f = 0; f < job_type_info ((JobType) type)->n_fields; f++)
      g_ptr_array_add (out, g_strdup (job_type_info ((JobType) type)->field[f].key));
  return out;
}

/* ---- checking and using ---- */

gboolean
job_figure_check (TallyJob *job, const CostChange *change, Fault **fault)
{
  g_autoptr (GPtrArray) changes = g_ptr_array_new ();
  g_autofree char *today = job_figure_today (job, change, fault);

  if (!today)
    return FALSE;
  g_ptr_array_add (changes, (gpointer) change);
  g_autoptr (TallyJob) with = job_with (job, changes, LABOUR_LIKELY, fault);
  return with != NULL;
}

/* Records that a what-if changes, each once however many of its columns are named. */
typedef struct
{
  const JobRecord *before; /* (nullable) */
  JobRecord *after;
} Altered;

static JobRecord *
altered (TallyJob *job, GArray *records, const CostChange *change)
{
  gint64 system, area, ord, step;
  const JobRecord *record = record_of (job, change, &system, &area);
  Altered a = { record, NULL };

  for (guint i = 0; i < records->len; i++)
    {
      const Altered *known = &g_array_index (records, Altered, i);
      gboolean same = record ? known->before == record
                             : !known->before && known->after->num[CELL_SYSTEM] == system && known->after->num[CELL_AREA] == area;
      if (same)
        return known->after;
    }
  if (record)
    a.after = job_record_copy (record);
  else
    {
      job_ord_before (job, JOB_CELL, job_n (job, JOB_CELL), 1, &ord, &step);
      a.after = job_record_new (JOB_CELL, job_take_id (job, JOB_CELL), ord + (gint64) records->len);
      a.after->num[CELL_SYSTEM] = system;
      a.after->num[CELL_AREA] = area;
    }
  g_array_append_val (records, a);
  return a.after;
}

static void
use_one (TallyJob *job, JobEdit *edit, GArray *records, const CostChange *change)
{
  if (type_of (change->object) >= 0)
    {
      JobRecord *after = altered (job, records, change);
      job_record_read (after, job_field_find (after->type, change->field), change->value, job_names (job), NULL);
    }
  else if (strcmp (change->object, "setting") == 0)
    {
      g_autofree char *key = *change->key ? g_strdup_printf ("%s.%s", change->key, change->field) : g_strdup (change->field);
      g_autofree char *value = job_setting_read (key, change->value, NULL);
      job_edit_setting (job, edit, key, value);
    }
  else
    job_edit_figure (job, edit, change->object, change->key, change->field, change->value);
}

gboolean
job_edit_use_what_if (TallyJob *job, JobEdit *edit, const char *name, Fault **fault)
{
  g_autoptr (GPtrArray) changes = job_what_if_changes (job, name);
  g_autoptr (GArray) records = g_array_new (FALSE, TRUE, sizeof (Altered));
  g_autoptr (TallyJob) with = job_with (job, changes, LABOUR_LIKELY, fault);

  if (!with)
    return FALSE;
  for (guint i = 0; i < changes->len; i++)
    use_one (job, edit, records, g_ptr_array_index (changes, i));
  for (guint i = 0; i < records->len; i++)
    {
      const Altered *a = &g_array_index (records, Altered, i);
      job_edit_add (edit, a->before ? job_record_ref ((JobRecord *) a->before) : NULL, a->after);
    }
  return TRUE;
}
