"""A short rest that is not as long as announced.

## What it checks
Each rest between movements, repeats or sides against the rest announced for it, with the tolerance of work-off.

## Why it matters
A long pause is time that the class does not have; a short one takes the recovery that the work was chosen for.

## Example
"Forty on, twenty off." A dog runs through the hall and the rest takes forty seconds.

## Said correctly
The same, with the pause announced: "I'm making this one longer, have a drink."

## Known misses
Pauses that nobody announced: they are no rest of the plan.
"""

from __future__ import annotations

from typing import Final

from ..model import Finding
from .rule import Case
from .timing import announced, off_intervals, sources, stretch, took, where

CODE = "rest-off"
SEVERITY: Final = "warning"        # the class goes on all the same
_CLASS = (
    "[0:00] Two moves, forty seconds on, twenty seconds off, two rounds, and a minute between the rounds.\n"
    "[0:10] Number one, goblet squats. Bell at the chest.\n[0:20] Number two, push-ups. Hands wide.\n"
    "[0:40] Stand by.\n[0:57] Three, two, one.\n[1:00] Go! Goblet squats.\n[1:40] And rest. Push-ups next.\n[2:00] Go! Push-ups.\n"
    "[2:40] And rest. That's round one.\n[3:40] Go! Goblet squats, round two.\n[4:20] And rest. Push-ups next.\n"
)
BAD = (_CLASS + "[4:58] Go! Push-ups.\n[5:38] And rest. Well done, that's us, cool down now.\n",)
GOOD = (_CLASS + "[4:40] Go! Push-ups.\n[5:20] And rest. Well done, that's us, cool down now.\n",)


def check(case: Case) -> list[Finding]:
    out = []
    for off in off_intervals(case, "rest"):
        now = off.interval
        out.append(Finding(
            code=CODE, severity=SEVERITY, message=f"Rest after {where(case, now)}: {took(off)}.",
            said=sources(stretch(case, now.start, now.end), announced(case, now.block, now.planned_s, "rest", "round_rest")),
            expected=f"{now.planned_s:g} s", block=now.block, round=now.round, number=now.number))
    return out
