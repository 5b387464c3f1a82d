/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/risk/risk-choices.h"

#include "job/setting.h"
#include "window/methods/setting-entry.h"
#include "window/words.h"

#include <glib/gi18n.h>

/* ---- a setting that is one of some words ---- */

typedef struct
{
  TallySession *session; /* owned */
  const char *key;
  gboolean filling;
} Word;

static void
word_free (gpointer data, GClosure *closure)
{
  Word *word = data;

  (void) closure;
  g_object_unref (word->session);
  g_free (word);
}

static void
selected_cb (GtkDropDown *drop, GParamSpec *spec, Word *word)
{
  TallyJob *job = session_job (word->session);
  const JobSetting *setting = job_setting_find (word->key);
  guint at = gtk_drop_down_get_selected (drop);
  JobEdit *edit;

  (void) spec;
  if (!job || at == GTK_INVALID_LIST_POSITION || (int) at == job_setting_word (job, word->key))
    return;
  edit = job_edit_new (_ (setting->title));
  job_edit_setting (job, edit, word->key, setting->words[at]);
  session_apply (word->session, edit);
}

static void
follow (GtkDropDown *drop, TallySession *session)
{
  TallyJob *job = session_job (session);
  const char *key = g_object_get_data (G_OBJECT (drop), "key");

  gtk_widget_set_sensitive (GTK_WIDGET (drop), job != NULL);
  if (job)
    gtk_drop_down_set_selected (drop, (guint) job_setting_word (job, key));
}

static void
changed_cb (TallySession *session, JobEdit *edit, GtkDropDown *drop)
{
  (void) edit;
  follow (drop, session);
}

static void
job_cb (TallySession *session, GtkDropDown *drop)
{
  follow (drop, session);
}

/* The button shows the beginning of long words, its list the whole. */
static void
shorten_button (GtkDropDown *drop)
{
  static const char row[] = "<interface><template class=\"GtkListItem\"><property name=\"child\"><object class=\"GtkLabel\">"
                            "<property name=\"ellipsize\">end</property><property name=\"width-chars\">20</property>"
                            "<property name=\"max-width-chars\">20</property><property name=\"xalign\">0</property>"
                            "<binding name=\"label\"><lookup name=\"string\" type=\"GtkStringObject\">"
                            "<lookup name=\"item\">GtkListItem</lookup></lookup></binding></object></property></template></interface>";
  g_autoptr (GtkListItemFactory) whole = g_object_ref (gtk_drop_down_get_factory (drop));
  g_autoptr (GBytes) bytes = g_bytes_new_static (row, sizeof row - 1);
  g_autoptr (GtkListItemFactory) factory = gtk_builder_list_item_factory_new_from_bytes (NULL, bytes);

  gtk_drop_down_set_list_factory (drop, whole);
  gtk_drop_down_set_factory (drop, factory);
}

static GtkWidget *
word_new (TallySession *session, const char *key)
{
  const JobSetting *setting = job_setting_find (key);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2), *caption = gtk_label_new (_ (setting->title)), *drop;
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);
  Word *word = g_new0 (Word, 1);

  for (int i = 0; setting->words[i]; i++)
    gtk_string_list_append (list, _ (setting->say[i]));
  drop = gtk_drop_down_new (G_LIST_MODEL (g_steal_pointer (&list)), NULL);
  shorten_button (GTK_DROP_DOWN (drop));
  word->session = g_object_ref (session);
  word->key = key;
  g_object_set_data (G_OBJECT (drop), "key", (gpointer) key);
  gtk_label_set_xalign (GTK_LABEL (caption), 0);
  gtk_widget_add_css_class (caption, "unit");
  gtk_widget_set_halign (drop, GTK_ALIGN_START);
  gtk_accessible_update_property (GTK_ACCESSIBLE (drop), GTK_ACCESSIBLE_PROPERTY_LABEL, _ (setting->title), -1);
  follow (GTK_DROP_DOWN (drop), session);
  g_signal_connect_data (drop, "notify::selected", G_CALLBACK (selected_cb), word, word_free, 0);
  g_signal_connect_object (session, "changed", G_CALLBACK (changed_cb), drop, 0);
  g_signal_connect_object (session, "job", G_CALLBACK (job_cb), drop, 0);
  gtk_box_append (GTK_BOX (box), caption);
  gtk_box_append (GTK_BOX (box), drop);
  return box;
}

/* ---- the panel ---- */

/* The caption of an entry is the setting's whole title; where a row has its own name the column's is enough. */
static void
shorten (GtkWidget *entry, const char *caption)
{
  GtkWidget *box = gtk_widget_get_first_child (entry), *label = box ? gtk_widget_get_first_child (box) : NULL;

  if (GTK_IS_LABEL (label))
    gtk_label_set_label (GTK_LABEL (label), caption);
  if (label)
    gtk_widget_set_visible (label, *caption != '\0');
}

static GtkWidget *
factors_new (TallySession *session)
{
  static const struct
  {
    const char *name, *key[3];
  } rows[] = {
    { N_ ("Field crew, on all field minutes"), { "risk.field_low", "risk.field_likely", "risk.field_high" } },
    { N_ ("Shop, on all shop minutes"), { "risk.shop_low", "risk.shop_likely", "risk.shop_high" } },
    { N_ ("Metal, on its price"), { "risk.metal_low", "risk.metal_likely", "risk.metal_high" } },
    { N_ ("Schedule, on site general and rental"),
      { "risk.schedule_low", "risk.schedule_likely", "risk.schedule_high" } },
  };
  static const char *const columns[] = { N_ ("low"), N_ ("likely"), N_ ("high") };
  GtkWidget *grid = gtk_grid_new ();

  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 4);
  for (int r = 0; r < (int) G_N_ELEMENTS (rows); r++)
    {
      GtkWidget *name = gtk_label_new (_ (rows[r].name));
      gtk_label_set_xalign (GTK_LABEL (name), 0);
      /* level with its entries, which have captions above them in the first row */
      gtk_widget_set_valign (name, r == 0 ? GTK_ALIGN_END : GTK_ALIGN_CENTER);
      gtk_widget_set_margin_bottom (name, r == 0 ? 8 : 0);
      gtk_grid_attach (GTK_GRID (grid), name, 0, r, 1, 1);
      for (int k = 0; k < 3; k++)
        {
          GtkWidget *entry = tally_setting_entry_new (session, rows[r].key[k]);
          shorten (entry, r == 0 ? _ (columns[k]) : "");
          gtk_grid_attach (GTK_GRID (grid), entry, k + 1, r, 1, 1);
        }
    }
  return grid;
}

static GtkWidget *
correlations_new (TallySession *session)
{
  static const struct
  {
    const char *key, *name;
  } entries[] = {
    { "risk.field_shop", N_ ("field crew and shop") },         { "risk.field_metal", N_ ("field crew and metal") },
    { "risk.field_schedule", N_ ("field crew and schedule") }, { "risk.shop_metal", N_ ("shop and metal") },
    { "risk.shop_schedule", N_ ("shop and schedule") },        { "risk.metal_schedule", N_ ("metal and schedule") },
  };
  GtkWidget *grid = gtk_grid_new ();

  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 4);
  for (int i = 0; i < (int) G_N_ELEMENTS (entries); i++)
    {
      GtkWidget *entry = tally_setting_entry_new (session, entries[i].key);
      shorten (entry, _ (entries[i].name));
      gtk_grid_attach (GTK_GRID (grid), entry, i % 2, i / 2, 1, 1);
    }
  return grid;
}

GtkWidget *
tally_risk_choices_new (TallySession *session)
{
  static const char *const numbers[] = { "risk.trials", "risk.seed", "risk.confidence" };
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10), *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 18);
  GtkWidget *pair = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 36), *left = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *right = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  gtk_box_append (GTK_BOX (line), word_new (session, "spread"));
  for (gsize i = 0; i < G_N_ELEMENTS (numbers); i++)
    gtk_box_append (GTK_BOX (line), tally_setting_entry_new (session, numbers[i]));
  gtk_box_append (GTK_BOX (line), word_new (session, "risk.base"));
  gtk_box_append (GTK_BOX (left), tally_words_new (_ ("Common factors: one draw a trial for all methods"), "heading"));
  gtk_box_append (GTK_BOX (left), factors_new (session));
  gtk_box_append (GTK_BOX (right), tally_words_new (_ ("Rank correlations of the factors, −1 to 1"), "heading"));
  gtk_box_append (GTK_BOX (right), correlations_new (session));
  gtk_box_append (GTK_BOX (pair), left);
  gtk_box_append (GTK_BOX (pair), right);
  gtk_box_append (GTK_BOX (box), line);
  gtk_box_append (GTK_BOX (box), pair);
  gtk_widget_set_margin_top (box, 8);
  return box;
}
