/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/detail/detail-private.h"

#include <glib/gi18n.h>

typedef struct
{
  gboolean allowed;
  double cost;     /* minor units */
  char *refusal;   /* (nullable) */
} Choice;

static void
bar_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const double *share = data; /* [0] length, [1] whether hatched */
  double w = MAX (2, (width - 2) * share[0]), h = height - 2;
  PieceLooks looks;

  detail_looks (GTK_WIDGET (area), &looks);
  cairo_translate (cr, 1, 1);
  cairo_rectangle (cr, 0, 0, w, h);
  cairo_set_source_rgba (cr, looks.accent.r, looks.accent.g, looks.accent.b, share[1] > 0 ? 0.12 : 0.35);
  cairo_fill (cr);
  cairo_set_source_rgb (cr, looks.accent.r, looks.accent.g, looks.accent.b);
  cairo_set_line_width (cr, 1);
  if (share[1] > 0)
    {
      cairo_save (cr);
      cairo_rectangle (cr, 0, 0, w, h);
      cairo_clip (cr);
      for (double x = -h; x < w; x += 6)
        {
          cairo_move_to (cr, x, h);
          cairo_line_to (cr, x + h, 0);
        }
      cairo_stroke (cr);
      cairo_restore (cr);
    }
  cairo_rectangle (cr, 0, 0, w, h);
  cairo_stroke (cr);
}

static void
price_choice (const DetailRun *r, int method, Choice *choice)
{
  const CostBasis *basis = job_basis (r->job);
  JobRunResult result;
  CostSums sums;

  *choice = (Choice) { FALSE, 0, NULL };
  if (!job_compute (r->job, r->run, method, &result))
    {
      g_autofree char *words = result.fault ? fault_words (result.fault, NULL) : g_strdup ("");
      choice->refusal = g_strdup_printf (_ ("not possible: %s"), words);
    }
  else if (result.method != method)
    choice->refusal = g_strdup_printf (_ ("not allowed: %s"), result.reason ? result.reason : "");
  else
    {
      choice->allowed = TRUE;
      job_run_sums (r->job, r->run, result.vector, &sums);
      g_autoptr (BuildUp) b = buildup_new (basis, &sums, session_decimals (r->session));
      choice->cost = (double) buildup_get (b, "cost");
    }
  job_run_result_clear (&result);
}

static void
add_choice (GtkWidget *box, const DetailRun *r, int method, const Choice *choice, double own, double most)
{
  const CostMethod *info = catalogue_method (job_basis (r->job)->catalogue, method);
  gboolean is_own = method == r->result->method;
  GtkWidget *table = detail_table (box);

  if (!choice->allowed)
    {
      const char *cells[] = { info->name };
      detail_table_row (table, NULL, cells, 1);
      detail_words (box, "caption dim-label", "%s", choice->refusal);
      return;
    }
  g_autofree char *money = session_money (r->session, (gint64) choice->cost);
  g_autofree char *difference = session_money (r->session, (gint64) (choice->cost - own));
  g_autofree char *shown = is_own ? g_strdup (_ ("now")) : choice->cost > own ? g_strconcat ("+", difference, NULL) : g_strdup (difference);
  const char *cells[] = { info->name, money, shown };
  detail_table_row (table, is_own ? "heading" : NULL, cells, 3);

  GtkWidget *area = gtk_drawing_area_new ();
  double *share = g_new (double, 2);
  share[0] = most > 0 ? choice->cost / most : 0;
  share[1] = is_own;
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), 12);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), bar_cb, share, g_free);
  gtk_accessible_update_property (GTK_ACCESSIBLE (area), GTK_ACCESSIBLE_PROPERTY_LABEL, info->name, -1);
  gtk_box_append (GTK_BOX (box), area);
}

/* Methods for rectangular duct say nothing about a round run, nor the other way round; retired ones are not offered. */
static gboolean
is_for (const DetailRun *r, int method)
{
  const Catalogue *catalogue = job_basis (r->job)->catalogue;
  const DuctConnection *c = duct_rules_connection (catalogue->rules, catalogue_method (catalogue, method)->connection);

  return (c->section == DUCT_ROUND) == (r->result->shape.h == 0)
         && (method == r->result->method || job_offers_method (r->job, method));
}

void
detail_add_methods (GtkWidget *box, const DetailRun *r)
{
  int n = job_basis (r->job)->n_methods;
  Choice *choice;
  double most = 0, own = 0;

  if (!r->priced || r->result->method < 0)
    return;
  choice = g_new0 (Choice, (gsize) n);
  for (int m = 0; m < n; m++)
    {
      if (!is_for (r, m))
        continue;
      price_choice (r, m, &choice[m]);
      most = MAX (most, choice[m].cost);
      if (m == r->result->method)
        own = choice[m].cost;
    }
  detail_heading (box, _ ("This run by method: cost, and the difference"));
  for (int m = 0; m < n; m++)
    if (is_for (r, m))
      add_choice (box, r, m, &choice[m], own, most);
  for (int m = 0; m < n; m++)
    g_free (choice[m].refusal);
  g_free (choice);
}
