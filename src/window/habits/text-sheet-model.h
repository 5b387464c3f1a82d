/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/grid/grid-model.h"

G_BEGIN_DECLS

/* A table of texts to read: previews, lists of faults, comparisons. One column can be a yes or no that the user sets. */
#define TALLY_TYPE_TEXT_SHEET (tally_text_sheet_get_type ())
G_DECLARE_FINAL_TYPE (TallyTextSheet, tally_text_sheet, TALLY, TEXT_SHEET, GObject)
/* Signal: "toggled" (): a yes or no was changed. */

/* Headings are copied. */
TallyTextSheet *text_sheet_new (const char *const *titles, guint n);
void text_sheet_set_titles (TallyTextSheet *sheet, const char *const *titles, guint n);
void text_sheet_clear (TallyTextSheet *sheet);
/* Adds a row of as many cells as there are headings (copied). @faulty: a column to mark, -1 none; @message: (nullable): what is to
 * say about the row. Call text_sheet_done() behind the last. */
void text_sheet_add (TallyTextSheet *sheet, const char *const *cells, int faulty, const char *message);
void text_sheet_done (TallyTextSheet *sheet);
/* Width of a column in characters; 0: by its heading. */
void text_sheet_set_width (TallyTextSheet *sheet, guint column, guint chars);
/* Makes a column yes or no. */
void text_sheet_set_choice (TallyTextSheet *sheet, int column);
gboolean text_sheet_chosen (TallyTextSheet *sheet, guint row);
void text_sheet_choose (TallyTextSheet *sheet, guint first, guint last, gboolean yes);

G_END_DECLS
