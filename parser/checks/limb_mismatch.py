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

from ..mentions import NO_BREAK
from ..model import Finding
from .looking import Shown, finding, place_of, quoted, shown
from .rule import Case
from .setups import SIDES, body

CODE = "limb-mismatch"
SEVERITY = "warning"        # what is shown makes it plain to whoever looks
BAD = (
    "[0:00] Number one, goblet squats. Bell at the chest.\n[0:10] Number two, single-arm row. Hinge over, and your left leg rows the handle up to the ribs.\n"
    "[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n",
)
GOOD = (
    "[0:00] Number one, goblet squats. Bell at the chest.\n[0:10] Number two, single-arm row. Hinge over, left leg back, and your left arm rows the handle up to the ribs.\n"
    "[0:20] Number three, glute bridges. The legs press into the floor.\n[0:30] Number four, jumping jacks.\n",
)
_DETERMINERS = frozenset(SIDES) | {"your", "the", "that", "this", "both", "same"}
_PROOF_REACH = 10


def check(case: Case) -> list[Finding]:
    items = shown(case)
    out, put_right = [], set()
    for slip in case.heard.slips:
        if slip.kind == "limb":
            put_right.update(range(slip.wrong[0] - 6, slip.right[1] + 1))
            wrong, right = case.source(slip.wrong), case.source(slip.right)
            out.append(finding(case, CODE, "note", f'"{wrong.quote}" was said and put right: "{right.quote}".', [slip.wrong, slip.right],
                               expected=right.quote, at=place_of(items, slip.right[0]), corrected=True))
    tokens = case.heard.words.tokens
    for i in range(len(tokens) - 1):
        if i in put_right or tokens[i].quoted:
            continue
        for limb in ("leg", "arm"):
            row = body()["limbs"][limb]
            if tokens[i].norm in row["words"] and tokens[i + 1].norm in row["cannot"] and tokens[i + 1].brk == NO_BREAK and _is_subject(case, i):
                item = place_of(items, i)
                if _sure(case, i, limb, item):
                    out.append(_finding(case, i, limb, item))
    return out


def _is_subject(case: Case, i: int) -> bool:
    """``your left leg rows``, not ``single-leg press`` nor ``from the leg press``."""
    tokens = case.heard.words.tokens
    verb = tokens[i + 1].norm
    sided = i > 0 and tokens[i - 1].norm in SIDES
    third = verb.endswith("s") and not verb.endswith("ss") and not tokens[i].norm.endswith("s")
    return i > 0 and tokens[i - 1].norm in _DETERMINERS and third and (sided or tokens[i - 1].norm in ("your", "that", "same"))


def _sure(case: Case, i: int, limb: str, item: Shown | None) -> bool:
    """Said of a movement of the other limbs only."""
    if item is None or any(s.first <= i < s.end for s in case.heard.scopes):
        return False
    patterns = [set(p.patterns) for p in item.mention.match.parts]
    table = body()["limbs"]["proof"]
    mine, theirs = (table["upper"], table["lower"]) if limb == "leg" else (table["lower"], table["upper"])
    of_others = all(p & set(mine) for p in patterns) and not any(p & set(theirs) for p in patterns)
    if not of_others:
        return False
    return True


def _finding(case: Case, i: int, limb: str, item: Shown | None) -> Finding:
    should = "arm" if limb == "leg" else "leg"
    first = i - 1 if case.heard.words.tokens[i - 1].norm in SIDES else i
    name = item.movement.name if item else "This"
    said = [(first, i + 2)] + ([(item.mention.first, item.mention.end)] if item else [])
    return finding(case, CODE, SEVERITY, f'{name}: "{quoted(case, (first, i + 2))}" is said of a {limb}; it is the {should} that does it.',
                   said, expected=should, at=item)
