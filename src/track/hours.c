/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "track/hours.h"

#include "base/decimal.h"

#include <glib/gi18n-lib.h>
#include <string.h>

HoursEntry *
hours_entry_new (gint64 day, gint64 area, LabourGroup group, gint64 worker_mh, const char *note)
{
  HoursEntry *entry = g_new0 (HoursEntry, 1);

  entry->day = day;
  entry->area = area;
  entry->group = group;
  entry->worker_mh = worker_mh;
  entry->note = g_strdup (note ? note : "");
  return entry;
}

HoursEntry *
hours_entry_copy (const HoursEntry *entry)
{
  HoursEntry *copy = g_memdup2 (entry, sizeof *entry);

  copy->note = g_strdup (entry->note);
  return copy;
}

void
hours_entry_free (HoursEntry *entry)
{
  if (!entry)
    return;
  g_free (entry->note);
  g_free (entry);
}

gboolean
hours_entry_equal (const HoursEntry *a, const HoursEntry *b)
{
  return a->id == b->id && a->day == b->day && a->area == b->area && a->group == b->group && a->worker_mh == b->worker_mh
         && a->batch == b->batch && strcmp (a->note, b->note) == 0;
}

GPtrArray *
hours_list_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) hours_entry_free);
}

/* ---- edits ---- */

static void
clear_delta (gpointer data)
{
  HoursDelta *delta = data;

  hours_entry_free (delta->before);
  hours_entry_free (delta->after);
}

HoursEdit *
hours_edit_new (const char *label)
{
  HoursEdit *edit = g_new0 (HoursEdit, 1);

  edit->label = g_strdup (label);
  edit->deltas = g_array_new (FALSE, FALSE, sizeof (HoursDelta));
  g_array_set_clear_func (edit->deltas, clear_delta);
  return edit;
}

void
hours_edit_free (HoursEdit *edit)
{
  if (!edit)
    return;
  g_free (edit->label);
  g_array_unref (edit->deltas);
  g_free (edit);
}

void
hours_edit_add (HoursEdit *edit, HoursEntry *before, HoursEntry *after)
{
  HoursDelta delta = { before, after };

  g_return_if_fail (before || after);
  g_array_append_val (edit->deltas, delta);
}

static HoursEntry *
copy_or_null (const HoursEntry *entry)
{
  return entry ? hours_entry_copy (entry) : NULL;
}

HoursEdit *
hours_edit_inverse (const HoursEdit *edit)
{
  HoursEdit *inverse = hours_edit_new (edit->label);

  for (guint i = edit->deltas->len; i-- > 0;)
    {
      const HoursDelta *delta = &g_array_index (edit->deltas, HoursDelta, i);
      hours_edit_add (inverse, copy_or_null (delta->after), copy_or_null (delta->before));
    }
  return inverse;
}

static const HoursDelta *
delta_of (const HoursEdit *edit, gint64 id)
{
  for (guint i = 0; i < edit->deltas->len; i++)
    {
      const HoursDelta *delta = &g_array_index (edit->deltas, HoursDelta, i);
      if (delta->before && delta->before->id == id)
        return delta;
    }
  return NULL;
}

GPtrArray *
hours_edit_preview (const HoursEdit *edit, const GPtrArray *entries)
{
  GPtrArray *out = hours_list_new ();

  for (guint i = 0; i < entries->len; i++)
    {
      const HoursEntry *entry = g_ptr_array_index (entries, i);
      const HoursDelta *delta = delta_of (edit, entry->id);
      if (!delta)
        g_ptr_array_add (out, hours_entry_copy (entry));
      else if (delta->after)
        g_ptr_array_add (out, hours_entry_copy (delta->after));
    }
  for (guint i = 0; i < edit->deltas->len; i++)
    {
      const HoursDelta *delta = &g_array_index (edit->deltas, HoursDelta, i);
      if (!delta->before)
        g_ptr_array_add (out, hours_entry_copy (delta->after));
    }
  return out;
}

/* ---- codes ---- */

static int
compare_codes (gconstpointer a, gconstpointer b)
{
  const HoursCode *x = a, *y = b;

  if (x->area != y->area)
    return x->area < y->area ? -1 : 1;
  return (int) x->group - (int) y->group;
}

int
hours_find_code (const GArray *codes, gint64 area, LabourGroup group)
{
  for (guint i = 0; i < codes->len; i++)
    {
      const HoursCode *code = &g_array_index (codes, HoursCode, i);
      if (code->area == area && code->group == group)
        return (int) i;
    }
  return -1;
}

GArray *
hours_codes (const GPtrArray *entries)
{
  GArray *codes = g_array_new (FALSE, FALSE, sizeof (HoursCode));

  for (guint i = 0; i < entries->len; i++)
    {
      const HoursEntry *entry = g_ptr_array_index (entries, i);
      HoursCode code = { entry->area, entry->group };
      if (hours_find_code (codes, code.area, code.group) < 0)
        g_array_append_val (codes, code);
    }
  g_array_sort (codes, compare_codes);
  return codes;
}

gint64
hours_sum (const GPtrArray *entries, gint64 area, int group, gint64 first, gint64 last)
{
  gint64 sum = 0;

  for (guint i = 0; i < entries->len; i++)
    {
      const HoursEntry *entry = g_ptr_array_index (entries, i);
      if ((area < 0 || entry->area == area) && (group < 0 || (int) entry->group == group) && entry->day >= first
          && entry->day <= last)
        sum += entry->worker_mh;
    }
  return sum;
}

/* ---- days ---- */

gboolean
hours_day_ok (gint64 day)
{
  GDate date;

  if (day < 1 || day > G_MAXINT32)
    return FALSE;
  g_date_clear (&date, 1);
  g_date_set_julian (&date, (guint32) day);
  return g_date_get_year (&date) >= 1990 && g_date_get_year (&date) <= 2199;
}

static gboolean
digits (const char *p, int n, guint *out)
{
  *out = 0;
  for (int i = 0; i < n; i++)
    {
      if (!g_ascii_isdigit (p[i]))
        return FALSE;
      *out = *out * 10 + (guint) (p[i] - '0');
    }
  return TRUE;
}

gboolean
hours_day_parse (const char *text, gint64 *day, Fault **fault)
{
  g_autofree char *own = g_strstrip (g_strdup (text));
  guint year, month, of_month;
  GDate date;

  if (strlen (own) != 10 || !digits (own, 4, &year) || own[4] != '-' || !digits (own + 5, 2, &month) || own[7] != '-'
      || !digits (own + 8, 2, &of_month))
    return fault_set (fault, fault_new (0, _ ("write year, month and day: 2030-01-31"), _ ("“%s” is not a date"), own));
  if (year < 1990 || year > 2199 || !g_date_valid_dmy ((GDateDay) of_month, (GDateMonth) month, (GDateYear) year))
    return fault_set (fault, fault_new (0, _ ("check the day, the month and the year (1990 to 2199)"),
                                        _ ("there is no day %s"), own));
  g_date_clear (&date, 1);
  g_date_set_dmy (&date, (GDateDay) of_month, (GDateMonth) month, (GDateYear) year);
  *day = g_date_get_julian (&date);
  return TRUE;
}

char *
hours_day_print (gint64 day)
{
  GDate date;

  if (!hours_day_ok (day))
    return g_strdup ("");
  g_date_clear (&date, 1);
  g_date_set_julian (&date, (guint32) day);
  return g_strdup_printf ("%04u-%02u-%02u", (guint) g_date_get_year (&date), (guint) g_date_get_month (&date),
                          (guint) g_date_get_day (&date));
}

gint64
hours_monday (gint64 day)
{
  GDate date;

  g_date_clear (&date, 1);
  g_date_set_julian (&date, (guint32) day);
  return day - ((gint64) g_date_get_weekday (&date) - G_DATE_MONDAY);
}

/* ---- hours and groups as text ---- */

static gboolean
parse_clock (const char *own, gint64 *worker_mh, Fault **fault)
{
  const char *colon = strchr (own, ':');
  g_autofree char *front = g_strndup (own, (gsize) (colon - own));
  gint64 hours = 0;
  guint minutes;

  if (strlen (colon + 1) != 2 || !digits (colon + 1, 2, &minutes) || minutes > 59)
    return fault_set (fault, fault_new (-1, _ ("write hours and minutes as 7:30, or hours as 7.5"), _ ("“%s” is no time"), own));
  if (*front && !decimal_parse (front, 0, &hours, fault))
    return FALSE;
  /* A minute is no whole number of thousandths; the nearest one is off by less than two seconds. */
  *worker_mh = CLAMP (hours, -HOURS_MOST, HOURS_MOST) * 1000 + num_div ((gint64) minutes * 1000, 60);
  return TRUE;
}

gboolean
hours_parse (const char *text, gint64 *worker_mh, Fault **fault)
{
  g_autofree char *own = g_strstrip (g_strdup (text));

  *worker_mh = 0;
  if (!*own)
    return TRUE;
  if (strchr (own, ':') ? !parse_clock (own, worker_mh, fault) : !decimal_parse (own, 3, worker_mh, fault))
    return FALSE;
  if (*worker_mh < 0)
    return fault_set (fault, fault_new (0, _ ("correct the entry that is too high instead"),
                                        _ ("hours cannot be below zero")));
  if (*worker_mh > HOURS_MOST)
    return fault_set (fault, fault_new (0, _ ("check the figure, or split it over several days"),
                                        _ ("over 10,000 worker-hours in one entry")));
  return TRUE;
}

char *
hours_print (gint64 worker_mh)
{
  return worker_mh == 0 ? g_strdup ("") : decimal_print (worker_mh, 3, 0, FALSE);
}

const char *
hours_group_name (LabourGroup group)
{
  static const char *const name[LABOUR_N_GROUPS] = { N_ ("fabricate"), N_ ("deliver"), N_ ("hang and join"),
                                                     N_ ("seal and test"), N_ ("general") };

  return group < LABOUR_N_GROUPS ? _ (name[group]) : "";
}

static gboolean
starts_folded (const char *whole, const char *folded)
{
  g_autofree char *own = g_utf8_casefold (whole, -1);

  return g_str_has_prefix (own, folded);
}

gboolean
hours_group_parse (const char *text, LabourGroup *group, Fault **fault)
{
  g_autofree char *own = g_strstrip (g_strdup (text));
  g_autofree char *folded = g_utf8_casefold (own, -1);

  for (int i = 0; *own && i < LABOUR_N_GROUPS; i++)
    if (starts_folded (labour_group_keys[i], folded) || starts_folded (hours_group_name ((LabourGroup) i), folded))
      {
        *group = (LabourGroup) i;
        return TRUE;
      }
  return fault_set (fault, fault_new (0, _ ("write fabricate, deliver, hang and join, seal and test, or general"),
                                      _ ("“%s” is no step group"), own));
}
