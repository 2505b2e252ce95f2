"""What goes wrong again and again: the findings of the classes kept, code by code, and whether it is getting better.

Pure: the store hands in its classes and their findings.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from statistics import median

from ..kinds import Severity
from ..model import Finding, Interval
from ..review.habits import Habit, Habits, Moment, Off, Share, Stretch

ENOUGH = 6
"""Dated classes from which on an older half is held against a newer: three against three is little enough. Our own choice, no source."""
_MEASURED = {"work-off": "work", "rest-off": "rest", "round-rest-off": "round_rest"}
"""Codes of a stretch that took another time than announced, and which stretch."""
_SAME_MOMENT_S = 0.05
"""Moments in a finding are rounded to hundredths."""
_RANK = {"note": 0, "warning": 1, "error": 2}
_NO_HALVES = (None, None)


@dataclass(frozen=True, slots=True)
class Audited:
    """A class whose report is kept. ``followed``: its work was followed on a recording's clock."""

    id: int
    day: date | None
    followed: bool


@dataclass(frozen=True, slots=True)
class Found:
    """A finding of one class, ``place`` in its report, the first words it rests on, and the bases and patterns of the movement it is about."""

    id: int
    place: int
    code: str
    severity: Severity
    corrected: bool
    message: str
    at: float | None
    quote: str
    movements: tuple[str, ...] = ()
    patterns: tuple[str, ...] = ()
    over_s: float | None = None
    """How much longer than announced the stretch took that it is about; ``None`` where it is about no such length."""


def over(finding: Finding, delivered: Iterable[Interval]) -> float | None:
    """How much longer than announced, in seconds, the stretch took that ``finding`` is about: the one that its first words are said in.
    ``None`` for a finding that measures none."""
    kind = _MEASURED.get(finding.code)
    start = finding.said[0].start if finding.said else None
    if kind is None or start is None:
        return None
    found = [i for i in delivered if i.kind == kind and i.planned_s is not None and abs(i.start - start) <= _SAME_MOMENT_S]
    return found[0].end - found[0].start - (found[0].planned_s or 0.0) if len(found) == 1 else None


def habits(classes: Sequence[Audited], findings: Iterable[Found], *, about: Mapping[str, str], by_clock: Collection[str]) -> Habits:
    """``about``: what each code means, in a sentence; ``by_clock``: codes that only a followed recording can have."""
    by_code: dict[str, list[Found]] = defaultdict(list)
    for finding in findings:
        by_code[finding.code].append(finding)
    dated = sorted((c for c in classes if c.day is not None), key=lambda c: (c.day, c.id))
    halves = _halves(dated)
    days = {c.id: c.day for c in classes}
    wrong = {f.id for found in by_code.values() for f in found}
    made = [_habit(code, found, classes, halves, days, about, by_clock) for code, found in by_code.items()]
    earlier, later = [_stretch(half) for half in halves] or _NO_HALVES
    return Habits(
        classes=len(classes), dated=len(dated), followed=sum(c.followed for c in classes), clean=sum(c.id not in wrong for c in classes),
        earlier=earlier, later=later,
        habits=sorted(made, key=lambda h: (-h.overall.found, -_RANK[h.severity], h.code)),
    )


def _halves(dated: Sequence[Audited]) -> tuple[Sequence[Audited], ...]:
    """The older and the newer half, without the one in the middle of an odd number; none where they are too few."""
    if len(dated) < ENOUGH:
        return ()
    half = len(dated) // 2
    return dated[:half], dated[-half:]


def _stretch(half: Sequence[Audited]) -> Stretch:
    days = [c.day for c in half if c.day is not None]
    return Stretch(since=days[0], until=days[-1], classes=len(half))


def _habit(code: str, found: Sequence[Found], classes: Sequence[Audited], halves: Sequence[Sequence[Audited]],
           days: Mapping[int, date | None],
           about: Mapping[str, str], by_clock: Collection[str]) -> Habit:
    having = {f.id for f in found}

    def share(group: Iterable[Audited]) -> Share:
        could = [c for c in group if code not in by_clock or c.followed or c.id in having]
        return Share(found=sum(c.id in having for c in could), classes=len(could))

    earlier, later = [share(half) for half in halves] or _NO_HALVES
    return Habit(
        code=code, about=about.get(code, ""), severity=max((f.severity for f in found), key=_RANK.__getitem__),
        overall=share(classes), earlier=earlier, later=later,
        longer=_off([f.over_s for f in found if f.over_s is not None and f.over_s > 0]),
        shorter=_off([-f.over_s for f in found if f.over_s is not None and f.over_s < 0]), findings=len(found), corrected=sum(f.corrected for f in found),
        movements=_most(m for f in found for m in {*f.movements}), patterns=_most(p for f in found for p in {*f.patterns}),
        moments=[
            Moment(id=f.id, place=f.place, day=days[f.id], at=f.at, quote=f.quote, message=f.message)
            for f in sorted(found, key=lambda f: _newest_first(days[f.id], f))
        ],
    )


def _off(seconds: Sequence[float]) -> Off | None:
    return Off(count=len(seconds), by_s=round(median(seconds), 1)) if seconds else None


def _newest_first(day: date | None, found: Found) -> tuple[float, ...]:
    """Within a class in the order of the talk. What has no day, or no time, comes last."""
    return day is None, -(day or date.min).toordinal(), -found.id, found.at is None, found.at or 0.0


def _most(names: Iterable[str]) -> list[tuple[str, int]]:
    return sorted(Counter(names).items(), key=lambda item: (-item[1], item[0]))
