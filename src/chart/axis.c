/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/axis.h"

#define TICK 4.0
#define APART 8.0 /* between the words of two ticks */

static gboolean
fits (const ChartBox *tick, int n, int every)
{
  double end = -APART;

  for (int i = 0; i < n; i += every)
    {
      if (tick[i].x < end + APART)
        return FALSE;
      end = chart_box_end (&tick[i]);
    }
  return TRUE;
}

ChartBox *
chart_axis_plan (const ChartPaper *paper, const ChartScale *scale, double y, double width)
{
  int n = chart_scale_n_ticks (scale), every = 1;
  ChartBox *tick = g_new0 (ChartBox, (gsize) MAX (n, 1));

  for (int i = 0; i < n; i++)
    {
      g_autofree char *words = chart_scale_print (scale, chart_scale_tick (scale, i));
      chart_text_size (paper, words, CHART_SMALL, &tick[i].w, &tick[i].h);
      tick[i].x = chart_scale_at (scale, chart_scale_tick (scale, i)) - tick[i].w / 2;
      tick[i].x = CLAMP (tick[i].x, 0, MAX (width - tick[i].w, 0));
      tick[i].y = y + TICK + 2;
    }
  while (every < n && !fits (tick, n, every))
    every++;
  for (int i = 0; i < n; i++)
    if (i % every != 0)
      tick[i].w = 0;
  return tick;
}

double
chart_axis_height (const ChartPaper *paper, const char *words)
{
  double line;

  chart_text_size (paper, "0", CHART_SMALL, NULL, &line);
  return TICK + 2 + line + (words && *words ? 4 + line : 0) + 2;
}

void
chart_axis_draw (const ChartPaper *paper, const ChartScale *scale, const ChartBox *tick, double y, const char *words, double width)
{
  double w, line;

  chart_stroke (paper, &paper->palette->line, scale->from, y, scale->to, y, 1);
  for (int i = 0; i < chart_scale_n_ticks (scale); i++)
    {
      double x = chart_scale_at (scale, chart_scale_tick (scale, i));
      chart_stroke (paper, &paper->palette->line, x, y, x, y + (tick[i].w > 0 ? TICK : TICK / 2), 1);
      if (tick[i].w > 0)
        {
          g_autofree char *text = chart_scale_print (scale, chart_scale_tick (scale, i));
          chart_text (paper, text, CHART_SMALL, &paper->palette->dim, tick[i].x, tick[i].y, 0);
        }
    }
  if (!words || !*words)
    return;
  chart_text_size (paper, words, CHART_SMALL, &w, &line);
  w = MIN (w, width);
  chart_text (paper, words, CHART_SMALL, &paper->palette->dim,
              CLAMP ((scale->from + scale->to - w) / 2, 0, MAX (width - w, 0)), y + TICK + 2 + line + 4, width);
}
