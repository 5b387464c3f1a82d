/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/choose.h"

#include "job/job-private.h"
#include "job/note-line.h"

#include <glib/gi18n-lib.h>
#include <string.h>

void
job_choice_clear (JobChoice *choice)
{
  g_clear_pointer (&choice->choice, cost_choice_free);
  g_clear_pointer (&choice->fault, fault_free);
}

#define OWN_GAUGE "own gauge"

/* A gauge that no choice put there: it has no construction beside it, or one that says so. */
static gboolean
own_gauge (const JobRecord *run)
{
  return run->text[RUN_GAUGE] && (!run->text[RUN_CONSTRUCTION] || g_str_has_prefix (run->text[RUN_CONSTRUCTION], OWN_GAUGE));
}

/* The run as it was before its construction was chosen. */
static JobRecord *
without_pin (const JobRecord *run)
{
  JobRecord *bare;

  if (!run->text[RUN_CONSTRUCTION])
    return job_record_ref (run);
  bare = job_record_copy (run);
  job_record_set_text (bare, RUN_CONSTRUCTION, NULL);
  if (!own_gauge (run))
    job_record_set_text (bare, RUN_GAUGE, NULL);
  return bare;
}

static gboolean
read_wishes (TallyJob *job, DuctWishes *wishes, Fault **fault)
{
  return duct_wishes_parse (job_head (job)->text[HEAD_PREFER], wishes, fault);
}

/* Shape, method and rule set of a run without its pin. */
static gboolean
prepare (TallyJob *job, const JobRecord *run, JobChoice *c)
{
  g_autoptr (JobRecord) bare = without_pin (run);
  const JobBucket *b = job_bucket_of (job, run);
  gint64 count;
  int own;

  if (!job_shape (job, bare, b, &c->shape, &own, &count, &c->field, &c->fault))
    return FALSE;
  c->set = b->rule_set;
  c->method = cost_effective_method (job->basis, own, &c->shape, NULL);
  if (c->method >= 0 && c->set >= 0)
    return TRUE;
  c->field = c->method < 0 ? job_field_find (JOB_RUN, "method") : -1;
  c->fault = c->method < 0 ? fault_new (-1, _ ("choose another method for this run"), _ ("its method is not allowed here"))
                           : fault_new (-1, _ ("choose one for the job or the system"), _ ("no rule set is chosen"));
  return FALSE;
}

static void
price (TallyJob *job, const JobBucket *b, const DuctWishes *wishes, gboolean refused, JobChoice *c)
{
  LabourFactors factors = b->factors;

  factors.learned = job_learned (job, JOB_OWN_METHOD);
  c->choice = cost_choose (job->basis, c->method, c->set, &c->shape, wishes, &factors, b->floor_ppm, refused);
  if (c->choice->best >= 0)
    return;
  const DuctRuleSet *set = g_ptr_array_index (job->catalogue->rules->sets, (guint) c->set);
  c->fault = fault_new (-1, _ ("see which rule refuses each, choose another rule set or method, or enter the gauge"),
                        _ ("the rule set “%s” allows no construction of this size, class and connection"), set->name);
}

/* Lines of words, counted lines and what is bought whole have none. */
static gboolean
has_construction (const JobRecord *run)
{
  gint64 kind = run->num[RUN_KIND];

  return kind != JOB_UNSET && kind != DUCT_COUNTED && !job_is_note_line (run) && duct_kind_has_gauge ((DuctKind) kind);
}

gboolean
job_choose (TallyJob *job, const JobRecord *run, gboolean refused, JobChoice *c)
{
  DuctWishes wishes;

  *c = (JobChoice) { .method = -1, .set = -1, .field = -1 };
  if (!has_construction (run))
    {
      c->fault = fault_new (-1, _ ("choose a run of ductwork that is made of our own sheet"), _ ("this line has no construction to choose"));
      return FALSE;
    }
  if (!read_wishes (job, &wishes, &c->fault) || !prepare (job, run, c))
    return FALSE;
  price (job, job_bucket_of (job, run), &wishes, refused, c);
  return c->choice->best >= 0;
}

void
job_choice_pin (TallyJob *job, const CostCandidate *c, char **gauge, char **construction)
{
  const DuctRules *rules = job->catalogue->rules;
  g_autofree char *text = duct_stiffening_print (rules, &c->candidate.build.stiffening, c->candidate.coil);

  *gauge = g_strdup (duct_rules_sheet (rules, c->candidate.build.sheet)->label);
  /* A fitting without stiffeners has nothing more to say than that it was chosen. */
  *construction = *text ? g_steal_pointer (&text) : g_strdup ("plain");
}

char *
job_choice_reason (TallyJob *job, const JobChoice *choice)
{
  const DuctRules *rules = job->catalogue->rules;
  const CostCandidate *best = cost_choice_at (choice->choice, 0);
  g_autofree char *name = duct_candidate_print (rules, &best->candidate);
  g_autofree char *rule = duct_candidate_words (rules, &choice->shape, &best->candidate);
  GString *out = g_string_new (NULL);

  g_string_append_printf (out, _ ("%s costs %.2f"), name, best->cost);
  if (choice->choice->list->len > 1 && cost_choice_at (choice->choice, 1)->priced)
    {
      const CostCandidate *next = cost_choice_at (choice->choice, 1);
      g_autofree char *other = duct_candidate_print (rules, &next->candidate);
      g_string_append_printf (out, _ (", the next, %s, %.2f"), other, next->cost);
    }
  else
    g_string_append (out, _ (", and nothing else is allowed"));
  g_string_append_printf (out, ". %s", rule);
  return g_string_free (out, FALSE);
}

/* ---- edits ---- */

static gboolean
set_pin (JobEdit *edit, const JobRecord *run, const char *gauge, const char *construction)
{
  g_autofree char *text = NULL;
  JobRecord *after;

  if (own_gauge (run))
    {
      gauge = run->text[RUN_GAUGE];
      if (construction)
        construction = text = g_strdup_printf (OWN_GAUGE "; %s", construction);
    }
  if (g_strcmp0 (run->text[RUN_GAUGE], gauge) == 0 && g_strcmp0 (run->text[RUN_CONSTRUCTION], construction) == 0)
    return FALSE;
  after = job_record_copy (run);
  job_record_set_text (after, RUN_GAUGE, gauge);
  job_record_set_text (after, RUN_CONSTRUCTION, construction);
  job_edit_add (edit, job_record_ref (run), after);
  return TRUE;
}

JobEdit *
job_edit_pin (TallyJob *job, const JobRecord *run, const CostCandidate *candidate, const char *label)
{
  JobEdit *edit = job_edit_new (label);
  g_autofree char *gauge = NULL, *construction = NULL;

  job_choice_pin (job, candidate, &gauge, &construction);
  set_pin (edit, run, gauge, construction);
  return edit;
}

/* Like runs of one cell have like choices. */
typedef struct
{
  DuctShape shape;
  const JobBucket *bucket;
  int method;
  gboolean found;
  char *gauge, *construction, *words;
  double cost;
} Known;

static guint
known_hash (gconstpointer key)
{
  const Known *k = key;

  return duct_shape_hash (&k->shape) ^ (guint) (GPOINTER_TO_SIZE (k->bucket) >> 4) ^ ((guint) k->method << 20);
}

static gboolean
known_equal (gconstpointer a, gconstpointer b)
{
  const Known *x = a, *y = b;

  return x->bucket == y->bucket && x->method == y->method && duct_shape_equal (&x->shape, &y->shape);
}

static void
known_free (gpointer data)
{
  Known *k = data;

  g_free (k->gauge);
  g_free (k->construction);
  g_free (k->words);
  g_free (k);
}

typedef struct
{
  TallyJob *job;
  DuctWishes wishes;
  GHashTable *known;
  JobEdit *edit;
  GArray *chosen; /* (nullable) */
} Chooser;

static void
chosen_clear (gpointer data)
{
  g_free (((JobChosen *) data)->words);
}

static const Known *
look_up (Chooser *x, const JobRecord *run, JobChoice *c)
{
  Known key = { .shape = c->shape, .bucket = job_bucket_of (x->job, run), .method = c->method };
  Known *k = g_hash_table_lookup (x->known, &key);

  if (k)
    return k;
  k = g_memdup2 (&key, sizeof key);
  price (x->job, k->bucket, &x->wishes, FALSE, c);
  k->found = c->choice->best >= 0;
  if (k->found)
    {
      job_choice_pin (x->job, cost_choice_at (c->choice, 0), &k->gauge, &k->construction);
      k->cost = cost_choice_at (c->choice, 0)->cost;
      if (x->chosen)
        k->words = job_choice_reason (x->job, c);
    }
  else if (x->chosen)
    k->words = fault_words (c->fault, NULL);
  g_hash_table_add (x->known, k);
  return k;
}

static void
choose_run (Chooser *x, const JobRecord *run)
{
  JobChosen told = { .run = run->id };
  JobChoice c = { .method = -1, .set = -1, .field = -1 };
  gint64 count = run->num[RUN_COUNT] == JOB_UNSET ? 1000 : run->num[RUN_COUNT], times;

  if (!has_construction (run))
    return;
  if (prepare (x->job, run, &c))
    {
      const Known *k = look_up (x, run, &c);
      if (k->found)
        {
          job_run_conditions (x->job, run, NULL, NULL, &times);
          told.pinned = set_pin (x->edit, run, k->gauge, k->construction);
          told.cost = k->cost * (double) (count / 1000) * (double) times;
        }
      told.words = g_strdup (k->words);
    }
  else if (x->chosen)
    told.words = fault_words (c.fault, NULL);
  job_choice_clear (&c);
  if (x->chosen)
    g_array_append_val (x->chosen, told);
}

static gboolean
chooser_init (Chooser *x, TallyJob *job, const char *label, GArray **chosen)
{
  Fault *fault = NULL;

  *x = (Chooser) { .job = job, .edit = job_edit_new (label) };
  x->known = g_hash_table_new_full (known_hash, known_equal, known_free, NULL);
  if (chosen)
    {
      x->chosen = *chosen = g_array_new (FALSE, FALSE, sizeof (JobChosen));
      g_array_set_clear_func (x->chosen, chosen_clear);
    }
  if (read_wishes (job, &x->wishes, &fault))
    return TRUE;
  JobChosen told = { .words = fault_words (fault, NULL) };
  if (x->chosen)
    g_array_append_val (x->chosen, told);
  else
    g_free (told.words);
  fault_free (fault);
  return FALSE;
}

static gboolean
in_scope (const JobScope *scope, const JobRecord *run)
{
  gint64 system = run->num[RUN_SYSTEM] == JOB_UNSET ? 0 : run->num[RUN_SYSTEM];
  gint64 area = run->num[RUN_AREA] == JOB_UNSET ? 0 : run->num[RUN_AREA];

  return (scope->system == 0 || system == MAX (scope->system, 0)) && (scope->area == 0 || area == MAX (scope->area, 0));
}

JobEdit *
job_edit_cheapest (TallyJob *job, const JobScope *scope, const char *label, GArray **chosen)
{
  Chooser x;

  if (chooser_init (&x, job, label, chosen))
    for (guint i = 0; i < job_n (job, JOB_RUN); i++)
      if (in_scope (scope, job_at (job, JOB_RUN, i)))
        choose_run (&x, job_at (job, JOB_RUN, i));
  g_hash_table_unref (x.known);
  return x.edit;
}

JobEdit *
job_edit_cheapest_of_runs (TallyJob *job, const gint64 *ids, gsize n, const char *label, GArray **chosen)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
  Chooser x;

  if (chooser_init (&x, job, label, chosen))
    for (gsize i = 0; i < n; i++)
      {
        const JobRecord *run = job_find (job, JOB_RUN, ids[i]);
        if (run && g_hash_table_add (seen, (gpointer) run))
          choose_run (&x, run);
      }
  g_hash_table_unref (x.known);
  return x.edit;
}

JobEdit *
job_edit_unpin (TallyJob *job, const JobScope *scope, const char *label)
{
  JobEdit *edit = job_edit_new (label);

  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (job, JOB_RUN, i);
      if (run->text[RUN_CONSTRUCTION] && in_scope (scope, run))
        set_pin (edit, run, NULL, NULL);
    }
  return edit;
}

JobEdit *
job_edit_unpin_of_runs (TallyJob *job, const gint64 *ids, gsize n, const char *label)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
  JobEdit *edit = job_edit_new (label);

  for (gsize i = 0; i < n; i++)
    {
      const JobRecord *run = job_find (job, JOB_RUN, ids[i]);
      if (run && run->text[RUN_CONSTRUCTION] && g_hash_table_add (seen, (gpointer) run))
        set_pin (edit, run, NULL, NULL);
    }
  return edit;
}
