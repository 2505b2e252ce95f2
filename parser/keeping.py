"""Files into the archive: found in folders, each understood here, in several processes or on a cluster, and kept by one writer."""

from __future__ import annotations

import gc
import hashlib
import os
import signal
import sys
import tempfile
from collections.abc import Callable, Collection, Generator, Iterable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import ExitStack, closing, contextmanager
from dataclasses import dataclass
from functools import lru_cache
from multiprocessing import get_context
from pathlib import Path
from typing import TYPE_CHECKING, Protocol, TypeVar

from .archive import Added, Archive, Given, Parcel, parcel, parcel_of_plan, restored
from .errors import ArchiveError, PlanaloudError, UnreadableInput
from .model import Plan, TalkThrough

if TYPE_CHECKING:
    from lexicon import Lexicon

ENDINGS = frozenset({".vtt", ".srt", ".ttml", ".dfxp", ".xml", ".json", ".txt", ".text", ".md", ".markdown"})
"""Names of files that are looked at in a folder; what was named itself is read whatever its name."""
AHEAD = 3
"""Files for each process that are read before they are asked for, so that none waits for the writer."""

_WORTH = 8
"""Files that are understood here in the time that a process takes to begin."""


@dataclass(frozen=True, slots=True)
class File:
    """A file to be kept: its name, where it is (``None``: standard input), and what is in it."""

    name: str
    path: str | None
    data: bytes


@dataclass(frozen=True, slots=True)
class Again:
    """A class whose talk-through is to be understood once more."""

    name: str
    id: int
    talk: TalkThrough


Item = TypeVar("Item", bound=File | Again)
Made = Parcel | PlanaloudError


class Maker(Protocol):
    """Understands files or talk-throughs, in any order, and takes no more of them at once than it can work on."""

    def __call__(self, items: Iterable[Item], /) -> Generator[tuple[Item, Made], None, None]: ...


@dataclass(frozen=True, slots=True)
class Done:
    """What became of one file or class: said in a sentence, or complained of."""

    said: str
    complaint: PlanaloudError | None = None


def _done(name: str, added: Added) -> Done:
    match added.change:
        case "new":
            return Done(f"{name}: kept as class {added.id}.")
        case "version":
            return Done(f"{name}: kept as version {added.version} of class {added.id}.")
        case _:
            return Done(f"{name}: is kept already, as class {added.id}. Nothing was changed.")


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
    return File(called, None if name == "-" else _path(name), data)


def _path(name: str) -> str:
    return os.fsencode(os.path.realpath(name)).decode("utf-8", errors="replace")


# ---------------------------------------------------------------- keep


def keep(
    kept: Archive, names: Sequence[str], make: Maker, *, given: Given, tell: Callable[[Done], None], found: Collection[str] = (),
) -> None:
    """Keep each file and ``tell`` of it once it is kept: what was told is in the archive, whatever happens next. What cannot be read or
    understood is told too, and the others are kept all the same. Of what was only ``found`` in a folder, what has no movement is no class.
    """
    left_out = {_path(name) for name in found}

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
                tell(_done(file.name, there))

    with closing(make(unknown())) as all_made:
        for file, made in all_made:
            if isinstance(made, PlanaloudError):
                tell(Done(file.name, complaint=made))
            elif not made.uses and file.path in left_out:
                tell(Done(f"{file.name}: left out, since no movement was heard in it. Name the file itself to keep it."))
            else:
                tell(_done(file.name, kept.add(made, path=file.path, given=given)))


def refresh(kept: Archive, make: Maker, *, tell: Callable[[Done], None]) -> None:
    """Understand every talk-through once more, and ``tell`` what became of each. A plan alone stays as it is."""
    def again() -> Iterator[Again]:
        for shown in kept.shown():
            if (talk := kept.get(shown.id).talk) is not None:
                yield Again(f"Class {shown.id} ({talk.name})", shown.id, talk)

    with closing(make(again())) as all_made:
        for item, made in all_made:
            if isinstance(made, PlanaloudError):
                tell(Done(item.name, complaint=made))
            else:
                tell(Done(f"{item.name}: {'understood otherwise now' if kept.read_again(item.id, made) else 'as before'}."))


@contextmanager
def lines_of(name: str) -> Iterator[Iterable[bytes]]:
    """The lines of a file, or of standard input for ``-``. Raises UnreadableInput."""
    if name == "-":
        yield sys.stdin.buffer
        return
    with ExitStack() as until_read:
        try:
            file = until_read.enter_context(open(name, "rb"))
        except (OSError, ValueError) as exc:
            raise UnreadableInput(f"{name} cannot be opened ({getattr(exc, 'strerror', None) or exc}). Check its name.") from exc
        yield file


def restore(kept: Archive, lines: Iterable[bytes], *, name: str, tell: Callable[[Done], None]) -> None:
    """Keep each class of an export, and ``tell`` what became of it. A line that is none is told of, and the others are kept all the same."""
    for number, line in enumerate(lines, 1):
        if line.strip():
            try:
                found = restored(kept, line, where=f"Line {number} of {name}")
            except ArchiveError as exc:
                tell(Done(name, complaint=exc))
            else:
                tell(_done(found.name, found.added))


# ---------------------------------------------------------------- understand


def understood(item: File | Again, words: bytes | None) -> Made:
    """What is to be kept of it. ``words``: the coach's own, as their file has them. Never raises: this is called in other processes,
    and a file that nobody can understand is no reason to stop."""
    from .pipeline import reading, revised
    from .read import read_bytes
    from .written import plan_or_talk

    try:
        found = item.talk if isinstance(item, Again) else plan_or_talk(item.data, item.name, read_bytes)
        if isinstance(found, Plan):
            assert isinstance(item, File)
            return parcel_of_plan(revised(found), name=item.name, sha256=hashlib.sha256(item.data).hexdigest())
        return parcel(reading(found, lexicon=lexicon_of(words)))
    except PlanaloudError as exc:
        return exc
    except Exception as exc:
        return UnreadableInput(f"{item.name} could not be understood ({type(exc).__name__}: {exc}). That is a fault of planaloud: please report it.")


def own_words(option: Path | None) -> bytes | None:
    """The coach's own words as their file has them, for processes that cannot see it; ``None`` where there are none. Raises LexiconError."""
    from .vocabulary import guarded, load_lexicon, own_file

    load_lexicon(option)
    path = own_file(option)
    return guarded(path.read_bytes) if option is not None or path.exists() else None


@lru_cache(maxsize=1)
def lexicon_of(words: bytes | None) -> Lexicon:
    """The lexicon with own words that were read elsewhere, once for each process. What it is made of stays as long as that, and is not
    to be searched for rubbish again and again."""
    from lexicon import load

    if words is None:
        found = load()
    else:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder, "words.toml")
            path.write_bytes(words)
            found = load(path)
    gc.freeze()
    return found


def here(words: bytes | None) -> Maker:
    """One after the other in this process."""
    def make(items: Iterable[Item]) -> Generator[tuple[Item, Made], None, None]:
        for item in items:
            yield item, understood(item, words)

    return make


def in_processes(words: bytes | None, jobs: int) -> Maker:
    """In so many processes. What ends its process is complained of, and the others are done all the same."""
    def make(items: Iterable[Item]) -> Generator[tuple[Item, Made], None, None]:
        waiting = iter(items)
        while True:
            lost: list[Item] = []
            yield from _through_pool(waiting, lost, words, jobs, ahead=AHEAD)
            if not lost:
                return
            for item in lost:  # one of them ended a process: which one, shows when each has a process to itself
                guilty: list[Item] = []
                yield from _through_pool(iter([item]), guilty, words, 1, ahead=1)
                if guilty:
                    yield item, UnreadableInput(f"{item.name} ended the process that read it, maybe for want of memory. It was left out.")

    return make


def _through_pool(
    waiting: Iterator[Item], lost: list[Item], words: bytes | None, jobs: int, *, ahead: int,
) -> Iterator[tuple[Item, Made]]:
    """Work until nothing is left, or until a process is ended: ``lost`` is what was being worked on then."""
    pool = ProcessPoolExecutor(jobs, mp_context=get_context("spawn"), initializer=_leave_interrupts_alone)
    running: dict[Future[Made], Item] = {}
    try:
        while not lost:
            while len(running) < jobs * ahead and (item := next(waiting, None)) is not None:
                try:
                    running[pool.submit(understood, item, words)] = item
                except BrokenProcessPool:  # ended, and not yet told by those that were being worked on
                    lost.append(item)
                    break
            if not running:
                return
            for future in wait(running, return_when=FIRST_COMPLETED).done:
                item = running.pop(future)
                if isinstance(future.exception(), BrokenProcessPool):
                    lost.append(item)
                else:
                    yield item, future.result()
        lost += running.values()
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _leave_interrupts_alone() -> None:
    """Ctrl-C goes to every process of a terminal; the one that writes decides."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def made_with(words: bytes | None, *, files: int, jobs: int | None) -> Maker:
    """How so many files are best understood: in ``jobs`` processes, or where nobody says how many, in one a core, each with enough to do."""
    most = min(cores(), files // _WORTH) if jobs is None else min(jobs, files)
    return here(words) if most <= 1 else in_processes(words, most)


def cores() -> int:
    """As many as this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
