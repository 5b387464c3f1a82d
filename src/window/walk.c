/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/walk.h"

#include <string.h>

#define HEAD "figure"
#define DATA "tally-walk"
#define N_WORDS 6

void
tally_walk_mark (GtkWidget *widget, const char *figure, const char *method, const char *against, const char *what_if, const char *part)
{
  char *line = NULL;

  /* A unit separator stands in no name of a catalogue or a job. */
  if (figure)
    line = g_strjoin ("\037", HEAD, figure, method ? method : "", against && g_strcmp0 (against, method) != 0 ? against : "",
                      what_if ? what_if : "", part ? part : "job", NULL);
  g_object_set_data_full (G_OBJECT (widget), DATA, line, g_free);
}

void
tally_walk_mark_even (GtkWidget *widget, TallyJob *job, const CostEven *even, const char *method, const char *against, const char *part)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  g_autofree char *figure = NULL;

  if (even->kind == COST_EVEN_ITEM)
    figure = g_strconcat ("item:", catalogue_item (catalogue, even->target)->key, NULL);
  else if (even->kind == COST_EVEN_STEP)
    figure = g_strconcat ("step:", catalogue_step (catalogue, even->target)->key, NULL);
  else
    figure = g_strdup (even->kind == COST_EVEN_FIELD_RATE ? "field-hours" : "cost");
  tally_walk_mark (widget, figure, method, against, NULL, part);
}

const char *
tally_walk_find (GtkWidget *widget)
{
  for (; widget; widget = gtk_widget_get_parent (widget))
    {
      const char *line = g_object_get_data (G_OBJECT (widget), DATA);
      if (line)
        return line;
    }
  return NULL;
}

static const char *
word (char **words, int i)
{
  return *words[i] ? words[i] : NULL;
}

gboolean
tally_walk_read (const char *line, TallyWalk *figure)
{
  g_auto (GStrv) words = g_strsplit (line ? line : "", "\037", -1);

  if (g_strv_length (words) != N_WORDS || strcmp (words[0], HEAD) != 0)
    return FALSE;
  *figure = (TallyWalk) { NULL, words[1], word (words, 2), word (words, 3), word (words, 4), words[5] };
  figure->word = g_steal_pointer (&words);
  return TRUE;
}

void
tally_walk_clear (TallyWalk *figure)
{
  g_clear_pointer (&figure->word, g_strfreev);
}
