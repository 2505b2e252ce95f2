"""Scripts of classes: who says what when, and the caption files that people would have of it.

A ``.talk`` script sets the clock with lines like ``@5:40``; the lines below are spoken from there. After the time may stand what
begins on the class clock at that moment: ``work``, ``rest``, ``round_rest``, ``talk`` or ``end``, with ``r2`` (round), ``m3``
(movement), ``b1`` (block; the first if left out) and ``first`` or ``second`` (side). ``#`` opens a comment. The head of a script may
hold ``name: value`` lines.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from pathlib import Path

PACE = 2.7
"""Words a second of a coach in no hurry (common practice, no source)."""
FASTEST = 4.6
"""Words a second that nobody keeps up (common practice, no source): a script above it is faulty."""
_STATION = re.compile(r"@(?P<clock>\d+(?::\d{2}){1,2}(?:\.\d+)?)(?:\s+(?P<rest>.*))?")
_PLACE = re.compile(r"(?P<what>[rmb])(?P<n>\d+)")
_PLACES = {"r": "round", "m": "number", "b": "block"}
BEGINS = ("work", "rest", "round_rest", "talk", "end")


class ScriptFault(ValueError):
    """What is wrong in a script, with its line."""


@dataclass(frozen=True, slots=True)
class Spoken:
    """One word with its times, in seconds."""

    text: str
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Done:
    """A stretch of the class as it is delivered in a script."""

    kind: str
    start: float
    end: float
    block: int = 1
    round: int | None = None
    number: int | None = None
    side: str | None = None


@dataclass(frozen=True, slots=True)
class Script:
    words: tuple[Spoken, ...]
    delivered: tuple[Done, ...]
    """Work and rests only, in order."""


def read_script(path: Path) -> Script:
    """The script at ``path``. Raises ScriptFault."""
    return read_script_text(path.read_text(encoding="utf-8"), name=path.name)


def read_script_text(text: str, *, name: str = "script") -> Script:
    stretches: list[tuple[float, list[str]]] = []
    marks: list[Done] = []
    for n, line in enumerate(text.splitlines(), 1):
        line = line.strip()
        if not line or line.startswith("#"):
            continue
        station = _STATION.fullmatch(line)
        if not station:
            if stretches:
                stretches[-1][1].extend(line.split())
            elif not re.match(r"\w+: ", line):
                raise ScriptFault(f"{name}, line {n}: words before the first time.")
            continue
        at = _seconds(station["clock"])
        if stretches and at < stretches[-1][0]:
            raise ScriptFault(f"{name}, line {n}: the clock runs backwards.")
        words = (station["rest"] or "").split()
        if words and words[0] in BEGINS:
            marks.append(_mark(words, at, f"{name}, line {n}"))
            words = []
        stretches.append((at, words))
    words = _speak(stretches, name)
    over = max([w.end for w in words[-1:]] + [m.start for m in marks], default=0.0)
    ends = [m.start for m in marks[1:]] + [over]
    return Script(tuple(words), tuple(replace(m, end=end) for m, end in zip(marks, ends) if m.kind not in ("talk", "end")))


def _seconds(clock: str) -> float:
    total = 0.0
    for part in clock.split(":"):
        total = total * 60 + float(part)
    return total


def _mark(words: list[str], at: float, where: str) -> Done:
    kind, *places = words
    found: dict = {}
    for word in places:
        if place := _PLACE.fullmatch(word):
            found[_PLACES[place["what"]]] = int(place["n"])
        elif word in ("first", "second"):
            found["side"] = word
        else:
            raise ScriptFault(f"{where}: {word!r} is no place in a class.")
    return Done(kind, at, at, **found)


def _speak(stretches: list[tuple[float, list[str]]], name: str) -> list[Spoken]:
    """Each stretch at an ordinary pace, faster where the next one would come too soon."""
    out = []
    starts = [start for start, _ in stretches]
    for (start, words), next_start in zip(stretches, [*starts[1:], None]):
        if not words:
            continue
        step = 1 / PACE
        if next_start is not None:
            step = min(step, (next_start - start) / len(words))
        if step < 1 / FASTEST:
            raise ScriptFault(f"{name}: {len(words)} words at {start:g} s come faster than anybody speaks.")
        out += [Spoken(word, start + k * step, start + (k + 0.9) * step) for k, word in enumerate(words)]
    return out
