"""Equipment: what people are asked to have ready, how many, whether it is optional, and what is taken back."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from ..mentions import FIRST, STOP, Clause, EquipmentMention, Phrase, Slip, Words
from .tables import table

if TYPE_CHECKING:
    from lexicon import EquipmentMatch

_T = table("kit")
_REACH: int = _T["reach"]
_OPTIONAL = [tuple(p.split()) for p in _T["optional"]]
_INSTEAD = [tuple(p.split()) for p in _T["instead"]]
_NEED = "you'll need"
_FIXTURES, _ORDINARY = frozenset(_T["fixtures"]), frozenset(_T["ordinary"])
_AWAY_VERBS, _AWAY, _LEFT_ALONE = frozenset(_T["away_verbs"]), frozenset(_T["away"]), frozenset(_T["left_alone"])


def _has(norms: Sequence[str], phrases: Sequence[tuple[str, ...]]) -> bool:
    return any(tuple(norms[k : k + len(p)]) == p for p in phrases for k in range(len(norms) - len(p) + 1))


def find_equipment(words: Words, kit: Sequence[EquipmentMatch], *, requests: Sequence[Phrase], scopes: Sequence[Phrase], clauses: Sequence[Clause],
                   void: set[int]) -> tuple[list[EquipmentMention], list[Slip]]:
    """Every mention of equipment, and what was asked for by mistake and taken back."""
    tokens = words.tokens
    norms = [t.norm for t in tokens]
    phase_of = [c.phase for c in clauses for _ in range(c.first, c.end)]
    requests = [r for r in requests if not r.first or norms[r.first - 1] != "if"]       # "if you want more, feet on the bench"
    denied = {t for s in scopes if s.role == "negated" for t in range(s.first, s.end)}
    inside = {t for s in scopes if s.role == "negated" for t in range(s.first + 1, s.end)}
    mentioned = {t for s in scopes if s.role in ("likened", "other_time", "others") for t in range(s.first, s.end)}
    requests = [r for r in requests if r.first not in denied]                 # "you won't need them again"
    needed = [r for r in requests if r.pattern == _NEED]
    out: list[EquipmentMention] = []
    ruled_out: set[str] = set()
    for match in kit:
        if tokens[match.start].quoted or match.start in void:
            continue
        first, end = words.sentence(match.start)
        negated = match.start in inside or _is_away(norms, first, match, end)
        if negated:
            ruled_out.add(match.name)
        asked = not negated and match.start not in mentioned and _is_asked(
            words, match, requests, needed, out, phase_of[match.start], match.name in ruled_out)
        optional = _is_optional(norms, first, match, end)
        out.append(EquipmentMention(match.name, match.quantity, match.start, match.end, asked, negated, optional,
                                    _instead(norms, first, match.start, out)))
    return _take_back(words, out)


def _is_optional(norms: Sequence[str], first: int, match: EquipmentMatch, end: int) -> bool:
    """``A brick, if you've got one``; ``if you've got a band, bring it`` makes the band optional and not the mat before it."""
    if _has(norms[max(first, match.start - 4) : match.start], _OPTIONAL):
        return True
    after = norms[match.end : min(end, match.end + 6)]
    return any(tuple(after[: len(p)]) == p and not {"a", "an", "another"} & set(after[len(p) : len(p) + 2]) for p in _OPTIONAL)


def _is_away(norms: Sequence[str], first: int, match: EquipmentMatch, end: int) -> bool:
    """``The barbells are locked up``, ``leave the bands where they are``: a thing that nobody is to have."""
    if not _LEFT_ALONE.isdisjoint(norms[max(first, match.start - _T["left_alone_within"]) : match.start]):
        return True
    after = norms[match.end : min(end, match.end + _T["away_within"])]
    return bool(after) and (after[0] in _AWAY or after[0] in _AWAY_VERBS and not _AWAY.isdisjoint(after))


def _is_asked(words: Words, match: EquipmentMatch, requests: Sequence[Phrase], needed: Sequence[Phrase], before: Sequence[EquipmentMention],
              phase: str, ruled_out: bool) -> bool:
    """Asked for: in the welcome by a request or as an item of a list, later only where it is needed outright."""
    if match.name in _FIXTURES and any(t.norm in _T["at_a_place"] for t in words.tokens[max(0, match.start - 2) : match.start]):
        return False        # "set the chair up against the wall"
    led = [t.norm for t in words.tokens[max(0, match.start - 2) : match.start]]
    if len(led) == 2 and led[0] in _T["inside"] and led[1] in ("the", "that", "this"):
        return False        # "leave the bands in the box"
    if match.name in _FIXTURES:
        return phase == "briefing" and _asked(words, match.start, needed, ())
    if phase == "briefing":
        listed = not ruled_out and match.name not in _ORDINARY and _listed(words, match)
        return _asked(words, match.start, requests, before) or listed
    return phase == "demo" and _asked(words, match.start, needed, ())


def _take_back(words: Words, mentions: list[EquipmentMention]) -> tuple[list[EquipmentMention], list[Slip]]:
    """``Everybody wants a kettlebell. No, they want two dumbbells``; ``grab a bench. No, we have no benches``."""
    out, slips, dropped = list(mentions), [], set()
    for n, mention in enumerate(mentions[:-1]):
        after = mentions[n + 1]
        if not mention.asked or after.first - mention.end > _T["take_back"]:
            continue
        near = words.tokens[mention.end : min(after.first, mention.end + _T["no_within"])]
        if not any(t.norm == "no" and _takes_back(words, t.i) for t in near) or after.name == mention.name and not after.negated:
            continue
        dropped.add(mention.name)
        slips.append(Slip("equipment", (mention.first, mention.end), (after.first, after.end), mention.name,
                          f"no {mention.name}" if after.name == mention.name else after.name))
    return [replace(m, asked=False) if m.name in dropped else m for m in out], slips


def _takes_back(words: Words, at: int) -> bool:
    """``No,`` or ``no, we don't``: an answer, not ``no wheels``."""
    following = words.tokens[at + 1] if at + 1 < len(words.tokens) else None
    return following is None or following.brk > 0 or following.norm in _T["answers"]


def _asked(words: Words, at: int, requests: Sequence[Phrase], before: Sequence[EquipmentMention]) -> bool:
    """A request opens not far before, or the mention goes on with a list that was asked for."""
    for k in range(bisect_right(requests, at, key=FIRST) - 1, -1, -1):
        if at - requests[k].end > _REACH:
            break
        if sum(words.tokens[t].brk == STOP for t in range(requests[k].end, at + 1)) <= 1:
            return True
    return bool(before and before[-1].asked and at - before[-1].end <= 5)


def _listed(words: Words, match: EquipmentMatch) -> bool:
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
