/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one edit path: random edits with undo and redo, against full recomputation to the last digit. */
#include "exchange/runs-csv.h"
#include "job/job.h"

#include <gio/gio.h>
#include <string.h>

static TallyJob *
demo (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();

  return exchange_demo_job (catalogue);
}

/* What people type, good and bad, by field. */
static const struct
{
  const char *field;
  const char *text[8];
} typed[] = {
  { "size", { "24x12", "600x300 mm", "0x4", "12x1o", "", "96x48", "18x10", "2'-6\" x 14" } },
  { "size2", { "18x10", "30x20", "", "x", "14x8", "24x12", "20x12", "8x6" } },
  { "length", { "20", "7.5 m", "46 ft 3 in", "-3", "abc", "", "2.5", "52" } },
  { "count", { "1", "3", "0", "2.5", "", "12", "7", "x" } },
  { "class", { "2", "-1/2", "8", "500 Pa", "", "4", "6", "two" } },
  { "kind", { "straight", "radius elbow", "mitred elbow", "transition", "offset", "note", "end cap", "counted" } },
  { "first_end", { "joint", "equipment", "open", "raw", "", "sleeve", "flange", "flexible connector" } },
  { "last_end", { "joint", "equipment", "open", "raw", "", "sleeve", "flange", "flexible connector" } },
  { "fit_pieces", { "1", "2", "0", "", "99", "1", "", "" } },
  { "exposure", { "outdoors", "indoors", "", "roof", "outdoors", "", "indoors", "" } },
  { "gauge", { "20", "18", "", "99", "24", "", "22", "" } },
  { "method", { "slip-on-driven", "integral-bolted", "slip-and-drive", "", "none such", "slip-on-bolted", "", "" } },
  { "item", { "access door 12 in", "flexible connector", "", "no such item", "lift week", "", "", "" } },
  { "price", { "12.50", "950", "", "x", "0", "", "", "" } },
  { "field_minutes", { "25", "480", "", "-1", "0.5", "", "", "" } },
  { "area", { "Plant", "Level 1", "Level 2", "", "Roof", "Level 1", "", "Plant" } },
  { "system", { "SA-1", "RA-1", "EA-1", "", "XX", "SA-1", "", "RA-1" } },
  { "note", { "by others", "", "-- second floor --", "", "", "x", "", "" } },
  { "on_edge", { "yes", "no", "", "maybe", "yes", "", "", "no" } },
};

static gint64
random_id (TallyJob *job, JobType type, GRand *rand)
{
  return job_at (job, type, (guint) g_rand_int_range (rand, 0, (int) job_n (job, type)))->id;
}

static void
edit_run (TallyJob *job, GRand *rand)
{
  int f = g_rand_int_range (rand, 0, G_N_ELEMENTS (typed));
  Fault *fault = NULL;

  g_assert_true (job_edit_field (job, JOB_RUN, random_id (job, JOB_RUN, rand), job_field_find (JOB_RUN, typed[f].field),
                                 typed[f].text[g_rand_int_range (rand, 0, 8)], &fault, NULL));
  if (fault)
    g_assert_cmpstr (fault->remedy, !=, "");
  g_clear_pointer (&fault, fault_free);
}

static void
add_runs (TallyJob *job, GRand *rand)
{
  guint n = (guint) g_rand_int_range (rand, 1, 6), at = (guint) g_rand_int_range (rand, 0, (int) job_n (job, JOB_RUN) + 1);
  JobEdit *edit = job_edit_new ("paste");
  gint64 first, step;

  if (!job_ord_before (job, JOB_RUN, at, n, &first, &step))
    {
      job_edit_renumber (job, edit, JOB_RUN);
      g_assert_true (job_apply (job, edit, NULL));
      return;
    }
  for (guint i = 0; i < n; i++)
    {
      JobRecord *run = job_record_copy (job_at (job, JOB_RUN, (guint) g_rand_int_range (rand, 0, (int) job_n (job, JOB_RUN))));
      run->id = job_take_id (job, JOB_RUN);
      run->ord = first + step * (gint64) i;
      job_edit_add (edit, NULL, run);
    }
  g_assert_true (job_apply (job, edit, NULL));
  g_assert_cmpint (job_at (job, JOB_RUN, at)->ord, ==, first);
}

static void
delete_run (TallyJob *job, GRand *rand)
{
  JobEdit *edit = job_edit_new ("delete");

  if (job_n (job, JOB_RUN) < 20)
    {
      job_edit_free (edit);
      return;
    }
  job_edit_add (edit, job_record_ref (job_find (job, JOB_RUN, random_id (job, JOB_RUN, rand))), NULL);
  g_assert_true (job_apply (job, edit, NULL));
}

/* Inherited values, conditions, figures of the catalogue. */
static void
edit_around (TallyJob *job, GRand *rand)
{
  static const char *const classes[] = { "1", "2", "-2", "4", "6", "9", "" };
  static const char *const factors[] = { "1", "1.10", "1.25", "0.9", "" };
  static const char *const methods[] = { "slip-on-bolted", "integral-bolted", "slip-and-drive", "" };
  static const char *const prices[] = { "0.98", "1.15", "0.7", "1.3333" };
  JobEdit *edit;
  JobRecord *change;

  switch (g_rand_int_range (rand, 0, 7))
    {
    case 0:
      job_edit_field (job, JOB_CELL, random_id (job, JOB_CELL, rand), job_field_find (JOB_CELL, "class"),
                      classes[g_rand_int_range (rand, 0, 7)], NULL, NULL);
      break;
    case 1:
      job_edit_field (job, JOB_AREA, random_id (job, JOB_AREA, rand), job_field_find (JOB_AREA, "field_condition"),
                      factors[g_rand_int_range (rand, 0, 5)], NULL, NULL);
      break;
    case 2:
      job_edit_field (job, JOB_SYSTEM, random_id (job, JOB_SYSTEM, rand), job_field_find (JOB_SYSTEM, "method"),
                      methods[g_rand_int_range (rand, 0, 4)], NULL, NULL);
      break;
    case 3:
      job_edit_field (job, JOB_AREA, random_id (job, JOB_AREA, rand), job_field_find (JOB_AREA, "times"),
                      g_rand_boolean (rand) ? "3" : "1", NULL, NULL);
      break;
    case 4:
      job_edit_field (job, JOB_HEAD, 1, job_field_find (JOB_HEAD, "rule_set"), g_rand_boolean (rand) ? "traditional" : "demo", NULL,
                      NULL);
      break;
    case 5:
      job_edit_field (job, JOB_AREA, random_id (job, JOB_AREA, rand), job_field_find (JOB_AREA, "share_joints_on_floor"),
                      g_rand_boolean (rand) ? "0.25" : "", NULL, NULL);
      break;
    default:
      edit = job_edit_new ("figure");
      change = job_record_new (JOB_CHANGE, job_take_id (job, JOB_CHANGE), (gint64) job_n (job, JOB_CHANGE) + 1);
      job_record_set_text (change, CHANGE_OBJECT, g_rand_boolean (rand) ? "item" : "step");
      job_record_set_text (change, CHANGE_KEY, strcmp (change->text[CHANGE_OBJECT], "item") == 0 ? "galvanised sheet" : "cleat");
      job_record_set_text (change, CHANGE_FIELD, strcmp (change->text[CHANGE_OBJECT], "item") == 0 ? "price" : "likely");
      job_record_set_text (change, CHANGE_VALUE, prices[g_rand_int_range (rand, 0, 4)]);
      job_edit_add (edit, NULL, change);
      g_assert_true (job_apply (job, edit, NULL));
      break;
    }
}

/* All records as one string, to compare whole states. */
static char *
state (TallyJob *job)
{
  GString *out = g_string_new (NULL);

  for (int t = 0; t < JOB_N_TYPES; t++)
    for (guint i = 0; i < job_n (job, (JobType) t); i++)
      {
        const JobRecord *r = job_at (job, (JobType) t, i);
        g_string_append_printf (out, "%d %" G_GINT64_FORMAT " %" G_GINT64_FORMAT, t, r->id, r->ord);
        for (int f = 0; f < job_type_info ((JobType) t)->n_fields; f++)
          {
            g_autofree char *text = job_record_print (r, f, job_names (job));
            g_string_append_printf (out, "|%s", text);
          }
        g_string_append_c (out, '\n');
      }
  return g_string_free (out, FALSE);
}

static void
test_random_edits (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20261125);
  g_autoptr (TallyJob) job = demo ();
  g_autofree char *start = state (job);
  int undos = 0;

  for (int i = 0; i < 600; i++)
    {
      int what = g_rand_int_range (rand, 0, 20);
      if (what < 10)
        edit_run (job, rand);
      else if (what < 13)
        add_runs (job, rand);
      else if (what < 15)
        delete_run (job, rand);
      else if (what < 17)
        edit_around (job, rand);
      else if (what < 19)
        g_assert_true (job_undo (job, NULL));
      else
        g_assert_true (job_redo (job, NULL));
      if (i % 5 == 0)
        g_assert_true (job_check_totals (job));
    }
  g_assert_true (job_check_totals (job));
  g_autofree char *end = state (job);
  while (job_undo_label (job))
    {
      g_assert_true (job_undo (job, NULL));
      undos++;
    }
  g_autofree char *back = state (job);
  g_assert_cmpint (undos, >, 100);
  g_assert_true (g_str_equal (back, start));
  g_assert_true (job_check_totals (job));
  while (undos-- > 0)
    g_assert_true (job_redo (job, NULL));
  g_autofree char *again = state (job);
  g_assert_true (g_str_equal (again, end));
  g_assert_true (job_check_totals (job));
}

/* A refused edit leaves nothing behind, in memory or on the undo list. */
static gboolean
refuse (gpointer self, const JobEdit *edit, GError **error)
{
  (void) self;
  (void) edit;
  g_set_error (error, G_IO_ERROR, G_IO_ERROR_NO_SPACE, "the disk is full");
  return FALSE;
}

static void
test_sink_refuses (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autofree char *before = state (job);
  g_autoptr (GError) error = NULL;
  JobSink sink = { refuse, NULL };

  while (job_undo_label (job)) /* what loading left there */
    job_undo (job, NULL);
  while (job_redo_label (job))
    job_redo (job, NULL);
  const char *label = job_undo_label (job);
  job_set_sink (job, &sink);
  g_assert_false (job_edit_field (job, JOB_RUN, job_at (job, JOB_RUN, 0)->id, job_field_find (JOB_RUN, "length"), "99", NULL, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NO_SPACE);
  g_assert_cmpstr (job_undo_label (job), ==, label);
  g_autofree char *after = state (job);
  g_assert_true (g_str_equal (after, before));
  g_assert_true (job_check_totals (job));
}

typedef JobEdit *(*MakeEdit) (TallyJob *job);

static JobEdit *
stale_edit (TallyJob *job)
{
  JobEdit *edit = job_edit_new ("stale");
  JobRecord *before = job_record_copy (job_at (job, JOB_RUN, 0)), *after = job_record_copy (before);

  before->num[RUN_LENGTH] = 1;
  job_edit_add (edit, before, after);
  return edit;
}

static JobEdit *
orphan_edit (TallyJob *job)
{
  JobEdit *edit = job_edit_new ("orphans");

  job_edit_add (edit, job_record_ref (job_at (job, JOB_SYSTEM, 0)), NULL);
  return edit;
}

static JobEdit *
no_such_system (TallyJob *job)
{
  JobEdit *edit = job_edit_new ("nowhere");
  JobRecord *after = job_record_copy (job_at (job, JOB_RUN, 0));

  after->num[RUN_SYSTEM] = 4711;
  job_edit_add (edit, job_record_ref (job_at (job, JOB_RUN, 0)), after);
  return edit;
}

static JobEdit *
same_name_twice (TallyJob *job)
{
  JobEdit *edit = job_edit_new ("names");

  for (int i = 0; i < 2; i++)
    {
      JobRecord *area = job_record_new (JOB_AREA, job_take_id (job, JOB_AREA), 9);
      job_record_set_text (area, AREA_KEY, "Roof");
      job_edit_add (edit, NULL, area);
    }
  return edit;
}

static JobEdit *
one_row_twice (TallyJob *job)
{
  JobEdit *edit = job_edit_new ("twice");

  for (int i = 0; i < 2; i++)
    job_edit_add (edit, job_record_ref (job_at (job, JOB_RUN, 0)), job_record_copy (job_at (job, JOB_RUN, 0)));
  return edit;
}

static JobEdit *
bad_figure (TallyJob *job)
{
  JobEdit *edit = job_edit_new ("figure");
  JobRecord *change = job_record_new (JOB_CHANGE, job_take_id (job, JOB_CHANGE), 1);

  job_record_set_text (change, CHANGE_OBJECT, "item");
  job_record_set_text (change, CHANGE_KEY, "no such item");
  job_record_set_text (change, CHANGE_FIELD, "price");
  job_record_set_text (change, CHANGE_VALUE, "1");
  job_edit_add (edit, NULL, change);
  return edit;
}

static JobEdit *
no_head (TallyJob *job)
{
  JobEdit *edit = job_edit_new ("head");

  job_edit_add (edit, job_record_ref (job_head (job)), NULL);
  return edit;
}

static void
test_invalid_edits (void)
{
  static const MakeEdit make[] = { stale_edit,    orphan_edit,   no_such_system, same_name_twice,
                                   one_row_twice, bad_figure,    no_head };
  g_autoptr (TallyJob) job = demo ();
  g_autofree char *before = state (job);

  for (gsize i = 0; i < G_N_ELEMENTS (make); i++)
    {
      g_autoptr (GError) error = NULL;
      g_assert_false (job_apply (job, make[i] (job), &error));
      g_assert_error (error, JOB_ERROR, (i == 0 ? JOB_ERROR_STALE : JOB_ERROR_INVALID));
      g_autofree char *after = state (job);
      g_assert_true (g_str_equal (after, before));
    }
  g_assert_true (job_check_totals (job));
}

/* An area built three times counts three times; conditions multiply field minutes only. */
static void
test_times_and_conditions (void)
{
  g_autoptr (TallyJob) job = demo ();
  gint64 area = job_at (job, JOB_AREA, 1)->id; /* Level 1, factor 1.00 */
  JobScope scope = { 0, area };
  JobTotals once, thrice, slow;

  job_totals (job, &scope, JOB_OWN_METHOD, &once);
  job_edit_field (job, JOB_AREA, area, job_field_find (JOB_AREA, "times"), "3", NULL, NULL);
  job_totals (job, &scope, JOB_OWN_METHOD, &thrice);
  g_assert_true (thrice.sums.items[COST_MATERIAL] == 3 * once.sums.items[COST_MATERIAL]);
  g_assert_true (thrice.sums.time[0] == 3 * once.sums.time[0]);
  g_assert_true (job_undo (job, NULL));
  job_edit_field (job, JOB_AREA, area, job_field_find (JOB_AREA, "field_condition"), "1.5", NULL, NULL);
  job_totals (job, &scope, JOB_OWN_METHOD, &slow);
  g_assert_true (2 * slow.sums.time[0] == 3 * once.sums.time[0]);
  g_assert_true (slow.sums.time[1] == once.sums.time[1]);
  g_assert_true (slow.sums.items[COST_MATERIAL] == once.sums.items[COST_MATERIAL]);
  job_totals_clear (&once);
  job_totals_clear (&thrice);
  job_totals_clear (&slow);
}

/* A condition of the catalogue reaches only the places and groups in its scope; a share of joints made on the floor escapes
 * what is scoped to the air. */
static void
test_condition_scope (void)
{
  g_autoptr (TallyJob) job = demo ();
  gint64 area = job_at (job, JOB_AREA, 1)->id;
  JobScope scope = { 0, area };
  JobTotals plain, high, floor_made;

  job_totals (job, &scope, JOB_OWN_METHOD, &plain);
  job_edit_field (job, JOB_AREA, area, job_field_find (JOB_AREA, "condition"), "high work", NULL, NULL);
  job_totals (job, &scope, JOB_OWN_METHOD, &high);
  g_assert_true (high.sums.time[0] > plain.sums.time[0]);
  g_assert_true (high.sums.time[1] == plain.sums.time[1]);
  for (int i = 0; i < job_basis (job)->n_slots; i++)
    if (job_basis (job)->slots[i].place == LABOUR_FLOOR)
      g_assert_true (high.slot_time[i] == plain.slot_time[i]);
  job_edit_field (job, JOB_AREA, area, job_field_find (JOB_AREA, "share_joints_on_floor"), "1", NULL, NULL);
  job_totals (job, &scope, JOB_OWN_METHOD, &floor_made);
  g_assert_true (floor_made.sums.joint_time < high.sums.joint_time);
  job_totals_clear (&plain);
  job_totals_clear (&high);
  job_totals_clear (&floor_made);
}

/* Text that cannot be read is kept as typed; the run is not priced and counted so. */
static void
test_kept_as_typed (void)
{
  g_autoptr (TallyJob) job = demo ();
  gint64 id = job_at (job, JOB_RUN, 3)->id;
  int field = job_field_find (JOB_RUN, "length");
  JobScope all = { 0, 0 };
  Fault *fault = NULL;
  JobTotals totals;
  JobRunResult r;

  g_assert_true (job_edit_field (job, JOB_RUN, id, field, "18ab", &fault, NULL));
  g_assert_nonnull (fault);
  fault_free (fault);
  g_autofree char *text = job_record_print (job_find (job, JOB_RUN, id), field, job_names (job));
  g_assert_cmpstr (text, ==, "18ab");
  job_totals (job, &all, JOB_OWN_METHOD, &totals);
  g_assert_cmpint (totals.not_priced, ==, 1);
  g_assert_cmpint (totals.runs, ==, 114);
  job_totals_clear (&totals);
  g_assert_false (job_compute (job, job_find (job, JOB_RUN, id), JOB_OWN_METHOD, &r));
  g_assert_cmpint (r.fault_field, ==, field);
  g_assert_cmpint (r.fault->at, ==, 2);
  job_run_result_clear (&r);
  g_assert_true (job_undo (job, NULL));
  job_totals (job, &all, JOB_OWN_METHOD, &totals);
  g_assert_cmpint (totals.not_priced, ==, 0);
  job_totals_clear (&totals);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/job/edit/random", test_random_edits);
  g_test_add_func ("/job/edit/sink-refuses", test_sink_refuses);
  g_test_add_func ("/job/edit/invalid", test_invalid_edits);
  g_test_add_func ("/job/totals/times-and-conditions", test_times_and_conditions);
  g_test_add_func ("/job/totals/condition-scope", test_condition_scope);
  g_test_add_func ("/job/runs/kept-as-typed", test_kept_as_typed);
  return g_test_run ();
}
