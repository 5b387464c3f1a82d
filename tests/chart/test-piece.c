/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The picture of a piece: something of it is seen, within its box, whatever the figures are. */

#include "chart/piece.h"

#include <math.h>
#include <string.h>

#define WIDTH 320
#define HEIGHT 180
#define MARGIN 20

static const PieceLooks looks = { { 0, 0, 0, 1 }, { 0, 0.4, 0.35, 1 }, { 1, 1, 1, 1 }, { 0.4, 0.4, 0.4, 1 }, NULL };

/* Draws on a clear ground with a margin of @margin around the box; pixels that were touched inside and outside of it. */
static void
touched (const Piece *piece, guint *inside, guint *outside)
{
  const int w = WIDTH + 2 * MARGIN, h = HEIGHT + 2 * MARGIN;
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, w, h);
  cairo_t *cr = cairo_create (surface);

  cairo_translate (cr, MARGIN, MARGIN);
  piece_draw (cr, piece, &looks, WIDTH, HEIGHT);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_surface_flush (surface);
  *inside = *outside = 0;
  for (int y = 0; y < h; y++)
    {
      const guint32 *row = (const guint32 *) (const void *) (cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface));
      for (int x = 0; x < w; x++)
        if (row[x] != 0)
          {
            gboolean within = x >= MARGIN && x < w - MARGIN && y >= MARGIN && y < h - MARGIN;
            *(within ? inside : outside) += 1;
          }
    }
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

static Piece
ordinary (PieceKind kind)
{
  Piece p = { .kind = kind, .first_made = TRUE, .last_made = TRUE, .vanes = 5,
              .dim = { 24, 12, 18, 10, 60, 90, 24, 9, 6 } };

  for (int i = 0; i < PIECE_N_DIMS; i++)
    p.text[i] = "width 24";
  return p;
}

static void
test_kinds (void)
{
  for (int kind = 0; kind < PIECE_N_KINDS; kind++)
    {
      Piece p = ordinary ((PieceKind) kind);
      guint inside, outside, bare;

      touched (&p, &inside, &outside);
      g_assert_cmpuint (inside, >, 2000);
      g_assert_cmpuint (outside, ==, 0);
      memset (p.text, 0, sizeof p.text);
      touched (&p, &bare, &outside);
      g_assert_cmpuint (bare, >, 2000);
      g_assert_cmpuint (outside, ==, 0);
    }
}

/* Without a size there is nothing to draw. */
static void
test_nothing (void)
{
  Piece p = ordinary (PIECE_STRAIGHT);
  guint inside, outside;

  p.dim[PIECE_WIDTH] = 0;
  touched (&p, &inside, &outside);
  g_assert_cmpuint (inside + outside, ==, 0);
  p.dim[PIECE_WIDTH] = NAN;
  touched (&p, &inside, &outside);
  g_assert_cmpuint (inside + outside, ==, 0);
}

/* Dimensions at random, absurd ones among them: always a picture, never outside its box. */
static void
test_random (void)
{
  static const double odd[] = { 0, -1, 1e-9, 1e12, 1e300, NAN, INFINITY, -INFINITY, 180, 360 };

  for (int round = 0; round < 400; round++)
    {
      Piece p = ordinary ((PieceKind) g_test_rand_int_range (0, PIECE_N_KINDS));
      guint inside, outside;

      for (int i = 0; i < PIECE_N_DIMS; i++)
        {
          p.dim[i] = g_test_rand_double_range (0.1, 240);
          if (i > PIECE_HEIGHT && g_test_rand_int_range (0, 4) == 0)
            p.dim[i] = odd[g_test_rand_int_range (0, G_N_ELEMENTS (odd))];
          if (g_test_rand_int_range (0, 3) == 0)
            p.text[i] = g_test_rand_bit () ? NULL : "a dimension with a name that is far too long for any picture of a piece";
        }
      p.vanes = g_test_rand_int_range (-3, 400);
      p.first_made = g_test_rand_bit ();
      touched (&p, &inside, &outside);
      g_assert_cmpuint (inside, >, 60);
      g_assert_cmpuint (outside, ==, 0);
    }
}

/* An end that is made is drawn in the strong colour, one that is not in ink. */
static void
test_ends (void)
{
  Piece p = ordinary (PIECE_STRAIGHT);
  guint count[2] = { 0 };

  memset (p.text, 0, sizeof p.text);
  for (int made = 0; made < 2; made++)
    {
      cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, WIDTH, HEIGHT);
      cairo_t *cr = cairo_create (surface);
      const guint32 accent = 0xff006659; /* 0, 0.4, 0.35 */

      p.first_made = p.last_made = made;
      piece_draw (cr, &p, &looks, WIDTH, HEIGHT);
      cairo_surface_flush (surface);
      for (int y = 0; y < HEIGHT; y++)
        for (int x = 0; x < WIDTH; x++)
          {
            const guint32 *row = (const guint32 *) (const void *) (cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface));
            count[made] += row[x] == accent;
          }
      cairo_destroy (cr);
      cairo_surface_destroy (surface);
    }
  g_assert_cmpuint (count[0], ==, 0);
  g_assert_cmpuint (count[1], >, 100);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/piece/kinds", test_kinds);
  g_test_add_func ("/piece/nothing", test_nothing);
  g_test_add_func ("/piece/random", test_random);
  g_test_add_func ("/piece/ends", test_ends);
  return g_test_run ();
}
