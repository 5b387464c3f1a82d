/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/mix.h"

G_BEGIN_DECLS

/* "up to 18 in", "over 18 to 54 in": bands @from to @to. (transfer full) */
char *job_mix_band_words (const GArray *bands, guint from, guint to);
/* Says which parts of the setting mix.not name no group or method. */
void job_mix_say_unknown (TallyJob *job, JobMix *mix);

G_END_DECLS
