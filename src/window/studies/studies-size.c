/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/studies/studies-private.h"

#include "chart/fit.h"
#include "cost/study-bands.h"
#include "window/chart-area.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define MOST_SERIES 6

/* A picture with all that it borrows. */
typedef struct
{
  GPtrArray *studies;
  GPtrArray *fits;       /* over girth; NULL over pounds */
  CostStudyBands *bands; /* over pounds; NULL where no reading tells them */
  char *name[MOST_SERIES], *x_words;
  ChartFitSeries series[MOST_SERIES];
  char *band_words;
  ChartFit fit;
} Picture;

typedef struct
{
  TallySession *session; /* borrowed: the window holds both */
  TallyDraft *draft;
  char *key;
  gboolean filling;
  GtkWidget *area, *by, *feet, *what, *step, *use, *line;
  GtkLabel *words, *fault;
  Picture *picture;      /* borrowed: the area's */
} Page;

static void
page_free (gpointer data)
{
  Page *p = data;

  g_free (p->key);
  g_free (p);
}

static void
picture_free (gpointer data)
{
  Picture *q = data;

  for (int i = 0; i < MOST_SERIES; i++)
    g_free (q->name[i]);
  g_clear_pointer (&q->fits, g_ptr_array_unref);
  g_clear_pointer (&q->bands, cost_study_bands_free);
  g_ptr_array_unref (q->studies);
  g_free (q->band_words);
  g_free (q->x_words);
  g_free (q);
}

static double
picture_height (const ChartPaper *paper, double width, gpointer data)
{
  return chart_fit_height (paper, &((Picture *) data)->fit, width);
}

static void
picture_draw (const ChartPaper *paper, double width, gpointer data)
{
  chart_fit_draw (paper, &((Picture *) data)->fit, width);
}

static GPtrArray *
picture_spots (const ChartPaper *paper, double width, gpointer data)
{
  return chart_fit_spots (paper, &((Picture *) data)->fit, width);
}

static const LabourStudy *
find_study (const GPtrArray *studies, const char *key)
{
  for (guint i = 0; key && i < studies->len; i++)
    if (g_str_equal (((LabourStudy *) g_ptr_array_index (studies, i))->key, key))
      return g_ptr_array_index (studies, i);
  return NULL;
}

static gboolean
by_pounds (Page *p)
{
  return gtk_drop_down_get_selected (GTK_DROP_DOWN (p->by)) == 1;
}

/* Key of the chosen method, "" where readings name none or nothing is chosen. */
static char *
chosen_method (Page *p, const LabourStudy *study)
{
  g_autoptr (GPtrArray) methods = labour_study_methods (study);
  guint i = gtk_drop_down_get_selected (GTK_DROP_DOWN (p->what));

  return g_strdup (methods->len == 0 ? "" : g_ptr_array_index (methods, i < methods->len ? i : 0));
}

static void
add_girth_series (Page *p, Picture *q)
{
  for (guint i = 0; i < MIN (q->fits->len, MOST_SERIES); i++)
    {
      const CostStudyFit *f = g_ptr_array_index (q->fits, i);
      ChartFitSeries *s = &q->series[q->fit.n_series++];
      q->name[i] = g_strdup (studies_method_name (p->draft, f->method));
      *s = (ChartFitSeries){
        .name = q->name[i], .x = f->girth, .y = f->minutes, .words = (const char *const *) f->words->pdata, .n = f->n
      };
      if (!f->fit)
        continue;
      s->at = f->at;
      s->mean = f->mean;
      s->mean_half = f->mean_half;
      s->new_half = f->new_half;
      s->n_at = COST_FIT_PLACES;
    }
}

static char *
band_name (const LabourFitBand *band)
{
  if (isinf (band->over_lb))
    return isinf (band->upto_lb) ? g_strdup (_ ("all pieces")) : g_strdup_printf (_ ("to %g lb"), band->upto_lb);
  return isinf (band->upto_lb) ? g_strdup_printf (_ ("over %g lb"), band->over_lb)
                               : g_strdup_printf (_ ("over %g to %g lb"), band->over_lb, band->upto_lb);
}

static void
add_band_series (Picture *q)
{
  for (guint i = 0; i < MIN (q->bands->handling->len, MOST_SERIES); i++)
    {
      const CostHandling *h = &g_array_index (q->bands->handling, CostHandling, i);
      ChartFitSeries *s = &q->series[q->fit.n_series++];
      q->name[i] = band_name (h->band);
      *s = (ChartFitSeries){
        .name = q->name[i], .x = h->lb, .y = h->minutes, .words = (const char *const *) h->words->pdata, .n = h->n
      };
      if (!h->band->fit)
        continue;
      s->at = h->at;
      s->mean = h->mean;
      s->mean_half = h->mean_half;
      s->new_half = h->new_half;
      s->n_at = COST_FIT_PLACES;
    }
}

/* Bands are those of the step that is chosen. */
static CostStudyBands *
bands_of (Page *p, const LabourStudy *study)
{
  const char *step = studies_steps_chosen (p->step);
  g_autoptr (GArray) limits = cost_step_limits (draft_tables (p->draft)[CATALOGUE_STEPS], step ? step : "");
  g_autofree char *method = chosen_method (p, study);

  return cost_study_bands_new (study, method, limits, gtk_check_button_get_active (GTK_CHECK_BUTTON (p->feet)), LENGTH_IN);
}

static Picture *
picture_new (Page *p)
{
  Picture *q = g_new0 (Picture, 1);
  const LabourStudy *study;

  q->studies = studies_of_draft (p->draft);
  study = find_study (q->studies, p->key);
  q->band_words = g_strdup_printf (_ ("Filled: %.4g %% band of the mean. Dashed: of one new reading."),
                                   study ? study->confidence * 100 : 95);
  q->x_words = g_strdup (by_pounds (p) ? _ ("piece, lb") : _ ("girth, ft"));
  q->fit = (ChartFit){ .series = q->series,
                       .x_words = q->x_words,
                       .y_words = _ ("standard worker-minutes of one"),
                       .band_words = q->band_words };
  if (study && by_pounds (p))
    q->bands = bands_of (p, study);
  else if (study)
    q->fits = cost_study_fits (study, NULL, LENGTH_IN);
  if (q->bands)
    add_band_series (q);
  else if (q->fits)
    add_girth_series (p, q);
  return q;
}

static void
say_left_out (GString *out, guint n, const char *what)
{
  if (n > 0)
    g_string_append_printf (out,
                            ngettext (" %u reading without %s is left out.", " %u readings without %s are left out.",
                                      n),
                            n, what);
}

/* "Slip-on flange, bolted corners: 14.80 + 0.85 a foot of girth; one reading scatters by 1.2." or why there is none. */
static char *
fit_words (Page *p, const CostStudyFit *f)
{
  const char *name = *f->method ? studies_method_name (p->draft, f->method) : _ ("All readings");
  g_autoptr (GString) out = g_string_new (NULL);

  if (f->fit)
    g_string_append_printf (
        out,
        _ ("%s: %.2f min + %.2f a foot of girth (±%.2f, ±%.2f), %zu readings; they scatter by %.2f about the line."),
        name, f->fit->b[0], f->fit->b[1], f->fit->se[0], f->fit->se[1], f->n, f->fit->s);
  else
    {
      g_autofree char *told = fault_words (f->fault, NULL);
      g_string_append_printf (out, _ ("%s: no line. %s."), name, told);
    }
  if (f->doubt)
    g_string_append_printf (out, " %s.", f->doubt);
  say_left_out (out, f->left_out, _ ("a size"));
  return g_string_free (g_steal_pointer (&out), FALSE);
}

static char *
band_words (const CostHandling *h, gboolean with_ft)
{
  const LabourFit *fit = h->band->fit;
  g_autofree char *name = band_name (h->band);
  g_autoptr (GString) out = g_string_new (NULL);

  if (!fit)
    {
      g_autofree char *told = fault_words (h->band->fault, NULL);
      return g_strdup_printf (_ ("%s: no line. %s."), name, told);
    }
  g_string_append_printf (out, _ ("%s: %.2f min"), name, fit->b[0]);
  if (with_ft)
    g_string_append_printf (out, _ (" + %.3f a foot of girth"), fit->b[1]);
  g_string_append_printf (out, _ (" + %.3f a pound (±%.3f), %zu readings; they scatter by %.2f about the line."),
                          fit->b[with_ft ? 2 : 1], fit->se[with_ft ? 2 : 1], h->n, fit->s);
  if (with_ft)
    g_string_append_printf (out, _ (" Drawn at a girth of %.1f ft."), h->girth);
  if (h->band->doubt)
    g_string_append_printf (out, " %s.", h->band->doubt);
  return g_string_free (g_steal_pointer (&out), FALSE);
}

static char *
all_words (Page *p)
{
  const Picture *q = p->picture;
  g_autoptr (GString) out = g_string_new (NULL);

  for (guint i = 0; q->fits && i < q->fits->len; i++)
    {
      g_autofree char *line = fit_words (p, g_ptr_array_index (q->fits, i));
      g_string_append_printf (out, "%s%s", i ? "\n" : "", line);
    }
  for (guint i = 0; q->bands && i < q->bands->handling->len; i++)
    {
      g_autofree char *line = band_words (&g_array_index (q->bands->handling, CostHandling, i), q->bands->with_ft);
      g_string_append_printf (out, "%s%s", i ? "\n" : "", line);
    }
  if (q->bands)
    say_left_out (out, q->bands->left_out, _ ("pounds or size"));
  if (out->len == 0)
    g_string_assign (out, by_pounds (p) ? _ ("No kept reading tells the pounds of its piece: enter them among the readings.")
                                        : _ ("No reading is kept that a line could go through."));
  return g_string_free (g_steal_pointer (&out), FALSE);
}

/* The methods of the study in the dropdown; the one that was chosen stays. */
static void
fill_methods (Page *p, const LabourStudy *study)
{
  guint what = gtk_drop_down_get_selected (GTK_DROP_DOWN (p->what));
  GtkStringList *names = gtk_string_list_new (NULL);
  g_autoptr (GPtrArray) methods = study ? labour_study_methods (study) : g_ptr_array_new ();

  for (guint i = 0; i < methods->len; i++)
    {
      const char *key = g_ptr_array_index (methods, i);
      gtk_string_list_append (names, *key ? studies_method_name (p->draft, key) : _ ("all readings"));
    }
  gtk_drop_down_set_model (GTK_DROP_DOWN (p->what), G_LIST_MODEL (names));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (p->what), what < methods->len ? what : 0);
  g_object_unref (names);
}

static void
draw (Page *p)
{
  g_autofree char *table = NULL, *words = NULL;

  p->picture = picture_new (p);
  words = all_words (p);
  gtk_label_set_label (p->words, words);
  table = chart_fit_table (&p->picture->fit);
  tally_chart_area_set_title (TALLY_CHART_AREA (p->area), by_pounds (p) ? _ ("Minutes over the pounds of the piece")
                                                                        : _ ("Minutes over the girth of the duct"));
  tally_chart_area_set (TALLY_CHART_AREA (p->area), picture_height, picture_draw, p->picture, picture_free, table);
  tally_chart_area_set_spots (TALLY_CHART_AREA (p->area), picture_spots);
  gtk_widget_set_visible (p->feet, by_pounds (p));
  gtk_widget_set_visible (p->area, p->picture->fit.n_series > 0);
  gtk_widget_set_sensitive (p->use, p->picture->fit.n_series > 0);
}

static void
fill (Page *p)
{
  g_autoptr (GPtrArray) studies = studies_of_draft (p->draft);
  const LabourStudy *study = find_study (studies, p->key);

  p->filling = TRUE;
  fill_methods (p, study);
  studies_steps_fill (p->step, p->draft, study ? study->step : "");
  p->filling = FALSE;
  draw (p);
}

/* A study whose readings tell pounds is looked at over them first. */
static void
choose_by (Page *p)
{
  g_autoptr (GPtrArray) studies = studies_of_draft (p->draft);
  const LabourStudy *study = find_study (studies, p->key);
  gboolean pounds = FALSE;

  for (guint i = 0; study && i < study->readings->len; i++)
    pounds = pounds || !isnan (((LabourReading *) g_ptr_array_index (study->readings, i))->lb);
  p->filling = TRUE;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (p->by), pounds ? 1 : 0);
  p->filling = FALSE;
}

static void
chosen_cb (GObject *widget, GParamSpec *spec, Page *p)
{
  const char *step = studies_steps_chosen (p->step);

  (void) spec;
  if (p->filling)
    return;
  /* The step is the study's: its bands are those fitted. */
  if (GTK_WIDGET (widget) == p->step && step && p->key)
    studies_set (p->draft, p->key, "step", step);
  draw (p);
}

void
studies_size_show (GtkWidget *widget, const char *key)
{
  Page *p = g_object_get_data (G_OBJECT (widget), "page");
  gboolean other = g_strcmp0 (key, p->key) != 0;

  g_free (p->key);
  p->key = g_strdup (key);
  if (other)
    {
      gtk_widget_set_visible (GTK_WIDGET (p->fault), FALSE);
      choose_by (p);
    }
  fill (p);
}

/* Over girth the line of the chosen method, over pounds every band that has one. */
static gboolean
put (Page *p, const LabourStudy *study, const char *step, CsvTable *steps, Fault **fault)
{
  guint i = gtk_drop_down_get_selected (GTK_DROP_DOWN (p->what));
  g_autofree char *today = studies_today ();

  if (p->picture->bands)
    return cost_study_bands_put (p->picture->bands, study, today, step, steps, fault) > 0;
  return p->picture->fits && i < p->picture->fits->len
         && cost_study_fit_put (g_ptr_array_index (p->picture->fits, i), study, today, step, steps, fault);
}

static void
use_cb (GtkButton *button, Page *p)
{
  const LabourStudy *study = find_study (p->picture->studies, p->key);
  g_autofree char *step = g_strdup (studies_steps_chosen (p->step)), *words = NULL;
  CsvTable *steps = catalogue_copy_table (draft_tables (p->draft)[CATALOGUE_STEPS]);
  Fault *fault = NULL;

  (void) button;
  if (study && step && put (p, study, step, steps, &fault))
    {
      gtk_widget_set_visible (GTK_WIDGET (p->fault), FALSE);
      draft_replace (p->draft, CATALOGUE_STEPS, steps);
      session_say (p->session, SESSION_SAID, _ ("“%s” has the fitted minutes in the draft of the catalogue"), step);
      return;
    }
  csv_table_free (steps);
  words = fault ? fault_words (fault, NULL) : g_strdup (_ ("Choose a step first."));
  g_clear_pointer (&fault, fault_free);
  gtk_label_set_label (p->fault, words);
  gtk_widget_set_visible (GTK_WIDGET (p->fault), TRUE);
}

static GtkWidget *
words_label (const char *style)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, style);
  return label;
}

GtkWidget *
studies_size_new (TallySession *session, TallyDraft *draft)
{
  GtkWidget *scrolled = gtk_scrolled_window_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  const char *const by[] = { _ ("a foot of girth"), _ ("a pound, in bands of handling"), NULL };
  GtkWidget *above = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  Page *p = g_new0 (Page, 1);

  p->session = session;
  p->draft = draft;
  p->area = tally_chart_area_new (_ ("Minutes over the girth of the duct"));
  p->words = GTK_LABEL (words_label ("figure"));
  p->fault = GTK_LABEL (words_label ("fault-words"));
  p->what = gtk_drop_down_new_from_strings ((const char *const[]) { "", NULL });
  p->step = studies_steps_new ();
  p->use = gtk_button_new_with_label (_ ("Use for the step"));
  p->line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_accessible_update_property (GTK_ACCESSIBLE (p->what), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Fitted line"), -1);
  gtk_widget_set_visible (GTK_WIDGET (p->fault), FALSE);
  p->by = gtk_drop_down_new_from_strings (by);
  p->feet = gtk_check_button_new_with_label (_ ("and a foot of girth"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (p->by), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Minutes over"), -1);
  gtk_box_append (GTK_BOX (above), gtk_label_new (_ ("Fixed minutes and minutes")));
  gtk_box_append (GTK_BOX (above), p->by);
  gtk_box_append (GTK_BOX (above), p->feet);
  gtk_box_append (GTK_BOX (above), gtk_label_new (_ ("of")));
  gtk_box_append (GTK_BOX (above), p->what);
  gtk_box_append (GTK_BOX (p->line), gtk_label_new (_ ("They go to the step")));
  gtk_box_append (GTK_BOX (p->line), p->step);
  gtk_box_append (GTK_BOX (p->line), p->use);
  gtk_widget_add_css_class (box, "studies-page");
  gtk_box_append (GTK_BOX (box), above);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (p->words));
  gtk_box_append (GTK_BOX (box), p->line);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (p->fault));
  gtk_box_append (GTK_BOX (box), p->area);
  g_signal_connect (p->by, "notify::selected", G_CALLBACK (chosen_cb), p);
  g_signal_connect (p->what, "notify::selected", G_CALLBACK (chosen_cb), p);
  g_signal_connect (p->step, "notify::selected", G_CALLBACK (chosen_cb), p);
  g_signal_connect (p->feet, "notify::active", G_CALLBACK (chosen_cb), p);
  g_signal_connect (p->use, "clicked", G_CALLBACK (use_cb), p);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_AUTOMATIC, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), box);
  g_object_set_data_full (G_OBJECT (scrolled), "page", p, page_free);
  return scrolled;
}

/* ---- the steps to choose from ---- */

GtkWidget *
studies_steps_new (void)
{
  GtkWidget *dropdown = gtk_drop_down_new_from_strings ((const char *const[]) { "", NULL });

  gtk_drop_down_set_enable_search (GTK_DROP_DOWN (dropdown), TRUE);
  gtk_drop_down_set_expression (GTK_DROP_DOWN (dropdown), gtk_property_expression_new (GTK_TYPE_STRING_OBJECT, NULL, "string"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (dropdown), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Step of the catalogue"), -1);
  return dropdown;
}

/* The model stays while it holds the same words: a drop-down does not bear losing it while it tells what was chosen. */
static gboolean
same_words (GtkWidget *dropdown, GtkStringList *list)
{
  GListModel *now = gtk_drop_down_get_model (GTK_DROP_DOWN (dropdown));
  guint n = g_list_model_get_n_items (G_LIST_MODEL (list));

  if (!GTK_IS_STRING_LIST (now) || g_list_model_get_n_items (now) != n)
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (!g_str_equal (gtk_string_list_get_string (GTK_STRING_LIST (now), i), gtk_string_list_get_string (list, i)))
      return FALSE;
  return TRUE;
}

void
studies_steps_fill (GtkWidget *dropdown, TallyDraft *draft, const char *wanted)
{
  const CsvTable *steps = draft_tables (draft)[CATALOGUE_STEPS];
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  guint chosen = 0, n = 1;

  gtk_string_list_append (list, _ ("choose a step"));
  for (guint i = 0; i < steps->row->len; i++)
    {
      const char *key = csv_cell (steps, i, csv_column (steps, "step"));
      if (!*key || *csv_cell (steps, i, csv_column (steps, "retired")) || !g_hash_table_add (seen, (gpointer) key))
        continue;
      chosen = g_str_equal (key, wanted) ? n : chosen;
      gtk_string_list_append (list, key);
      n++;
    }
  if (!same_words (dropdown, list))
    gtk_drop_down_set_model (GTK_DROP_DOWN (dropdown), G_LIST_MODEL (list));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (dropdown), chosen);
}

const char *
studies_steps_chosen (GtkWidget *dropdown)
{
  GtkStringObject *item = gtk_drop_down_get_selected_item (GTK_DROP_DOWN (dropdown));

  return item && gtk_drop_down_get_selected (GTK_DROP_DOWN (dropdown)) > 0 ? gtk_string_object_get_string (item) : NULL;
}
