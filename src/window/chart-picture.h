/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/chart-area.h"

G_BEGIN_DECLS

/* The picture of a chart area without its title: draws, and walks over its spots by pointer and keys. Used by chart-area.c alone. */
#define TALLY_TYPE_PICTURE (tally_picture_get_type ())
G_DECLARE_FINAL_TYPE (TallyPicture, tally_picture, TALLY, PICTURE, GtkWidget)
/* Signal "spot" (const char *): the words of the spot that is pointed at now, NULL: none. */

GtkWidget *tally_picture_new (void);
void tally_picture_set (TallyPicture *picture, TallyChartHeight height, TallyChartDraw draw, gpointer data, GDestroyNotify free);
/* After tally_picture_set(), which forgets the ones before; the place that is pointed at stays. */
void tally_picture_set_spots (TallyPicture *picture, TallyChartSpots spots);
/* Takes @lines. */
void tally_picture_set_walks (TallyPicture *picture, GPtrArray *lines);
gboolean tally_picture_has_spots (TallyPicture *picture);
/* What is drawn: FALSE when there is nothing. @data is borrowed. */
gboolean tally_picture_get (TallyPicture *picture, TallyChartHeight *height, TallyChartDraw *draw, gpointer *data);

/* chart-save.c: asks for a file and writes the picture there; @told is given the outcome in words while the area lives. */
typedef void (*TallyChartTold) (TallyChartArea *area, const char *words);
void tally_chart_save (TallyChartArea *area, TallyPicture *picture, const char *title, const char *note, gboolean pdf,
                       TallyChartTold told);

G_END_DECLS
