/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/leakage.h"

#include "base/measure.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define EXPONENT 0.65
#define L_S_PER_CFM 0.47194745 /* 0.3048^3 m3 / 60 s */
#define M2_PER_100_FT2 9.290304

double
duct_leakage_flow (double cl, double in_wg)
{
  return cl * pow (fabs (in_wg), EXPONENT);
}

double
duct_leakage_k (double cl)
{
  return cl * L_S_PER_CFM / M2_PER_100_FT2 / pow (MEASURE_MPA_PER_INWG / 1e3, EXPONENT);
}

double
duct_leakage_flow_si (double cl, double pa)
{
  return duct_leakage_k (cl) * pow (fabs (pa), EXPONENT);
}

double
duct_leakage_allowed (double cl, double in_wg, gint64 mm2)
{
  return duct_leakage_flow (cl, in_wg) * measure_ft2 (mm2) / 100;
}

static const DuctEuroClass euro_classes[DUCT_N_EURO_CLASSES] = {
  { "A", 0.027, DUCT_FROM_MEMORY },
  { "B", 0.009, DUCT_FROM_MEMORY },
  { "C", 0.003, DUCT_FROM_MEMORY },
  { "D", 0.001, DUCT_FROM_MEMORY },
};

const DuctEuroClass *
duct_euro_class (int i)
{
  g_return_val_if_fail (i >= 0 && i < DUCT_N_EURO_CLASSES, &euro_classes[0]);
  return &euro_classes[i];
}

double
duct_euro_cl (const DuctEuroClass *euro)
{
  return euro->k / duct_leakage_k (1);
}

static double
cl_of (const DuctLeakage *row, DuctSection section)
{
  return section == DUCT_ROUND ? row->round_cl : row->rect_cl;
}

static gboolean
is_none (const char *seal)
{
  return g_ascii_strcasecmp (seal, "none") == 0;
}

/* Highest class that the rows of a seal class answer for, 0 when there is no row. */
static gint64
reach (const DuctRules *rules, const char *edition, const char *seal)
{
  gint64 most = 0;

  for (guint i = 0; i < rules->leakage->len; i++)
    {
      const DuctLeakage *row = g_ptr_array_index (rules->leakage, i);
      if (strcmp (row->edition, edition) == 0 && g_ascii_strcasecmp (row->seal, seal) == 0)
        most = MAX (most, row->class_to);
    }
  return most;
}

/* The row that answers a pressure: among rows of unsealed duct only when it is unsealed, else among those of the classes. */
static int
row_of_pressure (const DuctRules *rules, const char *edition, gboolean none, gint64 pressure, DuctSection section)
{
  int best = -1;

  for (guint i = 0; i < rules->leakage->len; i++)
    {
      const DuctLeakage *row = g_ptr_array_index (rules->leakage, i);
      if (strcmp (row->edition, edition) != 0 || is_none (row->seal) != none || row->class_to < pressure
          || cl_of (row, section) < 0)
        continue;
      if (best < 0 || row->class_to < ((DuctLeakage *) g_ptr_array_index (rules->leakage, (guint) best))->class_to)
        best = (int) i;
    }
  return best;
}

int
duct_leakage_row (const DuctRules *rules, const char *edition, const char *seal, gint64 pressure, DuctSection section,
                  Fault **fault)
{
  const char *first = rules->leakage->len > 0 ? ((DuctLeakage *) g_ptr_array_index (rules->leakage, 0))->edition : "";
  const char *wanted = edition && *edition ? edition : first;
  gint64 own = reach (rules, wanted, seal);
  int row = row_of_pressure (rules, wanted, is_none (seal), ABS (pressure), section);
  g_autofree char *class_text = NULL;
  g_autofree char *words = NULL;

  if (row >= 0 && own >= ((DuctLeakage *) g_ptr_array_index (rules->leakage, (guint) row))->class_to)
    return row;
  if (!fault)
    return -1;
  class_text = pressure_print (ABS (pressure), FALSE);
  if (!duct_rules_has_edition (rules, wanted))
    {
      fault_set (fault, fault_new (-1, _ ("enter an edition of the catalogue in the job, or clear it"),
                                   _ ("there is no edition “%s” of seal and leakage classes"), wanted));
      return -1;
    }
  if (own == 0)
    words = g_strdup_printf (_ ("the leakage table has no row for seal class %s of “%s”"), seal, wanted);
  else if (row >= 0)
    words =
        g_strdup_printf (_ ("seal class %s is too loose for class %s in w.g. in “%s”, which asks for %s"), seal,
                         class_text, wanted, ((DuctLeakage *) g_ptr_array_index (rules->leakage, (guint) row))->seal);
  else
    words = g_strdup_printf (_ ("the leakage table of “%s” has no row for %s duct of class %s in w.g., seal class %s"),
                             wanted, section == DUCT_ROUND ? _ ("round") : _ ("rectangular"), class_text, seal);
  fault_set (fault, fault_new (-1, _ ("enter the row, another seal class, or another edition"), "%s", words));
  return -1;
}
