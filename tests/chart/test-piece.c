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
  Piece p = { .kind = kind, .first_made = TRUE, .last_made = TRUE, .vanes = 5, .gores = 5,
              .dim = { 24, 12, 18, 10, 60, 90, 24, 9, 6, 8, 3 } };

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

/* What a kind has to tell: the dimensions that the take-off asks for it, sizes and ends included, each once and no other. */
static void
test_table (void)
{
#define D(dim) (1u << PIECE_##dim)
#define SIZE (D (WIDTH) | D (HEIGHT))
  static const guint wanted[PIECE_N_KINDS] = {
    [PIECE_STRAIGHT] = SIZE | D (LENGTH),
    [PIECE_RADIUS_ELBOW] = SIZE | D (THROAT) | D (ANGLE),
    [PIECE_MITRED_ELBOW] = SIZE | D (LEGS) | D (ANGLE),
    [PIECE_TRANSITION] = SIZE | D (LENGTH) | D (WIDTH2) | D (HEIGHT2) | D (ASIDE) | D (LIFT),
    [PIECE_OFFSET] = SIZE | D (LENGTH) | D (ASIDE),
    [PIECE_TAP] = SIZE | D (LENGTH),
    [PIECE_END_CAP] = SIZE,
    [PIECE_ANGLED_OFFSET] = SIZE | D (LENGTH) | D (ASIDE),
    [PIECE_SQUARE_TO_ROUND] = SIZE | D (LENGTH) | D (WIDTH2) | D (ASIDE) | D (LIFT),
    [PIECE_TEE] = SIZE | D (LENGTH) | D (WIDTH2) | D (HEIGHT2) | D (BRANCH),
    [PIECE_WYE] = SIZE | D (LENGTH) | D (WIDTH2) | D (HEIGHT2) | D (ANGLE),
    [PIECE_BOOT_TAP] = SIZE | D (LENGTH) | D (ASIDE),
    [PIECE_PLENUM_BOX] = SIZE | D (LENGTH),
    [PIECE_ACCESS_DOOR] = SIZE,
    [PIECE_DAMPER] = SIZE | D (LENGTH),
    [PIECE_FABRIC_CONNECTOR] = SIZE | D (LENGTH),
    [PIECE_TURNING_VANES] = SIZE | D (ANGLE),
    [PIECE_ROUND_DUCT] = D (WIDTH) | D (LENGTH),
    [PIECE_GORED_ELBOW] = D (WIDTH) | D (THROAT) | D (ANGLE),
    [PIECE_STAMPED_ELBOW] = D (WIDTH) | D (THROAT) | D (ANGLE),
    [PIECE_REDUCER] = D (WIDTH) | D (LENGTH) | D (WIDTH2) | D (ASIDE),
    [PIECE_SADDLE_TAP] = D (WIDTH) | D (LENGTH) | D (WIDTH2) | D (ANGLE),
    [PIECE_SPIN_IN] = D (WIDTH) | D (LENGTH),
    [PIECE_ROUND_CAP] = D (WIDTH),
    [PIECE_FLEXIBLE_DUCT] = D (WIDTH) | D (LENGTH),
  };
  static const char *const words[PIECE_N_DIMS] = { "w <24>", "h <12>", "w <18>", "h <10>", "l <60>", "a <75>", "t <23>", "s <9>", "g <6>",
                                                   "b <8>", "u <3>" };
#undef D
#undef SIZE

  for (int kind = 0; kind < PIECE_N_KINDS; kind++)
    {
      Piece p = ordinary ((PieceKind) kind);
      g_autofree char *table = NULL;
      int lines = 0;

      p.dim[PIECE_ANGLE] = 75;
      for (int i = 0; i < PIECE_N_DIMS; i++)
        p.text[i] = words[i];
      table = piece_table (&p);
      for (const char *c = table; *c; c++)
        lines += *c == '\n';
      g_test_message ("kind %d\n%s", kind, table);
      for (int i = 0; i < PIECE_N_DIMS; i++)
        {
          const char *at = strstr (table, words[i]);
          g_assert_cmpint (at != NULL, ==, (wanted[kind] >> i) & 1);
          g_assert_true (!at || !strstr (at + 1, words[i]));
          lines -= at != NULL;
        }
      g_assert_cmpint (lines, ==, 2); /* the heading and its rule */
      /* Words that are not written at the picture are not in the table either. */
      g_free (table);
      p.text[PIECE_WIDTH] = NULL;
      table = piece_table (&p);
      g_assert_null (strstr (table, words[PIECE_WIDTH]));
    }
}

/* Dampers and fabric connectors are round where they have no height; others without one are not drawn. */
static void
test_round (void)
{
  for (int kind = 0; kind < PIECE_N_KINDS; kind++)
    {
      Piece p = ordinary ((PieceKind) kind);
      gboolean round = kind >= PIECE_ROUND_DUCT || kind == PIECE_DAMPER || kind == PIECE_FABRIC_CONNECTOR;
      guint inside, outside;

      p.dim[PIECE_HEIGHT] = 0;
      touched (&p, &inside, &outside);
      g_assert_cmpint (inside > 0, ==, round);
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
      p.gores = g_test_rand_int_range (-3, 400);
      p.spiral = g_test_rand_bit ();
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
  g_test_add_func ("/piece/table", test_table);
  g_test_add_func ("/piece/round", test_round);
  g_test_add_func ("/piece/nothing", test_nothing);
  g_test_add_func ("/piece/random", test_random);
  g_test_add_func ("/piece/ends", test_ends);
  return g_test_run ();
}
