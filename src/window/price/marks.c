/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/price/price-private.h"

#include "base/measure.h"

#include <glib/gi18n.h>

#define TALLY_TYPE_PRICE_MARKS (tally_price_marks_get_type ())
G_DECLARE_FINAL_TYPE (TallyPriceMarks, tally_price_marks, TALLY, PRICE_MARKS, GtkBox)

struct _TallyPriceMarks
{
  GtkBox parent_instance;

  TallySession *session;     /* owned */
  GPtrArray *marks;          /* (nullable) StoreMark *, of the job they were read for */
  gconstpointer job;
  GtkWidget *which, *choice, *table, *words, *set, *ask, *name, *fault;
  gboolean updating;
};

G_DEFINE_FINAL_TYPE (TallyPriceMarks, tally_price_marks, GTK_TYPE_BOX)

static const StoreMark *
chosen (TallyPriceMarks *self)
{
  guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->choice));

  return self->marks && at < self->marks->len ? g_ptr_array_index (self->marks, at) : NULL;
}

static char *
mark_words (const StoreMark *mark)
{
  g_autoptr (GDateTime) at = mark->mark ? g_date_time_new_from_unix_local (mark->mark->at) : NULL;
  g_autofree char *when = at ? g_date_time_format (at, "%Y-%m-%d %H:%M") : NULL;

  if (!mark->mark)
    return g_strdup (_ ("a mark that cannot be read"));
  return g_strdup_printf ("%s · %s", mark->mark->name, when ? when : "?");
}

/* ---- the difference ---- */

static void
add_cell (TallyPriceMarks *self, int column, int row, const char *text, const char *css, gboolean sum)
{
  GtkWidget *label = price_label (text, css, column == 0 ? 0 : 1);

  gtk_widget_add_css_class (label, "mark-cell");
  if (sum)
    gtk_widget_add_css_class (label, "sum");
  gtk_label_set_justify (GTK_LABEL (label), GTK_JUSTIFY_RIGHT);
  gtk_label_set_yalign (GTK_LABEL (label), 1);
  if (column == 0)
    {
      gtk_widget_add_css_class (label, "first");
      gtk_widget_set_hexpand (label, TRUE);
      gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
    }
  gtk_grid_attach (GTK_GRID (self->table), label, column, row, 1, 1);
}

static void
add_part (TallyPriceMarks *self, int row, const char *name, const MarkPart *part, gboolean metric, gboolean sum)
{
  g_autofree char *price = price_difference (self->session, part->price);
  g_autofree char *field = price_number ((double) part->field_ms / 3.6e6, 1, TRUE), *shop = price_number ((double) part->shop_ms / 3.6e6, 1, TRUE);
  g_autofree char *net = price_number (metric ? (double) part->net_mg / 1e6 : measure_lb (part->net_mg), 0, TRUE);
  const char *cells[] = { name, price, field, shop, net };

  for (int i = 0; i < (int) G_N_ELEMENTS (cells); i++)
    add_cell (self, i, row, cells[i], i == 0 ? NULL : "figure", sum);
}

static void
clear_table (TallyPriceMarks *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->table)) != NULL)
    gtk_grid_remove (GTK_GRID (self->table), child);
}

static void
say_difference (TallyPriceMarks *self, const JobMark *since)
{
  g_autofree char *money = price_difference (self->session, since->all.price), *words = NULL;

  if (since->parts->len == 0 && since->all.price == 0 && since->all.cost == 0)
    words = g_strdup (_ ("Nothing changed since this mark."));
  else if (since->all.not_priced != 0)
    words = g_strdup_printf (_ ("The price moved by %s; runs not priced: %+d."), money, (int) since->all.not_priced);
  else
    words = g_strdup_printf (_ ("The price moved by %s."), money);
  gtk_label_set_label (GTK_LABEL (self->words), words);
}

static void
show_difference (TallyPriceMarks *self, TallyJob *job, const JobMark *before)
{
  g_autoptr (JobMark) now = job_mark_take (job, "", 0);
  g_autoptr (JobMark) since = job_mark_compare (before, now);
  gboolean metric = job_head (job)->num[HEAD_UNITS] == 1;
  const char *heads[] = { _ ("since then"), _ ("price"), _ ("field\nworker-h"), _ ("shop\nworker-h"),
                          metric ? _ ("net kg") : _ ("net lb") };
  guint i;

  say_difference (self, since);
  if (since->parts->len == 0 && since->all.price == 0 && since->all.cost == 0)
    return;
  for (i = 0; i < G_N_ELEMENTS (heads); i++)
    add_cell (self, (int) i, 0, heads[i], "unit", FALSE);
  for (i = 0; i < since->parts->len; i++)
    {
      const MarkPart *part = &g_array_index (since->parts, MarkPart, i);
      add_part (self, (int) i + 1, part->system ? part->system : _ ("without a system"), part, metric, FALSE);
    }
  add_part (self, (int) i + 1, _ ("all"), &since->all, metric, TRUE);
}

static void
show (TallyPriceMarks *self)
{
  TallyJob *job = session_job (self->session);
  const StoreMark *mark = chosen (self);

  clear_table (self);
  gtk_widget_set_visible (self->which, self->marks && self->marks->len > 0);
  if (!job)
    return;
  if (!mark)
    gtk_label_set_label (GTK_LABEL (self->words),
                         _ ("A mark keeps what the job comes to now, so that you can tell later what an addendum or a second look moved."));
  else if (!mark->mark)
    gtk_label_set_label (GTK_LABEL (self->words), _ ("The office file holds a mark that cannot be read; remove it and set a new one."));
  else
    show_difference (self, job, mark->mark);
}

/* Reads the marks of the job that is open; the newest is chosen. */
static void
load (TallyPriceMarks *self)
{
  TallyJob *job = session_job (self->session);
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  g_autoptr (GError) error = NULL;

  self->job = job;
  g_clear_pointer (&self->marks, g_ptr_array_unref);
  if (job && session_store (self->session))
    self->marks = store_marks (session_store (self->session), session_job_id (self->session), &error);
  for (guint i = 0; self->marks && i < self->marks->len; i++)
    {
      g_autofree char *words = mark_words (g_ptr_array_index (self->marks, i));
      gtk_string_list_append (names, words);
    }
  self->updating = TRUE;
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->choice), G_LIST_MODEL (names));
  if (self->marks && self->marks->len > 0)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->choice), self->marks->len - 1);
  self->updating = FALSE;
  gtk_label_set_label (GTK_LABEL (self->fault), error ? error->message : "");
  gtk_widget_set_visible (self->fault, error != NULL);
}

void
price_marks_update (GtkWidget *widget, const PriceFigures *figures)
{
  TallyPriceMarks *self = TALLY_PRICE_MARKS (widget);

  if (self->job != figures->job)
    load (self);
  show (self);
}

/* ---- setting and removing ---- */

static void
ask (TallyPriceMarks *self, gboolean yes)
{
  gtk_widget_set_visible (self->ask, yes);
  gtk_widget_set_visible (self->set, !yes);
  gtk_widget_set_visible (self->fault, FALSE);
  if (yes)
    {
      gtk_editable_set_text (GTK_EDITABLE (self->name), "");
      gtk_widget_grab_focus (self->name);
    }
  else
    gtk_widget_grab_focus (self->set);
}

static void
keep (TallyPriceMarks *self)
{
  g_autofree char *name = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->name))));
  TallyJob *job = session_job (self->session);
  g_autoptr (JobMark) mark = NULL;
  g_autoptr (GError) error = NULL;

  if (!job || !session_store (self->session))
    return;
  mark = job_mark_take (job, *name ? name : _ ("mark"), g_get_real_time () / G_USEC_PER_SEC);
  if (store_add_mark (session_store (self->session), session_job_id (self->session), mark, &error) == 0)
    {
      gtk_label_set_label (GTK_LABEL (self->fault), error->message);
      gtk_widget_set_visible (self->fault, TRUE);
      return;
    }
  ask (self, FALSE);
  load (self);
  show (self);
}

static void
set_cb (GtkButton *button, TallyPriceMarks *self)
{
  (void) button;
  ask (self, TRUE);
}

static void
keep_cb (GtkWidget *widget, TallyPriceMarks *self)
{
  (void) widget;
  keep (self);
}

static void
cancel_cb (GtkButton *button, TallyPriceMarks *self)
{
  (void) button;
  ask (self, FALSE);
}

static gboolean
key_cb (GtkEventControllerKey *keys, guint value, guint code, GdkModifierType state, TallyPriceMarks *self)
{
  (void) keys;
  (void) code;
  (void) state;
  if (value != GDK_KEY_Escape)
    return FALSE;
  ask (self, FALSE);
  return TRUE;
}

static void
remove_cb (GtkButton *button, TallyPriceMarks *self)
{
  const StoreMark *mark = chosen (self);
  g_autoptr (GError) error = NULL;

  (void) button;
  if (!mark || store_remove_mark (session_store (self->session), mark->id, &error))
    {
      load (self);
      show (self);
      return;
    }
  gtk_label_set_label (GTK_LABEL (self->fault), error->message);
  gtk_widget_set_visible (self->fault, TRUE);
}

static void
chosen_cb (GtkDropDown *choice, GParamSpec *pspec, TallyPriceMarks *self)
{
  (void) choice;
  (void) pspec;
  if (!self->updating)
    show (self);
}

/* Long names give way. */
static void
setup_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  GtkWidget *label = price_label (NULL, NULL, 0);

  (void) factory;
  (void) data;
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_label_set_width_chars (GTK_LABEL (label), 10);
  gtk_list_item_set_child (item, label);
}

static void
bind_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  (void) factory;
  (void) data;
  gtk_label_set_label (GTK_LABEL (gtk_list_item_get_child (item)),
                       gtk_string_object_get_string (GTK_STRING_OBJECT (gtk_list_item_get_item (item))));
}

static GtkWidget *
choice_new (TallyPriceMarks *self)
{
  GtkWidget *choice = gtk_drop_down_new (NULL, NULL);
  g_autoptr (GtkListItemFactory) factory = gtk_signal_list_item_factory_new ();

  g_signal_connect (factory, "setup", G_CALLBACK (setup_cb), NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (bind_cb), NULL);
  gtk_drop_down_set_factory (GTK_DROP_DOWN (choice), factory);
  gtk_widget_set_hexpand (choice, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (choice), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Mark to compare with"), -1);
  g_signal_connect (choice, "notify::selected", G_CALLBACK (chosen_cb), self);
  return choice;
}

/* ---- life ---- */

static void
tally_price_marks_finalize (GObject *object)
{
  TallyPriceMarks *self = TALLY_PRICE_MARKS (object);

  g_clear_object (&self->session);
  g_clear_pointer (&self->marks, g_ptr_array_unref);
  G_OBJECT_CLASS (tally_price_marks_parent_class)->finalize (object);
}

static void
tally_price_marks_class_init (TallyPriceMarksClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tally_price_marks_finalize;
}

static GtkWidget *
button_new (const char *text, const char *name, GCallback callback, TallyPriceMarks *self)
{
  GtkWidget *button = gtk_button_new_with_label (text);

  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect (button, "clicked", callback, self);
  return button;
}

static void
add_asking (TallyPriceMarks *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->ask = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  self->name = gtk_entry_new ();
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->name), _ ("before addendum 2"));
  gtk_entry_set_max_length (GTK_ENTRY (self->name), 80);
  gtk_widget_set_hexpand (self->name, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->name), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Name of the mark"), -1);
  g_signal_connect (self->name, "activate", G_CALLBACK (keep_cb), self);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (self->name, keys);
  gtk_box_append (GTK_BOX (self->ask), self->name);
  gtk_box_append (GTK_BOX (self->ask), button_new (_ ("Keep"), _ ("Keep the mark"), G_CALLBACK (keep_cb), self));
  gtk_box_append (GTK_BOX (self->ask), button_new (_ ("Cancel"), _ ("Set no mark"), G_CALLBACK (cancel_cb), self));
  gtk_widget_set_visible (self->ask, FALSE);
}

static void
tally_price_marks_init (TallyPriceMarks *self)
{
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *title = price_label (_ ("Since a mark"), "heading", 0);
  GtkWidget *remove = button_new (_ ("Remove"), _ ("Remove this mark"), G_CALLBACK (remove_cb), self);

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 8);
  self->set = button_new (_ ("Set a mark"), _ ("Set a mark: keep what the job comes to now"), G_CALLBACK (set_cb), self);
  gtk_widget_set_hexpand (title, TRUE);
  gtk_box_append (GTK_BOX (head), title);
  gtk_box_append (GTK_BOX (head), self->set);
  add_asking (self);
  self->which = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  self->choice = choice_new (self);
  gtk_widget_add_css_class (remove, "flat");
  gtk_box_append (GTK_BOX (self->which), self->choice);
  gtk_box_append (GTK_BOX (self->which), remove);
  self->words = price_label (NULL, "figure", 0);
  gtk_label_set_wrap (GTK_LABEL (self->words), TRUE);
  self->table = gtk_grid_new ();
  self->fault = price_label (NULL, "fault-words", 0);
  gtk_label_set_wrap (GTK_LABEL (self->fault), TRUE);
  gtk_widget_set_visible (self->fault, FALSE);
  gtk_box_append (GTK_BOX (self), head);
  gtk_box_append (GTK_BOX (self), self->ask);
  gtk_box_append (GTK_BOX (self), self->which);
  gtk_box_append (GTK_BOX (self), self->words);
  gtk_box_append (GTK_BOX (self), self->table);
  gtk_box_append (GTK_BOX (self), self->fault);
}

GtkWidget *
price_marks_new (TallySession *session)
{
  TallyPriceMarks *self = g_object_new (TALLY_TYPE_PRICE_MARKS, NULL);

  self->session = g_object_ref (session);
  return GTK_WIDGET (self);
}
