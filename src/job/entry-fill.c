/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/entry-private.h"

#include "base/measure.h"
#include "job/check.h"
#include "job/note-line.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* Where something missing would have stood. */
static const char *
line_end (const EntryScan *s)
{
  const char *end = s->line + strlen (s->line);

  while (end > s->line && g_unichar_isspace (g_utf8_get_char (g_utf8_prev_char (end))))
    end = g_utf8_prev_char (end);
  return end;
}

static char *
figure_text (const EntryScan *s, const EntryFigure *figure)
{
  return g_strndup (s->line + figure->at, (gsize) (figure->end - figure->at));
}

static gboolean
no_place (EntryScan *s, const EntryFigure *figure, const char *remedy)
{
  g_autofree char *text = figure_text (s, figure);

  return job_entry_query (s, s->line + figure->part, remedy, _ ("it is not clear what “%s” is"), text);
}

static gboolean
set_length (EntryScan *s, const EntryFigure *figure, int slot)
{
  DuctKind kind = (DuctKind) s->run->num[RUN_KIND];
  gboolean by_foot = slot == RUN_LENGTH && (kind == DUCT_STRAIGHT || kind == DUCT_COUNTED || kind == DUCT_ROUND_DUCT || kind == DUCT_FLEXIBLE_DUCT);
  LengthUnit unit = by_foot ? (s->metric ? LENGTH_M : LENGTH_FT) : (s->metric ? LENGTH_MM : LENGTH_IN);
  g_autofree char *text = figure_text (s, figure);
  Fault *fault = NULL;

  if (figure->mark == ENTRY_ANGLE)
    return no_place (s, figure, _ ("write a length here, and an angle only for an elbow"));
  /* The length of a fitting stands in feet in a file and in inches on a sketch: a bare figure could be either. */
  if (slot == RUN_LENGTH && !by_foot && figure->mark == ENTRY_BARE)
    return no_place (s, figure,
                     s->metric ? _ ("write a length with its unit, like 750mm, or a count like x6")
                               : _ ("write a length with its unit, like 30in or 2.5ft, or a count like x6"));
  if (s->at_num[slot] >= 0)
    return job_entry_query (s, s->line + figure->part, _ ("leave one of the two out"),
                            _ ("with “%s” this is given twice"), text);
  if (!length_parse (text, unit, &s->run->num[slot], &fault))
    return job_entry_query_fault (s, s->line + figure->at, fault);
  s->at_num[slot] = figure->part;
  return TRUE;
}

static gboolean
set_angle (EntryScan *s, const EntryFigure *figure)
{
  g_autofree char *text = figure_text (s, figure);
  Fault *fault = NULL;

  if (figure->mark == ENTRY_LENGTH)
    return no_place (s, figure,
                     s->run->num[RUN_KIND] == DUCT_MITRED_ELBOW ? _ ("write the throat legs like legs 6")
                                                                : _ ("write a throat radius like r14"));
  if (s->at_num[RUN_ANGLE] >= 0)
    return no_place (s, figure,
                     _ ("write the angle once, a throat radius like r14, throat legs like legs 6, a count like x3"));
  if (!angle_parse (text, &s->run->num[RUN_ANGLE], &fault))
    return job_entry_query_fault (s, s->line + figure->at, fault);
  s->at_num[RUN_ANGLE] = figure->at;
  return TRUE;
}

/* An offset has two lengths; one alone could be either. */
static gboolean
set_offset (EntryScan *s, const EntryFigure *figure, guint n_loose)
{
  if (figure->mark == ENTRY_BARE)
    return no_place (s, figure,
                     s->metric
                         ? _ ("write lengths with their unit: first how long, then how far aside, like 1200mm 300mm")
                         : _ ("write lengths with their unit: first how long, then how far aside, like 48in 12in"));
  if (n_loose == 1 && s->at_num[RUN_LENGTH] < 0 && s->at_num[RUN_OFFSET] < 0)
    return no_place (s, figure,
                     s->metric ? _ ("write long 1200mm or aside 300mm, or both lengths, how long first")
                               : _ ("write long 48in or aside 12in, or both lengths, how long first"));
  return set_length (s, figure, s->at_num[RUN_LENGTH] < 0 ? RUN_LENGTH : RUN_OFFSET);
}

static gboolean
set_loose (EntryScan *s, const EntryFigure *figure, guint n_loose)
{
  switch ((DuctKind) s->run->num[RUN_KIND])
    {
    case DUCT_STRAIGHT:
    case DUCT_TRANSITION:
    case DUCT_TAP:
    case DUCT_SQUARE_TO_ROUND:
    case DUCT_TEE:
    case DUCT_BOOT_TAP:
    case DUCT_SPIN_IN:
    case DUCT_PLENUM_BOX:
    case DUCT_DAMPER:
    case DUCT_ROUND_DUCT:
    case DUCT_REDUCER:
    case DUCT_FLEXIBLE_DUCT:
    case DUCT_FABRIC_CONNECTOR:
      return set_length (s, figure, RUN_LENGTH);
    case DUCT_WYE:
    case DUCT_SADDLE_TAP:
      /* These have both; a bare figure could be either. */
      return figure->mark == ENTRY_ANGLE ? set_angle (s, figure) : set_length (s, figure, RUN_LENGTH);
    case DUCT_RADIUS_ELBOW:
    case DUCT_MITRED_ELBOW:
    case DUCT_TURNING_VANES:
    case DUCT_GORED_ELBOW:
    case DUCT_STAMPED_ELBOW:
      return set_angle (s, figure);
    case DUCT_OFFSET:
    case DUCT_ANGLED_OFFSET:
      return set_offset (s, figure, n_loose);
    case DUCT_COUNTED:
      if (figure->mark == ENTRY_BARE)
        return no_place (s, figure,
                         s->metric ? _ ("write a count like x5, or a length with its unit, like 7m")
                                   : _ ("write a count like x5, or a length with its unit, like 24ft"));
      return set_length (s, figure, RUN_LENGTH);
    case DUCT_END_CAP:
    case DUCT_ROUND_CAP:
    case DUCT_ACCESS_DOOR:
    case DUCT_REMARK:
    case DUCT_N_KINDS:
    default:
      return no_place (s, figure, _ ("leave it out; a count is written like x2"));
    }
}

static gboolean
place_figures (EntryScan *s)
{
  guint n_loose = 0;

  /* Those that say what they are first. */
  for (guint i = 0; i < s->figures->len; i++)
    {
      const EntryFigure *figure = &g_array_index (s->figures, EntryFigure, i);
      n_loose += figure->slot < 0;
      if (figure->slot >= 0 && !set_length (s, figure, figure->slot))
        return FALSE;
    }
  for (guint i = 0; i < s->figures->len; i++)
    {
      const EntryFigure *figure = &g_array_index (s->figures, EntryFigure, i);
      if (figure->slot < 0 && !set_loose (s, figure, n_loose))
        return FALSE;
    }
  return TRUE;
}

static gboolean
find_kind (EntryScan *s)
{
  if (s->at_num[RUN_KIND] >= 0)
    return TRUE;
  if (*job_entry_blanks (s->line) == '\0')
    return job_entry_query (s, s->line, _ ("write a run like elbow 24x12 90 x3 or 24x12 46"), _ ("the line is empty"));
  if (s->at_num[RUN_W2] >= 0)
    return job_entry_query (s, s->line + s->at_num[RUN_W2],
                            s->run->num[RUN_H2] == 0 ? _ ("start the line with the kind, like reducer, saddle or square to round")
                                                     : _ ("start the line with trans"),
                            _ ("a second size belongs to a transition"));
  for (guint i = 0; i < s->figures->len; i++)
    {
      const EntryFigure *figure = &g_array_index (s->figures, EntryFigure, i);
      if (figure->mark == ENTRY_ANGLE)
        return no_place (s, figure, _ ("start the line with elbow or mitre"));
      if (figure->slot >= 0 && figure->slot != RUN_LENGTH)
        return no_place (s, figure, _ ("start the line with the kind, like elbow, mitre, trans or offset"));
    }
  if (s->at_num[RUN_W] < 0)
    return job_entry_query (s, job_entry_blanks (s->line),
                            _ ("write a kind, like elbow 24x12 90, or a size and a length, like 24x12 46"),
                            _ ("neither a kind nor a size is given"));
  if (s->figures->len == 0)
    return job_entry_query (s, line_end (s),
                            _ ("write the length of a straight behind it, like 24x12 46, or a kind before it"),
                            _ ("it is not clear what this size is for"));
  s->run->num[RUN_KIND] = DUCT_STRAIGHT;
  return TRUE;
}

/* A round size tells which of two kinds of the same name is meant. */
static void
round_kind (EntryScan *s)
{
  gint64 *kind = &s->run->num[RUN_KIND];
  gboolean round = s->at_num[RUN_W] >= 0 && s->run->num[RUN_H] == 0;
  gboolean ends_round = s->at_num[RUN_W2] >= 0 && s->run->num[RUN_H2] == 0;

  if (round && *kind == DUCT_STRAIGHT)
    *kind = DUCT_ROUND_DUCT;
  else if (round && *kind == DUCT_END_CAP)
    *kind = DUCT_ROUND_CAP;
  else if (round && ends_round && *kind == DUCT_TRANSITION)
    *kind = DUCT_REDUCER;
  else if (!round && ends_round && *kind == DUCT_TRANSITION)
    *kind = DUCT_SQUARE_TO_ROUND;
}

/* What the kind cannot have is asked about, not dropped. */
static gboolean
check_belongs (EntryScan *s)
{
  static const struct
  {
    int slot;
    DuctDim dim;
  } dims[] = { { RUN_LENGTH, DUCT_DIM_LENGTH }, { RUN_W2, DUCT_DIM_W2 },         { RUN_ANGLE, DUCT_DIM_ANGLE },
               { RUN_THROAT, DUCT_DIM_THROAT }, { RUN_OFFSET, DUCT_DIM_OFFSET }, { RUN_SHIFT, DUCT_DIM_SHIFT },
               { RUN_LEGS, DUCT_DIM_LEGS },     { RUN_BRANCH, DUCT_DIM_BRANCH }, { RUN_GORES, DUCT_DIM_GORES } };
  static const int counted_only[] = { RUN_PRICE, RUN_SHOP_MINUTES, RUN_FIELD_MINUTES };
  const DuctKindInfo *info = duct_kind_info ((DuctKind) s->run->num[RUN_KIND]);
  gboolean counted = s->run->num[RUN_KIND] == DUCT_COUNTED;

  for (gsize i = 0; i < G_N_ELEMENTS (dims); i++)
    if (s->at_num[dims[i].slot] >= 0 && !(info->dims & (1u << dims[i].dim)))
      return job_entry_query (s, s->line + s->at_num[dims[i].slot], _ ("leave it out, or write another kind"),
                              _ ("the kind “%s” has no such dimension"), _ (info->name));
  for (gsize i = 0; i < G_N_ELEMENTS (counted_only) && !counted; i++)
    if (s->at_num[counted_only[i]] >= 0)
      return job_entry_query (s, s->line + s->at_num[counted_only[i]], _ ("leave it out, or start the line with count"),
                              _ ("only a counted line has a price or minutes of its own"));
  if (counted && s->at_num[RUN_W] >= 0)
    return job_entry_query (s, s->line + s->at_num[RUN_W], _ ("write it behind note:, or choose an item of that size"),
                            _ ("a counted line has no size"));
  return TRUE;
}

void
job_entry_take_place (EntryScan *s, const JobRecord *above)
{
  static const int taken[] = { RUN_SYSTEM, RUN_AREA };

  for (gsize i = 0; above && i < G_N_ELEMENTS (taken); i++)
    if (s->at_num[taken[i]] < 0)
      s->run->num[taken[i]] = above->num[taken[i]];
  if (above && s->at_text[RUN_DRAWING] < 0)
    job_record_set_text (s->run, RUN_DRAWING, above->text[RUN_DRAWING]);
}

/* A note between two runs does not come between the second and the first one's size. */
static const JobRecord *
above_notes (TallyJob *job, const JobRecord *above)
{
  int at = above ? job_position (job, above->id) : -1;

  while (above && job_is_note_line (above))
    above = --at >= 0 ? job_at (job, JOB_RUN, (guint) at) : NULL;
  return above;
}

/* What is bought may also be meant as an item of the catalogue. */
static gboolean
no_size (EntryScan *s, DuctSection section)
{
  gboolean bought = duct_kind_info ((DuctKind) s->run->num[RUN_KIND])->bought && s->at_num[RUN_KIND] >= 0;
  g_autofree char *near = bought ? job_entry_near_items (s, s->line + s->at_num[RUN_KIND]) : NULL;
  const char *how = section == DUCT_ROUND ? _ ("write it like 12 dia") : _ ("write it like 24x12");
  g_autofree char *remedy = near ? g_strdup_printf (_ ("%s, or an item in full: %s"), how, near) : g_strdup (how);

  return job_entry_query (s, line_end (s), remedy, _ ("the size is missing, and no row above has one"));
}

/* A size that was not typed is that of the row above, where the air leaves it. */
static gboolean
take_from_above (EntryScan *s, const JobRecord *above)
{
  DuctSection section = duct_kind_info ((DuctKind) s->run->num[RUN_KIND])->section;
  int slot = RUN_W;

  job_entry_take_place (s, above);
  if (s->at_num[RUN_W] >= 0 || s->run->num[RUN_KIND] == DUCT_COUNTED)
    return TRUE;
  above = above_notes (s->job, above);
  if (above
      && (above->num[RUN_KIND] == DUCT_TRANSITION || above->num[RUN_KIND] == DUCT_REDUCER
          || above->num[RUN_KIND] == DUCT_SQUARE_TO_ROUND)
      && above->num[RUN_W2] != JOB_UNSET)
    slot = RUN_W2;
  if (!above || above->num[slot] == JOB_UNSET
      || (section != DUCT_RECT_OR_ROUND && (above->num[slot + 1] == 0) != (section == DUCT_ROUND)))
    return no_size (s, section);
  s->run->num[RUN_W] = above->num[slot];
  s->run->num[RUN_H] = above->num[slot + 1];
  s->size_from_above = TRUE;
  return TRUE;
}

/* The bounds of the kind; places are those of what was typed, else the end of the line. */
static gboolean
check_whole (EntryScan *s)
{
  Fault *fault = NULL;
  const JobField *f;
  int field, at;

  if (s->run->num[RUN_KIND] == DUCT_TRANSITION && s->at_num[RUN_W2] < 0)
    return job_entry_query (s, line_end (s), _ ("write both sizes, like trans 24x12 > 18x10"),
                            _ ("the second size is missing"));
  if (job_run_check (s->catalogue->rules, s->run, &field, &fault))
    return TRUE;
  f = &job_type_info (JOB_RUN)->field[field];
  at = f->as == JOB_AS_TEXT ? s->at_text[f->slot] : s->at_num[f->slot];
  job_entry_query (s, at >= 0 ? s->line + at : line_end (s), fault->remedy, "%s", fault->what);
  fault_free (fault);
  return FALSE;
}

gboolean
job_entry_fill (EntryScan *s, const JobRecord *above)
{
  if (!find_kind (s))
    return FALSE;
  round_kind (s);
  return place_figures (s) && check_belongs (s) && take_from_above (s, above) && check_whole (s);
}
