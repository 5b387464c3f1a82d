/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/grid/grid-private.h"

#include <glib/gi18n.h>

typedef struct
{
  const char *action, *words;
  GridCommand command;
  int section;
} Item;

static const Item items[] = {
  { "grid.cut", N_ ("Cut"), GRID_DO_CUT, 0 },
  { "grid.copy", N_ ("Copy"), GRID_DO_COPY, 0 },
  { "grid.paste", N_ ("Paste"), GRID_DO_PASTE, 0 },
  { "grid.fill-down", N_ ("Fill down"), GRID_DO_FILL_DOWN, 1 },
  { "grid.fill-right", N_ ("Fill right"), GRID_DO_FILL_RIGHT, 1 },
  { "grid.clear", N_ ("Clear"), GRID_DO_CLEAR, 1 },
  { "grid.insert-rows", N_ ("Insert row"), GRID_DO_INSERT_ROWS, 2 },
  { "grid.duplicate-rows", N_ ("Duplicate row"), GRID_DO_DUPLICATE_ROWS, 2 },
  { "grid.rows-up", N_ ("Move rows up"), GRID_DO_ROWS_UP, 2 },
  { "grid.rows-down", N_ ("Move rows down"), GRID_DO_ROWS_DOWN, 2 },
  { "grid.delete-rows", N_ ("Delete rows"), GRID_DO_DELETE_ROWS, 2 },
};

static void
action_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void) parameter;
  for (gsize i = 0; i < G_N_ELEMENTS (items); i++)
    if (g_str_equal (items[i].action, name))
      grid_do (TALLY_GRID (widget), items[i].command, FALSE);
}

void
grid_menu_class_init (GtkWidgetClass *klass)
{
  for (gsize i = 0; i < G_N_ELEMENTS (items); i++)
    gtk_widget_class_install_action (klass, items[i].action, NULL, action_cb);
}

gboolean
grid_menu_offers (TallyGrid *grid, GridCommand command)
{
  const TallyGridModelInterface *iface = TALLY_GRID_MODEL_GET_IFACE (grid->model);

  switch ((guint) command)
    {
    case GRID_DO_COPY:
      return TRUE;
    case GRID_DO_INSERT_ROWS:
      return iface->insert_rows != NULL;
    case GRID_DO_DUPLICATE_ROWS:
      return iface->duplicate_rows != NULL;
    case GRID_DO_DELETE_ROWS:
      return iface->delete_rows != NULL;
    case GRID_DO_ROWS_UP:
    case GRID_DO_ROWS_DOWN:
      return iface->move_rows != NULL;
    default:
      return iface->apply != NULL;
    }
}

static GMenuModel *
build_menu (TallyGrid *grid)
{
  GMenu *menu = g_menu_new ();

  for (int section = 0; section < 3; section++)
    {
      g_autoptr (GMenu) part = g_menu_new ();
      for (gsize i = 0; i < G_N_ELEMENTS (items); i++)
        if (items[i].section == section && grid_menu_offers (grid, items[i].command))
          g_menu_append (part, _ (items[i].words), items[i].action);
      if (g_menu_model_get_n_items (G_MENU_MODEL (part)) > 0)
        g_menu_append_section (menu, NULL, G_MENU_MODEL (part));
    }
  return G_MENU_MODEL (menu);
}

static void
closed_cb (GtkPopover *popover, TallyGrid *grid)
{
  (void) popover;
  gtk_widget_grab_focus (GTK_WIDGET (grid));
}

void
grid_menu_open (TallyGrid *grid, double x, double y)
{
  g_autoptr (GMenuModel) model = NULL;
  GdkRectangle at = { (int) x, (int) y, 1, 1 };

  if (!grid->model)
    return;
  model = build_menu (grid);
  if (!grid->menu)
    {
      grid->menu = gtk_popover_menu_new_from_model (model);
      gtk_widget_set_parent (grid->menu, GTK_WIDGET (grid));
      gtk_popover_set_has_arrow (GTK_POPOVER (grid->menu), FALSE);
      gtk_popover_set_position (GTK_POPOVER (grid->menu), GTK_POS_BOTTOM);
      gtk_widget_set_halign (grid->menu, GTK_ALIGN_START);
      g_signal_connect (grid->menu, "closed", G_CALLBACK (closed_cb), grid);
    }
  else
    gtk_popover_menu_set_menu_model (GTK_POPOVER_MENU (grid->menu), model);
  gtk_popover_set_pointing_to (GTK_POPOVER (grid->menu), &at);
  gtk_popover_popup (GTK_POPOVER (grid->menu));
}
