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
    closers: frozenset[str] = frozenset()
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


def compile_never(everyday: Everyday) -> dict[str, list[tuple[str, ...]]]:
    """The phrases of ``never`` by their first word that is no wildcard: word -> [(pattern..., offset of that word)]."""
    table: dict[str, list[tuple[str, ...]]] = {}
    for phrase in everyday.never:
        pattern = tuple(p if p in "*#@%" else word(p) for p in phrase.split())
        first = next((p for p in pattern if p not in "*#@%"), None)
        if first is None:
            raise ValueError(f"everyday.toml: “{phrase}” in `never` has no word of its own. Give at least one.")
        table.setdefault(first, []).append(pattern)
    return table


def never_spans(words: Sequence[str], table: dict[str, list[tuple[str, ...]]], around: Around) -> list[tuple[int, int]]:
    """The spans of ``words`` (normal forms) that are certainly no movement."""
    spans = []
    for i, token in enumerate(words):
        for pattern in table.get(token, ()):
            start = i - next(k for k, p in enumerate(pattern) if p not in "*#@%")
            if start < 0 or start + len(pattern) > len(words):
                continue
            if all(_fits(p, words[start + k], around) for k, p in enumerate(pattern)):
                spans.append((start, start + len(pattern)))
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
