/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/risk.h"

#include "base/decimal.h"
#include "base/table.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static const char *const taken[] = { "name",   "activity",         "input", "low", "likely", "high", "spread",
                                     "common", "on_critical_path", NULL };

typedef struct
{
  TableReader r;
  RiskProblem *problem;
  const char *name; /* heading of the names */
  int *input;       /* by row, -1 left out */
  GArray *columns;  /* int: columns of the file that are responses */
} Reader;

static gboolean
is_taken (const char *heading, const char *name)
{
  for (int i = 0; taken[i]; i++)
    if (g_ascii_strcasecmp (heading, taken[i]) == 0)
      return TRUE;
  return g_ascii_strcasecmp (heading, name) == 0;
}

static const char *
name_heading (const CsvTable *table)
{
  for (int i = 0; i < 3; i++)
    if (csv_column (table, taken[i]) >= 0)
      return taken[i];
  return g_ptr_array_index (table->head, 0);
}

/* A figure of a cell; FALSE after a complaint. */
static gboolean
read_figure (Reader *x, const char *heading, const char *text, double *out)
{
  Fault *fault = NULL;
  gint64 v;

  if (!decimal_parse (text, 6, &v, &fault))
    {
      table_complain_fault (&x->r, heading, fault);
      return FALSE;
    }
  *out = (double) v / 1e6;
  return TRUE;
}

static void
read_input (Reader *x, SpreadKind kind)
{
  const char *name = table_cell (&x->r, x->name), *word = table_cell (&x->r, "spread");
  Spread s = { .kind = kind };
  Fault *fault = NULL;

  x->input[x->r.row] = -1;
  if (strcmp (table_cell (&x->r, "on_critical_path"), "0") == 0)
    return;
  if (!*name)
    {
      table_complain (&x->r, x->name, _ ("the row has no name"), _ ("enter one"));
      return;
    }
  if (!read_figure (x, "low", table_cell (&x->r, "low"), &s.low)
      || !read_figure (x, "likely", table_cell (&x->r, "likely"), &s.likely)
      || !read_figure (x, "high", table_cell (&x->r, "high"), &s.high))
    return;
  if (*word && !spread_parse (word, &s.kind, &fault))
    {
      table_complain_fault (&x->r, "spread", fault);
      return;
    }
  gboolean twice = risk_problem_find_input (x->problem, name) >= 0;
  x->input[x->r.row] = risk_problem_add_input (x->problem, name, &s, &fault);
  if (fault)
    table_complain_fault (&x->r, twice ? x->name : s.low > s.likely ? "low" : "high", fault);
}

/* A row's common factor is one other row that has none of its own: a chain or a ring has no answer here. */
static void
check_commons (Reader *x)
{
  int column = csv_column (x->r.table, "common");

  for (x->r.row = 0; column >= 0 && x->r.row < x->r.table->row->len; x->r.row++)
    {
      const char *common = table_cell (&x->r, "common");
      int at = *common ? risk_problem_find_input (x->problem, common) : -1;

      if (x->input[x->r.row] < 0 || !*common)
        continue;
      if (at < 0 || at == x->input[x->r.row])
        {
          table_complain (&x->r, "common", _ ("no other row has this name"), _ ("name the row of the common factor"));
          continue;
        }
      for (guint i = 0; i < x->r.table->row->len; i++)
        if (x->input[i] == at && *csv_cell (x->r.table, i, column))
          {
            g_autofree char *what =
                g_strdup_printf (_ ("“%s” has a common factor itself, “%s”"), common, csv_cell (x->r.table, i, column));
            table_complain (&x->r, "common", what,
                            _ ("a common factor stands alone: leave its own cell “common” empty, or name another row"));
            break;
          }
    }
}

/* Whether another row names this one as its common factor. */
static gboolean
is_common (Reader *x, guint row)
{
  const char *name = csv_cell (x->r.table, row, csv_column (x->r.table, x->name));

  for (guint i = 0; i < x->r.table->row->len; i++)
    if (i != row && strcmp (csv_cell (x->r.table, i, csv_column (x->r.table, "common")), name) == 0)
      return TRUE;
  return FALSE;
}

static void
add_terms (Reader *x, int response, const char *heading)
{
  for (x->r.row = 0; x->r.row < x->r.table->row->len; x->r.row++)
    {
      const char *common = table_cell (&x->r, "common"), *text = heading ? table_cell (&x->r, heading) : "";
      double coefficient = heading ? 0 : !is_common (x, x->r.row);
      RiskTerm term;

      if (x->input[x->r.row] < 0 || (*text && !read_figure (x, heading, text, &coefficient)) || coefficient == 0)
        continue;
      risk_term_init (&term, x->problem, x->input[x->r.row], coefficient);
      if (*common)
        term.common[0] = risk_problem_find_input (x->problem, common);
      risk_problem_add_term (x->problem, response, &term);
    }
}

RiskProblem *
risk_problem_read (const CsvTable *table, SpreadKind spread, GPtrArray *faults)
{
  static const char *const headings[] = { "low", "likely", "high", NULL };
  guint before = faults->len;
  Reader x = { .problem = NULL };
  int n = 0;

  if (!table_begin (&x.r, table, faults, headings))
    return NULL;
  if (table->row->len == 0)
    {
      table_complain (&x.r, "low", _ ("the file has no row"), _ ("write a line for each input"));
      return NULL;
    }
  x.problem = risk_problem_new ();
  x.name = name_heading (table);
  x.input = g_new0 (int, table->row->len);
  for (x.r.row = 0; x.r.row < table->row->len; x.r.row++)
    read_input (&x, spread);
  if (faults->len == before)
    check_commons (&x);
  for (guint c = 0; faults->len == before && c < table->head->len; c++)
    {
      const char *heading = g_ptr_array_index (table->head, c);
      if (is_taken (heading, x.name))
        continue;
      add_terms (&x, risk_problem_add_response (x.problem, heading, 0), heading);
      n++;
    }
  if (n == 0 && faults->len == before)
    add_terms (&x, risk_problem_add_response (x.problem, "total", 0), NULL);
  if (faults->len == before && risk_problem_n_inputs (x.problem) == 0)
    {
      x.r.row = G_MAXUINT;
      table_complain (&x.r, "low", _ ("no row is left to simulate"), _ ("write a line for each input"));
    }
  g_free (x.input);
  if (faults->len > before)
    g_clear_pointer (&x.problem, risk_problem_free);
  return x.problem;
}

double *
risk_matrix_read (const char *text, int *k, Fault **fault)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  g_autoptr (GArray) figures = g_array_new (FALSE, FALSE, sizeof (double));
  int rows = 0, width = -1;

  for (char **line = lines; *line; line++)
    {
      g_auto (GStrv) cells = NULL;
      g_strstrip (*line);
      if (!**line || **line == '#')
        continue;
      cells = g_strsplit_set (*line, ",;\t", -1);
      if (width < 0)
        width = (int) g_strv_length (cells);
      if ((int) g_strv_length (cells) != width)
        {
          fault_set (fault, fault_new (-1, _ ("give each row as many figures as there are rows"),
                                       _ ("row %d of the matrix has %u figures, the first %d"), rows + 1,
                                       g_strv_length (cells), width));
          return NULL;
        }
      for (int c = 0; c < width; c++)
        {
          Fault *inner = NULL;
          gint64 v;
          if (!decimal_parse (cells[c], 12, &v, &inner))
            {
              fault_set (fault, fault_new (-1, inner->remedy, _ ("row %d, column %d of the matrix: %s"), rows + 1,
                                           c + 1, inner->what));
              fault_free (inner);
              return NULL;
            }
          double x = (double) v / 1e12;
          g_array_append_val (figures, x);
        }
      rows++;
    }
  if (rows == 0 || rows != width)
    {
      fault_set (fault, fault_new (-1, _ ("write a square of figures, a row a line"),
                                   _ ("the matrix has %d rows and %d columns"), rows, MAX (width, 0)));
      return NULL;
    }
  *k = rows;
  return (double *) g_array_free (g_steal_pointer (&figures), FALSE);
}

gboolean
risk_problem_read_correlation (RiskProblem *problem, const char *text, Fault **fault)
{
  int k = 0;
  g_autofree double *matrix = risk_matrix_read (text, &k, fault);
  g_autofree int *inputs = NULL;

  if (!matrix)
    return FALSE;
  if (k > risk_problem_n_inputs (problem))
    return fault_set (fault, fault_new (-1, _ ("leave out rows and columns of the matrix, or add inputs"),
                                        _ ("the matrix has %d inputs, the problem only %d"), k,
                                        risk_problem_n_inputs (problem)));
  inputs = g_new (int, (gsize) k);
  for (int i = 0; i < k; i++)
    inputs[i] = i;
  return risk_problem_correlate (problem, inputs, k, matrix, fault);
}
