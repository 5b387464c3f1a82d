/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/heat.h"

#include "cost/sensitivity.h"
#include "job/job-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* Sizes and classes of the table, inches and thousandths of an inch w.g. */
static const int sizes[] = { 8, 12, 18, 24, 30, 36, 42, 48, 60, 72, 84, 96 };
static const gint64 classes[] = { 500, 1000, 2000, 3000, 4000, 6000 };

/* Long enough to hold whole pieces of any laid length. */
#define RUN_OF (LENGTH_NM_PER_FT * 40)
#define MOST_ASPECT 8.0

/* Longer over shorter side of all straight rectangular runs together, weighed by length. */
static double
typical_aspect (TallyJob *job)
{
  double longer = 0, shorter = 0;

  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *r = job_at (job, JOB_RUN, i);
      gint64 w = r->num[RUN_W], h = r->num[RUN_H];
      double weight = r->num[RUN_LENGTH] == JOB_UNSET ? 0 : (double) r->num[RUN_LENGTH] / 1e9;
      if (r->num[RUN_KIND] != DUCT_STRAIGHT || w == JOB_UNSET || h == JOB_UNSET || w <= 0 || h <= 0)
        continue;
      longer += (double) MAX (w, h) / 1e6 * weight;
      shorter += (double) MIN (w, h) / 1e6 * weight;
    }
  return shorter > 0 ? CLAMP (longer / shorter, 1, MOST_ASPECT) : 1;
}

/* The cell of the job with the most joints: its conditions, metal, exposure and coil are taken. */
static void
find_part (TallyJob *job, JobHeat *heat)
{
  int joints = cost_measure_slot (job->basis, COST_JOINTS), own = job->basis->n_methods;
  const JobNames *names = job_names (job);
  gint64 most = 0;
  GHashTableIter iter;
  JobBucket *b;

  g_hash_table_iter_init (&iter, job->buckets);
  while (g_hash_table_iter_next (&iter, (gpointer *) &b, NULL))
    {
      gint64 n = b->vector[own * job->basis->n_vector + joints];
      gboolean first = n == most && n > 0 && (b->system < heat->system || (b->system == heat->system && b->area < heat->area));
      if (n <= most && !first)
        continue;
      most = n;
      heat->system = b->system;
      heat->area = b->area;
    }
  const char *system = heat->system > 0 ? names->name (names->data, JOB_SYSTEM, heat->system) : NULL;
  const char *area = heat->area > 0 ? names->name (names->data, JOB_AREA, heat->area) : NULL;
  heat->where = system && area ? g_strdup_printf ("%s, %s", system, area)
                               : g_strdup (system ? system : area ? area : _ ("the job"));
}

/* The whole pieces of a measured run: the lot with the most of them, as one piece. */
static gboolean
one_piece (const DuctMeasure *run, DuctMeasure *one)
{
  int best = -1;

  for (int i = 0; i < run->n_lots; i++)
    if (best < 0 || run->lot[i].n > run->lot[best].n)
      best = i;
  if (best < 0 || run->lot[best].length <= 0)
    return FALSE;
  memset (one, 0, sizeof *one);
  one->n_lots = 1;
  one->lot[0] = run->lot[best];
  one->lot[0].n = 1;
  return TRUE;
}

static double
cost_of (TallyJob *job, const JobBucket *b, const DuctShape *shape, int method, gint64 *vector)
{
  const CostBasis *basis = job->basis;
  const DuctRules *rules = job->catalogue->rules;
  DuctMeasure run, one;
  DuctBuild build;
  LabourFactors factors = b->factors;
  CostSums sums = { 0 };

  factors.learned = job_learned (job, method);
  /* Only where the method itself may be used: what it falls back to is another one's field. */
  if (b->rule_set < 0 || cost_effective_method (basis, method, shape, NULL) != method
      || !duct_choose_build (rules, b->rule_set, catalogue_method (basis->catalogue, method)->connection, shape, &build, NULL)
      || !duct_measure (rules, shape, &build, &run, NULL) || !one_piece (&run, &one))
    return NAN;
  cost_price_measure (basis, method, (DuctKind) shape->kind, &one, job->point, vector);
  cost_sums_add (&sums, basis, vector, &factors, b->floor_ppm, 1);
  return cost_part_of_sums (basis, &sums) / ((double) one.lot[0].length / LENGTH_NM_PER_FT);
}

void
job_heat_cost (TallyJob *job, const JobHeat *heat, gint64 w, gint64 h, gint64 pressure, double *cost)
{
  const JobBucket place = { .system = heat->system, .area = heat->area }, *b = job_bucket (job, &place);
  g_autofree gint64 *vector = g_new (gint64, (gsize) job->basis->n_vector);
  DuctShape shape;

  for (int m = 0; m < job->basis->n_methods; m++)
    cost[m] = NAN;
  duct_shape_init (&shape, DUCT_STRAIGHT);
  shape.w = w;
  shape.h = h;
  shape.dim[DUCT_DIM_LENGTH] = RUN_OF;
  shape.pressure = pressure;
  shape.metal = (guint8) b->metal;
  shape.exposure = (guint8) b->exposure;
  shape.coil = b->coil;
  shape.first_end = shape.last_end = DUCT_END_JOINT;
  if (!duct_shape_resolve (job->catalogue->rules, &shape, NULL))
    return;
  for (guint i = 0; i < heat->methods->len; i++)
    {
      int m = g_array_index (heat->methods, int, i);
      cost[m] = cost_of (job, b, &shape, m, vector);
    }
}

static void
fill_cell (const JobHeat *heat, const double *cost, JobHeatCell *cell)
{
  *cell = (JobHeatCell) { .winner = -1, .second = -1, .cost = NAN, .margin = NAN };
  for (guint i = 0; i < heat->methods->len; i++)
    {
      int m = g_array_index (heat->methods, int, i);
      if (isnan (cost[m]))
        continue;
      cell->allowed++;
      if (cell->winner < 0 || cost[m] < cost[cell->winner])
        {
          cell->second = cell->winner;
          cell->winner = m;
        }
      else if (cell->second < 0 || cost[m] < cost[cell->second])
        cell->second = m;
    }
  if (cell->winner < 0)
    return;
  cell->cost = cost[cell->winner];
  if (cell->second >= 0)
    cell->margin = cost[cell->second] - cell->cost;
}

/* Methods for round duct have no field in a table of rectangles. */
static GArray *
rectangular (TallyJob *job, const GArray *methods)
{
  GArray *out = g_array_new (FALSE, FALSE, sizeof (int));

  for (guint i = 0; i < methods->len; i++)
    {
      int m = g_array_index (methods, int, i);
      int connection = catalogue_method (job->catalogue, m)->connection;
      if (duct_rules_connection (job->catalogue->rules, connection)->section != DUCT_ROUND)
        g_array_append_val (out, m);
    }
  return out;
}

JobHeat *
job_heat (TallyJob *job, gboolean square, const GArray *methods)
{
  JobHeat *heat = g_new0 (JobHeat, 1);
  g_autoptr (GArray) listed = methods ? NULL : job_methods_listed (job, -1);
  g_autofree double *cost = g_new0 (double, (gsize) MAX (job->basis->n_methods, 1));

  heat->methods = rectangular (job, methods ? methods : listed);
  heat->aspect = square ? 1 : typical_aspect (job);
  heat->n_sizes = G_N_ELEMENTS (sizes);
  heat->n_classes = G_N_ELEMENTS (classes);
  heat->longer = g_new0 (gint64, heat->n_sizes);
  heat->shorter = g_new0 (gint64, heat->n_sizes);
  heat->pressure = g_memdup2 (classes, sizeof classes);
  heat->cell = g_new0 (JobHeatCell, heat->n_sizes * heat->n_classes);
  find_part (job, heat);
  for (guint s = 0; s < heat->n_sizes; s++)
    {
      heat->longer[s] = sizes[s] * LENGTH_NM_PER_IN;
      /* Whole inches, as duct is drawn. */
      heat->shorter[s] = MAX ((gint64) round (sizes[s] / heat->aspect), 4) * LENGTH_NM_PER_IN;
    }
  for (guint c = 0; c < heat->n_classes; c++)
    for (guint s = 0; s < heat->n_sizes; s++)
      {
        job_heat_cost (job, heat, heat->longer[s], heat->shorter[s], heat->pressure[c], cost);
        fill_cell (heat, cost, &heat->cell[c * heat->n_sizes + s]);
      }
  return heat;
}

void
job_heat_free (JobHeat *heat)
{
  g_free (heat->where);
  g_free (heat->longer);
  g_free (heat->shorter);
  g_free (heat->pressure);
  g_free (heat->cell);
  g_array_unref (heat->methods);
  g_free (heat);
}

char *
job_heat_mark (const JobHeat *heat, int method)
{
  for (guint i = 0; i < heat->methods->len; i++)
    if (g_array_index (heat->methods, int, i) == method)
      return method < 26 ? g_strdup_printf ("%c", 'A' + (char) method) : g_strdup_printf ("%d", method + 1);
  return g_strdup ("");
}

char *
job_heat_words (TallyJob *job, const JobHeat *heat)
{
  g_autofree guint *wins = g_new0 (guint, (gsize) MAX (job->basis->n_methods, 1));
  guint n = heat->n_sizes * heat->n_classes, none = 0;
  int best = -1;

  for (guint i = 0; i < n; i++)
    {
      int w = heat->cell[i].winner;
      if (w < 0)
        none++;
      else if (++wins[w] > (best >= 0 ? wins[best] : 0))
        best = w;
    }
  if (heat->methods->len == 0)
    return g_strdup (_ ("No method for rectangular duct is compared on this job."));
  if (best < 0)
    return g_strdup (_ ("No method can be priced on any of these sizes: check the rule set of the job."));
  const CostMethod *m = catalogue_method (job->catalogue, best);
  g_autofree char *first = g_strdup_printf (
    _ ("%s is cheapest on %u of %u fields. Cost a foot of one whole piece of straight duct with its joint, longer side to shorter "
       "%.2g to 1, under the conditions of %s; tooling, bought once, is left out."),
    *m->name ? m->name : m->key, wins[best], n, heat->aspect, heat->where);
  g_autofree char *rest
    = none > 0 ? g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, " %u field is not priced: no rule answers it.",
                                               " %u fields are not priced: no rule answers them.", none),
                                  none)
               : g_strdup ("");
  return g_strconcat (first, rest, NULL);
}
