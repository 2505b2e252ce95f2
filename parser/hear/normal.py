"""The normal layer: what patterns see. Every stretch of it maps back to the words it stands for.

It is one string of units with single spaces: words in lower case, numbers as digits (``40``, ``8~10``), ordinals ``#3``,
lengths of time in seconds (``90s``), ``,`` and ``.`` where a break stands. Units that a repair made void are left out.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import accumulate, chain, pairwise
from operator import add

from ..mentions import Words
from .numbers import Unit

SECONDS, NUMBER, ORDINAL = "{d}", "{n}", "{o}"


@dataclass(frozen=True, slots=True)
class Normal:
    words: Words
    units: tuple[Unit, ...]
    text: str
    offsets: tuple[int, ...]
    said: tuple[tuple[str, ...], ...]
    """Every word of ``text``, with what it looks like: a length, a number or an ordinal is ``SECONDS``, ``NUMBER`` or ``ORDINAL`` too."""
    begins: tuple[int, ...]
    """Where each of them begins in ``text``."""
    sentences: tuple[frozenset[str], ...]
    """For each of them what is said in its sentence."""
    places: Mapping[str, Sequence[int]]
    """By a word, or by what it looks like: which words of ``said`` it is."""
    _nexts: dict[str, Mapping[str, Sequence[int]]] = field(default_factory=dict)

    def at(self, offset: int) -> int:
        """The index of the unit that covers ``offset`` of the normal text."""
        return max(0, bisect_right(self.offsets, offset) - 1)

    def token_span(self, start: int, end: int) -> tuple[int, int]:
        """The tokens (first, end) that the stretch ``start`` to ``end`` of the normal text stands for."""
        first, last = self.units[self.at(start)], self.units[self.at(max(start, end - 1))]
        return first.first, max(last.end, first.first + 1)

    def nexts(self, word: str) -> Mapping[str, Sequence[int]]:
        """The places of ``word`` by the word that comes next, also as what that looks like; of a comma also by the word behind it. At the
        end by the empty word."""
        found = self._nexts.get(word)
        if found is None:
            by: defaultdict[str, list[int]] = defaultdict(list)
            for k in self.places[word]:
                then = self.said[k + 1] if k + 1 < len(self.said) else _END
                for following in then:
                    by[following].append(k)
                if then == _COMMA:
                    for following in self.said[k + 2] if k + 2 < len(self.said) else _END:
                        by[following].append(k)
            found = self._nexts[word] = by
        return found


_COMMA, _END = (",",), ("",)


def lay(words: Words, units: list[Unit], void: set[int]) -> Normal:
    """The normal layer over ``units`` without those whose index is in ``void``."""
    kept = [unit for k, unit in enumerate(units) if k not in void] if void else units
    parts = [unit.text for unit in kept]
    text = " ".join(parts)
    spoken = text.split(" ")
    said = tuple(map(_seen, spoken))
    places: defaultdict[str, list[int]] = defaultdict(list)
    for k, seen in enumerate(said):
        for word in seen:
            places[word].append(k)
    return Normal(words, tuple(kept), text, _beginnings(parts), said, _beginnings(spoken), _sentences(said, places.get(".", ())), places)


def _sentences(said: Sequence[tuple[str, ...]], ends: Sequence[int]) -> tuple[frozenset[str], ...]:
    out: list[frozenset[str]] = []
    for first, end in pairwise((0, *(end + 1 for end in ends), len(said))):
        out += [frozenset(chain.from_iterable(said[first:end]))] * (end - first)
    return tuple(out)


def _beginnings(parts: list[str]) -> tuple[int, ...]:
    """Where each of ``parts`` begins when they stand in a row with single spaces."""
    return tuple(map(add, accumulate(map(len, parts), initial=0), range(len(parts))))


@lru_cache(maxsize=16384)
def _seen(word: str) -> tuple[str, ...]:
    """A word, and the kind of value that it looks like, if any."""
    if word[:1].isdecimal():
        return word, SECONDS if word.endswith("s") else NUMBER
    return (word, ORDINAL) if word.startswith("#") else (word,)
