"""The time per side does not add up to the work time.

## What it checks
Seconds said for each of two sides of one movement, against the work time of its block; in an EMOM, against the minute. What
was said before an announced change of the work time is not held against the new one, nor against a time of one other movement.

## Why it matters
The second side is cut short by the clock, or waits for it.

## Example
"Forty on, twenty off … Suitcase march, thirty seconds in one hand, then thirty in the other."

## Said correctly
"Forty on, twenty off … Suitcase march, twenty seconds in one hand, then twenty in the other."

## Known misses
Each side as long as the whole work time: that may mean an interval a side.
"""

from __future__ import annotations

from typing import Final

from ..mentions import Quantity
from ..model import Finding
from .looking import Shown, amount, finding, in_option, shown, taken_back
from .rule import Case

CODE = "split-mismatch"
SEVERITY: Final = "error"          # the clock rings in the middle of a side
BAD = (
    "[0:00] Four moves, forty seconds on, twenty off, three rounds.\n[0:05] Number one, goblet squats.\n"
    "[0:10] Number two, suitcase march. Thirty seconds in one hand, then thirty seconds in the other.\n"
    "[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n",
)
GOOD = (
    "[0:00] Four moves, forty seconds on, twenty off, three rounds.\n[0:05] Number one, goblet squats.\n"
    "[0:10] Number two, suitcase march. Twenty seconds in one hand, then twenty seconds in the other.\n"
    "[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n",
)
_SHORTEST_S = 5
_OWN = 20           # words from a movement's name to a time of its own


def check(case: Case) -> list[Finding]:
    void = taken_back(case)
    items = shown(case)
    return [f for item in items if (f := _split(case, items, item, void))]


def _split(case: Case, items: list[Shown], item: Shown, void: set[int]) -> Finding | None:
    work, exact = item.block.work_s, True
    if item.block.format == "emom":
        work, exact = item.block.interval_s, False
    if item.movement.dose.seconds is not None and item.block.work_s is None and item.block.format != "emom":
        return None
    if not isinstance(work, (int, float)):
        return None
    settings = [case.heard.quantities[i] for i in item.stretch.settings]
    announced = [q for q in settings if q.role in ("work", "interval") and q.single == work]
    named = {t for m in case.heard.movements for t in range(m.first, m.end)}       # "ninety-ninety" may be a movement
    announced = [q for q in announced if q.first not in named]
    if all(_of_one(q, settings, items) for q in announced):
        return None
    each = [q for q in case.heard.quantities if item.span[0] <= q.first < item.span[1] and q.role in ("each", "side") and q.kind == "length"
            and q.single and q.first not in void and not in_option(case, q.first)]
    a_side = each[0].single if len({q.single for q in each}) == 1 else None
    if a_side is None or a_side < _SHORTEST_S or a_side >= work:
        return None
    both = 2 * a_side
    if both == work or not exact and both < work:
        return None
    changed = any(note.role == "change" and note.first > each[0].first for note in case.heard.notes)
    if changed and any(q.first > each[0].first for q in announced):
        return None
    changes = [note.first for note in case.heard.notes if note.role == "change" and note.first < each[0].first]
    if not changes and any(q.single == both for q in settings if q.role in ("work", "interval")):
        return None         # it fits another work time that was said: the two contradict each other
    said = [each[0].span] + ([announced[-1].span] if announced else [])
    return finding(case, CODE, SEVERITY, f"{amount(a_side)} seconds a side come to {amount(both)}, the work time is {amount(work)}.",
                   said, expected=f"{amount(work / 2)} seconds a side", at=item)


def _of_one(q: Quantity, settings: list[Quantity], items: list[Shown]) -> bool:
    """Said with one movement, without a rest: "a seated fold … that one's ninety seconds"."""
    with_rest = any(other.role == "rest" and other.span == q.span for other in settings)
    return not with_rest and any(0 <= q.first - i.mention.end <= _OWN for i in items)
