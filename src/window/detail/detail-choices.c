/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/detail/detail.h"
#include "window/detail/detail-private.h"

#include "duct/rests.h"
#include "job/choose.h"
#include "job/note-line.h"

#include <glib/gi18n.h>
#include <string.h>

/* The ways to build the selected run, what each costs and the rule that admits or refuses it; and what covers and carries it. */

#define MOST_ALLOWED 12
#define MOST_REFUSED 8

typedef struct
{
  TallySession *session; /* borrowed: it outlives the pane */
  gint64 run;
  char *gauge, *construction; /* of a way; NULL of the run as a whole */
} Way;

static Way *
way_new (TallySession *session, gint64 run)
{
  Way *way = g_new0 (Way, 1);

  way->session = session;
  way->run = run;
  return way;
}

static void
way_free (gpointer data)
{
  Way *way = data;

  g_free (way->gauge);
  g_free (way->construction);
  g_free (way);
}

static void
way_closure_free (gpointer data, GClosure *closure)
{
  (void) closure;
  way_free (data);
}

/* ---- what the buttons do ---- */

/* An edit that changes nothing is told, not kept. */
static gboolean
apply (TallySession *session, JobEdit *edit)
{
  if (edit->deltas->len > 0)
    return session_apply (session, edit);
  job_edit_free (edit);
  return FALSE;
}

static void
use_cb (GtkButton *button, gpointer data)
{
  const Way *way = data;
  TallyJob *job = session_job (way->session);
  const JobRecord *run = job ? job_find (job, JOB_RUN, way->run) : NULL;
  JobChoice c;

  (void) button;
  if (!run)
    return;
  /* Looked up again: prices may have changed since the list was made. */
  job_choose (job, run, FALSE, &c);
  for (int i = 0; c.choice && i < (int) c.choice->list->len; i++)
    {
      const CostCandidate *candidate = cost_choice_at (c.choice, i);
      g_autofree char *gauge = NULL, *construction = NULL;
      if (!candidate->priced)
        continue;
      job_choice_pin (job, candidate, &gauge, &construction);
      if (strcmp (gauge, way->gauge) != 0 || strcmp (construction, way->construction) != 0)
        continue;
      g_autofree char *name = duct_candidate_print (job_basis (job)->catalogue->rules, &candidate->candidate);
      if (apply (way->session, job_edit_pin (job, run, candidate, _ ("construction"))))
        session_say (way->session, SESSION_SAID_UNDO, _ ("Pinned: %s"), name);
      break;
    }
  job_choice_clear (&c);
}

/* What came of the search over some runs, in one sentence. */
static void
tell (TallySession *session, const GArray *chosen, gboolean applied)
{
  guint pinned = 0, passed = 0, like = 0;
  const char *why = NULL;

  for (guint i = 0; i < chosen->len; i++)
    {
      const JobChosen *c = &g_array_index (chosen, JobChosen, i);
      pinned += c->pinned ? 1 : 0;
      like += !c->pinned && c->cost > 0 ? 1 : 0;
      if (c->cost <= 0)
        {
          passed++;
          why = why ? why : c->words;
        }
    }
  if (passed > 0 && pinned == 0)
    session_say (session, SESSION_REFUSED, "%s", why ? why : _ ("nothing was found"));
  else if (passed > 0)
    session_say (session, SESSION_SAID_UNDO, _ ("Cheapest construction pinned on %u runs; %u were passed over"), pinned, passed);
  else if (pinned == 0 || !applied)
    session_say (session, SESSION_SAID, like > 0 ? _ ("The cheapest construction stands there already")
                                                 : _ ("Nothing selected has a construction to choose"));
  else
    session_say (session, SESSION_SAID_UNDO,
                 g_dngettext (GETTEXT_PACKAGE, "Cheapest construction pinned on %u run", "Cheapest construction pinned on %u runs", pinned),
                 pinned);
}

static void
pin_cheapest (TallySession *session, const gint64 *ids, gsize n)
{
  TallyJob *job = session_job (session);
  GArray *chosen = NULL;

  if (!job || n == 0)
    {
      session_say (session, SESSION_SAID, _ ("Select runs first"));
      return;
    }
  JobEdit *edit = job_edit_cheapest_of_runs (job, ids, n, _ ("cheapest construction"), &chosen);
  gboolean applied = apply (session, edit);
  tell (session, chosen, applied);
  g_array_unref (chosen);
}

static void
unpin (TallySession *session, const gint64 *ids, gsize n)
{
  TallyJob *job = session_job (session);

  if (job && apply (session, job_edit_unpin_of_runs (job, ids, n, _ ("construction as the rule set has it"))))
    session_say (session, SESSION_SAID_UNDO, _ ("The construction is the rule set's again"));
  else
    session_say (session, SESSION_SAID, _ ("No construction is pinned here"));
}

void
tally_detail_cheapest (TallySession *session, GtkWindow *parent)
{
  const GArray *ids = session_selection (session);

  (void) parent;
  pin_cheapest (session, (const gint64 *) (gpointer) ids->data, ids->len);
}

void
tally_detail_unpin (TallySession *session, GtkWindow *parent)
{
  const GArray *ids = session_selection (session);

  (void) parent;
  unpin (session, (const gint64 *) (gpointer) ids->data, ids->len);
}

static void
cheapest_cb (GtkButton *button, gpointer data)
{
  const Way *way = data;

  (void) button;
  pin_cheapest (way->session, &way->run, 1);
}

static void
unpin_cb (GtkButton *button, gpointer data)
{
  const Way *way = data;

  (void) button;
  unpin (way->session, &way->run, 1);
}

static GtkWidget *
button (GtkWidget *box, const char *label, const char *name, GCallback callback, Way *way)
{
  GtkWidget *made = gtk_button_new_with_label (label);

  gtk_accessible_update_property (GTK_ACCESSIBLE (made), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect_data (made, "clicked", callback, way, way_closure_free, 0);
  gtk_widget_set_valign (made, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (box), made);
  return made;
}

/* ---- the list ---- */

/* The pin of the run, without the words of a gauge entered by hand. */
static gboolean
is_pin (const JobRecord *run, const char *gauge, const char *construction)
{
  static const char own[] = "own gauge; ";
  const char *text = run->text[RUN_CONSTRUCTION];

  if (text && g_str_has_prefix (text, own))
    text += strlen (own);
  return g_strcmp0 (run->text[RUN_GAUGE], gauge) == 0 && g_strcmp0 (text, construction) == 0;
}

/* What the run is built like now without a pin. */
static gboolean
is_present (const DetailRun *r, const DuctCandidate *c)
{
  const DuctStiffening *st = &c->build.stiffening;
  const JobRunResult *result = r->result;
  gint64 coil;

  if (r->run->text[RUN_CONSTRUCTION] || !r->priced || result->method < 0 || c->build.sheet != result->build.sheet)
    return FALSE;
  coil = result->shape.coil != DUCT_UNSET ? result->shape.coil
                                          : duct_rules_connection (job_basis (r->job)->catalogue->rules, result->build.connection)->coil_nm;
  return st->spacing == DUCT_UNSET && st->rods == 0 && st->joint_rods == 0 && st->short_sheet == 0 && (c->coil == DUCT_UNSET || c->coil == coil);
}

/* The cost, and the button or the word that this is it. */
static void
add_cost (GtkWidget *line, const DetailRun *r, const CostCandidate *candidate, const char *name)
{
  g_autofree char *cost = detail_fixed (candidate->cost, 2);
  GtkWidget *side = detail_box (2), *figure = detail_words (side, "figure", "%s", cost);
  Way *way = way_new (r->session, r->run->id);
  const char *word = NULL;

  gtk_label_set_xalign (GTK_LABEL (figure), 1);
  job_choice_pin (r->job, candidate, &way->gauge, &way->construction);
  if (is_pin (r->run, way->gauge, way->construction))
    word = _ ("pinned");
  else if (is_present (r, &candidate->candidate))
    detail_words (side, "caption dim-label", "%s", _ ("as it is"));
  if (word)
    {
      GtkWidget *mark = detail_status (word);
      gtk_widget_set_halign (mark, GTK_ALIGN_END);
      gtk_box_append (GTK_BOX (side), mark);
      way_free (way);
    }
  else
    {
      g_autofree char *spoken = g_strdup_printf (_ ("Use this: %s, %s"), name, cost);
      gtk_widget_set_halign (button (side, _ ("Use this"), spoken, G_CALLBACK (use_cb), way), GTK_ALIGN_END);
    }
  gtk_box_append (GTK_BOX (line), side);
}

static void
fill_rule (GtkWidget *box, gpointer data)
{
  detail_words (box, "caption dim-label", "%s", (const char *) data);
}

static void
add_way (GtkWidget *box, const DetailRun *r, const JobChoice *c, const CostCandidate *candidate)
{
  const DuctRules *rules = job_basis (r->job)->catalogue->rules;
  g_autofree char *name = candidate->candidate.fault ? g_strdup (_ ("every gauge")) : duct_candidate_print (rules, &candidate->candidate);
  g_autofree char *rule = duct_candidate_words (rules, &c->shape, &candidate->candidate);
  GtkWidget *way = detail_box (0), *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *label;

  label = detail_words (line, candidate->priced ? "heading" : "dim-label", "%s", name);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_label_set_yalign (GTK_LABEL (label), 0);
  gtk_box_append (GTK_BOX (way), line);
  if (candidate->priced)
    {
      add_cost (line, r, candidate, name);
      detail_expander (way, _ ("Rule"), NULL, fill_rule, g_steal_pointer (&rule), g_free);
    }
  else
    {
      label = detail_words (way, "caption dim-label", "%s", rule);
      gtk_label_set_lines (GTK_LABEL (label), 3);
      gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
      gtk_widget_set_tooltip_text (label, rule);
    }
  gtk_box_append (GTK_BOX (box), way);
}

static void
add_ways (GtkWidget *box, const DetailRun *r, const JobChoice *c, gboolean priced)
{
  guint listed = 0, left = 0, most = priced ? MOST_ALLOWED : MOST_REFUSED;

  for (int i = 0; i < (int) c->choice->list->len; i++)
    {
      const CostCandidate *candidate = cost_choice_at (c->choice, i);
      if (candidate->priced != priced)
        continue;
      if (listed == most)
        {
          left++;
          continue;
        }
      listed++;
      add_way (box, r, c, candidate);
    }
  if (left > 0)
    detail_words (box, "caption dim-label", priced ? _ ("%u more that cost more") : _ ("%u more are refused"), left);
}

static void
fill_ways (GtkWidget *box, gpointer data)
{
  const Way *way = data;
  TallyJob *job = session_job (way->session);
  const JobRecord *run = job ? job_find (job, JOB_RUN, way->run) : NULL;
  DetailRun r = { .session = way->session, .job = job, .run = run };
  JobRunResult result;
  JobChoice c;

  if (!run)
    return;
  r.priced = job_compute (job, run, JOB_OWN_METHOD, &result);
  r.result = &result;
  if (!job_choose (job, run, TRUE, &c))
    {
      g_autofree char *words = fault_words (c.fault, NULL);
      detail_words (box, "attention", "%s", words);
    }
  else
    {
      const char *currency = job_head (job)->text[HEAD_CURRENCY];
      GtkWidget *label = detail_words (box, "caption dim-label", _ ("cost of one run, %s"), currency ? currency : _ ("money"));
      gtk_label_set_xalign (GTK_LABEL (label), 1);
    }
  gtk_box_set_spacing (GTK_BOX (box), 8);
  if (c.choice)
    {
      add_ways (box, &r, &c, TRUE);
      guint refused = 0;
      for (int i = 0; i < (int) c.choice->list->len; i++)
        refused += cost_choice_at (c.choice, i)->priced ? 0 : 1;
      if (refused > 0)
        detail_words (box, "heading", "%s", _ ("Refused"));
      add_ways (box, &r, &c, FALSE);
    }
  job_run_result_clear (&result);
  job_choice_clear (&c);
}

void
detail_add_choices (GtkWidget *box, const DetailRun *r, gboolean *open)
{
  gint64 kind = r->run->num[RUN_KIND];
  const char *pin = r->run->text[RUN_CONSTRUCTION];
  GtkWidget *line;

  if (kind == JOB_UNSET || kind == DUCT_COUNTED || job_is_note_line (r->run) || !duct_kind_has_gauge ((DuctKind) kind))
    return;
  detail_heading (box, _ ("Construction"));
  if (pin && r->run->text[RUN_GAUGE])
    detail_words (box, "caption", _ ("pinned: gauge %s; %s"), r->run->text[RUN_GAUGE], pin);
  else if (pin)
    detail_words (box, "caption", _ ("pinned: %s"), pin);
  else
    detail_words (box, "caption", "%s", r->priced ? _ ("by the rule set, nothing pinned") : _ ("nothing pinned"));
  line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  button (line, _ ("Cheapest"), _ ("Pin the cheapest construction on this run"), G_CALLBACK (cheapest_cb), way_new (r->session, r->run->id));
  if (pin)
    button (line, _ ("Take back"), _ ("Take the pinned construction back"), G_CALLBACK (unpin_cb), way_new (r->session, r->run->id));
  gtk_box_append (GTK_BOX (box), line);
  detail_expander (box, _ ("Ways to build it"), open, fill_ways, way_new (r->session, r->run->id), way_free);
}

/* ---- liner, wrap, seal, supports ---- */

void
detail_add_covering (GtkWidget *box, const DetailRun *r)
{
  if (!r->priced || r->result->method < 0)
    return;
  g_autoptr (GArray) rests = duct_covering_rests (job_basis (r->job)->catalogue->rules, &r->result->shape, &r->result->build);
  if (rests->len == 0)
    return;
  detail_heading (box, _ ("Lining, sealing, supports"));
  for (guint i = 0; i < rests->len; i++)
    {
      const DuctRest *rest = &g_array_index (rests, DuctRest, i);
      GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *text = detail_box (0);
      GtkWidget *mark = detail_status (duct_status_key (rest->status));
      g_autofree char *tip = *rest->source ? g_strdup_printf (_ ("Source: %s"), rest->source) : NULL;
      gtk_widget_set_hexpand (text, TRUE);
      detail_words (text, "caption", "%s", rest->words);
      gtk_widget_set_valign (mark, GTK_ALIGN_START);
      gtk_widget_set_tooltip_text (line, tip);
      gtk_box_append (GTK_BOX (line), text);
      gtk_box_append (GTK_BOX (line), mark);
      gtk_box_append (GTK_BOX (box), line);
    }
}
