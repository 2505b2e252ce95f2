"""A stated count is not what follows.

## What it checks
How many movements a block is said to have against those introduced, where that number is sure: numbered to the last, said
back in a list, or followed at once. How many pieces a ladder is said to have against those listed. Repetitions each side
against the repetitions in all.

## Why it matters
People pace themselves by the count, and wait for one that never comes.

## Example
"Seven moves tonight." Six are shown and said back.

## Said correctly
"Six moves tonight."

## Known misses
A block whose movements are neither numbered nor said back: a movement that was not heard would look the same.
"""

from __future__ import annotations

from typing import Final

from ..mentions import Quantity, beginning_in
from ..model import Finding
from .looking import LONGEST_SHOWN, Shown, amount, by_block, finding, has_words, label_of, quoted, recaps, sentence_of, shown, taken_back
from .numbering import FEWEST_NUMBERED, counted_to, from_one, misfits, said_back, stated_counts, sure_count
from .rule import Case

CODE = "count-mismatch"
SEVERITY: Final = "warning"        # what is done is shown in full; only the announcement is off
BAD = (
    "[0:00] Seven moves tonight, forty on, twenty off.\n[0:05] Number one, goblet squats. Bell at the chest.\n"
    "[0:10] Number two, push-ups. Hands wide.\n[0:20] Number three, glute bridges. Heels close.\n"
    "[0:30] Number four, jumping jacks. Arms all the way.\n[0:40] So that's goblet squats, push-ups, glute bridges, jumping jacks.\n",
    "[0:00] It's a ladder, and there are six pieces in it. One minute, two minutes, three minutes, two, and one.\n"
    "[0:20] We row. Number one, the row. Easy on the slide.\n",
    "[0:00] Three moves, six minute AMRAP. Eight push-ups. Ten lateral lunges, so that's six each side. Twelve dead bugs.\n",
    "[0:00] Three moves, six minute AMRAP. Eight push-ups. Lateral lunges, ten altogether, six each side. Twelve dead bugs.\n",
)
GOOD = (
    "[0:00] Four moves tonight, forty on, twenty off.\n[0:05] Number one, goblet squats. Bell at the chest.\n"
    "[0:10] Number two, push-ups. Hands wide.\n[0:20] Number three, glute bridges. Heels close.\n"
    "[0:30] Number four, jumping jacks. Arms all the way. Two dumbbells, three of you can share.\n",
    "[0:00] Three moves, six minute AMRAP. Eight push-ups. Ten lateral lunges, so that's five each side. Twelve dead bugs.\n",
)
_LADDER_WORDS = frozenset(["pieces", "rungs", "efforts", "intervals", "steps", "bouts", "parts", "stages"])
_NEAR_LADDER = 14           # words between the count and the ladder
_AT_ONCE = 45               # words from the count to the last of a few movements that follow it at once
_FARTHEST = 3               # a count further off is of something else
_NOT_MAIN = ("warm_up", "cool_down", "close")
_FEWEST_IN_TURN, _SHORTEST_TURN = 6, 25
_DOSES = ("reps", "reps_each", "reps_side", "breaths", "counts", "each", "hold", "side")
_AGAIN = ("back to the top", "start again", "and start over", "round you go", "and round again", "back to the start", "and again from the top")
_IN_ALL = ("altogether", "all told", "in all", "in total", "all up")
_SO_THATS = ("so that's", "that's", "so it's", "which is", "that is", "so")


def check(case: Case) -> list[Finding]:
    void = taken_back(case)
    out = []
    for group in by_block(shown(case)).values():
        out += _movements(case, group, void)
        out += _repetitions(case, group, void)
    return out + _ladders(case, void)


def _movements(case: Case, group: list[Shown], void: set[int]) -> list[Finding]:
    stated = [q for q in stated_counts(case, group) if q.first not in void]
    runs_to = counted_to(group)
    if not stated or any(q.single in ({runs_to} if _numbered_past_orders(group) else {len(group), len(from_one(group)), runs_to}) for q in stated):
        return []
    said, announced = stated[0], stated[0].single or 0
    called = _called_to(case, group, said)
    if called >= FEWEST_NUMBERED and called > announced and len({q.single for q in stated}) == 1:
        return [_finding(case, group, said, called)]
    if runs_to > announced and len({q.single for q in stated}) == 1:
        return [_finding(case, group, said, runs_to)]
    if abs(announced - len(group)) > _FARTHEST or len({q.single for q in stated}) > 1:
        return []
    if _numbered_past_orders(group):
        return [_finding(case, group, said, runs_to)]
    if announced > len(group) and _numbers_go_on(case, group):
        return []
    few = 1 if case.heard.words.punctuated else 0
    if announced > len(group) + few and not _said_back(case, group):
        return []           # the numbers alone do not tell whether more were said and not understood, least of all without marks
    if not (sure_count(group) or _numbered_in_place(group) or _numbered_to_the_last(case, group) or _followed_at_once(case, group, said)
            or _given_in_turn(case, group, said)):
        return []
    return [_finding(case, group, said, len(group))]


def _numbered_past_orders(group: list[Shown]) -> bool:
    """The numbers run on over all that has none, and that is an order rather than a movement: "number four, the row. Hinge over"."""
    labels = [label_of(i) for i in group]
    numbered = [label for label in labels if label is not None]
    return None in labels and len(numbered) >= FEWEST_NUMBERED and numbered == list(range(1, len(numbered) + 1)) and labels[-1] is not None \
        and all(i.mention.match.verbal for i, label in zip(group, labels) if label is None)


def _called_to(case: Case, group: list[Shown], said: Quantity) -> int:
    """How far the movements are numbered aloud after the count, "number one … number two …", also where one was not understood."""
    until = min([s.first for _, _, s in case.mains() if s.first > group[0].stretch.first], default=len(case.heard.words.tokens))
    run = 0
    for q in case.heard.quantities:
        if q.role == "label" and q.single == run + 1 and said.end <= q.first < until and case.heard.phase_at(q.first) not in _NOT_MAIN \
                and has_words(case.heard, (q.first - 2, q.end), "number", "exercise", "movement", "move", "station"):
            run += 1
    return run


def _finding(case: Case, group: list[Shown], said: Quantity, count: int) -> Finding:
    last = group[min(count, len(group)) - 1].mention
    return finding(case, CODE, SEVERITY, f"{amount(said.single or 0)} movements were announced; {count} are introduced.",
                   [said.span, (last.first, last.end)], expected=str(count), block=group[0].block_number)


def _said_back(case: Case, group: list[Shown]) -> bool:
    """All of them are said again in one list, and nothing else is."""
    in_order = list(range(len(group)))
    return said_back(group) or any([next((k for k, i in enumerate(group) if n in i.item.mentions), None) for n in listed] == in_order
                                   for listed in recaps(case, group))


def _numbers_go_on(case: Case, group: list[Shown]) -> bool:
    """A number beyond the last movement is said close after it: there is one that was not understood."""
    last = group[-1]
    end = last.item.segment[1] + LONGEST_SHOWN
    return any(q.role == "label" and q.single and q.single > (label_of(last) or 0) and last.mention.end <= q.first < end for q in case.heard.quantities)


def _numbered_to_the_last(case: Case, group: list[Shown]) -> bool:
    """All have numbers, one of them misstated."""
    return all(label_of(i) for i in group) and len(misfits(group)) == 1


def _numbered_in_place(group: list[Shown]) -> bool:
    """The last has its number, and every number that is said is the movement's place: ``opening act … then … third … number four … the fifth``."""
    labels = [label_of(i) for i in group]
    return labels[-1] is not None and sum(label is not None for label in labels) >= FEWEST_NUMBERED \
        and all(label in (None, place) for place, label in enumerate(labels, 1))


def _followed_at_once(case: Case, group: list[Shown], said: Quantity) -> bool:
    """A few movements with their doses right after the count, and then back to the first."""
    if said.first > group[0].mention.first or group[-1].mention.end - said.first > _AT_ONCE:
        return False
    ours, until = {n for i in group for n in i.item.mentions}, group[-1].mention.end + 16
    if any(group[0].mention.first < m.first < until for n, m in enumerate(case.heard.movements) if n not in ours):
        return False        # one more, which found no place
    dosed = all("counted" in i.mention.why or "dosed" in i.mention.why for i in group)
    return dosed and has_words(case.heard, (group[-1].mention.end, until), *_AGAIN)


def _given_in_turn(case: Case, group: list[Shown], said: Quantity) -> bool:
    """Each is shown, counted through and left before the next: one more of them than announced is no by-word."""
    if group[0].block.format not in ("sets", None) or len(group) != (said.single or 0) + 1 or len(group) < _FEWEST_IN_TURN:
        return False
    ends = [*(i.mention.first for i in group[1:]), group[-1].item.segment[1]]
    return all(end - i.mention.end >= _SHORTEST_TURN and _is_introduced(i) and _is_counted(case, (i.mention.end, end)) for i, end in zip(group, ends))


def _is_introduced(item: Shown) -> bool:
    return bool({"label", "starts", "then_next", "next", "apposed", "full_name"} & set(item.mention.why))


def _is_counted(case: Case, span: tuple[int, int]) -> bool:
    """A dose is said, or repetitions are counted aloud."""
    said = beginning_in(case.heard.quantities, span)
    return any(q.role in _DOSES for q in said) or sum(q.role in ("bare", "count", "countdown") for q in said) >= 3


def _repetitions(case: Case, group: list[Shown], void: set[int]) -> list[Finding]:
    """``ten lateral lunges, so that's six each side``."""
    out = []
    for item in group:
        for q in case.heard.quantities:
            if q.role not in ("reps_each", "reps_side") or not item.span[0] <= q.first < item.span[1] or q.single is None or q.first in void:
                continue
            first, _end = sentence_of(case, q.first)
            before = (w for w in case.heard.quantities if w.end == item.mention.first and w.role in ("bare", "reps") and w.single)
            whole = _in_all(case, q) or next(before, None)
            if whole is None or whole.single is None or whole.first < first or whole.single == 2 * q.single:
                continue
            between = (max(item.mention.end, whole.end), q.first)
            if between[1] - between[0] <= 5 and has_words(case.heard, between, *_SO_THATS, *_IN_ALL):
                out.append(finding(case, CODE, SEVERITY, f'{amount(whole.single)} in all is not "{quoted(case, q.span)}".',
                                   [(whole.first, between[0]), q.span], expected=f"{amount(whole.single / 2)} each side", at=item))
    return out


def _in_all(case: Case, q: Quantity) -> Quantity | None:
    """The number that is said to be that of both sides together, right before ``q``: ``twenty altogether, ten each leg``."""
    return next((w for w in case.heard.quantities if w.end <= q.first <= w.end + 6 and w.role in ("bare", "reps") and w.single
                 and has_words(case.heard, (w.end, w.end + 2), *_IN_ALL)), None)


def _ladders(case: Case, void: set[int]) -> list[Finding]:
    out = []
    tokens = case.heard.words.tokens
    for scheme in case.heard.schemes:
        for q in case.heard.quantities:
            if q.single is None or q.kind != "number" or q.first in void or q.end >= len(tokens):
                continue
            near = 0 <= scheme.first - q.end <= _NEAR_LADDER or 0 <= q.first - scheme.end <= _NEAR_LADDER
            if near and tokens[q.end].norm in _LADDER_WORDS and q.single != len(scheme.values):
                out.append(finding(case, CODE, SEVERITY, f"{amount(q.single)} {tokens[q.end].norm} were announced; {len(scheme.values)} are listed.",
                                   [(q.first, q.end + 1), (scheme.first, scheme.end)], expected=str(len(scheme.values))))
    return out
