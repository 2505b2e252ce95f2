"""What was heard, as marks to be shown in the words of the talk, and what was said during an interval."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence

from .mentions import BARE, Heard
from .model import Interval, Mark, Plan, Source

_NO_COUNT = frozenset({BARE, "other", "countdown"})
"""Numbers that nothing around them gives a meaning, and counting aloud."""
_TIMES = frozenset({"work", "rest", "round_rest", "left"})
"""What is a time even without its unit: ``forty on, twenty off``."""


def marks_of(heard: Heard, plan: Plan) -> tuple[Mark, ...]:
    """Every movement, time, side, option and number heard, in the order of the talk."""
    found = [*_movements(heard), *_quantities(heard), *_sides(heard), *_options(plan)]
    return tuple(sorted(found, key=lambda mark: (mark.source.chars, mark.kind)))


def _movements(heard: Heard) -> Iterator[Mark]:
    """A word that is a movement only in the right company (``run``, ``hold``) is marked where a number says that it is one."""
    for m in heard.movements:
        if not m.match.everyday or m.label is not None:
            yield Mark(kind="movement", means=m.match.name, source=heard.words.source(m.first, m.end))


def _quantities(heard: Heard) -> Iterator[Mark]:
    for q in heard.quantities:
        means = "" if q.role == BARE else q.role
        if q.kind == "length" or q.role in _TIMES:
            yield Mark(kind="time", means=means, source=heard.words.source(q.first, q.end))
        elif q.role not in _NO_COUNT:
            yield Mark(kind="number", means=means, source=heard.words.source(q.first, q.end))


def _sides(heard: Heard) -> Iterator[Mark]:
    """But for ``the other side of the room``, which is heard to be none."""
    for p in heard.sides:
        if p.role != "none":
            yield Mark(kind="side", means=p.role, source=heard.words.source(p.first, p.end))


def _options(plan: Plan) -> Iterator[Mark]:
    """Those of the plan: what is heard opens an option in many places ("if you …") where none is given."""
    for block in plan.blocks:
        for movement in block.movements:
            for option in movement.options:
                yield from (Mark(kind="option", means=option.kind, source=source) for source in option.sources)


def said_during(heard: Heard, intervals: Sequence[Interval]) -> tuple[Source | None, ...]:
    """For each interval the words that begin in it; ``None`` where nobody spoke."""
    timed = [(t.t0, t.i) for t in heard.words.tokens if t.t0 is not None]
    timed.sort()      # stamps may run backwards
    starts = [at for at, _ in timed]
    out: list[Source | None] = []
    for interval in intervals:
        places = [i for _, i in timed[bisect_left(starts, interval.start) : bisect_left(starts, interval.end)]]
        out.append(heard.words.source(min(places), max(places) + 1) if places else None)
    return tuple(out)
