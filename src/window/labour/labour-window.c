/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/labour/labour-window.h"

#include "job/labour-model.h"
#include "window/habits/sheet-page.h"
#include "window/labour/labour-private.h"
#include "window/methods/setting-entry.h"
#include "window/words.h"

#include <glib/gi18n.h>

typedef struct
{
  TallySession *session;
  GtkWindow *window;
  GtkLabel *conclusion;
  GtkWidget *page, *said, *foot, *crews; /* foot: around what is said, so that the page above does not move */
} Labour;

static void
gone (gpointer data, GObject *where)
{
  Labour *l = data;

  (void) where;
  g_signal_handlers_disconnect_by_data (l->session, l);
  g_object_unref (l->session);
  g_free (l);
}

static void
clear (GtkWidget *box)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (box)))
    gtk_box_remove (GTK_BOX (box), child);
}

/* ---- what follows each edit ---- */

static void
fill_said (Labour *l, TallyJob *job)
{
  g_autoptr (GPtrArray) words = job_labour_words (job), cautions = job_labour_cautions (job);

  clear (l->said);
  for (guint i = 0; i < words->len; i++)
    gtk_box_append (GTK_BOX (l->said), tally_words_in_cell_new (words->pdata[i], NULL));
  for (guint i = 0; i < cautions->len; i++)
    {
      g_autofree char *text = g_strdup_printf (_ ("Caution: %s"), (char *) cautions->pdata[i]);
      gtk_box_append (GTK_BOX (l->said), tally_words_in_cell_new (text, "labour-caution"));
    }
  gtk_widget_set_visible (l->foot, words->len + cautions->len > 0);
}

static void
fill_crews (Labour *l, TallyJob *job)
{
  const GPtrArray *crews = job_basis (job)->catalogue->labour->crews;
  const JobLabour *model = job_labour (job);

  clear (l->crews);
  for (guint i = 0; i < crews->len; i++)
    {
      const LabourCrew *crew = g_ptr_array_index (crews, i);
      gboolean overtime = model->paid != LABOUR_PAID_ONE && (!crew->shop || model->shop_too);
      g_autoptr (GPtrArray) lines = labour_crew_worked (crew, overtime ? model->paid : 0);
      gint64 worked = labour_crew_rate_for (crew, overtime ? model->paid : 0), rate = job_basis (job)->rate[i];
      g_autofree char *title = g_strdup_printf ("%s (%s)", crew->key, crew->status);
      gtk_box_append (GTK_BOX (l->crews), tally_words_in_cell_new (title, "report-table"));
      for (guint k = 0; k + 1 < lines->len; k++)
        gtk_box_append (GTK_BOX (l->crews), tally_words_in_cell_new (lines->pdata[k], "figure"));
      if (rate != worked)
        {
          g_autofree char *figure = session_figure ((double) rate / 1e4, 2, FALSE);
          g_autofree char *text = g_strdup_printf (_ ("This job prices the hour at %s: the rate was changed for it."), figure);
          gtk_box_append (GTK_BOX (l->crews), tally_words_in_cell_new (text, "labour-caution"));
        }
    }
  gtk_box_append (GTK_BOX (l->crews), tally_words_in_cell_new (_ ("Site general is outside of these rates and of the minutes: it is a line of the price."),
                                                    "dim-label"));
}

static void
fill (Labour *l)
{
  TallyJob *job = session_job (l->session);

  if (!job)
    return;
  g_autofree char *text = job_labour_conclusion (job);
  gtk_label_set_label (l->conclusion, text);
  fill_said (l, job);
  fill_crews (l, job);
}

/* ---- the page ---- */

static void
add_heading (Labour *l, const char *text)
{
  gtk_box_append (GTK_BOX (l->page), tally_words_in_cell_new (text, "report-heading"));
}

static GtkWidget *
row_of (GtkWidget *const *widgets, gsize n)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 28);

  for (gsize i = 0; i < n; i++)
    {
      gtk_widget_set_valign (widgets[i], GTK_ALIGN_START);
      gtk_box_append (GTK_BOX (row), widgets[i]);
    }
  return row;
}

static void
build_page (Labour *l)
{
  TallySession *s = l->session;
  GtkWidget *joined[] = { labour_choice_new (s, "conditions.join"), tally_setting_entry_new (s, "conditions.cap") };
  GtkWidget *learning[] = { labour_choice_new (s, "learning.model"), tally_setting_entry_new (s, "learning.slope"),
                            tally_setting_entry_new (s, "learning.known") };
  GtkWidget *week[] = { tally_setting_entry_new (s, "overtime.hours"), tally_setting_entry_new (s, "overtime.premium"),
                        labour_choice_new (s, "overtime.places") };
  GtkWidget *loss[] = { labour_table_choice_new (s), tally_setting_entry_new (s, "overtime.weeks"), labour_choice_new (s, "overtime.loss") };
  GtkWidget *crew[] = { tally_setting_entry_new (s, "crew.heads"), tally_setting_entry_new (s, "crew.day_hours"),
                        tally_setting_entry_new (s, "crew.start") };

  add_heading (l, _ ("Conditions"));
  gtk_box_append (GTK_BOX (l->page), row_of (joined, G_N_ELEMENTS (joined)));
  gtk_box_append (GTK_BOX (l->page), labour_conditions_new (s));
  add_heading (l, _ ("Floor and air, pieces raised together, joints remade"));
  gtk_box_append (GTK_BOX (l->page), labour_areas_new (s));
  gtk_box_append (GTK_BOX (l->page), tally_words_in_cell_new (_ ("Joints made on the floor miss the conditions of the air. Pieces raised together spend the "
                                                      "fixed minutes of raising once. A remade joint takes its steps once more, and its "
                                                      "gasket, sealant and driven fasteners."),
                                                   "dim-label"));
  add_heading (l, _ ("Learning"));
  gtk_box_append (GTK_BOX (l->page), row_of (learning, G_N_ELEMENTS (learning)));
  gtk_box_append (GTK_BOX (l->page), tally_words_in_cell_new (_ ("On the steps at the joint, over the joints that each method makes of this job. The two models "
                                                      "are not the same number for the same crew. Never together with “new crew”."),
                                                   "dim-label"));
  add_heading (l, _ ("Overtime"));
  gtk_box_append (GTK_BOX (l->page), row_of (week, G_N_ELEMENTS (week)));
  gtk_box_append (GTK_BOX (l->page), row_of (loss, G_N_ELEMENTS (loss)));
  gtk_box_append (GTK_BOX (l->page), tally_words_in_cell_new (_ ("Loss tables are the office's to enter (catalogue, overtime loss); none of the published ones "
                                                      "is binding, and none is on unless you choose it."),
                                                   "dim-label"));
  add_heading (l, _ ("Crew and start"));
  gtk_box_append (GTK_BOX (l->page), row_of (crew, G_N_ELEMENTS (crew)));
  add_heading (l, _ ("What an hour costs, worked out"));
  gtk_box_append (GTK_BOX (l->page), l->crews);
}

static GtkWidget *
build (Labour *l)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *scrolled = gtk_scrolled_window_new ();

  l->conclusion = GTK_LABEL (tally_conclusion_new (""));
  gtk_widget_set_hexpand (GTK_WIDGET (l->conclusion), TRUE);
  gtk_widget_add_css_class (head, "report-top");
  gtk_box_append (GTK_BOX (head), GTK_WIDGET (l->conclusion));
  l->page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  l->said = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  l->crews = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  gtk_widget_add_css_class (l->page, "report-page");
  gtk_widget_add_css_class (l->page, "labour-page");
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), l->page);
  gtk_widget_set_vexpand (scrolled, TRUE);
  build_page (l);
  l->foot = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (l->foot), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (l->foot), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (l->foot), 130);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (l->foot), l->said);
  gtk_widget_add_css_class (l->said, "labour-said");
  gtk_box_append (GTK_BOX (box), head);
  gtk_box_append (GTK_BOX (box), scrolled);
  gtk_box_append (GTK_BOX (box), l->foot);
  return box;
}

static void
changed_cb (TallySession *session, gpointer edit, Labour *l)
{
  (void) session;
  (void) edit;
  fill (l);
}

static void
job_cb (TallySession *session, Labour *l)
{
  if (session_job (session))
    fill (l);
  else
    gtk_window_close (l->window);
}

void
tally_labour_present (TallySession *session, GtkWindow *parent)
{
  Labour *l;

  if (!session_job (session))
    return;
  l = g_new0 (Labour, 1);
  l->session = g_object_ref (session);
  l->window = tally_side_window_new (parent, session, _ ("Labour of this job"), 1100, 720);
  tally_side_window_set (l->window, NULL, tally_notice_new (session, build (l)));
  g_signal_connect (session, "changed", G_CALLBACK (changed_cb), l);
  g_signal_connect (session, "job", G_CALLBACK (job_cb), l);
  g_object_weak_ref (G_OBJECT (l->window), gone, l);
  fill (l);
  gtk_window_present (l->window);
}
