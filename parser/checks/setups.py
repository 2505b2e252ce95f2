"""What is said of left and right: which side's knee is down, which hand has the load, and where the sides change."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any

from ..mentions import COMMA, NO_BREAK, STOP
from .looking import Span
from .rule import Case

SIDES = ("left", "right")


@lru_cache(maxsize=1)
def body() -> dict[str, Any]:
    """The tables of ``data/body.toml``."""
    return tomllib.loads((files(__package__) / "data" / "body.toml").read_text(encoding="utf-8"))


@dataclass(frozen=True, slots=True)
class Lateral:
    """``left`` or ``right`` said of the body. ``part`` is what it is said of, or ``None`` (``on the left``)."""

    side: str
    part: str | None
    first: int
    end: int


@dataclass(frozen=True, slots=True)
class Fact:
    """A part of one side in a state: ``right``, ``knee``, ``down``."""

    side: str
    part: str
    state: str
    first: int
    end: int

    @property
    def span(self) -> Span:
        return self.first, self.end


def laterals(case: Case, span: Span) -> list[Lateral]:
    """Every left and right of the body in ``span``. "My left" is the coach's mirror image and none; nor is "right" for "well"."""
    tokens, parts = case.heard.words.tokens, body()["parts"]
    part_of = {w: name for name, words in parts.items() for w in words}
    taken = {t for slip in case.heard.slips for t in range(slip.wrong[0], max(slip.wrong[1], slip.right[0]))}
    out = []
    for i in range(span[0], min(span[1], len(tokens))):
        if tokens[i].norm not in SIDES or i in taken:
            continue
        before = [t.norm for t in tokens[max(0, i - 2) : i]]
        if "my" in before or any(w in body()["words"]["not_of_us"] for w in before[-1:]):
            continue
        after = tokens[i + 1] if i + 1 < len(tokens) else None
        word = after.norm.removesuffix("'s") if after else ""
        if word == "hand" and i + 2 < len(tokens) and tokens[i + 2].norm == "side":
            out.append(Lateral(tokens[i].norm, "side", i, i + 3))
        elif after and after.brk == NO_BREAK and word in part_of:
            out.append(Lateral(tokens[i].norm, part_of[word], i, i + 2))
        elif before and before[-1] in ("the", "your", "on", "to") and tokens[i].brk == NO_BREAK:
            ends = after is None or after.brk >= COMMA or after.norm in body()["words"]["after_side"]
            if ends:
                out.append(Lateral(tokens[i].norm, None, i, i + 1))
    return out


def facts(case: Case, span: Span) -> list[Fact]:
    """What set-ups say in ``span``: each lateral with the state said of it close by, in the same sentence."""
    tokens, out = case.heard.words.tokens, []
    found = laterals(case, span)
    for k, lateral in enumerate(found):
        if lateral.part is None:
            continue
        until = min(found[k + 1].first if k + 1 < len(found) else span[1], lateral.end + body()["reach"]["state"])
        stop = lateral.end
        while stop < until and tokens[stop].brk < STOP:
            stop += 1
        after = [t.norm for t in tokens[lateral.end : stop]]
        before: list[str] = []
        for t in reversed(tokens[max(span[0], lateral.first - 4) : lateral.first + 1]):
            if t.i < lateral.first:
                before.insert(0, t.norm)
            if t.brk >= COMMA:
                break
        for row in body()["state"]:
            if lateral.part not in row["parts"]:
                continue
            at = _phrase_in(after, row.get("after", []))
            if at is not None:
                out.append(Fact(lateral.side, lateral.part, row["name"], lateral.first, lateral.end + at))
                break
            if any(" ".join(before).endswith(p) for p in row.get("before", [])):
                out.append(Fact(lateral.side, lateral.part, row["name"], lateral.first, lateral.end))
                break
    return out


def _phrase_in(words: list[str], phrases: list[str]) -> int | None:
    """The end of the first of ``phrases`` in ``words``, or ``None``."""
    ends = []
    for phrase in phrases:
        p = phrase.split()
        ends += [k + len(p) for k in range(len(words) - len(p) + 1) if words[k : k + len(p)] == p]
    return min(ends, default=None)


def side_changes(case: Case, first: int, end: int) -> bool:
    """Whether the words between two tokens may change sides, or begin something else."""
    words = set(body()["words"]["change"])
    if any(t.norm in words for t in case.heard.words.tokens[first:end]):
        return True
    if any(e.role in ("switch", "half", "stop", "countdown", "go") and first <= e.first < end for e in case.heard.edges):
        return True
    return any(o.first < end and first <= o.first for o in case.heard.options)


def other(side: str) -> str:
    return "left" if side == "right" else "right"
