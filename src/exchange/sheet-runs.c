/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/workbook-private.h"

#include "base/measure.h"
#include "job/cell.h"
#include "job/note-line.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* One row a run, in the job's order, as computed now. While the rows are written, what the other sheets need is gathered:
 * counted lines with a price of their own, systems and areas that occur together, the figures that were used. */

enum
{
  COL_NUMBER,
  COL_SYSTEM,
  COL_AREA,
  COL_DRAWING,
  COL_KIND,
  COL_SIZE,
  COL_SIZE2,
  COL_LENGTH,
  COL_COUNT,
  COL_CLASS,
  COL_GAUGE,
  COL_METHOD,
  COL_PIECES,
  COL_JOINTS,
  COL_NET,
  COL_SHIPPED,
  COL_SHOP,
  COL_FIELD,
  COL_ITEMS,
  COL_SHOP_MONEY,
  COL_FIELD_MONEY,
  COL_REMARK,
  N_COLS
};

enum
{
  ROW_TITLE,
  ROW_NOTE,
  ROW_SUM,
  ROW_TOTAL,
  ROW_CHECK,
  ROW_HEAD,
  ROW_FIRST
};

#define SUMMED_FIRST COL_PIECES
#define N_SUMMED (COL_FIELD_MONEY - COL_PIECES + 1)

static const BookLook summed_looks[N_SUMMED] = {
  AS_WHOLE, AS_WHOLE, AS_WEIGHT, AS_WEIGHT, AS_HOURS, AS_HOURS, AS_MONEY, AS_MONEY, AS_MONEY,
};

/* The figures of the summed columns: counts and masses of a vector (already times what repeats), hours and money of sums. */
static void
summed_figures (const Book *book, const gint64 *vector, gint64 times, const CostSums *sums, double out[N_SUMMED])
{
  const CostBasis *basis = book->basis;
  const double labour_den = num_wide_to_double (COST_LABOUR_DEN);

  out[0] = (double) (vector[cost_measure_slot (basis, COST_PIECES)] * times) / 1000;
  out[1] = (double) (vector[cost_measure_slot (basis, COST_JOINTS)] * times) / 1000;
  out[2] = book_mass (book, vector[cost_measure_slot (basis, COST_NET_MG)] * times);
  out[3] = book_mass (book, vector[cost_measure_slot (basis, COST_SHIPPED_MG)] * times);
  out[4] = num_wide_to_double (sums->time[1]) / COST_TIME_DEN;
  out[5] = num_wide_to_double (sums->time[0]) / COST_TIME_DEN;
  out[6] = num_wide_to_double (sums->items[COST_MATERIAL] + sums->items[COST_RENTAL]) / 1e10;
  out[7] = num_wide_to_double (sums->labour[1]) / labour_den;
  out[8] = num_wide_to_double (sums->labour[0]) / labour_den;
}

static void
write_heads (Book *book)
{
  g_autofree char *length = g_strdup_printf (">%s, %s", _ ("Length"), book_length_unit (book));
  g_autofree char *net = g_strdup_printf (">%s, %s", _ ("Net"), book_mass_unit (book));
  g_autofree char *shipped = g_strdup_printf (">%s, %s", _ ("Shipped"), book_mass_unit (book));
  g_autofree char *shop = g_strconcat (">", _ ("Shop worker-hours"), NULL);
  g_autofree char *field = g_strconcat (">", _ ("Field worker-hours"), NULL);
  g_autofree char *items = g_strconcat (">", _ ("Material and rental"), NULL);
  g_autofree char *shop_money = g_strconcat (">", _ ("Shop labour"), NULL);
  g_autofree char *field_money = g_strconcat (">", _ ("Field labour"), NULL);
  g_autofree char *number = g_strconcat (">", _ ("Run"), NULL), *count = g_strconcat (">", _ ("Count"), NULL);
  g_autofree char *pieces = g_strconcat (">", _ ("Pieces"), NULL), *joints = g_strconcat (">", _ ("Joints"), NULL);
  g_autofree char *class = g_strconcat (">", _ ("Class"), NULL), *gauge = g_strconcat (">", _ ("Gauge"), NULL);
  const char *heads[N_COLS + 1] = {
    number,
    _ ("System"),
    _ ("Area"),
    _ ("Drawing"),
    _ ("Kind"),
    _ ("Size or item"),
    _ ("Second size"),
    length,
    count,
    class,
    gauge,
    _ ("Method"),
    pieces,
    joints,
    net,
    shipped,
    shop,
    field,
    items,
    shop_money,
    field_money,
    _ ("Remarks"),
    NULL,
  };

  book_heads (book, BOOK_RUNS, ROW_HEAD, heads);
}

/* Money of the items of all rows. What remade joints take again is rounded to a millionth of a unit for each cell as a whole, and here
 * for each run: where joints are remade the rows come to a little more or less than the totals. Rows are written once, from the top,
 * so their sum is reckoned ahead; without remakes it is that of the totals. */
static double
items_of_rows (Book *book, double of_totals)
{
  gboolean remade = FALSE;
  double sum = 0;

  for (guint i = 0; i < job_n (book->job, JOB_AREA); i++)
    {
      gint64 share = job_at (book->job, JOB_AREA, i)->num[AREA_REMADE];
      remade = remade || (share != JOB_UNSET && share > 0);
    }
  for (guint i = 0; remade && i < job_n (book->job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (book->job, JOB_RUN, i);
      JobRunResult result;
      CostSums sums;
      if (job_compute (book->job, run, JOB_OWN_METHOD, &result))
        {
          job_run_sums (book->job, run, result.vector, &sums);
          sum += num_wide_to_double (sums.items[COST_MATERIAL] + sums.items[COST_RENTAL]) / 1e10;
        }
      job_run_result_clear (&result);
    }
  return remade ? sum : of_totals;
}

/* The rows above the heads: sums of the column, the totals of the job, and whether they agree. */
static void
write_checks (Book *book, guint32 last_row)
{
  const JobTotals *totals = &book->totals;
  double figure[N_SUMMED];
  g_autoptr (GString) agree = g_string_new ("IF(AND(");

  summed_figures (book, totals->vector, 1, &totals->sums, figure);
  book_text (book, BOOK_RUNS, ROW_SUM, 0, AS_BOLD, _ ("Sum of the rows below"));
  for (int i = 0; i < N_SUMMED; i++)
    {
      g_autofree char *range = book_range (book, BOOK_RUNS, BOOK_RUNS, ROW_FIRST, last_row, SUMMED_FIRST + i);
      book_formula (book, BOOK_RUNS, ROW_SUM, SUMMED_FIRST + i, summed_looks[i], g_strdup_printf ("SUM(%s)", range),
                    SUMMED_FIRST + i == COL_ITEMS ? items_of_rows (book, figure[i]) : figure[i]);
    }
  book_text (book, BOOK_RUNS, ROW_TOTAL, 0, AS_BOLD, _ ("Totals of the job"));
  for (int i = 0; i < N_SUMMED; i++)
    {
      g_autofree char *sum = book_ref (book, BOOK_RUNS, BOOK_RUNS, ROW_SUM, SUMMED_FIRST + i);
      g_autofree char *total = book_ref (book, BOOK_RUNS, BOOK_RUNS, ROW_TOTAL, SUMMED_FIRST + i);
      book_number (book, BOOK_RUNS, ROW_TOTAL, SUMMED_FIRST + i, summed_looks[i], figure[i]);
      g_string_append_printf (agree, "%sABS(%s-%s)<0.005", i > 0 ? "," : "", sum, total);
    }
  g_string_append_printf (agree, "),\"%s\",\"%s\")", _ ("The rows add up to the totals of the job."),
                          _ ("The rows do not add up to the totals of the job."));
  book_formula_text (book, BOOK_RUNS, ROW_CHECK, 0, AS_BOLD, g_strdup (agree->str),
                     _ ("The rows add up to the totals of the job."));
}

static void
write_top (Book *book, guint n)
{
  book_text (book, BOOK_RUNS, ROW_TITLE, 0, AS_TITLE, _ ("Runs"));
  book_paragraph (
      book, BOOK_RUNS, ROW_NOTE, COL_REMARK, AS_NOTE,
      _ ("As computed; this sheet does not follow changes made in this workbook. Figures from Pieces on hold for all "
         "typical floors of the area. Money is exact here and rounded once in the build-up."));
  write_checks (book, ROW_FIRST + (n > 0 ? n - 1 : 0));
  write_heads (book);
}

static gint64
area_times (Book *book, const JobRecord *run)
{
  const JobRecord *area = run->num[RUN_AREA] == JOB_UNSET ? NULL : job_find (book->job, JOB_AREA, run->num[RUN_AREA]);

  return area && area->num[AREA_TIMES] != JOB_UNSET ? area->num[AREA_TIMES] : 1;
}

/* ---- what the other sheets need ---- */

static guint
cell_hash (gconstpointer key)
{
  const BookCell *cell = key;

  return (guint) (cell->system * 1000003 + cell->area);
}

static gboolean
cell_equal (gconstpointer a, gconstpointer b)
{
  const BookCell *x = a, *y = b;

  return x->system == y->system && x->area == y->area;
}

static void
note_cell (Book *book, const JobRecord *run, guint position)
{
  BookCell cell = { run->num[RUN_SYSTEM] == JOB_UNSET ? -1 : run->num[RUN_SYSTEM],
                    run->num[RUN_AREA] == JOB_UNSET ? -1 : run->num[RUN_AREA], position };

  if (g_hash_table_contains (book->cell_index, &cell))
    return;
  g_hash_table_add (book->cell_index, g_memdup2 (&cell, sizeof cell));
  g_array_append_val (book->cells, cell);
}

static void
note_own_price (Book *book, const JobRecord *run, const gint64 *vector, gint64 times, guint position)
{
  gint64 material = vector[cost_measure_slot (book->basis, COST_OWN_MATERIAL)];
  gint64 rental = vector[cost_measure_slot (book->basis, COST_OWN_RENTAL)], money = material + rental;
  const char *name = run->text[RUN_ITEM] ? run->text[RUN_ITEM] : run->text[RUN_NOTE];
  int item = run->text[RUN_ITEM] ? catalogue_find_item (book->catalogue, run->text[RUN_ITEM]) : -1;
  BookItem own = { .price = run->num[RUN_PRICE], .source = _ ("entered on the run"), .status = "shop's own" };

  if (money == 0 || own.price <= 0)
    return;
  own.label = g_strdup_printf (_ ("%s (run %u)"), name ? name : _ ("counted line"), position + 1);
  own.unit = g_strdup (item >= 0 ? catalogue_item (book->catalogue, item)->unit : _ ("each"));
  own.quantity = money / own.price * times;
  own.exact = (NumWide) money * times;
  own.group = rental != 0 ? COST_RENTAL : COST_MATERIAL;
  g_array_append_val (book->own, own);
}

static void
note_used (Book *book, const JobRunResult *result)
{
  if (result->method < 0)
    return;
  book->used_method[result->method * DUCT_N_KINDS + result->shape.kind] = 1;
  if (result->build.rule_row >= 0)
    book->used_gauge[result->build.rule_row] = 1;
  if (result->build.round_row >= 0)
    book->used_round[result->build.round_row] = 1;
  if (result->build.sheet >= 0 && duct_kind_has_gauge ((DuctKind) result->shape.kind))
    book->used_sheet[result->build.sheet] = 1;
  book->notes |= result->measure.notes;
}

/* ---- one row ---- */

/* A field as it would be typed; sizes and text that could not be read take the long way. */
static void
write_field (Book *book, guint32 row, int col, const JobRecord *run, int field)
{
  g_autofree char *text = job_record_print (run, field, job_names (book->job));

  book_text (book, BOOK_RUNS, row, col, AS_TEXT, text);
}

static void
write_named (Book *book, guint32 row, int col, JobType type, gint64 id)
{
  const JobNames *names = job_names (book->job);

  if (id != JOB_UNSET)
    book_text (book, BOOK_RUNS, row, col, AS_TEXT, names->name (names->data, type, id));
}

static void
write_entered (Book *book, guint32 row, const JobRecord *run)
{
  const gint64 *num = run->num;

  if (run->raw)
    {
      static const char *const keys[] = { "system", "area", "drawing", "kind", "size", "size2" };
      for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
        write_field (book, row, COL_SYSTEM + (int) i, run, job_field_find (JOB_RUN, keys[i]));
    }
  else
    {
      write_named (book, row, COL_SYSTEM, JOB_SYSTEM, num[RUN_SYSTEM]);
      write_named (book, row, COL_AREA, JOB_AREA, num[RUN_AREA]);
      book_text (book, BOOK_RUNS, row, COL_DRAWING, AS_TEXT, run->text[RUN_DRAWING]);
      if (num[RUN_KIND] != JOB_UNSET)
        book_text (book, BOOK_RUNS, row, COL_KIND, AS_TEXT, duct_kind_info ((DuctKind) num[RUN_KIND])->key);
      if (num[RUN_W] != JOB_UNSET)
        write_field (book, row, COL_SIZE, run, book->size_field);
      if (num[RUN_W2] != JOB_UNSET)
        write_field (book, row, COL_SIZE2, run, book->size2_field);
    }
  if (num[RUN_KIND] == DUCT_COUNTED)
    book_text (book, BOOK_RUNS, row, COL_SIZE, AS_TEXT, run->text[RUN_ITEM]);
  if (num[RUN_LENGTH] != JOB_UNSET)
    book_number (book, BOOK_RUNS, row, COL_LENGTH, AS_QUANTITY,
                 (double) num[RUN_LENGTH] / (double) (book->metric ? LENGTH_NM_PER_M : LENGTH_NM_PER_FT));
  if (num[RUN_COUNT] != JOB_UNSET)
    book_number (book, BOOK_RUNS, row, COL_COUNT, AS_COUNT, (double) num[RUN_COUNT] / 1000);
}

/* How it is built: class in force, gauge, method. */
static void
write_built (Book *book, guint32 row, const JobRunResult *result)
{
  const DuctSheet *sheet;

  if (result->method < 0)
    return;
  if (result->shape.pressure != DUCT_UNSET)
    {
      g_autofree char *class = pressure_print (result->shape.pressure, book->metric);
      book_text (book, BOOK_RUNS, row, COL_CLASS, AS_TEXT_RIGHT, class);
    }
  sheet = result->build.sheet >= 0 && duct_kind_has_gauge ((DuctKind) result->shape.kind)
              ? duct_rules_sheet (book->catalogue->rules, result->build.sheet)
              : NULL;
  if (sheet)
    book_text (book, BOOK_RUNS, row, COL_GAUGE, AS_TEXT_RIGHT, sheet->label);
  book_text (book, BOOK_RUNS, row, COL_METHOD, AS_TEXT, catalogue_method (book->catalogue, result->method)->key);
}

/* What there is to say of a run, in the order of weight: another method, what was filled in and not used, its note. */
static char *
remark (Book *book, const JobRecord *run, const JobRunResult *result)
{
  g_autofree char *method = NULL, *unused = NULL;
  const char *parts[4];
  int n = 0;

  if (!result->vector)
    {
      g_autofree char *why = result->fault ? fault_words (result->fault, NULL) : g_strdup ("");
      return g_strdup_printf (_ ("NOT PRICED: %s"), why);
    }
  if (result->method >= 0 && result->asked >= 0 && result->method != result->asked)
    parts[n++] = method = g_strdup_printf (_ ("asked for %s: %s"), catalogue_method (book->catalogue, result->asked)->key,
                                           result->reason ? result->reason : "");
  if ((unused = job_caution_words (book->catalogue, run)))
    parts[n++] = unused;
  if (run->text[RUN_NOTE])
    parts[n++] = run->text[RUN_NOTE];
  parts[n] = NULL;
  return g_strjoinv ("; ", (char **) parts);
}

/* Words alone; where the sizes stand they have the empty cells of the row to run over. */
static void
write_note_line (Book *book, guint32 row, const JobRecord *run)
{
  write_named (book, row, COL_SYSTEM, JOB_SYSTEM, run->num[RUN_SYSTEM]);
  write_named (book, row, COL_AREA, JOB_AREA, run->num[RUN_AREA]);
  book_text (book, BOOK_RUNS, row, COL_DRAWING, AS_TEXT, run->text[RUN_DRAWING]);
  book_text (book, BOOK_RUNS, row, COL_KIND, AS_TEXT, duct_kind_info (DUCT_REMARK)->key);
  book_text (book, BOOK_RUNS, row, COL_SIZE, AS_BOLD, job_note_line_words (run));
}

static void
write_run (Book *book, guint position)
{
  const JobRecord *run = job_at (book->job, JOB_RUN, position);
  guint32 row = ROW_FIRST + position;
  JobRunResult result;
  g_autofree char *words = NULL;

  book_number (book, BOOK_RUNS, row, COL_NUMBER, AS_WHOLE, position + 1);
  if (job_is_note_line (run))
    {
      write_note_line (book, row, run);
      return;
    }
  write_entered (book, row, run);
  if (job_compute (book->job, run, JOB_OWN_METHOD, &result))
    {
      gint64 times = area_times (book, run);
      double figure[N_SUMMED];
      CostSums sums;
      job_run_sums (book->job, run, result.vector, &sums);
      summed_figures (book, result.vector, times, &sums, figure);
      write_built (book, row, &result);
      for (int i = 0; i < N_SUMMED; i++)
        book_number (book, BOOK_RUNS, row, SUMMED_FIRST + i, summed_looks[i], figure[i]);
      note_own_price (book, run, result.vector, times, position);
      note_used (book, &result);
    }
  words = remark (book, run, &result);
  book_text (book, BOOK_RUNS, row, COL_REMARK, result.vector ? AS_TEXT : AS_WARNING, words);
  note_cell (book, run, position);
  job_run_result_clear (&result);
}

gboolean
book_write_runs (Book *book)
{
  static const double widths[N_COLS] = { 6, 8, 9, 9, 14, 19, 9, 9, 7, 7, 8, 21, 8, 8, 10, 10, 9, 9, 12, 11, 11, 30 };
  guint n = job_n (book->job, JOB_RUN);
  lxw_worksheet *ws = book->sheet[BOOK_RUNS].ws;

  book->own = g_array_new (FALSE, FALSE, sizeof (BookItem));
  book->cells = g_array_new (FALSE, FALSE, sizeof (BookCell));
  book->cell_index = g_hash_table_new_full (cell_hash, cell_equal, g_free, NULL);
  book->size_field = job_field_find (JOB_RUN, "size");
  book->size2_field = job_field_find (JOB_RUN, "size2");
  book_widths (book, BOOK_RUNS, widths, N_COLS);
  write_top (book, n);
  for (guint i = 0; i < n && !book->error; i++)
    {
      if (i % 256 == 0 && book->progress && !book->progress (0.9 * i / n, book->data))
        return FALSE;
      write_run (book, i);
    }
  if (n > 0)
    book_fail (book, worksheet_autofilter (ws, ROW_HEAD, 0, ROW_FIRST + n - 1, N_COLS - 1),
               book->sheet[BOOK_RUNS].name);
  book_page (book, BOOK_RUNS, TRUE, ROW_HEAD, COL_SYSTEM);
  return TRUE;
}
