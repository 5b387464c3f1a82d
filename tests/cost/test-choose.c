/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cheapest construction against a brute force that tries every sheet, coil, spacing, member and number of rods of small random
 * rule sets and reads the rules by itself. */
#include "duct/stiff-fixture.h"

#include "cost/choose.h"

#define MOST_ROWS 64

/* A rule set as the test reads it: plain numbers, no look-up of the program. */
typedef struct
{
  struct
  {
    double class_in, from, to, spacing, thick, ei; /* spacing in inches, 1e9 for none; ei 0 for none */
  } row[MOST_ROWS];
  int n_rows;
  double joint[5];          /* EI by gauge index */
  struct
  {
    double side, ei;
    int rods;
  } rod[3];
  int n_rods;
} Plain;

static const char *const gauges[] = { "26", "24", "22", "20", "18" };
/* nominal thickness, ASTM A924 table as reprinted (published) */
static const double thick[] = { 0.0217, 0.0276, 0.0336, 0.0396, 0.0516 };
static const char *const codes[] = { "", "A", "C", "E", "G", "I", "K", "L" };
/* stiffness classes (from memory) */
static const double code_ei[] = { 0, 0.43, 1.9, 6.5, 15.8, 69, 103, 207 };
static const double spacings[] = { 24, 30, 48, 60, 1e9 };

static Catalogue *
random_set (Plain *p)
{
  g_autoptr (GString) rows = g_string_new (STIFF_ROWS), joints = g_string_new (STIFF_JOINTS), rods = g_string_new (STIFF_RODS);
  static const double ends[] = { 18, 36, 54, 84 };

  *p = (Plain) { .n_rows = 0 };
  for (int c = 1; c <= 2; c++)
    for (gsize s = 0; s < G_N_ELEMENTS (spacings); s++)
      {
        int to = g_test_rand_int_range (s < 2 ? 3 : 0, 5); /* how far the rows of this spacing go */
        for (int i = 0; i < to; i++)
          {
            int g = g_test_rand_int_range (0, 5), k = spacings[s] > 1e8 ? 0 : g_test_rand_int_range (0, (int) G_N_ELEMENTS (codes));
            double from = i == 0 ? 0 : ends[i - 1] + 1;
            g_autofree char *feet = spacings[s] > 1e8 ? g_strdup ("") : g_strdup_printf ("%g", spacings[s] / 12);
            g_string_append_printf (rows, "demo-complete,%d,,%g,%g,%s,%s,%s\n", c, from, ends[i], feet, gauges[g], codes[k]);
            p->row[p->n_rows].class_in = c;
            p->row[p->n_rows].from = from;
            p->row[p->n_rows].to = ends[i];
            p->row[p->n_rows].spacing = spacings[s];
            p->row[p->n_rows].thick = thick[g];
            p->row[p->n_rows++].ei = code_ei[k];
          }
      }
  for (int g = 0; g < 5; g++)
    {
      int k = g_test_rand_int_range (0, 6);
      p->joint[g] = MAX (code_ei[k], g > 0 ? p->joint[g - 1] : 0);
      for (k = 0; code_ei[k] < p->joint[g];)
        k++;
      g_string_append_printf (joints, "demo-complete,slip-on,1 3/8,%s,%s,\n", gauges[g], codes[k]);
    }
  p->n_rods = g_test_rand_int_range (0, 4);
  for (int i = 0; i < p->n_rods; i++)
    {
      int k = g_test_rand_int_range (2, (int) G_N_ELEMENTS (codes));
      p->rod[i].side = ends[g_test_rand_int_range (0, 4)];
      p->rod[i].ei = code_ei[k];
      p->rod[i].rods = g_test_rand_int_range (1, 4);
      g_string_append_printf (rods, "demo-complete,2,%g,%s,%d\n", p->rod[i].side, codes[k], p->rod[i].rods);
    }
  return stiff_catalogue (rows->str, joints->str, rods->str);
}

static gboolean
rods_hold (const Plain *p, double side, double ei, int rods)
{
  for (int i = 0; i < p->n_rods; i++)
    if (side <= p->rod[i].side && p->rod[i].ei >= ei && rods >= p->rod[i].rods)
      return TRUE;
  return FALSE;
}

/* Whether some row allows a side at a spacing, with its joints and (station) what stands between them. */
static gboolean
row_allows (const Plain *p, int class_in, double side, int g, double spacing, int joint_rods, gboolean station, double member, int rods)
{
  for (int i = 0; i < p->n_rows; i++)
    {
      double ei = p->row[i].ei;
      if (p->row[i].class_in != class_in || ceil (side - 1e-9) < p->row[i].from || side > p->row[i].to + 1e-9 || spacing > p->row[i].spacing + 1e-6
          || thick[g] < p->row[i].thick)
        continue;
      if (ei > 0 && p->joint[g] < ei && !rods_hold (p, side, ei, joint_rods))
        continue;
      if (station && member < 0.98 * ei && !rods_hold (p, side, ei, rods))
        continue;
      if (station && member < 0 && rods == 0)
        continue;
      return TRUE;
    }
  return FALSE;
}

/* @between: spacing of the stations, 0 none. */
static gboolean
allowed (const Plain *p, int class_in, const double *side, int g, double length, double between, int joint_rods, double member, int rods)
{
  for (int i = 0; i < 2; i++)
    if (!row_allows (p, class_in, side[i], g, length, joint_rods, FALSE, 0, 0)
        && !(between > 0 && between < length && row_allows (p, class_in, side[i], g, between, joint_rods, TRUE, member, rods)))
      return FALSE;
  return TRUE;
}

/* What a pinned construction costs: build-up line "cost" without its fixed amounts. */
static double
cost_of (const CostBasis *basis, int method, int set, const DuctShape *shape)
{
  const DuctRules *rules = basis->catalogue->rules;
  g_autofree gint64 *vector = g_new (gint64, (gsize) basis->n_vector);
  LabourFactors factors;
  CostSums sums = { 0 }, none = { 0 };
  DuctMeasure measure;
  DuctBuild build;
  int line = buildup_find (basis, "cost");

  labour_factors_init (&factors);
  g_assert_true (duct_choose_build (rules, set, catalogue_method (basis->catalogue, method)->connection, shape, &build, NULL));
  g_assert_false (build.not_by_set);
  g_assert_true (duct_measure (rules, shape, &build, &measure, NULL));
  cost_price_measure (basis, method, (DuctKind) shape->kind, &measure, LABOUR_LIKELY, vector);
  cost_sums_add (&sums, basis, vector, &factors, 0, 1);
  return buildup_smooth (basis, &sums, line) - buildup_smooth (basis, &none, line);
}

typedef struct
{
  const CostBasis *basis;
  const Plain *plain;
  const DuctShape *shape;
  const DuctWishes *wishes;
  int method, set, class_in;
  double side[2], best;
  char *name;
} Brute;

/* Every way between the joints for one sheet, coil and number of joint rods. */
static void
brute_between (Brute *b, DuctShape *pinned, int g, double length, int joint_rods)
{
  const GPtrArray *members = b->basis->catalogue->rules->members;
  int most = b->wishes->no_rods ? 0 : 3;

  for (gsize s = 0; s < G_N_ELEMENTS (spacings); s++)
    {
      double between = spacings[s] < length ? spacings[s] : 0;
      for (int m = -1; m < (int) members->len; m++)
        for (int rods = 0; rods <= (m < 0 ? most : 0); rods++)
          {
            double ei = m < 0 ? -1 : ((DuctMember *) g_ptr_array_index (members, (guint) m))->ei;
            /* Nothing stands between the joints, or something does. */
            if ((between == 0) != (m < 0 && rods == 0))
              continue;
            if (!allowed (b->plain, b->class_in, b->side, g, length, between, joint_rods, ei, rods))
              continue;
            pinned->stiffening = (DuctStiffening) { between > 0 ? (gint64) (between * IN + 0.5) : DUCT_UNSET, (gint16) (between > 0 ? m : -1),
                                                    (gint16) (between > 0 ? rods : 0), (gint16) joint_rods, 0 };
            double cost = cost_of (b->basis, b->method, b->set, pinned);
            if (cost >= b->best)
              continue;
            b->best = cost;
            g_free (b->name);
            b->name = duct_stiffening_print (b->basis->catalogue->rules, &pinned->stiffening, pinned->coil);
          }
    }
}

static double
brute (Brute *b)
{
  const DuctRules *rules = b->basis->catalogue->rules;
  static const double coils[] = { 60, 48 };
  gboolean straight = b->shape->kind == DUCT_STRAIGHT;
  int least = 5;

  b->best = 1e18;
  for (int pass = 0; pass < 2; pass++)
    {
      b->best = 1e18;
      for (int g = 0; g < 5; g++)
        for (int c = 0; c < (straight && !b->wishes->fixed ? 2 : 1); c++)
          for (int joint_rods = 0; joint_rods <= (b->wishes->no_rods ? 0 : 3); joint_rods++)
            {
              DuctShape pinned = *b->shape;
              DuctGeometry geometry;
              gboolean named = FALSE;
              double length, before = b->best;
              for (int i = 0; i < b->plain->n_rows; i++)
                named = named || b->plain->row[i].thick == thick[g];
              if (!named || (pass == 1 && g != least))
                continue;
              duct_geometry (rules, b->shape, &geometry);
              length = straight ? MIN (coils[c], (double) b->shape->dim[DUCT_DIM_LENGTH] / 25.4e6) : geometry.centreline_mm / 25.4;
              pinned.sheet_pin = (gint16) duct_rules_find_sheet (rules, DUCT_GALVANISED, gauges[g]);
              if (straight)
                pinned.coil = (gint64) (coils[c] * IN);
              brute_between (b, &pinned, g, length, joint_rods);
              if (b->best < before && g < least)
                least = g;
            }
      if (!b->wishes->least_gauge)
        break;
    }
  return b->best;
}

static void
test_brute (void)
{
  int found = 0, refused = 0, stiffened = 0;
  LabourFactors factors;

  labour_factors_init (&factors);
  for (int round = 0; round < 60; round++)
    {
      Plain plain;
      g_autoptr (Catalogue) c = random_set (&plain);
      g_autoptr (CostBasis) basis = cost_basis_new (c, NULL, NULL, NULL);
      int method = catalogue_find_method (c, "slip-on-bolted"), set = duct_rules_find_set (c->rules, STIFF_SET);
      for (int k = 0; k < 6; k++)
        {
          DuctWishes wishes = { g_test_rand_int_range (0, 4) == 0, FALSE, g_test_rand_int_range (0, 4) == 0, g_test_rand_int_range (0, 4) == 0, DUCT_UNSET };
          Brute b = { basis, &plain, NULL, &wishes, method, set, g_test_rand_int_range (1, 3), { 0 }, 0, NULL };
          DuctShape s = fixture_shape (g_test_rand_int_range (0, 3) ? DUCT_STRAIGHT : DUCT_RADIUS_ELBOW, g_test_rand_int_range (12, 170) / 2.0,
                                       g_test_rand_int_range (12, 170) / 2.0, b.class_in);
          if (s.kind == DUCT_STRAIGHT)
            s.dim[DUCT_DIM_LENGTH] = g_test_rand_int_range (6, 400) * IN;
          fixture_resolve (c->rules, &s);
          b.shape = &s;
          b.side[0] = (double) s.w / 25.4e6;
          b.side[1] = (double) s.h / 25.4e6;
          double wanted = brute (&b);
          g_autoptr (CostChoice) choice = cost_choose (basis, method, set, &s, &wishes, &factors, 0, g_test_rand_bit ());
          if (wanted > 1e17)
            {
              g_assert_cmpint (choice->best, ==, -1);
              g_assert_null (b.name);
              refused++;
              continue;
            }
          g_assert_cmpint (choice->best, ==, 0);
          const CostCandidate *best = cost_choice_at (choice, 0);
          g_autofree char *name = duct_candidate_print (c->rules, &best->candidate);
          g_test_message ("%d.%d %gx%g: %s %.4f, by force %s %.4f", round, k, b.side[0], b.side[1], name, best->cost, b.name, wanted);
          g_free (b.name);
          assert_near (best->cost, wanted, 1e-6);
          found++;
          stiffened += best->candidate.build.stiffening.spacing > 0 || best->candidate.build.stiffening.joint_rods > 0;
        }
    }
  /* The random sets are such that every case comes up. */
  g_assert_cmpint (found, >, 60);
  g_assert_cmpint (refused, >, 10);
  g_assert_cmpint (stiffened, >, 10);
}

/* On the demo's complete set (invented demo): every candidate, pinned, is what the set allows and costs what was told; none is
 * cheaper than the first. */
static void
test_candidates (void)
{
  g_autoptr (Catalogue) c = catalogue_starter ();
  g_autoptr (CostBasis) basis = cost_basis_new (c, NULL, NULL, NULL);
  int method = catalogue_find_method (c, "slip-on-bolted"), set = duct_rules_find_set (c->rules, STIFF_SET);
  DuctShape s = fixture_shape (DUCT_STRAIGHT, 96, 30, 4);
  DuctWishes wishes = DUCT_NO_WISHES;
  LabourFactors factors;

  labour_factors_init (&factors);
  s.dim[DUCT_DIM_LENGTH] = 23 * FT;
  fixture_resolve (c->rules, &s);
  g_autoptr (CostChoice) choice = cost_choose (basis, method, set, &s, &wishes, &factors, 0, TRUE);
  guint priced = 0;
  for (int i = 0; i < (int) choice->list->len; i++)
    {
      const CostCandidate *candidate = cost_choice_at (choice, i);
      g_autofree char *words = duct_candidate_words (c->rules, &s, &candidate->candidate);
      DuctShape pinned;
      g_assert_cmpuint (strlen (words), >, 0);
      if (!candidate->priced)
        {
          g_assert_true (strstr (words, "no row") || strstr (words, "not stiff enough"));
          continue;
        }
      /* the rule that admits it: table, line, source and status */
      g_assert_nonnull (strstr (words, "reinforcement line"));
      g_assert_nonnull (strstr (words, "invented demo"));
      priced++;
      duct_candidate_shape (&candidate->candidate, &s, &pinned);
      assert_near (cost_of (basis, method, set, &pinned), candidate->cost, 1e-9);
      g_assert_cmpfloat (candidate->cost, >=, cost_choice_at (choice, 0)->cost);
    }
  g_assert_cmpuint (priced, >, 4);
  g_assert_cmpuint (priced, <, choice->list->len);

  /* A job that dislikes rods gets none. */
  wishes.no_rods = TRUE;
  g_autoptr (CostChoice) plain = cost_choose (basis, method, set, &s, &wishes, &factors, 0, FALSE);
  g_assert_cmpint (plain->best, ==, 0);
  for (int i = 0; i < (int) plain->list->len; i++)
    {
      const DuctStiffening *st = &cost_choice_at (plain, i)->candidate.build.stiffening;
      g_assert_cmpint (st->rods + st->joint_rods, ==, 0);
    }
  g_assert_cmpfloat (cost_choice_at (plain, 0)->cost, >=, cost_choice_at (choice, 0)->cost);

  /* With two gauges allowed it never gets dearer. */
  wishes = (DuctWishes) { .two_gauges = TRUE, .coil = DUCT_UNSET };
  g_autoptr (CostChoice) two = cost_choose (basis, method, set, &s, &wishes, &factors, 0, FALSE);
  g_assert_cmpfloat (cost_choice_at (two, 0)->cost, <=, cost_choice_at (choice, 0)->cost);
  g_assert_cmpuint (two->list->len, >, priced);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/choose/brute-force", test_brute);
  g_test_add_func ("/choose/candidates", test_candidates);
  return g_test_run ();
}
