"""The lexicon: finds movements and equipment in a row of words, and says what it knows of a movement."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from . import kit
from .context import Verdict
from .entry import BodyPart, MovementEntry
from .grammar import Modifier, Shorter, bare_name, equipment_of, position_of, sides_of
from .index import Index
from .normal import split, word
from .phrase import Reader, Said, whole_item
from .same import Kin, Same, compare
from .speech import Speech
from .stretched import named_part

_ORDER = ("tempo", "stance", "side", "range", "grip", "load", "direction")
_BRACKETS = re.compile(r"\([^)]*\)")
_DASH = re.compile(r"\s[-–—]\s")


@dataclass(frozen=True, slots=True)
class Part:
    """One movement of a match. ``name`` is its modifiers and the name of its base; ``link`` ties it to the part before it."""

    name: str
    base: str | None
    base_id: str
    family: str | None
    link: str | None
    modifiers: tuple[str, ...]
    equipment: tuple[str, ...]
    patterns: tuple[str, ...]
    muscles: tuple[str, ...]
    sides: str
    position: str
    impact: str
    easier: tuple[str, ...]
    harder: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Match:
    """A movement found at words ``start`` to ``end`` (exclusive). ``rung``: exact, alias, misheard, fuzzy or taught; ``score`` 0
    to 100. ``everyday``: only everyday words, and nothing next to them decides. ``verbal``: used as a verb, or in passing."""

    start: int
    end: int
    words: tuple[str, ...]
    name: str
    parts: tuple[Part, ...]
    sides: str
    equipment: tuple[str, ...]
    rung: str
    score: float
    everyday: bool
    verbal: bool


@dataclass(frozen=True, slots=True)
class EquipmentMatch:
    """Equipment at words ``start`` to ``end`` (exclusive). ``quantity`` None: no number said."""

    start: int
    end: int
    name: str
    quantity: int | None
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Meaning:
    """A movement taken apart: what a taught name stands for, and what two phrases are compared by."""

    link: str | None
    base: MovementEntry
    modifiers: tuple[Modifier, ...]


@dataclass(frozen=True, slots=True)
class Trade:
    """What the shipped data amounts to, built once."""

    index: Index
    reader: Reader
    entries: Mapping[str, MovementEntry]
    by_name: Mapping[tuple[str, ...], str]
    parts: Mapping[str, BodyPart]
    kit: kit.Kit
    kit_names: Mapping[str, str]
    modifiers: Mapping[str, Modifier]
    loads: frozenset[str]
    shorter: Shorter


class Lexicon:
    """The trade's vocabulary with a coach's own names over it. Never changed once made."""

    def __init__(self, trade: Trade, own: Mapping[str, tuple[Meaning, ...]] | None = None, own_index: Index | None = None) -> None:
        self.trade = trade
        self.own = dict(own or {})
        self.kin: dict[tuple[str, str], Kin] = {}
        """What two bases have to do with each other, of those that were asked about."""
        self._indexes = (trade.index,) if own_index is None else (trade.index, own_index)

    def scan(self, words: Sequence[str] | Speech, breaks: Collection[int] = ()) -> list[Match]:
        """Every movement phrase in ``words``, longest first, left to right, never overlapping.

        Words are in lower case with hyphens split and no punctuation. ``breaks``: places where a sentence starts; no phrase runs
        over one. Words that are scanned more than once, with other breaks, are given as ``speech`` has them.
        """
        speech = words if isinstance(words, Speech) else self.speech(words)
        speech.break_at(breaks)
        out = []
        for said in self.trade.reader.scan(speech):
            known = speech.matched.get(said.start)
            if known is None or known[0] is not said:
                known = speech.matched[said.start] = said, self._match(speech.said, said)
            out.append(known[1])
        return out

    def speech(self, words: Sequence[str]) -> Speech:
        """``words`` made ready for ``scan``."""
        return Speech(words, (), self._indexes)

    def find(self, phrase: str, *, named: bool = False) -> Match | None:
        """The whole phrase as one movement, or None. In a written title, what stands in brackets or after a dash may be left out.
        ``named``: it stands where nothing but a name can, so that a single word may be a mis-hearing of one."""
        for written in _readings(phrase):
            words = split(written)
            said = self._whole(words, named=named)
            if said is not None:
                return self._match(words, said)
        return None

    def find_in(self, speech: Speech, first: int, end: int, *, named: bool = False) -> Match | None:
        """The words ``first`` to ``end`` of ``speech`` as ``find`` finds them, looked for once."""
        if (first, end, named) not in speech.whole:
            speech.whole[first, end, named] = self.find(" ".join(speech.said[first:end]), named=named)
        found: Match | None = speech.whole[first, end, named]
        return found

    def taken_apart(self, phrase: str) -> tuple[Meaning, ...]:
        """The movements of a phrase that ``find`` finds; empty if it finds none."""
        for written in _readings(phrase):
            said = self._whole(split(written))
            if said is not None:
                return self.meanings(said)
        return ()

    def _whole(self, words: tuple[str, ...], *, named: bool = False) -> Said | None:
        around = self.trade.reader.context.around
        led = len(words) > 1 and (words[0] in around.determiners or words[0] in around.possessives)
        lead = 1 if led and not self._is_own(words) else 0
        if len(words) == lead:
            return None
        speech = Speech(words, (), self._indexes)
        for said in self.trade.reader.scan(speech):
            if said.start <= lead and said.end == len(words):
                return said
        item = whole_item(self.trade.reader, speech, lead, len(words))
        if item is None:
            part = named_part(speech, lead, end=len(words))
            return None if part is None else Said((part,), (), Verdict(True, False))
        verdict = self.trade.reader.context.judge(speech, item, self.trade.reader.context.barred(speech), named=named)
        return None if verdict is None else Said((item,), (), verdict)

    def _is_own(self, words: Sequence[str]) -> bool:
        return any(split(name) == tuple(words) for name in self.own)

    def scan_equipment(self, words: Sequence[str], breaks: Collection[int] = ()) -> list[EquipmentMatch]:
        """Every piece of equipment in ``words``, with how many where a number is said."""
        found = kit.scan(self.trade.kit, [word(w) for w in words], set(breaks))
        return [EquipmentMatch(s, e, name, quantity, tuple(words[s:e])) for s, e, name, quantity in found]

    def equipment(self, phrase: str) -> str | None:
        """The piece of equipment that a phrase names, by whichever of its names; None if it names none."""
        words = split(phrase)
        if (name := " ".join(words)) in self.trade.kit_names.values():
            return name
        found = self.scan_equipment(words)
        return found[-1].name if found and found[-1].end == len(words) else None

    def body(self, word: str) -> BodyPart | None:
        """The part of the body that ``word`` names; None if it names none."""
        return self.trade.parts.get(" ".join(word.lower().split()))

    def movement(self, id_or_name: str) -> MovementEntry | None:
        """The entry with this id, name or other name; None if there is none."""
        if id_or_name in self.trade.entries:
            return self.trade.entries[id_or_name]
        return self.trade.entries.get(self.trade.by_name.get(split(id_or_name), ""))

    def said_equipment(self, match: Match) -> tuple[str, ...]:
        """The equipment that the words of a match name. ``match.equipment`` is that, or else the usual equipment of the movement."""
        return tuple(dict.fromkeys(e for part in match.parts for m in part.modifiers for e in self.trade.modifiers[m].equipment))

    def movements(self) -> tuple[MovementEntry, ...]:
        return tuple(self.trade.entries.values())

    def same(self, a: str | Match, b: str | Match) -> Same:
        """Whether two phrases or matches name one movement, why, and how sure that is (0 to 100)."""
        return compare(self, a, b)

    def with_taught(self, name: str, means: str) -> Lexicon:
        """This lexicon with one more name, for a name explained inside one talk-through. Raises ValueError."""
        from .taught import layer  # taught names are built with the lexicon

        return layer(self, {name: means})

    # ---------------------------------------------------------------- from items to a match

    def meanings(self, said: Said) -> tuple[Meaning, ...]:
        """The movements said, a taught name replaced by what it stands for."""
        out: list[Meaning] = []
        for item, link in zip(said.items, (None, *said.links)):
            if item.own is None:
                out.append(Meaning(link, item.base, item.modifiers))
                continue
            for n, meaning in enumerate(item.own):
                added = item.modifiers if len(item.own) == 1 else ()
                base, modifiers = self.trade.shorter.settle(meaning.base, tuple(dict.fromkeys((*added, *meaning.modifiers))))
                out.append(Meaning(link if n == 0 else meaning.link, base, modifiers))
        return tuple(out)

    def _match(self, words: Sequence[str], said: Said) -> Match:
        parts = tuple(self.part(m) for m in self.meanings(said))
        worst = min(said.items, key=lambda i: (i.score, i.rung != "exact"))
        kit_said = tuple(dict.fromkeys(name for part in parts for name in part.equipment))
        return Match(said.start, said.end, tuple(words[said.start : said.end]), " + ".join(p.name for p in parts), parts, _sides(parts),
                     kit_said, worst.rung, worst.score, said.verdict.everyday, said.verdict.verbal)

    def part(self, meaning: Meaning) -> Part:
        """A meaning as a part of a match."""
        base, modifiers = meaning.base, sorted(meaning.modifiers, key=lambda m: _ORDER.index(m.kind))
        implied = self.trade.shorter.implied.get(base.id, frozenset())
        told = (m.name for m in modifiers if not m.understood and (m.kind == "load" or m.name not in implied))
        equipment, position = equipment_of(base, meaning.modifiers, self.trade.loads), position_of(base, meaning.modifiers)
        return Part(
            name=" ".join((*told, bare_name(base, equipment, position))), base=base.name, base_id=base.id, family=base.family,
            link=meaning.link, modifiers=tuple(m.name for m in modifiers), equipment=equipment,
            patterns=base.patterns, muscles=(*base.primary, *base.secondary), sides=sides_of(base, meaning.modifiers),
            position=position, impact=base.impact, easier=base.easier, harder=base.harder, cautions=base.cautions,
        )


def _readings(phrase: str) -> tuple[str, ...]:
    """The phrase, then without its brackets, then without what follows a dash between blanks."""
    bare = _BRACKETS.sub(" ", phrase)
    return tuple(dict.fromkeys((phrase, bare, _DASH.split(bare)[0])))


def _sides(parts: Sequence[Part]) -> str:
    """Of a chain: one-sided if any part is, else alternating if any part is."""
    told = {p.sides for p in parts}
    return next(s for s in ("each", "alternating", "both") if s in told)
