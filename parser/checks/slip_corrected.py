"""A value said wrong and put right aloud.

## What it checks
A time, a count, a side, a movement or a piece of equipment that is taken back at once and said again. The plan holds the
right value; the note keeps the slip. A movement's number and a limb have codes of their own.

## Why it matters
People who stopped listening after the first value have the wrong one. In a rehearsal it shows which lines are not yet learnt.

## Example
"Four rounds, sorry, three rounds."

## Said correctly
"Three rounds."
"""

from __future__ import annotations

from ..model import Finding
from .rule import Case

CODE = "slip-corrected"
SEVERITY = "note"
BAD = ("[0:00] Five moves, forty on, twenty off. Four rounds, sorry, three rounds.",)
GOOD = ("[0:00] Five moves, forty on, twenty off. Three rounds. Sorry about the noise, three of you are late.",)

_OWN_CODE = frozenset({"label", "limb"})


def check(case: Case) -> list[Finding]:
    out = []
    for slip in case.heard.slips:
        if slip.kind in _OWN_CODE:
            continue
        wrong, right = case.source(slip.wrong), case.source(slip.right)
        out.append(Finding(code=CODE, severity=SEVERITY, corrected=True, said=[wrong, right], expected=right.quote,
                           message=f'"{wrong.quote}" was said and put right: "{right.quote}".'))
    return out
