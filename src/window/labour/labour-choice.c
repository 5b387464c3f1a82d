/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/labour/labour-private.h"
#include "window/words.h"

#include "job/setting.h"
#include "labour/money.h"

#include <glib/gi18n.h>
#include <string.h>

/* A drop-down of the words of one setting. What stands in words[] is kept, what stands in say[] is shown. */
typedef struct
{
  TallySession *session; /* borrowed: the signals go with the widget */
  const char *key;
  GtkWidget *box, *drop;
  GStrv words;
  gboolean filling;
} Choice;

static void
choice_free (gpointer data)
{
  Choice *c = data;

  g_strfreev (c->words);
  g_free (c);
}

static guint
place_of (const Choice *c, const char *word)
{
  for (guint i = 0; c->words[i]; i++)
    if (g_ascii_strcasecmp (c->words[i], word) == 0)
      return i;
  return 0;
}

static void
fill (Choice *c)
{
  TallyJob *job = session_job (c->session);

  c->filling = TRUE;
  gtk_widget_set_sensitive (c->drop, job != NULL);
  if (job)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (c->drop), place_of (c, job_setting (job, c->key)));
  c->filling = FALSE;
}

static void
picked_cb (GtkDropDown *drop, GParamSpec *spec, Choice *c)
{
  TallyJob *job = session_job (c->session);
  guint at = gtk_drop_down_get_selected (drop);
  const JobSetting *setting = job_setting_find (c->key);
  JobEdit *edit;

  (void) spec;
  if (!job || c->filling || at == GTK_INVALID_LIST_POSITION)
    return;
  edit = job_edit_new (_ (setting->title));
  job_edit_setting (job, edit, c->key, strcmp (c->words[at], setting->fallback) == 0 ? NULL : c->words[at]);
  if (edit->deltas->len == 0)
    job_edit_free (edit);
  else if (!session_apply (c->session, edit))
    fill (c); /* refused: the words stand above */
}

static void
job_cb (GtkWidget *box)
{
  fill (g_object_get_data (G_OBJECT (box), "choice"));
}

static GtkWidget *
choice_new (TallySession *session, const char *key, GStrv words, const char *const *say)
{
  Choice *c = g_new0 (Choice, 1);
  const char *title = _ (job_setting_find (key)->title);

  c->session = session;
  c->key = key;
  c->words = words;
  c->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  c->drop = gtk_drop_down_new_from_strings (say);
  gtk_widget_set_halign (c->drop, GTK_ALIGN_START);
  gtk_accessible_update_property (GTK_ACCESSIBLE (c->drop), GTK_ACCESSIBLE_PROPERTY_LABEL, title, -1);
  gtk_box_append (GTK_BOX (c->box), tally_words_in_cell_new (title, "unit"));
  gtk_box_append (GTK_BOX (c->box), c->drop);
  g_object_set_data_full (G_OBJECT (c->box), "choice", c, choice_free);
  fill (c);
  g_signal_connect (c->drop, "notify::selected", G_CALLBACK (picked_cb), c);
  g_signal_connect_object (session, "job", G_CALLBACK (job_cb), c->box, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "changed", G_CALLBACK (job_cb), c->box, G_CONNECT_SWAPPED);
  return c->box;
}

GtkWidget *
labour_choice_new (TallySession *session, const char *key)
{
  const JobSetting *setting = job_setting_find (key);
  g_autoptr (GPtrArray) say = g_ptr_array_new ();

  for (int i = 0; setting->words[i]; i++)
    g_ptr_array_add (say, (gpointer) _ (setting->say[i]));
  g_ptr_array_add (say, NULL);
  return choice_new (session, key, g_strdupv ((char **) setting->words), (const char *const *) say->pdata);
}

GtkWidget *
labour_table_choice_new (TallySession *session)
{
  TallyJob *job = session_job (session);
  const GPtrArray *losses = job ? job_basis (job)->catalogue->labour->losses : NULL;
  GPtrArray *keys = g_ptr_array_new ();
  g_autoptr (GPtrArray) say = g_ptr_array_new ();

  g_ptr_array_add (keys, g_strdup (""));
  g_ptr_array_add (say, (gpointer) (losses && losses->len > 0 ? _ ("none") : _ ("none: the catalogue has no table yet")));
  for (guint i = 0; losses && i < losses->len; i++)
    {
      const LabourLossRow *row = g_ptr_array_index (losses, i);
      if (!g_ptr_array_find_with_equal_func (keys, row->table, g_str_equal, NULL))
        {
          g_ptr_array_add (keys, g_strdup (row->table));
          g_ptr_array_add (say, row->table);
        }
    }
  g_ptr_array_add (keys, NULL);
  g_ptr_array_add (say, NULL);
  return choice_new (session, "overtime.table", (GStrv) g_ptr_array_free (keys, FALSE), (const char *const *) say->pdata);
}
