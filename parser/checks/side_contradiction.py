"""Two statements of one set-up name opposite sides.

## What it checks
One part said to be of both sides ("right leg on top … your left leg's on top") with nothing between that changes sides; two
parts of one set-up that cannot be of the same side (the knee that is down and the foot in front); and the arm that goes with
the leg, where it is said otherwise the next time. The mirror image, "my left", is left alone.

## Why it matters
A press from the wrong knee is another exercise, and people twist to look who has it right.

## Example
"Right knee down, right foot out in front."

## Said correctly
"Right knee down, left foot out in front."

## Known misses
A side that is named without its part ("on the left now"), and set-ups further apart than a few sentences.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from ..model import Finding
from .looking import Shown, apart_s, finding, place_of, quoted, shown
from .rule import Case
from .setups import Fact, body, facts, laterals, other, side_changes

CODE = "side-contradiction"
SEVERITY: Final = "error"          # whoever follows one of the two is set up wrong
BAD = (
    "[0:00] Four moves, forty seconds on, twenty off, three rounds.\n[0:05] Number one, goblet squats.\n"
    "[0:10] Number two, half-kneeling press. Right knee's on the mat, right foot's out in front, bell in the right hand. Twenty seconds each side.\n"
    "[0:20] Number three, glute bridges.\n[0:30] Number four, jumping jacks.\n",
)
GOOD = (
    "[0:00] Four moves, forty seconds on, twenty off, three rounds.\n[0:05] Number one, goblet squats.\n"
    "[0:10] Number two, half-kneeling press. Right knee's on the mat, left foot's out in front, bell in the right hand. "
    "Then swap, left knee down, right foot in front.\n"
    "[0:20] Number three, glute bridges. I'm on my right side, you're on your left side, right?\n[0:30] Number four, jumping jacks.\n",
)
_SAME_MOMENT_S = 30.0
_LOWER = ("knee", "foot", "leg")
_UPPER = ("hand", "arm", "elbow")


def check(case: Case) -> list[Finding]:
    items = shown(case)
    count = len(case.heard.words.tokens)
    said = facts(case, (0, count))
    out: list[Finding] = []
    used: set[int] = set()
    for a, b in _near(case, said):
        why = _clash(a, b)
        if why and not {a.first, b.first} & used and not side_changes(case, a.end, b.first):
            used |= {a.first, b.first}
            out.append(_finding(case, items, a, b, why))
    return out + _other_arm(case, items, said, used)


def _near(case: Case, said: list[Fact]) -> Iterator[tuple[Fact, Fact]]:
    for k, a in enumerate(said):
        for b in said[k + 1 :]:
            if b.first - a.first > body()["reach"]["same_set_up"] or apart_s(case, a.first, b.first) > _SAME_MOMENT_S:
                break
            yield a, b


def _clash(a: Fact, b: Fact) -> str | None:
    if (a.part, a.state) == (b.part, b.state) and a.side != b.side and a.state in ("top", "lie"):
        return f"the {a.part} is said to be of both sides"
    if a.side == b.side:
        for row in body()["apart"]:
            if {(a.part, a.state), (b.part, b.state)} == {tuple(row["one"]), tuple(row["two"])}:
                return str(row["why"])
    return None


def _finding(case: Case, items: list[Shown], a: Fact, b: Fact, why: str) -> Finding:
    expected = f"{other(b.side)} {b.part}" if a.side == b.side else f"{a.side} {b.part}"
    return finding(case, CODE, SEVERITY, f'"{quoted(case, a.span)}" and "{quoted(case, b.span)}": {why}.', [a.span, b.span],
                   expected=expected, at=place_of(items, b.first))


def _other_arm(case: Case, items: list[Shown], said: list[Fact], used: set[int]) -> list[Finding]:
    """The arm that goes with the leg that is down or in front: the same one, or the other one, but one of the two throughout."""
    pairs: dict[tuple[str | None, str], list[tuple[bool, Fact, Fact]]] = {}
    uppers = [f for f in said if f.part in _UPPER] + _held(case)
    for low in (f for f in said if f.part in _LOWER and f.state in ("down", "front")):
        first, end = case.heard.words.sentence(low.first)
        close = [u for u in uppers if first <= u.first < end and abs(u.first - low.first) <= body()["reach"]["pair"]
                 and not side_changes(case, *sorted((low.end, u.first)))]
        if len({u.side for u in close}) == 1:
            pairs.setdefault((low.part, low.state), []).append((close[0].side == low.side, low, close[0]))
    out = []
    for found in pairs.values():
        kinds = [same for same, _, _ in found]
        odd = True if kinds.count(True) == 1 else False if kinds.count(False) == 1 else None
        if len(found) < 2 or odd is None or len(set(kinds)) < 2 or len(found) == 2 and kinds[0] == odd and kinds[1] == odd:
            continue
        if len(found) == 2:
            odd = kinds[1]      # of two the later is held against the first
        _, low, up = next(row for row in found if row[0] == odd)
        _, low0, up0 = next(row for row in found if row[0] != odd)
        if {low.first, up.first} & used or not _one_movement(items, [low for _, low, _ in found]):
            continue
        one, later = _join(low0, up0), _join(low, up)
        out.append(finding(case, CODE, SEVERITY,
                           f'"{quoted(case, one)}" and "{quoted(case, later)}": once the arm is of the same side as the leg, once of the other.',
                           [one, later], expected=f"{up.side if (low0.side == up0.side) == (low.side == up.side) else other(up.side)} {up.part}",
                           at=place_of(items, low0.first)))
    return out


def _held(case: Case) -> list[Fact]:
    """A hand or an arm that is named with nothing said of it: ``left knee, left hand``."""
    return [Fact(s.side, s.part, "", s.first, s.end) for s in laterals(case, (0, len(case.heard.words.tokens))) if s.part in _UPPER]


def _one_movement(items: list[Shown], lows: list[Fact]) -> bool:
    """All those set-ups that stand in a demonstration stand in the same one."""
    places = {p.number + 100 * p.block_number for low in lows if (p := place_of(items, low.first))}
    return len(places) == 1


def _join(a: Fact, b: Fact) -> tuple[int, int]:
    return min(a.first, b.first), max(a.end, b.end)
