"""A movement that was announced for the round and not done in it.

## What it checks
The rounds as done against the movements announced, where the recording goes on past the one left out.

## Why it matters
Somebody was saving themselves for it; and the round is shorter than planned.

## Example
Five moves, two rounds. In the second, the rest after number three runs straight into number five.

## Said correctly
The same with number four; or "we leave out number four this time".

## Known misses
A movement that is missing from several rounds, or never done: then it is more likely that the plan was understood wrongly. A
movement done in another one's place.
"""

from __future__ import annotations

from collections import Counter
from typing import Final

from ..model import Finding
from .looking import by_block, shown
from .numbering import stated_counts, sure_count
from .rule import Case
from .timing import movement_name, sources, stretch

CODE = "movement-skipped"
SEVERITY: Final = "warning"        # as for the other clock rules
_CLASS = (
    "[0:00] Three moves, forty seconds on, twenty seconds off, two rounds, and a minute between the rounds.\n"
    "[0:10] Number one, goblet squats. Bell at the chest.\n[0:20] Number two, push-ups. Hands wide.\n[0:30] Number three, star jumps. Land soft.\n"
    "[0:57] Three, two, one.\n[1:00] Go! Goblet squats.\n[1:40] And rest. Push-ups next.\n[2:00] Go! Push-ups.\n"
    "[2:40] And rest. Star jumps next.\n[3:00] Go! Star jumps.\n[3:40] And rest. That's round one.\n"
    "[4:40] Go! Goblet squats, round two.\n"
)
_END = ("And rest. Well done. Let's cool down. Quad stretch, hold your foot behind you, thirty seconds each leg.\n"
        "[8:20] Now a chest stretch, hands behind your back, and breathe out.\n[9:00] That was lovely. See you next week. Bye now.\n")
BAD = (_CLASS + "[5:20] And rest. Star jumps next.\n[5:40] Go! Star jumps.\n[6:20] " + _END,)
GOOD = (_CLASS + "[5:20] And rest. Push-ups next.\n[5:40] Go! Push-ups.\n[6:20] And rest. Star jumps next.\n[6:40] Go! Star jumps.\n"
        "[7:20] " + _END,)


def check(case: Case) -> list[Finding]:
    out = []
    rounds = {(i.block, i.round) for i in case.followed.intervals if i.kind == "work"}
    times = Counter((s.block, s.number) for s in case.followed.skipped)
    done = {(i.block, i.number) for i in case.followed.intervals if i.kind == "work"}
    items = shown(case)
    introduced = {(i.block_number, i.movement.number): (i.mention.first, i.mention.end) for i in items}
    sure = {n for n, group in by_block(items).items() if sure_count(group) or len(group) in {q.single for q in stated_counts(case, group)}}
    for left_out in case.followed.skipped:
        place = (left_out.block, left_out.number)
        if left_out.block not in case.followed.trusted or left_out.block not in sure or (left_out.block, left_out.round) not in rounds:
            continue
        if times[place] > 1 or place not in done:
            continue
        name = movement_name(case, *place)
        span = introduced.get((left_out.block, left_out.number or 0))
        out.append(Finding(
            code=CODE, severity=SEVERITY, message=f"Round {left_out.round}: movement {left_out.number} ({name}) was announced and is not done.",
            said=sources(stretch(case, left_out.start, left_out.end), case.source(span) if span else None), expected=name,
            block=left_out.block, round=left_out.round, number=left_out.number))
    return out
