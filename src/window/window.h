/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <adwaita.h>

G_BEGIN_DECLS

#define TALLY_TYPE_WINDOW (tally_window_get_type ())
G_DECLARE_FINAL_TYPE (TallyWindow, tally_window, TALLY, WINDOW, AdwApplicationWindow)

/* One window a job. */
TallyWindow *tally_window_new (AdwApplication *app, TallySession *session);
/* (transfer none) */
TallySession *tally_window_session (TallyWindow *window);

G_END_DECLS
