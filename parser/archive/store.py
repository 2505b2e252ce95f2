"""Classes put in whole, and read again whole."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Collection, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, fields
from datetime import UTC, date, datetime
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from ..errors import ArchiveError
from ..review.shown import Shown, Version
from .columns import day_or_none, moment, text, text_or_none
from .file import connect, told, writing
from .packing import unsqueeze
from .rows import Documents, Parcel, Used, trained
from .schema import DERIVED

if TYPE_CHECKING:
    from ..model import Reading
    from ..review.card import Card
    from .kept import Kept
    from .transfer import Exported

Named = Literal["pattern", "muscle", "equipment", "finding"]

_DOCUMENTS = ", ".join(field.name for field in fields(Documents))
_CLASS = "id, day, day_from, title, title_given, coach, place, name, path, sha256, version, length, lasts, audited, followed"
_LATEST_ID = 2**63 - 1
"""SQLite knows no larger number."""


@dataclass(frozen=True, slots=True)
class Given:
    """What the coach says of a class; ``None``: nothing, so that it stays as it is."""

    day: date | None = None
    title: str | None = None
    coach: str | None = None
    place: str | None = None
    tags: tuple[str, ...] = ()


NOTHING_GIVEN = Given()


@dataclass(frozen=True, slots=True)
class Added:
    """What became of a class that was put in: kept as a new one, as a new version of one, or ``same``: it was there, nothing changed."""

    id: int
    version: int
    change: Literal["new", "version", "same"]


@contextmanager
def opened(path: Path, *, create: bool = False) -> Iterator[Archive]:
    """The archive in the file ``path``. One that is not there is made where ``create`` says so, and else read as an empty one: nothing
    is written by looking.

    Raises ArchiveError: the file is no archive, is from a later edition, is damaged, is being written by another for long, or there
    is no room for it.
    """
    connection = connect(path, create=create)
    try:
        with told(path):
            yield Archive(connection, path)
    finally:
        connection.close()


class Archive:
    """An open archive. Other modules of this room ask ``connection``; nothing outside it does. The tables are told of in schema.py."""

    def __init__(self, connection: sqlite3.Connection, path: Path) -> None:
        self.connection = connection
        self.path = path

    # ------------------------------------------------------------ in

    def add(self, made: Parcel | Reading, *, day: date | None = None, path: str | None = None, given: Given = NOTHING_GIVEN) -> Added:
        """Keep a class read from ``path``, unless its content is there already. The same path with another content is a new version."""
        if not isinstance(made, Parcel):
            from .parcels import parcel  # whoever only looks makes none

            made = parcel(made)
        given = given if day is None else Given(day, given.title, given.coach, given.place, given.tags)
        with writing(self.connection):
            there = self.there(made.sha256, path)
            if there is not None:
                return there
            twin = None if path is None else self._one("SELECT id, version FROM class WHERE path = ?", path)
            if twin is None:
                number = self._new(made, path)
                added = Added(number, 1, "new")
            else:
                added = Added(twin[0], self._last_version(twin[0]) + 1, "version")
            self._keep(added.id, added.version, made, path)
            self.put_in_force(added.id, added.version, made)
            self.tell(added.id, given)
        return added

    def there(self, sha256: str, path: str | None) -> Added | None:
        """Where this content is kept already: in force, or as an earlier version where its file is not known to have been another's."""
        found = self._one("SELECT id, version FROM class WHERE sha256 = ?", sha256)
        if found is None and (path is None or self._one("SELECT 1 FROM class WHERE path = ?", path) is None):
            found = self._one("SELECT class, number FROM version WHERE sha256 = ?", sha256)
        return Added(found[0], found[1], "same") if found else None

    def _new(self, made: Parcel, path: str | None, *, number: int | None = None) -> int:
        """A class that no version of is kept yet."""
        found = self.connection.execute(
            "INSERT INTO class (id, name, path, sha256, version, audited, followed) VALUES (?, ?, ?, ?, 0, 0, 0)",
            [number, made.name, path, made.sha256]).lastrowid
        assert found is not None
        return found

    def _last_version(self, number: int) -> int:
        return int(self._one("SELECT max(number) FROM version WHERE class = ?", number)[0])

    def _keep(self, number: int, version: int, made: Parcel, path: str | None, *, added: datetime | None = None) -> None:
        documents = [getattr(made.documents, field.name) for field in fields(Documents)]
        self.connection.execute(
            f"INSERT INTO version (class, number, sha256, name, path, added, {_DOCUMENTS}) VALUES (?, ?, ?, ?, ?, ?{', ?' * len(documents)})",
            [number, version, made.sha256, made.name, path, (added or datetime.now(UTC)).isoformat(timespec="seconds"), *documents])

    def read_again(self, number: int, made: Parcel) -> bool:
        """Keep what was now understood of the version in force, in place of what was understood before; whether that differs. All that is
        asked of many classes is made anew. Raises ArchiveError where another class is in force by now."""
        names = [field.name for field in fields(Documents)]
        with writing(self.connection):
            row = self.row(number)
            if row["sha256"] != made.sha256:
                raise ArchiveError(f"Class {number} was changed by another program meanwhile. Call it again.")
            where = [number, row["version"]]
            before = self._one(f"SELECT {', '.join(names)} FROM version WHERE class = ? AND number = ?", *where)
            after = tuple(getattr(made.documents, name) for name in names)
            self._take_out(number)
            self.connection.execute(
                f"UPDATE version SET {', '.join(f'{name} = ?' for name in names)} WHERE class = ? AND number = ?", [*after, *where])
            self.put_in_force(number, row["version"], made)
        return tuple(before) != after

    def restore(self, exported: Exported) -> Added:
        """Put in a class as another archive had it, with all its versions; under its number where no class ever had that here."""
        made = [version.parcel() for version in exported.versions]
        now = next(parcel for version, parcel in zip(exported.versions, made) if version.number == exported.version)
        with writing(self.connection):
            there = self.there(now.sha256, exported.path)
            if there is not None:
                return there
            last = self._one("SELECT max(seq) FROM sqlite_sequence WHERE name = 'class'")[0] or 0
            number = self._new(now, exported.path, number=exported.id if exported.id > last else None)
            for version, parcel in zip(exported.versions, made):
                self._keep(number, version.number, parcel, version.path, added=version.added)
            self.put_in_force(number, exported.version, now)
            self.connection.execute(
                "UPDATE class SET day = ?, day_from = ?, title = ?, title_given = ?, coach = ?, place = ? WHERE id = ?",
                [exported.day and exported.day.isoformat(), exported.day_from, exported.title, exported.title_given, exported.coach,
                 exported.place, number])
            self.tell(number, Given(tags=tuple(exported.tags)))
        return Added(number, exported.version, "new")

    def put_in_force(self, number: int, version: int, made: Parcel) -> None:
        """Make all tables tell of this version, which is kept. What the coach gave stays."""
        self._take_out(number)
        self.connection.execute(
            "UPDATE class SET version = :version, name = :name, sha256 = :sha256, length = :length, lasts = :lasts, audited = :audited,"
            " followed = :followed, title = CASE WHEN title_given THEN title ELSE :title END,"
            " day = CASE WHEN day_from = 'given' OR :day IS NULL THEN day ELSE :day END,"
            " day_from = CASE WHEN day_from = 'given' OR :day IS NULL THEN day_from ELSE :day_from END WHERE id = :id",
            {"id": number, "version": version, "name": made.name, "sha256": made.sha256, "length": made.length, "lasts": made.lasts,
             "audited": made.audited, "followed": made.followed, "title": made.title, "day": made.day and made.day.isoformat(),
             "day_from": made.day_from})
        self._put("block", number, made.blocks)
        self._put("use", number, [self._use(used) for used in made.uses])
        self._put("equipment", number, made.equipment)
        self.connection.executemany("INSERT INTO kit (class, name, needed) VALUES (?, ?, ?)", [(number, *row) for row in made.kit])
        self._put("finding", number, made.findings)
        self.connection.execute("INSERT INTO words (rowid, said) VALUES (?, ?)", [number, made.said])

    def _put(self, table: str, number: int, rows: Sequence[tuple[object, ...]]) -> None:
        if rows:
            self.connection.executemany(f"INSERT INTO {table} VALUES (?{', ?' * len(rows[0])})", [(number, *row) for row in rows])

    def _take_out(self, number: int) -> None:
        """The rows of the version in force, and its words out of the index, which has to be told what they were."""
        said = self._one("SELECT said FROM version JOIN class ON class.id = class AND class.version = number WHERE class = ?", number)
        if said is not None and self._one("SELECT 1 FROM words_docsize WHERE id = ?", number):
            self.connection.execute("INSERT INTO words (words, rowid, said) VALUES ('delete', ?, ?)", [number, unsqueeze(said[0])])
        for table in DERIVED:
            self.connection.execute(f"DELETE FROM {table} WHERE class = ?", [number])

    def _use(self, used: Used) -> tuple[object, ...]:
        movement, new = self._known("movement", {"base": used.base, "patterns": used.patterns, "muscles": used.muscles})
        if new:
            patterns, muscles = trained(json.loads(used.patterns), json.loads(used.muscles))
            rows = [("pattern", p, movement) for p in patterns] + [("muscle", m, movement) for m in muscles]
            self.connection.executemany("INSERT INTO trains VALUES (?, ?, ?)", rows)
        variant, _ = self._known("variant", {"movement": movement, "name": used.name, "modifiers": used.modifiers})
        return used.item, used.part, movement, variant, *used.rest

    def _known(self, table: str, row: dict[str, Any]) -> tuple[int, bool]:
        """The number of this row, and whether it is a new one."""
        found = self._one(f"SELECT id FROM {table} WHERE {' AND '.join(f'{name} = ?' for name in row)}", *row.values())
        if found:
            return found[0], False
        number = self.connection.execute(
            f"INSERT INTO {table} ({', '.join(row)}) VALUES ({', '.join('?' * len(row))})", list(row.values())).lastrowid
        assert number is not None
        return number, True

    def tell_of(self, numbers: Sequence[int], given: Given, *, without: Collection[str] = ()) -> None:
        """As ``tell``, of all of these classes or of none."""
        with writing(self.connection):
            for number in numbers:
                self.tell(number, given, without=without)

    def tell(self, number: int, given: Given, *, without: Collection[str] = ()) -> None:
        """Set what the coach says of a class, and take these tags off it. Words that are empty take off what was said before. Raises
        ArchiveError where there is no such class."""
        put = self.connection.execute
        with writing(self.connection):
            self.row(number)
            if given.day is not None:
                put("UPDATE class SET day = ?, day_from = 'given' WHERE id = ?", [given.day.isoformat(), number])
            if given.title is not None:
                title = given.title.strip()
                put("UPDATE class SET title = ?, title_given = ? WHERE id = ?", [title or self.get(number).plan.title, bool(title), number])
            for name in ("coach", "place"):
                if (value := getattr(given, name)) is not None:
                    put(f"UPDATE class SET {name} = ? WHERE id = ?", [value.strip() or None, number])
            tags = {_tag(tag) for tag in given.tags} - {""}
            self.connection.executemany("INSERT OR IGNORE INTO tag VALUES (?, ?)", [(number, tag) for tag in sorted(tags)])
            self.connection.executemany("DELETE FROM tag WHERE class = ? AND tag = ?", [(number, _tag(tag)) for tag in without])

    def remove(self, numbers: Sequence[int]) -> None:
        """Take classes out with all their versions, for good: all or none. Raises ArchiveError where one is not there."""
        with writing(self.connection):
            for number in dict.fromkeys(numbers):
                self.row(number)
                self._take_out(number)
                self.connection.execute("DELETE FROM class WHERE id = ?", [number])
            for table, of in (("variant", "use.variant = variant.id"), ("trains", "use.movement = trains.movement"),
                              ("movement", "use.movement = movement.id")):
                self.connection.execute(f"DELETE FROM {table} WHERE NOT EXISTS (SELECT 1 FROM use WHERE {of})")
            # The index marks words as gone until it is next put in order: they are to be gone.
            self.connection.execute("INSERT INTO words (words) VALUES ('optimize')")
        self.connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")

    # ------------------------------------------------------------ out

    def _one(self, statement: str, *values: object) -> Any:
        return self.connection.execute(statement, values).fetchone()

    def row(self, number: int) -> sqlite3.Row:
        """The row of ``class``. Raises ArchiveError where no class has this number."""
        cursor = self.connection.cursor()
        cursor.row_factory = sqlite3.Row
        found: sqlite3.Row | None = None
        if 0 < number <= _LATEST_ID:
            found = cursor.execute(f"SELECT {_CLASS} FROM class WHERE id = ?", [number]).fetchone()
        if found is None:
            raise ArchiveError(f"No class {number} is kept.")
        return found

    def get(self, number: int, version: int | None = None) -> Kept:
        """The version in force, or another. Raises ArchiveError where no class has this number, or it has no such version."""
        row = self.row(number)
        version = row["version"] if version is None else version
        found = self._one(f"SELECT number, added, name, path, sha256, {_DOCUMENTS} FROM version WHERE class = ? AND number = ?", number,
                          version if 0 < version <= _LATEST_ID else 0)
        if found is None:
            raise ArchiveError(f"Class {number} has no version {version}: they are counted from 1 to {self._last_version(number)}.")
        return self._kept(shown_of([row[name] for name in ("id", "day", "title", "name")]), found)

    def _kept(self, shown: Shown, row: Sequence[Any]) -> Kept:
        from .kept import whole  # whoever searches reads no class whole

        try:
            return whole(shown, _version(row), Documents(*row[5:]))
        except (ValueError, TypeError, KeyError) as exc:
            raise ArchiveError(f"Class {shown.id} cannot be read from {self.path}: it is damaged. `planaloud archive check` tells more.") from exc

    def card(self, number: int, version: int | None = None) -> Card:
        """Raises ArchiveError as ``get`` does."""
        from ..review.card import Card

        kept, row = self.get(number, version), self.row(number)
        return Card(
            shown=kept.shown, coach=row["coach"], place=row["place"], tags=self.tags(number), version=kept.version.number,
            versions=self.versions(number), plan=kept.plan, report=kept.report,
        )

    def versions(self, number: int) -> list[Version]:
        """From the first on."""
        rows = self.connection.execute("SELECT number, added, name, path, sha256 FROM version WHERE class = ? ORDER BY number", [number])
        return [_version(row) for row in rows]

    def tags(self, number: int) -> list[str]:
        return [row[0] for row in self.connection.execute("SELECT tag FROM tag WHERE class = ? ORDER BY tag", [number])]

    def variants(self) -> dict[int, tuple[str, tuple[str, ...]]]:
        """Every movement as it is taken: its base and its modifiers, by its number in ``variant``."""
        rows = self.connection.execute("SELECT variant.id, base, modifiers FROM variant JOIN movement ON movement.id = movement")
        return {number: (base, _names(modifiers)) for number, base, modifiers in rows}

    def names_of(self, what: Named) -> set[str]:
        """Every name of a kind that some class has."""
        rows = self.connection.execute({
            "pattern": "SELECT DISTINCT name FROM trains WHERE what = 'pattern'", "muscle": "SELECT DISTINCT name FROM trains WHERE what = 'muscle'",
            "equipment": "SELECT DISTINCT name FROM kit", "finding": "SELECT DISTINCT code FROM finding",
        }[what])
        return {row[0] for row in rows}

    def shown(self) -> list[Shown]:
        """All classes, the newest day first, those without a day last."""
        rows = self.connection.execute("SELECT id, day, title, name FROM class ORDER BY day IS NULL, day DESC, id DESC")
        return [shown_of(row) for row in rows]

    def __iter__(self) -> Iterator[Kept]:
        """Every class in the order of its number, read whole one after the other."""
        for (number,) in self.connection.execute("SELECT id FROM class ORDER BY id").fetchall():
            yield self.get(number)


@lru_cache(maxsize=1000)
def _names(array: str) -> tuple[str, ...]:
    """Most are the same few."""
    return tuple(json.loads(array))


def _tag(text: str) -> str:
    return " ".join(text.split()).casefold()


def _version(row: Sequence[Any]) -> Version:
    number, added, name, path, sha256, *_ = row
    return Version(number=number, added=moment(added), name=text(name), path=text_or_none(path), sha256=text(sha256))


def shown_of(row: Sequence[Any]) -> Shown:
    """Of the columns ``id, day, title, name``. Raises Damaged."""
    number, day, title, name = row
    return Shown(id=number, day=day_or_none(day), title=text_or_none(title), name=text(name))
