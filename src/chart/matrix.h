/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chart/chart.h"

G_BEGIN_DECLS

/* One field of a matrix: a word, how dark it stands, and whether it is marked (an outline: "differs"). */
typedef struct
{
  const char *text;  /* borrowed; NULL or "": nothing answers there, drawn hatched */
  double shade;      /* 0 light to 1 dark */
  gboolean marked;
  gboolean absent;   /* with no text: there is nothing to answer, left blank */
} ChartField;

/* Fields by row and column, like which gauge answers which side and class. Neighbours of a row with the same word are drawn as one
 * band, so that the eye sees where it changes. */
typedef struct
{
  const ChartField *field; /* borrowed: rows x columns, row after row */
  gsize rows, columns;
  const char *const *row;  /* borrowed: names of the rows */
  const char *const *column;
  const char *corner;      /* what the rows are, "class, in w.g." */
  const char *axis;        /* what the columns are, "longest side, in" */
  const char *mark;        /* (nullable): what a marked field is, "differs", for the words of spots */
} ChartMatrix;

double chart_matrix_height (const ChartPaper *paper, const ChartMatrix *matrix, double width);
/* Draws with its top left at 0, 0. */
void chart_matrix_draw (const ChartPaper *paper, const ChartMatrix *matrix, double width);
/* The same data as lines of text, aligned; marked fields have a star. (transfer full) */
char *chart_matrix_table (const ChartMatrix *matrix);
/* A spot a field, row after row: row, column and word. (transfer full) */
GPtrArray *chart_matrix_spots (const ChartPaper *paper, const ChartMatrix *matrix, double width);

G_END_DECLS
