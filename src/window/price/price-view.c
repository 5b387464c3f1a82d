/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/price/price-view.h"
#include "window/price/price-private.h"

#include "base/decimal.h"
#include "base/money.h"

#include <glib/gi18n.h>
#include <math.h>

#define TALLY_TYPE_PRICE_VIEW (tally_price_view_get_type ())
G_DECLARE_FINAL_TYPE (TallyPriceView, tally_price_view, TALLY, PRICE_VIEW, AdwBin)

struct _TallyPriceView
{
  AdwBin parent_instance;

  TallySession *session; /* owned */
  AdwToastOverlay *toasts;
  GtkWidget *scroll, *conclusion, *open, *buildup, *stack, *solve, *marks, *points;
  gboolean stale;        /* to be read again when it is looked at */
  guint idle;
};

G_DEFINE_FINAL_TYPE (TallyPriceView, tally_price_view, ADW_TYPE_BIN)

/* ---- shared by the parts ---- */

gboolean
price_figures_read (TallySession *session, PriceFigures *figures)
{
  TallyJob *job = session_job (session);
  JobScope whole = { 0, 0 };

  if (!job)
    return FALSE;
  figures->job = job;
  figures->basis = job_basis (job);
  job_totals (job, &whole, JOB_OWN_METHOD, &figures->totals);
  figures->up = buildup_new (figures->basis, &figures->totals.sums, session_decimals (session));
  cost_profit (figures->up, &figures->profit);
  figures->price = cost_price_line (figures->basis);
  figures->cost = buildup_find (figures->basis, "cost");
  figures->currency = job_head (job)->text[HEAD_CURRENCY] ? job_head (job)->text[HEAD_CURRENCY] : "";
  return TRUE;
}

void
price_figures_clear (PriceFigures *figures)
{
  buildup_free (figures->up);
  job_totals_clear (&figures->totals);
}

char *
price_percent (gint64 ppm)
{
  g_autofree char *number = decimal_print (num_div (ppm, 100), 2, 0, FALSE);

  return g_strdup_printf (_ ("%s %%"), number);
}

char *
price_difference (TallySession *session, gint64 minor)
{
  g_autofree char *money = session_money (session, minor);

  return g_strconcat (minor > 0 ? "+" : "", money, NULL);
}

char *
price_whole (gint64 minor, int decimals)
{
  gint64 unit = 1;

  for (int i = 0; i < decimals; i++)
    unit *= 10;
  return money_print (num_div (minor, unit), 0, TRUE);
}

char *
price_number (double value, int decimals, gboolean sign)
{
  g_autofree char *text = NULL;
  gint64 whole = 0;

  num_from_double (value * pow (10, decimals), &whole);
  text = money_print (whole, decimals, TRUE);
  return g_strconcat (sign && whole > 0 ? "+" : "", text, NULL);
}

GtkWidget *
price_label (const char *text, const char *css_class, float xalign)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), xalign);
  if (css_class)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

/* ---- the conclusion ---- */

static void
conclude (TallyPriceView *self, const PriceFigures *figures, guint must)
{
  g_autofree char *price = session_money (self->session, figures->up->value[figures->price]);
  g_autofree char *cost = figures->cost >= 0 ? session_money (self->session, figures->up->value[figures->cost]) : NULL;
  g_autofree char *profit = session_money (self->session, figures->profit.profit), *margin = price_percent (figures->profit.margin_ppm);
  g_autofree char *loss = session_money (self->session, ABS (figures->profit.profit)), *lost = price_percent (ABS (figures->profit.margin_ppm));
  g_autofree char *words = NULL, *open = NULL;
  int n = (int) figures->totals.not_priced;

  if (figures->totals.runs == 0 && n == 0)
    words = g_strdup (_ ("There is no price yet: the job has no run."));
  else if (figures->profit.profit >= 0)
    words = cost ? g_strdup_printf (_ ("The price is %s %s on a cost of %s; %s of it is profit, %s of the price."), figures->currency,
                                    price, cost, profit, margin)
                 : g_strdup_printf (_ ("The price is %s %s; %s of it is profit, %s of the price."), figures->currency, price, profit, margin);
  else
    words = g_strdup_printf (_ ("The price is %s %s and leaves a loss of %s, %s of the price."), figures->currency, price, loss, lost);
  if (figures->totals.runs == 0 && n == 0)
    open = g_strdup (_ ("The figures below are those it will be made with."));
  else if (n > 0)
    open = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "It is not complete: %d run is not priced.",
                                         "It is not complete: %d runs are not priced.", (gulong) n), n);
  else if (must > 0)
    open = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "Every run is priced; %u point is to be settled before it goes out.",
                                         "Every run is priced; %u points are to be settled before it goes out.", must), must);
  else
    open = g_strdup (_ ("Every run is priced and nothing is open: it can go out."));
  gtk_label_set_label (GTK_LABEL (self->conclusion), words);
  gtk_label_set_label (GTK_LABEL (self->open), open);
  if (n > 0 || (must > 0 && figures->totals.runs > 0))
    gtk_widget_add_css_class (self->open, "attention");
  else
    gtk_widget_remove_css_class (self->open, "attention");
}

static void
refresh (TallyPriceView *self)
{
  PriceFigures figures;

  self->stale = FALSE;
  gtk_widget_set_visible (self->scroll, session_job (self->session) != NULL);
  if (!price_figures_read (self->session, &figures))
    return;
  price_buildup_update (self->buildup, &figures);
  price_stack_update (self->stack, &figures);
  price_solve_update (self->solve, &figures);
  price_marks_update (self->marks, &figures);
  conclude (self, &figures, price_points_update (self->points, &figures));
  price_figures_clear (&figures);
}

/* ---- following the job ---- */

static gboolean
idle_cb (gpointer data)
{
  TallyPriceView *self = data;

  self->idle = 0;
  if (self->stale && gtk_widget_get_mapped (GTK_WIDGET (self)))
    refresh (self);
  return G_SOURCE_REMOVE;
}

/* Once for many changes, and only while somebody looks. */
static void
invalidate (TallyPriceView *self)
{
  self->stale = TRUE;
  if (self->idle == 0)
    self->idle = g_idle_add_full (G_PRIORITY_HIGH_IDLE, idle_cb, self, NULL);
}

static void
job_cb (TallySession *session, TallyPriceView *self)
{
  (void) session;
  invalidate (self);
}

static void
changed_cb (TallySession *session, JobEdit *edit, TallyPriceView *self)
{
  (void) session;
  (void) edit;
  invalidate (self);
}

static void
tally_price_view_map (GtkWidget *widget)
{
  TallyPriceView *self = TALLY_PRICE_VIEW (widget);

  if (self->stale)
    refresh (self);
  GTK_WIDGET_CLASS (tally_price_view_parent_class)->map (widget);
}

/* ---- buttons ---- */

static void
read_out_cb (GtkButton *button, TallyPriceView *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));

  (void) button;
  if (session_job (self->session))
    price_read_out_present (self->session, GTK_IS_WINDOW (root) ? GTK_WINDOW (root) : NULL);
}

void
tally_price_write_workbook (GtkWidget *price_view)
{
  TallyPriceView *self = TALLY_PRICE_VIEW (price_view);
  GtkWidget *parent = gtk_widget_get_parent (price_view);
  GtkWidget *above = parent ? gtk_widget_get_ancestor (parent, ADW_TYPE_TOAST_OVERLAY) : NULL;

  price_workbook_write (self->session, price_view, above ? ADW_TOAST_OVERLAY (above) : self->toasts);
}

/* ---- life ---- */

static void
tally_price_view_dispose (GObject *object)
{
  TallyPriceView *self = TALLY_PRICE_VIEW (object);

  g_clear_handle_id (&self->idle, g_source_remove);
  if (self->session)
    g_signal_handlers_disconnect_by_data (self->session, self);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_price_view_parent_class)->dispose (object);
}

static void
tally_price_view_class_init (TallyPriceViewClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tally_price_view_dispose;
  GTK_WIDGET_CLASS (klass)->map = tally_price_view_map;
}

static void
tally_price_view_init (TallyPriceView *self)
{
  self->stale = TRUE;
}

static GtkWidget *
button_new (const char *text, const char *tip, GCallback callback, TallyPriceView *self)
{
  GtkWidget *button = gtk_button_new_with_label (text);

  gtk_widget_set_tooltip_text (button, tip);
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  g_signal_connect (button, "clicked", callback, self);
  return button;
}

static GtkWidget *
head_new (TallyPriceView *self)
{
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12), *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);

  self->conclusion = price_label (NULL, "conclusion", 0);
  gtk_widget_add_css_class (self->conclusion, "figure");
  gtk_label_set_wrap (GTK_LABEL (self->conclusion), TRUE);
  self->open = price_label (NULL, "price-open", 0);
  gtk_label_set_wrap (GTK_LABEL (self->open), TRUE);
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (words), self->conclusion);
  gtk_box_append (GTK_BOX (words), self->open);
  gtk_box_append (GTK_BOX (head), words);
  gtk_box_append (GTK_BOX (head), button_new (_ ("Read-out"), _ ("One page in large type, for reading out by phone"),
                                              G_CALLBACK (read_out_cb), self));
  return head;
}

static void
build (TallyPriceView *self)
{
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 16), *pair = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *aside = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *parts[3];

  self->buildup = price_buildup_new (self->session);
  self->stack = price_stack_new (self->session);
  parts[0] = self->solve = price_solve_new (self->session);
  parts[1] = self->points = price_points_new (self->session);
  parts[2] = self->marks = price_marks_new (self->session);
  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      gtk_widget_add_css_class (parts[i], "price-part");
      gtk_box_append (GTK_BOX (aside), parts[i]);
    }
  gtk_box_append (GTK_BOX (pair), self->buildup);
  gtk_box_append (GTK_BOX (pair), aside);
  gtk_widget_set_layout_manager (pair, g_object_new (TALLY_TYPE_PAIR_LAYOUT, NULL));
  gtk_widget_add_css_class (page, "price-view");
  gtk_box_append (GTK_BOX (page), head_new (self));
  gtk_box_append (GTK_BOX (page), pair);
  gtk_box_append (GTK_BOX (page), self->stack);
  self->scroll = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroll), page);
  self->toasts = ADW_TOAST_OVERLAY (adw_toast_overlay_new ());
  adw_toast_overlay_set_child (self->toasts, self->scroll);
  adw_bin_set_child (ADW_BIN (self), GTK_WIDGET (self->toasts));
}

GtkWidget *
tally_price_view_new (TallySession *session)
{
  TallyPriceView *self = g_object_new (TALLY_TYPE_PRICE_VIEW, NULL);

  self->session = g_object_ref (session);
  build (self);
  g_signal_connect (session, "job", G_CALLBACK (job_cb), self);
  g_signal_connect (session, "changed", G_CALLBACK (changed_cb), self);
  return GTK_WIDGET (self);
}
