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

from dataclasses import replace
from typing import Final

from ..mentions import Slip
from ..model import Finding
from .looking import is_of_a_number
from .rule import Case

CODE = "slip-corrected"
SEVERITY: Final = "note"
BAD = ("[0:00] Five moves, forty on, twenty off. Four rounds, sorry, three rounds.",)
GOOD = ("[0:00] Five moves, forty on, twenty off. Three rounds. Sorry about the noise, three of you are late.",)

_OWN_CODE = frozenset({"label", "limb"})


def check(case: Case) -> list[Finding]:
    out = []
    for slip in _joined([s for s in case.heard.slips if s.kind not in _OWN_CODE and not is_of_a_number(case, s)]):
        wrong, right = case.source(slip.wrong), case.source(slip.right)
        taken_back = slip.was.rstrip("s") == slip.became.rstrip("s")
        message = f'"{wrong.quote}" was said and taken back.' if taken_back else f'"{wrong.quote}" was said and put right: "{right.quote}".'
        out.append(Finding(code=CODE, severity=SEVERITY, corrected=True, said=[wrong, right], expected=None if taken_back else right.quote,
                           message=" ".join(message.split())))
    return out


def _joined(slips: list[Slip]) -> list[Slip]:
    """``a carry … where would they carry it to, sorry, a march``: what is put right by a word that is put right itself is one slip."""
    out: list[Slip] = []
    for slip in slips:
        if out and out[-1].right == slip.wrong and out[-1].kind == slip.kind:
            slip = replace(slip, wrong=out[-1].wrong, was=out[-1].was)
            out.pop()
        out.append(slip)
    return out
