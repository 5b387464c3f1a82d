/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "labour/money.h"

#include "base/decimal.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

const char *const labour_burden_keys[LABOUR_N_BURDENS] = { "wage", "wage to a cap", "flat" };
const char *const labour_loss_keys[LABOUR_N_LOSSES] = { "divide", "multiply" };

#define MILLION 1000000

GPtrArray *
labour_burdens_of (const LabourTables *tables, const char *crew, const char *class)
{
  GPtrArray *out = NULL;

  for (guint i = 0; i < tables->burdens->len; i++)
    {
      LabourBurden *b = g_ptr_array_index (tables->burdens, i);
      if ((*b->crew && strcmp (b->crew, crew) != 0) || (*b->class && g_ascii_strcasecmp (b->class, class) != 0))
        continue;
      if (!out)
        out = g_ptr_array_new ();
      g_ptr_array_add (out, b);
    }
  return out;
}

/* ---- one hour of a class ---- */

/* One component, 1e-10. @straight, @pay: an hour's wage without and with overtime's premium, 1e-16. */
static NumWide
component (const LabourBurden *b, NumWide straight, NumWide pay)
{
  NumWide base = b->on_premium ? pay : straight, cap;

  switch (b->basis)
    {
    case LABOUR_ON_WAGE_TO_CAP:
      /* K / h in 1e-16: ten-thousandths x 1e12, over thousandths of an hour. */
      if (b->hours <= 0) /* a row with a fault: told where it is read */
        return 0;
      cap = num_wide_div ((NumWide) b->cap * MILLION * MILLION * 1000, b->hours);
      return num_wide_div (MIN (base, cap) * b->rate_ppm, (NumWide) MILLION * MILLION);
    case LABOUR_FLAT:
      return (NumWide) b->amount * MILLION;
    case LABOUR_ON_WAGE:
    case LABOUR_N_BURDENS:
    default:
      return 0; /* with the pay, in one rounding */
    }
}

void
labour_member_parts (const LabourMember *m, gint64 paid, LabourHour *parts)
{
  gint64 on_pay = m->burden_ppm, on_straight = 0;
  NumWide straight = (NumWide) m->wage * (MILLION + m->shift_ppm);       /* 1e-10 */
  NumWide pay = straight * (paid > 0 ? paid : m->paid);                  /* 1e-22 */
  NumWide straight_16 = straight * MILLION, pay_16 = num_wide_div (pay, MILLION);

  memset (parts, 0, sizeof *parts);
  parts->flat = (NumWide) (m->fringe + m->flat + m->travel) * MILLION;
  for (guint i = 0; m->burdens && i < m->burdens->len; i++)
    {
      const LabourBurden *b = g_ptr_array_index (m->burdens, i);
      NumWide money = component (b, straight_16, pay_16);
      on_pay += b->basis == LABOUR_ON_WAGE && b->on_premium ? b->rate_ppm : 0;
      on_straight += b->basis == LABOUR_ON_WAGE && !b->on_premium ? b->rate_ppm : 0;
      if (b->basis == LABOUR_FLAT)
        parts->flat += money;
      else
        parts->capped += money;
    }
  parts->pay = num_wide_div (pay, LABOUR_PAID_ONE);
  /* All on the wage is rounded once, at 1e-10. */
  parts->on_wage = num_wide_div (pay * (MILLION + on_pay) + straight * LABOUR_PAID_ONE * on_straight, (NumWide) LABOUR_PAID_ONE * MILLION)
                   - parts->pay;
}

static NumWide
hour_of (const LabourMember *m, gint64 paid)
{
  LabourHour parts;

  labour_member_parts (m, paid, &parts);
  return parts.pay + parts.on_wage + parts.capped + parts.flat;
}

NumWide
labour_member_hour (const LabourMember *member)
{
  return hour_of (member, 0);
}

/* Heads in thousandths and their money in 1e-13. */
static NumWide
add_members (const LabourMember *members, gsize n, gint64 paid, NumWide *heads)
{
  NumWide sum = 0;

  *heads = 0;
  for (gsize i = 0; i < n; i++)
    {
      sum += hour_of (&members[i], paid) * members[i].heads;
      *heads += members[i].heads;
    }
  return sum;
}

static gint64
composite (const LabourMember *members, gsize n, gint64 paid)
{
  NumWide heads, sum = add_members (members, n, paid, &heads);
  gint64 rate = 0;

  if (heads > 0)
    num_narrow (num_wide_div (sum, heads * MILLION), &rate);
  return rate;
}

gint64
labour_crew_rate (const LabourMember *members, gsize n)
{
  return composite (members, n, 0);
}

gint64
labour_crew_rate_for (const LabourCrew *crew, gint64 paid)
{
  return composite ((const LabourMember *) crew->members->data, crew->members->len, paid);
}

/* ---- a week's pay ---- */

gint64
labour_paid (double hours, double premium)
{
  gint64 paid = LABOUR_PAID_ONE;

  if (hours <= LABOUR_STRAIGHT_WEEK)
    return paid;
  return num_from_double ((LABOUR_STRAIGHT_WEEK + premium * (hours - LABOUR_STRAIGHT_WEEK)) / hours * (double) LABOUR_PAID_ONE, &paid)
             ? paid
             : LABOUR_PAID_ONE;
}

char *
labour_paid_print (gint64 paid)
{
  return decimal_print (num_div (paid, LABOUR_PAID_ONE / MILLION), 6, 2, FALSE);
}

double
labour_premium_on_hours (gint64 paid)
{
  return (double) (paid - LABOUR_PAID_ONE) / (double) LABOUR_PAID_ONE;
}

double
labour_premium_on_pay (gint64 paid)
{
  return (double) (paid - LABOUR_PAID_ONE) / (double) paid;
}

gboolean
labour_week_parse (const char *text, double *hours, Fault **fault)
{
  g_auto (GStrv) words = g_strsplit (text, "x", 2);
  gint64 days = 10, each;

  if ((words[0] && words[1] && !decimal_parse (g_strstrip (words[0]), 1, &days, fault))
      || !decimal_parse (words[0] && words[1] ? g_strstrip (words[1]) : text, 2, &each, fault))
    return FALSE;
  if (words[0] && words[1] && (days < 1 || days > 70 || each < 1 || each > 2400))
    return fault_set (fault, fault_new (-1, _ ("write at most 7 days x 24 hours a day, such as 5x10"), _ ("“%s” is no working week"), text));
  *hours = (double) days / 10 * (double) each / 100;
  if (*hours > 0 && *hours <= 100)
    return TRUE;
  return fault_set (fault, fault_new (-1, _ ("write days x hours a day, 5x10, or the hours of a week, over 0 and up to 100"),
                                      _ ("“%s” is no working week"), text));
}

/* ---- loss of output ---- */

double
labour_loss_factor (double loss, LabourLossBasis basis)
{
  return basis == LABOUR_LOSS_MULTIPLY ? 1 + loss : 1 / (1 - loss);
}

/* What there is: the tables, or the hours of one table, for a remedy. */
static char *
list_rows (const LabourTables *tables, const char *key)
{
  g_autoptr (GPtrArray) seen = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < tables->losses->len; i++)
    {
      const LabourLossRow *row = g_ptr_array_index (tables->losses, i);
      g_autofree char *word = key ? decimal_print (row->hours, 3, 0, FALSE) : g_strdup (row->table);
      if ((!key || strcmp (row->table, key) == 0) && !g_ptr_array_find_with_equal_func (seen, word, g_str_equal, NULL))
        g_ptr_array_add (seen, g_steal_pointer (&word));
    }
  g_ptr_array_add (seen, NULL);
  return g_strjoinv (", ", (char **) seen->pdata);
}

static gboolean
no_rows (const LabourTables *tables, const char *key, double hours, Fault **fault)
{
  g_autofree char *there = list_rows (tables, NULL), *has = list_rows (tables, key), *remedy = NULL;

  if (*has)
    {
      remedy = g_strdup_printf (_ ("choose hours that it has: %s; or add rows to the catalogue"), has);
      return fault_set (fault, fault_new (-1, remedy, _ ("the overtime loss table “%s” has no rows for %g hours a week"), key, hours));
    }
  remedy = *there ? g_strdup_printf (_ ("choose one of: %s"), there)
                  : g_strdup (_ ("enter the office's own in the catalogue, sheet overtime_loss: none comes with the program, and none "
                                 "of the published ones is binding"));
  return fault_set (fault, fault_new (-1, remedy, _ ("there is no overtime loss table “%s”"), key));
}

static const LabourLossRow *
find_row (const LabourTables *tables, const char *key, double hours, int week)
{
  const LabourLossRow *best = NULL;

  for (guint i = 0; i < tables->losses->len; i++)
    {
      const LabourLossRow *row = g_ptr_array_index (tables->losses, i);
      if (strcmp (row->table, key) == 0 && fabs ((double) row->hours / 1e3 - hours) < 5e-4 && row->week <= week
          && (!best || row->week > best->week))
        best = row;
    }
  return best;
}

gboolean
labour_loss_average (const LabourTables *tables, const char *key, double hours, int weeks, LabourLossBasis basis, LabourLoss *loss,
                     Fault **fault)
{
  const LabourLossRow *last = find_row (tables, key, hours, G_MAXINT);
  double sum = 0;

  *loss = (LabourLoss) { .basis = basis, .weeks = weeks, .factor_ppm = MILLION };
  if (!last)
    return no_rows (tables, key, hours, fault);
  loss->weeks_known = last->week;
  loss->basis_is_tables = last->basis >= 0;
  if (last->basis >= 0)
    loss->basis = (LabourLossBasis) last->basis;
  loss->source = last->source;
  loss->status = last->status;
  /* A table that starts late loses nothing before its first week; behind its last one the last loss goes on. */
  for (int w = 1; w <= weeks; w++)
    {
      const LabourLossRow *row = find_row (tables, key, hours, w);
      sum += row ? (double) row->loss_ppm / 1e6 : 0;
    }
  if (weeks > 0)
    {
      loss->loss = sum / weeks;
      num_from_double (labour_loss_factor (loss->loss, loss->basis) * 1e6, &loss->factor_ppm);
    }
  return TRUE;
}

/* ---- worked calculations ---- */

static char *
money_text (NumWide tenth_nano)
{
  g_autofree char *all = num_wide_print (num_wide_div (tenth_nano, 1000), 7);
  gsize n = strlen (all);

  /* Seven decimals at most, two at least, without trailing zeros. */
  while (n > 2 && all[n - 1] == '0' && all[n - 3] != '.')
    n--;
  return g_strndup (all, n);
}

/* "7.65 % payroll tax + 3.20 % insurance", those of one kind. */
static void
append_components (GString *out, const LabourMember *m, LabourBurdenBasis basis)
{
  for (guint i = 0; m->burdens && i < m->burdens->len; i++)
    {
      const LabourBurden *b = g_ptr_array_index (m->burdens, i);
      if (b->basis != basis)
        continue;
      g_autofree char *rate = decimal_print (b->rate_ppm, 4, 0, FALSE), *flat = decimal_print (b->amount, 4, 2, FALSE);
      g_autofree char *cap = decimal_print (b->cap, 4, 0, TRUE), *hours = decimal_print (b->hours, 3, 0, TRUE);
      g_string_append (out, out->len > 0 ? ", " : "");
      if (basis == LABOUR_FLAT)
        g_string_append_printf (out, "%s %s", b->component, flat);
      else if (basis == LABOUR_ON_WAGE_TO_CAP)
        g_string_append_printf (out, _ ("%s %s %% to %s a year at %s h"), b->component, rate, cap, hours);
      else
        g_string_append_printf (out, "%s %s %%", b->component, rate);
      if (basis != LABOUR_FLAT && !b->on_premium)
        g_string_append (out, _ (" (not on the premium)"));
    }
}

static void
append_flat (GString *out, const LabourMember *m)
{
  const struct
  {
    const char *word;
    gint64 money;
  } parts[] = { { _ ("fringes"), m->fringe }, { _ ("flat burden"), m->flat }, { _ ("travel and subsistence"), m->travel } };

  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      g_autofree char *text = decimal_print (parts[i].money, 4, 2, FALSE);
      if (parts[i].money != 0)
        g_string_append_printf (out, "%s%s %s", out->len > 0 ? ", " : "", parts[i].word, text);
    }
  append_components (out, m, LABOUR_FLAT);
}

static char *
member_words (const LabourMember *m, gint64 week_paid)
{
  gint64 paid = week_paid > 0 ? week_paid : m->paid;
  g_autofree char *wage = decimal_print (m->wage, 4, 2, FALSE), *factor = labour_paid_print (paid);
  g_autofree char *shift = decimal_print (MILLION + m->shift_ppm, 6, 2, FALSE), *heads = decimal_print (m->heads, 3, 0, FALSE);
  g_autoptr (GString) on_wage = g_string_new (NULL), capped = g_string_new (NULL), flat = g_string_new (NULL);
  GString *out = g_string_new (NULL);
  LabourHour h;

  labour_member_parts (m, paid, &h);
  g_autofree char *pay = money_text (h.pay), *with = money_text (h.pay + h.on_wage), *cap = money_text (h.capped);
  g_autofree char *lump = money_text (h.flat), *all = money_text (h.pay + h.on_wage + h.capped + h.flat);
  g_string_append_printf (out, "%s: %s", m->name, wage);
  if (m->shift_ppm != 0)
    g_string_append_printf (out, _ (" x %s for the shift"), shift);
  if (paid != LABOUR_PAID_ONE)
    g_string_append_printf (out, _ (" x %s paid hours an hour worked"), factor);
  if (m->shift_ppm != 0 || paid != LABOUR_PAID_ONE)
    g_string_append_printf (out, " = %s", pay);
  if (m->burden_ppm != 0)
    {
      g_autofree char *rate = decimal_print (m->burden_ppm, 4, 0, FALSE);
      g_string_append_printf (on_wage, _ ("burden %s %%"), rate);
    }
  append_components (on_wage, m, LABOUR_ON_WAGE);
  append_components (capped, m, LABOUR_ON_WAGE_TO_CAP);
  append_flat (flat, m);
  if (h.on_wage != 0)
    {
      double share = num_wide_to_double (h.on_wage) / num_wide_to_double (MAX (h.pay, 1));
      g_autofree char *times = decimal_print_significant (1 + share, 7);
      g_string_append_printf (out, _ ("; x %s burden on the pay (%s) = %s"), times, on_wage->str, with);
    }
  if (h.capped != 0)
    g_string_append_printf (out, _ ("; + %s to a yearly cap (%s)"), cap, capped->str);
  if (h.flat != 0)
    g_string_append_printf (out, _ ("; + %s (%s)"), lump, flat->str);
  if (h.on_wage != 0 || h.capped != 0 || h.flat != 0)
    g_string_append_printf (out, " = %s", all);
  g_string_append_printf (out, _ (" an hour worked; %s in the crew"), heads);
  return g_string_free (out, FALSE);
}

GPtrArray *
labour_crew_worked (const LabourCrew *crew, gint64 paid)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);
  const LabourMember *members = (const LabourMember *) crew->members->data;
  NumWide heads, sum = add_members (members, crew->members->len, paid, &heads);
  gint64 whole = 0;

  for (guint i = 0; i < crew->members->len; i++)
    g_ptr_array_add (lines, member_words (&members[i], paid));
  num_narrow (heads, &whole);
  g_autofree char *n = decimal_print (whole, 3, 0, FALSE);
  g_autofree char *an_hour = money_text (num_wide_div (sum, 1000));
  g_autofree char *each = num_wide_print (heads > 0 ? num_wide_div (sum, heads * 10000) : 0, 6);
  g_autofree char *rate = decimal_print (labour_crew_rate_for (crew, paid), 4, 2, FALSE);
  g_ptr_array_add (lines, g_strdup_printf (_ ("crew of %s: %s an hour; composite %s a worker-hour, as a rate %s"), n, an_hour, each, rate));
  g_ptr_array_add (lines, g_strdup (_ ("site general is outside of it, and outside of the steps' minutes: a line of the build-up")));
  return lines;
}
