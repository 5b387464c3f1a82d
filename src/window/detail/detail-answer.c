/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A figure of the comparison taken apart in the pane: its steps and items with their sources, the readings of a study, and the runs
 * that carry it, from each of which the walk goes on. */
#include "config.h"

#include "window/detail/detail-private.h"

#include "base/decimal.h"
#include "window/walk.h"

#include <glib/gi18n.h>
#include <math.h>

#define MOST_PARTS 25
#define MOST_RUNS 15
#define MOST_PRICED 5000 /* runs; each costs pricing it */

/* What is looked up anew when it is opened. */
typedef struct
{
  TallySession *session;
  char *line;      /* of the figure */
  JobFigure of;    /* the figure whose runs are listed */
} Walk;

static void
walk_free (gpointer data)
{
  Walk *w = data;

  g_free (w->line);
  g_free (w);
}

/* Held against another method, or, of a what-if alone, against the job as it stands. */
static gboolean
two_ways (const TallyWalk *f)
{
  return f->against || f->what_if;
}

static JobComparison *
compare (TallySession *session, const TallyWalk *f)
{
  TallyJob *job = session_job (session);
  const JobWay ways[] = { { f->method, f->what_if }, { f->against ? f->against : f->method, f->against ? f->what_if : NULL } };
  const GArray *ids = session_selection (session);
  JobPart part = { { 0, 0 }, NULL, 0 };

  if (g_str_equal (f->part, "part"))
    part.scope = *session_scope (session);
  if (g_str_equal (f->part, "runs") && ids->len > 0)
    {
      part.ids = (const gint64 *) (gpointer) ids->data;
      part.n_ids = ids->len;
    }
  return job_compare (job, ways, two_ways (f) ? 2 : 1, 0, &part);
}

static char *
figure_text (const JobFigure *figure, double value, gboolean sign)
{
  int decimals = figure->kind == JOB_FIGURE_ITEM ? 1 : 2;
  g_autofree char *text = detail_fixed (value, decimals);

  return sign && value > 0 ? g_strconcat ("+", text, NULL) : g_steal_pointer (&text);
}

/* ---- runs ---- */

static void
run_cb (GtkButton *button, TallySession *session)
{
  gint64 id = *(gint64 *) g_object_get_data (G_OBJECT (button), "run");

  session_set_selection (session, &id, 1);
}

static void
add_run (GtkWidget *box, TallySession *session, const JobFigure *figure, const JobAnswerRun *run, gboolean against)
{
  TallyJob *job = session_job (session);
  const JobNames *names = job_names (job);
  const JobRecord *record = job_at (job, JOB_RUN, run->position);
  g_autofree char *kind = job_record_print (record, job_field_find (JOB_RUN, "kind"), names);
  g_autofree char *size = job_record_print (record, job_field_find (JOB_RUN, "size"), names);
  g_autofree char *amount = figure_text (figure, against ? run->amount[0] - run->amount[1] : run->amount[0], against);
  g_autofree char *name = g_strdup_printf (_ ("run %u, %s %s"), run->position + 1, kind,
                                           *size || !record->text[RUN_ITEM] ? size : record->text[RUN_ITEM]);
  GtkWidget *button = gtk_button_new (), *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *left = gtk_label_new (name), *right = gtk_label_new (amount);
  g_autofree char *spoken = g_strdup_printf ("%s: %s", name, amount);

  gtk_label_set_xalign (GTK_LABEL (left), 0);
  gtk_label_set_ellipsize (GTK_LABEL (left), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (left, TRUE);
  gtk_widget_add_css_class (right, "figure");
  gtk_box_append (GTK_BOX (line), left);
  gtk_box_append (GTK_BOX (line), right);
  gtk_button_set_child (GTK_BUTTON (button), line);
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_add_css_class (button, "detail-run");
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  g_object_set_data_full (G_OBJECT (button), "run", g_memdup2 (&run->id, sizeof run->id), g_free);
  g_signal_connect_object (button, "clicked", G_CALLBACK (run_cb), session, 0);
  gtk_box_append (GTK_BOX (box), button);
}

static void
fill_runs (GtkWidget *box, gpointer data)
{
  Walk *w = data;
  TallyJob *job = session_job (w->session);
  g_autoptr (JobComparison) c = NULL;
  g_autoptr (GArray) runs = NULL;
  TallyWalk f;

  if (!job || !tally_walk_read (w->line, &f))
    return;
  if (job_n (job, JOB_RUN) > MOST_PRICED)
    {
      detail_words (box, "dim-label", "%s", _ ("That many runs are not priced one by one here: narrow the comparison to a part."));
      tally_walk_clear (&f);
      return;
    }
  c = compare (w->session, &f);
  runs = job_answer_runs (c, 0, two_ways (&f) ? 1 : -1, &w->of);
  for (guint i = 0; i < MIN (runs->len, MOST_RUNS); i++)
    add_run (box, w->session, &w->of, &g_array_index (runs, JobAnswerRun, i), two_ways (&f));
  if (runs->len > MOST_RUNS)
    detail_words (box, "caption dim-label", ngettext ("and %u run more", "and %u runs more", runs->len - MOST_RUNS), runs->len - MOST_RUNS);
  if (runs->len == 0)
    detail_words (box, "caption dim-label", "%s", _ ("No run puts anything into it."));
  tally_walk_clear (&f);
}

/* ---- readings ---- */

static void
fill_readings (GtkWidget *box, gpointer data)
{
  Walk *w = data;
  TallyJob *job = session_job (w->session);
  int step = w->of.target;
  GtkWidget *table;

  if (!job || step < 0)
    return;
  const LabourStudy *study = job_answer_study (job, step);
  if (!study)
    return;
  table = detail_table (box);
  for (guint i = 0; i < study->readings->len; i++)
    {
      const LabourReading *r = g_ptr_array_index (study->readings, i);
      g_autofree char *minutes = detail_fixed (r->minutes, 2);
      g_autofree char *what = g_strdup_printf (_ ("%s, %s, %s"), r->date, r->size, r->timed);
      g_autofree char *more = g_strdup_printf (*r->struck ? _ ("%s; crew of %d, %d made in %.2f min; struck: %s") : _ ("%s; crew of %d, %d made in %.2f min%s"),
                                               r->observer, r->crew_size, r->count, r->clock_min, r->struck);
      const char *head[] = { what, minutes }, *foot[] = { more };
      detail_table_row (table, NULL, head, 2);
      detail_table_row (table, "caption dim-label", foot, 1);
    }
}

/* ---- parts ---- */

static gboolean *
state_of (GHashTable *open, const char *line, const char *what, const char *name)
{
  g_autofree char *key = g_strdup_printf ("%s\037%s\037%s", line, what, name);
  gboolean *state = g_hash_table_lookup (open, key);

  if (!state)
    g_hash_table_insert (open, g_steal_pointer (&key), state = g_new0 (gboolean, 1));
  return state;
}

static Walk *
walk_new (TallySession *session, const char *line, JobFigure of)
{
  Walk *w = g_new (Walk, 1);

  *w = (Walk) { session, g_strdup (line), of };
  return w;
}

static char *
under_words (const JobAnswer *a, const JobAnswerPart *p)
{
  g_autofree char *n = detail_fixed (p->quantity[0], 1), *m = detail_fixed (p->quantity[1], 1);
  g_autofree char *rate = isnan (p->rate[0]) ? NULL : detail_fixed (p->rate[0], 2);

  if (!*p->unit)
    return g_strdup (p->source);
  if (a->against)
    return g_strdup_printf (_ ("%s %s, against %s · %s, %s"), n, p->unit, m, p->status, p->source);
  if (rate)
    return g_strdup_printf (_ ("%s %s at %s · %s, %s"), n, p->unit, rate, p->status, p->source);
  return g_strdup_printf (_ ("%s %s · %s, %s"), n, p->unit, p->status, p->source);
}

static void
add_part (GtkWidget *box, TallySession *session, const char *line, const JobAnswer *a, const JobAnswerPart *p, GHashTable *open)
{
  GtkWidget *table = detail_table (box);
  g_autofree char *amount = figure_text (&a->figure, job_answer_of (a, p->amount), a->against), *under = under_words (a, p);
  const char *head[] = { p->name, amount };

  detail_table_row (table, NULL, head, 2);
  if (*under)
    detail_words (box, "caption dim-label", "%s", under);
  if (p->target < 0 || a->figure.kind >= JOB_FIGURE_STEP)
    return;
  JobFigure of = { p->kind == JOB_PART_STEP ? JOB_FIGURE_STEP : JOB_FIGURE_ITEM, p->target };
  detail_expander (box, p->kind == JOB_PART_STEP ? _ ("its runs, worker-hours") : _ ("its runs, quantity"),
                   state_of (open, line, "runs", p->name), fill_runs, walk_new (session, line, of), walk_free);
  if (p->study)
    detail_expander (box, _ ("the readings of its time study"), state_of (open, line, "study", p->name), fill_readings,
                     walk_new (session, line, of), walk_free);
}

static void
add_whole (GtkWidget *box, const JobAnswer *a)
{
  GtkWidget *table = detail_table (box);
  g_autofree char *first = figure_text (&a->figure, a->whole[0], FALSE), *second = figure_text (&a->figure, a->whole[1], FALSE);
  g_autofree char *difference = figure_text (&a->figure, a->whole[0] - a->whole[1], TRUE);
  const char *rows[][2] = { { a->name[0], first }, { a->name[1], second }, { _ ("difference"), difference } };

  for (int i = 0; i < (a->against ? 3 : 1); i++)
    detail_table_row (table, i == 2 ? "heading" : NULL, rows[i], 2);
  if (a->figure.kind == JOB_FIGURE_COST && (a->once[0] != 0 || a->once[1] != 0))
    {
      g_autofree char *once = detail_fixed (a->once[0], 2), *other = detail_fixed (a->once[1], 2);
      detail_words (box, "caption dim-label", a->against ? _ ("Tooling, once, beside it: %s, against %s.") : _ ("Tooling, once, beside it: %s.%.0s"),
                    once, other);
    }
}

static void
add_answer (GtkWidget *box, TallySession *session, const char *line, const JobAnswer *a, GHashTable *open)
{
  TallyJob *job = session_job (session);
  g_autofree char *sentence = job_answer_sentence (job, a);
  double shown = 0;

  detail_words (box, "heading", "%s", sentence);
  add_whole (box, a);
  detail_heading (box, a->against ? _ ("What the difference is made of") : _ ("What it is made of"));
  for (guint i = 0; i < MIN (a->part->len, MOST_PARTS); i++)
    {
      add_part (box, session, line, a, job_answer_part (a, i), open);
      shown += job_answer_of (a, job_answer_part (a, i)->amount);
    }
  if (a->part->len > MOST_PARTS)
    {
      GtkWidget *table = detail_table (box);
      g_autofree char *rest = figure_text (&a->figure, job_answer_of (a, a->whole) - shown, a->against);
      g_autofree char *words = g_strdup_printf (_ ("%u more"), a->part->len - MOST_PARTS);
      const char *cells[] = { words, rest };
      detail_table_row (table, NULL, cells, 2);
    }
  detail_heading (box, _ ("Runs that carry most of it"));
  detail_words (box, "caption dim-label", "%s", _ ("A run leads on to its recipe lines; F4 comes back here."));
  Walk w = { session, (char *) line, a->figure };
  fill_runs (box, &w);
}

gboolean
detail_add_answer (GtkWidget *box, TallySession *session, const char *line, GHashTable *open)
{
  TallyJob *job = session_job (session);
  g_autoptr (JobComparison) c = NULL;
  JobFigure figure;
  TallyWalk f;
  Fault *fault = NULL;

  if (!job || !tally_walk_read (line, &f))
    return FALSE;
  if (job_figure_parse (job, f.figure, &figure, &fault))
    {
      c = compare (session, &f);
      for (guint i = 0; i < c->way->len && !fault; i++)
        if (job_comparison_way (c, i)->fault)
          fault = fault_copy (job_comparison_way (c, i)->fault);
    }
  detail_words (box, "title-4", "%s", _ ("From a figure to its sources"));
  if (fault)
    {
      g_autofree char *words = fault_words (fault, f.figure);
      detail_words (box, "attention", "%s", words);
      fault_free (fault);
    }
  else
    {
      g_autoptr (JobAnswer) a = job_answer_new (c, 0, two_ways (&f) ? 1 : -1, &figure);
      add_answer (box, session, line, a, open);
    }
  tally_walk_clear (&f);
  return TRUE;
}
