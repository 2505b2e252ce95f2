"""A row of spoken words, and everything in it that a name or a modifier may be: each word read in all the ways that the index knows."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Mapping, Sequence
from functools import cached_property, lru_cache
from operator import add as add_words
from typing import Any

from rapidfuzz import fuzz

from .index import BETWEEN, END, FUZZY, FUZZY_LETTERS, INFLECTED, JOINED, LITERAL, MISHEARD, SURE, Index, Name, Reading, Trie, descend, spellable
from .normal import word

_START = -1.0
FUZZY_RATIO = 84          # of 100, for one word; chosen against tests/lexicon/near_misses.toml
_AHEAD = 3                # points by which the nearest must be nearer than the next
_LONG = 9                 # letters from which two more or fewer are still a near spelling
_MOST_BETWEEN = 3
_NONE: frozenset[str] = frozenset()
_NO_READINGS: Sequence[Reading] = ()
_NOWHERE: frozenset[int] = frozenset()

Walked = tuple[int, Name, float, tuple[Name, ...]]


class Speech:
    """A row of words with everything found at each place kept, so that no place is looked at twice.

    What is found at a place hangs on the words between the break before it and the next one, and on nothing else.
    """

    def __init__(self, words: Sequence[str], breaks: Collection[int], indexes: Sequence[Index]) -> None:
        self.said = words
        self.words = [word(w) for w in words]
        self._following = [*self.words[1:], ""]
        self.breaks = breaks if isinstance(breaks, (set, frozenset)) else set(breaks)
        self.indexes = indexes
        together = list(map(add_words, self.words, self._following))
        self._joined = tuple({i for i, word in enumerate(together) if word in index.compounds and len(self.words[i]) > 1 and len(self._following[i]) > 1}
                             if index.compounds else _NOWHERE for index in indexes)
        """By index: where two words may be one that came apart."""
        self._steps: tuple[dict[int, list[tuple[int, Reading]]], ...] = tuple({} for _ in indexes)
        self._modifiers: dict[int, list[tuple[int, Name, float]]] = {}
        self._after: dict[int, list[tuple[int, Name, float]]] = {}
        self.candidates: dict[int, Any] = {}
        """What the grammar makes of the words from a place on."""
        self.chains: dict[int, Any] = {}
        """What is said from a place on: one movement, several chained, or ``None``."""
        self.matched: dict[int, tuple[Any, Any]] = {}
        """What was said from a place on, and what it means."""
        self.whole: dict[tuple[int, int, bool], Any] = {}
        """What words were found to mean that are one name as a whole, from the first to the one after the last."""
        self.never: list[tuple[int, int]] | None = None
        """The spans that are no movement, once they were looked for: they go over breaks."""

    def __len__(self) -> int:
        return len(self.words)

    @cached_property
    def parts(self) -> frozenset[int]:
        """Where a part of the body can begin."""
        starts = self.indexes[0].starts_part
        return frozenset([i for i, token in enumerate(self.words) if token in starts])

    @cached_property
    def openings(self) -> list[int]:
        """The places where a name, a modifier or a part of the body can begin, whatever the breaks: most words are no place for one."""
        return sorted(self.parts.union(self.names))

    @cached_property
    def own(self) -> tuple[frozenset[int], ...]:
        """Where a coach's own name can begin, for each index but the first."""
        return tuple(frozenset([i for i, (token, following) in enumerate(zip(self.words, self._following)) if token in index.starts or i in joined
                                or (following in index.readings or token[:2] in index.alone) and self._near_start(i, which, _NOWHERE)])
                     for which, (index, joined) in enumerate(zip(self.indexes, self._joined)) if which)

    @cached_property
    def names(self) -> frozenset[int]:
        """Where a name can begin, with modifiers before it, by each word and the next one: a quick look that misses nothing."""
        core, words, after, joined = self.indexes[0], self.words, self._following, self._joined[0]
        starts, known, own = core.starts, core.known, _NOWHERE.union(*self.own)
        found = []
        # of the next word: whether a name begins there, what a name can go on with behind all that begins there and may stand inside one
        # (None: anything), whether it may be joined to the one behind it, and what it is a near spelling of
        opens, glued, near = False, False, _NO_READINGS
        behind: frozenset[str] | None = _NONE
        for i in range(len(words) - 1, -1, -1):
            token, following, joins = words[i], after[i], i in joined
            here = anything = joins
            goes_on, spelt = _NONE, _NO_READINGS
            if token in starts:
                may = core.follow(token)
                name, modifier = glued and bool(may.names), glued and bool(may.modifiers)
                if following in known or following in core.heard:
                    firsts = core.first(following)
                    name, modifier = name or not may.names.isdisjoint(firsts), modifier or not may.modifiers.isdisjoint(firsts)
                elif len(following) >= FUZZY_LETTERS and (may.spelt or near):
                    name = modifier = name or modifier or any(_near(following, long) for long in may.spelt) or any(
                        r.words[0] in may.names or r.words[0] in may.modifiers for r in near)
                heard = following in may.heard
                anything = anything or heard or modifier
                here = here or heard or may.alone or name or modifier or may.modifier and opens or (
                    bool(may.names) if behind is None else not may.names.isdisjoint(behind))
                if may.inside:
                    if behind is None or glued or len(following) >= FUZZY_LETTERS and following not in known:
                        anything = True
                    else:
                        goes_on = core.first(following).union(behind)
            if len(token) >= FUZZY_LETTERS and token not in known:
                spelt = self._near_start(i, 0, _NOWHERE)
                here, anything = here or bool(spelt), anything or bool(spelt)
            opens, behind, glued, near = here or i in own, None if anything else goes_on, joins, spelt
            if opens:
                found.append(i)
        return frozenset(found)

    def break_at(self, breaks: Collection[int]) -> None:
        """Sets other breaks. What was found is kept in every stretch between two of them that is as it was."""
        breaks = set(breaks)
        found: tuple[dict[int, Any], ...] = (*self._steps, self._modifiers, self._after, self.candidates, self.chains)
        if any(found):
            either = sorted(self.breaks | breaks)
            for at in self.breaks ^ breaks:
                k = bisect_left(either, at)
                first, end = either[k - 1] if k else 0, either[k + 1] if k + 1 < len(either) else len(self.words)
                for i in range(max(0, first), end):
                    for kept in found:
                        kept.pop(i, None)
        self.breaks = breaks

    def steps(self, i: int, which: int) -> list[tuple[int, Reading]]:
        """``(next place, reading)`` for the word or the two or three words at ``i``."""
        if (known := self._steps[which].get(i)) is not None:
            return known
        index, token = self.indexes[which], self.words[i]
        found = [(i + 1, r) for r in index.readings.get(token, ())]
        if i in self._joined[which] and i + 1 not in self.breaks:
            for reading in index.compounds[token + self.words[i + 1]]:
                found.append((i + 2, Reading(reading.words, max(JOINED, reading.cost))))
        if token in index.heard:
            for heard, reading in index.heard[token]:
                end = i + len(heard)
                if tuple(self.words[i:end]) == heard and not any(k in self.breaks for k in range(i + 1, end)):
                    found.append((end, reading))
        if token not in index.known:
            found += [(i + 1, r) for r in self._near_start(i, which, self.breaks)]
        self._steps[which][i] = found
        return found

    def _near_start(self, i: int, which: int, breaks: Collection[int]) -> list[Reading]:
        """Near spellings of an unknown word: of what stands before the next word in some name, or of a name of one word."""
        index, token = self.indexes[which], self.words[i]
        following = self.words[i + 1] if i + 1 < len(self.words) and i + 1 not in breaks else ""
        alone, readings = index.alone.get(token[:2], _NONE), index.readings.get(following, ())
        if not (alone or readings) or token in index.known or len(token) < FUZZY_LETTERS or not token.isalpha():
            return []
        found = list(_near(token, alone))
        for reading in readings:
            if reading.cost < SURE:
                found += _near(token, index.preceding.get(reading.words[0], _NONE))
        return found

    def walk(self, trie: Trie, i: int, which: int, *, between: bool = False) -> list[Walked]:
        """Every name that begins at ``i``: ``(end, name, cost, modifiers between its words)``."""
        out: list[Walked] = []
        self._walk(trie, i, which, 0.0, (), _START, between, out)
        return out

    def _walk(self, node: Trie, i: int, which: int, cost: float, mods: tuple[Name, ...], last: float, between: bool, out: list[Walked]) -> None:
        """``last``: the cost of the reading that led here, ``_START`` at the beginning."""
        first = last == _START
        if not first and END in node:
            out.append((i, node[END], cost, mods))
            if len(node) == 1:
                return
        if i >= len(self.words) or (not first and i in self.breaks):
            return
        self._advance(node, i, which, cost, mods, last, between, out)
        # no modifier after what is a name already: "squat floor press" is two movements, "bent over dumbbell row" one
        if between and not first and len(mods) < _MOST_BETWEEN and (END not in node or node[END].everyday and len(node) > 1):
            for end, mod, c in self.modifiers_at(i):
                if end < len(self.words) and end not in self.breaks and mod.what.kind in BETWEEN:
                    self._advance(node, end, which, cost + c, (*mods, mod), LITERAL, between, out)

    def _advance(self, node: Trie, i: int, which: int, cost: float, mods: tuple[Name, ...], last: float, between: bool, out: list[Walked]) -> None:
        over = last == INFLECTED and END in node and self.words[i - 1].endswith("s")  # "swings squats": the next name begins
        for end, reading in self.steps(i, which):
            if over and reading.words[0] in self.indexes[which].names and reading.words[0] not in self.indexes[which].inside:
                continue
            below = descend(node, reading.words)
            if below is not None:
                self._walk(below, end, which, cost + reading.cost, mods, reading.cost, between, out)
        token = self.words[i]
        if last != _START and len(token) >= FUZZY_LETTERS and token not in self.indexes[which].known:
            for reading in _near(token, spellable(node)):
                self._walk(node[reading.words[0]], i + 1, which, cost + reading.cost, mods, reading.cost, between, out)

    def modifiers_at(self, i: int) -> list[tuple[int, Name, float]]:
        """The modifiers said before a movement that begin at ``i``."""
        found = self._modifiers.get(i)
        if found is None:
            core, token = self.indexes[0], self.words[i]
            other = token in core.known and token not in core.starts_modifier and i not in self._joined[0]
            found = self._modifiers[i] = [] if other or not self.steps(i, 0) else [
                (e, n, c) for e, n, c, _ in self.walk(core.modifiers, i, 0)
                if not self.words[e - 1].endswith("s") or self.words[e - 1] == n.words[-1]
            ]  # never a plural: "two dumbbells, press" is no dumbbell press
        return found

    def after_at(self, i: int) -> list[tuple[int, Name, float]]:
        """The modifiers said only after a movement that begin at ``i``: ``on one leg``, ``with a dumbbell``, ``on the bench``."""
        if i not in self._after:
            self._after[i] = self._known(self.indexes[0].after, i) + self._led(i, self.indexes[0].leads)
        return self._after[i]

    def stretched_at(self, i: int) -> list[tuple[int, Name, float]]:
        """The parts of the body from ``i`` on whose stretch they name."""
        return self._known(self.indexes[0].stretched, i) if self.words[i] in self.indexes[0].starts_part else []

    def titled_at(self, i: int) -> list[tuple[int, Name, float]]:
        """What else may stand after a movement in a written title, from ``i`` on: bare equipment, or ``feet on bench``."""
        return self._known(self.indexes[0].equipment, i) + self._led(i, self.indexes[0].title_leads)

    def _known(self, trie: Trie, i: int) -> list[tuple[int, Name, float]]:
        return [(e, n, c) for e, n, c, _ in self.walk(trie, i, 0) if c < MISHEARD]

    def _led(self, i: int, leads: Mapping[str, Sequence[tuple[str, ...]]]) -> list[tuple[int, Name, float]]:
        """The equipment that a word of ``leads`` at ``i`` leads to."""
        found = []
        for lead in leads.get(self.words[i], ()):
            at = i + len(lead)
            if at < len(self.words) and tuple(self.words[i:at]) == lead and not any(k in self.breaks for k in range(i + 1, at + 1)):
                found.extend(self._known(self.indexes[0].equipment, at))
        return found


@lru_cache(maxsize=16384)
def _near(token: str, candidates: frozenset[str]) -> tuple[Reading, ...]:
    """The near spelling among ``candidates``, its cost growing as they differ; none where two are about as near."""
    ratios = sorted(
        ((fuzz.ratio(token, c), c) for c in candidates if abs(len(c) - len(token)) <= 1 + (len(c) >= _LONG)), reverse=True
    )[:2]
    if not ratios or ratios[0][0] < FUZZY_RATIO or len(ratios) == 2 and ratios[0][0] - ratios[1][0] < _AHEAD:
        return ()
    return (Reading((ratios[0][1],), FUZZY + (100 - ratios[0][0]) / 100),)
