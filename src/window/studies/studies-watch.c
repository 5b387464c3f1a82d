/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/studies/studies-watch.h"

static gint64
gone (const StudiesWatch *watch, gint64 now)
{
  return watch->running ? MAX (now - watch->since, 0) : 0;
}

/* Brings what is gone by into the sums. */
static void
settle (StudiesWatch *watch, gint64 now)
{
  gint64 by = gone (watch, now);

  watch->lap += by;
  watch->sum += by;
  watch->since = now;
}

void
watch_start (StudiesWatch *watch, gint64 now)
{
  settle (watch, now);
  watch->since = now;
  watch->running = TRUE;
}

void
watch_pause (StudiesWatch *watch, gint64 now)
{
  settle (watch, now);
  watch->running = FALSE;
}

gint64
watch_lap_time (const StudiesWatch *watch, gint64 now)
{
  return watch->lap + gone (watch, now);
}

gint64
watch_sum (const StudiesWatch *watch, gint64 now)
{
  return watch->sum + gone (watch, now);
}

gint64
watch_lap (StudiesWatch *watch, gint64 now)
{
  gint64 time;

  settle (watch, now);
  time = watch->lap;
  watch->lap = 0;
  return time;
}

void
watch_undo_lap (StudiesWatch *watch, gint64 time)
{
  watch->lap += time;
}

char *
watch_minutes (gint64 time)
{
  gint64 thousandths = (time + 30000) / 60000;

  return g_strdup_printf ("%" G_GINT64_FORMAT ".%03d", thousandths / 1000, (int) (thousandths % 1000));
}

char *
watch_face (gint64 time)
{
  gint64 tenths = time / 100000;

  return g_strdup_printf ("%02" G_GINT64_FORMAT ":%02d.%d", tenths / 600, (int) (tenths / 10 % 60), (int) (tenths % 10));
}
