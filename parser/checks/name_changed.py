"""The same number is later given another movement.

## What it checks
A movement said again with a number, or in its place in a list of all of them, that is another than the one introduced there.
Names that could mean the same movement are the same.

## Why it matters
Half the class will do the one, half the other.

## Example
"Number two, push-ups." Later: "Number two, jumping jacks."

## Said correctly
"Number two, push-ups." Later: "Number two, push-ups."

## Known misses
A change between two movements that share a word (rows and high rows) is taken for another name.
"""

from __future__ import annotations

from typing import Final

from ..mentions import MovementMention
from ..model import Finding
from .looking import Shown, by_block, finding, label_of, recaps, shown
from .rule import Case

CODE = "name-changed"
SEVERITY: Final = "error"          # following the words, people do something else than was shown
BAD = (
    "[0:00] Four moves.\n[0:05] Number one, goblet squats. Bell at the chest.\n[0:10] Number two, push-ups. Hands wide.\n"
    "[0:20] Number three, glute bridges. Heels close.\n[0:30] Number four, jumping jacks. Arms all the way.\n"
    "[0:40] So that's goblet squats, push-ups, mountain climbers, jumping jacks.\n",
    "[0:00] Four moves.\n[0:05] Number one, goblet squats. Bell at the chest.\n[0:10] Number two, push-ups. Hands wide.\n"
    "[0:20] Number three, glute bridges. Heels close.\n[0:30] Number four, jumping jacks. Arms all the way.\n"
    "[0:40] Say it back to me. The Cellar, goblet squats. The Postman, push-ups. The Drawbridge, mountain climbers. The Star, jumping jacks.\n",
)
GOOD = (
    "[0:00] Four moves.\n[0:05] Number one, goblet squats. Bell at the chest.\n[0:10] Number two, push-ups. Hands wide.\n"
    "[0:20] Number three, glute bridges. Heels close.\n[0:30] Number four, jumping jacks. Arms all the way.\n"
    "[0:40] So that's squats, push-ups, bridges, jumping jacks.\n",
)

_GAP = 8                # words from one movement to the next where they are gone over with names of their own
_FEWEST_GONE_OVER = 4


def check(case: Case) -> list[Finding]:
    out = []
    for group in by_block(shown(case)).values():
        found = _renumbered(case, group) or _gone_over(case, group)
        for listed in recaps(case, group):
            found = found or _in_list(case, group, listed)
        out += found[:1]
    return out


def _strange(case: Case, group: list[Shown], index: int) -> bool:
    """The mention is surely none of the block's movements."""
    mention = case.heard.movements[index]
    if mention.scope or mention.option and mention.listed is None or mention.match.everyday or mention.match.verbal \
            or mention.match.rung not in ("exact", "alias"):
        return False
    return all(index not in i.item.mentions and _differ(case, i, mention) for i in group)


def _differ(case: Case, item: Shown, mention: MovementMention) -> bool:
    """Two movements, and not two names of one. Chains differ by one link that is not the same."""
    if case.same(item.mention.match, mention.match).same:
        return False
    mine, theirs = ([p.base_id for p in m.match.parts] for m in (item.mention, mention))
    if len(mine) > 1 and len(theirs) > 1:
        return not set(mine) <= set(theirs) and not set(theirs) <= set(mine)
    one, two = item.mention.match, mention.match
    things = {word for name in (*one.equipment, *two.equipment) for word in name.split()}       # "wall ball", "ball slam": both are done with one
    return not (set(one.name.split()) & set(two.name.split())) - things


def _renumbered(case: Case, group: list[Shown]) -> list[Finding]:
    labels = [label_of(i) for i in group]
    if None in labels or sum(label != k for k, label in enumerate(labels, 1)) > 1:
        return []
    known, out = {n for i in group for n in i.item.mentions}, []
    for n, mention in enumerate(case.heard.movements):
        if n in known or not mention.label or not 1 <= mention.label <= len(group) or labels[mention.label - 1] != mention.label:
            continue
        item = group[mention.label - 1]
        if not _of_this_block(case, group, n):
            continue
        span = mention.label_span or (mention.first, mention.first)
        if mention.first > group[-1].mention.end and span[1] <= mention.first <= span[1] + 3 and _strange(case, group, n):
            out.append(_finding(case, item, n, (span[0], mention.end)))
    return out


def _of_this_block(case: Case, group: list[Shown], index: int) -> bool:
    """The number before or after it was said with this block's movement; another block may count from one too."""
    label = case.heard.movements[index].label or 0
    for step in (-1, 1):
        near = index + step
        if 0 <= near < len(case.heard.movements) and case.heard.movements[near].label == label + step and 0 < label + step <= len(group):
            item = group[label + step - 1]
            return near in item.item.mentions or case.same(item.mention.match, case.heard.movements[near].match).same
    return False


def _in_list(case: Case, group: list[Shown], listed: tuple[int, ...]) -> list[Finding]:
    """A list from the first movement on, all of it in order but one that is none of them. The last may not have been heard in it."""
    places = [next((k for k, i in enumerate(group) if n in i.item.mentions), None) for n in listed]
    whole = len(places) == len(group) or len(places) == len(group) - 1 and places[-1] is not None
    if not whole or places.count(None) != 1 or len(group) < 3:
        return []
    labels = [label_of(i) for i in group]
    if any(label not in (None, k) for k, label in enumerate(labels, 1)):
        return []           # one of them may not have been heard
    if any(p is not None and p != k for k, p in enumerate(places)):
        return []
    at = places.index(None)
    mention = case.heard.movements[listed[at]]
    if mention.phase in ("warm_up", "cool_down", "close") or not _strange(case, group, listed[at]):
        return []
    return [_finding(case, group[at], listed[at], (mention.first, mention.end))]


def _gone_over(case: Case, group: list[Shown]) -> list[Finding]:
    """All of them named again one after the other from the first on, by names of their own too, and one is another."""
    mentions = case.heard.movements
    place_of = {n: k for k, i in enumerate(group) for n in i.item.mentions[1:]}
    for start in (n for n, k in place_of.items() if k == 0):
        places: list[int | None] = [0]
        for n in range(start + 1, min(start + len(group), len(mentions))):
            if mentions[n].first - mentions[n - 1].end > _GAP or place_of.get(n, len(places)) != len(places) or mentions[n].phase != mentions[start].phase:
                break
            places.append(place_of.get(n))
        if len(places) < _FEWEST_GONE_OVER or places.count(None) != 1 or places[-1] is None or mentions[start].phase not in ("briefing", "demo"):
            continue
        at = places.index(None)
        if _strange(case, group, start + at) and mentions[start].first > group[len(places) - 1].mention.end:
            return [_finding(case, group[at], start + at, (mentions[start + at].first, mentions[start + at].end))]
    return []


def _finding(case: Case, item: Shown, index: int, said: tuple[int, int]) -> Finding:
    name = case.heard.movements[index].match.name
    return finding(case, CODE, SEVERITY, f"Number {item.movement.number} was {item.movement.name}; later it is {name}.",
                   [(item.mention.first, item.mention.end), said], expected=item.movement.name, at=item)
