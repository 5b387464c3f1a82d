/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "store/store.h"

#include <glib/gi18n.h>

typedef struct
{
  char *create, *duplicate, *as, *remove;
} Wish;

static const CliColumn columns[] = {
  { "job", N_ ("job"), FALSE },           { "runs", N_ ("runs"), TRUE },
  { "catalogue", N_ ("catalogue revision"), TRUE }, { "created", N_ ("created (UTC)"), FALSE },
  { "edited", N_ ("last edit (UTC)"), FALSE },      { "uid", NULL, FALSE },
};

static gboolean
list (Store *store, CliFormat format, GError **error)
{
  g_autoptr (CliTable) t = cli_table_new ("jobs", columns, G_N_ELEMENTS (columns));
  g_autoptr (GPtrArray) jobs = store_jobs (store, error);

  if (!jobs)
    return FALSE;
  for (guint i = 0; i < jobs->len; i++)
    {
      const StoreJobInfo *info = g_ptr_array_index (jobs, i);
      cli_table_add (t, info->name);
      cli_table_int (t, info->runs);
      cli_table_int (t, info->revision);
      cli_table_add (t, info->created_at);
      cli_table_add (t, info->edited_at);
      cli_table_add (t, info->uid);
    }
  if (jobs->len == 0 && format == CLI_TEXT)
    cli_print (_ ("%s holds no job yet; seamtally import makes one\n"), store_path (store));
  else
    cli_table_print (t, format);
  return TRUE;
}

/* Jobs are named on the command line: each by its own name. */
static gboolean
check_name (Store *store, const char *name, GError **error)
{
  if (*name && store_find_job (store, name) == 0)
    return TRUE;
  g_set_error (error, STORE_ERROR, STORE_ERROR_INVALID, *name ? _ ("%s holds a job “%s” already: choose another name")
                                                            : _ ("%s: a job needs a name%s"),
               store_path (store), name);
  return FALSE;
}

/* A new job: a demo job with --demo or --demo-round, else an empty one. */
static gboolean
create (Store *store, const CliOptions *o, const char *name, GError **error)
{
  g_autoptr (Catalogue) catalogue = store_catalogue (store, 0, error);
  g_autoptr (TallyJob) job = NULL;

  if (!catalogue || !check_name (store, name, error))
    return FALSE;
  job = o->demo         ? exchange_demo_job (catalogue)
        : o->demo_round ? exchange_demo_round_job (catalogue)
                        : job_new (catalogue, name);
  if (o->demo || o->demo_round)
    job_edit_field (job, JOB_HEAD, 1, job_field_find (JOB_HEAD, "name"), name, NULL, NULL);
  else
    {
      job_edit_field (job, JOB_HEAD, 1, job_field_find (JOB_HEAD, "method"), o->method ? o->method : "slip-on-bolted", NULL, NULL);
      job_edit_field (job, JOB_HEAD, 1, job_field_find (JOB_HEAD, "rule_set"), o->rules ? o->rules : "demo", NULL, NULL);
    }
  return store_create_job (store, job, 0, error) > 0;
}

static gint64
find (Store *store, const char *name, GError **error)
{
  gint64 id = store_find_job (store, name);

  if (id == 0)
    g_set_error (error, STORE_ERROR, STORE_ERROR_NOT_FOUND, _ ("%s holds no job “%s”"), store_path (store), name);
  return id;
}

static gboolean
fulfil (Store *store, const CliOptions *o, const Wish *wish, GError **error)
{
  gint64 id;

  if (wish->create && !create (store, o, wish->create, error))
    return FALSE;
  if (wish->duplicate)
    {
      id = find (store, wish->duplicate, error);
      if (id == 0 || !check_name (store, wish->as, error) || store_duplicate_job (store, id, wish->as, error) == 0)
        return FALSE;
    }
  if (wish->remove)
    {
      id = find (store, wish->remove, error);
      if (id == 0 || !store_delete_job (store, id, error))
        return FALSE;
    }
  return TRUE;
}

int
cli_jobs (int argc, char **argv)
{
  g_auto (CliOptions) o = { 0 };
  Wish wish = { NULL, NULL, NULL, NULL };
  const GOptionEntry more[] = {
    { "create", 0, 0, G_OPTION_ARG_STRING, &wish.create, N_ ("Make a new job (with --demo or --demo-round: that demo job)"), N_ ("NAME") },
    { "duplicate", 0, 0, G_OPTION_ARG_STRING, &wish.duplicate, N_ ("Copy a job"), N_ ("NAME") },
    { "as", 0, 0, G_OPTION_ARG_STRING, &wish.as, N_ ("Name of the copy"), N_ ("NAME") },
    { "delete", 0, 0, G_OPTION_ARG_STRING, &wish.remove, N_ ("Delete a job for good"), N_ ("NAME") },
    G_OPTION_ENTRY_NULL,
  };
  g_autoptr (GError) error = NULL;
  int status = CLI_DONE;

  if (!cli_options_read (&o, argc, argv, "[--office FILE]", _ ("Lists the jobs of an office file; can create, copy and delete them."),
                         more))
    status = o.status;
  else if (o.rest[0] || (wish.duplicate == NULL) != (wish.as == NULL))
    {
      cli_complain (o.rest[0] ? _ ("jobs takes no word beside its options") : _ ("--duplicate and --as go together"));
      status = CLI_USAGE;
    }
  else
    {
      g_autofree char *path = cli_options_office (&o);
      g_autoptr (Store) store = store_open (path, wish.create != NULL, &error);
      if (!store || !fulfil (store, &o, &wish, &error) || !list (store, cli_options_format (&o), &error))
        {
          cli_complain ("%s", error->message);
          status = CLI_FILE;
        }
    }
  g_free (wish.create);
  g_free (wish.duplicate);
  g_free (wish.as);
  g_free (wish.remove);
  return status;
}
