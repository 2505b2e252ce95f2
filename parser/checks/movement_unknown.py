"""A movement has a name that the lexicon does not have.

## What it checks
A name that is introduced as a movement is, and a number whose neighbours have their movements, where the lexicon has none such.

## Why it matters
The plan has a gap there. Often it is a pet name, or speech-to-text heard something else; teach it once with
`planaloud lexicon teach`, or mend the transcript.

## Example
"Number three, wobbly herons."

## Said correctly
"Number three, wobbly herons, a single-leg deadlift."

## Known misses
A movement without a number, the first and the last one.
"""

from __future__ import annotations

from typing import Final

from ..mentions import NO_BREAK
from ..model import Finding
from .looking import Shown, Span, finding, is_unknown, quoted, shown, taken_back
from .rule import Case

CODE = "movement-unknown"
SEVERITY: Final = "note"           # it says something of our words, not of the coach's
BAD = (
    "[0:00] Number one, goblet squats. Bell at the chest.\n[0:10] Number two, push-ups. Hands wide.\n"
    "[0:20] Number three, wobbly herons. Try to stay up.\n[0:30] Number four, jumping jacks. Arms all the way.\n",
)
GOOD = (
    "[0:00] Number one, goblet squats. Bell at the chest.\n[0:10] Number two, push-ups. Hands wide.\n"
    "[0:20] Number three, glute bridges. Like a wobbly heron.\n[0:30] Number four, jumping jacks. Arms all the way.\n",
)
_LEAD = frozenset(["is", "are", "the", "a", "an", "our", "your", "we've", "we", "have", "got", "it's", "that's", "some", "will", "be", "'s", "then"])
_LONGEST_NAME = 4


def check(case: Case) -> list[Finding]:
    return [_introduced(case, i) for i in shown(case) if is_unknown(i)] or _between_numbers(case)


def _introduced(case: Case, item: Shown) -> Finding:
    said = (item.mention.first, item.mention.end)
    return finding(case, CODE, SEVERITY, f'"{quoted(case, said)}" is no movement that the lexicon has.', [said],
                   expected="a name that the lexicon has", at=item)


def _between_numbers(case: Case) -> list[Finding]:
    """A number whose neighbours have their movements, and no movement after it."""
    void = taken_back(case)
    owner = {m.label_span: m for m in case.heard.movements if m.label_span}
    labels = [q for q in case.heard.quantities if q.role == "label" and q.single and q.first not in void
              and case.heard.phase_at(q.first) == "demo"]
    out = []
    for before, q, after in zip(labels, labels[1:], labels[2:]):
        if q.span in owner or before.span not in owner or after.span not in owner:
            continue
        if q.single is None or (before.single, after.single) != (q.single - 1, q.single + 1):
            continue
        if any(q.end <= m.first < after.first and m.scope is None and not m.option and not m.match.everyday for m in case.heard.movements):
            continue
        name = _name(case, q.span[1], after.span[0])
        if name:
            out.append(finding(case, CODE, SEVERITY, f'Number {q.single:g}, "{quoted(case, name)}", is no movement that the lexicon has.',
                               [(q.span[0], name[1])], expected="a name that the lexicon has"))
    return out


def _name(case: Case, at: int, until: int) -> Span | None:
    """The words from ``at`` on that are the name, before those of the next number."""
    tokens = case.heard.words.tokens
    while at < until and tokens[at].norm in _LEAD:
        at += 1
    end = at
    while end < until and end - at < _LONGEST_NAME and (end == at or tokens[end].brk == NO_BREAK):
        end += 1
    return (at, end) if end > at else None
