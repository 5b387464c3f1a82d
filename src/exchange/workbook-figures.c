/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/workbook-private.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "cost/retire.h"
#include "job/labour-model.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* Collects the figures that the bid rests on, for the Sources sheet and for the counts on the Price sheet. */

const char *
book_status_name (DuctStatus status)
{
  switch (status)
    {
    case DUCT_PUBLISHED:
      return _ ("published");
    case DUCT_PUBLISHED_SECONDARY:
      return _ ("published, seen in a secondary copy");
    case DUCT_COMPUTED:
      return _ ("computed");
    case DUCT_COMMON_PRACTICE:
      return _ ("common practice");
    case DUCT_FROM_MEMORY:
      return _ ("from memory");
    case DUCT_INVENTED_DEMO:
      return _ ("invented demo");
    case DUCT_SHOPS_OWN:
    case DUCT_N_STATUSES:
    default:
      return _ ("shop's own");
    }
}

guint
book_count_status (const Book *book, DuctStatus status)
{
  guint n = 0;

  for (guint i = 0; i < book->figures->len; i++)
    {
      DuctStatus one = DUCT_SHOPS_OWN; /* a word that is no status: the shop's own */
      duct_status_parse (g_array_index (book->figures, BookFigure, i).status, &one);
      n += one == status;
    }
  return n;
}

/* Takes @what and @figure. */
static void
add (Book *book, const char *section, char *what, char *figure, const char *source, const char *status)
{
  BookFigure line = { section, what, figure, source, status };

  g_array_append_val (book->figures, line);
}

static void
add_prices (Book *book)
{
  for (int i = 0; i < book->basis->n_items; i++)
    {
      const CostItem *item = catalogue_item (book->catalogue, i);
      g_autofree char *price = decimal_print (book->basis->price[i], 4, 2, TRUE);
      if (book->totals.vector[i] != 0)
        add (book, _ ("Prices"), g_strdup (item->key), g_strdup_printf ("%s / %s", price, item->unit), item->source,
             duct_status_key (item->status));
    }
  for (guint i = 0; i < book->own->len; i++)
    {
      const BookItem *own = &g_array_index (book->own, BookItem, i);
      g_autofree char *price = decimal_print (own->price, 4, 2, TRUE);
      add (book, _ ("Prices"), g_strdup (own->label), g_strdup_printf ("%s / %s", price, own->unit), own->source,
           own->status);
    }
}

static void
append_minutes (GString *words, gint64 minutes, const char *unit)
{
  g_autofree char *figure = decimal_print (minutes, LABOUR_MINUTE_DECIMALS, 0, TRUE);

  if (minutes != 0)
    g_string_append_printf (words, "%s%s %s", words->len > 0 ? " + " : "", figure, unit);
}

static void
add_step (Book *book, const LabourStep *step)
{
  for (guint b = 0; b < step->bands->len; b++)
    {
      const LabourBand *band = &g_array_index (step->bands, LabourBand, b);
      GString *words = g_string_new (NULL);
      append_minutes (words, band->fixed[LABOUR_LIKELY], _ ("each"));
      append_minutes (words, band->per_ft[LABOUR_LIKELY], _ ("a foot"));
      append_minutes (words, band->per_lb[LABOUR_LIKELY], _ ("a pound"));
      if (words->len == 0)
        g_string_append (words, _ ("none"));
      char *what = step->bands->len == 1         ? g_strdup (step->key)
                   : band->upto_mg == G_MAXINT64 ? g_strdup_printf (_ ("%s, heavier pieces"), step->key)
                                                 : g_strdup_printf (_ ("%s, pieces to %.0f lb"), step->key,
                                                                    (double) band->upto_mg / MEASURE_MG_PER_LB);
      add (book, _ ("Worker-minutes, likely"), what, g_string_free (words, FALSE), step->source, step->status);
    }
}

static void
add_minutes (Book *book)
{
  const GPtrArray *steps = book->catalogue->labour->steps;
  g_autofree gboolean *used = g_new0 (gboolean, MAX (steps->len, 1));
  const CostBasis *basis = book->basis;

  for (int s = 0; s < basis->n_slots; s++)
    if (basis->slots[s].step >= 0 && book->totals.vector[basis->n_items + s] != 0)
      used[basis->slots[s].step] = TRUE;
  for (guint i = 0; i < steps->len; i++)
    if (used[i])
      add_step (book, g_ptr_array_index (steps, i));
}

/* Crews with hours, with their rates. */
static void
add_crews (Book *book)
{
  const GPtrArray *crews = book->catalogue->labour->crews;
  const CostBasis *basis = book->basis;

  for (guint c = 0; c < crews->len; c++)
    {
      const LabourCrew *crew = g_ptr_array_index (crews, c);
      gint64 time = 0;
      for (int s = 0; s < basis->n_slots; s++)
        time += basis->slots[s].crew == (int) c ? book->totals.vector[basis->n_items + s] : 0;
      g_autofree char *rate = decimal_print (basis->rate[c], 4, 2, TRUE);
      if (time != 0)
        add (book, _ ("Rates of crews"), g_strdup (crew->key), g_strdup_printf (_ ("%s a worker-hour"), rate),
             crew->source, crew->status);
    }
}

static void
note_conditions (const Book *book, const char *keys, gboolean *named)
{
  g_auto (GStrv) words = g_strsplit (keys ? keys : "", ";", -1);

  for (char **w = words; *w; w++)
    {
      int i = labour_find_condition (book->catalogue->labour, g_strstrip (*w));
      if (i >= 0)
        named[i] = TRUE;
    }
}

static void
add_conditions (Book *book)
{
  const GPtrArray *conditions = book->catalogue->labour->conditions;
  g_autofree gboolean *named = g_new0 (gboolean, MAX (conditions->len, 1));
  g_autoptr (GPtrArray) words = job_labour_words (book->job);

  note_conditions (book, job_head (book->job)->text[HEAD_CONDITION], named);
  for (guint i = 0; i < job_n (book->job, JOB_SYSTEM); i++)
    note_conditions (book, job_at (book->job, JOB_SYSTEM, i)->text[SYSTEM_CONDITION], named);
  for (guint i = 0; i < job_n (book->job, JOB_AREA); i++)
    {
      const JobRecord *area = job_at (book->job, JOB_AREA, i);
      note_conditions (book, area->text[AREA_CONDITION], named);
      if (area->num[AREA_FACTOR] == JOB_UNSET || area->num[AREA_FACTOR] == 1000000)
        continue;
      add (book, _ ("Conditions on minutes"), g_strdup_printf (_ ("field work in the area %s"), area->text[AREA_KEY]),
           decimal_print (area->num[AREA_FACTOR], 6, 2, FALSE), _ ("entered for the area"), "shop's own");
    }
  for (guint i = 0; i < job_n (book->job, JOB_RUN); i++)
    if (job_at (book->job, JOB_RUN, i)->text[RUN_CONDITION])
      note_conditions (book, job_at (book->job, JOB_RUN, i)->text[RUN_CONDITION], named);
  for (guint i = 0; i < words->len; i++)
    add (book, _ ("Conditions on minutes"), g_strdup (words->pdata[i]), g_strdup (_ ("this job")), _ ("chosen for this job"), "shop's own");
  for (guint i = 0; i < conditions->len; i++)
    {
      const LabourCondition *c = g_ptr_array_index (conditions, i);
      if (named[i])
        add (book, _ ("Conditions on minutes"), g_strdup_printf ("%s: %s", c->key, c->reason),
             decimal_print (c->factor_ppm, 6, 2, FALSE), c->source, c->status);
    }
}

static void
add_buildup (Book *book)
{
  for (guint i = 0; i < book->basis->buildup->len; i++)
    {
      const CostBuildLine *line = g_ptr_array_index (book->basis->buildup, i);
      g_autofree char *rate = decimal_print (line->rate_ppm, 4, 0, FALSE);
      if (line->op == COST_OP_RATE || line->op == COST_OP_MARKUP || line->op == COST_OP_MARGIN)
        add (book, _ ("Rates of the build-up"), g_strdup (line->label), g_strdup_printf ("%s %%", rate),
             book_table_cell (book, CATALOGUE_BUILDUP, "line", line->key, "source"),
             book_table_cell (book, CATALOGUE_BUILDUP, "line", line->key, "status"));
    }
}

/* "each piece", and the kinds of run where the line is not for all. */
static char *
recipe_words (const Book *book, const CostRecipeLine *r)
{
  const char *target =
      r->step ? catalogue_step (book->catalogue, r->target)->key : catalogue_item (book->catalogue, r->target)->key;
  const guint all = (1u << DUCT_N_KINDS) - 1; /* as "all" is read */
  g_autoptr (GString) kinds = g_string_new (NULL);

  for (int k = 0; (r->kinds & all) != all && k < DUCT_N_KINDS; k++)
    if (r->kinds & (1u << k))
      g_string_append_printf (kinds, "%s%s", kinds->len > 0 ? ", " : "", _ (duct_kind_info ((DuctKind) k)->name));
  return kinds->len > 0
             ? g_strdup_printf (_ ("%s: %s for each %s of %s"), r->part, target, _ (duct_driver_info (r->driver)->name),
                                kinds->str)
             : g_strdup_printf (_ ("%s: %s for each %s"), r->part, target, _ (duct_driver_info (r->driver)->name));
}

static char *
recipe_amount (const CostRecipeLine *r)
{
  g_autofree char *factor = decimal_print (r->fixed_ppm, 6, 0, FALSE);
  g_autofree char *amount = r->den == 1 ? g_strdup_printf ("%" G_GINT64_FORMAT, r->num)
                                        : g_strdup_printf ("%" G_GINT64_FORMAT "/%" G_GINT64_FORMAT, r->num, r->den);

  return r->fixed_ppm == 1000000 ? g_steal_pointer (&amount)
                                 : g_strdup_printf (_ ("%s, fixed minutes x %s"), amount, factor);
}

/* Recipe lines that gave this job anything. */
static void
add_recipes (Book *book)
{
  const CostBasis *basis = book->basis;
  const GPtrArray *recipes = book->catalogue->recipes;
  g_autofree gboolean *used = g_new0 (gboolean, MAX (recipes->len, 1));

  for (int i = 0; i < basis->n_methods * DUCT_N_KINDS; i++)
    for (guint l = 0; book->used_method[i] && l < basis->lines[i]->len; l++)
      {
        const CostLine *line = &g_array_index (basis->lines[i], CostLine, l);
        /* not the lines that only add to a measure, such as the shipped weight */
        if (line->recipe >= 0 && line->slot < basis->n_items + basis->n_slots && book->totals.vector[line->slot] != 0)
          used[line->recipe] = TRUE;
      }
  for (guint i = 0; i < recipes->len; i++)
    {
      const CostRecipeLine *r = g_ptr_array_index (recipes, i);
      if (used[i])
        add (book, _ ("Recipe lines"), recipe_words (book, r), recipe_amount (r), r->source,
             duct_status_key (r->status));
    }
}

static void
add_round_gauges (Book *book)
{
  const DuctRules *rules = book->catalogue->rules;

  for (guint i = 0; i < rules->round_gauges->len; i++)
    {
      const DuctRoundGauge *row = g_ptr_array_index (rules->round_gauges, i);
      const DuctRuleSet *set = g_ptr_array_index (rules->sets, (guint) row->set);
      g_autofree char *class = pressure_print (row->class_to, book->metric);
      g_autofree char *size = length_print_unit (row->dia_to_nm, book->metric ? LENGTH_STYLE_MM : LENGTH_STYLE_IN);
      if (book->used_round[i])
        add (book, _ ("Gauges"),
             row->dia_to_nm == G_MAXINT64
                 ? g_strdup_printf (_ ("%s, class to %s, larger diameters"), set->name, class)
                 : g_strdup_printf (_ ("%s, class to %s, diameter to %s"), set->name, class, size),
             g_strdup (duct_rules_sheet (rules, row->sheet)->label), row->source, duct_status_key (row->status));
    }
}

static void
add_construction (Book *book)
{
  const DuctRules *rules = book->catalogue->rules;

  for (guint i = 0; i < rules->gauge_rows->len; i++)
    {
      const DuctGaugeRow *row = g_ptr_array_index (rules->gauge_rows, i);
      const DuctRuleSet *set = g_ptr_array_index (rules->sets, (guint) row->set);
      g_autofree char *class = pressure_print (row->class_to, book->metric);
      g_autofree char *side = length_print_unit (row->side_to_nm, book->metric ? LENGTH_STYLE_MM : LENGTH_STYLE_IN);
      if (book->used_gauge[i])
        add (book, _ ("Gauges"),
             row->side_to_nm == G_MAXINT64
                 ? g_strdup_printf (_ ("%s, class to %s, larger sides"), set->name, class)
                 : g_strdup_printf (_ ("%s, class to %s, side to %s"), set->name, class, side),
             g_strdup (duct_rules_sheet (rules, row->sheet)->label), row->source, duct_status_key (row->status));
    }
  add_round_gauges (book);
  for (guint i = 0; i < rules->sheets->len; i++)
    {
      const DuctSheet *sheet = g_ptr_array_index (rules->sheets, i);
      if (book->used_sheet[i])
        add (book, _ ("Weight of sheet"), g_strdup_printf ("%s %s", duct_metal_key (sheet->metal), sheet->label),
             g_strdup_printf (_ ("%.3f lb/ft2"), sheet->mg_per_mm2 * MEASURE_MM2_PER_FT2 / MEASURE_MG_PER_LB),
             sheet->source, duct_status_key (sheet->status));
    }
  for (int m = 0; m < book->basis->n_methods; m++)
    {
      const CostMethod *method = catalogue_method (book->catalogue, m);
      const DuctConnection *c = duct_rules_connection (rules, method->connection);
      gboolean used = FALSE;
      for (int k = 0; k < DUCT_N_KINDS; k++)
        used = used || book->used_method[m * DUCT_N_KINDS + k];
      if (used)
        add (book, _ ("Connections"), g_strdup_printf ("%s: %s", method->name, c->key),
             length_print_unit (c->coil_nm, book->metric ? LENGTH_STYLE_MM : LENGTH_STYLE_IN), c->source,
             duct_status_key (c->status));
    }
}

/* Small tables that measuring reads, whole: first column and what stands beside it. */
static void
add_tables (Book *book)
{
  static const CatalogueSheet sheets[] = { CATALOGUE_SCREWS, CATALOGUE_CLEATS, CATALOGUE_VANES, CATALOGUE_PROFILES,
                                           CATALOGUE_ALLOWANCES };

  for (gsize t = 0; t < G_N_ELEMENTS (sheets); t++)
    {
      const CsvTable *table = book->catalogue->table[sheets[t]];
      int source = csv_column (table, "source"), status = csv_column (table, "status");
      for (guint row = 0; row < table->row->len; row++)
        {
          const char *first = csv_cell (table, row, 0);
          if (catalogue_row_retired (table, row))
            continue;
          GString *figure = g_string_new (NULL);
          for (int col = 1; col < (int) table->head->len; col++)
            if (col != source && col != status && *csv_cell (table, row, col))
              g_string_append_printf (figure, "%s%s %s", figure->len > 0 ? ", " : "",
                                      (const char *) g_ptr_array_index (table->head, (guint) col),
                                      csv_cell (table, row, col));
          add (book, _ ("Tables of measuring"),
               g_strdup_printf ("%s: %s %s", catalogue_sheet_key (sheets[t]),
                                (const char *) g_ptr_array_index (table->head, 0), *first ? first : _ ("beyond")),
               g_string_free (figure, FALSE), csv_cell (table, row, source), csv_cell (table, row, status));
        }
    }
}

static void
clear_figure (gpointer data)
{
  BookFigure *figure = data;

  g_free (figure->what);
  g_free (figure->figure);
}

void
book_collect_figures (Book *book)
{
  book->figures = g_array_new (FALSE, FALSE, sizeof (BookFigure));
  g_array_set_clear_func (book->figures, clear_figure);
  add_prices (book);
  add_minutes (book);
  add_crews (book);
  add_conditions (book);
  add_buildup (book);
  add_recipes (book);
  add_construction (book);
  add_tables (book);
}
