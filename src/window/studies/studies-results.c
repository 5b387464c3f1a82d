/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/studies/studies-private.h"

#include "cost/study-unlike.h"
#include "window/hours/figures-table.h"
#include "window/methods/field.h"
#include "window/words.h"

#include <glib/gi18n.h>
#include <math.h>

enum { ALLOWANCE, CONFIDENCE, ACCURACY, SPREAD, HALF_WIDTH, UNIT, N_ENTRIES };

static const struct
{
  const char *heading, *title;
  int chars;
} entries[N_ENTRIES] = {
  { "allowance_pct", N_ ("Allowance, %"), 5 },        { "confidence_pct", N_ ("Confidence, %"), 5 },
  { "accuracy_pct", N_ ("Mean within, %"), 5 },       { "job_spread_pct", N_ ("Job to job, %"), 5 },
  { "half_width_min", N_ ("Pairs within, min"), 5 }, { "unit", N_ ("One is a"), 7 },
};

typedef struct
{
  TallySession *session; /* borrowed: the window holds both */
  TallyDraft *draft;
  char *key;             /* (nullable) */
  gboolean filling;
  GtkWidget *entry[N_ENTRIES], *basis, *form, *elements, *totals, *pairs, *pairs_title, *what, *step, *use;
  GtkWidget *use_box;
  GtkLabel *choices, *flagged, *accepted, *fault;
  GPtrArray *studies;    /* of the draft as shown */
  const LabourStudy *study;
  LabourResult *result;
  GPtrArray *unlike;     /* char *: where readings follow the size of what is made */
} Page;

static void
page_free (gpointer data)
{
  Page *p = data;

  g_clear_pointer (&p->result, labour_result_free);
  g_clear_pointer (&p->studies, g_ptr_array_unref);
  g_clear_pointer (&p->unlike, g_ptr_array_unref);
  g_free (p->key);
  g_free (p);
}

/* ---- words and figures ---- */

static char *
figure (double v, int decimals)
{
  return isnan (v) ? g_strdup ("–") : session_figure (v, decimals, FALSE);
}

static char *
span (double low, double high, int decimals)
{
  g_autofree char *a = figure (low, decimals), *b = figure (high, decimals);

  return isnan (low) ? g_strdup ("–") : g_strdup_printf (_ ("%s to %s"), a, b);
}

/* Readings in all by both forms. */
static char *
needed (const LabourElement *e)
{
  return isnan (e->need_t) ? g_strdup ("–")
                           : g_strdup_printf (_ ("%.0f or %.0f"), ceil (e->need_t - 1e-9), ceil (e->need_ilo - 1e-9));
}

/* Those still to take by the form that the study goes by. */
static char *
more (const Page *p, const LabourElement *e)
{
  guint n = p->study->form == LABOUR_ILO_FORM ? e->more_ilo : e->more_t;

  if (e->unlike != LABOUR_ALIKE)
    return g_strdup (_ ("over size"));
  return isnan (e->need_t) ? g_strdup (_ ("too few")) : n > 0 ? g_strdup_printf ("%u", n) : g_strdup (_ ("none"));
}

static void
fill_elements (Page *p)
{
  const FiguresColumn columns[] = {
    { _ ("Timed"), "", FALSE },          { _ ("Method"), "", FALSE },
    { _ ("Kept"), _ ("struck"), TRUE },  { _ ("Mean"), _ ("worker-min"), TRUE },
    { _ ("Scatter"), _ ("of one, s"), TRUE }, { _ ("Mean lies in"), _ ("worker-min"), TRUE },
    { _ ("Normal"), _ ("worker-min"), TRUE }, { _ ("Standard"), _ ("worker-min"), TRUE },
    { _ ("Needed"), _ ("t or ILO"), TRUE }, { _ ("More"), _ ("readings"), TRUE },
  };

  figures_table_begin (p->elements, columns, G_N_ELEMENTS (columns));
  for (guint i = 0; i < p->result->elements->len; i++)
    {
      const LabourElement *e = &g_array_index (p->result->elements, LabourElement, i);
      g_autofree char *kept = e->struck > 0 ? g_strdup_printf ("%u (%u)", e->n, e->struck) : g_strdup_printf ("%u", e->n);
      g_autofree char *mean = figure (e->mean, 2), *s = figure (e->s, 2), *in = span (e->low, e->high, 2);
      g_autofree char *normal = figure (e->normal, 2), *standard = figure (e->standard, 2);
      g_autofree char *need = needed (e), *still = more (p, e);
      const char *const row[] = {
        e->timed, studies_method_name (p->draft, e->method), kept, mean, s, in, normal, standard, need, still
      };
      figures_table_add (p->elements, row, FALSE, -1);
    }
}

static void
fill_totals (Page *p)
{
  const FiguresColumn columns[] = {
    { _ ("Together"), "", FALSE },           { _ ("Standard"), _ ("worker-min"), TRUE },
    { _ ("Scatter"), _ ("of one, s"), TRUE }, { _ ("Error"), _ ("of the mean, s"), TRUE },
    { _ ("For a step: low"), _ ("10 %"), TRUE }, { _ ("likely"), "", TRUE },
    { _ ("high"), _ ("90 %"), TRUE },
  };

  figures_table_begin (p->totals, columns, G_N_ELEMENTS (columns));
  for (guint i = 0; i < p->result->totals->len; i++)
    {
      const LabourTotal *total = &g_array_index (p->result->totals, LabourTotal, i);
      LabourAccepted a;
      if (!labour_study_accept (p->study, total->method, NULL, &a, NULL))
        continue;
      g_autofree char *standard = figure (total->standard, 2), *scatter = figure (total->scatter, 2),
                      *error = figure (total->error, 2);
      g_autofree char *low = figure (a.low, 2), *likely = figure (a.likely, 2), *high = figure (a.high, 2);
      const char *name = *total->method ? studies_method_name (p->draft, total->method) : _ ("all readings");
      const char *const row[] = { name, standard, scatter, error, low, likely, high };
      figures_table_add (p->totals, row, FALSE, -1);
    }
}

static void
fill_pairs (Page *p)
{
  const FiguresColumn columns[] = { { _ ("Pair"), "", FALSE },
                                    { _ ("Size"), _ ("in"), FALSE },
                                    { _ ("Crew"), _ ("heads"), TRUE },
                                    { _ ("First"), _ ("worker-min"), TRUE },
                                    { _ ("Second"), _ ("worker-min"), TRUE },
                                    { _ ("First less second"), _ ("worker-min"), TRUE } };
  g_autoptr (GPtrArray) methods = labour_study_methods (p->study);
  g_autoptr (LabourPairs) pairs =
      methods->len == 2 ? labour_study_pairs (p->study, g_ptr_array_index (methods, 0), g_ptr_array_index (methods, 1))
                        : NULL;
  gboolean any = pairs && pairs->pairs->len > 0;

  gtk_widget_set_visible (p->pairs, any);
  gtk_widget_set_visible (p->pairs_title, any);
  if (!any)
    return;
  g_autofree char *title =
      g_strdup_printf (_ ("Pairs of one size and crew: first %s, second %s (%s; without a partner: %u)"),
                       studies_method_name (p->draft, pairs->first), studies_method_name (p->draft, pairs->second),
                       pairs->timed, pairs->unpaired);
  gtk_label_set_label (GTK_LABEL (p->pairs_title), title);
  figures_table_begin (p->pairs, columns, G_N_ELEMENTS (columns));
  for (guint i = 0; i < pairs->pairs->len; i++)
    {
      const LabourPair *pair = &g_array_index (pairs->pairs, LabourPair, i);
      g_autofree char *crew = g_strdup_printf ("%d", pair->first->crew_size), *d = session_figure (pair->difference, 2, TRUE);
      g_autofree char *a = figure (pair->first_min, 2);
      g_autofree char *b = figure (pair->second_min, 2);
      const char *const row[] = { pair->first->date, pair->first->size, crew, a, b, d };
      figures_table_add (p->pairs, row, FALSE, -1);
    }
  g_autofree char *mean = session_figure (pairs->mean, 2, TRUE), *in = span (pairs->low, pairs->high, 2);
  const char *const sum[] = { _ ("Mean"), "", "", "", in, mean };
  figures_table_add (p->pairs, sum, TRUE, -1);
}

/* ---- into a step ---- */

/* What is chosen to be used: a total or an element. FALSE: nothing. */
static gboolean
chosen (Page *p, LabourAccepted *a, Fault **fault)
{
  guint i = gtk_drop_down_get_selected (GTK_DROP_DOWN (p->what)), totals = p->result ? p->result->totals->len : 0;

  if (!p->result || i == GTK_INVALID_LIST_POSITION || i >= totals + p->result->elements->len)
    return FALSE;
  if (i < totals)
    return labour_study_accept (p->study, g_array_index (p->result->totals, LabourTotal, i).method, NULL, a, fault);
  const LabourElement *e = &g_array_index (p->result->elements, LabourElement, i - totals);
  return labour_study_accept (p->study, e->method, e->timed, a, fault);
}

static void
show_accepted (Page *p)
{
  LabourAccepted a;
  g_autofree char *words = NULL;

  if (!chosen (p, &a, NULL))
    words = g_strdup (_ ("Nothing is kept that a step could get."));
  else
    {
      g_autofree char *low = figure (a.low, 2), *likely = figure (a.likely, 2), *high = figure (a.high, 2);
      g_autofree char *scatter = figure (a.scatter, 2), *error = figure (a.error, 2);
      words =
          isnan (a.error)
              ? g_strdup_printf (_ ("Low %s, likely %s, high %s worker-minutes: the spread from job to job alone (%.3g "
                                    "%%, common practice), "
                                    "since fewer than three readings say nothing of their mean."),
                                 low, likely, high, a.job_spread * 100)
              : g_strdup_printf (
                  _ ("Low %s, likely %s, high %s worker-minutes, about the 10 and 90 %% points of a job's average: the "
                     "error "
                     "of the mean (%s) joined with the spread from job to job (%.3g %%, common practice). One reading "
                     "scatters by %s; that is not in them."),
                  low, likely, high, error, a.job_spread * 100, scatter);
    }
  gtk_label_set_label (p->accepted, words);
  gtk_widget_set_sensitive (p->use, chosen (p, &a, NULL) && studies_steps_chosen (p->step));
}

static void
use_cb (GtkButton *button, Page *p)
{
  const char *step = studies_steps_chosen (p->step);
  g_autofree char *today = studies_today (), *kept = g_strdup (step);
  CsvTable *steps = catalogue_copy_table (draft_tables (p->draft)[CATALOGUE_STEPS]);
  LabourAccepted a;
  Fault *fault = NULL;

  (void) button;
  if (step && chosen (p, &a, &fault) && labour_study_put (p->study, &a, today, step, steps, &fault))
    {
      gtk_label_set_label (p->fault, "");
      gtk_widget_set_visible (GTK_WIDGET (p->fault), FALSE);
      draft_replace (p->draft, CATALOGUE_STEPS, steps);
      session_say (p->session, SESSION_SAID, _ ("“%s” has the study's minutes in the draft of the catalogue"), kept);
      return;
    }
  csv_table_free (steps);
  if (!fault)
    return;
  g_autofree char *words = fault_words (fault, NULL);
  gtk_label_set_label (p->fault, words);
  gtk_widget_set_visible (GTK_WIDGET (p->fault), TRUE);
  fault_free (fault);
}

static void
fill_what (Page *p)
{
  GtkStringList *list = gtk_string_list_new (NULL);

  for (guint i = 0; i < p->result->totals->len; i++)
    {
      const LabourTotal *t = &g_array_index (p->result->totals, LabourTotal, i);
      g_autofree char *words = g_strdup_printf ("%s%s%s", t->whole ? _ ("whole joint") : _ ("all elements"), *t->method ? ": " : "",
                                                studies_method_name (p->draft, t->method));
      gtk_string_list_append (list, words);
    }
  for (guint i = 0; i < p->result->elements->len; i++)
    {
      const LabourElement *e = &g_array_index (p->result->elements, LabourElement, i);
      g_autofree char *words =
          g_strdup_printf ("%s%s%s", e->timed, *e->method ? ": " : "", studies_method_name (p->draft, e->method));
      gtk_string_list_append (list, words);
    }
  gtk_drop_down_set_model (GTK_DROP_DOWN (p->what), G_LIST_MODEL (list));
  g_object_unref (list);
}

/* ---- choices ---- */

static void
commit (Page *p, int i)
{
  if (p->filling || !p->key)
    return;
  studies_set (p->draft, p->key, entries[i].heading, gtk_editable_get_text (GTK_EDITABLE (p->entry[i])));
}

static void
activate_cb (GtkEntry *entry, Page *p)
{
  commit (p, GPOINTER_TO_INT (g_object_get_data (G_OBJECT (entry), "entry")));
}

static void
leave_cb (GtkEventControllerFocus *focus, Page *p)
{
  GtkWidget *entry = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (focus));

  commit (p, GPOINTER_TO_INT (g_object_get_data (G_OBJECT (entry), "entry")));
}

static void
dropdown_cb (GtkDropDown *dropdown, GParamSpec *spec, Page *p)
{
  guint i = gtk_drop_down_get_selected (dropdown);

  (void) spec;
  if (p->filling || !p->key)
    return;
  if (GTK_WIDGET (dropdown) == p->basis)
    studies_set (p->draft, p->key, "allowance_basis", labour_allowance_keys[MIN (i, LABOUR_NORMAL)]);
  else if (GTK_WIDGET (dropdown) == p->form)
    studies_set (p->draft, p->key, "needed_form", labour_form_keys[MIN (i, LABOUR_ILO_FORM)]);
  else if (GTK_WIDGET (dropdown) == p->step)
    {
      if (studies_steps_chosen (p->step))
        studies_set (p->draft, p->key, "step", studies_steps_chosen (p->step));
      show_accepted (p);
    }
  else
    show_accepted (p);
}

/* The cell that is at fault says so at its entry. */
static void
fill_choices (Page *p)
{
  const CsvTable *table = draft_tables (p->draft)[CATALOGUE_STUDIES];
  int row = studies_find_row (p->draft, p->key);
  g_autofree char *words = NULL;

  for (int i = 0; row >= 0 && i < N_ENTRIES; i++)
    {
      int column = csv_column (table, entries[i].heading);
      const CsvFault *fault = column >= 0 ? draft_fault_at (p->draft, CATALOGUE_STUDIES, (guint) row, column) : NULL;
      if (!gtk_widget_has_focus (p->entry[i]))
        gtk_editable_set_text (GTK_EDITABLE (p->entry[i]), csv_cell (table, (guint) row, column));
      if (fault)
        gtk_widget_add_css_class (p->entry[i], "error");
      else
        gtk_widget_remove_css_class (p->entry[i], "error");
      gtk_widget_set_tooltip_text (p->entry[i], fault ? fault->remedy : NULL);
    }
  gtk_drop_down_set_selected (GTK_DROP_DOWN (p->basis), p->study ? (guint) p->study->basis : 0);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (p->form), p->study ? (guint) p->study->form : 0);
  studies_steps_fill (p->step, p->draft, p->study ? p->study->step : "");
  words = g_strdup_printf ("%s · %s", labour_allowance_words (p->study ? p->study->basis : LABOUR_DAY),
                           labour_form_words (p->study ? p->study->form : LABOUR_T_FORM));
  gtk_label_set_label (p->choices, words);
}

/* What is far from the others is told where the figures are, not only at its cell. */
static void
show_flagged (Page *p)
{
  guint n = 0;

  for (guint i = 0; p->result && i < p->result->elements->len; i++)
    n += g_array_index (p->result->elements, LabourElement, i).outliers;
  g_autofree char *words = g_strdup_printf (
      ngettext ("%u reading lies far from what the others say and still counts: look at it among the readings, and strike "
                "it if you know why.",
                "%u readings lie far from what the others say and still count: look at them among the readings, and "
                "strike those of which you know why.",
                n),
      n);
  g_autoptr (GString) all = g_string_new (n > 0 ? words : "");
  for (guint i = 0; p->unlike && i < p->unlike->len; i++)
    g_string_append_printf (all, "%s%s", all->len ? "\n" : "", (const char *) g_ptr_array_index (p->unlike, i));
  gtk_label_set_label (p->flagged, all->str);
  gtk_widget_set_visible (GTK_WIDGET (p->flagged), all->len > 0);
}

/* Without a reading there is nothing to show but the choices. */
static void
show_parts (Page *p)
{
  gboolean any = p->result && p->result->elements->len > 0;

  gtk_widget_set_visible (p->elements, any);
  gtk_widget_set_visible (p->totals, any);
  gtk_widget_set_visible (p->use_box, any);
  gtk_widget_set_visible (GTK_WIDGET (p->accepted), any);
  if (!any)
    {
      gtk_widget_set_visible (p->pairs, FALSE);
      gtk_widget_set_visible (p->pairs_title, FALSE);
    }
  show_flagged (p);
}

void
studies_results_show (GtkWidget *widget, const char *key)
{
  Page *p = g_object_get_data (G_OBJECT (widget), "page");
  gboolean same = key && g_strcmp0 (key, p->key) == 0;
  guint what = same ? gtk_drop_down_get_selected (GTK_DROP_DOWN (p->what)) : 0;

  if (!same)
    {
      g_free (p->key);
      p->key = g_strdup (key);
    }
  gtk_widget_set_visible (GTK_WIDGET (p->fault), FALSE);
  g_clear_pointer (&p->result, labour_result_free);
  g_clear_pointer (&p->studies, g_ptr_array_unref);
  g_clear_pointer (&p->unlike, g_ptr_array_unref);
  p->study = NULL;
  gtk_widget_set_sensitive (widget, key != NULL);
  if (!key)
    return;
  p->filling = TRUE;
  p->studies = studies_of_draft (p->draft);
  for (guint i = 0; i < p->studies->len; i++)
    if (g_str_equal (((LabourStudy *) g_ptr_array_index (p->studies, i))->key, key))
      p->study = g_ptr_array_index (p->studies, i);
  fill_choices (p);
  if (p->study)
    {
      p->result = labour_study_result (p->study);
      p->unlike = cost_study_unlike (p->result, LENGTH_IN);
      fill_elements (p);
      fill_totals (p);
      fill_pairs (p);
      fill_what (p);
      gtk_drop_down_set_selected (GTK_DROP_DOWN (p->what), what);
    }
  p->filling = FALSE;
  show_parts (p);
  show_accepted (p);
}

/* ---- building ---- */

static GtkWidget *
titled (GtkWidget *box, const char *title, GtkWidget *child)
{
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2), *label = gtk_label_new (title);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "caption");
  gtk_box_append (GTK_BOX (column), label);
  gtk_box_append (GTK_BOX (column), child);
  gtk_widget_set_halign (child, GTK_ALIGN_START);
  gtk_accessible_update_property (GTK_ACCESSIBLE (child), GTK_ACCESSIBLE_PROPERTY_LABEL, title, -1);
  gtk_box_append (GTK_BOX (box), column);
  return child;
}

static GtkWidget *
choices_line (Page *p)
{
  static const char *const basis[] = { N_ ("the working day (L1)"), N_ ("normal time (L1)"), NULL };
  static const char *const form[] = { N_ ("Student's t (L12)"), N_ ("ILO form, k = 2 (L12)"), NULL };
  const char *basis_words[] = { _ (basis[0]), _ (basis[1]), NULL }, *form_words[] = { _ (form[0]), _ (form[1]), NULL };
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  for (int i = 0; i < N_ENTRIES; i++)
    {
      GtkEventController *focus = gtk_event_controller_focus_new ();
      p->entry[i] = gtk_entry_new ();
      gtk_editable_set_width_chars (GTK_EDITABLE (p->entry[i]), entries[i].chars);
      gtk_editable_set_max_width_chars (GTK_EDITABLE (p->entry[i]), entries[i].chars);
      g_object_set_data (G_OBJECT (p->entry[i]), "entry", GINT_TO_POINTER (i));
      g_signal_connect (p->entry[i], "activate", G_CALLBACK (activate_cb), p);
      g_signal_connect (focus, "leave", G_CALLBACK (leave_cb), p);
      gtk_widget_add_controller (p->entry[i], focus);
      tally_field_no_undo (p->entry[i]);
      titled (box, _ (entries[i].title), p->entry[i]);
      if (i == ALLOWANCE)
        titled (box, _ ("is a share of"), p->basis = gtk_drop_down_new_from_strings (basis_words));
      if (i == ACCURACY)
        titled (box, _ ("Enough readings by"), p->form = gtk_drop_down_new_from_strings (form_words));
    }
  g_signal_connect (p->basis, "notify::selected", G_CALLBACK (dropdown_cb), p);
  g_signal_connect (p->form, "notify::selected", G_CALLBACK (dropdown_cb), p);
  return box;
}

static GtkWidget *
use_line (Page *p)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);

  p->what = gtk_drop_down_new_from_strings ((const char *const[]) { "", NULL });
  p->step = studies_steps_new ();
  p->use = gtk_button_new_with_label (_ ("Use for the step"));
  gtk_widget_set_valign (p->use, GTK_ALIGN_END);
  titled (box, _ ("The minutes of"), p->what);
  titled (box, _ ("go to the step"), p->step);
  gtk_box_append (GTK_BOX (box), p->use);
  g_signal_connect (p->what, "notify::selected", G_CALLBACK (dropdown_cb), p);
  g_signal_connect (p->step, "notify::selected", G_CALLBACK (dropdown_cb), p);
  g_signal_connect (p->use, "clicked", G_CALLBACK (use_cb), p);
  return box;
}

GtkWidget *
studies_results_new (TallySession *session, TallyDraft *draft)
{
  GtkWidget *scrolled = gtk_scrolled_window_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  Page *p = g_new0 (Page, 1);

  p->session = session;
  p->draft = draft;
  p->choices = GTK_LABEL (tally_words_new (NULL, "line-words"));
  p->accepted = GTK_LABEL (tally_words_new (NULL, "line-words"));
  p->flagged = GTK_LABEL (tally_words_new (NULL, "studies-flagged"));
  p->fault = GTK_LABEL (tally_words_new (NULL, "fault-words"));
  gtk_widget_set_visible (GTK_WIDGET (p->fault), FALSE);
  p->elements = figures_table_new (_ ("Elements"));
  p->totals = figures_table_new (_ ("Methods"));
  p->pairs = figures_table_new (_ ("Pairs"));
  p->pairs_title = tally_words_new ("", "heading");
  gtk_widget_add_css_class (box, "studies-page");
  gtk_box_append (GTK_BOX (box), choices_line (p));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (p->choices));
  gtk_box_append (GTK_BOX (box), p->elements);
  gtk_box_append (GTK_BOX (box), p->totals);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (p->flagged));
  gtk_box_append (GTK_BOX (box), p->use_box = use_line (p));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (p->fault));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (p->accepted));
  gtk_box_append (GTK_BOX (box), p->pairs_title);
  gtk_box_append (GTK_BOX (box), p->pairs);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_AUTOMATIC, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), box);
  g_object_set_data_full (G_OBJECT (scrolled), "page", p, page_free);
  return scrolled;
}
