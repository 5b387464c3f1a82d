/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The memo on its way out: a file, a printer. */
#include "config.h"

#include "window/memo/memo-out.h"

#include <glib/gi18n.h>
#include <string.h>

/* @memo is a place in @owner, so that what is there is looked up when it is wanted. */
typedef struct
{
  TallySession *session;
  GtkWidget *owner;        /* weak */
  const Memo *const *memo; /* valid while @owner lives */
  MemoPaper paper;
} Out;

static Out *
out_new (TallySession *session, GtkWidget *owner, const Memo *const *memo, MemoPaper paper)
{
  Out *out = g_new0 (Out, 1);

  out->session = g_object_ref (session);
  g_set_weak_pointer (&out->owner, owner);
  out->memo = memo;
  out->paper = paper;
  return out;
}

static void
out_free (Out *out)
{
  g_clear_weak_pointer (&out->owner);
  g_object_unref (out->session);
  g_free (out);
}

static const Memo *
memo_of (Out *out)
{
  return out->owner ? *out->memo : NULL;
}

static GtkWindow *
window_of (GtkWidget *owner)
{
  GtkRoot *root = gtk_widget_get_root (owner);

  return GTK_IS_WINDOW (root) ? GTK_WINDOW (root) : NULL;
}

/* ---- a file ---- */

static void
response_cb (GtkNativeDialog *dialog, int response, gpointer data)
{
  Out *out = data;
  g_autoptr (GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog)) : NULL;
  g_autofree char *path = file ? g_file_get_path (file) : NULL;
  const Memo *memo = memo_of (out);
  g_autoptr (GError) error = NULL;
  gboolean text = path && g_str_has_suffix (path, ".txt");

  if (file && !path)
    session_say (out->session, SESSION_REFUSED, "%s", _ ("The memo cannot be written there: choose a folder of this computer"));
  else if (path && memo)
    {
      if (text ? memo_write_text (memo, path, &error) : memo_write_pdf (memo, out->paper, path, &error))
        session_say (out->session, SESSION_SAID, _ ("The memo is in %s"), path);
      else
        session_say (out->session, SESSION_REFUSED, _ ("The memo was not written: %s"), error->message);
    }
  out_free (out);
  g_object_unref (dialog);
}

void
tally_memo_save (TallySession *session, GtkWidget *owner, const Memo *const *memo, MemoPaper paper)
{
  const char *documents = g_get_user_special_dir (G_USER_DIRECTORY_DOCUMENTS);
  g_autoptr (GFile) folder = g_file_new_for_path (documents ? documents : g_get_home_dir ());
  g_autoptr (GtkFileFilter) pdf = gtk_file_filter_new (), text = gtk_file_filter_new ();
  GtkFileChooserNative *dialog;

  if (!*memo)
    return;
  dialog = gtk_file_chooser_native_new (_ ("Save memo"), window_of (owner), GTK_FILE_CHOOSER_ACTION_SAVE, _ ("_Save"), _ ("_Cancel"));
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (dialog), TRUE);
  gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (dialog), folder, NULL);
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (dialog), _ ("decision-memo.pdf"));
  gtk_file_filter_set_name (pdf, _ ("PDF pages"));
  gtk_file_filter_add_pattern (pdf, "*.pdf");
  gtk_file_filter_set_name (text, _ ("Text files"));
  gtk_file_filter_add_pattern (text, "*.txt");
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (dialog), pdf);
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (dialog), text);
  g_signal_connect (dialog, "response", G_CALLBACK (response_cb), out_new (session, owner, memo, paper));
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}

/* ---- a printer ---- */

static void
draw_cb (GtkPrintOperation *operation, GtkPrintContext *context, int page, Out *out)
{
  cairo_t *cr = gtk_print_context_get_cairo_context (context);
  const Memo *memo = memo_of (out);
  double width, height, scale;

  (void) operation;
  (void) page;
  if (!memo)
    return;
  memo_page_size (out->paper, &width, &height);
  scale = MIN (gtk_print_context_get_width (context) / width, gtk_print_context_get_height (context) / height);
  cairo_scale (cr, scale, scale);
  memo_paint (memo, out->paper, cr);
}

static void
done_cb (GtkPrintOperation *operation, GtkPrintOperationResult result, Out *out)
{
  g_autoptr (GError) error = NULL;

  if (result == GTK_PRINT_OPERATION_RESULT_ERROR)
    {
      gtk_print_operation_get_error (operation, &error);
      session_say (out->session, SESSION_REFUSED, _ ("The memo was not printed: %s"), error ? error->message : _ ("no reason is known"));
    }
  out_free (out);
  g_object_unref (operation);
}

void
tally_memo_print (TallySession *session, GtkWidget *owner, const Memo *const *memo, MemoPaper paper)
{
  GtkPrintOperation *operation;
  g_autoptr (GtkPageSetup) setup = gtk_page_setup_new ();
  GtkPaperSize *size;
  Out *out;

  if (!*memo)
    return;
  out = out_new (session, owner, memo, paper);
  operation = gtk_print_operation_new ();
  size = gtk_paper_size_new (paper == MEMO_LETTER ? GTK_PAPER_NAME_LETTER : GTK_PAPER_NAME_A4);
  gtk_page_setup_set_paper_size (setup, size);
  gtk_paper_size_free (size);
  gtk_print_operation_set_default_page_setup (operation, setup);
  gtk_print_operation_set_n_pages (operation, 1);
  gtk_print_operation_set_unit (operation, GTK_UNIT_POINTS);
  gtk_print_operation_set_use_full_page (operation, TRUE);
  gtk_print_operation_set_job_name (operation, (*memo)->title);
  gtk_print_operation_set_allow_async (operation, TRUE);
  g_signal_connect (operation, "draw-page", G_CALLBACK (draw_cb), out);
  g_signal_connect (operation, "done", G_CALLBACK (done_cb), out);
  gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, window_of (owner), NULL);
}
