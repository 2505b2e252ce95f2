"""Programming over time: which movements, patterns and muscles the classes of the last weeks had, and which they did not.

Pure: the store hands in what it knows by name, and the uses of the weeks looked at.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import NamedTuple

from ..kinds import BlockKind, SideMode
from ..review.history import History, PushPull, SideCount, Together, Unused, Used
from ..review.shown import Period
from .rows import MOBILITY

_DIRECTIONS = ("horizontal-push", "vertical-push", "horizontal-pull", "vertical-pull")
_ENOUGH_TOGETHER = 3
"""Classes from which on movements that come together are a repeated pair: twice is chance. Common practice, no source."""


class Use(NamedTuple):
    """One numbered movement of one class, as far as its sides go, and one part of it. ``item`` tells movements of a class apart."""

    id: int
    day: date
    kind: BlockKind
    item: int
    base: str
    sides: SideMode
    first: str | None


@dataclass(frozen=True, slots=True)
class Known:
    """A movement that main blocks had at or before the last day looked at: what it trains, in how many classes, and when last."""

    patterns: frozenset[str]
    muscles: frozenset[str]
    classes: int
    last: date


def period(until: date, weeks: int) -> Period:
    """``weeks`` whole weeks, Monday to Sunday, of which the last has ``until`` in it. Raises ValueError: no week at all, or more than
    the calendar has."""
    if weeks < 1:
        raise ValueError("at least one week is needed")
    monday = until - timedelta(days=until.weekday())
    try:
        mondays = [monday - timedelta(weeks=n) for n in reversed(range(weeks))]
    except OverflowError:
        raise ValueError("so many weeks are more than the calendar has") from None
    return Period(since=mondays[0], until=until, weeks=mondays)


class _Tally:
    """Classes by name, each class once for each name."""

    def __init__(self) -> None:
        self.classes: dict[str, set[int]] = defaultdict(set)

    def used(self, span: Period, days: Mapping[int, date]) -> list[Used]:
        """Most classes first; of equals the one used last, then by name."""
        found = []
        for name, ids in self.classes.items():
            own = [days[number] for number in ids]
            found.append(Used(name=name, classes=len(ids), last=max(own), weeks=by_week(own, span)))
        return sorted(found, key=lambda u: (-u.classes, -u.last.toordinal(), u.name))


def by_week(days: Iterable[date], span: Period) -> list[int]:
    counts, start = [0] * len(span.weeks), span.since.toordinal()
    for day in days:
        counts[(day.toordinal() - start) // 7] += 1
    return counts


def look_back(
    span: Period, days: Mapping[int, date], uses: Sequence[Use], known: Mapping[str, Known], *,
    patterns: Sequence[str], muscles: Sequence[str], undated: int = 0, later: int = 0, latest: date | None = None,
) -> History:
    """The history of ``span``. ``days``: its classes; ``uses``: theirs; ``known``: every movement up to its last day, by base.
    ``patterns`` and ``muscles``: all there are, whether used or not; ``undated``, ``later`` and ``latest`` are handed on."""
    tallies: dict[str, _Tally] = defaultdict(_Tally)
    for use in uses:
        if use.kind != "main":
            tallies["frame"].classes[use.base].add(use.id)
            continue
        tallies["movements"].classes[use.base].add(use.id)
        trains = known[use.base]
        for pattern in patterns_of(trains):
            tallies["patterns"].classes[pattern].add(use.id)
        for muscle in trains.muscles:
            tallies["stretched" if MOBILITY in trains.patterns else "muscles"].classes[muscle].add(use.id)
    main = [u for u in uses if u.kind == "main"]

    def used(name: str) -> list[Used]:
        return tallies[name].used(span, days)

    return History(
        period=span, classes=len(days), undated=undated, later=later, latest=latest, per_week=by_week(days.values(), span),
        movements=used("movements"), frame=used("frame"), patterns=used("patterns"), muscles=used("muscles"), stretched=used("stretched"),
        movements_unused=_movements_unused(tallies["movements"], known),
        patterns_unused=_unused(patterns, tallies["patterns"], known, patterns_of),
        muscles_unused=_unused(muscles, tallies["muscles"], known, _worked),
        push_pull=_push_pull(main, known), sides=_sides(main), together=_together(tallies["movements"], days),
    )


def patterns_of(trains: Known) -> frozenset[str]:
    """A stretch in the shape of a hinge trains no hinge."""
    return frozenset({MOBILITY}) if MOBILITY in trains.patterns else trains.patterns


def _worked(trains: Known) -> frozenset[str]:
    return frozenset() if MOBILITY in trains.patterns else trains.muscles


def _movements_unused(tally: _Tally, known: Mapping[str, Known]) -> list[Unused]:
    """Those used most, first."""
    found = [(name, k) for name, k in known.items() if name not in tally.classes]
    found.sort(key=lambda item: (-item[1].classes, -item[1].last.toordinal(), item[0]))
    return [Unused(name=name, classes=k.classes, last=k.last) for name, k in found]


def _unused(names: Sequence[str], tally: _Tally, known: Mapping[str, Known],
            has: Callable[[Known], frozenset[str]]) -> list[Unused]:
    """In the order of ``names``."""
    last: dict[str, date] = {}
    for trains in known.values():
        for name in has(trains):
            last[name] = max(last.get(name, trains.last), trains.last)
    return [Unused(name=name, last=last.get(name)) for name in names if name not in tally.classes]


def _push_pull(main: Iterable[Use], known: Mapping[str, Known]) -> PushPull:
    """A chain of two presses is two; a stretch that reaches is none."""
    counts = Counter(d for use in main for d in _DIRECTIONS if d in patterns_of(known[use.base]))
    return PushPull(**{d.replace("-", "_"): counts[d] for d in _DIRECTIONS})


def _sides(main: Iterable[Use]) -> SideCount:
    """A chain has its sides once, however many its parts."""
    items = {(use.id, use.item): (use.sides, use.first) for use in main if use.sides != "both"}
    counts = Counter(
        "alternating" if sides == "alternating" else f"{first or 'unsaid'}_{'first' if sides == 'each' else 'only'}"
        for sides, first in items.values()
    )
    return SideCount(**counts)


def _together(tally: _Tally, days: Mapping[int, date]) -> list[Together]:
    """Movements with the very same classes. Largest number of classes first."""
    groups: dict[frozenset[int], list[str]] = defaultdict(list)
    for name, ids in tally.classes.items():
        if len(ids) >= _ENOUGH_TOGETHER:
            groups[frozenset(ids)].append(name)
    found = [
        Together(movements=sorted(names), classes=sorted(ids, key=lambda number: (days[number], number)), last=max(days[n] for n in ids))
        for ids, names in groups.items() if len(names) > 1
    ]
    return sorted(found, key=lambda t: (-len(t.classes), t.movements))
