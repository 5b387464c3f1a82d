-- SPDX-License-Identifier: GPL-3.0-or-later
-- Version 1 of an office file. A version that left the house is never changed: what is new goes into the next file.
--
-- The columns of job, system, area, cell, job_change and run are the fields of job/record; a size takes two, _w and _h.
-- NULL is a field that was left open. Lengths are nanometres, counts thousandths, angles microdegrees, pressure classes
-- thousandths of an inch w.g., factors parts per million, prices ten-thousandths, minutes millionths of a
-- worker-minute. Kinds, ends, exposures, metals, units and signs are places in the lists of duct/kind.h and
-- job/record.h; those lists are therefore append only. What is out of range is refused when a job is read, not here, so
-- that a list may grow without a new version.

PRAGMA application_id = 1399673977; -- STORE_APPLICATION_ID, "SmTy"

CREATE TABLE office (
  key TEXT NOT NULL PRIMARY KEY,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- A revision is a whole catalogue, and an accepted one never changes.
CREATE TABLE revision (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  at TEXT NOT NULL,
  reason TEXT NOT NULL,
  source TEXT NOT NULL,
  state TEXT NOT NULL CHECK (state IN ('draft', 'accepted'))
) STRICT;

CREATE UNIQUE INDEX revision_one_draft ON revision (state) WHERE state = 'draft';

-- Each line is one row of a sheet as a CSV file holds it, line 0 its heading: a revision is read by the reader of
-- imports.
CREATE TABLE catalogue_row (
  revision_id INTEGER NOT NULL REFERENCES revision (id) ON DELETE CASCADE,
  sheet TEXT NOT NULL,
  ord INTEGER NOT NULL CHECK (ord >= 0),
  line TEXT NOT NULL,
  PRIMARY KEY (revision_id, sheet, ord)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER revision_no_replace BEFORE INSERT ON revision
WHEN EXISTS (SELECT 1 FROM revision WHERE id = NEW.id AND state = 'accepted')
BEGIN
  SELECT RAISE (ABORT, 'an accepted revision does not change');
END;

CREATE TRIGGER revision_no_update BEFORE UPDATE ON revision WHEN OLD.state = 'accepted'
BEGIN
  SELECT RAISE (ABORT, 'an accepted revision does not change');
END;

CREATE TRIGGER revision_no_delete BEFORE DELETE ON revision WHEN OLD.state = 'accepted'
BEGIN
  SELECT RAISE (ABORT, 'an accepted revision does not change');
END;

CREATE TRIGGER catalogue_row_no_insert BEFORE INSERT ON catalogue_row
WHEN (SELECT state FROM revision WHERE id = NEW.revision_id) = 'accepted'
BEGIN
  SELECT RAISE (ABORT, 'an accepted revision does not change');
END;

CREATE TRIGGER catalogue_row_no_update BEFORE UPDATE ON catalogue_row
WHEN EXISTS (SELECT 1 FROM revision WHERE id IN (OLD.revision_id, NEW.revision_id) AND state = 'accepted')
BEGIN
  SELECT RAISE (ABORT, 'an accepted revision does not change');
END;

CREATE TRIGGER catalogue_row_no_delete BEFORE DELETE ON catalogue_row
WHEN (SELECT state FROM revision WHERE id = OLD.revision_id) = 'accepted'
BEGIN
  SELECT RAISE (ABORT, 'an accepted revision does not change');
END;

-- edit_seq counts the edits of a job: who finds another count than last seen was overtaken.
CREATE TABLE job (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  uid TEXT NOT NULL UNIQUE CHECK (length (uid) = 32),
  revision_id INTEGER NOT NULL REFERENCES revision (id),
  created_at TEXT NOT NULL,
  edited_at TEXT NOT NULL,
  edit_seq INTEGER NOT NULL DEFAULT 0 CHECK (edit_seq >= 0),
  ord INTEGER NOT NULL DEFAULT 0,
  name TEXT,
  client TEXT,
  place TEXT,
  engineer TEXT,
  rule_set TEXT,
  method TEXT,
  units INTEGER,
  currency TEXT,
  decimals INTEGER,
  class INTEGER,
  metal INTEGER,
  exposure INTEGER,
  piece_coil_in INTEGER,
  condition TEXT,
  note TEXT
) STRICT;

CREATE INDEX job_revision ON job (revision_id);

CREATE TABLE system (
  job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
  id INTEGER NOT NULL CHECK (id > 0),
  ord INTEGER NOT NULL,
  system TEXT,
  name TEXT,
  duty TEXT,
  sign INTEGER,
  class INTEGER,
  seal TEXT,
  metal INTEGER,
  exposure INTEGER,
  piece_coil_in INTEGER,
  rule_set TEXT,
  method TEXT,
  condition TEXT,
  PRIMARY KEY (job_id, id)
) STRICT, WITHOUT ROWID;

CREATE TABLE area (
  job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
  id INTEGER NOT NULL CHECK (id > 0),
  ord INTEGER NOT NULL,
  area TEXT,
  working_height_ft INTEGER,
  hanger_drop_ft INTEGER,
  field_condition INTEGER,
  times INTEGER,
  share_joints_on_floor INTEGER,
  pieces_raised_together INTEGER,
  condition TEXT,
  PRIMARY KEY (job_id, id)
) STRICT, WITHOUT ROWID;

CREATE TABLE cell (
  job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
  id INTEGER NOT NULL CHECK (id > 0),
  ord INTEGER NOT NULL,
  system INTEGER,
  area INTEGER,
  class INTEGER,
  metal INTEGER,
  exposure INTEGER,
  piece_coil_in INTEGER,
  method TEXT,
  PRIMARY KEY (job_id, id),
  FOREIGN KEY (job_id, system) REFERENCES system (job_id, id) DEFERRABLE INITIALLY DEFERRED,
  FOREIGN KEY (job_id, area) REFERENCES area (job_id, id) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE TABLE job_change (
  job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
  id INTEGER NOT NULL CHECK (id > 0),
  ord INTEGER NOT NULL,
  object TEXT,
  key TEXT,
  field TEXT,
  value TEXT,
  PRIMARY KEY (job_id, id)
) STRICT, WITHOUT ROWID;

CREATE TABLE run (
  job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
  id INTEGER NOT NULL CHECK (id > 0),
  ord INTEGER NOT NULL,
  system INTEGER,
  area INTEGER,
  drawing TEXT,
  kind INTEGER,
  size_w INTEGER,
  size_h INTEGER,
  size2_w INTEGER,
  size2_h INTEGER,
  length INTEGER,
  count INTEGER,
  angle INTEGER,
  throat INTEGER,
  offset INTEGER,
  shift INTEGER,
  legs INTEGER,
  on_edge INTEGER,
  first_end INTEGER,
  last_end INTEGER,
  fit_pieces INTEGER,
  class INTEGER,
  exposure INTEGER,
  metal INTEGER,
  gauge TEXT,
  method TEXT,
  item TEXT,
  price INTEGER,
  shop_minutes INTEGER,
  field_minutes INTEGER,
  note TEXT,
  PRIMARY KEY (job_id, id),
  FOREIGN KEY (job_id, system) REFERENCES system (job_id, id) DEFERRABLE INITIALLY DEFERRED,
  FOREIGN KEY (job_id, area) REFERENCES area (job_id, id) DEFERRABLE INITIALLY DEFERRED
) STRICT, WITHOUT ROWID;

CREATE INDEX run_system ON run (job_id, system);
CREATE INDEX run_area ON run (job_id, area);

-- What was typed into a field and could not be read; type is the name of the table, field that of the field.
CREATE TABLE raw (
  job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
  type TEXT NOT NULL,
  record_id INTEGER NOT NULL,
  field TEXT NOT NULL,
  text TEXT NOT NULL,
  PRIMARY KEY (job_id, type, record_id, field)
) STRICT, WITHOUT ROWID;

-- The highest id a record of the type ever had, so that none is used twice.
CREATE TABLE last_id (
  job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
  type TEXT NOT NULL,
  id INTEGER NOT NULL CHECK (id > 0),
  PRIMARY KEY (job_id, type)
) STRICT, WITHOUT ROWID;

-- job_id is no reference: the history of a job outlives it.
CREATE TABLE change_log (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  job_id INTEGER NOT NULL,
  seq INTEGER NOT NULL,
  at TEXT NOT NULL,
  who TEXT NOT NULL,
  label TEXT NOT NULL,
  detail TEXT NOT NULL
) STRICT;

CREATE INDEX change_log_job ON change_log (job_id, seq);
