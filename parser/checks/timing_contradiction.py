"""Two different values for the same thing, neither put right.

## What it checks
Work and rest, the interval of an EMOM, the rest between rounds, the rest after sets, and the length of an AMRAP or a cap, where two announcements of the
same thing differ and no change was announced between them. A value put right aloud is slip-corrected instead. Intervals of a
block whose times contradict each other are not held against either.

## Why it matters
The clock can only be set to one of them.

## Example
"Forty on, twenty off." Later, before the start: "Remember, forty five on, fifteen off."

## Said correctly
"Forty on, twenty off." Later: "I'm changing it, forty five on, fifteen off."

## Known misses
Values of single movements, which may differ on purpose, a value that is only hinted at, and two values in one breath.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from ..mentions import Quantity, Stretch
from ..model import Block, Finding
from .looking import changed_between, finding, has_words, in_option, norms, quoted, taken_back
from .rule import Case

CODE = "timing-contradiction"
SEVERITY: Final = "error"          # whichever the coach sets the clock to, some of what was said is wrong
BAD = (
    "[0:00] Four moves, forty seconds on, twenty off, three rounds.\n[0:05] Number one, goblet squats. Bell at the chest, sit down between your heels.\n"
    "[0:10] Number two, push-ups. Hands wide, chest all the way down.\n[0:20] Number three, glute bridges. Heels close, hips up.\n"
    "[0:30] Number four, jumping jacks.\n"
    "[0:40] So that's goblet squats, push-ups, glute bridges, jumping jacks. Forty five seconds on, fifteen off, three rounds.\n",
    "[0:00] Four moves, forty seconds on, twenty off, three rounds.\n[0:05] Number one, goblet squats. Bell at the chest, sit down between your heels.\n"
    "[0:10] Number two, push-ups. Hands wide, chest all the way down.\n[0:20] Number three, glute bridges. Heels close, hips up.\n"
    "[0:30] Number four, jumping jacks.\n"
    "[0:40] You've got fifteen seconds of rest every time, so use all of it. So that's goblet squats, push-ups, glute bridges, jumping jacks.\n",
    "[0:00] Four moves. You work for forty seconds. Then there are twenty seconds of rest. Three rounds.\n"
    "[0:05] Number one, goblet squats. Bell at the chest, sit down between your heels.\n"
    "[0:10] Number two, push-ups. Hands wide, chest all the way down.\n[0:20] Number three, glute bridges. Heels close, hips up.\n"
    "[0:30] Number four, jumping jacks.\n"
    "[0:40] So that's goblet squats, push-ups, glute bridges, jumping jacks. Remember, forty five on, fifteen off.\n",
)
GOOD = (
    "[0:00] Four moves, forty seconds on, twenty off, three rounds.\n[0:05] Number one, goblet squats.\n[0:10] Number two, push-ups.\n"
    "[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n"
    "[0:40] I'm changing it. Forty five seconds on, fifteen off, three rounds.\n",
    "[0:00] Four moves, forty seconds on, twenty off, three rounds.\n[0:05] Number one, goblet squats.\n[0:10] Number two, push-ups.\n"
    "[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n[0:40] Last week it was thirty on, thirty off.\n",
)
_UNSAID = re.compile(r" (?:last week|last month|last time|used to|usually|normally|another day|next week|if you|instead of|not|they do|they did|"
                     r"he does|she does|says|said|asked|asks) ")
_ONE_BREATH = 30        # two values closer than this are more likely one put right in words of the coach's own
_RESTS = ("rest", "round_rest")
_EVERY_SET = ("every set", "each set", "after each", "after every", "between sets", "between the sets", "between each")
_EVERY_TIME = ("every time", "each time", "every one", "each one", "every station", "each station", "always", "all the way through")
_OF_MOVEMENT = 60       # words after a movement's name that may still be of it


def check(case: Case) -> list[Finding]:
    void = taken_back(case)
    out: list[Finding] = []
    for n, block, stretch in case.mains():
        said = [case.heard.quantities[i] for i in stretch.settings]
        said = [q for q in said if q.first not in void and _plain(case, q)]
        out += _pairs(case, n, said) or _apart(case, n, said) or _alone(case, n, said) or _intervals(case, n, said) \
            or _between_rounds(case, n, block, stretch, said) or _sets(case, n, block, stretch, said) or _length(case, n, stretch, said, void)
    return out


def _plain(case: Case, q: Quantity) -> bool:
    """Said of this class, outright: not in an option, nor of another day."""
    if q.single is None or in_option(case, q.first) or case.heard.phase_at(q.first) in ("warm_up", "cool_down", "close"):
        return False
    first, end = case.heard.words.sentence(q.first)
    text = f" {' '.join(norms(case.heard, max(first, q.first - 10), min(end, q.end + 8)))} "
    return _UNSAID.search(text) is None and q.first not in _of_others(case)


def _of_others(case: Case) -> set[int]:
    """The words of another day, of other people, and of what is not to be done."""
    return case.once("of others", lambda: {t for s in case.heard.scopes if s.role in ("other_time", "others", "negated")
                                           for t in range(s.first, s.end)})


def _pairs(case: Case, n: int, said: Sequence[Quantity]) -> list[Finding]:
    """Work and rest said together, twice."""
    couples = _couples(case, said)
    for first, second in zip(couples, couples[1:]):
        if first[:2] != second[:2] and second[2][0] - first[2][1] > _ONE_BREATH and not changed_between(case, first[2][0], second[2][1]):
            return [_finding(case, n, "Work and rest", first[2], second[2])]
    return []


def _couples(case: Case, said: Sequence[Quantity]) -> list[tuple[float, float, tuple[int, int]]]:
    """``(work, rest, span)`` of each time they are said in one phrase."""
    couples = []
    for a, b in zip(said, said[1:]):
        if case.heard.phase_at(a.first) != "work" and {a.role, b.role} == {"work", "rest"} and a.pattern == b.pattern and a.span == b.span:
            work, rest = (a, b) if a.role == "work" else (b, a)
            if work.single is not None and rest.single is not None:
                couples.append((work.single, rest.single, a.span))
    return couples


def _apart(case: Case, n: int, said: Sequence[Quantity]) -> list[Finding]:
    """Work and rest announced in words of their own, and later otherwise in one phrase."""
    couples = _couples(case, said)
    if not couples:
        return []
    *_, span = last = couples[-1]
    before = [q for q in said if q.end <= span[0] - _ONE_BREATH and q.role in ("work", "rest") and case.heard.phase_at(q.first) != "work"]
    works, rests = ([q for q in before if q.role == role] for role in ("work", "rest"))
    if len({q.single for q in works}) != 1 or len({q.single for q in rests}) != 1 or abs(works[0].first - rests[0].first) > _ONE_BREATH:
        return []
    if (works[0].single, rests[0].single) == last[:2] or changed_between(case, min(works[0].first, rests[0].first), span[1]):
        return []
    first = (min(works[0].span[0], rests[0].span[0]), max(works[0].span[1], rests[0].span[1]))
    return [_finding(case, n, "Work and rest", first, span)]


def _alone(case: Case, n: int, said: Sequence[Quantity]) -> list[Finding]:
    """Work and rest announced in one phrase, and one of them said otherwise of every time: "twenty seconds to change over every time"."""
    couples = _couples(case, said)
    if not couples or len({c[:2] for c in couples}) > 1:
        return []
    (work, rest, span), within = couples[0], {t for c in couples for t in range(*c[2])}
    for q in said:
        if q.role in ("work", "rest") and q.first not in within and q.single not in (work, rest) and case.heard.phase_at(q.first) != "work" \
                and abs(q.first - span[0]) > _ONE_BREATH and has_words(case.heard, (q.first, q.span[1] + 6), *_EVERY_TIME) \
                and not changed_between(case, min(span[0], q.first), max(span[1], q.end)):
            first, second = sorted((span, q.span))
            return [_finding(case, n, "Work" if q.role == "work" else "The rest", first, second)]
    return []


def _intervals(case: Case, n: int, said: Sequence[Quantity]) -> list[Finding]:
    """The interval of an EMOM, said twice before it starts."""
    found = [q for q in said if q.role == "interval" and case.heard.phase_at(q.first) != "work"]
    for a, b in zip(found, found[1:]):
        if a.single != b.single and b.first - a.end > _ONE_BREATH and not changed_between(case, a.first, b.end):
            return [_finding(case, n, "The interval", a.span, b.span)]
    return []


def _between_rounds(case: Case, n: int, block: Block, stretch: Stretch, said: Sequence[Quantity]) -> list[Finding]:
    """The rest between rounds, said twice before they start; of several blocks only in the words of its own.

    Where sets of several movements have no rest inside them, any rest is that after them.
    """
    several = len(case.mains()) > 1
    roles = _RESTS if block.format == "sets" and block.rest_s == 0 else ("round_rest",)
    found = [q for q in said if q.role in roles and q.kind == "length" and case.heard.phase_at(q.first) != "work"
             and (not several or stretch.first <= q.first < stretch.end)]
    for a, b in zip(found, found[1:]):
        if a.single != b.single and b.first - a.end > _ONE_BREATH / 2 and not changed_between(case, a.first, b.end):
            return [_finding(case, n, "The rest between rounds", a.span, b.span)]
    return []


def _finding(case: Case, n: int, thing: str, first: tuple[int, int], second: tuple[int, int]) -> Finding:
    return finding(case, CODE, SEVERITY, f'{thing}: first "{quoted(case, first)}", then "{quoted(case, second)}".', [first, second],
                   expected="one value", block=n)


def _sets(case: Case, n: int, block: Block, stretch: Stretch, said: Sequence[Quantity]) -> list[Finding]:
    """The rest after the sets of one movement, announced with the class and again with the movement."""
    if block.format != "sets" or len(stretch.items) != 1:
        return []
    first = next((q for q in said if q.role in _RESTS and q.kind == "length" and case.heard.phase_at(q.first) != "work"), None)
    if first is None:
        return []
    mentions = case.heard.movements
    others = sorted(mentions[k].first for _, _, s in case.mains() for i in s.items for k in i.mentions if s is not stretch)
    void = taken_back(case)
    for k in stretch.items[0].mentions:
        end = min([*[at for at in others if at > mentions[k].first][:1], mentions[k].end + _OF_MOVEMENT])
        for q in case.heard.quantities:
            if mentions[k].end <= q.first < end and q.kind == "length" and q.role in _RESTS and q.single and q.single != first.single \
                    and q.first > first.first and q.first not in void and _plain(case, q) and has_words(case.heard, (q.end, q.end + 7), *_EVERY_SET) \
                    and not changed_between(case, first.first, q.end):
                return [_finding(case, n, "The rest", first.span, (q.first, q.span[1]))]
    return []


def _length(case: Case, n: int, stretch: Stretch, said: Sequence[Quantity], void: set[int]) -> list[Finding]:
    """The length of an AMRAP or a cap, announced and then put on the clock."""
    lengths = [q for q in said if q.role in ("amrap", "cap")]
    if not lengths:
        return []
    first = lengths[0]
    for q in lengths[1:]:
        if q.single != first.single and q.role == first.role and q.span[0] - first.end > _ONE_BREATH and not changed_between(case, first.first, q.end):
            return [_finding(case, n, "The length", first.span, q.span)]
    until = min((s.first for _, _, s in case.mains() if s.first > stretch.first), default=len(case.heard.words.tokens))
    for q in case.heard.quantities:
        if q.kind == "length" and first.end < q.first < until and q.first not in void and q.single and q.single != first.single:
            after = norms(case.heard, q.end, q.end + 3)
            if after == ["on", "the", "clock"] and not changed_between(case, first.first, q.end) and _plain(case, q):
                return [_finding(case, n, "The length", first.span, (q.first, q.end + 3))]
    return []
