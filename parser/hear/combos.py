"""Combinations: punches said in a row are one movement of several parts; in boxing a round is what carries the number."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from ..mentions import NO_BREAK, STOP, Quantity, Words
from .tables import table

if TYPE_CHECKING:
    from lexicon import Lexicon, Match

_T = table("combos")
_LINKS = frozenset(_T["links"])
_GAP: int = _T["gap"]
_LABEL_REACH: int = _T["label_reach"]
_COMPANIONS = frozenset(_T["companions"])
_INNER: dict[str, str] = _T["inner"]
BOXING_WORDS = frozenset(_T["words"])


def _punches(match: Match) -> bool:
    return any("punch" in p.patterns for p in match.parts)


def _joins(words: Words, a: Match, b: Match) -> bool:
    """Whether ``b`` goes on with the combination that ends with ``a``. A bare "punch" after named ones is talk about them."""
    if b.parts[0].base == "punch" and a.parts[-1].base != "punch":
        return False
    between = words.tokens[a.end : b.start + 1]
    if any(t.brk == STOP for t in between) or len(between) - 1 > _GAP:
        return False
    return all(t.norm in _LINKS for t in between[:-1])


def _inner(words: Words, lexicon: Lexicon, matches: Sequence[Match]) -> list[Match]:
    """``Hook, roll, uppercut``: words that are everyday everywhere else stand for a movement next to a punch."""
    tokens = words.tokens
    taken = {t for m in matches for t in range(m.start, m.end)}
    near = {t for m in matches if _punches(m) for t in range(m.start - _GAP, m.end + _GAP)}
    out = []
    for t in (tokens[i] for i in sorted(near - taken) if 0 <= i < len(tokens)):
        name = _INNER.get(t.norm)
        if name is None:
            continue
        closed = t.brk > NO_BREAK or t.i and tokens[t.i - 1].norm in _LINKS
        ends = t.i + 1 >= len(tokens) or tokens[t.i + 1].brk > NO_BREAK or tokens[t.i + 1].norm in _LINKS
        if (closed and ends or not words.punctuated) and (match := lexicon.find(name)):
            out.append(replace(match, start=t.i, end=t.i + 1, words=(t.norm,), everyday=False, verbal=False))
    return out


def join_combos(words: Words, lexicon: Lexicon, matches: Sequence[Match]) -> list[Match]:
    """The matches with every row of punches (and the slips, rolls and squats between them) made one chained match."""
    if sum(_punches(m) for m in matches) < 2:
        return list(matches)
    matches = sorted([*matches, *_inner(words, lexicon, matches)], key=lambda m: m.start)
    out: list[Match] = []
    k = 0
    while k < len(matches):
        run = [matches[k]]
        while k + len(run) < len(matches):
            following = matches[k + len(run)]
            boxing = _punches(following) or following.parts[0].base in _COMPANIONS
            if not boxing or not (_punches(run[-1]) or run[-1].parts[0].base in _COMPANIONS) or not _joins(words, run[-1], following):
                break
            run.append(following)
        if len(run) >= 2 and any(_punches(m) for m in run):
            out.append(_chained(run))
        else:
            out.extend(m for m in run if m.words[0] not in _INNER or len(m.words) > 1)
        k += len(run)
    return out


def _chained(run: Sequence[Match]) -> Match:
    parts = tuple(p if n == 0 else replace(p, link="then") for n, p in enumerate(p for m in run for p in m.parts))
    sides = "alternating" if all(m.sides == "alternating" for m in run) else "both"
    return replace(run[0], end=run[-1].end, words=tuple(w for m in run for w in m.words), name=" + ".join(p.name for p in parts), parts=parts,
                   sides=sides, everyday=False, verbal=False, score=min(m.score for m in run))


def is_combo(match: Match) -> bool:
    return len(match.parts) >= 2 and _punches(match)


def round_labels(quantities: Sequence[Quantity], matches: Sequence[Match]) -> list[Quantity]:
    """In a class of combinations ``round two`` numbers what follows it: such rounds become labels."""
    combos = [m.start for m in matches if is_combo(m)]
    near = [q for q in quantities if q.role == "round_label" and any(0 <= at - q.end <= _LABEL_REACH for at in combos)]
    if len({q.value for q in near}) < 2:
        return list(quantities)
    return [replace(q, role="label", pattern="movement, a round with its own combination") if q in near else q for q in quantities]
