/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "cost/catalogue-diff.h"
#include "duct/check.h"
#include "store/store.h"

#include <glib/gi18n.h>
#include <string.h>

static const CliColumn import_columns[] = {
  { "in_table", N_ ("table"), FALSE }, { "rows", N_ ("rows"), TRUE },
  { "replaced", N_ ("replaced"), TRUE }, { "revision", N_ ("revision"), TRUE },
};

static const CliColumn finding_columns[] = {
  { "rule_set", N_ ("rule set"), FALSE }, { "kind", N_ ("finding"), FALSE }, { "in_table", N_ ("table"), FALSE },
  { "line", N_ ("line"), TRUE },          { "file_line", N_ ("line of the file"), TRUE },
  { "words", N_ ("what"), FALSE },
};

typedef struct
{
  CatalogueSheet sheet;
  CsvTable *file;      /* as read */
  CsvTable *merged;    /* the revision's rows and the file's; row i stands in line i + 2 */
  GArray *file_line;   /* int, by row of merged: line of the file, 0 for rows that were there */
  guint replaced;
  Catalogue *base;     /* the newest revision */
  GPtrArray *faults;   /* CsvFault *, all of them about the file */
} RulesImport;

static void
rules_import_clear (RulesImport *m)
{
  g_clear_pointer (&m->file, csv_table_free);
  g_clear_pointer (&m->merged, csv_table_free);
  g_clear_pointer (&m->file_line, g_array_unref);
  g_clear_pointer (&m->base, catalogue_unref);
  g_clear_pointer (&m->faults, g_ptr_array_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (RulesImport, rules_import_clear)

static void
add_fault (RulesImport *m, int line, int column, const char *what, const char *remedy)
{
  const char *heading = column > 0 && (guint) column <= m->file->head->len ? g_ptr_array_index (m->file->head, (guint) column - 1) : NULL;

  g_ptr_array_add (m->faults, csv_fault_new (m->file->name, line, column, heading, what, remedy));
}

/* The column @heading, made at the end of @table where there is none. */
static int
need_column (CsvTable *table, const char *heading)
{
  int column = csv_column (table, heading);

  if (column >= 0)
    return column;
  g_ptr_array_add (table->head, g_strdup (heading));
  for (guint i = 0; i < table->row->len; i++)
    g_ptr_array_add (((CsvRow *) g_ptr_array_index (table->row, i))->cell, g_strdup (""));
  return (int) table->head->len - 1;
}

static CsvTable *
headings_only (CatalogueSheet sheet)
{
  g_autofree char *text = catalogue_headings (sheet);

  return csv_parse (text, -1, catalogue_sheet_key (sheet), NULL);
}

/* Headings that the catalogue does not know, and empty ones. */
static void
check_known_headings (RulesImport *m)
{
  g_autoptr (CsvTable) starter = headings_only (m->sheet);
  const CsvTable *stored = m->base->table[m->sheet];
  g_autoptr (GString) list = g_string_new (NULL);
  g_autofree char *remedy = NULL;

  for (guint c = 0; c < starter->head->len; c++)
    g_string_append_printf (list, "%s%s", c ? ", " : "", (const char *) g_ptr_array_index (starter->head, c));
  remedy = g_strdup_printf (_ ("remove the column, or name it as one of: %s"), list->str);
  for (guint c = 0; c < m->file->head->len; c++)
    {
      const char *heading = g_ptr_array_index (m->file->head, c);
      g_autofree char *what = g_strdup_printf (_ ("the table %s has no column “%s”"), catalogue_sheet_key (m->sheet), heading);
      if (!*heading)
        add_fault (m, m->file->head_line, (int) c + 1, _ ("the heading is empty"), remedy);
      else if (csv_column (starter, heading) < 0 && csv_column (stored, heading) < 0)
        add_fault (m, m->file->head_line, (int) c + 1, what, remedy);
    }
}

/* Which headings a table cannot do without is known to its reader alone: it is shown the heading line of the file, with every other
 * table empty, and what it misses is kept. Source and status may be left out. */
static void
check_missing_headings (RulesImport *m)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  CsvTable *table[CATALOGUE_N_SHEETS];
  Catalogue *none;
  /* Methods and recipes are read only where connections and steps could be. */
  gboolean whole = m->sheet == CATALOGUE_METHODS || m->sheet == CATALOGUE_RECIPES;

  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    table[i] = whole ? catalogue_copy_table (m->base->table[i]) : headings_only ((CatalogueSheet) i);
  CsvTable *probe = catalogue_copy_table (m->file);
  g_ptr_array_set_size (probe->row, 0);
  need_column (probe, "source");
  need_column (probe, "status");
  csv_table_free (table[m->sheet]);
  table[m->sheet] = probe;
  none = catalogue_new (table, faults);
  g_clear_pointer (&none, catalogue_unref);
  for (guint i = 0; i < faults->len; i++)
    {
      const CsvFault *fault = g_ptr_array_index (faults, i);
      /* Faults of the empty tables, and an empty table's own, are no news. */
      if (fault->column == 0 && fault->heading && strcmp (fault->file, m->file->name) == 0 && csv_column (m->file, fault->heading) < 0)
        add_fault (m, m->file->head_line, 0, fault->what, fault->remedy);
    }
}

/* Rows go together by their rule set, in tables without one by the first heading. */
static int
group_column (const CsvTable *table)
{
  return MAX (csv_column (table, "rule_set"), 0);
}

/* A row of the file under the headings of the merged table, marked the shop's own where it says nothing else. */
static CsvRow *
take_row (const RulesImport *m, guint at)
{
  CsvRow *row = g_new0 (CsvRow, 1);

  row->cell = g_ptr_array_new_with_free_func (g_free);
  for (guint c = 0; c < m->merged->head->len; c++)
    {
      const char *heading = g_ptr_array_index (m->merged->head, c);
      const char *text = csv_cell (m->file, at, csv_column (m->file, heading));
      if (!*text && g_ascii_strcasecmp (heading, "status") == 0)
        text = duct_status_key (DUCT_SHOPS_OWN);
      else if (!*text && g_ascii_strcasecmp (heading, "source") == 0)
        text = _ ("the shop's own table");
      g_ptr_array_add (row->cell, g_strdup (text));
    }
  return row;
}

static void
put_row (RulesImport *m, CsvRow *row, int file_line)
{
  g_ptr_array_add (m->merged->row, row);
  row->line = (int) m->merged->row->len + 1;
  g_array_append_val (m->file_line, file_line);
}

/* The file's rows that are not put yet; @group: those of one group, NULL for all. */
static void
put_file_rows (RulesImport *m, const char *group, gboolean *put)
{
  int column = csv_column (m->file, g_ptr_array_index (m->merged->head, (guint) group_column (m->merged)));

  for (guint i = 0; i < m->file->row->len; i++)
    if (!put[i] && (!group || strcmp (csv_cell (m->file, i, column), group) == 0))
      {
        put_row (m, take_row (m, i), ((CsvRow *) g_ptr_array_index (m->file->row, i))->line);
        put[i] = TRUE;
      }
}

/* Replacing rows stand where the first of the replaced ones stood: in some tables the first row that fits answers. */
static void
merge (RulesImport *m, gboolean replace)
{
  g_autoptr (GHashTable) groups = g_hash_table_new (g_str_hash, g_str_equal);
  g_autofree gboolean *put = g_new0 (gboolean, m->file->row->len + 1);
  g_autoptr (CsvTable) old = catalogue_copy_table (m->base->table[m->sheet]);

  for (guint c = 0; c < m->file->head->len; c++)
    need_column (old, g_ptr_array_index (m->file->head, c));
  need_column (old, "source");
  need_column (old, "status");
  m->merged = catalogue_copy_table (old);
  g_ptr_array_set_size (m->merged->row, 0);
  m->file_line = g_array_new (FALSE, FALSE, sizeof (int));

  int column = group_column (old);
  int in_file = csv_column (m->file, g_ptr_array_index (old->head, (guint) column));
  for (guint i = 0; replace && i < m->file->row->len; i++)
    g_hash_table_add (groups, (gpointer) csv_cell (m->file, i, in_file));
  for (guint i = 0; i < old->row->len; i++)
    {
      const char *group = csv_cell (old, i, column);
      if (g_hash_table_contains (groups, group))
        {
          put_file_rows (m, group, put);
          m->replaced++;
          continue;
        }
      CsvRow *row = g_new0 (CsvRow, 1);
      row->cell = g_ptr_array_ref (((CsvRow *) g_ptr_array_index (old->row, i))->cell);
      put_row (m, row, 0);
    }
  put_file_rows (m, NULL, put);
}

static int
line_of_file (const RulesImport *m, int line)
{
  return line >= 2 && (guint) line - 2 < m->file_line->len ? g_array_index (m->file_line, int, (guint) line - 2) : 0;
}

/* Does the row of the merged table in @line name a rule set that is not there? */
static gboolean
names_no_set (const RulesImport *m, int line)
{
  const char *set = csv_cell (m->merged, (guint) line - 2, csv_column (m->merged, "rule_set"));

  return m->sheet != CATALOGUE_RULE_SETS && *set && duct_rules_find_set (m->base->rules, set) < 0;
}

/* A fault of the whole catalogue, told by the place in the file where it has one. */
static void
take_fault (RulesImport *m, const CsvFault *fault)
{
  gboolean here = strcmp (fault->file, m->merged->name) == 0;
  int line = here ? line_of_file (m, fault->line) : 0;
  const char *remedy = fault->remedy;

  if (line == 0)
    {
      g_ptr_array_add (m->faults, csv_fault_new (fault->file, fault->line, fault->column, fault->heading, fault->what, remedy));
      return;
    }
  if (g_strcmp0 (fault->heading, "rule_set") == 0 && names_no_set (m, fault->line))
    remedy = _ ("import it first: seamtally rules import rule_sets FILE.csv");
  g_ptr_array_add (m->faults, csv_fault_new (m->file->name, line, fault->heading ? csv_column (m->file, fault->heading) + 1 : 0,
                                             fault->heading, fault->what, remedy));
}

/* The catalogue with the rows of the file; NULL with the faults. */
static Catalogue *
compile (RulesImport *m)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  CsvTable *table[CATALOGUE_N_SHEETS];
  Catalogue *catalogue;

  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    table[i] = catalogue_copy_table (i == (int) m->sheet ? m->merged : m->base->table[i]);
  catalogue = catalogue_new (table, faults);
  for (guint i = 0; i < faults->len; i++)
    take_fault (m, g_ptr_array_index (faults, i));
  return catalogue;
}

/* A reminder of what the checker finds odd about the sets that the rows name. */
static void
print_findings (const RulesImport *m, const Catalogue *catalogue, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("findings", finding_columns, G_N_ELEMENTS (finding_columns));
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  guint n = 0;

  for (guint i = 0; i < m->file->row->len; i++)
    {
      const char *key = csv_cell (m->file, i, csv_column (m->file, "rule_set"));
      int set = *key ? duct_rules_find_set (catalogue->rules, key) : -1;
      if (set < 0 || !g_hash_table_add (seen, (gpointer) key))
        continue;
      g_autoptr (GArray) found = duct_check_set (catalogue->rules, set);
      for (guint k = 0; k < found->len; k++, n++)
        {
          const DuctFinding *f = &g_array_index (found, DuctFinding, k);
          int line = strcmp (f->table, catalogue_sheet_key (m->sheet)) == 0 ? line_of_file (m, f->line) : 0;
          cli_table_add (t, key);
          cli_table_add (t, duct_finding_key (f->kind));
          cli_table_add (t, f->table);
          cli_table_take (t, f->line > 0 ? g_strdup_printf ("%d", f->line) : g_strdup (""));
          cli_table_take (t, line > 0 ? g_strdup_printf ("%d", line) : g_strdup (""));
          cli_table_add (t, f->words);
        }
    }
  if (n > 0 && format == CLI_TEXT)
    cli_print (_ ("\nTo be looked at (they count as they are):\n"));
  if (n > 0)
    cli_table_print (t, format);
}

static void
print_done (const RulesImport *m, gint64 revision, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("import", import_columns, G_N_ELEMENTS (import_columns));
  const char *key = catalogue_sheet_key (m->sheet);
  guint n = m->file->row->len;

  if (format != CLI_TEXT)
    {
      cli_table_add (t, key);
      cli_table_int (t, n);
      cli_table_int (t, m->replaced);
      cli_table_int (t, revision);
      cli_table_print (t, format);
      return;
    }
  cli_print (g_dngettext (GETTEXT_PACKAGE, "%u row came into %s: revision %d of the catalogue\n",
                          "%u rows came into %s: revision %d of the catalogue\n", n), n, key, (int) revision);
  if (m->replaced > 0)
    cli_print (g_dngettext (GETTEXT_PACKAGE, "%u row that stood there was replaced\n", "%u rows that stood there were replaced\n",
                            m->replaced), m->replaced);
}

static int
nothing_imported (const RulesImport *m)
{
  cli_complain_faults (m->faults);
  cli_complain (_ ("nothing was imported"));
  return CLI_FAULTS;
}

static int
import_file (RulesImport *m, Store *store, const char *path, const char *reason, gboolean replace, CliFormat format)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (Catalogue) catalogue = NULL;
  g_autofree char *words = NULL;
  gint64 revision;

  m->base = store_catalogue (store, 0, &error);
  if (!m->base)
    {
      cli_complain ("%s", error->message);
      return CLI_FILE;
    }
  check_known_headings (m);
  check_missing_headings (m);
  if (m->file->row->len == 0)
    add_fault (m, m->file->head_line, 0, _ ("no row follows the heading"), _ ("put a row of the table into each line below it"));
  if (m->faults->len > 0)
    return nothing_imported (m);
  merge (m, replace);
  catalogue = compile (m);
  if (!catalogue)
    return nothing_imported (m);
  words = reason && *reason ? g_strdup (reason)
                            : g_strdup_printf (_ ("import of %s into %s"), m->file->name, catalogue_sheet_key (m->sheet));
  revision = store_add_revision (store, catalogue->table, words, path, &error);
  if (revision == 0)
    {
      cli_complain ("%s", error->message);
      return CLI_FILE;
    }
  print_done (m, revision, format);
  print_findings (m, catalogue, format);
  return CLI_DONE;
}

int
cli_rules_import (const CliOptions *o, const char *reason, gboolean replace)
{
  g_auto (RulesImport) m = { 0 };
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) store = NULL;
  g_autofree char *office = cli_options_office (o);
  g_autofree char *name = g_filename_display_basename (o->rest[2]);
  int sheet = catalogue_sheet_find (o->rest[1]);

  if (sheet < 0)
    {
      g_autoptr (GString) list = g_string_new (NULL);
      for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
        g_string_append_printf (list, "%s%s", i ? ", " : "", catalogue_sheet_key ((CatalogueSheet) i));
      cli_complain (_ ("there is no table “%s”; write one of: %s"), o->rest[1], list->str);
      return CLI_USAGE;
    }
  m.sheet = (CatalogueSheet) sheet;
  m.faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  m.file = csv_read_file (o->rest[2], m.faults, &error);
  if (!error && m.faults->len > 0)
    return nothing_imported (&m);
  if (!error)
    store = store_open (office, TRUE, &error);
  if (error)
    {
      cli_complain ("%s", error->message);
      return CLI_FILE;
    }
  return import_file (&m, store, name, reason, replace, cli_options_format (o));
}
