/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "duct/measure.h"

G_BEGIN_DECLS

/* The rule set whose supports a shape takes: the one it names, else @set. */
int duct_support_set (const DuctShape *shape, int set);
/* The row of supports that answers for a resolved shape in @set; NULL when the set lists none, or none for this size. */
const DuctSupport *duct_support_row (const DuctRules *rules, int set, const DuctShape *shape);

/* What hangs on one support, in mg: a spacing's length of bare metal, with the wrap where its weight is known. Joints,
 * stiffening, liner and anything else hung on the duct are not in it, and never a person. */
typedef struct
{
  gint64 metal_mg, wrap_mg;
  gint64 each_mg;      /* on one of the two straps or rods */
  gint64 allowable_mg; /* on one of them, 0 not known */
  gboolean left_out;   /* a liner or wrap is there whose weight is not known */
} DuctSupportLoad;

/* @row: of the shape, with its spacing and hanger. */
void duct_support_load (const DuctRules *rules, const DuctShape *shape, const DuctSheet *sheet, const DuctSupport *row,
                        DuctSupportLoad *load);

G_END_DECLS
