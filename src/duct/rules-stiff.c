/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/rules-private.h"

#include "base/measure.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define MOST_EI G_GINT64_CONSTANT (1000000000) /* 1e5 lb in2, in thousandths */

static void
stiffness_free (gpointer data)
{
  DuctStiffness *row = data;
  g_free (row->key);
  g_free (row->source);
  g_free (row);
}

static void
member_free (gpointer data)
{
  DuctMember *row = data;
  g_free (row->key);
  g_free (row->form);
  g_free (row->source);
  g_free (row);
}

static void
joint_free (gpointer data)
{
  DuctJointRating *row = data;
  g_free (row->source);
  g_free (row);
}

static void
reinforcement_free (gpointer data)
{
  DuctReinforcement *row = data;
  g_free (row->source);
  g_free (row->note);
  g_free (row);
}

static void
rods_free (gpointer data)
{
  DuctTieRods *row = data;
  g_free (row->source);
  g_free (row);
}

/* A shop fills these tables from its licensed copy: a row without a status is the shop's own. */
static void
read_origin (const TableReader *r, char **source, DuctStatus *status)
{
  if (*table_cell (r, "status"))
    {
      duct_read_origin (r, source, status);
      return;
    }
  *source = g_strdup (*table_cell (r, "source") ? table_cell (r, "source") : _ ("the shop's own table"));
  *status = DUCT_SHOPS_OWN;
}

/* Index of the class letter, -1 for an empty cell and after a complaint. */
static int
read_code (const TableReader *r, const DuctRules *rules, const char *heading)
{
  const char *cell = table_cell (r, heading);

  if (!*cell)
    return -1;
  for (guint i = 0; i < rules->stiffness->len; i++)
    if (g_ascii_strcasecmp (((DuctStiffness *) g_ptr_array_index (rules->stiffness, i))->key, cell) == 0)
      return (int) i;
  table_complain (r, heading, _ ("no such stiffness class"), _ ("use a letter of the stiffness table, or leave it empty"));
  return -1;
}

static int
read_sheet (const TableReader *r, const DuctRules *rules)
{
  DuctMetal metal = *table_cell (r, "metal") ? duct_read_metal (r) : DUCT_GALVANISED;
  int sheet = duct_rules_find_sheet (rules, metal, table_cell (r, "gauge"));

  if (sheet < 0)
    table_complain (r, "gauge", _ ("no such sheet of this metal"), _ ("use a gauge of the sheet table"));
  return MAX (sheet, 0);
}

/* A class without sign, over 0; @empty where none is named. */
static gint64
read_class (const TableReader *r, const char *heading, gint64 empty)
{
  gint64 v = table_pressure (r, heading, empty);

  if (v < 0)
    {
      table_complain (r, heading, _ ("a class is over 0"), _ ("write the class without its sign"));
      return empty;
    }
  if (v == 0)
    table_complain (r, heading, _ ("no class is given"), _ ("enter the class in w.g., or in Pa with its unit"));
  return v;
}

/* A bare number is feet; an empty cell names no spacing. */
static gint64
read_feet (const TableReader *r, const char *heading)
{
  Fault *fault = NULL;
  gint64 nm = G_MAXINT64;

  if (*table_cell (r, heading) && !length_parse (table_cell (r, heading), LENGTH_FT, &nm, &fault))
    table_complain_fault (r, heading, fault);
  else if (nm <= 0)
    table_complain (r, heading, _ ("must be over 0"), _ ("enter the spacing in feet, or leave it empty for none"));
  return nm;
}

static double
read_ei (const TableReader *r)
{
  if (!*table_cell (r, "ei_1e5_lb_in2"))
    table_complain (r, "ei_1e5_lb_in2", _ ("the stiffness is missing"), _ ("enter EI in 1e5 lb in2"));
  return (double) table_decimal (r, "ei_1e5_lb_in2", 3, 0, 1, MOST_EI) / 1e3;
}

static void
read_stiffness (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "class", "ei_1e5_lb_in2", NULL };
  double last = 0;
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctStiffness *row = g_new0 (DuctStiffness, 1);

      if (!*table_cell (&r, "class") || table_find (rules->stiffness, table_cell (&r, "class")) >= 0)
        table_complain (&r, "class", _ ("the class has no letter, or stands twice"), _ ("give each its own letter"));
      g_ptr_array_add (rules->stiffness, row);
      row->key = g_strdup (table_cell (&r, "class"));
      row->ei = read_ei (&r);
      if (row->ei <= last)
        table_complain (&r, "ei_1e5_lb_in2", _ ("a later class must be stiffer"), _ ("put the classes in order of EI"));
      last = row->ei;
      read_origin (&r, &row->source, &row->status);
    }
}

static void
read_members (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "member", "form", "ei_1e5_lb_in2", "lb_ft", NULL };
  static const char *const forms[] = { "angle", "channel", "bar", "tube" };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctMember *row = g_new0 (DuctMember, 1);
      int form = table_word (&r, "form", forms, G_N_ELEMENTS (forms));
      gint64 lb;

      if (!*table_cell (&r, "member") || duct_rules_find_member (rules, table_cell (&r, "member")) >= 0)
        table_complain (&r, "member", _ ("the member has no name, or stands twice"), _ ("give each its own name"));
      /* The name stands in the construction of a run, before " at ". */
      else if (strpbrk (table_cell (&r, "member"), ";") || strstr (table_cell (&r, "member"), " at "))
        table_complain (&r, "member", _ ("the name cannot hold “;” or “ at ”"), _ ("choose another name"));
      g_ptr_array_add (rules->members, row);
      row->key = g_strdup (table_cell (&r, "member"));
      row->form = g_strdup (form < 0 ? "" : forms[form]);
      row->ei = read_ei (&r);
      if (!*table_cell (&r, "lb_ft"))
        table_complain (&r, "lb_ft", _ ("the weight is missing"), _ ("enter pounds a foot"));
      lb = table_decimal (&r, "lb_ft", 6, 0, 1, 1000000000);
      row->mg_per_mm = (double) lb / 1e6 * MEASURE_MG_PER_LB / 304.8;
      read_origin (&r, &row->source, &row->status);
    }
}

static void
read_joints (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "connection", "height_in", "gauge", "code", "max_pressure_in_wg", NULL };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctJointRating *row = g_new0 (DuctJointRating, 1);

      g_ptr_array_add (rules->joint_ratings, row);
      row->line = duct_read_line (&r);
      row->set = *table_cell (&r, "rule_set") ? duct_read_set (&r, rules) : -1;
      row->connection = duct_rules_find_connection (rules, table_cell (&r, "connection"));
      if (row->connection < 0)
        table_complain (&r, "connection", _ ("no such connection"), _ ("use a key of the connections, or add it there first"));
      row->height_nm = table_length (&r, "height_in", 0);
      row->sheet = read_sheet (&r, rules);
      row->code = read_code (&r, rules, "code");
      row->class_to = read_class (&r, "max_pressure_in_wg", G_MAXINT64);
      read_origin (&r, &row->source, &row->status);
    }
}

static void
read_rods (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "rule_set", "pressure_in_wg", "side_to_in", "code_to", "rods", NULL };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctTieRods *row = g_new0 (DuctTieRods, 1);

      g_ptr_array_add (rules->tie_rods, row);
      row->line = duct_read_line (&r);
      row->set = duct_read_set (&r, rules);
      row->class_to = read_class (&r, "pressure_in_wg", G_MAXINT64);
      row->side_to_nm = table_length (&r, "side_to_in", G_MAXINT64);
      row->code_to = read_code (&r, rules, "code_to");
      row->rods = table_decimal (&r, "rods", 0, 1, 1, 50);
      read_origin (&r, &row->source, &row->status);
    }
}

/* By set, class, sign, side and spacing; rows alike in these keep the order of the file. */
static int
compare_rows (gconstpointer a, gconstpointer b)
{
  const DuctReinforcement *x = *(DuctReinforcement *const *) a, *y = *(DuctReinforcement *const *) b;
  const gint64 a_key[] = { x->set, x->class_to, x->sign, x->side_to_nm, x->spacing_nm, x->line };
  const gint64 b_key[] = { y->set, y->class_to, y->sign, y->side_to_nm, y->spacing_nm, y->line };

  for (gsize i = 0; i < G_N_ELEMENTS (a_key); i++)
    if (a_key[i] != b_key[i])
      return a_key[i] < b_key[i] ? -1 : 1;
  return 0;
}

static void
make_blocks (DuctRules *rules)
{
  g_ptr_array_sort (rules->reinforcement, compare_rows);
  for (guint i = 0; i < rules->reinforcement->len; i++)
    {
      const DuctReinforcement *row = g_ptr_array_index (rules->reinforcement, i);
      DuctStiffBlock *last = rules->stiff_blocks->len
                                 ? &g_array_index (rules->stiff_blocks, DuctStiffBlock, rules->stiff_blocks->len - 1)
                                 : NULL;
      DuctStiffBlock block = { row->set, row->sign, row->class_to, i, 1 };
      if (last && last->set == row->set && last->sign == row->sign && last->class_to == row->class_to)
        last->n++;
      else
        g_array_append_val (rules->stiff_blocks, block);
    }
}

/* A side that lies between two rows of one spacing would be answered by neither: such a table is not taken. Rows go by whole
 * inches, so that one may end at 12 and the next begin at 13. */
static void
check_gaps (const DuctRules *rules, TableReader *r)
{
  for (guint b = 0; b < rules->stiff_blocks->len; b++)
    {
      const DuctStiffBlock *block = &g_array_index (rules->stiff_blocks, DuctStiffBlock, b);
      for (guint i = block->first; i < block->first + block->n; i++)
        {
          const DuctReinforcement *row = g_ptr_array_index (rules->reinforcement, i);
          gboolean below = FALSE, joined = FALSE;
          for (guint k = block->first; k < block->first + block->n; k++)
            {
              const DuctReinforcement *other = g_ptr_array_index (rules->reinforcement, k);
              if (other->spacing_nm != row->spacing_nm || other->side_from_nm >= row->side_from_nm
                  || duct_rules_sheet (rules, other->sheet)->metal != duct_rules_sheet (rules, row->sheet)->metal)
                continue;
              below = TRUE;
              joined = joined || other->side_to_nm + LENGTH_NM_PER_IN >= row->side_from_nm;
            }
          if (!below || joined)
            continue;
          for (r->row = 0; duct_read_line (r) != row->line;)
            r->row++;
          table_complain (r, "side_from_in", _ ("there is a gap: no row of this class and spacing answers for the sides just below"),
                          _ ("add the row that is missing, or begin this one where the last one ends"));
        }
    }
}

static int
compare_sheets (gconstpointer a, gconstpointer b, gpointer data)
{
  const DuctStiffSheet *x = a, *y = b;
  gint64 thick = duct_rules_sheet (data, x->sheet)->thickness_nm, other = duct_rules_sheet (data, y->sheet)->thickness_nm;

  if (x->set != y->set)
    return x->set - y->set;
  return thick != other ? (thick < other ? -1 : 1) : x->sheet - y->sheet;
}

static void
list_sheets (DuctRules *rules)
{
  for (guint i = 0; i < rules->reinforcement->len; i++)
    {
      const DuctReinforcement *row = g_ptr_array_index (rules->reinforcement, i);
      DuctStiffSheet named = { row->set, row->sheet };
      gboolean known = FALSE;
      for (guint k = 0; k < rules->stiff_sheets->len && !known; k++)
        {
          const DuctStiffSheet *other = &g_array_index (rules->stiff_sheets, DuctStiffSheet, k);
          known = other->set == named.set && other->sheet == named.sheet;
        }
      if (!known)
        g_array_append_val (rules->stiff_sheets, named);
    }
  g_array_sort_with_data (rules->stiff_sheets, compare_sheets, rules);
}

static void
read_reinforcement (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "rule_set", "pressure_in_wg", "sign", "side_from_in", "side_to_in", "spacing_ft",
                                          "gauge", "code", NULL };
  guint before = faults->len;
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctReinforcement *row = g_new0 (DuctReinforcement, 1);

      g_ptr_array_add (rules->reinforcement, row);
      row->line = duct_read_line (&r);
      row->set = duct_read_set (&r, rules);
      row->class_to = read_class (&r, "pressure_in_wg", 0);
      row->sign = duct_read_sign (&r, "sign");
      row->side_from_nm = table_length (&r, "side_from_in", 0);
      row->side_to_nm = table_length (&r, "side_to_in", G_MAXINT64);
      if (row->side_from_nm < 0 || row->side_to_nm < row->side_from_nm)
        table_complain (&r, "side_to_in", _ ("the range of sides is empty"), _ ("enter the smaller side first"));
      row->spacing_nm = read_feet (&r, "spacing_ft");
      row->sheet = read_sheet (&r, rules);
      row->code = read_code (&r, rules, "code");
      row->note = g_strdup (table_cell (&r, "note"));
      read_origin (&r, &row->source, &row->status);
    }
  make_blocks (rules);
  if (faults->len > before)
    return;
  check_gaps (rules, &r);
  list_sheets (rules);
}

void
duct_read_stiff_tables (DuctRules *rules, const DuctRuleTables *tables, GPtrArray *faults)
{
  rules->stiffness = g_ptr_array_new_with_free_func (stiffness_free);
  rules->members = g_ptr_array_new_with_free_func (member_free);
  rules->joint_ratings = g_ptr_array_new_with_free_func (joint_free);
  rules->reinforcement = g_ptr_array_new_with_free_func (reinforcement_free);
  rules->tie_rods = g_ptr_array_new_with_free_func (rods_free);
  rules->stiff_blocks = g_array_new (FALSE, FALSE, sizeof (DuctStiffBlock));
  rules->stiff_sheets = g_array_new (FALSE, FALSE, sizeof (DuctStiffSheet));

  read_stiffness (rules, tables->stiffness, faults);
  read_members (rules, tables->members, faults);
  read_joints (rules, tables->joint_ratings, faults);
  read_reinforcement (rules, tables->reinforcement, faults);
  read_rods (rules, tables->tie_rods, faults);
}
