"""Nothing is said about safety.

## What it checks
A class in which no word of pain, injury, dizziness, doctors or of stopping was heard.

## Why it matters
Someone in the room is new, sore or on medication. Screening before exercise is what the PAR-Q+ is for (eparmedx.com); what
it turns up is for a qualified professional to decide.

## Example
"Welcome. Four moves, forty on, twenty off. Go!"

## Said correctly
"Welcome. If anything hurts, stop and tell me."

## Known misses
A caution in words of the coach's own.
"""

from __future__ import annotations

from typing import Final

from ..model import Finding
from .frame import says_any
from .looking import finding, has_words, shown
from .rule import Case

CODE = "caution-missing"
SEVERITY: Final = "note"
BAD = (
    "[0:00] Hello everyone. Four moves, forty on, twenty off.\n[0:05] Number one, goblet squats.\n[0:10] Number two, push-ups.\n"
    "[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n[1:00] See you next week.\n",
)
GOOD = (
    "[0:00] Hello everyone. If anything hurts, stop and tell me. Four moves, forty on, twenty off.\n[0:05] Number one, goblet squats.\n"
    "[0:10] Number two, push-ups.\n[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n[1:00] See you next week.\n",
)
_FEWEST = 3
_WORDS = ("hurt", "injur", "dizz", "faint", "light-head", "lightheaded", "unwell", "sharp", "doctor", "physio", "midwife", "pinch", "twinge",
          "careful", "safe", "pregnan", "medic", "sore", "painful")
_PHRASES = ("pain", "pains", "find me", "tell me", "see me first", "let me know", "have a word", "put it down", "stop if", "if you need to stop",
            "doing the talking")


def check(case: Case) -> list[Finding]:
    items = shown(case)
    if len(items) < _FEWEST or case.plan.cautions or says_any(case, *_WORDS) \
            or has_words(case.heard, (0, len(case.heard.words.tokens)), *_PHRASES):
        return []
    first = items[0].mention
    return [finding(case, CODE, SEVERITY, "Nothing about safety was heard: when to stop, whom to tell. "
                    "Who may do what is for a qualified professional to decide.", [(first.first, first.end)], expected="a word of caution")]
