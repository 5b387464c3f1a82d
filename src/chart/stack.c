/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/stack.h"

#include "chart/scale.h"
#include "chart/text-table.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define BAR 34.0      /* height of the bar */
#define BELOW 8.0     /* from the bar to the first row of labels */
#define GAP 14.0      /* between labels of a row, swatch included */
#define SWATCH 10.0
#define SWATCH_GAP 5.0
#define ROW_GAP 6.0

static double
tame (double value)
{
  return isnan (value) || value <= 0 ? 0 : MIN (value, CHART_MOST);
}

/* The first row in which a label beginning at @x meets none that is there; @end: how far each row is used. */
static int
free_row (const double *end, gsize n, double x)
{
  for (gsize r = 0; r < n; r++)
    if (end[r] + GAP <= x || end[r] == 0)
      return (int) r;
  return (int) n - 1;
}

void
chart_stack_plan (const ChartPaper *paper, const ChartStack *stack, double width, ChartStackPlan *plan)
{
  g_autofree double *end = g_new0 (double, stack->n + 1);
  double whole = 0, x = 0, line;
  int rows = 0;

  *plan = (ChartStackPlan) { g_new0 (ChartBox, stack->n + 1), g_new0 (ChartBox, stack->n + 1), g_new0 (int, stack->n + 1), BAR };
  chart_text_size (paper, "Xg", CHART_PLAIN, NULL, &line);
  width = isfinite (width) ? MAX (width, 1) : 1;
  for (gsize i = 0; i < stack->n; i++)
    whole += tame (stack->part[i].value);
  for (gsize i = 0; i < stack->n; i++)
    {
      double part = whole > 0 ? width * tame (stack->part[i].value) / whole : 0, name, text;
      ChartBox *label = &plan->label[i];
      plan->bar[i] = (ChartBox) { x, 0, part, BAR };
      chart_text_size (paper, stack->part[i].name, CHART_SMALL, &name, NULL);
      chart_text_size (paper, stack->part[i].text, CHART_SMALL | CHART_BOLD, &text, NULL);
      label->w = MIN (MAX (name, text) + SWATCH + SWATCH_GAP + 2, width);
      label->h = 2 * line;
      label->x = CLAMP (x, 0, width - label->w);
      plan->row[i] = free_row (end, stack->n, label->x);
      label->y = BAR + BELOW + plan->row[i] * (2 * line + ROW_GAP);
      end[plan->row[i]] = label->x + label->w;
      rows = MAX (rows, plan->row[i] + 1);
      x += part;
    }
  if (rows > 0)
    plan->height = BAR + BELOW + rows * (2 * line + ROW_GAP);
}

void
chart_stack_plan_clear (ChartStackPlan *plan)
{
  g_clear_pointer (&plan->bar, g_free);
  g_clear_pointer (&plan->label, g_free);
  g_clear_pointer (&plan->row, g_free);
}

double
chart_stack_height (const ChartPaper *paper, const ChartStack *stack, double width)
{
  ChartStackPlan plan;

  chart_stack_plan (paper, stack, width, &plan);
  chart_stack_plan_clear (&plan);
  return plan.height;
}

/* Downwards, leaving out the labels of others that stand in the way, row after row. */
static void
draw_down (const ChartPaper *paper, const ChartStack *stack, const ChartStackPlan *plan, gsize i, double x, double down)
{
  double from = BAR;

  for (int row = 0; row < plan->row[i]; row++)
    for (gsize k = 0; k < stack->n; k++)
      {
        const ChartBox *other = &plan->label[k];
        if (plan->row[k] != row || x < other->x - 2 || x > chart_box_end (other) + 2)
          continue;
        chart_stroke (paper, &paper->palette->line, x, from, x, other->y, 1);
        from = other->y + other->h;
      }
  if (from < down)
    chart_stroke (paper, &paper->palette->line, x, from, x, down, 1);
}

/* From a part down to a label that is not in the first row or does not stand under it. */
static void
draw_lead (const ChartPaper *paper, const ChartStack *stack, const ChartStackPlan *plan, gsize i)
{
  const ChartBox *bar = &plan->bar[i], *label = &plan->label[i];
  int row = plan->row[i];
  double x = bar->x + MIN (bar->w / 2, 5), down = label->y + label->h / 4;

  if (bar->w <= 0 || (row == 0 && label->x <= x))
    return;
  draw_down (paper, stack, plan, i, x, row == 0 ? BAR + BELOW / 2 : down);
  if (label->x > x + 1)
    chart_stroke (paper, &paper->palette->line, x, row == 0 ? BAR + BELOW / 2 : down, label->x, down, 1);
}

void
chart_stack_draw (const ChartPaper *paper, const ChartStack *stack, double width)
{
  ChartStackPlan plan;

  chart_stack_plan (paper, stack, width, &plan);
  for (gsize i = 0; i < stack->n; i++)
    draw_lead (paper, stack, &plan, i);
  for (gsize i = 0; i < stack->n; i++)
    {
      const ChartPart *part = &stack->part[i];
      const ChartBox *label = &plan.label[i];
      ChartFill fill = (ChartFill) (i % CHART_N_FILLS);
      double name, x = label->x + SWATCH + SWATCH_GAP;
      gboolean below = part->value < 0;
      chart_fill (paper, &plan.bar[i], fill);
      if (plan.bar[i].w > 0)
        chart_fill (paper, &(ChartBox) { label->x, label->y + 4, SWATCH, SWATCH }, fill);
      chart_text_size (paper, part->name, CHART_SMALL, NULL, &name);
      chart_text (paper, part->name, CHART_SMALL, &paper->palette->dim, x, label->y, label->w - SWATCH - SWATCH_GAP);
      chart_text (paper, part->text, CHART_SMALL | CHART_BOLD, below ? &paper->palette->warning : &paper->palette->text, x,
                  label->y + name, label->w - SWATCH - SWATCH_GAP);
    }
  chart_stack_plan_clear (&plan);
}

char *
chart_stack_table (const ChartStack *stack)
{
  g_autoptr (ChartTable) table = chart_table_new ("lrr");
  double whole = 0;

  for (gsize i = 0; i < stack->n; i++)
    whole += tame (stack->part[i].value);
  chart_table_add (table, _ ("part"));
  chart_table_add (table, _ ("amount"));
  chart_table_add (table, _ ("share"));
  for (gsize i = 0; i < stack->n; i++)
    {
      char share[G_ASCII_DTOSTR_BUF_SIZE];
      chart_table_add (table, stack->part[i].name);
      chart_table_add (table, stack->part[i].text);
      if (whole > 0 && tame (stack->part[i].value) > 0)
        chart_table_take (table, g_strdup_printf (_ ("%s %%"), g_ascii_formatd (share, sizeof share, "%.1f",
                                                                               tame (stack->part[i].value) * 100 / whole)));
      else
        chart_table_add (table, "");
    }
  return chart_table_print (table);
}

GPtrArray *
chart_stack_spots (const ChartPaper *paper, const ChartStack *stack, double width)
{
  GPtrArray *spots = chart_spots_new ();
  ChartStackPlan plan;
  double whole = 0;

  chart_stack_plan (paper, stack, width, &plan);
  for (gsize i = 0; i < stack->n; i++)
    whole += tame (stack->part[i].value);
  for (gsize i = 0; i < stack->n; i++)
    {
      const ChartPart *part = &stack->part[i];
      char share[G_ASCII_DTOSTR_BUF_SIZE];
      if (plan.bar[i].w > 0)
        chart_spots_add (spots, &plan.bar[i],
                         g_strdup_printf (_ ("%s: %s, %s %% of the whole"), part->name, part->text,
                                          g_ascii_formatd (share, sizeof share, "%.1f", tame (part->value) * 100 / whole)));
      else
        chart_spots_add (spots, &plan.label[i], g_strdup_printf (_ ("%s: %s"), part->name, part->text));
    }
  chart_stack_plan_clear (&plan);
  return spots;
}
