"""The two sides get different time or repetitions.

## What it checks
Two amounts in a row for the two sides of one movement that differ, as announced; and two sides that got different time in the
recording, with the tolerance of work-off.

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

from typing import Final

from ..mentions import BARE, NO_BREAK, Quantity
from ..model import Finding, Interval
from .looking import Shown, amount, finding, has_words, in_option, norms, quoted, shown, taken_back
from .rule import Case
from .timing import announced, movement_name, sources, stretch, uneven_sides

CODE = "side-uneven"
SEVERITY: Final = "warning"        # it may be meant, for a sore side
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
_SHORTEST_S = 5
_FEWEST = 4                 # repetitions of a set
_DOSE = 6                   # words from a movement to its repetitions
_BETWEEN = 16               # words from one amount to the other, where both name their side
_FAR = 180                  # ... where the second comes with the change of sides: a set is counted aloud between them
_CHANGE = 30                # words before the second amount in which sides are changed
_ROLES = ("side", "reps_side")
_OVER = ("over you go", "over we go", "other side", "roll over", "turn over", "change sides", "switch sides", "swap sides", "second side", "other leg",
         "other arm", "now the left", "now the right", "onto the left", "onto the right", "onto your left", "onto your right", "left side", "right side")
_NAMES = frozenset(["right", "left", "this", "other", "first", "second", "opposite", "here", "one"])


def check(case: Case) -> list[Finding]:
    void = taken_back(case)
    said = [f for item in shown(case) if (f := _in_a_row(case, item, void) or _second_time(case, item, void))]
    return said + [_as_done(case, first, second) for first, second in uneven_sides(case)]


def _as_done(case: Case, first: Interval, second: Interval) -> Finding:
    name = movement_name(case, first.block, first.number)
    return Finding(code=CODE, severity=SEVERITY,
                   message=f"{name}, round {first.round}: one side gets {first.end - first.start:.0f} s, the other {second.end - second.start:.0f} s.",
                   said=sources(stretch(case, first.start, second.end), announced(case, first.block, first.planned_s, "each", "hold", "work")),
                   expected="the same on both sides", block=first.block, round=first.round, number=first.number)


def _in_a_row(case: Case, item: Shown, void: set[int]) -> Finding | None:
    """``twenty on the right, fifteen on the left``; ``ten on this one`` … ``over you go`` … ``we'll do eight here``."""
    if item.movement.sides.mode == "both" and item.mention.match.sides == "both":
        return None
    first, end = item.item.segment
    said = [q for q in case.heard.quantities if first <= q.first < min(end, first + 2 * _FAR) and q.first not in void and q.role in _ROLES
            and q.single and q.single > 1 and not in_option(case, q.first)]
    for a, b in zip(said, said[1:]):
        if a.single == b.single or not _like(a, b):
            continue
        names = _names(case, a), _names(case, b)
        named = b.first - a.end <= _BETWEEN and names[0] and names[1] and names[0] != names[1]
        if named or b.first - a.end <= _FAR and has_words(case.heard, (max(a.end, b.first - _CHANGE), b.first), *_OVER):
            return _finding(case, item, a, b)
    return None


def _second_time(case: Case, item: Shown, void: set[int]) -> Finding | None:
    """A sequence done on one side, then on the other: the repetitions or breaths of one movement when it comes again."""
    dose = item.movement.dose
    if not item.block.each_side_through or dose.reps is None and item.movement.sides.mode == "both":
        return None         # the dog between the sides of a flow may be held as one likes
    roles = ("breaths",) if dose.breaths is not None else ("reps", *_ROLES)
    near = [q for q in case.heard.quantities if item.span[0] <= q.first < item.span[1] and q.first not in void]
    much = dose.breaths if dose.breaths is not None else dose.reps
    # what differs by side is no dose of the plan
    first = next((q for q in near if (q.single == much if much is not None else _is_told(case, q))), None)
    if first is None:
        return None
    much = first.single
    for n in item.item.mentions[1:]:
        mention = case.heard.movements[n]
        again = [q for q in case.heard.quantities if mention.end <= q.first < mention.end + _DOSE and q.role in roles and q.single
                 and q.first not in void]
        if first and mention.first > item.item.segment[1] and again and again[0].single != much:
            return _finding(case, item, first, again[0])
    return None


def _is_told(case: Case, q: Quantity) -> bool:
    """Repetitions, or a number alone that can be that: ``Twelve.``"""
    tokens = case.heard.words.tokens
    alone = tokens[q.first].brk > NO_BREAK and (q.end >= len(tokens) or tokens[q.end].brk > NO_BREAK)
    return q.kind == "number" and (q.single or 0) >= _FEWEST and (q.role == "reps" or q.role == BARE and alone)


def _like(a: Quantity, b: Quantity) -> bool:
    """Both are times, or both are counts; ``twenty seconds on the right, fifteen on the left`` are both times."""
    return a.kind == b.kind or a.kind == "length" and b.kind == "number" and (b.single or 0) >= _SHORTEST_S


def _names(case: Case, q: Quantity) -> frozenset[str]:
    tokens, end = case.heard.words.tokens, q.end
    while end < len(tokens) and end - q.end < 4 and tokens[end].brk == NO_BREAK:
        end += 1
    return _NAMES & set(norms(case.heard, q.end, end))


def _finding(case: Case, item: Shown, a: Quantity, b: Quantity) -> Finding:
    return finding(case, CODE, SEVERITY,
                   f'{item.movement.name}: one side gets {amount(a.single or 0)}, the other {amount(b.single or 0)} ("{quoted(case, b.span)}").',
                   [a.span, b.span], expected="the same on both sides", at=item)
