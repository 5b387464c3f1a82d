/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/methods/methods-pages.h"

#include "window/list-tab.h"
#include "window/memo/memo-page.h"
#include "window/methods/methods-view.h"
#include "window/mix/mix-page.h"
#include "window/risk/risk-page.h"
#include "window/what-if/what-if-page.h"

#include <glib/gi18n.h>

/* The next or the one before, round about; only while the view is looked at. */
static gboolean
step_cb (GtkWidget *box, GVariant *by, gpointer stack)
{
  g_autoptr (GtkSelectionModel) pages = gtk_stack_get_pages (stack);
  guint n = g_list_model_get_n_items (G_LIST_MODEL (pages)), at = 0;

  if (!gtk_widget_get_mapped (box))
    return FALSE;
  while (at < n && !gtk_selection_model_is_selected (pages, at))
    at++;
  gtk_selection_model_select_item (pages, (at + n + (guint) g_variant_get_int32 (by)) % n, TRUE);
  return TRUE;
}

static void
add_key (GtkEventController *keys, guint key, int by, GtkWidget *stack)
{
  GtkShortcut *shortcut = gtk_shortcut_new (gtk_keyval_trigger_new (key, GDK_CONTROL_MASK),
                                            gtk_callback_action_new (step_cb, stack, NULL));

  gtk_shortcut_set_arguments (shortcut, g_variant_new_int32 (by));
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys), shortcut);
}

/* The keys go to the button of the page that is turned to: Tab goes on from there into the page. */
static void
turned_cb (GtkStack *stack, GParamSpec *spec, GtkWidget *switcher)
{
  g_autoptr (GtkSelectionModel) pages = gtk_stack_get_pages (stack);
  guint at = 0;

  (void) spec;
  if (!gtk_widget_get_mapped (switcher))
    return;
  for (GtkWidget *button = gtk_widget_get_first_child (switcher); button; button = gtk_widget_get_next_sibling (button), at++)
    if (gtk_selection_model_is_selected (pages, at))
      gtk_widget_grab_focus (button);
}

GtkWidget *
tally_methods_pages_new (TallySession *session)
{
  const struct
  {
    const char *name, *title;
    GtkWidget *page;
  } pages[] = {
    { "compare", _ ("Compare"), tally_methods_view_new (session) },
    { "what-if", _ ("What if"), tally_what_if_page_new (session) },
    { "mix", _ ("Mix"), tally_mix_page_new (session) },
    { "risk", _ ("Risk"), tally_risk_page_new (session) },
    { "memo", _ ("Memo"), tally_memo_page_new (session) },
  };
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *stack = gtk_stack_new (), *switcher = gtk_stack_switcher_new ();
  GtkEventController *keys = gtk_shortcut_controller_new ();

  for (gsize i = 0; i < G_N_ELEMENTS (pages); i++)
    gtk_stack_add_titled (GTK_STACK (stack), pages[i].page, pages[i].name, pages[i].title);
  gtk_widget_set_vexpand (stack, TRUE);
  gtk_stack_switcher_set_stack (GTK_STACK_SWITCHER (switcher), GTK_STACK (stack));
  gtk_widget_set_halign (switcher, GTK_ALIGN_START);
  gtk_widget_add_css_class (switcher, "methods-switcher");
  gtk_widget_set_tooltip_text (switcher, _ ("Ctrl+Page Down and Ctrl+Page Up turn the pages"));
  gtk_box_append (GTK_BOX (box), switcher);
  gtk_box_append (GTK_BOX (box), stack);
  gtk_shortcut_controller_set_scope (GTK_SHORTCUT_CONTROLLER (keys), GTK_SHORTCUT_SCOPE_GLOBAL);
  /* Before lists and scrolled windows, which have a use of their own for these keys. */
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  tally_list_leave_by_tab (switcher);
  g_signal_connect_object (stack, "notify::visible-child", G_CALLBACK (turned_cb), switcher, G_CONNECT_AFTER);
  add_key (keys, GDK_KEY_Page_Down, 1, stack);
  add_key (keys, GDK_KEY_Page_Up, -1, stack);
  gtk_widget_add_controller (box, keys);
  g_object_set_data (G_OBJECT (box), "stack", stack);
  return box;
}

void
tally_methods_pages_show (GtkWidget *pages, const char *name)
{
  gtk_stack_set_visible_child_name (g_object_get_data (G_OBJECT (pages), "stack"), name);
}

GtkWidget *
tally_methods_pages_shown (GtkWidget *pages)
{
  return gtk_stack_get_visible_child (g_object_get_data (G_OBJECT (pages), "stack"));
}
