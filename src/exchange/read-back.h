/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Whether a finished workbook is whole: as many sheets as @n with as many rows as written, every other part well-formed XML,
 * every check sum right. FALSE with G_IO_ERROR_NO_SPACE. */
gboolean workbook_check_rows (const char *path, const guint64 *rows, gsize n, GError **error);

G_END_DECLS
