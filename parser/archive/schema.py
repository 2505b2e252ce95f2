"""The tables of an archive: one SQLite file. Each class is kept whole, as a reading; the other tables hold what is asked of many
classes at once, and can be made again from it.
"""

from __future__ import annotations

APPLICATION_ID = 0x706C616E  # "plan": tells an archive from any other SQLite file
VERSION = 1

TABLES = """
CREATE TABLE class (
  id INTEGER PRIMARY KEY AUTOINCREMENT,  -- a number that was taken away is never another class's
  day TEXT CHECK (day IS NULL OR day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),  -- ISO 8601; NULL: nobody gave it
  title TEXT,
  name TEXT NOT NULL,                    -- the file it was read from
  sha256 TEXT NOT NULL UNIQUE,
  length REAL,                           -- as said, in seconds
  followed INTEGER NOT NULL,             -- whether its work was followed on a recording's clock
  reading TEXT NOT NULL                  -- JSON
);
CREATE INDEX class_by_day ON class (day);

-- Main blocks, counted from 1. Amounts in seconds; of a range its middle.
CREATE TABLE block (
  class INTEGER NOT NULL REFERENCES class ON DELETE CASCADE,
  block INTEGER NOT NULL,
  format TEXT,
  work REAL,
  rest REAL,
  round_rest REAL,
  rounds REAL,
  interval REAL,
  length REAL,
  PRIMARY KEY (class, block)
) WITHOUT ROWID;

-- A base movement with what it trains, once for all classes. Another edition of the lexicon may have the same base otherwise.
CREATE TABLE movement (
  id INTEGER PRIMARY KEY,
  base TEXT NOT NULL,
  patterns TEXT NOT NULL,                -- JSON: a sorted array
  muscles TEXT NOT NULL,
  UNIQUE (base, patterns, muscles)
);

-- A part of a movement of a class. item counts the movements of the class from 1, block its main blocks; NULL in warm-up and cool-down.
CREATE TABLE use (
  class INTEGER NOT NULL REFERENCES class ON DELETE CASCADE,
  item INTEGER NOT NULL,
  part INTEGER NOT NULL,
  movement INTEGER NOT NULL REFERENCES movement,
  kind TEXT NOT NULL,
  block INTEGER,
  number INTEGER NOT NULL,
  sides TEXT NOT NULL,
  first TEXT,
  PRIMARY KEY (class, item, part)
) WITHOUT ROWID;
CREATE INDEX use_by_movement ON use (movement, kind, class);

CREATE TABLE equipment (
  class INTEGER NOT NULL REFERENCES class ON DELETE CASCADE,
  name TEXT NOT NULL,
  optional INTEGER NOT NULL,
  PRIMARY KEY (class, name)
) WITHOUT ROWID;

-- In the order of the report. at and quote: the first words that it rests on.
CREATE TABLE finding (
  class INTEGER NOT NULL REFERENCES class ON DELETE CASCADE,
  place INTEGER NOT NULL,
  code TEXT NOT NULL,
  severity TEXT NOT NULL,
  corrected INTEGER NOT NULL,
  message TEXT NOT NULL,
  block INTEGER,
  number INTEGER,
  at REAL,
  quote TEXT NOT NULL,
  PRIMARY KEY (class, place)
) WITHOUT ROWID;
"""
