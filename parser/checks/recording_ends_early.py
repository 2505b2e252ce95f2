"""The recording stops before the announced work does.

## What it checks
Whether the announced rounds and movements are done when the recording ends, where the clock was running at all.

## Why it matters
A plan that is timed by this recording is timed by a part of it.

## Example
"Three rounds." The recording is cut off after the first.

## Said correctly
The recording goes on to the end of the third.

## Known misses
A rehearsal, which demonstrates and never runs the clock, stops nowhere.
"""

from __future__ import annotations

from typing import Final

from ..clock import clock
from ..model import Finding
from .rule import Case
from .timing import sources, stretch

CODE = "recording-ends-early"
SEVERITY: Final = "warning"        # it may have been cut on purpose
_CLASS = (
    "[0:00] Two moves, forty seconds on, twenty seconds off, three rounds, and a minute between the rounds.\n"
    "[0:10] Number one, goblet squats. Bell at the chest.\n[0:20] Number two, push-ups. Hands wide.\n"
    "[0:40] Stand by.\n[0:57] Three, two, one.\n[1:00] Go! Goblet squats.\n[1:40] And rest. Push-ups next.\n[2:00] Go! Push-ups.\n"
    "[2:40] And rest. That's round one.\n"
)
BAD = (_CLASS + "[3:40] Go! Goblet squats, round two.\n[4:20] And rest. I'm going to stop the recording there.\n",)
GOOD = (_CLASS + "[3:40] Go! Goblet squats, round two.\n[4:20] And rest. Push-ups next.\n[4:40] Go! Push-ups.\n[5:20] And rest. That's two.\n"
        "[6:20] Go! Goblet squats, last round.\n[7:00] And rest. Push-ups next.\n[7:20] Go! Push-ups.\n[8:00] And rest. Well done, that's us.\n",)


def check(case: Case) -> list[Finding]:
    out = []
    for left in case.followed.left:
        if left.block in case.followed.trusted and left.cut_off:
            what = ", ".join(f"{name} {value}" for name, value in (("round", left.round), ("movement", left.number)) if value is not None)
            out.append(Finding(code=CODE, severity=SEVERITY, message=f"The recording ends at {clock(left.at)} with {what} still to come.",
                               said=sources(stretch(case, left.at - 5.0, left.at + 30.0)), block=left.block, round=left.round, number=left.number))
    return out
