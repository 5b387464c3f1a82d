/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The grid in a window of its own over an array, driven by keys and a pointer that go through the display server.
 * What the keys do is asked of the model; texts are invented. */
#include "window/array-model.h"
#include "window/grid/grid.h"

#include <adwaita.h>

#define PATIENCE (30 * G_USEC_PER_SEC)

typedef struct
{
  GtkWidget *window, *scrolled, *before, *after;
  TallyGrid *grid;
  TallyArrayModel *model;
  guint cursor, selected, sorted, resized; /* signals seen */
  char *refused;                           /* what was said last */
} Stage;

/* Goes on until the condition holds; a bound, not a delay. */
#define until(condition)                                                                                               \
  G_STMT_START                                                                                                         \
  {                                                                                                                    \
    gint64 end_ = g_get_monotonic_time () + PATIENCE;                                                                  \
    while (!(condition) && g_get_monotonic_time () < end_)                                                             \
      {                                                                                                                \
        guint wake_ = g_timeout_add (20, wake_cb, NULL);                                                               \
        g_main_context_iteration (NULL, TRUE);                                                                         \
        if (g_main_context_find_source_by_id (NULL, wake_))                                                            \
          g_source_remove (wake_);                                                                                     \
      }                                                                                                                \
    g_assert_true (condition);                                                                                         \
  }                                                                                                                    \
  G_STMT_END

static gboolean
wake_cb (gpointer data)
{
  (void) data;
  return G_SOURCE_REMOVE;
}

static void
count_cb (TallyGrid *grid, guint *counter)
{
  (void) grid;
  (*counter)++;
}

static void
column_cb (TallyGrid *grid, guint column, guint *seen)
{
  (void) grid;
  *seen = column + 1;
}

static void
refused_cb (TallyGrid *grid, const char *words, Stage *stage)
{
  (void) grid;
  g_free (stage->refused);
  stage->refused = g_strdup (words);
}

static Stage *
stage_new (guint n_rows, guint n_columns)
{
  Stage *stage = g_new0 (Stage, 1);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  stage->model = array_model_new (n_rows, n_columns);
  stage->grid = grid_new (TALLY_GRID_MODEL (stage->model));
  g_signal_connect (stage->grid, "cursor", G_CALLBACK (count_cb), &stage->cursor);
  g_signal_connect (stage->grid, "selected", G_CALLBACK (count_cb), &stage->selected);
  g_signal_connect (stage->grid, "sort", G_CALLBACK (column_cb), &stage->sorted);
  g_signal_connect (stage->grid, "resized", G_CALLBACK (column_cb), &stage->resized);
  g_signal_connect (stage->grid, "refused", G_CALLBACK (refused_cb), stage);
  stage->window = gtk_window_new ();
  stage->scrolled = gtk_scrolled_window_new ();
  stage->before = gtk_button_new_with_label ("before");
  stage->after = gtk_button_new_with_label ("after");
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (stage->scrolled), GTK_WIDGET (stage->grid));
  gtk_widget_set_vexpand (stage->scrolled, TRUE);
  gtk_box_append (GTK_BOX (box), stage->before);
  gtk_box_append (GTK_BOX (box), stage->scrolled);
  gtk_box_append (GTK_BOX (box), stage->after);
  gtk_window_set_child (GTK_WINDOW (stage->window), box);
  gtk_window_set_decorated (GTK_WINDOW (stage->window), FALSE);
  gtk_window_set_default_size (GTK_WINDOW (stage->window), 900, 500);
  gtk_window_present (GTK_WINDOW (stage->window));
  gtk_test_widget_wait_for_draw (GTK_WIDGET (stage->grid));
  gtk_widget_grab_focus (GTK_WIDGET (stage->grid));
  until (gtk_window_is_active (GTK_WINDOW (stage->window)) && gtk_widget_has_focus (GTK_WIDGET (stage->grid)));
  return stage;
}

static void
stage_free (Stage *stage)
{
  TallyGrid *grid = stage->grid;

  g_object_add_weak_pointer (G_OBJECT (grid), (gpointer *) &grid);
  gtk_window_destroy (GTK_WINDOW (stage->window));
  until (grid == NULL); /* nothing holds it any more */
  g_object_unref (stage->model);
  g_free (stage->refused);
  g_free (stage);
}

static void
exited_cb (GPid pid, int status, gpointer data)
{
  g_assert_cmpint (status, ==, 0);
  g_spawn_close_pid (pid);
  *(gboolean *) data = TRUE;
}

static void
run (const char *line)
{
  g_auto (GStrv) argv = NULL;
  gboolean done = FALSE;
  GPid pid;

  g_assert_true (g_shell_parse_argv (line, NULL, &argv, NULL));
  g_assert_true (g_spawn_async (NULL, argv, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_DO_NOT_REAP_CHILD, NULL, NULL, &pid,
                                NULL));
  g_child_watch_add (pid, exited_cb, &done);
  until (done);
}

/* Real events: @command as xdotool takes it. */
static void
input (const char *command)
{
  g_autofree char *line = g_strconcat ("xdotool ", command, NULL);

  run (line);
}

static gboolean
holds (Stage *stage, guint row, guint column, const char *text)
{
  return g_strcmp0 (array_model_get (stage->model, row, column), text) == 0;
}

static gboolean
cursor_at (Stage *stage, guint row, guint column)
{
  guint r, c;

  grid_get_cursor (stage->grid, &r, &c);
  return r == row && c == column;
}

static gboolean
range_is (Stage *stage, guint row0, guint column0, guint row1, guint column1)
{
  guint r0, c0, r1, c1;

  grid_get_selection (stage->grid, &r0, &c0, &r1, &c1);
  return r0 == row0 && c0 == column0 && r1 == row1 && c1 == column1;
}

static gboolean
in_first_column (Stage *stage)
{
  guint row, column;

  grid_get_cursor (stage->grid, &row, &column);
  return column == 0;
}

static gboolean
focus_in_editor (Stage *stage)
{
  GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (stage->window));

  return focus && GTK_IS_TEXT (focus);
}

/* ---- typing ---- */

static void
test_type (void)
{
  Stage *stage = stage_new (20, 5);

  input ("type --delay 5 24x14");
  input ("key Return");
  until (cursor_at (stage, 1, 0));
  g_assert_true (holds (stage, 0, 0, "24x14"));
  g_assert_cmpstr (stage->model->last_label, ==, "change of one cell");
  /* Without a pause between cells: no letter is lost on the way in or out of the editor. */
  input ("type --delay 5 \"ab\tcd\tef\n12\n34\n\"");
  until (cursor_at (stage, 4, 0));
  g_assert_true (holds (stage, 1, 0, "ab") && holds (stage, 1, 1, "cd") && holds (stage, 1, 2, "ef"));
  g_assert_true (holds (stage, 2, 0, "12") && holds (stage, 3, 0, "34"));
  g_assert_true (gtk_widget_has_focus (GTK_WIDGET (stage->grid)));
  /* What is typed replaces; Shift+Enter and Shift+Tab go back. */
  input ("type q");
  input ("key shift+Return");
  until (holds (stage, 4, 0, "q") && cursor_at (stage, 3, 0));
  input ("key Right w shift+Tab");
  until (holds (stage, 3, 1, "w") && cursor_at (stage, 3, 0));
  stage_free (stage);
}

static void
test_cancel_and_edit (void)
{
  Stage *stage = stage_new (20, 5);

  array_model_put (stage->model, 0, 0, "12", 0);
  input ("type zz");
  until (focus_in_editor (stage));
  input ("key Escape");
  until (gtk_widget_has_focus (GTK_WIDGET (stage->grid)));
  g_assert_cmpuint (stage->model->applied, ==, 0);
  g_assert_true (holds (stage, 0, 0, "12") && cursor_at (stage, 0, 0));
  input ("key F2");
  input ("type x8");
  input ("key Return");
  until (holds (stage, 0, 0, "12x8"));
  /* Opened and left as it was: no edit. */
  input ("key Up F2 Return");
  until (cursor_at (stage, 1, 0) && stage->cursor >= 3);
  g_assert_cmpuint (stage->model->applied, ==, 1);
  /* Leaving the table writes. */
  input ("type ww");
  until (focus_in_editor (stage));
  input ("key ctrl+Tab");
  until (gtk_widget_has_focus (stage->after));
  g_assert_true (holds (stage, 1, 0, "ww"));
  stage_free (stage);
}

/* With a keyboard that has these keys: for others xdotool changes the keyboard between two keys, which a program may
 * see too late. */
static void
test_compose (void)
{
  g_autofree char *setxkbmap = g_find_program_in_path ("setxkbmap");
  Stage *stage;

  if (!setxkbmap)
    {
      g_test_skip ("setxkbmap is not there to set the keyboard");
      return;
    }
  run ("setxkbmap -layout us -variant intl -option compose:menu");
  stage = stage_new (20, 5);
  input ("key Multi_key apostrophe e Return");
  until (cursor_at (stage, 1, 0));
  g_assert_true (holds (stage, 0, 0, "\xC3\xA9"));
  input ("key dead_acute a Return");
  until (cursor_at (stage, 2, 0));
  g_assert_true (holds (stage, 1, 0, "\xC3\xA1"));
  stage_free (stage);
  run ("setxkbmap -layout us -option");
}

static void
test_not_editable (void)
{
  Stage *stage = stage_new (20, 5);

  stage->model->column_flags[1] = GRID_CELL_FIGURE | GRID_CELL_COMPUTED;
  input ("key Right");
  input ("type 5");
  input ("key Right");
  input ("type 6");
  input ("key Return");
  until (holds (stage, 0, 2, "6"));
  g_assert_true (holds (stage, 0, 1, ""));
  g_assert_cmpstr (stage->refused, ==, "Area is computed: change what it follows from");
  stage_free (stage);
}

/* @keys do nothing, and @words say why. */
static void
expect_refused (Stage *stage, const char *keys, const char *words)
{
  guint applied = stage->model->applied;

  g_clear_pointer (&stage->refused, g_free);
  input (keys);
  until (stage->refused);
  g_assert_cmpstr (stage->refused, ==, words);
  g_assert_cmpuint (stage->model->applied, ==, applied);
}

static void
test_words (void)
{
  Stage *stage = stage_new (3, 3);

  stage->model->appends = TRUE;
  grid_model_reset (TALLY_GRID_MODEL (stage->model));
  stage->model->column_flags[1] = 0;
  expect_refused (stage, "key Delete", "There is nothing to clear: these cells are empty, inherited or computed");
  expect_refused (stage, "key ctrl+d",
                  "There is no row above to fill from: select the row to fill from and those below it");
  expect_refused (stage, "key ctrl+r",
                  "There is no column before to fill from: select the one to fill from and those after it");
  expect_refused (stage, "key alt+Up", "These rows are the first ones: they can only move down");
  expect_refused (stage, "key Down Down alt+Down", "These rows are the last ones: they can only move up");
  expect_refused (stage, "key Down ctrl+minus", "The empty row at the end is no row yet: select rows above it");
  expect_refused (stage, "key ctrl+c", "The empty row at the end holds nothing yet: select cells above it");
  expect_refused (stage, "key Up Right F2", "Area cannot be changed in this row: choose another cell");
  expect_refused (stage, "key ctrl+r", "None of these cells can be changed: select cells that are typed");
  /* Of its own refusals the model speaks itself. */
  g_clear_pointer (&stage->refused, g_free);
  stage->model->refuses = TRUE;
  input ("key Home");
  input ("type 5");
  input ("key Return");
  until (stage->model->applied == 1);
  g_assert_null (stage->refused);
  stage_free (stage);
}

/* Refused: what was typed is still there to be mended. */
static void
test_refused (void)
{
  Stage *stage = stage_new (20, 5);

  stage->model->refuses = TRUE;
  input ("type 12x1o");
  input ("key Return");
  until (stage->model->applied == 1);
  g_assert_true (focus_in_editor (stage));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (gtk_root_get_focus (GTK_ROOT (stage->window)))), ==, "12x1o");
  g_assert_true (cursor_at (stage, 0, 0));
  stage->model->refuses = FALSE;
  input ("key BackSpace 0 Return");
  until (cursor_at (stage, 1, 0));
  g_assert_true (holds (stage, 0, 0, "12x10"));
  stage_free (stage);
}

/* Refused and then left for another view: nothing waits there to be written by a later move. */
static void
test_refused_and_left (void)
{
  Stage *stage = stage_new (20, 5);
  g_autofree char *before = grid_model_text (TALLY_GRID_MODEL (stage->model), 0, 0);

  stage->model->refuses = TRUE;
  input ("type 66");
  input ("key Return");
  until (stage->model->applied == 1);
  g_assert_true (focus_in_editor (stage));
  gtk_widget_set_child_visible (stage->scrolled, FALSE);
  until (!gtk_widget_get_mapped (GTK_WIDGET (stage->grid)));
  stage->model->refuses = FALSE;
  gtk_widget_set_child_visible (stage->scrolled, TRUE);
  until (gtk_widget_get_mapped (GTK_WIDGET (stage->grid)));
  gtk_widget_grab_focus (GTK_WIDGET (stage->grid));
  g_assert_false (focus_in_editor (stage));
  guint tried = stage->model->applied;
  input ("key Down Down");
  until (cursor_at (stage, 2, 0));
  g_assert_cmpuint (stage->model->applied, ==, tried);
  g_assert_true (holds (stage, 0, 0, before));
  stage_free (stage);
}

static void
test_append (void)
{
  Stage *stage = stage_new (2, 3);

  /* No empty row where the model takes none. */
  input ("key Down Down Down");
  until (cursor_at (stage, 1, 0));
  stage->model->appends = TRUE;
  grid_model_reset (TALLY_GRID_MODEL (stage->model));
  input ("key Down");
  until (cursor_at (stage, 2, 0));
  input ("type --delay 5 \"a\tb\tc\nd\te\n\"");
  until (stage->model->row->len == 4 && cursor_at (stage, 4, 0));
  g_assert_true (holds (stage, 2, 0, "a") && holds (stage, 2, 2, "c") && holds (stage, 3, 1, "e"));
  /* Opened and left empty: no row. */
  input ("key F2 Return Up");
  until (cursor_at (stage, 3, 0));
  g_assert_cmpuint (stage->model->row->len, ==, 4);
  stage_free (stage);
}

/* ---- many cells ---- */

static void
test_fill (void)
{
  Stage *stage = stage_new (20, 5);

  array_model_put (stage->model, 0, 0, "a", 0);
  array_model_put (stage->model, 0, 1, "b", 0);
  input ("key shift+Right shift+Down shift+Down shift+Down");
  until (range_is (stage, 0, 0, 3, 1));
  input ("key ctrl+d");
  until (stage->model->applied == 1);
  g_assert_cmpstr (stage->model->last_label, ==, "fill down of 6 cells");
  g_assert_true (holds (stage, 3, 0, "a") && holds (stage, 3, 1, "b") && holds (stage, 4, 0, ""));
  /* One row alone takes from the row above. */
  grid_set_cursor (stage->grid, 4, 1);
  input ("key ctrl+d");
  until (holds (stage, 4, 1, "b"));
  g_assert_cmpstr (stage->model->last_label, ==, "fill down of one cell");
  grid_select (stage->grid, 3, 0, 4, 3);
  input ("key ctrl+r");
  until (holds (stage, 3, 3, "a"));
  g_assert_true (holds (stage, 4, 3, "") && holds (stage, 3, 4, ""));
  /* Typed into all that is selected. */
  grid_select (stage->grid, 6, 1, 8, 2);
  input ("type 7");
  input ("key ctrl+Return");
  until (holds (stage, 8, 2, "7"));
  g_assert_cmpstr (stage->model->last_label, ==, "change of 6 cells");
  g_assert_true (range_is (stage, 6, 1, 8, 2));
  g_assert_true (gtk_widget_has_focus (GTK_WIDGET (stage->grid)));
  input ("key Delete");
  until (holds (stage, 8, 2, ""));
  g_assert_cmpstr (stage->model->last_label, ==, "clearing of 6 cells");
  stage_free (stage);
}

/* The keys come when they come: what is selected must not change before. */
static void
copy (Stage *stage)
{
  GdkClipboard *clipboard = gtk_widget_get_clipboard (GTK_WIDGET (stage->grid));
  GdkContentProvider *content = gdk_clipboard_get_content (clipboard);
  g_autoptr (GdkContentProvider) before = content ? g_object_ref (content) : NULL;

  input ("key ctrl+c");
  until (gdk_clipboard_get_content (clipboard) != before);
}

static void
test_copy_paste (void)
{
  Stage *stage = stage_new (6, 4);

  stage->model->appends = TRUE;
  stage->model->column_flags[3] = GRID_CELL_COMPUTED;
  grid_model_reset (TALLY_GRID_MODEL (stage->model));
  array_model_put (stage->model, 0, 0, "24\"", 0);
  array_model_put (stage->model, 0, 1, "two\nlines", 0);
  array_model_put (stage->model, 1, 0, "a\tb", 0);
  array_model_put (stage->model, 1, 1, "d", 0);
  grid_select (stage->grid, 0, 0, 1, 1);
  copy (stage);
  grid_set_cursor (stage->grid, 2, 1);
  input ("key ctrl+v");
  until (stage->model->applied == 1);
  g_assert_cmpstr (stage->model->last_label, ==, "paste of 4 cells");
  g_assert_true (holds (stage, 2, 1, "24\"") && holds (stage, 2, 2, "two\nlines"));
  g_assert_true (holds (stage, 3, 1, "a\tb") && holds (stage, 3, 2, "d"));
  until (range_is (stage, 2, 1, 3, 2));
  /* Over the last row: rows are added. Over a computed column: it is left out. */
  grid_set_cursor (stage->grid, 5, 2);
  input ("key ctrl+v");
  until (stage->model->row->len == 7);
  g_assert_cmpuint (stage->model->last_n, ==, 2);
  g_assert_true (holds (stage, 6, 2, "a\tb") && holds (stage, 5, 3, ""));
  /* One cell fills all that is selected. */
  grid_set_cursor (stage->grid, 1, 1);
  copy (stage);
  grid_select (stage->grid, 3, 0, 5, 1);
  input ("key ctrl+v");
  until (holds (stage, 5, 1, "d"));
  g_assert_cmpuint (stage->model->last_n, ==, 6);
  /* Cut takes away what it copies. */
  grid_set_cursor (stage->grid, 5, 0);
  input ("key ctrl+x");
  until (holds (stage, 5, 0, ""));
  grid_set_cursor (stage->grid, 0, 2);
  input ("key ctrl+v");
  until (holds (stage, 0, 2, "d"));
  stage_free (stage);
}

static void
test_rows (void)
{
  Stage *stage = stage_new (4, 2);

  for (guint i = 0; i < 4; i++)
    array_model_put (stage->model, i, 0, (const char *[]){ "a", "b", "c", "d" }[i], 0);
  grid_select (stage->grid, 0, 0, 1, 0);
  input ("key ctrl+shift+d");
  until (stage->model->row->len == 6);
  g_assert_true (holds (stage, 2, 0, "a") && holds (stage, 3, 0, "b") && holds (stage, 4, 0, "c"));
  until (range_is (stage, 2, 0, 3, 0)); /* the copies */
  input ("key alt+Down");
  until (holds (stage, 2, 0, "c") && range_is (stage, 3, 0, 4, 0));
  input ("key alt+Up");
  until (holds (stage, 4, 0, "c") && range_is (stage, 2, 0, 3, 0));
  input ("key ctrl+minus");
  until (stage->model->row->len == 4);
  g_assert_true (holds (stage, 2, 0, "c") && range_is (stage, 2, 0, 2, 0));
  input ("key Insert");
  until (stage->model->row->len == 5);
  g_assert_true (holds (stage, 2, 0, "") && holds (stage, 3, 0, "c") && cursor_at (stage, 2, 0));
  stage_free (stage);
}

/* ---- moving, the pointer ---- */

static void
test_moves (void)
{
  Stage *stage = stage_new (1000, 5);
  GtkAdjustment *down = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (stage->scrolled));

  input ("key ctrl+End");
  until (cursor_at (stage, 999, 4));
  g_assert_cmpfloat (gtk_adjustment_get_value (down), >, 0);
  input ("key ctrl+Home");
  until (cursor_at (stage, 0, 0));
  g_assert_cmpfloat (gtk_adjustment_get_value (down), ==, 0);
  array_model_put (stage->model, 7, 0, "x", 0);
  input ("key ctrl+Down");
  until (cursor_at (stage, 7, 0));
  input ("key ctrl+shift+Down");
  until (range_is (stage, 7, 0, 999, 0));
  input ("key ctrl+a");
  until (range_is (stage, 0, 0, 999, 4));
  input ("key Page_Down");
  until (!cursor_at (stage, 0, 0));
  g_assert_cmpuint (stage->selected, >=, stage->cursor);
  /* Tab stays inside, Control+Tab goes. */
  input ("key Home Tab");
  until (range_is (stage, 0, 0, 999, 4) == FALSE && gtk_widget_has_focus (GTK_WIDGET (stage->grid)));
  input ("key ctrl+shift+Tab");
  until (gtk_widget_has_focus (stage->before));
  stage_free (stage);
}

/* Until a press counts as the first one again. */
static void
end_presses (Stage *stage)
{
  int ms;

  g_object_get (gtk_widget_get_settings (stage->window), "gtk-double-click-time", &ms, NULL);
  gint64 over = g_get_monotonic_time () + 1000 * (ms + 50);
  until (g_get_monotonic_time () > over);
}

static void
test_pointer (void)
{
  Stage *stage = stage_new (100, 5);
  int x, y, width = grid_get_column_width (stage->grid, 0);
  graphene_point_t origin;
  g_autofree char *command = NULL;

  g_assert_true (gtk_widget_compute_point (GTK_WIDGET (stage->grid), stage->window, &GRAPHENE_POINT_INIT (0, 0),
                                           &origin));
  x = (int) origin.x;
  y = (int) origin.y;
  /* The edge of the first column is looked for from its width: gutter + width. */
  command = g_strdup_printf ("mousemove %d %d click 1", x + 300, y + 10);
  input (command);
  until (stage->sorted > 0);
  /* With Shift it selects its column and does not sort; another one goes on from there. */
  stage->sorted = 0;
  command = (g_free (command), g_strdup_printf ("mousemove %d %d keydown shift click 1 keyup shift", x + 300, y + 10));
  input (command);
  until (!range_is (stage, 0, 0, 0, 0));
  {
    guint row0, column0, row1, column1;
    grid_get_selection (stage->grid, &row0, &column0, &row1, &column1);
    g_assert_true (row0 == 0 && row1 == 99 && column0 == column1 && column0 > 0);
    command = (g_free (command), g_strdup_printf ("mousemove %d %d keydown shift click 1 keyup shift", x + 60, y + 10));
    input (command);
    until (range_is (stage, 0, 0, 99, column1));
    g_assert_cmpuint (stage->sorted, ==, 0);
  }
  input ("key ctrl+Home");
  until (range_is (stage, 0, 0, 0, 0));
  command = (g_free (command), g_strdup_printf ("mousemove %d %d click 1", x + 10, y + 100));
  input (command);
  until (!range_is (stage, 0, 0, 0, 0));
  {
    guint row0, column0, row1, column1;
    grid_get_selection (stage->grid, &row0, &column0, &row1, &column1);
    g_assert_true (row0 == row1 && column0 == 0 && column1 == 4); /* a row number selects its row */
  }
  end_presses (stage);
  command = (g_free (command), g_strdup_printf ("mousemove %d %d click --repeat 2 --delay 40 1", x + 300, y + 150));
  input (command);
  until (focus_in_editor (stage));
  input ("key Escape");
  until (gtk_widget_has_focus (GTK_WIDGET (stage->grid)));
  {
    guint row, column, row0, column0, row1, column1;
    grid_get_cursor (stage->grid, &row, &column);
    command =
        (g_free (command), g_strdup_printf ("mousemove %d %d mousedown 1 mousemove %d %d mousemove %d %d mouseup 1",
                                            x + 300, y + 150, x + 250, y + 200, x + 100, y + 250));
    input (command);
    until (!range_is (stage, row, column, row, column));
    grid_get_selection (stage->grid, &row0, &column0, &row1, &column1);
    g_assert_true (row0 == row && column1 == column && row1 > row + 2 && column0 < column);
    g_assert_true (cursor_at (stage, row, column));
  }
  input ("key Home"); /* behind the button's release in the queue of events */
  until (in_first_column (stage));
  g_assert_cmpint (width, ==, grid_get_column_width (stage->grid, 0));
  stage_free (stage);
}

static void
test_widths (void)
{
  Stage *stage = stage_new (100, 5);
  int first = grid_get_column_width (stage->grid, 0), gutter = 0;
  graphene_point_t origin;
  g_autofree char *command = NULL;

  g_assert_true (gtk_widget_compute_point (GTK_WIDGET (stage->grid), stage->window, &GRAPHENE_POINT_INIT (0, 0),
                                           &origin));
  /* The gutter is what the widget takes besides its columns and its foot; found by trying where the edge can be
   * caught. */
  for (gutter = 20; gutter < 80 && stage->resized != 1; gutter += 4)
    {
      command =
          (g_free (command),
           g_strdup_printf ("mousemove %d %d mousedown 1 mousemove %d %d mousemove %d %d mouseup 1",
                            (int) origin.x + gutter + first, (int) origin.y + 10, (int) origin.x + gutter + first + 20,
                            (int) origin.y + 10, (int) origin.x + gutter + first + 40, (int) origin.y + 10));
      input (command);
      for (int i = 0; i < 20; i++)
        g_main_context_iteration (NULL, FALSE);
    }
  until (stage->resized == 1);
  g_assert_cmpint (grid_get_column_width (stage->grid, 0), >=, first + 30);
  g_assert_cmpint (grid_get_column_width (stage->grid, 0), <=, first + 50);
  /* Widths of the user survive a reset; 0 gives the model's back. */
  grid_set_column_width (stage->grid, 0, 222);
  grid_model_reset (TALLY_GRID_MODEL (stage->model));
  g_assert_cmpint (grid_get_column_width (stage->grid, 0), ==, 222);
  grid_set_column_width (stage->grid, 0, 0);
  g_assert_cmpint (grid_get_column_width (stage->grid, 0), ==, first);
  stage_free (stage);
}

/* ---- drawing, model, assistive technology ---- */

static void
redraw (Stage *stage)
{
  gtk_widget_queue_draw (GTK_WIDGET (stage->grid));
  gtk_test_widget_wait_for_draw (GTK_WIDGET (stage->grid));
}

/* A frame with nothing new asks the model for no text, one changed row for that row's. */
static void
test_cache (void)
{
  Stage *stage = stage_new (1000, 5);
  guint before;

  redraw (stage);
  until (!g_main_context_pending (NULL));
  before = stage->model->texts;
  g_assert_cmpuint (before, >=, 5 * 10);
  g_assert_cmpuint (before, <, 5 * 60); /* only what is seen */
  redraw (stage);
  g_assert_cmpuint (stage->model->texts, ==, before);
  grid_model_rows_changed (TALLY_GRID_MODEL (stage->model), 3, 1);
  redraw (stage);
  g_assert_cmpuint (stage->model->texts, ==, before + 5);
  stage_free (stage);
}

static void
test_model_shrinks (void)
{
  Stage *stage = stage_new (50, 5);

  grid_select (stage->grid, 40, 4, 45, 4);
  g_ptr_array_set_size (stage->model->row, 3);
  stage->model->n_columns = 2;
  grid_model_reset (TALLY_GRID_MODEL (stage->model));
  g_assert_true (range_is (stage, 2, 1, 2, 1));
  redraw (stage);
  g_ptr_array_set_size (stage->model->row, 0);
  grid_model_reset (TALLY_GRID_MODEL (stage->model));
  redraw (stage);
  input ("key Down ctrl+End ctrl+a ctrl+c ctrl+d Delete x F2 ctrl+minus ctrl+shift+Tab");
  until (gtk_widget_has_focus (stage->before));
  g_assert_cmpuint (stage->model->applied, ==, 0);
  grid_set_model (stage->grid, NULL);
  redraw (stage);
  stage_free (stage);
}

/* A model may be changed under an editor: what is typed into another row's place is dropped, not written. */
static void
test_reset_while_editing (void)
{
  Stage *stage = stage_new (5, 2);

  input ("type abc");
  until (focus_in_editor (stage));
  grid_model_rows_changed (TALLY_GRID_MODEL (stage->model), 3, 1);
  g_assert_true (focus_in_editor (stage));
  grid_model_reset (TALLY_GRID_MODEL (stage->model));
  g_assert_true (gtk_widget_has_focus (GTK_WIDGET (stage->grid)));
  g_assert_cmpuint (stage->model->applied, ==, 0);
  stage_free (stage);
}

static gboolean
description_is (Stage *stage, const char *words)
{
  g_autofree char *wrong =
      gtk_test_accessible_check_property (GTK_ACCESSIBLE (stage->grid), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words);
  return wrong == NULL;
}

static void
test_access (void)
{
  Stage *stage = stage_new (20, 6);

  g_assert_cmpint (gtk_accessible_get_accessible_role (GTK_ACCESSIBLE (stage->grid)), ==, GTK_ACCESSIBLE_ROLE_GRID);
  grid_set_label (stage->grid, "Runs");
  gtk_test_accessible_assert_property (stage->grid, GTK_ACCESSIBLE_PROPERTY_LABEL, "Runs");
  array_model_put (stage->model, 13, 4, "12x1o", GRID_CELL_EDITABLE | GRID_CELL_FAULTY);
  grid_set_cursor (stage->grid, 13, 4);
  until (description_is (stage,
                         "Row 14, Size (in), 12x1o, faulty: a letter \"o\" stands among the digits; type a zero. "
                         "Control+Tab leaves the table"));
  array_model_put (stage->model, 2, 0, "SA-1", GRID_CELL_EDITABLE | GRID_CELL_INHERITED);
  grid_select (stage->grid, 2, 0, 3, 1);
  until (description_is (stage,
                         "Row 3, System, SA-1, inherited; 2 rows by 2 columns selected. Control+Tab leaves the table"));
  input ("type a");
  until (focus_in_editor (stage));
  gtk_test_accessible_assert_property (gtk_widget_get_parent (gtk_root_get_focus (GTK_ROOT (stage->window))),
                                       GTK_ACCESSIBLE_PROPERTY_LABEL, "System");
  stage_free (stage);
}

int
main (int argc, char **argv)
{
  g_autofree char *xdotool = g_find_program_in_path ("xdotool");

  gtk_test_init (&argc, &argv, NULL);
  adw_init ();
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
  if (!xdotool)
    {
      g_print ("1..0 # SKIP xdotool is not there to press keys\n");
      return 0;
    }
  g_test_add_func ("/grid/type", test_type);
  g_test_add_func ("/grid/cancel-and-edit", test_cancel_and_edit);
  g_test_add_func ("/grid/compose", test_compose);
  g_test_add_func ("/grid/not-editable", test_not_editable);
  g_test_add_func ("/grid/words", test_words);
  g_test_add_func ("/grid/refused", test_refused);
  g_test_add_func ("/grid/refused-and-left", test_refused_and_left);
  g_test_add_func ("/grid/append", test_append);
  g_test_add_func ("/grid/fill", test_fill);
  g_test_add_func ("/grid/copy-paste", test_copy_paste);
  g_test_add_func ("/grid/rows", test_rows);
  g_test_add_func ("/grid/moves", test_moves);
  g_test_add_func ("/grid/pointer", test_pointer);
  g_test_add_func ("/grid/widths", test_widths);
  g_test_add_func ("/grid/cache", test_cache);
  g_test_add_func ("/grid/model-shrinks", test_model_shrinks);
  g_test_add_func ("/grid/reset-while-editing", test_reset_while_editing);
  g_test_add_func ("/grid/access", test_access);
  return g_test_run ();
}
