/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/price/price-private.h"

#include <glib/gi18n.h>

/* One page in large type to be read out by phone: price, breakouts, runs not priced, and nothing else. */

#define TALLY_TYPE_READ_OUT (tally_read_out_get_type ())
G_DECLARE_FINAL_TYPE (TallyReadOut, tally_read_out, TALLY, READ_OUT, AdwWindow)

struct _TallyReadOut
{
  AdwWindow parent_instance;

  TallySession *session; /* owned */
  GtkWidget *page;
};

G_DEFINE_FINAL_TYPE (TallyReadOut, tally_read_out, ADW_TYPE_WINDOW)

static void
add_line (GtkWidget *grid, int row, const char *name, const char *money)
{
  GtkWidget *label = price_label (name, "read-name", 0), *figure = price_label (money, "read-figure", 1);

  gtk_label_set_yalign (GTK_LABEL (figure), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 22);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_grid_attach (GTK_GRID (grid), label, 0, row, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), figure, 1, row, 1, 1);
}

static void
collect (TallyJob *job, JobType type, gint64 id, const char *name, GPtrArray *names, GArray *sums)
{
  JobScope scope = { type == JOB_SYSTEM ? id : 0, type == JOB_AREA ? id : 0 };
  JobTotals totals;

  job_totals (job, &scope, JOB_OWN_METHOD, &totals);
  if (totals.runs > 0 || totals.not_priced > 0)
    {
      g_autofree char *words = totals.not_priced > 0 ? g_strdup_printf (_ ("%s (%d not priced)"), name, (int) totals.not_priced) : NULL;
      g_ptr_array_add (names, g_strdup (words ? words : name));
      totals.sums.slot_time = NULL;
      g_array_append_val (sums, totals.sums);
    }
  job_totals_clear (&totals);
}

static GtkWidget *
breakout (TallyReadOut *self, const PriceFigures *figures, JobType type)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GArray) sums = g_array_new (FALSE, TRUE, sizeof (CostSums));
  GtkWidget *grid = gtk_grid_new ();
  g_autofree gint64 *split = NULL;

  for (guint i = 0; i < job_n (figures->job, type); i++)
    {
      const JobRecord *record = job_at (figures->job, type, i);
      collect (figures->job, type, record->id, record->text[type == JOB_SYSTEM ? SYSTEM_KEY : AREA_KEY], names, sums);
    }
  collect (figures->job, type, -1, type == JOB_SYSTEM ? _ ("without a system") : _ ("without an area"), names, sums);
  split = buildup_break_out (figures->up, (const CostSums *) (gpointer) sums->data, sums->len);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 24);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  gtk_widget_set_hexpand (grid, TRUE);
  gtk_grid_attach (GTK_GRID (grid), price_label (type == JOB_SYSTEM ? _ ("By system") : _ ("By area"), "read-head", 0), 0, 0, 2, 1);
  for (guint i = 0; i < sums->len; i++)
    {
      g_autofree char *money = session_money (self->session, split[(gsize) figures->price * sums->len + i]);
      add_line (grid, (int) i + 1, g_ptr_array_index (names, i), money);
    }
  return grid;
}

static void
fill (TallyReadOut *self)
{
  GtkWidget *child, *pair = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 64), *name;
  PriceFigures figures;
  g_autofree char *price = NULL, *runs = NULL;
  int n;

  while ((child = gtk_widget_get_first_child (self->page)) != NULL)
    gtk_box_remove (GTK_BOX (self->page), child);
  if (!price_figures_read (self->session, &figures))
    {
      g_object_ref_sink (pair);
      g_object_unref (pair);
      return;
    }
  n = (int) figures.totals.not_priced;
  price = session_money (self->session, figures.up->value[figures.price]);
  runs = n > 0 ? g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "Not complete: %d run is not priced.", "Not complete: %d runs are not priced.",
                                               (gulong) n), n)
               : g_strdup (_ ("Every run is priced."));
  name = price_label (job_head (figures.job)->text[HEAD_NAME], "read-name", 0);
  gtk_label_set_wrap (GTK_LABEL (name), TRUE);
  gtk_box_append (GTK_BOX (self->page), name);
  child = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 16);
  gtk_box_append (GTK_BOX (child), price_label (price, "read-price", 0));
  gtk_box_append (GTK_BOX (child), price_label (figures.currency, "read-name", 0));
  gtk_widget_set_valign (gtk_widget_get_last_child (child), GTK_ALIGN_END);
  gtk_widget_set_margin_bottom (gtk_widget_get_last_child (child), 12);
  gtk_box_append (GTK_BOX (self->page), child);
  gtk_box_append (GTK_BOX (self->page), price_label (runs, n > 0 ? "read-open" : "read-name", 0));
  gtk_widget_set_margin_top (pair, 16);
  gtk_box_set_homogeneous (GTK_BOX (pair), TRUE);
  gtk_box_append (GTK_BOX (pair), breakout (self, &figures, JOB_SYSTEM));
  gtk_box_append (GTK_BOX (pair), breakout (self, &figures, JOB_AREA));
  gtk_box_append (GTK_BOX (self->page), pair);
  price_figures_clear (&figures);
}

static void
changed_cb (TallySession *session, JobEdit *edit, TallyReadOut *self)
{
  (void) session;
  (void) edit;
  fill (self);
}

static void
job_cb (TallySession *session, TallyReadOut *self)
{
  /* Another job's price must not be read out for this one. */
  (void) session;
  gtk_window_close (GTK_WINDOW (self));
}

static void
tally_read_out_finalize (GObject *object)
{
  g_clear_object (&TALLY_READ_OUT (object)->session);
  G_OBJECT_CLASS (tally_read_out_parent_class)->finalize (object);
}

static void
tally_read_out_class_init (TallyReadOutClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tally_read_out_finalize;
  gtk_widget_class_add_binding_action (GTK_WIDGET_CLASS (klass), GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
tally_read_out_init (TallyReadOut *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *scroll = gtk_scrolled_window_new (), *bar = adw_header_bar_new ();

  self->page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  gtk_widget_add_css_class (self->page, "read-out");
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroll), self->page);
  gtk_widget_set_vexpand (scroll, TRUE);
  gtk_widget_add_css_class (bar, "flat");
  gtk_box_append (GTK_BOX (box), bar);
  gtk_box_append (GTK_BOX (box), scroll);
  adw_window_set_content (ADW_WINDOW (self), box);
  gtk_window_set_title (GTK_WINDOW (self), _ ("Read-out"));
  gtk_window_set_default_size (GTK_WINDOW (self), 1100, 680);
}

void
price_read_out_present (TallySession *session, GtkWindow *parent)
{
  TallyReadOut *self = g_object_new (TALLY_TYPE_READ_OUT, NULL);

  self->session = g_object_ref (session);
  g_signal_connect_object (session, "changed", G_CALLBACK (changed_cb), self, 0);
  g_signal_connect_object (session, "job", G_CALLBACK (job_cb), self, 0);
  if (parent)
    {
      gtk_window_set_transient_for (GTK_WINDOW (self), parent);
      gtk_window_set_destroy_with_parent (GTK_WINDOW (self), TRUE);
    }
  fill (self);
  gtk_window_present (GTK_WINDOW (self));
}
