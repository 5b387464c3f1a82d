/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/measure-private.h"

#include <math.h>

/* A piece that comes whole has no sheet of ours. What is handled is taken as its casing and one face of blades, or the
 * two skins of a door, in the sheet of the run: its maker's sheet says better (invented demo). */
static void
handled (DuctWork *k, gint64 *one, double area_mm2)
{
  one[DUCT_PIECE_LB] = duct_round (area_mm2 * k->sheet->mg_per_mm2);
}

void
duct_add_bought (DuctWork *k, gint64 *one, const DuctPlace *place)
{
  const DuctShape *s = k->shape;
  double girth, face, length;

  if (s->h == 0)
    {
      duct_add_bought_round (k, one, place);
      return;
    }
  girth = (double) duct_girth (s->w, s->h) / 1e6;
  face = (double) s->w / 1e6 * ((double) s->h / 1e6);
  length = duct_kind_info (s->kind)->dims & (1u << DUCT_DIM_LENGTH) ? (double) s->dim[DUCT_DIM_LENGTH] / 1e6 : 0;
  one[DUCT_LEN_PIECE] = duct_round (length * 1e3);
  if (s->kind == DUCT_ACCESS_DOOR)
    {
      one[DUCT_DOOR] = COUNT (1);
      one[DUCT_DOOR_FT2] = duct_round (face);
      handled (k, one, 2 * face);
    }
  else if (s->kind == DUCT_DAMPER)
    {
      one[DUCT_DAMPER_PIECE] = COUNT (1);
      one[DUCT_LEN_DAMPER] = duct_round (girth * 1e3);
      one[DUCT_DAMPER_FT2] = duct_round (face);
      handled (k, one, girth * length + face);
    }
  else if (s->kind == DUCT_FABRIC_CONNECTOR)
    {
      one[DUCT_FABRIC_FT] = duct_round (girth * 1e3);
      handled (k, one, girth * length);
    }
}
