/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "cost/study-unlike.h"
#include "labour/study.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

static const CliColumn element_columns[] = {
  { "element", N_ ("timed"), FALSE },
  { "method", N_ ("method"), FALSE },
  { "readings", N_ ("kept"), TRUE },
  { "struck", N_ ("struck"), TRUE },
  { "outliers", N_ ("flagged"), TRUE },
  { "mean", N_ ("mean min"), TRUE },
  { "deviation", N_ ("s"), TRUE },
  { "low", N_ ("from"), TRUE },
  { "high", N_ ("to"), TRUE },
  { "rating", N_ ("rating"), TRUE },
  { "normal", N_ ("normal min"), TRUE },
  { "standard", N_ ("standard min"), TRUE },
  { "need_ilo", NULL, TRUE },
  { "readings_ilo", N_ ("needed (ILO)"), TRUE },
  { "more_ilo", N_ ("more"), TRUE },
  { "need_t", NULL, TRUE },
  { "readings_t", N_ ("needed (t)"), TRUE },
  { "more_t", N_ ("more"), TRUE },
};

static const CliColumn total_columns[] = {
  { "method", N_ ("method"), FALSE },
  { "of", N_ ("of"), FALSE },
  { "elements", N_ ("elements"), TRUE },
  { "normal", N_ ("normal min"), TRUE },
  { "standard", N_ ("standard min"), TRUE },
  { "scatter", N_ ("one reading, s"), TRUE },
  { "error", N_ ("error of mean"), TRUE },
  { "job_spread_pct", N_ ("job to job %"), TRUE },
  { "low", N_ ("step low"), TRUE },
  { "likely", N_ ("likely"), TRUE },
  { "high", N_ ("high"), TRUE },
  { "allowance_basis", NULL, FALSE },
};

static const CliColumn flag_columns[] = {
  { "line", N_ ("line"), TRUE },       { "element", N_ ("timed"), FALSE },      { "method", N_ ("method"), FALSE },
  { "minutes", N_ ("minutes"), TRUE }, { "reading", N_ ("reading"), FALSE },
};

static const CliColumn pair_columns[] = {
  { "timed", N_ ("timed"), FALSE },
  { "date", N_ ("date"), FALSE },          { "size", N_ ("size"), FALSE },
  { "crew_size", N_ ("crew"), TRUE },      { "first", N_ ("first min"), TRUE },
  { "second", N_ ("second min"), TRUE },   { "difference", N_ ("first less second"), TRUE },
};

static const CliColumn difference_columns[] = {
  { "first", N_ ("first"), FALSE },      { "second", N_ ("second"), FALSE },
  { "timed", N_ ("timed"), FALSE },      { "pairs", N_ ("pairs"), TRUE },
  { "unpaired", N_ ("unpaired"), TRUE }, { "mean", N_ ("mean difference"), TRUE },
  { "deviation", N_ ("s"), TRUE },       { "low", N_ ("from"), TRUE },
  { "high", N_ ("to"), TRUE },           { "half_width", N_ ("half-width asked"), TRUE },
  { "needed", N_ ("pairs needed"), TRUE }, { "more", N_ ("more"), TRUE },
};

typedef struct
{
  double allowance, accuracy, confidence, half_width, job_spread;
  char *basis, *pairs, *unit, *study;
  CliFormat format;
} Asked;

/* Empty where nothing is known. */
static void
put (CliTable *t, const Asked *asked, double v, int decimals)
{
  if (isnan (v))
    cli_table_add (t, "");
  else if (asked->format == CLI_TEXT)
    cli_table_fixed (t, v, decimals);
  else
    cli_table_figure (t, v, 12);
}

static void
put_whole (CliTable *t, double need)
{
  if (isnan (need))
    cli_table_add (t, "");
  else
    cli_table_int (t, (gint64) ceil (need - 1e-9));
}

static void
page_elements (const LabourResult *result, const Asked *asked)
{
  g_autoptr (CliTable) t = cli_table_new ("elements", element_columns, G_N_ELEMENTS (element_columns));

  for (guint i = 0; i < result->elements->len; i++)
    {
      const LabourElement *e = &g_array_index (result->elements, LabourElement, i);
      cli_table_add (t, e->timed);
      cli_table_add (t, e->method);
      if (e->average)
        cli_table_add (t, asked->format == CLI_TEXT ? _ ("a mean") : "");
      else
        cli_table_int (t, e->n);
      cli_table_int (t, e->struck);
      cli_table_int (t, e->outliers);
      put (t, asked, e->mean, 3);
      put (t, asked, e->s, 4);
      put (t, asked, e->low, 3);
      put (t, asked, e->high, 3);
      put (t, asked, e->rating, 3);
      put (t, asked, e->normal, 3);
      put (t, asked, e->standard, 3);
      put (t, asked, e->need_ilo, 2);
      put_whole (t, e->need_ilo);
      if (isnan (e->need_ilo))
        cli_table_add (t, "");
      else
        cli_table_int (t, e->more_ilo);
      put (t, asked, e->need_t, 2);
      put_whole (t, e->need_t);
      if (isnan (e->need_t))
        cli_table_add (t, "");
      else
        cli_table_int (t, e->more_t);
    }
  cli_table_print (t, asked->format);
}

static void
page_totals (const LabourResult *result, const Asked *asked)
{
  g_autoptr (CliTable) t = cli_table_new ("totals", total_columns, G_N_ELEMENTS (total_columns));

  for (guint i = 0; i < result->totals->len; i++)
    {
      const LabourTotal *total = &g_array_index (result->totals, LabourTotal, i);
      LabourAccepted a;
      labour_study_accept (result->study, total->method, NULL, &a, NULL);
      cli_table_add (t, total->method);
      cli_table_add (t, total->whole ? LABOUR_WHOLE : _ ("elements"));
      cli_table_int (t, total->elements);
      put (t, asked, total->normal, 3);
      put (t, asked, total->standard, 3);
      put (t, asked, total->scatter, 4);
      put (t, asked, total->error, 4);
      put (t, asked, a.job_spread * 100, 1);
      put (t, asked, a.low, 3);
      put (t, asked, a.likely, 3);
      put (t, asked, a.high, 3);
      cli_table_add (t, labour_allowance_keys[result->study->basis]);
    }
  cli_table_print (t, asked->format);
}

/* What is flagged and what is struck: neither happens silently. */
static void
page_flags (const LabourResult *result, const CsvTable *file, const Asked *asked)
{
  g_autoptr (CliTable) t = cli_table_new ("flags", flag_columns, G_N_ELEMENTS (flag_columns));
  guint n = 0;

  for (guint i = 0; i < result->study->readings->len; i++)
    {
      const LabourReading *r = g_ptr_array_index (result->study->readings, i);
      g_autofree char *struck = g_strdup_printf (_ ("struck: %s"), r->struck);
      if (!result->outlier[i] && !*r->struck)
        continue;
      cli_table_int (t, ((const CsvRow *) g_ptr_array_index (file->row, r->row))->line);
      cli_table_add (t, r->timed);
      cli_table_add (t, r->method);
      put (t, asked, r->minutes, 3);
      cli_table_add (t, *r->struck ? struck : _ ("far from what the others say (3.5 x 1.4826 MAD): look at it; it is kept"));
      n++;
    }
  if (n == 0)
    return;
  if (asked->format != CLI_JSONL)
    cli_print ("\n");
  cli_table_print (t, asked->format);
}

static void
add_difference (CliTable *d, const LabourPairs *p, const LabourStudy *study, const Asked *asked)
{
  cli_table_add (d, p->first);
  cli_table_add (d, p->second);
  cli_table_add (d, p->timed ? p->timed : "");
  cli_table_int (d, p->pairs->len);
  cli_table_int (d, p->unpaired);
  put (d, asked, p->mean, 3);
  put (d, asked, p->s, 4);
  put (d, asked, p->low, 3);
  put (d, asked, p->high, 3);
  put (d, asked, study->half_width > 0 ? study->half_width : NAN, 3);
  put (d, asked, p->need, 0);
  if (isnan (p->need))
    cli_table_add (d, "");
  else
    cli_table_int (d, p->more);
}

static void
add_pairs (CliTable *t, const LabourPairs *p, const Asked *asked)
{
  for (guint i = 0; i < p->pairs->len; i++)
    {
      const LabourPair *pair = &g_array_index (p->pairs, LabourPair, i);
      cli_table_add (t, p->timed);
      cli_table_add (t, pair->first->date);
      cli_table_add (t, pair->first->size);
      cli_table_int (t, pair->first->crew_size);
      put (t, asked, pair->first_min, 3);
      put (t, asked, pair->second_min, 3);
      put (t, asked, pair->difference, 3);
    }
}

/* What the sentence rests on, then each thing timed of both methods by itself. */
static void
page_pairs (const LabourPairs *p, const LabourStudy *study, const Asked *asked)
{
  g_autoptr (CliTable) t = cli_table_new ("pairs", pair_columns, G_N_ELEMENTS (pair_columns));
  g_autoptr (CliTable) d = cli_table_new ("difference", difference_columns, G_N_ELEMENTS (difference_columns));
  g_autoptr (GPtrArray) common = labour_study_common (study, p->first, p->second);

  add_pairs (t, p, asked);
  add_difference (d, p, study, asked);
  for (guint i = 0; i < common->len; i++)
    if (g_strcmp0 (g_ptr_array_index (common, i), p->timed) != 0)
      {
        g_autoptr (LabourPairs) one = labour_study_pairs_of (study, p->first, p->second, g_ptr_array_index (common, i));
        add_pairs (t, one, asked);
        add_difference (d, one, study, asked);
      }
  if (asked->format != CLI_JSONL)
    cli_print ("\n");
  cli_table_print (t, asked->format);
  if (asked->format != CLI_JSONL)
    cli_print ("\n");
  cli_table_print (d, asked->format);
}

/* What was timed of one of the two methods alone is in no difference. */
static void
page_alone (const LabourPairs *p, const LabourResult *result)
{
  g_autoptr (GPtrArray) common = labour_study_common (result->study, p->first, p->second);

  for (guint i = 0; i < result->elements->len; i++)
    {
      const LabourElement *e = &g_array_index (result->elements, LabourElement, i);
      gboolean ours = strcmp (e->method, p->first) == 0 || strcmp (e->method, p->second) == 0;
      if (ours && e->n > 0 && !g_ptr_array_find_with_equal_func (common, e->timed, g_str_equal, NULL))
        cli_print (_ ("“%s” was timed of %s alone: it is in no difference.\n"), e->timed, e->method);
    }
}

/* The choices that change a figure stand beside it. */
static void
page_choices (const LabourResult *result)
{
  gboolean few = FALSE;

  for (guint i = 0; i < result->elements->len; i++)
    few = few || isnan (g_array_index (result->elements, LabourElement, i).s);
  cli_print ("\n%s\n", _ ("Minutes are worker-minutes of one: clock minutes x heads of the crew / count."));
  cli_print ("%s (A = %.4g %%).\n", labour_allowance_words (result->study->basis), result->study->allowance * 100);
  cli_print (_ ("L12: needed (ILO) is k = 2 (95.45 %%), deviation with divisor n; needed (t) is Student's t at %.4g "
                "%%, divisor n - 1; "
                "both within %.4g %%.\n"),
             result->study->confidence * 100, result->study->accuracy * 100);
  cli_print (_ ("Low and high: about the 10 %% and 90 %% points of a job's average, the error of the mean joined with "
                "%.4g %% from job to "
                "job (common practice until there is history).\n"),
             result->study->job_spread * 100);
  if (few)
    cli_print ("%s\n", _ ("Where fewer than three readings are kept there is no deviation and no interval."));
}

static gboolean
apply_asked (LabourStudy *study, const Asked *asked)
{
  const struct
  {
    const char *option;
    double value, least, most;
  } bounds[] = {
    { "--allowance", asked->allowance, 0, 90 },
    { "--accuracy", asked->accuracy, 0.1, 100 },
    { "--confidence", asked->confidence, 50, 99.99 },
    { "--half-width", asked->half_width, 0, 1000 },
    { "--job-spread", asked->job_spread, 0, 100 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (bounds); i++)
    if (!(bounds[i].value >= bounds[i].least && bounds[i].value <= bounds[i].most))
      {
        cli_complain (_ ("%s %g is out of bounds: enter %g to %g"), bounds[i].option, bounds[i].value, bounds[i].least,
                      bounds[i].most);
        return FALSE;
      }
  if (asked->basis && strcmp (asked->basis, "day") != 0 && strcmp (asked->basis, "normal") != 0)
    {
      cli_complain (_ ("--basis is day (a share of the working day) or normal (a share of normal time), not “%s”"),
                    asked->basis);
      return FALSE;
    }
  study->allowance = asked->allowance / 100;
  study->basis = g_strcmp0 (asked->basis, "normal") == 0 ? LABOUR_NORMAL : LABOUR_DAY;
  study->accuracy = asked->accuracy / 100;
  study->confidence = asked->confidence / 100;
  study->half_width = asked->half_width;
  study->job_spread = asked->job_spread / 100;
  if (asked->unit)
    {
      g_free (study->unit);
      study->unit = g_strdup (asked->unit);
    }
  return TRUE;
}

/* The two methods of --pairs; NULL after a complaint. */
static char **
pair_names (const LabourStudy *study, const char *asked)
{
  g_auto (GStrv) names = g_strsplit (asked, ",", 3);
  g_autoptr (GPtrArray) methods = labour_study_methods (study);
  g_autoptr (GString) list = g_string_new (NULL);

  for (guint i = 0; i < methods->len; i++)
    g_string_append_printf (list, "%s%s", i ? ", " : "", (const char *) g_ptr_array_index (methods, i));
  if (g_strv_length (names) != 2)
    {
      cli_complain (_ ("--pairs takes two methods of the file with a comma between: A,B; there are %s"), list->str);
      return NULL;
    }
  for (char **name = names; *name; name++)
    if (!g_ptr_array_find_with_equal_func (methods, g_strstrip (*name), g_str_equal, NULL))
      {
        cli_complain (_ ("no kept reading is of the method “%s”; there are %s"), *name, list->str);
        return NULL;
      }
  if (strcmp (names[0], names[1]) == 0)
    {
      cli_complain (_ ("--pairs takes two different methods, not “%s” twice; there are %s"), names[0], list->str);
      return NULL;
    }
  return g_steal_pointer (&names);
}

/* Leaves the rows of one study in a file whose column "study" names several. FALSE after a complaint. */
static gboolean
pick_study (CsvTable *file, const char *wanted)
{
  int column = csv_column (file, "study");
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GString) list = g_string_new (NULL);

  for (guint i = 0; column >= 0 && i < file->row->len; i++)
    if (!g_ptr_array_find_with_equal_func (names, csv_cell (file, i, column), g_str_equal, NULL))
      {
        g_ptr_array_add (names, g_strdup (csv_cell (file, i, column)));
        g_string_append_printf (list, "%s“%s”", list->len ? ", " : "", csv_cell (file, i, column));
      }
  if (!wanted && names->len <= 1)
    return TRUE;
  if (!wanted || !g_ptr_array_find_with_equal_func (names, wanted, g_str_equal, NULL))
    {
      if (names->len == 0)
        cli_complain (_ ("%s has no column study to look for “%s” in: leave --study out"), file->name, wanted);
      else if (wanted)
        cli_complain (_ ("%s holds no study “%s”; there are %s"), file->name, wanted, list->str);
      else
        cli_complain (_ ("%s holds %u studies: name one with --study; there are %s"), file->name, names->len, list->str);
      return FALSE;
    }
  for (guint i = file->row->len; i-- > 0;)
    if (strcmp (csv_cell (file, i, column), wanted) != 0)
      g_ptr_array_remove_index (file->row, i);
  return TRUE;
}

static int
answer (CsvTable *file, const Asked *asked)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (LabourStudy) study = labour_study_from_csv (file, faults);
  g_autoptr (LabourPairs) pairs = NULL;
  g_auto (GStrv) names = NULL;

  cli_complain_faults (faults);
  if (!study)
    return CLI_FAULTS;
  if (!apply_asked (study, asked))
    return CLI_USAGE;
  if (asked->pairs && !(names = pair_names (study, asked->pairs)))
    return CLI_USAGE;
  g_autoptr (LabourResult) result = labour_study_result (study);
  g_autoptr (GPtrArray) unlike = cost_study_unlike (result, LENGTH_IN);
  if (names)
    pairs = labour_study_pairs (study, names[0], names[1]);
  if (asked->format == CLI_TEXT)
    {
      g_autofree char *sentence = pairs && pairs->pairs->len > 0 ? labour_pairs_sentence (study, pairs, names[0], names[1])
                                                                 : labour_study_sentence (study, NULL, NULL);
      cli_print ("%s\n\n", sentence);
    }
  page_elements (result, asked);
  if (asked->format != CLI_JSONL)
    cli_print ("\n");
  page_totals (result, asked);
  page_flags (result, file, asked);
  for (guint i = 0; asked->format == CLI_TEXT && i < unlike->len; i++)
    cli_print ("\n%s\n", (const char *) g_ptr_array_index (unlike, i));
  if (pairs)
    page_pairs (pairs, study, asked);
  if (asked->format == CLI_TEXT)
    page_choices (result);
  if (pairs && asked->format == CLI_TEXT)
    page_alone (pairs, result);
  return CLI_DONE;
}

int
cli_study (int argc, char **argv)
{
  g_auto (CliOptions) o = { 0 };
  Asked asked = { .accuracy = 5, .confidence = 95, .job_spread = LABOUR_JOB_SPREAD_PPM / 1e4 };
  const GOptionEntry more[] = {
    { "allowance", 0, 0, G_OPTION_ARG_DOUBLE, &asked.allowance, N_ ("Allowance for rest and delays, per cent"),
      N_ ("PCT") },
    { "basis", 0, 0, G_OPTION_ARG_STRING, &asked.basis, N_ ("What it is a share of (L1): day or normal"),
      N_ ("day|normal") },
    { "accuracy", 0, 0, G_OPTION_ARG_DOUBLE, &asked.accuracy, N_ ("Accuracy asked of a mean, per cent (5)"),
      N_ ("PCT") },
    { "confidence", 0, 0, G_OPTION_ARG_DOUBLE, &asked.confidence, N_ ("Confidence of intervals, per cent (95)"),
      N_ ("PCT") },
    { "job-spread", 0, 0, G_OPTION_ARG_DOUBLE, &asked.job_spread, N_ ("Spread from job to job, per cent (15)"),
      N_ ("PCT") },
    { "pairs", 0, 0, G_OPTION_ARG_STRING, &asked.pairs, N_ ("Pair two methods by size and crew"), N_ ("A,B") },
    { "half-width", 0, 0, G_OPTION_ARG_DOUBLE, &asked.half_width,
      N_ ("Minutes that the mean difference should be within"), N_ ("MIN") },
    { "study", 0, 0, G_OPTION_ARG_STRING, &asked.study, N_ ("Which study, where the file holds several"), N_ ("NAME") },
    { "unit", 0, 0, G_OPTION_ARG_STRING, &asked.unit, N_ ("What one is: joint, ft, lb"), N_ ("WORD") },
    G_OPTION_ENTRY_NULL,
  };
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (GError) error = NULL;
  int status;

  if (!cli_options_read (
          &o, argc, argv, "FILE.csv",
          _ ("Answers a time study: normal and standard time, intervals, readings and pairs still needed. Columns of "
             "FILE: clock_min, and of these what there is: date, observer, crew_size, size, timed, method, count, "
             "rating_pct, struck, note; or element, average_min, rating."),
          more))
    status = o.status;
  else if (!cli_options_no_job (&o, "study"))
    status = CLI_USAGE;
  else if (g_strv_length (o.rest) != 1)
    {
      cli_complain (_ ("study takes one file of readings; seamtally study --help tells its columns"));
      status = CLI_USAGE;
    }
  else
    {
      g_autoptr (CsvTable) file = csv_read_file (o.rest[0], faults, &error);
      cli_complain_faults (faults);
      asked.format = cli_options_format (&o);
      if (error)
        cli_complain ("%s", error->message);
      status = error                          ? CLI_FILE
               : !file || faults->len > 0       ? CLI_FAULTS
               : pick_study (file, asked.study) ? answer (file, &asked)
                                                : CLI_USAGE;
    }
  g_free (asked.basis);
  g_free (asked.pairs);
  g_free (asked.unit);
  g_free (asked.study);
  return status;
}
