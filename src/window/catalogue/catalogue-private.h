/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/catalogue-diff.h"
#include "window/catalogue/catalogue-window.h"
#include "window/grid/grid-model.h"
#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* ---- the draft: a copy of every table that can be edited, with undo. No widgets. ---- */

#define TALLY_TYPE_DRAFT (tally_draft_get_type ())
G_DECLARE_FINAL_TYPE (TallyDraft, tally_draft, TALLY, DRAFT, GObject)
/* Signal "changed" (): a table changed; faults and changes are up to date. */

/* Starts from the tables of @base. */
TallyDraft *draft_new (Catalogue *base);
CsvTable *const *draft_tables (TallyDraft *draft);
Catalogue *draft_base (TallyDraft *draft);
/* Puts @table (taken) in the place of a sheet, as one step of undo. */
void draft_replace (TallyDraft *draft, CatalogueSheet sheet, CsvTable *table);
gboolean draft_undo (TallyDraft *draft);
gboolean draft_redo (TallyDraft *draft);
/* Back to the base, as one step of undo. */
void draft_discard (TallyDraft *draft);
/* Begins anew on @base; no undo. draft_begin(): with the tables of @table (borrowed) where they are not NULL. */
void draft_reset (TallyDraft *draft, Catalogue *base);
void draft_begin (TallyDraft *draft, Catalogue *base, CsvTable *const *table);
/* Whether a sheet is another one than that of the base, and be it in the order of its rows. */
gboolean draft_differs (TallyDraft *draft, CatalogueSheet sheet);
/* What is wrong (CsvFault *) and what differs from the base (CatalogueChange *); borrowed, until the next change. */
const GPtrArray *draft_faults (TallyDraft *draft);
const GPtrArray *draft_changes (TallyDraft *draft);
/* Faults of one sheet, and the first of one cell (borrowed, NULL); column -1: of the row. */
guint draft_n_faults (TallyDraft *draft, CatalogueSheet sheet);
const CsvFault *draft_fault_at (TallyDraft *draft, CatalogueSheet sheet, guint row, int column);
const CatalogueChange *draft_change_at (TallyDraft *draft, CatalogueSheet sheet, guint row, int column);
guint draft_n_changes (TallyDraft *draft, CatalogueSheet sheet);
/* The draft as a catalogue, NULL while there are faults. (transfer full) */
Catalogue *draft_compile (TallyDraft *draft);

/* ---- the draft in the office file ---- */

/* The draft of the session's office, which is kept there after every change. NULL with @error. (transfer full) */
TallyDraft *catalogue_draft_open (TallySession *session, GError **error);
/* The revision that it was begun on, and whether another one was accepted since. */
gint64 catalogue_draft_revision (TallyDraft *draft);
gboolean catalogue_draft_is_stale (TallyDraft *draft, TallySession *session, gint64 *newest);
/* Takes all changes back: a step of undo, or, of a stale draft, for good and onto the newest revision. */
void catalogue_draft_discard (TallyDraft *draft, TallySession *session);
/* Makes a revision of it and begins a new draft there. 0 with @error: all is as it was. */
gint64 catalogue_draft_accept (TallyDraft *draft, TallySession *session, const char *reason, GError **error);

/* ---- one sheet of it in a grid ---- */

#define TALLY_TYPE_CATALOGUE_SHEET (tally_catalogue_sheet_get_type ())
G_DECLARE_FINAL_TYPE (TallyCatalogueSheet, tally_catalogue_sheet, TALLY, CATALOGUE_SHEET, GObject)

TallyCatalogueSheet *catalogue_sheet_new (TallyDraft *draft);
void catalogue_sheet_show (TallyCatalogueSheet *sheet, CatalogueSheet which);
/* Only rows that hold @text in any cell, case aside; "" all. */
void catalogue_sheet_search (TallyCatalogueSheet *sheet, const char *text);
/* Rows of a sheet that hold the words searched for. */
guint catalogue_sheet_count (TallyCatalogueSheet *sheet, CatalogueSheet which);
/* Source and status of a row of the grid, in words. (transfer full) */
char *catalogue_sheet_rests (TallyCatalogueSheet *sheet, guint row);
/* Retires or restores rows of the grid, as one step of undo; rows that are new in the draft just go. */
void catalogue_sheet_retire (TallyCatalogueSheet *sheet, const guint *rows, gsize n, gboolean retired);
gboolean catalogue_sheet_is_retired (TallyCatalogueSheet *sheet, guint row);
/* Row of the grid where a row of the table stands, -1 when the search hides it. */
int catalogue_sheet_find_row (TallyCatalogueSheet *sheet, guint table_row);

/* ---- what a draft does to the open job ---- */

typedef struct
{
  gint64 price, cost, not_priced;
  double shop_hours, field_hours;
} CatalogueFigures;

/* Figures of the open job as it is (@catalogue NULL) or as it would be. FALSE with words (transfer full). */
gboolean catalogue_effect (TallySession *session, Catalogue *catalogue, CatalogueFigures *figures, char **words);
/* The same in one sentence, or why there is none. (transfer full) */
char *catalogue_effect_words (TallySession *session, TallyDraft *draft);

/* ---- revisions ---- */

/* List of what differs between two accepted revisions, or a revision and the draft. (transfer floating) */
GtkWidget *catalogue_revisions_new (TallySession *session, TallyDraft *draft);

/* ---- what a sheet is, and two rule sets as pictures ---- */

/* One line of words about a sheet; at those of the rule sets a button that compares two. @session and @draft must outlive it.
 * (transfer floating) */
GtkWidget *catalogue_explain_new (TallySession *session, TallyDraft *draft);
void catalogue_explain_show (GtkWidget *explain, CatalogueSheet sheet);
/* Which gauge goes where by two sets of the draft, one above the other. */
void catalogue_maps_present (TallySession *session, TallyDraft *draft, GtkWindow *parent);

G_END_DECLS
