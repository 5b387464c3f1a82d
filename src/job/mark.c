/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/mark.h"

#include "base/csv.h"
#include "base/decimal.h"
#include "cost/solve.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static void
clear_part (gpointer data)
{
  g_free (((MarkPart *) data)->system);
}

static JobMark *
mark_new (const char *name, gint64 at, int decimals)
{
  JobMark *mark = g_new0 (JobMark, 1);

  mark->name = g_strdup (name);
  mark->at = at;
  mark->decimals = decimals;
  mark->parts = g_array_new (FALSE, TRUE, sizeof (MarkPart));
  g_array_set_clear_func (mark->parts, clear_part);
  return mark;
}

void
job_mark_free (JobMark *mark)
{
  g_free (mark->name);
  g_array_unref (mark->parts);
  g_free (mark);
}

/* Whole milliseconds of a sum in ms x ppm. */
static gint64
whole_ms (NumWide time)
{
  gint64 ms = 0;

  num_narrow (num_wide_div (time, 1000000), &ms);
  return ms;
}

static MarkPart
measure_part (TallyJob *job, const JobTotals *totals)
{
  return (MarkPart) { .field_ms = whole_ms (totals->sums.time[0]),
                      .shop_ms = whole_ms (totals->sums.time[1]),
                      .net_mg = totals->vector[cost_measure_slot (job_basis (job), COST_NET_MG)],
                      .not_priced = totals->not_priced };
}

static void
add_part (TallyJob *job, JobMark *mark, GArray *sums, gint64 id, const char *system)
{
  JobScope scope = { id, 0 };
  JobTotals totals;

  job_totals (job, &scope, JOB_OWN_METHOD, &totals);
  if (totals.runs > 0 || totals.not_priced > 0)
    {
      MarkPart part = measure_part (job, &totals);
      part.system = g_strdup (system);
      g_array_append_val (mark->parts, part);
      totals.sums.slot_time = NULL;
      g_array_append_val (sums, totals.sums);
    }
  job_totals_clear (&totals);
}

JobMark *
job_mark_take (TallyJob *job, const char *name, gint64 at)
{
  const CostBasis *basis = job_basis (job);
  JobMark *mark = mark_new (name, at, job_decimals (job));
  g_autoptr (GArray) sums = g_array_new (FALSE, TRUE, sizeof (CostSums));
  gsize price = (gsize) MAX (cost_price_line (basis), 0);
  JobScope whole = { 0, 0 };
  JobTotals totals;

  for (guint i = 0; i < job_n (job, JOB_SYSTEM); i++)
    add_part (job, mark, sums, job_at (job, JOB_SYSTEM, i)->id, job_at (job, JOB_SYSTEM, i)->text[SYSTEM_KEY]);
  add_part (job, mark, sums, -1, NULL);
  job_totals (job, &whole, JOB_OWN_METHOD, &totals);
  mark->all = measure_part (job, &totals);
  g_autoptr (BuildUp) up = buildup_new (basis, &totals.sums, mark->decimals);
  g_autofree gint64 *split = buildup_break_out (up, (const CostSums *) (gpointer) sums->data, sums->len);
  int line = buildup_find (basis, "cost");
  gsize cost = line < 0 ? price : (gsize) line;
  mark->all.price = up->value[price];
  mark->all.cost = up->value[cost];
  for (guint i = 0; i < mark->parts->len; i++)
    {
      MarkPart *part = &g_array_index (mark->parts, MarkPart, i);
      part->price = split[price * sums->len + i];
      part->cost = split[cost * sums->len + i];
    }
  job_totals_clear (&totals);
  return mark;
}

/* ---- the difference ---- */

/* Money in other decimals, rounded half away from zero. */
static gint64
rescale (gint64 minor, int from, int to)
{
  gint64 up = 1, down = 1, out = 0;

  for (int i = from; i < to; i++)
    up *= 10;
  for (int i = to; i < from; i++)
    down *= 10;
  num_mul_div (minor, up, down, &out);
  return out;
}

static MarkPart
difference (const MarkPart *before, int decimals, const MarkPart *now, int now_decimals)
{
  return (MarkPart) { .price = now->price - rescale (before->price, decimals, now_decimals),
                      .cost = now->cost - rescale (before->cost, decimals, now_decimals),
                      .field_ms = now->field_ms - before->field_ms,
                      .shop_ms = now->shop_ms - before->shop_ms,
                      .net_mg = now->net_mg - before->net_mg,
                      .not_priced = now->not_priced - before->not_priced };
}

static const MarkPart *
find_part (const JobMark *mark, const char *system)
{
  for (guint i = 0; i < mark->parts->len; i++)
    if (g_strcmp0 (g_array_index (mark->parts, MarkPart, i).system, system) == 0)
      return &g_array_index (mark->parts, MarkPart, i);
  return NULL;
}

static void
add_difference (JobMark *out, const char *system, MarkPart d)
{
  if (d.price == 0 && d.cost == 0 && d.field_ms == 0 && d.shop_ms == 0 && d.net_mg == 0 && d.not_priced == 0)
    return;
  d.system = g_strdup (system);
  g_array_append_val (out->parts, d);
}

JobMark *
job_mark_compare (const JobMark *before, const JobMark *now)
{
  static const MarkPart nothing = { 0 };
  JobMark *out = mark_new (before->name, before->at, now->decimals);

  out->all = difference (&before->all, before->decimals, &now->all, now->decimals);
  for (guint i = 0; i < now->parts->len; i++)
    {
      const MarkPart *part = &g_array_index (now->parts, MarkPart, i), *was = find_part (before, part->system);
      add_difference (out, part->system, difference (was ? was : &nothing, before->decimals, part, now->decimals));
    }
  for (guint i = 0; i < before->parts->len; i++)
    {
      const MarkPart *was = &g_array_index (before->parts, MarkPart, i);
      if (!find_part (now, was->system))
        add_difference (out, was->system, difference (was, before->decimals, &nothing, now->decimals));
    }
  return out;
}

/* ---- text ---- */

/* A table: the whole, then a row a system. The first row's "what" is "mark" and carries name, time and decimals. */
static const char *const heads[] = { "what", "name", "at", "decimals", "price", "cost", "field_ms", "shop_ms", "net_mg", "not_priced" };
enum { WHAT, NAME, AT, DECIMALS, FIGURES, N_HEADS = G_N_ELEMENTS (heads) };
#define N_FIGURES (N_HEADS - FIGURES)

static void
print_part (GString *out, const char *what, const char *name, const char *at, const char *decimals, const MarkPart *part)
{
  const gint64 figures[N_FIGURES] = { part->price, part->cost, part->field_ms, part->shop_ms, part->net_mg, part->not_priced };
  const char *cells[N_HEADS] = { what, name, at, decimals };
  char *printed[N_FIGURES];

  for (int i = 0; i < N_FIGURES; i++)
    cells[FIGURES + i] = printed[i] = g_strdup_printf ("%" G_GINT64_FORMAT, figures[i]);
  csv_append_row (out, cells, N_HEADS);
  for (int i = 0; i < N_FIGURES; i++)
    g_free (printed[i]);
}

char *
job_mark_print (const JobMark *mark)
{
  GString *out = g_string_new (NULL);
  g_autofree char *at = g_strdup_printf ("%" G_GINT64_FORMAT, mark->at), *decimals = g_strdup_printf ("%d", mark->decimals);

  csv_append_row (out, heads, N_HEADS);
  print_part (out, "mark", mark->name, at, decimals, &mark->all);
  for (guint i = 0; i < mark->parts->len; i++)
    {
      const MarkPart *part = &g_array_index (mark->parts, MarkPart, i);
      print_part (out, part->system ? "system" : "rest", part->system ? part->system : "", "", "", part);
    }
  return g_string_free (out, FALSE);
}

static gboolean
parse_part (const CsvTable *table, const int *columns, guint row, MarkPart *part)
{
  gint64 figures[N_FIGURES];

  for (int i = 0; i < N_FIGURES; i++)
    if (!decimal_parse (csv_cell (table, row, columns[FIGURES + i]), 0, &figures[i], NULL))
      return FALSE;
  *part = (MarkPart) { NULL, figures[0], figures[1], figures[2], figures[3], figures[4], figures[5] };
  return TRUE;
}

/* Reads the rows into @mark. FALSE when any of them is no row of a mark. */
static gboolean
parse_rows (const CsvTable *table, const int *columns, JobMark **mark)
{
  gint64 at, decimals;

  for (guint row = 0; row < table->row->len; row++)
    {
      const char *what = csv_cell (table, row, columns[WHAT]), *name = csv_cell (table, row, columns[NAME]);
      MarkPart part;
      if (!parse_part (table, columns, row, &part))
        return FALSE;
      if (row == 0)
        {
          if (strcmp (what, "mark") != 0 || !decimal_parse (csv_cell (table, row, columns[AT]), 0, &at, NULL)
              || !decimal_parse (csv_cell (table, row, columns[DECIMALS]), 0, &decimals, NULL) || decimals < 0 || decimals > 4)
            return FALSE;
          *mark = mark_new (name, at, (int) decimals);
          (*mark)->all = part;
          continue;
        }
      if (strcmp (what, "system") != 0 && strcmp (what, "rest") != 0)
        return FALSE;
      part.system = strcmp (what, "system") == 0 ? g_strdup (name) : NULL;
      g_array_append_val ((*mark)->parts, part);
    }
  return *mark != NULL;
}

JobMark *
job_mark_parse (const char *text, Fault **fault)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (CsvTable) table = csv_parse (text, -1, _ ("mark"), faults);
  g_autoptr (JobMark) mark = NULL;
  int columns[N_HEADS];
  gboolean good = table != NULL && faults->len == 0;

  for (int i = 0; good && i < N_HEADS; i++)
    {
      columns[i] = csv_column (table, heads[i]);
      good = columns[i] >= 0;
    }
  if (!good || !parse_rows (table, columns, &mark))
    {
      fault_set (fault, fault_new (-1, _ ("set a new mark"), _ ("the mark that was kept cannot be read")));
      return NULL;
    }
  return g_steal_pointer (&mark);
}
