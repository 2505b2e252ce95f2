"""From speech to items and chains of items: what is said after a base, and words that make one item of two movements."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from .context import Barred, Context, Verdict, over
from .entry import ChainWords
from .grammar import Item, Modifier, Shorter, best
from .index import MISHEARD
from .speech import Speech
from .stretched import is_meant, named_part

_MOST_TAIL = 3


@dataclass(frozen=True, slots=True)
class Said:
    """One or more items said as one movement. ``links``: one fewer than ``items``."""

    items: tuple[Item, ...]
    links: tuple[str, ...]
    verdict: Verdict

    @property
    def start(self) -> int:
        return self.items[0].start

    @property
    def end(self) -> int:
        return self.items[-1].end


class Reader:
    """Reads movement phrases out of speech by one lexicon's rules. ``loose``: the whole speech is one name (a title in a list)."""

    def __init__(self, context: Context, shorter: Shorter, chains: ChainWords) -> None:
        self.context = context
        self.shorter = shorter
        self.pairs = chains.pairs
        self.links: Mapping[str, list[tuple[tuple[str, ...], str]]] = {}
        table: dict[str, list[tuple[tuple[str, ...], str]]] = {}
        for link, phrases in chains.links.items():
            for phrase in phrases:
                words = tuple(phrase.split())
                table.setdefault(words[0], []).append((words, link))
        self.links = {first: sorted(rows, key=lambda r: -len(r[0])) for first, rows in table.items()}

    def scan(self, speech: Speech) -> list[Said]:
        """Every movement said, left to right, none overlapping."""
        barred = self.context.barred(speech)
        found: list[Said] = []
        end, chains = 0, speech.chains
        for i in speech.openings:
            if i < end:
                continue
            if i not in chains:
                chains[i] = self._chain_at(speech, i, barred) if i in speech.names else None
            said = chains[i]
            if said is None and i in speech.parts:
                said = self._part_at(speech, i, found)
            if said is not None:
                found.append(said)
                end = said.end
        return self._lists(speech, found)

    def _part_at(self, speech: Speech, i: int, found: list[Said]) -> Said | None:
        """A part of the body whose stretch is meant."""
        item = named_part(speech, i)
        if item is None:
            return None
        last = next((said.items[-1] for said in reversed(found) if not said.verdict.verbal), None)
        if not is_meant(speech, item, self.context.around, last):
            return None
        return Said((item,), (), Verdict(True, False))

    # ---------------------------------------------------------------- one item

    def item_at(self, speech: Speech, i: int) -> Item | None:
        """The item that begins at ``i``, unless a better one begins inside it."""
        item = best(speech, i)
        if item is None or self._held(speech, item):
            return None
        whole = self._with_tail(speech, item)
        for k in range(i + 1, item.end):
            if k in speech.breaks or k not in speech.names:
                continue
            other = best(speech, k)
            if other is not None and other.end > whole.end and self._outdoes(other, item):
                if self._goes_without(speech, other, whole):
                    return whole
                shorter = best(speech, i, before=k)
                return None if shorter is None else self._with_tail(speech, shorter)
        return whole

    def _goes_without(self, speech: Speech, other: Item, whole: Item) -> bool:
        """``March on the spot, big arm circles``: what both could have is of the first, where the second is a name without it."""
        if whole.everyday and len(whole.name_words) < 2 and whole.end - whole.start < 2 or other.base_at < whole.end or whole.end in speech.breaks:
            return False
        behind = best(speech, whole.end)
        return behind is not None and behind.base is other.base

    def _held(self, speech: Speech, item: Item) -> bool:
        """The equipment belongs to what was said before: ``stand on the band, hinge over``."""
        around, i = self.context.around, item.start
        if i < 2 or item.base_at == i or i in speech.breaks or not item.modifiers or not item.modifiers[0].equipment:
            return False
        article = speech.words[i - 1] in around.possessives or speech.words[i - 1] in around.determiners
        return article and speech.words[i - 2] in around.holding

    def _outdoes(self, other: Item, item: Item) -> bool:
        doubt = ("misheard", "fuzzy")
        if item.rung in doubt or other.rung in doubt:
            return other.rung not in doubt
        return other.end - other.start > item.end - item.start or item.everyday and not other.everyday

    def _with_tail(self, speech: Speech, item: Item) -> Item:
        """The item with the modifiers said after it: ``press, overhead``, ``lunge to the side``, ``squat with a dumbbell``."""
        modifiers, end = item.modifiers, item.end
        for _ in range(_MOST_TAIL):
            step = self._tail_at(speech, end)
            if step is None:
                break
            end, modifier = step
            if modifier not in modifiers:
                modifiers = (*modifiers, modifier)
        return self._settled(item if end == item.end else replace(item, end=end, modifiers=modifiers))

    def _settled(self, item: Item) -> Item:
        if item.own is not None:
            return item
        base, modifiers = self.shorter.settle(item.base, item.modifiers)
        if base is item.base:
            return item if modifiers == item.modifiers else replace(item, modifiers=modifiers)
        # several words that together are a name of their own are as good as that name
        return replace(item, base=base, modifiers=modifiers, everyday=False)

    def _tail_at(self, speech: Speech, end: int) -> tuple[int, Modifier] | None:
        if end >= len(speech) or end in speech.breaks:
            return None
        options = [(e, n.what, True) for e, n, _ in speech.after_at(end)]
        options += [(e, n.what, False) for e, n, c in speech.modifiers_at(end) if c < MISHEARD and not n.what.weak and not n.what.equipment]
        for e, modifier, phrase in sorted(options, key=lambda o: -o[0]):
            if not phrase and not self._closes(speech, e, end):
                continue
            if any(self._begins_beyond(speech, k, e) for k in range(end, e)):
                continue
            return e, modifier
        return None

    def _closes(self, speech: Speech, e: int, start: int) -> bool:
        """Whether the thought may end at ``e``: a bare word after a movement belongs to it only then."""
        if e >= len(speech) or e in speech.breaks:
            return True
        if speech.words[start] in ("1", "2", "both"):  # "reverse lunges, one leg, then the other"
            return False
        return speech.words[e] in self.context.around.closers or speech.words[e].isdigit()

    def _begins_beyond(self, speech: Speech, k: int, e: int) -> bool:
        if k not in speech.names:
            return False
        other = best(speech, k)
        return other is not None and other.end > e

    # ---------------------------------------------------------------- chains

    def _chain_at(self, speech: Speech, i: int, barred: Barred) -> Said | None:
        first = self.item_at(speech, i)
        if first is None:
            return None
        verdict = self.context.judge(speech, first, barred)
        if verdict is None:
            return None
        items, links = [first], []
        while True:
            step = self._linked(speech, items[-1], barred)
            if step is None:
                break
            links.append(step[0])
            items.append(step[1])
        if len(items) > 1:
            verdict = Verdict(False, False)
        return Said(tuple(items), tuple(links), verdict)

    def _linked(self, speech: Speech, item: Item, barred: Barred) -> tuple[str, Item] | None:
        """``(link, next item)`` when the words after ``item`` chain another movement to it."""
        end, words = item.end, speech.words
        if end >= len(words) or end in speech.breaks:
            return None
        if words[end] == "and":
            return self._anded(speech, item, barred)
        for phrase, link in self.links.get(words[end], ()):
            at = end + len(phrase)
            if tuple(words[end:at]) != phrase or at >= len(words) or any(k in speech.breaks for k in range(end, at + 1)):
                continue
            counted = words[at] in ("a", "an") or words[at].isdigit() and int(words[at]) <= 4
            at += counted
            other = self.item_at(speech, at) if at < len(words) and at not in speech.breaks and at in speech.names else None
            if other is None or other.unsure and len(other.name_words) < 2 and not other.strong:
                continue
            if self._chained(speech, item, other, link, bool(counted), barred):
                return link, other
        return None

    def _chained(self, speech: Speech, item: Item, other: Item, link: str, counted: bool, barred: Barred) -> bool:
        if other.everyday and not other.strong and over(other, barred):
            return False
        if self._left_behind(speech, item.start) or "it" in item.name_words:  # "walk it out to a plank"
            return False
        one, two = self._plural(speech, item), self._plural(speech, other)
        if link == "with":
            loose_verb = other.everyday and not counted and not other.strong and len(other.name_words) == 1
            return not loose_verb and (counted or not two or not one)
        if speech.words[item.end] != "into" and any(self._thing(x) for x in (item, other)):
            return False
        if item.start == 0 and other.end == len(speech.words) and one != two:
            return True  # nothing else is said: it is a name, not a list
        return (not one or two) and not (link == "then" and speech.words[item.end] == "plus" and one)

    def _anded(self, speech: Speech, item: Item, barred: Barred) -> tuple[str, Item] | None:
        at = item.end + 1
        if at >= len(speech) or at in speech.breaks or at not in speech.names:
            return None
        other = self.item_at(speech, at)
        if other is None or item.own is not None or other.own is not None or other.rung in ("misheard", "fuzzy"):
            return None
        if self._plural(speech, item) or self._plural(speech, other) or over(other, barred):
            return None
        if self.context.judge(speech, other, barred) is None or speech.words[other.end : other.end + 1] in (["it"], ["them"], ["the"]):
            return None
        firsts, seconds = item.base.patterns[:1], other.base.patterns
        matches = any(a in self.pairs.first and b in self.pairs.second and (a, b) not in self.pairs.apart for a in firsts for b in seconds)
        return ("then", other) if matches and other.base.id != item.base.id else None

    def _left_behind(self, speech: Speech, start: int) -> bool:
        """``from squats into lunges`` goes from one to another."""
        before = speech.words[max(0, start - 2) : start]
        return "from" in before or "alternate" in before or "switch" in before

    def _plural(self, speech: Speech, item: Item) -> bool:
        last = speech.words[item.end - 1]
        return last.endswith("s") and last != item.name_words[-1]

    def _thing(self, item: Item) -> bool:
        return item.everyday and not item.strong and " ".join(item.name_words) in self.context.things

    # ---------------------------------------------------------------- lists

    def _lists(self, speech: Speech, found: list[Said]) -> list[Said]:
        """An everyday word in a list of movements is one of them: ``squat row press``."""
        out = list(found)
        for places in (range(len(out)), reversed(range(len(out)))):  # from either side: one sure name draws in a run of them
            for n in places:
                if out[n].verdict.everyday and not out[n].verdict.verbal and len(out[n].items[0].name_words) == 1 \
                        and any(self._lists_with(speech, out[n], other) for other in out[max(0, n - 1) : n] + out[n + 1 : n + 2]):
                    out[n] = replace(out[n], verdict=Verdict(False, False))
        return out

    def _lists_with(self, speech: Speech, said: Said, other: Said) -> bool:
        if other.verdict.everyday or other.verdict.verbal:
            return False
        a, b = sorted((said, other), key=lambda s: s.start)
        between = speech.words[a.end : b.start]
        near = 0 if self._thing(said.items[0]) else 3
        return len(between) <= near and all(w in self.context.around.list_links for w in between)


def whole_item(reader: Reader, speech: Speech, start: int, end: int) -> Item | None:
    """The words from ``start`` to ``end`` as one item with nothing left over; modifiers may stand in any order."""
    top = best(speech, start, exactly=end)
    if top is not None:
        return reader._settled(top)
    for stop in range(end - 1, start, -1):
        item = best(speech, start, exactly=stop)
        if item is None:
            continue
        tail = _loose_tail(speech, stop, end)
        if tail is not None:
            return reader._settled(replace(item, end=end, modifiers=tuple(dict.fromkeys((*item.modifiers, *tail)))))
    return None


def _loose_tail(speech: Speech, at: int, end: int) -> tuple[Modifier, ...] | None:
    """The modifiers that fill ``at`` to ``end`` exactly, or None."""
    if at == end:
        return ()
    for e, name, _ in sorted([*speech.after_at(at), *speech.modifiers_at(at), *speech.titled_at(at)], key=lambda o: -o[0]):
        if e <= end:
            rest = _loose_tail(speech, e, end)
            if rest is not None:
                return (name.what, *rest)
    return None
