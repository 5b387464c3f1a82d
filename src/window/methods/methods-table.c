/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/methods/methods-table.h"

#include "base/measure.h"
#include "window/methods/pass-scroll.h"

#include "window/list-tab.h"
#include "window/walk.h"

#include <glib/gi18n.h>
#include <math.h>

#define NAME_CHARS 19
#define BETWEEN 9 /* columns */

typedef enum
{
  COST,
  TOOLING,
  PRICE,
  SHOP,
  FIELD,
  MINUTES,
  HARDWARE,
  PIECES,
  JOINTS,
  NET,
  SHIPPED,
  N_FIGURES,
} Figure;

static const struct
{
  const char *title, *unit; /* unit NULL: the currency; of weights in a job in inches and pounds */
  int decimals;
} figures[N_FIGURES] = {
  [COST] = { N_ ("Cost"), NULL, 0 },
  [TOOLING] = { N_ ("Tooling"), N_ ("%s once"), 0 },
  [PRICE] = { N_ ("Price"), NULL, 0 },
  [SHOP] = { N_ ("Shop"), N_ ("worker-h"), 1 },
  [FIELD] = { N_ ("Field"), N_ ("worker-h"), 1 },
  [MINUTES] = { N_ ("Joint"), N_ ("worker-min"), 1 },
  [HARDWARE] = { N_ ("Hardware"), N_ ("%s a joint"), 2 },
  [PIECES] = { N_ ("Pieces"), "", 0 },
  [JOINTS] = { N_ ("Joints"), "", 0 },
  [NET] = { N_ ("Net"), N_ ("lb"), 0 },
  [SHIPPED] = { N_ ("Shipped"), N_ ("lb"), 0 },
};

typedef struct
{
  int method;
  GtkWidget *row, *name, *sub, *warning; /* name: an inscription, as wide in every row whatever it says */
  GtkWidget *value[N_FIGURES], *difference[N_FIGURES];
} Line;

struct _TallyMethodsTable
{
  GtkWidget parent_instance;

  GtkWidget *scroll, *head, *list, *unit[N_FIGURES]; /* borrowed, but for scroll */
  GtkSizeGroup *name_group, *group[N_FIGURES];
  GArray *lines;     /* Line */
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (TallyMethodsTable, tally_methods_table, GTK_TYPE_WIDGET)

static guint chosen_signal;

static double
figure_of (const CostOption *o, Figure figure, int decimals, gboolean metric)
{
  double minor = pow (10, decimals);

  switch (figure)
    {
    case COST:
      return (double) o->cost / minor;
    case TOOLING:
      return (double) o->once / minor;
    case PRICE:
      return (double) o->price / minor;
    case SHOP:
      return o->shop_hours;
    case FIELD:
      return o->field_hours;
    case MINUTES:
      return o->minutes_a_joint;
    case HARDWARE:
      return o->hardware_a_joint;
    case PIECES:
      return (double) o->pieces / 1e3;
    case JOINTS:
      return (double) o->joints / 1e3;
    case NET:
      return metric ? (double) o->net_mg / 1e6 : measure_lb (o->net_mg);
    case SHIPPED:
    case N_FIGURES:
    default:
      return metric ? (double) o->shipped_mg / 1e6 : measure_lb (o->shipped_mg);
    }
}

static GtkWidget *
small_label (const char *class, float xalign)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), xalign);
  gtk_widget_add_css_class (label, class);
  return label;
}

static GtkWidget *
column_box (TallyMethodsTable *self, int figure)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  gtk_size_group_add_widget (figure < 0 ? self->name_group : self->group[figure], box);
  gtk_widget_set_hexpand (box, figure >= 0);
  return box;
}

static void
build_head (TallyMethodsTable *self)
{
  GtkWidget *box = column_box (self, -1), *label = small_label ("column", 0);

  gtk_label_set_label (GTK_LABEL (label), _ ("Method"));
  gtk_box_append (GTK_BOX (box), label);
  gtk_box_append (GTK_BOX (self->head), box);
  for (int f = 0; f < N_FIGURES; f++)
    {
      box = column_box (self, f);
      label = small_label ("column", 1);
      gtk_label_set_label (GTK_LABEL (label), _ (figures[f].title));
      gtk_box_append (GTK_BOX (box), label);
      self->unit[f] = small_label ("unit", 1);
      gtk_box_append (GTK_BOX (box), self->unit[f]);
      gtk_box_append (GTK_BOX (self->head), box);
    }
}

static void
row_selected_cb (GtkListBox *list, GtkListBoxRow *row, TallyMethodsTable *self)
{
  (void) list;
  if (!row || self->filling)
    return;
  g_signal_emit (self, chosen_signal, 0, g_array_index (self->lines, Line, gtk_list_box_row_get_index (row)).method);
}

static void
tally_methods_table_dispose (GObject *object)
{
  TallyMethodsTable *self = TALLY_METHODS_TABLE (object);

  g_clear_pointer (&self->scroll, gtk_widget_unparent);
  g_clear_object (&self->name_group);
  for (int f = 0; f < N_FIGURES; f++)
    g_clear_object (&self->group[f]);
  g_clear_pointer (&self->lines, g_array_unref);
  G_OBJECT_CLASS (tally_methods_table_parent_class)->dispose (object);
}

static void
tally_methods_table_class_init (TallyMethodsTableClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tally_methods_table_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  chosen_signal = g_signal_new ("chosen", TALLY_TYPE_METHODS_TABLE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1,
                                G_TYPE_INT);
}

static void
tally_methods_table_init (TallyMethodsTable *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  self->lines = g_array_new (FALSE, TRUE, sizeof (Line));
  self->name_group = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  for (int f = 0; f < N_FIGURES; f++)
    self->group[f] = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  self->head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, BETWEEN);
  gtk_widget_add_css_class (self->head, "methods-head");
  build_head (self);
  self->list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->list), GTK_SELECTION_SINGLE);
  gtk_widget_add_css_class (self->list, "methods-list");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Methods"), -1);
  tally_list_leave_by_tab (self->list);
  g_signal_connect (self->list, "row-selected", G_CALLBACK (row_selected_cb), self);
  gtk_box_append (GTK_BOX (box), self->head);
  gtk_box_append (GTK_BOX (box), self->list);
  self->scroll = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroll), GTK_POLICY_AUTOMATIC, GTK_POLICY_NEVER);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroll), box);
  tally_pass_scroll (self->scroll);
  gtk_widget_set_parent (self->scroll, GTK_WIDGET (self));
}

GtkWidget *
tally_methods_table_new (void)
{
  return g_object_new (TALLY_TYPE_METHODS_TABLE, NULL);
}

static void
add_line (TallyMethodsTable *self, int method)
{
  Line line = { .method = method };
  GtkWidget *content = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, BETWEEN), *box = column_box (self, -1);

  line.name = gtk_inscription_new (NULL);
  gtk_inscription_set_min_chars (GTK_INSCRIPTION (line.name), NAME_CHARS);
  gtk_inscription_set_nat_chars (GTK_INSCRIPTION (line.name), NAME_CHARS);
  gtk_inscription_set_text_overflow (GTK_INSCRIPTION (line.name), GTK_INSCRIPTION_OVERFLOW_ELLIPSIZE_END);
  gtk_inscription_set_yalign (GTK_INSCRIPTION (line.name), 0);
  gtk_widget_add_css_class (line.name, "name");
  line.sub = small_label ("unit", 0);
  line.warning = small_label ("attention", 0);
  gtk_box_append (GTK_BOX (box), line.name);
  gtk_box_append (GTK_BOX (box), line.sub);
  gtk_box_append (GTK_BOX (box), line.warning);
  gtk_box_append (GTK_BOX (content), box);
  for (int f = 0; f < N_FIGURES; f++)
    {
      box = column_box (self, f);
      line.value[f] = small_label ("figure", 1);
      line.difference[f] = small_label ("difference", 1);
      gtk_box_append (GTK_BOX (box), line.value[f]);
      gtk_box_append (GTK_BOX (box), line.difference[f]);
      gtk_box_append (GTK_BOX (content), box);
    }
  line.row = gtk_list_box_row_new ();
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (line.row), content);
  gtk_list_box_append (GTK_LIST_BOX (self->list), line.row);
  g_array_append_val (self->lines, line);
}

/* Rows are kept as long as the methods are the same, so that the focus stays where it is. */
static void
fit_lines (TallyMethodsTable *self, const MethodsData *data, const gboolean *shown, int baseline)
{
  g_autoptr (GArray) wanted = g_array_new (FALSE, FALSE, sizeof (int));
  gboolean same;

  if (data && baseline >= 0)
    g_array_append_val (wanted, baseline);
  for (int m = 0; data && m < data->n; m++)
    if (shown[m] && data->listed[m] && m != baseline)
      g_array_append_val (wanted, m);
  same = wanted->len == self->lines->len;
  for (guint i = 0; same && i < wanted->len; i++)
    same = g_array_index (wanted, int, i) == g_array_index (self->lines, Line, i).method;
  if (same)
    return;
  for (guint i = 0; i < self->lines->len; i++)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), g_array_index (self->lines, Line, i).row);
  g_array_set_size (self->lines, 0);
  for (guint i = 0; i < wanted->len; i++)
    add_line (self, g_array_index (wanted, int, i));
}

static void
fill_figure (Line *line, const MethodsData *data, int baseline, Figure f, GString *spoken)
{
  gboolean metric = job_names (data->job)->metric;
  double value = figure_of (&data->option[line->method], f, data->decimals, metric);
  double base = figure_of (&data->option[baseline], f, data->decimals, metric);
  double unit = pow (10, figures[f].decimals), difference = round ((value - base) * unit) / unit;
  /* Of nothing that is priced there is no figure; a zero would be one. */
  gboolean none = data->totals[line->method].runs == 0;
  g_autofree char *text = none ? g_strdup ("–") : methods_number (value, figures[f].decimals);
  g_autofree char *amount = methods_number (fabs (difference), figures[f].decimals);
  g_autofree char *words = methods_difference (difference, amount);
  /* What tooling costs more than none is the tooling. */
  gboolean say = !none && data->totals[baseline].runs > 0 && line->method != baseline && difference != 0 && (f != TOOLING || base != 0);

  gtk_label_set_label (GTK_LABEL (line->value[f]), text);
  gtk_label_set_label (GTK_LABEL (line->difference[f]), say ? words : "");
  if (say && difference < 0)
    gtk_widget_add_css_class (line->difference[f], "less");
  else
    gtk_widget_remove_css_class (line->difference[f], "less");
  g_string_append_printf (spoken, "; %s %s", _ (figures[f].title), text);
  if (say)
    g_string_append_printf (spoken, " (%s)", words);
}

static void
fill_line (Line *line, const MethodsData *data, int baseline)
{
  const JobTotals *totals = &data->totals[line->method];
  const char *name = methods_name (data, line->method);
  g_autoptr (GString) spoken = g_string_new (methods_name (data, line->method));
  g_autofree char *other
    = totals->by_fallback > 0
        ? g_strdup_printf (_ ("%" G_GINT64_FORMAT " of %" G_GINT64_FORMAT " runs by its fallback"), totals->by_fallback, totals->runs)
        : NULL;
  g_autofree char *sub = line->method == baseline ? (other ? g_strdup_printf (_ ("baseline · %s"), other) : g_strdup (_ ("baseline")))
                                                  : g_strdup (other ? other : "");
  g_autofree char *warning
    = totals->not_priced > 0
        ? g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%" G_GINT64_FORMAT " run not priced", "%" G_GINT64_FORMAT " runs not priced",
                                        (gulong) totals->not_priced),
                           totals->not_priced)
        : g_strdup ("");

  static const char *const part[METHODS_N_OF] = { "job", "part", "runs" };
  const Catalogue *catalogue = data->basis->catalogue;

  tally_walk_mark (line->row, "cost", catalogue_method (catalogue, line->method)->key,
                    baseline >= 0 ? catalogue_method (catalogue, baseline)->key : NULL, NULL, part[data->of]);
  gtk_inscription_set_text (GTK_INSCRIPTION (line->name), name);
  gtk_inscription_set_min_lines (GTK_INSCRIPTION (line->name), g_utf8_strlen (name, -1) > NAME_CHARS ? 2 : 1);
  gtk_widget_set_tooltip_text (line->name, name);
  gtk_label_set_label (GTK_LABEL (line->sub), sub);
  gtk_widget_set_visible (line->sub, *sub != '\0');
  gtk_label_set_label (GTK_LABEL (line->warning), warning);
  gtk_widget_set_visible (line->warning, *warning != '\0');
  if (line->method == baseline)
    gtk_widget_add_css_class (line->row, "baseline");
  if (*sub)
    g_string_append_printf (spoken, ", %s", sub);
  if (*warning)
    g_string_append_printf (spoken, ", %s", warning);
  for (int f = 0; f < N_FIGURES; f++)
    fill_figure (line, data, baseline, (Figure) f, spoken);
  gtk_accessible_update_property (GTK_ACCESSIBLE (line->row), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken->str, -1);
}

void
tally_methods_table_set (TallyMethodsTable *self, const MethodsData *data, const gboolean *shown, int baseline, int chosen)
{
  self->filling = TRUE;
  fit_lines (self, data, shown, baseline);
  for (int f = 0; data && f < N_FIGURES; f++)
    {
      const char *unit = figures[f].unit;
      g_autofree char *with = g_strdup (data->currency);
      if (f == TOOLING)
        with = (g_free (with), g_strdup_printf (_ ("%s once"), data->currency));
      if (f == HARDWARE)
        with = (g_free (with), g_strdup_printf (_ ("%s a joint"), data->currency));
      gtk_label_set_label (GTK_LABEL (self->unit[f]), !unit || f == TOOLING || f == HARDWARE                            ? with
                                                           : (f == NET || f == SHIPPED) && job_names (data->job)->metric ? _ ("kg")
                                                           : *unit                                                        ? _ (unit)
                                                                                                                          : "");
    }
  for (guint i = 0; i < self->lines->len; i++)
    {
      Line *line = &g_array_index (self->lines, Line, i);
      fill_line (line, data, baseline);
      if (line->method == chosen)
        gtk_list_box_select_row (GTK_LIST_BOX (self->list), GTK_LIST_BOX_ROW (line->row));
    }
  self->filling = FALSE;
}
