/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"
#include "track/accuracy.h"
#include "track/done.h"
#include "track/earned.h"
#include "track/hours.h"

G_BEGIN_DECLS

/* Where a job stands: worker-hours estimated, earned and spent, by area and step group.
 *
 * What a ticked stage of a run earns of that run's estimate, in proportion to the share done:
 *   fabricated   its steps of the group fabricate
 *   hung         its steps of deliver, and those of hang and join that are not done at the joint
 *   joined       its steps of hang and join that are done at the joint
 *   tested       its steps of seal and test
 * Hours of the group general (minutes entered on counted lines among them) belong to no stage: each of the four stages earns a
 * quarter. A stage is done at least as far as every later one (done_effective()). So a run that is tested has earned its whole
 * estimate, and a job whose runs are all tested has earned what was estimated, to the last digit. */
typedef struct _Standing Standing;

Standing *standing_new (void);
void standing_free (Standing *standing);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Standing, standing_free)
/* The job changed, or is another: the hours kept of single runs are dropped. */
void standing_forget (Standing *standing);
/* @hours: GPtrArray of HoursEntry *, @ticks: GArray of DoneTick. */
void standing_update (Standing *standing, TallyJob *job, const GPtrArray *hours, const GArray *ticks);

/* Worker-hours of an area and a group. @area: an id, 0: runs and hours without an area, -1: all. @group: -1: all. pv is NAN. */
void standing_get (const Standing *standing, gint64 area, int group, Earned *out);
/* Ids of areas that have any figure, in the job's order; 0 first when there is anything without an area, ids of areas that the job
 * no longer has last. (transfer none): GArray of gint64. */
const GArray *standing_areas (const Standing *standing);
/* Runs that are not priced: their work is in no estimate. */
gint64 standing_not_priced (const Standing *standing);

/* Figures by the codes that hours are booked on. An area stands alone in a group where it has hours of its own; hours booked on the
 * whole job (area 0) stand against all other areas of that group together. So nothing is left out or taken twice. */
typedef struct
{
  gint64 area;
  LabourGroup group;
  Earned figures;
} StandingCode;

/* By group, the whole job last within each; codes without any figure are left out. (transfer full): GArray of StandingCode. */
GArray *standing_codes (const Standing *standing);
/* Whether what an area earned may be held against what was spent on it: FALSE when work of it was booked on the whole job instead
 * (for area 0: when any other area is such), so that neither stands alone. */
gboolean standing_comparable (const Standing *standing, gint64 area);
/* Spent against earned, a pair a code. */
void standing_accuracy (const Standing *standing, Accuracy *out);

/* Estimated worker-hours of one run by the stage that earns them. FALSE when it is not priced. */
gboolean standing_run (Standing *standing, TallyJob *job, const JobRecord *run, double hours[DONE_N_STAGES]);

G_END_DECLS
