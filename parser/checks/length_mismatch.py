"""The class as laid out does not fit its stated length.

## What it checks
What has gone by before the work starts (in a rehearsal the warm-up as announced), the work by arithmetic with its rests, and
the cool-down where its length is announced, against the length that the class is said to have. "About" allows a tenth,
"exactly" a minute, "under" and "over" nothing on their side. A class that runs on past its promise is only reported where
the recording does not show otherwise; one that falls short only where nothing is left open.

## Why it matters
People have buses to catch, and the next class has the room.

## Example
"Seven minutes, that's all. Twelve moves, thirty seconds each, ten between, once through." That is 7:50.

## Said correctly
"Just under eight minutes."

## Known misses
Talk between blocks, changing of weights and whatever else nobody gave a length. Repetitions have none either.
"""

from __future__ import annotations

from typing import Final

from ..clock import clock
from ..model import Finding, StatedLength
from .frame import says_any
from .looking import Shown, by_block, seconds_at, shown, work_starts_at
from .numbering import stated_counts, sure_count
from .rule import Case

Range = tuple[float | None, float | None]

CODE = "length-mismatch"
SEVERITY: Final = "error"          # the class does not end when people were told
BAD = (
    "[0:00] Under fifteen minutes today. Four moves, forty seconds on, twenty off, four rounds, sixty seconds between rounds. Warm-up is five minutes.\n"
    "[0:05] Number one, goblet squats.\n[0:10] Number two, push-ups.\n[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n",
)
GOOD = (
    "[0:00] About half an hour today. Four moves, forty seconds on, twenty off, four rounds, sixty seconds between rounds. Warm-up is five minutes.\n"
    "[0:05] Number one, goblet squats.\n[0:10] Number two, push-ups.\n[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n",
)
ABOUT = 0.10
EXACT_S = 60.0


def check(case: Case) -> list[Finding]:
    stated = case.plan.stated_length
    if stated is None or not stated.sources or not _sure(case):
        return []
    start = work_starts_at(case)
    before = seconds_at(case, start) if start is not None else None
    low, high = laid_out(case, before)
    if low is None:
        return []
    least, most = allowed(stated.seconds, stated.qualifier)
    duration = case.plan.source.duration_s
    over = most is not None and low > most and not (start is not None and duration is not None and duration <= most)
    # people come and go, things are explained: only a plan of nothing but work can be said to fall short
    short = least is not None and high is not None and high < least and start is None and not says_any(case, "warm", "cool", "stretch")
    if not over and not short:
        return []
    return [_finding(case, stated, low, high, before)]


def laid_out(case: Case, before: float | None) -> Range:
    """What the class comes to, in seconds. ``before``: what has gone by when the work starts, ``None`` in a rehearsal. The high
    end counts the very last rest; it is ``None`` where something has no length."""
    lead = (before, before) if before is not None else _framed(case, "warm_up")
    main, tail = case.plan.totals.main_s, _framed(case, "cool_down")
    if main[0] is None:
        return None, None
    low = (lead[0] or 0) + main[0] + (tail[0] or 0)
    highs = [end for end in (lead[1], main[1], tail[1]) if end is not None]
    return low, sum(highs) + _last_rest(case) if len(highs) == 3 else None


def allowed(seconds: float, qualifier: str) -> Range:
    """The least and the most that a promise allows, in seconds; ``None`` where it is open."""
    if qualifier == "under":
        return None, seconds
    if qualifier == "over":
        return seconds, None
    slack = EXACT_S if qualifier == "exact" else seconds * ABOUT
    return seconds - slack, seconds + slack


def _last_rest(case: Case) -> float:
    """The short rest after the very last movement, which some count and some do not."""
    last = case.mains()[-1][1]
    return last.rest_s if last.format in ("interval", "tabata") and isinstance(last.rest_s, (int, float)) else 0.0


def _framed(case: Case, kind: str) -> Range:
    """The warm-up or the cool-down: as announced, else by its movements; one that is not there takes no time."""
    said = [q.single for q in case.heard.quantities if q.role == kind and q.single]
    if said:
        return said[0], said[0]
    present = any(b.kind == kind for b in case.plan.blocks)
    return (case.plan.totals.warm_up_s if kind == "warm_up" else case.plan.totals.cool_down_s) if present else (0.0, 0.0)


def _sure(case: Case) -> bool:
    """The work can be reckoned: every block has a length, and the number of movements of each is sure."""
    groups = by_block(shown(case))
    if not case.mains() or len(groups) != len(case.mains()):
        return False
    for group in groups.values():
        block = group[0].block
        if block.format == "for_time":
            continue            # over when it is done: from nothing to its cap
        if block.rep_scheme or block.time_scheme or block.format in ("sets", "flow", None):
            return False
        if block.format in ("interval", "tabata", "emom") and not _counted(case, group):
            return False
    return True


def _counted(case: Case, group: list[Shown]) -> bool:
    stated = [q.single for q in stated_counts(case, group)]
    if stated and len(group) not in stated:
        return False
    return bool(stated) or sure_count(group) or len(group) == 1


def _finding(case: Case, stated: StatedLength, low: float, high: float | None, before: float | None) -> Finding:
    comes_to = clock(low) if high == low else f"{clock(low)} to {clock(high)}" if high is not None else f"at least {clock(low)}"
    parts = [f"the work {_between(case.plan.totals.main_s)}"]
    if before is not None:
        parts.insert(0, f"{clock(before)} before it starts")
    takes = "exactly" if stated.qualifier == "exact" else stated.qualifier
    message = f"The class is said to take {takes} {clock(stated.seconds)}; as laid out it comes to {comes_to} ({', '.join(parts)})."
    settings = list(dict.fromkeys(source for b in case.plan.mains for source in b.sources))[:4]     # work and rest may be of one phrase
    return Finding(code=CODE, severity=SEVERITY, message=message, said=[*stated.sources[:1], *settings], expected=comes_to)


def _between(value: Range) -> str:
    low, high = value
    if low is None or high is None:
        return f"at least {clock(low or 0.0)}"
    return clock(low) if low == high else f"{clock(low)} to {clock(high)}"
