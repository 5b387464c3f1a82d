/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/in-force.h"

#include "base/decimal.h"
#include "job/job-private.h"
#include "job/labour-model.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* A condition and the places that name it. */
typedef struct
{
  char *words; /* "high work x 1.15" */
  GString *where;
  guint runs;
} Named;

static void
named_free (gpointer data)
{
  Named *n = data;

  g_free (n->words);
  g_string_free (n->where, TRUE);
  g_free (n);
}

/* @where NULL: a run. */
static void
add_named (GPtrArray *all, const char *name, gint64 ppm, const char *where)
{
  g_autofree char *factor = decimal_print (ppm, 6, 0, FALSE);
  g_autofree char *words = g_strdup_printf (_ ("%s x %s"), name, factor);
  Named *n = NULL;

  for (guint i = 0; i < all->len && !n; i++)
    if (strcmp (((Named *) all->pdata[i])->words, words) == 0)
      n = all->pdata[i];
  if (!n)
    {
      n = g_new0 (Named, 1);
      n->words = g_steal_pointer (&words);
      n->where = g_string_new (NULL);
      g_ptr_array_add (all, n);
    }
  if (where)
    g_string_append_printf (n->where, "%s%s", n->where->len > 0 ? ", " : "", where);
  else
    n->runs++;
}

static void
add_list (TallyJob *job, GPtrArray *all, const char *list, const char *where)
{
  const LabourTables *labour = job->catalogue->labour;

  if (!list || !*list)
    return;
  g_auto (GStrv) keys = g_strsplit (list, ";", -1);
  for (char **key = keys; *key; key++)
    {
      int i = labour_find_condition (labour, g_strstrip (*key));
      const LabourCondition *c = i >= 0 ? g_ptr_array_index (labour->conditions, (guint) i) : NULL;
      if (c)
        add_named (all, c->key, c->factor_ppm, where);
    }
}

static char *
conditions_words (TallyJob *job)
{
  g_autoptr (GPtrArray) all = g_ptr_array_new_with_free_func (named_free);
  g_autoptr (GString) out = g_string_new (NULL);

  add_list (job, all, job_head (job)->text[HEAD_CONDITION], _ ("the whole job"));
  for (guint i = 0; i < job_n (job, JOB_AREA); i++)
    {
      const JobRecord *r = job_at (job, JOB_AREA, i);
      add_list (job, all, r->text[AREA_CONDITION], r->text[AREA_KEY]);
      if (r->num[AREA_FACTOR] != JOB_UNSET && r->num[AREA_FACTOR] != 1000000)
        add_named (all, _ ("the area's own factor"), r->num[AREA_FACTOR], r->text[AREA_KEY]);
    }
  for (guint i = 0; i < job_n (job, JOB_SYSTEM); i++)
    add_list (job, all, job_at (job, JOB_SYSTEM, i)->text[SYSTEM_CONDITION],
              job_at (job, JOB_SYSTEM, i)->text[SYSTEM_KEY]);
  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    add_list (job, all, job_at (job, JOB_RUN, i)->text[RUN_CONDITION], NULL);
  for (guint i = 0; i < all->len; i++)
    {
      const Named *n = all->pdata[i];
      g_autofree char *runs =
          n->runs == 0 ? g_strdup ("")
                       : g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u run", "%u runs", n->runs), n->runs);
      g_string_append_printf (out, "%s%s (%s%s%s)", i > 0 ? "; " : "", n->words, n->where->str,
                              n->where->len > 0 && *runs ? ", " : "", runs);
    }
  return out->len > 0 ? g_strdup_printf (_ ("Conditions in force: %s."), out->str) : NULL;
}

/* Words that begin a sentence. */
static char *
sentence (const char *words)
{
  char head[7] = { 0 };
  gsize n = strlen (words);

  g_unichar_to_utf8 (g_unichar_toupper (g_utf8_get_char (words)), head);
  return g_strdup_printf ("%s%s%s", head, *words ? g_utf8_next_char (words) : "",
                          n > 0 && words[n - 1] == '.' ? "" : ".");
}

GPtrArray *
job_in_force (TallyJob *job)
{
  GPtrArray *out = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) labour = job_labour_words (job);
  char *conditions = conditions_words (job);

  if (conditions)
    g_ptr_array_add (out, conditions);
  for (guint i = 0; i < labour->len; i++)
    g_ptr_array_add (out, sentence (labour->pdata[i]));
  return out;
}
