"""The class ends without a cool-down.

## What it checks
A class whose recording or rehearsal reaches its goodbye, or goes on for a minute after the last interval, with a main block of
other than stretches, and in which no cool-down and no word of one was heard after the work.

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

from typing import Final

from ..model import Finding
from .frame import is_gentle, says_any, shows_the_end, work_is_over_at
from .looking import finding, shown
from .rule import Case

CODE = "cool-down-missing"
SEVERITY: Final = "note"
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
_SAID_OF_IT = 25            # words of a cool-down in which no movement was understood
_QUIET = ("settle", "unwind", "breath")
_SLOWER = ("ease", "relax", "loosen", "walk")      # after the work they say that it goes down slowly


def check(case: Case) -> list[Finding]:
    items = shown(case)
    over = work_is_over_at(case) or 0
    if len(items) < _FEWEST or _is_shown(case, over) or is_gentle(case, items) or not shows_the_end(case) or says_any(case, "cool", "stretch"):
        return []
    if says_any(case, *_QUIET, *(_SLOWER if over else ()), first=over) \
            or sum(c.end - c.first for c in case.heard.clauses if c.phase == "cool_down" and c.first >= over) > _SAID_OF_IT:
        return []
    if over and any(m.first > over and not m.match.everyday for m in case.heard.movements):
        return []
    last = items[-1].mention
    return [finding(case, CODE, SEVERITY, "No cool-down was heard after the work. What people need is for a qualified professional to decide.",
                    [(last.first, last.end)], expected="a cool-down")]


def _is_shown(case: Case, over: int) -> bool:
    """A movement of a cool-down comes after the work."""
    return any(s.kind == "cool_down" and case.heard.movements[i.intro].first >= over for s in case.layout.stretches for i in s.items)
