/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/what-if/stock-table.h"

#include "base/decimal.h"
#include "window/methods/field.h"
#include "window/methods/figure-grid.h"
#include "window/methods/methods-model.h"
#include "window/words.h"

#include <glib/gi18n.h>
#include <math.h>

typedef struct
{
  char *item;
  GtkWidget *need, *buy, *value, *on_hand, *lead; /* labels and entries */
} Row;

struct _TallyStockTable
{
  GtkWidget parent_instance;

  GtkWidget *box, *title, *fault; /* borrowed, but for box */
  TallyFigureGrid *grid;
  TallySession *session;
  GArray *rows;  /* Row */
  gboolean filling, another; /* another: job than the one shown */
};

G_DEFINE_FINAL_TYPE (TallyStockTable, tally_stock_table, GTK_TYPE_WIDGET)

/* Everything that is wrong, as long as it stands in the table. */
static void
say (TallyStockTable *self)
{
  g_autoptr (GString) all = g_string_new (NULL);

  for (guint i = 0; i < self->rows->len; i++)
    {
      const Row *row = &g_array_index (self->rows, Row, i);
      GtkWidget *const entries[] = { row->on_hand, row->lead };
      for (gsize e = 0; e < G_N_ELEMENTS (entries); e++)
        if (tally_field_fault (entries[e]))
          g_string_append_printf (all, "%s%s: %s", all->len ? "\n" : "", row->item, tally_field_fault (entries[e]));
    }
  gtk_label_set_label (GTK_LABEL (self->fault), all->str);
  gtk_widget_set_visible (self->fault, all->len > 0);
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

static char *
stock_text (TallyJob *job, const char *item, gboolean days)
{
  gint64 on_hand, lead;

  job_stock_of (job, item, &on_hand, &lead);
  if (days)
    return lead >= 0 ? g_strdup_printf ("%" G_GINT64_FORMAT, lead) : g_strdup ("");
  return on_hand ? decimal_print (on_hand, 3, 0, FALSE) : g_strdup ("");
}

static void
take (GtkWidget *entry, gpointer data)
{
  TallyStockTable *self = data;
  TallyJob *job = session_job (self->session);
  g_autofree char *item = g_strdup (g_object_get_data (G_OBJECT (entry), "item"));
  gboolean days = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (entry), "days"));
  g_autofree char *label = g_strdup_printf (days ? _ ("lead time of %s") : _ ("stock of %s"), item), *kept = NULL;
  Fault *fault = NULL;
  gint64 on_hand, lead, value;
  JobEdit *edit;

  if (self->filling || !job)
    return;
  if (!read_entry (gtk_editable_get_text (GTK_EDITABLE (entry)), days, &value, &fault))
    {
      g_autofree char *words = fault_words (fault, NULL);
      fault_free (fault);
      tally_field_refuse (entry, words);
      say (self);
      return;
    }
  job_stock_of (job, item, &on_hand, &lead);
  edit = job_edit_new (label);
  job_edit_stock (job, edit, item, days ? on_hand : value, days ? value : lead);
  if (edit->deltas->len == 0)
    job_edit_free (edit);
  else
    session_apply (self->session, edit);
  kept = stock_text (job, item, days);
  tally_field_show (entry, kept);
  say (self);
}

static GtkWidget *
add_entry (TallyStockTable *self, const char *item, gboolean days)
{
  GtkWidget *entry = gtk_entry_new ();
  g_autofree char *spoken = g_strdup_printf (days ? _ ("Lead time of %s, days") : _ ("On hand of %s"), item);

  gtk_editable_set_width_chars (GTK_EDITABLE (entry), days ? 5 : 8);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), days ? 5 : 8);
  gtk_editable_set_alignment (GTK_EDITABLE (entry), 1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  g_object_set_data_full (G_OBJECT (entry), "item", g_strdup (item), g_free);
  g_object_set_data (G_OBJECT (entry), "days", GINT_TO_POINTER (days));
  tally_field_init (entry, take, self);
  tally_figure_grid_take (self->grid, entry);
  return entry;
}

static GtkWidget *
add_figure (TallyStockTable *self)
{
  return gtk_widget_get_first_child (tally_figure_grid_cell (self->grid, "", NULL, FALSE));
}

static void
make (TallyStockTable *self, const JobStock *stock)
{
  TallyJob *job = session_job (self->session);
  const char *currency = job ? job_head (job)->text[HEAD_CURRENCY] : NULL;

  tally_figure_grid_clear (self->grid);
  g_array_set_size (self->rows, 0);
  tally_figure_grid_head (self->grid, _ ("Item"), _ ("of the job as it stands"));
  tally_figure_grid_head (self->grid, _ ("Need"), NULL);
  tally_figure_grid_head (self->grid, _ ("On hand"), NULL);
  tally_figure_grid_head (self->grid, _ ("To buy"), NULL);
  tally_figure_grid_head (self->grid, _ ("At its price"), currency);
  tally_figure_grid_head (self->grid, _ ("Lead time"), _ ("days"));
  for (guint i = 0; job && stock->line && i < stock->line->len; i++)
    {
      const CostItem *item
        = catalogue_item (job_basis (job)->catalogue, g_array_index (stock->line, JobStockLine, i).item);
      g_autofree char *unit = g_strdup_printf ("%s, %s", item->key, item->unit);
      Row row = { .item = g_strdup (item->key) };
      tally_figure_grid_row (self->grid, FALSE);
      tally_figure_grid_cell (self->grid, unit, NULL, FALSE);
      row.need = add_figure (self);
      row.on_hand = add_entry (self, item->key, FALSE);
      row.buy = add_figure (self);
      row.value = add_figure (self);
      row.lead = add_entry (self, item->key, TRUE);
      g_array_append_val (self->rows, row);
    }
}

/* Rows stay as long as the items are the same, so that the keys stay where they are. */
static gboolean
is_made (TallyStockTable *self, const JobStock *stock)
{
  TallyJob *job = session_job (self->session);
  gboolean same = !self->another && job && self->rows->len > 0 && stock->line && stock->line->len == self->rows->len;

  for (guint i = 0; same && i < self->rows->len; i++)
    same = g_str_equal (g_array_index (self->rows, Row, i).item,
                        catalogue_item (job_basis (job)->catalogue, g_array_index (stock->line, JobStockLine, i).item)->key);
  return same;
}

void
tally_stock_table_fill (TallyStockTable *self, const JobStock *stock, int decimals)
{
  TallyJob *job = session_job (self->session);

  self->filling = TRUE;
  if (!is_made (self, stock))
    make (self, stock);
  self->another = FALSE;
  for (guint i = 0; i < self->rows->len; i++)
    {
      const JobStockLine *line = &g_array_index (stock->line, JobStockLine, i);
      const Row *row = &g_array_index (self->rows, Row, i);
      g_autofree char *need = methods_number ((double) line->need / 1e6, 1), *buy = methods_number ((double) line->buy / 1e6, 1);
      g_autofree char *value = methods_number ((double) line->value_buy / pow (10, decimals), 0);
      g_autofree char *on_hand = stock_text (job, row->item, FALSE), *lead = stock_text (job, row->item, TRUE);
      gtk_label_set_label (GTK_LABEL (row->need), need);
      gtk_label_set_label (GTK_LABEL (row->buy), buy);
      gtk_label_set_label (GTK_LABEL (row->value), value);
      tally_field_follow (row->on_hand, on_hand);
      tally_field_follow (row->lead, lead);
    }
  say (self);
  self->filling = FALSE;
}

static void
job_cb (TallySession *session, TallyStockTable *self)
{
  (void) session;
  self->another = TRUE;
}

static void
row_clear (gpointer data)
{
  g_free (((Row *) data)->item);
}

static void
tally_stock_table_dispose (GObject *object)
{
  TallyStockTable *self = TALLY_STOCK_TABLE (object);

  self->filling = TRUE;
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->session);
  g_clear_pointer (&self->rows, g_array_unref);
  G_OBJECT_CLASS (tally_stock_table_parent_class)->dispose (object);
}

static void
tally_stock_table_class_init (TallyStockTableClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tally_stock_table_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
tally_stock_table_init (TallyStockTable *self)
{
  self->rows = g_array_new (FALSE, TRUE, sizeof (Row));
  g_array_set_clear_func (self->rows, row_clear);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  self->title = tally_words_new (_ ("Stock and lead time"), "heading");
  self->fault = tally_words_new ("", "attention");
  gtk_widget_set_visible (self->fault, FALSE);
  self->grid = TALLY_FIGURE_GRID (tally_figure_grid_new (_ ("Stock and lead time")));
  tally_figure_grid_centre (self->grid);
  gtk_box_append (GTK_BOX (self->box), self->title);
  gtk_box_append (GTK_BOX (self->box),
                  tally_words_new (_ ("Stock on hand is used first. It counts at its price, as it is not free: the cash to spend is lower, the cost "
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
  g_signal_connect_object (session, "job", G_CALLBACK (job_cb), self, 0);
  return GTK_WIDGET (self);
}
