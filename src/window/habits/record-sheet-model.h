/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/grid/grid-model.h"
#include "window/session.h"

G_BEGIN_DECLS

/* All records of one type of the open job as a table: a column a field, an edit an edit of the job. For the short tables, systems,
 * areas and cells; follows the session. */
#define TALLY_TYPE_RECORD_SHEET (tally_record_sheet_get_type ())
G_DECLARE_FINAL_TYPE (TallyRecordSheet, tally_record_sheet, TALLY, RECORD_SHEET, GObject)

TallyRecordSheet *record_sheet_new (TallySession *session, JobType type);
/* Adds one row that holds @fields as typed (texts by field, NULL where none; n_fields). FALSE: refused, the session said why. */
gboolean record_sheet_add (TallyRecordSheet *sheet, const char *const *texts);

G_END_DECLS
