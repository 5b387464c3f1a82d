/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/mix-private.h"

guint
mix_bits (guint n)
{
  guint bits = 1;

  while ((1u << bits) < n)
    bits++;
  return bits;
}

/* Neighbours of every group, with the boundary. */
typedef struct
{
  guint group;
  const CostMixBoundary *boundary;
} Neighbour;

static GArray **
neighbours (const CostMix *mix)
{
  GArray **out = g_new0 (GArray *, MAX (mix->n_groups, 1));

  for (guint i = 0; i < mix->boundary->len; i++)
    {
      const CostMixBoundary *b = &g_array_index (mix->boundary, CostMixBoundary, i);
      Neighbour to_b = { b->b, b }, to_a = { b->a, b };
      if (!out[b->a])
        out[b->a] = g_array_new (FALSE, FALSE, sizeof (Neighbour));
      if (!out[b->b])
        out[b->b] = g_array_new (FALSE, FALSE, sizeof (Neighbour));
      g_array_append_val (out[b->a], to_b);
      g_array_append_val (out[b->b], to_a);
    }
  return out;
}

/* Puts one group at the next position: arcs to those before, a slot if neighbours are still to come, slots of those that are done
 * given back. @left: neighbours not placed yet, by group. */
static gboolean
place (MixOrder *o, GArray **near, guint *left, gboolean *placed, guint at, guint group)
{
  guint64 open = at > 0 ? o->open[at - 1] : 0, freed = 0;

  o->group[at] = group;
  placed[group] = TRUE;
  for (guint i = 0; near[group] && i < near[group]->len; i++)
    {
      const Neighbour *n = &g_array_index (near[group], Neighbour, i);
      left[n->group]--;
      if (!placed[n->group])
        continue;
      MixArc arc = { o->slot[n->group], n->group, n->boundary, n->boundary->a == n->group };
      if (!o->arcs[group])
        o->arcs[group] = g_array_new (FALSE, FALSE, sizeof (MixArc));
      g_array_append_val (o->arcs[group], arc);
      if (left[n->group] == 0)
        freed |= G_GUINT64_CONSTANT (1) << o->slot[n->group];
    }
  if (left[group] > 0)
    {
      guint slot = 0;
      while (slot < 64 && (open >> slot & 1))
        slot++;
      if (slot == 64)
        return FALSE;
      o->slot[group] = slot;
      o->n_slots = MAX (o->n_slots, slot + 1);
      open |= G_GUINT64_CONSTANT (1) << slot;
    }
  o->open[at] = open & ~freed;
  o->freed[at] = freed;
  return TRUE;
}

/* Of the groups beside those placed, the one with the fewest neighbours to come; else any group of the fewest. */
static guint
next_group (const MixOrder *o, GArray **near, const guint *left, const gboolean *placed, GArray *beside)
{
  guint best = G_MAXUINT;

  for (guint i = 0; i < beside->len;)
    {
      guint g = g_array_index (beside, guint, i);
      if (placed[g])
        {
          g_array_remove_index_fast (beside, i);
          continue;
        }
      if (best == G_MAXUINT || left[g] < left[best] || (left[g] == left[best] && g < best))
        best = g;
      i++;
    }
  for (guint g = 0; best == G_MAXUINT && g < o->n; g++)
    if (!placed[g] && near[g] && near[g]->len == 1)
      best = g;
  for (guint g = 0; best == G_MAXUINT && g < o->n; g++)
    if (!placed[g])
      best = g;
  return best;
}

MixOrder *
mix_order_new (const CostMix *mix)
{
  MixOrder *o = g_new0 (MixOrder, 1);
  GArray **near = neighbours (mix);
  g_autofree guint *left = g_new0 (guint, MAX (mix->n_groups, 1));
  g_autofree gboolean *placed = g_new0 (gboolean, MAX (mix->n_groups, 1));
  g_autoptr (GArray) beside = g_array_new (FALSE, FALSE, sizeof (guint));
  guint at = 0;
  gboolean fits = TRUE;

  o->n = mix->n_groups;
  o->group = g_new0 (guint, MAX (o->n, 1));
  o->slot = g_new (guint, MAX (o->n, 1));
  o->arcs = g_new0 (GArray *, MAX (o->n, 1));
  o->open = g_new0 (guint64, MAX (o->n, 1));
  o->freed = g_new0 (guint64, MAX (o->n, 1));
  for (guint g = 0; g < o->n; g++)
    {
      o->slot[g] = G_MAXUINT;
      left[g] = near[g] ? near[g]->len : 0;
      if (left[g] == 0)
        fits = fits && place (o, near, left, placed, at++, g);
    }
  o->n_alone = at;
  while (fits && at < o->n)
    {
      guint g = next_group (o, near, left, placed, beside);
      fits = place (o, near, left, placed, at++, g);
      for (guint i = 0; i < near[g]->len; i++)
        g_array_append_val (beside, g_array_index (near[g], Neighbour, i).group);
    }
  for (guint g = 0; g < o->n; g++)
    if (near[g])
      g_array_unref (near[g]);
  g_free (near);
  if (!fits)
    g_clear_pointer (&o, mix_order_free);
  return o;
}

void
mix_order_free (MixOrder *o)
{
  for (guint g = 0; g < o->n; g++)
    if (o->arcs[g])
      g_array_unref (o->arcs[g]);
  g_free (o->arcs);
  g_free (o->group);
  g_free (o->slot);
  g_free (o->open);
  g_free (o->freed);
  g_free (o);
}
