/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Key values are those of the X keysym list (X Window System, keysymdef.h): written as numbers where the table could
 * hide a slip of its own. */
#include "window/grid/grid-keys.h"

#include <gdk/gdkkeysyms.h>

#define S GRID_KEY_SHIFT
#define C GRID_KEY_CTRL
#define A GRID_KEY_ALT

static void
assert_key (guint keyval, guint modifiers, gboolean editing, GridCommand command, gboolean extend)
{
  gboolean found;

  g_assert_cmpint (grid_keys_find (keyval, modifiers, editing, &found), ==, command);
  g_assert_cmpint (found, ==, extend);
}

static void
test_moves (void)
{
  assert_key (0xff51, 0, FALSE, GRID_DO_LEFT, FALSE);
  assert_key (0xff51, S, FALSE, GRID_DO_LEFT, TRUE);
  assert_key (0xff53, C, FALSE, GRID_DO_EDGE_RIGHT, FALSE);
  assert_key (0xff54, C | S, FALSE, GRID_DO_EDGE_DOWN, TRUE);
  assert_key (0xff52, A, FALSE, GRID_DO_ROWS_UP, FALSE);
  assert_key (0xff52, A | S, FALSE, GRID_DO_NOTHING, FALSE);
  assert_key (GDK_KEY_Home, 0, FALSE, GRID_DO_LINE_START, FALSE);
  assert_key (GDK_KEY_End, C | S, FALSE, GRID_DO_LAST, TRUE);
  assert_key (GDK_KEY_Page_Down, S, FALSE, GRID_DO_PAGE_DOWN, TRUE);
  assert_key (GDK_KEY_KP_Up, 0, FALSE, GRID_DO_UP, FALSE);
  assert_key (GDK_KEY_KP_Home, C, FALSE, GRID_DO_FIRST, FALSE);
}

static void
test_commands (void)
{
  assert_key ('c', C, FALSE, GRID_DO_COPY, FALSE);
  assert_key ('C', C, FALSE, GRID_DO_COPY, FALSE); /* Caps Lock */
  assert_key ('v', C, FALSE, GRID_DO_PASTE, FALSE);
  assert_key ('d', C, FALSE, GRID_DO_FILL_DOWN, FALSE);
  assert_key ('D', C | S, FALSE, GRID_DO_DUPLICATE_ROWS, FALSE);
  assert_key ('r', C, FALSE, GRID_DO_FILL_RIGHT, FALSE);
  assert_key ('a', C, FALSE, GRID_DO_SELECT_ALL, FALSE);
  assert_key (0xffff, 0, FALSE, GRID_DO_CLEAR, FALSE);
  assert_key ('+', C | S, FALSE, GRID_DO_INSERT_ROWS, FALSE);
  assert_key (GDK_KEY_KP_Add, C, FALSE, GRID_DO_INSERT_ROWS, FALSE);
  assert_key ('-', C, FALSE, GRID_DO_DELETE_ROWS, FALSE);
  assert_key (GDK_KEY_F2, 0, FALSE, GRID_DO_EDIT, FALSE);
  assert_key (GDK_KEY_Tab, C, FALSE, GRID_DO_LEAVE, FALSE);
  assert_key (0xfe20, C | S, FALSE, GRID_DO_LEAVE_BACK, FALSE); /* what Shift+Tab gives */
  assert_key (0xfe20, S, FALSE, GRID_DO_PREVIOUS, FALSE);
  assert_key (GDK_KEY_F10, S, FALSE, GRID_DO_MENU, FALSE);
  /* Undo and find belong to the window. */
  assert_key ('z', C, FALSE, GRID_DO_NOTHING, FALSE);
  assert_key ('f', C, FALSE, GRID_DO_NOTHING, FALSE);
  assert_key ('d', 0, FALSE, GRID_DO_NOTHING, FALSE);
  assert_key ('c', C | A, FALSE, GRID_DO_NOTHING, FALSE);
}

static void
test_editing (void)
{
  assert_key (0xff0d, 0, TRUE, GRID_DO_BELOW, FALSE);
  assert_key (GDK_KEY_KP_Enter, S, TRUE, GRID_DO_ABOVE, FALSE);
  assert_key (0xff0d, C, TRUE, GRID_DO_FILL_TYPED, FALSE);
  assert_key (0xff1b, 0, TRUE, GRID_DO_CANCEL, FALSE);
  assert_key (0xff1b, 0, FALSE, GRID_DO_NOTHING, FALSE); /* closes what is around the table */
  assert_key (GDK_KEY_Tab, 0, TRUE, GRID_DO_NEXT, FALSE);
  /* The caret's own keys. */
  assert_key (0xff51, 0, TRUE, GRID_DO_NOTHING, FALSE);
  assert_key (GDK_KEY_Home, 0, TRUE, GRID_DO_NOTHING, FALSE);
  assert_key (0xffff, 0, TRUE, GRID_DO_NOTHING, FALSE);
  assert_key ('v', C, TRUE, GRID_DO_NOTHING, FALSE);
}

static void
test_typing (void)
{
  g_assert_true (grid_keys_type ('x', 'x', 0));
  g_assert_true (grid_keys_type ('X', 'X', S));
  g_assert_true (grid_keys_type (' ', ' ', 0));
  g_assert_true (grid_keys_type (GDK_KEY_KP_5, '5', 0));
  g_assert_true (grid_keys_type (0xfe51, 0, 0)); /* dead acute */
  g_assert_true (grid_keys_type (0xff20, 0, 0)); /* compose */
  g_assert_false (grid_keys_type ('x', 'x', C));
  g_assert_false (grid_keys_type ('x', 'x', A));
  g_assert_false (grid_keys_type ('x', 'x', GRID_KEY_OTHER));
  g_assert_false (grid_keys_type (GDK_KEY_Shift_L, 0, 0));
  g_assert_false (grid_keys_type (GDK_KEY_F5, 0, 0));
  g_assert_false (grid_keys_type (0xff1b, 0x1b, 0));
  g_assert_false (grid_keys_type (0xff0d, '\r', 0));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/grid-keys/moves", test_moves);
  g_test_add_func ("/grid-keys/commands", test_commands);
  g_test_add_func ("/grid-keys/editing", test_editing);
  g_test_add_func ("/grid-keys/typing", test_typing);
  return g_test_run ();
}
