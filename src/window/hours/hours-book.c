/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/hours/hours-book.h"

#include "track/week.h"

#include <glib/gi18n.h>
#include <string.h>

#define MOST_UNDO 200

/* A step of undo: one of the two. */
typedef struct
{
  HoursEdit *hours;
  GArray *ticks;   /* DoneTick: what stood there before */
  char *label;
} Step;

struct _TallyHoursBook
{
  GObject parent_instance;

  TallySession *session; /* borrowed: the book goes with it */
  gboolean read, computed;
  char *trouble;
  GPtrArray *entries;
  GArray *ticks;
  DoneTable *done;
  Standing *standing;
  GPtrArray *undo;       /* Step */
};

enum { CHANGED, N_SIGNALS };

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TallyHoursBook, tally_hours_book, G_TYPE_OBJECT)

static void
step_free (gpointer data)
{
  Step *step = data;

  hours_edit_free (step->hours);
  g_clear_pointer (&step->ticks, g_array_unref);
  g_free (step->label);
  g_free (step);
}

static void
take_lists (TallyHoursBook *book, GPtrArray *entries, GArray *ticks)
{
  g_clear_pointer (&book->done, g_hash_table_unref);
  g_clear_pointer (&book->entries, g_ptr_array_unref);
  g_clear_pointer (&book->ticks, g_array_unref);
  book->entries = entries ? entries : hours_list_new ();
  book->ticks = ticks ? ticks : g_array_new (FALSE, FALSE, sizeof (DoneTick));
  book->done = done_table_new (book->ticks);
  book->computed = FALSE;
}

static void
read_lists (TallyHoursBook *book)
{
  Store *store = session_store (book->session);
  gint64 id = session_job (book->session) ? session_job_id (book->session) : 0;
  g_autoptr (GError) error = NULL;
  GPtrArray *entries = store && id > 0 ? store_hours (store, id, &error) : NULL;
  GArray *ticks = entries ? store_done (store, id, &error) : NULL;

  g_clear_pointer (&book->trouble, g_free);
  if (error)
    book->trouble = g_strdup (error->message);
  if (!ticks)
    g_clear_pointer (&entries, g_ptr_array_unref);
  take_lists (book, entries, ticks);
  book->read = TRUE;
}

static void
ensure (TallyHoursBook *book)
{
  if (!book->read)
    read_lists (book);
}

static void
tell (TallyHoursBook *book)
{
  g_signal_emit (book, signals[CHANGED], 0);
}

/* ---- what happens to the job ---- */

static void
job_cb (TallySession *session, TallyHoursBook *book)
{
  (void) session;
  book->read = FALSE;
  g_ptr_array_set_size (book->undo, 0);
  standing_forget (book->standing);
  tell (book);
}

static void
changed_cb (TallySession *session, JobEdit *edit, TallyHoursBook *book)
{
  (void) session;
  if (!edit)
    book->read = FALSE;
  book->computed = FALSE;
  standing_forget (book->standing);
  tell (book);
}

static void
tally_hours_book_finalize (GObject *object)
{
  TallyHoursBook *book = TALLY_HOURS_BOOK (object);

  g_clear_pointer (&book->done, g_hash_table_unref);
  g_clear_pointer (&book->entries, g_ptr_array_unref);
  g_clear_pointer (&book->ticks, g_array_unref);
  g_ptr_array_unref (book->undo);
  standing_free (book->standing);
  g_free (book->trouble);
  G_OBJECT_CLASS (tally_hours_book_parent_class)->finalize (object);
}

static void
tally_hours_book_class_init (TallyHoursBookClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tally_hours_book_finalize;
  signals[CHANGED] = g_signal_new ("changed", TALLY_TYPE_HOURS_BOOK, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
tally_hours_book_init (TallyHoursBook *book)
{
  book->standing = standing_new ();
  book->undo = g_ptr_array_new_with_free_func (step_free);
}

TallyHoursBook *
hours_book_of (TallySession *session)
{
  TallyHoursBook *book = g_object_get_data (G_OBJECT (session), "hours-book");

  if (book)
    return book;
  book = g_object_new (TALLY_TYPE_HOURS_BOOK, NULL);
  book->session = session;
  g_signal_connect_object (session, "job", G_CALLBACK (job_cb), book, 0);
  g_signal_connect_object (session, "changed", G_CALLBACK (changed_cb), book, 0);
  g_object_set_data_full (G_OBJECT (session), "hours-book", book, g_object_unref);
  return book;
}

/* ---- looking ---- */

gboolean
hours_book_ready (TallyHoursBook *book)
{
  ensure (book);
  return session_job (book->session) && !book->trouble;
}

const char *
hours_book_trouble (TallyHoursBook *book)
{
  ensure (book);
  return book->trouble;
}

const GPtrArray *
hours_book_entries (TallyHoursBook *book)
{
  ensure (book);
  return book->entries;
}

const GArray *
hours_book_ticks (TallyHoursBook *book)
{
  ensure (book);
  return book->ticks;
}

DoneTable *
hours_book_done (TallyHoursBook *book)
{
  ensure (book);
  return book->done;
}

Standing *
hours_book_standing (TallyHoursBook *book)
{
  ensure (book);
  if (!book->computed && session_job (book->session))
    {
      standing_update (book->standing, session_job (book->session), book->entries, book->ticks);
      book->computed = TRUE;
    }
  return book->standing;
}

gint64
hours_book_find_area (gpointer data, const char *name)
{
  TallyHoursBook *book = data;
  TallyJob *job = session_job (book->session);
  g_autofree char *own = g_strstrip (g_strdup (name)), *folded = g_utf8_casefold (own, -1);

  for (guint i = 0; job && i < job_n (job, JOB_AREA); i++)
    {
      const JobRecord *area = job_at (job, JOB_AREA, i);
      g_autofree char *other = area->text[AREA_KEY] ? g_utf8_casefold (area->text[AREA_KEY], -1) : NULL;
      if (other && strcmp (other, folded) == 0)
        return area->id;
    }
  return 0;
}

char *
hours_book_area_name (TallyHoursBook *book, gint64 area)
{
  TallyJob *job = session_job (book->session);
  const JobRecord *record = job && area > 0 ? job_find (job, JOB_AREA, area) : NULL;

  if (area == 0)
    return g_strdup (_ ("whole job"));
  if (record)
    return g_strdup (record->text[AREA_KEY] ? record->text[AREA_KEY] : _ ("area without a name"));
  return g_strdup_printf (_ ("area %" G_GINT64_FORMAT ", deleted"), area);
}

/* ---- changing ---- */

static gboolean
refuse (TallyHoursBook *book, GError *error)
{
  session_say (book->session, SESSION_REFUSED, "%s", error ? error->message : _ ("No job is open: open one first"));
  g_clear_error (&error);
  return FALSE;
}

static void
push (TallyHoursBook *book, HoursEdit *hours, GArray *ticks, const char *label)
{
  Step *step = g_new0 (Step, 1);

  step->hours = hours;
  step->ticks = ticks;
  step->label = g_strdup (label);
  if (book->undo->len >= MOST_UNDO)
    g_ptr_array_remove_index (book->undo, 0);
  g_ptr_array_add (book->undo, step);
}

static void
read_again (TallyHoursBook *book)
{
  read_lists (book);
  tell (book);
}

gboolean
hours_book_apply (TallyHoursBook *book, HoursEdit *taken)
{
  g_autoptr (HoursEdit) edit = taken;
  GError *error = NULL;
  Fault *fault = NULL;

  if (edit->deltas->len == 0)
    return TRUE;
  if (!hours_book_ready (book))
    return refuse (book, NULL);
  if (!week_check (edit, book->entries, &fault))
    {
      g_autofree char *words = fault_words (fault, NULL);
      fault_free (fault);
      session_say (book->session, SESSION_REFUSED, "%s", words);
      return FALSE;
    }
  if (!store_hours_apply (session_store (book->session), session_job_id (book->session), edit, &error))
    return refuse (book, error);
  push (book, hours_edit_inverse (edit), NULL, edit->label);
  read_again (book);
  return TRUE;
}

gboolean
hours_book_tick (TallyHoursBook *book, const DoneTick *tick, gsize n, const char *label)
{
  GError *error = NULL;
  GArray *before;

  if (n == 0)
    return TRUE;
  if (!hours_book_ready (book))
    return refuse (book, NULL);
  before = g_array_new (FALSE, FALSE, sizeof (DoneTick));
  for (gsize i = 0; i < n; i++)
    {
      DoneTick old = tick[i];
      gint64 ppm[DONE_N_STAGES];

      done_table_get (book->done, old.run, ppm);
      old.ppm = ppm[old.stage];
      for (guint k = 0; k < book->ticks->len; k++)
        {
          const DoneTick *other = &g_array_index (book->ticks, DoneTick, k);
          if (old.ppm > 0 && other->run == old.run && other->stage == old.stage)
            old.day = other->day;
        }
      g_array_append_val (before, old);
    }
  if (!store_done_set (session_store (book->session), session_job_id (book->session), tick, n, label, &error))
    {
      g_array_unref (before);
      return refuse (book, error);
    }
  push (book, NULL, before, label);
  read_again (book);
  return TRUE;
}

const char *
hours_book_undo_label (TallyHoursBook *book)
{
  const Step *step = book->undo->len ? g_ptr_array_index (book->undo, book->undo->len - 1) : NULL;

  return step ? step->label : NULL;
}

void
hours_book_undo (TallyHoursBook *book)
{
  Store *store = session_store (book->session);
  gint64 job = session_job_id (book->session);
  g_autofree char *label = NULL;
  GError *error = NULL;
  Step *step;
  gboolean good;

  if (book->undo->len == 0 || !hours_book_ready (book))
    return;
  step = g_ptr_array_index (book->undo, book->undo->len - 1);
  label = g_strdup_printf (_ ("undo of %s"), step->label);
  if (step->hours)
    {
      g_free (step->hours->label);
      step->hours->label = g_strdup (label);
      good = store_hours_apply (store, job, step->hours, &error);
    }
  else
    good = store_done_set (store, job, (const DoneTick *) (gpointer) step->ticks->data, step->ticks->len, label, &error);
  if (!good)
    {
      refuse (book, error);
      return;
    }
  session_say (book->session, SESSION_SAID, _ ("Undone: %s"), step->label);
  g_ptr_array_remove_index (book->undo, book->undo->len - 1);
  read_again (book);
}
