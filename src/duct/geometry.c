/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/measure-private.h"

#include <math.h>

#define MM(nm) ((double) (nm) / 1e6)

/* Radius elbow: cheeks 2 (th/2)(ro^2 - ri^2), throat th ri B, heel th ro B; the sum is 2 (A + B) th Rc (theorem of Pappus). */
static void
radius_elbow (double a, double b, double theta, double throat, DuctGeometry *g)
{
  g->centreline_mm = theta * (throat + a / 2);
  g->area_mm2 = 2 * (a + b) * g->centreline_mm;
}

/* Mitred elbow with straight legs e at the throat. At the heel each leg is longer by A tan(th/2): at 90 degrees cheeks
 * 2 ((A + e)^2 - e^2), throat 2 e B, heel 2 (A + e) B. The rail lies on the mitre, A / cos(th/2) = A sqrt 2 at 90. */
static void
mitred_elbow (double a, double b, double theta, double legs, DuctGeometry *g)
{
  double more = a * tan (theta / 2);

  g->centreline_mm = 2 * legs + more;
  g->area_mm2 = 2 * a * (2 * legs + more) + 2 * legs * b + 2 * (legs + more) * b;
  g->rail_mm = a / cos (theta / 2);
  g->vane_mm = b;
}

/* Two pairs of trapezoids. @shift moves the centre of the second end in the direction of W, @lift in that of H: the two
 * sides that face a way slope differently, the other two are sheared, which leaves their area. A side is flat when the centre
 * moves by half the difference. Source of the form: flat pattern of a pyramid frustum; concentric, one and two sides flat
 * agree with the reference values of the tests. */
static double
trapezoids (double length, double slope, double shift)
{
  return sqrt (length * length + (slope - shift) * (slope - shift)) + sqrt (length * length + (slope + shift) * (slope + shift));
}

static void
transition (double w1, double h1, double w2, double h2, double length, double shift, double lift, DuctGeometry *g)
{
  double over = (w1 + w2) / 2 * trapezoids (length, (h1 - h2) / 2, lift);
  double aside = (h1 + h2) / 2 * trapezoids (length, (w1 - w2) / 2, shift);

  g->area_mm2 = over + aside;
  g->centreline_mm = length;
}

/* Ogee of two equal arcs, R = (L^2 + d^2) / 4d, th = 2 atan (d/L), centreline s = 2 R th; concentric walls: 2 (A + B) s. */
static void
offset (double a, double b, double length, double aside, DuctGeometry *g)
{
  double radius = (length * length + aside * aside) / (4 * aside);
  double theta = 2 * atan (aside / length);

  g->centreline_mm = 2 * radius * theta;
  g->area_mm2 = 2 * (a + b) * g->centreline_mm;
}

void
duct_geometry (const DuctRules *rules, const DuctShape *s, DuctGeometry *g)
{
  double w = MM (s->w), h = MM (s->h), a = s->on_edge ? h : w, b = s->on_edge ? w : h;
  double theta = (double) s->dim[DUCT_DIM_ANGLE] * (G_PI / 180e6), length = MM (s->dim[DUCT_DIM_LENGTH]);

  *g = (DuctGeometry) { 0 };
  switch ((DuctKind) s->kind)
    {
    case DUCT_STRAIGHT:
      g->centreline_mm = length;
      g->area_mm2 = 2 * (w + h) * length;
      break;
    case DUCT_RADIUS_ELBOW:
      radius_elbow (a, b, theta, MM (s->dim[DUCT_DIM_THROAT]), g);
      break;
    case DUCT_MITRED_ELBOW:
      mitred_elbow (a, b, theta, MM (s->dim[DUCT_DIM_LEGS]), g);
      break;
    case DUCT_TRANSITION:
      {
        double w2 = MM (s->dim[DUCT_DIM_W2]), h2 = MM (s->dim[DUCT_DIM_H2]), shift = MM (s->dim[DUCT_DIM_SHIFT]);
        double lift = MM (s->dim[DUCT_DIM_SHIFT2]);
        if (s->on_edge)
          transition (h, w, h2, w2, length, shift, lift, g);
        else
          transition (w, h, w2, h2, length, shift, lift, g);
        break;
      }
    case DUCT_OFFSET:
      offset (a, b, length, MM (s->dim[DUCT_DIM_OFFSET]), g);
      break;
    case DUCT_TAP:
      /* Corner squares of the flange are not counted. */
      g->centreline_mm = length + MM (rules->allow[DUCT_ALLOW_TAP_FLANGE].value);
      g->area_mm2 = 2 * (w + h) * g->centreline_mm;
      break;
    case DUCT_END_CAP:
      {
        double edge = 2 * MM (rules->allow[DUCT_ALLOW_CAP_EDGE].value);
        g->area_mm2 = (w + edge) * (h + edge);
        break;
      }
    case DUCT_ANGLED_OFFSET:
    case DUCT_SQUARE_TO_ROUND:
    case DUCT_TEE:
    case DUCT_WYE:
    case DUCT_BOOT_TAP:
    case DUCT_PLENUM_BOX:
    case DUCT_TURNING_VANES:
      duct_geometry_fitting (rules, s, g);
      break;
    case DUCT_ROUND_DUCT:
    case DUCT_SPIN_IN:
    case DUCT_GORED_ELBOW:
    case DUCT_STAMPED_ELBOW:
    case DUCT_REDUCER:
    case DUCT_SADDLE_TAP:
    case DUCT_ROUND_CAP:
      duct_geometry_round (rules, s, g);
      break;
    case DUCT_ACCESS_DOOR:
    case DUCT_DAMPER:
    case DUCT_FLEXIBLE_DUCT:
    case DUCT_FABRIC_CONNECTOR:
    case DUCT_COUNTED:
    case DUCT_REMARK:
    case DUCT_N_KINDS:
    default:
      break;
    }
}
