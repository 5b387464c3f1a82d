/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* What the window remembers between starts, in a key file of the user's configuration folder: sizes, columns, recent jobs.
 * Nothing that a price depends on. Written at once; a file that cannot be written is no error. */
char *settings_get (const char *group, const char *key); /* (nullable) (transfer full) */
void settings_set (const char *group, const char *key, const char *value); /* NULL removes */
int settings_get_int (const char *group, const char *key, int otherwise);
void settings_set_int (const char *group, const char *key, int value);

G_END_DECLS
