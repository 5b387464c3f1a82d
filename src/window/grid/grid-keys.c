/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/grid/grid-keys.h"

#include <gdk/gdkkeysyms.h>

#define SHIFT GRID_KEY_SHIFT
#define CTRL GRID_KEY_CTRL
#define ALT GRID_KEY_ALT

typedef struct
{
  guint keyval, modifiers;
  GridCommand command;
  gboolean extends; /* Shift with it extends */
} Key;

/* Letters small; keys of the number pad as their namesakes. */
static const Key keys[] = {
  { GDK_KEY_Left, 0, GRID_DO_LEFT, TRUE },
  { GDK_KEY_Right, 0, GRID_DO_RIGHT, TRUE },
  { GDK_KEY_Up, 0, GRID_DO_UP, TRUE },
  { GDK_KEY_Down, 0, GRID_DO_DOWN, TRUE },
  { GDK_KEY_Left, CTRL, GRID_DO_EDGE_LEFT, TRUE },
  { GDK_KEY_Right, CTRL, GRID_DO_EDGE_RIGHT, TRUE },
  { GDK_KEY_Up, CTRL, GRID_DO_EDGE_UP, TRUE },
  { GDK_KEY_Down, CTRL, GRID_DO_EDGE_DOWN, TRUE },
  { GDK_KEY_Page_Up, 0, GRID_DO_PAGE_UP, TRUE },
  { GDK_KEY_Page_Down, 0, GRID_DO_PAGE_DOWN, TRUE },
  { GDK_KEY_Home, 0, GRID_DO_LINE_START, TRUE },
  { GDK_KEY_End, 0, GRID_DO_LINE_END, TRUE },
  { GDK_KEY_Home, CTRL, GRID_DO_FIRST, TRUE },
  { GDK_KEY_End, CTRL, GRID_DO_LAST, TRUE },
  { GDK_KEY_a, CTRL, GRID_DO_SELECT_ALL, FALSE },
  { GDK_KEY_space, SHIFT, GRID_DO_SELECT_ROWS, FALSE },
  { GDK_KEY_space, CTRL, GRID_DO_SELECT_COLUMNS, FALSE },
  { GDK_KEY_Tab, 0, GRID_DO_NEXT, FALSE },
  { GDK_KEY_Tab, SHIFT, GRID_DO_PREVIOUS, FALSE },
  { GDK_KEY_Tab, CTRL, GRID_DO_LEAVE, FALSE },
  { GDK_KEY_Tab, CTRL | SHIFT, GRID_DO_LEAVE_BACK, FALSE },
  { GDK_KEY_Return, 0, GRID_DO_BELOW, FALSE },
  { GDK_KEY_Return, SHIFT, GRID_DO_ABOVE, FALSE },
  { GDK_KEY_F2, 0, GRID_DO_EDIT, FALSE },
  { GDK_KEY_BackSpace, 0, GRID_DO_EDIT_EMPTY, FALSE },
  { GDK_KEY_c, CTRL, GRID_DO_COPY, FALSE },
  { GDK_KEY_Insert, CTRL, GRID_DO_COPY, FALSE },
  { GDK_KEY_x, CTRL, GRID_DO_CUT, FALSE },
  { GDK_KEY_Delete, SHIFT, GRID_DO_CUT, FALSE },
  { GDK_KEY_v, CTRL, GRID_DO_PASTE, FALSE },
  { GDK_KEY_Insert, SHIFT, GRID_DO_PASTE, FALSE },
  { GDK_KEY_Delete, 0, GRID_DO_CLEAR, FALSE },
  { GDK_KEY_d, CTRL, GRID_DO_FILL_DOWN, FALSE },
  { GDK_KEY_r, CTRL, GRID_DO_FILL_RIGHT, FALSE },
  { GDK_KEY_Insert, 0, GRID_DO_INSERT_ROWS, FALSE },
  { GDK_KEY_plus, CTRL, GRID_DO_INSERT_ROWS, FALSE },
  { GDK_KEY_plus, CTRL | SHIFT, GRID_DO_INSERT_ROWS, FALSE },
  { GDK_KEY_equal, CTRL | SHIFT, GRID_DO_INSERT_ROWS, FALSE },
  { GDK_KEY_d, CTRL | SHIFT, GRID_DO_DUPLICATE_ROWS, FALSE },
  { GDK_KEY_minus, CTRL, GRID_DO_DELETE_ROWS, FALSE },
  { GDK_KEY_Up, ALT, GRID_DO_ROWS_UP, FALSE },
  { GDK_KEY_Down, ALT, GRID_DO_ROWS_DOWN, FALSE },
  { GDK_KEY_Menu, 0, GRID_DO_MENU, FALSE },
  { GDK_KEY_F10, SHIFT, GRID_DO_MENU, FALSE },
};

static const Key editing_keys[] = {
  { GDK_KEY_Tab, 0, GRID_DO_NEXT, FALSE },
  { GDK_KEY_Tab, SHIFT, GRID_DO_PREVIOUS, FALSE },
  { GDK_KEY_Tab, CTRL, GRID_DO_LEAVE, FALSE },
  { GDK_KEY_Tab, CTRL | SHIFT, GRID_DO_LEAVE_BACK, FALSE },
  { GDK_KEY_Return, 0, GRID_DO_BELOW, FALSE },
  { GDK_KEY_Return, SHIFT, GRID_DO_ABOVE, FALSE },
  { GDK_KEY_Return, CTRL, GRID_DO_FILL_TYPED, FALSE },
  { GDK_KEY_Escape, 0, GRID_DO_CANCEL, FALSE },
  { GDK_KEY_Up, 0, GRID_DO_UP, FALSE },
  { GDK_KEY_Down, 0, GRID_DO_DOWN, FALSE },
};

static guint
namesake (guint keyval)
{
  switch (keyval)
    {
    case GDK_KEY_KP_Left: return GDK_KEY_Left;
    case GDK_KEY_KP_Right: return GDK_KEY_Right;
    case GDK_KEY_KP_Up: return GDK_KEY_Up;
    case GDK_KEY_KP_Down: return GDK_KEY_Down;
    case GDK_KEY_KP_Page_Up: return GDK_KEY_Page_Up;
    case GDK_KEY_KP_Page_Down: return GDK_KEY_Page_Down;
    case GDK_KEY_KP_Home: return GDK_KEY_Home;
    case GDK_KEY_KP_End: return GDK_KEY_End;
    case GDK_KEY_KP_Insert: return GDK_KEY_Insert;
    case GDK_KEY_KP_Delete: return GDK_KEY_Delete;
    case GDK_KEY_KP_Enter: return GDK_KEY_Return;
    case GDK_KEY_ISO_Enter: return GDK_KEY_Return;
    case GDK_KEY_Linefeed: return GDK_KEY_Return;
    case GDK_KEY_KP_Tab: return GDK_KEY_Tab;
    case GDK_KEY_ISO_Left_Tab: return GDK_KEY_Tab;
    case GDK_KEY_KP_Add: return GDK_KEY_plus;
    case GDK_KEY_KP_Subtract: return GDK_KEY_minus;
    default: return keyval >= GDK_KEY_A && keyval <= GDK_KEY_Z ? keyval + (GDK_KEY_a - GDK_KEY_A) : keyval;
    }
}

GridCommand
grid_keys_find (guint keyval, guint modifiers, gboolean editing, gboolean *extend)
{
  const Key *table = editing ? editing_keys : keys;
  gsize n = editing ? G_N_ELEMENTS (editing_keys) : G_N_ELEMENTS (keys);

  keyval = namesake (keyval);
  *extend = FALSE;
  for (gsize i = 0; i < n; i++)
    {
      if (table[i].keyval != keyval)
        continue;
      if (table[i].modifiers == modifiers)
        return table[i].command;
      if (table[i].extends && (table[i].modifiers | SHIFT) == modifiers)
        {
          *extend = TRUE;
          return table[i].command;
        }
    }
  return GRID_DO_NOTHING;
}

gboolean
grid_keys_type (guint keyval, guint32 unicode, guint modifiers)
{
  /* AltGr is no modifier here: what it gives is a character like any other. */
  if (modifiers & (CTRL | ALT | GRID_KEY_OTHER))
    return FALSE;
  if (keyval == GDK_KEY_Multi_key || (keyval >= GDK_KEY_dead_grave && keyval <= GDK_KEY_dead_longsolidusoverlay))
    return TRUE;
  return unicode != 0 && !g_unichar_iscntrl (unicode);
}
