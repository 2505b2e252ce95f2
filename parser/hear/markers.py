"""Words of repair: ``sorry``, ``no, I mean``, ``other way about``. What they take back is looked for by ``repairs`` and by ``movements``."""

from __future__ import annotations

from dataclasses import dataclass

from .numbers import MARK, WORD, Unit
from .tables import table

Phrases = dict[str, list[list[str]]]
"""Phrases by their first word, each without it."""


def _by_head(phrases: list[str]) -> Phrases:
    out: Phrases = {}
    for head, *rest in (phrase.split() for phrase in phrases):
        out.setdefault(head, []).append(rest)
    return out


_T = table("repairs")
STRONG, WEAK, _SWAP = _by_head(_T["strong"]), _by_head(_T["weak"]), _by_head(_T["swap"])
_HEADS = {*STRONG, *WEAK, *_SWAP}
_NONE_AFTER = frozenset(_T["none_after"])
_OFFERING, _ASKED, _ASKED_WITHIN = frozenset(_T["offering"]), frozenset(_T["asked"]), _T["asked_within"]
FILLERS = frozenset(_T["fillers"])


@dataclass(frozen=True, slots=True)
class Marker:
    """Words of repair, as places among the units. ``strong``: they can mean nothing else. ``swap``: two values were taken for one another."""

    first: int           # unit index
    end: int
    strong: bool
    swap: bool


def phrase_at(units: list[Unit], k: int, phrases: Phrases) -> int | None:
    """The end of the longest phrase of ``phrases`` at unit ``k``; commas may stand inside it."""
    best = None
    for rest in phrases.get(units[k].text, ()) if k < len(units) else ():
        j = k + 1
        for word in rest:
            while j < len(units) and units[j].kind == MARK and units[j].text == ",":
                j += 1
            if j >= len(units) or units[j].text != word:
                break
            j += 1
        else:
            best = max(best or 0, j)
    return best


def _is_apology(units: list[Unit], k: int, end: int) -> bool:
    """``Sorry about the noise`` takes nothing back, nor does ``hold up the bell``."""
    if [u.text for u in units[k:end]] == ["hang", "on"]:
        return end < len(units) and units[end].text in ("to", "your", "the")        # "hang on to the rail"
    if [u.text for u in units[k:end]] == ["hold", "up"]:
        return end < len(units) and units[end].kind != MARK
    return units[k].text == "sorry" and end < len(units) and units[end].text in ("about", "for", "to", "if", "i'm", "everyone", "folks")


def _is_offer(units: list[Unit], k: int, end: int) -> bool:
    """``If four is too many, do three`` gives people a choice."""
    if " ".join(u.text for u in units[k:end]) not in _OFFERING:
        return False
    for j in range(k - 1, max(-1, k - 1 - _ASKED_WITHIN), -1):
        if units[j].kind == MARK and units[j].text == ".":
            return False
        if units[j].text in _ASKED:
            return True
    return False


def find_markers(units: list[Unit]) -> list[Marker]:
    """Runs of words of repair, each with the marks and fillers between them."""
    found: list[Marker] = []
    for k in [k for k, unit in enumerate(units) if unit.text in _HEADS]:
        none = units[k].text == "no" and k and units[k - 1].text in _NONE_AFTER    # "there's no twenty"
        if units[k].kind != WORD or none or found and k < found[-1].end:
            continue
        j, strong, swap, any_found = k, False, False, False
        while j < len(units):
            if (end := phrase_at(units, j, _SWAP)) is not None:
                swap, j, any_found = True, end, True
            elif (end := phrase_at(units, j, STRONG)) is not None and not _is_apology(units, j, end) and not _is_offer(units, j, end):
                strong, j, any_found = True, end, True
            elif (end := phrase_at(units, j, WEAK)) is not None:
                j, any_found = end, True
            elif any_found and (units[j].kind == MARK or units[j].text in FILLERS):
                j += 1
            else:
                break
        if any_found:
            found.append(Marker(k, j, strong, swap))
    return found


def marker_spans(units: list[Unit], markers: list[Marker]) -> list[tuple[int, int]]:
    """The token spans ``(first, end)`` of the words of repair that may take back a movement."""
    return [(units[m.first].first, units[m.end - 1].end) for m in markers
            if m.strong or units[m.first].text == "no" and m.end > m.first + 1]       # "no," answers, "no hurry" does not
