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
  const char *name, *metric; /* metric NULL: the same */
  int decimals;
} figures[N_FIGURES] = {
  [NOT_PRICED] = { N_ ("not priced"), NULL, 0 },
  [PIECES] = { N_ ("pieces"), NULL, 0 },
  [JOINTS] = { N_ ("joints"), NULL, 0 },
  [NET] = { N_ ("net lb"), N_ ("net kg"), 0 },
  [SHIPPED] = { N_ ("shipped lb"), N_ ("shipped kg"), 0 },
  [SHOP] = { N_ ("shop worker-h"), NULL, 1 },
  [FIELD] = { N_ ("field worker-h"), NULL, 1 },
  [COST] = { N_ ("cost"), NULL, 0 },
  [PRICE] = { N_ ("price"), NULL, 0 },
};

/* What gives way first where there is no room for all: differences, then whole figures. What is not priced, the hours on site and
 * the money stay. */
static const Figure yields[] = { JOINTS, PIECES, SHIPPED, SHOP, NET, FIELD };

#define SELECTION_ROOM 260 /* px kept for the words about a selection */

#define TALLY_TYPE_TOTALS_LINE (tally_totals_line_get_type ())
G_DECLARE_FINAL_TYPE (TallyTotalsLine, tally_totals_line, TALLY, TOTALS_LINE, GtkWidget)

struct _TallyTotalsLine
{
  GtkWidget parent_instance;

  TallySession *session;
  /* The line asks for no width of its own: what does not fit is left out, so that the window never grows with a figure. */
  GtkWidget *room;
  GtkBox *line;
  GtkWidget *box[N_FIGURES];
  GtkLabel *name[N_FIGURES], *value[N_FIGURES], *moved[N_FIGURES];
  GtkLabel *part, *selection;
  double shown[N_FIGURES];
  gboolean has_moved[N_FIGURES];
  gboolean fresh; /* nothing to compare with: another job or part */
  guint glow;     /* timeout */
  guint fit;      /* idle */
};

G_DEFINE_FINAL_TYPE (TallyTotalsLine, tally_totals_line, GTK_TYPE_WIDGET)

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
#define MASS(mg) (job_names (job)->metric ? (double) (mg) / 1e6 : measure_lb (mg))
  out[NET] = MASS (V (COST_NET_MG));
  out[SHIPPED] = MASS (V (COST_SHIPPED_MG));
#undef MASS
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

/* ---- room ---- */

static int
least_width (TallyTotalsLine *self)
{
  int least;

  gtk_widget_measure (GTK_WIDGET (self->line), GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  return least + (*gtk_label_get_label (self->selection) ? SELECTION_ROOM : 0);
}

static void
fit (TallyTotalsLine *self)
{
  int room = gtk_widget_get_width (self->room);

  for (int i = 0; i < N_FIGURES; i++)
    {
      gtk_widget_set_visible (self->box[i], TRUE);
      gtk_widget_set_visible (GTK_WIDGET (self->moved[i]), self->has_moved[i]);
    }
  if (room <= 0)
    return;
  for (gsize i = 0; i < G_N_ELEMENTS (yields) && least_width (self) > room; i++)
    gtk_widget_set_visible (GTK_WIDGET (self->moved[yields[i]]), FALSE);
  for (gsize i = 0; i < G_N_ELEMENTS (yields) && least_width (self) > room; i++)
    gtk_widget_set_visible (self->box[yields[i]], FALSE);
}

static gboolean
fit_cb (gpointer data)
{
  TallyTotalsLine *self = data;

  self->fit = 0;
  fit (self);
  return G_SOURCE_REMOVE;
}

/* Not while sizes are being given out. */
static void
room_cb (GtkAdjustment *adjustment, GParamSpec *pspec, TallyTotalsLine *self)
{
  (void) adjustment;
  (void) pspec;
  if (self->fit == 0)
    self->fit = g_idle_add_full (GTK_PRIORITY_RESIZE, fit_cb, self, NULL);
}

/* ---- figures ---- */

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
  self->has_moved[i] = moved;
  g_autofree char *spoken = g_strdup_printf ("%s %s", gtk_label_get_label (self->name[i]), text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->box[i]), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
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
  gboolean metric = job_names (session_job (self->session))->metric;

  read_figures (self, now);
  for (int i = 0; i < N_FIGURES; i++)
    {
      const char *name = metric && figures[i].metric ? _ (figures[i].metric) : _ (figures[i].name);
      /* The same weight in another unit has not moved. */
      if (g_strcmp0 (gtk_label_get_label (self->name[i]), name) != 0)
        self->shown[i] = now[i];
      gtk_label_set_label (self->name[i], name);
    }
  for (int i = 0; i < N_FIGURES; i++)
    gtk_widget_remove_css_class (self->box[i], "glow");
  for (int i = 0; i < N_FIGURES; i++)
    show (self, (Figure) i, now[i]);
  self->fresh = FALSE;
  show_part (self);
  fit (self);
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

/* What a figure rests on: its line of the build-up, in the pane at the end side. */
static void
explain_cb (GtkButton *button, TallyTotalsLine *self)
{
  const CostBasis *basis = session_job (self->session) ? job_basis (session_job (self->session)) : NULL;
  Figure figure = (Figure) GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "figure"));
  const char *key = "cost";

  if (figure == NOT_PRICED)
    {
      gtk_widget_activate_action (GTK_WIDGET (self), "runs.show-fault", NULL);
      return;
    }
  if (figure == PRICE)
    key = "price";
  for (guint i = 0; basis && i < basis->buildup->len; i++)
    {
      const CostBuildLine *line = g_ptr_array_index (basis->buildup, i);
      if (((figure == SHOP || figure == FIELD) && line->op == COST_OP_LABOUR && line->which == (figure == SHOP))
          || ((figure == NET || figure == SHIPPED) && line->op == COST_OP_ITEMS && line->which == COST_MATERIAL))
        key = line->key;
    }
  gtk_widget_activate_action (GTK_WIDGET (self), "win.explain", "s", key);
}

static void
tally_totals_line_dispose (GObject *object)
{
  TallyTotalsLine *self = TALLY_TOTALS_LINE (object);

  g_clear_handle_id (&self->glow, g_source_remove);
  g_clear_handle_id (&self->fit, g_source_remove);
  g_clear_pointer (&self->room, gtk_widget_unparent);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_totals_line_parent_class)->dispose (object);
}

static void
tally_totals_line_class_init (TallyTotalsLineClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tally_totals_line_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
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
add_figure (TallyTotalsLine *self, int i)
{
  GtkBox *column = GTK_BOX (gtk_box_new (GTK_ORIENTATION_VERTICAL, 0));
  GtkBox *row = GTK_BOX (gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 3));
  GtkWidget *button = gtk_button_new ();

  self->name[i] = add_label (column, _ (figures[i].name), "name");
  self->value[i] = add_label (row, "", "value");
  self->moved[i] = add_label (row, "", "moved");
  gtk_box_append (column, GTK_WIDGET (row));
  gtk_button_set_child (GTK_BUTTON (button), GTK_WIDGET (column));
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_focus_on_click (button, FALSE);
  gtk_widget_set_tooltip_text (button, i == NOT_PRICED ? _ ("Go to the first run that is not priced") : _ ("What this rests on"));
  g_object_set_data (G_OBJECT (button), "figure", GINT_TO_POINTER (i));
  g_signal_connect (button, "clicked", G_CALLBACK (explain_cb), self);
  gtk_box_append (self->line, button);
  self->box[i] = button;
}

static void
tally_totals_line_init (TallyTotalsLine *self)
{
  self->line = GTK_BOX (gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4));
  self->part = add_label (self->line, "", "name");
  gtk_label_set_ellipsize (self->part, PANGO_ELLIPSIZE_END);
  gtk_label_set_max_width_chars (self->part, 18);
  gtk_label_set_width_chars (self->part, 8);
  for (int i = 0; i < N_FIGURES; i++)
    add_figure (self, i);
  self->selection = add_label (self->line, "", "name");
  gtk_widget_set_hexpand (GTK_WIDGET (self->selection), TRUE);
  gtk_label_set_xalign (self->selection, 1);
  gtk_label_set_wrap (self->selection, TRUE);
  gtk_label_set_lines (self->selection, 2);
  gtk_label_set_ellipsize (self->selection, PANGO_ELLIPSIZE_END);
  self->room = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->room), GTK_POLICY_EXTERNAL, GTK_POLICY_NEVER);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->room), GTK_WIDGET (self->line));
  gtk_widget_set_parent (self->room, GTK_WIDGET (self));
  gtk_widget_add_css_class (GTK_WIDGET (self), "totals-line");
  g_signal_connect (gtk_scrolled_window_get_hadjustment (GTK_SCROLLED_WINDOW (self->room)), "notify::page-size", G_CALLBACK (room_cb), self);
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
tally_totals_line_set_selection (GtkWidget *widget, const char *text)
{
  TallyTotalsLine *self = TALLY_TOTALS_LINE (widget);

  gtk_label_set_label (self->selection, text);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->selection), *text ? text : NULL);
  fit (self);
}
