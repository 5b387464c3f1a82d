/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "job/in-force.h"
#include "job/labour-model.h"

#include <glib/gi18n.h>

static const CliColumn columns[] = {
  { "kind", NULL, FALSE },
  { "labour", N_ ("labour of this job"), FALSE },
};

static void
add (CliTable *t, const char *kind, const GPtrArray *words)
{
  for (guint i = 0; i < words->len; i++)
    {
      cli_table_add (t, kind);
      cli_table_add (t, words->pdata[i]);
    }
}

void
cli_page_labour (TallyJob *job, CliFormat format)
{
  g_autoptr (GPtrArray) words = job_in_force (job), cautions = job_labour_cautions (job);
  g_autoptr (CliTable) t = cli_table_new ("labour", columns, G_N_ELEMENTS (columns));

  if (words->len + cautions->len == 0)
    return;
  add (t, "choice", words);
  add (t, "caution", cautions);
  cli_table_print (t, format);
  if (format != CLI_JSONL)
    cli_print ("\n");
}
