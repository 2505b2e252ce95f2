"""The arithmetic of a class: how long its blocks take by what was announced."""

from __future__ import annotations

from collections.abc import Sequence

from ..model import Block, Totals

Range = tuple[float | None, float | None]


def _low(value) -> float | None:
    return value[0] if isinstance(value, tuple) else value


def _high(value) -> float | None:
    return value[1] if isinstance(value, tuple) else value


def block_length(block: Block, *, replaces: bool | None = None) -> Range:
    """``(low, high)`` seconds of one block. ``replaces``: whether the round rest takes the place of the short rest after a
    round's last movement; ``None`` where the words leave it open."""
    if block.format == "amrap":
        return _low(block.duration_s), _high(block.duration_s)
    if block.format == "for_time":
        return None, _high(block.duration_s)
    if block.format == "emom":
        return _emom(block)
    if block.time_scheme:
        rests = (len(block.time_scheme) - 1) * (_low(block.rest_s) or 0)
        return sum(block.time_scheme) + rests, sum(block.time_scheme) + rests
    if block.work_s is not None and block.rounds is not None:
        low = interval_length(block, _low, replaces=True if replaces is None else replaces)
        high = interval_length(block, _high, replaces=False if replaces is None else replaces)
        return low, high
    held = _held(block)
    if held is not None:
        return held
    if block.duration_s is not None:
        return _low(block.duration_s), _high(block.duration_s)
    if block.format == "sets" and block.rounds is not None and (block.round_rest_s or block.rest_s):
        n, r = max(1, len(block.movements)), _low(block.rounds)
        rests = (r - 1) * (_low(block.round_rest_s) or 0) + r * (n - 1) * (_low(block.rest_s) or 0)
        return rests, None
    return None, None


def _emom(block: Block) -> Range:
    if block.interval_s and block.rounds is not None and block.movements:
        n = len(block.movements)
        return n * block.interval_s * _low(block.rounds), n * block.interval_s * _high(block.rounds)
    return _low(block.duration_s), _high(block.duration_s)


def interval_length(block: Block, end, *, replaces: bool) -> float:
    """One end of the range of an interval block, by the formulas of the plan format."""
    n, r, work = max(1, len(block.movements)), end(block.rounds), end(block.work_s)
    rest, round_rest = end(block.rest_s) or 0, end(block.round_rest_s)
    if n == 1:
        return r * work + (r - 1) * rest
    inside = n * work * r + (n - 1) * rest * r
    if round_rest is None:
        return inside + (r - 1) * rest
    return inside + (r - 1) * round_rest + (0 if replaces else (r - 1) * rest)


def _held(block: Block) -> Range | None:
    """Movements with seconds of their own, once or a number of rounds through."""
    rounds = block.rounds if block.rounds is not None else (1 if block.kind != "main" else None)
    if rounds is None or not block.movements or isinstance(rounds, tuple):
        return None
    total, sides = 0.0, 0
    for movement in block.movements:
        seconds = movement.dose.seconds
        if seconds is None or isinstance(seconds, tuple):
            return None
        twice = movement.sides.mode == "each"
        total += seconds * (2 if twice else 1)
        sides += twice
    rest = _low(block.rest_s) or 0
    n = len(block.movements)
    once = total + (n - 1 + sides) * rest
    length = once * rounds + (rounds - 1) * (_low(block.round_rest_s) if block.round_rest_s is not None else rest)
    return length, length


def _sum(ranges: Sequence[Range]) -> Range:
    if not ranges:
        return None, None
    low = sum(r[0] for r in ranges if r[0] is not None) if any(r[0] is not None for r in ranges) else None
    high = sum(r[1] for r in ranges) if all(r[1] is not None for r in ranges) else None
    return low, high


def totals(blocks: Sequence[Block], *, replaces: bool | None = None) -> Totals:
    """The totals of the plan; an end is ``None`` where the words leave it open."""
    kinds: dict[str, Range] = {}
    for kind in ("warm_up", "main", "cool_down"):
        of_kind = [b for b in blocks if b.kind == kind]
        ranges = [block_length(b, replaces=replaces) for b in of_kind]
        if kind != "main":
            ranges = [(_low(b.duration_s), _high(b.duration_s)) if b.duration_s is not None else r for b, r in zip(of_kind, ranges)]
        ranges += [(_low(b.rest_after_s), _high(b.rest_after_s)) for b in of_kind if b.rest_after_s is not None]
        kinds[kind] = _sum(ranges)
    present = [kinds[k] for k in kinds if any(b.kind == k for b in blocks)]
    return Totals(warm_up_s=kinds["warm_up"], main_s=kinds["main"], cool_down_s=kinds["cool_down"], class_s=_sum(present))
