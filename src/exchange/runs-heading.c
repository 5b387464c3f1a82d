/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/runs-csv.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* What people write above the columns of a take-off (common practice). */
static const struct
{
  const char *heading, *key;
} usual[] = {
  { "sys", "system" },
  { "system no", "system" },
  { "floor", "area" },
  { "level", "area" },
  { "zone", "area" },
  { "storey", "area" },
  { "location", "area" },
  { "dwg", "drawing" },
  { "drg", "drawing" },
  { "dwg no", "drawing" },
  { "drawing no", "drawing" },
  { "type", "kind" },
  { "fitting", "kind" },
  { "piece", "kind" },
  { "w x h", "size" },
  { "wxh", "size" },
  { "duct size", "size" },
  { "dia", "size" },
  { "diameter", "size" },
  { "w", "size" },
  { "width", "size" },
  { "size 2", "size2" },
  { "2nd size", "size2" },
  { "to size", "size2" },
  { "len", "length" },
  { "lgth", "length" },
  { "lg", "length" },
  { "qty", "count" },
  { "quantity", "count" },
  { "no", "count" },
  { "nos", "count" },
  { "number", "count" },
  { "deg", "angle" },
  { "degrees", "angle" },
  { "radius", "throat" },
  { "pressure", "class" },
  { "pressure class", "class" },
  { "material", "metal" },
  { "ga", "gauge" },
  { "gage", "gauge" },
  { "joint method", "method" },
  { "connection", "method" },
  { "unit price", "price" },
  { "shop min", "shop_minutes" },
  { "field min", "field_minutes" },
  { "remark", "note" },
  { "remarks", "note" },
  { "comment", "note" },
  { "comments", "note" },
  { "notes", "note" },
  { "liner thickness", "liner" },
};

static const char *const heights[] = { "h", "height", "depth" };

/* Whether a unit named in a heading is the one that bare figures of the field are read in. */
static gboolean
unit_fits (const char *unit, JobAs as)
{
  static const char *const small[] = { "in", "in.", "inch", "inches", "\"", NULL };
  static const char *const large[] = { "ft", "ft.", "feet", "foot", "'", NULL };
  static const char *const pressures[] = { "in w.g.", "in wg", "in. w.g.", "in", NULL };
  static const char *const angles[] = { "deg", "degrees", "°", NULL };
  static const char *const minutes[] = { "min", "worker-min", NULL };

  switch ((int) as)
    {
    case JOB_AS_SIZE:
    case JOB_AS_LENGTH_IN:
      return g_strv_contains (small, unit);
    case JOB_AS_LENGTH_FT:
      return g_strv_contains (large, unit);
    case JOB_AS_CLASS:
      return g_strv_contains (pressures, unit);
    case JOB_AS_ANGLE:
      return g_strv_contains (angles, unit);
    case JOB_AS_MINUTES:
      return g_strv_contains (minutes, unit);
    default:
      return FALSE;
    }
}

/* Small letters, single blanks for underscores and blanks, no stop or colon at the end. */
static char *
plain (const char *heading)
{
  g_autofree char *low = g_utf8_strdown (heading, -1);
  GString *out = g_string_new (NULL);

  for (const char *p = low; *p; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);
      if (c == '_' || g_unichar_isspace (c))
        {
          if (out->len > 0 && out->str[out->len - 1] != ' ')
            g_string_append_c (out, ' ');
        }
      else if (c != '#')
        g_string_append_unichar (out, c);
    }
  while (out->len > 0 && strchr (" .:", out->str[out->len - 1]))
    g_string_truncate (out, out->len - 1);
  return g_string_free (out, FALSE);
}

static gboolean
is_height (const char *word)
{
  for (gsize i = 0; i < G_N_ELEMENTS (heights); i++)
    if (strcmp (word, heights[i]) == 0)
      return TRUE;
  return FALSE;
}

static int
find (const char *word)
{
  const JobTypeInfo *info = job_type_info (JOB_RUN);
  int field = job_field_find (JOB_RUN, word);

  for (int i = 0; field < 0 && i < info->n_fields; i++)
    {
      g_autofree char *title = plain (_ (info->field[i].title)), *key = plain (info->field[i].key);
      if (strcmp (title, word) == 0 || strcmp (key, word) == 0)
        field = i;
    }
  for (gsize i = 0; field < 0 && i < G_N_ELEMENTS (usual); i++)
    if (strcmp (usual[i].heading, word) == 0)
      field = job_field_find (JOB_RUN, usual[i].key);
  return field < 0 && is_height (word) ? info->n_fields : field;
}

int
runs_heading_field (const char *heading)
{
  const JobTypeInfo *info = job_type_info (JOB_RUN);
  g_autofree char *word = plain (heading);
  int field = find (word);

  if (field >= 0)
    return field;
  /* "Length (ft)", "length ft": with another unit than ours the figures would be read wrong, so that is no guess. */
  char *open = strrchr (word, '('), *close = open ? strchr (open, ')') : NULL, *unit = NULL;
  if (open && close && !close[1])
    {
      *close = '\0';
      unit = g_strstrip (open + 1);
      *open = '\0';
    }
  else if ((open = strrchr (word, ' ')) || (open = strrchr (word, ',')))
    {
      unit = open + 1;
      *open = '\0';
    }
  if (!unit)
    return -1;
  g_strchomp (word);
  if (g_str_has_suffix (word, ","))
    word[strlen (word) - 1] = '\0';
  field = find (word);
  return field >= 0 && unit_fits (unit, field == info->n_fields ? JOB_AS_SIZE : info->field[field].as) ? field : -1;
}

const char *
runs_heading_title (int field)
{
  const JobTypeInfo *info = job_type_info (JOB_RUN);

  return field == info->n_fields ? _ ("Height (of Size)") : _ (info->field[field].title);
}
