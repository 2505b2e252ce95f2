"""Faults planted in scripts that have none: in what is said, from ``planted.toml``, and on the clock, by the marks of the script."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from ..captions import WRITERS
from ..talks import Script, read_script_text

GOLD = Path(__file__).resolve().parents[1] / "gold"
TABLE = Path(__file__).with_name("planted.toml")
_CLOCK = re.compile(r"@(\d+):(\d{2})")


@dataclass(frozen=True, slots=True)
class Planted:
    """A script with one fault. ``name`` tells where and what."""

    script: str
    name: str
    code: str
    corrected: bool
    also: frozenset[str]
    text: str

    def done(self) -> Script:
        return read_script_text(self.text, name=self.name)


def as_file(script: Script, shape: str) -> bytes:
    return WRITERS[shape](script.words).encode()


@lru_cache(maxsize=None)
def script_text(name: str) -> str:
    return (GOLD / f"{name}.talk").read_text(encoding="utf-8")


def planted() -> Iterator[Planted]:
    """Every fault of the table in its script."""
    for script, rows in tomllib.loads(TABLE.read_text(encoding="utf-8")).items():
        for row in rows:
            for instead in row.get("instead", [None]):
                text = script_text(script)
                for say, other in ([(row["say"], instead)] if instead is not None else []) + row.get("with", []):
                    text = swapped(text, say, other)
                if "cut" in row:
                    text = without(text, *row["cut"])
                where = instead if instead is not None else "left out from {} to {}".format(*row["cut"])
                yield Planted(script, f"{script}, {row['code']}: {where}", row["code"], row.get("corrected", False), frozenset(row.get("also", ())), text)


def swapped(text: str, say: str, other: str) -> str:
    """``text`` with ``other`` for ``say``, wherever its lines break. Raises ValueError unless it is said once."""
    made, times = re.subn(r"\s+".join(map(re.escape, say.split())), lambda _: other, text)
    if times != 1:
        raise ValueError(f"{say!r} is said {times} times")
    return made


def without(text: str, first: str, end: str) -> str:
    """``text`` with nothing spoken from the time ``first`` to the time ``end``. Raises ValueError where the script has no such time."""
    a, b = (re.search(rf"^@{re.escape(at)}(?![:\d]).*$", text, re.MULTILINE) for at in (first, end))
    if a is None or b is None or a.start() >= b.start():
        raise ValueError(f"no words between {first} and {end}")
    return text[: a.start()] + text[b.start() :]
