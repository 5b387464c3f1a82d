/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "exchange/runs-csv.h"

#include <string.h>

/* Headings of other people's take-offs (common practice) and what an import would make. Lines: invented demo. */

static void
test_headings (void)
{
  static const struct
  {
    const char *heading, *key; /* NULL: no guess; "height": the second side of a size */
  } rows[] = {
    { "system", "system" },     { "Sys", "system" },      { "DWG.", "drawing" },      { "Drawing No.", "drawing" },
    { "Qty", "count" },         { "Floor", "area" },      { "Level", "area" },        { "Len", "length" },
    { "Gage", "gauge" },        { "gauge", "gauge" },     { "Ga", "gauge" },          { "Second size", "size2" },
    { "size2", "size2" },       { "On edge", "on_edge" }, { "Pieces cut on site", "fit_pieces" },
    { "fit_pieces", "fit_pieces" }, { "Length (ft)", "length" }, { "length_ft", "length" }, { "Length, ft", "length" },
    { "Size (in)", "size" },    { "W", "size" },          { "H", "height" },          { "Height", "height" },
    { "Remarks", "note" },      { "Material", "metal" },
    /* In another unit bare figures would be read wrong. */
    { "Length (m)", NULL },     { "Length (in)", NULL },  { "Size (mm)", NULL },      { "H (mm)", NULL },
    { "Weight", NULL },         { "", NULL },             { "()", NULL },             { "length (ft", NULL },
  };
  int height = job_type_info (JOB_RUN)->n_fields;

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      int field = runs_heading_field (rows[i].heading);
      int expected = !rows[i].key ? -1 : strcmp (rows[i].key, "height") == 0 ? height : job_field_find (JOB_RUN, rows[i].key);
      if (field != expected)
        g_error ("“%s” is %d, expected %d", rows[i].heading, field, expected);
    }
}

static RunsImport *
import (TallyJob *job, const char *text, CsvTable **table)
{
  RunsImport *self;

  *table = csv_parse (text, -1, "runs.csv", NULL);
  g_assert_nonnull (*table);
  self = runs_import_new (job, *table);
  runs_import_read (self, job);
  return self;
}

static void
assert_run (TallyJob *job, const RunsImport *self, guint i, const char *key, const char *expected)
{
  g_autofree char *text = job_record_print (g_ptr_array_index (self->runs, i), job_field_find (JOB_RUN, key), job_names (job));

  g_assert_cmpstr (text, ==, expected);
}

/* A whole file with none of the program's own headings, and the words of the line of entry. */
static void
test_file (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = exchange_demo_job (catalogue);
  g_autoptr (CsvTable) table = NULL;
  g_autoptr (RunsImport) self = import (job,
                                        "Sys,Floor,Dwg,Type,W,H,Len (ft),Qty,Gage,Remarks\n"
                                        "SA-1,level 1,M-201,duct,24,12,10,2,22,first\n"
                                        "SA-1,Level 1,M-201,elbow,24,12,,1,,\n"
                                        "SA-1,Level 1,M-201,ell,24x12,,,1,,\n",
                                        &table);

  if (self->faults->len > 0)
    g_error ("%s", csv_fault_words (g_ptr_array_index (self->faults, 0)));
  g_assert_cmpuint (self->runs->len, ==, 3);
  g_assert_cmpuint (self->new_systems->len + self->new_areas->len + self->new_drawings->len, ==, 0);
  g_assert_null (runs_import_makes_all (self, TRUE));
  assert_run (job, self, 0, "kind", "straight");
  assert_run (job, self, 0, "area", "Level 1");
  assert_run (job, self, 0, "size", "24x12");
  assert_run (job, self, 0, "length", "10");
  assert_run (job, self, 0, "count", "2");
  assert_run (job, self, 0, "gauge", "22");
  assert_run (job, self, 0, "note", "first");
  assert_run (job, self, 1, "kind", "radius elbow");
  assert_run (job, self, 1, "size", "24x12");
  assert_run (job, self, 2, "size", "24x12");
}

/* A column of the program's own name goes before a guess, and a width is no size where no height stands. */
static void
test_no_clash (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = job_new (catalogue, "import");
  g_autoptr (CsvTable) table = NULL, narrow = NULL;
  g_autoptr (RunsImport) self = import (job, "Qty,kind,size2,size,count,length\n7,transition,18x10,24x12,2,\n", &table);
  g_autoptr (RunsImport) width = import (job, "kind,width,length\nstraight,24,10\n", &narrow);

  g_assert_cmpint (self->field[0], ==, -1);
  assert_run (job, self, 0, "count", "2");
  /* The order of the columns is nobody's business. */
  assert_run (job, self, 0, "size", "24x12");
  assert_run (job, self, 0, "size2", "18x10");
  g_assert_cmpint (width->field[1], ==, -1);
}

static void
test_makes (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = exchange_demo_job (catalogue);
  g_autoptr (CsvTable) table = NULL;
  g_autoptr (RunsImport) self = import (job,
                                        "system,area,drawing,kind,size,length\n"
                                        "SA-1,Level 1,M-201,straight,24x12,10\n"
                                        "XX,Level 9,M-999,straight,24x12,10\n"
                                        "XX,Level 1,M-201,straight,24x12,long\n"
                                        "sa-1,Roof,M-201,straight,24x12,long\n",
                                        &table);
  g_autofree char *none = runs_import_makes (self, 0), *all = runs_import_makes (self, 1), *again = runs_import_makes (self, 2);
  g_autofree char *roof = runs_import_makes (self, 3);
  g_autofree char *whole = runs_import_makes_all (self, FALSE), *kept = runs_import_makes_all (self, TRUE);

  g_assert_null (none);
  g_assert_cmpstr (all, ==, "a new system XX, a new area Level 9, a new drawing M-999");
  g_assert_cmpstr (again, ==, "a new system XX");
  g_assert_cmpstr (roof, ==, "a new area Roof");
  /* The area Roof is named by a faulty line alone. */
  g_assert_cmpstr (whole, ==, "1 new system (XX), 1 new area (Level 9), 1 new drawing (M-999)");
  g_assert_cmpstr (kept, ==, "1 new system (XX), 2 new areas (Level 9, Roof), 1 new drawing (M-999)");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/runs-heading/headings", test_headings);
  g_test_add_func ("/runs-heading/file", test_file);
  g_test_add_func ("/runs-heading/no-clash", test_no_clash);
  g_test_add_func ("/runs-heading/makes", test_makes);
  return g_test_run ();
}
