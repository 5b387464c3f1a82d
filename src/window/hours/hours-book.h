/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "track/standing.h"
#include "window/session.h"

G_BEGIN_DECLS

/* The time sheet and the ticks of the open job, as the views Hours and Closeout share them. Reads when it is asked, and again when
 * the job is another. Signal "changed" (): anything here may be another. */
#define TALLY_TYPE_HOURS_BOOK (tally_hours_book_get_type ())
G_DECLARE_FINAL_TYPE (TallyHoursBook, tally_hours_book, TALLY, HOURS_BOOK, GObject)

/* The one of a session; goes with it. (transfer none) */
TallyHoursBook *hours_book_of (TallySession *session);

/* FALSE: there is no job, or it cannot be read (hours_book_trouble()); the lists are empty then. */
gboolean hours_book_ready (TallyHoursBook *book);
const char *hours_book_trouble (TallyHoursBook *book); /* (nullable) */
const GPtrArray *hours_book_entries (TallyHoursBook *book);
const GArray *hours_book_ticks (TallyHoursBook *book);
DoneTable *hours_book_done (TallyHoursBook *book); /* (transfer none) */
Standing *hours_book_standing (TallyHoursBook *book); /* (transfer none), up to date */

/* Keeps an edit (takes it) in the office file. FALSE: nothing happened, and why was said. An edit that changes nothing is none. */
gboolean hours_book_apply (TallyHoursBook *book, HoursEdit *edit);
/* Sets ticks, as one step of undo. */
gboolean hours_book_tick (TallyHoursBook *book, const DoneTick *tick, gsize n, const char *label);
/* Takes back the last edit of hours or ticks made here since the job was opened. */
void hours_book_undo (TallyHoursBook *book);
const char *hours_book_undo_label (TallyHoursBook *book); /* (nullable) */

/* Id of an area by its name, whatever its case; 0 when there is none. For hours_read_csv(): @book is a gpointer. */
gint64 hours_book_find_area (gpointer book, const char *name);
/* "Level 1"; "whole job" for 0; "area 7, deleted". */
char *hours_book_area_name (TallyHoursBook *book, gint64 area);

G_END_DECLS
