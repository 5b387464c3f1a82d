/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/setting.h"

#include "base/decimal.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

static const char *const joins[] = { "product", "sum", NULL };
static const char *const say_joins[] = { N_ ("conditions multiply"), N_ ("conditions add"), NULL };
static const char *const spreads[] = { "pert", "pert-classical", "triangular", NULL };
static const char *const say_spreads[] = { N_ ("PERT, exact beta"), N_ ("PERT, standard deviation of a sixth of the range"),
                                           N_ ("triangular"), NULL };
static const char *const learnings[] = { "none", "unit", "cumulative-average", NULL };
static const char *const say_learnings[] = { N_ ("no learning"), N_ ("learning by the unit curve"),
                                             N_ ("learning by the cumulative average"), NULL };
static const char *const losses[] = { "divide", "multiply", NULL };
static const char *const say_losses[] = { N_ ("time is base / (1 − loss)"), N_ ("time is base × (1 + loss)"), NULL };
static const char *const ot_places[] = { "field", "shop+field", NULL };
static const char *const say_ot_places[] = { N_ ("the field"), N_ ("shop and field"), NULL };
static const char *const bases[] = { "likely", "mean", NULL };
static const char *const say_bases[] = { N_ ("over the likely cost"), N_ ("over the mean cost"), NULL };

#define COMMON N_ ("common practice")

static const JobSetting settings[] = {
  { "conditions.join", N_ ("Several conditions"), JOB_SETTING_WORD, "product", 0, 0, 0, joins, say_joins, NULL },
  { "conditions.cap", N_ ("Warn when conditions together exceed"), JOB_SETTING_NUMBER, "2", 2, 1, 10, NULL, NULL, COMMON },
  { "learning.model", N_ ("Learning over the joints of the job"), JOB_SETTING_WORD, "none", 0, 0, 0, learnings, say_learnings,
    NULL },
  { "learning.slope", N_ ("Learning: share left at each doubling, %"), JOB_SETTING_NUMBER, "90", 1, 50, 100, NULL, NULL, COMMON },
  { "learning.known", N_ ("Learning: joints from which the entered minutes hold"), JOB_SETTING_NUMBER, "50", 0, 1, 1e6, NULL, NULL,
    COMMON },
  { "overtime.table", N_ ("Overtime loss by the table"), JOB_SETTING_TEXT, "", 0, 0, 0, NULL, NULL, NULL },
  { "overtime.hours", N_ ("Hours a week"), JOB_SETTING_NUMBER, "40", 1, 1, 100, NULL, NULL, NULL },
  { "overtime.weeks", N_ ("Weeks of overtime"), JOB_SETTING_NUMBER, "0", 0, 0, 520, NULL, NULL, NULL },
  { "overtime.premium", N_ ("Pay of an overtime hour, × wage"), JOB_SETTING_NUMBER, "1.5", 2, 1, 3, NULL, NULL, COMMON },
  { "overtime.loss", N_ ("A loss of output means"), JOB_SETTING_WORD, "divide", 0, 0, 0, losses, say_losses, NULL },
  { "overtime.places", N_ ("Overtime is worked in"), JOB_SETTING_WORD, "field", 0, 0, 0, ot_places, say_ot_places, NULL },
  { "crew.heads", N_ ("Workers in the field"), JOB_SETTING_NUMBER, "4", 1, 1, 1000, NULL, NULL, COMMON },
  { "crew.day_hours", N_ ("Hours a working day"), JOB_SETTING_NUMBER, "8", 1, 1, 24, NULL, NULL, COMMON },
  { "crew.start", N_ ("Start in the field"), JOB_SETTING_DATE, "", 0, 0, 0, NULL, NULL, NULL },
  { "stock.ordered", N_ ("Ordered on"), JOB_SETTING_DATE, "", 0, 0, 0, NULL, NULL, NULL },
  { "spread", N_ ("Spread of low, likely, high"), JOB_SETTING_WORD, "pert", 0, 0, 0, spreads, say_spreads, NULL },
  { "risk.trials", N_ ("Trials"), JOB_SETTING_NUMBER, "100000", 0, 1000, 2e6, NULL, NULL, NULL },
  { "risk.seed", N_ ("Seed"), JOB_SETTING_NUMBER, "1", 0, 0, 4294967295.0, NULL, NULL, NULL },
  { "risk.field_low", N_ ("Field crew: factor on all field minutes, low"), JOB_SETTING_NUMBER, "0.85", 4, 0.01, 10, NULL, NULL,
    COMMON },
  { "risk.field_likely", N_ ("Field crew: likely"), JOB_SETTING_NUMBER, "1", 4, 0.01, 10, NULL, NULL, COMMON },
  { "risk.field_high", N_ ("Field crew: high"), JOB_SETTING_NUMBER, "1.15", 4, 0.01, 10, NULL, NULL, COMMON },
  { "risk.shop_low", N_ ("Shop: factor on all shop minutes, low"), JOB_SETTING_NUMBER, "0.85", 4, 0.01, 10, NULL, NULL, COMMON },
  { "risk.shop_likely", N_ ("Shop: likely"), JOB_SETTING_NUMBER, "1", 4, 0.01, 10, NULL, NULL, COMMON },
  { "risk.shop_high", N_ ("Shop: high"), JOB_SETTING_NUMBER, "1.15", 4, 0.01, 10, NULL, NULL, COMMON },
  { "risk.metal_low", N_ ("Metal: factor on its price, low"), JOB_SETTING_NUMBER, "1", 4, 0.01, 10, NULL, NULL, NULL },
  { "risk.metal_likely", N_ ("Metal: likely"), JOB_SETTING_NUMBER, "1", 4, 0.01, 10, NULL, NULL, NULL },
  { "risk.metal_high", N_ ("Metal: high"), JOB_SETTING_NUMBER, "1", 4, 0.01, 10, NULL, NULL, NULL },
  { "risk.schedule_low", N_ ("Schedule: factor on site general and rental, low"), JOB_SETTING_NUMBER, "1", 4, 0.01, 10, NULL,
    NULL, NULL },
  { "risk.schedule_likely", N_ ("Schedule: likely"), JOB_SETTING_NUMBER, "1", 4, 0.01, 10, NULL, NULL, NULL },
  { "risk.schedule_high", N_ ("Schedule: high"), JOB_SETTING_NUMBER, "1", 4, 0.01, 10, NULL, NULL, NULL },
  { "risk.field_shop", N_ ("Rank correlation, field crew and shop"), JOB_SETTING_NUMBER, "0", 3, -1, 1, NULL, NULL, NULL },
  { "risk.field_metal", N_ ("Rank correlation, field crew and metal"), JOB_SETTING_NUMBER, "0", 3, -1, 1, NULL, NULL, NULL },
  { "risk.field_schedule", N_ ("Rank correlation, field crew and schedule"), JOB_SETTING_NUMBER, "0", 3, -1, 1, NULL, NULL, NULL },
  { "risk.shop_metal", N_ ("Rank correlation, shop and metal"), JOB_SETTING_NUMBER, "0", 3, -1, 1, NULL, NULL, NULL },
  { "risk.shop_schedule", N_ ("Rank correlation, shop and schedule"), JOB_SETTING_NUMBER, "0", 3, -1, 1, NULL, NULL, NULL },
  { "risk.metal_schedule", N_ ("Rank correlation, metal and schedule"), JOB_SETTING_NUMBER, "0", 3, -1, 1, NULL, NULL, NULL },
  { "risk.confidence", N_ ("Contingency to a confidence of, %"), JOB_SETTING_NUMBER, "80", 1, 50, 99.9, NULL, NULL, COMMON },
  { "risk.base", N_ ("Contingency is counted"), JOB_SETTING_WORD, "likely", 0, 0, 0, bases, say_bases, NULL },
  { "mix.hours", N_ ("At most so many field worker-hours"), JOB_SETTING_NUMBER, "", 1, 0, 1e8, NULL, NULL, NULL },
  { "mix.weeks", N_ ("At most so many crew-weeks in the field"), JOB_SETTING_NUMBER, "", 1, 0, 1e6, NULL, NULL, NULL },
  { "mix.methods", N_ ("At most so many methods"), JOB_SETTING_NUMBER, "", 0, 1, 30, NULL, NULL, NULL },
  { "mix.bands", N_ ("Groups by longest side up to, in"), JOB_SETTING_TEXT, "18 30 54", 0, 0, 0, NULL, NULL, COMMON },
  { "mix.boundary_minutes", N_ ("Joint between two connections: more field minutes"), JOB_SETTING_NUMBER, "20", 1, 0, 10000, NULL,
    NULL, COMMON },
  { "mix.boundary_money", N_ ("Joint between two connections: more hardware"), JOB_SETTING_NUMBER, "15", 2, 0, 100000, NULL, NULL,
    COMMON },
  { "mix.not", N_ ("Methods not allowed on a group (group = method, …; …)"), JOB_SETTING_TEXT, "", 0, 0, 0, NULL, NULL, NULL },
};

const JobSetting *
job_settings (gsize *n)
{
  *n = G_N_ELEMENTS (settings);
  return settings;
}

const JobSetting *
job_setting_find (const char *key)
{
  for (gsize i = 0; i < G_N_ELEMENTS (settings); i++)
    if (strcmp (settings[i].key, key) == 0)
      return &settings[i];
  return NULL;
}

static const JobRecord *
find_record (TallyJob *job, const char *key)
{
  for (guint i = 0; i < job_n (job, JOB_SETTING); i++)
    {
      const JobRecord *r = job_at (job, JOB_SETTING, i);
      if (g_strcmp0 (r->text[SETTING_KEY], key) == 0)
        return r;
    }
  return NULL;
}

const char *
job_setting (TallyJob *job, const char *key)
{
  const JobSetting *setting = job_setting_find (key);
  const JobRecord *r = find_record (job, key);

  g_return_val_if_fail (setting, "");
  return r && r->text[SETTING_VALUE] ? r->text[SETTING_VALUE] : setting->fallback;
}

gboolean
job_setting_held (TallyJob *job, const char *key)
{
  return find_record (job, key) != NULL;
}

double
job_setting_number (TallyJob *job, const char *key)
{
  const JobSetting *setting = job_setting_find (key);
  const char *text = job_setting (job, key);
  gint64 micro;

  /* A file of another hand may hold anything: what cannot be read counts as the default. */
  if (decimal_parse (text, 6, &micro, NULL) && (double) micro / 1e6 >= setting->least && (double) micro / 1e6 <= setting->most)
    return (double) micro / 1e6;
  return *setting->fallback && decimal_parse (setting->fallback, 6, &micro, NULL) ? (double) micro / 1e6 : NAN;
}

static int
place_of (const JobSetting *setting, const char *word)
{
  for (int i = 0; setting->words[i]; i++)
    if (g_ascii_strcasecmp (setting->words[i], word) == 0)
      return i;
  return -1;
}

int
job_setting_word (TallyJob *job, const char *key)
{
  const JobSetting *setting = job_setting_find (key);
  int place = place_of (setting, job_setting (job, key));

  return place >= 0 ? place : place_of (setting, setting->fallback);
}

const char *
job_setting_say (TallyJob *job, const char *key)
{
  return _ (job_setting_find (key)->say[job_setting_word (job, key)]);
}

static char *
read_number (const JobSetting *setting, const char *typed, Fault **fault)
{
  gint64 micro;
  Fault *inner = NULL;
  g_autofree char *least = g_strdup_printf ("%.*f", setting->decimals, setting->least);
  g_autofree char *most = g_strdup_printf ("%.*f", setting->decimals, setting->most);
  g_autofree char *remedy = g_strdup_printf (_ ("enter a number from %s to %s"), least, most);

  if (!decimal_parse (typed, 6, &micro, &inner))
    {
      fault_set (fault, fault_new (-1, remedy, "%s: %s", _ (setting->title), inner->what));
      fault_free (inner);
      return NULL;
    }
  if ((double) micro / 1e6 < setting->least || (double) micro / 1e6 > setting->most)
    {
      fault_set (fault, fault_new (-1, remedy, _ ("%s cannot be “%s”"), _ (setting->title), typed));
      return NULL;
    }
  return decimal_print (micro, 6, 0, FALSE);
}

static char *
read_date (const JobSetting *setting, const char *typed, Fault **fault)
{
  int year, month, day, n = 0;

  if (sscanf (typed, "%4d-%2d-%2d%n", &year, &month, &day, &n) == 3 && typed[n] == '\0' && month > 0 && day > 0 && year > 0
      && g_date_valid_dmy ((GDateDay) day, (GDateMonth) month, (GDateYear) year))
    return g_strdup_printf ("%04d-%02d-%02d", year, month, day);
  fault_set (fault, fault_new (-1, _ ("write it like 2027-03-01"), _ ("%s: “%s” is not a date"), _ (setting->title), typed));
  return NULL;
}

/* "18 30 54". */
static gboolean
bands_fit (const char *text, Fault **fault)
{
  g_auto (GStrv) words = g_strsplit_set (text, " ;", -1);
  gint64 milli, last = 0;

  for (char **w = words; *w; w++)
    {
      if (!**w)
        continue;
      if (!decimal_parse (*w, 3, &milli, NULL) || milli <= 0 || milli > 1000000)
        return fault_set (fault, fault_new (-1, _ ("write rising sizes up to 1000 in with blanks between, like 18 30 54"),
                                            _ ("“%s” is no size of a band, in inches"), *w));
      if (milli <= last)
        return fault_set (fault, fault_new (-1, _ ("write rising sizes with blanks between, like 18 30 54"),
                                            _ ("the band “%s” does not end above the one before it"), *w));
      last = milli;
    }
  return TRUE;
}

/* "SA-1/Level 1/2/18 = method, method; ..." */
static gboolean
not_fits (const char *text, Fault **fault)
{
  g_auto (GStrv) parts = g_strsplit (text, ";", -1);

  for (char **p = parts; *p; p++)
    {
      g_auto (GStrv) sides = g_strsplit (g_strstrip (*p), "=", 2), names = g_strsplit (*p, "/", -1);
      if (**p && (g_strv_length (sides) != 2 || !*g_strstrip (sides[1]) || g_strv_length (names) != 4))
        return fault_set (fault,
                          fault_new (-1,
                                     _ ("write system/area/class/upper end of the band = methods, like "
                                        "SA-1/Level 1/2/18 = slip-and-drive; the command mix --csv lists the groups"),
                                     _ ("“%s” names no group and its methods"), *p));
    }
  return TRUE;
}

char *
job_setting_read (const char *key, const char *typed, Fault **fault)
{
  const JobSetting *setting = job_setting_find (key);
  g_autofree char *text = g_strstrip (g_strdup (typed));

  if (!setting)
    {
      fault_set (fault, fault_new (-1, _ ("use the key of a setting"), _ ("there is no setting “%s”"), key));
      return NULL;
    }
  if (!*text)
    return g_strdup ("");
  if (setting->as == JOB_SETTING_NUMBER)
    return read_number (setting, text, fault);
  if (setting->as == JOB_SETTING_DATE)
    return read_date (setting, text, fault);
  if (setting->as == JOB_SETTING_WORD)
    {
      int place = place_of (setting, text);
      if (place >= 0)
        return g_strdup (setting->words[place]);
      g_autofree char *words = g_strjoinv (", ", (char **) setting->words);
      g_autofree char *remedy = g_strdup_printf (_ ("use one of: %s"), words);
      fault_set (fault, fault_new (-1, remedy, _ ("%s cannot be “%s”"), _ (setting->title), typed));
      return NULL;
    }
  if ((strcmp (key, "mix.bands") == 0 && !bands_fit (text, fault))
      || (strcmp (key, "mix.not") == 0 && !not_fits (text, fault)))
    return NULL;
  return g_steal_pointer (&text);
}

gboolean
job_setting_fits (TallyJob *job, const char *key, const char *value, Fault **fault)
{
  static const char *const points[] = { "_low", "_likely", "_high" }, *const say[] = { N_ ("low"), N_ ("likely"), N_ ("high") };
  const JobSetting *setting = job_setting_find (key);
  gint64 micro;
  int at = -1;

  for (int k = 0; k < 3; k++)
    if (g_str_has_prefix (key, "risk.") && g_str_has_suffix (key, points[k]))
      at = k;
  if (at < 0 || !decimal_parse (*value ? value : setting->fallback, 6, &micro, NULL))
    return TRUE;
  for (int k = 0; k < 3; k++)
    {
      g_autofree char *stem = g_strndup (key, strlen (key) - strlen (points[at])), *other = g_strconcat (stem, points[k], NULL);
      double x = (double) micro / 1e6, limit = job_setting_number (job, other);
      if (k == at || (k > at ? x <= limit : x >= limit))
        continue;
      g_autofree char *remedy = g_strdup_printf (k > at ? _ ("at most %.10g here, or raise “%s” first") : _ ("at least %.10g here, or lower “%s” first"),
                                                 limit, _ (say[k]));
      return fault_set (fault, fault_new (-1, remedy, k > at ? _ ("%.10g is above “%s”, which is %.10g") : _ ("%.10g is below “%s”, which is %.10g"),
                                          x, _ (say[k]), limit));
    }
  return TRUE;
}

void
job_edit_setting (TallyJob *job, JobEdit *edit, const char *key, const char *value)
{
  const JobRecord *present = find_record (job, key);
  JobRecord *after = NULL;
  gint64 ord, step;

  if (value && !*value)
    value = NULL;
  if (!present ? !value : g_strcmp0 (present->text[SETTING_VALUE], value) == 0)
    return;
  if (value && present)
    after = job_record_copy (present);
  else if (value)
    {
      job_ord_before (job, JOB_SETTING, job_n (job, JOB_SETTING), 1, &ord, &step);
      after = job_record_new (JOB_SETTING, job_take_id (job, JOB_SETTING), ord);
      job_record_set_text (after, SETTING_KEY, key);
    }
  if (after)
    job_record_set_text (after, SETTING_VALUE, value);
  job_edit_add (edit, present ? job_record_ref (present) : NULL, after);
}
