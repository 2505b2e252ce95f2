"""One-sided work of which only one side is named.

## What it checks
A movement that is done on one side at a time, whose set-up names one side at least twice and never the other, neither where it
is shown nor where it is called, and no word of changing sides anywhere near it or for the whole class; one movement of a sequence
that does not come again on the second side; and sets in which both sides were named, up to one that names only one.

## Why it matters
One side is trained, the other is not. People will ask, in the middle of the work.

## Example
"Number three, side plank. Right elbow down, right hip under you."

## Said correctly
"Number three, side plank. Right elbow down, and at half time the left."

## Known misses
A set-up that names its side only once, or no side at all.
"""

from __future__ import annotations

from typing import Final

from ..mentions import beginning_in
from ..model import Finding
from .looking import Shown, by_block, finding, in_option, live, norms, shown
from .rule import Case
from .setups import Lateral, body, facts, laterals, other

CODE = "side-missing"
SEVERITY: Final = "error"          # half of the movement is not in the class
BAD = (
    "[0:00] Four moves, forty seconds on, twenty off, three rounds.\n[0:05] Number one, goblet squats.\n"
    "[0:10] Number two, side plank. On the mat, right elbow down, right hip under you, hips up and hold it.\n"
    "[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n",
)
GOOD = (
    "[0:00] Four moves, forty seconds on, twenty off, three rounds.\n[0:05] Number one, goblet squats.\n"
    "[0:10] Number two, side plank. On the mat, right elbow down, right hip under you, hips up and hold it, then swap.\n"
    "[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n",
    "[0:00] Four moves, forty seconds on, twenty off, three rounds. We do both sides of everything.\n[0:05] Number one, goblet squats.\n"
    "[0:10] Number two, side plank. On the mat, right elbow down, right hip under you, hips up and hold it.\n"
    "[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n",
)
_BEFORE_CALL = 12   # words before a call in which its side may be named
_CALLED = 60        # words after a call that may still be of the movement
_FEWEST_THROUGH = 3
_FEWEST_BEFORE = 2  # times that both sides were named, the demonstration among them
_SET_OVER = ("rest", "round_rest", "block_rest")
_PAIRED = ("knees", "feet", "hands", "legs", "arms")
_SET = 25           # words of the first set of the last movement
_GENERAL = ("both sides of everything", "both sides", "each side", "either side", "swap halfway", "switch halfway", "change halfway",
            "halfway we swap", "halfway we switch", "change sides", "switch sides", "swap sides", "one side then the other", "one side and then the other")


def check(case: Case) -> list[Finding]:
    items = shown(case)
    return [f for item in items if (f := _one_side(case, items, item) or _one_time(case, items, item))] + _left_out(case, items)


def _one_time(case: Case, items: list[Shown], item: Shown) -> Finding | None:
    """``Right leg, eight. And left leg, eight.`` set after set, and in one set only the right: sets are not on the clock, so the words tell."""
    block = item.block
    if item.movement.sides.mode != "each" or block.each_side_through or block.work_s is not None or block.interval_s is not None:
        return None
    starts = sorted(case.heard.movements[n].first for i in items for n in i.item.mentions)
    closes = sorted({e.first for e in case.heard.edges if e.role == "stop"} | {q.first for q in case.heard.quantities if q.role in _SET_OVER})
    sets = []
    for n in item.item.mentions:
        mention = case.heard.movements[n]
        end = min([s for s in starts if s > mention.first + 2] + [c for c in closes if c > mention.end] + [mention.end + _CALLED])
        said = [limb for limb in laterals(case, (mention.first, end)) if not in_option(case, limb.first)]
        if said:
            sets.append((mention, end, said))
    if len(sets) <= _FEWEST_BEFORE or any(len({limb.side for limb in s}) != 2 for _, _, s in sets[:-1]):
        return None
    mention, end, said = sets[-1]
    if not said[0].part or mention.phase != "work" or len({limb.side for limb in said}) != 1 or _may_change(case, (mention.first, end)):
        return None
    side = said[0].side
    return finding(case, CODE, SEVERITY, f"{item.movement.name}: both sides are named in the sets before, in this one only the {side}.",
                   [(mention.first, mention.end), (said[0].first, said[-1].end)], expected=f"the {other(side)} side too", at=item)


def _left_out(case: Case, items: list[Shown]) -> list[Finding]:
    """A sequence done on one side, then on the other: the one movement that does not come again."""
    out = []
    for group in by_block(items).values():
        if not group[0].block.each_side_through or len(group) < _FEWEST_THROUGH:
            continue
        end = group[-1].mention.end
        again = {i.number: [case.heard.movements[n] for n in i.item.mentions[1:] if case.heard.movements[n].first > end + _SET] for i in group}
        gone = [i for i in group if not again[i.number]]
        back = sorted(m.first for found in again.values() for m in found)
        if len(gone) == 1 and back:
            item = gone[0]
            out.append(finding(case, CODE, SEVERITY, f"{item.movement.name} comes on the first side and not on the second.",
                               [(item.mention.first, item.mention.end), (back[0], back[-1] + 1)], expected="the second side too", at=item))
    return out


def _one_side(case: Case, items: list[Shown], item: Shown) -> Finding | None:
    planned = item.movement.sides
    if any(i is not item and i.mention.match.name == item.mention.match.name for i in items):
        return None         # "number three, the clam, left side": the other side has a number of its own
    if item.block.each_side_through or planned.seconds_each is not None or planned.reps_each is not None or _for_all(case, items):
        return None
    one_sided = item.mention.match.sides == "each" or any(p.role == "one" for p in beginning_in(case.heard.sides, item.span))
    if not one_sided and not any(f.state == "load" for f in facts(case, item.span)):
        return None
    said = [limb for limb in laterals(case, item.span) if not in_option(case, limb.first)]
    sides = {limb.side for limb in said}
    if len(said) < 2 or len(sides) != 1 or _may_change(case, item.span):
        return None
    side = sides.pop()
    called = [n for n in item.item.mentions[1:] if case.heard.movements[n].first >= item.span[1]]
    if live(case) and not called:
        return None         # done, but not heard as it: the other side may have been named there
    if not any(limb.part for limb in said) or _named_later(case, items, item, other(side)):
        return None
    span = _joined(said)
    return finding(case, CODE, SEVERITY, f"{item.movement.name}: only the {side} side is named, never the {other(side)}.",
                   [(item.mention.first, item.mention.end), span], expected=f"the {other(side)} side too", at=item)


def _may_change(case: Case, span: tuple[int, int]) -> bool:
    words = set(body()["words"]["both_sides"])
    tokens = case.heard.words.tokens
    for i in range(span[0], min(span[1], len(tokens))):
        if tokens[i].norm in words and not (tokens[i].norm == "both" and i + 1 < len(tokens) and tokens[i + 1].norm in _PAIRED) \
                and not (tokens[i].norm == "other" and i + 1 < len(tokens) and tokens[i + 1].norm in ("toes", "foot", "leg", "hand", "arm", "knee")
                         and not {"then", "and", "now"} & {t.norm for t in tokens[max(0, i - 3) : i]} - {"and"}):
            return True
    return False


def _for_all(case: Case, items: list[Shown]) -> bool:
    """That everything is done on both sides is said for the whole class, before the first movement."""
    text = f" {' '.join(norms(case.heard, 0, items[0].span[0]))} "
    return any(f" {g} " in text for g in _GENERAL)


def _named_later(case: Case, items: list[Shown], item: Shown, side: str) -> bool:
    """The other side, or a change, after one of the later mentions."""
    starts = sorted(case.heard.movements[n].first for i in items for n in i.item.mentions)
    stops = [e.first for e in case.heard.edges if e.role == "stop"]
    for n in item.item.mentions[1:]:
        first = case.heard.movements[n].first
        end = min([s for s in starts if s > first + 2 and s not in _own(case, item)] + [s for s in stops if s > first] + [first + _CALLED])
        window = (max([0, first - _BEFORE_CALL] + [s for s in stops if s < first]), end)
        if any(limb.side == side for limb in laterals(case, window)) or _may_change(case, (first, end)):
            return True
    return False


def _own(case: Case, item: Shown) -> set[int]:
    return {case.heard.movements[n].first for n in item.item.mentions}


def _joined(said: list[Lateral]) -> tuple[int, int]:
    return said[0].first, max(said[1].end, said[0].end)
