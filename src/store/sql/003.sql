-- SPDX-License-Identifier: GPL-3.0-or-later
-- Version 3 of an office file: how duct is built, lined, wrapped, sealed and supported.

ALTER TABLE job ADD COLUMN sizes_inside_liner INTEGER;
ALTER TABLE job ADD COLUMN lengths_through_fittings INTEGER;
ALTER TABLE job ADD COLUMN construction TEXT;
ALTER TABLE job ADD COLUMN leakage_edition TEXT;
ALTER TABLE job ADD COLUMN supports TEXT;

ALTER TABLE system ADD COLUMN liner INTEGER;
ALTER TABLE system ADD COLUMN fast_stream INTEGER;
ALTER TABLE system ADD COLUMN wrap TEXT;
ALTER TABLE system ADD COLUMN leakage_test INTEGER;
ALTER TABLE system ADD COLUMN supports TEXT;

ALTER TABLE cell ADD COLUMN liner INTEGER;
ALTER TABLE cell ADD COLUMN wrap TEXT;

ALTER TABLE run ADD COLUMN branch INTEGER;
ALTER TABLE run ADD COLUMN shift2 INTEGER;
ALTER TABLE run ADD COLUMN gores INTEGER;
ALTER TABLE run ADD COLUMN liner INTEGER;
ALTER TABLE run ADD COLUMN wrap TEXT;
ALTER TABLE run ADD COLUMN riser INTEGER;
ALTER TABLE run ADD COLUMN construction TEXT;
