"""What calls each movement: the words of its name, and those that the coach has for it while it is shown and first done."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from functools import cached_property, lru_cache

from ..mentions import Heard, Layout
from ..model import Movement, Plan
from .weights import weights, words


@lru_cache(maxsize=16384)
def stem(word: str) -> str:
    """``word`` without the endings that a call gives it: ``crawling`` and ``crawls`` are ``crawl``."""
    low = word.lower().strip("'")
    for ending in ("ing", "ers", "er", "es", "s", "y"):
        if low.endswith(ending) and len(low) - len(ending) >= 3:
            low = low[: -len(ending)]
            break
    return low[:-1] if len(low) > 3 and (low[-1] == low[-2] or low[-1] == "e") else low


@lru_cache(maxsize=1)
def _plain() -> frozenset[str]:
    """The words that are never a name, as they are and by their stems."""
    return words()["plain"].union(map(stem, words()["plain"]))


def _shared_out(own: dict[int, set[str]], whole: float, *, most: int) -> dict[int, dict[str, float]]:
    """``whole`` for a stem that one movement has, divided among several; nothing where more than ``most`` have it."""
    count = Counter(s for stems in own.values() for s in stems)
    return {n: {s: whole / count[s] for s in stems if count[s] <= most} for n, stems in own.items()}


class Names:
    """The stems of the words that call the movements of ``plan``, by main block."""

    def __init__(self, heard: Heard, plan: Plan, layout: Layout | None) -> None:
        self.tokens, self.plan, self.layout = heard.words.tokens, plan, layout
        self.learnt: dict[int, list[tuple[int, int, int]]] = {}
        """For each block ``(number, first token, end)`` of where its movements were first done."""
        self._w = weights()["when"]
        self._known: dict[int, dict[int, dict[str, float]]] = {}

    def learn(self, block: int, number: int, first: int, end: int) -> None:
        """Movement ``number`` was first done in the tokens ``first`` to ``end``: what it is called there may be its name."""
        self.learnt.setdefault(block, []).append((number, first, end))
        self._known.clear()

    def said(self, word: str) -> Sequence[int]:
        """The tokens that are ``word``."""
        return self._by_word.get(word, ())

    def where(self, s: str) -> Sequence[int]:
        """The tokens with the stem ``s`` that are no quotation."""
        return self._by_stem.get(s, ())

    @cached_property
    def _by_word(self) -> dict[str, list[int]]:
        found: defaultdict[str, list[int]] = defaultdict(list)
        for t in self.tokens:
            found[t.norm].append(t.i)
        return found

    @cached_property
    def _by_stem(self) -> dict[str, list[int]]:
        found: dict[str, list[int]] = {}
        for word, places in self._by_word.items():
            s = stem(word)
            found[s] = sorted(found[s] + places) if s in found else places
        if quoted := {t.i for t in self.tokens if t.quoted}:
            found = {s: [i for i in places if i not in quoted] for s, places in found.items()}
        return found

    def of(self, block: int) -> dict[int, dict[str, float]]:
        """For each movement of the block the stems that call it, and how much: less for one that another has too, and for one
        that is no name but was only said while it was shown (``that's the crab``)."""
        if block in self._known:
            return self._known[block]
        movements = self.plan.mains[block - 1].movements
        own: dict[int, set[str]] = {}
        for m in movements:
            text = " ".join([m.name, m.said, *m.aliases, *(p.name for p in m.parts)]).lower().replace("-", " ")
            own.setdefault(m.number, set()).update(stem(w) for w in text.split() if w not in words()["plain"])
        names = _shared_out(own, 1.0, most=2)
        for number, stems in _shared_out(self._nicknames(block, movements), self._w["shown_share"], most=1).items():
            for s in stems:
                if not any(s in other for other in own.values()):
                    names.setdefault(number, {})[s] = stems[s]
        self._known[block] = names
        return names

    def _nicknames(self, block: int, movements: Sequence[Movement]) -> dict[int, set[str]]:
        """The words that call a movement when it is first done, and are hardly said of another up to then."""
        spans: dict[int, list[tuple[int, int]]] = {}
        stretches = [s for s in self.layout.stretches if s.kind == "main"] if self.layout else []
        if block <= len(stretches) and len(stretches[block - 1].items) == len(movements):
            for m, item in zip(movements, stretches[block - 1].items):
                first, end = item.segment
                spans.setdefault(m.number, []).append((first, min(end, first + int(self._w["shown_words"]))))
        for number, first, end in self.learnt.get(block, ()):
            spans.setdefault(number, []).append((first, end))
        called = {n: {stem(self.tokens[i].norm) for number, first, end in self.learnt.get(block, ()) if number == n
                      for i in range(first, end)} for n in spans}
        plain = _plain()
        until = max((end for own in spans.values() for _, end in own), default=0)
        out: dict[int, set[str]] = {}
        for number, own in spans.items():
            inside = {i for first, end in own for i in range(first, end)}
            for s in called[number]:
                said = [i for i in self.where(s) if i < until]
                mine = sum(i in inside for i in said)
                if len(s) > 2 and "'" not in s and s not in plain and mine >= 2 and mine >= self._w["shown_mine"] * len(said):
                    out.setdefault(number, set()).add(s)
        return out
