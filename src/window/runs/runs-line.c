/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The line below the table that takes a whole run. */
#include "config.h"

#include "window/runs/runs-private.h"

#include "job/entry.h"

#include <glib/gi18n.h>
#include <string.h>

static const JobRecord *
row_above (TallyRunsView *self)
{
  guint n = grid_model_n_rows (TALLY_GRID_MODEL (self->model));

  return n > 0 ? run_model_run (self->model, n - 1) : NULL;
}

/* Words still being typed are no error: the cursor stands behind a word that has no blank yet, and the trouble is in it or is
 * that something is missing. */
static gboolean
is_unfinished (TallyRunsView *self, const char *text, const Fault *query)
{
  gsize length = strlen (text), from = length;

  if (gtk_editable_get_position (self->line) < (int) g_utf8_strlen (text, -1))
    return FALSE;
  while (from > 0 && text[from - 1] != ' ')
    from--;
  return query->at < 0 || (gsize) query->at >= from;
}

/* The word that is asked about, underlined in the line; @query: NULL none. */
static void
mark_word (TallyRunsView *self, const char *text, const Fault *query)
{
  PangoAttrList *list = pango_attr_list_new ();

  if (query && query->at >= 0 && (gsize) query->at < strlen (text))
    {
      PangoAttribute *line = pango_attr_underline_new (PANGO_UNDERLINE_ERROR);
      const char *end = text + query->at + strcspn (text + query->at, " ");
      line->start_index = (guint) query->at;
      line->end_index = (guint) (end - text);
      pango_attr_list_insert (list, line);
    }
  gtk_entry_set_attributes (GTK_ENTRY (self->line), list);
  pango_attr_list_unref (list);
}

static void
show_reading (TallyRunsView *self, const char *words, gboolean faulty)
{
  gtk_label_set_label (self->reading, words);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->reading), words);
  if (faulty)
    gtk_widget_add_css_class (GTK_WIDGET (self->reading), "faulty");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self->reading), "faulty");
}

static void read_line (TallyRunsView *self, gboolean finished);

static gboolean
line_wait_cb (gpointer data)
{
  TallyRunsView *self = data;

  self->line_wait = 0;
  read_line (self, TRUE);
  return G_SOURCE_REMOVE;
}

static void
read_line (TallyRunsView *self, gboolean finished)
{
  const char *text = gtk_editable_get_text (self->line);
  JobEntry entry = { NULL, NULL, NULL };

  g_clear_handle_id (&self->line_wait, g_source_remove);
  mark_word (self, text, NULL);
  if (!*text || !session_job (self->session))
    {
      show_reading (self, _ ("What is typed here is read back before it is added"), FALSE);
      return;
    }
  job_entry_read (session_job (self->session), text, row_above (self), &entry);
  if (entry.query && !finished && is_unfinished (self, text, entry.query))
    {
      show_reading (self, _ ("…"), FALSE);
      self->line_wait = g_timeout_add (1200, line_wait_cb, self);
    }
  else if (entry.query)
    {
      g_autofree char *words = fault_words (entry.query, text);
      show_reading (self, words, TRUE);
      mark_word (self, text, entry.query);
    }
  else
    {
      g_autofree char *words = g_strdup_printf (_ ("→ %s · Enter adds it"), entry.reading);
      show_reading (self, words, FALSE);
    }
  job_entry_clear (&entry);
}

static void
line_changed_cb (GtkEditable *editable, TallyRunsView *self)
{
  (void) editable;
  read_line (self, FALSE);
}

static void
line_activate_cb (GtkEntry *widget, TallyRunsView *self)
{
  JobEntry entry = { NULL, NULL, NULL };
  guint n = grid_model_n_rows (TALLY_GRID_MODEL (self->model));
  const JobScope *scope = session_scope (self->session);

  (void) widget;
  if (!session_job (self->session) || !*gtk_editable_get_text (self->line))
    return;
  job_entry_read (session_job (self->session), gtk_editable_get_text (self->line), row_above (self), &entry);
  if (entry.run)
    {
      JobRecord *run = g_steal_pointer (&entry.run);
      if (run->num[RUN_SYSTEM] == JOB_UNSET && scope->system > 0)
        run->num[RUN_SYSTEM] = scope->system;
      if (run->num[RUN_AREA] == JOB_UNSET && scope->area > 0)
        run->num[RUN_AREA] = scope->area;
      if (run_model_add (self->model, run, n > 0 ? n - 1 : 0, _ ("entry of a run")))
        {
          gtk_editable_set_text (self->line, "");
          /* The new row comes into sight; the line keeps the focus for the next one. */
          grid_set_cursor (self->grid, grid_model_n_rows (TALLY_GRID_MODEL (self->model)) - 1, 0);
        }
    }
  else
    read_line (self, TRUE);
  job_entry_clear (&entry);
}

/* Escape takes back what was typed; once more, and the table has the keys. */
static gboolean
line_key_cb (GtkEventControllerKey *keys, guint key, guint code, GdkModifierType with, TallyRunsView *self)
{
  (void) keys;
  (void) code;
  (void) with;
  if (key != GDK_KEY_Escape)
    return FALSE;
  if (*gtk_editable_get_text (self->line))
    gtk_editable_set_text (self->line, "");
  else
    gtk_widget_grab_focus (GTK_WIDGET (self->grid));
  return TRUE;
}

void
runs_line_init (TallyRunsView *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  g_signal_connect (keys, "key-pressed", G_CALLBACK (line_key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self->line), keys);
  g_signal_connect (self->line, "changed", G_CALLBACK (line_changed_cb), self);
  g_signal_connect (self->line, "activate", G_CALLBACK (line_activate_cb), self);
}

void
runs_line_dispose (TallyRunsView *self)
{
  g_clear_handle_id (&self->line_wait, g_source_remove);
}
