/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/csv.h"
#include "base/fault.h"
#include "labour/labour.h"

G_BEGIN_DECLS

/* Worker-hours are whole thousandths: 7.5 is 7500. One entry holds no more than this, a gang of a hundred for a hundred hours. */
#define HOURS_MOST 10000000

/* Codes (an area and a step group) that one job may book on. More are not kept apart on a site: common practice. */
#define HOURS_MOST_CODES 12

/* One line of a time sheet. */
typedef struct
{
  gint64 id;         /* in the office file; 0 when it is not there yet */
  gint64 day;        /* Julian day of GDate */
  gint64 area;       /* id of an area of the job, 0: the whole job */
  LabourGroup group;
  gint64 worker_mh;  /* thousandths of a worker-hour */
  char *note;        /* never NULL */
  gint64 batch;      /* entries read from one file share a number; 0: typed */
} HoursEntry;

HoursEntry *hours_entry_new (gint64 day, gint64 area, LabourGroup group, gint64 worker_mh, const char *note);
HoursEntry *hours_entry_copy (const HoursEntry *entry);
void hours_entry_free (HoursEntry *entry);
gboolean hours_entry_equal (const HoursEntry *a, const HoursEntry *b);
/* An array that owns its entries. */
GPtrArray *hours_list_new (void);

/* An entry before and after an edit: before NULL = added, after NULL = deleted. */
typedef struct
{
  HoursEntry *before, *after;
} HoursDelta;

/* A change of the time sheet that happens whole or not at all. */
typedef struct
{
  char *label;       /* translated */
  GArray *deltas;    /* HoursDelta */
} HoursEdit;

HoursEdit *hours_edit_new (const char *label);
void hours_edit_free (HoursEdit *edit);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (HoursEdit, hours_edit_free)
/* Takes both; either may be NULL, not both. */
void hours_edit_add (HoursEdit *edit, HoursEntry *before, HoursEntry *after);
/* The edit that takes @edit back, once it has been kept. (transfer full) */
HoursEdit *hours_edit_inverse (const HoursEdit *edit);
/* What @edit makes of @entries. (transfer full) */
GPtrArray *hours_edit_preview (const HoursEdit *edit, const GPtrArray *entries);

/* What hours are booked on. */
typedef struct
{
  gint64 area;
  LabourGroup group;
} HoursCode;

/* The codes that entries use, by area (the whole job first) and group. (transfer full): GArray of HoursCode. */
GArray *hours_codes (const GPtrArray *entries);
/* Index, -1. */
int hours_find_code (const GArray *codes, gint64 area, LabourGroup group);
/* Sum over the entries of a code in days from @first to @last, both included, thousandths; area or group -1: any. */
gint64 hours_sum (const GPtrArray *entries, gint64 area, int group, gint64 first, gint64 last);

/* Days as ISO 8601 writes them, "2030-01-31"; between 1990 and 2199. */
gboolean hours_day_parse (const char *text, gint64 *day, Fault **fault);
char *hours_day_print (gint64 day);
gboolean hours_day_ok (gint64 day);
/* The Monday of its week. */
gint64 hours_monday (gint64 day);

/* "7.5", "7:30" (hours and minutes), "" and "0" give 0. */
gboolean hours_parse (const char *text, gint64 *worker_mh, Fault **fault);
/* As typed again: "7.5"; "" for 0. */
char *hours_print (gint64 worker_mh);

/* A step group by its key or the start of it, whatever its case: "hang", "seal and test". */
gboolean hours_group_parse (const char *text, LabourGroup *group, Fault **fault);
/* For the user, translated. */
const char *hours_group_name (LabourGroup group);

/* Reads a time sheet: headings date, area, group, hours, note (area and note may be left out; "step group", "worker-hours" and
 * "day" are understood too). @find_area: the id of an area by its name, 0 when there is none. @batch: number given to the entries.
 * @before: (nullable): entries that are there already, for the limit of codes. Lines that cannot be used are left out and named in
 * @faults (CsvFault *). (transfer full): the entries of all other lines; NULL when a heading is missing. */
GPtrArray *hours_read_csv (const CsvTable *table, gint64 (*find_area) (gpointer data, const char *name), gpointer data,
                           gint64 batch, const GPtrArray *before, GPtrArray *faults);

G_END_DECLS
