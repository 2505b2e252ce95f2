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


Never = dict[str, list[tuple[int, tuple[str, ...]]]]


def compile_never(everyday: Everyday) -> Never:
    """The phrases of ``never`` by their rarest word: word -> [(its place in the phrase, phrase)]. That is the longest one which is no
    word of the grammar, as a rule."""
    table: Never = {}
    around = everyday.around
    small = around.determiners | around.possessives | around.prepositions | around.subjects | around.objects | around.particles
    for phrase in everyday.never:
        pattern = tuple(p if p in "*#@%" else word(p) for p in phrase.split())
        at = max(range(len(pattern)), key=lambda k: (pattern[k] not in "*#@%", pattern[k] not in small, len(pattern[k])))
        if pattern[at] in "*#@%":
            raise ValueError(f"everyday.toml: “{phrase}” in `never` has no word of its own. Give at least one.")
        table.setdefault(pattern[at], []).append((at, pattern))
    return table


def never_spans(words: Sequence[str], table: Never, around: Around) -> list[tuple[int, int]]:
    """The spans of ``words`` (normal forms) that are certainly no movement."""
    spans = []
    for i, token in enumerate(words):
        if token not in table:
            continue
        for at, pattern in table[token]:
            start, end = i - at, i - at + len(pattern)
            if start < 0 or end > len(words):
                continue
            for p, said in zip(pattern, words[start:end]):
                if p != said and not _fits(p, said, around):
                    break
            else:
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
