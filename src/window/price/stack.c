/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/price/price-private.h"

#include "window/chart-area.h"

#include "chart/stack.h"

#include <glib/gi18n.h>

/* Strings and parts that a picture borrows. */
typedef struct
{
  GPtrArray *text; /* char * */
  GArray *part;    /* ChartPart */
} Data;

static void
data_free (gpointer pointer)
{
  Data *data = pointer;

  g_ptr_array_unref (data->text);
  g_array_unref (data->part);
  g_free (data);
}

static ChartStack
stack_of (gpointer pointer)
{
  Data *data = pointer;

  return (ChartStack) { (const ChartPart *) (gpointer) data->part->data, data->part->len };
}

static double
height (const ChartPaper *paper, double width, gpointer data)
{
  ChartStack stack = stack_of (data);

  return chart_stack_height (paper, &stack, width);
}

static void
draw (const ChartPaper *paper, double width, gpointer data)
{
  ChartStack stack = stack_of (data);

  chart_stack_draw (paper, &stack, width);
}

static GPtrArray *
spots (const ChartPaper *paper, double width, gpointer data)
{
  ChartStack stack = stack_of (data);

  return chart_stack_spots (paper, &stack, width);
}

GtkWidget *
price_stack_new (TallySession *session)
{
  (void) session;
  return tally_chart_area_new (NULL);
}

/* The lines that the price is the sum of, sums opened to what they consist of. */
static void
add_parts (const PriceFigures *figures, int index, guint depth, Data *data)
{
  const CostBuildLine *line = g_ptr_array_index (figures->basis->buildup, (guint) index);
  ChartPart part = { .value = (double) figures->up->value[index] };
  char *amount;

  if (line->op == COST_OP_SUM && depth < 16)
    {
      for (guint i = 0; i < line->refs->len; i++)
        add_parts (figures, g_array_index (line->refs, int, i), depth + 1, data);
      return;
    }
  if (figures->up->value[index] == 0)
    return;
  amount = price_whole (figures->up->value[index], figures->up->decimals);
  g_ptr_array_add (data->text, amount);
  part.name = g_strdup (line->label);
  g_ptr_array_add (data->text, (char *) part.name);
  part.text = amount;
  g_array_append_val (data->part, part);
}

void
price_stack_update (GtkWidget *widget, const PriceFigures *figures)
{
  Data *data = g_new0 (Data, 1);
  g_autofree char *title = g_strdup_printf (_ ("Where the price goes, %s"), figures->currency), *table = NULL;
  ChartStack stack;

  data->text = g_ptr_array_new_with_free_func (g_free);
  data->part = g_array_new (FALSE, TRUE, sizeof (ChartPart));
  if (figures->price >= 0)
    add_parts (figures, figures->price, 0, data);
  gtk_widget_set_visible (widget, data->part->len > 0);
  stack = stack_of (data);
  table = chart_stack_table (&stack);
  tally_chart_area_set_title (TALLY_CHART_AREA (widget), title);
  tally_chart_area_set (TALLY_CHART_AREA (widget), height, draw, data, data_free, table);
  tally_chart_area_set_spots (TALLY_CHART_AREA (widget), spots);
}
