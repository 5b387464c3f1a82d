/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/price/price-private.h"

#include "job/labour-model.h"
#include "job/open-points.h"

#include <glib/gi18n.h>

#define TALLY_TYPE_PRICE_POINTS (tally_price_points_get_type ())
G_DECLARE_FINAL_TYPE (TallyPricePoints, tally_price_points, TALLY, PRICE_POINTS, GtkBox)

struct _TallyPricePoints
{
  GtkBox parent_instance;

  TallySession *session; /* owned */
  GtkWidget *list;
  GArray *shown;         /* (nullable) JobPoint: what the rows say */
  char *labour;          /* (nullable): the words beside JOB_POINT_LABOUR, which change while their number stays */
};

G_DEFINE_FINAL_TYPE (TallyPricePoints, tally_price_points, GTK_TYPE_BOX)

/* The choices of the labour model that move this price, by name, and whether there is more to know. */
static char *
labour_words (TallySession *session)
{
  if (!session_job (session))
    return NULL;
  g_autofree char *names = job_labour_names (session_job (session));
  g_autoptr (GPtrArray) cautions = job_labour_cautions (session_job (session));
  g_autofree char *more = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u caution", "%u cautions", cautions->len), cautions->len);

  return g_strdup_printf (_ ("Labour: %s%s%s."), names ? names : "", names && cautions->len > 0 ? "; " : "", cautions->len > 0 ? more : "");
}

static char *
point_words (TallySession *session, const JobPoint *point)
{
  g_autofree char *money = NULL;

  switch (point->kind)
    {
    case JOB_POINT_EMPTY:
      return g_strdup (_ ("The job has no run yet."));
    case JOB_POINT_NOT_PRICED:
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d run is not priced and not in the price.",
                                           "%d runs are not priced and not in the price.", (gulong) point->n), (int) point->n);
    case JOB_POINT_UNREAD:
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d entry of the systems and areas cannot be read.",
                                           "%d entries of the systems and areas cannot be read.", (gulong) point->n), (int) point->n);
    case JOB_POINT_NO_PROFIT:
      money = session_money (session, point->n);
      return g_strdup_printf (_ ("No profit is left: %s after the final adjustment."), money);
    case JOB_POINT_WEAK:
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d figure it rests on is invented or from memory.",
                                           "%d figures it rests on are invented or from memory.", (gulong) point->n), (int) point->n);
    case JOB_POINT_ENGINEER:
      return g_strdup (_ ("No engineer of record is named."));
    case JOB_POINT_CLIENT:
      return g_strdup (_ ("No client is named."));
    case JOB_POINT_ADJUSTED:
      money = price_difference (session, point->n);
      return g_strdup_printf (_ ("The price holds a final adjustment of %s."), money);
    case JOB_POINT_LABOUR:
      return labour_words (session);
    case JOB_POINT_CHANGED:
    default:
      return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d figure was changed for this job only.",
                                           "%d figures were changed for this job only.", (gulong) point->n), (int) point->n);
    }
}

static const char *
head_key (JobPointKind kind)
{
  return kind == JOB_POINT_ENGINEER ? "engineer" : "client";
}

static void
name_cb (GtkEditable *entry, TallyPricePoints *self)
{
  const char *key = g_object_get_data (G_OBJECT (entry), "key");
  TallyJob *job = session_job (self->session);
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (entry)));
  Fault *fault = NULL;

  if (!job || !*text)
    return;
  session_edit_field (self->session, JOB_HEAD, job_head (job)->id, job_field_find (JOB_HEAD, key), text, &fault);
  g_clear_pointer (&fault, fault_free);
}

static GtkWidget *
name_entry (TallyPricePoints *self, JobPointKind kind)
{
  GtkWidget *entry = gtk_entry_new ();
  const char *words = kind == JOB_POINT_ENGINEER ? _ ("Engineer of record") : _ ("Client");

  g_object_set_data (G_OBJECT (entry), "key", (gpointer) head_key (kind));
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), _ ("type the name, Enter"));
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 18);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  g_signal_connect (entry, "activate", G_CALLBACK (name_cb), self);
  return entry;
}

/* What settles the point: a way to where it is settled, or the entry itself. (nullable) */
static GtkWidget *
point_remedy (TallyPricePoints *self, const JobPoint *point)
{
  static const struct
  {
    JobPointKind kind;
    const char *label, *action;
  } ways[] = {
    { JOB_POINT_EMPTY, N_ ("Show Runs"), "win.view::runs" },
    { JOB_POINT_NOT_PRICED, N_ ("Show Them"), "runs.show-fault" },
    { JOB_POINT_UNREAD, N_ ("Systems and areas"), "win.places" },
    { JOB_POINT_WEAK, N_ ("Catalogue"), "win.catalogue" },
    { JOB_POINT_LABOUR, N_ ("Labour"), "win.labour" },
  };
  GtkWidget *button;

  if (point->kind == JOB_POINT_ENGINEER || point->kind == JOB_POINT_CLIENT)
    return name_entry (self, point->kind);
  for (gsize i = 0; i < G_N_ELEMENTS (ways); i++)
    if (ways[i].kind == point->kind)
      {
        button = gtk_button_new_with_label (_ (ways[i].label));
        gtk_actionable_set_detailed_action_name (GTK_ACTIONABLE (button), ways[i].action);
        return button;
      }
  return NULL;
}

static void
add_point (TallyPricePoints *self, const JobPoint *point)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10), *kind, *words, *remedy = point_remedy (self, point);
  g_autofree char *text = point_words (self->session, point);

  gtk_widget_add_css_class (box, "open-point");
  kind = price_label (point->must ? _ ("settle") : _ ("know"), point->must ? "must" : "may", 0.5f);
  gtk_label_set_width_chars (GTK_LABEL (kind), 5);
  gtk_widget_set_valign (kind, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (box), kind);
  words = price_label (text, "figure", 0);
  gtk_label_set_wrap (GTK_LABEL (words), TRUE);
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (box), words);
  if (remedy)
    {
      gtk_widget_set_valign (remedy, GTK_ALIGN_CENTER);
      gtk_box_append (GTK_BOX (box), remedy);
    }
  gtk_box_append (GTK_BOX (self->list), box);
}

static gboolean
same (const GArray *a, const GArray *b)
{
  if (!a || a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    {
      const JobPoint *x = &g_array_index (a, JobPoint, i), *y = &g_array_index (b, JobPoint, i);
      if (x->kind != y->kind || x->n != y->n)
        return FALSE;
    }
  return TRUE;
}

guint
price_points_update (GtkWidget *widget, const PriceFigures *figures)
{
  TallyPricePoints *self = TALLY_PRICE_POINTS (widget);
  GArray *points = job_open_points (figures->job);
  GtkWidget *child;
  guint must = 0;

  for (guint i = 0; i < points->len; i++)
    must += g_array_index (points, JobPoint, i).must ? 1 : 0;
  g_autofree char *labour = labour_words (self->session);
  if (same (self->shown, points) && g_strcmp0 (self->labour, labour) == 0)
    {
      g_array_unref (points);
      return must;
    }
  g_clear_pointer (&self->shown, g_array_unref);
  self->shown = points;
  g_free (self->labour);
  self->labour = g_steal_pointer (&labour);
  while ((child = gtk_widget_get_first_child (self->list)) != NULL)
    gtk_box_remove (GTK_BOX (self->list), child);
  for (guint i = 0; i < points->len; i++)
    add_point (self, &g_array_index (points, JobPoint, i));
  if (points->len == 0)
    gtk_box_append (GTK_BOX (self->list), price_label (_ ("Nothing is open."), NULL, 0));
  return must;
}

static void
tally_price_points_finalize (GObject *object)
{
  TallyPricePoints *self = TALLY_PRICE_POINTS (object);

  g_clear_object (&self->session);
  g_clear_pointer (&self->shown, g_array_unref);
  g_clear_pointer (&self->labour, g_free);
  G_OBJECT_CLASS (tally_price_points_parent_class)->finalize (object);
}

static void
tally_price_points_class_init (TallyPricePointsClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tally_price_points_finalize;
}

static void
tally_price_points_init (TallyPricePoints *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 6);
  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (self), price_label (_ ("Before it goes out"), "heading", 0));
  gtk_box_append (GTK_BOX (self), self->list);
}

GtkWidget *
price_points_new (TallySession *session)
{
  TallyPricePoints *self = g_object_new (TALLY_TYPE_PRICE_POINTS, NULL);

  self->session = g_object_ref (session);
  return GTK_WIDGET (self);
}
