"""The focus as said is not what the movements train.

## What it checks
A class that is said to be one thing, where none of its movements is: strength without a lift, core without the middle, cardio
of nothing but stretches, mobility of nothing but jumps and weights. The lexicon's patterns of movement decide.

## Why it matters
People choose a class by what it is called, some of them for a reason.

## Example
"A gentle mobility session", and then burpees, thrusters, jump squats and swings.

## Said correctly
"A conditioning session", and then burpees, thrusters, jump squats and swings.

## Known misses
A class that is a little of what it is called, or that is said to be two things.
"""

from __future__ import annotations

from typing import Final

from ..model import Finding
from .looking import Shown, finding, is_unknown, shown
from .rule import Case

CODE = "focus-mismatch"
SEVERITY: Final = "note"
BAD = (
    "[0:00] Welcome to the mobility session. Four moves, forty on, twenty off.\n[0:05] Number one, burpees.\n[0:10] Number two, jump squats.\n"
    "[0:20] Number three, mountain climbers.\n[0:30] Number four, jumping jacks.\n",
)
GOOD = (
    "[0:00] Welcome to the cardio session. Four moves, forty on, twenty off.\n[0:05] Number one, burpees.\n[0:10] Number two, jump squats.\n"
    "[0:20] Number three, mountain climbers.\n[0:30] Number four, jumping jacks.\n",
)
_FEWEST = 4
_LIFTS = frozenset(["squat", "hinge", "lunge", "horizontal-push", "vertical-push", "horizontal-pull", "vertical-pull", "carry", "elbow-flexion",
                    "elbow-extension", "shoulder-raise", "calf-raise", "hip-extension", "hold", "core-flexion", "core-extension", "anti-rotation",
                    "rotation", "abduction", "adduction", "step"])
_MIDDLE = frozenset(["core-flexion", "core-extension", "anti-rotation", "rotation", "hold", "carry", "hip-extension", "balance"])
_SOFT = frozenset(["mobility", "breathing"])
_HARD = frozenset(["jump", "punch", "carry"])


def check(case: Case) -> list[Finding]:
    items = shown(case)
    if len(items) < _FEWEST or len(case.plan.focus) != 1 or any(is_unknown(i) for i in items):
        return []
    focus = case.plan.focus[0]
    patterns = [{p for part in i.mention.match.parts for p in part.patterns} for i in items]
    wrong = {
        "resistance": all(not p & _LIFTS for p in patterns),
        "core": all(not p & _MIDDLE for p in patterns),
        "cardio": all(p <= _SOFT for p in patterns),
        "mobility": all(_is_hard(p, i) for p, i in zip(patterns, items)),
        "flexibility": all(_is_hard(p, i) for p, i in zip(patterns, items)),
        "recovery": all(_is_hard(p, i) for p, i in zip(patterns, items)),
    }.get(focus, False)
    if not wrong:
        return []
    note = next(n for n in case.heard.notes if n.role == f"focus:{focus}")
    names = ", ".join(i.movement.name for i in items[:4])
    return [finding(case, CODE, SEVERITY, f"The class is said to be for {focus}; none of its movements is ({names}).",
                    [(note.first, note.end), (items[0].mention.first, items[0].mention.end)], expected=f"movements for {focus}")]


def _is_hard(patterns: set[str], item: Shown) -> bool:
    return not patterns & _SOFT and (bool(patterns & _HARD) or any(p.impact == "high" for p in item.mention.match.parts)
                                     or bool(item.mention.match.equipment))
