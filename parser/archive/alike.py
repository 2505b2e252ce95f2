"""How like two classes are: a plain reckoning, respect by respect, that a coach can follow.

Each respect is a share from 0 to 1:

* movements, patterns, equipment: what both have, of what either has (Jaccard, New Phytologist 11 (1912),
  from memory). Movements are those of main blocks by their base, so that one taken wider or with one arm is still that one.
* format: the same of the formats of the main blocks, each as often as it comes.
* timing: block by block in their order, work, rest, rest between rounds, rounds and the block's own length, each the smaller
  through the larger, on average; a block that the other lacks counts nought. Beside them the length of the class as said.

The whole is their weighted mean. What neither says is left out, and what only one says is nought.
"""

from __future__ import annotations

from collections.abc import Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from itertools import zip_longest

from ..model import Amount, Block, Plan
from ..review.alike import Likeness

WEIGHTS = {"movements": 0.4, "patterns": 0.2, "format": 0.15, "timing": 0.15, "equipment": 0.1}
"""Our own choice: what is done makes a class more than how it is timed. No source."""


@dataclass(frozen=True, slots=True)
class Traits:
    """What two classes are compared by."""

    movements: frozenset[str]
    patterns: frozenset[str]
    formats: tuple[str, ...]
    timing: tuple[tuple[float | None, ...], ...]
    """A row a main block: work, rest, rest between rounds, rounds, an interval of an EMOM, its own length."""
    length: float | None
    equipment: frozenset[str]


def traits_of(plan: Plan) -> Traits:
    parts = [part for block in plan.mains for movement in block.movements for part in movement.parts]
    return Traits(
        movements=frozenset(p.base or p.name for p in parts),
        patterns=frozenset(pattern for p in parts for pattern in p.patterns),
        formats=tuple(sorted(b.format or "" for b in plan.mains)),
        timing=tuple(timing_of(b) for b in plan.mains),
        length=plan.stated_length.seconds if plan.stated_length else None,
        equipment=frozenset(e.name for e in plan.equipment if not e.optional),
    )


def timing_of(block: Block) -> tuple[float | None, ...]:
    return tuple(map(middle, (block.work_s, block.rest_s, block.round_rest_s, block.rounds, block.interval_s, block.duration_s)))


def middle(amount: Amount) -> float | None:
    """One number for an amount: of a range its middle."""
    return sum(amount) / 2 if isinstance(amount, tuple) else amount


def likeness(one: Traits, other: Traits) -> Likeness:
    shares = {
        "movements": _overlap(one.movements, other.movements),
        "patterns": _overlap(one.patterns, other.patterns),
        "format": _overlap(_counted(one.formats), _counted(other.formats)),
        "timing": _timing(one, other),
        "equipment": _overlap(one.equipment, other.equipment),
    }
    known = {name: share for name, share in shares.items() if share is not None}
    weight = sum(WEIGHTS[name] for name in known)
    whole = sum(WEIGHTS[name] * share for name, share in known.items()) / weight if weight else 0.0
    return Likeness(**shares, whole=whole)


def _counted(names: Sequence[str]) -> frozenset[tuple[str, int]]:
    """Each name with how often it came before, so that the second of a kind is another."""
    return frozenset((name, names[:place].count(name)) for place, name in enumerate(names) if name)


def _overlap(one: AbstractSet[object], other: AbstractSet[object]) -> float | None:
    either = len(one | other)
    return len(one & other) / either if either else None


def _timing(one: Traits, other: Traits) -> float | None:
    pairs = [(one.length, other.length)]
    for a, b in zip_longest(one.timing, other.timing, fillvalue=()):
        pairs += zip_longest(a, b)
    shares = [share for a, b in pairs if (share := _ratio(a, b)) is not None]
    return sum(shares) / len(shares) if shares else None


def _ratio(a: float | None, b: float | None) -> float | None:
    if a is None and b is None:
        return None
    if a is None or b is None:
        return 0.0
    return min(a, b) / max(a, b) if max(a, b) else 1.0
