/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/methods/methods-pages.h"

#include "window/memo/memo-page.h"
#include "window/methods/methods-view.h"
#include "window/mix/mix-page.h"
#include "window/risk/risk-page.h"
#include "window/what-if/what-if-page.h"

#include <glib/gi18n.h>

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

  for (gsize i = 0; i < G_N_ELEMENTS (pages); i++)
    gtk_stack_add_titled (GTK_STACK (stack), pages[i].page, pages[i].name, pages[i].title);
  gtk_widget_set_vexpand (stack, TRUE);
  gtk_stack_switcher_set_stack (GTK_STACK_SWITCHER (switcher), GTK_STACK (stack));
  gtk_widget_set_halign (switcher, GTK_ALIGN_START);
  gtk_widget_add_css_class (switcher, "methods-switcher");
  gtk_box_append (GTK_BOX (box), switcher);
  gtk_box_append (GTK_BOX (box), stack);
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
