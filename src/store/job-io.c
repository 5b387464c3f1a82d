/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/private.h"

#include <glib/gi18n.h>
#include <string.h>

/* The history names this many records of an edit, then only counts. */
#define LOG_LINES 40
/* Records written between two reports of progress: a few milliseconds. */
#define REPORT_EVERY 128

/* One open job: what the file knows of it and we have seen. Lives as long as its TallyJob. */
typedef struct
{
  Store *store;
  TallyJob *job;  /* borrowed */
  gint64 id;
  gint64 seq;     /* edit_seq after our last edit */
  gint64 version; /* data_version when the job was read */
} StoreJob;

gboolean
store_no_job (Store *store, gint64 id, GError **error)
{
  g_autofree char *name = g_filename_display_name (store->db->path);

  g_set_error (error, STORE_ERROR, STORE_ERROR_NOT_FOUND,
               _("There is no job %" G_GINT64_FORMAT " in %s: choose one of its list"), id, name);
  return FALSE;
}

/* ---- reading ---- */

static JobRecord *
read_row (Store *store, JobType type, sqlite3_stmt *statement, GError **error)
{
  const GArray *column = store->table[type]->column;
  g_autoptr (JobRecord) record = job_record_new (type, db_column_int (statement, 0), db_column_int (statement, 1));

  for (guint i = 0; i < column->len; i++)
    {
      const StoreColumn *at = &g_array_index (column, StoreColumn, i);
      gboolean bad = FALSE;

      if (at->text)
        job_record_set_text (record, at->slot, db_column_text (statement, (int) i + 2, &bad));
      else
        record->num[at->slot] = db_column_int (statement, (int) i + 2);
      if (bad)
        {
          store_fail_value (store, record, at->name, STORE_ERROR_DAMAGED, error);
          return NULL;
        }
    }
  return g_steal_pointer (&record);
}

static gboolean
read_raw_row (Store *store, JobRecord *record, const char *key, sqlite3_stmt *statement, int at, GError **error)
{
  gboolean bad;
  const char *text = db_column_text (statement, at, &bad);
  int field = key != NULL ? job_field_find (record->type, key) : -1;

  if (field < 0 || bad)
    return store_fail_value (store, record, "raw", STORE_ERROR_DAMAGED, error);
  job_record_set_raw (record, field, text);
  return TRUE;
}

static JobRecord *
find_record (Store *store, GHashTable *by_id[JOB_N_TYPES], const char *type, gint64 id)
{
  for (JobType i = 0; i < JOB_N_TYPES; i++)
    if (g_strcmp0 (type, store->table[i]->name) == 0)
      return g_hash_table_lookup (by_id[i], &id);
  return NULL;
}

static gboolean
read_raw (Store *store, gint64 job_id, GHashTable *by_id[JOB_N_TYPES], GError **error)
{
  sqlite3_stmt *statement = db_prepare (store->db, "SELECT type, record_id, field, text FROM raw WHERE job_id = ?1"
                                                   " ORDER BY type, record_id, field", error);
  DbStep step;

  if (statement == NULL)
    return FALSE;
  db_bind_int (statement, 1, job_id);
  while ((step = db_step (store->db, statement, error)) == DB_ROW)
    {
      gint64 id = db_column_int (statement, 1);
      JobRecord *record = find_record (store, by_id, db_column_text (statement, 0, NULL), id);

      if (record == NULL)
        {
          g_autoptr (JobRecord) stray = job_record_new (JOB_HEAD, id, 0);
          store_fail_value (store, stray, "raw", STORE_ERROR_DAMAGED, error);
        }
      if (record == NULL ||
          !read_raw_row (store, record, db_column_text (statement, 2, NULL), statement, 3, error))
        {
          db_reset (statement);
          return FALSE;
        }
    }
  return step == DB_DONE;
}

static gboolean
read_table (Store *store, gint64 job_id, JobType type, GPtrArray *records, GHashTable *by_id, GError **error)
{
  sqlite3_stmt *statement = db_prepare (store->db, store->table[type]->select, error);
  DbStep step;

  if (statement == NULL)
    return FALSE;
  db_bind_int (statement, 1, job_id);
  while ((step = db_step (store->db, statement, error)) == DB_ROW)
    {
      JobRecord *record = read_row (store, type, statement, error);

      if (record == NULL)
        {
          db_reset (statement);
          return FALSE;
        }
      g_ptr_array_add (records, record);
      g_hash_table_insert (by_id, &record->id, record);
    }
  return step == DB_DONE;
}

gboolean
store_read_records (Store *store, gint64 job_id, GPtrArray *records, GError **error)
{
  GHashTable *by_id[JOB_N_TYPES];
  gboolean done = TRUE;

  for (JobType type = 0; type < JOB_N_TYPES; type++)
    by_id[type] = g_hash_table_new (g_int64_hash, g_int64_equal);
  for (JobType type = 0; done && type < JOB_N_TYPES; type++)
    done = read_table (store, job_id, type, records, by_id[type], error);
  done = done && read_raw (store, job_id, by_id, error);
  for (JobType type = 0; type < JOB_N_TYPES; type++)
    g_hash_table_unref (by_id[type]);
  for (guint i = 0; done && i < records->len; i++)
    done = store_check_record (store, g_ptr_array_index (records, i), STORE_ERROR_DAMAGED, error);
  return done;
}

/* The records count too: a last id that a file from elsewhere lacks must not make ids come twice. */
static gboolean
read_last_ids (Store *store, gint64 job_id, GPtrArray *records, gint64 last_id[JOB_N_TYPES], GError **error)
{
  for (JobType type = 0; type < JOB_N_TYPES; type++)
    if (!db_int (store->db, &last_id[type], error,
                 "SELECT coalesce (max (id), 0) FROM last_id WHERE job_id = ?1 AND type = ?2", "it", job_id,
                 store->table[type]->name))
      return FALSE;
  for (guint i = 0; i < records->len; i++)
    {
      const JobRecord *record = g_ptr_array_index (records, i);
      last_id[record->type] = MAX (last_id[record->type], record->id);
    }
  return TRUE;
}

/* ---- writing ---- */

/* Text that could not be read, of one record, written anew. */
static gboolean
write_raw (Store *store, gint64 job_id, const JobRecord *before, const JobRecord *after, GError **error)
{
  const JobRecord *any = after != NULL ? after : before;
  const char *name = store->table[any->type]->name;

  if (before != NULL && before->raw != NULL &&
      !db_do (store->db, error, "DELETE FROM raw WHERE job_id = ?1 AND type = ?2 AND record_id = ?3", "iti", job_id,
              name,
              any->id))
    return FALSE;
  for (guint i = 0; after != NULL && after->raw != NULL && i < after->raw->len; i++)
    {
      const JobRaw *raw = g_ptr_array_index (after->raw, i);
      if (!db_do (store->db, error,
                  "INSERT INTO raw (job_id, type, record_id, field, text) VALUES (?1, ?2, ?3, ?4, ?5)",
                  "ititt", job_id, name, any->id, job_type_info (any->type)->field[raw->field].key, raw->text))
        return FALSE;
    }
  return TRUE;
}

static gboolean
fail_conflict (Store *store, const char *job_name, GError **error)
{
  g_autofree char *name = g_filename_display_name (store->db->path);

  g_set_error (error, STORE_ERROR, STORE_ERROR_CONFLICT,
               _("%s in %s was changed elsewhere since it was opened here: open it again; the edit was not made"),
               job_name != NULL ? job_name : _("The job"), name);
  return FALSE;
}

static gboolean
row_equals (Store *store, gint64 job_id, const JobRecord *before, gboolean *equal, GError **error)
{
  sqlite3_stmt *statement = db_prepare (store->db, store->table[before->type]->select_one, error);
  g_autoptr (JobRecord) found = NULL;
  DbStep step;

  *equal = FALSE;
  if (statement == NULL)
    return FALSE;
  db_bind (statement, "ii", job_id, before->id);
  step = db_step (store->db, statement, error);
  if (step == DB_ROW)
    found = read_row (store, before->type, statement, error);
  db_reset (statement);
  if (step == DB_FAILED || (step == DB_ROW && found == NULL))
    return FALSE;
  if (found == NULL)
    return TRUE;

  statement = db_prepare (store->db, "SELECT field, text FROM raw WHERE job_id = ?1 AND type = ?2 AND record_id = ?3"
                                     " ORDER BY field", error);
  if (statement == NULL)
    return FALSE;
  db_bind (statement, "iti", job_id, store->table[before->type]->name, before->id);
  while ((step = db_step (store->db, statement, error)) == DB_ROW)
    if (!read_raw_row (store, found, db_column_text (statement, 0, NULL), statement, 1, error))
      {
        db_reset (statement);
        return FALSE;
      }
  *equal = step == DB_DONE && job_record_equal (found, before);
  return step == DB_DONE;
}

/* Insert or update: the same parameters in the same places. */
static gboolean
write_row (Store *store, gint64 job_id, const char *sql, const JobRecord *record, GError **error)
{
  const GArray *column = store->table[record->type]->column;
  sqlite3_stmt *statement = db_prepare (store->db, sql, error);

  if (statement == NULL)
    return FALSE;
  db_bind (statement, "iii", job_id, record->id, record->ord);
  for (guint i = 0; i < column->len; i++)
    {
      const StoreColumn *at = &g_array_index (column, StoreColumn, i);
      if (at->text)
        db_bind_text (statement, (int) i + 4, record->text[at->slot]);
      else
        db_bind_int (statement, (int) i + 4, record->num[at->slot]);
    }
  return db_run (store->db, statement, error);
}

gboolean
store_write_record (Store *store, gint64 job_id, const JobRecord *before, const JobRecord *after, gboolean compare,
                    GError **error)
{
  const StoreTable *table = store->table[after != NULL ? after->type : before->type];
  gboolean equal = TRUE;

  if (after != NULL && !store_check_record (store, after, STORE_ERROR_INVALID, error))
    return FALSE;
  if (before != NULL && compare && !row_equals (store, job_id, before, &equal, error))
    return FALSE;
  if (!equal)
    return fail_conflict (store, NULL, error);
  if ((before == NULL && table->insert == NULL) || (after == NULL && table->remove == NULL))
    return db_fail (store->db, SQLITE_CONSTRAINT, error);

  if (before == NULL)
    {
      if (!write_row (store, job_id, table->insert, after, error) ||
          !db_do (store->db, error, "INSERT INTO last_id (job_id, type, id) VALUES (?1, ?2, ?3)"
                                    " ON CONFLICT (job_id, type) DO UPDATE SET id = max (id, excluded.id)", "iti",
                                    job_id,
                  table->name, after->id))
        return FALSE;
    }
  else
    {
      if (after != NULL ? !write_row (store, job_id, table->update, after, error)
                        : !db_do (store->db, error, table->remove, "ii", job_id, before->id))
        return FALSE;
      if (sqlite3_changes (store->db->handle) != 1)
        return fail_conflict (store, NULL, error);
    }
  return write_raw (store, job_id, before, after, error);
}

/* ---- the history ---- */

gboolean
store_log (Store *store, gint64 job_id, gint64 seq, const char *label, const char *detail, GError **error)
{
  g_autofree char *now = store_now ();
  g_autofree char *who = g_utf8_make_valid (g_get_user_name (), -1);

  return db_do (store->db, error, "INSERT INTO change_log (job_id, seq, at, who, label, detail)"
                                  " VALUES (?1, ?2, ?3, ?4, ?5, ?6)", "iitttt", job_id, seq, now, who,
                label != NULL ? label : "", detail);
}

/* "run 12: length 46 -> 60, note  -> x" */
static void
describe (GString *out, const JobDelta *delta, const JobNames *names)
{
  const JobRecord *any = delta->after != NULL ? delta->after : delta->before;
  const JobTypeInfo *info = job_type_info (any->type);
  const char *between = ": ";

  g_string_append_printf (out, "%s %" G_GINT64_FORMAT, info->table, any->id);
  if (delta->before == NULL)
    g_string_append (out, " added");
  else if (delta->after == NULL)
    g_string_append (out, " deleted");
  for (int field = 0; field < info->n_fields; field++)
    {
      g_autofree char *old = delta->before != NULL ? job_record_print (delta->before, field, names) : g_strdup ("");
      g_autofree char *new = delta->after != NULL ? job_record_print (delta->after, field, names) : g_strdup ("");

      if (g_str_equal (old, new))
        continue;
      g_string_append (out, between);
      between = ", ";
      if (delta->before != NULL && delta->after != NULL)
        g_string_append_printf (out, "%s %s -> %s", info->field[field].key, old, new);
      else
        g_string_append_printf (out, "%s %s", info->field[field].key, delta->after != NULL ? new : old);
    }
  g_string_append_c (out, '\n');
}

static char *
describe_edit (const JobEdit *edit, const JobNames *names)
{
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < MIN (edit->deltas->len, LOG_LINES); i++)
    describe (out, &g_array_index (edit->deltas, JobDelta, i), names);
  if (edit->deltas->len > LOG_LINES)
    g_string_append_printf (out, "and %u more\n", edit->deltas->len - LOG_LINES);
  return g_string_free (out, FALSE);
}

/* ---- edits of an open job ---- */

static const char *
job_title (StoreJob *self)
{
  return job_head (self->job)->text[HEAD_NAME];
}

/* Refuses when anybody else has edited the job. *compare: somebody wrote to the file, perhaps without counting as
 * our edits do, so that rows are looked at before they are replaced. */
static gboolean
check_seen (StoreJob *self, gboolean *compare, GError **error)
{
  g_autoptr (GError) local = NULL;
  gint64 seq, version;

  if (!db_int (self->store->db, &seq, &local, "SELECT edit_seq FROM job WHERE id = ?1", "i", self->id))
    {
      if (local == NULL)
        return fail_conflict (self->store, job_title (self), error);
      g_propagate_error (error, g_steal_pointer (&local));
      return FALSE;
    }
  if (seq != self->seq)
    return fail_conflict (self->store, job_title (self), error);
  if (!db_int (self->store->db, &version, error, "PRAGMA data_version", ""))
    return FALSE;
  *compare = version != self->version;
  return TRUE;
}

static gboolean
write_edit (StoreJob *self, const JobEdit *edit, GError **error)
{
  g_autofree char *now = store_now ();
  g_autofree char *detail = describe_edit (edit, job_names (self->job));
  gboolean compare = FALSE;

  if (!check_seen (self, &compare, error))
    return FALSE;
  for (guint i = 0; i < edit->deltas->len; i++)
    {
      const JobDelta *delta = &g_array_index (edit->deltas, JobDelta, i);
      if (i % REPORT_EVERY == 0 && !job_edit_report (edit, i, error))
        return FALSE;
      if (!store_write_record (self->store, self->id, delta->before, delta->after, compare, error))
        return FALSE;
    }
  return db_do (self->store->db, error, "UPDATE job SET edit_seq = ?2, edited_at = ?3 WHERE id = ?1", "iit", self->id,
                self->seq + 1, now) &&
         store_log (self->store, self->id, self->seq + 1, edit->label, detail, error);
}

static gboolean
sink_apply (gpointer data, const JobEdit *edit, GError **error)
{
  StoreJob *self = data;

  if (!db_begin (self->store->db, error))
    return FALSE;
  if (!write_edit (self, edit, error))
    {
      db_rollback (self->store->db);
      return FALSE;
    }
  if (!db_commit (self->store->db, error))
    return FALSE;
  self->seq++;
  return TRUE;
}

static void
store_job_free (gpointer data)
{
  StoreJob *self = data;

  store_close (self->store);
  g_free (self);
}

/* Everything from one state of the file. */
static TallyJob *
read_job (Store *store, StoreJob *self, GError **error)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func ((GDestroyNotify) job_record_unref);
  g_autoptr (Catalogue) catalogue = NULL;
  g_autoptr (GError) local = NULL;
  gint64 last_id[JOB_N_TYPES], revision;
  TallyJob *job;

  if (!db_int (store->db, &self->seq, &local, "SELECT edit_seq FROM job WHERE id = ?1", "i", self->id))
    {
      if (local == NULL)
        store_no_job (store, self->id, &local);
      g_propagate_error (error, g_steal_pointer (&local));
      return NULL;
    }
  if (!db_int (store->db, &revision, error, "SELECT revision_id FROM job WHERE id = ?1", "i", self->id) ||
      !db_int (store->db, &self->version, error, "PRAGMA data_version", "") ||
      !store_read_records (store, self->id, records, error) ||
      !read_last_ids (store, self->id, records, last_id, error))
    return NULL;
  catalogue = store_catalogue (store, revision, error);
  if (catalogue == NULL)
    return NULL;
  job = job_new_from_records (catalogue, records, last_id, &local);
  if (job == NULL)
    {
      g_autofree char *name = g_filename_display_name (store->db->path);
      g_set_error (error, STORE_ERROR, STORE_ERROR_DAMAGED,
                   _("Job %" G_GINT64_FORMAT " in %s contradicts itself (%s): go back to a backup"), self->id, name,
                   local->message);
    }
  return job;
}

TallyJob *
store_open_job (Store *store, gint64 id, GError **error)
{
  StoreJob *self;
  JobSink sink = { sink_apply, NULL };
  TallyJob *job;

  g_return_val_if_fail (store != NULL, NULL);

  if (!db_do (store->db, error, "BEGIN", ""))
    return NULL;
  self = g_new0 (StoreJob, 1);
  self->store = store;
  self->id = id;
  job = read_job (store, self, error);
  /* Nothing was written: it only ends the view of one state. */
  db_rollback (store->db);
  if (job == NULL)
    {
      g_free (self);
      return NULL;
    }
  g_ref_count_inc (&store->refs);
  self->job = job;
  sink.self = self;
  job_set_sink (job, &sink);
  g_object_set_data_full (G_OBJECT (job), "store-job", self, store_job_free);
  return job;
}

/* ---- another revision ---- */

static gboolean
write_revision_of_job (StoreJob *self, gint64 revision, GError **error)
{
  g_autofree char *now = store_now ();
  g_autofree char *label = g_strdup_printf (_("move to catalogue revision %" G_GINT64_FORMAT), revision);
  gboolean compare;

  return check_seen (self, &compare, error) &&
         db_do (self->store->db, error, "UPDATE job SET revision_id = ?2, edit_seq = ?3, edited_at = ?4 WHERE id = ?1", "iiit",
                self->id, revision, self->seq + 1, now) &&
         store_log (self->store, self->id, self->seq + 1, label, "", error);
}

gboolean
store_set_job_revision (TallyJob *job, gint64 revision, GError **error)
{
  StoreJob *self = g_object_get_data (G_OBJECT (job), "store-job");
  g_autoptr (Catalogue) before = NULL, after = NULL;
  Fault *fault = NULL;

  g_return_val_if_fail (self != NULL, FALSE);

  after = store_catalogue (self->store, revision, error);
  if (after == NULL)
    return FALSE;
  before = catalogue_ref (job_basis (job)->catalogue);
  if (!job_set_catalogue (job, after, &fault))
    {
      g_autofree char *words = fault_words (fault, NULL);
      fault_free (fault);
      g_set_error (error, STORE_ERROR, STORE_ERROR_INVALID, _("A figure changed for this job does not fit the revision: %s"), words);
      return FALSE;
    }
  if (db_begin (self->store->db, error))
    {
      if (!write_revision_of_job (self, revision, error))
        db_rollback (self->store->db);
      else if (db_commit (self->store->db, error))
        {
          self->seq++;
          return TRUE;
        }
    }
  job_set_catalogue (job, before, NULL);
  return FALSE;
}
