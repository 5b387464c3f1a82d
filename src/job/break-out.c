/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/compare.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "job/job-private.h"
#include "job/note-line.h"
#include "job/setting.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

const char *const job_by_keys[JOB_N_BY] = { "system", "area", "band", "class" };

const char *
job_by_title (JobBy by)
{
  static const char *const titles[JOB_N_BY] = { N_ ("System"), N_ ("Area"), N_ ("Longest side"), N_ ("Pressure class") };

  return _ (titles[by]);
}

GArray *
job_size_bands (TallyJob *job)
{
  GArray *bands = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_auto (GStrv) words = g_strsplit_set (job_setting (job, "mix.bands"), " ;", -1);

  for (char **w = words; *w; w++)
    {
      gint64 milli, nm;
      if (!**w || !decimal_parse (*w, 3, &milli, NULL) || milli <= 0 || milli > 1000000)
        continue;
      nm = milli * (LENGTH_NM_PER_IN / 1000);
      if (bands->len == 0 || nm > g_array_index (bands, gint64, bands->len - 1))
        g_array_append_val (bands, nm);
    }
  return bands;
}

/* One part: a scope, or runs by id. */
typedef struct
{
  gint64 key;
  char *name;
  GArray *ids; /* (nullable) */
  JobScope scope;
} Piece;

static void
piece_clear (gpointer data)
{
  Piece *p = data;

  g_free (p->name);
  g_clear_pointer (&p->ids, g_array_unref);
}

#define NO_SIZE G_MAXINT64

static gint64
longest_side (const JobRecord *run)
{
  static const int sides[] = { RUN_W, RUN_H, RUN_W2, RUN_H2 };
  gint64 most = JOB_UNSET;

  for (gsize i = 0; i < G_N_ELEMENTS (sides); i++)
    if (run->num[sides[i]] != JOB_UNSET)
      most = MAX (most, run->num[sides[i]]);
  return most;
}

static gint64
key_of (TallyJob *job, const JobRecord *run, JobBy by, const GArray *bands)
{
  gint64 v;

  switch (by)
    {
    case JOB_BY_SYSTEM:
      return run->num[RUN_SYSTEM] == JOB_UNSET ? -1 : run->num[RUN_SYSTEM];
    case JOB_BY_AREA:
      return run->num[RUN_AREA] == JOB_UNSET ? -1 : run->num[RUN_AREA];
    case JOB_BY_BAND:
      v = run->num[RUN_KIND] == DUCT_COUNTED ? JOB_UNSET : longest_side (run);
      if (v == JOB_UNSET)
        return NO_SIZE;
      for (guint i = 0; i < bands->len; i++)
        if (v <= g_array_index (bands, gint64, i))
          return i;
      return bands->len;
    case JOB_BY_CLASS:
    case JOB_N_BY:
    default:
      if (run->num[RUN_KIND] == DUCT_COUNTED)
        return NO_SIZE;
      v = run->num[RUN_CLASS] != JOB_UNSET ? run->num[RUN_CLASS] : job_bucket_of (job, run)->pressure;
      return ABS (v);
    }
}

static char *
band_name (const GArray *bands, gint64 key, gboolean metric)
{
  LengthStyle style = metric ? LENGTH_STYLE_MM : LENGTH_STYLE_IN;
  const char *unit = metric ? _ ("mm") : _ ("in");
  g_autofree char *low = key > 0 ? length_print (g_array_index (bands, gint64, key - 1), style) : NULL;
  g_autofree char *high = key < bands->len ? length_print (g_array_index (bands, gint64, key), style) : NULL;

  if (!low && !high)
    return g_strdup (_ ("every size"));
  if (!low)
    return g_strdup_printf (_ ("to %s %s"), high, unit);
  return high ? g_strdup_printf (_ ("over %s to %s %s"), low, high, unit) : g_strdup_printf (_ ("over %s %s"), low, unit);
}

static char *
name_of (TallyJob *job, JobBy by, gint64 key, const GArray *bands)
{
  const JobNames *names = job_names (job);
  const char *name;

  switch (by)
    {
    case JOB_BY_SYSTEM:
      name = key > 0 ? names->name (names->data, JOB_SYSTEM, key) : NULL;
      return g_strdup (name ? name : _ ("no system"));
    case JOB_BY_AREA:
      name = key > 0 ? names->name (names->data, JOB_AREA, key) : NULL;
      return g_strdup (name ? name : _ ("no area"));
    case JOB_BY_BAND:
      return key == NO_SIZE ? g_strdup (_ ("counted, or without size")) : band_name (bands, key, names->metric);
    case JOB_BY_CLASS:
    case JOB_N_BY:
    default:
      return key == NO_SIZE ? g_strdup (_ ("counted lines")) : key == 0 ? g_strdup (_ ("no class")) : pressure_print_both (key);
    }
}

static gboolean
in_part (const JobScope *scope, const JobRecord *run)
{
  gint64 system = run->num[RUN_SYSTEM] == JOB_UNSET ? -1 : run->num[RUN_SYSTEM];
  gint64 area = run->num[RUN_AREA] == JOB_UNSET ? -1 : run->num[RUN_AREA];

  return (scope->system == 0 || scope->system == system) && (scope->area == 0 || scope->area == area);
}

static int
by_key (gconstpointer a, gconstpointer b)
{
  const Piece *x = a, *y = b;

  return x->key < y->key ? -1 : x->key > y->key;
}

static void
add_id (GArray *pieces, GHashTable *places, gint64 key, gint64 id)
{
  gpointer place;

  if (!g_hash_table_lookup_extended (places, &key, NULL, &place))
    {
      Piece p = { .key = key, .ids = g_array_new (FALSE, FALSE, sizeof (gint64)) };
      place = GUINT_TO_POINTER (pieces->len);
      g_hash_table_insert (places, g_memdup2 (&key, sizeof key), place);
      g_array_append_val (pieces, p);
    }
  g_array_append_val (g_array_index (pieces, Piece, GPOINTER_TO_UINT (place)).ids, id);
}

/* Runs by what the job says today, so that parts are the same for every what-if. */
static GArray *
pieces_of_runs (const JobComparison *c, JobBy by, const GArray *bands)
{
  GArray *pieces = g_array_new (FALSE, TRUE, sizeof (Piece));
  g_autoptr (GHashTable) places = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  gsize n = c->part.ids ? c->part.n_ids : job_n (c->job, JOB_RUN);

  g_array_set_clear_func (pieces, piece_clear);
  for (gsize i = 0; i < n; i++)
    {
      const JobRecord *run
        = c->part.ids ? job_find (c->job, JOB_RUN, c->part.ids[i]) : job_at (c->job, JOB_RUN, (guint) i);
      if (run && !job_is_note_line (run) && (c->part.ids || in_part (&c->part.scope, run)))
        add_id (pieces, places, key_of (c->job, run, by, bands), run->id);
    }
  g_array_sort (pieces, by_key);
  return pieces;
}

/* Systems and areas are kept apart already: nothing is priced anew. */
static GArray *
pieces_of_scopes (const JobComparison *c, JobBy by)
{
  GArray *pieces = g_array_new (FALSE, TRUE, sizeof (Piece));
  JobType type = by == JOB_BY_SYSTEM ? JOB_SYSTEM : JOB_AREA;

  g_array_set_clear_func (pieces, piece_clear);
  for (guint i = 0; i <= job_n (c->job, type); i++)
    {
      Piece p = { .key = i < job_n (c->job, type) ? job_at (c->job, type, i)->id : -1, .scope = c->part.scope };
      gint64 *which = by == JOB_BY_SYSTEM ? &p.scope.system : &p.scope.area;
      JobTotals totals;
      if (*which != 0 && *which != p.key)
        continue;
      *which = p.key;
      job_totals (c->job, &p.scope, JOB_OWN_METHOD, &totals);
      if (totals.runs + totals.not_priced > 0)
        g_array_append_val (pieces, p);
      job_totals_clear (&totals);
    }
  return pieces;
}

static void
take_money (const JobWayFigures *f, const gint64 *split, gsize n, guint part, JobPartFigures *out)
{
  const BuildUp *up = f->option.buildup;

  for (guint i = 0; i < up->n; i++)
    {
      const CostBuildLine *line = g_ptr_array_index (up->basis->buildup, i);
      gint64 value = split[i * n + part];
      if (strcmp (line->key, "material") == 0)
        out->material = value;
      else if (strcmp (line->key, "cost") == 0)
        out->cost = value;
      else if (strcmp (line->key, "price") == 0)
        out->price = value;
      if (line->op == COST_OP_LABOUR)
        out->labour += value;
    }
}

/* Hundredths of an hour of the whole, split like the money. */
static void
take_hours (const JobWayFigures *f, const JobTotals *part, gsize n, gboolean shop, JobPartFigures *figure, guint stride)
{
  g_autofree NumWide *weight = g_new0 (NumWide, MAX (n, 1));
  g_autofree gint64 *hours = g_new0 (gint64, MAX (n, 1));
  gint64 whole = 0;

  num_narrow (num_wide_div (f->totals.sums.time[shop], (NumWide) 36000000000LL), &whole);
  for (gsize p = 0; p < n; p++)
    weight[p] = part[p].sums.time[shop];
  num_apportion (whole, weight, n, hours);
  for (gsize p = 0; p < n; p++)
    *(shop ? &figure[p * stride].shop : &figure[p * stride].field) = hours[p];
}

/* Tenths of a pound of the whole, split like the money. */
static void
take_pounds (const JobWayFigures *f, guint n, JobPartFigures *figure, guint stride)
{
  g_autofree NumWide *weight = g_new0 (NumWide, MAX (n, 1));
  g_autofree gint64 *tenths = g_new0 (gint64, MAX (n, 1));
  gint64 whole = 0;

  num_from_double (measure_lb (f->option.net_mg) * 10, &whole);
  for (guint p = 0; p < n; p++)
    weight[p] = figure[p * stride].net_mg;
  num_apportion (whole, weight, n, tenths);
  for (guint p = 0; p < n; p++)
    figure[p * stride].net_lb10 = tenths[p];
}

static void
fill_way (const JobWayFigures *f, const JobTotals *part, guint n, JobPartFigures *figure, guint stride)
{
  g_autofree CostSums *sums = g_new0 (CostSums, MAX (n, 1));
  g_autofree gint64 *split = NULL;
  const CostBasis *basis = f->option.buildup->basis;

  for (guint p = 0; p < n; p++)
    sums[p] = part[p].sums;
  split = buildup_break_out (f->option.buildup, sums, n);
  for (guint p = 0; p < n; p++)
    {
      JobPartFigures *out = &figure[p * stride];
      take_money (f, split, n, p, out);
      out->pieces = part[p].vector[cost_measure_slot (basis, COST_PIECES)];
      out->joints = part[p].vector[cost_measure_slot (basis, COST_JOINTS)];
      out->net_mg = part[p].vector[cost_measure_slot (basis, COST_NET_MG)];
    }
  take_hours (f, part, n, FALSE, figure, stride);
  take_hours (f, part, n, TRUE, figure, stride);
  take_pounds (f, n, figure, stride);
}

/* Totals of every piece of one job: of all its methods at once where runs are priced anew. */
static JobTotals *
totals_of_pieces (TallyJob *job, const GArray *pieces)
{
  gsize columns = (gsize) job_basis (job)->n_methods + 1;
  JobTotals *out = g_new0 (JobTotals, MAX (pieces->len, 1) * columns);

  for (guint p = 0; p < pieces->len; p++)
    {
      const Piece *piece = &g_array_index (pieces, Piece, p);
      if (piece->ids)
        job_totals_of_runs (job, (const gint64 *) (gpointer) piece->ids->data, piece->ids->len, &out[p * columns]);
      else
        for (gsize m = 0; m < columns; m++)
          job_totals (job, &piece->scope, m + 1 < columns ? (int) m : JOB_OWN_METHOD, &out[p * columns + m]);
    }
  return out;
}

/* The ways under one what-if, from way @first on. */
static void
fill_job (const JobComparison *c, const GArray *pieces, guint first, JobBreakout *b)
{
  TallyJob *job = job_comparison_way (c, first)->job;
  gsize columns = (gsize) job_basis (job)->n_methods + 1;
  JobTotals *all = totals_of_pieces (job, pieces);

  for (guint w = first; w < c->way->len; w++)
    {
      const JobWayFigures *f = job_comparison_way (c, w);
      g_autofree JobTotals *part = g_new0 (JobTotals, MAX (pieces->len, 1));
      if (f->fault || f->job != job)
        continue;
      for (guint p = 0; p < pieces->len; p++)
        part[p] = all[p * columns + (f->method < 0 ? columns - 1 : (gsize) f->method)];
      fill_way (f, part, pieces->len, &b->figure[w], b->n_ways);
    }
  for (gsize i = 0; i < pieces->len * columns; i++)
    job_totals_clear (&all[i]);
  g_free (all);
}

JobBreakout *
job_break_out (const JobComparison *c, JobBy by)
{
  JobBreakout *b = g_new0 (JobBreakout, 1);
  g_autoptr (GArray) bands = job_size_bands (c->job), pieces = NULL;
  gboolean scopes = !c->part.ids && (by == JOB_BY_SYSTEM || by == JOB_BY_AREA);

  pieces = scopes ? pieces_of_scopes (c, by) : pieces_of_runs (c, by, bands);
  b->by = by;
  b->n_parts = pieces->len;
  b->n_ways = c->way->len;
  b->part = g_new0 (char *, (gsize) b->n_parts + 1);
  b->figure = g_new0 (JobPartFigures, MAX (b->n_parts * b->n_ways, 1));
  for (guint p = 0; p < b->n_parts; p++)
    b->part[p] = name_of (c->job, by, g_array_index (pieces, Piece, p).key, bands);
  for (guint w = 0; w < c->way->len; w++)
    {
      const JobWayFigures *f = job_comparison_way (c, w);
      gboolean known = f->fault != NULL;
      for (guint k = 0; k < w && !known; k++)
        known = !job_comparison_way (c, k)->fault && job_comparison_way (c, k)->job == f->job;
      if (!known)
        fill_job (c, pieces, w, b);
    }
  return b;
}

void
job_breakout_free (JobBreakout *b)
{
  g_strfreev (b->part);
  g_free (b->figure);
  g_free (b);
}
