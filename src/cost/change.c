/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/basis.h"

#include <glib/gi18n-lib.h>
#include <string.h>

CostChange *
cost_change_new (const char *object, const char *key, const char *field, const char *value)
{
  CostChange *change = g_new0 (CostChange, 1);

  change->object = g_strdup (object);
  change->key = g_strdup (key ? key : "");
  change->field = g_strdup (field);
  change->value = g_strdup (value);
  return change;
}

CostChange *
cost_change_copy (const CostChange *change)
{
  return cost_change_new (change->object, change->key, change->field, change->value);
}

void
cost_change_free (CostChange *change)
{
  g_free (change->object);
  g_free (change->key);
  g_free (change->field);
  g_free (change->value);
  g_free (change);
}

CostChange *
cost_change_parse (const char *text, Fault **fault)
{
  const char *equals = strchr (text, '='), *first = strchr (text, '.'), *last;

  if (!equals || !first || first > equals)
    {
      fault_set (fault, fault_new (0, _ ("write it like item.driven fastener.price=1.10, step.cleat.likely=0.4 or rate.field=95"),
                                   _ ("“%s” is not a change of a figure"), text));
      return NULL;
    }
  g_autofree char *name = g_strndup (text, (gsize) (equals - text));
  first = name + (first - text);
  last = strrchr (name, '.');
  g_autofree char *object = g_strndup (name, (gsize) (first - name));
  g_autofree char *key = last > first ? g_strndup (first + 1, (gsize) (last - first - 1)) : g_strdup ("");
  return cost_change_new (object, key, last + 1, equals + 1);
}
