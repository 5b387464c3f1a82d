/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures as files: what the file is by its first bytes, its size, its words; and nothing left where it failed. */
#include "exchange/picture.h"

#include "chart/bars.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

/* Invented for the demo. */
static const ChartBar bar[] = { { "by hand", 174857, "174,857", NAN, NAN, TRUE }, { "driven fasteners", 171445, "171,445", NAN, NAN, FALSE } };
static const ChartBars bars = { bar, 2, "cost, USD", "method" };

static double
height (const ChartPaper *paper, double width, gpointer data)
{
  return chart_bars_height (paper, data, width);
}

static void
draw (const ChartPaper *paper, double width, gpointer data)
{
  chart_bars_draw (paper, data, width);
}

static Picture
picture_of (const char *note)
{
  return (Picture) { .title = "Cost by method", .note = note, .width = 640, .height = height, .draw = draw, .data = (gpointer) &bars,
                     .date = "2026-01-02T03:04:05" };
}

typedef struct
{
  char *folder, *path;
} Place;

static void
set_up (Place *place, gconstpointer name)
{
  place->folder = g_dir_make_tmp ("picture-XXXXXX", NULL);
  place->path = g_build_filename (place->folder, name, NULL);
}

static void
tear_down (Place *place, gconstpointer data)
{
  (void) data;
  g_remove (place->path);
  g_assert_cmpint (g_rmdir (place->folder), ==, 0); /* nothing else was left there */
  g_free (place->folder);
  g_free (place->path);
}

static guint32
big_endian (const char *p)
{
  guint32 n;

  memcpy (&n, p, 4);
  return GUINT32_FROM_BE (n);
}

/* ISO/IEC 15948: the signature, then IHDR with width and height. */
static void
test_png (Place *place, gconstpointer data)
{
  Picture p = picture_of ("invented for the demo");
  g_autoptr (GError) error = NULL;
  g_autofree char *bytes = NULL;
  gsize size;
  guint32 w, h;

  (void) data;
  g_assert_true (picture_write (&p, PICTURE_PNG, place->path, &error));
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (place->path, &bytes, &size, NULL));
  g_assert_true (memcmp (bytes, "\x89PNG\r\n\x1a\n", 8) == 0);
  g_assert_true (memcmp (bytes + 12, "IHDR", 4) == 0);
  w = big_endian (bytes + 16);
  h = big_endian (bytes + 20);
  g_assert_cmpuint (w, ==, 2 * (640 + 32));
  g_assert_cmpuint (h, >, 200);

  /* White to the corners, ink within. */
  cairo_surface_t *back = cairo_image_surface_create_from_png (place->path);
  const unsigned char *pixels = cairo_image_surface_get_data (back);
  int stride = cairo_image_surface_get_stride (back), inked = 0;
  for (guint32 y = 0; y < h; y++)
    for (guint32 x = 0; x < w; x++)
      inked += pixels[y * (guint32) stride + x * 4] < 128;
  g_assert_true (pixels[0] == 255 && pixels[1] == 255 && pixels[2] == 255);
  g_assert_cmpint (inked, >, 2000);
  cairo_surface_destroy (back);
}

static char *
words_in (const char *path)
{
  const char *const argv[] = { "pdftotext", "-layout", path, "-", NULL };
  char *out = NULL;
  int status;

  if (!g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, &out, NULL, &status, NULL)
      || status != 0)
    g_clear_pointer (&out, g_free);
  return out;
}

/* Binary parts hold zeros, so strstr() will not do. */
static gboolean
holds (const char *bytes, gsize size, const char *word)
{
  gsize n = strlen (word);

  for (gsize i = 0; i + n <= size; i++)
    if (memcmp (bytes + i, word, n) == 0)
      return TRUE;
  return FALSE;
}

static void
test_pdf (Place *place, gconstpointer data)
{
  Picture p = picture_of ("What the figures rest on: invented for the demo");
  g_autoptr (GError) error = NULL;
  g_autofree char *bytes = NULL, *again = NULL, *words = NULL;
  gsize size, size_again;

  (void) data;
  g_assert_true (picture_write (&p, PICTURE_PDF, place->path, &error));
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (place->path, &bytes, &size, NULL));
  g_assert_true (g_str_has_prefix (bytes, "%PDF-"));
  /* Words are words and no bitmap: no image object. */
  g_assert_true (holds (bytes, size, "%%EOF"));
  g_assert_false (holds (bytes, size, "/Subtype /Image"));
  words = words_in (place->path);

  /* The same again, byte by byte. */
  g_assert_true (picture_write (&p, PICTURE_PDF, place->path, &error));
  g_assert_true (g_file_get_contents (place->path, &again, &size_again, NULL));
  g_assert_cmpuint (size, ==, size_again);
  g_assert_true (memcmp (bytes, again, size) == 0);
  if (!words)
    {
      g_test_skip ("pdftotext is not here to read the words");
      return;
    }
  g_assert_nonnull (strstr (words, "Cost by method"));
  g_assert_nonnull (strstr (words, "driven fasteners"));
  g_assert_nonnull (strstr (words, "171,445"));
  g_assert_nonnull (strstr (words, "What the figures rest on: invented for the demo"));
}

/* A longer note makes a higher page, not a cut one. */
static void
test_note (Place *place, gconstpointer data)
{
  g_autofree char *bytes = NULL;
  g_autoptr (GString) note = g_string_new (NULL);
  guint32 h[2];

  (void) data;
  for (int i = 0; i < 40; i++)
    g_string_append (note, "invented for the demo and not to be bid on ");
  for (int i = 0; i < 2; i++)
    {
      Picture p = picture_of (i ? note->str : NULL);
      gsize size;
      g_assert_true (picture_write (&p, PICTURE_PNG, place->path, NULL));
      g_clear_pointer (&bytes, g_free);
      g_assert_true (g_file_get_contents (place->path, &bytes, &size, NULL));
      h[i] = big_endian (bytes + 20);
    }
  g_assert_cmpuint (h[1], >, h[0] + 100);
}

static void
test_nowhere (Place *place, gconstpointer data)
{
  Picture p = picture_of (NULL);
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_build_filename (place->folder, "no such folder", "a.png", NULL);

  (void) data;
  g_assert_false (picture_write (&p, PICTURE_PNG, path, &error));
  g_assert_nonnull (error);
  g_clear_error (&error);
  g_assert_false (picture_write (&p, PICTURE_PDF, place->folder, &error));
  g_assert_nonnull (error);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/exchange/picture/png", Place, "a.png", set_up, test_png, tear_down);
  g_test_add ("/exchange/picture/pdf", Place, "a.pdf", set_up, test_pdf, tear_down);
  g_test_add ("/exchange/picture/note", Place, "a.png", set_up, test_note, tear_down);
  g_test_add ("/exchange/picture/nowhere", Place, "a.png", set_up, test_nowhere, tear_down);
  return g_test_run ();
}
