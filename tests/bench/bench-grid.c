/* SPDX-License-Identifier: GPL-3.0-or-later */
/* First frame and scrolling of the grid with 100 000 rows of 15 columns, beside a widget that does nothing but draw
 * the same visible texts from kept layouts at the same places. Needs a display; texts are invented. */
#include "window/grid/grid.h"

#include <adwaita.h>
#include <stdio.h>
#include <time.h>

#define ROWS 100000
#define COLUMNS 15
#define FRAMES 120
#define ROUNDS 25
#define SCROLLS 4 /* rounds that scroll too */
#define STEP 3    /* rows a frame */

static char *
cell_text (guint row, guint column)
{
  return column % 3 == 0 ? g_strdup_printf ("S-%u", (row * 7 + column) % 40)
                         : g_strdup_printf ("%u.%02u", (row * 31 + column * 17) % 9973, (row + column) % 100);
}

/* ---- a model ---- */

#define BENCH_TYPE_MODEL (bench_model_get_type ())
G_DECLARE_FINAL_TYPE (BenchModel, bench_model, BENCH, MODEL, GObject)

struct _BenchModel
{
  GObject parent_instance;
};

static void bench_model_iface_init (TallyGridModelInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (BenchModel, bench_model, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (TALLY_TYPE_GRID_MODEL, bench_model_iface_init))

static void
bench_model_class_init (BenchModelClass *klass)
{
  (void) klass;
}

static void
bench_model_init (BenchModel *model)
{
  (void) model;
}

static guint
n_rows (TallyGridModel *model)
{
  (void) model;
  return ROWS;
}

static guint
n_columns (TallyGridModel *model)
{
  (void) model;
  return COLUMNS;
}

static char *
text (TallyGridModel *model, guint row, guint column)
{
  (void) model;
  return cell_text (row, column);
}

/* As many of each kind as a take-off has. */
static GridCellFlags
flags (TallyGridModel *model, guint row, guint column)
{
  guint found = column % 3 ? GRID_CELL_FIGURE : 0;

  (void) model;
  if (column >= 10)
    return found | GRID_CELL_COMPUTED;
  found |= GRID_CELL_EDITABLE;
  if (column == 8 || column == 9)
    found |= row % 10 == 0 ? GRID_CELL_OVERRIDDEN : GRID_CELL_INHERITED;
  return column == 4 && row % 50 == 0 ? found | GRID_CELL_FAULTY : found;
}

static void
bench_model_iface_init (TallyGridModelInterface *iface)
{
  iface->n_rows = n_rows;
  iface->n_columns = n_columns;
  iface->text = text;
  iface->flags = flags;
}

/* ---- the bare widget ---- */

#define BENCH_TYPE_BARE (bench_bare_get_type ())
G_DECLARE_FINAL_TYPE (BenchBare, bench_bare, BENCH, BARE, GtkWidget)

struct _BenchBare
{
  GtkWidget parent_instance;
  GHashTable *layouts;
  double offset;
  int row_height, head, left, column_width;
};

G_DEFINE_FINAL_TYPE (BenchBare, bench_bare, GTK_TYPE_WIDGET)

static PangoLayout *
kept_layout (BenchBare *bare, guint row, guint column)
{
  gpointer key = GUINT_TO_POINTER (row * 16 + column);
  PangoLayout *layout = g_hash_table_lookup (bare->layouts, key);

  if (!layout)
    {
      g_autofree char *words = cell_text (row, column);
      layout = gtk_widget_create_pango_layout (GTK_WIDGET (bare), words);
      g_hash_table_insert (bare->layouts, key, layout);
    }
  return layout;
}

static void
bench_bare_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BenchBare *bare = BENCH_BARE (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  guint first = (guint) (bare->offset / bare->row_height);
  graphene_rect_t all;
  GdkRGBA color;

  /* Without a clip each text that moved is a piece of damage of its own, which costs twice as much. */
  graphene_rect_init (&all, 0, 0, (float) width, (float) height);
  gtk_snapshot_push_clip (snapshot, &all);
  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &color);
  color.alpha = 1; /* as the grid: what shines through costs more to draw */
  for (guint row = first; row < ROWS; row++)
    {
      double y = bare->head + (double) row * bare->row_height - bare->offset;
      if (y >= height)
        break;
      for (guint column = 0; column < COLUMNS && bare->left + (int) column * bare->column_width < width; column++)
        {
          graphene_point_t at;
          graphene_point_init (&at, (float) (bare->left + (int) column * bare->column_width), (float) y);
          gtk_snapshot_save (snapshot);
          gtk_snapshot_translate (snapshot, &at);
          gtk_snapshot_append_layout (snapshot, kept_layout (bare, row, column), &color);
          gtk_snapshot_restore (snapshot);
        }
    }
  gtk_snapshot_pop (snapshot);
}

static void
bench_bare_finalize (GObject *object)
{
  g_hash_table_unref (BENCH_BARE (object)->layouts);
  G_OBJECT_CLASS (bench_bare_parent_class)->finalize (object);
}

static void
bench_bare_class_init (BenchBareClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = bench_bare_finalize;
  GTK_WIDGET_CLASS (klass)->snapshot = bench_bare_snapshot;
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "tally-grid"); /* the same font */
}

static void
bench_bare_init (BenchBare *bare)
{
  bare->layouts = g_hash_table_new_full (NULL, NULL, NULL, g_object_unref);
  gtk_widget_add_css_class (GTK_WIDGET (bare), "view");
}

/* ---- measuring ---- */

/* Around what is measured: counts when it is drawn. */
#define BENCH_TYPE_PROBE (bench_probe_get_type ())
G_DECLARE_FINAL_TYPE (BenchProbe, bench_probe, BENCH, PROBE, GtkWidget)

struct _BenchProbe
{
  GtkWidget parent_instance;
  GtkWidget *child;
  guint drawn, painted; /* frames */
};

G_DEFINE_FINAL_TYPE (BenchProbe, bench_probe, GTK_TYPE_WIDGET)

static void
bench_probe_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BenchProbe *probe = BENCH_PROBE (widget);

  gtk_widget_snapshot_child (widget, probe->child, snapshot);
  probe->drawn++;
}

static void
bench_probe_dispose (GObject *object)
{
  g_clear_pointer (&BENCH_PROBE (object)->child, gtk_widget_unparent);
  G_OBJECT_CLASS (bench_probe_parent_class)->dispose (object);
}

static void
bench_probe_class_init (BenchProbeClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bench_probe_dispose;
  GTK_WIDGET_CLASS (klass)->snapshot = bench_probe_snapshot;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
bench_probe_init (BenchProbe *probe)
{
  gtk_widget_set_hexpand (GTK_WIDGET (probe), TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (probe), TRUE);
}

static void
painted_cb (GdkFrameClock *clock, BenchProbe *probe)
{
  (void) clock;
  probe->painted = probe->drawn;
}

/* Until a frame that was drawn after now is out. */
static void
wait_for_frame (BenchProbe *probe)
{
  guint before = probe->drawn;

  while (probe->painted <= before)
    g_main_context_iteration (NULL, TRUE);
}

typedef struct
{
  double first, scroll; /* processor seconds: until the first frame, a frame of scrolling */
} Figures;

/* Processor time: what else the machine does falls on neither. */
static Figures
measure (GtkWidget *child, GtkAdjustment *adjustment, BenchBare *bare, int row_height, gboolean scroll)
{
  GtkWidget *window = gtk_window_new ();
  BenchProbe *probe = g_object_new (BENCH_TYPE_PROBE, NULL);
  Figures figures;
  clock_t from;

  gtk_window_set_decorated (GTK_WINDOW (window), FALSE);
  gtk_window_set_default_size (GTK_WINDOW (window), 1400, 800);
  gtk_window_set_child (GTK_WINDOW (window), GTK_WIDGET (probe));
  probe->child = child;
  from = clock ();
  gtk_widget_set_parent (child, GTK_WIDGET (probe));
  gtk_widget_realize (window);
  g_signal_connect (gtk_widget_get_frame_clock (window), "after-paint", G_CALLBACK (painted_cb), probe);
  gtk_window_present (GTK_WINDOW (window));
  wait_for_frame (probe);
  figures.first = (double) (clock () - from) / CLOCKS_PER_SEC;
  if (gtk_widget_get_width (child) != 1400 || gtk_widget_get_height (child) != 800)
    g_error ("the window has not the size asked for");
  from = clock ();
  for (guint i = 1; scroll && i <= FRAMES; i++)
    {
      if (bare)
        bare->offset = (double) i * STEP * row_height;
      else
        gtk_adjustment_set_value (adjustment, (double) i * STEP * row_height);
      gtk_widget_queue_draw (child);
      wait_for_frame (probe);
    }
  figures.scroll = scroll ? (double) (clock () - from) / CLOCKS_PER_SEC / FRAMES : 1e9;
  g_signal_handlers_disconnect_by_data (gtk_widget_get_frame_clock (window), probe);
  gtk_window_destroy (GTK_WINDOW (window));
  return figures;
}

/* Not in a scrolled window, whose bars the bare widget would not have. */
static Figures
measure_grid (int *row_height, int *column_width, gboolean scroll)
{
  g_autoptr (BenchModel) model = g_object_new (BENCH_TYPE_MODEL, NULL);
  GtkWidget *grid = GTK_WIDGET (grid_new (TALLY_GRID_MODEL (model)));
  GtkAdjustment *adjustment = gtk_adjustment_new (0, 0, 0, 0, 0, 0);
  Figures figures;

  for (guint i = 0; i < COLUMNS; i++)
    grid_set_column_width (TALLY_GRID (grid), i, 88);
  gtk_scrollable_set_vadjustment (GTK_SCROLLABLE (grid), adjustment);
  g_object_ref (grid);
  figures = measure (grid, adjustment, NULL, *row_height, scroll);
  *row_height = (int) gtk_adjustment_get_step_increment (adjustment);
  *column_width = grid_get_column_width (TALLY_GRID (grid), 0);
  g_object_unref (grid);
  return figures;
}

static Figures
measure_bare (int row_height, int column_width, gboolean scroll)
{
  BenchBare *bare = g_object_new (BENCH_TYPE_BARE, NULL);

  bare->row_height = row_height;
  bare->column_width = column_width;
  bare->head = 2 * row_height;
  bare->left = 60;
  return measure (GTK_WIDGET (bare), NULL, bare, row_height, scroll);
}

static long
resident_kib (void)
{
  g_autofree char *status = NULL;
  const char *at;

  if (!g_file_get_contents ("/proc/self/status", &status, NULL, NULL) || !(at = strstr (status, "VmRSS:")))
    return 0;
  return strtol (at + 6, NULL, 10);
}

int
main (void)
{
  Figures grid = { 1e9, 1e9 }, bare = { 1e9, 1e9 };
  int row_height = 24, column_width = 88;

  adw_init ();
  /* Once before: fonts, icons and the style are loaded for both. */
  measure_grid (&row_height, &column_width, TRUE);
  for (int i = 0; i < ROUNDS; i++)
    {
      gboolean scroll = i % (ROUNDS / SCROLLS) == 0;
      Figures b = measure_bare (row_height, column_width, scroll),
              g = measure_grid (&row_height, &column_width, scroll);
      bare.first = MIN (bare.first, b.first);
      bare.scroll = MIN (bare.scroll, b.scroll);
      grid.first = MIN (grid.first, g.first);
      grid.scroll = MIN (grid.scroll, g.scroll);
    }
  printf ("grid of %d rows x %d columns: first frame %.1f ms, a frame of scrolling %.2f ms; the bare widget: %.1f ms, "
          "%.2f ms; "
          "ratios %.2f and %.2f; resident %ld MiB\n",
          ROWS, COLUMNS, grid.first * 1e3, grid.scroll * 1e3, bare.first * 1e3, bare.scroll * 1e3,
          grid.first / bare.first, grid.scroll / bare.scroll, resident_kib () / 1024);
  return 0;
}
