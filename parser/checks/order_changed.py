"""The movements are said back in another order than they were shown.

## What it checks
A list in which the movements of a block are said again, against the order in which they were introduced.

## Why it matters
People set out their kit and their stations by the list that they heard last.

## Example
Shown: squats, rows, presses. "So that's squats, presses, rows."

## Said correctly
"So that's squats, rows, presses."

## Known misses
A list of fewer than three, one that names a movement twice, and an order that is only changed in the work itself.
"""

from __future__ import annotations

from typing import Final

from ..model import Finding
from .looking import Shown, by_block, finding, recaps, shown
from .rule import Case

CODE = "order-changed"
SEVERITY: Final = "warning"        # every movement is still there
BAD = (
    "[0:00] Four moves.\n[0:05] Number one, goblet squats. Bell at the chest.\n[0:10] Number two, push-ups. Hands wide.\n"
    "[0:20] Number three, glute bridges. Heels close.\n[0:30] Number four, jumping jacks. Arms all the way.\n"
    "[0:40] So that's goblet squats, glute bridges, push-ups, jumping jacks.\n",
)
GOOD = (
    "[0:00] Four moves.\n[0:05] Number one, goblet squats. Bell at the chest.\n[0:10] Number two, push-ups. Hands wide.\n"
    "[0:20] Number three, glute bridges. Heels close.\n[0:30] Number four, jumping jacks. Arms all the way.\n"
    "[0:40] So that's goblet squats, push-ups, glute bridges, jumping jacks.\n",
)
FEWEST = 3
_NOT_OURS = frozenset({"other_time", "others"})
_LEAD = 10          # words before a list that may say of which day it is


def check(case: Case) -> list[Finding]:
    out: list[Finding] = []
    for group in by_block(shown(case)).values():
        for listed in recaps(case, group):
            finding_ = _reordered(case, group, listed)
            if finding_:
                return [*out, finding_]
    return out


def _reordered(case: Case, group: list[Shown], listed: tuple[int, ...]) -> Finding | None:
    begin = case.heard.movements[listed[0]].first
    first = max(begin - _LEAD, case.heard.words.sentence(begin)[0])
    if any(m.scope or m.phase in ("warm_up", "cool_down", "close") for m in (case.heard.movements[n] for n in listed)) \
            or any(s.role in _NOT_OURS and first <= s.first < begin for s in case.heard.scopes):
        return None
    order = _order(case, group, listed)
    if order is None or len(order) < FEWEST or len(order) < len(group) - 1 or order == sorted(order):
        return None
    swapped = [k for k, (a, b) in enumerate(zip(order, sorted(order))) if a != b]
    at = group[order[swapped[0]]]
    first, end = case.heard.movements[listed[0]].first, case.heard.movements[listed[-1]].end
    return finding(case, CODE, SEVERITY,
                   f"Said back, {at.movement.name} comes before {group[order[swapped[0] + 1]].movement.name}; shown, it comes after.",
                   [(first, end), (at.mention.first, at.mention.end)],
                   expected=", ".join(group[k].movement.name for k in sorted(order)), block=at.block_number)


def _order(case: Case, group: list[Shown], listed: tuple[int, ...]) -> list[int] | None:
    """The places in the block of the movements of a list; ``None`` where one is named twice.

    Of two that could be one movement ("floor press … curl to press") the closer name is it.
    """
    order: list[int] = []
    closest: dict[int, float] = {}
    for n in listed:
        fits = [(case.same(i.mention.match, case.heard.movements[n].match).score, k) for k, i in enumerate(group)
                if n in i.item.mentions]
        if not fits:
            continue
        score, place = max(fits)
        if order and order[-1] == place:
            closest[place] = max(closest[place], score)
            continue          # two mentions of one chain
        if place in order:
            if score == closest[place]:
                return None
            if score < closest[place]:
                continue
            order.remove(place)
        order.append(place)
        closest[place] = score
    return order
