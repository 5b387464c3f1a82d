/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ends and joints: the table of ends, and random networks whose generator knows their joints. Geometry and the
 * project's own rules of counting; laid lengths and the gauge ladder are invented demo. */
#include "fixture.h"

static Catalogue *starter;

/* Counts come in thousandths. */
#define assert_count(m, slot, n) g_assert_cmpint (duct_measure_sum ((m), (slot)), ==, (gint64) (n) *1000)

static DuctShape
straight (double w, double h, double class_in, double length_in)
{
  DuctShape s = fixture_shape (DUCT_STRAIGHT, w, h, class_in);

  s.dim[DUCT_DIM_LENGTH] = (gint64) (length_in * IN + 0.5);
  return s;
}

static void
measure (DuctShape *s, const char *connection, DuctMeasure *m)
{
  fixture_measure (starter->rules, s, connection, m);
}

/* The table of ends: made by us, joint at a first end, joint at a last end, half made by others. */
static void
test_ends (void)
{
  static const struct
  {
    DuctEnd end;
    int made, at_first, at_last, others;
  } rows[] = {
    { DUCT_END_JOINT, 1, 1, 0, 0 },  { DUCT_END_EQUIPMENT, 1, 1, 1, 1 }, { DUCT_END_FLEXIBLE, 1, 1, 1, 1 },
    { DUCT_END_SLEEVE, 1, 1, 1, 1 }, { DUCT_END_OPEN, 1, 0, 0, 0 },      { DUCT_END_RAW, 0, 0, 0, 0 },
  };
  static const char *const connection[] = { "slip-on", "integral", "slip-and-drive" };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    for (int c = 0; c < 3; c++)
      {
        DuctShape first = straight (16, 12, 1, 50), last = straight (16, 12, 1, 50),
                  tap = fixture_shape (DUCT_TAP, 16, 12, 1);
        DuctShape cap = fixture_shape (DUCT_END_CAP, 16, 12, 1);
        DuctShape *shapes[] = { &first, &last, &tap, &cap };
        int joint = c == 2 ? DUCT_SD_JOINT : DUCT_FLANGED_JOINT;
        first.last_end = last.first_end = DUCT_END_RAW;
        first.first_end = cap.first_end = (guint8) rows[i].end;
        last.last_end = tap.last_end = (guint8) rows[i].end;
        for (int k = 0; k < 4; k++)
          {
            DuctMeasure m;
            g_test_message ("%s, %s, shape %d", duct_end_key (rows[i].end), connection[c], k);
            measure (shapes[k], connection[c], &m);
            assert_count (&m, DUCT_END_MADE, rows[i].made);
            assert_count (&m, DUCT_END_OTHERS, rows[i].others);
            /* a tap's one end is its last, a cap's its first */
            assert_count (&m, joint, k == 0 || k == 3 ? rows[i].at_first : rows[i].at_last);
            g_assert_cmpint (duct_measure_sum (&m, DUCT_FRAME) + duct_measure_sum (&m, DUCT_INTEGRAL_END)
                                 + duct_measure_sum (&m, DUCT_SD_END),
                             ==, rows[i].made * 1000);
          }
      }
}

/* ---- random networks ---- */

typedef struct
{
  GRand *rand;
  const char *connection;
  GArray *runs; /* DuctShape */
  gint64 joints, made, others, open;
  gint64 lone_first, lone_last; /* ends left to the default that nothing meets */
  gint64 pieces;
} Network;

static gboolean
chance (Network *n, double p)
{
  return g_rand_double (n->rand) < p;
}

static double
side (Network *n)
{
  return g_rand_int_range (n->rand, 6, 30);
}

/* An outer end, counted as what it physically is. */
static guint8
outer_end (Network *n, gboolean first)
{
  DuctEnd end = (DuctEnd) g_rand_int_range (n->rand, 0, DUCT_N_ENDS);

  if (end == DUCT_END_RAW)
    return DUCT_END_RAW;
  n->made++;
  if (end == DUCT_END_OPEN)
    n->open++;
  else if (end == DUCT_END_JOINT)
    *(first ? &n->lone_first : &n->lone_last) += 1;
  else
    {
      n->others++;
      n->joints++;
    }
  return (guint8) end;
}

/* Two ends of ours meet. */
static void
meet (Network *n)
{
  n->made += 2;
  n->joints++;
}

/* A run of @pieces: the laid length times one fewer, and the rest. */
static DuctShape
random_run (Network *n)
{
  static const DuctKind kinds[] = { DUCT_STRAIGHT,     DUCT_STRAIGHT,   DUCT_STRAIGHT, DUCT_RADIUS_ELBOW,
                                    DUCT_MITRED_ELBOW, DUCT_TRANSITION, DUCT_OFFSET };
  DuctShape s = fixture_shape (kinds[g_rand_int_range (n->rand, 0, G_N_ELEMENTS (kinds))], side (n), side (n), 2);
  int at = duct_rules_find_connection (starter->rules, n->connection), pieces = 1;
  const DuctConnection *c = duct_rules_connection (starter->rules, at);
  gint64 laid = c->coil_nm - c->take_up_nm;

  if (s.kind == DUCT_STRAIGHT)
    {
      pieces = g_rand_int_range (n->rand, 1, 9);
      s.dim[DUCT_DIM_LENGTH] = (pieces - 1) * laid + (chance (n, 0.3) ? laid : g_rand_int_range (n->rand, 1, 57) * IN);
    }
  if (s.kind == DUCT_TRANSITION)
    {
      s.dim[DUCT_DIM_W2] = (gint64) side (n) * IN;
      s.dim[DUCT_DIM_H2] = (gint64) side (n) * IN;
    }
  n->pieces += pieces;
  for (int i = 1; i < pieces; i++)
    meet (n);
  return s;
}

static void branch (Network *n, int depth, gboolean met);

static void
add_tap (Network *n, int depth)
{
  DuctShape tap = fixture_shape (DUCT_TAP, side (n), side (n), 2);
  gboolean followed = depth > 0 && chance (n, 0.7);

  n->pieces++;
  if (!followed)
    tap.last_end = outer_end (n, FALSE);
  g_array_append_val (n->runs, tap);
  if (followed)
    branch (n, depth - 1, TRUE);
}

/* A line of runs in the direction of flow. @met: its first end meets an end of ours. */
static void
branch (Network *n, int depth, gboolean met)
{
  int runs = g_rand_int_range (n->rand, 1, 8);

  for (int i = 0; i < runs; i++)
    {
      DuctShape s = random_run (n);
      int taps = s.kind == DUCT_STRAIGHT ? g_rand_int_range (n->rand, 0, 3) : 0;
      if (i > 0 || met)
        meet (n);
      else
        s.first_end = outer_end (n, TRUE);
      if (i + 1 == runs)
        {
          if (chance (n, 0.4))
            {
              DuctShape cap = fixture_shape (DUCT_END_CAP, side (n), side (n), 2);
              g_array_append_val (n->runs, cap);
              n->pieces++;
              meet (n);
            }
          else
            s.last_end = outer_end (n, FALSE);
        }
      g_array_append_val (n->runs, s);
      while (taps-- > 0)
        add_tap (n, depth);
    }
}

/* Made ends + ends by others - 2 x joints = unmatched + open, where a lone last end counts up and a lone first end
 * down, since a joint was written on it that nothing closes. */
static void
test_networks (void)
{
  static const char *const connection[] = { "slip-on", "integral", "slip-and-drive" };
  g_autoptr (GRand) rand = g_rand_new_with_seed (22);

  for (int i = 0; i < 300; i++)
    {
      Network n = { .rand = rand,
                    .connection = connection[i % 3],
                    .runs = g_array_new (FALSE, TRUE, sizeof (DuctShape)) };
      gint64 joints = 0, made = 0, others = 0, pieces = 0, edges = 0;

      for (int trees = g_rand_int_range (rand, 1, 4); trees > 0; trees--)
        branch (&n, 3, FALSE);
      for (guint k = 0; k < n.runs->len; k++)
        {
          DuctMeasure m;
          measure (&g_array_index (n.runs, DuctShape, k), n.connection, &m);
          joints += duct_measure_sum (&m, DUCT_FLANGED_JOINT) + duct_measure_sum (&m, DUCT_SD_JOINT);
          made += duct_measure_sum (&m, DUCT_END_MADE);
          others += duct_measure_sum (&m, DUCT_END_OTHERS);
          pieces += duct_measure_sum (&m, DUCT_PIECE);
          edges += duct_measure_sum (&m, DUCT_FRAME) + duct_measure_sum (&m, DUCT_INTEGRAL_END)
                   + duct_measure_sum (&m, DUCT_SD_END);
        }
      g_test_message ("network %d: %u runs, %d joints", i, n.runs->len, (int) n.joints);
      g_assert_cmpint (pieces, ==, n.pieces * 1000);
      g_assert_cmpint (made, ==, n.made * 1000);
      g_assert_cmpint (edges, ==, n.made * 1000);
      g_assert_cmpint (others, ==, n.others * 1000);
      g_assert_cmpint (joints, ==, (n.joints + n.lone_first) * 1000);
      g_assert_cmpint (made + others - 2 * joints, ==, (n.lone_last - n.lone_first + n.open) * 1000);
      g_array_unref (n.runs);
    }
}

int
main (int argc, char **argv)
{
  int answer;

  g_test_init (&argc, &argv, NULL);
  starter = catalogue_starter ();
  g_test_add_func ("/ends/table", test_ends);
  g_test_add_func ("/ends/networks", test_networks);
  answer = g_test_run ();
  catalogue_unref (starter);
  return answer;
}
