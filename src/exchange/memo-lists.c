/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sections of the memo beneath its figures: where it turns, what would change it, what to order, what it rests on, cautions. */
#include "config.h"

#include "exchange/memo-private.h"

#include "cost/claim.h"
#include "job/figures-note.h"
#include "job/in-force.h"
#include "job/labour-model.h"
#include "job/sensitivity.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* ---- where it turns ---- */

char *
memo_even_name (const MemoMaker *m, const CostEven *even)
{
  const Catalogue *catalogue = job_basis (m->job)->catalogue;

  switch (even->kind)
    {
    case COST_EVEN_FIELD_RATE:
      return g_strdup_printf (_ ("field rate, %s an hour"), m->currency);
    case COST_EVEN_ITEM:
      return g_strdup_printf (_ ("price of %s, %s a unit (%s)"), catalogue_item (catalogue, even->target)->key, m->currency,
                              catalogue_item (catalogue, even->target)->unit);
    case COST_EVEN_STEP:
      return g_strdup_printf (_ ("minutes of “%s”, times today's"), catalogue_step (catalogue, even->target)->key);
    case COST_EVEN_TOOLING:
      return g_strdup_printf (_ ("tooling, %s once"), m->currency);
    case COST_EVEN_JOINTS:
    default:
      return g_strdup (_ ("joints like these"));
    }
}

int
memo_even_decimals (const CostEven *even)
{
  return even->kind == COST_EVEN_JOINTS || even->kind == COST_EVEN_TOOLING ? 0 : 2;
}

char *
memo_even_words (const CostEven *even)
{
  g_autofree char *at = memo_figure (even->even, memo_even_decimals (even), FALSE);

  return g_strdup_printf (even->slope > 0 ? _ ("pays above %s") : _ ("pays below %s"), at);
}

/* What somebody says that the method saves, beside what its own minutes say and what it must save at least. */
static void
add_claim (const MemoMaker *m, MemoSection *section)
{
  const Catalogue *catalogue = job_basis (m->job)->catalogue;
  const JobWayFigures *a = job_comparison_way (m->comparison, 0), *b = job_comparison_way (m->comparison, 1);
  int at = catalogue_claim_of_method (catalogue, b->method);
  const CostClaim *claim = at >= 0 ? g_ptr_array_index (catalogue->claims, (guint) at) : NULL;
  CostClaimResult r;

  if (!claim)
    return;
  cost_claim_result (claim, &a->option, &b->option, &r);
  if (!r.applies || !isfinite (r.least))
    return;
  g_autofree char *key = memo_name (claim->key), *said = memo_figure (r.claimed.of_steps * 100, 0, FALSE);
  g_autofree char *own = memo_figure (r.own.of_steps * 100, 0, FALSE), *least = memo_figure (r.least * 100, 0, FALSE);
  g_autofree char *joint = memo_figure (r.claimed.of_joint * 100, 0, FALSE);
  memo_add_line (section, g_strdup_printf (_ ("claim “%s” (%s): %s %% of the steps it names, %s %% of the joint; by our own minutes %s %% of those "
                                              "steps; it pays from %s %%"),
                                           key, _ (duct_status_key (claim->status)), said, joint, own, least));
}

static void
add_turns (const MemoMaker *m)
{
  const JobWayFigures *a = job_comparison_way (m->comparison, 0), *b = job_comparison_way (m->comparison, 1);
  g_autoptr (GArray) evens = cost_break_evens (job_basis (m->job), &a->option, &b->option);
  g_autofree char *heading = g_strdup_printf (_ ("Where it turns: each figure alone, until “%s” no longer pays"), m->memo->name[1]);
  MemoSection *section = memo_add_section (m->memo, m->memo->gain > 0 ? heading : _ ("Where it turns: each figure alone, all others as they are"));
  int seen[COST_EVEN_JOINTS + 1] = { 0 };

  for (guint i = 0; i < evens->len; i++)
    {
      const CostEven *e = &g_array_index (evens, CostEven, i);
      int most = e->kind == COST_EVEN_ITEM || e->kind == COST_EVEN_STEP ? 2 : 1;
      if (!e->exists || (e->kind == COST_EVEN_TOOLING && e->now == 0) || seen[e->kind]++ >= most)
        continue;
      g_autofree char *name = memo_even_name (m, e), *now = memo_figure (e->now, memo_even_decimals (e), FALSE), *words = memo_even_words (e);
      memo_add_line (section, g_strdup_printf (_ ("%s: %s today; %s"), name, now, words));
    }
  add_claim (m, section);
  if (section->line->len == 0)
    memo_add_line (section, g_strdup (_ ("No price, rate or minute moved alone changes which of the two is cheaper.")));
}

/* ---- what would change it ---- */

static void
add_drives (const MemoMaker *m)
{
  g_autoptr (GPtrArray) drives = job_sensitivity (m->comparison, 0, 1);
  MemoSection *section = memo_add_section (m->memo, _ ("What would change the answer: the widest swings, one figure at a time"));

  for (guint i = 0; i < MIN (drives->len, MEMO_FEW); i++)
    {
      const JobDrive *d = g_ptr_array_index (drives, i);
      g_autofree char *low = memo_money (d->swing.gain_low, FALSE), *high = memo_money (d->swing.gain_high, FALSE);
      g_autofree char *turn = d->swing.turns ? memo_figure (d->swing.even, 2, FALSE) : NULL;
      if (turn)
        memo_add_line (section, g_strdup_printf (_ ("%s, %s: gain from %s to %s; turns at %s %s"), d->name, d->range, low, high, turn, d->unit));
      else
        memo_add_line (section, g_strdup_printf (_ ("%s, %s: gain from %s to %s; turns nowhere"), d->name, d->range, low, high));
    }
}

/* ---- what to order ---- */

static int
by_value (gconstpointer x, gconstpointer y)
{
  const JobStockLine *a = *(JobStockLine *const *) x, *b = *(JobStockLine *const *) y;

  return a->value_buy > b->value_buy ? -1 : a->value_buy < b->value_buy ? 1 : a->item - b->item;
}

static void
add_lead (const MemoMaker *m, MemoSection *section, const JobStock *stock, guint silent)
{
  const Catalogue *catalogue = job_basis (m->job)->catalogue;

  if (stock->lead_days >= 0 && stock->lead_item >= 0)
    memo_add_line (section, g_strdup_printf (_ ("Longest lead time written down: %" G_GINT64_FORMAT " calendar days, %s."), stock->lead_days,
                                             catalogue_item (catalogue, stock->lead_item)->key));
  if (silent > 0)
    memo_add_line (section, g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "No lead time is written down for %u of these: ask before the crew is promised.",
                                                          "No lead time is written down for %u of these: ask before the crew is promised.", silent),
                                             silent));
}

static void
add_orders (const MemoMaker *m)
{
  const Catalogue *catalogue = job_basis (m->job)->catalogue;
  const JobWayFigures *w = job_comparison_way (m->comparison, (guint) m->choice);
  g_autofree char *heading = g_strdup_printf (_ ("What to order for the joints of “%s”"), m->memo->name[m->choice]);
  MemoSection *section = memo_add_section (m->memo, heading);
  g_autoptr (GPtrArray) lines = g_ptr_array_new ();
  g_autoptr (GString) words = g_string_new (NULL);
  guint silent = 0;

  for (guint i = 0; i < w->stock.line->len; i++)
    {
      JobStockLine *line = &g_array_index (w->stock.line, JobStockLine, i);
      /* Tooling has a line of its own. */
      if (line->joint && line->buy > 0 && catalogue_item (catalogue, line->item)->group != COST_ONCE)
        g_ptr_array_add (lines, line);
    }
  g_ptr_array_sort (lines, by_value);
  for (guint i = 0; i < lines->len; i++)
    {
      const JobStockLine *line = g_ptr_array_index (lines, i);
      const CostItem *item = catalogue_item (catalogue, line->item);
      /* A millionth is the last digit of a quantity: what is above a whole only by its rounding is none more. */
      g_autofree char *need = memo_figure (ceil ((double) line->buy / 1e6 - 1e-5), 0, FALSE);
      silent += line->lead_days < 0;
      if (strcmp (item->unit, "each") == 0)
        g_string_append_printf (words, "%s%s × %s", i ? "; " : "", need, item->key);
      else
        g_string_append_printf (words, "%s%s %s %s", i ? "; " : "", need, item->unit, item->key);
    }
  if (lines->len > 0)
    memo_add_line (section, g_strdup_printf (_ ("%s. Overage is in it; packs are not known: round up to the supplier's."), words->str));
  else
    memo_add_line (section, g_strdup (_ ("Nothing beyond what is on hand.")));
  if (w->option.once > 0)
    {
      g_autofree char *once = memo_money ((double) w->option.once / pow (10, m->comparison->decimals), FALSE);
      int item = w->method >= 0 ? catalogue_method (catalogue, w->method)->once_item : -1;
      memo_add_line (section, g_strdup_printf (_ ("Tooling, once: %s, %s %s."), item >= 0 ? catalogue_item (catalogue, item)->key : _ ("tooling"),
                                               m->currency, once));
    }
  add_lead (m, section, &w->stock, silent);
}

/* ---- what it rests on ---- */

#define MOST_CHOICES 5

/* Words that begin a line. (transfer full) */
static char *
sentence (const char *words)
{
  char head[7] = { 0 };

  g_unichar_to_utf8 (g_unichar_toupper (g_utf8_get_char (words)), head);
  return g_strdup_printf ("%s%s.", head, *words ? g_utf8_next_char (words) : "");
}

static void
add_rests (const MemoMaker *m)
{
  const JobWayFigures *w = job_comparison_way (m->comparison, (guint) m->choice);
  MemoSection *section = memo_add_section (m->memo, _ ("What it rests on"));
  g_autoptr (GPtrArray) labour = job_in_force (m->job), cautions = job_labour_cautions (m->job);
  g_autoptr (GString) choices = g_string_new (NULL);
  g_autofree char *figures = NULL;
  JobFiguresNote note;

  job_figures_count (m->job, w->totals.vector, &note);
  figures = job_figures_words (&note);
  memo_add_line (section, g_strdup_printf (note.weak > 0 ? _ ("“%s”: %s. No bid should rest on the invented and remembered ones: replace them first.")
                                                         : _ ("“%s”: %s."),
                                           m->memo->name[m->choice], figures));
  if (w->totals.not_priced > 0)
    memo_add_line (section, g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%" G_GINT64_FORMAT " run is not priced and in none of these figures.",
                                                          "%" G_GINT64_FORMAT " runs are not priced and in none of these figures.",
                                                          (gulong) w->totals.not_priced),
                                             w->totals.not_priced));
  g_string_append (choices, _ ("Choices: build-up lines rounded half away from zero (L8)."));
  /* A page has room for some; a word for each area would fill it. */
  for (guint i = 0; i < MIN (labour->len, MOST_CHOICES); i++)
    g_string_append_printf (choices, " %s", (const char *) g_ptr_array_index (labour, i));
  if (labour->len > MOST_CHOICES)
    g_string_append_printf (choices, g_dngettext (GETTEXT_PACKAGE, " And %u choice more of the labour of this job.",
                                                  " And %u choices more of the labour of this job.", labour->len - MOST_CHOICES),
                            labour->len - MOST_CHOICES);
  if (m->memo->sure)
    {
      g_auto (GStrv) said = job_risk_choices (m->risk);
      /* What is in force stands above. */
      for (char **c = said; *c; c++)
        if (!g_ptr_array_find_with_equal_func (labour, *c, g_str_equal, NULL))
          g_string_append_printf (choices, " %s", *c);
    }
  memo_add_line (section, g_strdup (choices->str));
  for (guint i = 0; i < MIN (cautions->len, 2); i++)
    memo_add_line (section, sentence (g_ptr_array_index (cautions, i)));
}

static void
add_cautions (const MemoMaker *m)
{
  MemoSection *section = memo_add_section (m->memo, _ ("Cautions"));

  memo_add_line (section, g_strdup (_ ("Lifting: pieces raised together and raised weights are planned and signed for by whoever answers for the lift.")));
  memo_add_line (section, g_strdup (_ ("Gauges, reinforcement and joint spacing follow the rule set named in the job; the specification, the local code "
                                       "and the engineer of record govern and may ask for more.")));
  memo_add_line (section, g_strdup (_ ("Working at height: the minutes assume safe access; rules of the place and licensed practice come first.")));
}

void
memo_add_lists (const MemoMaker *m)
{
  add_turns (m);
  add_drives (m);
  add_orders (m);
  add_rests (m);
  add_cautions (m);
}
