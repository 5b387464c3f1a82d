/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/kind.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define DIM(d) (1u << DUCT_DIM_##d)

/* key, name, dims, first, last, seam, hung, section, second, branches, bought */
static const DuctKindInfo kinds[DUCT_N_KINDS] = {
  [DUCT_STRAIGHT] = { "straight", N_ ("straight"), DIM (LENGTH), TRUE, TRUE, TRUE, TRUE, DUCT_RECT },
  [DUCT_RADIUS_ELBOW] = { "radius elbow", N_ ("radius elbow"), DIM (ANGLE) | DIM (THROAT), TRUE, TRUE, TRUE, TRUE, DUCT_RECT },
  [DUCT_MITRED_ELBOW] = { "mitred elbow", N_ ("mitred elbow"), DIM (ANGLE) | DIM (LEGS), TRUE, TRUE, TRUE, TRUE, DUCT_RECT },
  [DUCT_TRANSITION] = { "transition", N_ ("transition"), DIM (LENGTH) | DIM (W2) | DIM (H2) | DIM (SHIFT) | DIM (SHIFT2),
                        TRUE, TRUE, TRUE, TRUE, DUCT_RECT, DUCT_RECT },
  [DUCT_OFFSET] = { "offset", N_ ("offset"), DIM (LENGTH) | DIM (OFFSET), TRUE, TRUE, TRUE, TRUE, DUCT_RECT },
  [DUCT_TAP] = { "tap", N_ ("tap"), DIM (LENGTH), FALSE, TRUE, TRUE, FALSE, DUCT_RECT },
  [DUCT_END_CAP] = { "end cap", N_ ("end cap"), 0, TRUE, FALSE, FALSE, FALSE, DUCT_RECT },
  [DUCT_COUNTED] = { "counted", N_ ("counted"), DIM (LENGTH), FALSE, FALSE, FALSE, FALSE, DUCT_NO_SIZE },
  [DUCT_REMARK] = { "note", N_ ("note"), 0, FALSE, FALSE, FALSE, FALSE, DUCT_NO_SIZE },
  [DUCT_ANGLED_OFFSET] = { "angled offset", N_ ("angled offset"), DIM (LENGTH) | DIM (OFFSET), TRUE, TRUE, TRUE, TRUE,
                           DUCT_RECT },
  [DUCT_SQUARE_TO_ROUND] = { "square to round", N_ ("square to round"), DIM (LENGTH) | DIM (W2) | DIM (SHIFT) | DIM (SHIFT2),
                             TRUE, TRUE, TRUE, TRUE, DUCT_RECT, DUCT_ROUND },
  [DUCT_TEE] = { "tee", N_ ("tee"), DIM (LENGTH) | DIM (W2) | DIM (H2) | DIM (BRANCH), TRUE, TRUE, TRUE, TRUE, DUCT_RECT,
                 DUCT_RECT, 1 },
  [DUCT_WYE] = { "wye", N_ ("wye"), DIM (LENGTH) | DIM (W2) | DIM (H2) | DIM (ANGLE), TRUE, FALSE, TRUE, TRUE, DUCT_RECT,
                 DUCT_RECT, 2 },
  [DUCT_BOOT_TAP] = { "boot tap", N_ ("boot tap"), DIM (LENGTH) | DIM (OFFSET), FALSE, TRUE, TRUE, FALSE, DUCT_RECT },
  [DUCT_SPIN_IN] = { "spin-in", N_ ("spin-in"), DIM (LENGTH), FALSE, TRUE, TRUE, FALSE, DUCT_ROUND },
  [DUCT_PLENUM_BOX] = { "plenum box", N_ ("plenum box"), DIM (LENGTH), FALSE, FALSE, FALSE, TRUE, DUCT_RECT },
  [DUCT_ACCESS_DOOR] = { "access door", N_ ("access door"), 0, FALSE, FALSE, FALSE, FALSE, DUCT_RECT, DUCT_NO_SIZE, 0, TRUE },
  [DUCT_DAMPER] = { "damper", N_ ("damper"), DIM (LENGTH), TRUE, TRUE, FALSE, TRUE, DUCT_RECT_OR_ROUND, DUCT_NO_SIZE, 0, TRUE },
  [DUCT_TURNING_VANES] = { "turning vanes", N_ ("turning vanes"), DIM (ANGLE), FALSE, FALSE, FALSE, FALSE, DUCT_RECT },
  [DUCT_ROUND_DUCT] = { "round duct", N_ ("round duct"), DIM (LENGTH), TRUE, TRUE, TRUE, TRUE, DUCT_ROUND },
  [DUCT_GORED_ELBOW] = { "gored elbow", N_ ("gored elbow"), DIM (ANGLE) | DIM (THROAT) | DIM (GORES), TRUE, TRUE, TRUE, TRUE,
                         DUCT_ROUND },
  [DUCT_STAMPED_ELBOW] = { "stamped elbow", N_ ("stamped elbow"), DIM (ANGLE) | DIM (THROAT), TRUE, TRUE, FALSE, TRUE,
                           DUCT_ROUND, DUCT_NO_SIZE, 0, TRUE },
  [DUCT_REDUCER] = { "reducer", N_ ("reducer"), DIM (LENGTH) | DIM (W2) | DIM (SHIFT), TRUE, TRUE, TRUE, TRUE, DUCT_ROUND,
                     DUCT_ROUND },
  [DUCT_SADDLE_TAP] = { "saddle tap", N_ ("saddle tap"), DIM (LENGTH) | DIM (W2) | DIM (ANGLE), FALSE, TRUE, TRUE, FALSE,
                        DUCT_ROUND, DUCT_ROUND },
  [DUCT_ROUND_CAP] = { "round cap", N_ ("round cap"), 0, TRUE, FALSE, FALSE, FALSE, DUCT_ROUND },
  [DUCT_FLEXIBLE_DUCT] = { "flexible duct", N_ ("flexible duct"), DIM (LENGTH), TRUE, TRUE, FALSE, TRUE, DUCT_ROUND,
                           DUCT_NO_SIZE, 0, TRUE },
  [DUCT_FABRIC_CONNECTOR] = { "fabric connector", N_ ("fabric connector"), DIM (LENGTH), TRUE, TRUE, FALSE,
                              FALSE, DUCT_RECT_OR_ROUND, DUCT_NO_SIZE, 0, TRUE },
};

static const char *const end_keys[DUCT_N_ENDS] = { "joint", "equipment", "flexible connector", "sleeve", "open", "raw" };
static const char *const exposure_keys[DUCT_N_EXPOSURES] = { "indoors", "outdoors" };
static const char *const metal_keys[DUCT_N_METALS] = { "galvanised", "black steel", "stainless", "aluminium" };

int
duct_word_index (const char *text, const char *const *keys, gsize n)
{
  g_autofree char *word = g_strstrip (g_strdup (text));

  for (gsize i = 0; i < n; i++)
    if (g_ascii_strcasecmp (word, keys[i]) == 0 || g_utf8_collate (word, _ (keys[i])) == 0)
      return (int) i;
  return -1;
}

/* One parser for every closed list of words, so that each fault names the list. */
static gboolean
parse_word (const char *text, const char *const *keys, gsize n, int *out, Fault **fault)
{
  int i = duct_word_index (text, keys, n);

  if (i >= 0)
    {
      *out = i;
      return TRUE;
    }
  g_autoptr (GString) list = g_string_new (NULL);
  for (gsize k = 0; k < n; k++)
    g_string_append_printf (list, "%s%s", k ? ", " : "", keys[k]);
  g_autofree char *remedy = g_strdup_printf (_ ("write one of: %s"), list->str);
  return fault_set (fault, fault_new (0, remedy, _ ("“%s” is not known here"), text));
}

const DuctKindInfo *
duct_kind_info (DuctKind kind)
{
  g_return_val_if_fail (kind < DUCT_N_KINDS, &kinds[0]);
  return &kinds[kind];
}

gboolean
duct_kind_measured (DuctKind kind)
{
  return kind < DUCT_N_KINDS && kinds[kind].section != DUCT_NO_SIZE;
}

gboolean
duct_kind_parse (const char *text, DuctKind *kind, Fault **fault)
{
  const char *keys[DUCT_N_KINDS];
  int i = 0;

  for (int k = 0; k < DUCT_N_KINDS; k++)
    keys[k] = kinds[k].key;
  if (!parse_word (text, keys, DUCT_N_KINDS, &i, fault))
    return FALSE;
  *kind = (DuctKind) i;
  return TRUE;
}

const char *
duct_end_key (DuctEnd end)
{
  return end < DUCT_N_ENDS ? end_keys[end] : "";
}

gboolean
duct_end_parse (const char *text, DuctEnd *end, Fault **fault)
{
  int i = 0;

  if (!parse_word (text, end_keys, DUCT_N_ENDS, &i, fault))
    return FALSE;
  *end = (DuctEnd) i;
  return TRUE;
}

gboolean
duct_end_by_others (DuctEnd end)
{
  return end == DUCT_END_EQUIPMENT || end == DUCT_END_FLEXIBLE || end == DUCT_END_SLEEVE;
}

gboolean
duct_end_joint (DuctEnd end, gboolean first)
{
  return duct_end_by_others (end) || (first && end == DUCT_END_JOINT);
}

gboolean
duct_end_made (DuctEnd end)
{
  return end != DUCT_END_RAW;
}

const char *
duct_exposure_key (DuctExposure exposure)
{
  return exposure < DUCT_N_EXPOSURES ? exposure_keys[exposure] : "";
}

gboolean
duct_exposure_parse (const char *text, DuctExposure *exposure, Fault **fault)
{
  int i = 0;

  if (!parse_word (text, exposure_keys, DUCT_N_EXPOSURES, &i, fault))
    return FALSE;
  *exposure = (DuctExposure) i;
  return TRUE;
}

const char *
duct_metal_key (DuctMetal metal)
{
  return metal < DUCT_N_METALS ? metal_keys[metal] : "";
}

gboolean
duct_metal_parse (const char *text, DuctMetal *metal, Fault **fault)
{
  static const struct
  {
    const char *word;
    DuctMetal metal;
  } also[] = { { "galvanized", DUCT_GALVANISED }, { "galv", DUCT_GALVANISED }, { "aluminum", DUCT_ALUMINIUM },
               { "black", DUCT_BLACK }, { "stainless steel", DUCT_STAINLESS } };
  g_autofree char *word = g_strstrip (g_ascii_strdown (text, -1));
  int i = 0;

  for (gsize k = 0; k < G_N_ELEMENTS (also); k++)
    if (strcmp (word, also[k].word) == 0)
      {
        *metal = also[k].metal;
        return TRUE;
      }
  if (!parse_word (text, metal_keys, DUCT_N_METALS, &i, fault))
    return FALSE;
  *metal = (DuctMetal) i;
  return TRUE;
}
