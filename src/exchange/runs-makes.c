/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What an import of runs would make besides runs. */
#include "config.h"

#include "exchange/runs-csv.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static const char *
name_in (const JobRecord *record)
{
  return record->text[record->type == JOB_SYSTEM ? SYSTEM_KEY : AREA_KEY];
}

static const JobRecord *
pending_record (const GPtrArray *pending, gint64 id)
{
  for (guint i = 0; i < pending->len; i++)
    if (((const JobRecord *) g_ptr_array_index (pending, i))->id == id)
      return g_ptr_array_index (pending, i);
  return NULL;
}

static gboolean
is_new_drawing (const RunsImport *import, const char *drawing)
{
  for (guint i = 0; drawing && i < import->new_drawings->len; i++)
    if (strcmp (g_ptr_array_index (import->new_drawings, i), drawing) == 0)
      return TRUE;
  return FALSE;
}

char *
runs_import_makes (const RunsImport *import, guint line)
{
  const JobRecord *run = g_ptr_array_index (import->runs, line);
  const JobRecord *system = pending_record (import->new_systems, run->num[RUN_SYSTEM]);
  const JobRecord *area = pending_record (import->new_areas, run->num[RUN_AREA]);
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);

  if (system)
    g_ptr_array_add (parts, g_strdup_printf (_ ("a new system %s"), name_in (system)));
  if (area)
    g_ptr_array_add (parts, g_strdup_printf (_ ("a new area %s"), name_in (area)));
  if (is_new_drawing (import, run->text[RUN_DRAWING]))
    g_ptr_array_add (parts, g_strdup_printf (_ ("a new drawing %s"), run->text[RUN_DRAWING]));
  if (parts->len == 0)
    return NULL;
  g_ptr_array_add (parts, NULL);
  return g_strjoinv (", ", (char **) parts->pdata);
}

/* "2 new areas (Roof, Level 9)"; long lists are cut. Takes @what. */
static void
say_names (GPtrArray *parts, const GPtrArray *names, char *what)
{
  g_autofree char *count = what;
  g_autoptr (GString) list = g_string_new (NULL);

  for (guint i = 0; i < names->len && i < 6; i++)
    g_string_append_printf (list, "%s%s", i ? ", " : "", (const char *) g_ptr_array_index (names, i));
  if (names->len > 0)
    g_ptr_array_add (parts, g_strdup_printf ("%s (%s%s)", count, list->str, names->len > 6 ? ", …" : ""));
}

char *
runs_import_makes_all (const RunsImport *import, gboolean faulty)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) systems = g_ptr_array_new (), areas = g_ptr_array_new (), drawings = g_ptr_array_new ();

  for (guint i = 0; i < import->runs->len; i++)
    {
      const JobRecord *run = g_ptr_array_index (import->runs, i);
      const JobRecord *system = pending_record (import->new_systems, run->num[RUN_SYSTEM]);
      const JobRecord *area = pending_record (import->new_areas, run->num[RUN_AREA]);
      if (!faulty && runs_import_is_faulty (import, i))
        continue;
      if (system && !g_ptr_array_find (systems, name_in (system), NULL))
        g_ptr_array_add (systems, (gpointer) name_in (system));
      if (area && !g_ptr_array_find (areas, name_in (area), NULL))
        g_ptr_array_add (areas, (gpointer) name_in (area));
      if (is_new_drawing (import, run->text[RUN_DRAWING]) && !g_ptr_array_find (drawings, run->text[RUN_DRAWING], NULL))
        g_ptr_array_add (drawings, run->text[RUN_DRAWING]);
    }
  say_names (parts, systems,
             g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u new system", "%u new systems", systems->len), systems->len));
  say_names (parts, areas,
             g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u new area", "%u new areas", areas->len), areas->len));
  say_names (parts, drawings,
             g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u new drawing", "%u new drawings", drawings->len), drawings->len));
  if (parts->len == 0)
    return NULL;
  g_ptr_array_add (parts, NULL);
  return g_strjoinv (", ", (char **) parts->pdata);
}
