/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  int line;        /* where the row starts in the file, from 1 */
  GPtrArray *cell; /* char *, blanks around unquoted cells stripped */
} CsvRow;

typedef struct
{
  char *name;      /* for messages: the file's display name */
  GPtrArray *head; /* char *, as written; NULL-free */
  int head_line;
  GPtrArray *row;  /* CsvRow * */
} CsvTable;

/* A message about one place of a file. column is from 1, 0 when the whole line is meant. */
typedef struct
{
  char *file;
  int line;
  int column;
  char *heading;   /* (nullable) */
  char *what;
  char *remedy;
} CsvFault;

CsvFault *csv_fault_new (const char *file, int line, int column, const char *heading, const char *what,
                         const char *remedy);
void csv_fault_free (CsvFault *fault);
/* "file:line, column N (heading): what; remedy" */
char *csv_fault_words (const CsvFault *fault);

/* Reads comma-separated text (RFC 4180: quotes doubled, CRLF or LF, a byte order mark allowed). Also: a file whose
 * heading holds semicolons or tabs and no comma is read with that separator. Blank lines and lines that start with '#'
 * are skipped. Refused with a fault (added to @faults, nullable GPtrArray of CsvFault*): invalid UTF-8 (line
 * named), a NUL byte, an unclosed quote (nothing behind it is read), text behind a closing quote, no heading, an empty
 * heading, a heading given twice, a row with more cells than the heading. Rows with fewer cells are filled with "".
 * Faulty rows are left out; the table is returned when at least the heading could be used, else NULL. A quote within
 * a cell that does not start with one stands for itself: 24" duct.
 * @length: bytes, or -1 for NUL-terminated. */
CsvTable *csv_parse (const char *text, gssize length, const char *name, GPtrArray *faults);
CsvTable *csv_read_file (const char *path, GPtrArray *faults, GError **error);
void csv_table_free (CsvTable *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (CsvTable, csv_table_free)

/* Column of a heading, compared without case and blanks at the ends; -1 when absent. */
int csv_column (const CsvTable *table, const char *heading);
/* Cell text, "" when the column is -1. Borrowed. */
const char *csv_cell (const CsvTable *table, guint row, int column);
/* Puts text into a cell; the row is filled up to it. Nothing happens when the column is -1. */
void csv_set_cell (CsvTable *table, guint row, int column, const char *text);

/* Writes one cell, quoted where needed; csv_append_row() ends the line with "\n". */
void csv_append_cell (GString *out, const char *text, gboolean first);
void csv_append_row (GString *out, const char *const *cells, gsize n);

G_END_DECLS
