/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/walk.h"

#include <string.h>

#define HEAD "figure"
#define DATA "tally-walk"
#define N_WORDS 6

char *
tally_walk_line (const char *figure, const char *method, const char *against, const char *what_if, const char *part)
{
  /* A unit separator stands in no name of a catalogue or a job. */
  return g_strjoin ("\037", HEAD, figure, method ? method : "", against && g_strcmp0 (against, method) != 0 ? against : "",
                    what_if ? what_if : "", part ? part : "job", NULL);
}

void
tally_walk_take (GtkWidget *widget, char *line)
{
  g_object_set_data_full (G_OBJECT (widget), DATA, line, g_free);
}

void
tally_walk_mark (GtkWidget *widget, const char *figure, const char *method, const char *against, const char *what_if, const char *part)
{
  tally_walk_take (widget, figure ? tally_walk_line (figure, method, against, what_if, part) : NULL);
}

char *
tally_walk_figure (TallyJob *job, CostEvenKind kind, int target)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;

  if (kind == COST_EVEN_ITEM)
    return g_strconcat ("item:", catalogue_item (catalogue, target)->key, NULL);
  if (kind == COST_EVEN_STEP)
    return g_strconcat ("step:", catalogue_step (catalogue, target)->key, NULL);
  return g_strdup (kind == COST_EVEN_FIELD_RATE ? "field-hours" : "cost");
}

void
tally_walk_mark_even (GtkWidget *widget, TallyJob *job, const CostEven *even, const char *method, const char *against, const char *part)
{
  g_autofree char *figure = tally_walk_figure (job, even->kind, even->target);

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
