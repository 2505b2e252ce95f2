"""The class laid out on a timer, as it was announced: one interval after another, from zero.

By the arithmetic of the plan format; its totals are the sums of what is laid out here. The timer stands still while something goes
on that nobody gave a length for, so that what follows still has its place.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from .model import Amount, Block, Movement, Plan

Kind = Literal["work", "rest", "round_rest", "block_rest"]
Side = Literal["first", "second"]

MOST_INTERVALS = 5000
"""No class has as many: a count beyond it was heard or typed wrong, and its block is left open."""


@dataclass(frozen=True, slots=True)
class Slot:
    """One interval as announced; moments in seconds on the timer.

    ``place`` is the index of its block in the plan, ``block`` counts the main blocks from 1 as the report does and is ``None`` for
    warm-up and cool-down. ``round``, ``number`` and ``side`` are as in the report: a rest has the number of the movement it follows.
    """

    kind: Kind
    place: int = 0
    block: int | None = None
    round: int | None = None
    number: int | None = None
    side: Side | None = None
    start: float = 0.0
    seconds: float | None = None
    """``None`` where nobody said how long; the next interval then has the same ``start``."""
    cap: bool = False
    """Work for time: may end any moment before."""

    @property
    def end(self) -> float:
        return self.start + (self.seconds or 0.0)


def schedule(plan: Plan, *, longest: bool = False) -> tuple[Slot, ...]:
    """Every interval of ``plan``, in order.

    Where a range was said, the shortest class that the words allow, or the ``longest``. A block that can be laid out no finer is one
    ``work`` without round and number.
    """
    replaces = _round_rest_replaces(plan)
    found: list[Slot] = []
    now, main = 0.0, 0
    for place, block in enumerate(plan.blocks):
        main += block.kind == "main"
        for slot in intervals(block, longest=longest, replaces=not longest if replaces is None else replaces):
            found.append(replace(slot, place=place, block=main if block.kind == "main" else None, start=now))
            now = found[-1].end
    return tuple(found)


def intervals(block: Block, *, longest: bool, replaces: bool) -> list[Slot]:
    """The intervals of one block and the rest after it, not yet on the timer.

    ``replaces``: the round rest takes the place of the short rest after a round's last movement, and does not follow it.
    """
    found = _Ends(longest, replaces).block(block)
    after = _end(block.rest_after_s, longest)
    return [*found, Slot("block_rest", seconds=after)] if after else found


def _end(amount: Amount, longest: bool) -> float | None:
    if isinstance(amount, tuple):
        amount = max(amount) if longest else min(amount)
    return None if amount is None else float(amount)


def _round_rest_replaces(plan: Plan) -> bool | None:
    """What the words decided, as the totals of the plan show it; ``None`` where they leave it open."""
    low, high = plan.totals.main_s
    if low is not None and low != _sum(plan.mains, longest=False, replaces=True) and low == _sum(plan.mains, longest=False, replaces=False):
        return False
    if high is not None and high != _sum(plan.mains, longest=True, replaces=False) and high == _sum(plan.mains, longest=True, replaces=True):
        return True
    return None


def _sum(blocks: Sequence[Block], *, longest: bool, replaces: bool) -> float:
    return sum(s.seconds or 0.0 for b in blocks for s in intervals(b, longest=longest, replaces=replaces) if longest or not s.cap)


@dataclass(frozen=True)
class _Ends:
    """One end of every range."""

    longest: bool
    replaces: bool

    def of(self, amount: Amount) -> float | None:
        return _end(amount, self.longest)

    def block(self, block: Block) -> list[Slot]:
        whole = self.of(block.duration_s)
        if block.format in ("amrap", "for_time"):
            capped = block.format == "for_time" and whole is not None
            return [Slot("work", seconds=_end(block.duration_s, longest=True) if capped else whole, cap=capped)]
        found = self._rounds(block)
        if whole is not None and (not found or block.kind != "main" and sum(s.seconds or 0.0 for s in found) != whole):
            return [Slot("work", seconds=whole)]
        return found or [Slot("work")]

    def _rounds(self, block: Block) -> list[Slot]:
        """Interval by interval; empty where the words are not enough for it."""
        rounds = self._count(block)
        if rounds is None or rounds * max(1, len(block.movements)) > MOST_INTERVALS:
            return []
        if not (self._has_lengths(block) or block.format == "sets" and (block.round_rest_s or block.rest_s)):
            return []
        return list(self._laid(block, rounds))

    def _count(self, block: Block) -> int | None:
        if block.time_scheme:
            return len(block.time_scheme)
        rounds = self.of(block.rounds)
        if rounds is None:
            return 1 if block.kind != "main" else None
        return int(rounds)

    def _has_lengths(self, block: Block) -> bool:
        if block.format == "emom":
            return bool(block.interval_s and block.movements)
        held = bool(block.movements) and all(m.dose.seconds is not None for m in block.movements)
        return bool(block.time_scheme) or block.work_s is not None or held

    def _laid(self, block: Block, rounds: int) -> Iterator[Slot]:
        movements: Sequence[Movement | None] = block.movements or (None,)
        through: tuple[Side | None, ...] = ("first", "second") if block.each_side_through else (None,)
        goes = [(movement, side) for side in through for movement in movements]
        for r in range(1, rounds + 1):
            for k, (movement, side) in enumerate(goes, 1):
                number = movement.number if movement else None
                for n, work in enumerate(self._works(block, movement, r, side)):
                    if n and block.work_s is None:  # each side is a work of its own
                        yield from self._rest(block, r, number)
                    yield replace(work, round=r, number=number)
                if k < len(goes):
                    yield from self._rest(block, r, number)
                elif r < rounds:
                    yield from self._between_rounds(block, r, number, alone=len(goes) == 1)

    def _works(self, block: Block, movement: Movement | None, r: int, side: Side | None) -> list[Slot]:
        """The works of one go: two where its sides follow each other. ``side`` where the whole sequence is on one, which halves nothing."""
        if block.format == "emom":
            return [Slot("work", seconds=block.interval_s, side=side)]
        if block.time_scheme:
            return [Slot("work", seconds=block.time_scheme[r - 1], side=side)]
        sides = movement.sides if side is None and movement and movement.sides.mode == "each" else None
        whole = self.of(block.work_s)
        if whole is None:
            held = self.of(movement.dose.seconds) if movement else None
            return [Slot("work", seconds=held, side=s) for s in ("first", "second")] if sides and held is not None else [Slot("work", seconds=held, side=side)]
        half = self.of(sides.seconds_each) if sides else None
        if half is None or not 0 < half < whole or 2 * half > whole + 1:  # a second for switching; sides beyond that do not fit
            return [Slot("work", seconds=whole, side=side)]
        return [Slot("work", seconds=half, side="first"), Slot("work", seconds=whole - half, side="second")]

    def _rest(self, block: Block, r: int, number: int | None) -> Iterator[Slot]:
        rest = self.of(block.rest_s)
        if rest and block.format != "emom":  # in an EMOM the rest is what is left of the interval
            yield Slot("rest", seconds=rest, round=r, number=number)

    def _between_rounds(self, block: Block, r: int, number: int | None, *, alone: bool) -> Iterator[Slot]:
        long = self.of(block.round_rest_s) if block.format != "emom" else 0.0
        if long is None or alone and block.rest_s is not None:
            yield from self._rest(block, r, number)
            return
        if not (self.replaces or alone):
            yield from self._rest(block, r, number)
        if long:
            yield Slot("round_rest", seconds=long, round=r)
