/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/note-line.h"

#include "duct/kind.h"

#include <glib/gi18n-lib.h>

/* ---- note lines ---- */

/* What any line may say of itself. */
static gboolean
is_place (const JobField *f)
{
  if (f->as == JOB_AS_TEXT)
    return f->slot == RUN_DRAWING || f->slot == RUN_NOTE;
  return f->slot == RUN_SYSTEM || f->slot == RUN_AREA || f->slot == RUN_KIND || f->slot == RUN_CHECKED;
}

/* How something is built: stands on a line often enough because all the lines around it have it, and counts nothing. */
static gboolean
is_manner (const JobField *f)
{
  if (f->as == JOB_AS_TEXT)
    return f->slot == RUN_GAUGE || f->slot == RUN_METHOD || f->slot == RUN_WRAP || f->slot == RUN_CONSTRUCTION;
  return f->slot == RUN_CLASS || f->slot == RUN_METAL || f->slot == RUN_EXPOSURE || f->slot == RUN_ON_EDGE
         || f->slot == RUN_FIRST_END || f->slot == RUN_LAST_END || f->slot == RUN_LINER || f->slot == RUN_RISER;
}

/* The first filled field that has no place on a note line, -1. */
static int
first_more (const JobRecord *run, gboolean manner)
{
  const JobTypeInfo *info = job_type_info (JOB_RUN);

  for (int i = 0; i < info->n_fields; i++)
    if (!is_place (&info->field[i]) && !(manner && is_manner (&info->field[i])) && job_record_is_set (run, i))
      return i;
  return -1;
}

gboolean
job_is_note_line (const JobRecord *run)
{
  gint64 kind = run->num[RUN_KIND];

  /* Most runs are told by their kind alone. */
  if ((kind != DUCT_REMARK && kind != JOB_UNSET) || run->raw)
    return FALSE;
  return kind == DUCT_REMARK ? first_more (run, TRUE) < 0 : run->text[RUN_NOTE] && first_more (run, FALSE) < 0;
}

gboolean
job_note_line_check (const JobRecord *run, int *field, Fault **fault)
{
  int more = first_more (run, TRUE);

  if (more < 0)
    return TRUE;
  if (field)
    *field = more;
  if (fault)
    fault_set (fault, fault_new (-1, _ ("clear it, or write another kind"), _ ("a note counts nothing, and “%s” is filled"),
                                 _ (job_type_info (JOB_RUN)->field[more].title)));
  return FALSE;
}

const char *
job_note_line_words (const JobRecord *run)
{
  return run->text[RUN_NOTE] ? run->text[RUN_NOTE] : "";
}

/* ---- what a kind does not use ---- */

/* Of a duct: what a counted line alone has. */
static gboolean
counted_only (const JobField *f)
{
  return f->as == JOB_AS_TEXT ? f->slot == RUN_ITEM
                              : f->slot == RUN_PRICE || f->slot == RUN_SHOP_MINUTES || f->slot == RUN_FIELD_MINUTES;
}

static gboolean
kind_uses (DuctKind kind, const JobField *f)
{
  static const struct
  {
    int slot;
    DuctDim dim;
  } dims[] = { { RUN_LENGTH, DUCT_DIM_LENGTH }, { RUN_W2, DUCT_DIM_W2 },         { RUN_ANGLE, DUCT_DIM_ANGLE },
               { RUN_THROAT, DUCT_DIM_THROAT }, { RUN_OFFSET, DUCT_DIM_OFFSET }, { RUN_SHIFT, DUCT_DIM_SHIFT },
               { RUN_LEGS, DUCT_DIM_LEGS },     { RUN_BRANCH, DUCT_DIM_BRANCH }, { RUN_SHIFT2, DUCT_DIM_SHIFT2 },
               { RUN_GORES, DUCT_DIM_GORES } };

  if (counted_only (f))
    return !duct_kind_measured (kind);
  if (f->as == JOB_AS_TEXT)
    return TRUE;
  if (f->slot == RUN_W || f->slot == RUN_FIT)
    return duct_kind_measured (kind);
  for (gsize i = 0; i < G_N_ELEMENTS (dims); i++)
    if (dims[i].slot == f->slot)
      return (duct_kind_info (kind)->dims & (1u << dims[i].dim)) != 0;
  return TRUE;
}

gboolean
job_field_unused (const JobRecord *run, int field)
{
  gint64 kind = run->num[RUN_KIND];

  /* Whatever is more on a note is a fault. */
  return kind != JOB_UNSET && kind != DUCT_REMARK && job_record_is_set (run, field)
         && !kind_uses ((DuctKind) kind, &job_type_info (JOB_RUN)->field[field]);
}

char *
job_unused_words (const JobRecord *run)
{
  const JobTypeInfo *info = job_type_info (JOB_RUN);
  g_autoptr (GString) names = NULL;
  guint n = 0;

  for (int i = 0; i < info->n_fields; i++)
    if (job_field_unused (run, i))
      {
        if (!names)
          names = g_string_new (NULL);
        g_string_append_printf (names, "%s%s", n++ > 0 ? ", " : "", _ (info->field[i].title));
      }
  if (n == 0)
    return NULL;
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s is not used by the kind “%s”", "%s are not used by the kind “%s”", n),
                          names->str, _ (duct_kind_info ((DuctKind) run->num[RUN_KIND])->name));
}
