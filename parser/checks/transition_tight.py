"""A change of position or of equipment does not fit the rest before it.

## What it checks
Neighbours in an interval block: from standing to the floor or back, and from one piece of equipment to another, with the
seconds that takes, against the rest between them. Common practice, no source: eight seconds down or up, five for the kit.

## Why it matters
The work time goes into getting ready, and people rush with weights in their hands.

## Example
Ten seconds of rest between a dumbbell thruster and a plank on the floor.

## Said correctly
Twenty seconds, or two neighbours in the same position.

## Known misses
Anything that is neither standing nor lying, and a change that the coach gives time for aloud.
"""

from __future__ import annotations

from typing import Final

from ..model import Finding
from .kit import kind_of, stance, table
from .looking import Shown, amount, by_block, finding, is_unknown, shown
from .rule import Case

CODE = "transition-tight"
SEVERITY: Final = "note"
BAD = (
    "[0:00] You'll need two dumbbells. Four moves, forty seconds on, ten off, three rounds.\n[0:05] Number one, goblet squats. Bell at the chest.\n"
    "[0:10] Number two, glute bridges. Heels close.\n[0:20] Number three, dead bugs.\n[0:30] Number four, push-ups.\n",
)
GOOD = (
    "[0:00] You'll need two dumbbells. Four moves, forty seconds on, twenty off, three rounds.\n[0:05] Number one, goblet squats. Bell at the chest.\n"
    "[0:10] Number two, glute bridges. Heels close.\n[0:20] Number three, dead bugs.\n[0:30] Number four, push-ups.\n",
)


def check(case: Case) -> list[Finding]:
    out = []
    for group in by_block(shown(case)).values():
        rest = group[0].block.rest_s
        if group[0].block.format not in ("interval", "tabata") or not isinstance(rest, (int, float)):
            continue
        for a, b in zip(group, group[1:]):
            if is_unknown(a) or is_unknown(b):
                continue
            needed, how = _needed(a, b)
            if needed > rest:
                rests = [case.heard.quantities[i] for i in a.stretch.settings if case.heard.quantities[i].role == "rest"]
                said = [(b.mention.first, b.mention.end)] + [q.span for q in rests[-1:]]
                out.append(finding(case, CODE, SEVERITY, f"From {a.movement.name} to {b.movement.name} takes about {amount(needed)} seconds ({how}); "
                                   f"the rest is {amount(rest)}.", said, expected=f"{amount(needed)} seconds", at=b))
    return out


def _needed(a: Shown, b: Shown) -> tuple[float, str]:
    seconds, total, how = table()["seconds"], 0, []
    before, after = stance(a, end=True), stance(b, end=False)
    if before and after and before != after:
        total += seconds["down_or_up"]
        how.append(f"{seconds['down_or_up']} {'down' if after == 'floor' else 'up'}")
    kit_a, kit_b = ({kind_of(e) for e in i.mention.match.equipment} for i in (a, b))
    if kit_a != kit_b:
        total += seconds["kit"]
        how.append(f"{seconds['kit']} for the kit")
    return total, " and ".join(how)
