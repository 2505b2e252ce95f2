"""A movement needs equipment that nobody was asked to have ready.

## What it checks
Things named where a movement is shown, which the movement needs, against everything asked for or spoken of in the welcome.
What does for each other (a dumbbell, a kettlebell) is one thing; machines and walls stand where they stand.

## Why it matters
People run to the shelf in the middle of a block, or do without.

## Example
"Two dumbbells, please." Later: "Band pull-aparts."

## Said correctly
"Two dumbbells and a band, please."

## Known misses
A thing that only the movement's name implies, and classes in which nothing is asked for.
"""

from __future__ import annotations

from typing import Final

from ..model import Finding
from .kit import is_fetched, kind_of, words_of
from .looking import Shown, Span, finding, in_option, shown
from .rule import Case

CODE = "equipment-unannounced"
SEVERITY: Final = "note"           # good practice; common practice, no source
BAD = (
    "[0:00] Welcome. You'll need two dumbbells and a mat. Four moves, forty on, twenty off.\n[0:05] Number one, goblet squats. Bell at the chest.\n"
    "[0:10] Number two, band pull-aparts. Band at chest height.\n[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n",
)
GOOD = (
    "[0:00] Welcome. You'll need two dumbbells, a band and a mat. Four moves, forty on, twenty off.\n[0:05] Number one, goblet squats. Bell at the chest.\n"
    "[0:10] Number two, band pull-aparts. Band at chest height.\n[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n",
)

_AFTER_CALL = 12        # words after a call in which the thing is still that movement's


def check(case: Case) -> list[Finding]:
    items = shown(case)
    named = {t for m in case.heard.movements for t in range(m.first, m.end)}      # "band" in "band pull-aparts" asks for none
    asked = [m for m in case.heard.equipment if m.asked and not m.negated and m.first not in named]
    if not items or not asked:
        return []
    start = min(i.mention.first for i in items)
    ready = {kind_of(m.name) for m in case.heard.equipment if m.first not in named
             and (m.asked or m.first < start or case.heard.phase_at(m.first) in ("briefing", "warm_up"))}
    welcome = {t.norm for t in case.heard.words.tokens[:start] if t.i not in named}
    out: list[Finding] = []
    told: set[str] = set()
    for item in items:
        for name in item.mention.match.equipment:
            if kind_of(name) in ready | told or not is_fetched(name) or words_of(name) & welcome:
                continue
            span = _named(case, item, name)
            if span:
                told.add(kind_of(name))
                out.append(finding(case, CODE, SEVERITY, f"{item.movement.name} needs a {name}, which nobody was asked to have ready.",
                                   [span, (asked[0].first, asked[0].end)], expected=name, at=item))
    return out


def _named(case: Case, item: Shown, name: str) -> Span | None:
    """Where the thing is named: in the words of the movement, or where it is shown or called."""
    word = name.split()[-1]
    if any(w.rstrip("s") == word for w in item.mention.match.words):
        return item.mention.first, item.mention.end
    calls = [(case.heard.movements[n].first, case.heard.movements[n].end + _AFTER_CALL) for n in item.item.mentions[1:]]
    for mention in case.heard.equipment:
        if kind_of(mention.name) == kind_of(name) and any(a <= mention.first < b for a, b in [item.span, *calls]) and not mention.negated \
                and not mention.optional and not in_option(case, mention.first) and not any(s.first <= mention.first < s.end for s in case.heard.scopes):
            return mention.first, mention.end
    return None
