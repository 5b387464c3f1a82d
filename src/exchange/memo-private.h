/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the files of the memo share; nobody else includes this. */

#include "exchange/memo.h"
#include "job/compare.h"

G_BEGIN_DECLS

#define MEMO_MOST_NAME 60 /* characters of a name; more is cut */
#define MEMO_FEW 3        /* lines of a list */

/* While a memo is made; all borrowed. */
typedef struct
{
  TallyJob *job;
  const MemoAsk *ask;
  const JobComparison *comparison; /* baseline, method */
  const JobRisk *risk;             /* (nullable) */
  const RiskResult *result;        /* (nullable) */
  const char *currency;
  int choice;                      /* 0: the baseline, 1: the method */
  Memo *memo;
} MemoMaker;

/* Whole units of the currency with thousands commas; @sign: a plus too. */
char *memo_money (double amount, gboolean sign);
char *memo_figure (double value, int decimals, gboolean sign);
/* A name of at most MEMO_MOST_NAME characters. */
char *memo_name (const char *name);
MemoSection *memo_add_section (Memo *memo, const char *heading);
/* Takes @line; NULL and "" add nothing. */
void memo_add_line (MemoSection *section, char *line);

/* memo-lists.c: the sections beneath the figures. */
void memo_add_lists (const MemoMaker *m);
/* "field rate, USD an hour". */
char *memo_even_name (const MemoMaker *m, const CostEven *even);
char *memo_even_words (const CostEven *even);
int memo_even_decimals (const CostEven *even);

G_END_DECLS
