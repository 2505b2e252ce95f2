"""The tables of an archive: one SQLite file, and how it came to have them.

Each version of a class is kept whole, packed, in ``version``. All other tables tell of the version that is in force, can be made
again from it, and are what is asked of many classes at once: whoever reads them needs no JSON.
"""

from __future__ import annotations

APPLICATION_ID = 0x706C616E  # "plan": tells an archive from any other SQLite file

FIRST = """
CREATE TABLE class (
  id INTEGER PRIMARY KEY AUTOINCREMENT,  -- a number that was taken away is never another class's
  day TEXT CHECK (day IS NULL OR day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),  -- ISO 8601; NULL: nobody gave it
  day_from TEXT,                         -- given, name (of the file) or words; NULL where there is no day
  title TEXT,                            -- as given, else as called aloud
  title_given INTEGER NOT NULL DEFAULT 0,
  coach TEXT,
  place TEXT,
  name TEXT NOT NULL,                    -- the file it was read from
  path TEXT,                             -- where that was; NULL: standard input
  sha256 TEXT NOT NULL UNIQUE,           -- of the file
  version INTEGER NOT NULL,              -- the one in force, counted from 1
  length REAL,                           -- as said, in seconds
  lasts REAL,                            -- as said, else as reckoned, else as recorded
  audited INTEGER NOT NULL,              -- whether there is a report: of a plan alone there is none
  followed INTEGER NOT NULL              -- whether its work was followed on a recording's clock
);
CREATE INDEX class_by_day ON class (day);
CREATE INDEX class_by_path ON class (path);

-- One for each content that the file of a class had. said, and talk, plan, report and marks, as packing.py has them.
CREATE TABLE version (
  class INTEGER NOT NULL REFERENCES class ON DELETE CASCADE,
  number INTEGER NOT NULL,
  sha256 TEXT NOT NULL,
  name TEXT NOT NULL,
  path TEXT,
  added TEXT NOT NULL,                   -- ISO 8601, UTC
  said BLOB NOT NULL,                    -- what can be searched: the text of the talk, or the words of a plan alone
  plan BLOB NOT NULL,
  report BLOB,
  talk BLOB,                             -- NULL, and marks and times too, where a plan alone was kept
  marks BLOB,
  times BLOB,                            -- of the words, where the format has them
  PRIMARY KEY (class, number)
);
CREATE INDEX version_by_content ON version (sha256);

CREATE TABLE tag (
  class INTEGER NOT NULL REFERENCES class ON DELETE CASCADE,
  tag TEXT NOT NULL,
  PRIMARY KEY (class, tag)
) WITHOUT ROWID;

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

-- The same, a row for each pattern and each muscle.
CREATE TABLE trains (
  what TEXT NOT NULL,                    -- pattern or muscle
  name TEXT NOT NULL,
  movement INTEGER NOT NULL REFERENCES movement,
  PRIMARY KEY (what, name, movement)
) WITHOUT ROWID;

-- A movement as it is taken, once for all classes: the half-kneeling press of the press.
CREATE TABLE variant (
  id INTEGER PRIMARY KEY,
  movement INTEGER NOT NULL REFERENCES movement,
  name TEXT NOT NULL,
  modifiers TEXT NOT NULL,               -- JSON: a sorted array
  UNIQUE (movement, name, modifiers)
);

-- A part of a movement of a class. item counts the movements of the class from 1, block its main blocks; NULL in warm-up and cool-down.
CREATE TABLE use (
  class INTEGER NOT NULL REFERENCES class ON DELETE CASCADE,
  item INTEGER NOT NULL,
  part INTEGER NOT NULL,                 -- in its movement, from 0
  movement INTEGER NOT NULL REFERENCES movement,
  variant INTEGER NOT NULL REFERENCES variant,
  kind TEXT NOT NULL,
  block INTEGER,
  number INTEGER NOT NULL,
  sides TEXT NOT NULL,
  first TEXT,
  equipment TEXT,                        -- of this part. JSON: a sorted array; NULL: none
  seconds REAL,                          -- of one set of the movement, all its parts: its own, else the work of its block
  reps REAL,
  easier INTEGER NOT NULL,               -- options of the movement
  harder INTEGER NOT NULL,
  different INTEGER NOT NULL,
  at REAL,                               -- when it is said first, and where in the text of the talk
  begins INTEGER,
  ends INTEGER,
  PRIMARY KEY (class, item, part)
) WITHOUT ROWID;
CREATE INDEX use_by_movement ON use (movement, kind, class);
CREATE INDEX use_by_variant ON use (variant, class);

-- As the plan lists it.
CREATE TABLE equipment (
  class INTEGER NOT NULL REFERENCES class ON DELETE CASCADE,
  name TEXT NOT NULL,
  optional INTEGER NOT NULL,
  PRIMARY KEY (class, name)
) WITHOUT ROWID;

-- Listed, taken instead, or used by a movement. needed: the class cannot be given without it.
CREATE TABLE kit (
  name TEXT NOT NULL,
  class INTEGER NOT NULL REFERENCES class ON DELETE CASCADE,
  needed INTEGER NOT NULL,
  PRIMARY KEY (name, class)
) WITHOUT ROWID;
CREATE INDEX kit_by_class ON kit (class);

-- In the order of the report. at and quote: the first words that it rests on; begins and ends: where they are in the text.
CREATE TABLE finding (
  class INTEGER NOT NULL REFERENCES class ON DELETE CASCADE,
  place INTEGER NOT NULL,
  code TEXT NOT NULL,
  severity TEXT NOT NULL,
  corrected INTEGER NOT NULL,
  message TEXT NOT NULL,
  block INTEGER,
  round INTEGER,
  number INTEGER,
  at REAL,
  quote TEXT NOT NULL,
  begins INTEGER,
  ends INTEGER,
  over REAL,                             -- how many seconds longer than announced a stretch took; NULL: it is about none
  PRIMARY KEY (class, place)
) WITHOUT ROWID;
CREATE INDEX finding_by_code ON finding (code, class);

-- Full text of version.said of the version in force; rowid is the class. Holds no text of its own.
CREATE VIRTUAL TABLE words USING fts5(said, content='', tokenize='porter unicode61 remove_diacritics 2');
"""

MIGRATIONS: tuple[str, ...] = (FIRST,)
"""Statements that lead from each version to the next: the first from an empty file to version 1. What was released is never changed."""

DERIVED = ("block", "use", "equipment", "kit", "finding")
"""Tables with rows of the version in force only."""
