/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/detail/detail-private.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "cost/joint.h"
#include "job/cell.h"
#include "job/note-line.h"

#include <glib/gi18n.h>
#include <math.h>

/* ---- title and fault ---- */

static char *
field_text (const DetailRun *r, const char *key)
{
  return job_record_print (r->run, job_field_find (JOB_RUN, key), job_names (r->job));
}

static char *
title_of (const DetailRun *r)
{
  g_autofree char *kind = field_text (r, "kind"), *size = field_text (r, "size"), *size2 = field_text (r, "size2");
  g_autofree char *item = field_text (r, "item");
  const gint64 k = r->run->num[RUN_KIND];
  const char *name = k == JOB_UNSET ? (*kind ? kind : _ ("Run without a kind")) : _ (duct_kind_info ((DuctKind) k)->name);
  gunichar first = g_unichar_toupper (g_utf8_get_char_validated (name, -1));
  char upper[7] = "";

  if (job_is_note_line (r->run))
    return g_strdup (_ ("Note"));
  if (k == DUCT_COUNTED && *item)
    return g_strdup (item);
  if (first == (gunichar) -1 || first == (gunichar) -2 || !*name)
    return g_strdup (size);
  upper[g_unichar_to_utf8 (first, upper)] = '\0';
  if ((k == DUCT_TRANSITION || k == DUCT_SQUARE_TO_ROUND || k == DUCT_REDUCER) && *size2)
    return g_strdup_printf (_ ("%s%s %s to %s"), upper, g_utf8_next_char (name), size, size2);
  return g_strdup_printf ("%s%s %s", upper, g_utf8_next_char (name), size);
}

static void
show_fault_cb (GtkButton *button, gpointer data)
{
  (void) data;
  gtk_widget_activate_action (GTK_WIDGET (button), "runs.show-fault", NULL);
}

static void
add_fault (GtkWidget *box, const DetailRun *r)
{
  int field = r->result->fault_field;
  g_autofree char *typed = field >= 0 ? job_record_print (r->run, field, job_names (r->job)) : g_strdup ("");
  g_autofree char *words = r->result->fault ? fault_words (r->result->fault, typed) : g_strdup ("");
  GtkWidget *frame = detail_box (6), *button = gtk_button_new_with_label (_ ("Go to the cell"));

  gtk_widget_add_css_class (frame, "detail-fault");
  if (field >= 0)
    detail_words (frame, "attention heading", _ ("Not priced: %s"), _ (job_type_info (JOB_RUN)->field[field].title));
  else
    detail_words (frame, "attention heading", "%s", _ ("Not priced"));
  detail_words (frame, NULL, "%s", words);
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  g_signal_connect (button, "clicked", G_CALLBACK (show_fault_cb), NULL);
  gtk_box_append (GTK_BOX (frame), button);
  gtk_box_append (GTK_BOX (box), frame);
}

/* ---- the picture ---- */

typedef struct
{
  Piece piece;
  char *text[PIECE_N_DIMS];
} Picture;

static void
picture_free (gpointer data)
{
  Picture *p = data;

  for (int i = 0; i < PIECE_N_DIMS; i++)
    g_free (p->text[i]);
  g_free (p);
}

static void
picture_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  Picture *p = data;
  PangoContext *context = gtk_widget_get_pango_context (GTK_WIDGET (area));
  PangoFontDescription *font = pango_font_description_copy (pango_context_get_font_description (context));
  PieceLooks looks;

  detail_looks (GTK_WIDGET (area), &looks);
  if (pango_font_description_get_size_is_absolute (font))
    pango_font_description_set_absolute_size (font, pango_font_description_get_size (font) * 0.85);
  else
    pango_font_description_set_size (font, (int) (pango_font_description_get_size (font) * 0.85));
  looks.font = font;
  piece_draw (cr, &p->piece, &looks, width, height);
  pango_font_description_free (font);
}

static void
set_dim (Picture *p, PieceDim dim, gint64 nm, const char *name, LengthStyle style)
{
  g_autofree char *text = NULL;

  if (nm == DUCT_UNSET)
    return;
  text = length_print (nm, style);
  p->piece.dim[dim] = (double) nm / 1e6;
  p->text[dim] = g_strdup_printf ("%s %s", name, text);
  p->piece.text[dim] = p->text[dim];
}

static PieceKind
picture_kind (DuctKind kind)
{
  static const PieceKind kinds[DUCT_N_KINDS] = {
    [DUCT_STRAIGHT] = PIECE_STRAIGHT,     [DUCT_RADIUS_ELBOW] = PIECE_RADIUS_ELBOW, [DUCT_MITRED_ELBOW] = PIECE_MITRED_ELBOW,
    [DUCT_TRANSITION] = PIECE_TRANSITION, [DUCT_OFFSET] = PIECE_OFFSET,             [DUCT_TAP] = PIECE_TAP,
    [DUCT_END_CAP] = PIECE_END_CAP,       [DUCT_COUNTED] = PIECE_N_KINDS,
    [DUCT_REMARK] = PIECE_N_KINDS,
    [DUCT_ANGLED_OFFSET] = PIECE_ANGLED_OFFSET,       [DUCT_SQUARE_TO_ROUND] = PIECE_SQUARE_TO_ROUND,
    [DUCT_TEE] = PIECE_TEE,                           [DUCT_WYE] = PIECE_WYE,
    [DUCT_BOOT_TAP] = PIECE_BOOT_TAP,                 [DUCT_PLENUM_BOX] = PIECE_PLENUM_BOX,
    [DUCT_ACCESS_DOOR] = PIECE_ACCESS_DOOR,           [DUCT_DAMPER] = PIECE_DAMPER,
    [DUCT_FABRIC_CONNECTOR] = PIECE_FABRIC_CONNECTOR, [DUCT_TURNING_VANES] = PIECE_TURNING_VANES,
    [DUCT_ROUND_DUCT] = PIECE_ROUND_DUCT,             [DUCT_GORED_ELBOW] = PIECE_GORED_ELBOW,
    [DUCT_STAMPED_ELBOW] = PIECE_STAMPED_ELBOW,       [DUCT_REDUCER] = PIECE_REDUCER,
    [DUCT_SADDLE_TAP] = PIECE_SADDLE_TAP,             [DUCT_SPIN_IN] = PIECE_SPIN_IN,
    [DUCT_ROUND_CAP] = PIECE_ROUND_CAP,               [DUCT_FLEXIBLE_DUCT] = PIECE_FLEXIBLE_DUCT,
  };

  return kinds[kind];
}

static Picture *
picture_of (const DetailRun *r)
{
  const DuctShape *s = &r->result->shape;
  const DuctLot *lot = &r->result->measure.lot[0];
  LengthStyle style = job_names (r->job)->metric ? LENGTH_STYLE_MM : LENGTH_STYLE_IN;
  guint dims = duct_kind_info ((DuctKind) s->kind)->dims;
  Picture *p = g_new0 (Picture, 1);

#define HAS(dim) (dims & (1u << DUCT_DIM_##dim))
  p->piece.kind = picture_kind ((DuctKind) s->kind);
  if (s->h == 0)
    set_dim (p, PIECE_WIDTH, s->w, _ ("diameter"), style);
  else
    {
      set_dim (p, PIECE_WIDTH, s->on_edge ? s->h : s->w, _ ("width"), style);
      set_dim (p, PIECE_HEIGHT, s->on_edge ? s->w : s->h, _ ("height"), style);
    }
  if (s->kind == DUCT_STRAIGHT || s->kind == DUCT_ROUND_DUCT)
    set_dim (p, PIECE_LENGTH, lot->length, _ ("laid"), style);
  else if (HAS (LENGTH))
    set_dim (p, PIECE_LENGTH, s->dim[DUCT_DIM_LENGTH], _ ("length"), style);
  if (duct_kind_info ((DuctKind) s->kind)->second == DUCT_ROUND)
    set_dim (p, PIECE_WIDTH2, s->dim[DUCT_DIM_W2], s->kind == DUCT_SADDLE_TAP ? _ ("main") : _ ("diameter"), style);
  else if (HAS (W2))
    set_dim (p, PIECE_WIDTH2, s->dim[s->on_edge ? DUCT_DIM_H2 : DUCT_DIM_W2], _ ("width"), style);
  if (HAS (H2))
    set_dim (p, PIECE_HEIGHT2, s->dim[s->on_edge ? DUCT_DIM_W2 : DUCT_DIM_H2], _ ("height"), style);
  if (HAS (THROAT))
    set_dim (p, PIECE_THROAT, s->dim[DUCT_DIM_THROAT], _ ("throat"), style);
  if (HAS (OFFSET))
    set_dim (p, PIECE_ASIDE, s->dim[DUCT_DIM_OFFSET], s->kind == DUCT_BOOT_TAP ? _ ("base longer by") : _ ("aside"), style);
  if (HAS (SHIFT) && s->dim[DUCT_DIM_SHIFT] != 0)
    set_dim (p, PIECE_ASIDE, s->dim[DUCT_DIM_SHIFT], _ ("shift"), style);
  if (HAS (SHIFT2) && s->dim[DUCT_DIM_SHIFT2] != 0)
    set_dim (p, PIECE_LIFT, s->dim[DUCT_DIM_SHIFT2], _ ("shift of height"), style);
  if (HAS (BRANCH))
    set_dim (p, PIECE_BRANCH, s->dim[DUCT_DIM_BRANCH], _ ("branch"), style);
  if (HAS (LEGS))
    set_dim (p, PIECE_LEGS, s->dim[DUCT_DIM_LEGS], _ ("leg"), style);
  if (HAS (ANGLE) && s->dim[DUCT_DIM_ANGLE] != DUCT_UNSET)
    {
      g_autofree char *angle = angle_print (s->dim[DUCT_DIM_ANGLE]);
      p->piece.dim[PIECE_ANGLE] = (double) s->dim[DUCT_DIM_ANGLE] / 1e6;
      p->piece.text[PIECE_ANGLE] = p->text[PIECE_ANGLE] = g_strdup_printf (_ ("%s°"), angle);
    }
  p->piece.first_made = duct_end_made ((DuctEnd) s->first_end);
  p->piece.last_made = duct_end_made ((DuctEnd) s->last_end) && duct_kind_info ((DuctKind) s->kind)->has_last;
  p->piece.vanes = (int) (lot->one[DUCT_VANE] / 1000);
  p->piece.gores = HAS (GORES) ? (int) (s->dim[DUCT_DIM_GORES] / 1000) : 0;
  p->piece.spiral = duct_rules_connection (job_basis (r->job)->catalogue->rules, r->result->build.connection)->seam == DUCT_SEAM_SPIRAL;
#undef HAS
  return p;
}

static void
add_picture (GtkWidget *box, const DetailRun *r)
{
  Picture *p = picture_of (r);
  GtkWidget *area = gtk_drawing_area_new ();
  g_autofree char *title = title_of (r), *table = piece_table (&p->piece);

  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), 168);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), picture_cb, p, picture_free);
  gtk_accessible_update_property (GTK_ACCESSIBLE (area), GTK_ACCESSIBLE_PROPERTY_LABEL, title,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, table, -1);
  gtk_box_append (GTK_BOX (box), area);
  detail_words (box, "caption dim-label", job_names (r->job)->metric ? _ ("One piece, in mm. Strong edges: ends made by us.")
                                                                     : _ ("One piece, in inches. Strong edges: ends made by us."));
}

/* ---- the build ---- */

static void
add_source (GtkWidget *box, const char *words, const char *source, const char *status)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *text = detail_box (0);

  gtk_widget_set_hexpand (text, TRUE);
  detail_words (text, "caption dim-label", "%s", words);
  if (source && *source)
    detail_words (text, "caption dim-label", _ ("Source: %s"), source);
  gtk_box_append (GTK_BOX (line), text);
  GtkWidget *mark = detail_status (status);
  gtk_widget_set_valign (mark, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (line), mark);
  gtk_box_append (GTK_BOX (box), line);
}

static void
add_gauge (GtkWidget *box, const DetailRun *r, const DuctRules *rules)
{
  const DuctSheet *sheet = duct_rules_sheet (rules, r->result->build.sheet);

  DuctGaugeOrigin o;

  if (!duct_kind_has_gauge ((DuctKind) r->result->shape.kind))
    return;
  if (!duct_build_origin (rules, &r->result->build, &o))
    {
      add_source (box, _ ("The gauge was entered here; no rule was asked."), sheet->source, duct_status_key (sheet->status));
      return;
    }
  gboolean metric = job_names (r->job)->metric;
  g_autofree char *to = pressure_print (o.class_to, metric);
  g_autofree char *side = o.side_to == G_MAXINT64 ? NULL : length_print_unit (o.side_to, metric ? LENGTH_STYLE_MM : LENGTH_STYLE_IN);
  g_autofree char *words
    = side ? g_strdup_printf (o.round ? _ ("Rule set %s: class to %s, diameter to %s") : _ ("Rule set %s: class to %s, longest side to %s"),
                              o.set_name, to, side)
           : g_strdup_printf (o.round ? _ ("Rule set %s: class to %s, any larger diameter") : _ ("Rule set %s: class to %s, any longer side"),
                              o.set_name, to);
  g_autofree char *whole = *o.note ? g_strdup_printf ("%s; %s", words, o.note) : g_strdup (words);

  add_source (box, whole, o.source, duct_status_key (o.status));
}

/* The round duct that a rectangular one may be changed for. */
static void
add_equivalent (GtkWidget *box, const DetailRun *r)
{
  const DuctShape *s = &r->result->shape;
  gint64 in = 2 * s->liner; /* clear of the liner */

  if (s->h <= 0)
    return;
  double d = (double) duct_equivalent_diameter (s->w - in, s->h - in);
  if (job_names (r->job)->metric)
    detail_words (box, "caption dim-label", _ ("Round duct of equal friction: %.0f mm diameter"), d / (double) LENGTH_NM_PER_MM);
  else
    detail_words (box, "caption dim-label", _ ("Round duct of equal friction: %.1f in diameter"), d / (double) LENGTH_NM_PER_IN);
}

static void
add_build (GtkWidget *box, const DetailRun *r)
{
  const Catalogue *catalogue = job_basis (r->job)->catalogue;
  const CostMethod *method = catalogue_method (catalogue, r->result->method);
  const DuctSheet *sheet = duct_rules_sheet (catalogue->rules, r->result->build.sheet);
  g_autofree char *class_text = pressure_print (r->result->shape.pressure, job_names (r->job)->metric);

  if (duct_kind_has_gauge ((DuctKind) r->result->shape.kind))
    detail_words (box, "heading", _ ("Gauge %s %s, class %s%s"), sheet->label, duct_metal_key (sheet->metal), class_text,
                  job_names (r->job)->metric ? "" : _ (" in w.g."));
  else
    detail_words (box, "heading", _ ("class %s%s"), class_text, job_names (r->job)->metric ? "" : _ (" in w.g."));
  detail_words (box, NULL, "%s", method->name);
  add_equivalent (box, r);
  if (r->result->reason)
    detail_words (box, "attention", _ ("%s was asked for and is not allowed: %s"),
                  catalogue_method (catalogue, r->result->asked)->name, r->result->reason);
  if (r->result->deducted != 0)
    {
      LengthStyle style = job_names (r->job)->metric ? LENGTH_STYLE_MM : LENGTH_STYLE_FT_IN;
      g_autofree char *less = length_print_unit (r->result->deducted, style);
      g_autofree char *laid = length_print_unit (r->result->shape.dim[DUCT_DIM_LENGTH], style);
      detail_words (box, NULL, _ ("Length through fittings: %s taken off, %s laid"), less, laid);
    }
  add_gauge (box, r, catalogue->rules);
  for (guint bit = 0; bit < DUCT_N_NOTES; bit++)
    if (r->result->measure.notes & (1u << bit))
      detail_words (box, "caption attention", _ ("Note: %s"), duct_note_words ((DuctNote) (1u << bit)));
}

static void
add_unused (GtkWidget *box, const DetailRun *r)
{
  g_autofree char *unused = job_caution_words (job_basis (r->job)->catalogue, r->run);

  if (unused)
    detail_words (box, "caption attention", _ ("Note: %s"), unused);
}

/* A counted line has no build: what is counted, and what of it was entered here. */
static void
add_counted (GtkWidget *box, const DetailRun *r)
{
  static const char *const keys[] = { "price", "shop_minutes", "field_minutes", "note" };
  const CostBasis *basis = job_basis (r->job);
  g_autofree char *count = decimal_print (r->result->count, 3, 0, TRUE);
  int item = r->run->text[RUN_ITEM] ? catalogue_find_item (basis->catalogue, r->run->text[RUN_ITEM]) : -1;
  GtkWidget *table;

  detail_words (box, "heading", _ ("Counted: %s"), count);
  if (item >= 0)
    {
      const CostItem *info = catalogue_item (basis->catalogue, item);
      g_autofree char *price = decimal_print (basis->price[item], 4, 2, TRUE);
      g_autofree char *words = g_strdup_printf (_ ("%s of the catalogue at %s, unit: %s"), info->key, price, info->unit);
      add_source (box, words, info->source, duct_status_key (info->status));
    }
  table = detail_table (box);
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      g_autofree char *text = field_text (r, keys[i]);
      const char *cells[] = { _ (job_type_info (JOB_RUN)->field[job_field_find (JOB_RUN, keys[i])].title), text };
      if (*text)
        detail_table_row (table, NULL, cells, 2);
    }
}

void
detail_add_head (GtkWidget *box, const DetailRun *r)
{
  g_autofree char *title = title_of (r), *system = field_text (r, "system"), *area = field_text (r, "area");

  detail_words (box, "title-4", "%s", title);
  detail_words (box, "dim-label", _ ("run %u · %s · %s"), r->number, *system ? system : _ ("no system"), *area ? area : _ ("no area"));
  if (!r->priced)
    {
      add_fault (box, r);
      return;
    }
  if (job_is_note_line (r->run))
    {
      detail_words (box, NULL, "%s", job_note_line_words (r->run));
      detail_words (box, "caption dim-label", "%s", _ ("A note between the runs: nothing in it is measured or priced."));
      return;
    }
  if (r->result->method < 0)
    add_counted (box, r);
  else
    {
      add_picture (box, r);
      add_build (box, r);
    }
  add_unused (box, r);
}

/* ---- lots and ends ---- */

void
detail_add_lots (GtkWidget *box, const DetailRun *r)
{
  const DuctMeasure *m = &r->result->measure;
  const DuctKindInfo *kind;
  gboolean metric = job_names (r->job)->metric;
  const char *heads[] = { _ ("Like pieces"), metric ? _ ("mm each") : _ ("in each"), metric ? _ ("kg each") : _ ("lb each"), _ ("joints") };
  GtkWidget *table;

  if (!r->priced || r->result->method < 0)
    return;
  kind = duct_kind_info ((DuctKind) r->result->shape.kind);
  detail_heading (box, _ ("Pieces of one run"));
  table = detail_table (box);
  detail_table_row (table, "caption dim-label", heads, 4);
  for (int i = 0; i < m->n_lots; i++)
    {
      const DuctLot *lot = &m->lot[i];
      g_autofree char *n = g_strdup_printf ("%d", (int) lot->n);
      g_autofree char *length = detail_fixed ((double) lot->length / (double) (metric ? LENGTH_NM_PER_MM : LENGTH_NM_PER_IN), metric ? 0 : 1);
      g_autofree char *mass = detail_fixed (metric ? (double) lot->one[DUCT_NET_LB] / 1e6 : measure_lb (lot->one[DUCT_NET_LB]), 1);
      g_autofree char *joints = g_strdup_printf ("%d", (int) (duct_lot_joints (lot) / 1000));
      const char *cells[] = { n, length, mass, joints };
      detail_table_row (table, NULL, cells, 4);
    }
  if (kind->has_first)
    detail_words (box, "caption", _ ("First end: %s"), duct_end_key ((DuctEnd) r->result->shape.first_end));
  if (kind->has_last)
    detail_words (box, "caption", _ ("Last end: %s"), duct_end_key ((DuctEnd) r->result->shape.last_end));
  if (r->result->count != 1000)
    {
      g_autofree char *count = decimal_print (r->result->count, 3, 0, TRUE);
      detail_words (box, "caption", _ ("The run counts %s times."), count);
    }
}

/* ---- the joint ---- */

static GArray *
lines_of (const DetailRun *r)
{
  LabourFactors factors;
  gint64 floor_ppm;

  job_run_conditions (r->job, r->run, &factors, &floor_ppm, NULL);
  return cost_explain (job_basis (r->job), r->result->method, (DuctKind) r->result->shape.kind, &r->result->measure, &factors, floor_ppm);
}

void
detail_add_joint (GtkWidget *box, const DetailRun *r)
{
  const CostBasis *basis = job_basis (r->job);
  const char *heads[] = { "", _ ("worker-min"), job_head (r->job)->text[HEAD_CURRENCY] };
  g_autofree char *minutes = NULL, *money = NULL;
  CostJointLine total;
  GtkWidget *table;

  if (!r->priced || r->result->method < 0)
    return;
  g_autoptr (GArray) lines = lines_of (r);
  g_autoptr (GArray) joint = cost_joint_lines (basis, lines, cost_joint_count (&r->result->measure), &total);
  detail_heading (box, _ ("One joint of this run"));
  if (joint->len == 0)
    {
      detail_words (box, "dim-label", "%s", _ ("No joint is counted here: the next piece or others bring it."));
      return;
    }
  if (!heads[2])
    heads[2] = _ ("money");
  table = detail_table (box);
  detail_table_row (table, "caption dim-label", heads, 3);
  for (guint i = 0; i < joint->len; i++)
    {
      const CostJointLine *line = &g_array_index (joint, CostJointLine, i);
      const CostItem *item = line->step ? NULL : catalogue_item (basis->catalogue, line->target);
      g_autofree char *number = item ? decimal_print_significant (round (line->quantity * 100) / 100, 6) : NULL;
      g_autofree char *name = !item ? g_strdup (catalogue_step (basis->catalogue, line->target)->key)
                              : g_strcmp0 (item->unit, "each") == 0 ? g_strdup_printf (_ ("%s, %s"), item->key, number)
                                                                    : g_strdup_printf (_ ("%s, %s\u00a0%s"), item->key, number, item->unit);
      g_autofree char *min = line->step ? detail_fixed (line->minutes, 1) : g_strdup ("");
      g_autofree char *cost = detail_fixed (line->money, 2);
      const char *cells[] = { name, min, cost };
      detail_table_row (table, NULL, cells, 3);
    }
  minutes = detail_fixed (total.minutes, 1);
  money = detail_fixed (total.money, 2);
  const char *sums[] = { _ ("a joint"), minutes, money };
  detail_table_row (table, "heading", sums, 3);
}

/* ---- every line ---- */

typedef struct
{
  TallySession *session;
  gint64 run;
} LinesData;

static void
fill_lines (GtkWidget *box, gpointer data)
{
  LinesData *d = data;
  TallyJob *job = session_job (d->session);
  const JobRecord *run = job ? job_find (job, JOB_RUN, d->run) : NULL;
  DetailRun r = { .session = d->session, .job = job, .run = run };
  JobRunResult result;
  int lot = -1;

  if (!run)
    return;
  r.priced = job_compute (job, run, JOB_OWN_METHOD, &result);
  r.result = &result;
  if (r.priced && result.method >= 0)
    {
      g_autoptr (GArray) lines = lines_of (&r);
      for (guint i = 0; i < lines->len; i++)
        {
          const CostExplainLine *line = &g_array_index (lines, CostExplainLine, i);
          g_autofree char *words = cost_explain_words (job_basis (job), line);
          if (line->lot != lot)
            detail_words (box, "heading", _ ("Lot %d"), (lot = line->lot) + 1);
          GtkWidget *label = detail_words (box, "caption", "%s", words);
          g_autofree char *tip = g_strdup_printf (_ ("Source: %s (%s)"), line->source, line->status);
          gtk_widget_set_tooltip_text (label, tip);
        }
    }
  job_run_result_clear (&result);
}

void
detail_add_lines (GtkWidget *box, const DetailRun *r, gboolean *open)
{
  LinesData *d;

  if (!r->priced || r->result->method < 0)
    return;
  d = g_new (LinesData, 1);
  *d = (LinesData) { r->session, r->run->id };
  detail_expander (box, _ ("All lines of the recipe"), open, fill_lines, d, g_free);
}
