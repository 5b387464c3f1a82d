/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/catalogue/catalogue-private.h"

#include <glib/gi18n.h>

/* One line over each sheet: what a row is. Where the trade's standard has tables under licence it says whose they are to enter. */
static const char *
words_of (CatalogueSheet sheet)
{
  static const char *const words[CATALOGUE_N_SHEETS] = {
    [CATALOGUE_SHEETS] = N_ ("A gauge of a metal: thickness and weight, with its source."),
    [CATALOGUE_RULE_SETS] = N_ ("A name for rows of gauges, reinforcement and supports, with its scope, edition and limits (connection, class, joints)."),
    [CATALOGUE_GAUGES] = N_ ("Gauge by class and longer side. Public schedules ship; licensed tables are the shop's to enter."),
    [CATALOGUE_CONNECTIONS] = N_ ("How pieces join: coil, ends, and where the connection is allowed."),
    [CATALOGUE_SCREWS] = N_ ("Spacing of the screws of a slip-on frame by class."),
    [CATALOGUE_CLEATS] = N_ ("Spacing of cleats by class; rows by the side are for break-away joints at sleeves."),
    [CATALOGUE_VANES] = N_ ("Spacing of turning vanes by the depth that they turn."),
    [CATALOGUE_PROFILES] = N_ ("How much shorter than its side a flange bar is cut, by the thickness of the sheet."),
    [CATALOGUE_ALLOWANCES] = N_ ("Single figures of the measurement: seams, take-up, spacings."),
    [CATALOGUE_CREWS] = N_ ("Who works, where, and what an hour costs."),
    [CATALOGUE_STEPS] = N_ ("Worker-minutes of one step: fixed, a foot, a pound."),
    [CATALOGUE_CONDITIONS] = N_ ("Factors on the minutes of an area or job."),
    [CATALOGUE_ITEMS] = N_ ("What is bought: unit, price, overage."),
    [CATALOGUE_METHODS] = N_ ("A connection with its recipe; where it is not allowed another one takes its place."),
    [CATALOGUE_RECIPES] = N_ ("What a method takes in items and steps for each thing that is measured."),
    [CATALOGUE_BUILDUP] = N_ ("The lines from cost to price, in order."),
    [CATALOGUE_STIFFNESS] = N_ ("The stiffness classes by the EI that each asks for."),
    [CATALOGUE_MEMBERS] = N_ ("Angles and channels: computed EI, weight a foot. 2 % less than a class asks for passes."),
    [CATALOGUE_JOINT_RATINGS] = N_ ("What a connection is worth as a stiffener, by gauge. Licensed ratings are the shop's to enter."),
    [CATALOGUE_REINFORCEMENT] = N_ ("Gauge and stiffness by class, side and spacing. Licensed tables are the shop's to enter; demo rows are invented."),
    [CATALOGUE_TIE_RODS] = N_ ("Tie rods that stand for a stiffener across a side. Licensed tables are the shop's to enter."),
    [CATALOGUE_ROUND_GAUGES] = N_ ("Gauge of round duct by class, seam and diameter. Licensed tables are the shop's to enter."),
    [CATALOGUE_GORES] = N_ ("Gores of a round elbow by angle and diameter."),
    [CATALOGUE_WRAPS] = N_ ("How much wider than the girth a wrap is cut, by thickness."),
    [CATALOGUE_LINER_PINS] = N_ ("Spacing of liner pins by the speed of the stream."),
    [CATALOGUE_SEAL_CLASSES] = N_ ("Which joints, seams and penetrations a class seals."),
    [CATALOGUE_LEAKAGE] = N_ ("Leakage class by edition, seal class and section."),
    [CATALOGUE_SUPPORTS] = N_ ("Spacing and parts of supports by size. Licensed tables are the shop's to enter."),
    [CATALOGUE_HANGER_LOADS] = N_ ("What a strap or rod may carry; whether a hanger is good for its load is for the engineer."),
    [CATALOGUE_GASKETS] = N_ ("How much gasket a joint takes by class, connection and end."),
    [CATALOGUE_PRESSURE_CLASSES] = N_ ("The classes that a run may ask for."),
    [CATALOGUE_STUDIES] = N_ ("A time study: what it times, its allowance and basis, and the accuracy asked for."),
    [CATALOGUE_OBSERVATIONS] = N_ ("One reading: clock minutes of the crew for so many, its rating. A struck reading says why and stays."),
    [CATALOGUE_CLAIMS] = N_ ("A saving that somebody claims, with the steps it names; compared with the shop's own minutes."),
    [CATALOGUE_BURDENS] = N_ ("Payroll burden of a class: on wage, on wage to a yearly cap, or flat an hour."),
    [CATALOGUE_OVERTIME_LOSS] = N_ ("Loss of output by week of overtime. The office's to enter; none is on until a job names a table."),
  };

  return words[sheet] ? _ (words[sheet]) : "";
}

/* Sheets whose rows say which gauge goes where. */
static gboolean
has_maps (CatalogueSheet sheet)
{
  return sheet == CATALOGUE_RULE_SETS || sheet == CATALOGUE_GAUGES || sheet == CATALOGUE_REINFORCEMENT || sheet == CATALOGUE_ROUND_GAUGES;
}

typedef struct
{
  TallySession *session; /* borrowed: the window holds both */
  TallyDraft *draft;
  GtkLabel *words;
  GtkWidget *maps;
} Explain;

static void
maps_cb (GtkButton *button, Explain *e)
{
  catalogue_maps_present (e->session, e->draft, GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (button))));
}

static gboolean
maps_key_cb (GtkWidget *widget, GVariant *args, gpointer data)
{
  (void) widget;
  (void) args;
  maps_cb (GTK_BUTTON (((Explain *) data)->maps), data);
  return TRUE;
}

GtkWidget *
catalogue_explain_new (TallySession *session, TallyDraft *draft)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkEventController *keys = gtk_shortcut_controller_new ();
  Explain *e = g_new0 (Explain, 1);

  e->session = session;
  e->draft = draft;
  e->words = GTK_LABEL (gtk_label_new (NULL));
  gtk_label_set_xalign (e->words, 0);
  gtk_label_set_wrap (e->words, TRUE);
  gtk_widget_set_hexpand (GTK_WIDGET (e->words), TRUE);
  gtk_widget_add_css_class (GTK_WIDGET (e->words), "dim-label");
  e->maps = gtk_button_new_with_label (_ ("Compare two sets"));
  gtk_widget_set_valign (e->maps, GTK_ALIGN_CENTER);
  g_signal_connect (e->maps, "clicked", G_CALLBACK (maps_cb), e);
  gtk_widget_set_tooltip_text (e->maps, _ ("Which gauge goes where by two rule sets (Ctrl+M)"));
  gtk_shortcut_controller_set_scope (GTK_SHORTCUT_CONTROLLER (keys), GTK_SHORTCUT_SCOPE_GLOBAL);
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys),
                                        gtk_shortcut_new (gtk_shortcut_trigger_parse_string ("<Control>m"),
                                                          gtk_callback_action_new (maps_key_cb, e, NULL)));
  gtk_widget_add_controller (box, keys);
  gtk_widget_add_css_class (box, "sheet-explain");
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (e->words));
  gtk_box_append (GTK_BOX (box), e->maps);
  g_object_set_data_full (G_OBJECT (box), "explain", e, g_free);
  return box;
}

void
catalogue_explain_show (GtkWidget *explain, CatalogueSheet sheet)
{
  Explain *e = g_object_get_data (G_OBJECT (explain), "explain");

  gtk_label_set_label (e->words, words_of (sheet));
  gtk_widget_set_visible (e->maps, has_maps (sheet));
}
