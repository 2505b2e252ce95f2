"""A limb is said to do what that limb cannot.

## What it checks
A leg that rows, curls or presses in a movement of the arms, or an arm that squats, lunges or hops. Put right aloud, it is a
note.

## Why it matters
Most people will see what is meant. Those who follow by ear, at home or at the back, will not.

## Example
"Single-arm row, your left leg rows the handle to the ribs."

## Said correctly
"Single-arm row, your left arm rows the handle to the ribs."

## Known misses
A movement that chains the two (a lunge into a press), where either could be meant.
"""

from __future__ import annotations

from typing import Final

from ..mentions import NO_BREAK, Slip
from ..model import Finding
from .looking import Shown, Span, finding, place_of, quoted, shown
from .rule import Case
from .setups import SIDES, body

CODE = "limb-mismatch"
SEVERITY: Final = "warning"        # what is shown makes it plain to whoever looks
BAD = (
    "[0:00] Number one, goblet squats. Bell at the chest.\n[0:10] Number two, single-arm row. Hinge over, and your left leg rows the handle up to the ribs.\n"
    "[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n",
)
GOOD = (
    "[0:00] Number one, goblet squats. Bell at the chest.\n[0:10] Number two, single-arm row. Hinge over, left leg back, and "
    "your left arm rows the handle up to the ribs. Then the right.\n"
    "[0:20] Number three, glute bridges. The legs press into the floor.\n[0:30] Number four, jumping jacks.\n",
)
_DETERMINERS = frozenset(SIDES) | {"your", "the", "that", "this", "both", "same"}
_SLIP_REACH = 6             # words before a slip that are of it
_PUT_RIGHT_REACH = 24       # words from the wrong limb to the right one


def check(case: Case) -> list[Finding]:
    items = shown(case)
    slips = [s for s in case.heard.slips if s.kind == "limb" and s.was.rstrip("s") != s.became.rstrip("s")]
    found = _said(case, items, {t for s in slips for t in range(s.wrong[0] - _SLIP_REACH, s.right[1])})
    return [_slip(case, items, s) for s in slips if not _is_within(case, s, found)] + found


def _slip(case: Case, items: list[Shown], slip: Slip) -> Finding:
    wrong, right = case.source(slip.wrong), case.source(slip.right)
    return finding(case, CODE, "note", f'"{wrong.quote}" was said and put right: "{right.quote}".', [slip.wrong, slip.right],
                   expected=right.quote, at=place_of(items, slip.right[0]), corrected=True)


def _is_within(case: Case, slip: Slip, found: list[Finding]) -> bool:
    """The slip is part of one that is reported already."""
    at = case.source(slip.wrong).chars[0]
    return any(f.corrected and f.said[0].chars[0] <= at <= f.said[-1].chars[1] for f in found)


def _said(case: Case, items: list[Shown], put_right: set[int]) -> list[Finding]:
    out: list[Finding] = []
    tokens = case.heard.words.tokens
    named = {limb: frozenset(body()["limbs"][limb]["words"]) for limb in ("leg", "arm")}
    either = frozenset().union(*named.values())
    for i in [t.i for t in tokens[1:-1] if t.norm in either]:
        if tokens[i].quoted or tokens[i + 1].brk != NO_BREAK:
            continue
        for limb, limb_words in named.items():
            if tokens[i].norm not in limb_words or not _is_subject(case, i):
                continue
            item = place_of(items, i)
            if item and item.mention.first <= i + 1 and i < item.mention.end:
                item = place_of(items, item.span[0] - 1)        # "the right leg presses" was taken for a leg press
            if item is None or not _of_other_limbs(case, i, limb, item):
                continue
            right = _put_right(case, i, limb)
            if i in put_right and not right:
                continue
            if right or tokens[i + 1].norm in body()["limbs"][limb]["cannot"]:
                out.append(_finding(case, i, limb, item, right))
                put_right = put_right | (set(range(i, right[1])) if right else set())
    return out


def _put_right(case: Case, i: int, limb: str) -> Span | None:
    """``the right leg pushes it up … the right arm pushes it up``: the same said again of the other limb."""
    tokens = case.heard.words.tokens
    others = body()["limbs"]["arm" if limb == "leg" else "leg"]["words"]
    for k in range(i + 2, min(i + _PUT_RIGHT_REACH, len(tokens) - 1)):
        if tokens[k].norm in others and tokens[k + 1].norm == tokens[i + 1].norm and tokens[k - 1].norm == tokens[i - 1].norm:
            return k - 1, k + 2
    return None


def _is_subject(case: Case, i: int) -> bool:
    """``your left leg rows``, not ``single-leg press`` nor ``from the leg press``."""
    tokens = case.heard.words.tokens
    verb = tokens[i + 1].norm
    sided = tokens[i - 1].norm in SIDES
    third = verb.endswith("s") and not verb.endswith("ss") and not tokens[i].norm.endswith("s")
    return tokens[i - 1].norm in _DETERMINERS and third and (sided or tokens[i - 1].norm in ("your", "that", "same"))


def _of_other_limbs(case: Case, i: int, limb: str, item: Shown) -> bool:
    """Said of a movement that is the other limbs' alone."""
    if any(s.first <= i < s.end for s in case.heard.scopes):
        return False
    table = body()["limbs"]["proof"]
    mine, theirs = (table["upper"], table["lower"]) if limb == "leg" else (table["lower"], table["upper"])
    patterns = [set(p.patterns) for p in item.mention.match.parts]
    return all(p & set(mine) for p in patterns) and not any(p & (set(theirs) - set(table["stance"])) for p in patterns)


def _finding(case: Case, i: int, limb: str, item: Shown, right: Span | None) -> Finding:
    named, should = ("a leg", "arm") if limb == "leg" else ("an arm", "leg")
    wrong = (i - 1, i + 2)
    if right:
        return finding(case, CODE, "note", f'"{quoted(case, wrong)}" was said and put right: "{quoted(case, right)}".', [wrong, right],
                       expected=quoted(case, right), at=item, corrected=True)
    return finding(case, CODE, SEVERITY, f'{item.movement.name}: "{quoted(case, wrong)}" is said of {named}; it is the {should} that does it.',
                   [wrong, (item.mention.first, item.mention.end)], expected=should, at=item)
