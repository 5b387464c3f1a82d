/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/job-map.h"

#include "base/measure.h"

#include <glib/gi18n.h>
#include <math.h>

#define LEAST_HIDDEN 14 /* px: less hides no figure */

typedef enum
{
  SHOW_FIELD,
  SHOW_SHOP,
  SHOW_PRICE,
  SHOW_POUNDS,
  N_SHOWN,
} Shown;

static const char *const shown_names[N_SHOWN] = { N_ ("field worker-h"), N_ ("shop worker-h"), N_ ("price"), N_ ("net lb") };

#define TALLY_TYPE_JOB_MAP (tally_job_map_get_type ())
G_DECLARE_FINAL_TYPE (TallyJobMap, tally_job_map, TALLY, JOB_MAP, GtkBox)

struct _TallyJobMap
{
  GtkBox parent_instance;

  TallySession *session;
  GtkDropDown *choice;
  /* Names of the systems and sums stay; the areas between them scroll where they are many. */
  GtkGrid *names, *grid, *sums;
  GtkWidget *more;
  gboolean metric; /* units as last named */
  gboolean overflows; /* the areas do not all fit */
  guint idle;      /* one rebuild for many changes */
  guint look;      /* idle: whether they fit is shown */
};

G_DEFINE_FINAL_TYPE (TallyJobMap, tally_job_map, GTK_TYPE_BOX)

/* One part of the job as it is shown: a cell, a row, a column or all. */
typedef struct
{
  CostSums sums;
  double net; /* lb, kg in a metric job */
  gint64 not_priced, runs;
} Part;

static void
read_part (TallyJobMap *self, gint64 system, gint64 area, Part *part)
{
  TallyJob *job = session_job (self->session);
  JobScope scope = { system, area };
  JobTotals totals;

  job_totals (job, &scope, JOB_OWN_METHOD, &totals);
  part->sums = totals.sums;
  part->sums.slot_time = NULL;
  gint64 net = totals.vector[cost_measure_slot (job_basis (job), COST_NET_MG)];
  part->net = job_names (job)->metric ? (double) net / 1e6 : measure_lb (net);
  part->not_priced = totals.not_priced;
  part->runs = totals.runs + totals.not_priced;
  job_totals_clear (&totals);
}

static double
figure (TallyJobMap *self, const Part *part)
{
  switch ((Shown) gtk_drop_down_get_selected (self->choice))
    {
    case SHOW_SHOP:
      return num_wide_to_double (part->sums.time[1]) / COST_TIME_DEN;
    case SHOW_PRICE:
      {
        g_autoptr (BuildUp) up = buildup_new (job_basis (session_job (self->session)), &part->sums, 0);
        return (double) buildup_get (up, "price");
      }
    case SHOW_POUNDS:
      return part->net;
    case SHOW_FIELD:
    case N_SHOWN:
    default:
      return num_wide_to_double (part->sums.time[0]) / COST_TIME_DEN;
    }
}

static const char *
name_of (TallyJobMap *self, guint shown)
{
  return shown == SHOW_POUNDS && self->metric ? _ ("net kg") : _ (shown_names[shown]);
}

/* The choice stays where it was. */
static void
name_choices (TallyJobMap *self)
{
  GtkStringList *list = GTK_STRING_LIST (gtk_drop_down_get_model (self->choice));
  const char *words[] = { name_of (self, SHOW_POUNDS), NULL };
  guint chosen = gtk_drop_down_get_selected (self->choice);

  gtk_string_list_splice (list, SHOW_POUNDS, 1, words);
  gtk_drop_down_set_selected (self->choice, chosen);
}

/* What of the build-up a cell shows. */
static const char *
line_of (TallyJobMap *self)
{
  const CostBasis *basis = job_basis (session_job (self->session));
  Shown shown = (Shown) gtk_drop_down_get_selected (self->choice);

  for (guint i = 0; i < basis->buildup->len; i++)
    {
      const CostBuildLine *line = g_ptr_array_index (basis->buildup, i);
      if (((shown == SHOW_FIELD || shown == SHOW_SHOP) && line->op == COST_OP_LABOUR && line->which == (shown == SHOW_SHOP))
          || (shown == SHOW_POUNDS && line->op == COST_OP_ITEMS && line->which == COST_MATERIAL))
        return line->key;
    }
  return "cost";
}

static void
cell_cb (GtkButton *button, TallyJobMap *self)
{
  gint64 *scope = g_object_get_data (G_OBJECT (button), "scope");
  const JobScope *now = session_scope (self->session);

  /* The part that is shown already, pressed again, shows everything. */
  if (now->system == scope[0] && now->area == scope[1])
    session_set_scope (self->session, 0, 0);
  else
    session_set_scope (self->session, scope[0], scope[1]);
  /* A figure was pressed, not a name: what it rests on is shown in the pane beside. */
  if (g_object_get_data (G_OBJECT (button), "figure"))
    session_set_total (self->session, line_of (self));
}

static void
add_button (TallyJobMap *self, GtkGrid *grid, int column, int row, const char *text, const char *what, gint64 system, gint64 area,
            const Part *part, gboolean sum)
{
  const JobScope *now = session_scope (self->session);
  GtkWidget *button = gtk_button_new (), *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 3), *label = gtk_label_new (text);
  gint64 *scope = g_new (gint64, 2);
  g_autofree char *tip = NULL;

  scope[0] = system;
  scope[1] = area;
  g_object_set_data_full (G_OBJECT (button), "scope", scope, g_free);
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_add_css_class (button, "cell");
  if (part)
    g_object_set_data (G_OBJECT (button), "figure", GINT_TO_POINTER (1));
  if (sum)
    gtk_widget_add_css_class (button, "sum");
  if (now->system == system && now->area == area)
    gtk_widget_add_css_class (button, "shown");
  gtk_widget_set_hexpand (label, TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), part ? 1 : 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), part ? PANGO_ELLIPSIZE_NONE : PANGO_ELLIPSIZE_END);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 9);
  if (!part)
    gtk_label_set_width_chars (GTK_LABEL (label), (int) MIN (g_utf8_strlen (text, -1), 7));
  if (part && part->not_priced > 0)
    {
      /* A mark by shape and number, not by colour alone. */
      g_autofree char *mark = g_strdup_printf ("%d?", (int) part->not_priced);
      GtkWidget *attention = gtk_label_new (mark);
      gtk_widget_add_css_class (attention, "attention");
      gtk_box_append (GTK_BOX (box), attention);
    }
  gtk_box_append (GTK_BOX (box), label);
  gtk_button_set_child (GTK_BUTTON (button), box);
  tip = part ? g_strdup_printf (part->not_priced > 0 ? _ ("%s: %s %s, %d runs, %d not priced") : _ ("%s: %s %s, %d runs"), what, text,
                                name_of (self, gtk_drop_down_get_selected (self->choice)), (int) part->runs,
                                (int) part->not_priced)
             : g_strdup_printf (_ ("Show only %s"), what);
  gtk_widget_set_tooltip_text (button, tip);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, tip, -1);
  g_signal_connect (button, "clicked", G_CALLBACK (cell_cb), self);
  gtk_grid_attach (grid, button, column, row, 1, 1);
}

static void
add_figure (TallyJobMap *self, GtkGrid *grid, int column, int row, const char *what, gint64 system, gint64 area, gboolean sum)
{
  g_autofree char *text = NULL;
  Part part;

  read_part (self, system, area, &part);
  if (part.runs == 0 && !sum)
    return;
  text = session_figure (figure (self, &part), 0, FALSE);
  add_button (self, grid, column, row, text, what, system, area, &part, sum);
}

static gboolean
has_loose_runs (TallyJobMap *self, gboolean system)
{
  Part part;

  read_part (self, system ? -1 : 0, system ? 0 : -1, &part);
  return part.runs > 0;
}

/* All three have the same rows, of one height: each has something in every row. */
static void
empty_grids (TallyJobMap *self)
{
  GtkGrid *grids[] = { self->names, self->grid, self->sums };
  GtkWidget *child;

  for (gsize i = 0; i < G_N_ELEMENTS (grids); i++)
    while ((child = gtk_widget_get_first_child (GTK_WIDGET (grids[i]))))
      gtk_grid_remove (grids[i], child);
}

static void
hold_rows (GtkGrid *grid, guint n)
{
  for (guint row = 0; row < n; row++)
    {
      GtkWidget *button = gtk_button_new_with_label ("");
      gtk_widget_set_focusable (button, FALSE);
      gtk_widget_add_css_class (button, "flat");
      gtk_widget_add_css_class (button, "cell");
      gtk_widget_add_css_class (button, "holder");
      gtk_widget_set_sensitive (button, FALSE);
      gtk_widget_set_opacity (button, 0);
      gtk_grid_attach (grid, button, 0, (int) row, 1, 1);
    }
}

static gboolean
rebuild_cb (gpointer data)
{
  TallyJobMap *self = data;
  TallyJob *job = session_job (self->session);
  guint n_systems, n_areas;

  self->idle = 0;
  empty_grids (self);
  if (!job)
    return G_SOURCE_REMOVE;
  if (self->metric != job_names (job)->metric)
    {
      self->metric = job_names (job)->metric;
      name_choices (self);
    }
  n_systems = job_n (job, JOB_SYSTEM) + (has_loose_runs (self, TRUE) ? 1 : 0);
  n_areas = job_n (job, JOB_AREA) + (has_loose_runs (self, FALSE) ? 1 : 0);
  for (guint a = 0; a < n_areas; a++)
    {
      const JobRecord *area = a < job_n (job, JOB_AREA) ? job_at (job, JOB_AREA, a) : NULL;
      const char *name = area ? area->text[AREA_KEY] : _ ("no area");
      add_button (self, self->grid, (int) a + 1, 0, name, name, 0, area ? area->id : -1, NULL, FALSE);
    }
  for (guint s = 0; s <= n_systems; s++)
    {
      const JobRecord *system = s < job_n (job, JOB_SYSTEM) ? job_at (job, JOB_SYSTEM, s) : NULL;
      const char *name = system ? system->text[SYSTEM_KEY] : s < n_systems ? _ ("no system") : _ ("all");
      gint64 id = system ? system->id : s < n_systems ? -1 : 0;
      if (s < n_systems)
        add_button (self, self->names, 1, (int) s + 1, name, name, id, 0, NULL, FALSE);
      for (guint a = 0; a < n_areas; a++)
        {
          const JobRecord *area = a < job_n (job, JOB_AREA) ? job_at (job, JOB_AREA, a) : NULL;
          g_autofree char *what = g_strdup_printf ("%s, %s", name, area ? area->text[AREA_KEY] : _ ("no area"));
          add_figure (self, self->grid, (int) a + 1, (int) s + 1, what, id, area ? area->id : -1, s == n_systems);
        }
      add_figure (self, self->sums, 1, (int) s + 1, name, id, 0, TRUE);
    }
  hold_rows (self->names, n_systems + 2);
  hold_rows (self->grid, n_systems + 2);
  hold_rows (self->sums, n_systems + 2);
  return G_SOURCE_REMOVE;
}

static void
queue (TallyJobMap *self)
{
  if (self->idle == 0)
    self->idle = g_idle_add (rebuild_cb, self);
}

static void
changed_cb (TallySession *session, JobEdit *edit, TallyJobMap *self)
{
  (void) session;
  (void) edit;
  queue (self);
}

static void
other_cb (gpointer source, TallyJobMap *self)
{
  (void) source;
  queue (self);
}

static void
choice_cb (GtkDropDown *choice, GParamSpec *pspec, TallyJobMap *self)
{
  (void) choice;
  (void) pspec;
  queue (self);
}

static void
tally_job_map_dispose (GObject *object)
{
  TallyJobMap *self = TALLY_JOB_MAP (object);

  g_clear_handle_id (&self->idle, g_source_remove);
  g_clear_handle_id (&self->look, g_source_remove);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_job_map_parent_class)->dispose (object);
}

static void
tally_job_map_class_init (TallyJobMapClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tally_job_map_dispose;
}

/* Not while sizes are being given out. */
static gboolean
more_cb (gpointer data)
{
  TallyJobMap *self = data;

  self->look = 0;
  gtk_widget_set_visible (self->more, self->overflows);
  return G_SOURCE_REMOVE;
}

static void
areas_cb (GtkAdjustment *areas, TallyJobMap *self)
{
  gboolean overflows = gtk_adjustment_get_upper (areas) > gtk_adjustment_get_page_size (areas) + LEAST_HIDDEN;

  if (overflows != self->overflows && self->look == 0)
    self->look = g_idle_add (more_cb, self);
  self->overflows = overflows;
}

static GtkGrid *
new_grid (void)
{
  GtkGrid *grid = GTK_GRID (gtk_grid_new ());

  gtk_grid_set_row_spacing (grid, 2);
  gtk_grid_set_column_spacing (grid, 2);
  gtk_grid_set_row_homogeneous (grid, TRUE);
  gtk_widget_set_margin_bottom (GTK_WIDGET (grid), 10); /* where the bar is laid over */
  return grid;
}

static void
tally_job_map_init (TallyJobMap *self)
{
  GtkWidget *head = gtk_label_new (_ ("Job map"));
  GtkWidget *scrolled = gtk_scrolled_window_new (), *parts = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 2);
  const char *words[N_SHOWN + 1] = { NULL };

  for (int i = 0; i < N_SHOWN; i++)
    words[i] = _ (shown_names[i]);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 6);
  gtk_widget_add_css_class (GTK_WIDGET (self), "job-map");
  gtk_widget_add_css_class (head, "heading");
  gtk_label_set_xalign (GTK_LABEL (head), 0);
  gtk_box_append (GTK_BOX (self), head);
  self->choice = GTK_DROP_DOWN (gtk_drop_down_new_from_strings (words));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->choice), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Figure of the job map"), -1);
  gtk_box_append (GTK_BOX (self), GTK_WIDGET (self->choice));
  self->names = new_grid ();
  self->grid = new_grid ();
  self->sums = new_grid ();
  /* Many areas scroll inside; the choice above and what is below stay in sight. */
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_AUTOMATIC, GTK_POLICY_NEVER);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), GTK_WIDGET (self->grid));
  gtk_widget_set_hexpand (scrolled, TRUE);
  gtk_widget_set_hexpand (GTK_WIDGET (self->names), FALSE);
  gtk_widget_set_hexpand (GTK_WIDGET (self->sums), FALSE);
  gtk_box_append (GTK_BOX (parts), GTK_WIDGET (self->names));
  gtk_box_append (GTK_BOX (parts), scrolled);
  gtk_box_append (GTK_BOX (parts), GTK_WIDGET (self->sums));
  gtk_box_append (GTK_BOX (self), parts);
  self->more = gtk_label_new (_ ("Scroll sideways for more areas"));
  gtk_label_set_xalign (GTK_LABEL (self->more), 0);
  gtk_widget_add_css_class (self->more, "dim-label");
  gtk_widget_set_visible (self->more, FALSE);
  gtk_box_append (GTK_BOX (self), self->more);
  g_signal_connect (gtk_scrolled_window_get_hadjustment (GTK_SCROLLED_WINDOW (scrolled)), "changed", G_CALLBACK (areas_cb), self);
  g_signal_connect (self->choice, "notify::selected", G_CALLBACK (choice_cb), self);
}

GtkWidget *
tally_job_map_new (TallySession *session)
{
  TallyJobMap *self = g_object_new (TALLY_TYPE_JOB_MAP, NULL);

  self->session = g_object_ref (session);
  g_signal_connect_object (session, "changed", G_CALLBACK (changed_cb), self, 0);
  g_signal_connect_object (session, "job", G_CALLBACK (other_cb), self, 0);
  g_signal_connect_object (session, "scope", G_CALLBACK (other_cb), self, 0);
  queue (self);
  return GTK_WIDGET (self);
}
