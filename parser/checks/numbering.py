"""How the movements of a block are numbered aloud: which number fits its place, and how sure the count of them is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence

from ..mentions import Quantity
from .looking import Shown, label_of
from .rule import Case

_BEFORE, _AFTER = 8, 6      # words around a movement's name in which its number may stand
FEWEST_NUMBERED = 3
"""From this many numbers on a count runs that one of them can break."""


def from_one(items: Sequence[Shown]) -> list[Shown]:
    """The items from the last "number one" on: what stands before it is of no count, or of another.

    Where the numbers after it run on from an earlier one, it is a slip for the number it should have had.
    """
    labels = [label_of(i) for i in items]
    ones = [k for k, label in enumerate(labels) if label == 1]
    for a, b in zip(ones, ones[1:]):
        after = [(k, label) for k, label in enumerate(labels) if k > b and label is not None]
        if len(after) >= FEWEST_NUMBERED - 1 and all(label == k - a + 1 for k, label in after):
            return list(items[a:])
    return list(items[ones[-1] :]) if ones else list(items)


def misfits(items: Sequence[Shown], *, counts: Collection[int] = (), before: int = 0) -> list[tuple[Shown, int]]:
    """``(movement, number it should have had)`` for each number that does not fit its place; nothing where it is unsure.

    ``items`` are one block's, in order; ``before`` is how many movements the blocks before it have, for a count that runs
    on. ``counts``: how many there are by what was said; where that fits, the last one and a pair can be judged too.
    """
    items = from_one(items)
    numbered = [i for i in items if label_of(i) is not None]
    if len(numbered) < (2 if len(numbered) in counts else FEWEST_NUMBERED):
        return []
    readings = [_misfits(list(items), len(items) in counts, before), _misfits(numbered, len(numbered) in counts, before)]
    if any(r == [] for r in readings):
        return []
    return next((r for r in readings if r is not None), [])


def _misfits(items: list[Shown], counted: bool, before: int) -> list[tuple[Shown, int]] | None:
    """One reading: ``None`` where it makes no sense of the numbers."""
    offsets = [None if (label := label_of(i)) is None else label - n for n, i in enumerate(items, 1)]
    known = Counter(o for o in offsets if o is not None)
    usual, times = known.most_common(1)[0]
    if usual not in (0, before) and counted and 0 in known and known[0] >= known[usual]:
        usual = 0
    if usual not in (0, before) or times * 2 < sum(known.values()) or times < len(known) and not counted:
        return None
    wrong = [n for n, o in enumerate(offsets) if o is not None and o != usual]
    if not wrong:
        return []
    if len(wrong) > 1:
        return None
    at = wrong[0]
    labels = [label_of(i) for i in items]
    if at == 0:
        return None         # the beginning of the count was not heard
    right_again = any(o == usual for o in offsets[at + 1 :])
    if right_again or counted or at == len(items) - 1 and labels[at] == labels[at - 1]:
        return [(items[at], at + 1 + usual)]
    return None


def unnumbered(items: Sequence[Shown]) -> list[tuple[Shown, int]]:
    """``(movement, number it should have had)`` of the one movement without a number between neighbours that have theirs."""
    items = from_one(items)
    labels = [label_of(i) for i in items]
    missing = [n for n, label in enumerate(labels) if label is None]
    if len(missing) != 1 or len(labels) - 1 < FEWEST_NUMBERED:
        return []
    at = missing[0]
    offset = {label - n for n, label in enumerate(labels) if label is not None}
    if len(offset) != 1 or at in (0, len(labels) - 1):
        return []
    return [(items[at], at + offset.pop())]


def sure_count(items: Sequence[Shown]) -> bool:
    """Whether the number of ``items`` is sure: numbered to the last, or said back in a list."""
    if len(items) < 2:
        return False
    labels = [label_of(i) for i in from_one(items)]
    if labels == list(range(1, len(items) + 1)):
        return True
    return said_back(items)


def said_back(items: Sequence[Shown]) -> bool:
    """All of them, and nothing else, are said again in one list."""
    for group in items[0].stretch.lists:
        found = {n for n, i in enumerate(items) if set(group) & set(i.item.mentions)}
        known = set().union(*(i.item.mentions for i in items))
        if len(found) == len(items) and set(group) <= known:
            return True
    return False


def stated_counts(case: Case, items: Sequence[Shown]) -> list[Quantity]:
    """The statements of how many movements the block has, those before its first movement and its recap."""
    if not items:
        return []
    said = [case.heard.quantities[i] for i in items[0].stretch.settings]
    last = max(i.span[1] for i in items)
    said = [q for q in said if q.role == "movements" and q.single is not None]
    return [q for q in said if not items[0].span[0] <= q.first < last and case.heard.phase_at(q.first) in ("briefing", "demo")]


def counted_to(items: Sequence[Shown]) -> int:
    """How far the numbers run without a gap; 0 where there are too few of them. The very first may not have been heard."""
    labels = [label for label in (label_of(i) for i in items) if label is not None]
    run = labels[0] - 1 if labels and labels[0] <= 2 else 0
    for label in labels:
        if label == run + 1:
            run += 1
    return run if run >= FEWEST_NUMBERED else 0


def said_too(case: Case, item: Shown, should: int) -> bool:
    """The number it should have had is said close by as well, in a way that was not understood."""
    near = range(item.span[0] - _BEFORE, item.mention.end + _AFTER)
    return any(q.single == should and q.role in ("label", "bare", "count") and q.first in near for q in case.heard.quantities)
