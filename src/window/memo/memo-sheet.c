/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/memo/memo-sheet.h"

#include <glib/gi18n.h>
#include <math.h>

#define LEAST 420
#define NATURAL 794 /* px of a page in its true size */
#define MOST 1000

struct _TallyMemoSheet
{
  GtkWidget parent_instance;

  const Memo *memo; /* (nullable), borrowed */
  MemoPaper paper;
};

G_DEFINE_FINAL_TYPE (TallyMemoSheet, tally_memo_sheet, GTK_TYPE_WIDGET)

static double
sheet_width (double width)
{
  return MIN (width, MOST);
}

static void
sheet_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TallyMemoSheet *self = TALLY_MEMO_SHEET (widget);
  double all = gtk_widget_get_width (widget), wide = sheet_width (all), width, height, scale;
  cairo_t *cr;

  if (!self->memo || wide <= 0)
    return;
  memo_page_size (self->paper, &width, &height);
  scale = wide / width;
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) all, (float) (height * scale)));
  cairo_translate (cr, (all - wide) / 2, 0);
  cairo_scale (cr, scale, scale);
  memo_paint (self->memo, self->paper, cr);
  /* The edge of the paper. */
  cairo_set_source_rgba (cr, 0.5, 0.5, 0.5, 0.6);
  cairo_set_line_width (cr, 1 / scale);
  cairo_rectangle (cr, 0.5 / scale, 0.5 / scale, width - 1 / scale, height - 1 / scale);
  cairo_stroke (cr);
  cairo_destroy (cr);
}

static void
sheet_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural, int *minimum_baseline,
               int *natural_baseline)
{
  TallyMemoSheet *self = TALLY_MEMO_SHEET (widget);
  double width, height;

  *minimum_baseline = *natural_baseline = -1;
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = LEAST;
      *natural = NATURAL;
      return;
    }
  memo_page_size (self->paper, &width, &height);
  *minimum = *natural = self->memo ? (int) ceil (sheet_width (for_size > 0 ? for_size : NATURAL) * height / width) : 0;
}

static GtkSizeRequestMode
sheet_mode (GtkWidget *widget)
{
  (void) widget;
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
tally_memo_sheet_class_init (TallyMemoSheetClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  widget->snapshot = sheet_snapshot;
  widget->measure = sheet_measure;
  widget->get_request_mode = sheet_mode;
  gtk_widget_class_set_accessible_role (widget, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
tally_memo_sheet_init (TallyMemoSheet *self)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("The memo as it prints"), -1);
}

GtkWidget *
tally_memo_sheet_new (void)
{
  return g_object_new (TALLY_TYPE_MEMO_SHEET, NULL);
}

void
tally_memo_sheet_set (TallyMemoSheet *self, const Memo *memo, MemoPaper paper)
{
  g_autofree char *text = memo ? memo_text (memo) : g_strdup ("");

  self->memo = memo;
  self->paper = paper;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text, -1);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}
