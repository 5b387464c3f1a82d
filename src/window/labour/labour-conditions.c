/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/labour/labour-private.h"
#include "window/words.h"

#include "base/decimal.h"
#include "cost/rests.h"
#include "cost/retire.h"
#include "job/labour-model.h"

#include <glib/gi18n.h>
#include <string.h>

/* Where conditions can be named. */
typedef struct
{
  JobType type;
  gint64 id; /* of JOB_RUN: the selected runs */
} Place;

typedef struct
{
  TallySession *session; /* borrowed: the signals go with the widget */
  GtkWidget *box, *drop, *list, *said;
  GArray *places;        /* Place, as in the drop-down */
  guint shown;           /* records and selection that the drop-down was made of */
  gboolean filling;
} Conditions;

static void
conditions_free (gpointer data)
{
  Conditions *c = data;

  g_array_unref (c->places);
  g_free (c);
}

static const Place *
place_now (const Conditions *c)
{
  guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (c->drop));

  return &g_array_index (c->places, Place, at < c->places->len ? at : 0);
}

static const char *
text_of (TallyJob *job, const Place *place)
{
  const JobRecord *r = job_find (job, place->type, place->id);

  if (!r)
    return NULL;
  return place->type == JOB_HEAD     ? r->text[HEAD_CONDITION]
         : place->type == JOB_SYSTEM ? r->text[SYSTEM_CONDITION]
         : place->type == JOB_AREA   ? r->text[AREA_CONDITION]
                                     : r->text[RUN_CONDITION];
}

/* One record of the place, or each of the selected runs, gets the condition or loses it: one edit. */
static void
add_change (TallyJob *job, JobEdit *edit, const Place *place, const char *key, gboolean named)
{
  const JobRecord *before = job_find (job, place->type, place->id);
  const char *was = text_of (job, place);
  JobRecord *after;

  if (!before || job_conditions_name (was, key) == named)
    return;
  g_autofree char *text = job_conditions_with (was, key, named);
  after = job_record_copy (before);
  job_record_read (after, job_field_find (place->type, "condition"), text, job_names (job), NULL);
  job_edit_add (edit, job_record_ref ((JobRecord *) before), after);
}

static void refresh (Conditions *c);

static void
toggled_cb (GtkCheckButton *check, Conditions *c)
{
  TallyJob *job = session_job (c->session);
  const char *key = g_object_get_data (G_OBJECT (check), "condition");
  gboolean named = gtk_check_button_get_active (check);
  const Place *place = place_now (c);
  const GArray *selection = session_selection (c->session);
  JobEdit *edit;

  if (!job || c->filling)
    return;
  g_autofree char *label = g_strdup_printf (named ? _ ("condition “%s”") : _ ("without the condition “%s”"), key);
  edit = job_edit_new (label);
  if (place->type != JOB_RUN)
    add_change (job, edit, place, key, named);
  for (guint i = 0; place->type == JOB_RUN && i < selection->len; i++)
    {
      Place run = { JOB_RUN, g_array_index (selection, gint64, i) };
      add_change (job, edit, &run, key, named);
    }
  if (edit->deltas->len == 0)
    job_edit_free (edit);
  else if (!session_apply (c->session, edit))
    refresh (c);
}

/* ---- what is shown ---- */

static void
append_mask (GString *out, guint mask, const char *const *keys, int n)
{
  if (mask == (1u << n) - 1)
    return;
  for (int i = 0; i < n; i++)
    if (mask & (1u << i))
      g_string_append_printf (out, "%s%s", out->len > 0 ? ", " : "", keys[i]);
}

static GtkWidget *
condition_row (Conditions *c, const LabourCondition *condition)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12), *check = gtk_check_button_new_with_label (condition->key);
  g_autofree char *factor = decimal_print (condition->factor_ppm, 6, 2, FALSE), *times = g_strdup_printf ("× %s", factor);
  g_autoptr (GString) reach = g_string_new (NULL), groups = g_string_new (NULL);
  GtkWidget *figure = tally_words_in_cell_new (times, "figure"), *words, *mark = gtk_label_new (condition->status);
  DuctStatus status = DUCT_SHOPS_OWN;

  append_mask (reach, condition->places, labour_place_keys, LABOUR_N_PLACES);
  append_mask (groups, condition->groups, labour_group_keys, LABOUR_N_GROUPS);
  g_autofree char *text = g_strdup_printf ("%s%s%s%s%s — %s", reach->len ? reach->str : _ ("everywhere"), groups->len ? " (" : "",
                                           groups->str, groups->len ? ")" : "", *condition->reason ? ": " : "", condition->reason);
  g_autofree char *whole = g_strdup_printf (_ ("%s. Source: %s"), text, condition->source);
  char *dash = strstr (whole, " — ");
  if (dash && *condition->reason)
    memmove (dash, dash + strlen (" — "), strlen (dash + strlen (" — ")) + 1);
  words = tally_words_in_cell_new (whole, NULL);
  gtk_widget_set_hexpand (words, TRUE);
  gtk_widget_set_size_request (check, 190, -1);
  gtk_widget_set_size_request (figure, 56, -1);
  duct_status_parse (condition->status, &status);
  gtk_widget_add_css_class (mark, "status-mark");
  if (cost_status_weak (status))
    gtk_widget_add_css_class (mark, "attention");
  gtk_widget_set_valign (mark, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (figure, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (words, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (check, GTK_ALIGN_CENTER);
  g_object_set_data_full (G_OBJECT (check), "condition", g_strdup (condition->key), g_free);
  g_autofree char *spoken = g_strdup_printf ("%s, %s, %s", condition->key, times, whole);
  gtk_accessible_update_property (GTK_ACCESSIBLE (check), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  g_signal_connect (check, "toggled", G_CALLBACK (toggled_cb), c);
  gtk_box_append (GTK_BOX (row), check);
  gtk_box_append (GTK_BOX (row), figure);
  gtk_box_append (GTK_BOX (row), words);
  gtk_box_append (GTK_BOX (row), mark);
  return row;
}

static void
make_list (Conditions *c, TallyJob *job)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  const GPtrArray *conditions = catalogue->labour->conditions;
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (c->list)))
    gtk_box_remove (GTK_BOX (c->list), child);
  for (guint i = 0; i < conditions->len; i++)
    {
      const LabourCondition *condition = g_ptr_array_index (conditions, i);
      if (!catalogue_is_retired (catalogue, CATALOGUE_CONDITIONS, condition->key))
        gtk_box_append (GTK_BOX (c->list), condition_row (c, condition));
    }
}

static void
make_places (Conditions *c, TallyJob *job)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  const GArray *selection = session_selection (c->session);
  Place kept = c->places->len > 0 ? *place_now (c) : (Place) { JOB_HEAD, 0 };
  guint select = 0;

  g_array_set_size (c->places, 0);
  for (int t = 0; t < 3; t++)
    {
      static const JobType types[] = { JOB_HEAD, JOB_SYSTEM, JOB_AREA };
      for (guint i = 0; i < job_n (job, types[t]); i++)
        {
          const JobRecord *r = job_at (job, types[t], i);
          Place place = { types[t], r->id };
          g_array_append_val (c->places, place);
          g_ptr_array_add (names, t == 0   ? g_strdup (_ ("The whole job"))
                                  : t == 1 ? g_strdup_printf (_ ("System %s"), r->text[SYSTEM_KEY])
                                           : g_strdup_printf (_ ("Area %s"), r->text[AREA_KEY]));
        }
    }
  if (selection->len > 0)
    {
      Place place = { JOB_RUN, g_array_index (selection, gint64, 0) };
      g_array_append_val (c->places, place);
      g_ptr_array_add (names, g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "The selected run", "The %u selected runs", selection->len),
                                               selection->len));
    }
  g_ptr_array_add (names, NULL);
  for (guint i = 0; i < c->places->len; i++)
    {
      const Place *p = &g_array_index (c->places, Place, i);
      if (p->type == kept.type && (p->id == kept.id || p->type == JOB_RUN))
        select = i;
    }
  g_autoptr (GtkStringList) model = gtk_string_list_new ((const char *const *) names->pdata);
  gtk_drop_down_set_model (GTK_DROP_DOWN (c->drop), G_LIST_MODEL (model));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (c->drop), select);
}

/* Whether all records of the place name the condition; @some: at least one does. */
static gboolean
named_there (Conditions *c, TallyJob *job, const char *key, gboolean *some)
{
  const Place *place = place_now (c);
  const GArray *selection = session_selection (c->session);
  guint n = 0;

  if (place->type != JOB_RUN)
    return *some = job_conditions_name (text_of (job, place), key);
  for (guint i = 0; i < selection->len; i++)
    {
      Place run = { JOB_RUN, g_array_index (selection, gint64, i) };
      n += job_conditions_name (text_of (job, &run), key) ? 1 : 0;
    }
  *some = n > 0;
  return n == selection->len && n > 0;
}

static void
refresh (Conditions *c)
{
  TallyJob *job = session_job (c->session);
  guint shape;

  gtk_widget_set_sensitive (c->box, job != NULL);
  if (!job)
    return;
  c->filling = TRUE;
  shape = job_n (job, JOB_SYSTEM) * 1000003 + job_n (job, JOB_AREA) * 1009 + session_selection (c->session)->len + 1;
  if (shape != c->shown)
    make_places (c, job);
  c->shown = shape;
  for (GtkWidget *row = gtk_widget_get_first_child (c->list); row; row = gtk_widget_get_next_sibling (row))
    {
      GtkWidget *check = gtk_widget_get_first_child (row);
      gboolean some, all = named_there (c, job, g_object_get_data (G_OBJECT (check), "condition"), &some);
      gtk_check_button_set_active (GTK_CHECK_BUTTON (check), all);
      gtk_check_button_set_inconsistent (GTK_CHECK_BUTTON (check), some && !all);
    }
  c->filling = FALSE;
}

static void
place_cb (GtkDropDown *drop, GParamSpec *spec, Conditions *c)
{
  (void) drop;
  (void) spec;
  if (!c->filling)
    refresh (c);
}

static void
follow_cb (GtkWidget *box)
{
  refresh (g_object_get_data (G_OBJECT (box), "conditions"));
}

static void
job_cb (GtkWidget *box)
{
  Conditions *c = g_object_get_data (G_OBJECT (box), "conditions");

  c->shown = 0;
  if (session_job (c->session))
    make_list (c, session_job (c->session));
  refresh (c);
}

GtkWidget *
labour_conditions_new (TallySession *session)
{
  Conditions *c = g_new0 (Conditions, 1);

  c->session = session;
  c->places = g_array_new (FALSE, FALSE, sizeof (Place));
  c->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  c->drop = gtk_drop_down_new (NULL, NULL);
  c->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  gtk_widget_set_halign (c->drop, GTK_ALIGN_START);
  gtk_widget_add_css_class (c->list, "labour-conditions");
  gtk_accessible_update_property (GTK_ACCESSIBLE (c->drop), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Where the conditions hold"), -1);
  gtk_box_append (GTK_BOX (c->box), c->drop);
  gtk_box_append (GTK_BOX (c->box), c->list);
  g_object_set_data_full (G_OBJECT (c->box), "conditions", c, conditions_free);
  g_signal_connect (c->drop, "notify::selected", G_CALLBACK (place_cb), c);
  g_signal_connect_object (session, "job", G_CALLBACK (job_cb), c->box, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "changed", G_CALLBACK (follow_cb), c->box, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "selection", G_CALLBACK (follow_cb), c->box, G_CONNECT_SWAPPED);
  job_cb (c->box);
  return c->box;
}
