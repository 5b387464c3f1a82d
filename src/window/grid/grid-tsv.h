/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The text that spreadsheets exchange through the clipboard: cells parted by tabs, rows by line ends. */

/* (transfer full) */
typedef char *(*GridTsvText) (guint row, guint column, gpointer data);

/* The cells of a rectangle, both ends included, as text. A cell with a tab, a line end or a quotation mark is put in
 * quotation marks, those within doubled. No line end behind the last row, so that one cell pastes into a line of
 * text, unless that row would be lost without. */
char *grid_tsv_write (guint row0, guint column0, guint row1, guint column1, GridTsvText text, gpointer data);

typedef struct
{
  GPtrArray *row; /* of GPtrArray of char *; rows may differ in length */
  guint n_columns; /* of the longest row */
  gboolean cut;    /* there was more than the limit */
} GridTsv;

/* Reads any text. Rows end with LF, CRLF or CR; a line end at the end starts no row. A cell is quoted when it begins
 * with a quotation mark and the mark that closes it is followed by a tab, a line end or the end; else marks stand
 * for themselves: 24" and "ab"c are cells. Bytes that are no UTF-8 are replaced, a byte order mark is dropped. Reads
 * at most @limit cells. */
GridTsv *grid_tsv_read (const char *text, gsize limit);
void grid_tsv_free (GridTsv *tsv);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (GridTsv, grid_tsv_free)
/* NULL where a row is shorter. */
const char *grid_tsv_cell (const GridTsv *tsv, guint row, guint column);

G_END_DECLS
