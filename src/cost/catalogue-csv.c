/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/catalogue-private.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "base/table.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static const char *const group_keys[COST_N_GROUPS] = { "material", "rental", "once" };
static const char *const use_keys[COST_N_USES] = { "other", "sheet", "joint", "bolt", "fastener", "hanger" };
static const char *const op_keys[] = { "items", "labour", "rate", "sum", "markup", "margin", "amount" };

static void
item_free (gpointer data)
{
  CostItem *item = data;
  g_free (item->key);
  g_free (item->unit);
  g_free (item->source);
  g_free (item);
}

static void
method_free (gpointer data)
{
  CostMethod *method = data;
  g_free (method->key);
  g_free (method->name);
  g_strfreev (method->parts);
  g_free (method->source);
  g_free (method);
}

static void
recipe_free (gpointer data)
{
  CostRecipeLine *line = data;
  g_free (line->part);
  g_free (line->source);
  g_free (line);
}

void
cost_build_line_free (gpointer data)
{
  CostBuildLine *line = data;
  g_free (line->key);
  g_free (line->label);
  g_array_unref (line->refs);
  g_free (line);
}

static void
read_status (const TableReader *r, char **source, DuctStatus *status)
{
  *source = g_strdup (table_cell (r, "source"));
  *status = DUCT_SHOPS_OWN;
  if (!duct_status_parse (table_cell (r, "status"), status))
    table_complain (r, "status", _ ("not a status"),
                    _ ("write published, published*, computed, common practice, from memory, shop's own or invented demo"));
}

/* A key must be there and be new. */
static void
check_key (const TableReader *r, const char *heading, gboolean known)
{
  if (!*table_cell (r, heading))
    table_complain (r, heading, _ ("the row has no key"), _ ("enter one"));
  else if (known)
    table_complain (r, heading, _ ("this key stands twice"), _ ("give each row its own"));
}

/* Low and high of a price: columns that came later, for risk; empty or absent is the price itself. */
static void
read_price_range (const TableReader *r, CostItem *item)
{
  const gint64 most = G_GINT64_CONSTANT (100000000000);

  item->low = item->high = item->price;
  if (*table_cell (r, "low_usd"))
    item->low = table_decimal (r, "low_usd", 4, item->price, 0, most);
  if (*table_cell (r, "high_usd"))
    item->high = table_decimal (r, "high_usd", 4, item->price, 0, most);
  if (item->low > item->price)
    table_complain (r, "low_usd", _ ("the low price is above the likely one"), _ ("enter low, price and high in order"));
  if (item->high < item->price)
    table_complain (r, "high_usd", _ ("the high price is below the likely one"), _ ("enter low, price and high in order"));
}

void
catalogue_read_items (Catalogue *c, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "item", "unit", "price_usd", "overage_pct", "group", "use", "lb_per_unit",
                                          "source", "status", NULL };
  static const char *const yes_no[] = { "no", "yes" };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      CostItem *item = g_new0 (CostItem, 1);
      int group, use;

      check_key (&r, "item", catalogue_find_item (c, table_cell (&r, "item")) >= 0);
      g_ptr_array_add (c->items, item);
      item->key = g_strdup (table_cell (&r, "item"));
      item->unit = g_strdup (table_cell (&r, "unit"));
      item->price = table_decimal (&r, "price_usd", 4, 0, 0, G_GINT64_CONSTANT (100000000000));
      read_price_range (&r, item);
      item->overage_ppm = table_decimal (&r, "overage_pct", 4, 0, 0, 1000000);
      group = table_word (&r, "group", group_keys, COST_N_GROUPS);
      use = table_word (&r, "use", use_keys, COST_N_USES);
      item->group = (CostGroup) MAX (group, 0);
      item->use = (CostUse) MAX (use, 0);
      item->mg_per_unit
        = (gint64) ((double) table_decimal (&r, "lb_per_unit", 6, 0, 0, G_GINT64_CONSTANT (1000000000)) * MEASURE_MG_PER_LB
                      / 1e6 + 0.5);
      /* A column that came later: empty or absent is no. */
      item->again = *table_cell (&r, "again_when_remade") && table_word (&r, "again_when_remade", yes_no, 2) == 1;
      read_status (&r, &item->source, &item->status);
    }
}

static gboolean
is_round (const Catalogue *c, int method)
{
  const CostMethod *m = catalogue_method (c, method);

  return m->connection >= 0 && duct_rules_connection (c->rules, m->connection)->section == DUCT_ROUND;
}

void
catalogue_read_methods (Catalogue *c, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "method", "name", "connection", "parts", "fallback", "tooling",
                                          "source", "status", NULL };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      CostMethod *method = g_new0 (CostMethod, 1);

      check_key (&r, "method", catalogue_find_method (c, table_cell (&r, "method")) >= 0);
      g_ptr_array_add (c->methods, method);
      method->key = g_strdup (table_cell (&r, "method"));
      method->name = g_strdup (*table_cell (&r, "name") ? table_cell (&r, "name") : table_cell (&r, "method"));
      method->connection = duct_rules_find_connection (c->rules, table_cell (&r, "connection"));
      if (method->connection < 0)
        table_complain (&r, "connection", _ ("no such connection"), _ ("add it to the connections first"));
      method->parts = g_strsplit (table_cell (&r, "parts"), "+", -1);
      method->once_item = *table_cell (&r, "tooling") ? catalogue_find_item (c, table_cell (&r, "tooling")) : -1;
      if (*table_cell (&r, "tooling") && method->once_item < 0)
        table_complain (&r, "tooling", _ ("no such item"), _ ("add it to the items first"));
      read_status (&r, &method->source, &method->status);
    }
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      CostMethod *method = g_ptr_array_index (c->methods, r.row);
      const char *key = table_cell (&r, "fallback");
      method->fallback = *key ? catalogue_find_method (c, key) : -1;
      /* A fallback must be able to end: only a method without one. */
      if (*key
          && (method->fallback < 0
              || *csv_cell (table, (guint) method->fallback, csv_column (table, "fallback")) != '\0'))
        table_complain (&r, "fallback", _ ("not a method that is allowed everywhere"),
                        _ ("name a method that has no fallback of its own"));
      key = table_cell (&r, "round");
      method->round = *key ? catalogue_find_method (c, key) : -1;
      if (*key && (method->round < 0 || !is_round (c, method->round)))
        table_complain (&r, "round", _ ("not a method for round duct"), _ ("name a method whose connection is round"));
    }
}

static guint
read_kinds (const TableReader *r)
{
  const char *keys[DUCT_N_KINDS];

  for (int k = 0; k < DUCT_N_KINDS; k++)
    keys[k] = duct_kind_info ((DuctKind) k)->key;
  return strcmp (table_cell (r, "kinds"), "all") == 0 ? (1u << DUCT_N_KINDS) - 1
                                                        : table_mask (r, "kinds", keys, DUCT_N_KINDS, "|");
}

void
catalogue_read_recipes (Catalogue *c, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "part", "kinds", "driver", "amount", "fixed_factor", "type", "target", "where",
                                          "source", "status", NULL };
  static const char *const types[] = { "item", "step" };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      CostRecipeLine *line = g_new0 (CostRecipeLine, 1);
      Fault *fault = NULL;
      int driver = duct_driver_find (table_cell (&r, "driver")), place;

      g_ptr_array_add (c->recipes, line);
      line->part = g_strdup (table_cell (&r, "part"));
      line->kinds = read_kinds (&r);
      if (driver < 0)
        table_complain (&r, "driver", _ ("no such driver"), _ ("use a driver of the manual's list"));
      line->driver = (DuctDriver) MAX (driver, 0);
      line->num = line->den = 1;
      if (!decimal_parse_ratio (table_cell (&r, "amount"), &line->num, &line->den, &fault))
        table_complain_fault (&r, "amount", fault);
      else if (line->num <= 0)
        table_complain (&r, "amount", _ ("an amount is over 0"), _ ("enter a number or a fraction, like 1/481"));
      line->fixed_ppm = table_decimal (&r, "fixed_factor", 6, 1000000, 0, 100000000);
      line->step = table_word (&r, "type", types, 2) == 1;
      line->target = line->step ? labour_find_step (c->labour, table_cell (&r, "target"))
                                : catalogue_find_item (c, table_cell (&r, "target"));
      if (line->target < 0)
        table_complain (&r, "target", line->step ? _ ("no such step") : _ ("no such item"), _ ("add it to its table first"));
      place = table_word (&r, "where", labour_place_keys, LABOUR_N_PLACES);
      line->place = (LabourPlace) MAX (place, 0);
      read_status (&r, &line->source, &line->status);
    }
}

static int
find_line (const GPtrArray *lines, const char *key)
{
  for (guint i = 0; i < lines->len; i++)
    if (strcmp (((CostBuildLine *) g_ptr_array_index (lines, i))->key, key) == 0)
      return (int) i;
  return -1;
}

/* "cost+overhead": earlier lines only, so that a build-up can be walked once from top to bottom. */
static void
read_refs (const TableReader *r, const GPtrArray *lines, CostBuildLine *line)
{
  g_auto (GStrv) words = g_strsplit (table_cell (r, "of"), "+", -1);

  if (!*words)
    table_complain (r, "of", _ ("the line names no other lines"), _ ("name lines above this one, joined with +"));
  for (char **w = words; *w; w++)
    {
      int ref = find_line (lines, g_strstrip (*w));
      if (ref < 0)
        {
          g_autofree char *what = g_strdup_printf (_ ("there is no line “%s” above"), *w);
          table_complain (r, "of", what, _ ("name lines above this one, joined with +"));
        }
      else
        g_array_append_val (line->refs, ref);
    }
}

GPtrArray *
cost_build_lines_new (const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "line", "label", "op", "of", "rate_pct", "amount", NULL };
  static const char *const sides[] = { "field", "shop" };
  g_autoptr (GPtrArray) lines = g_ptr_array_new_with_free_func (cost_build_line_free);
  guint before = faults->len;
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return NULL;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      CostBuildLine *line = g_new0 (CostBuildLine, 1);
      int op = table_word (&r, "op", op_keys, G_N_ELEMENTS (op_keys));

      check_key (&r, "line", find_line (lines, table_cell (&r, "line")) >= 0);
      line->key = g_strdup (table_cell (&r, "line"));
      line->label = g_strdup (table_cell (&r, "label"));
      line->refs = g_array_new (FALSE, TRUE, sizeof (int));
      line->op = (CostOp) MAX (op, 0);
      if (line->op == COST_OP_ITEMS)
        line->which = MAX (table_word (&r, "of", group_keys, COST_N_GROUPS), 0);
      else if (line->op == COST_OP_LABOUR)
        line->which = MAX (table_word (&r, "of", sides, 2), 0);
      else if (line->op != COST_OP_AMOUNT)
        read_refs (&r, lines, line);
      line->rate_ppm = table_decimal (&r, "rate_pct", 4, 0, -10000000, 10000000);
      line->amount = table_decimal (&r, "amount", 4, 0, -G_GINT64_CONSTANT (100000000000000),
                                    G_GINT64_CONSTANT (100000000000000));
      if (line->op == COST_OP_MARGIN && line->rate_ppm >= 1000000)
        table_complain (&r, "rate_pct", _ ("a margin is below 100 %"), _ ("enter the share of the price"));
      g_ptr_array_add (lines, line);
    }
  r.row = G_MAXUINT;
  if (find_line (lines, "cost") < 0 || find_line (lines, "price") < 0)
    table_complain (&r, "line", _ ("the build-up needs the lines “cost” and “price”"), _ ("add them"));
  return faults->len == before ? g_steal_pointer (&lines) : NULL;
}

void
catalogue_init_arrays (Catalogue *c)
{
  c->items = g_ptr_array_new_with_free_func (item_free);
  c->methods = g_ptr_array_new_with_free_func (method_free);
  c->recipes = g_ptr_array_new_with_free_func (recipe_free);
}
