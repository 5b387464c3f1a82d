/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/record.h"

#include <glib/gi18n-lib.h>

/* A new column is one line here (and one column in the next schema version). The CSV heading is the key. */

static const JobField head_fields[] = {
  { "name", N_ ("Job"), JOB_AS_TEXT, HEAD_NAME },
  { "client", N_ ("Client"), JOB_AS_TEXT, HEAD_CLIENT },
  { "place", N_ ("Place"), JOB_AS_TEXT, HEAD_PLACE },
  { "engineer", N_ ("Engineer of record"), JOB_AS_TEXT, HEAD_ENGINEER },
  { "rule_set", N_ ("Rule set"), JOB_AS_TEXT, HEAD_RULE_SET },
  { "method", N_ ("Method"), JOB_AS_TEXT, HEAD_METHOD },
  { "units", N_ ("Units"), JOB_AS_UNITS, HEAD_UNITS },
  { "currency", N_ ("Currency"), JOB_AS_TEXT, HEAD_CURRENCY },
  { "decimals", N_ ("Decimals"), JOB_AS_DECIMALS, HEAD_DECIMALS },
  { "class", N_ ("Class"), JOB_AS_CLASS, HEAD_CLASS },
  { "metal", N_ ("Metal"), JOB_AS_METAL, HEAD_METAL },
  { "exposure", N_ ("Exposure"), JOB_AS_EXPOSURE, HEAD_EXPOSURE },
  { "piece_coil_in", N_ ("Coil width"), JOB_AS_LENGTH_IN, HEAD_COIL },
  { "condition", N_ ("Conditions"), JOB_AS_TEXT, HEAD_CONDITION },
  { "note", N_ ("Note"), JOB_AS_TEXT, HEAD_NOTE },
  { "sizes_inside_liner", N_ ("Sizes are inside the liner"), JOB_AS_YES_NO, HEAD_CLEAR },
  { "lengths_through_fittings", N_ ("Lengths run through fittings"), JOB_AS_YES_NO, HEAD_THROUGH },
  { "construction", N_ ("Construction wishes"), JOB_AS_TEXT, HEAD_PREFER },
  { "leakage_edition", N_ ("Edition of seal and leakage classes"), JOB_AS_TEXT, HEAD_EDITION },
  { "supports", N_ ("Supports by"), JOB_AS_TEXT, HEAD_SUPPORTS },
};

static const JobField system_fields[] = {
  { "system", N_ ("System"), JOB_AS_TEXT, SYSTEM_KEY },
  { "name", N_ ("Name"), JOB_AS_TEXT, SYSTEM_NAME },
  { "duty", N_ ("Duty"), JOB_AS_TEXT, SYSTEM_DUTY },
  { "sign", N_ ("Sign"), JOB_AS_SIGN, SYSTEM_SIGN },
  { "class", N_ ("Class"), JOB_AS_CLASS, SYSTEM_CLASS },
  { "seal", N_ ("Seal class"), JOB_AS_TEXT, SYSTEM_SEAL },
  { "metal", N_ ("Metal"), JOB_AS_METAL, SYSTEM_METAL },
  { "exposure", N_ ("Exposure"), JOB_AS_EXPOSURE, SYSTEM_EXPOSURE },
  { "piece_coil_in", N_ ("Coil width"), JOB_AS_LENGTH_IN, SYSTEM_COIL },
  { "rule_set", N_ ("Rule set"), JOB_AS_TEXT, SYSTEM_RULE_SET },
  { "method", N_ ("Method"), JOB_AS_TEXT, SYSTEM_METHOD },
  { "condition", N_ ("Conditions"), JOB_AS_TEXT, SYSTEM_CONDITION },
  { "liner", N_ ("Liner"), JOB_AS_LENGTH_IN, SYSTEM_LINER },
  { "fast_stream", N_ ("Fast stream"), JOB_AS_YES_NO, SYSTEM_FAST },
  { "wrap", N_ ("Wrap"), JOB_AS_TEXT, SYSTEM_WRAP },
  { "leakage_test", N_ ("Leakage test"), JOB_AS_YES_NO, SYSTEM_TESTED },
  { "supports", N_ ("Supports by"), JOB_AS_TEXT, SYSTEM_SUPPORTS },
};

static const JobField area_fields[] = {
  { "area", N_ ("Area"), JOB_AS_TEXT, AREA_KEY },
  { "working_height_ft", N_ ("Working height"), JOB_AS_LENGTH_FT, AREA_HEIGHT },
  { "hanger_drop_ft", N_ ("Hanger drop"), JOB_AS_LENGTH_FT, AREA_DROP },
  { "field_condition", N_ ("Field factor"), JOB_AS_FACTOR, AREA_FACTOR },
  { "times", N_ ("Times"), JOB_AS_WHOLE, AREA_TIMES },
  { "share_joints_on_floor", N_ ("Joints made on the floor"), JOB_AS_FACTOR, AREA_FLOOR_SHARE },
  { "pieces_raised_together", N_ ("Pieces raised together"), JOB_AS_WHOLE, AREA_RAISED },
  { "condition", N_ ("Conditions"), JOB_AS_TEXT, AREA_CONDITION },
  { "share_joints_remade", N_ ("Joints remade"), JOB_AS_FACTOR, AREA_REMADE },
};

static const JobField cell_fields[] = {
  { "system", N_ ("System"), JOB_AS_SYSTEM, CELL_SYSTEM },
  { "area", N_ ("Area"), JOB_AS_AREA, CELL_AREA },
  { "class", N_ ("Class"), JOB_AS_CLASS, CELL_CLASS },
  { "metal", N_ ("Metal"), JOB_AS_METAL, CELL_METAL },
  { "exposure", N_ ("Exposure"), JOB_AS_EXPOSURE, CELL_EXPOSURE },
  { "piece_coil_in", N_ ("Coil width"), JOB_AS_LENGTH_IN, CELL_COIL },
  { "method", N_ ("Method"), JOB_AS_TEXT, CELL_METHOD },
  { "liner", N_ ("Liner"), JOB_AS_LENGTH_IN, CELL_LINER },
  { "wrap", N_ ("Wrap"), JOB_AS_TEXT, CELL_WRAP },
};

static const JobField change_fields[] = {
  { "object", N_ ("Object"), JOB_AS_TEXT, CHANGE_OBJECT },
  { "key", N_ ("Key"), JOB_AS_TEXT, CHANGE_KEY },
  { "field", N_ ("Figure"), JOB_AS_TEXT, CHANGE_FIELD },
  { "value", N_ ("Value"), JOB_AS_TEXT, CHANGE_VALUE },
};

static const JobField run_fields[] = {
  { "system", N_ ("System"), JOB_AS_SYSTEM, RUN_SYSTEM },
  { "area", N_ ("Area"), JOB_AS_AREA, RUN_AREA },
  { "drawing", N_ ("Drawing"), JOB_AS_TEXT, RUN_DRAWING },
  { "kind", N_ ("Kind"), JOB_AS_KIND, RUN_KIND },
  { "size", N_ ("Size"), JOB_AS_SIZE, RUN_W },
  { "size2", N_ ("Second size"), JOB_AS_SIZE, RUN_W2 },
  { "length", N_ ("Length"), JOB_AS_LENGTH_FT, RUN_LENGTH },
  { "count", N_ ("Count"), JOB_AS_COUNT, RUN_COUNT },
  { "angle", N_ ("Angle"), JOB_AS_ANGLE, RUN_ANGLE },
  { "throat", N_ ("Throat radius"), JOB_AS_LENGTH_IN, RUN_THROAT },
  { "offset", N_ ("Offset"), JOB_AS_LENGTH_IN, RUN_OFFSET },
  { "shift", N_ ("Shift"), JOB_AS_LENGTH_IN, RUN_SHIFT },
  { "legs", N_ ("Throat legs"), JOB_AS_LENGTH_IN, RUN_LEGS },
  { "on_edge", N_ ("On edge"), JOB_AS_YES_NO, RUN_ON_EDGE },
  { "first_end", N_ ("First end"), JOB_AS_END, RUN_FIRST_END },
  { "last_end", N_ ("Last end"), JOB_AS_END, RUN_LAST_END },
  { "fit_pieces", N_ ("Pieces cut on site"), JOB_AS_WHOLE, RUN_FIT },
  { "class", N_ ("Class"), JOB_AS_CLASS, RUN_CLASS },
  { "exposure", N_ ("Exposure"), JOB_AS_EXPOSURE, RUN_EXPOSURE },
  { "metal", N_ ("Metal"), JOB_AS_METAL, RUN_METAL },
  { "gauge", N_ ("Gauge"), JOB_AS_TEXT, RUN_GAUGE },
  { "method", N_ ("Method"), JOB_AS_TEXT, RUN_METHOD },
  { "item", N_ ("Item"), JOB_AS_TEXT, RUN_ITEM },
  { "price", N_ ("Price"), JOB_AS_PRICE, RUN_PRICE },
  { "shop_minutes", N_ ("Shop minutes"), JOB_AS_MINUTES, RUN_SHOP_MINUTES },
  { "field_minutes", N_ ("Field minutes"), JOB_AS_MINUTES, RUN_FIELD_MINUTES },
  { "note", N_ ("Note"), JOB_AS_TEXT, RUN_NOTE },
  { "checked_issue", N_ ("Checked against issue"), JOB_AS_WHOLE, RUN_CHECKED },
  { "branch", N_ ("Branch length"), JOB_AS_LENGTH_IN, RUN_BRANCH },
  { "shift2", N_ ("Shift of height"), JOB_AS_LENGTH_IN, RUN_SHIFT2 },
  { "gores", N_ ("Gores"), JOB_AS_COUNT, RUN_GORES },
  { "liner", N_ ("Liner"), JOB_AS_LENGTH_IN, RUN_LINER },
  { "wrap", N_ ("Wrap"), JOB_AS_TEXT, RUN_WRAP },
  { "riser", N_ ("Riser"), JOB_AS_YES_NO, RUN_RISER },
  { "construction", N_ ("Construction"), JOB_AS_TEXT, RUN_CONSTRUCTION },
  { "condition", N_ ("Conditions"), JOB_AS_TEXT, RUN_CONDITION },
};

static const JobField drawing_fields[] = {
  { "drawing", N_ ("Drawing"), JOB_AS_TEXT, DRAWING_KEY },
  { "issue", N_ ("Issue"), JOB_AS_WHOLE, DRAWING_ISSUE },
  { "done", N_ ("Counted"), JOB_AS_YES_NO, DRAWING_DONE },
  { "note", N_ ("Note"), JOB_AS_TEXT, DRAWING_NOTE },
};

static const JobField setting_fields[] = {
  { "key", N_ ("Setting"), JOB_AS_TEXT, SETTING_KEY },
  { "value", N_ ("Value"), JOB_AS_TEXT, SETTING_VALUE },
};

static const JobField what_if_fields[] = {
  { "what_if", N_ ("What-if"), JOB_AS_TEXT, WHAT_IF_SET },
  { "object", N_ ("Object"), JOB_AS_TEXT, WHAT_IF_OBJECT },
  { "key", N_ ("Key"), JOB_AS_TEXT, WHAT_IF_KEY },
  { "field", N_ ("Figure"), JOB_AS_TEXT, WHAT_IF_FIELD },
  { "value", N_ ("Value"), JOB_AS_TEXT, WHAT_IF_VALUE },
};

static const JobField stock_fields[] = {
  { "item", N_ ("Item"), JOB_AS_TEXT, STOCK_ITEM },
  { "on_hand", N_ ("On hand"), JOB_AS_COUNT, STOCK_ON_HAND },
  { "lead_days", N_ ("Lead time"), JOB_AS_WHOLE, STOCK_LEAD_DAYS },
  { "note", N_ ("Note"), JOB_AS_TEXT, STOCK_NOTE },
};

static const JobTypeInfo types[JOB_N_TYPES] = {
  [JOB_HEAD] = { "job", head_fields, G_N_ELEMENTS (head_fields), HEAD_N_NUM, HEAD_N_TEXT },
  [JOB_SYSTEM] = { "system", system_fields, G_N_ELEMENTS (system_fields), SYSTEM_N_NUM, SYSTEM_N_TEXT },
  [JOB_AREA] = { "area", area_fields, G_N_ELEMENTS (area_fields), AREA_N_NUM, AREA_N_TEXT },
  [JOB_CELL] = { "cell", cell_fields, G_N_ELEMENTS (cell_fields), CELL_N_NUM, CELL_N_TEXT },
  [JOB_CHANGE] = { "change", change_fields, G_N_ELEMENTS (change_fields), CHANGE_N_NUM, CHANGE_N_TEXT },
  [JOB_RUN] = { "run", run_fields, G_N_ELEMENTS (run_fields), RUN_N_NUM, RUN_N_TEXT },
  [JOB_DRAWING] = { "drawing", drawing_fields, G_N_ELEMENTS (drawing_fields), DRAWING_N_NUM, DRAWING_N_TEXT },
  [JOB_SETTING] = { "setting", setting_fields, G_N_ELEMENTS (setting_fields), SETTING_N_NUM, SETTING_N_TEXT },
  [JOB_WHAT_IF] = { "what_if", what_if_fields, G_N_ELEMENTS (what_if_fields), WHAT_IF_N_NUM, WHAT_IF_N_TEXT },
  [JOB_STOCK] = { "stock", stock_fields, G_N_ELEMENTS (stock_fields), STOCK_N_NUM, STOCK_N_TEXT },
};

const JobTypeInfo *
job_type_info (JobType type)
{
  g_return_val_if_fail (type < JOB_N_TYPES, &types[0]);
  return &types[type];
}

int
job_field_find (JobType type, const char *key)
{
  const JobTypeInfo *info = job_type_info (type);
  g_autofree char *word = g_strstrip (g_ascii_strdown (key, -1));

  for (int i = 0; i < info->n_fields; i++)
    if (g_strcmp0 (info->field[i].key, word) == 0)
      return i;
  return -1;
}
