/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "track/earned.h"

#include <glib.h>

G_BEGIN_DECLS

/* Earned per spent below and above which hours are said to run over or ahead; and the share of the estimate that must be spent
 * before a ratio is read at all. Conventions of this program. */
#define HOURS_OVER 0.95
#define HOURS_AHEAD 1.05
#define HOURS_FEW 0.10

/* "1,245", "7.5" under ten; a dash for what does not exist. (transfer full) */
char *hours_words_figure (double worker_h);
char *hours_words_ratio (double ratio);   /* "1.04" */
char *hours_words_percent (double share); /* "62 %" */
/* Where a job stands, in one sentence. */
char *hours_words_conclusion (const Earned *e);
/* One or two words on a line of the table; *attention: it should be looked at. */
const char *hours_words_reading (const Earned *e, gboolean *attention);

G_END_DECLS
