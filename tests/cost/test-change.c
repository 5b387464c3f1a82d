/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures changed for one job or one answer. The figures that are changed are invented demo. */
#include "priced.h"

static void
test_parse (void)
{
  static const struct
  {
    const char *text, *object, *key, *field, *value;
  } rows[] = {
    { "item.driven fastener.price=1.10", "item", "driven fastener", "price", "1.10" },
    { "item.vane 3.25 in.price=2", "item", "vane 3.25 in", "price", "2" },
    { "step.cleat.likely=0.4", "step", "cleat", "likely", "0.4" },
    { "rate.field=95", "rate", "", "field", "95" },
    { "buildup.overhead.rate=10", "buildup", "overhead", "rate", "10" },
  };
  static const char *const bad[] = { "", "price", "item.screw.price", "=1", "item=2.5" };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      CostChange *change = cost_change_parse (rows[i].text, NULL);
      g_assert_nonnull (change);
      g_assert_cmpstr (change->object, ==, rows[i].object);
      g_assert_cmpstr (change->key, ==, rows[i].key);
      g_assert_cmpstr (change->field, ==, rows[i].field);
      g_assert_cmpstr (change->value, ==, rows[i].value);
      cost_change_free (change);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (Fault) fault = NULL;
      g_assert_null (cost_change_parse (bad[i], &fault));
      g_assert_nonnull (strstr (fault->remedy, "item.driven fastener.price=1.10"));
    }
}

static void
test_figures (void)
{
  static const char *const changes[] = {
    "item.driven fastener.price=1.10",
    "item.galvanised sheet.overage=10",
    "step.cleat.likely=0.2",
    "step.gasket turn.high_per_ft=.9",
    "step.raise and hold.likely_per_lb=0.3",
    "step.seal corners.low=2.5", /* above the likely as it stands: the likely follows */
    "step.seal corners.likely=2.6",
    "rate.field=95",
    "rate.shop.hour=70.5",
    "buildup.overhead.rate=10",
    "buildup.profit.op=margin",
    "buildup.adjustment.amount=-500",
    "item.driven fastener.price=1.20",
    NULL,
  };
  g_autoptr (CostBasis) basis = basis_new (changes), plain = basis_new (NULL);
  DuctShape s = hand_piece ();
  g_autofree gint64 *vector = price (basis, "slip-on-driven", &s, LABOUR_LIKELY);
  g_autofree gint64 *low = price (basis, "slip-on-driven", &s, LABOUR_LOW),
                    *high = price (basis, "slip-on-driven", &s, LABOUR_HIGH);
  g_autofree gint64 *before = price (plain, "slip-on-driven", &s, LABOUR_LIKELY);
  const GPtrArray *crews = starter->labour->crews;

  g_assert_cmpint (basis->price[catalogue_find_item (starter, "driven fastener")], ==,
                   12000); /* the later one stands */
  assert_near (quantity (basis, vector, "galvanised sheet"), LB * 1.10, 2e-6);
  assert_near (minutes (basis, vector, "cleat", LABOUR_JOINT), 0.4, 1e-9);
  assert_near (minutes (basis, low, "cleat", LABOUR_JOINT), 0.4, 1e-9); /* low gives way: 0.3 was over the new likely */
  assert_near (minutes (basis, high, "cleat", LABOUR_JOINT), 1.6, 1e-9); /* high stays */
  assert_near (minutes (basis, vector, "gasket turn", LABOUR_JOINT), 2.7, 1e-9);
  assert_near (minutes (basis, high, "gasket turn", LABOUR_JOINT), 5.4, 1e-9);
  assert_near (minutes (basis, vector, "raise and hold", LABOUR_AIR), 12 + 0.3 * LB, 2 * MINUTE);
  assert_near (minutes (basis, vector, "seal corners", LABOUR_JOINT), 2.6, 1e-9);
  assert_near (minutes (basis, low, "seal corners", LABOUR_JOINT), 2.5, 1e-9);
  assert_near (minutes (basis, high, "seal corners", LABOUR_JOINT), 2.8, 1e-9);
  for (guint i = 0; i < crews->len; i++)
    g_assert_cmpint (basis->rate[i], ==, ((LabourCrew *) g_ptr_array_index (crews, i))->shop ? 705000 : 950000);
  /* the other steps are what they were, and so is the catalogue */
  assert_near (minutes (basis, vector, "align for driven fasteners", LABOUR_JOINT),
               minutes (plain, before, "align for driven fasteners", LABOUR_JOINT), 1e-12);
  assert_near (minutes (plain, before, "cleat", LABOUR_JOINT), 1.0, 1e-9);
  g_assert_cmpint (catalogue_item (starter, catalogue_find_item (starter, "driven fastener"))->price, ==, 13000);

  for (guint i = 0; i < basis->buildup->len; i++)
    {
      const CostBuildLine *line = g_ptr_array_index (basis->buildup, i), *old = g_ptr_array_index (plain->buildup, i);
      if (strcmp (line->key, "overhead") == 0)
        g_assert_cmpint (line->rate_ppm, ==, 100000);
      if (strcmp (line->key, "profit") == 0)
        g_assert_true (line->op == COST_OP_MARGIN && old->op == COST_OP_MARKUP);
      if (strcmp (line->key, "adjustment") == 0)
        g_assert_cmpint (line->amount, ==, -5000000);
    }
}

static void
test_faults (void)
{
  static const char *const bad[] = {
    "item.driven fastner.price=1", "item.screw.cost=1",      "item.screw.price=cheap",
    "item.screw.price=-1",         "item.screw.price=",      "item.screw.overage=101",
    "step.cleet.likely=1",         "step.cleat.most=1",      "step.cleat.likely_per_in=1",
    "step.cleat.likely=-1",        "rate.roof=90",           "rate.field=-90",
    "rate.nobody.hour=90",         "rate.field=1,5",         "buildup.overheads.rate=10",
    "buildup.cost.rate=10",        "buildup.profit.op=more", "buildup.adjustment.rate=1",
    "buildup.overhead.op=margin",  "lengths.x.y=1",
  };

  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
      g_autoptr (Fault) fault = NULL;
      g_ptr_array_add (list, cost_change_parse (bad[i], NULL));
      g_test_message ("%s", bad[i]);
      g_assert_null (cost_basis_new (starter, list, NULL, &fault));
      g_assert_nonnull (fault);
      g_test_message ("  %s; %s", fault->what, fault->remedy);
      /* it names the figure that was to change */
      g_autofree char *name = g_strndup (bad[i], (gsize) (strchr (bad[i], '=') - bad[i]));
      g_assert_nonnull (strstr (fault->what, name));
      g_assert_cmpstr (fault->remedy, !=, "");
    }
  /* A margin of the whole price has no cost under it. */
  static const char *const margin[] = { "buildup.profit.op=margin", "buildup.profit.rate=100" };
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
  g_autoptr (Fault) fault = NULL;
  for (int i = 0; i < 2; i++)
    g_ptr_array_add (list, cost_change_parse (margin[i], NULL));
  g_assert_null (cost_basis_new (starter, list, NULL, &fault));
  g_assert_nonnull (fault);
}

/* Low minutes above the likely and high ones below are refused, with the nearest figure; nothing else moves. Cleat is 0.3, 0.5, 0.8 in the
 * starter (invented demo). */
static void
test_crossed (void)
{
  static const struct
  {
    const char *change, *nearest;
  } rows[] = { { "step.cleat.low=0.9", "at most 0.5," },
               { "step.cleat.low=0.500000001", "at most 0.5," },
               { "step.cleat.low=99", "at most 0.5," },
               { "step.cleat.high=0", "at least 0.5," },
               { "step.cleat.high=0.4", "at least 0.5," } };
  static const char *const good[] = { "step.cleat.low=0.5", "step.cleat.low=0", "step.cleat.high=0.5", "step.cleat.likely=99",
                                      "step.cleat.likely=0" };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
      g_autoptr (Fault) fault = NULL;
      g_ptr_array_add (list, cost_change_parse (rows[i].change, NULL));
      g_assert_null (cost_basis_new (starter, list, NULL, &fault));
      g_test_message ("%s; %s", fault->what, fault->remedy);
      g_assert_nonnull (strstr (fault->what, "step.cleat."));
      g_assert_nonnull (strstr (fault->remedy, rows[i].nearest));
    }
  for (gsize i = 0; i < G_N_ELEMENTS (good); i++)
    {
      const char *one[] = { good[i], NULL };
      g_autoptr (CostBasis) basis = basis_new (one);
      g_assert_nonnull (basis);
    }
  /* Every band is reached, and the message says so: the figure that all of them take. */
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
  g_autoptr (Fault) fault = NULL;
  int step = -1;
  for (guint i = 0; i < starter->labour->steps->len && step < 0; i++)
    step = catalogue_step (starter, (int) i)->bands->len > 1 ? (int) i : -1;
  g_assert_cmpint (step, >=, 0);
  g_ptr_array_add (list, cost_change_new ("step", catalogue_step (starter, step)->key, "low", "9999"));
  g_assert_null (cost_basis_new (starter, list, NULL, &fault));
  g_assert_nonnull (strstr (fault->what, "handling bands"));
  /* Out of bounds: the bounds stand in the remedy. */
  g_autoptr (GPtrArray) price_of = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
  g_autoptr (Fault) bounds = NULL;
  g_ptr_array_add (price_of, cost_change_parse ("item.screw.price=-1", NULL));
  g_assert_null (cost_basis_new (starter, price_of, NULL, &bounds));
  g_assert_cmpstr (bounds->remedy, ==, "enter a figure from 0 to 10,000,000");
}

int
main (int argc, char **argv)
{
  int answer;

  g_test_init (&argc, &argv, NULL);
  starter = catalogue_starter ();
  g_test_add_func ("/change/parse", test_parse);
  g_test_add_func ("/change/figures", test_figures);
  g_test_add_func ("/change/faults", test_faults);
  g_test_add_func ("/change/crossed", test_crossed);
  answer = g_test_run ();
  catalogue_unref (starter);
  return answer;
}
