"""A rest between rounds that is not as long as announced.

## What it checks
Each rest between two rounds against the one announced, with the tolerance of work-off.

## Why it matters
The long rest is where people drink and where the class loses its minutes.

## Example
"A minute between the rounds." The second round starts after a minute and forty seconds.

## Said correctly
The same after a minute; or "take another half minute".

## Known misses
A rest between blocks: it depends on how fast the kit is changed.
"""

from __future__ import annotations

from typing import Final

from ..model import Finding
from .rule import Case
from .timing import announced, off_intervals, sources, stretch, took

CODE = "round-rest-off"
SEVERITY: Final = "warning"        # the class goes on all the same
_CLASS = (
    "[0:00] Two moves, forty seconds on, twenty seconds off, two rounds, and a minute between the rounds.\n"
    "[0:10] Number one, goblet squats. Bell at the chest.\n[0:20] Number two, push-ups. Hands wide.\n"
    "[0:40] Stand by.\n[0:57] Three, two, one.\n[1:00] Go! Goblet squats.\n[1:40] And rest. Push-ups next.\n[2:00] Go! Push-ups.\n"
    "[2:40] And rest. That's round one.\n"
)
BAD = (_CLASS + "[4:20] Go! Goblet squats, round two.\n[5:00] And rest. Push-ups next.\n[5:20] Go! Push-ups.\n"
       "[6:00] And rest. Well done, that's us, cool down now.\n",)
GOOD = (_CLASS + "[3:40] Go! Goblet squats, round two.\n[4:20] And rest. Push-ups next.\n[4:40] Go! Push-ups.\n"
        "[5:20] And rest. Well done, that's us, cool down now.\n",)


def check(case: Case) -> list[Finding]:
    out = []
    for off in off_intervals(case, "round_rest"):
        now = off.interval
        out.append(Finding(
            code=CODE, severity=SEVERITY, message=f"Rest after round {now.round}: {took(off)}.",
            said=sources(stretch(case, now.start, now.end), announced(case, now.block, now.planned_s, "round_rest", "rest")),
            expected=f"{now.planned_s:g} s", block=now.block, round=now.round))
    return out
