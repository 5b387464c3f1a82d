/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

enum
{
  GRID_KEY_SHIFT = 1 << 0,
  GRID_KEY_CTRL = 1 << 1,
  GRID_KEY_ALT = 1 << 2,
  GRID_KEY_OTHER = 1 << 3 /* Super, Hyper, Meta */
};

typedef enum
{
  GRID_DO_NOTHING,
  GRID_DO_LEFT,
  GRID_DO_RIGHT,
  GRID_DO_UP,
  GRID_DO_DOWN,
  GRID_DO_EDGE_LEFT,
  GRID_DO_EDGE_RIGHT,
  GRID_DO_EDGE_UP,
  GRID_DO_EDGE_DOWN,
  GRID_DO_PAGE_UP,
  GRID_DO_PAGE_DOWN,
  GRID_DO_LINE_START,
  GRID_DO_LINE_END,
  GRID_DO_FIRST,
  GRID_DO_LAST,
  GRID_DO_SELECT_ALL,
  GRID_DO_SELECT_ROWS,
  GRID_DO_SELECT_COLUMNS,
  GRID_DO_NEXT,       /* Tab */
  GRID_DO_PREVIOUS,
  GRID_DO_BELOW,      /* Enter */
  GRID_DO_ABOVE,
  GRID_DO_LEAVE,      /* focus to the next widget */
  GRID_DO_LEAVE_BACK,
  GRID_DO_EDIT,
  GRID_DO_EDIT_EMPTY,
  GRID_DO_CANCEL,
  GRID_DO_FILL_TYPED, /* what is typed into the whole selection */
  GRID_DO_COPY,
  GRID_DO_CUT,
  GRID_DO_PASTE,
  GRID_DO_CLEAR,
  GRID_DO_FILL_DOWN,
  GRID_DO_FILL_RIGHT,
  GRID_DO_INSERT_ROWS,
  GRID_DO_DUPLICATE_ROWS,
  GRID_DO_DELETE_ROWS,
  GRID_DO_ROWS_UP,
  GRID_DO_ROWS_DOWN,
  GRID_DO_MENU
} GridCommand;

/* What a key does. @keyval: of the X keysym list, as GDK has them. @modifiers: GRID_KEY_*. @editing: the keys while
 * a cell is being edited; all others are the editor's own. @extend: (out): the selection grows instead of moving. */
GridCommand grid_keys_find (guint keyval, guint modifiers, gboolean editing, gboolean *extend);
/* Whether a key that does nothing else starts to fill the cell: it gives a character, or will with the keys that follow
 * (dead keys, the compose key). @unicode: the key's character, 0: none. */
gboolean grid_keys_type (guint keyval, guint32 unicode, guint modifiers);

G_END_DECLS
