/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "labour/study.h"

#include "labour/fit.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define MOST_PAIRS 1000000

static int
by_date (gconstpointer a, gconstpointer b)
{
  const LabourReading *x = *(LabourReading *const *) a, *y = *(LabourReading *const *) b;
  int dates = strcmp (x->date, y->date);

  return dates ? dates : (x->row > y->row) - (x->row < y->row);
}

static gboolean
kept (const LabourReading *r, const char *method, const char *timed)
{
  return !*r->struck && strcmp (r->method, method) == 0 && (!timed || strcmp (r->timed, timed) == 0);
}

static gboolean
has (const LabourStudy *study, const char *method, const char *timed)
{
  for (guint i = 0; i < study->readings->len; i++)
    if (kept (g_ptr_array_index (study->readings, i), method, timed))
      return TRUE;
  return FALSE;
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

GPtrArray *
labour_study_common (const LabourStudy *study, const char *first, const char *second)
{
  GPtrArray *out = g_ptr_array_new ();

  for (guint i = 0; strcmp (first, second) != 0 && i < study->readings->len; i++)
    {
      const LabourReading *r = g_ptr_array_index (study->readings, i);
      if (kept (r, first, NULL) && has (study, second, r->timed)
          && !g_ptr_array_find_with_equal_func (out, r->timed, g_str_equal, NULL))
        g_ptr_array_add (out, r->timed);
    }
  g_ptr_array_sort (out, by_name);
  return out;
}

/* The smallest n with n >= (t (n - 1) s / d)^2, what iterating on t comes to rest at. The right side falls as n grows, so that halving
 * finds it. */
static double
pairs_needed (double s, double d, double confidence)
{
  double ratio = s / d, below = 1, enough = MOST_PAIRS;

  if (isnan (ratio) || !(d > 0))
    return NAN;
  while (enough - below > 1)
    {
      double n = floor ((below + enough) / 2), root = labour_t ((1 + confidence) / 2, n - 1) * ratio;
      if (n >= root * root)
        enough = n;
      else
        below = n;
    }
  return enough;
}

static void
answer_pairs (const LabourStudy *study, LabourPairs *p)
{
  double n = p->pairs->len, sum = 0, squares = 0, half;

  p->mean = p->s = p->low = p->high = p->need = NAN;
  if (p->pairs->len == 0)
    return;
  for (guint i = 0; i < p->pairs->len; i++)
    sum += g_array_index (p->pairs, LabourPair, i).difference;
  p->mean = sum / n;
  if (p->pairs->len < 3)
    return;
  for (guint i = 0; i < p->pairs->len; i++)
    {
      double off = g_array_index (p->pairs, LabourPair, i).difference - p->mean;
      squares += off * off;
    }
  p->s = sqrt (squares / (n - 1));
  half = labour_t ((1 + study->confidence) / 2, n - 1) * p->s / sqrt (n);
  p->low = p->mean - half;
  p->high = p->mean + half;
  p->need = pairs_needed (p->s, study->half_width, study->confidence);
  p->more = isnan (p->need) || p->need <= n ? 0 : (guint) (p->need - n);
}

static LabourPairs *
pairs_new (const char *first, const char *second)
{
  LabourPairs *p = g_new0 (LabourPairs, 1);

  p->first = first;
  p->second = second;
  p->pairs = g_array_new (FALSE, TRUE, sizeof (LabourPair));
  return p;
}

LabourPairs *
labour_study_pairs_of (const LabourStudy *study, const char *first, const char *second, const char *timed)
{
  LabourPairs *p = pairs_new (first, second);
  g_autoptr (GPtrArray) sorted = g_ptr_array_new ();
  g_autofree gboolean *used = g_new0 (gboolean, study->readings->len + 1);
  double factor = labour_standard_time (1, study->allowance, study->basis);
  gboolean two = strcmp (first, second) != 0;

  p->timed = two && has (study, first, timed) && has (study, second, timed) ? g_strdup (timed) : NULL;
  p->elements = p->timed ? 1 : 0;
  for (guint i = 0; i < study->readings->len; i++)
    g_ptr_array_add (sorted, g_ptr_array_index (study->readings, i));
  g_ptr_array_sort (sorted, by_date);
  for (guint i = 0; p->timed && i < sorted->len; i++)
    {
      const LabourReading *a = g_ptr_array_index (sorted, i);
      if (!kept (a, first, timed))
        continue;
      for (guint k = 0; k < sorted->len; k++)
        {
          const LabourReading *b = g_ptr_array_index (sorted, k);
          if (used[k] || !kept (b, second, timed) || strcmp (a->size, b->size) != 0 || a->crew_size != b->crew_size)
            continue;
          double x = a->minutes * a->rating * factor, y = b->minutes * b->rating * factor;
          LabourPair pair = { a, b, x, y, x - y };
          g_array_append_val (p->pairs, pair);
          used[i] = used[k] = TRUE;
          break;
        }
    }
  for (guint i = 0; p->timed && i < sorted->len; i++)
    {
      const LabourReading *r = g_ptr_array_index (sorted, i);
      p->unpaired += !used[i] && (kept (r, first, timed) || kept (r, second, timed)) ? 1 : 0;
    }
  answer_pairs (study, p);
  return p;
}

/* The pair of an element that is the @nth of its size and crew; NULL: it has none. */
static const LabourPair *
nth_pair (const LabourPairs *p, const LabourReading *like, guint nth)
{
  for (guint i = 0; i < p->pairs->len; i++)
    {
      const LabourPair *pair = &g_array_index (p->pairs, LabourPair, i);
      if (strcmp (pair->first->size, like->size) == 0 && pair->first->crew_size == like->crew_size && nth-- == 0)
        return pair;
    }
  return NULL;
}

/* Joint by joint: the n-th pair of a size and crew is summed over the elements; one that an element lacks is left out whole, as a part of
 * a joint would look like a saving. */
static LabourPairs *
sum_of (const LabourStudy *study, GPtrArray *each)
{
  const LabourPairs *lead = g_ptr_array_index (each, 0);
  LabourPairs *p = pairs_new (lead->first, lead->second);
  g_autoptr (GString) names = g_string_new (NULL);
  guint readings = 0;

  for (guint e = 0; e < each->len; e++)
    {
      const LabourPairs *one = g_ptr_array_index (each, e);
      g_string_append_printf (names, "%s%s", e > 0 ? " + " : "", one->timed);
      readings += 2 * one->pairs->len + one->unpaired;
    }
  for (guint i = 0; i < lead->pairs->len; i++)
    {
      LabourPair sum = g_array_index (lead->pairs, LabourPair, i);
      gboolean whole = TRUE;
      guint nth = 0;
      while (nth_pair (lead, sum.first, nth) != &g_array_index (lead->pairs, LabourPair, i))
        nth++;
      for (guint e = 1; whole && e < each->len; e++)
        {
          const LabourPair *more = nth_pair (g_ptr_array_index (each, e), sum.first, nth);
          whole = more != NULL;
          sum.first_min += whole ? more->first_min : 0;
          sum.second_min += whole ? more->second_min : 0;
        }
      sum.difference = sum.first_min - sum.second_min;
      if (whole)
        g_array_append_val (p->pairs, sum);
    }
  p->timed = g_strdup (names->str);
  p->elements = each->len;
  p->unpaired = readings - 2 * each->len * p->pairs->len;
  answer_pairs (study, p);
  return p;
}

LabourPairs *
labour_study_pairs (const LabourStudy *study, const char *first, const char *second)
{
  g_autoptr (GPtrArray) common = labour_study_common (study, first, second);
  g_autoptr (GPtrArray) each = g_ptr_array_new_with_free_func ((GDestroyNotify) labour_pairs_free);

  if (common->len <= 1 || g_ptr_array_find_with_equal_func (common, LABOUR_WHOLE, g_str_equal, NULL))
    return labour_study_pairs_of (study, first, second, common->len == 1 ? g_ptr_array_index (common, 0) : LABOUR_WHOLE);
  for (guint i = 0; i < common->len; i++)
    g_ptr_array_add (each, labour_study_pairs_of (study, first, second, g_ptr_array_index (common, i)));
  return sum_of (study, each);
}

void
labour_pairs_free (LabourPairs *pairs)
{
  g_array_unref (pairs->pairs);
  g_free (pairs->timed);
  g_free (pairs);
}

/* ---- in one sentence ---- */

static const char *
a_unit (const LabourStudy *study, gboolean whole)
{
  return *study->unit ? study->unit : whole ? _ ("joint") : _ ("piece");
}

static void
say_more (GString *out, const LabourStudy *study, const LabourPairs *p)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  if (!(study->half_width > 0) || isnan (p->need))
    return;
  g_ascii_formatd (text, sizeof text, "%.3g", study->half_width);
  if (p->more == 0)
    g_string_append_printf (out, _ ("; that is within the %s min asked for"), text);
  else
    g_string_append_printf (out, ngettext ("; %u more pair would bring it within %s min",
                                           "; %u more pairs would bring it within %s min", p->more),
                            p->more, text);
}

char *
labour_pairs_sentence (const LabourStudy *study, const LabourPairs *p, const char *name_a, const char *name_b)
{
  gboolean second = p->mean >= 0, whole = strcmp (p->timed, LABOUR_WHOLE) == 0;
  const char *better = second ? name_b : name_a, *other = second ? name_a : name_b;
  double low = second ? p->low : -p->high, high = second ? p->high : -p->low;
  g_autoptr (GString) out = g_string_new (NULL);
  g_autofree char *mean = g_strdup_printf ("%.1f", fabs (p->mean));
  g_autofree char *of = whole ? g_strdup_printf (ngettext ("%u pair", "%u pairs", p->pairs->len), p->pairs->len)
                              : g_strdup_printf (ngettext ("%u pair of %s", "%u pairs of %s", p->pairs->len), p->pairs->len, p->timed);

  if (isnan (p->low))
    {
      g_string_printf (out, _ ("%s: %s worker-minutes a %s less than %s, from %s: too few for an interval, three are the least."),
                       better, mean, a_unit (study, whole), other, of);
      return g_string_free (g_steal_pointer (&out), FALSE);
    }
  g_autofree char *from = g_strdup_printf ("%.1f", low), *to = g_strdup_printf ("%.1f", high);
  if (low <= 0)
    g_string_printf (out, _ ("No clear difference: %s takes %s worker-minutes a %s less than %s (%s to %s), %s"), better, mean,
                     a_unit (study, whole), other, from, to, of);
  else
    g_string_printf (out, _ ("%s: saves %s worker-minutes a %s (%s to %s) against %s, %s"), better, mean, a_unit (study, whole), from, to,
                     other, of);
  say_more (out, study, p);
  g_string_append_c (out, '.');
  return g_string_free (g_steal_pointer (&out), FALSE);
}

/* One method, or two that do not pair. */
static char *
totals_sentence (const LabourResult *result, const char *name_a)
{
  const LabourTotal *t = &g_array_index (result->totals, LabourTotal, 0);
  const LabourStudy *study = result->study;
  g_autoptr (GString) out = g_string_new (NULL);

  for (guint i = 0; i < result->totals->len; i++)
    {
      const LabourTotal *one = &g_array_index (result->totals, LabourTotal, i);
      const char *name = i == 0 && name_a && *name_a ? name_a : one->method;
      if (i > 0)
        g_string_append (out, "; ");
      if (*name)
        g_string_append_printf (out, _ ("%s: standard time %.2f worker-minutes a %s"), name, one->standard, a_unit (study, one->whole));
      else
        g_string_append_printf (out, _ ("Standard time %.2f worker-minutes a %s"), one->standard, a_unit (study, one->whole));
    }
  if (result->totals->len > 1)
    g_string_append (out, _ ("; no two of their readings pair by size and crew, so the difference has no interval of its own"));
  else if (isnan (t->error))
    g_string_append (out, _ ("; an element has fewer than three readings: no deviation and no interval"));
  else
    {
      double half = labour_t (0.5 + study->confidence / 2, t->n - 1) * t->error;
      g_string_append_printf (out, _ (" (%.2f to %.2f)"), t->standard - half, t->standard + half);
    }
  g_string_append_c (out, '.');
  return g_string_free (g_steal_pointer (&out), FALSE);
}

char *
labour_study_sentence (const LabourStudy *study, const char *name_a, const char *name_b)
{
  g_autoptr (LabourResult) result = labour_study_result (study);

  if (study->readings->len == 0)
    return g_strdup (_ ("No reading yet: time whole joints, or enter what was written down on site."));
  if (result->totals->len == 0)
    return g_strdup (_ ("Every reading is struck: nothing is left to answer from."));
  if (result->totals->len == 2)
    {
      const char *a = g_array_index (result->totals, LabourTotal, 0).method,
                 *b = g_array_index (result->totals, LabourTotal, 1).method;
      g_autoptr (LabourPairs) pairs = labour_study_pairs (study, a, b);
      if (pairs->pairs->len > 0)
        return labour_pairs_sentence (study, pairs, name_a ? name_a : a, name_b ? name_b : b);
    }
  return totals_sentence (result, name_a);
}
