/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the parts of the Price view share. */

#include "window/session.h"

#include "cost/solve.h"

#include <adwaita.h>

G_BEGIN_DECLS

/* The whole job's figures as every part of the view shows them, read once for an update. */
typedef struct
{
  TallyJob *job;       /* borrowed */
  const CostBasis *basis;
  JobTotals totals;
  BuildUp *up;
  CostProfit profit;
  int price, cost;     /* build-up lines */
  const char *currency;
} PriceFigures;

/* FALSE when no job is open: nothing to clear then. */
gboolean price_figures_read (TallySession *session, PriceFigures *figures);
void price_figures_clear (PriceFigures *figures);

/* "5.66 %": a share in parts per million with two decimals at most. (transfer full) */
char *price_percent (gint64 ppm);
/* "+1,234.50", "0.00", "−12.00". (transfer full) */
char *price_difference (TallySession *session, gint64 minor);
/* Minor units without decimals, "207,590". (transfer full) */
char *price_whole (gint64 minor, int decimals);
/* "1,234.5"; with @sign "+12.7", and never "-0.0". (transfer full) */
char *price_number (double value, int decimals, gboolean sign);
GtkWidget *price_label (const char *text, const char *css_class, float xalign);

/* ---- a figure typed in place ---- */

#define TALLY_TYPE_FIGURE (tally_figure_get_type ())
G_DECLARE_FINAL_TYPE (TallyFigure, tally_figure, TALLY, FIGURE, GtkBox)

/* @object, @key, @field: as session_set_figure(). @name: what assistive technology and the undo list call it. */
TallyFigure *tally_figure_new (TallySession *session, const char *object, const char *key, const char *field, gboolean percent,
                               const char *name);
/* @value, @was: 1/10 000 (of a percent, of the currency): as it is and as the catalogue has it. @before, @after: (nullable): words
 * around the figure. A text that could not be read stays. */
void tally_figure_set (TallyFigure *figure, gint64 value, gint64 was, const char *before, const char *after);
/* Another field of the same line that says how the figure is meant ("op"): a reset takes back both. */
void tally_figure_set_companion (TallyFigure *figure, const char *field);
/* Puts a widget behind the figure. */
void tally_figure_add (TallyFigure *figure, GtkWidget *widget);
/* A line under the figure; NULL none. */
void tally_figure_set_note (TallyFigure *figure, const char *note);

/* ---- the parts; each has a constructor (transfer floating) and an update with the same figures ---- */

GtkWidget *price_buildup_new (TallySession *session);
void price_buildup_update (GtkWidget *buildup, const PriceFigures *figures);

GtkWidget *price_solve_new (TallySession *session);
void price_solve_update (GtkWidget *solve, const PriceFigures *figures);

GtkWidget *price_marks_new (TallySession *session);
void price_marks_update (GtkWidget *marks, const PriceFigures *figures);

GtkWidget *price_points_new (TallySession *session);
/* How many points must be settled. */
guint price_points_update (GtkWidget *points, const PriceFigures *figures);

GtkWidget *price_stack_new (TallySession *session);
void price_stack_update (GtkWidget *stack, const PriceFigures *figures);

/* A window with nothing but what is read out by phone. */
void price_read_out_present (TallySession *session, GtkWindow *parent);

/* Asks for a file and writes the bid there, with progress and a toast on the overlay of @view. */
void price_workbook_write (TallySession *session, GtkWidget *view, AdwToastOverlay *toasts);

/* Two children beside each other where there is room for both, else below each other. */
#define TALLY_TYPE_PAIR_LAYOUT (tally_pair_layout_get_type ())
G_DECLARE_FINAL_TYPE (TallyPairLayout, tally_pair_layout, TALLY, PAIR_LAYOUT, GtkLayoutManager)

G_END_DECLS
