/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _GNU_SOURCE 1 /* memmem */
#include "config.h"

#include "exchange/read-back.h"

#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <string.h>
#include <zip.h>

#define READ_BYTES 65536

/* Rows of a sheet in the finished file, read to its end so that the check sum of the part is compared too; -1 when it cannot
 * be read or does not end as a sheet does. */
static gint64
count_rows (zip_t *zip, zip_uint64_t index)
{
  static const char mark[] = "</row>", last[] = "</worksheet>";
  const gsize length = sizeof mark - 1, last_length = sizeof last - 1;
  g_autofree char *buffer = g_malloc (READ_BYTES + sizeof last);
  zip_file_t *part = zip_fopen_index (zip, index, 0);
  gsize have = 0, seen = 0; /* in the buffer; of these, looked through */
  gint64 rows = 0;
  zip_int64_t got;
  gboolean ends;

  if (!part)
    return -1;
  while ((got = zip_fread (part, buffer + have, READ_BYTES)) > 0)
    {
      const char *end = buffer + have + (gsize) got, *p = buffer + seen;
      const char *next = p;
      while ((p = memmem (next, (gsize) (end - next), mark, length)) != NULL)
        {
          rows++;
          next = p + length;
        }
      /* Kept for the next round: what may be the front of a mark, and enough to know the end by. */
      have = MIN ((gsize) (end - buffer), last_length);
      next = MAX (next, end - MIN ((gsize) (end - buffer), length - 1));
      seen = have - MIN ((gsize) (end - next), have);
      memmove (buffer, end - have, have);
    }
  ends = have == last_length && memcmp (buffer, last, last_length) == 0;
  return zip_fclose (part) != 0 || got < 0 || !ends ? -1 : rows;
}

/* Whether any other part is whole XML; these are small. */
static gboolean
check_xml (zip_t *zip, zip_uint64_t index)
{
  const GMarkupParser nothing = { 0 };
  g_autoptr (GMarkupParseContext) context = g_markup_parse_context_new (&nothing, 0, NULL, NULL);
  g_autofree char *buffer = g_malloc (READ_BYTES);
  zip_file_t *part = zip_fopen_index (zip, index, 0);
  zip_int64_t got = -1;
  gboolean good = part != NULL;

  while (good && (got = zip_fread (part, buffer, READ_BYTES)) > 0)
    good = g_markup_parse_context_parse (context, buffer, (gssize) got, NULL);
  good = good && got == 0 && g_markup_parse_context_end_parse (context, NULL);
  return (!part || zip_fclose (part) == 0) && good;
}

/* The number of a sheet by the name of its part, 0 for other parts. */
static guint64
sheet_number (const char *name)
{
  const char front[] = "xl/worksheets/sheet";

  return g_str_has_prefix (name, front) ? g_ascii_strtoull (name + strlen (front), NULL, 10) : 0;
}

/* The library does not tell when its temporary space runs out; so the file is read back. */
gboolean
workbook_check_rows (const char *path, const guint64 *rows, gsize n, GError **error)
{
  zip_t *zip = zip_open (path, ZIP_RDONLY | ZIP_CHECKCONS, NULL);
  zip_int64_t parts = zip ? zip_get_num_entries (zip, 0) : 0;
  gsize sheets = 0;
  gboolean good = zip != NULL;

  for (zip_int64_t i = 0; good && i < parts; i++)
    {
      const char *name = zip_get_name (zip, (zip_uint64_t) i, 0);
      guint64 number = name ? sheet_number (name) : 0;
      if (number == 0)
        good = name && check_xml (zip, (zip_uint64_t) i);
      else
        {
          gint64 found = count_rows (zip, (zip_uint64_t) i);
          good = number <= n && found >= 0 && (guint64) found == rows[number - 1];
          sheets++;
        }
    }
  if (zip)
    zip_discard (zip);
  if (good && sheets == n)
    return TRUE;
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_NO_SPACE,
                       _ ("the workbook was cut short while it was written; make room on the disk and try again"));
  return FALSE;
}
