"""The warm-up prepares nothing of what the work uses.

## What it checks
A warm-up of three movements or more against the muscles of the main blocks, upper body, trunk or lower body, by the lexicon.

## Why it matters
What is worked cold is what was to be warmed. Common practice, no source for the amount.

## Example
Shoulder rolls, arm circles and wrist circles before a class of squats, lunges and calf raises.

## Said correctly
Marching, leg swings and easy squats before a class of squats, lunges and calf raises.

## Known misses
A warm-up that shares one movement with the work, however little.
"""

from __future__ import annotations

from typing import Final

from ..mentions import MovementMention
from ..model import Finding
from .looking import finding, shown
from .rule import Case

CODE = "warm-up-unrelated"
SEVERITY: Final = "note"
BAD = (
    "[0:00] Hello everyone. Four moves, forty on, twenty off.\n[0:05] Number one, goblet squats.\n[0:10] Number two, reverse lunges.\n"
    "[0:20] Number three, calf raises.\n[0:30] Number four, wall sit.\n"
    "[0:40] Let's warm up. Shoulder rolls, backwards.\n[0:50] Arm circles.\n[1:00] Wrist circles.\n[1:10] That's you warm.\n",
)
GOOD = (
    "[0:00] Hello everyone. Four moves, forty on, twenty off.\n[0:05] Number one, goblet squats.\n[0:10] Number two, reverse lunges.\n"
    "[0:20] Number three, calf raises.\n[0:30] Number four, wall sit.\n"
    "[0:40] Let's warm up. Shoulder rolls, backwards.\n[0:50] Arm circles.\n[1:00] Leg swings.\n[1:10] That's you warm.\n",
)
_FEWEST = 3
_MAIN_MUSCLES = 2        # the lexicon names the muscles that do most of it first
_LOWER = frozenset(["quadriceps", "hamstrings", "glutes", "adductors", "abductors", "calves", "hip-flexors", "shins"])
_UPPER = frozenset(["upper-back", "lats", "traps", "chest", "shoulders", "rotator-cuff", "biceps", "triceps", "forearms", "neck"])


def check(case: Case) -> list[Finding]:
    items = shown(case)
    warm = [case.heard.movements[i.intro] for b, s in zip(case.plan.blocks, case.layout.stretches) if b.kind == "warm_up" for i in s.items]
    if len(warm) < _FEWEST or len(items) < _FEWEST:
        return []
    prepared = set().union(*(_regions(m) for m in warm))
    used = set().union(*(_regions(i.mention) for i in items))
    if not prepared or not used or prepared & used or "all" in prepared | used:
        return []
    said = [(warm[0].first, warm[0].end), (items[0].mention.first, items[0].mention.end)]
    return [finding(case, CODE, SEVERITY, f"The warm-up is for the {' and '.join(sorted(prepared))} body; the work uses the {' and '.join(sorted(used))} body.",
                    said, expected=f"something for the {' and '.join(sorted(used))} body")]


def _regions(mention: MovementMention) -> set[str]:
    muscles = {m for part in mention.match.parts for m in part.muscles[:_MAIN_MUSCLES]}
    out = {"lower"} if muscles & _LOWER else set()
    out |= {"upper"} if muscles & _UPPER else set()
    return out | ({"all"} if muscles - _LOWER - _UPPER or not muscles else set())
