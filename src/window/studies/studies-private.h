/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "labour/study.h"
#include "window/catalogue/catalogue-private.h"
#include "window/studies/studies-window.h"

G_BEGIN_DECLS

/* ---- studies in the draft; no widgets (studies-draft.c) ---- */

/* What a reading is entered with; texts as typed. */
typedef struct
{
  const char *date, *observer, *crew_size, *size, *lb, *timed, *method, *count, *clock_min, *rating, *struck, *note;
} StudiesEntry;

/* Studies as the draft has them; faulty readings are left out. GPtrArray of LabourStudy *. (transfer full) */
GPtrArray *studies_of_draft (TallyDraft *draft);
/* Row of a study in its sheet, -1. */
int studies_find_row (TallyDraft *draft, const char *key);
/* A new study with the usual choices; its name, made one of its own. (transfer full) */
char *studies_add (TallyDraft *draft, const char *name);
/* One cell of a study's row. */
void studies_set (TallyDraft *draft, const char *key, const char *heading, const char *text);
/* Adds a reading of the study as the last row; gives the row. */
guint studies_add_reading (TallyDraft *draft, const char *key, const StudiesEntry *entry);
/* A column that an office of an older program does not have yet. */
void studies_need_column (CsvTable *table, const char *heading);
/* Takes a row of the observations out again, as undo of a lap does. */
void studies_remove_reading (TallyDraft *draft, guint row);
/* Strikes readings (rows of the observations) for @reason, or restores them ("" ). */
void studies_strike (TallyDraft *draft, const guint *rows, gsize n, const char *reason);
/* Adds the readings of a CSV file in the columns of the sheet (what is missing stays empty, "timed" is a whole joint, crew and count
 * are 1) or none: FALSE with @faults. @n: how many. */
gboolean studies_add_csv (TallyDraft *draft, const char *key, const CsvTable *file, guint *n, GPtrArray *faults);
/* Today, YYYY-MM-DD. (transfer full) */
char *studies_today (void);

/* ---- readings of one study in a grid (studies-model.c) ---- */

#define TALLY_TYPE_READINGS (tally_readings_get_type ())
G_DECLARE_FINAL_TYPE (TallyReadings, tally_readings, TALLY, READINGS, GObject)

TallyReadings *readings_new (TallyDraft *draft);
void readings_show (TallyReadings *readings, const char *key);
/* Row of the observations behind a row of the grid, G_MAXUINT none. */
guint readings_table_row (TallyReadings *readings, guint row);

/* ---- pages (studies-results.c, studies-size.c) ---- */

/* Results with their choices; fill it whenever the study changed. @key: (nullable). (transfer floating) */
GtkWidget *studies_results_new (TallySession *session, TallyDraft *draft);
void studies_results_show (GtkWidget *page, const char *key);
/* Fit over the girth with its picture. */
GtkWidget *studies_size_new (TallySession *session, TallyDraft *draft);
void studies_size_show (GtkWidget *page, const char *key);

/* A dropdown of the steps that are not retired, @wanted chosen. (transfer floating); fill again with studies_steps_fill(). */
GtkWidget *studies_steps_new (void);
void studies_steps_fill (GtkWidget *dropdown, TallyDraft *draft, const char *wanted);
/* (nullable), borrowed until it is filled again. */
const char *studies_steps_chosen (GtkWidget *dropdown);
/* Name of a method as one says it, its key where the catalogue has none. Borrowed. */
const char *studies_method_name (TallyDraft *draft, const char *key);
/* The chosen study with its names in one sentence. (transfer full) */
char *studies_sentence (TallyDraft *draft, const LabourStudy *study);

/* ---- stop-watch and sheet ---- */

/* A window of its own; readings go into the draft lap by lap. */
void studies_timing_present (TallySession *session, TallyDraft *draft, const char *key, GtkWindow *parent);
/* Prints a sheet with blank rows for the study. */
void studies_print (TallyDraft *draft, const char *key, GtkWindow *parent, TallySession *session);
/* The same on a page of @width x @height points. */
void studies_sheet_draw (cairo_t *cr, double width, double height, const char *key, const GPtrArray *elements);

G_END_DECLS
