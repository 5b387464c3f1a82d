/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/fault.h"
#include "base/length.h"

#include <glib-object.h>

G_BEGIN_DECLS

/* What a job is made of. Every type is a table in an office file, a heading list in a CSV file and a set of columns on the
 * screen, all described by one list of fields: a new column is one descriptor here. */
typedef enum
{
  JOB_HEAD,
  JOB_SYSTEM,
  JOB_AREA,
  JOB_CELL,   /* system x area: overrides there */
  JOB_CHANGE, /* a figure of the catalogue changed for this job */
  JOB_RUN,
  JOB_DRAWING, /* what was counted from it, and in which issue */
  JOB_SETTING, /* a choice that belongs to the job: how conditions join, spreads, limits of a mix; see setting.h */
  JOB_WHAT_IF, /* a figure changed in a named what-if; see what-if.h */
  JOB_STOCK,   /* an item on hand before anything is ordered, and how long an order takes */
  JOB_N_TYPES,
} JobType;

/* How a field's text is read and printed. */
typedef enum
{
  JOB_AS_TEXT,
  JOB_AS_SIZE,      /* two numbers: w, h in nm */
  JOB_AS_LENGTH_IN, /* nm; a bare number is inches (mm in a metric job) */
  JOB_AS_LENGTH_FT, /* nm; a bare number is feet (m in a metric job) */
  JOB_AS_COUNT,     /* thousandths */
  JOB_AS_WHOLE,
  JOB_AS_DECIMALS,  /* of a currency: 0 to 4 */
  JOB_AS_ANGLE,     /* microdegrees */
  JOB_AS_CLASS,     /* thousandths of an inch w.g. */
  JOB_AS_KIND,
  JOB_AS_END,
  JOB_AS_EXPOSURE,
  JOB_AS_METAL,
  JOB_AS_YES_NO,
  JOB_AS_PRICE,     /* ten-thousandths of the currency */
  JOB_AS_MINUTES,   /* millionths of a worker-minute */
  JOB_AS_FACTOR,    /* ppm, entered as 1.10 */
  JOB_AS_UNITS,     /* "inch-pound" 0, "metric" 1 */
  JOB_AS_SIGN,      /* "+" 0, "-" 1 */
  JOB_AS_SYSTEM,    /* id of a system, entered by its name */
  JOB_AS_AREA,
} JobAs;

typedef struct
{
  const char *key;   /* heading of a CSV file and name of the column in an office file */
  const char *title; /* N_(): heading on a screen */
  JobAs as;
  int slot;          /* into num (JOB_AS_SIZE: slot and slot + 1) or, for JOB_AS_TEXT, into text */
} JobField;

typedef struct
{
  const char *table;
  const JobField *field;
  int n_fields, n_num, n_text;
} JobTypeInfo;

const JobTypeInfo *job_type_info (JobType type);
/* Index of a field by key, -1. Case and surrounding blanks are ignored. */
int job_field_find (JobType type, const char *key);

enum { HEAD_UNITS, HEAD_DECIMALS, HEAD_CLASS, HEAD_METAL, HEAD_EXPOSURE, HEAD_COIL, HEAD_CLEAR,
       HEAD_THROUGH, HEAD_N_NUM };
enum { HEAD_NAME, HEAD_CLIENT, HEAD_PLACE, HEAD_ENGINEER, HEAD_RULE_SET, HEAD_METHOD, HEAD_CURRENCY, HEAD_CONDITION,
       HEAD_NOTE, HEAD_PREFER, HEAD_EDITION, HEAD_SUPPORTS, HEAD_N_TEXT };
enum { SYSTEM_SIGN, SYSTEM_CLASS, SYSTEM_METAL, SYSTEM_EXPOSURE, SYSTEM_COIL, SYSTEM_LINER, SYSTEM_FAST,
       SYSTEM_TESTED, SYSTEM_N_NUM };
enum { SYSTEM_KEY, SYSTEM_NAME, SYSTEM_DUTY, SYSTEM_SEAL, SYSTEM_RULE_SET, SYSTEM_METHOD, SYSTEM_CONDITION, SYSTEM_WRAP,
       SYSTEM_SUPPORTS, SYSTEM_N_TEXT };
enum { AREA_HEIGHT, AREA_DROP, AREA_FACTOR, AREA_TIMES, AREA_FLOOR_SHARE, AREA_RAISED, AREA_REMADE, AREA_N_NUM };
enum { AREA_KEY, AREA_CONDITION, AREA_N_TEXT };
enum { CELL_SYSTEM, CELL_AREA, CELL_CLASS, CELL_METAL, CELL_EXPOSURE, CELL_COIL, CELL_LINER, CELL_N_NUM };
enum { CELL_METHOD, CELL_WRAP, CELL_N_TEXT };
enum { CHANGE_N_NUM };
enum { CHANGE_OBJECT, CHANGE_KEY, CHANGE_FIELD, CHANGE_VALUE, CHANGE_N_TEXT };
enum { DRAWING_ISSUE, DRAWING_DONE, DRAWING_N_NUM };
enum { DRAWING_KEY, DRAWING_NOTE, DRAWING_N_TEXT };
enum { SETTING_N_NUM };
enum { SETTING_KEY, SETTING_VALUE, SETTING_N_TEXT };
enum { WHAT_IF_N_NUM };
enum { WHAT_IF_SET, WHAT_IF_OBJECT, WHAT_IF_KEY, WHAT_IF_FIELD, WHAT_IF_VALUE, WHAT_IF_N_TEXT };
enum { STOCK_ON_HAND, STOCK_LEAD_DAYS, STOCK_N_NUM };
enum { STOCK_ITEM, STOCK_NOTE, STOCK_N_TEXT };
enum { RUN_SYSTEM, RUN_AREA, RUN_KIND, RUN_W, RUN_H, RUN_W2, RUN_H2, RUN_LENGTH, RUN_COUNT, RUN_ANGLE, RUN_THROAT,
       RUN_OFFSET, RUN_SHIFT, RUN_LEGS, RUN_ON_EDGE, RUN_FIRST_END, RUN_LAST_END, RUN_FIT, RUN_CLASS, RUN_EXPOSURE,
       RUN_METAL, RUN_PRICE, RUN_SHOP_MINUTES, RUN_FIELD_MINUTES, RUN_CHECKED, RUN_BRANCH, RUN_SHIFT2, RUN_GORES,
       RUN_LINER, RUN_RISER, RUN_N_NUM };
enum { RUN_DRAWING, RUN_GAUGE, RUN_METHOD, RUN_ITEM, RUN_NOTE, RUN_WRAP, RUN_CONSTRUCTION,
       RUN_CONDITION, RUN_N_TEXT };

/* No value: inherit, or take the default. Same as DUCT_UNSET. */
#define JOB_UNSET G_MININT64

/* Text that could not be read, kept as typed. */
typedef struct
{
  int field;
  char *text;
} JobRaw;

/* One row. Immutable once shared: an edit makes a copy. Reference-counted (not thread-safe). */
typedef struct
{
  grefcount refs;
  JobType type;
  gint64 id;
  gint64 ord;      /* order within the job; rows of equal ord keep the order of their ids */
  GPtrArray *raw;  /* (nullable): JobRaw *, by field */
  gint64 *num;     /* n_num, JOB_UNSET where nothing was entered */
  char **text;     /* n_text, interned GRefString or NULL */
} JobRecord;

JobRecord *job_record_new (JobType type, gint64 id, gint64 ord);
JobRecord *job_record_copy (const JobRecord *record);
JobRecord *job_record_ref (const JobRecord *record);
void job_record_unref (JobRecord *record);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (JobRecord, job_record_unref)
gboolean job_record_equal (const JobRecord *a, const JobRecord *b);

/* Only on a record that is not shared yet. "" and NULL clear. */
void job_record_set_text (JobRecord *record, int text_slot, const char *text);
void job_record_set_raw (JobRecord *record, int field, const char *text); /* NULL clears */
const char *job_record_raw (const JobRecord *record, int field);          /* (nullable) */
/* Whether a field holds a value, or text that could not be read. */
gboolean job_record_is_set (const JobRecord *record, int field);

/* Looks names up and gives them back: ids of systems and areas. */
typedef struct
{
  gint64 (*find) (gpointer data, JobType type, const char *name); /* 0 when there is none */
  const char *(*name) (gpointer data, JobType type, gint64 id);   /* (nullable) */
  gpointer data;
  gboolean metric;
} JobNames;

/* What people call a kind, an end, a metal or a place: "ell", "galv", also any clear beginning of a kind's words. The one list that
 * cells, files and the line of entry share (entry-words.c). FALSE for other words and other fields. */
gboolean job_word_read (JobAs as, const char *text, gint64 *value);

/* Reads @text into a field. What cannot be read is kept as raw text (the field's value becomes unset) and FALSE is returned
 * with a fault. Empty text unsets. */
gboolean job_record_read (JobRecord *record, int field, const char *text, const JobNames *names, Fault **fault);
/* Text of a field as it would be typed again; "" when unset; raw text as it was typed. */
char *job_record_print (const JobRecord *record, int field, const JobNames *names);

G_END_DECLS
