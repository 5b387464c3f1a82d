/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/price/price-private.h"

#include "base/decimal.h"
#include "base/money.h"

#include <glib/gi18n.h>

#define TALLY_TYPE_PRICE_SOLVE (tally_price_solve_get_type ())
G_DECLARE_FINAL_TYPE (TallyPriceSolve, tally_price_solve, TALLY, PRICE_SOLVE, GtkBox)

#define TWO_LINES 42 /* px */

struct _TallyPriceSolve
{
  GtkBox parent_instance;

  TallySession *session; /* owned */
  GtkWidget *entry, *words, *hours, *button;
  CostSolution solution;
  gboolean solved;
};

G_DEFINE_FINAL_TYPE (TallyPriceSolve, tally_price_solve, GTK_TYPE_BOX)

static void
say (TallyPriceSolve *self, const char *words, const char *hours, gboolean faulty)
{
  gtk_label_set_label (GTK_LABEL (self->words), words);
  gtk_label_set_label (GTK_LABEL (self->hours), hours ? hours : "");
  if (faulty)
    {
      gtk_widget_add_css_class (self->words, "fault-words");
      gtk_widget_add_css_class (self->entry, "error");
    }
  else
    {
      gtk_widget_remove_css_class (self->words, "fault-words");
      gtk_widget_remove_css_class (self->entry, "error");
    }
  gtk_widget_set_sensitive (self->button, self->solved);
}

static void
say_solution (TallyPriceSolve *self, const PriceFigures *figures, gint64 wanted)
{
  const CostSolution *s = &self->solution;
  g_autofree char *profit = session_money (self->session, s->left.profit), *margin = price_percent (s->left.margin_ppm);
  g_autofree char *loss = session_money (self->session, ABS (s->left.profit)), *lost = price_percent (ABS (s->left.margin_ppm));
  g_autofree char *reached = session_money (self->session, s->price), *difference = NULL, *words = NULL, *hours = NULL;
  g_autofree char *hour = price_number (cost_field_hour (figures->basis, &figures->totals.sums), 2, FALSE);
  g_autofree char *overrun = price_number (s->overrun_hours, 1, FALSE);

  if (s->price == figures->up->value[figures->price])
    difference = g_strdup (_ ("as now"));
  else
    {
      g_autofree char *money = price_difference (self->session, s->price - figures->up->value[figures->price]);
      difference = g_strdup_printf (_ ("%s against now"), money);
    }
  if (s->price != wanted && s->left.profit < 0)
    words = g_strdup_printf (_ ("The nearest price that can be reached is %s: it leaves a loss of %s, %s of the price (%s)."), reached,
                             loss, lost, difference);
  else if (s->price != wanted)
    words = g_strdup_printf (_ ("The nearest price that can be reached is %s: it leaves a profit of %s, %s of the price (%s)."),
                             reached, profit, margin, difference);
  else if (s->left.profit >= 0)
    words = g_strdup_printf (_ ("This leaves a profit of %s, %s of the price (%s)."), profit, margin, difference);
  else
    words = g_strdup_printf (_ ("This leaves a loss of %s, %s of the price (%s)."), loss, lost, difference);
  if (s->overrun_hours >= 0.05)
    hours = g_strdup_printf (_ ("That profit pays an overrun of %s field worker-hours, at %s each with site general."), overrun, hour);
  else
    hours = g_strdup (_ ("Nothing is left to pay an overrun in the field."));
  say (self, words, hours, FALSE);
}

static void
solve (TallyPriceSolve *self, const PriceFigures *figures)
{
  g_autofree char *typed = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->entry))));
  g_autoptr (Fault) fault = NULL;
  gint64 wanted;

  self->solved = FALSE;
  if (!*typed)
    {
      say (self, _ ("Type the price you want and see what it leaves."), NULL, FALSE);
      return;
    }
  if (!decimal_parse (typed, figures->up->decimals, &wanted, &fault)
      || !cost_solve_price (figures->basis, &figures->totals.sums, figures->up->decimals, wanted, &self->solution, &fault))
    {
      g_autofree char *words = fault_words (fault, fault->at >= 0 ? typed : NULL);
      say (self, words, NULL, TRUE);
      return;
    }
  self->solved = self->solution.price != figures->up->value[figures->price];
  say_solution (self, figures, wanted);
}

static void
changed_cb (GtkEditable *entry, TallyPriceSolve *self)
{
  PriceFigures figures;

  (void) entry;
  if (!price_figures_read (self->session, &figures))
    return;
  solve (self, &figures);
  price_figures_clear (&figures);
}

static void
make_it_so (TallyPriceSolve *self)
{
  TallyJob *job = session_job (self->session);
  const CostBuildLine *line, *was;
  g_autofree char *value = NULL, *label = NULL, *price = NULL;

  if (!job || !self->solved)
    return;
  line = g_ptr_array_index (job_basis (job)->buildup, (guint) self->solution.line);
  was = g_ptr_array_index (job_basis (job)->catalogue->buildup, (guint) self->solution.line);
  value = decimal_print (self->solution.adjustment, 4, 0, FALSE);
  price = session_money (self->session, self->solution.price);
  label = g_strdup_printf (_ ("price set to %s"), price);
  if (session_set_figure (self->session, label, "buildup", line->key, "amount",
                          self->solution.adjustment == was->amount ? NULL : value))
    session_say (self->session, SESSION_SAID_UNDO, _ ("The price is %s; the final adjustment carries the difference"), price);
}

static void
activate_cb (GtkEntry *entry, TallyPriceSolve *self)
{
  (void) entry;
  /* The button is the deed; Enter leads to it. */
  if (self->solved)
    gtk_widget_grab_focus (self->button);
}

static void
clicked_cb (GtkButton *button, TallyPriceSolve *self)
{
  (void) button;
  make_it_so (self);
}

void
price_solve_update (GtkWidget *widget, const PriceFigures *figures)
{
  TallyPriceSolve *self = TALLY_PRICE_SOLVE (widget);
  g_autofree char *now = session_money (self->session, figures->up->value[figures->price]);

  gtk_entry_set_placeholder_text (GTK_ENTRY (self->entry), now);
  solve (self, figures);
}

static void
tally_price_solve_finalize (GObject *object)
{
  g_clear_object (&TALLY_PRICE_SOLVE (object)->session);
  G_OBJECT_CLASS (tally_price_solve_parent_class)->finalize (object);
}

static void
tally_price_solve_class_init (TallyPriceSolveClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tally_price_solve_finalize;
}

static void
tally_price_solve_init (TallyPriceSolve *self)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 14), *texts = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 8);
  gtk_box_append (GTK_BOX (self), price_label (_ ("If the price were"), "heading", 0));
  self->entry = gtk_entry_new ();
  gtk_editable_set_alignment (GTK_EDITABLE (self->entry), 1);
  gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), 12);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->entry), 12);
  gtk_widget_set_valign (self->entry, GTK_ALIGN_START);
  gtk_widget_add_css_class (self->entry, "figure");
  gtk_widget_add_css_class (self->entry, "wanted");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Price wanted"), -1);
  g_signal_connect (self->entry, "changed", G_CALLBACK (changed_cb), self);
  g_signal_connect (self->entry, "activate", G_CALLBACK (activate_cb), self);
  self->words = price_label (NULL, "figure", 0);
  gtk_label_set_wrap (GTK_LABEL (self->words), TRUE);
  self->hours = price_label (NULL, "figure", 0);
  gtk_label_set_wrap (GTK_LABEL (self->hours), TRUE);
  /* Room for two lines each, so that what stands below does not jump while a price is typed. */
  gtk_widget_set_size_request (self->words, -1, TWO_LINES);
  gtk_widget_set_size_request (self->hours, -1, TWO_LINES);
  gtk_label_set_yalign (GTK_LABEL (self->words), 0);
  gtk_label_set_yalign (GTK_LABEL (self->hours), 0);
  self->button = gtk_button_new_with_label (_ ("Set this price"));
  gtk_widget_set_tooltip_text (self->button, _ ("Set the final adjustment so that this is the price"));
  gtk_widget_set_halign (self->button, GTK_ALIGN_START);
  gtk_widget_set_margin_top (self->button, 4);
  g_signal_connect (self->button, "clicked", G_CALLBACK (clicked_cb), self);
  gtk_widget_set_hexpand (texts, TRUE);
  gtk_box_append (GTK_BOX (texts), self->words);
  gtk_box_append (GTK_BOX (texts), self->hours);
  gtk_box_append (GTK_BOX (texts), self->button);
  gtk_box_append (GTK_BOX (line), self->entry);
  gtk_box_append (GTK_BOX (line), texts);
  gtk_box_append (GTK_BOX (self), line);
}

GtkWidget *
price_solve_new (TallySession *session)
{
  TallyPriceSolve *self = g_object_new (TALLY_TYPE_PRICE_SOLVE, NULL);

  self->session = g_object_ref (session);
  return GTK_WIDGET (self);
}
