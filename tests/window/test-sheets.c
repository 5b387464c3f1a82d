/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tables behind the windows for places, import and catalogue; no display is needed. Figures: the demo job (invented demo). */
#include "cost/retire.h"
#include "window/catalogue/catalogue-private.h"
#include "window/habits/record-sheet-model.h"
#include "window/habits/text-sheet-model.h"

#include <glib/gstdio.h>
#include <string.h>

typedef struct
{
  char *folder, *path;
  TallySession *session;
  char *said;
  int how;
} Fixture;

static void
said_cb (TallySession *session, const char *text, int how, Fixture *f)
{
  (void) session;
  g_free (f->said);
  f->said = g_strdup (text);
  f->how = how;
}

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  (void) data;
  f->folder = g_dir_make_tmp ("seamtally-sheets-XXXXXX", &error);
  f->path = g_build_filename (f->folder, "office.seam", NULL);
  f->session = session_new ();
  g_assert_true (session_open_office (f->session, f->path, TRUE, &error));
  g_assert_true (session_open_demo (f->session, &error));
  g_assert_no_error (error);
  g_signal_connect (f->session, "said", G_CALLBACK (said_cb), f);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  g_autoptr (GDir) dir = NULL;
  const char *name;

  (void) data;
  g_object_unref (f->session);
  dir = g_dir_open (f->folder, 0, NULL);
  while ((name = g_dir_read_name (dir)))
    {
      g_autofree char *path = g_build_filename (f->folder, name, NULL);
      g_remove (path);
    }
  g_rmdir (f->folder);
  g_free (f->folder);
  g_free (f->path);
  g_free (f->said);
}

static gint64
price (Fixture *f)
{
  CatalogueFigures figures;
  char *words = NULL;

  g_assert_true (catalogue_effect (f->session, NULL, &figures, &words));
  return figures.price;
}

static gboolean
type (gpointer model, guint row, guint column, const char *text)
{
  GridPatchCell cell = { row, column, (char *) text };

  return grid_model_apply (TALLY_GRID_MODEL (model), &cell, 1, "typing");
}

/* Row of a sheet of cells by system and area. */
static guint
cell_row (TallyGridModel *model, const char *system, const char *area)
{
  for (guint i = 0; i < grid_model_n_rows (model); i++)
    {
      g_autofree char *s = grid_model_text (model, i, 0), *a = grid_model_text (model, i, 1);
      if (g_str_equal (s, system) && g_str_equal (a, area))
        return i;
    }
  g_assert_not_reached ();
}

/* An addendum is one cell: SA-1 x Level 1 from class 4 to 6 adds 2,799.76 to the price (invented demo). */
static void
test_addendum (Fixture *f, gconstpointer data)
{
  g_autoptr (TallyRecordSheet) sheet = record_sheet_new (f->session, JOB_CELL);
  TallyGridModel *model = TALLY_GRID_MODEL (sheet);
  guint row = cell_row (model, "SA-1", "Level 1"), column = (guint) job_field_find (JOB_CELL, "class");
  gint64 before = price (f);

  (void) data;
  g_assert_cmpint (before, ==, 20759042);
  g_assert_true (type (sheet, row, column, "6"));
  g_assert_cmpint (ABS (price (f) - before - 279976), <=, 3); /* within the cents that rounding by line leaves */
  session_undo (f->session);
  g_assert_cmpint (price (f), ==, before);
}

/* Where nothing is entered the value that holds is shown: of a cell its system's, of a system the job's. */
static void
test_inherited (Fixture *f, gconstpointer data)
{
  g_autoptr (TallyRecordSheet) systems = record_sheet_new (f->session, JOB_SYSTEM), cells = record_sheet_new (f->session, JOB_CELL);
  g_autoptr (TallyRecordSheet) areas = record_sheet_new (f->session, JOB_AREA);
  TallyGridModel *system = TALLY_GRID_MODEL (systems), *cell = TALLY_GRID_MODEL (cells), *area = TALLY_GRID_MODEL (areas);
  guint row = cell_row (cell, "SA-1", "Level 1"), metal = (guint) job_field_find (JOB_CELL, "metal");
  guint system_metal = (guint) job_field_find (JOB_SYSTEM, "metal"), set = (guint) job_field_find (JOB_SYSTEM, "rule_set");
  g_autofree char *from_job = NULL, *from_system = NULL, *own = NULL, *once = NULL;

  (void) data;
  from_job = grid_model_text (system, 0, set);
  g_assert_cmpstr (from_job, ==, job_head (session_job (f->session))->text[HEAD_RULE_SET]);
  g_assert_true (grid_model_flags (system, 0, set) & GRID_CELL_INHERITED);
  g_assert_true (type (systems, 0, system_metal, "stainless"));
  g_assert_false (grid_model_flags (system, 0, system_metal) & GRID_CELL_INHERITED);
  from_system = grid_model_text (cell, row, metal);
  g_assert_cmpstr (from_system, ==, "stainless");
  g_assert_true (grid_model_flags (cell, row, metal) & GRID_CELL_INHERITED);
  g_assert_true (type (cells, row, metal, "galv"));
  own = grid_model_text (cell, row, metal);
  g_assert_cmpstr (own, ==, "galvanised");
  g_assert_false (grid_model_flags (cell, row, metal) & GRID_CELL_INHERITED);
  g_assert_true (type (areas, 0, (guint) job_field_find (JOB_AREA, "times"), ""));
  once = grid_model_text (area, 0, (guint) job_field_find (JOB_AREA, "times"));
  g_assert_cmpstr (once, ==, "1");
}

/* A job that was changed elsewhere is opened again, the part that was looked at stays, and then it takes edits. */
static void
test_reopen (Fixture *f, gconstpointer data)
{
  g_autoptr (TallySession) other = session_new ();
  TallyJob *job = session_job (f->session);
  gint64 system = job_at (job, JOB_SYSTEM, 1)->id, run = job_at (job, JOB_RUN, 0)->id;
  int note = job_field_find (JOB_RUN, "note");
  GError *error = NULL;

  (void) data;
  g_assert_true (session_open_office (other, f->path, FALSE, &error));
  g_assert_true (session_open_job (other, session_job_id (f->session), &error));
  session_set_scope (f->session, system, 0);
  g_assert_true (session_edit_field (other, JOB_RUN, run, note, "theirs", NULL));
  g_assert_false (session_edit_field (f->session, JOB_RUN, run, note, "ours", NULL));
  g_assert_cmpint (f->how, ==, SESSION_REFUSED_STALE);
  g_assert_true (session_reopen_job (f->session, &error));
  g_assert_no_error (error);
  g_assert_cmpint (session_scope (f->session)->system, ==, system);
  g_assert_cmpstr (job_find (session_job (f->session), JOB_RUN, run)->text[RUN_NOTE], ==, "theirs");
  g_assert_true (session_edit_field (f->session, JOB_RUN, run, note, "ours", NULL));
}

/* Words that stand alone begin like a sentence; names do not change. */
static void
test_said (Fixture *f, gconstpointer data)
{
  static const char *const rows[][2] = { { "the row is not there", "The row is not there" }, { "office.seam is locked", "office.seam is locked" },
                                         { "“x” is not known", "“x” is not known" }, { "24 rows", "24 rows" }, { "", "" } };

  (void) data;
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      session_say (f->session, SESSION_REFUSED, "%s", rows[i][0]);
      g_assert_cmpstr (f->said, ==, rows[i][1]);
    }
}

/* What cannot be read stays as typed, is marked and explained; the row can be taken back. */
static void
test_fault (Fixture *f, gconstpointer data)
{
  g_autoptr (TallyRecordSheet) sheet = record_sheet_new (f->session, JOB_AREA);
  TallyGridModel *model = TALLY_GRID_MODEL (sheet);
  guint column = (guint) job_field_find (JOB_AREA, "working_height_ft");
  g_autofree char *text = NULL, *words = NULL;

  (void) data;
  g_assert_cmpint (grid_model_flags (model, 0, column) & GRID_CELL_FAULTY, ==, 0);
  g_assert_true (type (sheet, 0, column, "1x"));
  text = grid_model_text (model, 0, column);
  words = grid_model_message (model, 0, column);
  g_assert_cmpstr (text, ==, "1x");
  g_assert_cmpint (grid_model_flags (model, 0, column) & GRID_CELL_FAULTY, ==, GRID_CELL_FAULTY);
  g_assert_nonnull (strstr (words, "(“1x”)"));
}

/* Rows come and go: a new system has a name of its own, one with runs is not deleted, a cell is there once. */
static void
test_rows (Fixture *f, gconstpointer data)
{
  g_autoptr (TallyRecordSheet) systems = record_sheet_new (f->session, JOB_SYSTEM), cells = record_sheet_new (f->session, JOB_CELL);
  TallyGridModel *model = TALLY_GRID_MODEL (systems);
  guint n = grid_model_n_rows (model), first = 0, last = n;
  g_autofree char *name = NULL, *moved = NULL, *second = grid_model_text (model, 1, 0);

  (void) data;
  g_assert_true (grid_model_insert_rows (model, n, 1));
  g_assert_cmpuint (grid_model_n_rows (model), ==, n + 1);
  name = grid_model_text (model, n, 0);
  g_assert_cmpstr (name, !=, "");
  g_assert_true (grid_model_delete_rows (model, &last, 1));
  g_assert_cmpuint (grid_model_n_rows (model), ==, n);
  g_assert_false (grid_model_delete_rows (model, &first, 1));
  g_assert_nonnull (f->said);
  g_assert_nonnull (strstr (f->said, "still has runs"));
  g_assert_true (grid_model_duplicate_rows (model, &first, 1));
  g_assert_cmpuint (grid_model_n_rows (model), ==, n + 1);
  session_undo (f->session);
  g_assert_true (grid_model_move_rows (model, &first, 1, 1));
  moved = grid_model_text (model, 0, 0);
  g_assert_cmpstr (moved, ==, second);
  g_assert_false (grid_model_move_rows (model, &first, 1, -1));
  /* The demo has a cell for each system in each area (invented demo). */
  g_assert_false (grid_model_insert_rows (TALLY_GRID_MODEL (cells), 0, 1));
  g_assert_false (grid_model_duplicate_rows (TALLY_GRID_MODEL (cells), &first, 1));
}

/* A price typed into the draft: the job stays, the effect is 30,588.5253 lb x 0.06 and what rests on it (invented demo). */
static void
test_draft (Fixture *f, gconstpointer data)
{
  g_autoptr (Catalogue) base = store_catalogue (session_store (f->session), 0, NULL), made = NULL;
  g_autoptr (TallyDraft) draft = draft_new (base);
  g_autoptr (TallyCatalogueSheet) sheet = catalogue_sheet_new (draft);
  guint column = (guint) csv_column (draft_tables (draft)[CATALOGUE_ITEMS], "price_usd");
  CatalogueFigures now, then;
  g_autofree char *words = NULL, *message = NULL;

  (void) data;
  g_assert_cmpuint (draft_faults (draft)->len, ==, 0);
  g_assert_true (type (sheet, 0, column, "dear"));
  g_assert_cmpuint (draft_faults (draft)->len, ==, 1);
  g_assert_cmpint (grid_model_flags (TALLY_GRID_MODEL (sheet), 0, column) & GRID_CELL_FAULTY, ==, GRID_CELL_FAULTY);
  g_assert_cmpint (grid_model_flags (TALLY_GRID_MODEL (sheet), 1, column) & GRID_CELL_FAULTY, ==, 0);
  g_assert_null (draft_compile (draft));
  g_assert_true (type (sheet, 0, column, "1.04"));
  g_assert_cmpuint (draft_faults (draft)->len, ==, 0);
  g_assert_cmpuint (draft_n_changes (draft, CATALOGUE_ITEMS), ==, 1);
  message = grid_model_message (TALLY_GRID_MODEL (sheet), 0, column);
  g_assert_nonnull (strstr (message, ".98"));
  made = draft_compile (draft);
  g_assert_true (catalogue_effect (f->session, NULL, &now, &words));
  g_assert_true (catalogue_effect (f->session, made, &then, &words));
  g_assert_cmpint (now.price, ==, 20759042);
  /* By hand: material + 1,835.31, tax + 133.06, overhead 12 % + 236.20, profit 6 % + 132.28, each line rounded once. */
  g_assert_cmpint (then.price - now.price, ==, 233685);
  g_assert_true (draft_undo (draft));
  g_assert_true (draft_undo (draft));
  g_assert_false (draft_undo (draft));
  g_assert_cmpuint (draft_changes (draft)->len, ==, 0);
  g_assert_true (draft_redo (draft));
  g_assert_cmpuint (draft_faults (draft)->len, ==, 1);
}

/* Search hides rows and edits reach the right ones; copies get a key of their own; a retired item that a recipe uses is a fault. */
static void
test_draft_rows (Fixture *f, gconstpointer data)
{
  g_autoptr (Catalogue) base = store_catalogue (session_store (f->session), 0, NULL);
  g_autoptr (TallyDraft) draft = draft_new (base);
  g_autoptr (TallyCatalogueSheet) sheet = catalogue_sheet_new (draft);
  TallyGridModel *model = TALLY_GRID_MODEL (sheet);
  guint all = grid_model_n_rows (model), row = 0;
  g_autofree char *found = NULL, *copy = NULL;

  (void) data;
  catalogue_sheet_search (sheet, "FLEXIBLE CONNECTOR");
  g_assert_cmpuint (grid_model_n_rows (model), ==, 1);
  found = grid_model_text (model, 0, 0);
  g_assert_cmpstr (found, ==, "flexible connector");
  g_assert_true (grid_model_duplicate_rows (model, &row, 1));
  g_assert_cmpuint (grid_model_n_rows (model), ==, 2);
  copy = grid_model_text (model, 1, 0);
  g_assert_cmpstr (copy, !=, found);
  g_assert_cmpuint (draft_faults (draft)->len, ==, 0);
  catalogue_sheet_search (sheet, "");
  g_assert_cmpuint (grid_model_n_rows (model), ==, all + 1);
  g_assert_true (grid_model_delete_rows (model, &row, 1)); /* galvanised sheet */
  g_assert_cmpuint (draft_faults (draft)->len, >, 0);
  g_assert_cmpuint (draft_n_faults (draft, CATALOGUE_RECIPES), >, 0);
}

static guint
find_row (TallyGridModel *model, const char *first)
{
  for (guint row = 0; row < grid_model_n_rows (model); row++)
    {
      g_autofree char *text = grid_model_text (model, row, 0);
      if (g_str_equal (text, first))
        return row;
    }
  g_assert_not_reached ();
  return 0;
}

/* A retired row stays, dimmed and struck with the word beside it, says what still names it, and can be restored; a row that is new
 * in the draft just goes. */
static void
test_retire (Fixture *f, gconstpointer data)
{
  g_autoptr (Catalogue) base = store_catalogue (session_store (f->session), 0, NULL);
  g_autoptr (TallyDraft) draft = draft_new (base);
  g_autoptr (TallyCatalogueSheet) sheet = catalogue_sheet_new (draft);
  TallyGridModel *model = TALLY_GRID_MODEL (sheet);
  guint all = grid_model_n_rows (model), columns = grid_model_n_columns (model), row = find_row (model, "driven fastener"), last = all;
  const GridCellFlags gone = GRID_CELL_DIM | GRID_CELL_STRUCK;

  (void) data;
  catalogue_sheet_retire (sheet, &row, 1, TRUE);
  g_assert_cmpuint (grid_model_n_rows (model), ==, all);
  g_assert_cmpuint (grid_model_n_columns (model), ==, columns + 1);
  g_assert_true (catalogue_sheet_is_retired (sheet, row));
  g_assert_cmpint (grid_model_flags (model, row, 0) & gone, ==, gone);
  g_assert_cmpint (grid_model_flags (model, row + 1, 0) & gone, ==, 0);
  g_assert_cmpint (grid_model_flags (model, row, 1) & gone, ==, 0);
  g_autofree char *word = grid_model_text (model, row, 1), *words = grid_model_message (model, row, 0);
  g_assert_cmpstr (word, ==, "retired");
  g_autoptr (GArray) uses = catalogue_uses (draft_tables (draft), CATALOGUE_ITEMS, "driven fastener");
  g_assert_cmpuint (uses->len, ==, 1); /* 4 a flanged joint, in the starter file */
  g_autofree char *place = g_strdup_printf ("Recipes, row %u)", g_array_index (uses, CatalogueUse, 0).row + 1);
  g_assert_nonnull (strstr (words, place));
  g_assert_cmpuint (draft_n_faults (draft, CATALOGUE_RECIPES), ==, 1);
  g_assert_cmpuint (draft_n_changes (draft, CATALOGUE_ITEMS), ==, 1);
  catalogue_sheet_retire (sheet, &row, 1, FALSE);
  g_assert_cmpuint (grid_model_n_columns (model), ==, columns);
  g_assert_cmpuint (draft_changes (draft)->len, ==, 0);
  g_assert_false (draft_differs (draft, CATALOGUE_ITEMS));
  g_assert_true (draft_undo (draft));
  g_assert_true (catalogue_sheet_is_retired (sheet, row));
  /* A row that nobody accepted yet. */
  g_assert_true (grid_model_insert_rows (model, all, 1));
  g_assert_cmpuint (grid_model_n_rows (model), ==, all + 1);
  catalogue_sheet_retire (sheet, &last, 1, TRUE);
  g_assert_cmpuint (grid_model_n_rows (model), ==, all);
}

/* The draft outlives the session, is found again as it was typed, and is gone when it is discarded or accepted. */
static void
test_kept (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TallyDraft) draft = catalogue_draft_open (f->session, &error), same = NULL, again = NULL, third = NULL;
  g_autoptr (TallyCatalogueSheet) sheet = catalogue_sheet_new (draft);
  g_autoptr (TallySession) other = session_new ();
  g_autofree char *path = g_strdup (store_path (session_store (f->session)));
  guint column = (guint) csv_column (draft_tables (draft)[CATALOGUE_ITEMS], "price_usd");
  CsvTable *tables[CATALOGUE_N_SHEETS];
  Fixture there = { 0 };
  gint64 newest;

  (void) data;
  g_assert_no_error (error);
  g_signal_connect (other, "said", G_CALLBACK (said_cb), &there);
  g_assert_true (type (sheet, 0, column, "dear"));
  same = catalogue_draft_open (f->session, &error);
  g_assert_true (same == draft);
  g_assert_true (session_open_office (other, path, FALSE, &error));
  again = catalogue_draft_open (other, &error);
  g_assert_no_error (error);
  g_assert_true (again != draft);
  g_assert_cmpstr (csv_cell (draft_tables (again)[CATALOGUE_ITEMS], 0, (int) column), ==, "dear");
  g_assert_cmpuint (draft_faults (again)->len, ==, 1);
  g_assert_cmpint (catalogue_draft_accept (again, other, "faulty", &error), ==, 0);
  g_clear_error (&error);

  /* Changed there, it is not overwritten from here: that is said. */
  draft_undo (draft);
  g_assert_true (draft_redo (draft));
  draft_discard (again);
  g_assert_nonnull (there.said);
  g_assert_nonnull (strstr (there.said, "another window"));
  g_free (g_steal_pointer (&there.said));

  /* Somebody's revision in between is seen; discarding then begins on it. */
  g_assert_false (catalogue_draft_is_stale (draft, f->session, &newest));
  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    tables[i] = draft_base (draft)->table[i];
  g_assert_cmpint (store_add_revision (session_store (other), tables, "the same again", "invented demo", &error), ==, 2);
  g_assert_true (catalogue_draft_is_stale (draft, f->session, &newest));
  g_assert_cmpint (newest, ==, 2);
  catalogue_draft_discard (draft, f->session);
  g_assert_cmpint (catalogue_draft_revision (draft), ==, 2);
  g_assert_false (catalogue_draft_is_stale (draft, f->session, &newest));
  g_assert_true (type (sheet, 0, column, "1.04"));
  g_assert_cmpint (catalogue_draft_accept (draft, f->session, "prices", &error), ==, 3);
  g_assert_no_error (error);
  g_assert_cmpuint (draft_changes (draft)->len, ==, 0);
  third = catalogue_draft_open (other, &error);
  g_assert_cmpuint (draft_changes (third)->len, ==, 0);
  g_assert_cmpint (catalogue_draft_revision (third), ==, 3);
}

static void
test_choice (void)
{
  const char *titles[] = { "Add", "Run" }, *yes[] = { "yes", "a" }, *no[] = { "no", "b" };
  g_autoptr (TallyTextSheet) sheet = text_sheet_new (titles, 2);

  text_sheet_set_choice (sheet, 0);
  text_sheet_add (sheet, yes, -1, NULL);
  text_sheet_add (sheet, no, 1, "why");
  text_sheet_done (sheet);
  g_assert_true (text_sheet_chosen (sheet, 0));
  g_assert_false (text_sheet_chosen (sheet, 1));
  g_assert_true (type (sheet, 1, 0, "Y"));
  g_assert_true (text_sheet_chosen (sheet, 1));
  g_assert_true (type (sheet, 0, 1, "other"));
  g_autofree char *text = grid_model_text (TALLY_GRID_MODEL (sheet), 0, 1);
  g_assert_cmpstr (text, ==, "a");
  g_assert_cmpint (grid_model_flags (TALLY_GRID_MODEL (sheet), 1, 1) & GRID_CELL_FAULTY, ==, GRID_CELL_FAULTY);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, run) g_test_add ("/sheets/" name, Fixture, NULL, set_up, run, tear_down)
  ADD ("addendum", test_addendum);
  ADD ("fault", test_fault);
  ADD ("rows", test_rows);
  ADD ("draft", test_draft);
  ADD ("draft-rows", test_draft_rows);
  ADD ("retire", test_retire);
  ADD ("kept", test_kept);
  ADD ("inherited", test_inherited);
  ADD ("reopen", test_reopen);
  ADD ("said", test_said);
  g_test_add_func ("/sheets/choice", test_choice);
  return g_test_run ();
}
