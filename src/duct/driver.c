/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/measure.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* Bounds of one piece. Sides and laid lengths end at 20 ft, arcs at what a piece of MOST_MASS can weigh. */
#define MOST_COUNT (G_GINT64_CONSTANT (1000) * 1000)   /* 1 000 of anything, in thousandths */
#define MOST_LENGTH (G_GINT64_CONSTANT (600) * 1000000) /* 600 m in um */
#define MOST_AREA (G_GINT64_CONSTANT (4000) * 1000000)  /* mm2 */
#define MOST_MASS (G_GINT64_CONSTANT (5000) * 1000000)  /* 5 t in mg */

#define COUNT(k, n, len, mass) { k, n, DUCT_UNIT_COUNT, len, mass, MOST_COUNT }
#define LENGTH(k, n) { k, n, DUCT_UNIT_LENGTH, -1, -1, MOST_LENGTH }

static const DuctDriverInfo drivers[DUCT_N_DRIVERS] = {
  [DUCT_NET_LB] = { "net_lb", N_ ("net weight of sheet"), DUCT_UNIT_MASS, -1, -1, MOST_MASS },
  [DUCT_PIECE] = COUNT ("piece", N_ ("piece"), DUCT_LEN_PIECE, DUCT_NET_LB),
  [DUCT_SEAM] = LENGTH ("seam", N_ ("longitudinal seam")),
  [DUCT_BAR] = COUNT ("bar", N_ ("flange bar"), -1, -1),
  [DUCT_FLANGE_FT] = LENGTH ("flange_ft", N_ ("slip-on flange, light")),
  [DUCT_HEAVY_FLANGE_FT] = LENGTH ("heavy_flange_ft", N_ ("slip-on flange, heavy")),
  [DUCT_FRAME] = COUNT ("frame", N_ ("slip-on frame"), -1, -1),
  [DUCT_SEATED_FRAME] = COUNT ("seated_frame", N_ ("frame seated in the shop"), DUCT_LEN_SEATED_FRAME, -1),
  [DUCT_SCREW] = COUNT ("screw", N_ ("frame screw"), -1, -1),
  [DUCT_SHOP_SCREW] = COUNT ("shop_screw", N_ ("frame screw driven in the shop"), -1, -1),
  [DUCT_SLIPON_CORNER] = COUNT ("slipon_corner", N_ ("corner of a slip-on frame"), -1, -1),
  [DUCT_INTEGRAL_CORNER] = COUNT ("integral_corner", N_ ("corner of an integral flange"), -1, -1),
  [DUCT_INTEGRAL_END] = COUNT ("integral_end", N_ ("end with integral flange"), DUCT_LEN_INTEGRAL_END, -1),
  [DUCT_SD_END] = COUNT ("sd_end", N_ ("end for slip and drive"), DUCT_LEN_SD_END, -1),
  [DUCT_FLANGED_JOINT] = COUNT ("flanged_joint", N_ ("flanged joint"), DUCT_LEN_FLANGED_JOINT, -1),
  [DUCT_SD_JOINT] = COUNT ("sd_joint", N_ ("slip-and-drive joint"), DUCT_SD_JOINT_FT, -1),
  [DUCT_GASKET_FT] = LENGTH ("gasket_ft", N_ ("gasket")),
  [DUCT_CLEAT] = COUNT ("cleat", N_ ("6 in cleat"), -1, -1),
  [DUCT_CLEAT_FT] = LENGTH ("cleat_ft", N_ ("continuous cleat")),
  [DUCT_SLIP_FT] = LENGTH ("slip_ft", N_ ("slip")),
  [DUCT_DRIVE_FT] = LENGTH ("drive_ft", N_ ("drive")),
  [DUCT_SD_JOINT_FT] = LENGTH ("sd_joint_ft", N_ ("girth of slip-and-drive joints")),
  [DUCT_HANGER] = COUNT ("hanger", N_ ("hanger"), -1, -1),
  [DUCT_STRAP] = COUNT ("strap", N_ ("strap hanger"), -1, -1),
  [DUCT_TRAPEZE_TO_60] = COUNT ("trapeze_to_60", N_ ("trapeze to 60 in"), -1, -1),
  [DUCT_TRAPEZE_OVER_60] = COUNT ("trapeze_over_60", N_ ("trapeze over 60 in"), -1, -1),
  [DUCT_OVER_150_LB] = COUNT ("over_150_lb", N_ ("piece over 150 lb"), -1, -1),
  [DUCT_VANE] = COUNT ("vane", N_ ("turning vane"), -1, -1),
  [DUCT_VANE_FT] = LENGTH ("vane_ft", N_ ("vane length")),
  [DUCT_RAIL_FT] = LENGTH ("rail_ft", N_ ("vane rail")),
  [DUCT_END_FT2] = { "end_ft2", N_ ("open face of ends"), DUCT_UNIT_AREA, -1, -1, MOST_AREA },
  [DUCT_FIT_END] = COUNT ("fit_end", N_ ("end cut to fit on site"), -1, -1),
  [DUCT_LOOSE_FRAME] = COUNT ("loose_frame", N_ ("frame shipped loose"), -1, -1),
  [DUCT_END_MADE] = COUNT ("end", N_ ("end made"), -1, -1),
  [DUCT_END_OTHERS] = COUNT ("end_by_others", N_ ("end made by others"), -1, -1),
  [DUCT_AREA_FT2] = { "area_ft2", N_ ("geometric area"), DUCT_UNIT_AREA, -1, -1, MOST_AREA },
};

const DuctDriverInfo *
duct_driver_info (DuctDriver driver)
{
  g_return_val_if_fail (driver < DUCT_N_DRIVERS, &drivers[0]);
  return &drivers[driver];
}

int
duct_driver_find (const char *key)
{
  for (int i = 0; i < DUCT_N_DRIVERS; i++)
    if (strcmp (drivers[i].key, key) == 0)
      return i;
  return -1;
}

gint64
duct_slot_most (int slot)
{
  return slot < DUCT_N_DRIVERS ? drivers[slot].most : MOST_LENGTH;
}
