/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/basis.h"

G_BEGIN_DECLS

/* Puts changes of figures over those of the catalogue in a basis that is not compiled yet, one after the other, and keeps a copy of each
 * in basis->changes. FALSE with a fault that names the figure and what it may be: an unknown name, a figure out of bounds, or low minutes
 * above the likely ones, or high ones below, once all changes are in. */
gboolean cost_basis_change (CostBasis *basis, const GPtrArray *changes, Fault **fault);

G_END_DECLS
