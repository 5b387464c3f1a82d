/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "track/week.h"

#include <glib/gi18n-lib.h>

static gboolean
in_cell (const HoursEntry *entry, const WeekCell *cell)
{
  return entry->area == cell->area && entry->group == cell->group && entry->day == cell->day;
}

/* "a; b", each once. */
static char *
join_notes (const GPtrArray *entries, const WeekCell *cell)
{
  g_autoptr (GPtrArray) notes = g_ptr_array_new ();

  for (guint i = 0; i < entries->len; i++)
    {
      const HoursEntry *entry = g_ptr_array_index (entries, i);
      if (in_cell (entry, cell) && *entry->note && !g_ptr_array_find_with_equal_func (notes, entry->note, g_str_equal, NULL))
        g_ptr_array_add (notes, entry->note);
    }
  g_ptr_array_add (notes, NULL);
  return g_strjoinv ("; ", (char **) notes->pdata);
}

static void
set_cell (HoursEdit *edit, const GPtrArray *entries, const WeekCell *cell)
{
  gint64 now = hours_sum (entries, cell->area, (int) cell->group, cell->day, cell->day);
  gboolean kept = cell->worker_mh == 0;

  if (now == cell->worker_mh)
    return;
  for (guint i = 0; i < entries->len; i++)
    {
      const HoursEntry *entry = g_ptr_array_index (entries, i);
      HoursEntry *after = NULL;
      if (!in_cell (entry, cell))
        continue;
      if (!kept)
        {
          after = hours_entry_copy (entry);
          after->worker_mh = cell->worker_mh;
          g_free (after->note);
          after->note = join_notes (entries, cell);
          kept = TRUE;
        }
      hours_edit_add (edit, hours_entry_copy (entry), after);
    }
  if (!kept)
    hours_edit_add (edit, NULL, hours_entry_new (cell->day, cell->area, cell->group, cell->worker_mh, NULL));
}

HoursEdit *
week_set (const GPtrArray *entries, const WeekCell *cells, gsize n, const char *label)
{
  HoursEdit *edit = hours_edit_new (label);

  for (gsize i = 0; i < n; i++)
    set_cell (edit, entries, &cells[i]);
  return edit;
}

HoursEdit *
week_move (const GPtrArray *entries, const HoursCode *from, const HoursCode *to, gint64 monday, const char *label)
{
  HoursEdit *edit = hours_edit_new (label);

  for (guint i = 0; i < entries->len; i++)
    {
      const HoursEntry *entry = g_ptr_array_index (entries, i);
      if (entry->area != from->area || entry->group != from->group || entry->day < monday || entry->day > monday + 6)
        continue;
      HoursEntry *after = hours_entry_copy (entry);
      after->area = to->area;
      after->group = to->group;
      hours_edit_add (edit, hours_entry_copy (entry), after);
    }
  return edit;
}

gboolean
week_check (const HoursEdit *edit, const GPtrArray *entries, Fault **fault)
{
  g_autoptr (GPtrArray) after = hours_edit_preview (edit, entries);
  g_autoptr (GArray) codes = hours_codes (after), now = hours_codes (entries);

  if (codes->len <= HOURS_MOST_CODES || codes->len <= now->len)
    return TRUE;
  return fault_set (fault, fault_new (-1, _ ("book on a code that is in use, or on the whole job instead of an area"),
                                      _ ("a job books on at most %d codes (area and step group)"), HOURS_MOST_CODES));
}
