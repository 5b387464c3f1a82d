/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/measure.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* Bounds of one piece. Sides and laid lengths end at 20 ft, arcs at what a piece of MOST_MASS can weigh. */
#define MOST_COUNT (G_GINT64_CONSTANT (1000) * 1000)   /* 1 000 of anything, in thousandths */
#define MOST_MANY (G_GINT64_CONSTANT (20000) * 1000)   /* of pins */
#define MOST_LENGTH (G_GINT64_CONSTANT (600) * 1000000) /* 600 m in um */
#define MOST_AREA (G_GINT64_CONSTANT (2000) * 1000000)  /* 2 000 m2 in mm2: leaves room for an overage over 100 % */
#define MOST_MASS (G_GINT64_CONSTANT (5000) * 1000000)  /* 5 t in mg */

#define COUNT(k, n, len, mass) { k, n, DUCT_UNIT_COUNT, len, mass, MOST_COUNT }
#define MANY(k, n) { k, n, DUCT_UNIT_COUNT, -1, -1, MOST_MANY }
#define AREA(k, n) { k, n, DUCT_UNIT_AREA, -1, -1, MOST_AREA }
#define LENGTH(k, n) { k, n, DUCT_UNIT_LENGTH, -1, -1, MOST_LENGTH }

static const DuctDriverInfo drivers[DUCT_N_DRIVERS] = {
  [DUCT_NET_LB] = { "net_lb", N_ ("net weight of sheet"), DUCT_UNIT_MASS, -1, -1, MOST_MASS },
  [DUCT_PIECE] = COUNT ("piece", N_ ("piece"), DUCT_LEN_PIECE, DUCT_PIECE_LB),
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
  [DUCT_END_FT2] = AREA ("end_ft2", N_ ("open face of ends")),
  [DUCT_FIT_END] = COUNT ("fit_end", N_ ("end cut to fit on site"), -1, -1),
  [DUCT_LOOSE_FRAME] = COUNT ("loose_frame", N_ ("frame shipped loose"), -1, -1),
  [DUCT_END_MADE] = COUNT ("end", N_ ("end made"), -1, -1),
  [DUCT_END_OTHERS] = COUNT ("end_by_others", N_ ("end made by others"), -1, -1),
  [DUCT_AREA_FT2] = AREA ("area_ft2", N_ ("geometric area")),
  [DUCT_PIECE_LB] = { "piece_lb", N_ ("handled weight of the metal"), DUCT_UNIT_MASS, -1, -1, MOST_MASS },
  [DUCT_MEMBER] = COUNT ("member", N_ ("stiffening member"), DUCT_LEN_MEMBER, DUCT_MEMBER_LB),
  [DUCT_MEMBER_LB] = { "member_lb", N_ ("weight of stiffening members"), DUCT_UNIT_MASS, -1, -1, MOST_MASS },
  [DUCT_TIE_ROD] = COUNT ("tie_rod", N_ ("tie rod"), DUCT_LEN_TIE_ROD, -1),
  [DUCT_DOOR] = COUNT ("door", N_ ("access door"), -1, -1),
  [DUCT_DOOR_FT2] = AREA ("door_ft2", N_ ("area of access doors")),
  [DUCT_DAMPER_PIECE] = COUNT ("damper", N_ ("damper"), DUCT_LEN_DAMPER, -1),
  [DUCT_DAMPER_FT2] = AREA ("damper_ft2", N_ ("face of dampers")),
  [DUCT_PIERCING] = COUNT ("piercing", N_ ("hole cut in a main"), DUCT_LEN_PIERCING, -1),
  [DUCT_COUPLING] = COUNT ("coupling", N_ ("coupling"), DUCT_COUPLING_FT, -1),
  [DUCT_COUPLED_JOINT] = COUNT ("coupled_joint", N_ ("coupled joint"), DUCT_LEN_COUPLED_JOINT, -1),
  [DUCT_RING] = COUNT ("ring", N_ ("flanged ring"), DUCT_RING_FT, -1),
  [DUCT_RING_FT] = LENGTH ("ring_ft", N_ ("girth of flanged rings")),
  [DUCT_RING_JOINT] = COUNT ("ring_joint", N_ ("joint of flanged rings"), DUCT_LEN_RING_JOINT, -1),
  [DUCT_ROUND_SCREW] = COUNT ("round_screw", N_ ("screw of a round joint"), -1, -1),
  [DUCT_GORE] = COUNT ("gore", N_ ("gore"), DUCT_LEN_GORE, -1),
  [DUCT_ROUND_FT2] = AREA ("bought_round_ft2", N_ ("area of bought round pieces")),
  [DUCT_FLEXIBLE] = COUNT ("flexible", N_ ("flexible duct"), DUCT_LEN_FLEXIBLE, -1),
  [DUCT_FLEXIBLE_FT2] = AREA ("flexible_ft2", N_ ("area of flexible duct")),
  [DUCT_CLAMP] = COUNT ("clamp", N_ ("clamp of flexible duct"), DUCT_LEN_CLAMP, -1),
  [DUCT_FABRIC_FT] = LENGTH ("fabric_ft", N_ ("girth of fabric connectors")),
  [DUCT_LINER_FT2] = AREA ("liner_ft2", N_ ("liner")),
  [DUCT_ADHESIVE_FT2] = AREA ("adhesive_ft2", N_ ("liner adhesive")),
  [DUCT_LINER_PIN] = MANY ("liner_pin", N_ ("liner pin")),
  [DUCT_NOSING_FT] = LENGTH ("nosing_ft", N_ ("metal nosing of liner")),
  [DUCT_WRAP_FT2] = AREA ("wrap_ft2", N_ ("wrap, as cut")),
  [DUCT_WRAP_PIN] = MANY ("wrap_pin", N_ ("wrap pin")),
  [DUCT_SEALED_SEAM_FT] = LENGTH ("sealed_seam_ft", N_ ("sealed seam")),
  [DUCT_SEALED_JOINT_FT] = LENGTH ("sealed_joint_ft", N_ ("sealed joint")),
  [DUCT_SEALED_WALL_FT] = LENGTH ("sealed_wall_ft", N_ ("sealed penetration")),
  [DUCT_TEST_FT2] = AREA ("test_ft2", N_ ("area of a leakage test")),
  [DUCT_SUPPORT] = COUNT ("support", N_ ("support"), -1, -1),
  [DUCT_SUPPORT_STRAP_FT] = LENGTH ("support_strap_ft", N_ ("hanger strap")),
  [DUCT_SUPPORT_ROD_FT] = LENGTH ("support_rod_ft", N_ ("hanger rod")),
  [DUCT_SUPPORT_BAR_FT] = LENGTH ("support_bar_ft", N_ ("trapeze bar")),
  [DUCT_UPPER_FIXING] = COUNT ("upper_fixing", N_ ("fixing to the structure"), -1, -1),
  [DUCT_RISER_SUPPORT] = COUNT ("riser_support", N_ ("riser support"), -1, -1),
  [DUCT_LINER_BOARD_FT2] = AREA ("liner_board_ft2", N_ ("liner, by the inch of thickness")),
  [DUCT_WRAP_BOARD_FT2] = AREA ("wrap_board_ft2", N_ ("wrap, by the inch of thickness")),
  [DUCT_RING_BOLT] = COUNT ("ring_bolt", N_ ("bolt of a ring joint"), -1, -1),
  [DUCT_COUPLING_FT] = LENGTH ("coupling_ft", N_ ("girth of couplings")),
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
