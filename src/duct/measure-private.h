/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "duct/measure.h"

#include "base/num.h"

G_BEGIN_DECLS

#define UM(nm) num_div ((nm), 1000)
#define DUCT_MOST_SIDE (20 * LENGTH_NM_PER_FT)
#define COUNT(n) ((gint64) (n) * 1000)

/* What one run is measured with. */
typedef struct
{
  const DuctRules *rules;
  const DuctShape *shape;
  const DuctBuild *build;
  const DuctConnection *connection;
  const DuctSheet *sheet;
  const DuctStep *profile;
  DuctGeometry geometry; /* of a fitting */
  guint notes;
} DuctWork;

/* Where one piece stands in its run. */
typedef struct
{
  gint64 length; /* nm laid, straights */
  DuctEnd first, last;
  gboolean fit;
  gboolean leads; /* first piece of its run */
} DuctPlace;

gint64 duct_round (double x);
/* Girth in nm: 2 (w + h), or pi d where @h is 0. */
gint64 duct_girth (gint64 w, gint64 h);
/* Whether the piece's pieces are cut from stock: straight and round duct. */
gboolean duct_is_straight (DuctKind kind);

/* Length of the pieces of a straight that are shorter than the laid length, 0 when there are none. */
gint64 duct_rest_length (const DuctRules *rules, gint64 length, gint64 laid);

/* Round and flexible pieces, dampers and fabric connectors: their metal and their ends. measure-round.c */
void duct_add_round_metal (DuctWork *work, gint64 *one, gint64 length);
void duct_add_round_end (DuctWork *work, gint64 *one, const DuctPlace *place, DuctEnd end, gboolean first, gint64 diameter);
void duct_add_bought_round (DuctWork *work, gint64 *one, const DuctPlace *place);
/* What comes whole: doors, dampers, fabric connectors, and round pieces by the above. measure-bought.c */
void duct_add_bought (DuctWork *work, gint64 *one, const DuctPlace *place);
/* Weight of a straight whose shorter sides are of another sheet; @blank_mm: length of the blank. measure-stiff.c */
void duct_add_two_sheets (DuctWork *work, gint64 *one, double blank_mm);
/* Members and tie rods between the joints. measure-stiff.c */
void duct_add_stiffening (DuctWork *work, gint64 *one, const DuctPlace *place);
/* Liner with its pins, wrap, sealing, leakage test. measure-lining.c */
void duct_add_lining (DuctWork *work, gint64 *one, const DuctPlace *place);
/* FALSE with @problem when the liner leaves no room. */
gboolean duct_check_lining (const DuctShape *shape, DuctProblem *problem);
/* Hangers of a rule set that has supports of its own; FALSE: it has none. measure-support.c */
gboolean duct_add_supports (DuctWork *work, gint64 *one, const DuctPlace *place);

/* Shape checks shared by shape.c and shape-round.c. */
gboolean duct_check_side (const DuctRules *rules, gint64 side, DuctDim dim, DuctProblem *problem);
gboolean duct_check_diameter (const DuctRules *rules, gint64 diameter, DuctDim dim, DuctProblem *problem);
gboolean duct_check_dim (DuctShape *shape, DuctDim dim, const char *name, gint64 fallback, gint64 least, gint64 most,
                         DuctProblem *problem);
gboolean duct_problem_set (DuctProblem *problem, DuctDim dim, Fault *fault);
/* Tees, wyes and the other fittings beyond elbow, transition, offset and tap. shape-fittings.c, geometry-fittings.c */
gboolean duct_resolve_fitting (const DuctRules *rules, DuctShape *shape, DuctProblem *problem);
void duct_geometry_fitting (const DuctRules *rules, const DuctShape *shape, DuctGeometry *out);
gboolean duct_resolve_round (const DuctRules *rules, DuctShape *shape, DuctProblem *problem);
void duct_geometry_round (const DuctRules *rules, const DuctShape *shape, DuctGeometry *out);

G_END_DECLS
