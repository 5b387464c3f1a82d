/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chart/chart.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A picture with its title, drawn by chart/ in the colours of the theme, and the same data as a table of text: behind a button for
 * eyes, as the accessible description for ears. */
#define TALLY_TYPE_CHART_AREA (tally_chart_area_get_type ())
G_DECLARE_FINAL_TYPE (TallyChartArea, tally_chart_area, TALLY, CHART_AREA, GtkWidget)

/* Height at a width (the paper has no cr), and drawing at 0, 0. */
typedef double (*TallyChartHeight) (const ChartPaper *paper, double width, gpointer data);
typedef void (*TallyChartDraw) (const ChartPaper *paper, double width, gpointer data);

/* @title: (nullable). (transfer floating) */
GtkWidget *tally_chart_area_new (const char *title);
void tally_chart_area_set_title (TallyChartArea *area, const char *title);
/* What is drawn from now on. @data must live until the next call or the end of the widget, when @free is called on it. @table: the
 * same data as text. Call it again whenever the data changed. */
void tally_chart_area_set (TallyChartArea *area, TallyChartHeight height, TallyChartDraw draw, gpointer data, GDestroyNotify free,
                           const char *table);

/* Places in the picture, in reading order, as chart_..._spots() gives them: the pointer and the arrow keys walk over them and each
 * says its words. After tally_chart_area_set(), which forgets the ones before; same @data. */
typedef GPtrArray *(*TallyChartSpots) (const ChartPaper *paper, double width, gpointer data);
void tally_chart_area_set_spots (TallyChartArea *area, TallyChartSpots spots);

/* Which figure each spot shows, in the same order (tally_walk_line(), NULL none): F4 walks down from it. Takes @lines (char *, freed with
 * it). After tally_chart_area_set_spots(). */
void tally_chart_area_set_walks (TallyChartArea *area, GPtrArray *lines);

/* What stands under the picture when it is copied or saved. NULL: the name of the window's job and what its figures rest on. */
void tally_chart_area_set_note (TallyChartArea *area, const char *note);

/* The palette of a widget's theme. */
void tally_chart_palette (GtkWidget *widget, ChartPalette *palette);

G_END_DECLS
