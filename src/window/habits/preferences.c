/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/habits/habits.h"

#include "cost/retire.h"
#include "window/settings.h"

#include <adwaita.h>
#include <glib/gi18n.h>

/* ---- what applies to the whole program ---- */

static const char *const density_keys[] = { "tight", "usual", "wide", NULL };
static const char *const look_keys[] = { "system", "light", "dark", NULL };

static int
setting_index (const char *key, const char *const *keys, int otherwise)
{
  g_autofree char *value = settings_get ("view", key);

  for (int i = 0; value && keys[i]; i++)
    if (g_str_equal (keys[i], value))
      return i;
  return otherwise;
}

void
tally_preferences_apply (void)
{
  static GtkCssProvider *css;
  static const char *const rules[] = { "tally-grid { font-size: 0.9em; } .detail-content { font-size: 0.95em; }", "",
                                       "tally-grid { font-size: 1.15em; }" };
  static const AdwColorScheme schemes[] = { ADW_COLOR_SCHEME_DEFAULT, ADW_COLOR_SCHEME_FORCE_LIGHT, ADW_COLOR_SCHEME_FORCE_DARK };
  int look = setting_index ("look", look_keys, 0);

  if (!css)
    {
      css = gtk_css_provider_new ();
      gtk_style_context_add_provider_for_display (gdk_display_get_default (), GTK_STYLE_PROVIDER (css),
                                                  GTK_STYLE_PROVIDER_PRIORITY_APPLICATION + 1);
    }
  gtk_css_provider_load_from_data (css, rules[setting_index ("density", density_keys, 1)], -1);
  /* Left alone unless the user chose, so that what the desktop asks for holds. */
  if (look != 0 || adw_style_manager_get_color_scheme (adw_style_manager_get_default ()) != ADW_COLOR_SCHEME_DEFAULT)
    adw_style_manager_set_color_scheme (adw_style_manager_get_default (), schemes[look]);
}

/* ---- rows ---- */

typedef struct
{
  TallySession *session;
  const char *group, *key; /* of the settings; NULL: a fact of the job */
  int field;               /* of JOB_HEAD */
  GPtrArray *value;        /* char *: choices of a combo row */
  gboolean apply;          /* takes effect at once */
} Row;

static void
row_free (gpointer data, GClosure *closure)
{
  Row *row = data;

  (void) closure;
  g_clear_pointer (&row->value, g_ptr_array_unref);
  g_object_unref (row->session);
  g_free (row);
}

static char *
present_text (const Row *row)
{
  TallyJob *job = session_job (row->session);
  char *text = NULL;

  if (row->key)
    text = settings_get (row->group, row->key);
  else if (job)
    text = job_record_print (job_head (job), row->field, job_names (job));
  return text ? text : g_strdup ("");
}

static char *
commit (Row *row, const char *text)
{
  TallyJob *job = session_job (row->session);
  g_autofree char *present = present_text (row);
  Fault *fault = NULL;
  char *words = NULL;

  if (g_str_equal (present, text))
    return NULL;
  if (row->key)
    {
      settings_set (row->group, row->key, *text ? text : NULL);
      if (row->apply)
        tally_preferences_apply ();
      return NULL;
    }
  if (!job)
    return NULL;
  session_edit_field (row->session, JOB_HEAD, job_head (job)->id, row->field, text, &fault);
  if (fault)
    words = fault_words (fault, text);
  fault_free (fault);
  return words;
}

static void
apply_cb (AdwEntryRow *entry, Row *row)
{
  g_autofree char *words = commit (row, gtk_editable_get_text (GTK_EDITABLE (entry)));
  const char *title = _ (job_type_info (JOB_HEAD)->field[row->field].title);
  g_autofree char *said = words ? g_strdup_printf ("%s – %s", title, words) : g_strdup (title);
  g_autofree char *escaped = g_markup_escape_text (said, -1);

  adw_preferences_row_set_title (ADW_PREFERENCES_ROW (entry), escaped);
  if (words)
    gtk_widget_add_css_class (GTK_WIDGET (entry), "error");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (entry), "error");
}

static void
chosen_cb (AdwComboRow *combo, GParamSpec *pspec, Row *row)
{
  guint at = adw_combo_row_get_selected (combo);
  g_autofree char *words = NULL;

  (void) pspec;
  if (at < row->value->len)
    words = commit (row, g_ptr_array_index (row->value, at));
  if (words)
    session_say (row->session, SESSION_REFUSED, "%s", words);
}

static Row *
row_new (TallySession *session, const char *group, const char *key, int field)
{
  Row *row = g_new0 (Row, 1);

  row->session = g_object_ref (session);
  row->group = group;
  row->key = key;
  row->field = field;
  return row;
}

static void
add_choice (GtkStringList *list, Row *row, const char *value, const char *words)
{
  gtk_string_list_append (list, words);
  g_ptr_array_add (row->value, g_strdup (value));
}

/* A combo row over @list, at the present text; a text that is no choice is added, so that it is not lost. */
static void
add_combo (AdwPreferencesGroup *group, const char *title, GtkStringList *list, Row *row)
{
  GtkWidget *combo = adw_combo_row_new ();
  g_autofree char *text = present_text (row);
  GtkExpression *name = gtk_property_expression_new (GTK_TYPE_STRING_OBJECT, NULL, "string");
  guint at = GTK_INVALID_LIST_POSITION;

  for (guint i = 0; i < row->value->len; i++)
    if (g_str_equal (g_ptr_array_index (row->value, i), text))
      at = i;
  if (at == GTK_INVALID_LIST_POSITION)
    {
      at = row->value->len;
      add_choice (list, row, text, text);
    }
  adw_preferences_row_set_title (ADW_PREFERENCES_ROW (combo), title);
  /* Names of rule sets and methods are long: below the title there is room for them. */
  adw_combo_row_set_expression (ADW_COMBO_ROW (combo), name);
  adw_combo_row_set_use_subtitle (ADW_COMBO_ROW (combo), TRUE);
  gtk_expression_unref (name);
  adw_combo_row_set_model (ADW_COMBO_ROW (combo), G_LIST_MODEL (list));
  adw_combo_row_set_selected (ADW_COMBO_ROW (combo), at);
  g_signal_connect_data (combo, "notify::selected", G_CALLBACK (chosen_cb), row, row_free, 0);
  adw_preferences_group_add (group, combo);
  g_object_unref (list);
}

static void
add_entry (AdwPreferencesGroup *group, Row *row)
{
  GtkWidget *entry = adw_entry_row_new ();
  g_autofree char *text = present_text (row);

  adw_preferences_row_set_title (ADW_PREFERENCES_ROW (entry), _ (job_type_info (JOB_HEAD)->field[row->field].title));
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  adw_entry_row_set_show_apply_button (ADW_ENTRY_ROW (entry), TRUE);
  g_signal_connect_data (entry, "apply", G_CALLBACK (apply_cb), row, row_free, 0);
  adw_preferences_group_add (group, entry);
}

/* The choices of a head field that has some; NULL for one that is typed. */
static GtkStringList *
choices (Row *row, const Catalogue *catalogue)
{
  const JobField *field = &job_type_info (JOB_HEAD)->field[row->field];
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);

  row->value = g_ptr_array_new_with_free_func (g_free);
  if (g_str_equal (field->key, "method"))
    for (guint i = 0; i < catalogue->methods->len; i++)
      {
        const CostMethod *method = catalogue_method (catalogue, (int) i);
        if (!catalogue_is_retired (catalogue, CATALOGUE_METHODS, method->key))
          add_choice (list, row, method->key, method->name);
      }
  else if (g_str_equal (field->key, "rule_set"))
    for (guint i = 0; i < catalogue->rules->sets->len; i++)
      {
        const DuctRuleSet *set = g_ptr_array_index (catalogue->rules->sets, i);
        if (!catalogue_is_retired (catalogue, CATALOGUE_RULE_SETS, set->key))
          add_choice (list, row, set->key, set->name);
      }
  else if (field->as == JOB_AS_UNITS)
    {
      add_choice (list, row, "inch-pound", _ ("in, ft, lb"));
      add_choice (list, row, "metric", _ ("mm, m, kg"));
    }
  else if (field->as == JOB_AS_METAL)
    for (int i = 0; i < DUCT_N_METALS; i++)
      add_choice (list, row, duct_metal_key ((DuctMetal) i), duct_metal_key ((DuctMetal) i));
  else if (field->as == JOB_AS_EXPOSURE)
    for (int i = 0; i < DUCT_N_EXPOSURES; i++)
      add_choice (list, row, duct_exposure_key ((DuctExposure) i), duct_exposure_key ((DuctExposure) i));
  else if (field->as == JOB_AS_DECIMALS)
    for (int i = 0; i <= 4; i++)
      {
        g_autofree char *digit = g_strdup_printf ("%d", i);
        add_choice (list, row, digit, digit);
      }
  else
    return NULL;
  return g_steal_pointer (&list);
}

/* What the program takes for new jobs where nothing is chosen; jobs.c starts them so. */
static char *
proposed_words (const char *key, const Catalogue *catalogue)
{
  const DuctRules *rules = catalogue->rules;
  int set = duct_rules_start_set (rules);

  if (g_str_equal (key, "rule_set") && set >= 0)
    return g_strdup_printf (_ ("%s (proposed)"), ((const DuctRuleSet *) g_ptr_array_index (rules->sets, (guint) set))->name);
  if (g_str_equal (key, "method") && catalogue->methods->len > 0)
    return g_strdup_printf (_ ("%s (proposed)"), catalogue_method (catalogue, 0)->name);
  if (g_str_equal (key, "units"))
    return g_strdup (_ ("in, ft, lb (proposed)"));
  if (g_str_equal (key, "decimals"))
    return g_strdup (_ ("2 (proposed)"));
  if (g_str_equal (key, "metal"))
    return g_strdup_printf (_ ("%s (proposed)"), duct_metal_key (DUCT_GALVANISED));
  return g_strdup (_ ("none (proposed)"));
}

static void
add_field (AdwPreferencesGroup *group, TallySession *session, const Catalogue *catalogue, const char *settings_group, int field)
{
  const JobField *info = &job_type_info (JOB_HEAD)->field[field];
  Row *row = row_new (session, settings_group, settings_group ? info->key : NULL, field);
  GtkStringList *list = choices (row, catalogue);

  if (!list)
    {
      add_entry (group, row);
      return;
    }
  if (settings_group)
    {
      g_autofree char *words = proposed_words (info->key, catalogue);
      add_choice (list, row, "", words);
    }
  add_combo (group, _ (info->title), list, row);
}

static AdwPreferencesGroup *
group_new (AdwPreferencesPage *page, const char *title, const char *words)
{
  AdwPreferencesGroup *group = ADW_PREFERENCES_GROUP (adw_preferences_group_new ());

  adw_preferences_group_set_title (group, title);
  adw_preferences_group_set_description (group, words);
  adw_preferences_page_add (page, group);
  return group;
}

static AdwPreferencesPage *
page_new (AdwPreferencesWindow *window, const char *title, const char *icon)
{
  AdwPreferencesPage *page = ADW_PREFERENCES_PAGE (adw_preferences_page_new ());

  adw_preferences_page_set_title (page, title);
  adw_preferences_page_set_icon_name (page, icon);
  adw_preferences_window_add (window, page);
  return page;
}

static void
job_page (AdwPreferencesWindow *window, TallySession *session, const Catalogue *catalogue)
{
  static const char *const figures[] = { "units", "currency", "decimals", "rule_set", "method", "class", "metal", "exposure", "piece_coil_in",
                                         "condition" };
  AdwPreferencesPage *page = page_new (window, _ ("This job"), "document-properties-symbolic");
  AdwPreferencesGroup *facts = group_new (page, _ ("Facts of the job"), NULL), *rest;

  for (int f = 0; f < job_type_info (JOB_HEAD)->n_fields; f++)
    {
      gboolean figure = FALSE;
      for (gsize i = 0; i < G_N_ELEMENTS (figures); i++)
        figure = figure || g_str_equal (figures[i], job_type_info (JOB_HEAD)->field[f].key);
      if (!figure)
        add_field (facts, session, catalogue, NULL, f);
    }
  rest = group_new (page, _ ("What runs inherit"), _ ("Where a run, its cell or its system says nothing else. Each change is an edit: Ctrl+Z takes it back."));
  for (gsize i = 0; i < G_N_ELEMENTS (figures); i++)
    add_field (rest, session, catalogue, NULL, job_field_find (JOB_HEAD, figures[i]));
}

static void
program_page (AdwPreferencesWindow *window, TallySession *session, const Catalogue *catalogue)
{
  static const char *const keys[] = { "units", "currency", "decimals", "rule_set", "method", "metal" };
  AdwPreferencesPage *page = page_new (window, _ ("This program"), "preferences-system-symbolic");
  AdwPreferencesGroup *view = group_new (page, _ ("View"), NULL), *jobs;
  Row *density = row_new (session, "view", "density", 0), *look = row_new (session, "view", "look", 0);
  GtkStringList *densities = gtk_string_list_new (NULL), *looks = gtk_string_list_new (NULL);

  density->apply = look->apply = TRUE;
  density->value = g_ptr_array_new_with_free_func (g_free);
  add_choice (densities, density, "", _ ("usual"));
  add_choice (densities, density, "tight", _ ("tight: more rows"));
  add_choice (densities, density, "wide", _ ("wide: larger type"));
  add_combo (view, _ ("Density of the tables"), densities, density);
  look->value = g_ptr_array_new_with_free_func (g_free);
  add_choice (looks, look, "", _ ("as the desktop"));
  add_choice (looks, look, "light", _ ("light"));
  add_choice (looks, look, "dark", _ ("dark"));
  add_combo (view, _ ("Colours"), looks, look);
  if (!catalogue)
    return;
  jobs = group_new (page, _ ("New jobs start with"), _ ("Jobs that are there already keep theirs."));
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      int field = job_field_find (JOB_HEAD, keys[i]);
      if (!g_str_equal (keys[i], "currency"))
        add_field (jobs, session, catalogue, "new jobs", field);
    }
}

void
tally_preferences_present (TallySession *session, GtkWindow *parent)
{
  AdwPreferencesWindow *window = ADW_PREFERENCES_WINDOW (adw_preferences_window_new ());
  TallyJob *job = session_job (session);
  g_autoptr (Catalogue) catalogue = session_store (session) ? store_catalogue (session_store (session), 0, NULL) : NULL;

  gtk_window_set_title (GTK_WINDOW (window), _ ("Preferences"));
  gtk_window_set_default_size (GTK_WINDOW (window), 680, 700);
  if (parent)
    {
      gtk_window_set_transient_for (GTK_WINDOW (window), parent);
      gtk_window_set_destroy_with_parent (GTK_WINDOW (window), TRUE);
    }
  gtk_window_set_modal (GTK_WINDOW (window), FALSE);
  adw_preferences_window_set_search_enabled (window, FALSE);
  if (job)
    job_page (window, session, job_basis (job)->catalogue);
  program_page (window, session, catalogue);
  gtk_window_present (GTK_WINDOW (window));
}
