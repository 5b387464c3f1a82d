/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "duct/rules.h"
#include "job/record.h"

G_BEGIN_DECLS

/* Whether a run is whole by itself, whatever it inherits: a kind, the sizes and lengths its kind needs, within the
 * bounds of duct_shape_resolve(), a whole count; of a counted line an item, a price or minutes, of a note nothing. Class, gauge, method
 * and item keys are not looked at. FALSE with the field of JOB_RUN that is meant. */
gboolean job_run_check (const DuctRules *rules, const JobRecord *run, int *field, Fault **fault);

G_END_DECLS
