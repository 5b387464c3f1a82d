/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/mix.h"

#include "base/decimal.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* Reads one figure; on failure a fault at its place. */
static gboolean
figure (const CsvTable *table, guint row, int column, int decimals, gint64 *out, GPtrArray *faults)
{
  const char *text = csv_cell (table, row, column);
  g_autoptr (Fault) fault = NULL;

  if (decimal_parse (text, decimals, out, &fault))
    return TRUE;
  g_ptr_array_add (faults,
                   csv_fault_new (table->name, ((CsvRow *) g_ptr_array_index (table->row, row))->line, column + 1,
                                  g_ptr_array_index (table->head, (guint) column), fault->what, fault->remedy));
  return FALSE;
}

static void
refuse (const CsvTable *table, guint row, const char *heading, const char *what, const char *remedy, GPtrArray *faults)
{
  gboolean at_row = row != G_MAXUINT;

  g_ptr_array_add (faults,
                   csv_fault_new (table->name,
                                  at_row ? ((CsvRow *) g_ptr_array_index (table->row, row))->line : table->head_line, 0,
                                  heading, what, remedy));
}

/* Hours have four decimals, so that they are whole milliseconds: 0.0001 h = 360 ms. @needed: there is a limit, under
 * which a method without hours would be free. */
static gboolean
hours_figure (const CsvTable *table, guint row, int column, gboolean needed, gint64 *ms, GPtrArray *faults)
{
  gint64 parts = 0;

  if (column < 0)
    return TRUE;
  if (*csv_cell (table, row, column) == '\0')
    {
      if (needed)
        g_ptr_array_add (
            faults, csv_fault_new (table->name, ((CsvRow *) g_ptr_array_index (table->row, row))->line, column + 1,
                                   g_ptr_array_index (table->head, (guint) column),
                                   _ ("the cell is empty, and there is a limit on hours"),
                                   _ ("enter its hours, 0 where it takes none, or leave out its cost")));
      return !needed;
    }
  if (!figure (table, row, column, 4, &parts, faults))
    return FALSE;
  *ms = parts > G_MAXINT64 / 360 ? G_MAXINT64 / 2 : parts * 360;
  return TRUE;
}

static const char *const special[] = { "setup", "capacity", "tool", "connection" };

static int
special_of (const CsvTable *table, guint row, int column)
{
  for (guint i = 0; i < G_N_ELEMENTS (special); i++)
    if (g_ascii_strcasecmp (csv_cell (table, row, column), special[i]) == 0)
      return (int) i;
  return -1;
}

/* The same word in two methods is the same tool or connection. */
static int
word_number (GPtrArray *words, const char *word)
{
  guint at;

  if (g_ptr_array_find_with_equal_func (words, word, g_str_equal, &at))
    return (int) at;
  g_ptr_array_add (words, g_strdup (word));
  return (int) words->len - 1;
}

typedef struct
{
  const CsvTable *table;
  GPtrArray *faults, *words;
  int group, next, joints;
  int *cost, *hours, *use; /* columns by method */
  guint n_methods;
  gboolean hours_needed;
} Reader;

static void
read_special (Reader *r, CostMix *mix, guint row, int which)
{
  for (guint m = 0; m < r->n_methods; m++)
    {
      const char *text = csv_cell (r->table, row, r->cost[m]);
      if (*text == '\0')
        continue;
      if (which == 0)
        figure (r->table, row, r->cost[m], 4, &mix->setup[m], r->faults);
      else if (which == 1)
        figure (r->table, row, r->cost[m], 3, &mix->capacity[m], r->faults);
      else
        (which == 2 ? mix->tool : mix->connection)[m] =
            (which == 3 ? COST_MIX_MOST_METHODS : 0) + word_number (r->words, text);
    }
}

static void
read_group (Reader *r, CostMix *mix, guint row, guint g)
{
  cost_mix_set_group (mix, g, csv_cell (r->table, row, r->group));
  for (guint m = 0; m < r->n_methods; m++)
    {
      gsize at = (gsize) g * mix->n_methods + m;
      mix->use[at] = 1000;
      if (*csv_cell (r->table, row, r->cost[m]) == '\0'
          || !figure (r->table, row, r->cost[m], 4, &mix->cost[at], r->faults))
        continue;
      hours_figure (r->table, row, r->hours[m], r->hours_needed, &mix->hours[at], r->faults);
      if (r->use[m] >= 0 && *csv_cell (r->table, row, r->use[m]))
        figure (r->table, row, r->use[m], 3, &mix->use[at], r->faults);
    }
}

/* Which group a name is, the first of that name; -1. */
static int
find_group (const CostMix *mix, const char *name)
{
  for (guint g = 0; g < mix->n_groups; g++)
    if (strcmp (mix->group[g], name) == 0)
      return (int) g;
  return -1;
}

static void
read_joints (Reader *r, CostMix *mix, guint row, guint g)
{
  const char *next = csv_cell (r->table, row, r->next);
  gint64 joints;
  int other;

  if (*next == '\0')
    return;
  other = find_group (mix, next);
  if (other < 0)
    {
      g_autofree char *what = g_strdup_printf (_ ("there is no group “%s”"), next);
      refuse (r->table, row, "next", what, _ ("name a group of the first column"), r->faults);
    }
  else if (figure (r->table, row, r->joints, 0, &joints, r->faults))
    cost_mix_add_boundary (mix, g, (guint) other, joints, NULL);
}

static gboolean
find_columns (Reader *r)
{
  const CsvTable *table = r->table;

  r->group = csv_column (table, "group");
  r->next = csv_column (table, "next");
  r->joints = csv_column (table, "joints");
  for (guint i = 0; i < table->head->len; i++)
    if (g_ascii_strncasecmp (g_ptr_array_index (table->head, i), "cost_", 5) == 0)
      {
        const char *method = (const char *) g_ptr_array_index (table->head, i) + 5;
        g_autofree char *hours = g_strconcat ("hours_", method, NULL), *use = g_strconcat ("use_", method, NULL);
        r->cost[r->n_methods] = (int) i;
        r->hours[r->n_methods] = csv_column (table, hours);
        r->use[r->n_methods++] = csv_column (table, use);
      }
  for (guint m = 0; m < r->n_methods && r->hours_needed; m++)
    if (r->hours[m] < 0)
      {
        const char *method = (const char *) g_ptr_array_index (table->head, (guint) r->cost[m]) + 5;
        g_autofree char *heading = g_strdup_printf ("hours_%s", method),
                        *what = g_strdup_printf (_ ("there is no column “%s”, and there is a limit on hours"), heading);
        refuse (table, G_MAXUINT, heading, what, _ ("give the hours of each group by this method"), r->faults);
        return FALSE;
      }
  if (r->group < 0)
    refuse (table, G_MAXUINT, "group", _ ("there is no column “group”"),
            _ ("name the groups in a column of that heading"), r->faults);
  else if (r->n_methods == 0)
    refuse (table, G_MAXUINT, "cost_A", _ ("there is no column of costs"),
            _ ("give each method M a column cost_M and, for a limit on hours, hours_M"), r->faults);
  else if (r->next >= 0 && r->joints < 0)
    refuse (table, G_MAXUINT, "next", _ ("there is no column “joints”"),
            _ ("say how many joints lead to the next group"), r->faults);
  else
    return TRUE;
  return FALSE;
}

CostMix *
cost_mix_read (const CsvTable *table, gboolean hours_needed, GPtrArray *faults)
{
  g_autofree int *columns = g_new (int, 3 * (gsize) MAX (table->head->len, 1));
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  Reader r = {
    table, faults, words, -1, -1, -1, columns, columns + table->head->len, columns + 2 * table->head->len, 0,
    hours_needed
  };
  guint before = faults->len, n = 0, g = 0;
  CostMix *mix;

  if (!find_columns (&r))
    return NULL;
  for (guint i = 0; i < table->row->len; i++)
    n += special_of (table, i, r.group) < 0;
  if (r.n_methods > COST_MIX_MOST_METHODS || n > COST_MIX_MOST_GROUPS)
    {
      refuse (table, G_MAXUINT, NULL, _ ("there are too many groups or methods"), _ ("join groups that are alike"),
              faults);
      return NULL;
    }
  mix = cost_mix_new (n, r.n_methods);
  for (guint m = 0; m < r.n_methods; m++)
    cost_mix_set_method (mix, m, (const char *) g_ptr_array_index (table->head, (guint) r.cost[m]) + 5);
  for (guint i = 0; i < table->row->len; i++)
    {
      int which = special_of (table, i, r.group);
      if (which >= 0)
        read_special (&r, mix, i, which);
      else
        read_group (&r, mix, i, g++);
    }
  g = 0;
  for (guint i = 0; r.next >= 0 && i < table->row->len; i++)
    if (special_of (table, i, r.group) < 0)
      read_joints (&r, mix, i, g++);
  if (faults->len == before)
    return mix;
  cost_mix_free (mix);
  return NULL;
}

CostMix *
cost_mix_read_places (const CsvTable *table, gint64 fixed, GPtrArray *faults)
{
  guint before = faults->len, methods = table->head->len - 1, groups = 0, g = 0;
  CostMix *mix;

  for (guint i = 0; i < table->row->len; i++)
    groups += g_ascii_strcasecmp (csv_cell (table, i, 0), "capacity") != 0;
  if (methods == 0 || methods > COST_MIX_MOST_METHODS || groups == 0 || groups > COST_MIX_MOST_GROUPS)
    {
      refuse (table, G_MAXUINT, NULL, _ ("there are no places, no rows, or too many"),
              _ ("name who is served in the first column and give each place a column"), faults);
      return NULL;
    }
  mix = cost_mix_new (groups, methods);
  for (guint m = 0; m < methods; m++)
    {
      cost_mix_set_method (mix, m, g_ptr_array_index (table->head, m + 1));
      mix->setup[m] = fixed;
    }
  for (guint i = 0; i < table->row->len; i++)
    {
      gboolean capacity = g_ascii_strcasecmp (csv_cell (table, i, 0), "capacity") == 0;
      if (!capacity)
        cost_mix_set_group (mix, g, csv_cell (table, i, 0));
      for (guint m = 0; m < methods; m++)
        {
          gsize at = capacity ? 0 : (gsize) g * methods + m;
          gint64 *to = capacity ? &mix->capacity[m] : &mix->cost[at];
          if (*csv_cell (table, i, (int) m + 1) && figure (table, i, (int) m + 1, capacity ? 3 : 4, to, faults)
              && !capacity)
            mix->use[at] = 1000;
        }
      g += !capacity;
    }
  if (faults->len == before)
    return mix;
  cost_mix_free (mix);
  return NULL;
}

/* ---- numbers in lines ---- */

/* All numbers of the text in order, with the line of each. */
static gboolean
read_numbers (const char *text, const char *name, GArray *number, GArray *line, GPtrArray *faults)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

  for (int i = 0; lines[i]; i++)
    {
      g_auto (GStrv) words = NULL;
      if (*g_strstrip (lines[i]) == '#')
        continue;
      words = g_strsplit_set (lines[i], " \t", -1);
      for (char **w = words; *w; w++)
        {
          g_autoptr (Fault) fault = NULL;
          gint64 value;
          int at = i + 1;
          if (**w == '\0')
            continue;
          if (!decimal_parse (*w, 3, &value, &fault))
            {
              g_ptr_array_add (faults, csv_fault_new (name, at, 0, NULL, fault->what, fault->remedy));
              return FALSE;
            }
          g_array_append_val (number, value);
          g_array_append_val (line, at);
        }
    }
  return TRUE;
}

CostMix *
cost_mix_read_assignment (const char *text, const char *name, GPtrArray *faults)
{
  g_autoptr (GArray) number = g_array_new (FALSE, FALSE, sizeof (gint64)),
                     line = g_array_new (FALSE, FALSE, sizeof (int));
  const gint64 *figures;
  gint64 agents, jobs;
  CostMix *mix;

  if (!read_numbers (text, name, number, line, faults))
    return NULL;
  figures = (const gint64 *) (gconstpointer) number->data;
  agents = number->len > 1 ? figures[0] / 1000 : 0;
  jobs = number->len > 1 ? figures[1] / 1000 : 0;
  if (agents < 1 || jobs < 1 || agents > COST_MIX_MOST_METHODS || jobs > COST_MIX_MOST_GROUPS
      || number->len != 2 + 2 * agents * jobs + agents)
    {
      g_ptr_array_add (
          faults, csv_fault_new (name, number->len > 0 ? g_array_index (line, int, 0) : 0, 0, NULL,
                                 _ ("the numbers are not those of an assignment"),
                                 _ ("give agents and jobs, then money and use of each job by agent, then a capacity "
                                    "of each agent")));
      return NULL;
    }
  mix = cost_mix_new ((guint) jobs, (guint) agents);
  for (guint j = 0; j < jobs; j++)
    {
      g_autofree char *group = g_strdup_printf ("%u", j + 1);
      cost_mix_set_group (mix, j, group);
    }
  for (guint a = 0; a < agents; a++)
    {
      g_autofree char *agent = g_strdup_printf ("%u", a + 1);
      cost_mix_set_method (mix, a, agent);
      for (guint j = 0; j < jobs; j++)
        {
          mix->cost[j * (gsize) agents + a] = figures[2 + a * (gsize) jobs + j] * 10;
          mix->use[j * (gsize) agents + a] = figures[2 + ((gsize) agents + a) * (gsize) jobs + j];
        }
      mix->capacity[a] = figures[2 + 2 * (gsize) (agents * jobs) + a];
    }
  return mix;
}
