"""Faults planted in scripts that have none: in what is said, from ``planted.toml``, and on the clock, by the marks of the script."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from ..captions import WRITERS
from ..make_samples import SAMPLES, SUFFIX
from ..talks import Done, read_script_text

GOLD = Path(__file__).resolve().parents[1] / "gold"
TABLE = Path(__file__).with_name("planted.toml")
SHAPES = ("json", "md", "srt")
_STATION = re.compile(r"^@(\d+):(\d{2})(?![:\d])", re.MULTILINE)
_TIMED = {"work": ("work-off", 0.35), "rest": ("rest-off", 1.2), "round_rest": ("round-rest-off", 0.6)}
_EACH = {"work": 4, "rest": 5, "round_rest": 1}         # every how manieth of a kind is stretched


@dataclass(frozen=True, slots=True)
class Planted:
    """A script with one fault; ``also`` are codes that tell of the same fault. ``name`` tells where and what."""

    script: str
    name: str
    code: str
    text: str
    corrected: bool = False
    also: frozenset[str] = frozenset()


def clean_scripts() -> list[str]:
    """The scripts in which nothing is wrong, by their gold."""
    return sorted(path.name.removesuffix(".gold.json") for path in GOLD.glob("*.gold.json")
                  if json.loads(path.read_text(encoding="utf-8")).get("findings") == [])


@cache
def script_text(name: str) -> str:
    return (GOLD / f"{name}.talk").read_text(encoding="utf-8")


def shape_of(script: str) -> str:
    """The kind of file that the sample of a script is; those that are none take turns."""
    of_samples = {s.script: s.shape for s in SAMPLES}
    return of_samples.get(script) or SHAPES[clean_scripts().index(script) % len(SHAPES)]


def as_file(text: str, shape: str) -> tuple[bytes, str]:
    """What stands in the file of a script, and the file's name."""
    return WRITERS[shape](read_script_text(text).words).encode(), f"said.{SUFFIX[shape]}"


# ---------------------------------------------------------------- what is said


def said_wrong() -> Iterator[Planted]:
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
                yield Planted(script, f"{script}, {row['code']}: {where}", row["code"], text, row.get("corrected", False), frozenset(row.get("also", ())))


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


# ---------------------------------------------------------------- on the clock


def timed_wrong(script: str) -> Iterator[Planted]:
    """Faults of the clock in a script with marks: intervals stretched, a movement skipped, a round left out, the end cut off."""
    text = script_text(script)
    done = read_script_text(text).delivered
    yield from _stretched(script, text, done)
    works = [d for d in done if d.kind == "work" and d.side != "second"]
    rounds = max((d.round or 0 for d in works), default=0)
    if rounds < 2:
        return
    for skipped, after in list(zip(works, works[1:]))[1::4]:
        if skipped.round == after.round:
            yield Planted(script, f"{script}, movement {skipped.number} of round {skipped.round} left out", "movement-skipped",
                          taken_out(text, skipped.start, after.start))
    first = next(d for d in works if d.round == rounds)
    start = max([d.start for d in done if d.kind in ("round_rest", "rest") and d.end == first.start], default=first.start)
    if rounds > 2:
        yield Planted(script, f"{script}, round {rounds} left out", "round-missing", taken_out(text, start, done[-1].end))
    yield Planted(script, f"{script}, ends before its last movement", "recording-ends-early", text[: _line_at(text, works[-1].start)])


def _stretched(script: str, text: str, done: tuple[Done, ...]) -> Iterator[Planted]:
    """What is said of the time left in a stretched interval is wrong with it."""
    seen = dict.fromkeys(_TIMED, 0)
    for d in done:
        code, share = _TIMED[d.kind]
        seen[d.kind] += 1
        if d.side is None and seen[d.kind] % _EACH[d.kind] == 0:
            by = max(8, round((d.end - d.start) * share))
            yield Planted(script, f"{script}, {d.kind} from {d.start:g} s is {by} s longer", code, shifted(text, d.end, by), also=frozenset({"countdown-off"}))


def shifted(text: str, start: float, by: float) -> str:
    """``text`` with everything from ``start`` (s) on ``by`` seconds later."""
    def later(found: re.Match) -> str:
        at = int(found[1]) * 60 + int(found[2])
        at += round(by) if at >= start else 0
        return f"@{at // 60}:{at % 60:02}"

    return _STATION.sub(later, text)


def taken_out(text: str, start: float, end: float) -> str:
    """``text`` without the time from ``start`` to ``end`` (s) and all that is said in it."""
    return shifted(text[: _line_at(text, start)] + text[_line_at(text, end) :], end, start - end)


def _line_at(text: str, at: float) -> int:
    """Where the station of a time begins. Raises ValueError where there is none."""
    for found in _STATION.finditer(text):
        if int(found[1]) * 60 + int(found[2]) == at:
            return found.start()
    raise ValueError(f"no words at {at:g} s")
