/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/csv.h"
#include "base/fault.h"

G_BEGIN_DECLS

/* Reads the cells of a CSV table row after row and collects what is wrong, each fault with its line and column. */
typedef struct
{
  const CsvTable *table;
  GPtrArray *faults; /* CsvFault * */
  guint row;         /* current row; G_MAXUINT for the heading line */
} TableReader;

/* Starts at the heading line; FALSE (with a fault for each) when a heading of the NULL-terminated list is missing. */
gboolean table_begin (TableReader *reader, const CsvTable *table, GPtrArray *faults, const char *const *headings);
/* Cell of the current row, "" when absent. */
const char *table_cell (const TableReader *reader, const char *heading);
void table_complain (const TableReader *reader, const char *heading, const char *what, const char *remedy);
/* Takes the fault. */
void table_complain_fault (const TableReader *reader, const char *heading, Fault *fault);

/* Index of the record whose first member, a char *, is @key, among the rows read from a table; -1. */
int table_find (const GPtrArray *records, const char *key);

/* Figures of the current row; @empty for an empty cell, and after a complaint. */
gint64 table_decimal (const TableReader *reader, const char *heading, int decimals, gint64 empty, gint64 least, gint64 most);
gint64 table_length (const TableReader *reader, const char *heading, gint64 empty);   /* nm, bare numbers in inches */
gint64 table_pressure (const TableReader *reader, const char *heading, gint64 empty); /* thousandths of an inch w.g. */
/* Index of the cell's word among n keys, -1 with a complaint that lists them. */
int table_word (const TableReader *reader, const char *heading, const char *const *keys, gsize n);
/* "air+joint" as bits by key; an empty cell is all bits. */
guint table_mask (const TableReader *reader, const char *heading, const char *const *keys, gsize n, const char *separator);

G_END_DECLS
