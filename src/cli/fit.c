/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "base/table.h"
#include "labour/fit.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define MOST_POWERS 10
#define MOST_COLUMNS 20

static const CliColumn coefficient_columns[] = {
  { "band", N_ ("band"), FALSE },
  { "coefficient", N_ ("coefficient"), FALSE },
  { "estimate", N_ ("estimate"), TRUE },
  { "deviation", N_ ("standard deviation"), TRUE },
};

static const CliColumn fit_columns[] = {
  { "band", N_ ("band"), FALSE },
  { "points", N_ ("points"), TRUE },
  { "coefficients", N_ ("coefficients"), TRUE },
  { "residual_deviation", N_ ("residual s"), TRUE },
  { "r2", N_ ("R2"), TRUE },
  { "f", N_ ("F"), TRUE },
  { "regression_squares", N_ ("regression squares"), TRUE },
  { "residual_squares", N_ ("residual squares"), TRUE },
  { "said", N_ ("to note"), FALSE },
};

static const CliColumn at_columns[] = {
  { "band", N_ ("band"), FALSE },         { "at", N_ ("at"), FALSE },        { "mean", N_ ("mean"), TRUE },
  { "mean_low", N_ ("from"), TRUE },      { "mean_high", N_ ("to"), TRUE },  { "new_low", N_ ("one more: from"), TRUE },
  { "new_high", N_ ("to"), TRUE },
};

typedef struct
{
  gboolean no_intercept;
  int powers;
  double confidence;
  char *bands;
  char **at;
  CliFormat format;
} Asked;

/* Figures of the file, rows after rows. */
typedef struct
{
  gsize n, columns;
  double *v;
  const char **name; /* borrowed from the file; NULL-terminated */
} Figures;

static void
figures_clear (Figures *f)
{
  g_free (f->v);
  g_free (f->name);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Figures, figures_clear)

/* Beyond these no figure of a fit says anything, and its squares leave a double. */
#define MOST_FIGURE 1e12

/* A plain number, an exponent allowed. */
static gboolean
read_number (const char *text, double *v)
{
  char *end;

  if (!*text || strspn (text, "0123456789.+-eE") != strlen (text))
    return FALSE;
  *v = g_ascii_strtod (text, &end);
  return *end == '\0' && fabs (*v) <= MOST_FIGURE;
}

static gboolean
read_figures (const CsvTable *file, Figures *f, GPtrArray *faults)
{
  TableReader r = { file, faults, G_MAXUINT };
  guint before = faults->len;

  f->columns = file->head->len;
  f->n = file->row->len;
  f->name = g_new0 (const char *, f->columns + 1);
  f->v = g_new0 (double, f->n * f->columns + 1);
  for (gsize c = 0; c < f->columns; c++)
    f->name[c] = g_ptr_array_index (file->head, c);
  if (f->columns > MOST_COLUMNS)
    table_complain (&r, f->name[MOST_COLUMNS], _ ("too many columns"), _ ("keep the first for y and at most 19 others"));
  for (r.row = 0; r.row < f->n; r.row++)
    for (gsize c = 0; c < f->columns; c++)
      if (!read_number (csv_cell (file, r.row, (int) c), &f->v[r.row * f->columns + c]))
        table_complain (&r, f->name[c],
                        isfinite (f->v[r.row * f->columns + c]) && fabs (f->v[r.row * f->columns + c]) > MOST_FIGURE ? _ ("out of bounds")
                        : *csv_cell (file, r.row, (int) c) ? _ ("not a number")
                                                           : _ ("the number is missing"),
                        _ ("write a plain number with a point, as 12.5, from -1e12 to 1e12"));
  r.row = G_MAXUINT;
  if (f->n == 0 && faults->len == before)
    table_complain (&r, f->name[0], _ ("the file has no point"), _ ("add a line for each observation"));
  return faults->len == before;
}

/* ---- answers ---- */

static void
add_coefficient (CliTable *t, const Asked *asked, const char *band, const char *name, double b, double se)
{
  int digits = asked->format == CLI_TEXT ? 8 : 16;

  cli_table_add (t, band);
  cli_table_add (t, name);
  cli_table_figure (t, b, digits);
  if (isfinite (se))
    cli_table_figure (t, se, digits);
  else
    cli_table_add (t, "");
}

static void
add_fit (CliTable *t, const Asked *asked, const char *band, const LabourFit *fit, gsize points, const char *said)
{
  int digits = asked->format == CLI_TEXT ? 8 : 16;
  const double figures[] = { fit ? fit->s : NAN,   fit ? fit->r2 : NAN,  fit ? fit->f : NAN,
                             fit ? fit->ess : NAN, fit ? fit->rss : NAN };

  cli_table_add (t, band);
  cli_table_int (t, (gint64) points);
  if (fit)
    cli_table_int (t, (gint64) fit->p);
  else
    cli_table_add (t, "");
  for (gsize i = 0; i < G_N_ELEMENTS (figures); i++)
    if (isfinite (figures[i]))
      cli_table_figure (t, figures[i], digits);
    else
      cli_table_add (t, "");
  cli_table_add (t, said);
}

static void
add_at (CliTable *t, const Asked *asked, const char *band, const char *where, const LabourBandAt *at)
{
  const double figures[] = { at->mean, at->mean - at->mean_half, at->mean + at->mean_half, at->mean - at->new_half,
                             at->mean + at->new_half };

  cli_table_add (t, band);
  cli_table_add (t, where);
  for (gsize i = 0; i < G_N_ELEMENTS (figures); i++)
    if (isfinite (figures[i]))
      cli_table_figure (t, figures[i], asked->format == CLI_TEXT ? 8 : 16);
    else
      cli_table_add (t, "");
}

/* "5" or "5,40": as many numbers as @n. */
static gboolean
read_at (const char *text, double *x, gsize n)
{
  g_auto (GStrv) part = g_strsplit (text, ",", -1);

  if (g_strv_length (part) == n)
    {
      gsize i = 0;
      while (i < n && read_number (g_strstrip (part[i]), &x[i]))
        i++;
      if (i == n)
        return TRUE;
    }
  cli_complain (g_dngettext (GETTEXT_PACKAGE, "--at takes %zu number, not “%s”",
                             "--at takes %zu numbers with commas between, not “%s”", n),
                n, text);
  return FALSE;
}

static void
print_tables (const Asked *asked, CliTable *coefficients, CliTable *fits, CliTable *at)
{
  CliTable *const tables[] = { coefficients, fits, at };

  for (gsize i = 0; i < G_N_ELEMENTS (tables); i++)
    {
      if (tables[i] == at && !asked->at)
        continue;
      if (i > 0 && asked->format != CLI_JSONL)
        cli_print ("\n");
      cli_table_print (tables[i], asked->format);
    }
  if (asked->format == CLI_TEXT && asked->at)
    cli_print (_ ("\nIntervals at %.4g %%: of the mean there, and of one more observation.\n"), asked->confidence);
}

/* What @figures hold as the columns of x: those of the file or the powers of one. */
static gboolean
build_x (const Figures *f, const Asked *asked, gsize k, double *x, double *y)
{
  if (asked->powers > 0 && f->columns != 2)
    {
      cli_complain (_ ("--powers takes a file with y and one x, and this one has %zu columns"), f->columns);
      return FALSE;
    }
  for (gsize i = 0; i < f->n; i++)
    {
      y[i] = f->v[i * f->columns];
      for (gsize j = 0; j < k; j++)
        x[i * k + j] = asked->powers == 0 ? f->v[i * f->columns + 1 + j]
                                          : f->v[i * f->columns + 1] * (j ? x[i * k + j - 1] : 1);
    }
  return TRUE;
}

static int
answer_plain (const Figures *f, const Asked *asked)
{
  gsize k = asked->powers > 0 ? (gsize) asked->powers : f->columns - 1, ats = asked->powers > 0 ? 1 : k;
  g_autofree double *x = g_new0 (double, f->n * k + 1), *y = g_new0 (double, f->n + 1), *x0 = g_new0 (double, k + 1);
  g_auto (GStrv) names = g_new0 (char *, k + 1);
  g_autoptr (CliTable) coefficients = cli_table_new ("coefficients", coefficient_columns, G_N_ELEMENTS (coefficient_columns));
  g_autoptr (CliTable) fits = cli_table_new ("fit", fit_columns, G_N_ELEMENTS (fit_columns));
  g_autoptr (CliTable) at = cli_table_new ("at", at_columns, G_N_ELEMENTS (at_columns));
  Fault *fault = NULL;

  if (!build_x (f, asked, k, x, y))
    return CLI_USAGE;
  for (gsize j = 0; j < k; j++)
    names[j] = asked->powers > 0 && j > 0 ? g_strdup_printf ("%s^%zu", f->name[1], j + 1)
                                          : g_strdup (f->name[asked->powers > 0 ? 1 : j + 1]);
  g_autoptr (LabourFit) fit = labour_fit_new (y, x, f->n, k, !asked->no_intercept, (const char *const *) names, &fault);
  if (!fit)
    {
      g_autofree char *words = fault_words (fault, NULL);
      fault_free (fault);
      cli_complain (_ ("no fit: %s"), words);
      return CLI_FAULTS;
    }
  for (gsize j = 0; j < fit->p; j++)
    add_coefficient (coefficients, asked, "", fit->intercept ? (j ? names[j - 1] : _ ("intercept")) : names[j],
                     fit->b[j], fit->se[j]);
  add_fit (fits, asked, "", fit, fit->n, fit->intercept ? "" : _ ("R2 without intercept is about zero, not about the mean"));
  for (char **text = asked->at; text && *text; text++)
    {
      if (!read_at (*text, x0, ats))
        return CLI_USAGE;
      for (gsize j = 1; asked->powers > 0 && j < k; j++)
        x0[j] = x0[0] * x0[j - 1];
      LabourBandAt here = labour_fit_at (fit, x0, asked->confidence / 100);
      add_at (at, asked, "", *text, &here);
    }
  print_tables (asked, coefficients, fits, at);
  return CLI_DONE;
}

static char *
band_name (const LabourFitBand *band)
{
  if (isinf (band->over_lb))
    return isinf (band->upto_lb) ? g_strdup (_ ("all")) : g_strdup_printf (_ ("to %g lb"), band->upto_lb);
  return isinf (band->upto_lb) ? g_strdup_printf (_ ("over %g lb"), band->over_lb)
                               : g_strdup_printf (_ ("over %g to %g lb"), band->over_lb, band->upto_lb);
}

/* Columns of a banded fit by their headings; FALSE after a complaint. */
static gboolean
band_columns (const CsvTable *file, int *minutes, int *ft, int *lb)
{
  *minutes = csv_column (file, "minutes");
  *ft = csv_column (file, "ft");
  *lb = csv_column (file, "lb");
  if (*minutes >= 0 && *lb >= 0)
    return TRUE;
  cli_complain (_ ("%s:%d: --bands takes the columns minutes, lb and, where there is one, ft; “%s” is missing: add it "
                   "to the heading line"),
                file->name, file->head_line, *minutes < 0 ? "minutes" : "lb");
  return FALSE;
}

static int
answer_bands (const CsvTable *file, const Figures *f, const Asked *asked)
{
  g_auto (GStrv) words = g_strsplit (asked->bands, ",", -1);
  gsize n_limits = g_strv_length (words);
  g_autofree double *limit = g_new0 (double, n_limits + 1);
  g_autofree double *minutes = g_new0 (double, f->n + 1), *ft = g_new0 (double, f->n + 1), *lb = g_new0 (double, f->n + 1);
  g_autoptr (CliTable) coefficients = cli_table_new ("coefficients", coefficient_columns, G_N_ELEMENTS (coefficient_columns));
  g_autoptr (CliTable) fits = cli_table_new ("fit", fit_columns, G_N_ELEMENTS (fit_columns));
  g_autoptr (CliTable) at = cli_table_new ("at", at_columns, G_N_ELEMENTS (at_columns));
  const char *names[] = { _ ("fixed minutes"), _ ("minutes a foot"), _ ("minutes a pound") };
  g_autoptr (GPtrArray) bands = NULL;
  g_autoptr (Fault) fault = NULL;
  int column[3], refused = 0;

  for (gsize i = 0; i < n_limits; i++)
    if (!read_number (g_strstrip (words[i]), &limit[i]))
      {
        cli_complain (_ ("--bands takes limits in pounds with commas between, as 60,150; “%s” is no number"), words[i]);
        return CLI_USAGE;
      }
  if (!band_columns (file, &column[0], &column[1], &column[2]))
    return CLI_FAULTS;
  for (gsize i = 0; i < f->n; i++)
    {
      minutes[i] = f->v[i * f->columns + (gsize) column[0]];
      ft[i] = column[1] >= 0 ? f->v[i * f->columns + (gsize) column[1]] : 0;
      lb[i] = f->v[i * f->columns + (gsize) column[2]];
    }
  bands = labour_fit_bands (minutes, column[1] >= 0 ? ft : NULL, lb, f->n, limit, n_limits, &fault);
  if (!bands)
    {
      g_autofree char *told = fault_words (fault, NULL);
      cli_complain ("--bands: %s", told);
      return CLI_USAGE;
    }
  for (guint i = 0; i < bands->len; i++)
    {
      const LabourFitBand *band = g_ptr_array_index (bands, i);
      g_autofree char *name = band_name (band);
      g_autofree char *told = band->fault ? fault_words (band->fault, NULL) : NULL;
      for (gsize j = 0; band->fit && j < band->fit->p; j++)
        add_coefficient (coefficients, asked, name, names[j == 1 && column[1] < 0 ? 2 : j], band->fit->b[j], band->fit->se[j]);
      add_fit (fits, asked, name, band->fit, band->n, told ? told : band->doubt ? band->doubt : "");
      refused += band->fit ? 0 : 1;
      for (char **text = asked->at; text && *text; text++)
        {
          double x0[2];
          if (!read_at (*text, x0, column[1] >= 0 ? 2 : 1))
            return CLI_USAGE;
          double pounds = x0[column[1] >= 0 ? 1 : 0];
          if (!(pounds > band->over_lb && pounds <= band->upto_lb))
            continue;
          if (!band->fit)
            {
              cli_complain (_ ("--at %s: the band “%s” has no fit (%s), so there is nothing to say there"), *text, name, told);
              continue;
            }
          LabourBandAt here = labour_fit_at (band->fit, x0, asked->confidence / 100);
          add_at (at, asked, name, *text, &here);
        }
    }
  print_tables (asked, coefficients, fits, at);
  return refused > 0 ? CLI_FAULTS : CLI_DONE;
}

static int
answer (const char *path, const Asked *asked)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (GError) error = NULL;
  g_autoptr (CsvTable) file = csv_read_file (path, faults, &error);
  g_auto (Figures) figures = { 0 };

  if (error)
    cli_complain ("%s", error->message);
  if (file && faults->len == 0)
    read_figures (file, &figures, faults);
  cli_complain_faults (faults);
  if (error)
    return CLI_FILE;
  if (!file || faults->len > 0)
    return CLI_FAULTS;
  return asked->bands ? answer_bands (file, &figures, asked) : answer_plain (&figures, asked);
}

int
cli_fit (int argc, char **argv)
{
  g_auto (CliOptions) o = { 0 };
  Asked asked = { .confidence = 95 };
  int powers = G_MININT; /* not given */
  const GOptionEntry more[] = {
    { "no-intercept", 0, 0, G_OPTION_ARG_NONE, &asked.no_intercept, N_ ("Through zero"), NULL },
    { "powers", 0, 0, G_OPTION_ARG_INT, &powers, N_ ("A polynomial of this degree in the one x"), N_ ("N") },
    { "bands", 0, 0, G_OPTION_ARG_STRING, &asked.bands,
      N_ ("Fixed minutes, a foot and a pound in bands of handling; columns minutes, ft, lb"), N_ ("LB,LB") },
    { "at", 0, 0, G_OPTION_ARG_STRING_ARRAY, &asked.at, N_ ("The band there"), N_ ("X[,X...]") },
    { "confidence", 0, 0, G_OPTION_ARG_DOUBLE, &asked.confidence, N_ ("Confidence of the band, per cent (95)"), N_ ("PCT") },
    G_OPTION_ENTRY_NULL,
  };
  int status = CLI_USAGE;

  if (!cli_options_read (
          &o, argc, argv, "FILE.csv",
          _ ("Fits by least squares (QR of scaled columns): the first column of FILE is y, the others are x."), more))
    status = o.status;
  else if (!cli_options_no_job (&o, "fit"))
    status = CLI_USAGE;
  else if (g_strv_length (o.rest) != 1)
    cli_complain (_ ("fit takes one file, the first column y and the others x"));
  else if (powers != G_MININT && (powers < 1 || powers > MOST_POWERS))
    cli_complain (_ ("--powers %d is out of bounds: enter 1 to %d"), powers, MOST_POWERS);
  else if (asked.bands && (powers != G_MININT || asked.no_intercept))
    cli_complain (_ ("--bands fits fixed minutes, a foot and a pound: leave %s out"), asked.no_intercept ? "--no-intercept" : "--powers");
  else if (!(asked.confidence >= 50 && asked.confidence <= 99.99))
    cli_complain (_ ("--confidence %g is out of bounds: enter 50 to 99.99"), asked.confidence);
  else
    {
      asked.format = cli_options_format (&o);
      asked.powers = MAX (powers, 0);
      status = answer (o.rest[0], &asked);
    }
  g_free (asked.bands);
  g_strfreev (asked.at);
  return status;
}
