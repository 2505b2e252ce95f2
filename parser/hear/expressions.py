"""Expressions over the normal layer, and the search for many of them at once.

Most shapes begin with one of a few words, and most talks have none of them, or nothing else of the shape: an expression is only tried
where two words stand that it can begin with, and only made where there are such.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from .normal import Normal

_MANY = 16      # from so many places on an expression is first looked at for a word that it needs: to look for that takes as long as to try ten
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
        self._starts: dict[str, list[tuple[int, Words | None]]] = {}
        for which, expression in enumerate(expressions):
            for word, then in (expression.begins or {}).items():
                self._starts.setdefault(word, []).append((which, then))

    def found(self, layer: Normal) -> Iterator[tuple[int, re.Match[str]]]:
        """What ``finditer`` of each expression finds in the layer's text, one after the other, each with its place among them."""
        said = layer.places.keys()
        begins: dict[int, list[int]] = {which: [] for which in self._anywhere}
        for word in self._starts.keys() & said:
            nexts = layer.nexts(word)
            for which, then in self._starts[word]:
                if then is None:
                    begins.setdefault(which, []).extend(layer.places[word])
                elif not nexts.keys().isdisjoint(then):
                    begins.setdefault(which, []).extend(at for after in nexts.keys() & then for at in nexts[after])
        for which in sorted(begins):
            expression = self._all[which]
            for words in expression.needs:
                if said.isdisjoint(words):
                    break
            else:
                if expression.begins is None:
                    for match in _regex(expression.source).finditer(layer.text):
                        yield which, match
                    continue
                end = 0
                for at in self._places(expression, layer, begins[which]):
                    if at >= end and (match_there := _regex(expression.source).match(layer.text, at)):
                        end = match_there.end()
                        yield which, match_there

    def _places(self, expression: Expression, layer: Normal, begins: Sequence[int]) -> list[int]:
        """Where in the layer's text ``expression`` can begin, in order. ``begins`` are words."""
        places = sorted(set(begins)) if len(begins) > 1 else begins
        if expression.behind and len(places) > _MANY:
            wanted, reach = layer.any_of(expression.behind), expression.reach
            places = [k for k in places if (i := bisect_left(wanted, k)) < len(wanted) and wanted[i] <= k + reach]
        return [layer.begins[k] for k in places]
