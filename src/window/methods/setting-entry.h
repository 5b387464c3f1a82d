/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A caption, an entry for one setting of the job (job/setting.h: number, date or text) and, below it, what is wrong with what was
 * typed. It is taken over by Enter or when the focus leaves, as one edit that can be undone; empty means the default, which the entry
 * shows dimmed. Follows the session. @key: static. (transfer floating) */
GtkWidget *tally_setting_entry_new (TallySession *session, const char *key);

G_END_DECLS
