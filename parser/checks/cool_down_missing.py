"""The class ends without a cool-down.

## What it checks
A class whose recording or rehearsal reaches its goodbye, with a main block of other than stretches, and in which no cool-down
and no word of one was heard.

## Why it matters
Stopping dead after hard work makes some people light-headed. ACSM's Guidelines for Exercise Testing and Prescription give
five to ten minutes (from memory).

## Example
"And rest. That's it, done. See you next week."

## Said correctly
"And rest. Let's bring it down, calf stretch, right leg back."

## Known misses
A cool-down that is only promised.
"""

from __future__ import annotations

from ..model import Finding
from .frame import is_gentle, says_any, shows_the_end, work_is_over_at
from .looking import finding, shown
from .rule import Case

CODE = "cool-down-missing"
SEVERITY = "note"
BAD = (
    "[0:00] Hello everyone. Four moves, forty on, twenty off.\n[0:05] Number one, goblet squats.\n[0:10] Number two, push-ups.\n"
    "[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n[1:00] And that's it. See you next week.\n",
)
GOOD = (
    "[0:00] Hello everyone. Four moves, forty on, twenty off.\n[0:05] Number one, goblet squats.\n[0:10] Number two, push-ups.\n"
    "[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n[0:50] Let's cool down. Calf stretch, thirty seconds each side.\n"
    "[1:00] See you next week.\n",
)
_FEWEST = 3
_QUIET = ("settle", "unwind", "breath", "ease", "relax", "loosen", "shake", "walk")


def check(case: Case) -> list[Finding]:
    items = shown(case)
    if len(items) < _FEWEST or any(b.kind == "cool_down" and b.movements for b in case.plan.blocks) or is_gentle(case, items) \
            or not shows_the_end(case) or says_any(case, "cool", "stretch"):
        return []
    over = work_is_over_at(case) or 0
    if says_any(case, *_QUIET, first=over) or any(c.phase == "cool_down" and c.end - c.first > 12 and c.first >= over for c in case.heard.clauses):
        return []
    if over and any(m.first > over and not m.match.everyday for m in case.heard.movements):
        return []
    last = items[-1].mention
    return [finding(case, CODE, SEVERITY, "No cool-down was heard after the work. What people need is for a qualified professional to decide.",
                    [(last.first, last.end)], expected="a cool-down")]
