"""Expressions over the normal layer, and the search for many of them at once.

Most shapes begin with one of a few words, and most talks have none of them, or nothing else of the shape: an expression is only tried
where two words stand that it can begin with and all else that it needs in the same sentence, and only made where there are such.
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
    which it needs one each in its sentence. Without ``begins`` it can begin with any."""

    source: str
    begins: Mapping[str, Words | None] | None
    needs: tuple[Words, ...]


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
                end, text, offsets, sentences, needs = 0, layer.text, layer.begins, layer.sentences, expression.needs
                begins[which].sort()
                for k in begins[which]:
                    sentence = sentences[k]
                    for words in needs:
                        if sentence.isdisjoint(words):
                            break
                    else:
                        if (at := offsets[k]) >= end and (match_there := regex.match(text, at)):
                            end = match_there.end()
                            yield which, match_there
