"""A movement is given a number that is not its own.

## What it checks
The numbers said where the movements of a block are introduced, and those called later with a movement that is known. A number
is wrong where the count before and after it runs on without it, where a known count leaves no room for it, or where it was
put right aloud; that one is a note.

## Why it matters
People who follow by number, on a list, at stations or on a screen, are at the wrong one.

## Example
"Number three, the row. Number three, the lunge. Number five, the press."

## Said correctly
"Number three, the row. Number four, the lunge. Number five, the press."

## Known misses
A wrong number that the coach goes on counting from is not told from a movement that was not heard. A wrong number on the last
movement is only seen where it is said twice or the count is stated.
"""

from __future__ import annotations

from typing import Final

from ..mentions import Slip
from ..model import Finding
from .looking import Shown, by_block, finding, is_of_a_number, label_of, place_of, quoted, shown
from .numbering import from_one, misfits, said_too, stated_counts, sure_count
from .rule import Case

CODE = "number-misstated"
SEVERITY: Final = "warning"        # the movement itself is shown right; only who follows by number is lost
BAD = (
    "[0:00] Five moves, forty on, twenty off, three rounds.\n"
    "[0:10] Number one, goblet squats. Bell at the chest.\n[0:20] Number two, push-ups. Hands wide.\n"
    "[0:30] Number three, glute bridges. Heels close.\n[0:40] Number three, jumping jacks. Arms all the way.\n"
    "[0:50] Number five, dead bugs. Slow.\n",
    "[0:00] Four moves, forty on, twenty off, three rounds.\n"
    "[0:10] Number one, goblet squats. Bell at the chest.\n[0:20] Number two, push-ups. Hands wide.\n"
    "[0:30] Number four, sorry, three, number three, glute bridges. Heels close.\n[0:40] Number four, jumping jacks.\n",
)
GOOD = (
    "[0:00] Five moves, forty on, twenty off, three rounds.\n"
    "[0:10] Number one, goblet squats. Bell at the chest.\n[0:20] Number two, push-ups. Hands wide.\n"
    "[0:30] Number three, glute bridges. Heels close.\n[0:40] Number four, jumping jacks. Arms all the way.\n"
    "[0:50] Number five, dead bugs. Slow.\n",
    "[0:00] Number one, goblet squats. I could do these all day, it's four minutes and three cups of tea.\n"
    "[0:20] Then push-ups.\n[0:30] Number three, glute bridges.\n[0:40] Last one, jumping jacks.\n",
)
_FARTHEST = 6       # a number further off was never meant


def check(case: Case) -> list[Finding]:
    items = shown(case)
    out = [_corrected(case, slip, items) for slip in case.heard.slips if is_of_a_number(case, slip) and _near(slip)]
    before = 0
    for group in by_block(items).values():
        counts = {int(q.single) for q in stated_counts(case, group) if q.single is not None} | ({len(group)} if sure_count(group) else set())
        wrong = [(item, should) for item, should in misfits(group, counts=counts, before=before) if not said_too(case, item, should)]
        wrong = wrong or _lettered_twice(case, group)
        out += [_misstated(case, item, should) for item, should in wrong]
        if not wrong:
            out += _called(case, group)
        before += len(group)
    return out


def _lettered_twice(case: Case, group: list[Shown]) -> list[tuple[Shown, int]]:
    """``B one`` for the first of a pair, and ``B one`` again for the second."""
    letters = [_letter(case, i) for i in group]
    return [(b, k + 2) for k, (a, b) in enumerate(zip(group, group[1:]))
            if letters[k] and letters[k] == letters[k + 1] and label_of(a) == label_of(b) == k + 1]


def _letter(case: Case, item: Shown) -> str | None:
    """The letter before the number of a movement."""
    if not item.mention.label or not item.mention.label_span:
        return None
    tokens = case.heard.words.tokens
    for i in range(item.mention.label_span[0] - 1, item.mention.label_span[1]):
        if i >= 0 and len(tokens[i].norm) == 1 and tokens[i].norm.isalpha() and (tokens[i].norm != "a" or tokens[i].text == "A"):
            return tokens[i].norm
    return None


def _near(slip: Slip) -> bool:
    """Two numbers of one count; "the fifth" and a twenty close behind it are none."""
    was, became = _value(slip.was), _value(slip.became)
    return 0 < was and 0 < became and abs(was - became) <= _FARTHEST


def _value(text: str) -> int:
    return int("".join(c for c in text if c.isdigit()) or 0)


def _corrected(case: Case, slip: Slip, items: list[Shown]) -> Finding:
    following = next((i for i in items if i.mention.first >= slip.wrong[0]), None)
    # "number three, sorry, four": said before the movement, and so far among the words of the one before it
    at = following if following is not None and label_of(following) == _value(slip.became) else place_of(items, slip.right[0])
    expected = str(label_of(at)) if at and label_of(at) else slip.became
    wrong = case.source(slip.wrong)
    return finding(case, CODE, "note", f'Number "{wrong.quote}" was said and put right: {expected}.', [slip.wrong, slip.right],
                   expected=expected, at=at, corrected=True)


def _misstated(case: Case, item: Shown, should: int) -> Finding:
    said = item.mention.label_span or (item.mention.first, item.mention.end)
    evidence = [said, (item.mention.first, item.mention.end)]
    return finding(case, CODE, SEVERITY, f"{item.movement.name} is called number {label_of(item)}; the count makes it number {should}.",
                   evidence, expected=f"number {should}", at=item)


def _called(case: Case, group: list[Shown]) -> list[Finding]:
    """A number called with a movement that has another one. Words for number only: ``the third one`` may be a third set."""
    group = from_one(group)
    labels = [label_of(i) for i in group]
    if labels != list(range(1, len(labels) + 1)):
        return []
    out = []
    for item in group:
        for n in item.item.mentions[1:]:
            mention = case.heard.movements[n]
            span = mention.label_span
            if not mention.label or span is None or mention.label > len(group) or mention.label == label_of(item) or mention.scope or mention.option:
                continue
            words = quoted(case, span).lower()
            near = span[1] <= mention.first <= span[1] + 3
            if near and not mention.match.everyday and ("number" in words or "exercise" in words or "station" in words):
                out.append(finding(case, CODE, SEVERITY,
                                   f"{item.movement.name} is called number {mention.label}; it was introduced as number {label_of(item)}.",
                                   [item.mention.label_span or (item.mention.first, item.mention.end), (span[0], mention.end)],
                                   expected=f"number {label_of(item)}", at=item))
    return out
