/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/runs/run-columns.h"

#include "base/decimal.h"
#include "base/measure.h"

#include <glib/gi18n.h>
#include <string.h>

#define FIELD(key, title, unit, width, figure, at_start) { key, title, unit, 0, width, figure, at_start }
#define COMPUTED(key, title, unit, width, at_start) { key, title, unit, -1, width, TRUE, at_start }

/* In the order in which they stand. The field indices are looked up once. */
static RunColumn columns[] = {
  FIELD ("system", N_ ("System"), "", 6, FALSE, TRUE),
  FIELD ("area", N_ ("Area"), "", 7, FALSE, TRUE),
  FIELD ("drawing", N_ ("Drawing"), "", 7, FALSE, TRUE),
  FIELD ("kind", N_ ("Kind"), "", 12, FALSE, TRUE),
  FIELD ("size", N_ ("Size"), N_ ("in"), 14, TRUE, TRUE),
  FIELD ("length", N_ ("Length"), N_ ("ft"), 7, TRUE, TRUE),
  FIELD ("count", N_ ("Count"), "", 5, TRUE, TRUE),
  FIELD ("class", N_ ("Class"), N_ ("in w.g."), 6, TRUE, TRUE),
  FIELD ("method", N_ ("Method"), "", 13, FALSE, TRUE),
  FIELD ("gauge", N_ ("Gauge"), "", 5, TRUE, TRUE),
  COMPUTED ("pieces", N_ ("Pieces"), "", 6, 2),
  COMPUTED ("joints", N_ ("Joints"), "", 6, 2),
  COMPUTED ("net_lb", N_ ("Weight"), N_ ("lb, net"), 8, 2),
  COMPUTED ("shipped_lb", N_ ("Shipped"), N_ ("lb"), 8, FALSE),
  COMPUTED ("shop_h", N_ ("Shop"), N_ ("worker-h"), 7, 2),
  COMPUTED ("field_h", N_ ("Field"), N_ ("worker-h"), 7, TRUE),
  COMPUTED ("cost", N_ ("Cost"), "", 8, TRUE),
  FIELD ("angle", N_ ("Angle"), N_ ("degrees"), 6, TRUE, FALSE),
  FIELD ("throat", N_ ("Throat"), N_ ("in"), 6, TRUE, FALSE),
  FIELD ("offset", N_ ("Offset"), N_ ("in"), 6, TRUE, FALSE),
  FIELD ("shift", N_ ("Shift"), N_ ("in"), 6, TRUE, FALSE),
  FIELD ("legs", N_ ("Legs"), N_ ("in"), 6, TRUE, FALSE),
  FIELD ("on_edge", N_ ("On edge"), "", 6, FALSE, FALSE),
  FIELD ("first_end", N_ ("First end"), "", 10, FALSE, FALSE),
  FIELD ("last_end", N_ ("Last end"), "", 10, FALSE, FALSE),
  FIELD ("fit_pieces", N_ ("Cut on site"), N_ ("pieces"), 6, TRUE, FALSE),
  FIELD ("exposure", N_ ("Exposure"), "", 9, FALSE, FALSE),
  FIELD ("metal", N_ ("Metal"), "", 10, FALSE, FALSE),
  FIELD ("item", N_ ("Item"), "", 16, FALSE, FALSE),
  FIELD ("price", N_ ("Price"), N_ ("a unit"), 8, TRUE, FALSE),
  FIELD ("shop_minutes", N_ ("Shop"), N_ ("worker-min"), 8, TRUE, FALSE),
  FIELD ("field_minutes", N_ ("Field"), N_ ("worker-min"), 8, TRUE, FALSE),
  FIELD ("checked_issue", N_ ("Checked"), N_ ("issue"), 6, TRUE, FALSE),
  FIELD ("note", N_ ("Note"), "", 18, FALSE, FALSE),
};

guint
run_columns_n (void)
{
  return G_N_ELEMENTS (columns);
}

const RunColumn *
run_column (guint i)
{
  static gsize once;

  if (g_once_init_enter (&once))
    {
      for (gsize c = 0; c < G_N_ELEMENTS (columns); c++)
        if (columns[c].field >= 0)
          columns[c].field = job_field_find (JOB_RUN, columns[c].key);
      g_once_init_leave (&once, 1);
    }
  return &columns[i];
}

int
run_column_find (const char *key)
{
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    if (strcmp (columns[i].key, key) == 0)
      return (int) i;
  return -1;
}

static char *
computed_text (TallySession *session, const RunColumn *column, const JobRecord *run, const JobRunResult *r)
{
  const CostBasis *basis = job_basis (session_job (session));
  CostSums sums;

  if (!r->vector)
    return g_strdup ("");
#define V(m) r->vector[cost_measure_slot (basis, m)]
  if (strcmp (column->key, "pieces") == 0)
    return r->method < 0 ? g_strdup ("") : session_figure ((double) V (COST_PIECES) / 1000, 0, FALSE);
  if (strcmp (column->key, "joints") == 0)
    return r->method < 0 ? g_strdup ("") : session_figure ((double) V (COST_JOINTS) / 1000, 0, FALSE);
  if (strcmp (column->key, "net_lb") == 0)
    return r->method < 0 ? g_strdup ("") : session_figure (measure_lb (V (COST_NET_MG)), 0, FALSE);
  if (strcmp (column->key, "shipped_lb") == 0)
    return r->method < 0 ? g_strdup ("") : session_figure (measure_lb (V (COST_SHIPPED_MG)), 0, FALSE);
#undef V
  job_run_sums (session_job (session), run, r->vector, &sums);
  if (strcmp (column->key, "shop_h") == 0)
    return session_figure (num_wide_to_double (sums.time[1]) / COST_TIME_DEN, 1, FALSE);
  if (strcmp (column->key, "field_h") == 0)
    return session_figure (num_wide_to_double (sums.time[0]) / COST_TIME_DEN, 1, FALSE);
  g_autoptr (BuildUp) up = buildup_new (basis, &sums, 0);
  return session_figure ((double) buildup_get (up, "cost"), 0, FALSE);
}

char *
run_column_text (TallySession *session, const RunColumn *column, const JobRecord *run, const JobRunResult *result)
{
  const JobNames *names = job_names (session_job (session));

  if (column->field < 0)
    return computed_text (session, column, run, result);
  if (strcmp (column->key, "size") == 0)
    {
      g_autofree char *size = job_record_print (run, column->field, names);
      g_autofree char *second = job_record_print (run, job_field_find (JOB_RUN, "size2"), names);
      if (run->num[RUN_KIND] == DUCT_COUNTED && !*size && run->text[RUN_ITEM])
        return g_strdup (run->text[RUN_ITEM]);
      return *second ? g_strdup_printf ("%s > %s", size, second) : g_steal_pointer (&size);
    }
  g_autofree char *text = job_record_print (run, column->field, names);
  if (!*text)
    {
      char *inherited = run_column_inherited (session, column, run, result);
      if (inherited)
        return inherited;
    }
  return g_steal_pointer (&text);
}

char *
run_column_inherited (TallySession *session, const RunColumn *column, const JobRecord *run, const JobRunResult *r)
{
  const Catalogue *catalogue = job_basis (session_job (session))->catalogue;
  gboolean metric = job_names (session_job (session))->metric;

  if (run->num[RUN_KIND] == JOB_UNSET || run->num[RUN_KIND] == DUCT_COUNTED)
    return NULL;
  if (strcmp (column->key, "class") == 0)
    return r->shape.pressure != 0 ? pressure_print (r->shape.pressure, metric) : NULL;
  if (strcmp (column->key, "method") == 0)
    {
      /* What is used in the end is what counts: a fallback is told in the message. */
      int method = r->method >= 0 ? r->method : r->asked;
      return method >= 0 ? g_strdup (catalogue_method (catalogue, method)->key) : NULL;
    }
  if (strcmp (column->key, "gauge") == 0)
    return r->method >= 0 ? g_strdup (duct_rules_sheet (catalogue->rules, r->build.sheet)->label) : NULL;
  if (strcmp (column->key, "exposure") == 0)
    return g_strdup (duct_exposure_key ((DuctExposure) r->shape.exposure));
  if (strcmp (column->key, "metal") == 0)
    return g_strdup (duct_metal_key ((DuctMetal) r->shape.metal));
  return NULL;
}

/* "el", "mitre", "str": any clear beginning of a kind's words, and what people call them. */
static const char *
understood_kind (const char *text)
{
  static const struct
  {
    const char *word;
    DuctKind kind;
  } words[] = { { "straight", DUCT_STRAIGHT },       { "duct", DUCT_STRAIGHT },         { "radius elbow", DUCT_RADIUS_ELBOW },
                { "elbow", DUCT_RADIUS_ELBOW },      { "bend", DUCT_RADIUS_ELBOW },     { "mitred elbow", DUCT_MITRED_ELBOW },
                { "mitered elbow", DUCT_MITRED_ELBOW }, { "square elbow", DUCT_MITRED_ELBOW }, { "transition", DUCT_TRANSITION },
                { "offset", DUCT_OFFSET },           { "tap", DUCT_TAP },               { "end cap", DUCT_END_CAP },
                { "cap", DUCT_END_CAP },             { "counted", DUCT_COUNTED } };
  g_autofree char *typed = g_strstrip (g_utf8_strdown (text, -1));
  int found = -1;

  for (gsize i = 0; *typed && i < G_N_ELEMENTS (words); i++)
    if (g_str_has_prefix (words[i].word, typed))
      {
        if (found >= 0 && words[i].kind != words[found].kind)
          return NULL; /* not clear */
        found = (int) i;
      }
  return found < 0 ? NULL : duct_kind_info (words[found].kind)->key;
}

gboolean
run_column_read (TallySession *session, const RunColumn *column, JobRecord *run, const char *text, Fault **fault)
{
  const JobNames *names = job_names (session_job (session));
  int second = job_field_find (JOB_RUN, "size2");
  const char *kind;

  if (strcmp (column->key, "kind") == 0 && (kind = understood_kind (text)))
    return job_record_read (run, column->field, kind, names, fault);
  if (strcmp (column->key, "size") != 0)
    return job_record_read (run, column->field, text, names, fault);
  if (run->num[RUN_KIND] == DUCT_COUNTED)
    return job_record_read (run, job_field_find (JOB_RUN, "item"), text, names, fault);
  const char *to = strchr (text, '>');
  if (!to)
    {
      /* A plain size on anything but a transition takes the second one away. */
      if (run->num[RUN_KIND] != DUCT_TRANSITION || !*text)
        job_record_read (run, second, "", names, NULL);
      return job_record_read (run, column->field, text, names, fault);
    }
  g_autofree char *first = g_strndup (text, (gsize) (to - text));
  return job_record_read (run, column->field, first, names, fault) & job_record_read (run, second, to + 1, names, fault);
}
