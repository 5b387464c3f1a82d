/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the Methods view says, without a widget, about the demo job (invented demo). */
#include "window/methods/methods-model.h"

#include "base/money.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

typedef struct
{
  char *folder, *path;
  TallySession *session;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  GError *error = NULL;

  (void) data;
  f->folder = g_dir_make_tmp ("methods-XXXXXX", &error);
  g_assert_no_error (error);
  f->path = g_build_filename (f->folder, "office.seam", NULL);
  f->session = session_new ();
  g_assert_true (session_open_office (f->session, f->path, TRUE, &error));
  g_assert_no_error (error);
  g_assert_true (session_open_demo (f->session, &error));
  g_assert_no_error (error);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  g_autoptr (GDir) dir = g_dir_open (f->folder, 0, NULL);
  const char *name;

  (void) data;
  g_assert_finalize_object (f->session);
  while ((name = g_dir_read_name (dir)))
    {
      g_autofree char *path = g_build_filename (f->folder, name, NULL);
      g_unlink (path);
    }
  g_rmdir (f->folder);
  g_free (f->path);
  g_free (f->folder);
}

static gboolean *
shown_all (const MethodsData *data, gboolean on)
{
  gboolean *shown = g_new0 (gboolean, (gsize) data->n + 1);

  for (int m = 0; m < data->n; m++)
    shown[m] = on;
  return shown;
}

#define assert_holds(text, part) \
  do \
    if (!strstr ((text), (part))) \
      { \
        g_test_message ("“%s” does not hold “%s”", (text), (part)); \
        g_test_fail (); \
      } \
  while (0)

static void
test_conclusion (Fixture *f, gconstpointer unused)
{
  g_autoptr (MethodsData) data = methods_data_new (f->session, METHODS_JOB);
  g_autofree gboolean *all = shown_all (data, TRUE), *none = shown_all (data, FALSE);
  int best = 0, worst = 0;

  (void) unused;
  for (int m = 1; m < data->n; m++)
    {
      best = methods_whole (data, m) < methods_whole (data, best) ? m : best;
      worst = methods_whole (data, m) > methods_whole (data, worst) ? m : worst;
    }
  g_assert_cmpint (best, !=, worst);
  g_autofree char *saves = methods_conclusion (data, all, worst);
  g_autofree char *money = money_print (methods_whole (data, worst) - methods_whole (data, best), data->decimals, TRUE);
  g_assert_true (g_str_has_prefix (saves, methods_name (data, best)));
  assert_holds (saves, money);
  assert_holds (saves, methods_name (data, worst));
  assert_holds (saves, "tooling included");

  g_autofree char *nothing = methods_conclusion (data, all, best);
  assert_holds (nothing, "no other method shown saves anything");
  /* a method that is not shown is not spoken of */
  g_autofree char *alone = methods_conclusion (data, none, worst);
  g_assert_true (g_str_has_prefix (alone, methods_name (data, worst)));
  assert_holds (alone, "no other method shown saves anything");
  g_assert_cmpint (methods_best (data, all, best, best), !=, best);
  g_assert_cmpint (methods_best (data, none, best, best), ==, -1);
  g_assert_null (strstr (saves, "not priced"));

  g_autofree char *rests = methods_rests (data, best);
  assert_holds (rests, "a bid must name when it rests on them");
  assert_holds (rests, "invented for the demo");
}

static void
test_not_priced (Fixture *f, gconstpointer unused)
{
  Fault *fault = NULL;

  (void) unused;
  g_assert_true (session_edit_field (f->session, JOB_RUN, job_at (session_job (f->session), JOB_RUN, 2)->id,
                                     job_field_find (JOB_RUN, "size"), "12x1o", &fault));
  g_clear_pointer (&fault, fault_free);
  g_autoptr (MethodsData) data = methods_data_new (f->session, METHODS_JOB);
  g_autofree gboolean *all = shown_all (data, TRUE);
  g_autofree char *words = methods_conclusion (data, all, 0);
  assert_holds (words, " 1 run is not priced and stands in no figure.");
}

static void
test_of (Fixture *f, gconstpointer unused)
{
  TallyJob *job = session_job (f->session);
  gint64 ids[] = { job_at (job, JOB_RUN, 0)->id, job_at (job, JOB_RUN, 1)->id };

  (void) unused;
  {
    g_autoptr (MethodsData) data = methods_data_new (f->session, METHODS_RUNS);
    g_autofree gboolean *all = shown_all (data, TRUE);
    g_autofree char *words = methods_conclusion (data, all, 0);
    assert_holds (words, "No runs are selected");
  }
  session_set_selection (f->session, ids, 2);
  session_set_scope (f->session, job_at (job, JOB_SYSTEM, 0)->id, job_at (job, JOB_AREA, 0)->id);
  g_autoptr (MethodsData) runs = methods_data_new (f->session, METHODS_RUNS);
  g_autoptr (MethodsData) part = methods_data_new (f->session, METHODS_PART);
  g_autoptr (MethodsData) whole = methods_data_new (f->session, METHODS_JOB);
  g_assert_cmpint (runs->runs, ==, 2);
  g_assert_cmpint (part->runs, >, 2);
  g_assert_cmpint (whole->runs, ==, job_n (job, JOB_RUN));
  g_assert_cmpint (part->runs, <, whole->runs);
  g_autofree char *name = methods_part_name (f->session), *about = methods_about (part, 0, name);
  g_autofree char *expected = g_strdup_printf ("%s, %s", job_at (job, JOB_SYSTEM, 0)->text[SYSTEM_KEY],
                                               job_at (job, JOB_AREA, 0)->text[AREA_KEY]);
  g_assert_cmpstr (name, ==, expected);
  g_assert_true (g_str_has_prefix (about, expected));
  session_close_job (f->session);
  g_assert_null (methods_data_new (f->session, METHODS_JOB));
  g_autofree char *closed = methods_conclusion (NULL, NULL, -1);
  g_assert_cmpstr (closed, ==, "No job is open.");
}

static void
test_words (void)
{
  static const struct
  {
    CostEven even;
    const char *words;
  } rows[] = {
    { { .kind = COST_EVEN_FIELD_RATE, .exists = TRUE, .even = 44.055, .slope = 2, .gain = 5 }, "pays above 44.06" },
    { { .kind = COST_EVEN_ITEM, .exists = TRUE, .even = 2.629431, .slope = -4, .gain = 5 }, "pays below 2.629" },
    { { .kind = COST_EVEN_JOINTS, .exists = TRUE, .even = 1326.6, .slope = 5, .gain = -3 }, "pays above 1,327" },
    { { .kind = COST_EVEN_ITEM, .even = NAN, .slope = 1, .gain = 5 }, "pays at any figure" },
    { { .kind = COST_EVEN_ITEM, .even = NAN, .slope = -1, .gain = -5 }, "never pays on this alone" },
    { { .kind = COST_EVEN_ITEM, .even = NAN, .equal = TRUE }, "costs the same" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *words = methods_even_words (&rows[i].even);
      g_assert_cmpstr (words, ==, rows[i].words);
    }
  g_autofree char *less = methods_difference (-3622, "3,622"), *more = methods_difference (39, "39"), *same = methods_difference (0, "0");
  g_assert_cmpstr (less, ==, "3,622 less");
  g_assert_cmpstr (more, ==, "39 more");
  g_assert_cmpstr (same, ==, "same");
  g_autofree char *none = methods_number (NAN, 2), *huge = methods_number (1e300, 2), *minus = methods_number (-1234.56, 1);
  g_assert_cmpstr (none, ==, "");
  g_assert_cmpstr (huge, ==, "");
  g_assert_cmpstr (minus, ==, "-1,234.6");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/window/methods/conclusion", Fixture, NULL, set_up, test_conclusion, tear_down);
  g_test_add ("/window/methods/not-priced", Fixture, NULL, set_up, test_not_priced, tear_down);
  g_test_add ("/window/methods/of", Fixture, NULL, set_up, test_of, tear_down);
  g_test_add_func ("/window/methods/words", test_words);
  return g_test_run ();
}
