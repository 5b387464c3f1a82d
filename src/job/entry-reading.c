/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/entry-private.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "job/cell.h"

#include <glib/gi18n-lib.h>

/* "3 radius elbows", "straight". */
static void
say_kind (GString *out, DuctKind kind, gint64 count)
{
  static const struct
  {
    const char *one, *many;
  } names[DUCT_N_KINDS] = {
    [DUCT_STRAIGHT] = { N_ ("straight"), N_ ("straights") },
    [DUCT_RADIUS_ELBOW] = { N_ ("radius elbow"), N_ ("radius elbows") },
    [DUCT_MITRED_ELBOW] = { N_ ("mitred elbow"), N_ ("mitred elbows") },
    [DUCT_TRANSITION] = { N_ ("transition"), N_ ("transitions") },
    [DUCT_OFFSET] = { N_ ("offset"), N_ ("offsets") },
    [DUCT_TAP] = { N_ ("tap"), N_ ("taps") },
    [DUCT_END_CAP] = { N_ ("end cap"), N_ ("end caps") },
    [DUCT_COUNTED] = { N_ ("counted line"), N_ ("counted lines") },
    [DUCT_REMARK] = { N_ ("note"), N_ ("notes") },
    [DUCT_ANGLED_OFFSET] = { N_ ("angled offset"), N_ ("angled offsets") },
    [DUCT_SQUARE_TO_ROUND] = { N_ ("square to round"), N_ ("squares to round") },
    [DUCT_TEE] = { N_ ("tee"), N_ ("tees") },
    [DUCT_WYE] = { N_ ("wye"), N_ ("wyes") },
    [DUCT_BOOT_TAP] = { N_ ("boot tap"), N_ ("boot taps") },
    [DUCT_SPIN_IN] = { N_ ("spin-in"), N_ ("spin-ins") },
    [DUCT_PLENUM_BOX] = { N_ ("plenum box"), N_ ("plenum boxes") },
    [DUCT_ACCESS_DOOR] = { N_ ("access door"), N_ ("access doors") },
    [DUCT_DAMPER] = { N_ ("damper"), N_ ("dampers") },
    [DUCT_TURNING_VANES] = { N_ ("set of turning vanes"), N_ ("sets of turning vanes") },
    [DUCT_ROUND_DUCT] = { N_ ("round duct"), N_ ("round ducts") },
    [DUCT_GORED_ELBOW] = { N_ ("gored elbow"), N_ ("gored elbows") },
    [DUCT_STAMPED_ELBOW] = { N_ ("stamped elbow"), N_ ("stamped elbows") },
    [DUCT_REDUCER] = { N_ ("reducer"), N_ ("reducers") },
    [DUCT_SADDLE_TAP] = { N_ ("saddle tap"), N_ ("saddle taps") },
    [DUCT_ROUND_CAP] = { N_ ("round cap"), N_ ("round caps") },
    [DUCT_FLEXIBLE_DUCT] = { N_ ("flexible duct"), N_ ("flexible ducts") },
    [DUCT_FABRIC_CONNECTOR] = { N_ ("fabric connector"), N_ ("fabric connectors") },
  };
  gulong n = count % 1000 == 0 ? (gulong) (count / 1000) : 2;

  if (count != 1000)
    {
      g_autofree char *figure = decimal_print (count, 3, 0, FALSE);
      g_string_append_printf (out, "%s ", figure);
    }
  g_string_append (out, g_dngettext (GETTEXT_PACKAGE, names[kind].one, names[kind].many, n));
}

static void
say_size (GString *out, const EntryScan *s, int slot)
{
  g_autofree char *size =
      duct_size_print (s->run->num[slot], s->run->num[slot + 1], s->metric ? LENGTH_STYLE_MM : LENGTH_STYLE_IN);

  if (s->run->num[slot + 1] == 0)
    {
      g_autofree char *diameter = length_print_unit (s->run->num[slot], s->metric ? LENGTH_STYLE_MM : LENGTH_STYLE_IN);
      g_string_append_printf (out, _ ("%s dia"), diameter);
      return;
    }
  g_string_append (out, size);
  if (s->metric)
    g_string_append (out, " mm");
}

/* ", " and the words, whose one %s is the length. */
static void
say_length (GString *out, const EntryScan *s, int slot, gboolean by_foot, const char *format)
{
  LengthStyle style =
      s->metric ? (by_foot ? LENGTH_STYLE_M : LENGTH_STYLE_MM) : (by_foot ? LENGTH_STYLE_FT : LENGTH_STYLE_IN);

  if (s->run->num[slot] == JOB_UNSET)
    return;
  g_autofree char *text = length_print_unit (s->run->num[slot], style);
  g_auto (GStrv) halves = g_strsplit (format, "%s", 2);
  g_string_append_printf (out, ", %s%s%s", halves[0], text, halves[1] ? halves[1] : "");
}

static void
say_dims (GString *out, const EntryScan *s, DuctKind kind)
{
  const gint64 *num = s->run->num;
  gboolean by_foot = kind == DUCT_STRAIGHT || kind == DUCT_COUNTED || kind == DUCT_ROUND_DUCT || kind == DUCT_FLEXIBLE_DUCT;

  say_length (out, s, RUN_LENGTH, by_foot, by_foot ? "%s" : _ ("%s long"));
  if (num[RUN_ANGLE] != JOB_UNSET)
    {
      g_autofree char *angle = angle_print (num[RUN_ANGLE]);
      g_string_append_printf (out, ", %s°", angle);
    }
  say_length (out, s, RUN_THROAT, FALSE, _ ("throat radius %s"));
  say_length (out, s, RUN_OFFSET, FALSE, _ ("%s aside"));
  say_length (out, s, RUN_SHIFT, FALSE, _ ("shifted %s"));
  say_length (out, s, RUN_LEGS, FALSE, _ ("throat legs %s"));
  say_length (out, s, RUN_BRANCH, FALSE, _ ("branch %s"));
  if (num[RUN_GORES] != JOB_UNSET)
    g_string_append_printf (out, g_dngettext (GETTEXT_PACKAGE, ", %d gore", ", %d gores", (gulong) (num[RUN_GORES] / 1000)),
                            (int) (num[RUN_GORES] / 1000));
  if (num[RUN_ON_EDGE] == 1)
    g_string_append_printf (out, ", %s", _ ("on edge"));
}

static void
say_build (GString *out, const EntryScan *s)
{
  const gint64 *num = s->run->num;

  if (num[RUN_CLASS] != JOB_UNSET)
    {
      g_autofree char *text = pressure_print (num[RUN_CLASS], s->metric);
      g_string_append_printf (out, _ (", class %s"), text);
    }
  if (s->run->text[RUN_GAUGE])
    g_string_append_printf (out, _ (", %s gauge"), s->run->text[RUN_GAUGE]);
  if (num[RUN_METAL] != JOB_UNSET)
    g_string_append_printf (out, ", %s", _ (duct_metal_key ((DuctMetal) num[RUN_METAL])));
  if (num[RUN_EXPOSURE] != JOB_UNSET)
    g_string_append_printf (out, ", %s", _ (duct_exposure_key ((DuctExposure) num[RUN_EXPOSURE])));
  if (s->run->text[RUN_METHOD])
    {
      int method = catalogue_find_method (s->catalogue, s->run->text[RUN_METHOD]);
      g_string_append_printf (out, ", %s",
                              method >= 0 ? catalogue_method (s->catalogue, method)->name : s->run->text[RUN_METHOD]);
    }
  if (num[RUN_FIRST_END] != JOB_UNSET)
    g_string_append_printf (out, _ (", first end: %s"), _ (duct_end_key ((DuctEnd) num[RUN_FIRST_END])));
  if (num[RUN_LAST_END] != JOB_UNSET)
    g_string_append_printf (out, _ (", last end: %s"), _ (duct_end_key ((DuctEnd) num[RUN_LAST_END])));
  if (num[RUN_FIT] != JOB_UNSET)
    g_string_append_printf (out, _ (", cut to fit on site: %d"), (int) num[RUN_FIT]);
}

static void
say_place (GString *out, const EntryScan *s)
{
  const JobNames *names = job_names (s->job);

  if (s->at_num[RUN_SYSTEM] >= 0)
    g_string_append_printf (out, _ (", system %s"), names->name (names->data, JOB_SYSTEM, s->run->num[RUN_SYSTEM]));
  if (s->at_num[RUN_AREA] >= 0)
    g_string_append_printf (out, _ (", area %s"), names->name (names->data, JOB_AREA, s->run->num[RUN_AREA]));
  if (s->at_text[RUN_DRAWING] >= 0)
    g_string_append_printf (out, _ (", drawing %s"), s->run->text[RUN_DRAWING]);
}

static void
say_figure (GString *out, const EntryScan *s, int slot, int decimals, int least, const char *before)
{
  if (s->run->num[slot] == JOB_UNSET)
    return;
  g_autofree char *text = decimal_print (s->run->num[slot], decimals, least, TRUE);
  g_string_append_printf (out, ", %s %s", before, text);
}

char *
job_entry_reading (const EntryScan *s)
{
  GString *out = g_string_new (NULL);
  const gint64 *num = s->run->num;
  DuctKind kind = (DuctKind) num[RUN_KIND];
  gint64 count = num[RUN_COUNT] == JOB_UNSET ? 1000 : num[RUN_COUNT];

  if (kind == DUCT_REMARK)
    {
      g_string_append_printf (out, _ ("note: %s"), s->run->text[RUN_NOTE]);
      return g_string_free (out, FALSE);
    }
  if (kind == DUCT_COUNTED && s->run->text[RUN_ITEM])
    {
      g_autofree char *figure = decimal_print (count, 3, 0, TRUE);
      g_string_append_printf (out, "%s × %s", figure, s->run->text[RUN_ITEM]);
    }
  else
    say_kind (out, kind, count);
  if (num[RUN_W] != JOB_UNSET)
    {
      g_string_append_c (out, ' ');
      say_size (out, s, RUN_W);
      if (num[RUN_W2] != JOB_UNSET)
        {
          g_string_append_printf (out, " %s ", kind == DUCT_SADDLE_TAP ? _ ("on") : _ ("to"));
          say_size (out, s, RUN_W2);
        }
      if (s->size_from_above)
        g_string_append_printf (out, " %s", _ ("(size of the row above)"));
    }
  say_dims (out, s, kind);
  say_build (out, s);
  say_figure (out, s, RUN_PRICE, 4, 2, _ ("price"));
  say_figure (out, s, RUN_SHOP_MINUTES, 6, 0, _ ("worker-minutes in the shop"));
  say_figure (out, s, RUN_FIELD_MINUTES, 6, 0, _ ("worker-minutes in the field"));
  if (job_minutes_missing (s->catalogue, s->run))
    g_string_append_printf (out, ", %s", _ ("no minutes: 0.0 h (field 25 or shop 10 gives some)"));
  say_place (out, s);
  if (s->run->text[RUN_NOTE])
    g_string_append_printf (out, _ (", note: %s"), s->run->text[RUN_NOTE]);
  return g_string_free (out, FALSE);
}
