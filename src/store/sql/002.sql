-- SPDX-License-Identifier: GPL-3.0-or-later
-- Version 2 of an office file: hours spent on a job, and what of its runs is done.
--
-- Days are Julian days (1 January of the year 1 is day 1), hours thousandths of a worker-hour, shares parts per million. Step
-- groups and stages are places in the lists of labour/labour.h and track/done.h, which are append only.
--
-- area_id and run_id are no references: deleting an area must not lose hours that were worked, and a run that comes back by undo
-- finds its ticks. No id is ever used for two areas or two runs of a job. An area_id of 0 is the whole job.

CREATE TABLE hours (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
  day INTEGER NOT NULL CHECK (day > 0),
  area_id INTEGER NOT NULL CHECK (area_id >= 0),
  step_group INTEGER NOT NULL CHECK (step_group >= 0),
  worker_mh INTEGER NOT NULL CHECK (worker_mh > 0),
  note TEXT NOT NULL,
  batch_id INTEGER NOT NULL CHECK (batch_id >= 0)
) STRICT;

CREATE INDEX hours_job ON hours (job_id, day);

CREATE TABLE done (
  job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
  run_id INTEGER NOT NULL CHECK (run_id > 0),
  stage INTEGER NOT NULL CHECK (stage >= 0),
  ppm INTEGER NOT NULL CHECK (ppm > 0 AND ppm <= 1000000),
  day INTEGER NOT NULL CHECK (day > 0),
  PRIMARY KEY (job_id, run_id, stage)
) STRICT, WITHOUT ROWID;

-- What a job came to at a moment the user marked ("before addendum 2"); the figures are the text of job/mark.h.
CREATE TABLE mark (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
  figures TEXT NOT NULL
) STRICT;

CREATE INDEX mark_job ON mark (job_id, id);

-- Drawings: counted or not, and the issue; a run says which issue it was checked against.
CREATE TABLE drawing (
  job_id INTEGER NOT NULL REFERENCES job (id) ON DELETE CASCADE,
  id INTEGER NOT NULL CHECK (id > 0),
  ord INTEGER NOT NULL,
  drawing TEXT,
  issue INTEGER,
  done INTEGER,
  note TEXT,
  PRIMARY KEY (job_id, id)
) STRICT, WITHOUT ROWID;

ALTER TABLE run ADD COLUMN checked_issue INTEGER;
