/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/hours/done-model.h"

#include "job/note-line.h"
#include "job/query.h"

#include <glib/gi18n.h>
#include <math.h>

struct _TallyDoneModel
{
  GObject parent_instance;

  TallySession *session; /* borrowed */
  TallyHoursBook *book;
  GArray *order;         /* guint: positions of runs */
};

static void model_init (TallyGridModelInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE (TallyDoneModel, tally_done_model, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (TALLY_TYPE_GRID_MODEL, model_init))

/* NULL where the row is none, also while the job is changing under us. */
static const JobRecord *
run_at (TallyDoneModel *self, guint row)
{
  TallyJob *job = session_job (self->session);
  guint at;

  if (!job || row >= self->order->len)
    return NULL;
  at = g_array_index (self->order, guint, row);
  return at < job_n (job, JOB_RUN) ? job_at (job, JOB_RUN, at) : NULL;
}

static int
stage_of (guint column)
{
  return column >= DONE_COLUMN_STAGE && column < DONE_N_COLUMNS ? (int) (column - DONE_COLUMN_STAGE) : -1;
}

static guint
n_rows (TallyGridModel *model)
{
  return TALLY_DONE_MODEL (model)->order->len;
}

static guint
n_columns (TallyGridModel *model)
{
  (void) model;
  return DONE_N_COLUMNS;
}

static char *
title (TallyGridModel *model, guint column)
{
  static const char *const name[DONE_COLUMN_STAGE] = { N_ ("System"), N_ ("Area"),  N_ ("Run"),
                                                       N_ ("Length"), N_ ("Count"), N_ ("Estimated") };
  static const char *const stage[DONE_N_STAGES] = { N_ ("Fabricated"), N_ ("Hung"), N_ ("Joined"), N_ ("Tested") };

  (void) model;
  return g_strdup (_ (column < DONE_COLUMN_STAGE ? name[column] : stage[column - DONE_COLUMN_STAGE]));
}

static char *
unit (TallyGridModel *model, guint column)
{
  TallyJob *job = session_job (TALLY_DONE_MODEL (model)->session);

  if (column == DONE_COLUMN_LENGTH)
    return g_strdup (job && job_names (job)->metric ? _ ("m") : _ ("ft"));
  if (column == DONE_COLUMN_HOURS)
    return g_strdup (_ ("worker-h"));
  return g_strdup (stage_of (column) >= 0 ? _ ("x or %") : "");
}

static guint
width (TallyGridModel *model, guint column)
{
  static const guint chars[DONE_N_COLUMNS] = { 8, 10, 23, 8, 7, 10, 10, 8, 8, 8 };

  (void) model;
  return chars[column];
}

static char *
print (TallyDoneModel *self, const JobRecord *run, const char *key)
{
  return job_record_print (run, job_field_find (JOB_RUN, key), job_names (session_job (self->session)));
}

static char *
run_words (TallyDoneModel *self, const JobRecord *run)
{
  g_autofree char *kind = print (self, run, "kind"), *size = print (self, run, "size"), *item = print (self, run, "item");

  return g_strstrip (g_strdup_printf ("%s %s", kind, *size ? size : item));
}

static void
shares (TallyDoneModel *self, const JobRecord *run, gint64 own[DONE_N_STAGES], gint64 whole[DONE_N_STAGES])
{
  done_table_get (hours_book_done (self->book), run->id, own);
  done_effective (own, whole);
}

static char *
cell_text (TallyGridModel *model, guint row, guint column)
{
  TallyDoneModel *self = TALLY_DONE_MODEL (model);
  const JobRecord *run = run_at (self, row);
  gint64 own[DONE_N_STAGES], whole[DONE_N_STAGES];
  double hours[DONE_N_STAGES], sum = 0;

  if (!run)
    return g_strdup ("");
  switch (column)
    {
    case DONE_COLUMN_SYSTEM:
      return print (self, run, "system");
    case DONE_COLUMN_AREA:
      return print (self, run, "area");
    case DONE_COLUMN_RUN:
      return run_words (self, run);
    case DONE_COLUMN_LENGTH:
      return print (self, run, "length");
    case DONE_COLUMN_COUNT:
      return print (self, run, "count");
    case DONE_COLUMN_HOURS:
      if (!standing_run (hours_book_standing (self->book), session_job (self->session), run, hours))
        return g_strdup (_ ("not priced"));
      for (int i = 0; i < DONE_N_STAGES; i++)
        sum += hours[i];
      return session_figure (sum, 2, FALSE);
    default:
      shares (self, run, own, whole);
      return done_print (whole[stage_of (column)]);
    }
}

static GridCellFlags
flags (TallyGridModel *model, guint row, guint column)
{
  TallyDoneModel *self = TALLY_DONE_MODEL (model);
  const JobRecord *run = run_at (self, row);
  int stage = stage_of (column);
  GridCellFlags f = column >= DONE_COLUMN_LENGTH ? GRID_CELL_FIGURE : 0;
  gint64 own[DONE_N_STAGES], whole[DONE_N_STAGES];

  if (!run || stage < 0)
    return f | (column == DONE_COLUMN_HOURS ? GRID_CELL_COMPUTED : GRID_CELL_DIM);
  shares (self, run, own, whole);
  if (whole[stage] > own[stage])
    f |= GRID_CELL_INHERITED;
  return f | GRID_CELL_EDITABLE;
}

static char *
message (TallyGridModel *model, guint row, guint column)
{
  TallyDoneModel *self = TALLY_DONE_MODEL (model);
  const JobRecord *run = run_at (self, row);
  int stage = stage_of (column);
  gint64 own[DONE_N_STAGES], whole[DONE_N_STAGES];
  double hours[DONE_N_STAGES];
  g_autofree char *earned = NULL, *of = NULL;

  if (!run || stage < 0)
    return NULL;
  if (!standing_run (hours_book_standing (self->book), session_job (self->session), run, hours))
    return g_strdup (_ ("the run is not priced, so it earns nothing"));
  shares (self, run, own, whole);
  earned = session_figure (hours[stage] * (double) whole[stage] / DONE_ALL, 2, FALSE);
  of = session_figure (hours[stage], 2, FALSE);
  if (whole[stage] > own[stage])
    return g_strdup_printf (_ ("earns %s of %s worker-hours; done because a later stage is"), earned, of);
  return g_strdup_printf (_ ("earns %s of %s worker-hours"), earned, of);
}

/* ---- changes ---- */

static gint64
today (void)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  GDate date;

  g_date_clear (&date, 1);
  g_date_set_dmy (&date, (GDateDay) g_date_time_get_day_of_month (now), (GDateMonth) g_date_time_get_month (now),
                  (GDateYear) g_date_time_get_year (now));
  return g_date_get_julian (&date);
}

static void
add_tick (TallyDoneModel *self, GArray *ticks, const JobRecord *run, int stage, gint64 ppm)
{
  DoneTick tick = { run->id, (DoneStage) stage, ppm, today () };
  gint64 own[DONE_N_STAGES];

  done_table_get (hours_book_done (self->book), run->id, own);
  if (own[stage] != ppm)
    g_array_append_val (ticks, tick);
}

static gboolean
apply (TallyGridModel *model, const GridPatchCell *cells, gsize n, const char *label)
{
  TallyDoneModel *self = TALLY_DONE_MODEL (model);
  g_autoptr (GArray) ticks = g_array_new (FALSE, FALSE, sizeof (DoneTick));

  for (gsize i = 0; i < n; i++)
    {
      const JobRecord *run = run_at (self, cells[i].row);
      int stage = stage_of (cells[i].column);
      Fault *fault = NULL;
      gint64 ppm;

      if (!run || stage < 0)
        continue;
      if (!done_parse (cells[i].text, &ppm, &fault))
        {
          g_autofree char *words = fault_words (fault, NULL);
          fault_free (fault);
          session_say (self->session, SESSION_REFUSED, _ ("Row %u: %s"), cells[i].row + 1, words);
          return FALSE;
        }
      add_tick (self, ticks, run, stage, ppm);
    }
  return hours_book_tick (self->book, (const DoneTick *) (gpointer) ticks->data, ticks->len, label);
}

gboolean
done_model_fill (TallyDoneModel *self, guint row0, guint column0, guint row1, guint column1, gint64 ppm)
{
  g_autoptr (GArray) ticks = g_array_new (FALSE, FALSE, sizeof (DoneTick));
  g_autofree char *label = NULL;

  for (guint row = row0; row <= row1; row++)
    for (guint column = column0; column <= column1; column++)
      if (run_at (self, row) && stage_of (column) >= 0)
        add_tick (self, ticks, run_at (self, row), stage_of (column), ppm);
  if (column1 < DONE_COLUMN_STAGE)
    return FALSE;
  label = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u tick", "%u ticks", ticks->len), ticks->len);
  return hours_book_tick (self->book, (const DoneTick *) (gpointer) ticks->data, ticks->len, label);
}

static void
model_init (TallyGridModelInterface *iface)
{
  iface->n_rows = n_rows;
  iface->n_columns = n_columns;
  iface->title = title;
  iface->unit = unit;
  iface->width = width;
  iface->text = cell_text;
  iface->flags = flags;
  iface->message = message;
  iface->apply = apply;
}

/* ---- the object ---- */

static void
tally_done_model_finalize (GObject *object)
{
  TallyDoneModel *self = TALLY_DONE_MODEL (object);

  g_array_unref (self->order);
  g_clear_object (&self->book);
  G_OBJECT_CLASS (tally_done_model_parent_class)->finalize (object);
}

static void
tally_done_model_class_init (TallyDoneModelClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tally_done_model_finalize;
}

static void
tally_done_model_init (TallyDoneModel *self)
{
  self->order = g_array_new (FALSE, FALSE, sizeof (guint));
}

TallyDoneModel *
done_model_new (TallySession *session)
{
  TallyDoneModel *self = g_object_new (TALLY_TYPE_DONE_MODEL, NULL);

  self->session = session;
  self->book = g_object_ref (hours_book_of (session));
  return self;
}

/* Nothing is built of a note. */
static void
leave_notes_out (TallyJob *job, GArray *order)
{
  guint kept = 0;

  for (guint i = 0; i < order->len; i++)
    if (!job_is_note_line (job_at (job, JOB_RUN, g_array_index (order, guint, i))))
      g_array_index (order, guint, kept++) = g_array_index (order, guint, i);
  g_array_set_size (order, kept);
}

void
done_model_reset (TallyDoneModel *self)
{
  TallyJob *job = session_job (self->session);
  JobQuery query;

  g_array_set_size (self->order, 0);
  if (job)
    {
      job_query_init (&query);
      query.scope = *session_scope (self->session);
      g_array_unref (self->order);
      self->order = job_query_run (job, &query);
      job_query_clear (&query);
      leave_notes_out (job, self->order);
    }
  grid_model_reset (TALLY_GRID_MODEL (self));
}

void
done_model_refresh (TallyDoneModel *self)
{
  grid_model_rows_changed (TALLY_GRID_MODEL (self), 0, self->order->len);
}
