"""The two sides get different time or repetitions.

## What it checks
Two amounts in a row for the two sides of one movement that differ, as announced.

## Why it matters
Unless it is meant, one side is trained more.

## Example
"Twenty seconds on the right, then fifteen on the left."

## Said correctly
"Twenty seconds on the right, then twenty on the left."

## Known misses
Amounts that are far apart in the talk, with another movement between them.
"""

from __future__ import annotations

from ..mentions import Quantity
from ..model import Finding
from .looking import Shown, amount, finding, in_option, norms, quoted, shown, taken_back
from .rule import Case
from .setups import body

CODE = "side-uneven"
SEVERITY = "warning"        # it may be meant, for a sore side
BAD = (
    "[0:00] Four moves, forty seconds on, twenty off, three rounds.\n[0:05] Number one, goblet squats.\n"
    "[0:10] Number two, suitcase march. Twenty five seconds on the right, then fifteen seconds on the left.\n"
    "[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n",
)
GOOD = (
    "[0:00] Four moves, forty seconds on, twenty off, three rounds.\n[0:05] Number one, goblet squats.\n"
    "[0:10] Number two, suitcase march. Twenty seconds on the right, then twenty seconds on the left.\n"
    "[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n",
)
_BETWEEN = 16               # words from one amount to the other
_FAR = 60                   # ... where the second is said with the change of sides
_FIRST = frozenset(["right", "left", "this", "first", "one"])
_SECOND = frozenset(["right", "left", "other", "second", "opposite"])
_OVER = ("over you go", "other side", "roll over", "turn over", "over we go", "change sides", "switch sides", "swap sides", "onto the", "second side",
         "same lift", "other leg", "other arm", "now the left", "now the right", "left side", "right side")


def check(case: Case) -> list[Finding]:
    void = taken_back(case)
    out = []
    for item in shown(case):
        out += _uneven(case, item, void)
    return out


def _uneven(case: Case, item: Shown, void: set[int]) -> list[Finding]:
    if item.movement.sides.mode == "both" and item.mention.match.sides == "both":
        return []
    said = [q for q in case.heard.quantities if item.item.segment[0] <= q.first < item.item.segment[1] and q.first not in void
            and q.single and q.single > 1 and q.role in ("each", "side", "reps_each", "reps_side", "bare") and not in_option(case, q.first)]
    for a, b in zip(said, said[1:]):
        if a.role == "bare" or a.single == b.single or not _like(a, b) or b.role == "bare" and not _of_a_side(case, b, _SECOND):
            continue
        if _of_a_side(case, a, _FIRST) and (b.first - a.end <= _BETWEEN and _of_a_side(case, b, _SECOND)
                                            and _sides_named(case, a) != _sides_named(case, b)):
            return [_finding(case, item, a, b)]
        if a.end < b.first <= item.span[1] and _then_other(case, a, b):
            return [_finding(case, item, a, b)]
    return []


def _like(a: Quantity, b: Quantity) -> bool:
    """Both are times, or both are counts; ``twenty seconds on the right, fifteen on the left`` are both times."""
    if a.kind == b.kind:
        return True
    return a.kind == "length" and b.kind == "number" and b.single >= 5


def _around(case: Case, q: Quantity) -> list[str]:
    tokens = case.heard.words.tokens
    end = q.end
    while end < len(tokens) and end - q.end < 4 and tokens[end].brk < 1:
        end += 1
    return norms(case.heard, q.end, end)


def _of_a_side(case: Case, q: Quantity, words: frozenset[str]) -> bool:
    return bool(words & set(_around(case, q)))


def _sides_named(case: Case, q: Quantity) -> frozenset[str]:
    return frozenset(w for w in _around(case, q) if w in ("right", "left", "this", "other", "first", "second", "opposite"))


def _then_other(case: Case, a: Quantity, b: Quantity) -> bool:
    """``ten on this one`` … ``over you go`` … ``we'll do eight here``."""
    if b.first - a.end > 3 * _FAR or not _of_a_side(case, a, _FIRST):
        return False
    text = f" {' '.join(norms(case.heard, max(a.end, b.first - _FAR // 2), b.end + 4))} "
    return b.role != "bare" and any(f" {o} " in text for o in _OVER)


def _finding(case: Case, item: Shown, a: Quantity, b: Quantity) -> Finding:
    return finding(case, CODE, SEVERITY,
                   f'{item.movement.name}: one side gets {amount(a.single)}, the other {amount(b.single)} ("{quoted(case, b.span)}").',
                   [a.span, b.span], expected="the same on both sides", at=item)
