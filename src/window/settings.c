/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/settings.h"

static char *
path (void)
{
  return g_build_filename (g_get_user_config_dir (), "seamtally", "window.ini", NULL);
}

static GKeyFile *
file (void)
{
  static GKeyFile *kept;

  if (!kept)
    {
      g_autofree char *name = path ();
      kept = g_key_file_new ();
      g_key_file_load_from_file (kept, name, G_KEY_FILE_NONE, NULL);
    }
  return kept;
}

static void
save (void)
{
  g_autofree char *name = path ();
  g_autofree char *folder = g_path_get_dirname (name);

  g_mkdir_with_parents (folder, 0700);
  g_key_file_save_to_file (file (), name, NULL);
}

char *
settings_get (const char *group, const char *key)
{
  return g_key_file_get_string (file (), group, key, NULL);
}

void
settings_set (const char *group, const char *key, const char *value)
{
  if (value)
    g_key_file_set_string (file (), group, key, value);
  else
    g_key_file_remove_key (file (), group, key, NULL);
  save ();
}

int
settings_get_int (const char *group, const char *key, int otherwise)
{
  g_autoptr (GError) error = NULL;
  int value = g_key_file_get_integer (file (), group, key, &error);

  return error ? otherwise : value;
}

void
settings_set_int (const char *group, const char *key, int value)
{
  g_key_file_set_integer (file (), group, key, value);
  save ();
}
