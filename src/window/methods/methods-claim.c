/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/methods/methods-claim.h"

#include "labour/study.h"

#include <glib/gi18n.h>
#include <math.h>

/* The study with the most pairs of the two. */
static void
find_trial (const MethodsData *data, int baseline, int method, MethodsClaim *out)
{
  const Catalogue *catalogue = data->basis->catalogue;
  const GPtrArray *studies = catalogue->labour->studies;

  for (guint i = 0; studies && i < studies->len; i++)
    {
      g_autoptr (LabourPairs) pairs = labour_study_pairs (g_ptr_array_index (studies, i), catalogue_method (catalogue, baseline)->key,
                                                          catalogue_method (catalogue, method)->key);
      if (!pairs || pairs->pairs->len <= out->pairs || !isfinite (pairs->mean))
        continue;
      out->studied = TRUE;
      out->pairs = pairs->pairs->len;
      out->trial = pairs->mean;
      out->trial_low = pairs->low;
      out->trial_high = pairs->high;
    }
}

gboolean
methods_claim (const MethodsData *data, int baseline, int method, MethodsClaim *out)
{
  const Catalogue *catalogue = data->basis->catalogue;
  int at = method >= 0 && method != baseline ? catalogue_claim_of_method (catalogue, method) : -1;

  *out = (MethodsClaim) { 0 };
  if (at < 0)
    return FALSE;
  out->claim = g_ptr_array_index (catalogue->claims, (guint) at);
  cost_claim_result (out->claim, &data->option[baseline], &data->option[method], &out->result);
  if (!out->result.applies)
    return FALSE;
  out->even = (CostEven) { .kind = COST_EVEN_STEP,
                           .target = METHODS_CLAIM,
                           .exists = isfinite (out->result.least) && out->result.least >= 0,
                           .now = out->result.own.minutes,
                           .even = out->result.least * out->result.steps_minutes,
                           .gain = out->result.own.gain,
                           .slope = out->result.slope };
  if (!out->even.exists)
    out->even.even = NAN;
  find_trial (data, baseline, method, out);
  return TRUE;
}

static char *
shares (const CostSaving *s)
{
  return g_strdup_printf (_ ("%.1f min saved a joint: %.0f %% of the steps named, %.0f %% of the joint, %.0f %% of the field"), s->minutes,
                          s->of_steps * 100, s->of_joint * 100, s->of_piece * 100);
}

char *
methods_claim_words (const MethodsData *data, const MethodsClaim *c)
{
  g_autofree char *own = shares (&c->result.own), *claimed = shares (&c->result.claimed);
  g_autofree char *gain_own = methods_number (c->result.own.gain, 0), *gain_claimed = methods_number (c->result.claimed.gain, 0);
  g_autofree char *pays = c->result.least <= 0  ? g_strdup (_ ("It pays without any saving."))
                          : c->result.least > 1 ? g_strdup (_ ("It does not pay even without the steps named."))
                                                : g_strdup_printf (_ ("It pays from %.0f %% of the steps named."), c->result.least * 100);

  return g_strdup_printf (_ ("Claim “%s” (%s): %s; a gain of %s %s. By the own minutes %s; a gain of %s. %s"), c->claim->key,
                          duct_status_key (c->claim->status), claimed, data->currency, gain_claimed, own, gain_own, pays);
}

char *
methods_claim_trial (const MethodsClaim *c)
{
  if (!c->studied)
    return NULL;
  if (!isfinite (c->trial_low))
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "own trial %.1f, %u pair", "own trial %.1f, %u pairs", c->pairs), c->trial, c->pairs);
  return g_strdup_printf (_ ("own trial %.1f (%.1f to %.1f), %u pairs"), c->trial, c->trial_low, c->trial_high, c->pairs);
}
