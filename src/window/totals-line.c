/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/totals-line.h"

#include "base/measure.h"

#include <glib/gi18n.h>
#include <math.h>

typedef enum
{
  NOT_PRICED,
  PIECES,
  JOINTS,
  NET,
  SHIPPED,
  SHOP,
  FIELD,
  COST,
  PRICE,
  N_FIGURES,
} Figure;

static const struct
{
  const char *name;
  int decimals;
} figures[N_FIGURES] = {
  [NOT_PRICED] = { N_ ("not priced"), 0 },
  [PIECES] = { N_ ("pieces"), 0 },
  [JOINTS] = { N_ ("joints"), 0 },
  [NET] = { N_ ("net lb"), 0 },
  [SHIPPED] = { N_ ("shipped lb"), 0 },
  [SHOP] = { N_ ("shop worker-h"), 1 },
  [FIELD] = { N_ ("field worker-h"), 1 },
  [COST] = { N_ ("cost"), 0 },
  [PRICE] = { N_ ("price"), 0 },
};

#define TALLY_TYPE_TOTALS_LINE (tally_totals_line_get_type ())
G_DECLARE_FINAL_TYPE (TallyTotalsLine, tally_totals_line, TALLY, TOTALS_LINE, GtkBox)

struct _TallyTotalsLine
{
  GtkBox parent_instance;

  TallySession *session;
  GtkWidget *box[N_FIGURES];
  GtkLabel *value[N_FIGURES], *moved[N_FIGURES];
  GtkLabel *part, *selection;
  double shown[N_FIGURES];
  gboolean fresh; /* nothing to compare with: another job or part */
  guint glow;     /* timeout */
};

G_DEFINE_FINAL_TYPE (TallyTotalsLine, tally_totals_line, GTK_TYPE_BOX)

static void
read_figures (TallyTotalsLine *self, double out[N_FIGURES])
{
  TallyJob *job = session_job (self->session);
  const CostBasis *basis = job_basis (job);
  JobTotals totals;

  job_totals (job, session_scope (self->session), JOB_OWN_METHOD, &totals);
  g_autoptr (BuildUp) up = buildup_new (basis, &totals.sums, session_decimals (self->session));
  double unit = pow (10, up->decimals);
#define V(m) totals.vector[cost_measure_slot (basis, m)]
  out[NOT_PRICED] = (double) totals.not_priced;
  out[PIECES] = (double) V (COST_PIECES) / 1000;
  out[JOINTS] = (double) V (COST_JOINTS) / 1000;
  out[NET] = measure_lb (V (COST_NET_MG));
  out[SHIPPED] = measure_lb (V (COST_SHIPPED_MG));
  out[SHOP] = num_wide_to_double (totals.sums.time[1]) / COST_TIME_DEN;
  out[FIELD] = num_wide_to_double (totals.sums.time[0]) / COST_TIME_DEN;
  out[COST] = (double) buildup_get (up, "cost") / unit;
  out[PRICE] = (double) buildup_get (up, "price") / unit;
#undef V
  job_totals_clear (&totals);
}

static gboolean
glow_over_cb (gpointer data)
{
  TallyTotalsLine *self = data;

  for (int i = 0; i < N_FIGURES; i++)
    gtk_widget_remove_css_class (self->box[i], "glow");
  self->glow = 0;
  return G_SOURCE_REMOVE;
}

/* The figure, and beside it what the last edit moved: the difference stays until the next edit, the glow fades. */
static void
show (TallyTotalsLine *self, Figure i, double now)
{
  double step = pow (10, -figures[i].decimals), was = self->shown[i];
  gboolean moved = !self->fresh && fabs (now - was) >= step / 2;
  g_autofree char *text = session_figure (now, figures[i].decimals, FALSE);
  g_autofree char *difference = moved ? session_figure (now - was, figures[i].decimals, TRUE) : g_strdup ("");

  gtk_label_set_label (self->value[i], text);
  gtk_label_set_label (self->moved[i], difference);
  gtk_widget_set_visible (GTK_WIDGET (self->moved[i]), moved);
  if (moved)
    gtk_widget_add_css_class (self->box[i], "glow");
  if (i == NOT_PRICED && now > 0)
    gtk_widget_add_css_class (GTK_WIDGET (self->value[i]), "attention");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self->value[i]), "attention");
  self->shown[i] = now;
}

static void
show_part (TallyTotalsLine *self)
{
  TallyJob *job = session_job (self->session);
  const JobScope *scope = session_scope (self->session);
  const JobNames *names = job_names (job);
  const char *system = scope->system > 0 ? names->name (names->data, JOB_SYSTEM, scope->system) : NULL;
  const char *area = scope->area > 0 ? names->name (names->data, JOB_AREA, scope->area) : NULL;
  g_autofree char *text = system && area ? g_strdup_printf ("%s, %s", system, area)
                          : system || area ? g_strdup (system ? system : area)
                                           : g_strdup (_ ("whole job"));

  gtk_label_set_label (self->part, text);
}

static void
update (TallyTotalsLine *self)
{
  double now[N_FIGURES];

  if (!session_job (self->session))
    return;
  read_figures (self, now);
  for (int i = 0; i < N_FIGURES; i++)
    gtk_widget_remove_css_class (self->box[i], "glow");
  for (int i = 0; i < N_FIGURES; i++)
    show (self, (Figure) i, now[i]);
  self->fresh = FALSE;
  show_part (self);
  g_clear_handle_id (&self->glow, g_source_remove);
  self->glow = g_timeout_add (1500, glow_over_cb, self);
}

static void
changed_cb (TallySession *session, JobEdit *edit, TallyTotalsLine *self)
{
  (void) session;
  (void) edit;
  update (self);
}

static void
other_cb (TallySession *session, TallyTotalsLine *self)
{
  (void) session;
  self->fresh = TRUE;
  update (self);
}

static void
tally_totals_line_dispose (GObject *object)
{
  TallyTotalsLine *self = TALLY_TOTALS_LINE (object);

  g_clear_handle_id (&self->glow, g_source_remove);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_totals_line_parent_class)->dispose (object);
}

static void
tally_totals_line_class_init (TallyTotalsLineClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tally_totals_line_dispose;
}

static GtkLabel *
add_label (GtkBox *box, const char *text, const char *css)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  if (css)
    gtk_widget_add_css_class (label, css);
  gtk_box_append (box, label);
  return GTK_LABEL (label);
}

static void
tally_totals_line_init (TallyTotalsLine *self)
{
  gtk_box_set_spacing (GTK_BOX (self), 18);
  gtk_widget_add_css_class (GTK_WIDGET (self), "totals-line");
  self->part = add_label (GTK_BOX (self), "", "name");
  gtk_label_set_ellipsize (self->part, PANGO_ELLIPSIZE_END);
  gtk_label_set_max_width_chars (self->part, 20);
  for (int i = 0; i < N_FIGURES; i++)
    {
      GtkBox *column = GTK_BOX (gtk_box_new (GTK_ORIENTATION_VERTICAL, 0));
      GtkBox *row = GTK_BOX (gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 3));
      add_label (column, _ (figures[i].name), "name");
      self->value[i] = add_label (row, "", "value");
      self->moved[i] = add_label (row, "", "moved");
      gtk_box_append (column, GTK_WIDGET (row));
      gtk_box_append (GTK_BOX (self), GTK_WIDGET (column));
      self->box[i] = GTK_WIDGET (column);
    }
  self->selection = add_label (GTK_BOX (self), "", "name");
  gtk_widget_set_hexpand (GTK_WIDGET (self->selection), TRUE);
  gtk_label_set_xalign (self->selection, 1);
  gtk_label_set_ellipsize (self->selection, PANGO_ELLIPSIZE_START);
  self->fresh = TRUE;
}

GtkWidget *
tally_totals_line_new (TallySession *session)
{
  TallyTotalsLine *self = g_object_new (TALLY_TYPE_TOTALS_LINE, NULL);

  self->session = g_object_ref (session);
  g_signal_connect_object (session, "changed", G_CALLBACK (changed_cb), self, 0);
  g_signal_connect_object (session, "job", G_CALLBACK (other_cb), self, 0);
  g_signal_connect_object (session, "scope", G_CALLBACK (other_cb), self, 0);
  update (self);
  return GTK_WIDGET (self);
}

void
tally_totals_line_set_selection (GtkWidget *line, const char *text)
{
  gtk_label_set_label (TALLY_TOTALS_LINE (line)->selection, text);
}
