/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/runs-csv.h"

#include "job/cell.h"
#include "job/labour-model.h"
#include "job/check.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* What a run without values of its own gets; the order of design: cell, system, job. */
typedef struct
{
  gint64 system, area;
  gint64 pressure, metal, exposure;
  const char *method; /* (nullable) borrowed */
} Inherited;

/* What the import keeps beside what it shows. */
typedef struct
{
  RunsImport import;
  GArray *faulty; /* gboolean by line of the table */
  Inherited inherited; /* of the line read last */
  guint next;     /* row of the table, to read next */
  GHashTable *drawings; /* (nullable): names that the job or a line before has; borrowed of the job */
} Import;

static Import *
whole (RunsImport *import)
{
  return (Import *) import;
}

/* ---- names of systems and areas, also of those that the file brings along ---- */

typedef struct
{
  TallyJob *job;
  RunsImport *import;
} Lookup;

static GPtrArray *
pending_of (RunsImport *import, JobType type)
{
  return type == JOB_SYSTEM ? import->new_systems : import->new_areas;
}

static const char *
name_in (const JobRecord *record)
{
  return record->text[record->type == JOB_SYSTEM ? SYSTEM_KEY : AREA_KEY];
}

static gboolean
same_name (const JobRecord *record, const char *name, gboolean fold)
{
  const char *own = name_in (record);

  if (!own || !fold)
    return g_strcmp0 (own, name) == 0;
  g_autofree char *a = g_utf8_casefold (own, -1), *b = g_utf8_casefold (name, -1);
  return strcmp (a, b) == 0;
}

/* As it is written first, then whatever its case: "level 1" is no second "Level 1". */
static gint64
find_name (gpointer data, JobType type, const char *name)
{
  const Lookup *lookup = data;
  const GPtrArray *pending = pending_of (lookup->import, type);

  for (int fold = 0; fold < 2; fold++)
    {
      for (guint i = 0; i < job_n (lookup->job, type); i++)
        if (same_name (job_at (lookup->job, type, i), name, fold))
          return job_at (lookup->job, type, i)->id;
      for (guint i = 0; i < pending->len; i++)
        if (same_name (g_ptr_array_index (pending, i), name, fold))
          return ((const JobRecord *) g_ptr_array_index (pending, i))->id;
    }
  return 0;
}

static void
add_name (const Lookup *lookup, JobType type, const char *name)
{
  JobRecord *record = job_record_new (type, job_take_id (lookup->job, type), 0);

  job_record_set_text (record, type == JOB_SYSTEM ? SYSTEM_KEY : AREA_KEY, name);
  g_ptr_array_add (pending_of (lookup->import, type), record);
}

/* ---- headings ---- */

static char *
known_headings (void)
{
  const JobTypeInfo *info = job_type_info (JOB_RUN);
  GString *out = g_string_new (NULL);

  for (int i = 0; i < info->n_fields; i++)
    g_string_append_printf (out, "%s%s", i ? ", " : "", _ (info->field[i].title));
  return g_string_free (out, FALSE);
}

static void
complain (RunsImport *import, int line, int column, const char *what, const char *remedy)
{
  const char *heading = column >= 0 ? g_ptr_array_index (import->table->head, (guint) column) : NULL;

  g_ptr_array_add (import->faults, csv_fault_new (import->table->name, line, column + 1, heading, what, remedy));
}

static gboolean
column_is_empty (const CsvTable *table, int column)
{
  for (guint row = 0; row < table->row->len; row++)
    if (*csv_cell (table, row, column))
      return FALSE;
  return TRUE;
}

/* Columns that no field takes, and two that one field would take. FALSE when there is no kind. */
static gboolean
check_mapping (RunsImport *import)
{
  const CsvTable *table = import->table;
  int kind = job_field_find (JOB_RUN, "kind"), n_fields = job_type_info (JOB_RUN)->n_fields;
  g_autofree gboolean *taken = g_new0 (gboolean, (gsize) n_fields + 1);
  g_autofree char *known = known_headings ();

  for (guint c = 0; c < table->head->len; c++)
    {
      const char *heading = g_ptr_array_index (table->head, c);
      if (import->field[c] >= 0 && taken[import->field[c]])
        {
          complain (import, table->head_line, (int) c,
                    _ ("another column stands for the same thing, so this one is ignored"),
                    _ ("choose one of the two"));
          import->field[c] = -1;
        }
      else if (import->field[c] >= 0)
        taken[import->field[c]] = TRUE;
      else if (runs_heading_field (heading) < 0 && !(*heading == '\0' && column_is_empty (table, (int) c)))
        {
          g_autofree char *what =
              g_strdup_printf (_ ("the heading “%s” is not known, so the column is ignored"), heading);
          g_autofree char *remedy = g_strdup_printf (_ ("choose what it stands for, or write one of: %s"), known);
          complain (import, table->head_line, (int) c, what, remedy);
        }
    }
  if (taken[kind])
    return TRUE;
  g_ptr_array_add (import->faults,
                   csv_fault_new (table->name, table->head_line, 0, NULL, _ ("no column says the kind of a run"),
                                  _ ("choose one, or add a column “Kind” that says straight, radius elbow, mitred elbow, transition, "
                                     "offset, tap, end cap or counted; note for a line of words")));
  return FALSE;
}

static gboolean
is_taken (const RunsImport *import, int field)
{
  for (guint c = 0; c < import->table->head->len; c++)
    if (import->field[c] == field)
      return TRUE;
  return FALSE;
}

/* Headings that are fields first; what is guessed takes no field from another column. A width makes a size where a height stands
 * too. */
static void
guess_mapping (RunsImport *import)
{
  const CsvTable *table = import->table;
  int height = job_type_info (JOB_RUN)->n_fields, size = job_field_find (JOB_RUN, "size"), width = -1;
  gboolean sides = FALSE;

  for (guint c = 0; c < table->head->len; c++)
    {
      const char *heading = g_ptr_array_index (table->head, c);
      import->field[c] = job_field_find (JOB_RUN, heading);
      sides = sides || runs_heading_field (heading) == height;
    }
  for (guint c = 0; c < table->head->len; c++)
    {
      const char *heading = g_ptr_array_index (table->head, c);
      int field = runs_heading_field (heading);
      gboolean is_width = field == size && g_ascii_tolower (heading[0]) == 'w' && !strpbrk (heading, "xX");
      if (import->field[c] >= 0 || field < 0 || field == height || is_taken (import, field) || (is_width && !sides))
        continue;
      import->field[c] = field;
      width = is_width ? (int) c : width;
    }
  for (guint c = 0; width >= 0 && c < table->head->len; c++)
    if (runs_heading_field (g_ptr_array_index (table->head, c)) == height && !is_taken (import, height))
      import->field[c] = height;
}

RunsImport *
runs_import_new (TallyJob *job, const CsvTable *table)
{
  Import *self = g_new0 (Import, 1);
  RunsImport *import = &self->import;

  (void) job;
  import->table = table;
  import->field = g_new (int, table->head->len);
  guess_mapping (import);
  import->faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  import->runs = g_ptr_array_new_with_free_func ((GDestroyNotify) job_record_unref);
  import->new_systems = g_ptr_array_new_with_free_func ((GDestroyNotify) job_record_unref);
  import->new_areas = g_ptr_array_new_with_free_func ((GDestroyNotify) job_record_unref);
  import->new_drawings = g_ptr_array_new_with_free_func (g_free);
  self->faulty = g_array_new (FALSE, TRUE, sizeof (gboolean));
  check_mapping (import);
  return import;
}

void
runs_import_free (RunsImport *import)
{
  if (!import)
    return;
  g_free (import->field);
  g_ptr_array_unref (import->faults);
  g_ptr_array_unref (import->runs);
  g_ptr_array_unref (import->new_systems);
  g_ptr_array_unref (import->new_areas);
  g_ptr_array_unref (import->new_drawings);
  g_clear_pointer (&whole (import)->drawings, g_hash_table_unref);
  g_array_unref (whole (import)->faulty);
  g_free (import);
}

/* ---- lines ---- */

static gint64
first_set (gint64 a, gint64 b, gint64 c, gint64 fallback)
{
  return a != JOB_UNSET ? a : b != JOB_UNSET ? b : c != JOB_UNSET ? c : fallback;
}

static void
look_up_inherited (TallyJob *job, const JobRecord *run, Inherited *out)
{
  const JobRecord *head = job_head (job), *system, *cell;

  if (out->system == run->num[RUN_SYSTEM] && out->area == run->num[RUN_AREA])
    return;
  out->system = run->num[RUN_SYSTEM];
  out->area = run->num[RUN_AREA];
  system = out->system != JOB_UNSET ? job_find (job, JOB_SYSTEM, out->system) : NULL;
  cell = out->system != JOB_UNSET && out->area != JOB_UNSET ? job_find_cell (job, out->system, out->area) : NULL;
#define INHERIT(FIELD, fallback) \
  first_set (cell ? cell->num[CELL_##FIELD] : JOB_UNSET, system ? system->num[SYSTEM_##FIELD] : JOB_UNSET, \
             head->num[HEAD_##FIELD], fallback)
  out->pressure = INHERIT (CLASS, JOB_UNSET);
  out->metal = INHERIT (METAL, DUCT_GALVANISED);
  out->exposure = INHERIT (EXPOSURE, DUCT_INDOORS);
#undef INHERIT
  out->method = cell && cell->text[CELL_METHOD]         ? cell->text[CELL_METHOD]
                : system && system->text[SYSTEM_METHOD] ? system->text[SYSTEM_METHOD]
                                                        : head->text[HEAD_METHOD];
}

/* A value equal to the inherited one counts as inherited: the file writes both in full, the job only what differs, so
 * that an addendum to a cell reaches the runs that followed it. */
static void
drop_inherited (TallyJob *job, JobRecord *run, Inherited *inherited)
{
  look_up_inherited (job, run, inherited);
  if (run->num[RUN_CLASS] == inherited->pressure)
    run->num[RUN_CLASS] = JOB_UNSET;
  if (run->num[RUN_METAL] == inherited->metal)
    run->num[RUN_METAL] = JOB_UNSET;
  if (run->num[RUN_EXPOSURE] == inherited->exposure)
    run->num[RUN_EXPOSURE] = JOB_UNSET;
  if (run->text[RUN_METHOD] && g_strcmp0 (run->text[RUN_METHOD], inherited->method) == 0)
    job_record_set_text (run, RUN_METHOD, NULL);
}

static int
column_of (const RunsImport *import, int field)
{
  for (guint c = 0; c < import->table->head->len; c++)
    if (import->field[c] == field)
      return (int) c;
  return -1;
}

/* How a size is read goes by the kind, and a size alone takes the second one away. */
static int
rank (int field)
{
  const JobField *f = &job_type_info (JOB_RUN)->field[field];

  return f->as == JOB_AS_KIND ? 0 : f->as == JOB_AS_SIZE && f->slot == RUN_W ? 1 : 2;
}

/* A size of two columns is read as one. */
static char *
cell_text (const RunsImport *import, guint row, int column)
{
  const char *text = csv_cell (import->table, row, column);
  char *clean = g_strstrip (g_strdup (text));
  int sides;

  if (rank (import->field[column]) != 1 || !*clean || strpbrk (clean, "xX")
      || (sides = column_of (import, job_type_info (JOB_RUN)->n_fields)) < 0)
    return clean;
  g_autofree char *width = clean, *height = g_strstrip (g_strdup (csv_cell (import->table, row, sides)));
  return *height ? g_strdup_printf ("%sx%s", width, height) : g_steal_pointer (&width);
}

static gboolean
read_cell (RunsImport *import, guint row, int column, JobRecord *run, const Lookup *lookup, const JobNames *names)
{
  int field = import->field[column], line = ((const CsvRow *) g_ptr_array_index (import->table->row, row))->line;
  JobAs as = job_type_info (JOB_RUN)->field[field].as;
  g_autofree char *clean = cell_text (import, row, column);
  Fault *fault = NULL;

  if (!*clean)
    return TRUE;
  if (as == JOB_AS_SYSTEM || as == JOB_AS_AREA)
    {
      JobType type = as == JOB_AS_SYSTEM ? JOB_SYSTEM : JOB_AREA;
      if (find_name ((gpointer) lookup, type, clean) == 0)
        add_name (lookup, type, clean);
    }
  /* A file has a column for the words of a note: a size there is no words. */
  if (run->num[RUN_KIND] == DUCT_REMARK ? job_record_read (run, field, clean, names, &fault)
                                        : job_cell_read (run, field, clean, names, &fault))
    {
      if (as != JOB_AS_TEXT || job_type_info (JOB_RUN)->field[field].slot != RUN_CONDITION
          || job_conditions_known (lookup->job, clean, &fault))
        return TRUE;
      job_record_set_text (run, RUN_CONDITION, NULL);
      job_record_set_raw (run, field, clean);
    }
  complain (import, line, column, fault->what, fault->remedy);
  fault_free (fault);
  return FALSE;
}

/* Every cell of a line; FALSE with a fault for each that is not understood. */
static gboolean
read_cells (RunsImport *import, guint row, JobRecord *run, const Lookup *lookup, const JobNames *names)
{
  int n_fields = job_type_info (JOB_RUN)->n_fields;
  gboolean good = TRUE;

  for (int pass = 0; pass < 3; pass++)
    for (guint c = 0; c < import->table->head->len; c++)
      if (import->field[c] >= 0 && import->field[c] < n_fields && rank (import->field[c]) == pass)
        good = read_cell (import, row, (int) c, run, lookup, names) && good;
  return good;
}

static void
note_drawing (RunsImport *import, const JobRecord *run, GHashTable *known)
{
  const char *drawing = run->text[RUN_DRAWING];

  if (!drawing || g_hash_table_contains (known, drawing))
    return;
  g_ptr_array_add (import->new_drawings, g_strdup (drawing));
  g_hash_table_add (known, g_ptr_array_index (import->new_drawings, import->new_drawings->len - 1));
}

static GHashTable *
known_drawings (TallyJob *job)
{
  GHashTable *known = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    if (job_at (job, JOB_RUN, i)->text[RUN_DRAWING])
      g_hash_table_add (known, job_at (job, JOB_RUN, i)->text[RUN_DRAWING]);
  for (guint i = 0; i < job_n (job, JOB_DRAWING); i++)
    if (job_at (job, JOB_DRAWING, i)->text[DRAWING_KEY])
      g_hash_table_add (known, job_at (job, JOB_DRAWING, i)->text[DRAWING_KEY]);
  return known;
}

static gboolean
check_line (RunsImport *import, guint row, const JobRecord *run, const DuctRules *rules)
{
  Fault *fault = NULL;
  int field;

  if (job_run_check (rules, run, &field, &fault))
    return TRUE;
  complain (import, ((const CsvRow *) g_ptr_array_index (import->table->row, row))->line, column_of (import, field), fault->what,
            fault->remedy);
  fault_free (fault);
  return FALSE;
}

void
runs_import_begin (RunsImport *import)
{
  Import *self = whole (import);

  g_ptr_array_set_size (import->faults, 0);
  g_ptr_array_set_size (import->runs, 0);
  g_ptr_array_set_size (import->new_systems, 0);
  g_ptr_array_set_size (import->new_areas, 0);
  g_ptr_array_set_size (import->new_drawings, 0);
  g_array_set_size (self->faulty, 0);
  g_clear_pointer (&self->drawings, g_hash_table_unref);
  self->inherited = (Inherited) { .system = -1, .area = -1 };
  self->next = check_mapping (import) ? 0 : import->table->row->len;
}

gboolean
runs_import_step (RunsImport *import, TallyJob *job, guint lines)
{
  Import *self = whole (import);
  const DuctRules *rules = job_basis (job)->catalogue->rules;
  Lookup lookup = { job, import };
  /* The format has inches and feet, whatever the units of the job. */
  JobNames names = { find_name, NULL, &lookup, FALSE };
  guint n = import->table->row->len, end = lines < n - self->next ? self->next + lines : n;

  if (!self->drawings)
    self->drawings = known_drawings (job);
  for (; self->next < end; self->next++)
    {
      JobRecord *run = job_record_new (JOB_RUN, 0, 0);
      gboolean faulty = !read_cells (import, self->next, run, &lookup, &names) || !check_line (import, self->next, run, rules);

      note_drawing (import, run, self->drawings);
      drop_inherited (job, run, &self->inherited);
      g_ptr_array_add (import->runs, run);
      g_array_append_val (self->faulty, faulty);
    }
  return self->next < n;
}

void
runs_import_read (RunsImport *import, TallyJob *job)
{
  runs_import_begin (import);
  runs_import_step (import, job, G_MAXUINT);
}

gboolean
runs_import_is_faulty (const RunsImport *import, guint line)
{
  return g_array_index (((const Import *) import)->faulty, gboolean, line);
}

/* ---- what is added ---- */

/* New systems or areas that runs of the edit name. */
static void
add_named (JobEdit *edit, TallyJob *job, const GPtrArray *pending, GHashTable *used)
{
  gint64 ord, step;

  if (pending->len == 0)
    return;
  job_ord_before (job, ((const JobRecord *) g_ptr_array_index (pending, 0))->type, G_MAXUINT, pending->len, &ord,
                  &step);
  for (guint i = 0; i < pending->len; i++)
    {
      const JobRecord *record = g_ptr_array_index (pending, i);
      if (!g_hash_table_contains (used, &record->id))
        continue;
      JobRecord *added = job_record_copy (record);
      added->ord = ord + (gint64) i * step;
      job_edit_add (edit, NULL, added);
    }
}

JobEdit *
runs_import_edit (RunsImport *import, TallyJob *job, gboolean faulty)
{
  g_autoptr (GHashTable) systems = g_hash_table_new (g_int64_hash, g_int64_equal);
  g_autoptr (GHashTable) areas = g_hash_table_new (g_int64_hash, g_int64_equal);
  g_autoptr (GPtrArray) taken = g_ptr_array_new ();
  g_autofree char *label = NULL;
  gint64 ord, step;
  JobEdit *edit;

  for (guint i = 0; i < import->runs->len; i++)
    if (faulty || !g_array_index (whole (import)->faulty, gboolean, i))
      {
        JobRecord *run = g_ptr_array_index (import->runs, i);
        g_hash_table_add (systems, &run->num[RUN_SYSTEM]);
        g_hash_table_add (areas, &run->num[RUN_AREA]);
        g_ptr_array_add (taken, run);
      }
  label =
      g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "import of %u run", "import of %u runs", taken->len), taken->len);
  edit = job_edit_new (label);
  add_named (edit, job, import->new_systems, systems);
  add_named (edit, job, import->new_areas, areas);
  job_ord_before (job, JOB_RUN, G_MAXUINT, taken->len, &ord, &step);
  for (guint i = 0; i < taken->len; i++)
    {
      JobRecord *run = job_record_copy (g_ptr_array_index (taken, i));
      run->id = job_take_id (job, JOB_RUN);
      run->ord = ord + (gint64) i * step;
      job_edit_add (edit, NULL, run);
    }
  return edit;
}
