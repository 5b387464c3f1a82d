/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/catalogue/catalogue-private.h"

#include <glib/gi18n.h>

/* What is known of the draft in the file; with the draft. */
typedef struct
{
  TallySession *session; /* which owns the draft */
  char *path;            /* of the office */
  gint64 revision;       /* begun on */
  gint64 seen;           /* id in the file, 0: it is not there, STORE_ANY_DRAFT: it cannot be read */
  gboolean quiet;        /* what changes now is kept already */
} Keep;

static void
keep_free (gpointer data)
{
  Keep *keep = data;

  g_free (keep->path);
  g_free (keep);
}

static Keep *
keep_of (TallyDraft *draft)
{
  return g_object_get_data (G_OBJECT (draft), "keep");
}

gint64
catalogue_draft_revision (TallyDraft *draft)
{
  return keep_of (draft)->revision;
}

static gboolean
keep_now (TallyDraft *draft, Store *store, Keep *keep, GError **error)
{
  CsvTable *table[CATALOGUE_N_SHEETS] = { NULL };
  gboolean any = FALSE;
  gint64 id;

  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    if (draft_differs (draft, (CatalogueSheet) i))
      {
        table[i] = draft_tables (draft)[i];
        any = TRUE;
      }
  if (any)
    {
      id = store_keep_draft (store, keep->seen, keep->revision, table, error);
      keep->seen = id > 0 ? id : keep->seen;
      return id > 0;
    }
  if (keep->seen != 0 && !store_drop_draft (store, keep->seen, error))
    return FALSE;
  keep->seen = 0;
  return TRUE;
}

/* At each change, so that nothing typed is lost with the program. */
static void
changed_cb (TallyDraft *draft, Keep *keep)
{
  Store *store = session_store (keep->session);
  g_autoptr (GError) error = NULL;

  if (keep->quiet || !store || !g_str_equal (store_path (store), keep->path))
    return;
  if (!keep_now (draft, store, keep, &error))
    session_say (keep->session, SESSION_REFUSED, _ ("The draft is not kept in the office file: %s"), error->message);
}

static void
begin (TallyDraft *draft, Keep *keep, Catalogue *base, gint64 revision, gint64 seen, CsvTable *const *table)
{
  keep->quiet = TRUE;
  keep->revision = revision;
  keep->seen = seen;
  draft_begin (draft, base, table);
  keep->quiet = FALSE;
}

/* FALSE with @error; what is damaged is said, and is no draft any more. */
static gboolean
read_kept (TallySession *session, StoreDraft **kept, gint64 *seen, GError **error)
{
  g_autoptr (GError) local = NULL;

  if (store_read_draft (session_store (session), kept, &local))
    {
      *seen = *kept ? (*kept)->id : 0;
      return TRUE;
    }
  *seen = STORE_ANY_DRAFT;
  if (g_error_matches (local, STORE_ERROR, STORE_ERROR_DAMAGED))
    {
      session_say (session, SESSION_REFUSED, "%s", local->message);
      return TRUE;
    }
  g_propagate_error (error, g_steal_pointer (&local));
  return FALSE;
}

TallyDraft *
catalogue_draft_open (TallySession *session, GError **error)
{
  Store *store = session_store (session);
  TallyDraft *draft = g_object_get_data (G_OBJECT (session), "catalogue-draft");
  gint64 newest = store_newest_revision (store, error), revision, seen;
  g_autoptr (StoreDraft) kept = NULL;
  g_autoptr (Catalogue) base = NULL;
  Keep *keep = draft ? keep_of (draft) : NULL;

  if (newest == 0 || !read_kept (session, &kept, &seen, error))
    return NULL;
  revision = kept ? kept->revision : newest;
  /* As it was left, with its undo, when nobody has touched it since. */
  if (draft && g_str_equal (keep->path, store_path (store)) && keep->seen == seen && keep->revision == revision)
    return g_object_ref (draft);
  base = store_catalogue (store, revision, error);
  if (!base)
    return NULL;
  draft = draft_new (base);
  keep = g_new0 (Keep, 1);
  keep->session = session;
  keep->path = g_strdup (store_path (store));
  g_object_set_data_full (G_OBJECT (draft), "keep", keep, keep_free);
  begin (draft, keep, base, revision, seen, kept ? kept->table : NULL);
  g_signal_connect (draft, "changed", G_CALLBACK (changed_cb), keep);
  g_object_set_data_full (G_OBJECT (session), "catalogue-draft", g_object_ref (draft), g_object_unref);
  return draft;
}

gboolean
catalogue_draft_is_stale (TallyDraft *draft, TallySession *session, gint64 *newest)
{
  Store *store = session_store (session);

  *newest = store ? store_newest_revision (store, NULL) : 0;
  return *newest > keep_of (draft)->revision;
}

void
catalogue_draft_discard (TallyDraft *draft, TallySession *session)
{
  Keep *keep = keep_of (draft);
  g_autoptr (Catalogue) base = NULL;
  gint64 newest;

  draft_discard (draft);
  if (!catalogue_draft_is_stale (draft, session, &newest))
    return;
  base = store_catalogue (session_store (session), newest, NULL);
  if (base)
    begin (draft, keep, base, newest, keep->seen, NULL);
}

gint64
catalogue_draft_accept (TallyDraft *draft, TallySession *session, const char *reason, GError **error)
{
  Keep *keep = keep_of (draft);
  Store *store = session_store (session);
  g_autoptr (Catalogue) base = NULL;
  gint64 revision = store_accept_draft (store, keep->seen, draft_tables (draft), reason, _ ("edited in the catalogue window"), error);

  if (revision == 0)
    return 0;
  base = store_catalogue (store, revision, error);
  if (!base)
    return 0;
  begin (draft, keep, base, revision, 0, NULL);
  return revision;
}
