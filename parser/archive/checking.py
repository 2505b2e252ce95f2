"""Whether an archive is whole: the file, every class in it, and what the tables tell of them."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass

from ..errors import ArchiveError
from .parcels import packed, parcel_of_plan
from .rows import Documents, Parcel
from .store import Archive


@dataclass(frozen=True, slots=True)
class Checked:
    classes: int
    versions: int
    faults: tuple[str, ...]
    """A sentence each."""


def check(archive: Archive) -> Checked:
    """Look at everything. A damaged file is told of as far as it can be read."""
    classes = versions = 0
    faults: list[str] = []
    try:
        archive.connection.execute("BEGIN")
        faults += _of_the_file(archive.connection)
        for (number,) in archive.connection.execute("SELECT id FROM class ORDER BY id").fetchall():
            classes += 1
            versions += len(archive.versions(number))
            faults += _of_a_class(archive, number)
        faults += _of_the_words(archive.connection)
    except (sqlite3.DatabaseError, ValueError) as exc:
        faults.append(f"The file cannot be read on: {exc}.")
    finally:
        if archive.connection.in_transaction:
            archive.connection.execute("ROLLBACK")
    return Checked(classes, versions, tuple(faults))


def _of_the_file(connection: sqlite3.Connection) -> Iterator[str]:
    """What SQLite finds itself."""
    for (found,) in connection.execute("PRAGMA integrity_check"):
        if found != "ok":
            yield f"The file is damaged: {found}."
    for table, row, parent, _ in connection.execute("PRAGMA foreign_key_check"):
        yield f"A row of {table} ({row}) has no {parent}."


def _of_the_words(connection: sqlite3.Connection) -> Iterator[str]:
    for missing, of, other in (("in no search by words", "class", "words_docsize"), ("found by words, but not kept", "words_docsize", "class")):
        for (number,) in connection.execute(f"SELECT id FROM {of} EXCEPT SELECT id FROM {other}"):
            yield f"Class {number} is {missing}."


def _of_a_class(archive: Archive, number: int) -> Iterator[str]:
    row = archive.row(number)
    found = [version.number for version in archive.versions(number)]
    if row["version"] not in found:
        yield f"Class {number}: version {row['version']} is in force, and is not kept."
        return
    for version in found:
        try:
            made = _made(archive, number, version)
        except (ArchiveError, ValueError, TypeError, KeyError) as exc:
            yield f"Class {number}, version {version}: it cannot be read ({_first_line(exc.__cause__ or exc)})."
            continue
        if version == row["version"]:
            yield from (f"Class {number}: what the tables tell of its {what} is not what its plan has." for what in _differing(archive, number, made))


def _first_line(exc: BaseException) -> str:
    return str(exc).partition("\n")[0]


def _made(archive: Archive, number: int, version: int) -> Parcel:
    """The version as it would be put in now. Raises ArchiveError or ValueError where it cannot be read, or is not what it says it is."""
    kept = archive.get(number, version)
    told = kept.version
    if kept.talk is None or kept.report is None:
        return parcel_of_plan(kept.plan, name=told.name, sha256=told.sha256)
    if kept.talk.sha256 != told.sha256:
        raise ValueError("its talk-through is that of another file")
    kept.marks()
    return packed(Documents(said=b"", plan=b""), kept.plan, kept.report, kept.talk)


def _differing(archive: Archive, number: int, made: Parcel) -> Iterator[str]:
    ask = archive.connection.execute

    def rows(statement: str) -> list[tuple[object, ...]]:
        return ask(f"{statement} WHERE class = ? ORDER BY 1, 2", [number]).fetchall()

    uses = [(u.item, u.part, u.base, u.patterns, u.muscles, u.name, u.modifiers, *u.rest) for u in made.uses]
    if uses != rows(
        "SELECT item, part, base, patterns, muscles, name, modifiers, kind, block, number, sides, first, equipment, seconds, reps, easier, harder,"
        " different, at, begins, ends FROM use JOIN movement ON movement.id = use.movement JOIN variant ON variant.id = use.variant"):
        yield "movements"
    if [*made.blocks] != rows("SELECT block, format, work, rest, round_rest, rounds, interval, length FROM block"):
        yield "blocks"
    if sorted(made.equipment) != rows("SELECT name, optional FROM equipment") or [*made.kit] != rows("SELECT name, needed FROM kit"):
        yield "equipment"
    if [*made.findings] != rows(
        "SELECT place, code, severity, corrected, message, block, round, number, at, quote, begins, ends, over FROM finding"):
        yield "findings"
    row = archive.row(number)
    if tuple(row[name] for name in ("sha256", "length", "lasts", "audited", "followed")) != (
            made.sha256, made.length, made.lasts, made.audited, made.followed):
        yield "file and length"
