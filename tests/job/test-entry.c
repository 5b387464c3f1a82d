/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "job/entry.h"

#include "base/fuzz.h"

#include <string.h>

/* Every line, name and size here: invented demo. */

static TallyJob *
new_job (gboolean metric)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  TallyJob *job = job_new (catalogue, "entry");
  JobEdit *edit = job_edit_new ("set up");
  static const char *const systems[] = { "SA-1", "EA-1", "R" }, *const areas[] = { "Level 1", "Level 12", "2nd floor" };
  static const char *const drawings[] = { "M-211", "S 7 B", "EA-1" };
  JobRecord *head = job_record_copy (job_head (job));

  head->num[HEAD_UNITS] = metric;
  job_edit_add (edit, job_record_ref (job_head (job)), head);
  for (gsize i = 0; i < G_N_ELEMENTS (systems); i++)
    {
      JobRecord *system = job_record_new (JOB_SYSTEM, job_take_id (job, JOB_SYSTEM), (gint64) i);
      JobRecord *area = job_record_new (JOB_AREA, job_take_id (job, JOB_AREA), (gint64) i);
      job_record_set_text (system, SYSTEM_KEY, systems[i]);
      job_record_set_text (area, AREA_KEY, areas[i]);
      JobRecord *drawing = job_record_new (JOB_DRAWING, job_take_id (job, JOB_DRAWING), (gint64) i);
      job_record_set_text (drawing, DRAWING_KEY, drawings[i]);
      job_edit_add (edit, NULL, system);
      job_edit_add (edit, NULL, area);
      job_edit_add (edit, NULL, drawing);
    }
  g_assert_true (job_apply (job, edit, NULL));
  return job;
}

/* A record from "key=text" pairs between semicolons, read by the fields of a run. */
static JobRecord *
record_of (TallyJob *job, const char *pairs)
{
  JobRecord *run = job_record_new (JOB_RUN, 0, 0);
  g_auto (GStrv) each = g_strsplit (pairs, ";", -1);

  for (char **pair = each; *pair && **pair; pair++)
    {
      g_auto (GStrv) halves = g_strsplit (*pair, "=", 2);
      int field = job_field_find (JOB_RUN, halves[0]);
      Fault *fault = NULL;
      g_assert_cmpint (field, >=, 0);
      job_record_read (run, field, halves[1], job_names (job), &fault);
      g_assert_null (fault);
    }
  return run;
}

typedef struct
{
  const char *line;
  const char *above;    /* (nullable): fields of the row above */
  const char *fields;   /* all that is expected; every other field is empty */
  const char *reading;  /* (nullable) */
} Good;

static const Good good[] = {
  { "elbow 24x12 90 @2 x3", NULL, "kind=radius elbow;size=24x12;angle=90;class=2;count=3",
    "3 radius elbows 24x12, 90°, class 2" },
  { "24x12 46", NULL, "kind=straight;size=24x12;length=46", "straight 24x12, 46 ft" },
  { "24x12 20'", NULL, "kind=straight;size=24x12;length=20", "straight 24x12, 20 ft" },
  { "straight 60x30 46 ft @4", NULL, "kind=straight;size=60x30;length=46;class=4", "straight 60x30, 46 ft, class 4" },
  { "mitre 96x48 @6", NULL, "kind=mitred elbow;size=96x48;class=6", "mitred elbow 96x48, class 6" },
  { "trans 24x12 > 18x10 30in", NULL, "kind=transition;size=24x12;size2=18x10;length=2.5",
    "transition 24x12 to 18x10, 30 in long" },
  { "offset 36x20 48in 12in x2", NULL, "kind=offset;size=36x20;length=4;offset=12;count=2",
    "2 offsets 36x20, 48 in long, 12 in aside" },
  { "tap 16x12 x6", NULL, "kind=tap;size=16x12;count=6", "6 taps 16x12" },
  { "cap 36x20", NULL, "kind=end cap;size=36x20", "end cap 36x20" },
  { "5 access door 12 in", NULL, "kind=counted;count=5;item=access door 12 in", "5 × access door 12 in, no minutes: 0.0 h (field 25 or shop 10 gives some)" },
  { "5 access door 12 in field 25", NULL, "kind=counted;count=5;item=access door 12 in;field_minutes=25",
    "5 × access door 12 in, worker-minutes in the field 25" },
  { "bend 24x12 90", NULL, "kind=radius elbow;size=24x12;angle=90", NULL },
  { "3 mitr 24x12", NULL, "kind=mitred elbow;size=24x12;count=3", NULL },
  { "m-211 24x12 46", NULL, "kind=straight;size=24x12;length=46;drawing=M-211", "straight 24x12, 46 ft, drawing M-211" },
  { "24x12 46 S 7 b", NULL, "kind=straight;size=24x12;length=46;drawing=S 7 B", NULL },
  { "24x12 46 dwg S 7 B", NULL, "kind=straight;size=24x12;length=46;drawing=S 7 B", NULL },
  { "24x12 46 EA-1", NULL, "kind=straight;size=24x12;length=46;system=EA-1", NULL }, /* a drawing has that name too */
  { "24x12 46 dwg EA-1", NULL, "kind=straight;size=24x12;length=46;drawing=EA-1", NULL },
  { "count 5 access door 12 in", NULL, "kind=counted;count=5;item=access door 12 in", NULL },
  { "elbow 14x10 45 r14", NULL, "kind=radius elbow;size=14x10;angle=45;throat=14",
    "radius elbow 14x10, 45°, throat radius 14 in" },
  { "24x12 46 @-2", NULL, "kind=straight;size=24x12;length=46;class=-2", "straight 24x12, 46 ft, class -2" },
  { "600x300 mm 7.5 m", NULL, "kind=straight;size=600x300 mm;length=7.5 m", NULL },
  { "24x12 8 ga 22 outdoors", NULL, "kind=straight;size=24x12;length=8;gauge=22;exposure=outdoors",
    "straight 24x12, 8 ft, 22 gauge, outdoors" },
  { "straight 96x48 14 first equipment last open", NULL,
    "kind=straight;size=96x48;length=14;first_end=equipment;last_end=open",
    "straight 96x48, 14 ft, first end: equipment, last end: open" },
  { "18x10 58 slip-and-drive note: above the corridor, 24x12 > nothing", NULL,
    "kind=straight;size=18x10;length=58;method=slip-and-drive;note=above the corridor, 24x12 > nothing",
    "straight 18x10, 58 ft, Slip and drive, else bolted corners, note: above the corridor, 24x12 > nothing" },
  { "18x10 58 slip-and-drive-driven", NULL, "kind=straight;size=18x10;length=58;method=slip-and-drive-driven", NULL },
  { "elbow 90", "system=SA-1;area=Level 1;drawing=M-201;kind=straight;size=24x12;length=9;class=4;note=mine",
    "system=SA-1;area=Level 1;drawing=M-201;kind=radius elbow;size=24x12;angle=90",
    "radius elbow 24x12 (size of the row above), 90°" },
  { "straight 12 ft", "system=SA-1;kind=transition;size=24x12;size2=18x10",
    "system=SA-1;kind=straight;size=18x10;length=12", NULL },
  { "EA-1 level 12 dwg M-9 3 el 24 x 12 90", "system=SA-1;area=Level 1;drawing=M-201;kind=tap;size=8x6",
    "system=EA-1;area=Level 12;drawing=M-9;kind=radius elbow;size=24x12;angle=90;count=3",
    "3 radius elbows 24x12, 90°, system EA-1, area Level 12, drawing M-9" },
  { "system R, area 2nd floor, cap 8x6", NULL, "system=R;area=2nd floor;kind=end cap;size=8x6",
    "end cap 8x6, system R, area 2nd floor" },
  { "TRANS 600x300mm → 450x250mm 750mm shift -50mm", NULL,
    "kind=transition;size=600x300 mm;size2=450x250 mm;length=750 mm;shift=-50 mm", NULL },
  { "mitred elbow 36x20 legs 8 45°×2", NULL, "kind=mitred elbow;size=36x20;legs=8;angle=45;count=2",
    "2 mitred elbows 36x20, 45°, throat legs 8 in" },
  { "elbow 30 1/2x12 90 on edge @500 Pa stainless", NULL,
    "kind=radius elbow;size=30 1/2x12;angle=90;on_edge=yes;class=2;metal=stainless",
    "radius elbow 30 1/2x12, 90°, on edge, class 2, stainless" },
  { "22 ga 24x12 2'-6 1/2\" fit 1", NULL, "kind=straight;size=24x12;length=2'-6 1/2\";gauge=22;fit_pieces=1", NULL },
  { "count 1 price 950 shop 20 min field 480 note: by a hired tester", NULL,
    "kind=counted;count=1;price=950;shop_minutes=20;field_minutes=480;note=by a hired tester",
    "counted line, price 950.00, worker-minutes in the shop 20, worker-minutes in the field 480, "
    "note: by a hired tester" },
  { "flexible connector 24ft field 45", "kind=straight;size=24x12;length=9",
    "kind=counted;item=flexible connector;length=24;field_minutes=45", NULL },
  { "4 fire damper 24x12 @2", NULL, "kind=counted;count=4;item=fire damper 24x12;class=2", NULL },
  { "offset aside 10in long 4ft 20x12 class -1-1/2 in w.g.", NULL,
    "kind=offset;size=20x12;length=4;offset=10;class=-1 1/2", "offset 20x12, 48 in long, 10 in aside, class -1 1/2" },
  { "# second floor, 24x12 x3", NULL, "kind=note;note=second floor, 24x12 x3", "note: second floor, 24x12 x3" },
  { "  #riser by others  ", "system=SA-1;area=Level 1;drawing=M-201;kind=straight;size=24x12;length=9;class=4",
    "system=SA-1;area=Level 1;drawing=M-201;kind=note;note=riser by others", "note: riser by others" },
  { "Note -- second floor --", NULL, "kind=note;note=-- second floor --", NULL },
  { "note: elbow 24x12 90", NULL, "kind=note;note=elbow 24x12 90", "note: elbow 24x12 90" },
  { "elbow 24x12 90 note: # 4", NULL, "kind=radius elbow;size=24x12;angle=90;note=# 4", NULL },
  { "round 12 dia 40ft", NULL, "kind=round duct;size=12 dia;length=40", "round duct 12 in dia, 40 ft" },
  { "spiral 14 dia 20", NULL, "kind=round duct;size=14 dia;length=20", "round duct 14 in dia, 20 ft" },
  { "12 dia 46", NULL, "kind=round duct;size=12 dia;length=46", "round duct 12 in dia, 46 ft" },
  { "straight ø 12 46 @-4", NULL, "kind=round duct;size=12 dia;length=46;class=-4", NULL },
  { "round ø300mm 6m", NULL, "kind=round duct;size=300 mm dia;length=6 m", NULL },
  { "gored 12 dia 90 x2", NULL, "kind=gored elbow;size=12 dia;angle=90;count=2", "2 gored elbows 12 in dia, 90°" },
  { "gored elbow 16dia 45 r16 gores 4", NULL, "kind=gored elbow;size=16 dia;angle=45;throat=16;gores=4",
    "gored elbow 16 in dia, 45°, throat radius 16 in, 4 gores" },
  { "3 stamped dia 8 45 deg", NULL, "kind=stamped elbow;size=8 dia;angle=45;count=3", NULL },
  { "reducer 16 dia 12 dia", NULL, "kind=reducer;size=16 dia;size2=12 dia", "reducer 16 in dia to 12 in dia" },
  { "trans 16 dia > 12 dia 14in shift 2", NULL, "kind=reducer;size=16 dia;size2=12 dia;length=14 in;shift=2", NULL },
  { "flex 8 dia 6ft", NULL, "kind=flexible duct;size=8 dia;length=6", "flexible duct 8 in dia, 6 ft" },
  { "saddle 8 dia on 16 dia", NULL, "kind=saddle tap;size=8 dia;size2=16 dia", "saddle tap 8 in dia on 16 in dia" },
  { "saddle tap 8 dia on 16 dia 45deg 6in x5", NULL,
    "kind=saddle tap;size=8 dia;size2=16 dia;angle=45;length=6 in;count=5", NULL },
  { "spin-in 8 dia", NULL, "kind=spin-in;size=8 dia", "spin-in 8 in dia" },
  { "cap 18 dia", NULL, "kind=round cap;size=18 dia", NULL },
  { "trans 24x12 > 14 dia 12in", NULL, "kind=square to round;size=24x12;size2=14 dia;length=12 in",
    "square to round 24x12 to 14 in dia, 12 in long" },
  { "square to round 24x12 14 dia", NULL, "kind=square to round;size=24x12;size2=14 dia", NULL },
  { "tee 24x12 12x10", NULL, "kind=tee;size=24x12;size2=12x10", NULL },
  { "boot 12x8", NULL, "kind=boot tap;size=12x8", "boot tap 12x8" },
  { "plenum 48x48 24in", NULL, "kind=plenum box;size=48x48;length=24 in", NULL },
  { "door 12x12", NULL, "kind=access door;size=12x12", "access door 12x12" },
  { "damper 24x12", NULL, "kind=damper;size=24x12", "damper 24x12" },
  { "damper 24 dia x2", NULL, "kind=damper;size=24 dia;count=2", NULL },
  { "fabric 24x12", NULL, "kind=fabric connector;size=24x12", NULL },
  { "gored 90", "kind=reducer;size=16 dia;size2=12 dia;drawing=M-2", "kind=gored elbow;size=12 dia;angle=90;drawing=M-2",
    "gored elbow 12 in dia (size of the row above), 90°" },
  { "24x12 10 first flexible connector", NULL,
    "kind=straight;size=24x12;length=10;first_end=flexible connector", NULL },
};

static void
test_good (void)
{
  g_autoptr (TallyJob) job = new_job (FALSE);
  const JobTypeInfo *info = job_type_info (JOB_RUN);

  for (gsize i = 0; i < G_N_ELEMENTS (good); i++)
    {
      g_autoptr (JobRecord) above = good[i].above ? record_of (job, good[i].above) : NULL;
      g_autoptr (JobRecord) expected = record_of (job, good[i].fields);
      JobEntry entry;

      job_entry_read (job, good[i].line, above, &entry);
      if (entry.query)
        {
          g_autofree char *words = fault_words (entry.query, good[i].line);
          g_error ("“%s”: %s", good[i].line, words);
        }
      g_assert_nonnull (entry.run);
      g_assert_cmpint (entry.run->id, ==, 0);
      for (int f = 0; f < info->n_fields; f++)
        {
          g_autofree char *is = job_record_print (entry.run, f, job_names (job));
          g_autofree char *should = job_record_print (expected, f, job_names (job));
          if (strcmp (is, should) != 0)
            g_error ("“%s”: %s is “%s”, expected “%s”", good[i].line, info->field[f].key, is, should);
        }
      g_assert_true (job_record_equal (entry.run, expected));
      g_assert_cmpstr (entry.reading, !=, NULL);
      if (good[i].reading)
        g_assert_cmpstr (entry.reading, ==, good[i].reading);
      job_entry_clear (&entry);
    }
}

/* The caret stands where the query points, under the line. */
static const struct
{
  const char *line;
  const char *caret;
  const char *remedy; /* words that the remedy holds */
} queried[] = {
  { "", "^", "elbow 24x12 90 x3" },
  { "24x12",
    "     ^", "24x12 46" },
  { "24x12 90°",
    "      ^", "start the line with elbow" },
  { "elbow 24 x12 90",
    "         ^", "like 24x12" },
  { "elbow 24x12 90 45",
    "               ^", "r14" },
  { "elbow 24x12 24in",
    "            ^", "r14" },
  { "trans 24x12 18x10 30",
    "                  ^", "30in" },
  { "trans 24x12 30in",
    "                ^", "18x10" },
  { "offset 36x20 48 12",
    "             ^", "48in 12in" },
  { "offset 36x20 12in",
    "             ^", "aside 12in" },
  { "24x12 46 18x10",
    "         ^", "trans 24x12 > 18x10" },
  { "24x12 46 frobnicate",
    "         ^", "note:" },
  { "5 access door",
    "             ^", "access door 12 in" },
  { "flex 6ft",
    "        ^", "12 dia" },
  { "gored 12 dia 90 gores",
    "                ^", "number" },
  { "reducer 16 dia",
    "              ^", "10 dia" },
  { "reducer 16 dia 12x10",
    "               ^", "dia" },
  { "saddle 16 dia on 8 dia",
    "                 ^", "main" },
  { "elbow 12 dia 90",
    "      ^", "round kind" },
  { "round 12x10 40ft",
    "      ^", "12 dia" },
  { "round 2 dia 40ft",
    "      ^", "smallest round" },
  { "spiral 12 dia 40 14 dia",
    "                 ^", "another kind" },
  { "12 dia > 10 dia",
    "         ^", "reducer" },
  { "round dia",
    "      ^", "12 dia" },
  { "gored 12 dia 6in",
    "             ^", "r14" },
  { "tee 24x12",
    "         ^", "second size" },
  { "tap 16x12 6",
    "          ^", "count like x6" },
  { "24x12 46 -2",
    "         ^", "@-2" },
  { "24x12 46 @",
    "         ^", "@2" },
  { "24x12 46 @1 1/2",
    "            ^", "@1-1/2" },
  { "24x12 46 @0",
    "          ^", "1/2" },
  { "24x12 46 equipment",
    "         ^", "first equipment" },
  { "24x12 46 first fan",
    "               ^", "equipment" },
  { "24x12 46 x0",
    "         ^", "x3" },
  { "24x12 46 x3 x4",
    "            ^", "leave one" },
  { "24x12x3",
    "     ^", "x3" },
  { "24x12 46 ga 23",
    "            ^", "26" },
  { "24x12 20 ga 22",
    "      ^", "20ft" },
  { "24x12 46 price 9",
    "         ^", "count" },
  { "elbow 24x12 200",
    "            ^", "" },
  { "mitre 24x12 120",
    "            ^", "" },
  { "cap 24x12 r6",
    "          ^", "another kind" },
  { "24x1 46",
    "^", "" },
  { "elbow 90",
    "        ^", "24x12" },
  { "46",
    "^", "24x12 46" },
  { "24x12 46 x 2",
    "         ^", "like x3" },
  { "24x12 46 x",
    "         ^", "count, like x3" },
  { "count 5",
    "       ^", "item" },
  { "system SA-2 24x12 46",
    "       ^", "add it first" },
  { "elbow 24x12 x2.5",
    "            ^", "whole" },
  { "24x12 46 r",
    "         ^", "r14" },
  { "#",
    "^", "# second floor" },
  { "  note ",
    "  ^", "# second floor" },
  { "24x12 46 note by others",
    "         ^", "note:" },
  { "24x12 46 # by others",
    "         ^", "note:" },
  { "notes of mine",
    "^", "note:" },
  { "30in elbows? 24x12",
    "     ^", "note:" },
};

static void
test_queried (void)
{
  g_autoptr (TallyJob) job = new_job (FALSE);

  for (gsize i = 0; i < G_N_ELEMENTS (queried); i++)
    {
      const char *line = queried[i].line;
      JobEntry entry;

      job_entry_read (job, line, NULL, &entry);
      if (!entry.query)
        g_error ("“%s” was taken: %s", line, entry.reading);
      g_assert_null (entry.run);
      g_assert_null (entry.reading);
      assert_fault_usable (entry.query, line);
      g_autofree char *words = fault_words (entry.query, line);
      if (g_utf8_strlen (line, entry.query->at) != (glong) strcspn (queried[i].caret, "^"))
        g_error ("“%s”: asked at byte %d: %s", line, entry.query->at, words);
      if (!strstr (entry.query->remedy, queried[i].remedy))
        g_error ("“%s”: no “%s” in: %s", line, queried[i].remedy, words);
      job_entry_clear (&entry);
    }
}

/* A note between two runs does not come between the second and the size above it. */
static void
test_below_note (void)
{
  g_autoptr (TallyJob) job = new_job (FALSE);
  static const char *const pairs[] = { "kind=straight;size=24x12;length=9;drawing=M-1", "kind=note;note=x;drawing=M-2",
                                       "note=y;drawing=M-3" };
  JobEdit *edit = job_edit_new ("set up");
  JobEntry entry;

  for (gsize i = 0; i < G_N_ELEMENTS (pairs); i++)
    {
      JobRecord *run = record_of (job, pairs[i]);
      run->id = job_take_id (job, JOB_RUN);
      run->ord = (gint64) i;
      job_edit_add (edit, NULL, run);
    }
  g_assert_true (job_apply (job, edit, NULL));
  job_entry_read (job, "elbow 90", job_at (job, JOB_RUN, 2), &entry);
  g_assert_null (entry.query);
  g_assert_cmpint (entry.run->num[RUN_W], ==, 24 * LENGTH_NM_PER_IN);
  g_assert_cmpstr (entry.run->text[RUN_DRAWING], ==, "M-3");
  g_assert_null (entry.run->text[RUN_NOTE]);
  job_entry_clear (&entry);
}

static void
test_metric (void)
{
  g_autoptr (TallyJob) job = new_job (TRUE);
  JobEntry entry;

  job_entry_read (job, "600x300 7.5 @500 Pa", NULL, &entry);
  g_assert_null (entry.query);
  g_assert_cmpint (entry.run->num[RUN_W], ==, 600 * LENGTH_NM_PER_MM);
  g_assert_cmpint (entry.run->num[RUN_H], ==, 300 * LENGTH_NM_PER_MM);
  g_assert_cmpint (entry.run->num[RUN_LENGTH], ==, 7500 * LENGTH_NM_PER_MM);
  g_assert_cmpint (entry.run->num[RUN_CLASS], ==, 2000);
  g_assert_cmpstr (entry.reading, ==, "straight 600x300 mm, 7.5 m, class 500 Pa");
  job_entry_clear (&entry);

  job_entry_read (job, "24x12in 20 ft", NULL, &entry);
  g_assert_null (entry.query);
  g_assert_cmpint (entry.run->num[RUN_W], ==, 24 * LENGTH_NM_PER_IN);
  g_assert_cmpint (entry.run->num[RUN_LENGTH], ==, 20 * LENGTH_NM_PER_FT);
  job_entry_clear (&entry);

  /* 24 mm cannot be built: a slip of the unit is asked about. */
  job_entry_read (job, "24x12 46", NULL, &entry);
  g_assert_nonnull (entry.query);
  g_assert_cmpint (entry.query->at, ==, 0);
  job_entry_clear (&entry);
}

/* Pieces the reader knows, in any order: more likely to reach its corners than bytes. */
static char *
random_line (GRand *rand)
{
  static const char *const pieces[] = {
    "elbow", "mitre", "trans", "offset", "tap", "cap", "count", "24x12", "24 x 12", "24 x12", "18x10", ">", "to", "->",
    "46", "90", "90°", "48in", "12in", "2'-6\"", "x3", "x", "×2", "3", "r14", "r", "legs", "aside", "long 4ft", "shift -2",
    "@2", "@", "@-1/2", "@500 Pa", "ga 22", "ga", "22 ga", "outdoors", "on edge", "on", "first", "last open",
    "first equipment", "open", "note: x", "note:", "#", "# x", "note", "slip-and-drive", "access door 12 in", "access", "flexible connector", "price 9",
    "field 60 min", "shop", "SA-1", "Level 1", "system", "area 2nd floor", "drawing", "dwg M-1", "fit 2", "fit", ",", ", ", "\"",
    "'", "-2", "1/2", "1 1/2", "600x300 mm", "7.5 m", "by", "in", "@1 1/2", "999999999999999999999", ".5", "×", "→", "Ω",
  };
  GString *out = g_string_new (NULL);
  int n = g_rand_int_range (rand, 0, 9);

  for (int i = 0; i < n; i++)
    g_string_append_printf (out, "%s%s", pieces[g_rand_int_range (rand, 0, (gint32) G_N_ELEMENTS (pieces))],
                            g_rand_int_range (rand, 0, 5) ? " " : "");
  return g_string_free (out, FALSE);
}

/* Either a run with a reading or a query that can be shown, never both. */
static void
test_garbage (void)
{
  g_autoptr (TallyJob) job = new_job (FALSE);
  g_autoptr (JobRecord) above = record_of (job, "kind=straight;size=24x12;length=9");
  g_autoptr (GRand) rand = g_rand_new_with_seed (20240611);
  int taken = 0, asked = 0;

  for (int i = 0; i < FUZZ_ROUNDS; i++)
    {
      g_autofree char *line = i % 4 ? random_line (rand) : fuzz_text (rand);
      JobEntry entry;

      job_entry_read (job, line, g_rand_boolean (rand) ? above : NULL, &entry);
      g_assert_true ((entry.run == NULL) == (entry.query != NULL));
      g_assert_true ((entry.run == NULL) == (entry.reading == NULL));
      if (entry.query)
        assert_fault_usable (entry.query, line);
      else
        g_assert_true (g_utf8_validate (entry.reading, -1, NULL));
      taken += entry.run != NULL;
      asked += entry.query != NULL;
      job_entry_clear (&entry);
    }
  /* Else the lines would be no test. */
  g_assert_cmpint (taken, >, FUZZ_ROUNDS / 100);
  g_assert_cmpint (asked, >, FUZZ_ROUNDS / 2);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/job/entry/good", test_good);
  g_test_add_func ("/job/entry/queried", test_queried);
  g_test_add_func ("/job/entry/metric", test_metric);
  g_test_add_func ("/job/entry/below-note", test_below_note);
  g_test_add_func ("/job/entry/garbage", test_garbage);
  return g_test_run ();
}
