/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/fault.h"
#include "base/length.h"

G_BEGIN_DECLS

/* No value given: inherit, or take the default of the kind. */
#define DUCT_UNSET G_MININT64

/* The kinds of run. The order is part of the file format of an office (the key is not stored): append only. */
typedef enum
{
  DUCT_STRAIGHT,
  DUCT_RADIUS_ELBOW,
  DUCT_MITRED_ELBOW,
  DUCT_TRANSITION,
  DUCT_OFFSET,
  DUCT_TAP,
  DUCT_END_CAP,
  DUCT_COUNTED, /* a line without geometry: quantity x item */
  DUCT_REMARK,  /* a line of words only: nothing to measure, nothing to price */
  DUCT_ANGLED_OFFSET,
  DUCT_SQUARE_TO_ROUND,
  DUCT_TEE,
  DUCT_WYE,
  DUCT_BOOT_TAP,
  DUCT_SPIN_IN,       /* round collar in a rectangular wall */
  DUCT_PLENUM_BOX,
  DUCT_ACCESS_DOOR,
  DUCT_DAMPER,
  DUCT_TURNING_VANES, /* a loose set for an elbow that stands elsewhere */
  DUCT_ROUND_DUCT,
  DUCT_GORED_ELBOW,
  DUCT_STAMPED_ELBOW,
  DUCT_REDUCER,
  DUCT_SADDLE_TAP,
  DUCT_ROUND_CAP,
  DUCT_FLEXIBLE_DUCT,
  DUCT_FABRIC_CONNECTOR, /* short flexible piece at equipment */
  DUCT_N_KINDS,
} DuctKind;

/* What a size means. A round size is a diameter with a height of 0. */
typedef enum
{
  DUCT_NO_SIZE,
  DUCT_RECT,
  DUCT_ROUND,
  DUCT_RECT_OR_ROUND,
} DuctSection;

/* Dimensions beside the first size. Lengths in nm, the angle in microdegrees. */
typedef enum
{
  DUCT_DIM_LENGTH, /* run of a straight; end plane to end plane of a transition or offset; of a tap without its flange */
  DUCT_DIM_W2,     /* second size, transitions */
  DUCT_DIM_H2,
  DUCT_DIM_ANGLE,
  DUCT_DIM_THROAT, /* inside radius of a radius elbow */
  DUCT_DIM_OFFSET, /* how far an offset moves aside */
  DUCT_DIM_SHIFT,  /* sideways offset of a transition's centre */
  DUCT_DIM_LEGS,   /* straight legs at the throat of a mitred elbow */
  DUCT_DIM_BRANCH, /* length of a branch or collar, from the wall of the main */
  DUCT_DIM_SHIFT2, /* offset of the second end's centre in the direction of H */
  DUCT_DIM_GORES,  /* a count, in thousandths */
  DUCT_N_DIMS,
  DUCT_DIM_SIZE = DUCT_N_DIMS, /* names the first size in faults */
  DUCT_DIM_CLASS,
  DUCT_DIM_GAUGE,
  DUCT_DIM_FIT,
  DUCT_DIM_ENDS,     /* the first end */
  DUCT_DIM_LAST_END,
  DUCT_DIM_LINER,
  DUCT_DIM_WRAP,
  DUCT_DIM_CONSTRUCTION,
  DUCT_DIM_METAL,
  DUCT_DIM_NONE,
} DuctDim;

typedef enum
{
  DUCT_END_JOINT,     /* joined to the next piece; the joint is written on the piece at whose first end it lies */
  DUCT_END_EQUIPMENT, /* the other half is made by others, the joint is ours at either end */
  DUCT_END_FLEXIBLE,
  DUCT_END_SLEEVE,
  DUCT_END_OPEN,      /* flanged by us, joined by others or later */
  DUCT_END_RAW,       /* not made */
  DUCT_N_ENDS,
} DuctEnd;

typedef enum
{
  DUCT_INDOORS,
  DUCT_OUTDOORS, /* weatherproof joints */
  DUCT_N_EXPOSURES,
} DuctExposure;

typedef enum
{
  DUCT_GALVANISED,
  DUCT_BLACK,
  DUCT_STAINLESS,
  DUCT_ALUMINIUM,
  DUCT_N_METALS,
} DuctMetal;

typedef struct
{
  const char *key;   /* as written in files, English, untranslated */
  const char *name;  /* N_() */
  guint dims;        /* bit 1 << DuctDim for each dimension the kind uses */
  gboolean has_first, has_last; /* which ends a piece of this kind has */
  gboolean seam;     /* has a longitudinal seam (an end cap has none) */
  gboolean hung;     /* carries hangers of its own */
  DuctSection section, second; /* of its size and of its second size */
  int branches;      /* ends beside first and last, made like a last end that the next piece joins */
  gboolean bought;   /* comes whole: no sheet of ours, its ends are made by its maker */
} DuctKindInfo;

/* Whether runs of this kind are measured: neither counted lines nor remarks are. */
gboolean duct_kind_measured (DuctKind kind);

/* (transfer none); never NULL for a kind below DUCT_N_KINDS. */
const DuctKindInfo *duct_kind_info (DuctKind kind);
/* Reads a kind's key ("radius elbow"), case and blanks ignored, also in the user's language; the fault names the kinds. */
gboolean duct_kind_parse (const char *text, DuctKind *kind, Fault **fault);

const char *duct_end_key (DuctEnd end);
gboolean duct_end_parse (const char *text, DuctEnd *end, Fault **fault);
/* Joint counted at a first / last end of this kind, half made by others, made by us: the design's table of ends. */
gboolean duct_end_joint (DuctEnd end, gboolean first);
gboolean duct_end_by_others (DuctEnd end);
gboolean duct_end_made (DuctEnd end);

const char *duct_exposure_key (DuctExposure exposure);
gboolean duct_exposure_parse (const char *text, DuctExposure *exposure, Fault **fault);
const char *duct_metal_key (DuctMetal metal);
gboolean duct_metal_parse (const char *text, DuctMetal *metal, Fault **fault);

/* A rectangular size, "24x12", "24 x 12 in", "600x300 mm", "2'-6\" x 12\""; a unit behind the second figure serves both;
 * or a round one, "12 dia", "dia 12", "300 mm round", with *h = 0. @unit: of bare numbers. Values in nm. */
gboolean duct_size_parse (const char *text, LengthUnit unit, gint64 *w, gint64 *h, Fault **fault);
/* "24x12" in @style (LENGTH_STYLE_IN or _MM); "12 dia" where @h is 0. */
char *duct_size_print (gint64 w, gint64 h, LengthStyle style);

/* Finds the word of @text among @keys (NULL-terminated list of n), ignoring case and surrounding blanks; -1 if none. */
int duct_word_index (const char *text, const char *const *keys, gsize n);

G_END_DECLS
