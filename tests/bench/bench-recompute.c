/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long totals take, each beside a yardstick measured in the same run: a bare loop over the same recipe lines and the same
 * methods that keeps no totals. The machine is noisy: ratios count, not seconds. */
#include "bench/bench.h"

#include <stdio.h>
#include <string.h>

typedef struct
{
  const CostBasis *basis;
  GArray *measures; /* DuctMeasure, row after row, by method */
  GArray *method;   /* int: the effective method of each */
  GArray *kind;     /* int */
} Bare;

/* What the loop runs over: every row's lots under every method, measured before the clock starts. */
static void
bare_prepare (Bare *bare, TallyJob *job)
{
  bare->basis = job_basis (job);
  bare->measures = g_array_new (FALSE, FALSE, sizeof (DuctMeasure));
  bare->method = g_array_new (FALSE, FALSE, sizeof (int));
  bare->kind = g_array_new (FALSE, FALSE, sizeof (int));
  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    for (int m = 0; m < bare->basis->n_methods; m++)
      {
        JobRunResult r;
        int kind;
        if (!job_compute (job, job_at (job, JOB_RUN, i), m, &r))
          g_error ("a run of the benchmark is not priced: %s", r.fault->what);
        kind = r.shape.kind;
        g_array_append_val (bare->measures, r.measure);
        g_array_append_val (bare->method, r.method);
        g_array_append_val (bare->kind, kind);
        job_run_result_clear (&r);
      }
}

static void
bare_clear (Bare *bare)
{
  g_array_unref (bare->measures);
  g_array_unref (bare->method);
  g_array_unref (bare->kind);
}

/* Integer quantities and exact price products over flat lines, nothing kept but one sum. */
static gint64
bare_loop (const Bare *bare)
{
  const CostBasis *b = bare->basis;
  gint64 money = 0;

  for (guint i = 0; i < bare->measures->len; i++)
    {
      const DuctMeasure *measure = &g_array_index (bare->measures, DuctMeasure, i);
      int index = g_array_index (bare->method, int, i) * DUCT_N_KINDS + g_array_index (bare->kind, int, i);
      const CostFast *fast = b->fast[LABOUR_LIKELY][index];
      guint n = b->lines[index]->len;
      for (int l = 0; l < measure->n_lots; l++)
        {
          const gint64 *one = measure->lot[l].one;
          gint64 sum = 0;
          for (guint k = 0; k < n; k++)
            {
              guint64 x = (guint64) (fast[k].a * one[fast[k].count] + fast[k].b * one[fast[k].length]
                                     + fast[k].c * one[fast[k].mass]);
              sum += (gint64) ((x + COST_DEN / 2) / COST_DEN) * (fast[k].slot < b->n_items ? b->price[fast[k].slot] : 1);
            }
          money += measure->lot[l].n * sum;
        }
    }
  return money;
}

static gint64 sink; /* keeps the loop from being thrown away */

static void
one_size (guint rows, gboolean distinct)
{
  g_autoptr (TallyJob) job = bench_job (rows, distinct);
  double loop, whole;
  Bare bare;

  bare_prepare (&bare, job);
  loop = bench_best (5, sink += bare_loop (&bare));
  whole = bench_best (5, job_recompute (job));
  printf ("recompute, all totals, 4 methods, %-13s %7u rows  %9.3f ms   bare loop %9.3f ms   ratio %5.2f\n",
          distinct ? "all distinct," : "few pieces,", rows, whole * 1e3, loop * 1e3, whole / loop);
  bare_clear (&bare);
}

/* One field of one run: out of the totals with the old value, in with the new one, all totals read again. */
static void
one_edit (TallyJob *job, guint i)
{
  JobScope all = { 0, 0 };
  JobTotals totals;

  job_edit_field (job, JOB_RUN, job_at (job, JOB_RUN, (i * 7919) % job_n (job, JOB_RUN))->id,
                  job_field_find (JOB_RUN, "size"), i % 2 ? "26x14" : "30x20", NULL, NULL);
  for (int m = JOB_OWN_METHOD; m < job_basis (job)->n_methods; m++)
    {
      job_totals (job, &all, m, &totals);
      g_autoptr (BuildUp) up = buildup_new (job_basis (job), &totals.sums, 2);
      sink += buildup_get (up, "price");
      job_totals_clear (&totals);
    }
}

static void
one_price (TallyJob *job, guint i)
{
  g_autofree char *value = g_strdup_printf ("0.9%u", i % 10);
  JobScope all = { 0, 0 };
  JobTotals totals;
  JobEdit *edit = job_edit_new ("price");
  JobRecord *before = job_n (job, JOB_CHANGE) ? job_record_ref (job_at (job, JOB_CHANGE, 0)) : NULL;
  JobRecord *after = before ? job_record_copy (before) : job_record_new (JOB_CHANGE, job_take_id (job, JOB_CHANGE), 1);

  job_record_set_text (after, CHANGE_OBJECT, "item");
  job_record_set_text (after, CHANGE_KEY, "galvanised sheet");
  job_record_set_text (after, CHANGE_FIELD, "price");
  job_record_set_text (after, CHANGE_VALUE, value);
  job_edit_add (edit, before, after);
  if (!job_apply (job, edit, NULL))
    g_error ("the price change was refused");
  for (int m = JOB_OWN_METHOD; m < job_basis (job)->n_methods; m++)
    {
      job_totals (job, &all, m, &totals);
      g_autoptr (BuildUp) up = buildup_new (job_basis (job), &totals.sums, 2);
      sink += buildup_get (up, "price");
      job_totals_clear (&totals);
    }
}

int
main (void)
{
  static const guint sizes[] = { 1000, 10000, 100000 };
  guint i = 0;
  double edit, price;

  for (gsize s = 0; s < G_N_ELEMENTS (sizes); s++)
    for (int distinct = 0; distinct < 2; distinct++)
      one_size (sizes[s], distinct);

  g_autoptr (TallyJob) job = bench_job (100000, TRUE);
  edit = bench_best (50, one_edit (job, i++));
  printf ("one edit, all totals and prices,          100000 rows  %9.3f ms   frame     %9.3f ms   ratio %5.3f\n", edit * 1e3, 16.0,
          edit / 0.016);
  price = bench_best (50, one_price (job, i++));
  printf ("one price change, all totals and prices,  100000 rows  %9.3f ms   frame     %9.3f ms   ratio %5.3f\n", price * 1e3, 16.0,
          price / 0.016);
  return sink == 1;
}
