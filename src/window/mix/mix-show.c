/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/mix/mix-private.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "chart/matrix.h"
#include "window/walk.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const CostMixPlan *
best_of (const MixAnswer *a)
{
  return g_ptr_array_index (a->report->best->plan, 0);
}

static char *
hours_words (gint64 ms)
{
  return session_figure ((double) ms / (double) COST_MIX_HOUR, 1, FALSE);
}

char **
mix_letters (const JobMix *mix)
{
  guint n = mix->mix->n_methods;
  char **out = g_new0 (char *, n + 1);

  for (guint m = 0; m < n; m++)
    {
      int method = g_array_index (mix->method, int, m);
      out[m] = method < 26 ? g_strdup_printf ("%c", 'A' + (char) method) : g_strdup_printf ("%d", method + 1);
    }
  return out;
}

/* ---- groups ---- */

typedef struct
{
  MixAllow allow;
  gpointer data;
  guint group, method;
} Allowed;

static void
allowed_cb (GtkCheckButton *check, Allowed *a)
{
  a->allow (a->data, a->group, a->method, gtk_check_button_get_active (check));
}

static void
allowed_free (gpointer data, GClosure *closure)
{
  (void) closure;
  g_free (data);
}

/* The checks are made when they are asked for: there may be hundreds of groups. */
static void
fill_allowed_cb (GtkMenuButton *button, gpointer data)
{
  MixAnswer *answer = g_object_get_data (G_OBJECT (button), "answer");
  TallyJob *job = g_object_get_data (G_OBJECT (button), "job");
  const Allowed *of = data;
  const JobMix *mix = answer->mix;
  GtkWidget *popover = gtk_popover_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);

  for (guint m = 0; m < mix->method->len; m++)
    {
      GtkWidget *check = gtk_check_button_new_with_label (mix->mix->method[m]);
      Allowed *a = g_memdup2 (of, sizeof *of);
      a->method = m;
      gtk_check_button_set_active (GTK_CHECK_BUTTON (check), !job_mix_forbids (job, job_mix_group (mix, of->group),
                                                                               g_array_index (mix->method, int, m)));
      g_signal_connect_data (check, "toggled", G_CALLBACK (allowed_cb), a, allowed_free, 0);
      gtk_box_append (GTK_BOX (box), check);
    }
  gtk_popover_set_child (GTK_POPOVER (popover), box);
  gtk_menu_button_set_popover (button, popover);
}

static GtkWidget *
allowed_button (TallyJob *job, const MixAnswer *answer, guint group, MixAllow allow, gpointer data)
{
  const JobMix *mix = answer->mix;
  GtkWidget *button = gtk_menu_button_new ();
  guint n = 0;
  Allowed *of = g_new0 (Allowed, 1);

  for (guint m = 0; m < mix->method->len; m++)
    n += job_mix_forbids (job, job_mix_group (mix, group), g_array_index (mix->method, int, m)) ? 0 : 1;
  g_autofree char *words =
      n == mix->method->len ? g_strdup (_ ("all")) : g_strdup_printf (_ ("%u of %u"), n, mix->method->len);
  g_autofree char *name = g_strdup_printf (_ ("Methods allowed on %s"), mix->mix->group[group]);
  gtk_menu_button_set_label (GTK_MENU_BUTTON (button), words);
  gtk_widget_add_css_class (button, "mix-allowed");
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  *of = (Allowed){ allow, data, group, 0 };
  g_object_set_data (G_OBJECT (button), "answer", (gpointer) answer);
  g_object_set_data_full (G_OBJECT (button), "job", g_object_ref (job), g_object_unref);
  g_object_set_data_full (G_OBJECT (button), "of", of, g_free);
  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (button), fill_allowed_cb, of, NULL);
  return button;
}

typedef struct
{
  guint group;
  gint64 cost;
} Dear;

static int
by_cost (gconstpointer a, gconstpointer b)
{
  const Dear *x = a, *y = b;

  if (x->cost != y->cost)
    return x->cost > y->cost ? -1 : 1;
  return x->group < y->group ? -1 : x->group > y->group;
}

/* "SA-1, Plant, class 6" and "over 54 in" of "SA-1, Plant, class 6, over 54 in". */
static char *
split_name (const char *name, char **size)
{
  const char *end = strrchr (name, ',');

  *size = g_strdup (end ? end + 2 : "");
  return end ? g_strndup (name, (gsize) (end - name)) : g_strdup (name);
}

/* Words are read from the left. */
static GtkWidget *
two_lines (const char *text, const char *below)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *first = gtk_label_new (text),
            *second = gtk_label_new (below);

  gtk_label_set_xalign (GTK_LABEL (first), 0);
  gtk_label_set_xalign (GTK_LABEL (second), 0);
  gtk_widget_add_css_class (second, "difference");
  gtk_box_append (GTK_BOX (box), first);
  gtk_box_append (GTK_BOX (box), second);
  return box;
}

/* Where a group leads: its runs are selected, and its cost is taken apart, against the next best method there. */
typedef struct
{
  TallySession *session; /* outlives the page */
  GArray *runs;
} Lead;

static void
lead_free (gpointer data)
{
  Lead *lead = data;

  g_array_unref (lead->runs);
  g_free (lead);
}

static void
select_runs (GtkWidget *button)
{
  const Lead *lead = g_object_get_data (G_OBJECT (button), "lead");

  session_set_selection (lead->session, (const gint64 *) (gpointer) lead->runs->data, lead->runs->len);
}

static void
lead_cb (GtkButton *button, gpointer data)
{
  const char *line = tally_walk_find (GTK_WIDGET (button));

  (void) data;
  select_runs (GTK_WIDGET (button));
  if (line)
    gtk_widget_activate_action (GTK_WIDGET (button), "win.explain", "s", line);
}

/* The key that takes a figure apart goes by what is selected. */
static void
enter_cb (GtkEventControllerFocus *focus, GtkWidget *button)
{
  (void) focus;
  select_runs (button);
}

static GtkWidget *
group_button (TallySession *session, const MixAnswer *answer, guint g, int next, const char *place, const char *runs)
{
  const JobMix *mix = answer->mix;
  const Catalogue *catalogue = job_basis (session_job (session))->catalogue;
  const CostMixPlan *best = best_of (answer);
  GtkWidget *button = gtk_button_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();
  Lead *lead = g_new0 (Lead, 1);
  g_autofree char *spoken = g_strdup_printf (_ ("%s: what its cost is made of"), mix->mix->group[g]);

  *lead = (Lead){ session, g_array_ref (job_mix_group (mix, g)->runs) };
  g_object_set_data_full (G_OBJECT (button), "lead", lead, lead_free);
  gtk_button_set_child (GTK_BUTTON (button), two_lines (place, runs));
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_add_css_class (button, "detail-run");
  gtk_widget_set_tooltip_text (button, _ ("Selects these runs and shows what their cost is made of"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  tally_walk_mark (button, "cost", catalogue_method (catalogue, g_array_index (mix->method, int, best->method[g]))->key,
                   next >= 0 ? catalogue_method (catalogue, g_array_index (mix->method, int, next))->key : NULL, NULL,
                   "runs");
  g_signal_connect (button, "clicked", G_CALLBACK (lead_cb), NULL);
  g_signal_connect (focus, "enter", G_CALLBACK (enter_cb), button);
  gtk_widget_add_controller (button, focus);
  return button;
}

static void
add_group (TallyFigureGrid *grid, TallySession *session, const MixAnswer *answer, guint g, char *const *letter,
           MixAllow allow, gpointer data)
{
  const JobMix *mix = answer->mix;
  const CostMixPlan *best = best_of (answer);
  const JobMixGroup *group = job_mix_group (mix, g);
  gsize at = (gsize) g * mix->mix->n_methods + best->method[g];
  gint64 more, less = mix->mix->cost[at] - group->own_cost;
  int next = cost_mix_next_best (mix->mix, best, g, &more);
  g_autofree char *method = g_strdup_printf ("%s  %s", letter[best->method[g]], mix->mix->method[best->method[g]]);
  g_autofree char *now = group->own == (int) best->method[g] ? g_strdup (_ ("as it stands"))
                         : group->own >= 0 ? g_strdup_printf (_ ("now %s"), mix->mix->method[group->own])
                                           : g_strdup (_ ("now several methods"));
  g_autofree char *size = NULL, *place = split_name (mix->mix->group[g], &size);
  g_autofree char *runs = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s; %u run", "%s; %u runs", group->runs->len),
                                           size, group->runs->len);
  g_autofree char *cost = job_mix_money (mix, mix->mix->cost[at]), *hours = hours_words (mix->mix->hours[at]);
  g_autofree char *less_text = job_mix_money (mix, ABS (less)), *change = NULL, *dearer = NULL;

  if (less != 0)
    change = g_strdup_printf (less < 0 ? _ ("%s less") : _ ("%s more"), less_text);
  if (next >= 0)
    {
      g_autofree char *text = job_mix_money (mix, more);
      dearer = g_strdup_printf (_ ("%s more"), text);
    }
  tally_figure_grid_row (grid, FALSE);
  tally_figure_grid_take (grid, group_button (session, answer, g, next, place, runs));
  tally_figure_grid_take (grid, two_lines (method, now));
  tally_figure_grid_cell (grid, cost, change, less < 0);
  tally_figure_grid_cell (grid, hours, NULL, FALSE);
  tally_figure_grid_cell (grid, next >= 0 ? letter[next] : _ ("none"), dearer, FALSE);
  tally_figure_grid_take (grid, allowed_button (session_job (session), answer, g, allow, data));
}

guint
mix_show_groups (TallyFigureGrid *grid, TallySession *session, const MixAnswer *answer, guint most, MixAllow allow,
                 gpointer data)
{
  const CostMix *mix = answer->mix->mix;
  const CostMixPlan *best = best_of (answer);
  g_autofree Dear *order = g_new (Dear, MAX (mix->n_groups, 1));
  g_auto (GStrv) letter = mix_letters (answer->mix);
  guint n = most > 0 ? MIN (most, mix->n_groups) : mix->n_groups;

  for (guint g = 0; g < mix->n_groups; g++)
    order[g] = (Dear){ g, mix->cost[(gsize) g * mix->n_methods + best->method[g]] };
  qsort (order, mix->n_groups, sizeof *order, by_cost);
  tally_figure_grid_clear (grid);
  tally_figure_grid_head (grid, _ ("Group"), NULL);
  tally_figure_grid_head_words (grid, _ ("Method"), NULL);
  tally_figure_grid_head (grid, _ ("Cost"), NULL);
  tally_figure_grid_head (grid, _ ("Field"), _ ("worker-h"));
  tally_figure_grid_head (grid, _ ("Next best there"), NULL);
  tally_figure_grid_head_words (grid, _ ("Allowed"), NULL);
  for (guint i = 0; i < n; i++)
    add_group (grid, session, answer, order[i].group, letter, allow, data);
  return mix->n_groups - n;
}

/* ---- beside the answer ---- */

void
mix_show_parts (TallyFigureGrid *grid, const MixAnswer *answer)
{
  g_autoptr (GArray) parts = job_mix_parts (answer->mix, answer->mix->mix, best_of (answer));

  tally_figure_grid_clear (grid);
  tally_figure_grid_head (grid, _ ("Part"), NULL);
  tally_figure_grid_head (grid, _ ("Cost"), NULL);
  tally_figure_grid_head (grid, _ ("Field"), _ ("worker-h"));
  for (guint i = 0; i < parts->len; i++)
    {
      const JobMixPart *part = &g_array_index (parts, JobMixPart, i);
      g_autofree char *cost = job_mix_money (answer->mix, part->cost),
                      *hours = session_figure ((double) part->hours / (double) COST_MIX_HOUR, 2, FALSE);
      tally_figure_grid_row (grid, i + 1 == parts->len);
      tally_figure_grid_cell (grid, part->name, NULL, FALSE);
      tally_figure_grid_cell (grid, cost, NULL, FALSE);
      tally_figure_grid_cell (grid, hours, NULL, FALSE);
    }
}

static void
add_way (TallyFigureGrid *grid, const MixAnswer *answer, const char *name, const char *below, gint64 cost, gint64 hours,
         gint64 unmated, gboolean bold)
{
  const JobMix *mix = answer->mix;
  gint64 less = cost - job_mix_cost (mix, best_of (answer));
  g_autofree char *money = job_mix_money (mix, cost), *time = hours_words (hours),
                  *text = job_mix_money (mix, ABS (less));
  g_autofree char *against = less == 0 ? NULL : g_strdup_printf (less > 0 ? _ ("%s more") : _ ("%s less"), text);
  g_autofree char *joints = g_strdup_printf ("%" G_GINT64_FORMAT, unmated);

  tally_figure_grid_row (grid, bold);
  tally_figure_grid_cell (grid, name, below, FALSE);
  tally_figure_grid_cell (grid, money, against, less < 0);
  tally_figure_grid_cell (grid, time, NULL, FALSE);
  tally_figure_grid_cell (grid, joints, NULL, FALSE);
}

/* What a plan does otherwise than the answer. */
static char *
otherwise (const MixAnswer *answer, const CostMixPlan *plan)
{
  const CostMix *mix = answer->mix->mix;
  const CostMixPlan *best = best_of (answer);
  guint n = 0, at = 0;

  if (plan->methods == 1)
    return g_strdup (mix->method[plan->method[0]]);
  for (guint g = 0; g < mix->n_groups; g++)
    if (plan->method[g] != best->method[g])
      {
        at = g;
        n++;
      }
  if (n == 1)
    return g_strdup_printf (_ ("%s by %s"), mix->group[at], mix->method[plan->method[at]]);
  return n == 0 ? g_strdup ("")
                : g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "another method on %u group",
                                                "another method on %u groups", n),
                                   n);
}

static void
add_plan (TallyFigureGrid *grid, const MixAnswer *answer, const char *name, const CostMixPlan *plan, gboolean bold)
{
  if (!plan)
    return;
  g_autofree char *words = otherwise (answer, plan);
  add_way (grid, answer, name, *words ? words : NULL, job_mix_cost (answer->mix, plan), plan->hours, plan->unmated,
           bold);
}

void
mix_show_figures (TallyFigureGrid *grid, const MixAnswer *answer)
{
  const CostMixReport *report = answer->report;
  gboolean limited = !isnan (answer->mix->limit_hours);

  tally_figure_grid_clear (grid);
  tally_figure_grid_head (grid, _ ("Way"), NULL);
  tally_figure_grid_head (grid, _ ("Cost and tooling"), NULL);
  tally_figure_grid_head (grid, _ ("Field"), _ ("worker-h"));
  tally_figure_grid_head (grid, _ ("Unlike joints"), NULL);
  add_plan (grid, answer, _ ("This mix"), best_of (answer), TRUE);
  for (guint i = 1; i < report->best->plan->len; i++)
    add_plan (grid, answer, i == 1 ? _ ("Next best") : _ ("After that"), g_ptr_array_index (report->best->plan, i),
              FALSE);
  add_plan (grid, answer, limited ? _ ("Best single method within the limits") : _ ("Best single method"), report->one,
            FALSE);
  if (limited)
    {
      add_plan (grid, answer, _ ("With one more field hour"), report->more, FALSE);
      add_plan (grid, answer, _ ("Without the limit on hours"), report->free, FALSE);
      add_plan (grid, answer, _ ("Best single method without the limit on hours"), report->one_free, FALSE);
    }
  add_way (grid, answer, _ ("The job as it stands"), NULL, answer->mix->own_cost, answer->mix->own_hours,
           answer->mix->own_unmated, FALSE);
}

/* ---- what changes ---- */

void
mix_show_changes (TallyFigureGrid *grid, const MixAnswer *answer)
{
  const JobMix *mix = answer->mix;
  const CostMixPlan *best = best_of (answer);

  tally_figure_grid_clear (grid);
  tally_figure_grid_head (grid, _ ("Method to take"), NULL);
  tally_figure_grid_head (grid, _ ("Groups"), NULL);
  tally_figure_grid_head (grid, _ ("Runs"), NULL);
  tally_figure_grid_head (grid, _ ("Cost"), NULL);
  tally_figure_grid_head (grid, _ ("Field"), _ ("worker-h"));
  for (int from = -1; from < (int) mix->mix->n_methods; from++)
    for (guint to = 0; to < mix->mix->n_methods; to++)
      {
        guint groups = 0, runs = 0;
        gint64 cost = 0, hours = 0;
        for (guint g = 0; g < mix->group->len; g++)
          {
            const JobMixGroup *group = job_mix_group (mix, g);
            gsize at = (gsize) g * mix->mix->n_methods + to;
            if (group->own != from || best->method[g] != to || from == (int) to)
              continue;
            groups++;
            runs += group->runs->len;
            cost += mix->mix->cost[at] - group->own_cost;
            hours += mix->mix->hours[at] - group->own_hours;
          }
        if (groups == 0)
          continue;
        g_autofree char *groups_text = g_strdup_printf ("%u", groups), *runs_text = g_strdup_printf ("%u", runs);
        g_autofree char *money = job_mix_money (mix, ABS (cost)), *signed_money = NULL;
        g_autofree char *time = session_figure ((double) hours / (double) COST_MIX_HOUR, 1, TRUE);
        signed_money = g_strdup_printf (cost <= 0 ? _ ("%s less") : _ ("%s more"), money);
        tally_figure_grid_row (grid, FALSE);
        g_autofree char *instead =
            g_strdup_printf (_ ("instead of %s"), from < 0 ? _ ("several methods") : mix->mix->method[from]);
        tally_figure_grid_cell (grid, mix->mix->method[to], instead, FALSE);
        tally_figure_grid_cell (grid, groups_text, NULL, FALSE);
        tally_figure_grid_cell (grid, runs_text, NULL, FALSE);
        tally_figure_grid_cell (grid, signed_money, NULL, cost < 0);
        tally_figure_grid_cell (grid, time, NULL, FALSE);
      }
}

/* ---- the picture ---- */

typedef struct
{
  ChartMatrix matrix;
  ChartField *field;
  char **row, **column, **letter;
} Picture;

static void
picture_free (gpointer data)
{
  Picture *p = data;

  g_free (p->field);
  g_strfreev (p->row);
  g_strfreev (p->column);
  g_strfreev (p->letter);
  g_free (p);
}

static double
picture_height (const ChartPaper *paper, double width, gpointer data)
{
  return chart_matrix_height (paper, &((Picture *) data)->matrix, width);
}

static void
picture_draw (const ChartPaper *paper, double width, gpointer data)
{
  chart_matrix_draw (paper, &((Picture *) data)->matrix, width);
}

static GPtrArray *
picture_spots (const ChartPaper *paper, double width, gpointer data)
{
  return chart_matrix_spots (paper, &((Picture *) data)->matrix, width);
}

static gboolean
same_row (const JobMixGroup *a, const JobMixGroup *b)
{
  return a->system == b->system && a->area == b->area && a->pressure == b->pressure;
}

static void
name_columns (Picture *p, const JobMix *mix)
{
  p->column = g_new0 (char *, p->matrix.columns + 1);
  for (gsize c = 0; c < p->matrix.columns; c++)
    {
      if (c == mix->bands->len)
        {
          p->column[c] = g_strdup (_ ("over"));
          continue;
        }
      gint64 nm = g_array_index (mix->bands, gint64, c);
      p->column[c] = decimal_print (nm / (LENGTH_NM_PER_IN / 1000), 3, 0, FALSE);
    }
}

static char *
legend (const JobMix *mix, char *const *letter, const ChartField *field, gsize n)
{
  GString *out = g_string_new (NULL);

  for (guint m = 0; m < mix->mix->n_methods; m++)
    g_string_append_printf (out, "%s%s: %s", out->len > 0 ? ";  " : "", letter[m], mix->mix->method[m]);
  for (gsize i = 0; i < n; i++)
    if (field[i].marked)
      {
        g_string_append (out, _ (".  Outlined: another method than the job has now"));
        break;
      }
  g_string_append (out, _ (".  Blank: no duct of that size there."));
  return g_string_free (out, FALSE);
}

static gboolean
all_change (const JobMix *mix, const CostMixPlan *best)
{
  for (guint g = 0; g < mix->group->len; g++)
    if (job_mix_group (mix, g)->own == (int) best->method[g])
      return FALSE;
  return TRUE;
}

/* The whole job by the method of a group, against the next best there. */
static char *
walk_of (const Catalogue *catalogue, const JobMix *mix, const CostMixPlan *best, guint g)
{
  gint64 more;
  int next = cost_mix_next_best (mix->mix, best, g, &more);

  return tally_walk_line ("cost", catalogue_method (catalogue, g_array_index (mix->method, int, best->method[g]))->key,
                          next >= 0 ? catalogue_method (catalogue, g_array_index (mix->method, int, next))->key : NULL, NULL, "job");
}

char *
mix_show_picture (TallyChartArea *area, TallyJob *job, const MixAnswer *answer)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  GPtrArray *walks = g_ptr_array_new_with_free_func (g_free);
  const JobMix *mix = answer->mix;
  const CostMixPlan *best = best_of (answer);
  Picture *p = g_new0 (Picture, 1);
  g_autoptr (GPtrArray) first = g_ptr_array_new (); /* a group of each row */
  g_autofree char *table = NULL;
  char *words;

  for (guint g = 0; g < mix->group->len; g++)
    {
      gboolean known = FALSE;
      for (guint r = 0; r < first->len; r++)
        known = known || same_row (g_ptr_array_index (first, r), job_mix_group (mix, g));
      if (!known)
        g_ptr_array_add (first, (gpointer) job_mix_group (mix, g));
    }
  p->letter = mix_letters (mix);
  p->matrix.rows = first->len;
  p->matrix.columns = mix->bands->len + 1;
  p->row = g_new0 (char *, first->len + 1);
  p->field = g_new0 (ChartField, first->len * p->matrix.columns);
  name_columns (p, mix);
  for (gsize i = 0; i < first->len * p->matrix.columns; i++)
    {
      p->field[i].absent = TRUE;
      g_ptr_array_add (walks, NULL);
    }
  for (guint r = 0; r < first->len; r++)
    {
      g_autofree char *size = NULL;
      p->row[r] = split_name (((const JobMixGroup *) g_ptr_array_index (first, r))->name, &size);
    }
  for (guint g = 0; g < mix->group->len; g++)
    for (guint r = 0; r < first->len; r++)
      if (same_row (g_ptr_array_index (first, r), job_mix_group (mix, g)))
        {
          const char *letter = p->letter[best->method[g]];
          gboolean other = job_mix_group (mix, g)->own != (int) best->method[g];
          /* Where all of it changes, marks would say nothing. */
          p->field[r * p->matrix.columns + job_mix_group (mix, g)->band] =
              (ChartField){ letter, (best->method[g] + 1.0) / mix->mix->n_methods, other && !all_change (mix, best), FALSE };
          walks->pdata[r * p->matrix.columns + job_mix_group (mix, g)->band] = walk_of (catalogue, mix, best, g);
        }
  p->matrix.field = p->field;
  p->matrix.row = (const char *const *) p->row;
  p->matrix.column = (const char *const *) p->column;
  p->matrix.corner = _ ("system, area, class");
  p->matrix.axis = _ ("longest side up to, in");
  p->matrix.mark = _ ("changes");
  table = chart_matrix_table (&p->matrix);
  words = legend (mix, p->letter, p->field, p->matrix.rows * p->matrix.columns);
  tally_chart_area_set (area, picture_height, picture_draw, p, picture_free, table);
  tally_chart_area_set_spots (area, picture_spots);
  tally_chart_area_set_walks (area, walks);
  return words;
}
