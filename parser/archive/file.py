"""The file of an archive: opened, laid out, brought up to date, and what SQLite finds wrong with it in a coach's words."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from pathlib import Path

from ..errors import ArchiveError
from .packing import Damaged
from .schema import APPLICATION_ID, MIGRATIONS

WAIT_S = 15.0
"""How long a writer waits for another. A class is put in within a fraction of a second, and the file is free between two."""


def connect(path: Path, *, create: bool) -> sqlite3.Connection:
    """A connection to the archive in ``path``, laid out and up to date; to an empty one in memory where the file is empty or not there,
    and not to be made. Raises ArchiveError."""
    there, something = _looked_at(path)
    if create and not there:
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as exc:
            raise ArchiveError(f"There is no folder {path.parent}, and it cannot be made: {exc.strerror}.") from exc
    connection = None
    try:
        with told(path):
            connection = _open(path) if something or create else sqlite3.connect(":memory:", isolation_level=None)
            connection.create_function("folded", 1, _folded, deterministic=True)
            connection.execute("PRAGMA foreign_keys = ON")
            connection.execute("PRAGMA synchronous = FULL")  # what is told to be kept survives a machine that goes down
            connection.execute("PRAGMA secure_delete = ON")  # what is taken away is gone from the file
            _ready(connection, path)
        return connection
    except BaseException:
        if connection is not None:
            connection.close()
        raise


def _looked_at(path: Path) -> tuple[bool, bool]:
    """Whether the file is there, and whether something is in it. Raises ArchiveError for what is no file, or cannot be looked at."""
    try:
        if not path.exists():
            return False, False
        if not path.is_file():
            raise ArchiveError(f"{path} is not a file. Name the archive's own file.")
        return True, path.stat().st_size > 0
    except (OSError, ValueError) as exc:
        raise ArchiveError(f"{path} cannot be looked at: {getattr(exc, 'strerror', None) or exc}. Name another file.") from exc


def _open(path: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(path, timeout=WAIT_S, isolation_level=None)
    try:
        connection.execute("PRAGMA schema_version").fetchone()
    except sqlite3.OperationalError as exc:
        if exc.sqlite_errorcode & 0xFF not in (sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY) or _beside(path, "-wal").exists():
            connection.close()
            raise
        # The write-ahead log cannot be made on a disk that is read only. Nobody can be writing there either: read it as it stands.
        connection.close()
        connection = sqlite3.connect(f"{path.absolute().as_uri()}?immutable=1", uri=True, isolation_level=None)
    return connection


def _folded(text: str | None) -> str | None:
    """Names are the same however they are spaced and in whatever case."""
    return None if text is None else " ".join(text.split()).casefold()


def _beside(path: Path, ending: str) -> Path:
    return path.with_name(path.name + ending)


def _pragma(connection: sqlite3.Connection, name: str) -> int:
    return int(connection.execute(f"PRAGMA {name}").fetchone()[0])


def _ready(connection: sqlite3.Connection, path: Path) -> None:
    """Lay out a new file, bring one of an earlier edition up to date, refuse one that is not ours."""
    connection.execute("BEGIN")  # so that all three are of one moment, whoever else may be laying it out
    pages, own, version = (_pragma(connection, name) for name in ("page_count", "application_id", "user_version"))
    connection.execute("COMMIT")
    if not pages:
        _migrate(connection, path, MIGRATIONS)
        _log_ahead(connection)
        return
    if own != APPLICATION_ID:
        raise ArchiveError(f"{path} is no archive of planaloud. Name another file.")
    if version > len(MIGRATIONS):
        raise ArchiveError(
            f"{path} was written by a later edition of planaloud ({version}; this one knows {len(MIGRATIONS)}). Use that one.")
    if version < len(MIGRATIONS):
        _migrate(connection, path, MIGRATIONS)


def _log_ahead(connection: sqlite3.Connection) -> None:
    """Let readers go on while one writes. The file remembers; of several that make it at once, one comes to set it."""
    try:
        connection.execute("PRAGMA journal_mode = WAL")
    except sqlite3.OperationalError as exc:
        if exc.sqlite_errorcode & 0xFF != sqlite3.SQLITE_BUSY:
            raise


def _migrate(connection: sqlite3.Connection, path: Path, steps: Sequence[str]) -> None:
    """One step after the other, each whole or not at all, with a copy of the file as it was before."""
    for number, step in enumerate(steps, 1):
        if _pragma(connection, "user_version") >= number:
            continue
        if number > 1:
            _keep_copy(connection, _beside(path, f".version-{number - 1}"))
        with writing(connection):
            if _pragma(connection, "user_version") < number:  # another may have done it meanwhile
                for statement in _statements(step):
                    connection.execute(statement)
                connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
                connection.execute(f"PRAGMA user_version = {number}")


def _keep_copy(connection: sqlite3.Connection, target: Path) -> None:
    part = _beside(target, ".part")
    part.unlink(missing_ok=True)
    with closing(sqlite3.connect(part)) as copy:
        connection.backup(copy)
    part.replace(target)


def _statements(script: str) -> Iterator[str]:
    """One by one: ``executescript`` would end the transaction."""
    statement = ""
    for line in script.splitlines(keepends=True):
        statement += line
        if sqlite3.complete_statement(statement):
            yield statement
            statement = ""


@contextmanager
def writing(connection: sqlite3.Connection) -> Iterator[None]:
    """A transaction that is done whole or not at all. Waits for another writer. Within another it is part of that."""
    if connection.in_transaction:
        yield
        return
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


@contextmanager
def told(path: Path) -> Iterator[None]:
    """What SQLite finds wrong is told as what a coach can do about it. Raises ArchiveError."""
    try:
        yield
    except UnicodeEncodeError as exc:
        raise ArchiveError(f"{exc.object!r} holds what is no text. Write it in UTF-8.") from exc
    except (sqlite3.Error, UnicodeDecodeError, Damaged) as exc:
        raise ArchiveError(_trouble(exc, path)) from exc


def _trouble(exc: Exception, path: Path) -> str:
    code = sqlite3.SQLITE_CORRUPT if isinstance(exc, ValueError) else getattr(exc, "sqlite_errorcode", None)
    match None if code is None else code & 0xFF:
        case sqlite3.SQLITE_NOTADB:
            return f"{path} is no archive of planaloud. Name another file."
        case sqlite3.SQLITE_BUSY | sqlite3.SQLITE_LOCKED:
            return f"Another program has been writing to {path} for {WAIT_S:.0f} seconds. Try again when it is done."
        case sqlite3.SQLITE_CORRUPT:
            return f"{path} is damaged ({exc}). Keep it, take a copy from before, and see with `planaloud archive check` that it is whole."
        case sqlite3.SQLITE_FULL:
            return f"There is no room left on the disk of {path}. What was told to be kept is kept; make room and call it again."
        case sqlite3.SQLITE_READONLY:
            return f"{path} may not be written: the file or its disk is read only. Change that, or name another with --archive."
        case sqlite3.SQLITE_CANTOPEN | sqlite3.SQLITE_PERM:
            return f"{path} cannot be opened ({exc}). Look whether its folder is there and yours to use."
        case sqlite3.SQLITE_IOERR:
            return f"The disk of {path} failed to read or write ({exc}). Look after the disk; what was told to be kept is kept."
        case _:
            return f"The archive {path} cannot be used: {exc}."
