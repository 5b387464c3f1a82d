/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

/* Called now and then with 0 to 1; FALSE cancels (G_IO_ERROR_CANCELLED, nothing is left behind). */
typedef gboolean (*WorkbookProgress) (double share, gpointer data);

/* Writes the bid of a job as a workbook: Price, Build-up, Runs, Materials, Minutes, Methods, Sources and cautions. Written
 * beside @path and renamed only when whole; an existing file is replaced. The same job gives the same bytes.
 * @methods: indices compared on the Methods sheet; @baseline: one of them. */
gboolean workbook_write (TallyJob *job, const int *methods, gsize n_methods, int baseline, const char *path,
                         WorkbookProgress progress, gpointer data, GError **error);

G_END_DECLS
