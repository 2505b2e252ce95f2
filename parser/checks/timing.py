"""What the clock rules share: when an interval is off, what announced it, and the stretch it took."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..clock import clock
from ..model import Interval, Source
from .rule import Case
from .timing_contradiction import check as contradictions

LEAST_S, SHARE = 3.0, 0.10
"""A clock rule speaks from the larger of the two on, with the uncertainty added. Common practice, no source."""
_TRADED_S = 8.0
_LIKELY = {"work": (0.4, 2.0), "rest": (0.25, 3.0), "round_rest": (0.25, 3.0), "block_rest": (0.25, 3.0)}
_QUOTED = 8


@dataclass(frozen=True, slots=True)
class Off:
    """An interval that departs from its announced length by ``by`` seconds (too long: positive)."""

    place: int
    interval: Interval
    by: float


def tolerance(planned_s: float, uncertainty_s: float) -> float:
    return max(LEAST_S, SHARE * planned_s) + uncertainty_s


def off_intervals(case: Case, *kinds: str) -> Iterator[Off]:
    """The intervals of these kinds that are off beyond tolerance, in blocks that the talk follows closely."""
    rows = case.followed.intervals
    always = _always_off(rows)
    unsure = _contradicted(case)
    for place, now in enumerate(rows):
        if now.kind not in kinds or now.planned_s is None or now.block not in case.followed.trusted or now.block in unsure or _ends_anywhere(case, now):
            continue
        by = now.end - now.start - now.planned_s
        if _unlikely(now) or (now.kind, now.number) in always or _fits_another(case, now):
            continue
        if abs(by) > tolerance(now.planned_s, now.uncertainty_s) and not _fills_with_other_side(rows, place) and not _traded(rows, place, by):
            yield Off(place, now, round(by, 1))


def _contradicted(case: Case) -> set[int]:
    """The blocks whose times were said twice and differently: which of them holds is not for the clock to say, and that is one fault."""
    return {f.block for f in contradictions(case) if f.block is not None}


def _fits_another(case: Case, now: Interval) -> bool:
    """As long as another length that was said for the same kind in its block: which of them holds here is not sure."""
    stretches = [s for s in case.layout.stretches if s.kind == "main"]
    said = [case.heard.quantities[i] for i in (stretches[now.block - 1].settings if now.block <= len(stretches) else ())]
    return any(q.role == now.kind and q.single and q.single != now.planned_s and abs(now.end - now.start - q.single) <= LEAST_S + now.uncertainty_s
               for q in said)


def _ends_anywhere(case: Case, interval: Interval) -> bool:
    """A piece for time is over when it is done; its cap is no length."""
    return case.plan.mains[interval.block - 1].format == "for_time"


def _unlikely(now: Interval) -> bool:
    """So far off that the plan was rather misunderstood than the clock misread. Common experience, no source."""
    low, high = _LIKELY[now.kind]
    return now.planned_s is not None and not low <= (now.end - now.start) / now.planned_s <= high


def _always_off(rows: tuple[Interval, ...]) -> set[tuple[str, int | None]]:
    """``(kind, number)`` of what is off by the same each time it comes: then its length was understood wrongly."""
    lengths: dict[tuple[str, int | None], list[tuple[int | None, float, float]]] = {}
    for i in rows:
        if i.planned_s is not None and i.round is not None:
            lengths.setdefault((i.kind, i.number), []).append((i.round, i.end - i.start, i.planned_s))
    out = set()
    for key, found in lengths.items():
        off = [(r, length) for r, length, planned in found if abs(length - planned) > tolerance(planned, 0.0)]
        alike = off and max(length for _, length in off) - min(length for _, length in off) <= 2 * LEAST_S
        if alike and len({r for r, _ in off}) > 1 and 2 * len(off) > len(found):
            out.add(key)
    return out


def pair_of_sides(rows: tuple[Interval, ...], place: int) -> tuple[Interval, Interval] | None:
    """The two sides of the work that interval ``place`` is the first or the second side of, one right after the other."""
    now = rows[place]
    other = place + 1 if now.side == "first" else place - 1
    if now.side is None or not 0 <= other < len(rows):
        return None
    a, b = (now, rows[other]) if now.side == "first" else (rows[other], now)
    same = (a.block, a.round, a.number, a.side, b.side) == (b.block, b.round, b.number, "first", "second")
    return (a, b) if same and a.end == b.start else None


def uneven_sides(case: Case) -> Iterator[tuple[Interval, Interval]]:
    """The two sides of one work where one got more time than the other, beyond tolerance."""
    rows, unsure = case.followed.intervals, _contradicted(case)
    for k, first in enumerate(rows):
        if first.side != "first" or first.block not in case.followed.trusted or first.block in unsure:
            continue
        second = next((r for r in rows[k + 1 : k + 3] if r.side == "second"), None)
        if second is None or (second.block, second.round, second.number) != (first.block, first.round, first.number):
            continue
        if any(i.planned_s is not None and _unlikely(i) for i in (first, second)):
            continue
        limits = [tolerance(i.planned_s, i.uncertainty_s) for i in (first, second) if i.planned_s is not None]
        off = [abs(i.end - i.start - i.planned_s) for i in (first, second) if i.planned_s is not None]
        apart = abs((first.end - first.start) - (second.end - second.start))
        if limits and apart > max(limits) and any(o > limit for o, limit in zip(off, limits)):
            yield first, second


def _fills_with_other_side(rows: tuple[Interval, ...], place: int) -> bool:
    """The two sides are uneven and fill their work time: that is one fault, and of the sides."""
    pair = pair_of_sides(rows, place)
    if pair is None or pair[0].planned_s is None or pair[1].planned_s is None:
        return False
    whole = pair[0].planned_s + pair[1].planned_s
    return abs(pair[1].end - pair[0].start - whole) <= tolerance(whole, max(p.uncertainty_s for p in pair))


def _traded(rows: tuple[Interval, ...], place: int, by: float) -> bool:
    """One edge called a little early or late: what this interval lacks, its neighbour has."""
    for other in (place - 1, place + 1):
        planned = rows[other].planned_s if 0 <= other < len(rows) else None
        if planned is not None:
            over = rows[other].end - rows[other].start - planned
            if over * by < 0 and abs(over + by) <= LEAST_S and abs(by) < _TRADED_S:
                return True
    return False


def stretch(case: Case, start: float, end: float) -> Source | None:
    """The stretch of the recording from ``start`` to ``end`` (s), quoting the first words said in it."""
    tokens = case.heard.words.tokens
    inside = [t.i for t in tokens if t.t0 is not None and start - 0.5 <= t.t0 < end]
    if not inside:
        # nobody spoke: the last words before it
        inside = [t.i for t in tokens if t.t0 is not None and t.t0 < start][-_QUOTED:]
    if not inside:
        return None
    first = inside[0]
    words = case.source((first, min(inside[-1] + 1, first + _QUOTED)))
    return words.model_copy(update={"start": round(start, 2), "end": round(end, 2)})


def announced(case: Case, block: int, value: float | None, *roles: str) -> Source | None:
    """Where ``value`` was announced for the block, in one of these roles; the first time it was said."""
    if value is None:
        return None
    stretches = [s for s in case.layout.stretches if s.kind == "main"]
    own = set(stretches[block - 1].settings) if block <= len(stretches) else set()
    said = [(n not in own, q.first, q) for n, q in enumerate(case.heard.quantities) if q.role in roles and q.single == value]
    return case.source(min(said, key=lambda row: row[:2])[2].span) if said else None


def sources(*found: Source | None) -> list[Source]:
    return [s for s in found if s is not None]


def where(case: Case, interval: Interval) -> str:
    """``round 2, movement 4 (push-up)`` as far as the interval has them."""
    blocks = case.plan.mains
    parts = []
    if len(blocks) > 1:
        parts.append(f"block {interval.block}")
    if interval.round is not None and blocks[interval.block - 1].rounds != 1:
        parts.append(f"round {interval.round}")
    if interval.number is not None:
        parts.append(f"movement {interval.number} ({movement_name(case, interval.block, interval.number)})")
    if interval.side is not None:
        parts.append(f"{interval.side} side")
    return ", ".join(parts)


def movement_name(case: Case, block: int, number: int | None) -> str:
    movement = None if number is None else case.plan.mains[block - 1].movement(number)
    return movement.name if movement else "?"


def took(off: Off) -> str:
    """``46 s of 60 s, from 18:26``."""
    now = off.interval
    return f"{now.end - now.start:.0f} s instead of {now.planned_s:g} s, from {clock(now.start)}"
