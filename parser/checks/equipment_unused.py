"""Equipment is asked for and never used.

## What it checks
Things that everybody is asked to fetch, against the movements that need them and every later word of them. Mats, cushions and
water are used without being spoken of.

## Why it matters
It lies about where people step, and they wonder what they missed.

## Example
"Take a long band off the hook." No band is named again.

## Said correctly
Nothing is asked for that no movement needs.

## Known misses
A thing that is spoken of again without being used, other than to put it away.
"""

from __future__ import annotations

from typing import Final

from ..model import Finding
from .kit import is_fetched, kind_of
from .looking import finding, has_words
from .rule import Case

CODE = "equipment-unused"
SEVERITY: Final = "note"           # good practice; common practice, no source
BAD = (
    "[0:00] Welcome. You'll need a mat and a long band. Four moves, forty on, twenty off.\n[0:05] Number one, air squats.\n"
    "[0:10] Number two, push-ups. Hands wide.\n[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n[1:00] See you next week.\n",
)
GOOD = (
    "[0:00] Welcome. You'll need a mat and a long band. Four moves, forty on, twenty off.\n[0:05] Number one, air squats.\n"
    "[0:10] Number two, band pull-aparts. Hands wide.\n[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n[1:00] See you next week.\n",
)
_REQUEST = 45       # words over which the same request may go on
_FEWEST = 3         # movements known, before one can say that none of them needs it


def check(case: Case) -> list[Finding]:
    movements = [m for m in case.heard.movements if m.scope is None]
    if sum(len(s.items) for s in case.layout.stretches) < _FEWEST:
        return []
    out = []
    for thing in case.plan.equipment:
        kinds = {kind_of(n) for n in (thing.name, *thing.alternatives)}
        asked = [m for m in case.heard.equipment if m.asked and kind_of(m.name) in kinds]
        if thing.optional or not is_fetched(thing.name) or not asked:
            continue
        later = [m for m in case.heard.equipment if kind_of(m.name) in kinds and m.first > asked[0].end + _REQUEST
                 and _is_thing(case, m.first)]
        fetched = {t for m in asked for t in range(m.first, m.end)}        # "a jump rope" is a movement too
        needed = any(kind_of(e) in kinds for m in movements if m.first not in fetched for e in m.match.equipment)
        if not later and not needed and not _spoken_of(case, thing.name, asked[0].end + _REQUEST):
            out.append(finding(case, CODE, SEVERITY, f"A {thing.name} is asked for, and nothing uses it.",
                               [(m.first, m.end) for m in asked[:2]], expected="a movement that needs it, or no request"))
    return out


def _spoken_of(case: Case, name: str, after: int) -> bool:
    """The thing by the last word of its name (``rope``), in the singular or the plural."""
    word = name.split()[-1]
    forms = {word, word + "s"}
    return any(t.norm.removesuffix("'s") in forms and _is_thing(case, t.i) for t in case.heard.words.tokens[after:])


def _is_thing(case: Case, i: int) -> bool:
    """Spoken of in the class, not when it is put away, and not the balls of the feet."""
    return case.heard.phase_at(i) != "close" and not has_words(case.heard, (i, i + 4), "balls of your", "balls of the", "ball of your", "ball of the")
