/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A stop-watch with laps. Times are microseconds of a clock that never goes back, given by the caller; no widgets. */
typedef struct
{
  gboolean running;
  gint64 since;    /* when it was set going last */
  gint64 lap, sum; /* gone by before that: in this lap, in all */
} StudiesWatch;

void watch_start (StudiesWatch *watch, gint64 now); /* goes on after a pause */
void watch_pause (StudiesWatch *watch, gint64 now);
gint64 watch_lap_time (const StudiesWatch *watch, gint64 now);
gint64 watch_sum (const StudiesWatch *watch, gint64 now);
/* Ends the lap and begins the next at once, whether running or paused; gives its time. */
gint64 watch_lap (StudiesWatch *watch, gint64 now);
/* As if the last lap, of @time, had not been ended: its time is part of this one again. */
void watch_undo_lap (StudiesWatch *watch, gint64 time);
/* Minutes as a reading holds them: "2.533", thousandths. (transfer full) */
char *watch_minutes (gint64 time);
/* "12:04.3" for a face. (transfer full) */
char *watch_face (gint64 time);

G_END_DECLS
