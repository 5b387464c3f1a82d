/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/hours/week-model.h"

#include "track/week.h"

#include <glib/gi18n.h>
#include <string.h>

/* A row that was begun: its step group may be missing still. */
typedef struct
{
  gint64 area;
  int group; /* -1: not said yet */
} Row;

struct _TallyWeekModel
{
  GObject parent_instance;

  TallySession *session; /* borrowed */
  TallyHoursBook *book;
  gint64 monday;
  GArray *row;           /* Row */
  GHashTable *raw;       /* "area group day" -> text that could not be read */
};

static void model_init (TallyGridModelInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE (TallyWeekModel, tally_week_model, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (TALLY_TYPE_GRID_MODEL, model_init))

/* NULL: the empty row for a new code. */
static const Row *
row_at (TallyWeekModel *self, guint row)
{
  return row < self->row->len ? &g_array_index (self->row, Row, row) : NULL;
}

/* A row that is there. */
static Row *
known_row (TallyWeekModel *self, guint row)
{
  return &g_array_index (self->row, Row, row);
}

static int
find_row (TallyWeekModel *self, gint64 area, int group)
{
  for (guint i = 0; i < self->row->len; i++)
    if (known_row (self, i)->area == area && known_row (self, i)->group == group)
      return (int) i;
  return -1;
}

/* Codes in use that have no row yet; into a job without hours a row for each group that is estimated. */
static void
fit_rows (TallyWeekModel *self)
{
  g_autoptr (GArray) codes = hours_codes (hours_book_entries (self->book));

  for (guint i = 0; i < codes->len; i++)
    {
      const HoursCode *code = &g_array_index (codes, HoursCode, i);
      Row row = { code->area, (int) code->group };
      if (find_row (self, row.area, row.group) < 0)
        g_array_append_val (self->row, row);
    }
  if (self->row->len > 0 || !hours_book_ready (self->book))
    return;
  for (int group = 0; group < LABOUR_N_GROUPS; group++)
    {
      Row row = { 0, group };
      Earned e;
      standing_get (hours_book_standing (self->book), -1, group, &e);
      if (e.bac > 0 || group == LABOUR_GENERAL)
        g_array_append_val (self->row, row);
    }
}

/* ---- what stands there ---- */

static gint64
sum_of (TallyWeekModel *self, const Row *row, gint64 first, gint64 last)
{
  return row->group < 0 ? 0 : hours_sum (hours_book_entries (self->book), row->area, row->group, first, last);
}

static char *
raw_key (const Row *row, gint64 day)
{
  return g_strdup_printf ("%" G_GINT64_FORMAT " %d %" G_GINT64_FORMAT, row->area, row->group, day);
}

static const char *
raw_of (TallyWeekModel *self, const Row *row, guint column)
{
  g_autofree char *key = NULL;

  if (column < WEEK_DAY || column >= WEEK_SUM)
    return NULL;
  key = raw_key (row, self->monday + column - WEEK_DAY);
  return g_hash_table_lookup (self->raw, key);
}

static guint
n_rows (TallyGridModel *model)
{
  return TALLY_WEEK_MODEL (model)->row->len;
}

static guint
n_columns (TallyGridModel *model)
{
  (void) model;
  return WEEK_N_COLUMNS;
}

static char *
day_words (TallyWeekModel *self, guint column, const char *format)
{
  GDate date;
  char text[64];

  g_date_clear (&date, 1);
  g_date_set_julian (&date, (guint32) (self->monday + column - WEEK_DAY));
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  return g_date_strftime (text, sizeof text, format, &date) > 0 ? g_strdup (text) : hours_day_print (self->monday);
#pragma GCC diagnostic pop
}

static char *
title (TallyGridModel *model, guint column)
{
  switch (column)
    {
    case WEEK_AREA:
      return g_strdup (_ ("Area"));
    case WEEK_GROUP:
      return g_strdup (_ ("Step group"));
    case WEEK_SUM:
      return g_strdup (_ ("Sum"));
    default:
      return day_words (TALLY_WEEK_MODEL (model), column, "%a");
    }
}

static char *
unit (TallyGridModel *model, guint column)
{
  switch (column)
    {
    case WEEK_AREA:
      return g_strdup (_ ("empty: the whole job"));
    case WEEK_GROUP:
      return g_strdup ("");
    case WEEK_SUM:
      return g_strdup (_ ("worker-h"));
    default:
      return day_words (TALLY_WEEK_MODEL (model), column, "%d %b");
    }
}

static guint
width (TallyGridModel *model, guint column)
{
  (void) model;
  return column == WEEK_AREA ? 18u : column == WEEK_GROUP ? 15u : 8u;
}

static char *
cell_text (TallyGridModel *model, guint at, guint column)
{
  TallyWeekModel *self = TALLY_WEEK_MODEL (model);
  const Row *row = row_at (self, at);
  const char *raw = row ? raw_of (self, row, column) : NULL;

  if (!row)
    return g_strdup ("");
  if (raw)
    return g_strdup (raw);
  if (column == WEEK_AREA)
    return hours_book_area_name (self->book, row->area);
  if (column == WEEK_GROUP)
    return g_strdup (row->group < 0 ? "" : hours_group_name ((LabourGroup) row->group));
  if (column == WEEK_SUM)
    return hours_print (sum_of (self, row, self->monday, self->monday + 6));
  return hours_print (sum_of (self, row, self->monday + column - WEEK_DAY, self->monday + column - WEEK_DAY));
}

static GridCellFlags
flags (TallyGridModel *model, guint at, guint column)
{
  TallyWeekModel *self = TALLY_WEEK_MODEL (model);
  const Row *row = row_at (self, at);
  GridCellFlags f = column >= WEEK_DAY ? GRID_CELL_FIGURE : 0;

  if (!hours_book_ready (self->book))
    return f;
  if (column == WEEK_SUM)
    return f | GRID_CELL_COMPUTED | GRID_CELL_BOLD;
  f |= GRID_CELL_EDITABLE;
  if (!row)
    return f;
  if (column == WEEK_AREA && row->area == 0)
    f |= GRID_CELL_INHERITED;
  if (raw_of (self, row, column) || (column == WEEK_GROUP && row->group < 0))
    f |= GRID_CELL_FAULTY;
  return f;
}

#define MOST_OF_ONE 24000 /* thousandths of an hour */

static char *
notes_of (TallyWeekModel *self, const Row *row, gint64 day)
{
  const GPtrArray *entries = hours_book_entries (self->book);
  g_autoptr (GString) out = g_string_new (NULL);
  guint n = 0;

  for (guint i = 0; i < entries->len; i++)
    {
      const HoursEntry *entry = g_ptr_array_index (entries, i);
      if (entry->day != day || entry->area != row->area || (int) entry->group != row->group)
        continue;
      n++;
      if (*entry->note)
        g_string_append_printf (out, "%s%s", out->len ? "; " : "", entry->note);
    }
  if (sum_of (self, row, day, day) > MOST_OF_ONE)
    g_string_append_printf (out, "%s%s", out->len ? " · " : "", _ ("more worker-hours than one person has in a day: those of a crew?"));
  if (n > 1)
    {
      if (out->len)
        g_string_append (out, " · ");
      g_string_append_printf (out, _ ("%u entries: typing here makes them one"), n);
    }
  return out->len ? g_strdup (out->str) : NULL;
}

static char *
message (TallyGridModel *model, guint at, guint column)
{
  TallyWeekModel *self = TALLY_WEEK_MODEL (model);
  const Row *row = row_at (self, at);
  const char *raw = row ? raw_of (self, row, column) : NULL;
  Fault *fault = NULL;
  gint64 mh;

  if (!row)
    return g_strdup (_ ("a new code: type its area or step group, or hours"));
  if (raw)
    {
      char *words;
      hours_parse (raw, &mh, &fault);
      words = fault ? fault_words (fault, raw) : g_strdup (_ ("say the step group first, then enter it again"));
      g_clear_pointer (&fault, fault_free);
      return words;
    }
  if (row->group < 0)
    return g_strdup (_ ("which step group? fabricate, deliver, hang and join, seal and test, or general"));
  if (column >= WEEK_DAY && column < WEEK_SUM)
    return notes_of (self, row, self->monday + column - WEEK_DAY);
  return NULL;
}

/* ---- changes ---- */

static gboolean
refuse (TallyWeekModel *self, const char *what, const char *remedy)
{
  session_say (self->session, SESSION_REFUSED, "%s: %s", what, remedy);
  return FALSE;
}

static gboolean
read_area (TallyWeekModel *self, const char *text, gint64 *area)
{
  g_autofree char *own = g_strstrip (g_strdup (text)), *what = NULL;

  *area = 0;
  if (!*own || g_utf8_collate (own, _ ("whole job")) == 0)
    return TRUE;
  *area = hours_book_find_area (self->book, own);
  if (*area > 0)
    return TRUE;
  what = g_strdup_printf (_ ("there is no area “%s”"), own);
  return refuse (self, what, _ ("use the name of an area of this job, or leave the cell empty for the whole job"));
}

static void
set_raw (TallyWeekModel *self, const Row *row, gint64 day, const char *text)
{
  if (text)
    g_hash_table_insert (self->raw, raw_key (row, day), g_strdup (text));
  else
    {
      g_autofree char *key = raw_key (row, day);
      g_hash_table_remove (self->raw, key);
    }
}

/* Hours of one cell: read into @cells, or kept as they were typed. */
static void
read_hours (TallyWeekModel *self, const GridPatchCell *cell, GArray *cells)
{
  const Row *row = known_row (self, cell->row);
  gint64 day = self->monday + cell->column - WEEK_DAY;
  WeekCell made = { row->area, row->group < 0 ? LABOUR_GENERAL : (LabourGroup) row->group, day, 0 };

  if ((row->group < 0 && *cell->text) || !hours_parse (cell->text, &made.worker_mh, NULL))
    {
      set_raw (self, row, day, cell->text);
      return;
    }
  set_raw (self, row, day, NULL);
  if (row->group >= 0)
    g_array_append_val (cells, made);
}

/* What was typed into a row before its step group was said. */
static void
read_waiting (TallyWeekModel *self, guint at, const Row *before, GArray *hours)
{
  for (guint column = WEEK_DAY; column < WEEK_SUM; column++)
    {
      g_autofree char *key = raw_key (before, self->monday + column - WEEK_DAY);
      g_autofree char *text = g_strdup (g_hash_table_lookup (self->raw, key));

      if (text)
        {
          GridPatchCell cell = { at, column, text };
          g_hash_table_remove (self->raw, key);
          read_hours (self, &cell, hours);
        }
    }
}

/* Another area or step group for a row: its hours of this week go along. */
static gboolean
recode (TallyWeekModel *self, guint at, guint column, const char *text, GArray *hours)
{
  Row *row = known_row (self, at), after = *row;
  Fault *fault = NULL;
  LabourGroup group = LABOUR_GENERAL;

  if (column == WEEK_AREA && !read_area (self, text, &after.area))
    return FALSE;
  if (column == WEEK_GROUP && !hours_group_parse (text, &group, &fault))
    {
      refuse (self, fault->what, fault->remedy);
      fault_free (fault);
      return FALSE;
    }
  if (column == WEEK_GROUP)
    after.group = (int) group;
  if (after.area == row->area && after.group == row->group)
    return TRUE;
  if (after.group >= 0 && find_row (self, after.area, after.group) >= 0)
    return refuse (self, _ ("there is a row of this area and step group already"), _ ("type the hours there"));
  if (row->group >= 0 && after.group >= 0)
    {
      const HoursCode from = { row->area, (LabourGroup) row->group }, to = { after.area, (LabourGroup) after.group };
      gboolean elsewhere = sum_of (self, row, 1, G_MAXINT32) > sum_of (self, row, self->monday, self->monday + 6);
      HoursEdit *edit = week_move (hours_book_entries (self->book), &from, &to, self->monday, _ ("other code for a week"));

      /* Where other weeks hold hours of the old code its row stays, and the new code gets its own when it is kept. */
      if (!elsewhere)
        *row = after;
      if (hours_book_apply (self->book, edit))
        return TRUE;
      known_row (self, at)->area = from.area;
      known_row (self, at)->group = (int) from.group;
      return FALSE;
    }
  const Row before = *row;
  *row = after;
  read_waiting (self, at, &before, hours);
  return TRUE;
}

static gboolean
add_rows (TallyWeekModel *self, guint last)
{
  if (last >= HOURS_MOST_CODES && last >= self->row->len)
    return refuse (self, _ ("a job books on at most twelve codes (area and step group)"),
                   _ ("book on a code that is in use, or on the whole job instead of an area"));
  while (self->row->len <= last)
    {
      Row row = { 0, -1 };
      g_array_append_val (self->row, row);
    }
  return TRUE;
}

static gboolean
apply (TallyGridModel *model, const GridPatchCell *cells, gsize n, const char *label)
{
  TallyWeekModel *self = TALLY_WEEK_MODEL (model);
  g_autoptr (GArray) hours = g_array_new (FALSE, FALSE, sizeof (WeekCell));
  guint rows = self->row->len, last = 0;
  gboolean good = TRUE;

  for (gsize i = 0; i < n; i++)
    last = MAX (last, cells[i].row);
  if (n == 0 || !add_rows (self, last))
    return n == 0;
  for (gsize i = 0; i < n && good; i++)
    if (cells[i].column < WEEK_DAY)
      good = recode (self, cells[i].row, cells[i].column, cells[i].text, hours);
  for (gsize i = 0; i < n && good; i++)
    if (cells[i].column >= WEEK_DAY && cells[i].column < WEEK_SUM)
      read_hours (self, &cells[i], hours);
  if (!good)
    g_array_set_size (self->row, rows);
  else
    good = hours_book_apply (self->book, week_set (hours_book_entries (self->book), (const WeekCell *) (gpointer) hours->data,
                                                   hours->len, label));
  if (self->row->len != rows)
    grid_model_reset (model);
  else
    grid_model_rows_changed (model, 0, self->row->len);
  return good;
}

/* Takes the hours of these codes in this week away, and the rows where no other week holds any. */
static gboolean
delete_rows (TallyGridModel *model, const guint *rows, gsize n)
{
  TallyWeekModel *self = TALLY_WEEK_MODEL (model);
  g_autoptr (GArray) hours = g_array_new (FALSE, FALSE, sizeof (WeekCell));

  for (gsize i = 0; i < n; i++)
    for (int day = 0; day < 7; day++)
      {
        const Row *row = known_row (self, rows[i]);
        WeekCell cell = { row->area, (LabourGroup) MAX (row->group, 0), self->monday + day, 0 };
        set_raw (self, row, cell.day, NULL);
        if (row->group >= 0)
          g_array_append_val (hours, cell);
      }
  if (!hours_book_apply (self->book, week_set (hours_book_entries (self->book), (const WeekCell *) (gpointer) hours->data,
                                               hours->len, _ ("deletion of hours"))))
    return FALSE;
  for (gsize i = n; i-- > 0;)
    if (sum_of (self, known_row (self, rows[i]), 1, G_MAXINT32) == 0)
      g_array_remove_index (self->row, rows[i]);
  grid_model_reset (model);
  return TRUE;
}

static void
model_init (TallyGridModelInterface *iface)
{
  iface->n_rows = n_rows;
  iface->n_columns = n_columns;
  iface->title = title;
  iface->unit = unit;
  iface->width = width;
  iface->text = cell_text;
  iface->flags = flags;
  iface->message = message;
  iface->apply = apply;
  iface->delete_rows = delete_rows;
}

/* ---- the object ---- */

static void
tally_week_model_finalize (GObject *object)
{
  TallyWeekModel *self = TALLY_WEEK_MODEL (object);

  g_array_unref (self->row);
  g_hash_table_unref (self->raw);
  g_clear_object (&self->book);
  G_OBJECT_CLASS (tally_week_model_parent_class)->finalize (object);
}

static void
tally_week_model_class_init (TallyWeekModelClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tally_week_model_finalize;
}

static void
tally_week_model_init (TallyWeekModel *self)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  GDate today;

  g_date_clear (&today, 1);
  g_date_set_dmy (&today, (GDateDay) g_date_time_get_day_of_month (now), (GDateMonth) g_date_time_get_month (now),
                  (GDateYear) g_date_time_get_year (now));
  self->monday = hours_monday (g_date_get_julian (&today));
  self->row = g_array_new (FALSE, FALSE, sizeof (Row));
  self->raw = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
}

TallyWeekModel *
week_model_new (TallySession *session)
{
  TallyWeekModel *self = g_object_new (TALLY_TYPE_WEEK_MODEL, NULL);

  self->session = session;
  self->book = g_object_ref (hours_book_of (session));
  return self;
}

gint64
week_model_monday (TallyWeekModel *self)
{
  return self->monday;
}

void
week_model_set_monday (TallyWeekModel *self, gint64 monday)
{
  if (!hours_day_ok (monday) || !hours_day_ok (monday + 6))
    return;
  self->monday = monday;
  fit_rows (self);
  grid_model_reset (TALLY_GRID_MODEL (self));
}

void
week_model_reset (TallyWeekModel *self)
{
  g_array_set_size (self->row, 0);
  g_hash_table_remove_all (self->raw);
  fit_rows (self);
  grid_model_reset (TALLY_GRID_MODEL (self));
}

void
week_model_refresh (TallyWeekModel *self)
{
  guint before = self->row->len;

  fit_rows (self);
  if (self->row->len != before)
    grid_model_reset (TALLY_GRID_MODEL (self));
  else
    grid_model_rows_changed (TALLY_GRID_MODEL (self), 0, before);
}
