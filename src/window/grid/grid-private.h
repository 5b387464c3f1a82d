/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the files of the grid share; nobody else includes this. */

#include "window/grid/grid-geometry.h"
#include "window/grid/grid-keys.h"
#include "window/grid/grid-selection.h"
#include "window/grid/grid.h"

G_BEGIN_DECLS

#define GRID_PAD 6 /* px between a cell's edge and its text; the editor's padding is the same in grid.c */
#define GRID_MIN_WIDTH 24

/* What is drawn of one cell; kept until the row changes. */
typedef struct
{
  PangoLayout *layout; /* (nullable): empty */
  int width, height;
  GridCellFlags flags;
  gboolean loaded;
  gboolean cut;        /* the text did not fit */
} GridCell;

/* A row that was drawn. Its texts and marks are kept as a whole as well: two nodes, of the scrolling part and of the
 * frozen columns, drawn from the row's upper edge and the first column's start. */
typedef struct
{
  GskRenderNode *node[2]; /* (nullable) */
  guint key[2], column_end[2]; /* what the nodes hold; end 0: not made yet */
  guint n;
  GridCell number;
  GridCell cell[];
} GridRow;

typedef struct
{
  char *title, *unit;
  PangoLayout *title_layout, *unit_layout; /* (nullable) */
  int user_width;                          /* px, 0: from the model */
  gboolean figure;
} GridColumn;

typedef struct
{
  GdkRGBA base, text, dim, line, head, head_text, accent, fill, row, computed, warning;
} GridPalette;

typedef enum
{
  GRID_DRAG_NONE,
  GRID_DRAG_CELLS,
  GRID_DRAG_ROWS,
  GRID_DRAG_WIDTH
} GridDrag;

struct _TallyGrid
{
  GtkWidget parent_instance;

  TallyGridModel *model; /* (nullable) */
  GtkAdjustment *adjustment[2]; /* horizontal, vertical */
  guint policy[2];

  GridGeometry geometry;
  GridSelection selection;
  guint n_rows;      /* of the model; geometry.n_rows has the empty row for typing as well */
  GArray *column;    /* GridColumn */
  int sort_column;
  gboolean sort_descending;

  /* grid-cells.c */
  GHashTable *rows;  /* row -> GridRow */
  GHashTable *attributes;
  GridPalette palette;
  gboolean styled;   /* metrics and palette are those of the present style */
  int digit_width, line_height;
  gboolean even_digits; /* the font's digits are of one width as they are */
  GskRenderNode *corner_mark;

  /* grid-edit.c */
  GtkWidget *entry; /* (nullable): until a cell is first edited */
  guint edit_row, edit_column;
  char *edit_before; /* text of the cell when it was opened to be changed; NULL: what is typed replaces it */
  gboolean editing, committing, composing;

  /* grid-access.c */
  GtkWidget *spoken; /* never drawn: what assistive technology reads of the cursor's cell */
  guint spoken_idle;

  /* grid-input.c, grid-menu.c */
  GtkWidget *menu;
  GridDrag drag;
  int drag_column, drag_width;
  double drag_from, drag_x, drag_y;
  guint drag_tick;
};

/* grid.c */
void grid_refresh (TallyGrid *grid);          /* size of the model taken anew */
void grid_queue_layout (TallyGrid *grid);     /* widths or sizes are others */
void grid_reveal (TallyGrid *grid, guint row, guint column);
/* After a change of grid->selection: draws, scrolls to it when asked and emits what differs from @before. */
void grid_selection_done (TallyGrid *grid, const GridSelection *before, gboolean reveal);
gboolean grid_cell_is_filled (guint row, guint column, gpointer grid);
void grid_emit_sort (TallyGrid *grid, guint column);
void grid_emit_head_menu (TallyGrid *grid, guint column);
void grid_emit_resized (TallyGrid *grid, guint column);
/* Rings the bell and says in @words why nothing was done. */
void grid_refuse (TallyGrid *grid, const char *words);
graphene_rect_t grid_rect (double x, double y, double width, double height);

/* grid-cells.c */
void grid_cells_init (TallyGrid *grid);
void grid_cells_free (TallyGrid *grid);
void grid_cells_ensure_style (TallyGrid *grid);
/* All that depends on font, colours, scale. */
void grid_cells_drop_style (TallyGrid *grid);
void grid_cells_drop (TallyGrid *grid);
void grid_cells_drop_rows (TallyGrid *grid, guint first, guint n);
/* Keeps memory bounded: drops what is far from the rows shown. */
void grid_cells_trim (TallyGrid *grid, guint first, guint end);
const GridCell *grid_cells_get (TallyGrid *grid, guint row, guint column);
const GridCell *grid_cells_get_number (TallyGrid *grid, guint row);
GridRow *grid_cells_get_row (TallyGrid *grid, guint row);
/* Headings and widths from the model; widths set by the user stay where the title is the same. */
void grid_cells_load_columns (TallyGrid *grid);
void grid_cells_place_columns (TallyGrid *grid);
void grid_column_clear (gpointer column);
/* The width, in px, in which all texts of a column are seen whole. */
int grid_cells_fit (TallyGrid *grid, guint column);

/* grid-draw.c */
void grid_draw (TallyGrid *grid, GtkSnapshot *snapshot);
/* The part of the widget in which a column's cells are seen. */
graphene_rect_t grid_draw_clip (TallyGrid *grid, guint column);
void grid_draw_editor_frame (TallyGrid *grid, GtkSnapshot *snapshot, const GtkAllocation *place);

/* grid-edit.c */
/* Opens the cursor's cell. @text: what replaces it, NULL: what stands there. FALSE: it cannot be edited. */
gboolean grid_edit_open (TallyGrid *grid, const char *text);
/* Writes what was typed, into the whole selection when @fill. FALSE: refused, still editing. */
gboolean grid_edit_commit (TallyGrid *grid, gboolean fill, gboolean take_focus);
void grid_edit_cancel (TallyGrid *grid, gboolean take_focus);
void grid_edit_allocate (TallyGrid *grid);

/* grid-clipboard.c */
/* A change of several cells; texts are owned. */
GArray *grid_change_new (void);
void grid_change_add (TallyGrid *grid, GArray *change, guint row, guint column, const char *text);
gboolean grid_change_apply (TallyGrid *grid, GArray *change, const char *label);
gboolean grid_is_editable (TallyGrid *grid, guint row, guint column);
void grid_cut (TallyGrid *grid);

/* grid-access.c */
void grid_access_init (TallyGrid *grid);
void grid_access_queue (TallyGrid *grid);
void grid_access_dispose (TallyGrid *grid);
/* "Row 14, Size, 24x12, faulty: ..." (transfer full) */
char *grid_access_words (TallyGrid *grid);
/* Says @words instead, until the cursor's cell is said again. */
void grid_access_say (TallyGrid *grid, const char *words);
gboolean grid_access_query_tooltip (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip);

/* grid-input.c */
void grid_input_init (TallyGrid *grid);
void grid_input_dispose (TallyGrid *grid);
gboolean grid_do (TallyGrid *grid, GridCommand command, gboolean extend);
guint grid_modifiers (GdkModifierType state);

/* grid-menu.c */
/* Whether the model can do this at all. */
gboolean grid_menu_offers (TallyGrid *grid, GridCommand command);
void grid_menu_class_init (GtkWidgetClass *klass);
void grid_menu_open (TallyGrid *grid, double x, double y);

G_END_DECLS
