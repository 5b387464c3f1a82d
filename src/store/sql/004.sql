-- SPDX-License-Identifier: GPL-3.0-or-later
-- Version 4 of an office file: the choices of a job, its what-ifs, what is in stock; conditions of single runs, joints remade.

CREATE TABLE setting (
  job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
  id INTEGER NOT NULL CHECK (id > 0),
  ord INTEGER NOT NULL,
  key TEXT,
  value TEXT,
  PRIMARY KEY (job_id, id)
) STRICT, WITHOUT ROWID;

CREATE TABLE what_if (
  job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
  id INTEGER NOT NULL CHECK (id > 0),
  ord INTEGER NOT NULL,
  what_if TEXT,
  object TEXT,
  key TEXT,
  field TEXT,
  value TEXT,
  PRIMARY KEY (job_id, id)
) STRICT, WITHOUT ROWID;

CREATE TABLE stock (
  job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
  id INTEGER NOT NULL CHECK (id > 0),
  ord INTEGER NOT NULL,
  item TEXT,
  on_hand INTEGER,
  lead_days INTEGER,
  note TEXT,
  PRIMARY KEY (job_id, id)
) STRICT, WITHOUT ROWID;

ALTER TABLE area ADD COLUMN share_joints_remade INTEGER;
ALTER TABLE run ADD COLUMN condition TEXT;
