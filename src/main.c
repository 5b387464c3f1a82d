/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"
#ifdef HAVE_WINDOW
#include "window/app.h"
#endif

#include <string.h>

/* No word, or "window": the window where there is one; everything else is a command. */
int
main (int argc, char **argv)
{
#ifdef HAVE_WINDOW
  gboolean display = g_getenv ("DISPLAY") || g_getenv ("WAYLAND_DISPLAY");
  if (argc > 1 ? strcmp (argv[1], "window") == 0 : display)
    return tally_app_run (argc > 1 ? argc - 1 : argc, argc > 1 ? argv + 1 : argv);
#endif
  return cli_main (argc, argv);
}
