/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/runs/run-columns.h"

#include "job/cell.h"
#include "job/column.h"

#include <glib/gi18n.h>
#include <string.h>

#define FIELD(key, title, unit, width, figure, at_start) { key, title, unit, 0, 0, width, figure, at_start }
#define COMPUTED(key, title, unit, column, width, at_start) { key, title, unit, -1, JOB_COLUMN_##column, width, TRUE, at_start }

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
  COMPUTED ("pieces", N_ ("Pieces"), "", PIECES, 6, 2),
  COMPUTED ("joints", N_ ("Joints"), "", JOINTS, 6, 2),
  COMPUTED ("net_lb", N_ ("Weight"), N_ ("lb, net"), NET, 8, 2),
  COMPUTED ("shipped_lb", N_ ("Shipped"), N_ ("lb"), SHIPPED, 8, FALSE),
  COMPUTED ("shop_h", N_ ("Shop"), N_ ("worker-h"), SHOP, 7, 2),
  COMPUTED ("field_h", N_ ("Field"), N_ ("worker-h"), FIELD, 7, TRUE),
  COMPUTED ("cost", N_ ("Cost"), "", COST, 8, TRUE),
  FIELD ("angle", N_ ("Angle"), N_ ("degrees"), 6, TRUE, FALSE),
  FIELD ("throat", N_ ("Throat"), N_ ("in"), 6, TRUE, FALSE),
  FIELD ("offset", N_ ("Offset"), N_ ("in"), 6, TRUE, FALSE),
  FIELD ("shift", N_ ("Shift"), N_ ("in"), 6, TRUE, FALSE),
  FIELD ("legs", N_ ("Legs"), N_ ("in"), 6, TRUE, FALSE),
  FIELD ("on_edge", N_ ("On edge"), "", 6, FALSE, FALSE),
  FIELD ("first_end", N_ ("First end"), "", 10, FALSE, FALSE),
  FIELD ("last_end", N_ ("Last end"), "", 10, FALSE, FALSE),
  FIELD ("fit_pieces", N_ ("Cut on site"), N_ ("pieces"), 6, TRUE, FALSE),
  FIELD ("condition", N_ ("Conditions"), "", 16, FALSE, FALSE),
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
          columns[c].column = columns[c].field = job_field_find (JOB_RUN, columns[c].key);
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

const char *
run_column_unit (TallySession *session, const RunColumn *column)
{
  static const char *const metric[][2] = { { N_ ("in"), N_ ("mm") },         { N_ ("ft"), N_ ("m") },          { N_ ("in w.g."), N_ ("Pa") },
                                           { N_ ("lb, net"), N_ ("kg, net") }, { N_ ("lb"), N_ ("kg") } };
  TallyJob *job = session_job (session);

  for (gsize i = 0; job && job_names (job)->metric && i < G_N_ELEMENTS (metric); i++)
    if (strcmp (column->unit, metric[i][0]) == 0)
      return _ (metric[i][1]);
  return *column->unit ? _ (column->unit) : "";
}

guint
run_column_width (TallySession *session, const RunColumn *column)
{
  TallyJob *job = session_job (session);

  /* "1524x762 > 1372x610" */
  return job && job_names (job)->metric && strcmp (column->key, "size") == 0 ? 19 : column->width;
}

char *
run_column_text (TallySession *session, const RunColumn *column, const JobRecord *run, const JobRunResult *result)
{
  return job_column_text (session_job (session), run, column->column, result);
}

char *
run_column_inherited (TallySession *session, const RunColumn *column, const JobRecord *run, const JobRunResult *result)
{
  return job_column_inherited (session_job (session), run, column->column, result);
}

gboolean
run_column_read (TallySession *session, const RunColumn *column, JobRecord *run, const char *text, Fault **fault)
{
  return job_cell_read (run, column->field, text, job_names (session_job (session)), fault);
}
