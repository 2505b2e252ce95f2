"""Where a command's output goes: to standard output, or to a file that is written whole or not at all."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Sequence
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


def write_file(text: str, target: Path, *, force: bool) -> None:
    """Write ``text`` as UTF-8 beside ``target`` and move it there in one step. Raises OutputRefused."""
    check_target(target, force=force)
    real = Path(os.path.realpath(target))
    part = real.with_name(f".{real.name}.{os.getpid()}.part")
    try:
        with open(part, "x", encoding="utf-8", newline="\n") as out:
            out.write(text)
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


def print_text(text: str) -> None:
    """Write to standard output. A reader that has gone away (``| head``) is no fault of the call: end quietly."""
    try:
        sys.stdout.write(text)
        sys.stdout.flush()
    except BrokenPipeError:
        # What is still buffered would fail again when Python closes the stream at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def emit(text: str, target: Path | None, *, force: bool) -> None:
    if target is None:
        print_text(text)
    else:
        write_file(text, target, force=force)
