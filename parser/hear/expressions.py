"""Expressions over the normal layer, and the search for many of them at once.

Most shapes begin with one of a few words, and most talks have none of them, or nothing else of the shape: an expression is only tried
where two words stand that it can begin with, and only made where there are such.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from .normal import Normal

_MANY = 4       # from so many places on an expression is first looked at for a word that it needs: to look for that takes as long as to try a few
Words = frozenset[str]
"""Words of the normal layer, values by their kind: ``{d}``, ``{n}``, ``{o}``."""


@cache
def _regex(source: str) -> re.Pattern[str]:
    return re.compile(source)


@dataclass(frozen=True, slots=True)
class Expression:
    """A shape as a regular expression, the words it can begin with, each with those that can come next (``None``: any), and the words of
    which it needs one each. Without ``begins`` it can begin with any."""

    source: str
    begins: Mapping[str, Words | None] | None
    needs: tuple[Words, ...]
    behind: Words | None
    """The fewest words of which it needs one behind its first, no more than ``reach`` words away; ``None``: it needs none."""
    reach: int


class Expressions:
    """Many expressions, found in a layer together: by the words that stand in it, not one by one."""

    def __init__(self, expressions: Sequence[Expression]) -> None:
        self._all = expressions
        self._anywhere = [which for which, expression in enumerate(expressions) if expression.begins is None]
        self._starts: dict[str, list[int]] = {}
        self._pairs: dict[str, dict[str, list[int]]] = {}
        """Which can begin with a word whatever comes next, and which only where certain words do."""
        for which, expression in enumerate(expressions):
            for word, then in (expression.begins or {}).items():
                if then is None:
                    self._starts.setdefault(word, []).append(which)
                for after in then or ():
                    self._pairs.setdefault(word, {}).setdefault(after, []).append(which)

    def found(self, layer: Normal) -> Iterator[tuple[int, re.Match[str]]]:
        """What ``finditer`` of each expression finds in the layer's text, one after the other, each with its place among them."""
        said = layer.places.keys()
        begins: dict[int, list[int]] = {which: [] for which in self._anywhere}
        for word in self._starts.keys() & said:
            for which in self._starts[word]:
                begins.setdefault(which, []).extend(layer.places[word])
        for word in self._pairs.keys() & said:
            nexts, pairs = layer.nexts(word), self._pairs[word]
            for after in nexts.keys() & pairs.keys():
                places = nexts[after]
                for which in pairs[after]:
                    if which in begins:
                        begins[which] += places
                    else:
                        begins[which] = list(places)
        for which in sorted(begins):
            expression = self._all[which]
            for words in expression.needs:
                if said.isdisjoint(words):
                    break
            else:
                regex = _regex(expression.source)
                if expression.begins is None:
                    for match in regex.finditer(layer.text):
                        yield which, match
                    continue
                end, text, offsets = 0, layer.text, layer.begins
                for k in _before(expression, layer, begins[which]):
                    if (at := offsets[k]) >= end and (match_there := regex.match(text, at)):
                        end = match_there.end()
                        yield which, match_there


def _before(expression: Expression, layer: Normal, begins: list[int]) -> Sequence[int]:
    """The words of ``begins`` in order; of many those near enough before one of what ``expression`` needs further on."""
    if len(begins) == 1:
        return begins
    begins.sort()
    if expression.behind is None or len(begins) < _MANY or len(wanted := layer.any_of(expression.behind)) > len(begins):
        return begins
    out: list[int] = []
    over = 0
    for word in wanted:
        first = bisect_left(begins, word - expression.reach, over)
        over = bisect_right(begins, word, first)
        out += begins[first:over]
    return out
