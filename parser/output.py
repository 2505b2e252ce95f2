"""Where a command's output goes: to standard output, or to a file that is written whole or not at all."""

from __future__ import annotations

import os
import re
import shutil
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path

from .errors import OutputRefused
from .render.look import Look

_WIDEST = 100
"""A line of text is hard to follow beyond this, however wide the terminal."""


def look(target: Path | None) -> Look:
    """Bold and dim for a terminal only; a file, or the next program in a pipe, gets plain text of a fixed width."""
    if target is not None or not sys.stdout.isatty() or os.environ.get("TERM") == "dumb":
        return Look()
    return Look(width=max(40, min(_WIDEST, shutil.get_terminal_size().columns)), styled=True)


def check_target(target: Path | None, *, force: bool, inputs: Sequence[str] = ()) -> None:
    """Refuse before the work what would be refused after it. Raises OutputRefused."""
    if target is None:
        return
    real = Path(os.path.realpath(target))
    if not real.parent.is_dir():
        raise OutputRefused(f"There is no folder {real.parent} to write {target.name} into. Make it first.")
    if any(_same_file(real, Path(name)) for name in inputs if name != "-"):
        raise OutputRefused(f"{target} is what is being read. Choose another name for the output.")
    if real.exists() and not real.is_file():
        raise OutputRefused(f"{target} is not an ordinary file. Choose another name for the output.")
    if real.exists() and not force:
        raise OutputRefused(f"{target} is there already. Add --force to write over it, or choose another name.")


def _same_file(one: Path, other: Path) -> bool:
    try:
        return one.samefile(other)
    except OSError:
        return False


def write_file(text: str | Iterable[str], target: Path, *, force: bool) -> None:
    """Write ``text``, at once or piece by piece, as UTF-8 beside ``target`` and move it there in one step. Raises OutputRefused."""
    check_target(target, force=force)
    real = Path(os.path.realpath(target))
    part = real.with_name(f".{real.name}.{os.getpid()}.part")
    try:
        with open(part, "x", encoding="utf-8", newline="\n") as out:
            out.writelines([text] if isinstance(text, str) else text)
            out.flush()
            os.fsync(out.fileno())
        if real.exists():
            shutil.copymode(real, part)
        _move(part, real, force=force)
    except OSError as exc:
        raise OutputRefused(f"{target} cannot be written: {exc.strerror or exc}. Nothing was changed.") from exc
    finally:
        part.unlink(missing_ok=True)


def _move(part: Path, target: Path, *, force: bool) -> None:
    """A file that came to be since the check is not written over either: a hard link refuses where a rename would not."""
    if force:
        os.replace(part, target)
        return
    try:
        os.link(part, target)
    except FileExistsError:
        raise
    except OSError:  # a file system without hard links: take the name first, which fails if it is taken
        open(target, "x").close()
        os.replace(part, target)


_PAGES = ".planaloud-pages"
"""In a folder of pages: the names of the files that were written there, so that no other folder is ever taken for one."""
_PLAIN = re.compile(r"[a-z0-9][a-z0-9-]*\.[a-z]+")


def check_folder(target: Path, *, force: bool) -> None:
    """Refuse before the work what would be refused after it. Raises OutputRefused."""
    real = Path(os.path.realpath(target))
    if not real.parent.is_dir():
        raise OutputRefused(f"There is no folder {real.parent} to write {target.name} into. Make it first.")
    if not real.exists():
        return
    if not real.is_dir():
        raise OutputRefused(f"{target} is no folder. Choose another name for the pages.")
    held = {entry.name for entry in real.iterdir()}
    if not held:
        return
    if _PAGES not in held:
        raise OutputRefused(f"{target} holds other things than pages written before. Choose a new or an empty folder.")
    if own := held - {_PAGES, *(real / _PAGES).read_text(encoding="utf-8").split()}:
        raise OutputRefused(f"{target} also holds {min(own)}, which is none of the pages. Take it away, or choose another folder.")
    if not force:
        raise OutputRefused(f"{target} has pages already. Add --force to write them anew, or choose another name.")


def write_folder(files: Iterable[tuple[str, str]], target: Path, *, force: bool) -> int:
    """Write each ``(name, text)`` as UTF-8 into a folder beside ``target`` and move it there as a whole; how many there are. A folder
    that is replaced is put aside until then. Raises OutputRefused."""
    check_folder(target, force=force)
    real = Path(os.path.realpath(target))
    part, aside = (real.with_name(f".{real.name}.{os.getpid()}.{end}") for end in ("part", "aside"))
    try:
        part.mkdir()
        names = [_write_into(part, name, text) for name, text in files]
        _write_into(part, _PAGES, "".join(f"{name}\n" for name in names), plain=False)
        check_folder(target, force=force)
        _exchange(part, real, aside)
    except OSError as exc:
        raise OutputRefused(f"{target} cannot be written: {exc.strerror or exc}. Nothing was changed.") from exc
    finally:
        shutil.rmtree(part, ignore_errors=True)
    return len(names)


def _exchange(part: Path, real: Path, aside: Path) -> None:
    """Put ``part`` where ``real`` is, which goes only once that is done."""
    if real.exists():
        os.replace(real, aside)
    try:
        os.replace(part, real)
    except BaseException:
        if aside.exists():
            os.replace(aside, real)
        raise
    shutil.rmtree(aside, ignore_errors=True)


def _write_into(folder: Path, name: str, text: str, *, plain: bool = True) -> str:
    """A name that could lead anywhere else is a fault of ours, and not written."""
    if plain and not _PLAIN.fullmatch(name):
        raise ValueError(f"{name!r} is no plain name of a file.")
    with open(folder / name, "x", encoding="utf-8", newline="\n") as out:
        out.write(text)
    return name


def print_text(text: str) -> None:
    """Write to standard output. A reader that has gone away (``| head``) is no fault of the call: end quietly."""
    try:
        sys.stdout.write(text)
        sys.stdout.flush()
    except BrokenPipeError:
        # What is still buffered would fail again when Python closes the stream at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def emit(text: str | Iterable[str], target: Path | None, *, force: bool) -> None:
    if target is None:
        for piece in [text] if isinstance(text, str) else text:
            print_text(piece)
    else:
        write_file(text, target, force=force)
