/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/mix.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "cost/compare.h"
#include "cost/solve.h"
#include "job/compare.h"
#include "job/job-private.h"
#include "job/mix-private.h"
#include "job/note-line.h"
#include "job/setting.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

static void
group_free (gpointer data)
{
  JobMixGroup *group = data;

  g_free (group->key);
  g_free (group->name);
  g_array_unref (group->runs);
  g_free (group);
}

void
job_mix_free (JobMix *mix)
{
  g_clear_pointer (&mix->mix, cost_mix_free);
  g_ptr_array_unref (mix->group);
  g_array_unref (mix->method);
  g_array_unref (mix->bands);
  g_ptr_array_unref (mix->said);
  g_free (mix);
}

/* ---- rows into groups ---- */

/* A rectangular run that is priced, while the problem is built. */
typedef struct
{
  guint group;
  int own;
  gint64 times;
  gint64 system, area;
  int own_effective; /* method in force */
} Row;

typedef struct
{
  TallyJob *job;
  JobMix *out;
  GArray *bands;
  GHashTable *by_key; /* JobMixGroup * set */
  GArray *row;        /* Row */
  GArray *effective;  /* int: n_methods a row: the method in force there, by catalogue index, -1 none */
} Builder;

static guint
group_hash (gconstpointer data)
{
  const JobMixGroup *g = data;

  return (guint) (g->system * 31 + g->area) * 1009u + (guint) g->pressure * 17u + g->band;
}

static gboolean
group_equal (gconstpointer a, gconstpointer b)
{
  const JobMixGroup *x = a, *y = b;

  return x->system == y->system && x->area == y->area && x->pressure == y->pressure && x->band == y->band;
}

static gint64
longest_side (const DuctShape *shape)
{
  return MAX (MAX (shape->w, shape->h), MAX (shape->dim[DUCT_DIM_W2], shape->dim[DUCT_DIM_H2]));
}

/* The characters that part the setting mix.not stand for themselves nowhere in a key. */
static char *
key_part (const char *name)
{
  return g_strdelimit (g_strdup (name ? name : "-"), "/=,;", '_');
}

static const char *
name_of (TallyJob *job, JobType type, gint64 id)
{
  const JobRecord *record = id ? job_find (job, type, id) : NULL;

  return record ? record->text[type == JOB_SYSTEM ? SYSTEM_KEY : AREA_KEY] : NULL;
}

char *
job_mix_band_words (const GArray *bands, guint from, guint to)
{
  g_autofree char *low =
      from > 0 ? decimal_print (g_array_index (bands, gint64, from - 1) / (LENGTH_NM_PER_IN / 1000), 3, 0, FALSE)
               : NULL;
  g_autofree char *high =
      to < bands->len ? decimal_print (g_array_index (bands, gint64, to) / (LENGTH_NM_PER_IN / 1000), 3, 0, FALSE)
                      : NULL;

  if (!low && !high)
    return g_strdup (_ ("of any size"));
  if (!low)
    return g_strdup_printf (_ ("up to %s in"), high);
  if (!high)
    return g_strdup_printf (_ ("over %s in"), low);
  return g_strdup_printf (_ ("over %s to %s in"), low, high);
}

static void
name_group (Builder *b, JobMixGroup *g)
{
  g_autofree char *system = key_part (name_of (b->job, JOB_SYSTEM, g->system)),
                  *area = key_part (name_of (b->job, JOB_AREA, g->area));
  g_autofree char *size =
      g->band < b->bands->len
          ? decimal_print (g_array_index (b->bands, gint64, g->band) / (LENGTH_NM_PER_IN / 1000), 3, 0, FALSE)
          : g_strdup ("over");
  g_autofree char *pressure = decimal_print (g->pressure, 3, 0, FALSE),
                  *band = job_mix_band_words (b->bands, g->band, g->band);
  g_autofree char *class = pressure_print (g->pressure, FALSE);
  const char *s = name_of (b->job, JOB_SYSTEM, g->system), *a = name_of (b->job, JOB_AREA, g->area);

  g->key = g_strdup_printf ("%s/%s/%s/%s", system, area, pressure, size);
  g->name = g_strdup_printf (_ ("%s, %s, class %s, %s"), s ? s : _ ("no system"), a ? a : _ ("no area"), class, band);
}

static void
add_row (Builder *b, const JobRecord *run, const JobBucket *bucket, const DuctShape *shape, int own)
{
  gint64 side = longest_side (shape);
  JobMixGroup asked = { .system = bucket->system, .area = bucket->area, .pressure = ABS (shape->pressure) };
  Row row = { .own = own, .times = bucket->times, .system = bucket->system, .area = bucket->area };
  JobMixGroup *group;

  while (asked.band < b->bands->len && side > g_array_index (b->bands, gint64, asked.band))
    asked.band++;
  group = g_hash_table_lookup (b->by_key, &asked);
  if (!group)
    {
      group = g_memdup2 (&asked, sizeof asked);
      group->runs = g_array_new (FALSE, FALSE, sizeof (gint64));
      group->own = -2;
      name_group (b, group);
      g_hash_table_add (b->by_key, group);
      g_ptr_array_add (b->out->group, group);
    }
  g_array_append_val (group->runs, run->id);
  for (guint m = 0; m < b->out->method->len; m++)
    {
      int method = g_array_index (b->out->method, int, m),
          effective = cost_effective_method (b->job->basis, method, shape, NULL);
      if (method == own)
        group->own = group->own == -2 || group->own == (int) m ? (int) m : -1;
      g_array_append_val (b->effective, effective);
    }
  gboolean listed = FALSE;
  for (guint m = 0; m < b->out->method->len; m++)
    listed = listed || g_array_index (b->out->method, int, m) == own;
  if (!listed)
    group->own = -1;
  row.own_effective = cost_effective_method (b->job->basis, own, shape, NULL);
  for (guint g = b->out->group->len; g-- > 0;)
    if (g_ptr_array_index (b->out->group, g) == group)
      {
        row.group = g;
        break;
      }
  g_array_append_val (b->row, row);
}

static void
add_rows (Builder *b)
{
  TallyJob *job = b->job;

  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (job, JOB_RUN, i);
      const JobBucket *bucket = job_bucket_of (job, run);
      DuctShape shape;
      gint64 count;
      int own;

      if (job_is_note_line (run))
        b->out->notes++;
      else if (run->num[RUN_KIND] == DUCT_COUNTED)
        b->out->counted++;
      else if (!job_shape (job, run, bucket, &shape, &own, &count, NULL, NULL)
               || !job_price_shape (job, bucket, &shape, own, NULL, NULL, NULL, NULL))
        b->out->not_priced++;
      else if (shape.h == 0)
        {
          Row cut = { .group = G_MAXUINT, .system = bucket->system, .area = bucket->area };
          int none = -1;
          b->out->round++;
          g_array_append_val (b->row, cut);
          for (guint m = 0; m < b->out->method->len; m++)
            g_array_append_val (b->effective, none);
        }
      else
        add_row (b, run, bucket, &shape, own);
    }
}

/* ---- figures ---- */

/* The line "cost" without rounding, of sums alone: ten-thousandths. Linear in the sums. */
static gint64
cost_of (TallyJob *job, const CostSums *sums)
{
  static const CostSums empty;
  int line = buildup_find (job->basis, "cost");
  gint64 out = 0;

  if (line < 0)
    line = cost_price_line (job->basis);
  if (line >= 0)
    num_from_double ((buildup_smooth (job->basis, sums, line) - buildup_smooth (job->basis, &empty, line))
                         * COST_MIX_MONEY,
                     &out);
  return out;
}

static gint64
hours_of (const CostSums *sums)
{
  gint64 ms = 0;

  num_narrow (num_wide_div (sums->time[0], 1000000), &ms);
  return ms;
}

static void
fill_group (Builder *b, guint g)
{
  int n = b->job->basis->n_methods;
  JobMixGroup *group = g_ptr_array_index (b->out->group, g);
  g_autofree JobTotals *totals = g_new0 (JobTotals, (gsize) n + 1);
  CostMix *mix = b->out->mix;

  job_totals_of_runs (b->job, (const gint64 *) (gpointer) group->runs->data, group->runs->len, totals);
  cost_mix_set_group (mix, g, group->name);
  for (guint m = 0; m < mix->n_methods; m++)
    {
      const JobTotals *t = &totals[g_array_index (b->out->method, int, m)];
      gsize at = (gsize) g * mix->n_methods + m;
      if (t->not_priced == 0 && !job_mix_forbids (b->job, group, g_array_index (b->out->method, int, m)))
        mix->cost[at] = cost_of (b->job, &t->sums);
      mix->hours[at] = hours_of (&t->sums);
      mix->use[at] = 0;
    }
  group->own_cost = cost_of (b->job, &totals[n].sums);
  group->own_hours = hours_of (&totals[n].sums);
  for (int m = 0; m <= n; m++)
    job_totals_clear (&totals[m]);
}

/* Joints between two groups, while they are added up. */
static gint64 *
unmated_between (Builder *b, GHashTable *pairs, guint a, guint c)
{
  gint64 key = (gint64) a << 32 | c, *table = g_hash_table_lookup (pairs, &key);
  guint n = b->out->mix->n_methods;

  if (!table)
    {
      /* The last place counts the joints. */
      table = g_new0 (gint64, (gsize) n * n + 1);
      g_hash_table_insert (pairs, g_memdup2 (&key, sizeof key), table);
    }
  return table;
}

static int
effective_at (const Builder *b, guint row, guint method)
{
  return g_array_index (b->effective, int, (gsize) row * b->out->mix->n_methods + method);
}

/* The connection of a method in force, -1: none. */
static int
connection_of (const Builder *b, int effective)
{
  return effective < 0 ? -1 : catalogue_method (b->job->catalogue, effective)->connection;
}

/* Whether two neighbouring rows with connections @x and @y do not mate. Where some method by itself makes just this pair, by its
 * fallback, what the joint takes is part of that method's figures and is not charged again. */
static gboolean
unlike (const Builder *b, guint i, int x, guint k, int y)
{
  if (x < 0 || y < 0 || x == y)
    return FALSE;
  for (guint m = 0; m < b->out->mix->n_methods; m++)
    if (connection_of (b, effective_at (b, i, m)) == x && connection_of (b, effective_at (b, k, m)) == y)
      return FALSE;
  return TRUE;
}

/* Methods that come to the same on every run of a group, to connection and figures, are one thing there. */
static void
find_same (Builder *b)
{
  CostMix *mix = b->out->mix;
  guint n = mix->n_methods;
  gsize pairs = (gsize) mix->n_groups * n;
  g_autofree guint8 *differs = g_new0 (guint8, pairs * n);

  for (guint i = 0; i < b->row->len; i++)
    {
      guint g = g_array_index (b->row, Row, i).group;
      for (guint m = 0; m < n && g != G_MAXUINT; m++)
        for (guint o = 0; o < m; o++)
          if (connection_of (b, effective_at (b, i, m)) != connection_of (b, effective_at (b, i, o)))
            differs[((gsize) g * n + m) * n + o] = 1;
    }
  mix->same = g_new (int, pairs);
  for (guint g = 0; g < mix->n_groups; g++)
    for (guint m = 0; m < n; m++)
      {
        gsize at = (gsize) g * n + m;
        mix->same[at] = (int) m;
        for (guint o = 0; o < m && mix->same[at] == (int) m; o++)
          if (!differs[at * n + o] && mix->cost[at] == mix->cost[(gsize) g * n + o]
              && mix->hours[at] == mix->hours[(gsize) g * n + o])
            mix->same[at] = mix->same[(gsize) g * n + o];
      }
}

static void
add_joint (Builder *b, GHashTable *pairs, guint i, guint k)
{
  const Row *x = &g_array_index (b->row, Row, i), *y = &g_array_index (b->row, Row, k);
  guint n = b->out->mix->n_methods;
  gboolean turned = x->group > y->group;

  if (unlike (b, i, connection_of (b, x->own_effective), k, connection_of (b, y->own_effective)))
    b->out->own_unmated += x->times;
  if (x->group == y->group)
    return;
  gint64 *table =
      turned ? unmated_between (b, pairs, y->group, x->group) : unmated_between (b, pairs, x->group, y->group);
  table[n * n] += x->times;
  for (guint m = 0; m < n; m++)
    for (guint o = 0; o < n; o++)
      if (unlike (b, i, connection_of (b, effective_at (b, i, m)), k, connection_of (b, effective_at (b, k, o))))
        table[turned ? o * n + m : m * n + o] += x->times;
}

static void
add_joints (Builder *b)
{
  g_autoptr (GHashTable) pairs = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  g_autoptr (GHashTable) last = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  guint n = b->out->mix->n_methods;

  /* The row before in the same system and area. */
  for (guint i = 0; i < b->row->len; i++)
    {
      const Row *row = &g_array_index (b->row, Row, i);
      gint64 place = row->system << 32 ^ row->area;
      guint before = GPOINTER_TO_UINT (g_hash_table_lookup (last, &place));
      if (before > 0 && row->group != G_MAXUINT && g_array_index (b->row, Row, before - 1).group != G_MAXUINT)
        add_joint (b, pairs, before - 1, i);
      g_hash_table_insert (last, g_memdup2 (&place, sizeof place), GUINT_TO_POINTER (i + 1));
    }
  /* In the order of the groups, so that the problem is the same every time. */
  for (guint a = 0; a < b->out->group->len; a++)
    for (guint c = a + 1; c < b->out->group->len; c++)
      {
        gint64 key = (gint64) a << 32 | c;
        const gint64 *table = g_hash_table_lookup (pairs, &key);
        if (table)
          cost_mix_add_boundary (b->out->mix, a, c, table[n * n], g_memdup2 (table, sizeof (gint64) * n * n));
      }
}

/* ---- limits, set-up, the job as it stands ---- */

/* A joint between two connections: hardware as material, minutes at the field rate, both as they go into the cost. */
static void
price_joint (Builder *b, const CostSums *whole)
{
  double money = job_setting_number (b->job, "mix.boundary_money"),
         minutes = job_setting_number (b->job, "mix.boundary_minutes");
  CostSums sums = { 0 };
  gint64 units = 0, ms = 0;

  num_from_double (money * 1e4, &units);
  num_from_double (minutes * 60000, &ms);
  sums.items[COST_MATERIAL] = (NumWide) units * 1000000;
  sums.time[0] = (NumWide) ms * 1000000;
  sums.labour[0] = sums.time[0] * cost_crew_rate (b->job->basis, whole, FALSE, NULL);
  b->out->mix->boundary_cost = MAX (cost_of (b->job, &sums), 0);
  b->out->mix->boundary_hours = ms;
}

static void
set_limits (Builder *b)
{
  double hours = job_setting_number (b->job, "mix.hours"), weeks = job_setting_number (b->job, "mix.weeks");
  double methods = job_setting_number (b->job, "mix.methods");
  CostMix *mix = b->out->mix;

  /* A week of a crew is five working days. */
  if (!isnan (weeks))
    weeks *= job_setting_number (b->job, "crew.heads") * job_setting_number (b->job, "crew.day_hours") * 5;
  b->out->limit_hours = isnan (hours) ? weeks : isnan (weeks) ? hours : MIN (hours, weeks);
  if (!isnan (b->out->limit_hours))
    num_from_double (b->out->limit_hours * (double) COST_MIX_HOUR, &mix->most_hours);
  if (!isnan (methods))
    mix->most_methods = (guint) methods;
  for (guint m = 0; m < mix->n_methods; m++)
    {
      const CostMethod *method = catalogue_method (b->job->catalogue, g_array_index (b->out->method, int, m));
      cost_mix_set_method (mix, m, method->name);
      mix->connection[m] = method->connection;
      mix->tool[m] = method->once_item;
      mix->setup[m] = method->once_item >= 0 ? b->job->basis->price[method->once_item] : 0;
    }
}

static void
set_rest (Builder *b, const JobTotals *own)
{
  int decimals = job_decimals (b->job);
  gint64 unit = 1, groups = 0, hours = hours_of (&own->sums), whole = 0;
  CostOption option;
  JobMix *out = b->out;

  for (int i = decimals; i < 4; i++)
    unit *= 10;
  cost_option_init (&option, b->job->basis, JOB_OWN_METHOD, &own->sums, own->vector, decimals);
  out->decimals = decimals;
  out->own_cost = (option.cost + option.once) * unit + out->own_unmated * out->mix->boundary_cost;
  out->own_hours = hours + out->own_unmated * out->mix->boundary_hours;
  for (guint g = 0; g < out->group->len; g++)
    {
      groups += job_mix_group (out, g)->own_cost;
      hours -= job_mix_group (out, g)->own_hours;
    }
  int line = buildup_find (b->job->basis, "cost");
  num_from_double (buildup_smooth (b->job->basis, &own->sums, line >= 0 ? line : cost_price_line (b->job->basis))
                       * COST_MIX_MONEY,
                   &whole);
  out->rest_cost = whole - groups;
  out->mix->rest_hours = MAX (hours, 0);
  cost_option_clear (&option);
}

/* Methods for rectangular duct that a comparison lists. */
static void
list_methods (Builder *b)
{
  g_autoptr (GArray) listed = job_methods_listed (b->job, -1);
  const DuctRules *rules = b->job->catalogue->rules;

  for (guint i = 0; i < listed->len && b->out->method->len < COST_MIX_MOST_METHODS; i++)
    {
      int method = g_array_index (listed, int, i),
          connection = catalogue_method (b->job->catalogue, method)->connection;
      if (duct_rules_connection (rules, connection)->section != DUCT_ROUND)
        g_array_append_val (b->out->method, method);
    }
}

static gboolean
build (Builder *b, Fault **fault)
{
  JobMix *out = b->out;
  JobScope all = { 0, 0 };
  JobTotals own;

  list_methods (b);
  add_rows (b);
  if (out->group->len == 0 || out->method->len == 0)
    return fault_set (fault, fault_new (-1, _ ("enter rectangular runs, or mend those that are not priced"),
                                        _ ("no rectangular run of the job is priced")));
  if (buildup_find (b->job->basis, "cost") < 0 && cost_price_line (b->job->basis) < 0)
    return fault_set (fault, fault_new (-1, _ ("give the build-up a line “cost”"),
                                        _ ("the build-up has no line to compare by")));
  out->mix = cost_mix_new (out->group->len, out->method->len);
  for (guint g = 0; g < out->group->len; g++)
    {
      JobMixGroup *group = g_ptr_array_index (out->group, g);
      group->own = MAX (group->own, -1);
      fill_group (b, g);
    }
  set_limits (b);
  job_totals (b->job, &all, JOB_OWN_METHOD, &own);
  price_joint (b, &own.sums);
  find_same (b);
  add_joints (b);
  set_rest (b, &own);
  job_totals_clear (&own);
  job_mix_say_unknown (b->job, out);
  return cost_mix_check (out->mix, fault);
}

JobMix *
job_mix_new (TallyJob *job, Fault **fault)
{
  g_autoptr (JobMix) out = g_new0 (JobMix, 1);
  g_autoptr (GArray) row = g_array_new (FALSE, TRUE, sizeof (Row));
  g_autoptr (GArray) effective = g_array_new (FALSE, FALSE, sizeof (int));
  g_autoptr (GHashTable) by_key = g_hash_table_new (group_hash, group_equal);
  out->group = g_ptr_array_new_with_free_func (group_free);
  out->bands = job_size_bands (job);
  Builder b = { .job = job, .out = out, .bands = out->bands, .by_key = by_key, .row = row, .effective = effective };

  out->method = g_array_new (FALSE, FALSE, sizeof (int));
  out->said = g_ptr_array_new_with_free_func (g_free);
  return build (&b, fault) ? g_steal_pointer (&out) : NULL;
}

gint64
job_mix_cost (const JobMix *mix, const CostMixPlan *plan)
{
  return mix->rest_cost + plan->cost;
}
