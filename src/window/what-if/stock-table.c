/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/what-if/stock-table.h"

#include "base/decimal.h"
#include "window/methods/figure-grid.h"
#include "window/methods/methods-model.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

struct _TallyStockTable
{
  GtkWidget parent_instance;

  GtkWidget *box, *title, *fault; /* borrowed, but for box */
  TallyFigureGrid *grid;
  TallySession *session;
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (TallyStockTable, tally_stock_table, GTK_TYPE_WIDGET)

static void
say (TallyStockTable *self, const char *words)
{
  gtk_label_set_label (GTK_LABEL (self->fault), words ? words : "");
  gtk_widget_set_visible (self->fault, words != NULL);
}

/* Days are whole; an amount has three decimals at most. */
static gboolean
read_entry (const char *text, gboolean days, gint64 *value, Fault **fault)
{
  g_autofree char *word = g_strstrip (g_strdup (text));

  *value = days ? -1 : 0;
  if (!*word)
    return TRUE;
  if (!decimal_parse (word, days ? 0 : 3, value, fault))
    return FALSE;
  if (*value >= 0 && *value <= (days ? 3650 : G_GINT64_CONSTANT (1000000000000)))
    return TRUE;
  return fault_set (fault, fault_new (0, days ? _ ("enter 0 to 3650 days") : _ ("enter 0 or more"), _ ("“%s” cannot be"), word));
}

static void
entry_cb (GtkEntry *entry, TallyStockTable *self)
{
  TallyJob *job = session_job (self->session);
  g_autofree char *item = g_strdup (g_object_get_data (G_OBJECT (entry), "item"));
  gboolean days = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (entry), "days"));
  Fault *fault = NULL;
  gint64 on_hand, lead, value;
  JobEdit *edit;

  if (self->filling || !job)
    return;
  if (!read_entry (gtk_editable_get_text (GTK_EDITABLE (entry)), days, &value, &fault))
    {
      g_autofree char *words = fault_words (fault, NULL), *all = g_strdup_printf ("%s: %s", item, words);
      fault_free (fault);
      say (self, all);
      return;
    }
  say (self, NULL);
  job_stock_of (job, item, &on_hand, &lead);
  edit = job_edit_new (item);
  job_edit_stock (job, edit, item, days ? on_hand : value, days ? value : lead);
  if (edit->deltas->len == 0)
    job_edit_free (edit);
  else
    session_apply (self->session, edit);
}

static void
leave_cb (GtkEventControllerFocus *focus, TallyStockTable *self)
{
  entry_cb (GTK_ENTRY (gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (focus))), self);
}

static void
add_entry (TallyStockTable *self, const char *item, gboolean days, const char *text)
{
  GtkWidget *entry = gtk_entry_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_autofree char *spoken = g_strdup_printf (days ? _ ("Lead time of %s, days") : _ ("On hand of %s"), item);

  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), days ? 5 : 8);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), days ? 5 : 8);
  gtk_editable_set_alignment (GTK_EDITABLE (entry), 1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  g_object_set_data_full (G_OBJECT (entry), "item", g_strdup (item), g_free);
  g_object_set_data (G_OBJECT (entry), "days", GINT_TO_POINTER (days));
  g_signal_connect (entry, "activate", G_CALLBACK (entry_cb), self);
  g_signal_connect (focus, "leave", G_CALLBACK (leave_cb), self);
  gtk_widget_add_controller (entry, focus);
  tally_figure_grid_take (self->grid, entry);
}

void
tally_stock_table_fill (TallyStockTable *self, const JobStock *stock, int decimals)
{
  TallyJob *job = session_job (self->session);
  const char *currency = job ? job_head (job)->text[HEAD_CURRENCY] : NULL;

  self->filling = TRUE;
  tally_figure_grid_clear (self->grid);
  tally_figure_grid_head (self->grid, _ ("Item"), _ ("of the job as it stands"));
  tally_figure_grid_head (self->grid, _ ("Need"), NULL);
  tally_figure_grid_head (self->grid, _ ("On hand"), NULL);
  tally_figure_grid_head (self->grid, _ ("To buy"), NULL);
  tally_figure_grid_head (self->grid, _ ("At its price"), currency);
  tally_figure_grid_head (self->grid, _ ("Lead time"), _ ("days"));
  for (guint i = 0; job && stock->line && i < stock->line->len; i++)
    {
      const JobStockLine *line = &g_array_index (stock->line, JobStockLine, i);
      const CostItem *item = catalogue_item (job_basis (job)->catalogue, line->item);
      g_autofree char *need = methods_number ((double) line->need / 1e6, 1), *buy = methods_number ((double) line->buy / 1e6, 1);
      g_autofree char *value = methods_number ((double) line->value_buy / pow (10, decimals), 0);
      g_autofree char *on_hand = line->on_hand ? decimal_print (line->on_hand / 1000, 3, 0, FALSE) : g_strdup ("");
      g_autofree char *lead = line->lead_days >= 0 ? g_strdup_printf ("%" G_GINT64_FORMAT, line->lead_days) : g_strdup ("");
      g_autofree char *unit = g_strdup_printf ("%s, %s", item->key, item->unit);
      tally_figure_grid_row (self->grid, FALSE);
      tally_figure_grid_cell (self->grid, unit, NULL, FALSE);
      tally_figure_grid_cell (self->grid, need, NULL, FALSE);
      add_entry (self, item->key, FALSE, on_hand);
      tally_figure_grid_cell (self->grid, buy, NULL, FALSE);
      tally_figure_grid_cell (self->grid, value, NULL, FALSE);
      add_entry (self, item->key, TRUE, lead);
    }
  self->filling = FALSE;
}

static void
tally_stock_table_dispose (GObject *object)
{
  TallyStockTable *self = TALLY_STOCK_TABLE (object);

  self->filling = TRUE;
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_stock_table_parent_class)->dispose (object);
}

static void
tally_stock_table_class_init (TallyStockTableClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tally_stock_table_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static GtkWidget *
words (const char *text, const char *class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, class);
  return label;
}

static void
tally_stock_table_init (TallyStockTable *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  self->title = words (_ ("Stock and lead time"), "heading");
  self->fault = words ("", "attention");
  gtk_widget_set_visible (self->fault, FALSE);
  self->grid = TALLY_FIGURE_GRID (tally_figure_grid_new (_ ("Stock and lead time")));
  tally_figure_grid_centre (self->grid);
  gtk_box_append (GTK_BOX (self->box), self->title);
  gtk_box_append (GTK_BOX (self->box),
                  words (_ ("Stock on hand is used first. It counts at its price, as it is not free: the cash to spend is lower, the cost "
                            "is not. Lead times are calendar days from the order."),
                         "dim-label"));
  gtk_box_append (GTK_BOX (self->box), self->fault);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->grid));
}

GtkWidget *
tally_stock_table_new (TallySession *session)
{
  TallyStockTable *self = g_object_new (TALLY_TYPE_STOCK_TABLE, NULL);

  self->session = g_object_ref (session);
  return GTK_WIDGET (self);
}
