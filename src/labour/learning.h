/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Learning curves. A slope of 0.8 says that each doubling of the units leaves 80 %; exponent b = log2 (slope). The two models are
 * never mixed: the same crew has another slope in each. */
typedef enum
{
  LABOUR_LEARNING_NONE,
  LABOUR_LEARNING_UNIT,               /* Crawford: the n-th unit takes T1 n^b */
  LABOUR_LEARNING_CUMULATIVE_AVERAGE, /* Wright: the mean of the first n units is T1 n^b */
  LABOUR_N_LEARNINGS,
} LabourLearning;

extern const char *const labour_learning_keys[LABOUR_N_LEARNINGS]; /* as kept: none, unit, cumulative-average */
/* Words for a screen, translated: "unit curve (Crawford)". */
const char *labour_learning_say (LabourLearning model);
/* Reads a key in any case; FALSE for another word. */
gboolean labour_learning_parse (const char *text, LabourLearning *model);

/* Time of unit @n (from 1), in the unit of @first, the time of the first. @slope over 0 and up to 1.
 * Source: Wright 1936 and Crawford as given in Groover 2007, ch. 19. */
double labour_learning_unit (LabourLearning model, double first, double slope, gint64 n);
/* Time of the first @n units; 0 for none. Unit curve: summed term by term; from 10 000 units on the rest by Euler and Maclaurin's
 * formula, which is exact to the last digits of a double there (the plain integral is not: 0.26 % high at 20 units). */
double labour_learning_total (LabourLearning model, double first, double slope, gint64 n);
/* Time of the units @from to @to, both included. */
double labour_learning_between (LabourLearning model, double first, double slope, gint64 from, gint64 to);

/* What the minutes of a catalogue are multiplied by for the first @units of a job, ppm, never below 1 000 000: the entered minutes are
 * those of a crew that knows the work, so learning only says what the first units take on top, and a plateau follows @known units.
 * Unit curve: the minutes are those of unit number @known and hold from there on, so the factor is the mean over the units of
 * (n / known)^b up to @known and of 1 behind it. Cumulative average: the minutes are the mean of the first @known units and hold from
 * there on, so the factor is (units / known)^b below @known units and 1 from there. 1 000 000 for a slope of 1, for no model and for no
 * unit. The plateau is this program's choice: the curves of the sources have none. */
gint64 labour_learning_factor (LabourLearning model, double slope, gint64 units, double known);

G_END_DECLS
