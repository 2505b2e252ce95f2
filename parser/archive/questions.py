"""What is asked of many classes at once: what the tables know, handed to the reckoning of history, habits and alike."""

from __future__ import annotations

import json
import sqlite3
from collections import defaultdict
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import zip_longest

from ..errors import ArchiveError
from ..model import Block, Finding
from ..review.alike import Alike, AlikeTo, Likeness
from ..review.change import Difference
from ..review.habits import Habits
from ..review.history import History
from . import habits as habit_rules
from .alike import Traits, likeness, traits_of
from .diff import SETTINGS, bare, changes
from .history import Known, Use, look_back, period
from .kept import Kept
from .store import Archive


@dataclass(frozen=True, slots=True)
class Group:
    """Which classes are looked at: those of a coach, at a place, with all of these tags. ``None`` and no tag: all."""

    coach: str | None = None
    place: str | None = None
    tags: tuple[str, ...] = ()


EVERYBODY = Group()


def _within(group: Group) -> tuple[str, list[str]]:
    """A condition on ``class``, and its values. Names are the same however they are spaced and in whatever case."""
    found = [(f"folded(class.{column}) = folded(?)", value) for column, value in (("coach", group.coach), ("place", group.place)) if value is not None]
    found += [("EXISTS (SELECT 1 FROM tag WHERE tag.class = class.id AND tag.tag = folded(?))", tag) for tag in group.tags]
    return "".join(f" AND {condition}" for condition, _ in found), [value for _, value in found]


# ---------------------------------------------------------------- programming over time


def history(
    archive: Archive, *, until: date, weeks: int, patterns: Sequence[str], muscles: Sequence[str], group: Group = EVERYBODY,
) -> History:
    """Programming over ``weeks`` whole weeks, of which the last has ``until`` in it. ``patterns`` and ``muscles``: all there are.
    Raises ValueError: no week at all, or more than the calendar has."""
    span = period(until, weeks)
    ask, (within, named) = archive.connection.execute, _within(group)
    first, last = span.since.isoformat(), until.isoformat()
    days = {
        number: date.fromisoformat(day)
        for number, day in ask(f"SELECT id, day FROM class WHERE day BETWEEN ? AND ?{within}", [first, last, *named])
    }
    undated, later, latest = ask(
        "SELECT count(*) FILTER (WHERE day IS NULL), count(*) FILTER (WHERE day > ?), max(day) FILTER (WHERE day <= ?)"
        f" FROM class WHERE true{within}", [last, last, *named]).fetchone()
    uses = ask(
        "SELECT use.class, use.kind, use.item, movement.base, use.sides, use.first FROM class"
        f" JOIN use ON use.class = class.id JOIN movement ON movement.id = use.movement WHERE class.day BETWEEN ? AND ?{within}",
        [first, last, *named])
    return look_back(
        span, days, [Use(number, days[number], kind, item, base, sides, side) for number, kind, item, base, sides, side in uses],
        _known(ask, last, within, named), patterns=patterns, muscles=muscles,
        undated=undated, later=later, latest=latest and date.fromisoformat(latest),
    )


_Ask = Callable[..., sqlite3.Cursor]


def _known(ask: _Ask, until: str, within: str, named: Sequence[str]) -> dict[str, Known]:
    """Every movement of a main block up to ``until``. What it trains is as the newest class has it."""
    rows = ask(
        "SELECT movement.base, movement.patterns, movement.muscles, count(DISTINCT use.class), max(class.day) FROM movement"
        " JOIN use ON use.movement = movement.id JOIN class ON class.id = use.class"
        f" WHERE use.kind = 'main' AND class.day <= ?{within} GROUP BY movement.id ORDER BY max(class.day)", [until, *named])
    known: dict[str, Known] = {}
    for base, patterns, muscles, count, last in rows:
        before = known[base].classes if base in known else 0
        known[base] = Known(frozenset(json.loads(patterns)), frozenset(json.loads(muscles)), before + count, date.fromisoformat(last))
    return known


# ---------------------------------------------------------------- what goes wrong again


def habits(archive: Archive, *, about: Mapping[str, str], by_clock: Collection[str], group: Group = EVERYBODY) -> Habits:
    """The findings of all classes, code by code. ``about``: what each code means; ``by_clock``: codes that only a followed recording can
    have."""
    ask, (within, named) = archive.connection.execute, _within(group)
    classes = [
        habit_rules.Audited(number, day and date.fromisoformat(day), bool(followed))
        for number, day, followed in ask(f"SELECT id, day, followed FROM class WHERE audited{within}", named)
    ]
    known = {c.id for c in classes}
    return habit_rules.habits(classes, [f for f in _found(ask) if f.id in known], about=about, by_clock=by_clock)


def _found(ask: _Ask) -> Iterator[habit_rules.Found]:
    concerned: dict[tuple[int, int, int], list[tuple[str, str]]] = defaultdict(list)
    for number, block, movement, base, patterns in ask(
        "SELECT DISTINCT use.class, use.block, use.number, movement.base, movement.patterns FROM finding"
        " JOIN use ON use.class = finding.class AND use.block = finding.block AND use.number = finding.number"
        " JOIN movement ON movement.id = use.movement"):
        concerned[number, block, movement].append((base, patterns))
    rows = ask("SELECT class, place, code, severity, corrected, message, at, quote, over, block, number FROM finding ORDER BY class, place")
    for number, place, code, severity, corrected, message, at, quote, over, block, movement in rows:
        parts = concerned.get((number, block, movement), [])
        yield habit_rules.Found(
            number, place, code, severity, bool(corrected), message, at, quote, tuple(base for base, _ in parts),
            tuple(p for _, patterns in parts for p in json.loads(patterns)), over,
        )


# ---------------------------------------------------------------- classes side by side


def alike(archive: Archive, number: int, *, limit: int) -> AlikeTo:
    """The ``limit`` classes most like ``number``, those with nothing in common left out. Raises ArchiveError where there is no such class."""
    one = archive.get(number)
    own = traits_of(one.plan)
    others = [(likeness(own, traits), other) for other, traits in _traits(archive) if other != number]
    best = sorted(((found, other) for found, other in others if found.whole), key=lambda pair: (-pair[0].whole, -pair[1]))[:limit]
    return AlikeTo(shown=one.shown, compared=len(others), alike=[_side_by_side(one, archive.get(other), found) for found, other in best])


def _traits(archive: Archive) -> Iterator[tuple[int, Traits]]:
    """What every class is compared by, as ``traits_of`` its plan."""
    ask = archive.connection.execute
    movements: dict[int, set[str]] = defaultdict(set)
    patterns: dict[int, set[str]] = defaultdict(set)
    known = {row[0]: (row[1], json.loads(row[2])) for row in ask("SELECT id, base, patterns FROM movement")}
    for number, movement in ask("SELECT DISTINCT class, movement FROM use WHERE kind = 'main'"):
        base, trains = known[movement]
        movements[number].add(base)
        patterns[number].update(trains)
    equipment: dict[int, set[str]] = defaultdict(set)
    for number, name in ask("SELECT class, name FROM equipment WHERE NOT optional"):
        equipment[number].add(name)
    blocks: dict[int, list[tuple[str | None, tuple[float | None, ...]]]] = defaultdict(list)
    for number, format, *timing in ask("SELECT class, format, work, rest, round_rest, rounds, interval, length FROM block ORDER BY class, block"):
        blocks[number].append((format, tuple(timing)))
    for number, length in ask("SELECT id, length FROM class"):
        yield number, Traits(
            movements=frozenset(movements[number]), patterns=frozenset(patterns[number]),
            formats=tuple(sorted(format or "" for format, _ in blocks[number])), timing=tuple(timing for _, timing in blocks[number]),
            length=length, equipment=frozenset(equipment[number]),
        )


def _side_by_side(one: Kept, other: Kept, found: Likeness) -> Alike:
    mine, its = traits_of(one.plan), traits_of(other.plan)
    blocks = zip_longest(*([bare(b) for b in kept.plan.mains] for kept in (one, other)))
    return Alike(
        shown=other.shown, likeness=found, shared=sorted(mine.movements & its.movements), more=sorted(its.movements - mine.movements),
        lacks=sorted(mine.movements - its.movements), settings=[(ours, theirs) for ours, theirs in blocks if _set_otherwise(ours, theirs)],
        equipment_more=sorted(its.equipment - mine.equipment), equipment_lacks=sorted(mine.equipment - its.equipment),
    )


def _set_otherwise(mine: Block | None, its: Block | None) -> bool:
    return mine is None or its is None or any(getattr(mine, name) != getattr(its, name) for name in SETTINGS if name != "label")


def difference(archive: Archive, before: int, after: int) -> Difference:
    """What changed from one class to another. Raises ArchiveError where one of them is not kept."""
    return _difference(archive.get(before), archive.get(after))


def revision(archive: Archive, number: int, *, since: int | None = None) -> Difference:
    """What changed in a class since its version ``since``, or the one before that in force. Raises ArchiveError where there is no such
    class or version."""
    now = archive.get(number)
    if since is None:
        since = now.version.number - 1
        if not since:
            raise ArchiveError(f"Class {number} has no version before this one. Name another class to hold against it.")
    return _difference(archive.get(number, since), now, versions=True)


def _difference(one: Kept, other: Kept, *, versions: bool = False) -> Difference:
    before, after = (
        replace(kept.shown, version=kept.version.number) if versions else kept.shown for kept in (one, other)
    )
    return Difference(before=before, after=after, changes=changes(one.plan, other.plan, _findings(one), _findings(other)))


def _findings(kept: Kept) -> Sequence[Finding]:
    return kept.report.findings if kept.report else ()
