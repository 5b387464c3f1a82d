/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/detail/detail-private.h"

#include "job/inherit.h"
#include "job/note-line.h"

#include <glib/gi18n.h>

static const char *const keys[] = { "class", "gauge", "method", "exposure", "metal" };

#define N_ROWS G_N_ELEMENTS (keys)

typedef struct
{
  DetailOverrides *owner;
  int field;
  GtkWidget *title, *entry, *clear, *words;
} Row;

struct _DetailOverrides
{
  TallySession *session;
  gint64 run;
  GtkWidget *box;
  Row row[N_ROWS];
};

static void
commit (Row *row, const char *text)
{
  TallyJob *job = session_job (row->owner->session);
  const JobRecord *run = job ? job_find (job, JOB_RUN, row->owner->run) : NULL;
  g_autofree char *present = NULL;
  Fault *fault = NULL;

  if (!run)
    return;
  present = job_record_print (run, row->field, job_names (job));
  if (g_str_equal (present, text))
    return;
  session_edit_field (row->owner->session, JOB_RUN, run->id, row->field, text, &fault);
  fault_free (fault); /* the run shows it: it is not priced, and says why */
}

static void
activate_cb (GtkEntry *entry, Row *row)
{
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry))));

  commit (row, text);
}

static void
leave_cb (GtkEventControllerFocus *focus, Row *row)
{
  (void) focus;
  activate_cb (GTK_ENTRY (row->entry), row);
}

static void
clear_cb (GtkButton *button, Row *row)
{
  (void) button;
  gtk_editable_set_text (GTK_EDITABLE (row->entry), "");
  commit (row, "");
  gtk_widget_grab_focus (row->entry);
}

static void
row_init (Row *row, DetailOverrides *o, int i)
{
  const JobField *field;
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *names = detail_box (0);
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_autofree char *clear_name = NULL;

  row->owner = o;
  row->field = job_field_find (JOB_RUN, keys[i]);
  field = &job_type_info (JOB_RUN)->field[row->field];
  row->title = gtk_label_new (_ (field->title));
  gtk_label_set_xalign (GTK_LABEL (row->title), 0);
  row->entry = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (row->entry), 9);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (row->entry), 14);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->entry), GTK_ACCESSIBLE_PROPERTY_LABEL, _ (field->title), -1);
  row->clear = gtk_button_new_with_label (_ ("Clear"));
  clear_name = g_strdup_printf (_ ("Clear %s: inherit it again"), _ (field->title));
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->clear), GTK_ACCESSIBLE_PROPERTY_LABEL, clear_name, -1);
  gtk_widget_set_hexpand (row->title, TRUE);
  gtk_widget_set_valign (row->entry, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (row->clear, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (line), row->title);
  gtk_box_append (GTK_BOX (line), row->entry);
  gtk_box_append (GTK_BOX (line), row->clear);
  gtk_box_append (GTK_BOX (names), line);
  row->words = detail_words (names, "caption dim-label", "%s", "");
  gtk_label_set_wrap (GTK_LABEL (row->words), FALSE);
  gtk_label_set_ellipsize (GTK_LABEL (row->words), PANGO_ELLIPSIZE_END);
  gtk_box_append (GTK_BOX (o->box), names);
  g_signal_connect (row->entry, "activate", G_CALLBACK (activate_cb), row);
  g_signal_connect (focus, "leave", G_CALLBACK (leave_cb), row);
  g_signal_connect (row->clear, "clicked", G_CALLBACK (clear_cb), row);
  gtk_widget_add_controller (row->entry, focus);
}

DetailOverrides *
detail_overrides_new (GtkWidget *box, TallySession *session)
{
  DetailOverrides *o = g_new0 (DetailOverrides, 1);

  o->session = session;
  o->box = box;
  detail_heading (box, _ ("Entered on this run"));
  for (gsize i = 0; i < N_ROWS; i++)
    row_init (&o->row[i], o, (int) i);
  return o;
}

void
detail_overrides_free (DetailOverrides *o)
{
  g_free (o);
}

/* What holds without an entry, and whose it is. */
static char *
otherwise (const DetailRun *r, const Row *row)
{
  g_autofree char *text = NULL;
  DuctGaugeOrigin origin;
  JobOrigin from;

  if (!job_inherits (row->field))
    return r->priced && r->result->method >= 0 && duct_build_origin (job_basis (r->job)->catalogue->rules, &r->result->build, &origin)
             ? g_strdup_printf (_ ("by the rule set: %s"), duct_rules_sheet (job_basis (r->job)->catalogue->rules, r->result->build.sheet)->label)
             : g_strdup (_ ("by the rule set"));
  from = job_inherited (r->job, r->run, row->field, &text);
  if (from == JOB_FROM_NOWHERE)
    return g_strdup (_ ("no entry in system or job"));
  return g_strdup_printf (_ ("%s: %s"), job_origin_words (from), text);
}

static void
row_update (Row *row, const DetailRun *r)
{
  g_autofree char *text = job_record_print (r->run, row->field, job_names (r->job));
  g_autofree char *rest = otherwise (r, row);
  gboolean own = *text != '\0';
  g_autofree char *words = own ? g_strdup_printf (_ ("entered here; otherwise %s"), rest) : g_strdup (rest);
  GtkWidget *text_widget = gtk_widget_get_first_child (row->entry);

  gtk_label_set_label (GTK_LABEL (row->words), words);
  gtk_widget_set_tooltip_text (row->words, words);
  if (own)
    gtk_widget_add_css_class (row->title, "heading");
  else
    gtk_widget_remove_css_class (row->title, "heading");
  /* It keeps its place, so that nothing moves when something is entered. */
  gtk_widget_set_sensitive (row->clear, own);
  gtk_widget_set_opacity (row->clear, own ? 1 : 0);
  /* What is being typed stays. */
  if (!(text_widget && gtk_widget_has_focus (text_widget)) && g_strcmp0 (gtk_editable_get_text (GTK_EDITABLE (row->entry)), text) != 0)
    gtk_editable_set_text (GTK_EDITABLE (row->entry), text);
}

void
detail_overrides_update (DetailOverrides *o, const DetailRun *r)
{
  gboolean other = r && o->run != r->run->id;

  gtk_widget_set_visible (o->box, r && r->run->num[RUN_KIND] != DUCT_COUNTED && !job_is_note_line (r->run));
  if (!r)
    {
      o->run = 0;
      return;
    }
  o->run = r->run->id;
  for (gsize i = 0; i < N_ROWS; i++)
    {
      if (other)
        gtk_editable_set_text (GTK_EDITABLE (o->row[i].entry), "");
      row_update (&o->row[i], r);
    }
}
