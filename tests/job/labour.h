/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The demo job (invented demo), its totals, and edits of fields and settings; for the tests of the labour model. */
#include "fixture.h"

#include "exchange/runs-csv.h"
#include "job/labour-model.h"
#include "job/open-points.h"
#include "job/setting.h"
#include "job/what-if.h"

#include <string.h>

static inline TallyJob *
demo (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();

  return exchange_demo_job (catalogue);
}

static inline JobTotals
totals_of (TallyJob *job, int method)
{
  JobScope all = { 0, 0 };
  JobTotals t;

  job_totals (job, &all, method, &t);
  return t;
}

static inline gint64
area_id (TallyJob *job, const char *name)
{
  return job_names (job)->find (job_names (job)->data, JOB_AREA, name);
}

static inline gboolean
set_field (TallyJob *job, JobType type, gint64 id, const char *field, const char *text, GError **error)
{
  Fault *fault = NULL;
  gboolean done = job_edit_field (job, type, id, job_field_find (type, field), text, &fault, error);

  g_assert_null (fault);
  return done;
}

static inline gboolean
set_setting (TallyJob *job, const char *key, const char *value, GError **error)
{
  JobEdit *edit = job_edit_new (key);
  g_autofree char *read = job_setting_read (key, value, NULL);

  g_assert_nonnull (read);
  job_edit_setting (job, edit, key, read);
  return job_apply (job, edit, error);
}

static inline gint64
quantity (TallyJob *job, const JobTotals *t, const char *item)
{
  return t->vector[catalogue_find_item (job_basis (job)->catalogue, item)];
}

/* Worker time of all slots at a place, ms x ppm. */
static inline NumWide
time_at (TallyJob *job, const JobTotals *t, LabourPlace place)
{
  const CostBasis *basis = job_basis (job);
  NumWide sum = 0;

  for (int i = 0; i < basis->n_slots; i++)
    if (basis->slots[i].place == place)
      sum += t->slot_time[i];
  return sum;
}
