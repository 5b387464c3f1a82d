/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/price/price-private.h"

#include "base/decimal.h"
#include "job/figure.h"
#include "job/labour-model.h"

#include <glib/gi18n.h>
#include <string.h>

/* One line of the build-up on the screen. */
typedef struct
{
  GtkWidget *how;       /* label, or NULL */
  TallyFigure *figure;  /* or NULL */
  GtkWidget *amount;
  GtkWidget *markup, *margin; /* toggle buttons of a profit line, or NULL */
} Row;

#define TALLY_TYPE_PRICE_BUILDUP (tally_price_buildup_get_type ())
G_DECLARE_FINAL_TYPE (TallyPriceBuildup, tally_price_buildup, TALLY, PRICE_BUILDUP, GtkBox)

struct _TallyPriceBuildup
{
  GtkBox parent_instance;

  TallySession *session; /* owned */
  GArray *rows;          /* Row, by build-up line */
  char *signature;       /* what the rows were made for */
  GtkSizeGroup *labels, *amounts;
  gboolean updating;
};

G_DEFINE_FINAL_TYPE (TallyPriceBuildup, tally_price_buildup, GTK_TYPE_BOX)

static const CostBuildLine *
line_at (GPtrArray *lines, guint i)
{
  return g_ptr_array_index (lines, i);
}

static gboolean
rated (const CostBuildLine *line)
{
  return line->op == COST_OP_RATE || line->op == COST_OP_MARKUP || line->op == COST_OP_MARGIN;
}

static gboolean
two_ways (const CostBuildLine *line)
{
  return line->op == COST_OP_MARKUP || line->op == COST_OP_MARGIN;
}

/* The catalogue's own line of the same place; a job's changes never add or move lines. */
static const CostBuildLine *
original (const CostBasis *basis, guint i)
{
  return line_at (basis->catalogue->buildup, i);
}

/* ---- profit stated as a share of the cost or of the price ---- */

static void
stated_cb (GtkToggleButton *button, TallyPriceBuildup *self)
{
  TallyJob *job = session_job (self->session);
  guint i = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "line"));
  gboolean margin = g_object_get_data (G_OBJECT (button), "margin") != NULL;
  const CostBuildLine *line, *was;
  g_autofree char *rate = NULL;
  gint64 ppm;
  JobEdit *edit;

  if (self->updating || !job || !gtk_toggle_button_get_active (button))
    return;
  line = line_at (job_basis (job)->buildup, i);
  was = original (job_basis (job), i);
  if ((line->op == COST_OP_MARGIN) == margin)
    return;
  /* The same money, to the four decimals of the rate. */
  ppm = margin ? cost_margin_of_markup (line->rate_ppm) : cost_markup_of_margin (line->rate_ppm);
  rate = decimal_print (ppm, 4, 0, FALSE);
  edit = job_edit_new (margin ? _ ("profit as a margin") : _ ("profit as a markup"));
  job_edit_figure (job, edit, "buildup", line->key, "rate", (was->op == COST_OP_MARGIN) == margin && ppm == was->rate_ppm ? NULL : rate);
  job_edit_figure (job, edit, "buildup", line->key, "op",
                   (was->op == COST_OP_MARGIN) == margin ? NULL : margin ? "margin" : "markup");
  session_apply (self->session, edit);
}

static GtkWidget *
stated_button (TallyPriceBuildup *self, const char *text, const char *tip, guint line, gboolean margin, GtkWidget *group)
{
  GtkWidget *button = gtk_toggle_button_new_with_label (text);

  gtk_widget_set_tooltip_text (button, tip);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, tip, -1);
  g_object_set_data (G_OBJECT (button), "line", GUINT_TO_POINTER (line));
  if (margin)
    g_object_set_data (G_OBJECT (button), "margin", button);
  if (group)
    gtk_toggle_button_set_group (GTK_TOGGLE_BUTTON (button), GTK_TOGGLE_BUTTON (group));
  g_signal_connect (button, "toggled", G_CALLBACK (stated_cb), self);
  return button;
}

static void
add_ways (TallyPriceBuildup *self, Row *row, guint i)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  row->markup = stated_button (self, _ ("markup"), _ ("State profit as a share of the cost: markup"), i, FALSE, NULL);
  row->margin = stated_button (self, _ ("margin"), _ ("State profit as a share of the price: margin"), i, TRUE, row->markup);
  gtk_widget_add_css_class (box, "linked");
  gtk_widget_add_css_class (box, "ways");
  gtk_widget_set_valign (box, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (box), row->markup);
  gtk_box_append (GTK_BOX (box), row->margin);
  tally_figure_add (row->figure, box);
  tally_figure_set_companion (row->figure, "op");
}

/* ---- rows ---- */

static void
add_row (TallyPriceBuildup *self, const CostBuildLine *line, guint i, gboolean price, int chars)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12), *label = price_label (line->label, NULL, 0);
  Row row = { 0 };
  GtkWidget *how;

  gtk_widget_add_css_class (box, "build-line");
  if (line->op == COST_OP_SUM)
    gtk_widget_add_css_class (box, price ? "price" : "sum");
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_width_chars (GTK_LABEL (label), price ? 8 : chars);
  gtk_label_set_max_width_chars (GTK_LABEL (label), price ? 8 : chars);
  gtk_widget_set_valign (label, GTK_ALIGN_BASELINE);
  gtk_size_group_add_widget (self->labels, label);
  if (rated (line))
    row.figure = tally_figure_new (self->session, "buildup", line->key, "rate", TRUE, line->label);
  else if (line->op == COST_OP_AMOUNT)
    row.figure = tally_figure_new (self->session, "buildup", line->key, "amount", FALSE, line->label);
  else if (line->op == COST_OP_LABOUR)
    row.figure = tally_figure_new (self->session, "rate", "", line->which ? "shop" : "field", FALSE,
                                   line->which ? _ ("shop rate of a worker-hour") : _ ("field rate of a worker-hour"));
  else
    {
      row.how = price_label (NULL, "dim-label", 0);
      gtk_label_set_ellipsize (GTK_LABEL (row.how), PANGO_ELLIPSIZE_END);
    }
  how = row.figure ? GTK_WIDGET (row.figure) : row.how;
  gtk_widget_set_hexpand (how, TRUE);
  gtk_widget_set_valign (how, GTK_ALIGN_BASELINE);
  if (two_ways (line))
    add_ways (self, &row, i);
  row.amount = price_label (NULL, "figure", 1);
  gtk_widget_set_valign (row.amount, GTK_ALIGN_BASELINE);
  gtk_size_group_add_widget (self->amounts, row.amount);
  gtk_box_append (GTK_BOX (box), label);
  gtk_box_append (GTK_BOX (box), how);
  gtk_box_append (GTK_BOX (box), row.amount);
  gtk_box_append (GTK_BOX (self), box);
  g_array_append_val (self->rows, row);
}

static void
add_head (TallyPriceBuildup *self, const char *currency)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12), *label = price_label (_ ("From cost to price"), "heading", 0);
  GtkWidget *how = price_label (_ ("how it is made"), "unit", 0), *amount = price_label (currency, "unit", 1);

  gtk_widget_add_css_class (box, "build-head");
  gtk_size_group_add_widget (self->labels, label);
  gtk_size_group_add_widget (self->amounts, amount);
  gtk_widget_set_hexpand (how, TRUE);
  gtk_widget_set_valign (how, GTK_ALIGN_END);
  gtk_widget_set_valign (amount, GTK_ALIGN_END);
  gtk_box_append (GTK_BOX (box), label);
  gtk_box_append (GTK_BOX (box), how);
  gtk_box_append (GTK_BOX (box), amount);
  gtk_box_append (GTK_BOX (self), box);
}

/* Lines by key and by what can be typed in them: rows are made anew only when this changes, so that the focus stays. */
static char *
signature_of (const PriceFigures *figures)
{
  GString *out = g_string_new (figures->currency);

  g_string_append_printf (out, " %p", (gconstpointer) figures->job);
  for (guint i = 0; i < figures->basis->buildup->len; i++)
    {
      const CostBuildLine *line = line_at (figures->basis->buildup, i);
      g_string_append_printf (out, "\n%s\t%s\t%d", line->key, line->label, two_ways (line) ? -1 : (int) line->op);
    }
  return g_string_free (out, FALSE);
}

static void
clear_rows (TallyPriceBuildup *self)
{
  GtkWidget *child;

  g_array_set_size (self->rows, 0);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_box_remove (GTK_BOX (self), child);
}

static void
make_rows (TallyPriceBuildup *self, const PriceFigures *figures)
{
  g_autofree char *signature = signature_of (figures);
  glong chars = 12;

  if (g_strcmp0 (signature, self->signature) == 0)
    return;
  clear_rows (self);
  g_free (self->signature);
  self->signature = g_steal_pointer (&signature);
  add_head (self, figures->currency);
  /* One width for all, so that the figures stand below each other. */
  for (guint i = 0; i < figures->basis->buildup->len; i++)
    chars = CLAMP (g_utf8_strlen (line_at (figures->basis->buildup, i)->label, -1), chars, 20);
  for (guint i = 0; i < figures->basis->buildup->len; i++)
    add_row (self, line_at (figures->basis->buildup, i), i, (int) i == figures->price, (int) chars);
}

/* "Material + Sales tax" */
static char *
ref_labels (const CostBasis *basis, const CostBuildLine *line)
{
  GString *words = g_string_new (NULL);

  for (guint i = 0; i < line->refs->len; i++)
    g_string_append_printf (words, "%s%s", i > 0 ? " + " : "",
                            line_at (basis->buildup, (guint) g_array_index (line->refs, int, i))->label);
  return g_string_free (words, FALSE);
}

static void
update_rated (const PriceFigures *figures, const CostBuildLine *line, const CostBuildLine *was, Row *row)
{
  g_autofree char *of = ref_labels (figures->basis, line), *after = NULL, *note = NULL, *other = NULL;
  gint64 was_ppm = was->rate_ppm;

  if (line->op != COST_OP_RATE && line->op != was->op) /* the catalogue's figure, stated the way that is shown */
    was_ppm = line->op == COST_OP_MARGIN ? cost_margin_of_markup (was_ppm) : cost_markup_of_margin (was_ppm);
  after = two_ways (line) ? g_strdup ("%") : g_strdup_printf (_ ("%% of %s"), of);
  tally_figure_set (row->figure, line->rate_ppm, was_ppm, NULL, after);
  if (!two_ways (line))
    return;
  other = price_percent (line->op == COST_OP_MARGIN ? cost_markup_of_margin (line->rate_ppm) : cost_margin_of_markup (line->rate_ppm));
  note = line->op == COST_OP_MARGIN ? g_strdup_printf (_ ("= markup %s on cost"), other) : g_strdup_printf (_ ("= margin %s of price"), other);
  tally_figure_set_note (row->figure, note);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (line->op == COST_OP_MARGIN ? row->margin : row->markup), TRUE);
}

static void
update_labour (const PriceFigures *figures, const CostBuildLine *line, Row *row)
{
  const GPtrArray *crews = figures->basis->catalogue->labour->crews;
  const JobLabour *labour = job_labour (figures->job);
  gboolean mixed, overtime = labour->paid != LABOUR_PAID_ONE && (line->which == 0 || labour->shop_too);
  gint64 rate = cost_crew_rate (figures->basis, &figures->totals.sums, line->which != 0, &mixed), was = -1;
  g_autofree char *number = price_number (num_wide_to_double (figures->totals.sums.time[line->which]) / COST_TIME_DEN, 1, FALSE);
  g_autofree char *hours = g_strdup_printf (_ ("%s worker-h ×"), number);

  /* The catalogue's rate is one figure only where its crews have one; an average has nothing to go back to. */
  for (guint i = 0; i < crews->len; i++)
    {
      const LabourCrew *crew = g_ptr_array_index (crews, i);
      if (crew->shop == (line->which != 0) && was != -2)
        was = was >= 0 && was != job_crew_rate (figures->job, (int) i) ? -2 : job_crew_rate (figures->job, (int) i);
    }
  if (was < 0 && !job_find_change (figures->job, "rate", "", line->which ? "shop" : "field"))
    was = rate;
  tally_figure_set (row->figure, rate, MAX (was, 0), hours, mixed ? _ ("average of crews; typing sets them all") : NULL);
  tally_figure_set_note (row->figure, overtime && rate == was ? _ ("with the overtime of this job") : NULL);
}

static void
update_items (const PriceFigures *figures, const CostBuildLine *line, Row *row)
{
  int n = cost_count_items (figures->basis, figures->totals.vector, (CostGroup) line->which);
  g_autofree char *words = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d item, quantity × price", "%d items, quantity × price",
                                                         (gulong) n), n);

  gtk_label_set_label (GTK_LABEL (row->how), n > 0 ? words : _ ("none"));
}

void
price_buildup_update (GtkWidget *widget, const PriceFigures *figures)
{
  TallyPriceBuildup *self = TALLY_PRICE_BUILDUP (widget);

  self->updating = TRUE;
  make_rows (self, figures);
  for (guint i = 0; i < self->rows->len; i++)
    {
      const CostBuildLine *line = line_at (figures->basis->buildup, i), *was = original (figures->basis, i);
      Row *row = &g_array_index (self->rows, Row, i);
      g_autofree char *amount = session_money (self->session, figures->up->value[i]);
      gtk_label_set_label (GTK_LABEL (row->amount), amount);
      if (rated (line))
        update_rated (figures, line, was, row);
      else if (line->op == COST_OP_AMOUNT)
        tally_figure_set (row->figure, line->amount, was->amount, NULL, figures->currency);
      else if (line->op == COST_OP_LABOUR)
        update_labour (figures, line, row);
      else if (line->op == COST_OP_ITEMS)
        update_items (figures, line, row);
    }
  self->updating = FALSE;
}

/* ---- life ---- */

static void
tally_price_buildup_finalize (GObject *object)
{
  TallyPriceBuildup *self = TALLY_PRICE_BUILDUP (object);

  g_clear_object (&self->session);
  g_clear_object (&self->labels);
  g_clear_object (&self->amounts);
  g_array_unref (self->rows);
  g_free (self->signature);
  G_OBJECT_CLASS (tally_price_buildup_parent_class)->finalize (object);
}

static void
tally_price_buildup_class_init (TallyPriceBuildupClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tally_price_buildup_finalize;
}

static void
tally_price_buildup_init (TallyPriceBuildup *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  self->rows = g_array_new (FALSE, TRUE, sizeof (Row));
  self->labels = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  self->amounts = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
}

GtkWidget *
price_buildup_new (TallySession *session)
{
  TallyPriceBuildup *self = g_object_new (TALLY_TYPE_PRICE_BUILDUP, NULL);

  self->session = g_object_ref (session);
  return GTK_WIDGET (self);
}
