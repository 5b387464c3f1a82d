/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Runs the window; argv as "window [--demo] [--office FILE] [--job NAME]". Exit status. */
int tally_app_run (int argc, char **argv);

G_END_DECLS
