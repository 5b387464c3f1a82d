/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cli/cli.h"

G_BEGIN_DECLS

/* explain --figure: prints the answer for a method (NULL: every run by its own), against another one (NULL: none), both under a what-if of
 * the job (NULL: as it stands); a what-if alone is held against the job as it stands. Gives the exit status. */
int cli_explain_answer (TallyJob *job, const char *figure, const char *method, const char *against, const char *what_if, CliFormat format);

/* Rows for explain RUN: what stands between the minutes of the catalogue and those of the run, a row each with its source and status:
 * conditions where they were named, the share of joints made on the floor, overtime, learning, joints made once more. */
void cli_explain_labour (CliTable *table, TallyJob *job, const JobRecord *run);

G_END_DECLS
