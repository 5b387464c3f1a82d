/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/measure-private.h"

/* Conventions of round duct:
 * - Inside a run two lengths of duct meet in a coupling, which is screwed to both. A run's first joint needs none: the duct slips
 *   over the end of the fitting before it (DuctPlace.leads), as a fitting's first end slips into what stands before it. Two
 *   lengths of duct that stand in two rows one behind the other are counted as the second meeting a fitting.
 * - A flanged ring goes on every end that we make, bolts and a gasket as long as the girth into every joint of rings.
 * - Flexible duct brings one clamp for each of its ends, whatever the connection; no screws.
 * - A bought piece has ends that its maker made: they count among the ends made by others, and bring no ring of ours. */

/* Fastened round one circle, three at least (International Mechanical Code, round joints). */
static gint64
screws_around (const DuctWork *k, gint64 girth)
{
  gint64 spacing = k->rules->allow[DUCT_ALLOW_ROUND_SCREW].value;

  return MAX (3, (girth + spacing - 1) / spacing);
}

static gint64
bolts_around (const DuctWork *k, gint64 girth)
{
  gint64 spacing = k->rules->allow[DUCT_ALLOW_RING_BOLT].value;

  return MAX (4, (girth + spacing - 1) / spacing);
}

void
duct_add_round_metal (DuctWork *k, gint64 *one, gint64 length)
{
  const DuctFigure *allow = k->rules->allow;
  const DuctShape *s = k->shape;
  double girth = G_PI * (double) s->w / 1e6, seam = (double) allow[DUCT_ALLOW_SEAM].value / 1e6, blank;

  if (s->kind == DUCT_ROUND_DUCT)
    {
      gboolean spiral = k->connection->seam == DUCT_SEAM_SPIRAL;
      double cut = (double) (length + k->connection->take_up_nm) / 1e6;
      one[DUCT_AREA_FT2] = duct_round (girth * (double) length / 1e6);
      one[DUCT_LEN_PIECE] = UM (length);
      /* The lock seam takes its share of each width of strip. */
      blank = spiral ? girth * cut * (1 + (double) allow[DUCT_ALLOW_SPIRAL_LAP].value / (double) allow[DUCT_ALLOW_SPIRAL_STRIP].value)
                     : (girth + seam) * cut;
      if (!spiral)
        one[DUCT_SEAM] = UM (length);
    }
  else
    {
      one[DUCT_AREA_FT2] = duct_round (k->geometry.area_mm2);
      one[DUCT_LEN_PIECE] = duct_round (k->geometry.centreline_mm * 1e3);
      blank = k->geometry.area_mm2 + (duct_kind_info (s->kind)->seam ? seam * k->geometry.centreline_mm : 0);
    }
  if (s->kind == DUCT_GORED_ELBOW)
    {
      one[DUCT_GORE] = s->dim[DUCT_DIM_GORES];
      one[DUCT_LEN_GORE] = s->dim[DUCT_DIM_GORES] / 1000 * UM (duct_girth (s->w, 0));
    }
  if (s->kind == DUCT_SADDLE_TAP) /* a spin-in's hole is counted with that of a boot tap */
    {
      one[DUCT_PIERCING] = COUNT (1);
      one[DUCT_LEN_PIERCING] = UM (duct_girth (s->w, 0));
    }
  one[DUCT_NET_LB] = one[DUCT_PIECE_LB] = duct_round (blank * k->sheet->mg_per_mm2);
}

static void
add_ring_joint (DuctWork *k, gint64 *one, gint64 girth)
{
  one[DUCT_RING_JOINT] += COUNT (1);
  one[DUCT_LEN_RING_JOINT] += UM (girth);
  one[DUCT_RING_BOLT] += COUNT (bolts_around (k, girth));
  one[DUCT_GASKET_FT] += UM (girth);
}

static void
add_coupled_joint (DuctWork *k, gint64 *one, gboolean coupling, gint64 girth)
{
  one[DUCT_COUPLED_JOINT] += COUNT (1);
  one[DUCT_LEN_COUPLED_JOINT] += UM (girth);
  if (coupling)
    {
      one[DUCT_COUPLING] += COUNT (1);
      one[DUCT_COUPLING_FT] += UM (girth);
    }
  if (k->shape->kind != DUCT_FLEXIBLE_DUCT)
    one[DUCT_ROUND_SCREW] += COUNT ((coupling ? 2 : 1) * screws_around (k, girth));
}

void
duct_add_round_end (DuctWork *k, gint64 *one, const DuctPlace *place, DuctEnd end, gboolean first, gint64 diameter)
{
  const DuctShape *s = k->shape;
  gboolean bought = duct_kind_info (s->kind)->bought, flexible = s->kind == DUCT_FLEXIBLE_DUCT;
  DuctEdge edge = s->kind == DUCT_ROUND_DUCT ? k->connection->straight_end : k->connection->fitting_end;
  gboolean ringed = edge == DUCT_EDGE_RINGED && !flexible;
  gint64 girth = duct_girth (diameter, 0);

  if (duct_end_by_others (end))
    one[DUCT_END_OTHERS] += COUNT (1);
  if (!duct_end_made (end))
    return;
  one[bought ? DUCT_END_OTHERS : DUCT_END_MADE] += COUNT (1);
  if (flexible)
    {
      one[DUCT_CLAMP] += COUNT (1);
      one[DUCT_LEN_CLAMP] += UM (girth);
    }
  if (ringed && !bought)
    {
      one[DUCT_RING] += COUNT (1);
      one[DUCT_RING_FT] += UM (girth);
    }
  if (!duct_end_joint (end, first))
    return;
  if (ringed)
    add_ring_joint (k, one, girth);
  else
    add_coupled_joint (k, one, s->kind == DUCT_ROUND_DUCT && first && end == DUCT_END_JOINT && !place->leads, girth);
}

/* A stamped elbow has the area of a smooth one and weighs what the sheet that the rule set asks for would; dampers and fabric
 * connectors weigh as the rectangular ones (measure-bought.c), flexible duct is taken to weigh nothing in the hand. */
void
duct_add_bought_round (DuctWork *k, gint64 *one, const DuctPlace *place)
{
  const DuctShape *s = k->shape;
  double girth = G_PI * (double) s->w / 1e6, face = girth * (double) s->w / 4e6, area = 0;
  double length = s->dim[DUCT_DIM_LENGTH] == DUCT_UNSET ? 0 : (double) s->dim[DUCT_DIM_LENGTH] / 1e6;

  (void) place;
  one[DUCT_LEN_PIECE] = duct_round (length * 1e3);
  if (s->kind == DUCT_STAMPED_ELBOW)
    {
      area = k->geometry.area_mm2;
      one[DUCT_LEN_PIECE] = duct_round (k->geometry.centreline_mm * 1e3);
      one[DUCT_AREA_FT2] = one[DUCT_ROUND_FT2] = duct_round (area);
    }
  else if (s->kind == DUCT_FLEXIBLE_DUCT)
    {
      one[DUCT_FLEXIBLE] = COUNT (1);
      one[DUCT_LEN_FLEXIBLE] = one[DUCT_LEN_PIECE];
      one[DUCT_FLEXIBLE_FT2] = duct_round (girth * length);
      if (s->dim[DUCT_DIM_LENGTH] > k->rules->allow[DUCT_ALLOW_FLEXIBLE_RUN].value)
        k->notes |= DUCT_NOTE_LONG_FLEXIBLE;
    }
  else if (s->kind == DUCT_DAMPER)
    {
      area = girth * length + face;
      one[DUCT_DAMPER_PIECE] = COUNT (1);
      one[DUCT_LEN_DAMPER] = duct_round (girth * 1e3);
      one[DUCT_DAMPER_FT2] = duct_round (face);
    }
  else if (s->kind == DUCT_FABRIC_CONNECTOR)
    {
      area = girth * length;
      one[DUCT_FABRIC_FT] = duct_round (girth * 1e3);
    }
  one[DUCT_PIECE_LB] = duct_round (area * k->sheet->mg_per_mm2);
}
