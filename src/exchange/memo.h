/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chart/bars.h"
#include "chart/line.h"
#include "job/risk.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/* The decision memo: on one page which of two ways of connecting the duct to take, what it saves and how sure that is, where it turns,
 * what to order, what would change the answer, and what it all rests on. One content, printed as text, as a PDF and on the screen, so
 * that all say the same. */

typedef struct
{
  const char *baseline;  /* key; NULL: the job's method, else the first */
  const char *method;    /* key of the one held against it; NULL: the cheapest of the others, tooling included */
  const char *date;      /* "2026-11-25": of the memo, and inside the PDF */
  gint64 revision;       /* of the office's catalogue; 0: not kept in an office, the starter catalogue */
} MemoAsk;

/* One figure of both ways and their difference, in words. */
typedef struct
{
  char *cell[4];         /* name, baseline, method, method less baseline ("" where that says nothing) */
} MemoRow;

typedef struct
{
  char *heading;
  GPtrArray *line;       /* char * */
} MemoSection;

typedef struct
{
  char *title, *question, *answer;
  char *name[2];         /* baseline, method */
  GPtrArray *row;        /* MemoRow * */
  GPtrArray *section;    /* MemoSection * */
  char *foot, *date;
  /* Pictures: cost with its interval of every method, and where the gain turns. */
  ChartBars bars;
  ChartLine line;
  gboolean has_line;
  char *bars_title, *line_title;
  /* The figures that the words are made of. */
  int method[2];
  double gain;           /* of the method over the baseline, tooling included, as printed; below zero: the baseline is the choice */
  gboolean sure;         /* a risk was given: @risk is filled */
  JobRiskGain risk;
  gsize trials;
  guint64 seed;
  GPtrArray *keep;       /* what the pictures borrow */
} Memo;

/* The methods that the memo of @ask is about: FALSE with a fault for a key that is not there, or where there is but one method. */
gboolean memo_methods (TallyJob *job, const MemoAsk *ask, int *baseline, int *method, Fault **fault);
/* The problem whose run the memo tells of: the baseline, the method, then the other methods that are listed. Costs two job_recompute();
 * run it with job_risk_run(), in a thread if you like. */
JobRisk *memo_risk (TallyJob *job, const MemoAsk *ask, Fault **fault);
/* The memo. @risk, @result: (nullable), of memo_risk() with the same @ask; without them it says that the chance was not computed. NULL
 * with a fault. */
Memo *memo_new (TallyJob *job, const MemoAsk *ask, const JobRisk *risk, const RiskResult *result, Fault **fault);
void memo_free (Memo *memo);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Memo, memo_free)

/* As text of at most 80 columns. (transfer full) */
char *memo_text (const Memo *memo);

typedef enum
{
  MEMO_A4,
  MEMO_LETTER,
} MemoPaper;

/* The paper of the user's locale (North America: letter). */
MemoPaper memo_paper (void);
/* Points. */
void memo_page_size (MemoPaper paper, double *width, double *height);
/* The largest letters, in points, with which the memo fits on one page; @bottom: (out) (optional): where it then ends. */
double memo_fit (const Memo *memo, MemoPaper paper, double *bottom);
/* Draws the page, its corner at 0, 0, in points, on white. */
void memo_paint (const Memo *memo, MemoPaper paper, cairo_t *cr);
/* The files appear whole or not at all; the same memo gives the same bytes. */
gboolean memo_write_pdf (const Memo *memo, MemoPaper paper, const char *path, GError **error);
gboolean memo_write_text (const Memo *memo, const char *path, GError **error);

G_END_DECLS
