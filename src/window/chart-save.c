/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A picture of the window as a file. */
#include "config.h"

#include "window/chart-picture.h"

#include "exchange/picture.h"

#include <glib/gi18n.h>
#include <string.h>

typedef struct
{
  TallyChartArea *area;  /* weak */
  TallyPicture *picture; /* weak */
  char *title, *note;
  gboolean pdf;
  TallyChartTold told;
} Ask;

static void
ask_free (Ask *ask)
{
  g_clear_weak_pointer (&ask->area);
  g_clear_weak_pointer (&ask->picture);
  g_free (ask->title);
  g_free (ask->note);
  g_free (ask);
}

/* The ending of the name that was typed decides, then what was asked for. */
static void
write_to (Ask *ask, const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *words = NULL;
  Picture p = { .title = ask->title, .note = ask->note, .width = gtk_widget_get_width (GTK_WIDGET (ask->picture)) };

  gboolean pdf = g_str_has_suffix (path, ".pdf") || (ask->pdf && !g_str_has_suffix (path, ".png"));

  if (!tally_picture_get (ask->picture, &p.height, &p.draw, &p.data))
    return;
  if (picture_write (&p, pdf ? PICTURE_PDF : PICTURE_PNG, path, &error))
    words = g_strdup_printf (_ ("Saved as %s"), path);
  else
    words = g_strdup_printf (_ ("Not saved: %s"), error->message);
  ask->told (ask->area, words);
}

static void
response_cb (GtkNativeDialog *dialog, int response, gpointer data)
{
  Ask *ask = data;
  g_autoptr (GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog)) : NULL;
  g_autofree char *path = file ? g_file_get_path (file) : NULL;

  if (ask->area && ask->picture && path)
    write_to (ask, path);
  else if (ask->area && file)
    ask->told (ask->area, _ ("Not saved: choose a folder of this computer"));
  ask_free (ask);
  g_object_unref (dialog);
}

/* A file name from the title: no folders, nothing hidden, not too long. */
static char *
proposed_name (const char *title, gboolean pdf)
{
  g_autofree char *plain = g_utf8_substring (title && *title ? title : _ ("Picture"), 0,
                                             MIN (g_utf8_strlen (title && *title ? title : _ ("Picture"), -1), 60));

  for (char *p = plain; *p; p++)
    if (strchr ("/\\:*?\"<>|", *p) || g_ascii_iscntrl (*p) || (p == plain && *p == '.'))
      *p = '-';
  return g_strconcat (g_strchomp (plain), pdf ? ".pdf" : ".png", NULL);
}

void
tally_chart_save (TallyChartArea *area, TallyPicture *picture, const char *title, const char *note, gboolean pdf, TallyChartTold told)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (area));
  const char *documents = g_get_user_special_dir (G_USER_DIRECTORY_DOCUMENTS);
  g_autoptr (GFile) folder = g_file_new_for_path (documents ? documents : g_get_home_dir ());
  g_autofree char *name = proposed_name (title, pdf);
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();
  GtkFileChooserNative *dialog = gtk_file_chooser_native_new (_ ("Save picture"), GTK_IS_WINDOW (root) ? GTK_WINDOW (root) : NULL,
                                                              GTK_FILE_CHOOSER_ACTION_SAVE, _ ("_Save"), _ ("_Cancel"));
  Ask *ask = g_new0 (Ask, 1);

  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (dialog), TRUE);
  gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (dialog), folder, NULL);
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (dialog), name);
  gtk_file_filter_set_name (filter, pdf ? _ ("PDF pages") : _ ("PNG pictures"));
  gtk_file_filter_add_pattern (filter, pdf ? "*.pdf" : "*.png");
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (dialog), filter);
  g_set_weak_pointer (&ask->area, area);
  g_set_weak_pointer (&ask->picture, picture);
  ask->title = g_strdup (title);
  ask->note = g_strdup (note);
  ask->pdf = pdf;
  ask->told = told;
  g_signal_connect (dialog, "response", G_CALLBACK (response_cb), ask);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}
