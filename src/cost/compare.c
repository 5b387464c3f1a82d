/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/compare.h"

#include "base/money.h"

#include <math.h>

/* Differences of cost below this are sums of binary fractions that should be zero. */
#define NOTHING 1e-9

/* Whether a method other than those that need the tooling @once puts @target into a run. */
static gboolean
used_without (const Catalogue *catalogue, int once, gboolean step, int target)
{
  for (guint m = 0; m < catalogue->methods->len; m++)
    {
      const CostMethod *method = catalogue_method (catalogue, (int) m);
      if (method->once_item == once)
        continue;
      for (guint i = 0; i < catalogue->recipes->len; i++)
        {
          const CostRecipeLine *line = g_ptr_array_index (catalogue->recipes, i);
          if (line->step == step && line->target == target
              && g_strv_contains ((const char *const *) method->parts, line->part))
            return TRUE;
        }
    }
  return FALSE;
}

/* Where every run goes by its own method, a tooling is needed when something stands in the vector that only its methods
 * use. */
static gboolean
mix_needs (const CostBasis *basis, const gint64 *vector, int once)
{
  for (guint i = 0; i < basis->catalogue->recipes->len; i++)
    {
      const CostRecipeLine *line = g_ptr_array_index (basis->catalogue->recipes, i);
      gint64 amount = line->step ? 0 : vector[line->target];
      for (int s = 0; line->step && s < basis->n_slots; s++)
        if (basis->slots[s].step == line->target)
          amount += vector[basis->n_items + s];
      if (amount > 0 && !used_without (basis->catalogue, once, line->step, line->target))
        return TRUE;
    }
  return FALSE;
}

/* Tooling in 1e-10 of the currency: of the method, and whatever counted lines put in. */
static NumWide
tooling (const CostBasis *basis, int method, const CostSums *sums, const gint64 *vector)
{
  const Catalogue *catalogue = basis->catalogue;
  NumWide money = sums->items[COST_ONCE];

  for (int i = 0; i < basis->n_items; i++)
    {
      gboolean needed = method >= 0 && catalogue_method (catalogue, method)->once_item == i;
      gboolean known = FALSE;
      for (guint m = 0; method < 0 && m < catalogue->methods->len; m++)
        known = known || catalogue_method (catalogue, (int) m)->once_item == i;
      if (needed || (known && mix_needs (basis, vector, i)))
        money += (NumWide) basis->price[i] * 1000000;
    }
  return money;
}

/* A line of the build-up by key, or the plain sum where a build-up of the office's own has no such line. */
static gint64
line_or (const BuildUp *up, const char *key, NumWide exact)
{
  return buildup_find (up->basis, key) >= 0 ? buildup_get (up, key) : money_round (exact, up->decimals);
}

void
cost_option_init (CostOption *o, const CostBasis *basis, int method, const CostSums *sums, const gint64 *vector,
                  int decimals)
{
  const gint64 *measures = vector + basis->n_items + basis->n_slots;
  double joints = (double) measures[COST_JOINTS] / 1e3;

  *o = (CostOption){ .method = method, .sums = *sums, .vector = vector };
  o->buildup = buildup_new (basis, sums, decimals);
  o->material = line_or (o->buildup, "material", sums->items[COST_MATERIAL]);
  o->cost = buildup_get (o->buildup, "cost");
  o->price = buildup_get (o->buildup, "price");
  o->once = money_round (tooling (basis, method, sums, vector), decimals);
  o->field_hours = num_wide_to_double (sums->time[0]) / COST_TIME_DEN;
  o->shop_hours = num_wide_to_double (sums->time[1]) / COST_TIME_DEN;
  if (joints > 0)
    {
      o->minutes_a_joint = num_wide_to_double (sums->joint_time) / (COST_TIME_DEN / 60) / joints;
      o->hardware_a_joint = num_wide_to_double (sums->joint_hardware) / 1e10 / joints;
    }
  o->pieces = measures[COST_PIECES];
  o->joints = measures[COST_JOINTS];
  o->net_mg = measures[COST_NET_MG];
  o->shipped_mg = measures[COST_SHIPPED_MG];
}

void
cost_option_clear (CostOption *option)
{
  g_clear_pointer (&option->buildup, buildup_free);
}

static double
printed (const CostOption *o, gint64 minor)
{
  return (double) minor / pow (10, o->buildup->decimals);
}

double
cost_option_gain (const CostOption *a, const CostOption *b)
{
  return printed (a, a->cost + a->once - b->cost - b->once);
}

/* What a break-even is solved on: A less B. Cost is linear in the sums but for amounts, which both have alike, so
 * the cost of the difference of the sums is the difference of the costs. */
typedef struct
{
  const CostBasis *basis;
  const CostOption *a, *b;
  CostSums less;     /* sums of a less those of b */
  int line;          /* "cost" */
  double nothing;    /* that line for empty sums */
  double cost, once; /* a less b, currency */
} Pair;

static double
line_of (const Pair *p, const CostSums *sums)
{
  return buildup_smooth (p->basis, sums, p->line) - p->nothing;
}

static double
snap (double x)
{
  return fabs (x) < NOTHING ? 0 : x;
}

static void
pair_init (Pair *p, const CostBasis *basis, const CostOption *a, const CostOption *b)
{
  static const CostSums empty;

  *p = (Pair){ .basis = basis, .a = a, .b = b, .line = buildup_find (basis, "cost") };
  for (int i = 0; i < COST_N_GROUPS; i++)
    p->less.items[i] = a->sums.items[i] - b->sums.items[i];
  for (int i = 0; i < 2; i++)
    p->less.labour[i] = a->sums.labour[i] - b->sums.labour[i];
  p->nothing = buildup_smooth (basis, &empty, p->line);
  p->cost = snap (line_of (p, &p->less));
  p->once = num_wide_to_double (tooling (basis, a->method, &a->sums, a->vector)
                                - tooling (basis, b->method, &b->sums, b->vector))
            / 1e10;
}

/* The figure at which the difference of cost with tooling is zero. @slope: its change a unit of the figure. A figure
 * below zero is none. */
static CostEven
solve (const Pair *p, CostEvenKind kind, int target, double now, double slope)
{
  double difference = snap (p->cost + p->once);
  CostEven even = { .kind = kind, .target = target, .equal = difference == 0, .now = now, .even = NAN, .gain = difference,
                    .slope = snap (slope) };

  if (snap (slope) == 0)
    return even;
  even.even = now - difference / slope;
  even.exists = even.even >= 0;
  if (!even.exists)
    even.even = NAN;
  return even;
}

static CostEven
field_rate (const Pair *p)
{
  NumWide labour = p->a->sums.labour[0] + p->b->sums.labour[0], time = p->a->sums.time[0] + p->b->sums.time[0];
  CostSums without = p->less;
  double now = time > 0 ? num_wide_to_double (labour) / num_wide_to_double (time) / 1e4 : 0, slope = 0;

  without.labour[0] = 0;
  if (now > 0)
    slope = (line_of (p, &p->less) - line_of (p, &without)) / now;
  return solve (p, COST_EVEN_FIELD_RATE, -1, now, slope);
}

static gboolean
item_even (const Pair *p, int item, CostEven *even)
{
  NumWide quantity = (NumWide) p->a->vector[item] - p->b->vector[item];
  CostSums more = p->less;

  if (quantity == 0)
    return FALSE;
  more.items[catalogue_item (p->basis->catalogue, item)->group] += quantity * 10000; /* a whole unit dearer */
  *even =
      solve (p, COST_EVEN_ITEM, item, (double) p->basis->price[item] / 1e4, line_of (p, &more) - line_of (p, &p->less));
  return TRUE;
}

static gboolean
step_even (const Pair *p, int step, CostEven *even)
{
  CostSums more = p->less;
  gboolean differs = FALSE;

  for (int s = 0; s < p->basis->n_slots; s++)
    {
      const CostSlot *slot = &p->basis->slots[s];
      NumWide time;
      if (slot->step != step)
        continue;
      time = p->a->sums.slot_time[s] - p->b->sums.slot_time[s];
      differs = differs || time != 0;
      more.labour[slot->place == LABOUR_SHOP] += time * p->basis->rate[slot->crew];
    }
  if (differs)
    *even = solve (p, COST_EVEN_STEP, step, 1, line_of (p, &more) - line_of (p, &p->less));
  return differs;
}

/* The tooling stands with the method that needs more of it; what it saves pays. */
static void
tooling_evens (const Pair *p, GArray *evens)
{
  gboolean with_a = p->once > 0;
  double needed = fabs (p->once), saving = p->once == 0 ? fabs (p->cost) : with_a ? -p->cost : p->cost;
  double told = fabs (printed (p->a, p->a->cost - p->b->cost)); /* the saving as it stands in the build-ups */
  gint64 counted = p->once == 0 ? MAX (p->a->joints, p->b->joints) : (with_a ? p->a : p->b)->joints;
  double joints = (double) counted / 1e3;
  CostEven even = {
    .kind = COST_EVEN_TOOLING, .target = -1, .equal = snap (p->cost + p->once) == 0, .now = needed, .even = NAN
  };

  /* More tooling makes the one that needs it dearer; where neither does, the cheaper one could pay for some. */
  even.gain = cost_option_gain (p->a, p->b);
  even.slope = p->once > 0 || (p->once == 0 && p->cost < 0) ? 1 : -1;
  even.exists = saving > 0;
  if (even.exists)
    even.even = even.equal ? needed : told;
  g_array_append_val (evens, even);

  even.kind = COST_EVEN_JOINTS;
  even.gain = snap (p->cost + p->once);
  even.now = joints;
  even.exists = saving > 0 && needed > 0 && joints > 0;
  even.even = !even.exists ? NAN : even.equal ? joints : joints * needed / saving;
  even.slope = joints > 0 ? snap (p->cost) / joints : 0;
  g_array_append_val (evens, even);
}

/* What the figure moves the difference by as it stands today. */
typedef struct
{
  CostEven even;
  double effect;
} Ranked;

static int
by_effect (gconstpointer a, gconstpointer b)
{
  const Ranked *x = a, *y = b;

  if (x->effect != y->effect)
    return x->effect > y->effect ? -1 : 1;
  return x->even.kind != y->even.kind ? (int) x->even.kind - (int) y->even.kind : x->even.target - y->even.target;
}

static double
effect_of (const Pair *p, const CostEven *even)
{
  CostSums part = { 0 };

  if (even->kind == COST_EVEN_ITEM)
    part.items[catalogue_item (p->basis->catalogue, even->target)->group] =
        ((NumWide) p->a->vector[even->target] - p->b->vector[even->target]) * p->basis->price[even->target];
  else
    for (int s = 0; s < p->basis->n_slots; s++)
      if (p->basis->slots[s].step == even->target)
        part.labour[p->basis->slots[s].place == LABOUR_SHOP] +=
            (p->a->sums.slot_time[s] - p->b->sums.slot_time[s]) * p->basis->rate[p->basis->slots[s].crew];
  return fabs (line_of (p, &part));
}

double
cost_even_gain (const CostEven *even, double figure)
{
  return even->gain + even->slope * (figure - even->now);
}

GArray *
cost_break_evens (const CostBasis *basis, const CostOption *a, const CostOption *b)
{
  GArray *evens = g_array_new (FALSE, TRUE, sizeof (CostEven));
  g_autoptr (GArray) ranked = g_array_new (FALSE, TRUE, sizeof (Ranked));
  Ranked r;
  Pair p;

  pair_init (&p, basis, a, b);
  r.even = field_rate (&p);
  g_array_append_val (evens, r.even);
  tooling_evens (&p, evens);
  for (int i = 0; i < basis->n_items; i++)
    if (catalogue_item (basis->catalogue, i)->group != COST_ONCE && item_even (&p, i, &r.even))
      g_array_append_val (ranked, r);
  for (guint i = 0; a->sums.slot_time && b->sums.slot_time && i < basis->catalogue->labour->steps->len; i++)
    if (step_even (&p, (int) i, &r.even))
      g_array_append_val (ranked, r);
  for (guint i = 0; i < ranked->len; i++)
    g_array_index (ranked, Ranked, i).effect = effect_of (&p, &g_array_index (ranked, Ranked, i).even);
  g_array_sort (ranked, by_effect);
  for (guint i = 0; i < ranked->len; i++)
    g_array_append_val (evens, g_array_index (ranked, Ranked, i).even);
  return evens;
}

void
cost_joint_even (const CostJointPair *pair, CostJointEven *even)
{
  double saved = pair->minutes_a - pair->minutes_b, dearer = pair->hardware_b - pair->hardware_a;

  even->cost_a = pair->hardware_a + pair->minutes_a * pair->wage / 60;
  even->cost_b = pair->hardware_b + pair->minutes_b * pair->wage / 60;
  even->difference = even->cost_a - even->cost_b;
  even->wage = saved != 0 && dearer / saved >= 0 ? 60 * dearer / saved : NAN;
  even->hardware_b = pair->hardware_a + saved * pair->wage / 60;
  even->fastener_b = pair->fasteners > 0 ? even->hardware_b / pair->fasteners : NAN;
  even->minutes_b = pair->wage > 0 ? pair->minutes_a - 60 * dearer / pair->wage : NAN;
  even->least_saving = pair->minutes_a > 0 ? (pair->minutes_a - even->minutes_b) / pair->minutes_a : NAN;
  if (even->difference == 0)
    even->joints = NAN;
  else if (pair->setup >= 0 ? even->difference > 0 : even->difference < 0)
    even->joints = pair->setup / even->difference;
  else
    even->joints = INFINITY;
}
