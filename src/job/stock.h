/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

/* Stock on hand is used first; what a way needs beyond it is bought, and takes the lead time that is written down for the item. */
typedef struct
{
  int item;
  gint64 need, on_hand, used, buy; /* millionths of the item's unit; used = min (need, on hand), buy = need - used */
  gint64 value_used;               /* minor units: what is used at today's price, before tax */
  gint64 value_buy;                /* minor units, before tax */
  gint64 lead_days;                /* calendar days from the order, -1 not written down */
  gboolean joint;                  /* the item closes joints: none can start without it */
} JobStockLine;

typedef struct
{
  GArray *line;        /* JobStockLine: items that are needed or on hand, in the order of the catalogue */
  gint64 value_used;   /* minor units, before tax: cash to spend is lower by it; the cost is not, stock is not free */
  gint64 lead_days;    /* longest of what is to buy, -1 where none is written down */
  int lead_item;       /* that item, -1 */
  gint64 joint_days;   /* the same of what closes joints: they can start that many days after the order */
  int joint_item;
} JobStock;

/* What @vector (quantities of a whole scope, as in JobTotals) needs, and the tooling of @method (-1: none), which may be on hand
 * too. Prices by @basis. Clear with job_stock_clear(). */
void job_stock_init (JobStock *stock, TallyJob *job, const CostBasis *basis, const gint64 *vector, int method, int decimals);
void job_stock_clear (JobStock *stock);

/* Adds to @edit what says how much of an item is on hand and how long an order takes; @on_hand in thousandths, @lead_days -1: not
 * known. Nothing on hand and no lead time takes the record out. Adds nothing where it says so already. */
void job_edit_stock (TallyJob *job, JobEdit *edit, const char *item, gint64 on_hand, gint64 lead_days);
/* What the job says of an item; 0 and -1 where it says nothing. */
void job_stock_of (TallyJob *job, const char *item, gint64 *on_hand, gint64 *lead_days);

G_END_DECLS
