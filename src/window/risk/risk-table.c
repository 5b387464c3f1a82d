/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/risk/risk-table.h"

#include "window/walk.h"

#include <glib/gi18n.h>
#include <math.h>

#define NAME_CHARS 19

static char *
money (double x)
{
  return session_figure (x, 0, FALSE);
}

static char *
plus_minus (const RiskQuantile *q)
{
  double half = MAX (q->high - q->value, q->value - q->low);
  g_autofree char *text = isfinite (half) ? session_figure (half, 0, FALSE) : NULL;

  return text ? g_strdup_printf ("± %s", text) : g_strdup ("");
}

static void
fill_head (TallyFigureGrid *table, const JobRisk *risk)
{
  const char *currency = risk->currency;
  g_autofree char *confidence =
      g_strdup_printf (risk->over_mean ? _ ("to %.4g %%, over mean") : _ ("to %.4g %%, over likely"),
                       risk->confidence * 100);

  tally_figure_grid_clear (table);
  tally_figure_grid_head (table, _ ("Method"), _ ("cost and tooling"));
  tally_figure_grid_head (table, _ ("Likely"), currency);
  for (int k = 0; k < RISK_N_MARKS; k++)
    {
      g_autofree char *title = g_strdup_printf (_ ("%.0f %%"), risk_marks[k] * 100);
      tally_figure_grid_head (table, title, currency);
    }
  tally_figure_grid_head (table, _ ("Contingency"), confidence);
  tally_figure_grid_head (table, _ ("Field h"), _ ("10–90 %"));
  tally_figure_grid_head (table, _ ("Gain"), _ ("likely; 10–90 %"));
  tally_figure_grid_head (table, _ ("Cheaper"), _ ("% of trials"));
}

static void
fill_gain (TallyFigureGrid *table, const JobRiskGain *g)
{
  g_autofree char *gain = session_figure (g->gain, 0, TRUE), *chance = session_figure (g->beats.less * 100, 1, FALSE);
  g_autofree char *range = NULL, *verdict = NULL;
  g_autofree char *low = session_figure (g->low.value, 0, FALSE), *high = session_figure (g->high.value, 0, FALSE);

  range = g_strdup_printf (_ ("%s to %s"), low, high);
  verdict = g->gain < 0 && g->verdict >= JOB_VERDICT_LIKELY
                ? g_strdup_printf (_ ("%s, dearer"), job_verdict_say (g->verdict))
            : g->verdict == JOB_VERDICT_NOT_CLEAR ? g_strdup (_ ("not clear"))
                                                  : g_strdup (job_verdict_say (g->verdict));
  tally_figure_grid_cell (table, gain, range, FALSE);
  tally_figure_grid_cell (table, chance, verdict, g->gain > 0 && g->verdict >= JOB_VERDICT_LIKELY);
}

void
tally_risk_mark (const RiskAnswer *answer, GtkWidget *widget, guint i)
{
  const JobRiskWay *way = job_risk_way (answer->risk, i), *base = job_risk_way (answer->risk, 0);

  tally_walk_mark (widget, "cost", way->key, i > 0 ? base->key : NULL, way->what_if, "job");
}

/* As wide as the figures leave it, in two lines or three. Pressed, it is the way that is told about. */
static GtkWidget *
name_new (const RiskAnswer *answer, guint i, const char *below, GCallback pressed, gpointer data)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0),
            *label = gtk_label_new (job_risk_way (answer->risk, i)->name);
  GtkWidget *button = gtk_button_new ();
  PangoAttrList *weight = pango_attr_list_new ();

  pango_attr_list_insert (weight, pango_attr_weight_new (i == 0 ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL));
  gtk_label_set_attributes (GTK_LABEL (label), weight);
  pango_attr_list_unref (weight);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_width_chars (GTK_LABEL (label), NAME_CHARS);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 2 * NAME_CHARS);
  gtk_box_append (GTK_BOX (box), label);
  if (below)
    {
      label = gtk_label_new (below);
      gtk_label_set_xalign (GTK_LABEL (label), 0);
      gtk_widget_add_css_class (label, "unit");
      gtk_box_append (GTK_BOX (box), label);
    }
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_add_css_class (button, "risk-name");
  gtk_widget_set_tooltip_text (button, i > 0 ? _ ("Tell about this method") : NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, job_risk_way (answer->risk, i)->name, -1);
  g_object_set_data (G_OBJECT (button), "way", GUINT_TO_POINTER (i));
  g_signal_connect (button, "clicked", pressed, data);
  tally_risk_mark (answer, button, i);
  return button;
}

void
tally_risk_table_fill (TallyFigureGrid *table, const RiskAnswer *a, GCallback pressed, gpointer data)
{
  fill_head (table, a->risk);
  for (guint i = 0; i < a->risk->ways->len; i++)
    {
      const JobRiskWay *way = job_risk_way (a->risk, i);
      const RiskWaySum *sum = &a->way[i];
      g_autofree char *likely = money (way->likely),
                      *contingency = session_figure (sum->contingency.contingency, 0, TRUE);
      g_autofree char *h0 = session_figure (sum->hours[0], 0, FALSE), *h1 = session_figure (sum->hours[1], 0, FALSE);
      g_autofree char *hours = g_strdup_printf ("%s–%s", h0, h1), *open = NULL;
      if (way->not_priced > 0)
        open = g_strdup_printf (ngettext ("%" G_GINT64_FORMAT " run not priced", "%" G_GINT64_FORMAT " runs not priced",
                                          (unsigned long) way->not_priced),
                                way->not_priced);
      tally_figure_grid_row (table, FALSE);
      tally_figure_grid_take (table, name_new (a, i, open ? open : i == 0 ? _ ("baseline") : NULL, pressed, data));
      tally_figure_grid_cell (table, likely, NULL, FALSE);
      for (int k = 0; k < RISK_N_MARKS; k++)
        {
          g_autofree char *value = money (sum->cost[k].value), *half = plus_minus (&sum->cost[k]);
          tally_figure_grid_cell (table, value, half, FALSE);
        }
      tally_figure_grid_cell (table, contingency, NULL, FALSE);
      tally_figure_grid_cell (table, hours, NULL, FALSE);
      if (i > 0)
        fill_gain (table, &sum->gain);
    }
}
