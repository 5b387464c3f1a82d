/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/matrix.h"

#include "chart/text-table.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define PAD 5.0
#define GAP 2.0

typedef struct
{
  double names, line, row, column, top, height;
} Plan;

static const char *
field_text (const ChartMatrix *m, gsize row, gsize column)
{
  const char *text = m->field[row * m->columns + column].text;

  return text ? text : "";
}

static void
plan (const ChartPaper *paper, const ChartMatrix *m, double width, Plan *p)
{
  double w;

  memset (p, 0, sizeof *p);
  chart_text_size (paper, m->corner, CHART_SMALL, &p->names, &p->line);
  for (gsize i = 0; i < m->rows; i++)
    {
      chart_text_size (paper, m->row[i], CHART_PLAIN, &w, &p->line);
      p->names = MAX (p->names, w);
    }
  p->names = MIN (p->names + 2 * PAD, MAX (width, 1) / 3);
  p->row = p->line + 2 * PAD;
  p->column = m->columns > 0 ? MAX (width - p->names, 1) / (double) m->columns : 0;
  p->top = 2 * p->line + PAD;
  p->height = p->top + (double) m->rows * (p->row + GAP);
}

double
chart_matrix_height (const ChartPaper *paper, const ChartMatrix *matrix, double width)
{
  Plan p;

  plan (paper, matrix, width, &p);
  return p.height;
}

/* Headings of columns, as many as there is room for; the first and the last always. */
static void
draw_columns (const ChartPaper *paper, const ChartMatrix *m, const Plan *p)
{
  double free_from = 0, w, last = 0;

  if (m->columns > 0)
    chart_text_size (paper, m->column[m->columns - 1], CHART_SMALL, &last, NULL);
  chart_text (paper, m->axis, CHART_SMALL, &paper->palette->dim, p->names, 0, (double) m->columns * p->column);
  chart_text (paper, m->corner, CHART_SMALL, &paper->palette->dim, 0, p->line, p->names - PAD);
  for (gsize i = 0; i < m->columns; i++)
    {
      double end = p->names + (double) (i + 1) * p->column;
      chart_text_size (paper, m->column[i], CHART_SMALL, &w, NULL);
      if (end - w < free_from || (i + 1 < m->columns && end > p->names + (double) m->columns * p->column - last - PAD))
        continue;
      /* A side between two columns takes the next one up, so a name stands at the end of its column. */
      chart_text (paper, m->column[i], CHART_SMALL, &paper->palette->dim, end - w, p->line, 0);
      free_from = end + PAD;
    }
}

static void
draw_band (const ChartPaper *paper, const ChartField *field, const ChartBox *box)
{
  const ChartColour *c = &paper->palette->accent;
  double w, h;

  if (!field->text || !*field->text)
    {
      if (!field->absent)
        chart_fill (paper, box, CHART_HATCH);
      return;
    }
  cairo_set_source_rgba (paper->cr, c->r, c->g, c->b, 0.10 + 0.45 * CLAMP (field->shade, 0, 1));
  cairo_rectangle (paper->cr, box->x, box->y, box->w, box->h);
  cairo_fill (paper->cr);
  if (field->marked)
    {
      const ChartColour *mark = &paper->palette->warning;
      cairo_set_source_rgba (paper->cr, mark->r, mark->g, mark->b, mark->a);
      cairo_set_line_width (paper->cr, 2);
      cairo_rectangle (paper->cr, box->x + 1, box->y + 1, MAX (box->w - 2, 1), box->h - 2);
      cairo_stroke (paper->cr);
    }
  chart_text_size (paper, field->text, field->marked ? CHART_BOLD : CHART_PLAIN, &w, &h);
  if (w + 4 <= box->w)
    chart_text (paper, field->text, field->marked ? CHART_BOLD : CHART_PLAIN, &paper->palette->text, box->x + (box->w - w) / 2,
                box->y + (box->h - h) / 2, 0);
}

void
chart_matrix_draw (const ChartPaper *paper, const ChartMatrix *m, double width)
{
  Plan p;

  plan (paper, m, width, &p);
  draw_columns (paper, m, &p);
  for (gsize r = 0; r < m->rows; r++)
    {
      double y = p.top + (double) r * (p.row + GAP);
      chart_text (paper, m->row[r], CHART_PLAIN, &paper->palette->text, 0, y + PAD, p.names - PAD);
      for (gsize c = 0; c < m->columns;)
        {
          const ChartField *field = &m->field[r * m->columns + c];
          gsize end = c + 1;
          while (end < m->columns && strcmp (field_text (m, r, end), field_text (m, r, c)) == 0
                 && m->field[r * m->columns + end].marked == field->marked && m->field[r * m->columns + end].absent == field->absent)
            end++;
          ChartBox box = { p.names + (double) c * p.column, y, (double) (end - c) * p.column - GAP, p.row };
          draw_band (paper, field, &box);
          c = end;
        }
    }
}

char *
chart_matrix_table (const ChartMatrix *m)
{
  g_autofree char *align = g_strnfill (m->columns + 1, 'r');
  g_autoptr (ChartTable) table = NULL;

  align[0] = 'l';
  table = chart_table_new (align);
  chart_table_take (table, g_strdup_printf (_ ("%s; columns: %s"), m->corner, m->axis));
  for (gsize c = 0; c < m->columns; c++)
    chart_table_add (table, m->column[c]);
  for (gsize r = 0; r < m->rows; r++)
    {
      chart_table_add (table, m->row[r]);
      for (gsize c = 0; c < m->columns; c++)
        {
          const char *text = field_text (m, r, c);
          chart_table_take (table, g_strdup_printf ("%s%s", *text ? text : _ ("none"),
                                                    m->field[r * m->columns + c].marked ? "*" : ""));
        }
    }
  return chart_table_print (table);
}

GPtrArray *
chart_matrix_spots (const ChartPaper *paper, const ChartMatrix *m, double width)
{
  GPtrArray *spots = chart_spots_new ();
  Plan p;

  plan (paper, m, width, &p);
  for (gsize r = 0; r < m->rows; r++)
    for (gsize c = 0; c < m->columns; c++)
      {
        const ChartField *field = &m->field[r * m->columns + c];
        const char *text = field_text (m, r, c);
        ChartBox box = { p.names + (double) c * p.column, p.top + (double) r * (p.row + GAP), MAX (p.column - GAP, 0), p.row };
        const char *mark = field->marked ? (m->mark ? m->mark : _ ("marked")) : "";
        chart_spots_add (spots, &box, g_strdup_printf (_ ("%s %s, %s %s: %s%s%s"), m->corner, m->row[r], m->axis, m->column[c],
                                                       *text ? text : _ ("none"), *mark ? ", " : "", mark));
      }
  return spots;
}
