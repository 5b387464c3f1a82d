/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Time studies in the draft of a temporary office, the stop-watch, and the sheet to print; no display. */
#include "window/studies/studies-private.h"
#include "window/studies/studies-watch.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#define S G_GINT64_CONSTANT (1000000)
#define DEMO "driven corner fasteners by the element"

typedef struct
{
  char *folder, *path;
  TallySession *session;
  TallyDraft *draft;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  (void) data;
  f->folder = g_dir_make_tmp ("seamtally-studies-XXXXXX", NULL);
  f->path = g_build_filename (f->folder, "office.seam", NULL);
  f->session = session_new ();
  g_assert_true (session_open_office (f->session, f->path, TRUE, &error));
  f->draft = catalogue_draft_open (f->session, &error);
  g_assert_no_error (error);
  g_assert_nonnull (f->draft);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  g_autoptr (GDir) dir = g_dir_open (f->folder, 0, NULL);
  const char *name;

  (void) data;
  g_object_unref (f->draft);
  g_assert_finalize_object (f->session);
  while ((name = g_dir_read_name (dir)))
    {
      g_autofree char *path = g_build_filename (f->folder, name, NULL);
      g_remove (path);
    }
  g_rmdir (f->folder);
  g_free (f->folder);
  g_free (f->path);
}

/* Computed: laps of 90 and 30 s with a pause between, and one taken back. */
static void
test_watch (void)
{
  StudiesWatch watch = { 0 };
  gint64 second;

  watch_start (&watch, 10 * S);
  g_assert_cmpint (watch_lap_time (&watch, 40 * S), ==, 30 * S);
  watch_pause (&watch, 40 * S);
  g_assert_cmpint (watch_lap_time (&watch, 500 * S), ==, 30 * S);
  watch_start (&watch, 500 * S);
  g_assert_cmpint (watch_lap (&watch, 560 * S), ==, 90 * S);
  second = watch_lap (&watch, 590 * S);
  g_assert_cmpint (second, ==, 30 * S);
  g_assert_cmpint (watch_sum (&watch, 600 * S), ==, 130 * S);
  watch_undo_lap (&watch, second);
  g_assert_cmpint (watch_lap_time (&watch, 600 * S), ==, 40 * S);
  g_assert_cmpint (watch_sum (&watch, 600 * S), ==, 130 * S);
  /* a clock that jumps back adds nothing */
  g_assert_cmpint (watch_lap_time (&watch, 0), ==, 30 * S);
  g_autofree char *minutes = watch_minutes (152 * S), *face = watch_face (724 * S + 350000), *none = watch_minutes (0);
  g_assert_cmpstr (minutes, ==, "2.533");
  g_assert_cmpstr (face, ==, "12:04.3");
  g_assert_cmpstr (none, ==, "0.000");
}

static const LabourStudy *
find (const GPtrArray *studies, const char *key)
{
  for (guint i = 0; i < studies->len; i++)
    if (g_str_equal (((LabourStudy *) g_ptr_array_index (studies, i))->key, key))
      return g_ptr_array_index (studies, i);
  return NULL;
}

/* A lap is in the office file before anything else happens: another connection finds it in the draft. */
static void
test_kept (Fixture *f, gconstpointer data)
{
  StudiesEntry entry = { .date = "2026-04-01", .observer = "foreman", .crew_size = "2", .size = "24x12", .timed = "whole joint",
                         .method = "slip-on-bolted", .count = "1", .clock_min = "8.25", .rating = "100", .note = "" };
  g_autofree char *key = studies_add (f->draft, "trial"), *again = studies_add (f->draft, "trial");
  g_autoptr (GError) error = NULL;
  guint row;

  (void) data;
  g_assert_cmpstr (key, ==, "trial");
  g_assert_cmpstr (again, ==, "trial 2");
  g_test_timer_start ();
  row = studies_add_reading (f->draft, key, &entry);
  g_test_message ("a lap is kept in %.1f ms", g_test_timer_elapsed () * 1e3);
  g_autoptr (Store) other = store_open (f->path, FALSE, &error);
  g_autoptr (StoreDraft) kept = NULL;
  g_assert_true (store_read_draft (other, &kept, &error));
  const CsvTable *table = kept->table[CATALOGUE_OBSERVATIONS];
  g_assert_cmpstr (csv_cell (table, row, csv_column (table, "clock_min")), ==, "8.25");
  g_autoptr (GPtrArray) studies = studies_of_draft (f->draft);
  const LabourStudy *study = find (studies, key);
  g_assert_cmpuint (study->readings->len, ==, 1);
  g_assert_cmpfloat (((LabourReading *) g_ptr_array_index (study->readings, 0))->minutes, ==, 16.5);
  g_assert_cmpuint (draft_faults (f->draft)->len, ==, 0);
  studies_remove_reading (f->draft, row);
  g_autoptr (GPtrArray) without = studies_of_draft (f->draft);
  g_assert_cmpuint (find (without, key)->readings->len, ==, 0);
  g_assert_true (draft_undo (f->draft));
}

/* A struck reading stays where it is and counts no longer; restored it counts again. */
static void
test_strike (Fixture *f, gconstpointer data)
{
  TallyReadings *readings = readings_new (f->draft);
  TallyGridModel *model = TALLY_GRID_MODEL (readings);

  (void) data;
  readings_show (readings, DEMO);
  g_assert_cmpuint (grid_model_n_rows (model), ==, 8);
  g_assert_true (grid_model_flags (model, 7, 9) & GRID_CELL_CAUTION); /* invented demo: 2.75 among about 1.55 */
  guint row = readings_table_row (readings, 7);
  studies_strike (f->draft, &row, 1, "a burr");
  g_assert_cmpuint (grid_model_n_rows (model), ==, 8);
  g_assert_true (grid_model_flags (model, 7, 7) & GRID_CELL_STRUCK);
  g_autofree char *message = grid_model_message (model, 7, 7);
  g_assert_nonnull (strstr (message, "a burr"));
  g_autoptr (GPtrArray) struck = studies_of_draft (f->draft);
  g_autoptr (LabourResult) result = labour_study_result (find (struck, DEMO));
  g_assert_cmpuint (g_array_index (result->elements, LabourElement, 0).n, ==, 7);
  studies_strike (f->draft, &row, 1, "");
  g_assert_false (grid_model_flags (model, 7, 7) & GRID_CELL_STRUCK);
  g_object_unref (readings);
}

/* Typing below the last row makes a reading that repeats what repeats; nonsense stays visible and is left out. */
static void
test_typing (Fixture *f, gconstpointer data)
{
  TallyReadings *readings = readings_new (f->draft);
  TallyGridModel *model = TALLY_GRID_MODEL (readings);
  GridPatchCell cells[] = { { 8, 7, (char *) "1.5" }, { 9, 7, (char *) "soon" } };

  (void) data;
  readings_show (readings, DEMO);
  g_assert_true (grid_model_apply (model, cells, 2, "typing"));
  g_assert_cmpuint (grid_model_n_rows (model), ==, 10);
  g_autofree char *timed = grid_model_text (model, 8, 3), *of_one = grid_model_text (model, 8, 9),
                  *none = grid_model_text (model, 9, 9);
  g_assert_cmpstr (timed, ==, "drive fastener");
  g_assert_cmpstr (of_one, ==, "1.50");
  g_assert_cmpstr (none, ==, "");
  g_assert_true (grid_model_flags (model, 9, 7) & GRID_CELL_FAULTY);
  g_autoptr (GPtrArray) studies = studies_of_draft (f->draft);
  g_assert_cmpuint (find (studies, DEMO)->readings->len, ==, 9);
  g_object_unref (readings);
}

static void
test_csv (Fixture *f, gconstpointer data)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (CsvTable) good = csv_parse ("size,clock_min,crew_size\n24x12,8,2\n30x14,9,2\n", -1, "site.csv", faults);
  g_autoptr (CsvTable) bad = csv_parse ("clock_min\n8\nlong\n", -1, "site.csv", faults);
  guint n = 0;

  (void) data;
  g_assert_true (studies_add_csv (f->draft, DEMO, good, &n, faults));
  g_assert_cmpuint (n, ==, 2);
  g_autoptr (GPtrArray) studies = studies_of_draft (f->draft);
  g_assert_cmpuint (find (studies, DEMO)->readings->len, ==, 10);
  g_assert_cmpuint (draft_faults (f->draft)->len, ==, 0);
  g_assert_false (studies_add_csv (f->draft, DEMO, bad, &n, faults));
  g_assert_cmpuint (faults->len, ==, 1);
  g_autoptr (GPtrArray) same = studies_of_draft (f->draft);
  g_assert_cmpuint (find (same, DEMO)->readings->len, ==, 10);
}

static void
test_choices (Fixture *f, gconstpointer data)
{
  (void) data;
  studies_set (f->draft, DEMO, "allowance_basis", "normal");
  studies_set (f->draft, DEMO, "needed_form", "ilo");
  g_autoptr (GPtrArray) studies = studies_of_draft (f->draft);
  g_assert_cmpint (find (studies, DEMO)->basis, ==, LABOUR_NORMAL);
  g_assert_cmpint (find (studies, DEMO)->form, ==, LABOUR_ILO_FORM);
  studies_set (f->draft, DEMO, "allowance_pct", "much");
  g_assert_cmpuint (draft_n_faults (f->draft, CATALOGUE_STUDIES), ==, 1);
}

/* The sheet has ink, rows over most of the page, and nothing in its margins. */
static void
test_sheet (void)
{
  g_autoptr (GPtrArray) elements = g_ptr_array_new ();
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, 612, 792);
  cairo_t *cr = cairo_create (surface);
  int inked[792] = { 0 }, margin = 0, rows = 0;

  g_ptr_array_add (elements, (gpointer) "whole joint");
  studies_sheet_draw (cr, 612, 792, "bolts against driven fasteners", elements);
  cairo_surface_flush (surface);
  const unsigned char *data = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);
  for (int y = 0; y < 792; y++)
    for (int x = 0; x < 612; x++)
      if (data[y * stride + x] > 0)
        {
          inked[y]++;
          margin += x < 30 || x > 582 || y < 30 || y > 762 ? 1 : 0;
        }
  for (int y = 0; y < 792; y++)
    rows += inked[y] > 500 ? 1 : 0;
  g_assert_cmpint (margin, ==, 0);
  g_assert_cmpint (rows, >, 15);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/window/studies/watch", test_watch);
  g_test_add ("/window/studies/kept", Fixture, NULL, set_up, test_kept, tear_down);
  g_test_add ("/window/studies/strike", Fixture, NULL, set_up, test_strike, tear_down);
  g_test_add ("/window/studies/typing", Fixture, NULL, set_up, test_typing, tear_down);
  g_test_add ("/window/studies/csv", Fixture, NULL, set_up, test_csv, tear_down);
  g_test_add ("/window/studies/choices", Fixture, NULL, set_up, test_choices, tear_down);
  g_test_add_func ("/window/studies/sheet", test_sheet);
  return g_test_run ();
}
