"""Files into the archive: found in folders, each understood here, in several processes or on a cluster, and kept by one writer."""

from __future__ import annotations

import hashlib
import os
import signal
import tempfile
from collections.abc import Callable, Generator, Iterable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import closing
from dataclasses import dataclass
from functools import lru_cache
from multiprocessing import get_context
from pathlib import Path
from typing import TYPE_CHECKING

from .archive import Added, Archive, Given, Parcel, parcel, parcel_of_plan
from .errors import PlanaloudError, UnreadableInput
from .model import Plan

if TYPE_CHECKING:
    from lexicon import Lexicon

ENDINGS = frozenset({".vtt", ".srt", ".ttml", ".dfxp", ".xml", ".json", ".txt", ".text", ".md", ".markdown"})
"""Names of files that are looked at in a folder; what was named itself is read whatever its name."""
_AHEAD = 3
"""Files for each process that are read before they are asked for, so that none waits for the writer."""


@dataclass(frozen=True, slots=True)
class File:
    """A file to be kept: its name, where it is (``None``: standard input), and what is in it."""

    name: str
    path: str | None
    data: bytes


Made = Parcel | PlanaloudError
Maker = Callable[[Iterable[File]], Generator[tuple[File, Made], None, None]]
"""Understands files, in any order, and no more of them at once than it can work on."""


@dataclass(frozen=True, slots=True)
class Done:
    """What became of one file."""

    name: str
    added: Added | None = None
    complaint: PlanaloudError | None = None

    def __str__(self) -> str:
        match self.added:
            case None:
                return str(self.complaint)
            case Added(change="new"):
                return f"{self.name}: kept as class {self.added.id}."
            case Added(change="version"):
                return f"{self.name}: kept as version {self.added.version} of class {self.added.id}."
            case _:
                return f"{self.name}: is kept already, as class {self.added.id}. Nothing was changed."


# ---------------------------------------------------------------- which files


def files_in(names: Sequence[str]) -> list[str]:
    """The files named, and in place of a folder all in it that may be talk-throughs or plans, by name; hidden ones are left out. Raises
    UnreadableInput for a folder without any."""
    found = []
    for name in names:
        if name == "-" or not Path(name).is_dir():
            found.append(name)
            continue
        inside = sorted(str(p) for p in _walked(Path(name)) if p.suffix.lower() in ENDINGS)
        if not inside:
            raise UnreadableInput(f"{name} is a folder without captions, transcripts or plans. Name another, or the files themselves.")
        found += inside
    return list(dict.fromkeys(found))


def _walked(folder: Path) -> Iterator[Path]:
    for place, folders, names in os.walk(folder):
        folders[:] = [f for f in folders if not f.startswith(".")]
        yield from (Path(place, name) for name in names if not name.startswith("."))


def _read(name: str) -> File:
    from .read import load_path

    data, called = load_path(name)
    path = None if name == "-" else os.fsencode(os.path.realpath(name)).decode("utf-8", errors="replace")
    return File(called, path, data)


# ---------------------------------------------------------------- keep


def keep(kept: Archive, names: Sequence[str], make: Maker, *, given: Given, tell: Callable[[Done], None]) -> None:
    """Keep each file and ``tell`` of it once it is kept: what was told is in the archive, whatever happens next. What cannot be read or
    understood is told too, and the others are kept all the same."""
    def unknown() -> Iterator[File]:
        for name in names:
            try:
                file = _read(name)
            except PlanaloudError as exc:
                tell(Done(name, complaint=exc))
                continue
            there = kept.there(hashlib.sha256(file.data).hexdigest(), file.path)
            if there is None:
                yield file
            else:
                tell(Done(file.name, there))

    with closing(make(unknown())) as all_made:
        for file, made in all_made:
            if isinstance(made, PlanaloudError):
                tell(Done(file.name, complaint=made))
            else:
                tell(Done(file.name, kept.add(made, path=file.path, given=given)))


# ---------------------------------------------------------------- understand


def understood(file: File, words: bytes | None) -> Made:
    """What is to be kept of a file. ``words``: the coach's own, as their file has them. Never raises: this is called in other processes,
    and a file that nobody can understand is no reason to stop."""
    from .pipeline import reading, revised
    from .read import read_bytes
    from .written import plan_or_talk

    try:
        found = plan_or_talk(file.data, file.name, read_bytes)
        if isinstance(found, Plan):
            return parcel_of_plan(revised(found), name=file.name, sha256=hashlib.sha256(file.data).hexdigest())
        return parcel(reading(found, lexicon=lexicon_of(words)))
    except PlanaloudError as exc:
        return exc
    except Exception as exc:
        return UnreadableInput(f"{file.name} could not be understood ({type(exc).__name__}: {exc}). That is a fault of planaloud: please report it.")


def own_words(option: Path | None) -> bytes | None:
    """The coach's own words as their file has them, for processes that cannot see it; ``None`` where there are none. Raises LexiconError."""
    from .vocabulary import guarded, load_lexicon, own_file

    load_lexicon(option)
    path = own_file(option)
    return guarded(path.read_bytes) if option is not None or path.exists() else None


@lru_cache(maxsize=1)
def lexicon_of(words: bytes | None) -> Lexicon:
    """The lexicon with own words that were read elsewhere, once for each process."""
    from lexicon import load

    if words is None:
        return load()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "words.toml")
        path.write_bytes(words)
        return load(path)


def here(words: bytes | None) -> Maker:
    """One file after the other in this process."""
    return lambda files: ((file, understood(file, words)) for file in files)


def in_processes(words: bytes | None, jobs: int) -> Maker:
    """In so many processes. A file that ends its process is complained of, and the others are done all the same."""
    def make(files: Iterable[File]) -> Generator[tuple[File, Made], None, None]:
        waiting = iter(files)
        while True:
            alone: list[File] = []
            yield from _through_pool(waiting, alone, words, jobs)
            if not alone:
                return
            for file in alone:  # one of them has ended a process: which one, shows when each has its own
                lost: list[File] = []
                yield from _through_pool(iter([file]), lost, words, 1)
                if lost:
                    yield file, UnreadableInput(f"{file.name} ended the process that read it, maybe for want of memory. It was left out.")

    return make


def _through_pool(waiting: Iterator[File], lost: list[File], words: bytes | None, jobs: int) -> Iterator[tuple[File, Made]]:
    """Work until nothing is left, or until a process is ended: ``lost`` are the files that were being worked on then."""
    pool = ProcessPoolExecutor(jobs, mp_context=get_context("spawn"), initializer=_leave_interrupts_alone)
    try:
        yield from windowed(waiting, lambda file: pool.submit(understood, file, words), jobs * _AHEAD, lost)
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _leave_interrupts_alone() -> None:
    """Ctrl-C goes to every process of a terminal; the one that writes decides."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def windowed(
    waiting: Iterator[File], submit: Callable[[File], Future[Made]], most: int, lost: list[File],
) -> Iterator[tuple[File, Made]]:
    """Submit so many at once and yield each as it is done."""
    running: dict[Future[Made], File] = {}
    while True:
        while len(running) < most and (file := next(waiting, None)) is not None:
            try:
                running[submit(file)] = file
            except BrokenProcessPool:
                lost.append(file)
                break
        if not running:
            return
        done, _ = wait(running, return_when=FIRST_COMPLETED)
        for future in done:
            file = running.pop(future)
            try:
                yield file, future.result()
            except BrokenProcessPool:
                lost.append(file)
        if lost:
            lost += running.values()
            return


def made_with(words: bytes | None, *, files: int, jobs: int) -> Maker:
    """How so many files are best understood."""
    jobs = min(jobs, files)
    return here(words) if jobs <= 1 else in_processes(words, jobs)


def cores() -> int:
    """As many as this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
