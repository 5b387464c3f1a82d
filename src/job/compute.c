/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/job-private.h"
#include "job/note-line.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* ---- what runs inherit ---- */

static gint64
first_set (gint64 a, gint64 b, gint64 c, gint64 fallback)
{
  return a != JOB_UNSET ? a : b != JOB_UNSET ? b : c != JOB_UNSET ? c : fallback;
}

/* -1 none, -2 a wrap that the catalogue does not have. */
static int
find_wrap (const DuctRules *rules, const char *key)
{
  int wrap;

  if (!key || g_ascii_strcasecmp (key, "none") == 0)
    return -1;
  wrap = duct_rules_find_wrap (rules, key);
  return wrap >= 0 ? wrap : -2;
}

/* A shape names the set of its supports in a byte. */
#define MOST_SET 250

static void
resolve_bucket (TallyJob *job, JobBucket *b)
{
  const JobRecord *head = job_head (job), *system = job_find (job, JOB_SYSTEM, b->system);
  const JobRecord *area = job_find (job, JOB_AREA, b->area), *cell = job_find_cell (job, b->system, b->area);
  const char *key;

#define INHERIT(FIELD, fallback) \
  first_set (cell ? cell->num[CELL_##FIELD] : JOB_UNSET, system ? system->num[SYSTEM_##FIELD] : JOB_UNSET, \
             head->num[HEAD_##FIELD], fallback)
  b->pressure = INHERIT (CLASS, 0);
  b->metal = INHERIT (METAL, DUCT_GALVANISED);
  b->exposure = INHERIT (EXPOSURE, DUCT_INDOORS);
  b->coil = INHERIT (COIL, DUCT_UNSET);
#undef INHERIT
  b->liner = first_set (cell ? cell->num[CELL_LINER] : JOB_UNSET, system ? system->num[SYSTEM_LINER] : JOB_UNSET, 0, 0);
  b->clear = head->num[HEAD_CLEAR] == 1;
  b->fast = system && system->num[SYSTEM_FAST] == 1;
  b->tested = system && system->num[SYSTEM_TESTED] == 1;
  b->drop = area && area->num[AREA_DROP] != JOB_UNSET ? MAX (area->num[AREA_DROP], 0) : 0;
  key = cell && cell->text[CELL_WRAP] ? cell->text[CELL_WRAP] : system ? system->text[SYSTEM_WRAP] : NULL;
  b->wrap = find_wrap (job->catalogue->rules, key);
  key = system ? system->text[SYSTEM_SEAL] : NULL;
  b->seal = !key || g_ascii_strcasecmp (key, "none") == 0 ? -1
            : duct_rules_find_seal (job->catalogue->rules, head->text[HEAD_EDITION], key);
  if (key && b->seal < 0 && g_ascii_strcasecmp (key, "none") != 0)
    b->seal = duct_rules_has_edition (job->catalogue->rules, head->text[HEAD_EDITION]) ? -2 : -3;
  key = cell && cell->text[CELL_METHOD]         ? cell->text[CELL_METHOD]
        : system && system->text[SYSTEM_METHOD] ? system->text[SYSTEM_METHOD]
                                                : head->text[HEAD_METHOD];
  b->method = key ? catalogue_find_method (job->catalogue, key) : -1;
  key = system && system->text[SYSTEM_RULE_SET] ? system->text[SYSTEM_RULE_SET] : head->text[HEAD_RULE_SET];
  b->rule_set = key ? duct_rules_find_set (job->catalogue->rules, key) : -1;
  key = system && system->text[SYSTEM_SUPPORTS] ? system->text[SYSTEM_SUPPORTS] : head->text[HEAD_SUPPORTS];
  b->supports = !key ? -1 : duct_rules_find_set (job->catalogue->rules, key);
  if (key && (b->supports < 0 || b->supports > MOST_SET))
    b->supports = -2;
  else if (key && !duct_rules_has_supports (job->catalogue->rules, b->supports))
    b->supports = -3;
  b->times = area && area->num[AREA_TIMES] != JOB_UNSET ? area->num[AREA_TIMES] : 1;
  b->floor_ppm = area && area->num[AREA_FLOOR_SHARE] != JOB_UNSET ? MIN (area->num[AREA_FLOOR_SHARE], 1000000) : 0;
  job_resolve_factors (job, b);
  b->resolved = TRUE;
}

JobBucket *
job_bucket (TallyJob *job, const JobBucket *key)
{
  JobBucket *b = g_hash_table_lookup (job->buckets, key);

  if (!b)
    {
      gsize n = (gsize) job->basis->n_methods + 1;
      b = g_new0 (JobBucket, 1);
      b->system = key->system;
      b->area = key->area;
      b->condition = key->condition ? g_ref_string_acquire (key->condition) : NULL;
      b->counted = key->counted;
      b->vector = g_new0 (gint64, n * (gsize) job->basis->n_vector);
      b->not_priced = g_new0 (gint64, n);
      b->by_fallback = g_new0 (gint64, n);
      b->measured = g_new0 (gint64, n);
      g_hash_table_add (job->buckets, b);
    }
  if (!b->resolved)
    resolve_bucket (job, b);
  return b;
}

JobBucket *
job_bucket_of (TallyJob *job, const JobRecord *run)
{
  gint64 system = run->num[RUN_SYSTEM], area = run->num[RUN_AREA];
  JobBucket key = { .system = system == JOB_UNSET ? 0 : system,
                    .area = area == JOB_UNSET ? 0 : area,
                    .condition = run->text[RUN_CONDITION],
                    .counted = run->num[RUN_KIND] == DUCT_COUNTED };

  return job_bucket (job, &key);
}

int
job_rule_set (TallyJob *job, gint64 system_id)
{
  JobBucket key = { .system = system_id };

  return job_bucket (job, &key)->rule_set;
}

/* ---- one run ---- */

static gboolean
fail (int *field, Fault **fault, int at, const char *remedy, const char *what)
{
  if (field)
    *field = at;
  return fault ? fault_set (fault, fault_new (-1, remedy, "%s", what)) : FALSE;
}

static int
run_field (const char *key)
{
  return job_field_find (JOB_RUN, key);
}

/* Where a problem of a shape stands on a run. */
static int
field_of_dim (DuctDim dim)
{
  switch (dim)
    {
    case DUCT_DIM_LENGTH:
      return run_field ("length");
    case DUCT_DIM_W2:
    case DUCT_DIM_H2:
      return run_field ("size2");
    case DUCT_DIM_ANGLE:
      return run_field ("angle");
    case DUCT_DIM_THROAT:
      return run_field ("throat");
    case DUCT_DIM_OFFSET:
      return run_field ("offset");
    case DUCT_DIM_SHIFT:
      return run_field ("shift");
    case DUCT_DIM_LEGS:
      return run_field ("legs");
    case DUCT_DIM_BRANCH:
      return run_field ("branch");
    case DUCT_DIM_SHIFT2:
      return run_field ("shift2");
    case DUCT_DIM_GORES:
      return run_field ("gores");
    case DUCT_DIM_LINER:
      return run_field ("liner");
    case DUCT_DIM_WRAP:
      return run_field ("wrap");
    case DUCT_DIM_CONSTRUCTION:
      return run_field ("construction");
    case DUCT_DIM_METAL:
      return run_field ("metal");
    case DUCT_DIM_SIZE:
      return run_field ("size");
    case DUCT_DIM_CLASS:
      return run_field ("class");
    case DUCT_DIM_GAUGE:
      return run_field ("gauge");
    case DUCT_DIM_FIT:
      return run_field ("fit_pieces");
    case DUCT_DIM_ENDS:
      return run_field ("first_end");
    case DUCT_DIM_LAST_END:
      return run_field ("last_end");
    case DUCT_DIM_NONE:
    default:
      return -1;
    }
}

static gboolean
pass_problem (DuctProblem *problem, int *field, Fault **fault)
{
  if (field)
    *field = field_of_dim (problem->dim);
  return fault ? fault_set (fault, problem->fault) : FALSE;
}

/* Text that could not be read makes the run "not priced"; the fault is that of the first such cell. */
static gboolean
check_raw (TallyJob *job, const JobRecord *run, int *field, Fault **fault)
{
  const JobRaw *raw;

  if (!run->raw)
    return TRUE;
  raw = g_ptr_array_index (run->raw, 0);
  if (field)
    *field = raw->field;
  if (fault)
    {
      g_autoptr (JobRecord) again = job_record_copy (run);
      if (job_record_read (again, raw->field, raw->text, &job->names, fault))
        fault_set (fault, fault_new (0, _ ("enter it again"), _ ("“%s” was not understood when it was entered"), raw->text));
    }
  return FALSE;
}

static gint64
set_or (gint64 v, gint64 fallback)
{
  return v == JOB_UNSET ? fallback : v;
}

static gboolean
own_method (TallyJob *job, const JobRecord *run, const JobBucket *b, int *own, int *field, Fault **fault)
{
  const char *key = run->text[RUN_METHOD];

  *own = key ? catalogue_find_method (job->catalogue, key) : b->method;
  if (*own >= 0)
    return TRUE;
  if (field)
    *field = run_field ("method");
  return fault ? fault_set (fault, job_method_fault (job->catalogue, key)) : FALSE;
}

/* Liner, wrap, sealing, supports and the construction that was pinned. With sizes meant inside the liner the metal is larger by
 * it on every side. */
static gboolean
job_shape_covering (TallyJob *job, const JobRecord *run, const JobBucket *b, DuctShape *s, int *field, Fault **fault)
{
  const DuctRules *rules = job->catalogue->rules;
  int wrap = run->text[RUN_WRAP] ? find_wrap (rules, run->text[RUN_WRAP]) : b->wrap;
  gint64 coil;

  if (wrap == -2)
    return fail (field, fault, run_field ("wrap"), _ ("enter a thickness of the wrap table, or none"),
                 _ ("there is no such wrap"));
  if (b->seal == -2)
    return fail (field, fault, -1, _ ("enter a seal class of the table at the system, or none"),
                 _ ("the system's seal class is not known in this edition"));
  if (b->seal == -3)
    return fail (field, fault, -1, _ ("enter an edition of the catalogue's seal classes in the job, or clear it"),
                 _ ("the edition of seal and leakage classes that the job names is not in the catalogue"));
  if (b->supports == -3)
    return fail (field, fault, -1, _ ("choose a rule set that lists supports, or clear it"),
                 _ ("the rule set named for the supports of the system or job lists no supports"));
  if (b->supports == -2)
    return fail (field, fault, -1, _ ("choose a rule set of the catalogue, or clear it"),
                 _ ("the rule set named for the supports of the system or job is not known"));
  s->wrap = (gint16) wrap;
  s->supports = (guint8) (b->supports + 1);
  s->seal = (guint8) (b->seal + 1);
  s->liner = set_or (run->num[RUN_LINER], b->liner);
  if (s->liner < 0)
    return fail (field, fault, run_field ("liner"), _ ("enter a thickness, or 0 for none"), _ ("a liner cannot be thinner than 0"));
  /* A door and flexible duct have the size they are entered with: nothing is lined there. */
  if (b->clear && s->liner > 0 && s->kind != DUCT_ACCESS_DOOR && s->kind != DUCT_FLEXIBLE_DUCT)
    {
      gint64 *sides[] = { &s->w, &s->h, &s->dim[DUCT_DIM_W2], &s->dim[DUCT_DIM_H2] };
      for (gsize i = 0; i < G_N_ELEMENTS (sides); i++)
        if (*sides[i] > 0)
          *sides[i] += 2 * s->liner;
    }
  s->fast = s->liner > 0 && b->fast ? 1 : 0;
  s->tested = b->tested ? 1 : 0;
  s->riser = run->num[RUN_RISER] == 1;
  int set = b->supports >= 0 ? b->supports : b->rule_set;
  s->drop = set >= 0 && duct_rules_has_supports (rules, set) ? b->drop : 0;
  if (!run->text[RUN_CONSTRUCTION])
    return TRUE;
  if (!duct_stiffening_parse (rules, run->text[RUN_CONSTRUCTION], (DuctMetal) s->metal, &s->stiffening, &coil, fault))
    {
      if (field)
        *field = run_field ("construction");
      return FALSE;
    }
  if (coil != DUCT_UNSET)
    s->coil = coil;
  return TRUE;
}

/* A length measured through fittings is laid without what they take up. */
static gboolean
job_shape_through (TallyJob *job, const JobRecord *run, DuctShape *s, int *field, Fault **fault)
{
  gint64 deducted = job_through_deducted (job, run), *length = &s->dim[DUCT_DIM_LENGTH];

  if (deducted == 0 || *length == DUCT_UNSET)
    return TRUE;
  if (*length <= deducted)
    return fail (field, fault, run_field ("length"),
                 _ ("enter a longer run, enter the fittings below the run that they are part of, or measure between fittings"),
                 _ ("its fittings use up the whole length of this run"));
  *length -= deducted;
  return TRUE;
}

gboolean
job_shape (TallyJob *job, const JobRecord *run, const JobBucket *b, DuctShape *s, int *own, gint64 *count, int *field,
           Fault **fault)
{
  static const struct
  {
    int slot;
    DuctDim dim;
  } dims[] = { { RUN_LENGTH, DUCT_DIM_LENGTH }, { RUN_W2, DUCT_DIM_W2 },         { RUN_H2, DUCT_DIM_H2 },
               { RUN_ANGLE, DUCT_DIM_ANGLE },   { RUN_THROAT, DUCT_DIM_THROAT }, { RUN_OFFSET, DUCT_DIM_OFFSET },
               { RUN_SHIFT, DUCT_DIM_SHIFT },   { RUN_LEGS, DUCT_DIM_LEGS },
               { RUN_BRANCH, DUCT_DIM_BRANCH }, { RUN_SHIFT2, DUCT_DIM_SHIFT2 }, { RUN_GORES, DUCT_DIM_GORES } };
  const gint64 *num = run->num;
  DuctProblem problem = { DUCT_DIM_NONE, NULL };

  if (!check_raw (job, run, field, fault))
    return FALSE;
  if (num[RUN_KIND] == JOB_UNSET)
    return fail (field, fault, run_field ("kind"), _ ("enter straight, radius elbow, mitred elbow, transition, offset, "
                                                      "tap, end cap, round duct, counted or another kind; note for a line of "
                                                      "words"),
                 _ ("no kind is given"));
  if (num[RUN_KIND] == DUCT_REMARK && !job_note_line_check (run, field, fault))
    return FALSE;
  duct_shape_init (s, (DuctKind) num[RUN_KIND]);
  s->w = num[RUN_W];
  s->h = num[RUN_H];
  for (gsize i = 0; i < G_N_ELEMENTS (dims); i++)
    s->dim[dims[i].dim] = num[dims[i].slot];
  s->pressure = set_or (num[RUN_CLASS], b->pressure);
  s->metal = (guint8) set_or (num[RUN_METAL], b->metal);
  s->exposure = (guint8) set_or (num[RUN_EXPOSURE], b->exposure);
  /* The width of coil of a system is that of its sheet; round duct comes in the lengths of its connection. */
  if (duct_kind_info ((DuctKind) num[RUN_KIND])->section != DUCT_ROUND)
    s->coil = b->coil;
  s->on_edge = num[RUN_ON_EDGE] == 1;
  s->first_end = (guint8) set_or (num[RUN_FIRST_END], DUCT_END_JOINT);
  s->last_end = (guint8) set_or (num[RUN_LAST_END], DUCT_END_JOINT);
  s->fit_pieces = (gint32) set_or (num[RUN_FIT], 0);
  *count = set_or (num[RUN_COUNT], 1000);
  if (*count % 1000 != 0)
    return fail (field, fault, run_field ("count"), _ ("enter a whole number of runs"), _ ("ductwork is counted in whole numbers"));
  if (run->text[RUN_GAUGE])
    {
      s->sheet_pin = (gint16) duct_rules_find_sheet (job->catalogue->rules, (DuctMetal) s->metal, run->text[RUN_GAUGE]);
      if (s->sheet_pin < 0)
        {
          if (field)
            *field = run_field ("gauge");
          return fault ? fault_set (fault, job_gauge_fault ()) : FALSE;
        }
    }
  if (!job_shape_covering (job, run, b, s, field, fault) || !job_shape_through (job, run, s, field, fault))
    return FALSE;
  if (!duct_shape_resolve (job->catalogue->rules, s, fault ? &problem : NULL))
    return pass_problem (&problem, field, fault);
  return own_method (job, run, b, own, field, fault);
}

gboolean
job_price_shape (TallyJob *job, const JobBucket *b, const DuctShape *shape, int method, gint64 *vector, JobRunResult *result,
                 int *field, Fault **fault)
{
  const CostBasis *basis = job->basis;
  const DuctRules *rules = job->catalogue->rules;
  DuctProblem problem = { DUCT_DIM_NONE, NULL }, *wanted = fault ? &problem : NULL;
  DuctMeasure local, *measure = result ? &result->measure : &local;
  DuctBuild build;
  char *reason = NULL;
  int effective = cost_effective_method (basis, method, shape, result ? &reason : NULL);

  if (b->rule_set < 0 && shape->sheet_pin < 0)
    {
      g_free (reason);
      return fail (field, fault, -1, _ ("choose one for the job or the system"),
                   _ ("no rule set, or one that the catalogue does not have, is chosen"));
    }
  if (effective < 0)
    {
      g_autofree char *what = g_strdup_printf (_ ("the method is not allowed here: %s"), reason ? reason : "");
      g_free (reason);
      return fail (field, fault, run_field ("method"), _ ("choose another method for this run"), what);
    }
  if (!duct_choose_build (rules, b->rule_set, catalogue_method (basis->catalogue, effective)->connection, shape, &build,
                          wanted)
      || !duct_measure (rules, shape, &build, measure, wanted))
    {
      g_free (reason);
      return pass_problem (&problem, field, fault);
    }
  if (vector)
    cost_price_measure (basis, effective, (DuctKind) shape->kind, measure, job->point, vector);
  if (result)
    {
      result->method = effective;
      result->reason = reason;
      result->build = build;
    }
  return TRUE;
}

static gint64
minutes_to_ms (gint64 micro_minutes, gint64 count)
{
  gint64 ms = 0;

  /* millionths of a minute x thousandths: 1e-9 minute = 6e-5 ms */
  num_mul_div (micro_minutes, count * 60, 1000000, &ms);
  return ms;
}

/* A counted line buys just what was counted: no overage. Quantity in millionths. */
static gboolean
counted_quantity (const CostItem *item, gint64 count, gint64 length, gint64 *q)
{
  gboolean ft = strcmp (item->unit, "ft") == 0, m = strcmp (item->unit, "m") == 0;

  if ((ft || m) && length != JOB_UNSET)
    return num_mul_div (count * 1000, length, ft ? LENGTH_NM_PER_FT : LENGTH_NM_PER_M, q);
  *q = count * 1000;
  return TRUE;
}

gboolean
job_counted_vector (TallyJob *job, const JobRecord *run, gint64 *vector, int *field, Fault **fault)
{
  const CostBasis *basis = job->basis;
  const gint64 most = G_GINT64_CONSTANT (100000000000) * 1000000; /* 10 million, in 1e-10 */
  gint64 count = set_or (run->num[RUN_COUNT], 1000), price = run->num[RUN_PRICE], q;
  int item = run->text[RUN_ITEM] ? catalogue_find_item (job->catalogue, run->text[RUN_ITEM]) : -1;
  CostGroup group = COST_MATERIAL;

  memset (vector, 0, sizeof (gint64) * (gsize) basis->n_vector);
  if (!check_raw (job, run, field, fault))
    return FALSE;
  if (run->text[RUN_ITEM] && item < 0 && price == JOB_UNSET)
    return fail (field, fault, run_field ("item"), _ ("choose an item of the catalogue, or enter a price"),
                 _ ("there is no such item"));
  if (!run->text[RUN_ITEM] && price == JOB_UNSET && run->num[RUN_SHOP_MINUTES] == JOB_UNSET
      && run->num[RUN_FIELD_MINUTES] == JOB_UNSET)
    return fail (field, fault, run_field ("item"), _ ("enter an item, a price or minutes"),
                 _ ("a counted line needs something to count"));
  if (run->num[RUN_LENGTH] != JOB_UNSET && run->num[RUN_LENGTH] <= 0)
    return fail (field, fault, run_field ("length"), _ ("enter a length over 0, or clear it"), _ ("the length is not over 0"));
  if (item >= 0 && catalogue_item (job->catalogue, item)->group == COST_ONCE)
    return fail (field, fault, run_field ("item"), _ ("take the line out; to bill it, enter a price without an item"),
                 _ ("this item is bought once and stands beside a comparison, not in a bid"));
  q = count * 1000;
  if (item >= 0)
    {
      group = catalogue_item (job->catalogue, item)->group;
      if (!counted_quantity (catalogue_item (job->catalogue, item), count, run->num[RUN_LENGTH], &q))
        return fail (field, fault, run_field ("length"), _ ("check the count and the length"), _ ("the quantity is too large"));
    }
  if (price != JOB_UNSET)
    {
      NumWide money = (NumWide) q * price;
      if (money > (NumWide) most * 1000)
        return fail (field, fault, run_field ("price"), _ ("split the line"), _ ("one line is worth over ten thousand million"));
      vector[cost_measure_slot (basis, group == COST_RENTAL ? COST_OWN_RENTAL : COST_OWN_MATERIAL)] = (gint64) money;
    }
  else if (item >= 0)
    vector[item] = q;
  vector[basis->n_items + basis->counted_slot[0]] = minutes_to_ms (set_or (run->num[RUN_FIELD_MINUTES], 0), count);
  vector[basis->n_items + basis->counted_slot[1]] = minutes_to_ms (set_or (run->num[RUN_SHOP_MINUTES], 0), count);
  vector[cost_measure_slot (basis, COST_RUNS)] = 1000;
  return TRUE;
}

void
job_run_result_clear (JobRunResult *result)
{
  g_clear_pointer (&result->reason, g_free);
  g_clear_pointer (&result->vector, g_free);
  g_clear_pointer (&result->fault, fault_free);
}

gboolean
job_compute (TallyJob *job, const JobRecord *run, int method, JobRunResult *result)
{
  const JobBucket *b = job_bucket_of (job, run);
  gboolean priced;
  int own;

  memset (result, 0, sizeof *result);
  result->asked = result->method = result->fault_field = -1;
  result->vector = g_new0 (gint64, (gsize) job->basis->n_vector);
  if (job_is_note_line (run))
    {
      duct_shape_init (&result->shape, DUCT_REMARK);
      return TRUE;
    }
  if (run->num[RUN_KIND] == DUCT_COUNTED)
    {
      result->count = set_or (run->num[RUN_COUNT], 1000);
      duct_shape_init (&result->shape, DUCT_COUNTED);
      priced = job_counted_vector (job, run, result->vector, &result->fault_field, &result->fault);
    }
  else
    {
      result->deducted = job_through_deducted (job, run);
      priced = job_shape (job, run, b, &result->shape, &own, &result->count, &result->fault_field, &result->fault);
      if (priced)
        {
          result->asked = method == JOB_OWN_METHOD ? own : job_compared_method (job, method, &result->shape, own);
          result->asked = cost_section_method (job->basis, result->asked, &result->shape);
          priced = job_price_shape (job, b, &result->shape, result->asked, result->vector, result, &result->fault_field,
                                    &result->fault);
        }
      for (int i = 0; priced && i < job->basis->n_vector; i++)
        if (i != cost_measure_slot (job->basis, COST_RUNS))
          result->vector[i] *= result->count / 1000;
    }
  if (!priced)
    {
      g_clear_pointer (&result->vector, g_free);
      result->method = -1;
    }
  return priced;
}

void
job_run_sums (TallyJob *job, const JobRecord *run, const gint64 *vector, CostSums *sums)
{
  const JobBucket *b = job_bucket_of (job, run);

  LabourFactors factors = b->factors;

  factors.learned = job_learned (job, JOB_OWN_METHOD);
  memset (sums, 0, sizeof *sums);
  cost_sums_add (sums, job->basis, vector, &factors, b->floor_ppm, b->times);
}

void
job_run_conditions (TallyJob *job, const JobRecord *run, LabourFactors *factors, gint64 *floor_ppm, gint64 *times)
{
  const JobBucket *b = job_bucket_of (job, run);

  if (factors)
    {
      *factors = b->factors;
      factors->learned = job_learned (job, JOB_OWN_METHOD);
    }
  if (floor_ppm)
    *floor_ppm = b->floor_ppm;
  if (times)
    *times = b->times;
}
