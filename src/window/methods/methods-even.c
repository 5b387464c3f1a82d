/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/methods/methods-even.h"

#include "chart/line.h"
#include "window/chart-area.h"
#include "window/list-tab.h"
#include "window/methods/methods-claim.h"
#include "window/walk.h"

#include <glib/gi18n.h>
#include <math.h>

#define FEW 3 /* items, and steps, before "show all" */

/* A line with the words it borrows. */
typedef struct
{
  ChartLine line;
  ChartMark mark[4];
  char *mark_words[4], *crossing, *figure, *words, *gain;
} Picture;

typedef struct
{
  CostEven even;
  char *name, *unit, *words, *walk; /* @walk: as tally_walk_line() */
  MethodsClaim *claim; /* (nullable): of the row that it stands for */
} Row;

struct _TallyMethodsEven
{
  GtkWidget parent_instance;

  GtkWidget *box, *title, *area, *list, *all, *claim_note; /* borrowed, but for box */
  GArray *rows;     /* Row, those in the list */
  CostEven picked;  /* what the user looked at last: kept when the figures change */
  gboolean has_picked, filling;
  char *method, *currency;
};

G_DEFINE_FINAL_TYPE (TallyMethodsEven, tally_methods_even, GTK_TYPE_WIDGET)

static void
picture_free (gpointer data)
{
  Picture *p = data;

  for (gsize i = 0; i < G_N_ELEMENTS (p->mark_words); i++)
    g_free (p->mark_words[i]);
  g_free (p->crossing);
  g_free (p->figure);
  g_free (p->words);
  g_free (p->gain);
  g_free (p);
}

static double
picture_height (const ChartPaper *paper, double width, gpointer data)
{
  return chart_line_height (paper, &((Picture *) data)->line, width);
}

static void
picture_draw (const ChartPaper *paper, double width, gpointer data)
{
  chart_line_draw (paper, &((Picture *) data)->line, width);
}

static GPtrArray *
picture_spots (const ChartPaper *paper, double width, gpointer data)
{
  return chart_line_spots (paper, &((Picture *) data)->line, width);
}

static void
add_mark (Picture *p, double at, char *words, gboolean doubtful)
{
  gsize i = p->line.n_marks++;

  p->mark_words[i] = words;
  p->mark[i] = (ChartMark) { at, words, doubtful };
}

/* The study's own figure with its interval, and what is claimed, which nobody has measured here. */
static void
add_claim_marks (Picture *p, const MethodsClaim *claim)
{
  if (claim->studied)
    add_mark (p, claim->trial, methods_claim_trial (claim), FALSE);
  add_mark (p, claim->result.claimed.minutes, g_strdup_printf (_ ("claim %.1f"), claim->result.claimed.minutes), TRUE);
}

static void
show_line (TallyMethodsEven *self, const Row *row)
{
  Picture *p = g_new0 (Picture, 1);
  g_autofree char *now = methods_even_figure (&row->even, row->even.now);
  g_autofree char *title = g_strdup_printf (_ ("When does %s pay?"), self->method);
  g_autofree char *table = NULL;

  p->crossing = g_strdup (row->words);
  p->figure = g_strdup_printf ("%s, %s", row->name, row->unit);
  p->words = g_strdup_printf (_ ("%s; line: gain in %s"), p->figure, self->currency);
  p->gain = g_strdup_printf (_ ("gain, %s"), self->currency);
  p->line = (ChartLine) { .at = row->even.now,
                          .gain = row->even.gain,
                          .slope = row->even.slope,
                          .low = NAN,
                          .high = NAN,
                          .crossing = row->even.exists ? row->even.even : NAN,
                          .crossing_words = p->crossing,
                          .mark = p->mark,
                          .figure = p->figure,
                          .words = p->words,
                          .gain_words = p->gain };
  add_mark (p, row->even.now, g_strdup_printf (row->claim ? _ ("own minutes %s") : _ ("today %s"), now), FALSE);
  if (row->claim)
    add_claim_marks (p, row->claim);
  table = chart_line_table (&p->line);
  tally_chart_area_set_title (TALLY_CHART_AREA (self->area), title);
  tally_chart_area_set (TALLY_CHART_AREA (self->area), picture_height, picture_draw, p, picture_free, table);
  tally_chart_area_set_spots (TALLY_CHART_AREA (self->area), picture_spots);
  /* The picture shows what its row shows. */
  tally_walk_take (self->area, g_strdup (row->walk));
}

static void
row_selected_cb (GtkListBox *list, GtkListBoxRow *row, TallyMethodsEven *self)
{
  const Row *r;

  (void) list;
  if (!row)
    return;
  r = &g_array_index (self->rows, Row, gtk_list_box_row_get_index (row));
  if (!self->filling)
    {
      self->picked = r->even;
      self->has_picked = TRUE;
    }
  show_line (self, r);
}

static void
row_clear (gpointer data)
{
  Row *row = data;

  g_free (row->name);
  g_free (row->unit);
  g_free (row->words);
  g_free (row->walk);
  g_free (row->claim);
}

static GtkWidget *
cell (const char *text, const char *class, float xalign, int chars)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), xalign);
  gtk_label_set_width_chars (GTK_LABEL (label), chars);
  if (class)
    gtk_widget_add_css_class (label, class);
  return label;
}

static void
add_row (TallyMethodsEven *self, Row row)
{
  g_autofree char *now = methods_even_figure (&row.even, row.even.now);
  g_autofree char *today = g_strdup_printf (_ ("today %s"), now);
  g_autofree char *spoken = g_strdup_printf ("%s, %s: %s, %s", row.name, row.unit, today, row.words);
  GtkWidget *item = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *what = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *name = cell (row.name, NULL, 0, -1);
  GtkWidget *verdict = cell (row.words, "verdict", 1, 19);

  if (!row.even.exists)
    gtk_widget_add_css_class (verdict, "dim-label");
  gtk_label_set_wrap (GTK_LABEL (name), TRUE);
  gtk_box_append (GTK_BOX (what), name);
  gtk_box_append (GTK_BOX (what), cell (row.unit, "unit", 0, -1));
  gtk_widget_set_hexpand (what, TRUE);
  gtk_box_append (GTK_BOX (box), what);
  gtk_box_append (GTK_BOX (box), cell (today, "figure", 1, -1));
  gtk_box_append (GTK_BOX (box), verdict);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (item), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (item), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  tally_walk_take (item, g_strdup (row.walk));
  gtk_list_box_append (GTK_LIST_BOX (self->list), item);
  g_array_append_val (self->rows, row);
}

static void
clear_rows (TallyMethodsEven *self)
{
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0)))
    gtk_list_box_remove (GTK_LIST_BOX (self->list), GTK_WIDGET (row));
  g_array_set_size (self->rows, 0);
}

/* The one looked at before, else the first that has a point. */
static void
select_row (TallyMethodsEven *self)
{
  int at = -1;

  for (guint i = 0; i < self->rows->len; i++)
    {
      const CostEven *even = &g_array_index (self->rows, Row, i).even;
      if (self->has_picked && even->kind == self->picked.kind && even->target == self->picked.target)
        {
          at = (int) i;
          break;
        }
      if (at < 0 && even->exists)
        at = (int) i;
    }
  if (self->rows->len > 0)
    gtk_list_box_select_row (GTK_LIST_BOX (self->list), gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), MAX (at, 0)));
}

static char *
walk_of (const MethodsData *data, const CostEven *even, int method, int baseline)
{
  static const char *const part[METHODS_N_OF] = { "job", "part", "runs" };
  const Catalogue *catalogue = data->basis->catalogue;
  /* A claim is of the joint as a whole and of no step. */
  g_autofree char *figure = even->target < 0 && (even->kind == COST_EVEN_ITEM || even->kind == COST_EVEN_STEP)
                                ? g_strdup ("field-hours")
                                : tally_walk_figure (data->job, even->kind, even->target);

  return tally_walk_line (figure, catalogue_method (catalogue, method)->key, catalogue_method (catalogue, baseline)->key, NULL, part[data->of]);
}

/* What somebody claims comes first: it is what the trial would settle. */
static void
add_claim (TallyMethodsEven *self, const MethodsData *data, int baseline, int method)
{
  MethodsClaim claim;
  g_autofree char *words = NULL;

  if (!methods_claim (data, baseline, method, &claim))
    return;
  words = methods_claim_words (data, &claim);
  gtk_label_set_label (GTK_LABEL (self->claim_note), words);
  gtk_widget_set_visible (self->claim_note, TRUE);
  add_row (self, (Row) { claim.even, g_strdup (_ ("time saved a joint")), g_strdup (_ ("worker-minutes")), methods_even_words (&claim.even),
                         walk_of (data, &claim.even, method, baseline), g_memdup2 (&claim, sizeof claim) });
}

void
tally_methods_even_set (TallyMethodsEven *self, const MethodsData *data, int baseline, int method)
{
  gboolean all = gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->all)), any;
  int seen[COST_EVEN_JOINTS + 1] = { 0 }, left_out = 0;

  self->filling = TRUE;
  clear_rows (self);
  gtk_widget_set_visible (self->claim_note, FALSE);
  any = data && method >= 0 && method != baseline && data->totals[method].runs > 0;
  gtk_widget_set_visible (self->area, any);
  gtk_widget_set_visible (self->list, any);
  gtk_label_set_label (GTK_LABEL (self->title), any ? "" : _ ("Choose another method in the table to see when it pays."));
  gtk_widget_set_visible (self->title, !any);
  if (any)
    {
      g_autoptr (GArray) evens = cost_break_evens (data->basis, &data->option[baseline], &data->option[method]);
      g_free (self->method);
      g_free (self->currency);
      self->method = g_strdup (methods_name (data, method));
      self->currency = g_strdup (data->currency);
      add_claim (self, data, baseline, method);
      for (guint i = 0; i < evens->len; i++)
        {
          const CostEven *even = &g_array_index (evens, CostEven, i);
          gboolean listed = even->kind == COST_EVEN_ITEM || even->kind == COST_EVEN_STEP;
          if (!all && listed && (!even->exists || seen[even->kind]++ >= FEW))
            {
              left_out++;
              continue;
            }
          add_row (self, (Row) { *even, methods_even_name (data, even), methods_even_unit (data, even), methods_even_words (even),
                                 walk_of (data, even, method, baseline), NULL });
        }
      select_row (self);
    }
  gtk_widget_set_visible (self->all, any && (all || left_out > 0));
  self->filling = FALSE;
}

static void
tally_methods_even_dispose (GObject *object)
{
  TallyMethodsEven *self = TALLY_METHODS_EVEN (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (tally_methods_even_parent_class)->dispose (object);
}

static void
tally_methods_even_finalize (GObject *object)
{
  TallyMethodsEven *self = TALLY_METHODS_EVEN (object);

  g_array_unref (self->rows);
  g_free (self->method);
  g_free (self->currency);
  G_OBJECT_CLASS (tally_methods_even_parent_class)->finalize (object);
}

static void
tally_methods_even_class_init (TallyMethodsEvenClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tally_methods_even_dispose;
  G_OBJECT_CLASS (klass)->finalize = tally_methods_even_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  /* The view fills it anew. */
  g_signal_new ("show-all", TALLY_TYPE_METHODS_EVEN, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
all_toggled_cb (GtkToggleButton *button, TallyMethodsEven *self)
{
  gtk_button_set_label (GTK_BUTTON (button),
                        gtk_toggle_button_get_active (button) ? _ ("Show the largest only") : _ ("Show every figure"));
  g_signal_emit_by_name (self, "show-all");
}

static void
tally_methods_even_init (TallyMethodsEven *self)
{
  self->rows = g_array_new (FALSE, TRUE, sizeof (Row));
  g_array_set_clear_func (self->rows, row_clear);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  self->title = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->title), 0);
  gtk_label_set_wrap (GTK_LABEL (self->title), TRUE);
  gtk_widget_add_css_class (self->title, "dim-label");
  self->area = tally_chart_area_new (NULL);
  self->list = gtk_list_box_new ();
  gtk_widget_add_css_class (self->list, "methods-list");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Figures at which the two change places"), -1);
  tally_list_leave_by_tab (self->list);
  g_signal_connect (self->list, "row-selected", G_CALLBACK (row_selected_cb), self);
  self->all = gtk_toggle_button_new_with_label (_ ("Show every figure"));
  gtk_widget_add_css_class (self->all, "flat");
  gtk_widget_set_halign (self->all, GTK_ALIGN_START);
  g_signal_connect (self->all, "toggled", G_CALLBACK (all_toggled_cb), self);
  gtk_box_append (GTK_BOX (self->box), self->title);
  gtk_box_append (GTK_BOX (self->box), self->area);
  self->claim_note = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->claim_note), 0);
  gtk_label_set_wrap (GTK_LABEL (self->claim_note), TRUE);
  gtk_widget_add_css_class (self->claim_note, "dim-label");
  gtk_box_append (GTK_BOX (self->box), self->claim_note);
  gtk_box_append (GTK_BOX (self->box), self->list);
  gtk_box_append (GTK_BOX (self->box), self->all);
}

GtkWidget *
tally_methods_even_new (void)
{
  return g_object_new (TALLY_TYPE_METHODS_EVEN, NULL);
}
