"""The file of an archive: classes put in whole, and read again whole."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from ..errors import ArchiveError
from ..model import Finding, Part, Plan, Reading, Report
from ..review import Shown
from .alike import timing_of
from .schema import APPLICATION_ID, TABLES, VERSION


@dataclass(frozen=True)
class Kept:
    """One class as it was put in."""

    shown: Shown
    reading: Reading

    @property
    def plan(self) -> Plan:
        return self.reading.plan

    @property
    def report(self) -> Report:
        return self.reading.report


@contextmanager
def opened(path: Path, *, create: bool = False) -> Iterator[Archive]:
    """The archive in the file ``path``. One that is not there is made where ``create`` says so, and else read as an empty one: nothing
    is written by looking.

    Raises ArchiveError: the file is no archive, is from a later edition, or cannot be read.
    """
    try:
        with _connected(path, create=create) as connection:
            yield Archive(connection)
    except sqlite3.Error as exc:
        raise ArchiveError(f"The archive {path} cannot be used: {exc}.") from exc


@contextmanager
def _connected(path: Path, *, create: bool) -> Iterator[sqlite3.Connection]:
    there = path.exists()
    if there and not path.is_file():
        raise ArchiveError(f"{path} is not a file. Name the archive's own file.")
    if create and not there:
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as exc:
            raise ArchiveError(f"There is no folder {path.parent}, and it cannot be made: {exc.strerror}.") from exc
    connection = sqlite3.connect(path if there or create else ":memory:")
    try:
        connection.execute("PRAGMA foreign_keys = ON")
        _ready(connection, path, new=not there)
        yield connection
    finally:
        connection.close()


def _ready(connection: sqlite3.Connection, path: Path, *, new: bool) -> None:
    """Lay out a new file; refuse one that is not ours."""
    try:
        own, version = (connection.execute(f"PRAGMA {name}").fetchone()[0] for name in ("application_id", "user_version"))
    except sqlite3.DatabaseError:
        raise ArchiveError(f"{path} is no archive of planaloud. Name another file.") from None
    if new:
        with connection:
            connection.executescript(f"PRAGMA application_id = {APPLICATION_ID}; PRAGMA user_version = {VERSION}; {TABLES}")
    elif own != APPLICATION_ID:
        raise ArchiveError(f"{path} is no archive of planaloud. Name another file.")
    elif version > VERSION:
        raise ArchiveError(f"{path} was written by a later edition of planaloud ({version}; this one knows {VERSION}). Use that one.")


class Archive:
    """An open archive. Other modules of this room ask ``connection``; nothing outside it does."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self.connection = connection

    def add(self, reading: Reading, *, day: date | None = None) -> int:
        """Keep a class; its number. Raises ArchiveError where the same file is kept already."""
        talk, plan, report = reading.talk, reading.plan, reading.report
        twin = self.connection.execute("SELECT id FROM class WHERE sha256 = ?", [talk.sha256]).fetchone()
        if twin:
            raise ArchiveError(f"{talk.name} is kept already, as class {twin[0]}.")
        with self.connection:
            number = self.connection.execute(
                "INSERT INTO class (day, title, name, sha256, length, followed, reading) VALUES (?, ?, ?, ?, ?, ?, ?)",
                [day and day.isoformat(), plan.title, talk.name, talk.sha256, plan.stated_length and plan.stated_length.seconds,
                 bool(report.delivered), reading.model_dump_json()],
            ).lastrowid
            assert number is not None
            self._take_apart(number, plan, report)
        return number

    def _take_apart(self, number: int, plan: Plan, report: Report) -> None:
        """What is asked of many classes at once."""
        put = self.connection.executemany
        put("INSERT INTO block VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
            [(number, place, b.format, *timing_of(b)) for place, b in enumerate(plan.mains, 1)])
        put("INSERT INTO use VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)", self._uses(number, plan))
        put("INSERT OR IGNORE INTO equipment VALUES (?, ?, ?)", [(number, e.name, e.optional) for e in plan.equipment])
        put("INSERT INTO finding VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            [(number, place, *_finding(f)) for place, f in enumerate(report.findings)])

    def _uses(self, number: int, plan: Plan) -> list[tuple[object, ...]]:
        rows: list[tuple[object, ...]] = []
        item = mains = 0
        for block in plan.blocks:
            mains += block.kind == "main"
            for movement in block.movements:
                item += 1
                rows += [
                    (number, item, place, self._movement(part), block.kind, mains if block.kind == "main" else None, movement.number,
                     movement.sides.mode, movement.sides.first)
                    for place, part in enumerate(movement.parts)
                ]
        return rows

    def _movement(self, part: Part) -> int:
        row = [part.base or part.name, json.dumps(sorted(part.patterns)), json.dumps(sorted(part.muscles))]
        self.connection.execute("INSERT OR IGNORE INTO movement (base, patterns, muscles) VALUES (?, ?, ?)", row)
        found = self.connection.execute("SELECT id FROM movement WHERE base = ? AND patterns = ? AND muscles = ?", row).fetchone()
        return int(found[0])

    def get(self, number: int) -> Kept:
        """Raises ArchiveError where no class has this number."""
        row = None
        if 0 < number < 2**63:  # SQLite knows no other
            row = self.connection.execute("SELECT id, day, title, name, reading FROM class WHERE id = ?", [number]).fetchone()
        if row is None:
            raise ArchiveError(f"No class {number} is kept.")
        return Kept(_shown(row[:4]), Reading.model_validate_json(row[4]))

    def shown(self) -> list[Shown]:
        """All classes, the newest day first, those without a day last."""
        rows = self.connection.execute("SELECT id, day, title, name FROM class ORDER BY day IS NULL, day DESC, id DESC")
        return [_shown(row) for row in rows]


def _shown(row: Sequence[object]) -> Shown:
    number, day, title, name = row
    return Shown.model_validate({"id": number, "day": day, "title": title, "name": name})


def _finding(finding: Finding) -> tuple[object, ...]:
    first = next(iter(finding.said), None)
    return (finding.code, finding.severity, finding.corrected, finding.message, finding.block, finding.number,
            first.start if first else None, first.quote if first else "")
