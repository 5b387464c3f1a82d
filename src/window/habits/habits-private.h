/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

G_BEGIN_DECLS

/* Puts the open job in front of the recent ones. */
void habits_remember_job (TallySession *session);

G_END_DECLS
