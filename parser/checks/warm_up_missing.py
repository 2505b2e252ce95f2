"""The work starts without a warm-up.

## What it checks
A class with a main block of other than stretches, in which no warm-up and no word of one was heard.

## Why it matters
Cold muscles and joints are strained more easily. ACSM's Guidelines for Exercise Testing and Prescription give five to ten
minutes. A class that others warmed up for is none of this.

## Example
"Welcome. Forty on, twenty off. Number one, jump squats … Three, two, one, go."

## Said correctly
"Welcome. We warm up first."

## Known misses
A warm-up that is promised and not done.
"""

from __future__ import annotations

from typing import Final

from ..model import Finding
from .frame import is_gentle, says_any
from .looking import finding, shown, work_starts_at
from .rule import Case

CODE = "warm-up-missing"
SEVERITY: Final = "note"
BAD = (
    "[0:00] Hello everyone. Four moves, forty on, twenty off.\n[0:05] Number one, goblet squats.\n[0:10] Number two, push-ups.\n"
    "[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n[1:00] See you next week.\n",
)
GOOD = (
    "[0:00] Hello everyone. Four moves, forty on, twenty off.\n[0:05] Number one, goblet squats.\n[0:10] Number two, push-ups.\n"
    "[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n[0:40] Let's warm up. March on the spot.\n[1:00] See you next week.\n",
)
_FEWEST = 3


def check(case: Case) -> list[Finding]:
    items = shown(case)
    if len(items) < _FEWEST or any(b.kind == "warm_up" for b in case.plan.blocks) or is_gentle(case, items):
        return []
    work = work_starts_at(case)
    if says_any(case, "warm", "prep") or says_any(case, "loosen", end=work) \
            or any(c.phase == "warm_up" and (work is None or c.first < work) for c in case.heard.clauses):
        return []
    first = items[0].mention
    return [finding(case, CODE, SEVERITY, "No warm-up was heard before the work. What people need is for a qualified professional to decide.",
                    [(first.first, first.end)], expected="a warm-up")]
