/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/piece-private.h"
#include "chart/text-table.h"

#include <glib/gi18n-lib.h>

static const char *const places[PIECE_N_DIMS] = {
  [PIECE_WIDTH] = N_ ("first end"),    [PIECE_HEIGHT] = N_ ("first end"),  [PIECE_WIDTH2] = N_ ("second end"),
  [PIECE_HEIGHT2] = N_ ("second end"), [PIECE_LENGTH] = N_ ("along"),      [PIECE_ANGLE] = N_ ("turn"),
  [PIECE_THROAT] = N_ ("inside"),      [PIECE_ASIDE] = N_ ("to the side"), [PIECE_LEGS] = N_ ("at the throat"),
  [PIECE_BRANCH] = N_ ("branch"),      [PIECE_LIFT] = N_ ("upwards"),
};

/* Where words about an end or a size stand that are not told by the dimension alone. */
static const char *
place_of (const Piece *piece, PieceDim dim)
{
  if (dim == PIECE_WIDTH2 || dim == PIECE_HEIGHT2)
    {
      if (piece->kind == PIECE_TEE || piece->kind == PIECE_WYE)
        return _ ("branch");
      if (piece->kind == PIECE_SADDLE_TAP)
        return _ ("main");
    }
  if (dim == PIECE_ASIDE && piece->kind == PIECE_BOOT_TAP)
    return _ ("base");
  if ((dim == PIECE_WIDTH || dim == PIECE_HEIGHT)
      && (piece->kind == PIECE_PLENUM_BOX || piece->kind == PIECE_ACCESS_DOOR))
    return _ ("face");
  return _ (places[dim]);
}

char *
piece_table (const Piece *piece)
{
  g_autoptr (ChartTable) table = chart_table_new ("ll");
  g_autofree Solid *solid = g_new0 (Solid, 1);

  chart_table_add (table, _ ("place"));
  chart_table_add (table, _ ("dimension"));
  if (piece_make_solid (piece, solid))
    for (int i = 0; i < solid->n_marks; i++)
      {
        PieceDim dim = solid->mark[i].dim;
        if (!piece->text[dim])
          continue;
        chart_table_add (table, place_of (piece, dim));
        chart_table_add (table, piece->text[dim]);
      }
  return chart_table_print (table);
}
