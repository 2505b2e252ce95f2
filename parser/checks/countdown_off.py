"""The time left as said does not agree with the clock.

## What it checks
Statements of time left ("ten seconds left", "two minutes to go") against the end of the interval in which they are said. It
speaks where they differ by more than the larger of five seconds and a fifth of the time said, three seconds more for a time
without such words around it; how surely the moment is heard is added to that.

## Why it matters
People spend what they have left by that number.

## Example
"Fifteen seconds left", and the work goes on for thirty-five.

## Said correctly
"Thirty-five seconds left."

## Known misses
Halfway, which is called loosely; a time that is repeated from the announcement ("one minute, go"); statements that fit a later
edge of the clock ("two minutes left in the whole thing").
"""

from __future__ import annotations

from typing import Final

from ..clock import clock
from ..delivery import TimeLeft
from ..model import Finding
from .rule import Case
from .timing import LEAST_S, movement_name, sources, stretch, tolerance

CODE = "countdown-off"
SEVERITY: Final = "warning"        # the clock itself is right
_CLASS = (
    "[0:00] Two moves, forty seconds on, twenty seconds off, two rounds, and a minute between the rounds.\n"
    "[0:10] Number one, goblet squats. Bell at the chest.\n[0:20] Number two, push-ups. Hands wide.\n"
    "[0:40] Stand by.\n[0:57] Three, two, one.\n[1:00] Go! Goblet squats.\n[1:40] And rest. Push-ups next.\n[2:00] Go! Push-ups.\n"
    "[2:40] And rest. That's round one.\n[3:40] Go! Goblet squats, round two.\n[4:20] And rest. Push-ups next.\n[4:40] Go! Push-ups.\n"
)
_END = "[5:20] And rest. Well done, that's us, cool down now.\n"
BAD = (_CLASS + "[4:48] Ten seconds left, keep going.\n" + _END,)
GOOD = (_CLASS + "[5:10] Ten seconds left, keep going.\n" + _END,)
_BARE_MOST_S = 30.0        # said with nothing around it, a longer time is mostly an announcement
_EDGE_S = 2.0
LEAST_S_OF_LEFT, SHARE_OF_LEFT = 5.0, 0.2
_MOST = 0.25


def check(case: Case) -> list[Finding]:
    wrong = [said for said in case.followed.time_left if _wrong(case, said)]
    # a coach who seems to be wrong again and again was misunderstood
    return [_finding(case, said) for said in wrong] if len(wrong) <= max(1, _MOST * len(case.followed.time_left)) else []


def _wrong(case: Case, said: TimeLeft) -> bool:
    now = case.followed.intervals[said.interval]
    value = said.seconds
    if now.block not in case.followed.trusted or now.planned_s is None or _for_time(case, now.block):
        return False
    if abs(said.error_s) <= _tolerance(said):
        return False
    whole = max(now.planned_s, now.end - now.start)
    if abs(now.end - now.start - now.planned_s) > tolerance(now.planned_s, now.uncertainty_s):
        return False        # the interval itself is off; that has its own finding
    if value > whole or now.end - said.at < _EDGE_S or _is_announcement(case, said) or _fits_later(case, said):
        return False        # said as the interval ends it is of another: nobody calls ten seconds and the end at once
    # a word that may belong to the interval before or after says nothing about this one
    loose = said.word_s / 2
    return now.start - _EDGE_S <= said.at - loose and said.at + loose <= now.end + _EDGE_S


def _tolerance(said: TimeLeft) -> float:
    """Wider than that of an interval: the time is said in round figures, and saying it takes time."""
    return max(LEAST_S_OF_LEFT, SHARE_OF_LEFT * said.seconds) + said.uncertainty_s + (0.0 if said.explicit else LEAST_S)


def _for_time(case: Case, block: int) -> bool:
    return case.plan.mains[block - 1].format == "for_time"


def _is_announcement(case: Case, said: TimeLeft) -> bool:
    """``Ninety seconds`` as the rest begins says how long it is."""
    rows = case.followed.intervals
    near = rows[max(0, said.interval - 1) : said.interval + 2]
    repeated = any(i.planned_s == said.seconds for i in near)
    if said.explicit:
        # "last two minutes" may open them; "thirty seconds left" may not
        return repeated and case.heard.words.tokens[said.quantity.span[0]].norm in ("last", "final")
    return repeated or said.seconds > _BARE_MOST_S


def _fits_later(case: Case, said: TimeLeft) -> bool:
    """It is the time to the end of the round or the block: ``two minutes left in the whole thing``."""
    at = said.at + said.seconds
    rows = case.followed.intervals[said.interval + 1 :]
    edges = [a.end for a, b in zip(rows, [*rows[1:], None]) if a.kind == "work" and (b is None or b.kind != "rest" or a.round != b.round)]
    return said.error_s > 0 and any(abs(at - e) <= _tolerance(said) for e in edges)


def _finding(case: Case, said: TimeLeft) -> Finding:
    now = case.followed.intervals[said.interval]
    words = case.source(said.quantity.span)
    left = now.end - said.at
    name = f" of {movement_name(case, now.block, now.number)}" if now.number is not None and now.kind == "work" else ""
    return Finding(code=CODE, severity=SEVERITY,
                   message=f'"{" ".join(words.quote.split())}" at {clock(said.at)}: the {now.kind.replace("_", " ")}{name} goes on for {left:.0f} s.',
                   said=sources(words, stretch(case, now.end, now.end + 5.0)), expected=f"{left:.0f} s",
                   block=now.block, round=now.round, number=now.number)
