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


def says_any(case: Case, *beginnings: str) -> bool:
    """Whether any word of the talk begins so."""
    return any(n.startswith(beginnings) for n in norms(case.heard, 0, len(case.heard.words.tokens)))


def reaches_goodbye(case: Case) -> bool:
    """The coach takes leave: the recording does not stop before the end."""
    words = norms(case.heard, max(0, len(case.heard.words.tokens) - 60), len(case.heard.words.tokens))
    text = f" {' '.join(words)} "
    return any(f" {p} " in text for p in ("see you", "bye", "goodbye", "good night", "thank you", "thanks", "same time", "next week", "take care", "well done"))
