/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

/* Choices that belong to a job and change a result: how conditions join, which spread stands for low, likely and high, limits of a
 * mix. One line in setting.c describes each; a job that holds none has the default. Kept as JOB_SETTING records. */
typedef enum
{
  JOB_SETTING_WORD,    /* one of words[] */
  JOB_SETTING_NUMBER,  /* least to most */
  JOB_SETTING_TEXT,
  JOB_SETTING_DATE,    /* yyyy-mm-dd */
} JobSettingAs;

typedef struct
{
  const char *key;
  const char *title;          /* N_(): on a screen, with its unit */
  JobSettingAs as;
  const char *fallback;       /* value of a job that holds none; "" none */
  int decimals;               /* NUMBER */
  double least, most;
  const char *const *words;   /* WORD: NULL-terminated, as kept */
  const char *const *say;     /* WORD: N_(), what the choice means, beside words[] */
  const char *status;         /* N_(): what the default rests on, "common practice"; NULL: a choice of calculation */
} JobSetting;

/* Every setting there is, in the order of the screens. */
const JobSetting *job_settings (gsize *n);
/* NULL when there is none of that key. */
const JobSetting *job_setting_find (const char *key);

/* What the job holds, else the default. Never NULL. (transfer none) */
const char *job_setting (TallyJob *job, const char *key);
/* The same as a number; NAN where nothing is entered and the default is empty. */
double job_setting_number (TallyJob *job, const char *key);
/* Place of the word among words[]. */
int job_setting_word (TallyJob *job, const char *key);
/* The word in force in words for the screen, translated. */
const char *job_setting_say (TallyJob *job, const char *key);
/* Whether the job holds a value of its own. */
gboolean job_setting_held (TallyJob *job, const char *key);

/* Reads what was typed: the text that is kept. NULL with a fault. (transfer full) */
char *job_setting_read (const char *key, const char *typed, Fault **fault);
/* Whether @value, as job_setting_read() gives it, goes with what the job holds beside it: low, likely and high of a common factor stay in
 * order. FALSE with a fault whose remedy is the nearest value that does. */
gboolean job_setting_fits (TallyJob *job, const char *key, const char *value, Fault **fault);
/* Adds to @edit what sets a setting; @value NULL or "" takes it back to the default. Adds nothing where it says so already. */
void job_edit_setting (TallyJob *job, JobEdit *edit, const char *key, const char *value);

G_END_DECLS
