/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/construction.h"

#include "base/measure.h"
#include "cost/rests.h"
#include "duct/rests.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static void
rest_free (gpointer data)
{
  JobRest *rest = data;

  g_free (rest->words);
  g_free (rest->source);
  g_free (rest);
}

static void
unanswered_free (gpointer data)
{
  JobUnanswered *u = data;

  g_free (u->what);
  g_free (u->remedy);
  g_free (u);
}

void
job_construction_free (JobConstruction *c)
{
  g_ptr_array_unref (c->rests);
  g_ptr_array_unref (c->unanswered);
  g_array_unref (c->cautions);
  g_clear_pointer (&c->known, g_hash_table_unref);
  g_free (c);
}

static void
add_caution (JobConstruction *c, DuctNote note, gint64 run)
{
  for (guint i = 0; i < c->cautions->len; i++)
    {
      JobCaution *known = &g_array_index (c->cautions, JobCaution, i);
      if (known->note == note)
        {
          known->runs++;
          return;
        }
    }
  JobCaution caution = { note, 1, run };
  g_array_append_val (c->cautions, caution);
}

/* Rows are told apart by their words, so that two pins of one gauge are one line. */
static gboolean
add_rests (TallyJob *job, JobConstruction *c, GHashTable *known, const JobRecord *run, const JobRunResult *r)
{
  const DuctRules *rules = job_basis (job)->catalogue->rules;
  g_autoptr (GArray) rests = duct_rests (rules, &r->shape, &r->build);
  gint64 mg = duct_measure_sum (&r->measure, DUCT_NET_LB) * (r->count / 1000);
  gboolean weak = FALSE;

  for (guint i = 0; i < rests->len; i++)
    {
      const DuctRest *from = &g_array_index (rests, DuctRest, i);
      g_autofree char *key = g_strconcat (from->table, "\t", from->words, "\t", from->source, NULL);
      JobRest *rest = g_hash_table_lookup (known, key);

      if (!rest)
        {
          rest = g_new0 (JobRest, 1);
          rest->table = from->table;
          rest->words = g_strdup (from->words);
          rest->source = g_strdup (from->source);
          rest->status = from->status;
          rest->first_run = run->id;
          g_ptr_array_add (c->rests, rest);
          g_hash_table_insert (known, g_steal_pointer (&key), rest);
        }
      rest->runs++;
      rest->net_mg += mg;
      weak = weak || cost_status_weak (from->status);
    }
  return weak;
}

static gint
compare_rests (gconstpointer a, gconstpointer b)
{
  const JobRest *x = *(JobRest *const *) a, *y = *(JobRest *const *) b;
  int table = strcmp (x->table, y->table);

  return table != 0 ? table : x->status != y->status ? (int) y->status - (int) x->status : strcmp (x->words, y->words);
}

static void
look_at (JobConstruction *c, TallyJob *job, const JobRecord *run)
{
  JobRunResult r;

  if (run->num[RUN_KIND] != JOB_UNSET && !duct_kind_measured ((DuctKind) run->num[RUN_KIND]))
    return;
  if (job_compute (job, run, JOB_OWN_METHOD, &r))
    {
      c->runs++;
      c->weak += add_rests (job, c, c->known, run, &r) ? 1 : 0;
      for (int n = 0; n < DUCT_N_NOTES; n++)
        if (r.measure.notes & (1u << n))
          add_caution (c, (DuctNote) (1u << n), run->id);
    }
  else
    {
      JobUnanswered *u = g_new0 (JobUnanswered, 1);
      u->run = run->id;
      u->field = r.fault_field;
      u->what = g_strdup (r.fault ? r.fault->what : "");
      u->remedy = g_strdup (r.fault && r.fault->remedy ? r.fault->remedy : "");
      g_ptr_array_add (c->unanswered, u);
    }
  job_run_result_clear (&r);
}

JobConstruction *
job_construction_begin (void)
{
  JobConstruction *c = g_new0 (JobConstruction, 1);

  c->rests = g_ptr_array_new_with_free_func (rest_free);
  c->unanswered = g_ptr_array_new_with_free_func (unanswered_free);
  c->cautions = g_array_new (FALSE, TRUE, sizeof (JobCaution));
  c->known = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  return c;
}

gboolean
job_construction_step (JobConstruction *c, TallyJob *job, guint n)
{
  if (!c->known)
    return FALSE;
  for (; n > 0 && c->next < job_n (job, JOB_RUN); n--)
    look_at (c, job, job_at (job, JOB_RUN, c->next++));
  if (c->next < job_n (job, JOB_RUN))
    return TRUE;
  g_clear_pointer (&c->known, g_hash_table_unref);
  g_ptr_array_sort (c->rests, compare_rests);
  return FALSE;
}

JobConstruction *
job_construction (TallyJob *job)
{
  JobConstruction *c = job_construction_begin ();

  while (job_construction_step (c, job, G_MAXUINT))
    ;
  return c;
}

const char *
job_construction_caution (void)
{
  return _ ("The specification, the engineer of record and the adopted local code govern and may ask for more than any table "
            "here. Have the construction checked by someone licensed to do so before metal is cut, lifted or hung.");
}

/* ---- words ---- */

char *
job_construction_words (const JobConstruction *c)
{
  g_autofree char *built = NULL;

  if (c->runs + c->unanswered->len == 0)
    return g_strdup (_ ("No run of ductwork is in this job yet."));
  if (c->weak == c->runs && c->runs > 1)
    built = g_strdup_printf (_ ("%u runs are built, all of them on remembered or invented figures"), c->runs);
  else if (c->weak == 0)
    built = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u run is built, on no remembered or invented figure",
                                          "%u runs are built, on no remembered or invented figure", c->runs),
                             c->runs);
  else
    built = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u run is built, %u of it on remembered or invented figures",
                                          "%u runs are built, %u of them on remembered or invented figures", c->runs),
                             c->runs, c->weak);
  if (c->unanswered->len == 0)
    return g_strdup_printf ("%s.", built);
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s; %u is not built.", "%s; %u are not built.", c->unanswered->len), built,
                          c->unanswered->len);
}

char *
job_construction_run (TallyJob *job, gint64 id)
{
  const JobRecord *run = job_find (job, JOB_RUN, id);

  if (!run)
    return g_strdup ("");
  g_autofree char *kind = job_record_print (run, job_field_find (JOB_RUN, "kind"), job_names (job));
  g_autofree char *size = job_record_print (run, job_field_find (JOB_RUN, "size"), job_names (job));
  return g_strstrip (g_strdup_printf (_ ("run %d, %s %s"), job_position (job, id) + 1, kind, size));
}

/* Adds the cells of a line with tabs between them. */
static void
add_line (GString *out, const char *const *cells, gsize n)
{
  for (gsize i = 0; i < n; i++)
    g_string_append_printf (out, "%s%s", i ? "\t" : "", cells[i] ? cells[i] : "");
  g_string_append_c (out, '\n');
}

static void
add_rest_lines (GString *out, TallyJob *job, const JobConstruction *c)
{
  gboolean metric = job_names (job)->metric;
  const char *heads[] = { _ ("table"), _ ("row"), _ ("status"), _ ("runs"), metric ? _ ("net kg") : _ ("net lb"), _ ("source") };

  add_line (out, heads, G_N_ELEMENTS (heads));
  for (guint i = 0; i < c->rests->len; i++)
    {
      const JobRest *rest = g_ptr_array_index (c->rests, i);
      g_autofree char *runs = g_strdup_printf ("%u", rest->runs);
      g_autofree char *mass = g_strdup_printf ("%.1f", metric ? (double) rest->net_mg / 1e6 : measure_lb (rest->net_mg));
      const char *cells[] = { rest->table, rest->words, duct_status_key (rest->status), runs, mass, rest->source };
      add_line (out, cells, G_N_ELEMENTS (cells));
    }
}

char *
job_construction_text (TallyJob *job, const JobConstruction *c)
{
  GString *out = g_string_new (NULL);
  g_autofree char *words = job_construction_words (c);

  g_string_append_printf (out, "%s\n\n", words);
  for (guint i = 0; i < c->unanswered->len; i++)
    {
      const JobUnanswered *u = g_ptr_array_index (c->unanswered, i);
      g_autofree char *run = job_construction_run (job, u->run);
      const char *cells[] = { run, u->what, u->remedy };
      const char *heads[] = { _ ("run"), _ ("no answer"), _ ("what to do") };
      if (i == 0)
        add_line (out, heads, G_N_ELEMENTS (heads));
      add_line (out, cells, G_N_ELEMENTS (cells));
    }
  if (c->unanswered->len > 0)
    g_string_append_c (out, '\n');
  if (c->rests->len > 0)
    add_rest_lines (out, job, c);
  for (guint i = 0; i < c->cautions->len; i++)
    {
      const JobCaution *caution = &g_array_index (c->cautions, JobCaution, i);
      g_string_append_printf (out, g_dngettext (GETTEXT_PACKAGE, "%s%s (%u run)\n", "%s%s (%u runs)\n", caution->runs), i == 0 ? "\n" : "",
                              duct_note_words (caution->note), caution->runs);
    }
  g_string_append_printf (out, "\n%s\n", job_construction_caution ());
  return g_string_free (out, FALSE);
}
