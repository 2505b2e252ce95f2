"""One movement comes without a number where its neighbours have theirs.

## What it checks
A block whose movements are introduced by number, all but one in the middle, and the next one's number leaves room for it.

## Why it matters
A list by number has a hole, and people wonder whether they missed one.

## Example
"Number one, squats. Number two, rows. Then lunges. Number four, presses."

## Said correctly
"Number one, squats. Number two, rows. Number three, lunges. Number four, presses."

## Known misses
The first and the last movement: "first up" and "to finish" are as good as a number there.
"""

from __future__ import annotations

from typing import Final

from ..model import Finding
from .looking import by_block, finding, shown
from .numbering import said_too, unnumbered
from .rule import Case

CODE = "number-missing"
SEVERITY: Final = "note"
BAD = (
    "[0:00] Number one, goblet squats. Bell at the chest.\n[0:10] Number two, push-ups. Hands wide.\n"
    "[0:20] And then we've got glute bridges. Heels close.\n[0:30] Number four, jumping jacks. Arms all the way.\n",
)
GOOD = (
    "[0:00] Number one, goblet squats. Bell at the chest.\n[0:10] Number two, push-ups. Hands wide.\n"
    "[0:20] Number three, glute bridges. Heels close.\n[0:30] To finish, jumping jacks. Arms all the way.\n",
    "[0:00] First up, goblet squats. Then push-ups. Then glute bridges. Then jumping jacks.\n",
)


def check(case: Case) -> list[Finding]:
    out = []
    for group in by_block(shown(case)).values():
        for item, should in unnumbered(group):
            if said_too(case, item, should):
                continue
            k = next(k for k, other in enumerate(group) if other is item)
            said = [i.mention.label_span for i in (group[k - 1], group[k + 1]) if i.mention.label_span]
            out.append(finding(case, CODE, SEVERITY, f"{item.movement.name} comes without a number; it would be number {should}.",
                               [(item.mention.first, item.mention.end), *said], expected=f"number {should}", at=item))
    return out
