"""Equipment: what people are asked to have ready, how many, whether it is optional, and what is taken back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..mentions import STOP, Clause, EquipmentMention, Phrase, Words
from .tables import table

_T = table("kit")
_REACH: int = _T["reach"]
_OPTIONAL = [tuple(p.split()) for p in _T["optional"]]
_INSTEAD = [tuple(p.split()) for p in _T["instead"]]
_DROPPED = [tuple(p.split()) for p in _T["dropped"]]


def _has(norms: Sequence[str], phrases: Sequence[tuple[str, ...]]) -> bool:
    return any(tuple(norms[k : k + len(p)]) == p for p in phrases for k in range(len(norms) - len(p) + 1))


def find_equipment(words: Words, kit: Sequence, *, requests: Sequence[Phrase], scopes: Sequence[Phrase], clauses: Sequence[Clause],
                   void: set[int]) -> list[EquipmentMention]:
    tokens = words.tokens
    norms = [t.norm for t in tokens]
    phase_of = [c.phase for c in clauses for _ in range(c.first, c.end)]
    out: list[EquipmentMention] = []
    for match in kit:
        if tokens[match.start].quoted or match.start in void:
            continue
        first, end = words.sentence(match.start)
        sentence = norms[first:end]
        negated = any(s.role == "negated" and s.first < match.start < s.end for s in scopes)
        mentioned_only = any(s.role in ("likened", "other_time", "others") and s.first <= match.start < s.end for s in scopes)
        asked = not negated and not mentioned_only and phase_of[match.start] in _T["asking_phases"] and (
            _asked(words, match.start, requests, out) or phase_of[match.start] == "briefing" and _listed(words, match))
        near = norms[match.end : min(end, match.end + 8)]
        optional = _has(near, _OPTIONAL) or _has(norms[max(first, match.start - 4) : match.start], _OPTIONAL)
        quantity = match.quantity
        out.append(EquipmentMention(match.name, quantity, match.start, match.end, asked, negated, optional,
                                    _instead(norms, first, match.start, out)))
        if negated and _has(sentence, _DROPPED):
            out = [replace(m, asked=False) if m.name == match.name else m for m in out]
    return out


def _asked(words: Words, at: int, requests: Sequence[Phrase], before: Sequence[EquipmentMention]) -> bool:
    """A request opens not far before, or the mention goes on with a list that was asked for."""
    for request in requests:
        if request.first <= at and at - request.end <= _REACH:
            stops = sum(words.tokens[k].brk == STOP for k in range(request.end, at + 1))
            if stops <= 1:
                return True
    if before and before[-1].asked and at - before[-1].end <= 5:
        return True
    return False


def _listed(words: Words, match) -> bool:
    """Named in the welcome as a thing to have: ``two dumbbells each, and a mat``; not ``against the wall``."""
    before = words.tokens[match.start - 1].norm if match.start else ""
    if words.tokens[match.start].brk:
        return True
    return before in _T["articles"] or before.isdigit()


def _instead(norms: Sequence[str], first: int, at: int, before: Sequence[EquipmentMention]) -> str | None:
    """``a mat, or a towel if you've not got a mat``: the towel stands for the mat."""
    if before and before[-1].asked and at - before[-1].end <= 4 and _has(norms[before[-1].end : at], _INSTEAD):
        return before[-1].name
    return None
