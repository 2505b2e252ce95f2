"""The normal layer: what patterns see. Every stretch of it maps back to the words it stands for.

It is one string of units with single spaces: words in lower case, numbers as digits (``40``, ``8~10``), ordinals ``#3``,
lengths of time in seconds (``90s``), ``,`` and ``.`` where a break stands. Units that a repair made void are left out.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..mentions import Words
from .numbers import Unit

SECONDS, NUMBER, ORDINAL = "{d}", "{n}", "{o}"


@dataclass(frozen=True, slots=True)
class Normal:
    words: Words
    units: tuple[Unit, ...]
    text: str
    offsets: tuple[int, ...]
    places: Mapping[str, Sequence[int]]
    """Where each word of ``text`` stands; what looks like a length, a number or an ordinal is under ``SECONDS``, ``NUMBER`` or ``ORDINAL`` too."""
    nexts: Mapping[int, tuple[str, ...]]
    """The word after the one at an offset, and again as what it looks like; of a comma also the word behind it. Empty at the end."""

    def at(self, offset: int) -> int:
        """The index of the unit that covers ``offset`` of the normal text."""
        return max(0, bisect_right(self.offsets, offset) - 1)

    def token_span(self, start: int, end: int) -> tuple[int, int]:
        """The tokens (first, end) that the stretch ``start`` to ``end`` of the normal text stands for."""
        first, last = self.units[self.at(start)], self.units[self.at(max(start, end - 1))]
        return first.first, max(last.end, first.first + 1)


def lay(words: Words, units: list[Unit], void: set[int]) -> Normal:
    """The normal layer over ``units`` without those whose index is in ``void``."""
    kept, offsets, parts, at = [], [], [], 0
    for k, unit in enumerate(units):
        if k in void:
            continue
        kept.append(unit)
        offsets.append(at)
        parts.append(unit.text)
        at += len(unit.text) + 1
    text = " ".join(parts)
    return Normal(words, tuple(kept), text, tuple(offsets), *_places(text))


def _places(text: str) -> tuple[dict[str, list[int]], dict[int, tuple[str, ...]]]:
    places: dict[str, list[int]] = {}
    nexts: dict[int, tuple[str, ...]] = {}
    said = text.split(" ")
    looks = [_looks(word) for word in said]
    both, at = [*zip(said, looks), ("", ""), ("", "")], 0
    for k, (word, look) in enumerate(zip(said, looks)):
        places.setdefault(word, []).append(at)
        if look is not word:
            places.setdefault(look, []).append(at)
        nexts[at] = (",", *both[k + 2]) if both[k + 1][0] == "," else both[k + 1]
        at += len(word) + 1
    return places, nexts


def _looks(word: str) -> str:
    """What kind of value a word looks like; the word itself where it is none."""
    if word[:1].isdecimal():
        return SECONDS if word.endswith("s") else NUMBER
    return ORDINAL if word.startswith("#") else word
