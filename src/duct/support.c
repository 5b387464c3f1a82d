/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/support.h"

#include "duct/measure-private.h"

int
duct_support_set (const DuctShape *shape, int set)
{
  return shape->supports > 0 ? shape->supports - 1 : set;
}

const DuctSupport *
duct_support_row (const DuctRules *rules, int set, const DuctShape *s)
{
  return duct_rules_support (rules, set, s->h == 0 ? DUCT_ROUND : DUCT_RECT, s->kind == DUCT_FLEXIBLE_DUCT,
                             duct_girth (s->w, s->h) / 2, MAX (s->w, s->h));
}

void
duct_support_load (const DuctRules *rules, const DuctShape *s, const DuctSheet *sheet, const DuctSupport *row,
                   DuctSupportLoad *load)
{
  const DuctHangerLoad *hanger = g_ptr_array_index (rules->hanger_loads, (guint) row->hanger);
  const DuctWrap *wrap = s->wrap >= 0 ? g_ptr_array_index (rules->wraps, (guint) s->wrap) : NULL;
  double mm2 = (double) duct_girth (s->w, s->h) / 1e6 * (double) row->spacing_nm / 1e6;

  load->metal_mg = duct_round (mm2 * sheet->mg_per_mm2);
  load->wrap_mg = wrap ? duct_round (mm2 * wrap->mg_per_mm2) : 0;
  load->each_mg = num_div (load->metal_mg + load->wrap_mg, 2);
  load->allowable_mg = hanger->load_mg;
  load->left_out = s->liner > 0 || (wrap && wrap->mg_per_mm2 <= 0);
}
