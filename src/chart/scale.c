/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/scale.h"

#include <math.h>

double
chart_nice_step (double low, double high, int most)
{
  static const double nice[] = { 1, 2, 5, 10 };
  double range = fabs (high - low), power;

  if (!(range > 0) || !isfinite (range) || most < 1)
    return 1;
  power = pow (10, floor (log10 (range / most)));
  for (gsize i = 0; i < G_N_ELEMENTS (nice); i++)
    if (range <= nice[i] * power * most * (1 + 1e-12))
      return nice[i] * power;
  return 10 * power;
}

static double
tame (double x)
{
  return isnan (x) ? 0 : CLAMP (x, -CHART_MOST, CHART_MOST);
}

void
chart_scale_init (ChartScale *scale, double low, double high, double from, double to, int most)
{
  double a = tame (MIN (low, high)), b = tame (MAX (low, high));

  if (isnan (low) || isnan (high))
    {
      a = MIN (tame (low), tame (high));
      b = MAX (tame (low), tame (high));
    }
  /* Figures that differ by less than a double can show are one figure. */
  if (b - a <= fabs (b) * 1e-12)
    {
      double room = MAX (fabs (b) / 10, 0.5);
      a -= room;
      b += room;
    }
  scale->step = chart_nice_step (a, b, MAX (most, 1));
  scale->low = floor (a / scale->step + 1e-9) * scale->step;
  scale->high = ceil (b / scale->step - 1e-9) * scale->step;
  scale->from = from;
  scale->to = to;
}

double
chart_scale_at (const ChartScale *scale, double value)
{
  double v = CLAMP (tame (value), scale->low, scale->high);

  return scale->from + (scale->to - scale->from) * (v - scale->low) / (scale->high - scale->low);
}

static char *
grouped (double value, int decimals, gboolean below)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE + 32], format[8];
  GString *s = g_string_new (below ? "-" : "");
  gsize whole = 0;

  g_snprintf (format, sizeof format, "%%.%df", decimals);
  g_ascii_formatd (buffer, sizeof buffer, format, value);
  while (g_ascii_isdigit (buffer[whole]))
    whole++;
  for (gsize i = 0; buffer[i]; i++)
    {
      if (i > 0 && i < whole && (whole - i) % 3 == 0)
        g_string_append_c (s, ',');
      g_string_append_c (s, buffer[i]);
    }
  return g_string_free (s, FALSE);
}

char *
chart_figure (double value, int decimals)
{
  return isnan (value) ? g_strdup ("") : grouped (fabs (tame (value)), decimals, tame (value) <= -pow (10, -decimals) / 2);
}

char *
chart_scale_figure (const ChartScale *scale, double value)
{
  int decimals = CLAMP ((int) ceil (-log10 (scale->step / 100) - 1e-9), 2, 6);
  double unit = pow (10, -decimals);

  return grouped (fabs (tame (value)), decimals, tame (value) <= -unit / 2);
}

int
chart_scale_n_ticks (const ChartScale *scale)
{
  return (int) lround ((scale->high - scale->low) / scale->step) + 1;
}

double
chart_scale_tick (const ChartScale *scale, int i)
{
  return (round (scale->low / scale->step) + i) * scale->step;
}

char *
chart_scale_print (const ChartScale *scale, double tick)
{
  int decimals = CLAMP ((int) ceil (-log10 (scale->step) - 1e-9), 0, 9);

  return grouped (fabs (tick) < scale->step / 2 ? 0 : fabs (tame (tick)), decimals, tick <= -scale->step / 2);
}
