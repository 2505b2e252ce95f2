"""A round that was announced and not done, in a recording that goes on past it.

## What it checks
The number of rounds announced against those done, where the class is closed properly and rounds are missing from the middle or
from the end.

## Why it matters
The class is shorter than promised, and by a whole round.

## Example
"Three rounds." After the second the coach says well done and cools down.

## Said correctly
The same after the third; or "let's leave it at two today".

## Known misses
Where the recording simply stops, recording-ends-early has it. An AMRAP has no number of rounds.
"""

from __future__ import annotations

from typing import Final

from ..mentions import Quantity
from ..model import Finding
from .rule import Case
from .timing import sources, stretch

CODE = "round-missing"
SEVERITY: Final = "error"          # a whole part of what was promised
_MOST, _BEFORE_S = 0.5, 45.0
_CLASS = (
    "[0:00] Two moves, forty seconds on, twenty seconds off, three rounds, and a minute between the rounds.\n"
    "[0:10] Number one, goblet squats. Bell at the chest.\n[0:20] Number two, push-ups. Hands wide.\n"
    "[0:40] Stand by.\n[0:57] Three, two, one.\n[1:00] Go! Goblet squats.\n[1:40] And rest. Push-ups next.\n[2:00] Go! Push-ups.\n"
    "[2:40] And rest. That's round one.\n[3:40] Go! Goblet squats, round two.\n[4:20] And rest. Push-ups next.\n[4:40] Go! Push-ups.\n"
)
_END = (
    "And rest. Well done. Let's cool down. Quad stretch, hold your foot behind you, thirty seconds each leg, and breathe out.\n"
    "[{m}:00] Now a chest stretch, hands behind your back, thirty seconds, and let it go. That was lovely.\n[{m}:50] See you next week. Bye now.\n"
)
BAD = (_CLASS + "[5:20] " + _END.format(m=6),)
GOOD = (_CLASS + "[5:20] And rest. That's two.\n[6:20] Go! Goblet squats, last round.\n[7:00] And rest. Push-ups next.\n[7:20] Go! Push-ups.\n[8:00] "
        + _END.format(m=9),)


def check(case: Case) -> list[Finding]:
    out = []
    mains = case.plan.mains
    for block in sorted(case.followed.trusted):
        planned = mains[block - 1].rounds
        if not isinstance(planned, (int, float)):
            continue
        done = {i.round for i in case.followed.intervals if i.block == block and i.kind == "work"}
        left = next((rest for rest in case.followed.left if rest.block == block), None)
        missing = [r for r in range(1, int(planned) + 1) if r not in done]
        if not missing or len(done) < 2 or len(missing) > _MOST * planned or (left is not None and left.cut_off):
            continue
        count = next((case.source(q.span) for q in case.heard.quantities if _counts_rounds(q, planned, len(mains[block - 1].movements))), None)
        if count is None or _called_last(case, block):
            continue
        start = left.at if left is not None else _start_of_gap(case, block, missing[0])
        number = f"Round {missing[0]} is" if len(missing) == 1 else f"Rounds {missing[0]} to {missing[-1]} are"
        out.append(Finding(code=CODE, severity=SEVERITY, message=f"{number} announced and not done: {len(done)} of {planned:g}.",
                           said=sources(stretch(case, start, start + 30.0), count), expected=f"{planned:g} rounds", block=block, round=missing[0]))
    return out


def _counts_rounds(q: Quantity, planned: float, movements: int) -> bool:
    """``Four rounds``, and ``eight rounds`` or bouts of two movements that take turns."""
    return q.role in ("rounds", "bouts") and q.single in (planned, planned * movements)


def _called_last(case: Case, block: int) -> bool:
    """The coach calls the last round done the last one: then it is the count that was understood wrongly, or changed."""
    rows = [(i.round, i.start) for i in case.followed.intervals if i.block == block and i.kind == "work" and i.round is not None]
    final = max(round_ for round_, _ in rows)
    start = min(at for round_, at in rows if round_ == final) - _BEFORE_S
    tokens = case.heard.words.tokens
    return any(t.norm in ("last", "final") and t.t0 is not None and start <= t.t0 and t.i + 1 < len(tokens)
               and tokens[t.i + 1].norm in ("round", "time", "lap", "lot", "set", "one", "circuit") for t in tokens)


def _start_of_gap(case: Case, block: int, number: int) -> float:
    before = [i.end for i in case.followed.intervals if i.block == block and i.round is not None and i.round < number]
    return max(before, default=min(i.start for i in case.followed.intervals if i.block == block))
