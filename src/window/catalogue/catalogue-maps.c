/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/catalogue/catalogue-private.h"

#include "base/measure.h"
#include "chart/matrix.h"
#include "duct/check.h"
#include "duct/gauge-map.h"
#include "window/chart-area.h"
#include "window/habits/sheet-page.h"

#include <glib/gi18n.h>

/* Two rule sets over all sizes and classes, one above the other. Sets are those of the draft while it has no fault. */

typedef struct
{
  TallySession *session;
  TallyDraft *draft;
  Catalogue *catalogue;
  GtkDropDown *set[2], *metal, *of;
  GtkLabel *conclusion;
  TallyChartArea *area[2];
  GArray *index; /* int: rule set by place in the drop-downs */
  gboolean filling;
} Maps;

static void
gone (gpointer data, GObject *where)
{
  Maps *m = data;

  (void) where;
  g_signal_handlers_disconnect_by_data (m->draft, m);
  g_clear_pointer (&m->catalogue, catalogue_unref);
  g_array_unref (m->index);
  g_object_unref (m->draft);
  g_object_unref (m->session);
  g_free (m);
}

/* ---- one picture ---- */

typedef struct
{
  ChartMatrix matrix;
  ChartField *field;
  char **row, **column;
} Picture;

static void
picture_free (gpointer data)
{
  Picture *p = data;

  g_strfreev (p->row);
  g_strfreev (p->column);
  g_free (p->field);
  g_free (p);
}

static double
height_cb (const ChartPaper *paper, double width, gpointer data)
{
  return chart_matrix_height (paper, &((Picture *) data)->matrix, width);
}

static void
draw_cb (const ChartPaper *paper, double width, gpointer data)
{
  chart_matrix_draw (paper, &((Picture *) data)->matrix, width);
}

/* Thinnest and thickest sheet of both maps, so that one shade is one gauge in both. */
static void
range_of (const DuctRules *rules, const DuctGaugeMap map[2], double *least, double *most)
{
  *least = G_MAXDOUBLE;
  *most = 0;
  for (int i = 0; i < 2; i++)
    for (gsize k = 0; k < map[i].n_classes * map[i].n_sides; k++)
      if (map[i].sheet[k] >= 0)
        {
          double t = (double) duct_rules_sheet (rules, map[i].sheet[k])->thickness_nm;
          *least = MIN (*least, t);
          *most = MAX (*most, t);
        }
}

static GPtrArray *
spots_cb (const ChartPaper *paper, double width, gpointer data)
{
  return chart_matrix_spots (paper, &((Picture *) data)->matrix, width);
}

static Picture *
picture_new (const DuctRules *rules, const DuctGaugeMap map[2], int which, DuctMapOf of, gboolean metric)
{
  const DuctGaugeMap *a = &map[which], *b = &map[1 - which];
  Picture *p = g_new0 (Picture, 1);
  double least, most;

  range_of (rules, map, &least, &most);
  p->field = g_new0 (ChartField, a->n_classes * a->n_sides);
  p->row = g_new0 (char *, a->n_classes + 1);
  p->column = g_new0 (char *, a->n_sides + 1);
  for (gsize c = 0; c < a->n_classes; c++)
    p->row[c] = pressure_print (a->class_to[c], metric);
  for (gsize k = 0; k < a->n_sides; k++)
    p->column[k] = length_print (a->side_to[k], metric ? LENGTH_STYLE_MM : LENGTH_STYLE_IN);
  for (gsize k = 0; k < a->n_classes * a->n_sides; k++)
    {
      const DuctSheet *sheet = a->sheet[k] < 0 ? NULL : duct_rules_sheet (rules, a->sheet[k]);
      p->field[k].text = sheet ? sheet->label : NULL;
      p->field[k].shade = sheet && most > least ? ((double) sheet->thickness_nm - least) / (most - least) : 0;
      p->field[k].marked = duct_gauge_map_differs (rules, a, b, k);
    }
  p->matrix = (ChartMatrix) { p->field, a->n_classes, a->n_sides, (const char *const *) p->row, (const char *const *) p->column,
                              metric ? _ ("class, Pa") : _ ("class, in w.g."),
                              of != DUCT_MAP_RECTANGULAR ? (metric ? _ ("diameter to, mm") : _ ("diameter to, in"))
                              : metric                   ? _ ("longer side to, mm")
                                                         : _ ("longer side to, in"),
                              _ ("differs from the other set") };
  return p;
}

/* ---- both ---- */

static int
chosen_set (const Maps *m, int which)
{
  guint at = gtk_drop_down_get_selected (m->set[which]);

  return at < m->index->len ? g_array_index (m->index, int, at) : -1;
}

static void
compare (Maps *m)
{
  const DuctRules *rules = m->catalogue->rules;
  TallyJob *job = session_job (m->session);
  gboolean metric = job && job_names (job)->metric;
  DuctMetal metal = (DuctMetal) gtk_drop_down_get_selected (m->metal);
  DuctMapOf of = (DuctMapOf) gtk_drop_down_get_selected (m->of);
  int sets[] = { chosen_set (m, 0), chosen_set (m, 1) };
  DuctGaugeMap map[2];

  if (m->filling || sets[0] < 0 || sets[1] < 0 || metal >= DUCT_N_METALS || of >= DUCT_N_MAPS)
    return;
  duct_gauge_maps (rules, sets, 2, metal, of, map);
  DuctMapDifference d = duct_gauge_map_compare (rules, &map[0], &map[1]);
  const DuctRuleSet *a = g_ptr_array_index (rules->sets, (guint) sets[0]), *b = g_ptr_array_index (rules->sets, (guint) sets[1]);
  g_autofree char *words = sets[0] == sets[1] ? g_strdup (_ ("The same set twice: choose another one to compare with."))
                                              : duct_gauge_map_words (a->key, b->key, &d);
  gtk_label_set_label (m->conclusion, words);
  for (int i = 0; i < 2; i++)
    {
      const DuctRuleSet *set = i == 0 ? a : b;
      Picture *p = picture_new (rules, map, i, of, metric);
      g_autofree char *table = chart_matrix_table (&p->matrix);
      g_autofree char *title = g_strdup_printf (_ ("%s (%s): gauge of %s, %s"), set->name, duct_status_key (set->status), duct_map_of_words (of),
                                                duct_metal_key (metal));
      tally_chart_area_set_title (m->area[i], title);
      tally_chart_area_set (m->area[i], height_cb, draw_cb, p, picture_free, table);
      tally_chart_area_set_spots (m->area[i], spots_cb);
    }
  duct_gauge_map_clear (&map[0]);
  duct_gauge_map_clear (&map[1]);
}

static void
chosen_cb (GtkDropDown *drop, GParamSpec *pspec, Maps *m)
{
  (void) drop;
  (void) pspec;
  compare (m);
}

/* Sets that hold gauges; the one that was chosen stays chosen. */
static void
fill_sets (Maps *m, int first, int second)
{
  const DuctRules *rules = m->catalogue->rules;
  GtkStringList *list = gtk_string_list_new (NULL);
  int wanted[] = { first, second };

  m->filling = TRUE;
  g_array_set_size (m->index, 0);
  for (int i = 0; i < (int) rules->sets->len; i++)
    if (duct_set_rows (rules, i) > 0)
      {
        gtk_string_list_append (list, ((DuctRuleSet *) g_ptr_array_index (rules->sets, (guint) i))->key);
        g_array_append_val (m->index, i);
      }
  for (int s = 0; s < 2; s++)
    {
      guint at = 0;
      gtk_drop_down_set_model (m->set[s], G_LIST_MODEL (list));
      for (guint i = 0; i < m->index->len; i++)
        if (g_array_index (m->index, int, i) == wanted[s])
          at = i;
      gtk_drop_down_set_selected (m->set[s], at);
    }
  g_object_unref (list);
  m->filling = FALSE;
  compare (m);
}

static void
draft_cb (TallyDraft *draft, Maps *m)
{
  Catalogue *catalogue = draft_faults (draft)->len == 0 ? draft_compile (draft) : NULL;
  int sets[2];

  if (!catalogue)
    return; /* as it was without the fault */
  for (int i = 0; i < 2; i++)
    {
      int set = chosen_set (m, i);
      sets[i] = set < 0 ? -1 : duct_rules_find_set (catalogue->rules, ((DuctRuleSet *) g_ptr_array_index (m->catalogue->rules->sets, (guint) set))->key);
    }
  catalogue_unref (m->catalogue);
  m->catalogue = catalogue;
  fill_sets (m, sets[0], sets[1]);
}

/* ---- the window ---- */

static GtkDropDown *
drop (GtkWidget *line, const char *label, Maps *m)
{
  GtkWidget *made = gtk_drop_down_new (NULL, NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (made), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_box_append (GTK_BOX (line), made);
  g_signal_connect (made, "notify::selected", G_CALLBACK (chosen_cb), m);
  return GTK_DROP_DOWN (made);
}

static void
fill_choices (Maps *m)
{
  GtkStringList *metals = gtk_string_list_new (NULL), *of = gtk_string_list_new (NULL);

  m->filling = TRUE;
  for (int i = 0; i < DUCT_N_METALS; i++)
    gtk_string_list_append (metals, duct_metal_key ((DuctMetal) i));
  for (int i = 0; i < DUCT_N_MAPS; i++)
    gtk_string_list_append (of, duct_map_of_words ((DuctMapOf) i));
  gtk_drop_down_set_model (m->metal, G_LIST_MODEL (metals));
  gtk_drop_down_set_model (m->of, G_LIST_MODEL (of));
  g_object_unref (metals);
  g_object_unref (of);
  m->filling = FALSE;
}

static GtkWidget *
build (Maps *m)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_VERTICAL, 14), *scrolled = gtk_scrolled_window_new ();
  GtkWidget *note = gtk_label_new (_ ("Outlined and bold: both answer, with different gauges. Hatched: no row answers. A set with reinforcement rows answers with slip-on "
                                      "joints 5 ft apart and nothing between them; a lighter sheet, larger sides or higher classes may be allowed with stiffeners."));

  m->conclusion = GTK_LABEL (tally_conclusion_new (NULL));
  gtk_widget_add_css_class (GTK_WIDGET (m->conclusion), "view-head");
  gtk_widget_add_css_class (line, "view-head");
  m->set[0] = drop (line, _ ("Rule set"), m);
  gtk_box_append (GTK_BOX (line), gtk_label_new (_ ("against")));
  m->set[1] = drop (line, _ ("Rule set to compare with"), m);
  m->of = drop (line, _ ("Kind of duct"), m);
  m->metal = drop (line, _ ("Metal"), m);
  fill_choices (m);
  gtk_label_set_xalign (GTK_LABEL (note), 0);
  gtk_label_set_wrap (GTK_LABEL (note), TRUE);
  gtk_widget_add_css_class (note, "dim-label");
  gtk_widget_add_css_class (page, "side-page");
  for (int i = 0; i < 2; i++)
    {
      GtkWidget *area = tally_chart_area_new (NULL);
      m->area[i] = TALLY_CHART_AREA (area);
      gtk_box_append (GTK_BOX (page), area);
    }
  gtk_box_append (GTK_BOX (page), note);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), page);
  gtk_widget_set_vexpand (scrolled, TRUE);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (m->conclusion));
  gtk_box_append (GTK_BOX (box), line);
  gtk_box_append (GTK_BOX (box), scrolled);
  return box;
}

void
catalogue_maps_present (TallySession *session, TallyDraft *draft, GtkWindow *parent)
{
  TallyJob *job = session_job (session);
  Maps *m = g_new0 (Maps, 1);
  GtkWindow *window = tally_side_window_new (parent, NULL, _ ("Compare two rule sets"), 1180, 764);
  const char *key;
  int first, second;

  m->session = g_object_ref (session);
  m->draft = g_object_ref (draft);
  m->index = g_array_new (FALSE, FALSE, sizeof (int));
  m->catalogue = draft_faults (draft)->len == 0 ? draft_compile (draft) : NULL;
  if (!m->catalogue)
    m->catalogue = catalogue_ref (draft_base (draft));
  tally_side_window_set (window, NULL, build (m));
  /* The job's set against the next one that has gauges. */
  key = job ? job_head (job)->text[HEAD_RULE_SET] : NULL;
  first = key ? duct_rules_find_set (m->catalogue->rules, key) : -1;
  first = MAX (first, 0);
  for (second = 0; second < (int) m->catalogue->rules->sets->len - 1; second++)
    if (second != first && duct_set_rows (m->catalogue->rules, second) > 0)
      break;
  fill_sets (m, first, second);
  g_signal_connect (draft, "changed", G_CALLBACK (draft_cb), m);
  g_object_weak_ref (G_OBJECT (window), gone, m);
  gtk_window_present (window);
}
