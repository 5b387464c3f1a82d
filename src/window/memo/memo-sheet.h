/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "exchange/memo.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The memo as it will print: a white page that is as wide as there is room, up to its true size half as large again. */
#define TALLY_TYPE_MEMO_SHEET (tally_memo_sheet_get_type ())
G_DECLARE_FINAL_TYPE (TallyMemoSheet, tally_memo_sheet, TALLY, MEMO_SHEET, GtkWidget)

GtkWidget *tally_memo_sheet_new (void);
/* @memo: (nullable), borrowed until the next call. */
void tally_memo_sheet_set (TallyMemoSheet *sheet, const Memo *memo, MemoPaper paper);

G_END_DECLS
