/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/stock.h"

#include "base/money.h"

#include <string.h>

void
job_stock_of (TallyJob *job, const char *item, gint64 *on_hand, gint64 *lead_days)
{
  *on_hand = 0;
  *lead_days = -1;
  for (guint i = 0; i < job_n (job, JOB_STOCK); i++)
    {
      const JobRecord *r = job_at (job, JOB_STOCK, i);
      if (!r->text[STOCK_ITEM] || g_ascii_strcasecmp (r->text[STOCK_ITEM], item) != 0)
        continue;
      if (r->num[STOCK_ON_HAND] != JOB_UNSET)
        *on_hand += MAX (r->num[STOCK_ON_HAND], 0);
      if (r->num[STOCK_LEAD_DAYS] != JOB_UNSET)
        *lead_days = MAX (*lead_days, r->num[STOCK_LEAD_DAYS]);
    }
}

/* Tooling is bought once, whole, where the method asks for it. */
static gint64
need_of (const CostBasis *basis, const gint64 *vector, int method, int item)
{
  const CostItem *info = catalogue_item (basis->catalogue, item);

  if (info->group == COST_ONCE)
    return method >= 0 && catalogue_method (basis->catalogue, method)->once_item == item ? 1000000 : 0;
  return MAX (vector[item], 0);
}

static void
note_lead (JobStock *stock, const JobStockLine *line)
{
  if (line->buy <= 0 || line->lead_days < 0)
    return;
  if (line->lead_days > stock->lead_days)
    {
      stock->lead_days = line->lead_days;
      stock->lead_item = line->item;
    }
  if (line->joint && line->lead_days > stock->joint_days)
    {
      stock->joint_days = line->lead_days;
      stock->joint_item = line->item;
    }
}

void
job_stock_init (JobStock *stock, TallyJob *job, const CostBasis *basis, const gint64 *vector, int method, int decimals)
{
  NumWide used = 0;

  *stock = (JobStock) { g_array_new (FALSE, TRUE, sizeof (JobStockLine)), 0, -1, -1, -1, -1 };
  for (int i = 0; i < basis->n_items; i++)
    {
      const CostItem *item = catalogue_item (basis->catalogue, i);
      JobStockLine line = { .item = i, .need = need_of (basis, vector, method, i) };
      gint64 on_hand;

      job_stock_of (job, item->key, &on_hand, &line.lead_days);
      line.on_hand = on_hand * 1000;
      if (line.need == 0 && line.on_hand == 0 && line.lead_days < 0)
        continue;
      line.used = MIN (line.need, line.on_hand);
      line.buy = line.need - line.used;
      line.joint = item->use == COST_USE_JOINT || item->use == COST_USE_BOLT || item->use == COST_USE_FASTENER
                   || item->group == COST_ONCE;
      line.value_used = money_round ((NumWide) line.used * basis->price[i], decimals);
      line.value_buy = money_round ((NumWide) line.buy * basis->price[i], decimals);
      used += (NumWide) line.used * basis->price[i];
      note_lead (stock, &line);
      g_array_append_val (stock->line, line);
    }
  stock->value_used = money_round (used, decimals);
}

void
job_stock_clear (JobStock *stock)
{
  g_clear_pointer (&stock->line, g_array_unref);
}

void
job_edit_stock (TallyJob *job, JobEdit *edit, const char *item, gint64 on_hand, gint64 lead_days)
{
  const JobRecord *present = NULL;
  gint64 lead = lead_days < 0 ? JOB_UNSET : lead_days, held = on_hand > 0 ? on_hand : JOB_UNSET, ord, step;
  JobRecord *after = NULL;
  gboolean wanted = on_hand > 0 || lead_days >= 0;

  for (guint i = 0; i < job_n (job, JOB_STOCK); i++)
    {
      const JobRecord *r = job_at (job, JOB_STOCK, i);
      if (!r->text[STOCK_ITEM] || g_ascii_strcasecmp (r->text[STOCK_ITEM], item) != 0)
        continue;
      /* One record says it all from now on. */
      if (present)
        job_edit_add (edit, job_record_ref ((JobRecord *) r), NULL);
      else
        present = r;
    }
  if (!present ? !wanted : wanted && present->num[STOCK_ON_HAND] == held && present->num[STOCK_LEAD_DAYS] == lead)
    return;
  if (wanted && present)
    after = job_record_copy (present);
  else if (wanted)
    {
      job_ord_before (job, JOB_STOCK, job_n (job, JOB_STOCK), 1, &ord, &step);
      after = job_record_new (JOB_STOCK, job_take_id (job, JOB_STOCK), ord);
      job_record_set_text (after, STOCK_ITEM, item);
    }
  if (after)
    {
      after->num[STOCK_ON_HAND] = held;
      after->num[STOCK_LEAD_DAYS] = lead;
    }
  job_edit_add (edit, present ? job_record_ref ((JobRecord *) present) : NULL, after);
}
