"""What the rules about the frame of a class share: is there work that wants one, and does the recording show all of it."""

from __future__ import annotations

from .looking import Shown, norms
from .rule import Case

GENTLE = frozenset(["mobility", "flexibility", "recovery"])


def is_gentle(case: Case, items: list[Shown]) -> bool:
    """A class of stretches, a flow, or said to be for mobility: nothing is missing around it."""
    if set(case.plan.focus) & GENTLE or any(b.format == "flow" for b in case.plan.blocks):
        return True
    soft = sum(all("mobility" in p.patterns or "breathing" in p.patterns for p in i.mention.match.parts) for i in items)
    return not items or soft * 2 >= len(items)


_AFTERWARDS_S = 60.0        # a recording that goes on for so long after the last interval shows what comes after the work


def says_any(case: Case, *beginnings: str, first: int = 0, end: int | None = None) -> bool:
    """Whether any word from token ``first`` to ``end`` begins so; of the whole talk where they are left out."""
    return any(n.startswith(beginnings) for n in norms(case.heard, first, len(case.heard.words.tokens) if end is None else end))


def work_is_over_at(case: Case) -> int | None:
    """The first token after the last interval of the recording; ``None`` where no interval is shown."""
    over = max((i.end for i in case.followed.intervals), default=None)
    if over is None:
        return None
    return next((t.i for t in case.heard.words.tokens if t.t0 is not None and t.t0 >= over), len(case.heard.words.tokens))


def shows_the_end(case: Case) -> bool:
    """The recording does not stop before the end of the class: the coach takes leave, or it goes on well after the last interval."""
    coverage, duration, intervals = case.followed.coverage, case.plan.source.duration_s, case.followed.intervals
    whole = coverage.rounds_planned and coverage.rounds_delivered == coverage.rounds_planned
    if whole and intervals and duration is not None and duration - max(i.end for i in intervals) >= _AFTERWARDS_S:
        return True
    return _takes_leave(case)


def _takes_leave(case: Case) -> bool:
    words = norms(case.heard, max(0, len(case.heard.words.tokens) - 60), len(case.heard.words.tokens))
    text = f" {' '.join(words)} "
    return any(f" {p} " in text for p in ("see you", "bye", "goodbye", "good night", "thank you", "thanks", "same time", "next week", "take care", "well done"))
