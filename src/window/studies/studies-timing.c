/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/studies/studies-private.h"

#include "window/habits/sheet-page.h"
#include "window/studies/studies-watch.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <string.h>

#define LEAST_LAP 500000 /* half a second: anything shorter is a key pressed twice */

enum { TIMED, SIZE, CREW, COUNT, RATING, POUNDS, OBSERVER, N_FIELDS };

static const struct
{
  const char *title, *usual;
  int chars;
} fields[N_FIELDS] = {
  { N_ ("Timed"), LABOUR_WHOLE, 14 }, { N_ ("Size"), "24x12", 9 },     { N_ ("Heads"), "2", 4 },
  { N_ ("Count"), "1", 4 },           { N_ ("Rating, %"), "100", 4 },  { N_ ("Piece, lb"), "", 4 },
  { N_ ("Observer"), "foreman", 12 },
};

typedef struct
{
  gint64 time;
  char *minutes, *date;
} Lap;

typedef struct
{
  TallySession *session;
  TallyDraft *draft;
  GtkWindow *window;
  char *key;
  StudiesWatch watch;
  GPtrArray *laps;       /* Lap *, of this window */
  GtkLabel *face, *sum, *last;
  GtkWidget *start, *lap, *undo, *method, *field[N_FIELDS];
  GPtrArray *method_keys;
  guint tick;
} Timing;

static void
lap_free (gpointer data)
{
  Lap *lap = data;

  g_free (lap->minutes);
  g_free (lap->date);
  g_free (lap);
}

static void
gone (gpointer data, GObject *where)
{
  Timing *t = data;

  (void) where;
  g_clear_handle_id (&t->tick, g_source_remove);
  g_ptr_array_unref (t->laps);
  g_ptr_array_unref (t->method_keys);
  g_object_unref (t->draft);
  g_object_unref (t->session);
  g_free (t->key);
  g_free (t);
}

static void
show_face (Timing *t)
{
  gint64 now = g_get_monotonic_time ();
  g_autofree char *face = watch_face (watch_lap_time (&t->watch, now)), *all = watch_face (watch_sum (&t->watch, now));
  g_autofree char *sum = g_strdup_printf (_ ("%s in all · %u laps"), all, t->laps->len);

  gtk_label_set_label (t->face, face);
  gtk_label_set_label (t->sum, sum);
}

static gboolean
tick_cb (gpointer data)
{
  show_face (data);
  return G_SOURCE_CONTINUE;
}

static void
update (Timing *t)
{
  gboolean begun = watch_sum (&t->watch, g_get_monotonic_time ()) > 0 || t->watch.running;

  gtk_button_set_label (GTK_BUTTON (t->start), t->watch.running ? _ ("Pause (P)") : begun ? _ ("Go on (P)") : _ ("Start (space)"));
  gtk_widget_set_sensitive (t->lap, begun);
  gtk_widget_set_sensitive (t->undo, t->laps->len > 0);
  if (t->watch.running && t->tick == 0)
    t->tick = g_timeout_add (100, tick_cb, t);
  else if (!t->watch.running)
    g_clear_handle_id (&t->tick, g_source_remove);
  show_face (t);
}

static const char *
typed (Timing *t, int field)
{
  return gtk_editable_get_text (GTK_EDITABLE (t->field[field]));
}

/* The reading is in the draft, and so in the office file, before this returns. */
static guint
keep (Timing *t, gint64 time, const char *struck)
{
  guint m = gtk_drop_down_get_selected (GTK_DROP_DOWN (t->method));
  Lap *lap = g_new0 (Lap, 1);
  StudiesEntry entry = { .observer = typed (t, OBSERVER),
                         .crew_size = typed (t, CREW),
                         .size = typed (t, SIZE),
                         .lb = typed (t, POUNDS),
                         .timed = typed (t, TIMED),
                         .count = typed (t, COUNT),
                         .rating = typed (t, RATING),
                         .struck = struck };

  lap->time = time;
  lap->minutes = watch_minutes (time);
  lap->date = studies_today ();
  entry.date = lap->date;
  entry.clock_min = lap->minutes;
  entry.method = m < t->method_keys->len ? g_ptr_array_index (t->method_keys, m) : "";
  g_ptr_array_add (t->laps, lap);
  return studies_add_reading (t->draft, t->key, &entry);
}

/* What the last lap came to, or what is wrong with it: it is kept either way. */
static void
say_last (Timing *t, guint row)
{
  g_autoptr (GPtrArray) studies = studies_of_draft (t->draft);
  const Lap *lap = g_ptr_array_index (t->laps, t->laps->len - 1);
  g_autofree char *words =
      g_strdup_printf (_ ("Lap %u: %s min kept, but a field is faulty; mend it among the readings"), t->laps->len,
                       lap->minutes);

  for (guint i = 0; i < studies->len; i++)
    {
      const LabourStudy *study = g_ptr_array_index (studies, i);
      const LabourReading *r = study->readings->len ? g_ptr_array_index (study->readings, study->readings->len - 1) : NULL;
      if (!r || r->row != row)
        continue;
      g_free (words);
      words = g_strdup_printf (_ ("Lap %u: %s min on the clock, %.2f worker-minutes of one. Kept."), t->laps->len,
                               lap->minutes, r->minutes);
    }
  gtk_label_set_label (t->last, words);
}

static void
do_start (Timing *t)
{
  gint64 now = g_get_monotonic_time ();

  if (t->watch.running)
    watch_pause (&t->watch, now);
  else
    watch_start (&t->watch, now);
  update (t);
  /* So that the space bar means a lap from now on. */
  gtk_widget_grab_focus (t->lap);
}

static void
do_lap (Timing *t)
{
  gint64 now = g_get_monotonic_time ();

  if (watch_lap_time (&t->watch, now) == 0 && !t->watch.running)
    do_start (t);
  if (watch_lap_time (&t->watch, now) < LEAST_LAP)
    return;
  say_last (t, keep (t, watch_lap (&t->watch, now), ""));
  update (t);
}

/* The reading that a lap made, however the rows have moved since; -1 when it was changed or removed. */
static int
find_lap (Timing *t, const Lap *lap)
{
  const CsvTable *table = draft_tables (t->draft)[CATALOGUE_OBSERVATIONS];

  for (guint i = table->row->len; i-- > 0;)
    if (g_str_equal (csv_cell (table, i, csv_column (table, "study")), t->key)
        && g_str_equal (csv_cell (table, i, csv_column (table, "clock_min")), lap->minutes)
        && g_str_equal (csv_cell (table, i, csv_column (table, "date")), lap->date))
      return (int) i;
  return -1;
}

static void
do_undo (Timing *t)
{
  Lap *lap = t->laps->len ? g_ptr_array_index (t->laps, t->laps->len - 1) : NULL;
  int row = lap ? find_lap (t, lap) : -1;
  g_autofree char *words = NULL;

  if (!lap)
    return;
  words = row < 0 ? g_strdup (_ ("That lap was changed among the readings since: mend it there"))
                  : g_strdup_printf (_ ("Lap of %s min taken back: its time runs on in this one"), lap->minutes);
  if (row >= 0)
    {
      watch_undo_lap (&t->watch, lap->time);
      studies_remove_reading (t->draft, (guint) row);
    }
  g_ptr_array_set_size (t->laps, (int) t->laps->len - 1);
  gtk_label_set_label (t->last, words);
  update (t);
}

static void
start_cb (GtkButton *button, Timing *t)
{
  (void) button;
  do_start (t);
}

static void
lap_cb (GtkButton *button, Timing *t)
{
  (void) button;
  do_lap (t);
}

static void
undo_cb (GtkButton *button, Timing *t)
{
  (void) button;
  do_undo (t);
}

/* Keys are the watch's unless somebody types into a field. */
static gboolean
key_cb (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, Timing *t)
{
  GtkWidget *focus = gtk_window_get_focus (t->window);
  gboolean typing = GTK_IS_TEXT (focus);

  (void) controller;
  (void) code;
  if (key == GDK_KEY_space && ((state & GDK_CONTROL_MASK) || !typing))
    do_lap (t);
  else if (key == GDK_KEY_z && (state & GDK_CONTROL_MASK) && !typing)
    do_undo (t);
  else if (typing || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK)))
    return FALSE;
  else if (key == GDK_KEY_BackSpace)
    do_undo (t);
  else if (key == GDK_KEY_p || key == GDK_KEY_P)
    do_start (t);
  else
    return FALSE;
  return TRUE;
}

/* However the window goes: what is on the watch is no reading, but it is not lost either; it is kept, struck. */
static void
unrealize_cb (GtkWidget *window, Timing *t)
{
  gint64 now = g_get_monotonic_time ();

  (void) window;
  watch_pause (&t->watch, now);
  if (watch_lap_time (&t->watch, now) >= 2 * LEAST_LAP)
    keep (t, watch_lap (&t->watch, now), _ ("unfinished: the watch was closed during it"));
  g_clear_handle_id (&t->tick, g_source_remove);
}

/* ---- building ---- */

static void
place_field (GtkGrid *grid, const char *title, GtkWidget *child, int column, int row, int width)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 1), *label = gtk_label_new (title);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "caption");
  gtk_widget_set_hexpand (box, TRUE);
  gtk_box_append (GTK_BOX (box), label);
  gtk_box_append (GTK_BOX (box), child);
  gtk_accessible_update_property (GTK_ACCESSIBLE (child), GTK_ACCESSIBLE_PROPERTY_LABEL, title, -1);
  gtk_grid_attach (grid, box, column, row, width, 1);
}

/* The last reading of the study says what goes on being timed. */
static void
fill_fields (Timing *t)
{
  static const char *const headings[N_FIELDS] = { "timed", "size", "crew_size", "count", "rating_pct", "lb", "observer" };
  const CsvTable *table = draft_tables (t->draft)[CATALOGUE_OBSERVATIONS], *methods = draft_tables (t->draft)[CATALOGUE_METHODS];
  GtkStringList *names = gtk_string_list_new (NULL);
  const char *method = "";
  guint chosen = 0;

  for (guint i = 0; i < table->row->len; i++)
    {
      if (!g_str_equal (csv_cell (table, i, csv_column (table, "study")), t->key))
        continue;
      method = csv_cell (table, i, csv_column (table, "method"));
      for (int f = 0; f < N_FIELDS; f++)
        gtk_editable_set_text (GTK_EDITABLE (t->field[f]), csv_cell (table, i, csv_column (table, headings[f])));
    }
  gtk_editable_set_text (GTK_EDITABLE (t->field[RATING]), "100");
  g_ptr_array_add (t->method_keys, g_strdup (""));
  gtk_string_list_append (names, _ ("any: not told apart"));
  for (guint i = 0; i < methods->row->len; i++)
    {
      const char *key = csv_cell (methods, i, csv_column (methods, "method"));
      if (!*key || *csv_cell (methods, i, csv_column (methods, "retired")))
        continue;
      chosen = g_str_equal (key, method) ? t->method_keys->len : chosen;
      g_ptr_array_add (t->method_keys, g_strdup (key));
      gtk_string_list_append (names, csv_cell (methods, i, csv_column (methods, "name")));
    }
  gtk_drop_down_set_model (GTK_DROP_DOWN (t->method), G_LIST_MODEL (names));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (t->method), chosen);
  g_object_unref (names);
}

static GtkWidget *
fields_grid (Timing *t)
{
  static const int place[N_FIELDS][3] = { { 0, 0, 2 }, { 2, 0, 1 }, { 0, 2, 1 }, { 1, 2, 1 },
                                          { 2, 2, 1 }, { 0, 3, 1 }, { 1, 3, 2 } };
  GtkWidget *grid = gtk_grid_new ();

  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 8);
  for (int f = 0; f < N_FIELDS; f++)
    {
      t->field[f] = gtk_entry_new ();
      gtk_editable_set_width_chars (GTK_EDITABLE (t->field[f]), fields[f].chars);
      gtk_editable_set_text (GTK_EDITABLE (t->field[f]), fields[f].usual);
      place_field (GTK_GRID (grid), _ (fields[f].title), t->field[f], place[f][0], place[f][1], place[f][2]);
    }
  t->method = gtk_drop_down_new_from_strings ((const char *const[]) { "", NULL });
  place_field (GTK_GRID (grid), _ ("Method"), t->method, 0, 1, 3);
  fill_fields (t);
  return grid;
}

static GtkLabel *
label (GtkWidget *box, const char *style)
{
  GtkWidget *out = gtk_label_new (NULL);

  gtk_label_set_wrap (GTK_LABEL (out), TRUE);
  gtk_label_set_justify (GTK_LABEL (out), GTK_JUSTIFY_CENTER);
  gtk_widget_add_css_class (out, style);
  gtk_box_append (GTK_BOX (box), out);
  return GTK_LABEL (out);
}

static GtkWidget *
button (const char *words, GCallback callback, Timing *t)
{
  GtkWidget *out = gtk_button_new_with_label (words);

  gtk_widget_set_hexpand (out, TRUE);
  g_signal_connect (out, "clicked", callback, t);
  return out;
}

static GtkWidget *
build (Timing *t)
{
  GtkWidget *scrolled = gtk_scrolled_window_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *caution;

  gtk_widget_add_css_class (box, "studies-timing");
  label (box, "heading");
  gtk_label_set_label (GTK_LABEL (gtk_widget_get_last_child (box)), t->key);
  t->face = label (box, "studies-face");
  t->sum = label (box, "figure");
  t->lap = button (_ ("Lap (space)"), G_CALLBACK (lap_cb), t);
  gtk_widget_add_css_class (t->lap, "suggested-action");
  gtk_widget_add_css_class (t->lap, "studies-lap");
  gtk_box_append (GTK_BOX (box), t->lap);
  t->start = button (_ ("Start (space)"), G_CALLBACK (start_cb), t);
  t->undo = button (_ ("Undo lap (Ctrl+Z)"), G_CALLBACK (undo_cb), t);
  gtk_box_append (GTK_BOX (line), t->start);
  gtk_box_append (GTK_BOX (line), t->undo);
  gtk_box_append (GTK_BOX (box), line);
  t->last = label (box, "line-words");
  gtk_label_set_label (
      t->last, _ ("Each lap becomes a reading with what stands below. The space bar starts the watch, then ends a lap "
                  "and begins the next."));
  gtk_box_append (GTK_BOX (box), fields_grid (t));
  caution = GTK_WIDGET (label (box, "line-words"));
  gtk_label_set_label (
      GTK_LABEL (caution),
      _ ("Timing at height is nobody's reason to work unsafely: stand clear and follow the site's rules."));
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), box);
  return scrolled;
}

void
studies_timing_present (TallySession *session, TallyDraft *draft, const char *key, GtkWindow *parent)
{
  Timing *t = g_new0 (Timing, 1);
  GtkEventController *keys = gtk_event_controller_key_new ();

  t->session = g_object_ref (session);
  t->draft = g_object_ref (draft);
  t->key = g_strdup (key);
  t->laps = g_ptr_array_new_with_free_func (lap_free);
  t->method_keys = g_ptr_array_new_with_free_func (g_free);
  t->window = tally_side_window_new (parent, NULL, _ ("Stop-watch"), 370, 640);
  tally_side_window_set (t->window, NULL, tally_notice_new (session, build (t)));
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_cb), t);
  gtk_widget_add_controller (GTK_WIDGET (t->window), keys);
  g_signal_connect (t->window, "unrealize", G_CALLBACK (unrealize_cb), t);
  g_object_weak_ref (G_OBJECT (t->window), gone, t);
  update (t);
  gtk_window_present (t->window);
  gtk_widget_grab_focus (t->start);
}
