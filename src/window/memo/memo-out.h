/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "exchange/memo.h"
#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Asks for a file and writes the memo there; the outcome is said by the session. @memo is a place within @owner,
 * looked at again when the file is chosen: NULL there writes nothing. */
void tally_memo_save (TallySession *session, GtkWidget *owner, const Memo *const *memo, MemoPaper paper);
/* The print dialog of the system. */
void tally_memo_print (TallySession *session, GtkWidget *owner, const Memo *const *memo, MemoPaper paper);

G_END_DECLS
