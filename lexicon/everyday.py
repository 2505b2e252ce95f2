"""Words that are ordinary English as well as movements, and what around them decides. The words are in ``data/everyday.toml``."""

from __future__ import annotations

from collections.abc import Sequence

from pydantic import BaseModel, ConfigDict

from .normal import word


class Around(BaseModel):
    """Small word classes, by what they say about the word beside them."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    determiners: frozenset[str] = frozenset()
    possessives: frozenset[str] = frozenset()
    subjects: frozenset[str] = frozenset()
    before_verb: frozenset[str] = frozenset()
    objects: frozenset[str] = frozenset()
    particles: frozenset[str] = frozenset()
    telling: frozenset[str] = frozenset()
    closers: frozenset[str] = frozenset()
    stretching: frozenset[str] = frozenset()
    onward: frozenset[str] = frozenset()
    prepositions: frozenset[str] = frozenset()
    surroundings: frozenset[str] = frozenset()
    openers: frozenset[str] = frozenset()
    labels: frozenset[str] = frozenset()
    units: frozenset[str] = frozenset()
    doses: frozenset[str] = frozenset()
    confirming: frozenset[str] = frozenset()
    list_links: frozenset[str] = frozenset()
    months: frozenset[str] = frozenset()
    inside: frozenset[str] = frozenset()
    holding: frozenset[str] = frozenset()
    bringing: frozenset[str] = frozenset()
    placing: frozenset[str] = frozenset()
    placed_limbs: frozenset[str] = frozenset()
    articles: frozenset[str] = frozenset()
    sizes: frozenset[str] = frozenset()
    asking: frozenset[str] = frozenset()
    weights: frozenset[str] = frozenset()
    pairs: frozenset[str] = frozenset()


class Everyday(BaseModel):
    """``never``: phrases that are no movement whatever their words are elsewhere; ``*`` any word, ``#`` a number, ``@`` a
    determiner, ``%`` a day or month. ``things``: also things in a room, so that an article or a number proves nothing.
    ``turned``: verbs that name a movement together with a part of the body after them (``roll your shoulders``)."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    around: Around = Around()
    things: frozenset[str] = frozenset()
    turned: frozenset[str] = frozenset()
    never: tuple[str, ...] = ()


_OPEN = frozenset("*#@%")
"""Stand for words of a kind in the phrases of ``never``."""

Never = dict[str, tuple[tuple[int, dict[str, list[tuple[int, tuple[str, ...]]]]], ...]]


def compile_never(everyday: Everyday) -> Never:
    """The phrases of ``never`` by their rarest word, which is the longest one that is no word of the grammar, as a rule; by how far from
    it the nearest other word of its own stands, and that word (0 and the rarest word itself, where a phrase has no other):
    word -> (how far, other word -> [(place of the rarest word in the phrase, phrase)])."""
    table: dict[str, dict[int, dict[str, list[tuple[int, tuple[str, ...]]]]]] = {}
    around = everyday.around
    small = around.determiners | around.possessives | around.prepositions | around.subjects | around.objects | around.particles
    for phrase in everyday.never:
        pattern = tuple(p if p in _OPEN else word(p) for p in phrase.split())
        at = max(range(len(pattern)), key=lambda k: (pattern[k] not in _OPEN, pattern[k] not in small, len(pattern[k])))
        if pattern[at] in _OPEN:
            raise ValueError(f"everyday.toml: “{phrase}” in `never` has no word of its own. Give at least one.")
        others = [k for k, p in enumerate(pattern) if k != at and p not in _OPEN]
        other = min(others, key=lambda k: (abs(k - at), k), default=at)
        table.setdefault(pattern[at], {}).setdefault(other - at, {}).setdefault(pattern[other], []).append((at, pattern))
    return {rarest: tuple(by_place.items()) for rarest, by_place in table.items()}


def never_spans(words: Sequence[str], table: Never, around: Around) -> list[tuple[int, int]]:
    """The spans of ``words`` (normal forms) that are certainly no movement."""
    spans = []
    for i, token in enumerate(words):
        if token not in table:
            continue
        for away, by_word in table[token]:
            if not 0 <= i + away < len(words) or (other := words[i + away]) not in by_word:
                continue
            for at, pattern in by_word[other]:
                start, end = i - at, i - at + len(pattern)
                if start >= 0 and end <= len(words) and all(p == said or _fits(p, said, around) for p, said in zip(pattern, words[start:end])):
                    spans.append((start, end))
    return spans


def _fits(pattern: str, token: str, around: Around) -> bool:
    if pattern == "*":
        return True
    if pattern == "#":
        return token.isdigit()
    if pattern == "@":
        return token in around.determiners or token in around.possessives
    if pattern == "%":
        return token in around.months
    return token == pattern
