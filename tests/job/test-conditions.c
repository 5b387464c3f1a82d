/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The labour model of a job: conditions by place, joined by either rule, floor and air, remakes, pieces raised together.
 * The demo job and its figures are invented; what is held against is exact or worked out here. */
#include "job/labour.h"

/* A condition on a run reaches that run alone, and only where it says: "high work" 1.15 in the air, joints made there included. */
static void
test_run_condition (void)
{
  g_autoptr (TallyJob) job = demo ();
  JobTotals before = totals_of (job, JOB_OWN_METHOD), after, back;
  const JobRecord *run = job_at (job, JOB_RUN, 0);
  gint64 id = run->id;
  LabourFactors plain, high;
  JobRunResult r;
  CostSums own;

  g_assert_true (job_compute (job, run, JOB_OWN_METHOD, &r));
  job_run_conditions (job, run, &plain, NULL, NULL);
  job_run_sums (job, run, r.vector, &own);
  g_assert_true (set_field (job, JOB_RUN, id, "condition", "high work", NULL));
  run = job_find (job, JOB_RUN, id);
  job_run_conditions (job, run, &high, NULL, NULL);
  g_assert_cmpint (high.ppm[LABOUR_HANG_AND_JOIN][LABOUR_AIR], ==, num_div (plain.ppm[LABOUR_HANG_AND_JOIN][LABOUR_AIR] * 115, 100));
  g_assert_cmpint (high.ppm[LABOUR_HANG_AND_JOIN][LABOUR_JOINT], ==, num_div (plain.ppm[LABOUR_HANG_AND_JOIN][LABOUR_JOINT] * 115, 100));
  g_assert_cmpint (high.floor_joint[LABOUR_HANG_AND_JOIN], ==, plain.floor_joint[LABOUR_HANG_AND_JOIN]);
  g_assert_cmpint (high.ppm[LABOUR_DELIVER][LABOUR_FLOOR], ==, plain.ppm[LABOUR_DELIVER][LABOUR_FLOOR]);
  g_assert_cmpint (high.ppm[LABOUR_FABRICATE][LABOUR_SHOP], ==, 1000000);
  /* The job grows by what the run grows. */
  CostSums grown;
  job_run_sums (job, run, r.vector, &grown);
  after = totals_of (job, JOB_OWN_METHOD);
  g_assert_true (grown.time[0] > own.time[0]);
  g_assert_true (after.sums.time[0] - before.sums.time[0] == grown.time[0] - own.time[0]);
  g_assert_true (after.sums.labour[1] == before.sums.labour[1]);
  g_assert_true (job_check_totals (job));
  g_assert_true (job_undo (job, NULL));
  back = totals_of (job, JOB_OWN_METHOD);
  g_assert_true (back.sums.labour[0] == before.sums.labour[0]);
  /* One the catalogue does not have is refused, as at an area. */
  GError *error = NULL;
  g_assert_false (set_field (job, JOB_RUN, id, "condition", "full moon", &error));
  g_assert_nonnull (strstr (error->message, "full moon"));
  g_clear_error (&error);
  job_run_result_clear (&r);
  job_totals_clear (&before);
  job_totals_clear (&after);
  job_totals_clear (&back);
}

/* Product 1.10 x 1.15 x 1.20 = 1.518, sum 1 + 0.10 + 0.15 + 0.20 = 1.45 over area factor, job and run (common practice, section 5). */
static void
test_join (void)
{
  g_autoptr (TallyJob) job = demo ();
  gint64 plant = area_id (job, "Plant");
  const JobRecord *run = NULL;
  LabourFactors f;

  for (guint i = 0; i < job_n (job, JOB_RUN) && !run; i++)
    if (job_at (job, JOB_RUN, i)->num[RUN_AREA] == plant)
      run = job_at (job, JOB_RUN, i);
  gint64 id = run->id;
  g_assert_true (set_field (job, JOB_HEAD, 1, "condition", "high work", NULL));
  g_assert_true (set_field (job, JOB_RUN, id, "condition", "congested ceiling", NULL));
  job_run_conditions (job, job_find (job, JOB_RUN, id), &f, NULL, NULL);
  g_assert_cmpint (f.ppm[LABOUR_HANG_AND_JOIN][LABOUR_AIR], ==, 1518000);
  g_autoptr (GArray) uses = job_conditions_of (job, job_find (job, JOB_RUN, id));
  static const char *const keys[] = { "high work", "field factor", "congested ceiling" };
  g_assert_cmpuint (uses->len, ==, 3);
  for (guint i = 0; i < uses->len; i++)
    g_assert_cmpstr (g_array_index (uses, JobConditionUse, i).key, ==, keys[i]);
  g_assert_cmpuint (job_over_cap (job), ==, 0);
  g_assert_true (set_setting (job, "conditions.cap", "1.5", NULL));
  g_assert_cmpuint (job_over_cap (job), ==, 1);
  g_autoptr (GPtrArray) cautions = job_labour_cautions (job);
  g_assert_cmpuint (cautions->len, ==, 1);
  g_assert_nonnull (strstr (cautions->pdata[0], "Plant"));
  g_assert_nonnull (strstr (cautions->pdata[0], "1.518"));
  g_autoptr (GArray) points = job_open_points (job);
  gboolean said = FALSE;
  for (guint i = 0; i < points->len; i++)
    said = said || (g_array_index (points, JobPoint, i).kind == JOB_POINT_LABOUR && !g_array_index (points, JobPoint, i).must);
  g_assert_true (said);
  /* It warns and does not clip. */
  job_run_conditions (job, job_find (job, JOB_RUN, id), &f, NULL, NULL);
  g_assert_cmpint (f.ppm[LABOUR_HANG_AND_JOIN][LABOUR_AIR], ==, 1518000);
  g_assert_true (set_setting (job, "conditions.join", "sum", NULL));
  job_run_conditions (job, job_find (job, JOB_RUN, id), &f, NULL, NULL);
  g_assert_cmpint (f.ppm[LABOUR_HANG_AND_JOIN][LABOUR_AIR], ==, 1450000);
  g_assert_cmpuint (job_over_cap (job), ==, 0);
  g_autoptr (GPtrArray) words = job_labour_words (job);
  g_assert_cmpuint (words->len, ==, 1);
  g_assert_nonnull (strstr (words->pdata[0], "conditions add"));
  g_assert_true (job_check_totals (job));
}

/* A factor of 0, above 10, and shares above 1 are refused on the record and in what-ifs. */
static void
test_refused (void)
{
  static const char *const texts[] = { "area.Plant.field_condition=0", "area.Plant.field_condition=10.01", "area.Plant.field_condition=-1",
                                       "area.Plant.share_joints_on_floor=1.2", "area.Plant.share_joints_remade=2",
                                       "area.Plant.pieces_raised_together=0", "run.9999.fit_pieces=1", "area.Nowhere.fit_pieces=1",
                                       "setting.overtime.table=no such", "setting.conditions.join=maximum", "setting.learning.slope=40" };
  g_autoptr (TallyJob) job = demo ();

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (GPtrArray) changes = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
      Fault *fault = NULL;
      g_ptr_array_add (changes, cost_change_parse (texts[i], NULL));
      g_assert_null (job_with (job, changes, LABOUR_LIKELY, &fault));
      g_assert_nonnull (fault);
      g_assert_cmpstr (fault->remedy, !=, "");
      fault_free (fault);
    }
}

/* 5 % of the joints of one area made once more: the steps at the joint and gasket, sealant and driven fasteners there x 1.05; bolts, cleats
 * and the rest as before. What is bought times its price is the money, and the areas add up to the job. */
static void
test_remade (void)
{
  g_autoptr (TallyJob) job = demo ();
  const Catalogue *c = job_basis (job)->catalogue;
  JobScope level = { 0, area_id (job, "Level 1") };
  int driven = catalogue_find_method (c, "slip-on-driven");
  JobTotals before, after, whole;

  job_totals (job, &level, driven, &before);
  g_assert_true (set_field (job, JOB_AREA, level.area, "share_joints_remade", "0.05", NULL));
  job_totals (job, &level, driven, &after);
  assert_near (num_wide_to_double (after.sums.joint_time) / num_wide_to_double (before.sums.joint_time), 1.05, 1e-6);
  g_assert_true (after.sums.time[0] - after.sums.joint_time == before.sums.time[0] - before.sums.joint_time);
  g_assert_cmpint (quantity (job, &after, "gasket butyl") + quantity (job, &after, "gasket neoprene"), >, 0);
  static const char *const again[] = { "gasket butyl", "gasket neoprene", "sealant tube", "driven fastener" };
  static const char *const kept[] = { "cleat 6 in metal", "slip-on flange", "corner for driven fasteners", "galvanised sheet" };
  for (gsize i = 0; i < G_N_ELEMENTS (again); i++)
    g_assert_cmpint (quantity (job, &after, again[i]), ==,
                     quantity (job, &before, again[i]) + num_div (quantity (job, &before, again[i]) * 5, 100));
  for (gsize i = 0; i < G_N_ELEMENTS (kept); i++)
    g_assert_cmpint (quantity (job, &after, kept[i]), ==, quantity (job, &before, kept[i]));
  NumWide money = after.vector[cost_measure_slot (job_basis (job), COST_OWN_MATERIAL)], parts = 0;
  for (int i = 0; i < job_basis (job)->n_items; i++)
    if (catalogue_item (c, i)->group == COST_MATERIAL)
      money += (NumWide) after.vector[i] * job_basis (job)->price[i];
  g_assert_true (money == after.sums.items[COST_MATERIAL]);
  whole = totals_of (job, driven);
  for (guint i = 0; i < job_n (job, JOB_AREA); i++)
    {
      JobScope scope = { 0, job_at (job, JOB_AREA, i)->id };
      JobTotals part;
      job_totals (job, &scope, driven, &part);
      parts += part.sums.items[COST_MATERIAL];
      job_totals_clear (&part);
    }
  g_assert_true (parts == whole.sums.items[COST_MATERIAL]);
  g_assert_true (job_check_totals (job));
  job_totals_clear (&before);
  job_totals_clear (&after);
  job_totals_clear (&whole);
}

/* Two pieces raised together spend the 12 fixed minutes of "raise and hold" once: 6 saved a piece that is raised, x the condition of the
 * area (1.00 on Level 1); what goes by pounds stays. Conditions on the floor reach only the joints made there. */
static void
test_floor_and_raised (void)
{
  g_autoptr (TallyJob) job = demo ();
  const CostBasis *basis = job_basis (job);
  gint64 level = area_id (job, "Level 1");
  JobScope scope = { 0, level };
  int raise = labour_find_step (basis->catalogue->labour, "raise and hold");
  JobTotals before, after, three;
  gint64 fixed_ms = 0;

  job_totals (job, &scope, JOB_OWN_METHOD, &before);
  for (int i = 0; i < basis->n_slots; i++)
    if (basis->slots[i].step == raise && basis->slots[i].shared)
      fixed_ms += before.vector[basis->n_items + i];
  g_assert_cmpint (fixed_ms, >, 0);
  g_assert_cmpint (fixed_ms % 72000, ==, 0); /* 12 min a piece, a tenth of it being the least part that a recipe takes */
  g_assert_true (set_field (job, JOB_AREA, level, "pieces_raised_together", "2", NULL));
  job_totals (job, &scope, JOB_OWN_METHOD, &after);
  g_assert_true (before.sums.time[0] - after.sums.time[0] == (NumWide) fixed_ms / 2 * 1000000);
  g_assert_true (set_field (job, JOB_AREA, level, "pieces_raised_together", "3", NULL));
  job_totals (job, &scope, JOB_OWN_METHOD, &three);
  assert_near (num_wide_to_double (before.sums.time[0] - three.sums.time[0]), (double) fixed_ms * 2 / 3 * 1e6, (double) fixed_ms);
  g_assert_true (job_check_totals (job));
  job_totals_clear (&after);
  job_totals_clear (&three);
  /* Height reaches joints in the air: with 40 % made on the floor 60 % of the joints carry the 1.15. */
  g_assert_true (set_field (job, JOB_AREA, level, "pieces_raised_together", "1", NULL));
  g_assert_true (set_field (job, JOB_AREA, level, "condition", "high work", NULL));
  g_assert_true (set_field (job, JOB_AREA, level, "share_joints_on_floor", "0.4", NULL));
  job_totals (job, &scope, JOB_OWN_METHOD, &after);
  assert_near (num_wide_to_double (after.sums.joint_time) / num_wide_to_double (before.sums.joint_time), 1 + 0.6 * 0.15, 1e-6);
  job_totals_clear (&before);
  job_totals_clear (&after);
}

/* Each lever is reached by a what-if, moves the field hours the right way, and leaves the job as it was. */
static void
test_levers (void)
{
  static const struct
  {
    const char *change;
    int sign;
  } rows[] = { { "area.Level 1.share_joints_remade=0.05", 1 },
               { "area.Level 1.pieces_raised_together=2", -1 },
               { "area.Level 1.fit_pieces=1", 1 },
               { "system.SA-1.fit_pieces=1", 1 },
               { "job..fit_pieces=1", 1 },
               { "run.1.condition=high work", 1 },
               { "run.1.fit_pieces=1", 1 },
               { "setting.overtime.hours=50", 0 },
               { "setting.learning.model=unit", 1 } }; /* never below the entered minutes */
  g_autoptr (TallyJob) job = demo ();
  JobTotals plain = totals_of (job, JOB_OWN_METHOD);

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GPtrArray) changes = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
      Fault *fault = NULL;
      g_ptr_array_add (changes, cost_change_parse (rows[i].change, NULL));
      g_autoptr (TallyJob) with = job_with (job, changes, LABOUR_LIKELY, &fault);
      g_assert_null (fault);
      JobTotals t = totals_of (with, JOB_OWN_METHOD), kept = totals_of (job, JOB_OWN_METHOD);
      int sign = (t.sums.time[0] > plain.sums.time[0]) - (t.sums.time[0] < plain.sums.time[0]);
      g_assert_cmpint (sign, ==, rows[i].sign);
      g_assert_cmpint (t.not_priced, ==, plain.not_priced);
      g_assert_true (t.sums.labour[0] != plain.sums.labour[0]);
      g_assert_true (kept.sums.labour[0] == plain.sums.labour[0]);
      g_assert_true (job_check_totals (with));
      job_totals_clear (&t);
      job_totals_clear (&kept);
    }
  /* The floor share is worth something where a condition makes the air dear. */
  g_autoptr (GPtrArray) both = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
  g_ptr_array_add (both, cost_change_parse ("job..condition=high work", NULL));
  g_autoptr (TallyJob) air = job_with (job, both, LABOUR_LIKELY, NULL);
  g_ptr_array_add (both, cost_change_parse ("area.Level 1.share_joints_on_floor=0.5", NULL));
  g_autoptr (TallyJob) floor = job_with (job, both, LABOUR_LIKELY, NULL);
  JobTotals a = totals_of (air, JOB_OWN_METHOD), b = totals_of (floor, JOB_OWN_METHOD);
  g_assert_true (b.sums.time[0] < a.sums.time[0]);
  job_totals_clear (&a);
  job_totals_clear (&b);
  job_totals_clear (&plain);
}

/* Nothing of this is on in the demo: its figures are those of demo.md (invented demo), and the model adds nothing to them but the areas'
 * own factors. */
static void
test_off (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (GPtrArray) words = job_labour_words (job), cautions = job_labour_cautions (job);
  JobTotals t = totals_of (job, JOB_OWN_METHOD);
  g_autoptr (BuildUp) up = buildup_new (job_basis (job), &t.sums, 2);
  JobLabourEffect effect;

  g_assert_cmpint (buildup_get (up, "price"), ==, 20759042);
  g_assert_cmpuint (words->len, ==, 0);
  g_assert_cmpuint (cautions->len, ==, 0);
  job_labour_effect (job, JOB_OWN_METHOD, &effect);
  assert_near (effect.field_hours, 819.68, 0.005);
  assert_near (effect.shop_hours, effect.plain_shop, 1e-9);
  g_assert_cmpfloat (effect.plain_field, <, effect.field_hours);
  g_assert_cmpfloat (effect.plain_field * 1.10, >, effect.field_hours);
  job_totals_clear (&t);
}

/* A list of conditions keeps its order; naming twice and taking away what is not there change nothing. */
static void
test_lists (void)
{
  g_autofree char *one = job_conditions_with (NULL, "high work", TRUE), *two = job_conditions_with (one, "weather", TRUE);
  g_autofree char *again = job_conditions_with (two, "weather", TRUE), *less = job_conditions_with (two, "high work", FALSE);
  g_autofree char *none = job_conditions_with (less, "weather", FALSE), *same = job_conditions_with (less, "high work", FALSE);

  g_assert_cmpstr (one, ==, "high work");
  g_assert_cmpstr (two, ==, "high work; weather");
  g_assert_cmpstr (again, ==, two);
  g_assert_cmpstr (less, ==, "weather");
  g_assert_cmpstr (none, ==, "");
  g_assert_cmpstr (same, ==, "weather");
  g_assert_true (job_conditions_name (two, "weather"));
  g_assert_false (job_conditions_name (two, "work"));
}

static const char *const conditions[] = { "", "high work", "congested ceiling; weather", "occupied building", "waiting for a lift" };

static void
random_edit (TallyJob *job, GRand *rand)
{
  gint64 area = job_at (job, JOB_AREA, (guint) g_rand_int_range (rand, 0, (int) job_n (job, JOB_AREA)))->id;
  gint64 run = job_at (job, JOB_RUN, (guint) g_rand_int_range (rand, 0, (int) job_n (job, JOB_RUN)))->id;
  static const char *const shares[] = { "", "0", "0.05", "0.333333" };
  static const char *const raised[] = { "", "1", "2", "5" };
  static const char *const joins[] = { "product", "sum", "" };
  static const char *const models[] = { "none", "unit", "cumulative-average" };
  static const char *const hours[] = { "40", "50", "60" };
  static const char *const sizes[] = { "24x12", "48x20", "10x8" };

  switch (g_rand_int_range (rand, 0, 11))
    {
    case 0:
    case 1:
    case 2:
      set_field (job, JOB_RUN, run, "condition", conditions[g_rand_int_range (rand, 0, 5)], NULL);
      break;
    case 3:
      set_field (job, JOB_AREA, area, "share_joints_remade", shares[g_rand_int_range (rand, 0, 4)], NULL);
      break;
    case 4:
      set_field (job, JOB_AREA, area, "share_joints_on_floor", shares[g_rand_int_range (rand, 0, 4)], NULL);
      break;
    case 5:
      set_field (job, JOB_AREA, area, "pieces_raised_together", raised[g_rand_int_range (rand, 0, 4)], NULL);
      break;
    case 6:
      set_setting (job, "conditions.join", joins[g_rand_int_range (rand, 0, 3)], NULL);
      break;
    case 7:
      set_setting (job, "learning.model", models[g_rand_int_range (rand, 0, 3)], NULL);
      break;
    case 8:
      set_setting (job, "overtime.hours", hours[g_rand_int_range (rand, 0, 3)], NULL);
      break;
    case 9:
      set_field (job, JOB_RUN, run, "size", sizes[g_rand_int_range (rand, 0, 3)], NULL);
      break;
    default:
      set_field (job, JOB_AREA, area, "condition", conditions[g_rand_int_range (rand, 0, 5)], NULL);
    }
}

/* Totals kept up to date are those reckoned anew, after any mixture of edits and undos; and undone to the start the job is what it was. */
static void
test_random (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (GRand) rand = g_rand_new_with_seed (2027);
  JobTotals first = totals_of (job, JOB_OWN_METHOD), last;

  for (int i = 0; i < 600; i++)
    {
      if (g_rand_int_range (rand, 0, 4) == 0)
        g_rand_boolean (rand) ? job_undo (job, NULL) : job_redo (job, NULL);
      else
        random_edit (job, rand);
      if (i % 20 == 19)
        g_assert_true (job_check_totals (job));
      if (i % 100 == 99)
        {
          JobTotals kept = totals_of (job, JOB_OWN_METHOD), anew;
          g_autoptr (TallyJob) copy = job_copy (job, LABOUR_LIKELY);
          anew = totals_of (copy, JOB_OWN_METHOD);
          for (int g = 0; g < 2; g++)
            g_assert_true (kept.sums.labour[g] == anew.sums.labour[g]);
          g_assert_true (kept.sums.items[COST_MATERIAL] == anew.sums.items[COST_MATERIAL]);
          job_totals_clear (&kept);
          job_totals_clear (&anew);
        }
    }
  while (job_undo_label (job))
    g_assert_true (job_undo (job, NULL));
  g_assert_true (job_check_totals (job));
  last = totals_of (job, JOB_OWN_METHOD);
  g_assert_true (first.sums.labour[0] == last.sums.labour[0] && first.sums.items[COST_MATERIAL] == last.sums.items[COST_MATERIAL]);
  job_totals_clear (&first);
  job_totals_clear (&last);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/conditions/off", test_off);
  g_test_add_func ("/conditions/run", test_run_condition);
  g_test_add_func ("/conditions/join", test_join);
  g_test_add_func ("/conditions/refused", test_refused);
  g_test_add_func ("/conditions/remade", test_remade);
  g_test_add_func ("/conditions/floor-and-raised", test_floor_and_raised);
  g_test_add_func ("/conditions/levers", test_levers);
  g_test_add_func ("/conditions/lists", test_lists);
  g_test_add_func ("/conditions/random", test_random);
  return g_test_run ();
}
