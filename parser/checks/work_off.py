"""A work interval that is not as long as announced.

## What it checks
Each timed work of the recording against the time announced for it. It speaks where the difference exceeds the larger of three
seconds and a tenth, and how surely the edges are heard is added to that.

## Why it matters
Whoever was working had less than promised, or more than they had saved for. A plan that is copied from the recording inherits it.

## Example
"Forty on, twenty off." The third work is stopped after twenty-eight seconds.

## Said correctly
The same, stopped after forty; or the change is announced before it is made.

## Known misses
A piece for time, which is over when it is done. Two sides that are uneven and fill their work time: side-uneven has them.
"""

from __future__ import annotations

from typing import Final

from ..model import Finding
from .rule import Case
from .timing import announced, off_intervals, sources, stretch, took, where

CODE = "work-off"
SEVERITY: Final = "warning"        # the class goes on all the same
_ROLES = ("work", "hold", "each", "interval", "amrap", "bare")
_CLASS = (
    "[0:00] Two moves, forty seconds on, twenty seconds off, two rounds, and a minute between the rounds.\n"
    "[0:10] Number one, goblet squats. Bell at the chest.\n[0:20] Number two, push-ups. Hands wide.\n"
    "[0:40] Stand by.\n[0:57] Three, two, one.\n[1:00] Go! Goblet squats.\n[1:40] And rest. Push-ups next.\n[2:00] Go! Push-ups.\n"
    "[2:40] And rest. That's round one.\n[3:40] Go! Goblet squats, round two.\n"
)
BAD = (_CLASS + "[4:08] And rest. Push-ups next.\n[4:28] Go! Push-ups.\n[5:08] And rest. Well done, that's us, cool down now.\n",)
GOOD = (_CLASS + "[4:20] And rest. Push-ups next.\n[4:40] Go! Push-ups.\n[5:20] And rest. Well done, that's us, cool down now.\n",)


def check(case: Case) -> list[Finding]:
    out = []
    for off in off_intervals(case, "work"):
        now = off.interval
        place = where(case, now)
        out.append(Finding(
            code=CODE, severity=SEVERITY, message=f"{place[:1].upper()}{place[1:]}: work of {took(off)}." if place else f"Work of {took(off)}.",
            said=sources(stretch(case, now.start, now.end), announced(case, now.block, now.planned_s, *_ROLES)),
            expected=f"{now.planned_s:g} s", block=now.block, round=now.round, number=now.number))
    return out
