/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/catalogue-diff.h"
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
/* Back to the base; no undo. */
void draft_reset (TallyDraft *draft, Catalogue *base);
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

/* "Items", translated. */
const char *catalogue_sheet_title (CatalogueSheet sheet);

/* ---- one sheet of it in a grid ---- */

#define TALLY_TYPE_CATALOGUE_SHEET (tally_catalogue_sheet_get_type ())
G_DECLARE_FINAL_TYPE (TallyCatalogueSheet, tally_catalogue_sheet, TALLY, CATALOGUE_SHEET, GObject)

TallyCatalogueSheet *catalogue_sheet_new (TallyDraft *draft);
void catalogue_sheet_show (TallyCatalogueSheet *sheet, CatalogueSheet which);
/* Only rows that hold @text in any cell, case aside; "" all. */
void catalogue_sheet_search (TallyCatalogueSheet *sheet, const char *text);
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

/* ---- revisions ---- */

/* List of what differs between two accepted revisions, or a revision and the draft. (transfer floating) */
GtkWidget *catalogue_revisions_new (TallySession *session, TallyDraft *draft);

G_END_DECLS
