/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "track/hours.h"

G_BEGIN_DECLS

/* What is to stand in one cell of the weekly sheet: all hours of a code on a day. */
typedef struct
{
  gint64 area;
  LabourGroup group;
  gint64 day;
  gint64 worker_mh;
} WeekCell;

/* The edit that makes the sums of @cells what they say; a cell is named once. Where a day has several entries of a code (some
 * typed, some read from a file) the first stays, with all their notes, and takes the sum; a sum that is right already is left as
 * it is. An edit without deltas: nothing to do. (transfer full) */
HoursEdit *week_set (const GPtrArray *entries, const WeekCell *cells, gsize n, const char *label);
/* Books the hours that @from has in the week of @monday on @to instead. (transfer full) */
HoursEdit *week_move (const GPtrArray *entries, const HoursCode *from, const HoursCode *to, gint64 monday, const char *label);
/* FALSE with a fault when the edit would leave more codes than HOURS_MOST_CODES, and more than there are now. */
gboolean week_check (const HoursEdit *edit, const GPtrArray *entries, Fault **fault);

G_END_DECLS
