"""The names of movements and the words that change them, as tries over normal forms; and the ways one spoken word can be read.

A *reading* of a stretch of speech is the words it may stand for: itself, the plain form of an inflected word, a joined word come
apart (``pushup``), two words joined (``dead lift``), what a caption mis-heard, or a near spelling. Each has a cost; below
``SURE`` the words are as said, below ``MISHEARD`` nothing is in doubt.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from .entry import Confusion
from .everyday import Around
from .normal import inflections, split, word

LITERAL, INFLECTED, JOINED, SURE, MISHEARD, FUZZY = 0.0, 0.01, 0.02, 0.5, 1.0, 2.0
FUZZY_LETTERS = 5         # shorter words are never matched by spelling
_JOIN_LETTERS = 6         # shorter joins are ordinary words (upon, into, onto)
BETWEEN = frozenset({"load", "side", "grip", "tempo", "range"})  # kinds of modifier that may stand inside a name
END = ""

Trie = dict[str, Any]


class Name(NamedTuple):
    """One name in the trie, and what it stands for. ``rung``: exact, alias, misheard or taught."""

    what: Any
    rung: str
    words: tuple[str, ...]
    everyday: bool = False


class Reading(NamedTuple):
    words: tuple[str, ...]
    cost: float


class Follow(NamedTuple):
    """What a word can begin, by what comes after it. ``alone``: a name, whatever that is; ``modifier``: one, and ``inside`` one that may
    stand inside a name; ``names``, ``modifiers``: a longer one, where the next word can be read as one of these. ``spelt``: of these the
    words that a near spelling may mean, by where they stand. ``heard``: something mis-heard, if the next word is one of these."""

    alone: bool
    modifier: bool
    inside: bool
    names: frozenset[str]
    modifiers: frozenset[str]
    spelt: tuple[frozenset[str], ...]
    heard: frozenset[str]


@dataclass
class Index:
    """Tries of names; built once, then only read, but for what is kept of the answers."""

    names: Trie = field(default_factory=dict)
    modifiers: Trie = field(default_factory=dict)
    after: Trie = field(default_factory=dict)       # said only after a movement
    stretched: Trie = field(default_factory=dict)   # parts of the body that name a stretch
    equipment: Trie = field(default_factory=dict)   # said after it with a word that leads to it: "with a dumbbell"
    readings: dict[str, tuple[Reading, ...]] = field(default_factory=dict)
    compounds: dict[str, tuple[Reading, ...]] = field(default_factory=dict)
    heard: dict[str, tuple[tuple[tuple[str, ...], Reading], ...]] = field(default_factory=dict)
    starts: frozenset[str] = frozenset()
    starts_modifier: frozenset[str] = frozenset()
    starts_part: frozenset[str] = frozenset()   # of the parts of the body that name a stretch
    preceding: dict[str, frozenset[str]] = field(default_factory=dict)
    alone: dict[str, frozenset[str]] = field(default_factory=dict)     # names and modifiers of one word, by their first two letters
    known: frozenset[str] = frozenset()
    inside: frozenset[str] = frozenset()
    follows: dict[str, Follow] = field(default_factory=dict)
    firsts: dict[str, frozenset[str]] = field(default_factory=dict)
    """Of the words that were asked about."""
    leads: Mapping[str, Sequence[tuple[str, ...]]] = field(default_factory=dict)
    title_leads: Mapping[str, Sequence[tuple[str, ...]]] = field(default_factory=dict)

    def first(self, token: str) -> frozenset[str]:
        """The words that ``token``, with those after it or without, can be read to begin with."""
        if (known := self.firsts.get(token)) is not None:
            return known
        found = self.firsts[token] = frozenset(r.words[0] for r in (*self.readings.get(token, ()), *(r for _, r in self.heard.get(token, ()))))
        return found

    def follow(self, token: str) -> Follow:
        """What ``token``, one of ``starts``, can begin."""
        if (known := self.follows.get(token)) is not None:
            return known
        below = [(descend(self.names, r.words) or {}, descend(self.modifiers, r.words) or {}) for r in self.readings.get(token, ())]
        names, modifiers = ({w for pair in below for w in pair[n] if w} for n in (0, 1))
        found = [pair[1][END] for pair in below if END in pair[1]]
        spelt = {spellable(node) for pair in below for node in pair} - {frozenset()}
        self.follows[token] = Follow(any(END in pair[0] for pair in below), bool(found), any(name.what.kind in BETWEEN for name in found),
                                     frozenset(names), frozenset(modifiers), tuple(spelt), frozenset(heard[1] for heard, _ in self.heard.get(token, ())))
        return self.follows[token]


def add(trie: Trie, name: Name) -> bool:
    """Puts a name into a trie; False if another already has these words."""
    node = trie
    for w in name.words:
        node = node.setdefault(w, {})
    if END in node:
        return False
    node[END] = name
    return True


def spellable(node: Trie) -> frozenset[str]:
    """What stands next below ``node`` and is long enough for a near spelling."""
    return frozenset(w for w in node if len(w) >= FUZZY_LETTERS)


def descend(node: Trie, words: Sequence[str]) -> Trie | None:
    """What stands below ``node`` after ``words``; ``None`` where nothing does."""
    for w in words:
        if w not in node:
            return None
        node = node[w]
    return node


def build(names: Iterable[Name], modifiers: Iterable[Name], after: Iterable[Name], equipment: Iterable[Name],
          confusions: Iterable[Confusion], around: Around, *, stretched: Iterable[Name] = (), spoken: bool = True) -> Index:
    """``spoken``: with the inflected, joined and mis-heard forms of the words; without, only names as they are written."""
    index = Index(inside=around.inside, leads=_leads(_spoken_leads(around)), title_leads=_leads(_title_leads(around)))
    listed: list[tuple[str, ...]] = []
    openers: set[str] = set()
    for trie, rows in ((index.names, names), (index.modifiers, modifiers), (index.after, after), (index.equipment, equipment),
                       (index.stretched, stretched)):
        for name in rows:
            if add(trie, name):
                listed.append(name.words)
                if trie is index.names or trie is index.modifiers:
                    openers.add(name.words[0])
    vocabulary = {w for words in listed for w in words}
    pairs = {(a, b) for words in listed for a, b in zip(words, words[1:])}
    readings = _readings(vocabulary, pairs if spoken else (), spoken)
    whole = {token for token, found in readings.items() if len(token) >= _JOIN_LETTERS for r in found if len(r.words) == 1}
    index.compounds = {token: tuple([r for r in readings[token] if r.cost < SURE]) for token in whole}
    heard = _confused(readings, vocabulary, confusions)
    index.heard = {first: tuple(rows) for first, rows in heard.items()}
    index.readings = {token: tuple(found) if len(found) == 1 else tuple(sorted(found, key=lambda r: r.cost)) for token, found in readings.items()}
    index.known = frozenset(index.readings)
    index.starts = _read_as(openers, readings).union(heard)
    index.starts_modifier = _read_as(index.modifiers, readings).union(heard)
    index.starts_part = _read_as(index.stretched, readings)
    preceding: dict[str, set[str]] = defaultdict(set)
    for a, b in pairs:
        if len(a) >= FUZZY_LETTERS:
            preceding[b].add(a)
    index.preceding = {b: frozenset(found) for b, found in preceding.items()}
    alone: dict[str, list[str]] = defaultdict(list)
    for trie in (index.names, index.modifiers):
        for w in trie:
            if len(w) > FUZZY_LETTERS and END in trie[w]:
                alone[w[:2]].append(w)
    index.alone = {start: frozenset(found) for start, found in alone.items()}
    return index


def _read_as(words: Collection[str], readings: Mapping[str, Sequence[Reading]]) -> frozenset[str]:
    """The tokens that have a reading which begins with one of ``words``."""
    return frozenset({token for token, found in readings.items() for r in found if r.words[0] in words})


def _readings(vocabulary: Collection[str], pairs: Collection[tuple[str, str]], spoken: bool) -> dict[str, list[Reading]]:
    readings: dict[str, list[Reading]] = defaultdict(list)
    for w in vocabulary:
        readings[w].append(Reading((w,), LITERAL))
    for w in vocabulary if spoken else ():
        inflected = Reading((w,), INFLECTED)
        for form in inflections(w):
            readings[form].append(inflected)
    for a, b in pairs:
        if len(a) < 2 or len(b) < 2 or a.isdigit():
            continue
        together = Reading((a, b), JOINED)
        for joined in (a + b, *(a + form for form in inflections(b))):
            if len(joined) >= _JOIN_LETTERS:
                readings[joined].append(together)
    return readings


def _confused(readings: dict[str, list[Reading]], vocabulary: Collection[str],
              confusions: Iterable[Confusion]) -> dict[str, list[tuple[tuple[str, ...], Reading]]]:
    """Adds the mis-hearings to ``readings``, those of several words written as one; gives these by their first word too."""
    several: dict[str, list[tuple[tuple[str, ...], Reading]]] = defaultdict(list)
    for confusion in confusions:
        heard = tuple(word(w) for w in confusion.heard.split())
        for meant in confusion.means:
            reading = Reading(split(meant), SURE if confusion.sure else MISHEARD)
            if reading.words[0] not in vocabulary:
                continue
            if len(heard) == 1:
                readings[heard[0]].append(reading)
                continue
            several[heard[0]].append((heard, reading))
            together = "".join(heard)
            if together not in readings:
                readings[together].append(reading)
    return several


def _leads(phrases: Iterable[tuple[str, ...]]) -> dict[str, tuple[tuple[str, ...], ...]]:
    table: dict[str, list[tuple[str, ...]]] = defaultdict(list)
    for phrase in phrases:
        table[phrase[0]].append(phrase)
    return {first: tuple(rows) for first, rows in table.items()}


def _spoken_leads(around: Around) -> Iterable[tuple[str, ...]]:
    """``with``, ``with a``, ``with both``, ``on the``."""
    for lead in around.bringing:
        yield (lead,)
        yield from ((lead, number) for number in ("1", "2", "both"))
    for lead in around.bringing | around.placing:
        yield from ((lead, article) for article in around.articles)


def _title_leads(around: Around) -> Iterable[tuple[str, ...]]:
    """``on``, ``feet on``, ``with feet on a``."""
    for lead in around.placing:
        yield (lead,)
    for limb in around.placed_limbs:
        for start in ((), ("with",)):
            for article in ((), *((a,) for a in around.articles)):
                yield (*start, limb, "on", *article)
