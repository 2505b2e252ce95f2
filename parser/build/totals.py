"""The arithmetic of a class: how long its blocks take by what was announced."""

from __future__ import annotations

from collections.abc import Sequence

from ..model import Block, Totals
from ..schedule import Slot, intervals

Range = tuple[float | None, float | None]


def block_length(block: Block, *, replaces: bool | None = None) -> Range:
    """``(low, high)`` seconds of one block and the rest after it. ``replaces``: whether the round rest takes the place of the short
    rest after a round's last movement; ``None`` where the words leave it open."""
    shortest = intervals(block, longest=False, replaces=True if replaces is None else replaces)
    longest = intervals(block, longest=True, replaces=False if replaces is None else replaces)
    return _at_least(shortest), _at_most(longest)


def _at_least(slots: Sequence[Slot]) -> float | None:
    known = [s.seconds for s in slots if s.seconds is not None and not s.cap]
    return sum(known) if known else None


def _at_most(slots: Sequence[Slot]) -> float | None:
    known = [s.seconds for s in slots if s.seconds is not None]
    return sum(known) if len(known) == len(slots) else None


def _sum(ranges: Sequence[Range]) -> Range:
    if not ranges:
        return None, None
    lows, highs = ([end for r in ranges if (end := r[side]) is not None] for side in (0, 1))
    return sum(lows) if lows else None, sum(highs) if len(highs) == len(ranges) else None


def totals(blocks: Sequence[Block], *, replaces: bool | None = None) -> Totals:
    """The totals of the plan; an end is ``None`` where the words leave it open."""
    kinds = {kind: [b for b in blocks if b.kind == kind] for kind in ("warm_up", "main", "cool_down")}
    ranges = {kind: _sum([block_length(b, replaces=replaces) for b in of_kind]) for kind, of_kind in kinds.items()}
    return Totals(warm_up_s=ranges["warm_up"], main_s=ranges["main"], cool_down_s=ranges["cool_down"],
                  class_s=_sum([ranges[kind] for kind, of_kind in kinds.items() if of_kind]))
