"""The normal layer: what patterns see. Every stretch of it maps back to the words it stands for.

It is one string of units with single spaces: words in lower case, numbers as digits (``40``, ``8~10``), ordinals ``#3``,
lengths of time in seconds (``90s``), ``,`` and ``.`` where a break stands. Units that a repair made void are left out.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

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
    nexts: Mapping[str, Mapping[str, Sequence[int]]]
    """The same places by the word that comes next, also as what that looks like; of a comma also by the word behind it. At the end by
    the empty word."""

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


def _places(text: str) -> tuple[Mapping[str, Sequence[int]], Mapping[str, Mapping[str, Sequence[int]]]]:
    places: defaultdict[str, list[int]] = defaultdict(list)
    nexts: defaultdict[str, defaultdict[str, list[int]]] = defaultdict(lambda: defaultdict(list))
    said = [_seen(word) for word in text.split(" ")]
    at = 0
    for seen, then, after in zip(said, [*said[1:], ("",)], [*said[2:], ("",), ("",)]):
        if then == (",",):
            then += after
        for word in seen:
            places[word].append(at)
            behind = nexts[word]
            for following in then:
                behind[following].append(at)
        at += len(seen[0]) + 1
    return places, nexts


@lru_cache(maxsize=16384)
def _seen(word: str) -> tuple[str, ...]:
    """A word, and the kind of value that it looks like, if any."""
    if word[:1].isdecimal():
        return word, SECONDS if word.endswith("s") else NUMBER
    return (word, ORDINAL) if word.startswith("#") else (word,)
