/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Shared by the files that write a workbook; for exchange/ only. */

#include "cost/compare.h"
#include "exchange/workbook.h"

#include <xlsxwriter.h>

G_BEGIN_DECLS

typedef enum
{
  BOOK_PRICE,
  BOOK_BUILDUP,
  BOOK_RUNS,
  BOOK_MATERIALS,
  BOOK_MINUTES,
  BOOK_METHODS,
  BOOK_CONSTRUCTION,
  BOOK_SOURCES,
  BOOK_N_SHEETS,
} BookPage;

typedef enum
{
  AS_TEXT,
  AS_WRAP,
  AS_TEXT_RIGHT,
  AS_BOLD,
  AS_TITLE,
  AS_LEAD, /* the one plain sentence */
  AS_NOTE,
  AS_WARNING,
  AS_LEGEND, /* looks like an input cell, holds words */
  AS_HEAD,
  AS_HEAD_RIGHT,
  AS_WHOLE,
  AS_COUNT,
  AS_QUANTITY,
  AS_WEIGHT,
  AS_HOURS,
  AS_MONEY,
  AS_MONEY_BOLD,
  AS_EXACT,
  AS_UNIT_PRICE,
  AS_PERCENT,
  AS_INPUT_PRICE,
  AS_INPUT_PERCENT,
  AS_INPUT_MONEY,
  AS_TOTAL_TEXT,
  AS_TOTAL_WRAP,
  AS_TOTAL_COUNT,
  AS_TOTAL_WEIGHT,
  AS_TOTAL_HOURS,
  AS_TOTAL_MONEY,
  AS_TOTAL_EXACT,
  AS_N_LOOKS,
} BookLook;

typedef struct
{
  lxw_worksheet *ws;
  const char *name;
  gint64 last_row;  /* -1 before the first cell */
  guint64 rows;     /* that hold at least one cell: what the file must hold in the end */
  double width[26]; /* of the columns, in characters */
  int lines;        /* of the row being written, as far as it was made higher */
} BookSheet;

/* A priced line of the Materials sheet. */
typedef struct
{
  char *label, *unit;
  gint64 quantity; /* millionths */
  gint64 price;    /* ten-thousandths */
  gint64 overage_ppm;
  NumWide exact; /* 1e-10 of the currency */
  CostGroup group;
  const char *source, *status; /* borrowed */
} BookItem;

/* A figure that the bid rests on, with where it comes from. */
typedef struct
{
  const char *section; /* translated */
  char *what, *figure;
  const char *source, *status; /* borrowed; status as written */
} BookFigure;

/* Systems and areas that occur together, and a run there. */
typedef struct
{
  gint64 system, area; /* ids, -1 none */
  guint run;           /* position */
} BookCell;

typedef struct
{
  TallyJob *job;
  const CostBasis *basis;
  const Catalogue *catalogue;
  const int *methods;
  gsize n_methods;
  int baseline;
  int decimals;
  gboolean metric;
  const char *currency;
  JobTotals totals;
  BuildUp *buildup;

  lxw_workbook *book;
  BookSheet sheet[BOOK_N_SHEETS];
  lxw_format *look[AS_N_LOOKS];
  GHashTable *names; /* defined names given so far */
  GString *scratch;
  GError *error; /* the first that happened; writing goes on as if nothing were, and is thrown away */
  WorkbookProgress progress;
  gpointer data;

  /* Gathered while the runs are written. */
  GArray *own;   /* BookItem: counted lines with a price of their own */
  GArray *cells; /* BookCell */
  GHashTable *cell_index;
  int size_field, size2_field; /* of JOB_RUN */
  guint8 *used_method;         /* [method * DUCT_N_KINDS + kind] */
  guint8 *used_gauge, *used_round, *used_sheet;
  guint notes;     /* DuctNote bits */
  GArray *figures; /* BookFigure */

  /* Where the cells stand that formulas of other sheets point at; -1 where there are none. */
  gint64 items_first[COST_N_GROUPS], items_last[COST_N_GROUPS];
  gint64 labour_first[2], labour_last[2]; /* [0] field, [1] shop */
} Book;

#define BOOK_BUILDUP_FIRST 5 /* row of the first build-up line */
#define BOOK_BUILDUP_RATE 2  /* columns of the build-up */
#define BOOK_BUILDUP_VALUE 3
#define BOOK_ITEMS_EXACT 5   /* column of the exact amounts on Materials */
#define BOOK_MINUTES_HOURS 5 /* columns on Minutes */
#define BOOK_MINUTES_RATE 6
#define BOOK_MINUTES_EXACT 7

/* ---- cells: workbook-cells.c ---- */

/* Text is always text: a leading =, +, - or @ starts no formula; invalid UTF-8 and characters that XML cannot hold are
 * replaced; over-long text is cut with an ellipsis. Empty text writes nothing. */
void book_text (Book *book, BookPage page, guint32 row, int col, BookLook look, const char *text);
void book_textf (Book *book, BookPage page, guint32 row, int col, BookLook look, const char *format, ...)
    G_GNUC_PRINTF (6, 7);
/* An empty cell that shows its look (a border, an input cell). */
void book_blank (Book *book, BookPage page, guint32 row, int col, BookLook look);
/* A figure that is none (NaN, infinite) is written as words. */
void book_number (Book *book, BookPage page, guint32 row, int col, BookLook look, double value);
void book_money (Book *book, BookPage page, guint32 row, int col, BookLook look, gint64 minor);
/* A formula with the value that the program itself has for it. @formula without "=", taken. */
void book_formula (Book *book, BookPage page, guint32 row, int col, BookLook look, char *formula, double value);
void book_formula_text (Book *book, BookPage page, guint32 row, int col, BookLook look, char *formula,
                        const char *value);
/* Text over the columns 0 to @last_col of one row, wrapped, the row as high as @text needs. Rows with other wrapped text
 * are made high enough too, since not every program does that when it opens a file. */
void book_paragraph (Book *book, BookPage page, guint32 row, int last_col, BookLook look, const char *text);
/* A wrapped sentence with a live figure: "{}" in @template stands for the text that @formula gives now as @value. */
void book_sentence (Book *book, BookPage page, guint32 row, int last_col, BookLook look, const char *template,
                    const char *const *formulas, const char *const *values);
/* A heading over several columns of a row. */
void book_wide_head (Book *book, BookPage page, guint32 row, int first_col, int last_col, const char *text);
/* A row of headings; a heading that starts with ">" stands at the right. NULL-terminated. */
void book_heads (Book *book, BookPage page, guint32 row, const char *const *heads);
void book_widths (Book *book, BookPage page, const double *widths, gsize n);
/* Print set-up and frozen heads: rows up to @head_row stay in sight and are printed on every page. */
void book_page (Book *book, BookPage page, gboolean landscape, int head_row, int frozen_cols);
/* Refuses figures below @least (and not below @below) in an input cell. */
void book_limit_input (Book *book, BookPage page, guint32 row, int col, double least, double below);

/* "$D$7", or "'Build-up'!$D$7" when @from is another sheet. (transfer full) */
char *book_ref (Book *book, BookPage from, BookPage page, guint32 row, int col);
char *book_range (Book *book, BookPage from, BookPage page, guint32 first_row, guint32 last_row, int col);
/* A defined name for a cell, from a key: letters, digits, underscores, never the look of a cell. */
void book_define (Book *book, const char *key, BookPage page, guint32 row, int col);
/* The same without the workbook: "tax" stays, "AB12" becomes "figure_ab12". (transfer full) */
char *workbook_name (const char *key);
/* Text as it is written: see book_text(). Borrowed, good until the next call; @scratch may be used. */
const char *workbook_clean_text (const char *text, GString *scratch);

/* Makes the library's workbook over @part with its sheets, looks and properties. */
gboolean book_open (Book *book, const char *part, const char *folder);
double book_minor (const Book *book, gint64 minor);
/* "207,590.42" */
char *book_money_words (const Book *book, gint64 minor);
/* Mass and length in the job's units, and their short names. */
double book_mass (const Book *book, gint64 mg);
const char *book_mass_unit (const Book *book);
const char *book_length_unit (const Book *book);
void book_fail (Book *book, int code, const char *what);

/* ---- sheets, written in this order (later ones use what earlier ones gathered) ---- */

gboolean book_write_runs (Book *book); /* FALSE: cancelled */
void book_write_materials (Book *book);
void book_write_minutes (Book *book);
void book_write_buildup (Book *book);
void book_collect_figures (Book *book);
void book_write_price (Book *book);
void book_write_methods (Book *book);
void book_write_construction (Book *book);
void book_write_sources (Book *book);

/* Row of a crew's rate on the Build-up sheet. */
guint32 book_crew_row (const Book *book, int crew);
/* Source and status columns of a row of a catalogue table, "" when there is none. Borrowed. */
const char *book_table_cell (const Book *book, CatalogueSheet sheet, const char *key_heading, const char *key,
                             const char *heading);
const char *book_place_name (LabourPlace place);
/* Figures of these statuses. */
guint book_count_status (const Book *book, DuctStatus status);
const char *book_status_name (DuctStatus status);

G_END_DECLS
