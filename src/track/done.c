/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "track/done.h"

#include "base/decimal.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define MARK "\xE2\x9C\x93"

const char *
done_stage_name (DoneStage stage)
{
  static const char *const name[DONE_N_STAGES] = { N_ ("fabricated"), N_ ("hung"), N_ ("joined"), N_ ("tested") };

  return stage < DONE_N_STAGES ? _ (name[stage]) : "";
}

typedef struct
{
  gint64 run;
  gint64 ppm[DONE_N_STAGES];
} Row;

DoneTable *
done_table_new (const GArray *ticks)
{
  GHashTable *table = g_hash_table_new_full (g_int64_hash, g_int64_equal, NULL, g_free);

  for (guint i = 0; i < ticks->len; i++)
    {
      const DoneTick *tick = &g_array_index (ticks, DoneTick, i);
      Row *row = g_hash_table_lookup (table, &tick->run);
      if (!row)
        {
          row = g_new0 (Row, 1);
          row->run = tick->run;
          g_hash_table_insert (table, &row->run, row);
        }
      row->ppm[tick->stage] = tick->ppm;
    }
  return table;
}

void
done_table_get (DoneTable *table, gint64 run, gint64 ppm[DONE_N_STAGES])
{
  const Row *row = g_hash_table_lookup (table, &run);

  for (int i = 0; i < DONE_N_STAGES; i++)
    ppm[i] = row ? row->ppm[i] : 0;
}

void
done_effective (const gint64 ticked[DONE_N_STAGES], gint64 ppm[DONE_N_STAGES])
{
  gint64 later = 0;

  for (int i = DONE_N_STAGES; i-- > 0;)
    ppm[i] = later = MAX (later, ticked[i]);
}

static gboolean
is_word (const char *text, const char *const *words)
{
  g_autofree char *folded = g_utf8_casefold (text, -1);

  return g_strv_contains (words, folded);
}

gboolean
done_parse (const char *text, gint64 *ppm, Fault **fault)
{
  static const char *const all[] = { "x", "yes", "y", "done", "all", MARK, NULL };
  static const char *const none[] = { "", "no", "n", "-", "none", NULL };
  g_autofree char *own = g_strstrip (g_strdup (text));
  gsize length = strlen (own);

  if (is_word (own, all) || is_word (own, none))
    {
      *ppm = is_word (own, all) ? DONE_ALL : 0;
      return TRUE;
    }
  if (own[length - 1] == '%')
    own[length - 1] = '\0';
  if (!decimal_parse (own, 4, ppm, NULL))
    return fault_set (fault, fault_new (0, _ ("type x for all of it, or a percentage such as 50"),
                                        _ ("“%s” does not say how much is done"), own));
  if (*ppm < 0 || *ppm > DONE_ALL)
    return fault_set (fault, fault_new (0, _ ("type a percentage from 0 to 100"), _ ("a run is not more than 100 %% done, nor less than 0")));
  return TRUE;
}

char *
done_print (gint64 ppm)
{
  g_autofree char *percent = NULL;

  if (ppm <= 0)
    return g_strdup ("");
  if (ppm >= DONE_ALL)
    return g_strdup (MARK);
  percent = decimal_print (ppm, 4, 0, FALSE);
  return g_strdup_printf ("%s %%", percent);
}
