/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum
{
  CLI_TEXT,
  CLI_CSV,
  CLI_JSONL,
} CliFormat;

typedef struct
{
  const char *key;   /* heading in CSV, name in JSON lines */
  const char *title; /* heading in text, translated; NULL: not shown in text */
  gboolean figure;   /* right-aligned; a bare number in JSON lines */
} CliColumn;

/* A table of text cells, printed in any of the formats. */
typedef struct
{
  const char *name;          /* "table" of its JSON lines */
  const CliColumn *column;
  gsize n;
  GPtrArray *cell;           /* char *, row after row; "" is null in JSON lines */
} CliTable;

CliTable *cli_table_new (const char *name, const CliColumn *column, gsize n);
void cli_table_free (CliTable *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (CliTable, cli_table_free)

/* Cells of a row are added from left to right. */
void cli_table_add (CliTable *table, const char *text);
void cli_table_take (CliTable *table, char *text);
void cli_table_int (CliTable *table, gint64 value);
/* A figure to @digits significant digits for CSV and JSON lines. */
void cli_table_figure (CliTable *table, double value, int digits);
/* A fixed number of decimals, with thousands commas in text. */
void cli_table_fixed (CliTable *table, double value, int decimals);

void cli_table_print (const CliTable *table, CliFormat format);

/* Prints to stdout as UTF-8 whatever the locale: output is read by programs too. */
void cli_print (const char *format, ...) G_GNUC_PRINTF (1, 2);

G_END_DECLS
