/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "base/measure.h"
#include "duct/check.h"
#include "duct/gauge-map.h"
#include "store/store.h"

#include <glib/gi18n.h>
#include <string.h>

static const CliColumn set_columns[] = {
  { "rule_set", N_ ("rule set"), FALSE }, { "name", N_ ("name"), FALSE },       { "rows", N_ ("rows"), TRUE },
  { "reinforcement", N_ ("reinforcement"), FALSE }, { "status", N_ ("status"), FALSE }, { "edition", N_ ("edition and source"), FALSE },
  { "scope", N_ ("scope"), FALSE },             { "limits", N_ ("limits"), FALSE },
};

static const CliColumn finding_columns[] = {
  { "kind", N_ ("finding"), FALSE },
  { "in_table", N_ ("table"), FALSE },
  { "line", N_ ("line"), TRUE },
  { "words", N_ ("what"), FALSE },
};

static gboolean
has_reinforcement (const DuctRules *rules, int set)
{
  for (int m = 0; m < DUCT_N_METALS; m++)
    if (duct_rules_has_reinforcement (rules, set, (DuctMetal) m))
      return TRUE;
  return FALSE;
}

static void
page_sets (const DuctRules *rules, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("rule_sets", set_columns, G_N_ELEMENTS (set_columns));

  for (int i = 0; i < (int) rules->sets->len; i++)
    {
      const DuctRuleSet *set = g_ptr_array_index (rules->sets, (guint) i);
      cli_table_add (t, set->key);
      cli_table_add (t, set->name);
      cli_table_int (t, (gint64) duct_set_rows (rules, i));
      cli_table_add (t, has_reinforcement (rules, i) ? _ ("yes") : _ ("no"));
      cli_table_add (t, duct_status_key (set->status));
      cli_table_add (t, set->source);
      g_autofree char *limits = duct_set_limits (rules, i);
      cli_table_add (t, set->scope);
      cli_table_add (t, limits);
    }
  cli_table_print (t, format);
}

static int
page_check (const DuctRules *rules, const char *key, CliFormat format)
{
  int set = duct_rules_find_set (rules, key);

  if (set < 0)
    {
      cli_complain (_ ("there is no rule set “%s”; seamtally rules lists them"), key);
      return CLI_USAGE;
    }
  g_autoptr (GArray) found = duct_check_set (rules, set);
  g_autoptr (CliTable) t = cli_table_new ("findings", finding_columns, G_N_ELEMENTS (finding_columns));
  for (guint i = 0; i < found->len; i++)
    {
      const DuctFinding *f = &g_array_index (found, DuctFinding, i);
      cli_table_add (t, duct_finding_key (f->kind));
      cli_table_add (t, f->table);
      if (f->line > 0)
        cli_table_int (t, f->line);
      else
        cli_table_add (t, "");
      cli_table_add (t, f->words);
    }
  if (found->len > 0 || format != CLI_TEXT)
    cli_table_print (t, format);
  else
    cli_print (_ ("“%s”: nothing is missing and nothing is out of order.\n"), key);
  return found->len > 0 ? CLI_FAULTS : CLI_DONE;
}

/* A line a class: the gauge that each size up to the heading takes; gauges are words ("22 B&S", "0.63 mm"). */
static void
print_map (const DuctRules *rules, const char *key, const DuctGaugeMap *map, CliFormat format)
{
  g_autofree CliColumn *columns = g_new0 (CliColumn, map->n_sides + 2);
  g_autoptr (GPtrArray) heads = g_ptr_array_new_with_free_func (g_free);

  columns[0] = (CliColumn) { "rule_set", N_ ("rule set"), FALSE };
  columns[1] = (CliColumn) { "class", N_ ("class"), TRUE };
  for (gsize k = 0; k < map->n_sides; k++)
    {
      g_autofree char *side = length_print (map->side_to[k], LENGTH_STYLE_IN);
      g_ptr_array_add (heads, g_strconcat ("to_", side, NULL));
      g_ptr_array_add (heads, g_steal_pointer (&side));
      columns[k + 2] = (CliColumn) { g_ptr_array_index (heads, 2 * k), g_ptr_array_index (heads, 2 * k + 1), format == CLI_TEXT };
    }
  g_autoptr (CliTable) t = cli_table_new ("gauge_map", columns, map->n_sides + 2);
  for (gsize c = 0; c < map->n_classes; c++)
    {
      cli_table_add (t, key);
      if (format == CLI_TEXT)
        cli_table_take (t, pressure_print (map->class_to[c], FALSE));
      else
        cli_table_figure (t, (double) map->class_to[c] / 1000, 6);
      for (gsize k = 0; k < map->n_sides; k++)
        {
          int sheet = map->sheet[c * map->n_sides + k];
          cli_table_add (t, sheet < 0 ? "" : duct_rules_sheet (rules, sheet)->label);
        }
    }
  cli_table_print (t, format);
}

/* @keys: one or two sets. */
static int
page_map (const DuctRules *rules, char **keys, DuctMetal metal, DuctMapOf of, CliFormat format)
{
  int sets[2], n = keys[1] ? 2 : 1;
  DuctGaugeMap map[2];

  for (int i = 0; i < n; i++)
    if ((sets[i] = duct_rules_find_set (rules, keys[i])) < 0)
      {
        cli_complain (_ ("there is no rule set “%s”; seamtally rules lists them"), keys[i]);
        return CLI_USAGE;
      }
  duct_gauge_maps (rules, sets, n, metal, of, map);
  if (format == CLI_TEXT)
    cli_print (_ ("Gauge of %s, %s, by class (in w.g.) and longer side or diameter (in) up to the heading:\n"), duct_map_of_words (of),
               duct_metal_key (metal));
  for (int i = 0; i < n; i++)
    print_map (rules, keys[i], &map[i], format);
  if (n == 2 && format == CLI_TEXT)
    {
      DuctMapDifference d = duct_gauge_map_compare (rules, &map[0], &map[1]);
      g_autofree char *words = duct_gauge_map_words (keys[0], keys[1], &d);
      cli_print ("%s\n", words);
    }
  for (int i = 0; i < n; i++)
    duct_gauge_map_clear (&map[i]);
  return CLI_DONE;
}

/* The newest catalogue of the office file that --office names, else the starter. */
static Catalogue *
open_catalogue (const CliOptions *o)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) store = NULL;
  Catalogue *catalogue;

  if (!o->office)
    return catalogue_starter ();
  store = store_open (o->office, FALSE, &error);
  catalogue = store ? store_catalogue (store, 0, &error) : NULL;
  if (!catalogue)
    cli_complain ("%s", error->message);
  return catalogue;
}

static gboolean
read_map (const char *metal_text, const char *of_text, DuctMetal *metal, DuctMapOf *of)
{
  static const char *const keys[DUCT_N_MAPS] = { "rectangular", "spiral", "longitudinal" };
  Fault *fault = NULL;

  *metal = DUCT_GALVANISED;
  *of = DUCT_MAP_RECTANGULAR;
  if (metal_text && !duct_metal_parse (metal_text, metal, &fault))
    {
      g_autofree char *words = fault_words (fault, metal_text);
      fault_free (fault);
      cli_complain ("--metal: %s", words);
      return FALSE;
    }
  for (int i = 0; of_text && i < DUCT_N_MAPS; i++)
    if (strcmp (keys[i], of_text) == 0)
      {
        *of = (DuctMapOf) i;
        return TRUE;
      }
  if (of_text)
    cli_complain (_ ("--of: write rectangular, spiral or longitudinal, not “%s”"), of_text);
  return !of_text;
}

int
cli_rules (int argc, char **argv)
{
  g_auto (CliOptions) o = { 0 };
  g_autofree char *metal_text = NULL, *of_text = NULL, *reason = NULL;
  gboolean replace = FALSE;
  const GOptionEntry more[] = {
    { "metal", 0, 0, G_OPTION_ARG_STRING, &metal_text, N_ ("Metal of a map; galvanised unless named"), N_ ("METAL") },
    { "of", 0, 0, G_OPTION_ARG_STRING, &of_text, N_ ("What a map is of: rectangular, spiral or longitudinal"), N_ ("KIND") },
    { "reason", 0, 0, G_OPTION_ARG_STRING, &reason, N_ ("Why the rows are imported, for the list of revisions"), N_ ("TEXT") },
    { "replace", 0, 0, G_OPTION_ARG_NONE, &replace,
      N_ ("Import in the place of the rows of the same rule set; in tables without one, of the same entry under the first heading"), NULL },
    G_OPTION_ENTRY_NULL,
  };
  DuctMetal metal;
  DuctMapOf of;

  if (!cli_options_read (&o, argc, argv, _ ("[check SET | map SET [SET] | import TABLE FILE.csv]"),
                         _ ("Lists the rule sets of the starter catalogue, or of the office file that --office names: scope, status, edition "
                            "and rows. check: names gaps, ends, overlaps, rows that are lighter as the size or the pressure grows, and "
                            "stiffness classes that no joint or member reaches; each with its table and line. map: which gauge a set, or each "
                            "of two sets, answers over all sizes and classes; a set with reinforcement rows with slip-on joints 5 ft apart. import: "
                            "adds the rows of a CSV file to a table of the office file as a new revision, or nothing while anything is "
                            "faulty; a row without a status is the shop's own."),
                         more))
    return o.status;
  guint words = g_strv_length (o.rest);
  gboolean check = words == 2 && strcmp (o.rest[0], "check") == 0;
  gboolean map = (words == 2 || words == 3) && strcmp (o.rest[0], "map") == 0;
  gboolean import = words == 3 && strcmp (o.rest[0], "import") == 0;
  if ((words != 0 && !check && !map && !import) || (!import && (replace || reason)))
    {
      cli_complain (_ ("write seamtally rules, rules check SET, rules map SET [SET], or rules import TABLE FILE.csv [--replace] [--reason TEXT]"));
      return CLI_USAGE;
    }
  if (import)
    return cli_rules_import (&o, reason, replace);
  if (!read_map (metal_text, of_text, &metal, &of))
    return CLI_USAGE;
  g_autoptr (Catalogue) catalogue = open_catalogue (&o);
  if (!catalogue)
    return CLI_FILE;
  if (check)
    return page_check (catalogue->rules, o.rest[1], cli_options_format (&o));
  if (map)
    return page_map (catalogue->rules, o.rest + 1, metal, of, cli_options_format (&o));
  page_sets (catalogue->rules, cli_options_format (&o));
  return CLI_DONE;
}
