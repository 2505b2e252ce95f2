"""Expressions over the normal layer, and the search for many of them at once.

Most shapes begin with one of a few words, and most talks have none of them, or nothing else of the shape: an expression is only tried
where two words stand that it can begin with, and only made where there are such.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from .normal import Normal

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

    def matches(self, text: str, places: Sequence[int]) -> Iterator[re.Match[str]]:
        """What ``finditer`` finds in ``text`` if it can begin at ``places`` only."""
        end = 0
        for at in places:
            if at >= end and (match := _regex(self.source).match(text, at)):
                end = match.end()
                yield match


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
            if any(said.isdisjoint(words) for words in expression.needs):
                continue
            if expression.begins is None:
                yield from ((which, match) for match in _regex(expression.source).finditer(layer.text))
            else:
                places = [layer.begins[k] for k in sorted(set(begins[which]))]
                yield from ((which, match) for match in expression.matches(layer.text, places))
