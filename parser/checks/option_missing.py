"""No easier way is offered for one movement where all the others have one.

## What it checks
A block of four movements or more in which every movement but one comes with an easier way, and that one has easier versions.

## Why it matters
Whoever needs it stops there, or strains. Regressions and progressions belong in a written class plan (American Council on
Exercise, article on a class blueprint, 2016/2017).

## Example
Four movements, three of them with "easier, …", and a push-up without.

## Said correctly
"Push-ups. Easier, from the knees."

## Known misses
Blocks in which two movements or more have none, and an easier way that is only shown.
"""

from __future__ import annotations

from typing import Final

from ..model import Finding
from .looking import Shown, by_block, finding, norms, offers, sentence_of, shown
from .rule import Case

CODE = "option-missing"
SEVERITY: Final = "note"
BAD = (
    "[0:00] Four moves, forty on, twenty off.\n[0:05] Number one, goblet squats. Easier, put the bell down.\n"
    "[0:10] Number two, push-ups. Hands wide, chest to the floor.\n[0:20] Number three, lateral lunges. Easier, a smaller step.\n"
    "[0:30] Number four, jumping jacks. If that's too much, step it.\n",
)
GOOD = (
    "[0:00] Four moves, forty on, twenty off.\n[0:05] Number one, goblet squats. Easier, put the bell down.\n"
    "[0:10] Number two, push-ups. Easier, from the knees.\n[0:20] Number three, lateral lunges. Easier, a smaller step.\n"
    "[0:30] Number four, jumping jacks. If that's too much, step it.\n",
)
_FEWEST = 4
_CALLED = 30        # words after a call in which an easier way may still come
_WHOLE = frozenset(["every", "everything", "everyone", "everybody", "each", "all", "any", "anything", "whatever", "always", "both", "them", "options"])
_NONE_LEFT_OUT = frozenset(["everything"])


def check(case: Case) -> list[Finding]:
    items = shown(case)
    out = []
    for group in by_block(items).values():
        if len(group) < _FEWEST or _for_all(case, group):
            continue
        without = [i for i in group if not _offered(case, group, i)]
        if len(without) == 1 and any(part.easier for part in without[0].mention.match.parts):
            item = without[0]
            out.append(finding(case, CODE, SEVERITY, f"{item.movement.name} is the only one without an easier way. "
                               "What suits whom is for a qualified professional to decide.",
                               [(item.mention.first, item.mention.end)], expected="an easier way", at=item))
    return out


def _for_all(case: Case, group: list[Shown]) -> bool:
    """An easier way is offered for the whole block: before its first movement, or in words that leave none out."""
    first = group[0].span[0]
    return any((_WHOLE if o.first < first else _NONE_LEFT_OUT) & set(norms(case.heard, *sentence_of(case, o.first))) for o in offers(case)
               if case.heard.phase_at(o.first) in ("briefing", "demo"))


def _offered(case: Case, group: list[Shown], item: Shown) -> bool:
    if item.movement.options:
        return True
    for n in item.item.mentions[1:]:
        if any(i.span[0] <= case.heard.movements[n].first < i.span[1] for i in group):
            continue        # named while another is shown; where it is shown itself is asked below
        end = case.heard.movements[n].end
        until = min([*[m.first for m in case.heard.movements[n + 1:] if m.intro > 0 and not m.option][:1], end + _CALLED])
        if any(end <= o.first < until for o in case.heard.options):
            return True
    return any(item.item.segment[0] <= o.first < item.item.segment[1] for o in case.heard.options)
