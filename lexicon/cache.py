"""The trade's vocabulary as it was made, kept between two calls: reading its files and making tries of them takes half a second.

It is a file in the user's cache folder, of the very data, code and Python that made it, and ignored where it is not. Nobody else can have
written it: folder and file are the user's own, and only the user may write there. Even so it can name nothing but the classes of this
package. Where any of that cannot be told, as on a system without owners, nothing is kept.
"""

from __future__ import annotations

import hashlib
import io
import os
import pickle
import stat
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pydantic

from .files import FOLDER
from .match import Trade

_DIGEST = hashlib.sha256
_OTHERS_WRITE = stat.S_IWGRP | stat.S_IWOTH


def cached(make: Callable[[], Trade]) -> Trade:
    """What ``make`` gives, from the file if that is still good, else made and put there. Raises what ``make`` raises, and nothing else."""
    folder = _folder()
    if folder is None:
        return make()
    file = folder / f"lexicon-{sys.version_info.major}.{sys.version_info.minor}.bin"
    made_of = _made_of()
    trade = _read(file, made_of)
    if trade is None:
        trade = make()
        _write(file, made_of, trade)
    return trade


def _folder() -> Path | None:
    """The folder of what can be made again; ``None`` where there is none that is surely the user's own."""
    if not hasattr(os, "geteuid"):
        return None
    told = os.environ.get("XDG_CACHE_HOME", "")
    try:
        if not Path(told).is_absolute():
            told = str(Path.home() / ("Library/Caches" if sys.platform == "darwin" else ".cache"))
        folder = Path(told, "planaloud")
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        return folder if _is_own(folder.lstat(), stat.S_ISDIR) else None
    except (OSError, RuntimeError, ValueError):
        return None


def _is_own(found: os.stat_result, kind: Callable[[int], bool]) -> bool:
    return kind(found.st_mode) and found.st_uid == os.geteuid() and not found.st_mode & _OTHERS_WRITE


def _made_of() -> bytes:
    """A digest of everything that what is made hangs on."""
    digest = _DIGEST(f"{sys.version} {pydantic.VERSION}".encode())
    for path in sorted([*FOLDER.glob("*.toml"), *Path(__file__).parent.glob("*.py")]):
        content = path.read_bytes()
        digest.update(f"\n{path.name} {len(content)}\n".encode())
        digest.update(content)
    return digest.digest()


class _Reader(pickle.Unpickler):
    """Knows the classes of this package and nothing else, so that what it reads can call nothing."""

    def find_class(self, module: str, name: str) -> Any:
        found = super().find_class(module, name) if module.startswith(f"{__package__}.") and "." not in name else None
        if not isinstance(found, type) or found.__module__ != module:
            raise pickle.UnpicklingError(f"{module}.{name} is no class of the lexicon")
        return found


def _read(file: Path, made_of: bytes) -> Trade | None:
    """What ``file`` holds, if it is the user's own, whole, and of ``made_of``."""
    try:
        with open(os.open(file, os.O_RDONLY | os.O_NOFOLLOW), "rb") as opened:
            if not _is_own(os.fstat(opened.fileno()), stat.S_ISREG):
                return None
            digest, content = opened.read(_DIGEST().digest_size), opened.read()
        if digest != _DIGEST(made_of + content).digest():
            return None
        found = _Reader(io.BytesIO(content)).load()
    except Exception:  # whatever is wrong with it, it can be made again
        return None
    return found if isinstance(found, Trade) else None


def _write(file: Path, made_of: bytes, trade: Trade) -> None:
    """Puts ``trade`` there, whole or not at all; where it cannot, it is made again the next time."""
    try:
        content = pickle.dumps(trade, protocol=5)
        handle, name = tempfile.mkstemp(dir=file.parent, prefix=".lexicon-")
    except (OSError, pickle.PicklingError):
        return
    try:
        with open(handle, "wb") as opened:
            opened.write(_DIGEST(made_of + content).digest() + content)
        os.replace(name, file)
    except OSError:
        Path(name).unlink(missing_ok=True)
