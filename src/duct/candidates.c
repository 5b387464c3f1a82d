/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/candidates.h"

#include "duct/measure-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* ---- wishes ---- */

static gboolean
read_wish (const char *part, DuctWishes *w, Fault **fault)
{
  static const char pieces[] = " pieces";

  if (strcmp (part, "least gauge") == 0)
    w->least_gauge = TRUE;
  else if (strcmp (part, "one gauge") == 0)
    w->two_gauges = FALSE;
  else if (strcmp (part, "two gauges") == 0)
    w->two_gauges = TRUE;
  else if (strcmp (part, "no rods") == 0 || strcmp (part, "no rods inside") == 0)
    w->no_rods = TRUE;
  else if (strcmp (part, "fixed pieces") == 0)
    w->fixed = TRUE;
  else if (g_str_has_suffix (part, pieces))
    {
      g_autofree char *width = g_strndup (part, strlen (part) - strlen (pieces));
      if (!length_parse (width, LENGTH_IN, &w->coil, fault))
        return FALSE;
      if (w->coil <= 0)
        return fault_set (fault, fault_new (-1, _ ("enter the width of the coil, like 48 in"), _ ("no piece is made of a coil of %s"), width));
      w->fixed = TRUE;
    }
  else
    return fault_set (fault, fault_new (-1, _ ("write least gauge, one gauge, two gauges, fixed pieces, 48 in pieces or no rods, joined with ;"),
                                        _ ("“%s” is not a wish about construction"), part));
  return TRUE;
}

gboolean
duct_wishes_parse (const char *text, DuctWishes *wishes, Fault **fault)
{
  g_auto (GStrv) parts = g_strsplit (text ? text : "", ";", -1);
  DuctWishes w = DUCT_NO_WISHES;

  for (char **p = parts; *p; p++)
    if (*g_strstrip (*p) && !read_wish (*p, &w, fault))
      return FALSE;
  *wishes = w;
  return TRUE;
}

char *
duct_wishes_print (const DuctWishes *w)
{
  g_autofree char *width = w->coil == DUCT_UNSET ? NULL : length_print_unit (w->coil, LENGTH_STYLE_IN);
  g_autofree char *pieces = width ? g_strdup_printf ("%s pieces", width) : g_strdup ("fixed pieces");
  const char *part[5];
  int n = 0;

  if (w->least_gauge)
    part[n++] = "least gauge";
  if (w->two_gauges)
    part[n++] = "two gauges";
  if (w->fixed)
    part[n++] = pieces;
  if (w->no_rods)
    part[n++] = "no rods";
  part[n] = NULL;
  return g_strjoinv ("; ", (char **) part);
}

/* ---- candidates ---- */

#define N_COILS 3
#define MOST_SPACINGS 32

typedef struct
{
  const DuctRules *rules;
  const DuctShape *shape;
  const DuctWishes *wishes;
  int set, connection;
  gboolean refused;
  GArray *out;
  guint from;                 /* where the candidates of the sheet at hand begin */
  DuctStiffQuery query;
  gint64 coil, length, rest;  /* of the coil at hand; rest: shorter pieces, 0 none */
  gint64 spacing[MOST_SPACINGS]; /* wide ones first */
  int n_spacings;
  int *member;                /* light ones first */
  gint16 most_rods, joint_rods; /* at a station; at a joint: more than that never help */
} Search;

static void
candidate_clear (gpointer data)
{
  g_clear_pointer (&((DuctCandidate *) data)->fault, fault_free);
}

static gint64
own_coil (const Search *s)
{
  if (s->wishes->fixed && s->wishes->coil != DUCT_UNSET)
    return s->wishes->coil;
  return s->shape->coil == DUCT_UNSET ? duct_rules_connection (s->rules, s->connection)->coil_nm : s->shape->coil;
}

/* Widths of coil to look at; a run shorter than one piece is the same of any. */
static int
list_coils (const Search *s, gint64 *coil)
{
  const gint64 stock[] = { own_coil (s), 60 * LENGTH_NM_PER_IN, 48 * LENGTH_NM_PER_IN };
  gint64 take_up = duct_rules_connection (s->rules, s->connection)->take_up_nm;
  gint64 run = s->shape->dim[DUCT_DIM_LENGTH], least = s->rules->allow[DUCT_ALLOW_SHORT_PIECE].value;
  gboolean whole = FALSE;
  int n = 0;

  for (int i = 0; i < (s->wishes->fixed ? 1 : N_COILS); i++)
    {
      gint64 laid = stock[i] - take_up;
      gboolean seen = laid < least || (laid >= run && whole);
      for (int k = 0; k < n && !seen; k++)
        seen = coil[k] == stock[i];
      if (seen)
        continue;
      whole = whole || laid >= run;
      coil[n++] = stock[i];
    }
  return n;
}

static void
list_spacings (Search *s)
{
  s->n_spacings = 0;
  /* Nothing between the joints makes a closer spacing. */
  if (((const DuctRuleSet *) g_ptr_array_index (s->rules->sets, (guint) s->set))->joints_only)
    return;
  for (guint b = 0; b < s->query.n_blocks; b++)
    for (guint i = s->query.block[b]->first; i < s->query.block[b]->first + s->query.block[b]->n; i++)
      {
        gint64 v = ((DuctReinforcement *) g_ptr_array_index (s->rules->reinforcement, i))->spacing_nm;
        int at = 0;
        while (at < s->n_spacings && s->spacing[at] > v)
          at++;
        if (v == G_MAXINT64 || s->n_spacings == MOST_SPACINGS || (at < s->n_spacings && s->spacing[at] == v))
          continue;
        memmove (s->spacing + at + 1, s->spacing + at, sizeof (gint64) * (gsize) (s->n_spacings - at));
        s->spacing[at] = v;
        s->n_spacings++;
      }
}

static int
by_weight (gconstpointer a, gconstpointer b, gpointer data)
{
  const DuctRules *rules = data;
  const DuctMember *x = g_ptr_array_index (rules->members, (guint) *(const int *) a);
  const DuctMember *y = g_ptr_array_index (rules->members, (guint) *(const int *) b);

  if (x->mg_per_mm != y->mg_per_mm)
    return x->mg_per_mm < y->mg_per_mm ? -1 : 1;
  return *(const int *) a - *(const int *) b;
}

static void
list_parts (Search *s)
{
  s->member = g_new (int, s->rules->members->len);
  for (int i = 0; i < (int) s->rules->members->len; i++)
    s->member[i] = i;
  g_qsort_with_data (s->member, (int) s->rules->members->len, sizeof (int), by_weight, (gpointer) s->rules);
  for (guint i = 0; !s->wishes->no_rods && i < s->rules->tie_rods->len; i++)
    {
      const DuctTieRods *row = g_ptr_array_index (s->rules->tie_rods, i);
      if (row->set == s->set)
        s->most_rods = (gint16) MAX (s->most_rods, row->rods);
    }
  for (int i = 0; i < 2 && s->most_rods > 0; i++)
    for (int code = 0; code < (int) s->rules->stiffness->len; code++)
      {
        int row = duct_stiff_rods (&s->query, s->query.side[i], code, s->most_rods);
        if (row >= 0)
          s->joint_rods = (gint16) MAX (s->joint_rods, ((DuctTieRods *) g_ptr_array_index (s->rules->tie_rods, (guint) row))->rods);
      }
}

static gboolean
check (const Search *s, int sheet, const DuctStiffening *st, DuctCandidate *c)
{
  c->build = (DuctBuild) { .set = s->set, .connection = s->connection, .sheet = sheet, .rule_row = -1, .round_row = -1,
                           .stiffening = *st, .side_row = { -1, -1 } };
  c->coil = s->coil;
  c->length = s->length;
  c->allowed = TRUE;
  c->by_wish = FALSE;
  c->fault = NULL;
  for (int i = 0; i < 2; i++)
    {
      c->allowed = duct_stiff_check (&s->query, i, sheet, s->length, st, &c->check[i]) && c->allowed;
      if (c->check[i].why == DUCT_STIFF_PASSES)
        c->build.side_row[i] = c->check[i].row;
    }
  return c->allowed;
}

/* Whether rods entered at the joints hold any side of any piece: else the same stands in the list without them. A shorter piece may
 * do with them and without what stands between the joints of the others. */
static gboolean
joint_rods_used (const Search *s, const DuctCandidate *c)
{
  DuctSideCheck rest;

  if (c->build.stiffening.joint_rods == 0 || c->check[0].joint_rods >= 0 || c->check[1].joint_rods >= 0)
    return TRUE;
  for (int i = 0; i < 2 && s->rest > 0; i++)
    {
      duct_stiff_check (&s->query, i, c->build.sheet, s->rest, &c->build.stiffening, &rest);
      if (rest.joint_rods >= 0)
        return TRUE;
    }
  return FALSE;
}

/* Whether the same parts stand in the list already at a wider spacing: that one never has more of them, unless the class of the
 * wider spacing is one that the joint needs rods for. */
static gboolean
in_list (const Search *s, const DuctCandidate *c)
{
  const DuctStiffening *st = &c->build.stiffening;

  for (guint i = s->from; i < s->out->len; i++)
    {
      const DuctCandidate *other = &g_array_index (s->out, DuctCandidate, i);
      const DuctStiffening *had = &other->build.stiffening;
      if (other->allowed && had->spacing >= st->spacing && had->member == st->member && had->rods == st->rods
          && had->joint_rods == st->joint_rods && (other->check[0].joint_rods < 0 || c->check[0].joint_rods >= 0)
          && (other->check[1].joint_rods < 0 || c->check[1].joint_rods >= 0))
        return TRUE;
    }
  return FALSE;
}

/* With stations between the joints: the lightest member that passes, then the fewest rods. @refusal: gets the way that failed. */
static gboolean
try_stations (Search *s, int sheet, DuctStiffening st, DuctCandidate *refusal)
{
  gboolean found = FALSE;
  DuctCandidate c;

  if (refusal)
    check (s, sheet, &st, refusal);
  for (guint m = 0; m < s->rules->members->len; m++)
    {
      st.member = (gint16) s->member[m];
      gboolean passes = check (s, sheet, &st, &c);
      if (refusal)
        *refusal = c;
      /* Only what stands between can be mended by a stiffer member. */
      if (!passes && c.check[0].why != DUCT_STIFF_STATION && c.check[1].why != DUCT_STIFF_STATION)
        return FALSE;
      if (!passes)
        continue;
      if (!(c.check[0].stations || c.check[1].stations) || !joint_rods_used (s, &c))
        return TRUE;
      if (!in_list (s, &c))
        g_array_append_val (s->out, c);
      found = TRUE;
      break;
    }
  st.member = -1;
  for (st.rods = 1; st.rods <= s->most_rods; st.rods++)
    {
      gboolean passes = check (s, sheet, &st, &c);
      if (!passes)
        continue;
      if ((c.check[0].stations || c.check[1].stations) && joint_rods_used (s, &c) && !in_list (s, &c))
        g_array_append_val (s->out, c);
      return TRUE;
    }
  return found;
}

/* Every way with one sheet (and one of the shorter sides). TRUE when it passes by its joints alone. */
static gboolean
try_sheet (Search *s, int sheet, gint16 short_sheet)
{
  DuctStiffening st = DUCT_NO_STIFFENING;
  gboolean plain = FALSE, alone = FALSE;
  DuctCandidate c, refusal[MOST_SPACINGS + 1];
  gboolean shown[MOST_SPACINGS + 1] = { FALSE };

  s->from = s->out->len;
  st.short_sheet = short_sheet;
  for (st.joint_rods = 0; st.joint_rods <= s->joint_rods && !plain; st.joint_rods++)
    {
      plain = check (s, sheet, &st, &c);
      alone = alone || (plain && st.joint_rods == 0);
      if (plain)
        g_array_append_val (s->out, c);
      else if (st.joint_rods == 0)
        refusal[s->n_spacings] = c;
      shown[s->n_spacings] = shown[s->n_spacings] || plain;
      for (int i = 0; i < s->n_spacings && !plain; i++)
        {
          DuctStiffening between = st;
          between.spacing = s->spacing[i];
          if (between.spacing >= s->length)
            shown[i] = TRUE;
          else if (try_stations (s, sheet, between, st.joint_rods == 0 ? &refusal[i] : NULL))
            shown[i] = TRUE;
        }
    }
  if (s->refused && !alone && short_sheet == 0)
    for (int i = s->n_spacings; i >= 0; i--)
      if (!shown[i] && (i == s->n_spacings || s->spacing[i] < s->length))
        g_array_append_val (s->out, refusal[i]);
  return alone;
}

static void
try_coil (Search *s)
{
  DuctShape shape = *s->shape;

  shape.coil = s->coil;
  s->length = duct_stiff_length (s->rules, s->connection, &shape);
  s->rest = 0;
  if (shape.kind == DUCT_STRAIGHT && s->length < shape.dim[DUCT_DIM_LENGTH])
    s->rest = duct_rest_length (s->rules, shape.dim[DUCT_DIM_LENGTH], s->length);
  if (s->shape->sheet_pin >= 0)
    {
      try_sheet (s, s->shape->sheet_pin, 0);
      return;
    }
  for (guint i = 0; i < s->rules->stiff_sheets->len; i++)
    {
      const DuctStiffSheet *named = &g_array_index (s->rules->stiff_sheets, DuctStiffSheet, i);
      gboolean alone;
      if (named->set != s->set || duct_rules_sheet (s->rules, named->sheet)->metal != (DuctMetal) s->shape->metal)
        continue;
      alone = try_sheet (s, named->sheet, 0);
      for (guint k = 0; s->wishes->two_gauges && s->shape->kind == DUCT_STRAIGHT && s->shape->w != s->shape->h && k < i; k++)
        {
          const DuctStiffSheet *lighter = &g_array_index (s->rules->stiff_sheets, DuctStiffSheet, k);
          if (lighter->set == s->set && duct_rules_sheet (s->rules, lighter->sheet)->metal == (DuctMetal) s->shape->metal)
            try_sheet (s, named->sheet, (gint16) (lighter->sheet + 1));
        }
      if (alone)
        return;
    }
}

/* A set without reinforcement rows has one gauge for a piece, whatever its length. */
static void
try_plain (Search *s)
{
  DuctProblem problem = { DUCT_DIM_NONE, NULL };
  DuctCandidate c = { .coil = s->coil };
  DuctShape shape = *s->shape;

  shape.coil = s->coil;
  shape.stiffening = DUCT_NO_STIFFENING;
  c.length = shape.h > 0 && !duct_kind_info (shape.kind)->bought ? duct_stiff_length (s->rules, s->connection, &shape) : 0;
  c.allowed = duct_choose_build (s->rules, s->set, s->connection, &shape, &c.build, &problem);
  c.fault = problem.fault;
  if (c.allowed || s->refused)
    g_array_append_val (s->out, c);
  else
    candidate_clear (&c);
}

static void
apply_least_gauge (Search *s)
{
  gint64 least = G_MAXINT64;

  for (guint i = 0; i < s->out->len; i++)
    {
      const DuctCandidate *c = &g_array_index (s->out, DuctCandidate, i);
      if (c->allowed)
        least = MIN (least, duct_rules_sheet (s->rules, c->build.sheet)->thickness_nm);
    }
  for (guint i = s->out->len; i-- > 0;)
    {
      DuctCandidate *c = &g_array_index (s->out, DuctCandidate, i);
      if (!c->allowed || duct_rules_sheet (s->rules, c->build.sheet)->thickness_nm == least)
        continue;
      c->allowed = FALSE;
      c->by_wish = TRUE;
      if (!s->refused)
        g_array_remove_index (s->out, i);
    }
}

GArray *
duct_candidates (const DuctRules *rules, int set, int connection, const DuctShape *shape, const DuctWishes *wishes, gboolean refused)
{
  Search s = { .rules = rules, .shape = shape, .wishes = wishes, .set = set, .connection = connection, .refused = refused };
  gint64 coil[N_COILS] = { DUCT_UNSET };
  gboolean stiff = duct_stiff_asked (rules, set, shape);
  int n = 1;

  s.out = g_array_new (FALSE, FALSE, sizeof (DuctCandidate));
  g_array_set_clear_func (s.out, candidate_clear);
  if (shape->kind == DUCT_STRAIGHT)
    n = list_coils (&s, coil);
  if (stiff)
    {
      duct_stiff_query (&s.query, rules, set, connection, shape);
      list_spacings (&s);
      list_parts (&s);
    }
  for (int i = 0; i < n; i++)
    {
      s.coil = coil[i];
      if (stiff)
        try_coil (&s);
      else
        try_plain (&s);
    }
  g_free (s.member);
  if (wishes->least_gauge)
    apply_least_gauge (&s);
  return s.out;
}

void
duct_candidate_shape (const DuctCandidate *c, const DuctShape *shape, DuctShape *out)
{
  *out = *shape;
  out->stiffening = c->build.stiffening;
  if (duct_kind_has_gauge (shape->kind))
    out->sheet_pin = (gint16) c->build.sheet;
  if (c->coil != DUCT_UNSET)
    out->coil = c->coil;
}

char *
duct_candidate_print (const DuctRules *rules, const DuctCandidate *c)
{
  g_autofree char *rest = duct_stiffening_print (rules, &c->build.stiffening, c->coil);
  const char *label = duct_rules_sheet (rules, c->build.sheet)->label;
  char *end;

  /* A plain number is a gauge. */
  (void) g_ascii_strtoull (label, &end, 10);
  return g_strdup_printf ("%s%s%s%s", label, *end ? "" : " ga", *rest ? "; " : "", rest);
}

char *
duct_candidate_words (const DuctRules *rules, const DuctShape *shape, const DuctCandidate *c)
{
  DuctGaugeOrigin origin;
  DuctStiffQuery q;

  if (c->fault)
    return g_strdup (c->fault->what);
  if (!duct_stiff_asked (rules, c->build.set, shape))
    return duct_build_origin (rules, &c->build, &origin)
               ? g_strdup_printf (_ ("%s%s%s: %s (%s)"), origin.set, *origin.note ? "; " : "", origin.note, origin.source,
                                  duct_status_key (origin.status))
               : g_strdup (_ ("entered on the run"));
  GString *out = g_string_new (c->by_wish ? _ ("not the least gauge; ") : "");
  duct_stiff_query (&q, rules, c->build.set, c->build.connection, shape);
  for (int i = 0; i < 2; i++)
    {
      /* Of a refusal only what fails is told. */
      if (!c->allowed && !c->by_wish && c->check[i].why == DUCT_STIFF_PASSES)
        continue;
      g_autofree char *words = duct_side_words (&q, i, c->build.sheet, c->length, &c->build.stiffening, &c->check[i]);
      g_string_append_printf (out, "%s%s", i > 0 && out->len > 0 ? "; " : "", words);
    }
  return g_string_free (out, FALSE);
}
