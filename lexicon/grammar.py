"""How a movement phrase is built: modifiers, a base, modifiers after it. Chains of such phrases are in ``chain.py``."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from .entry import EquipmentEntry, ModifierEntry, MovementEntry
from .index import FUZZY, MISHEARD, SURE, Name
from .normal import split
from .speech import Speech

if TYPE_CHECKING:
    from .match import Meaning

_MOST_MODIFIERS = 5


@dataclass(frozen=True, slots=True)
class Modifier:
    """A modifier as the grammar uses it: from ``modifiers.toml``, or a piece of equipment said as one (``kettlebell``)."""

    name: str
    kind: str
    axis: str | None = None
    sides: str | None = None
    position: str | None = None
    equipment: tuple[str, ...] = ()
    weak: bool = False
    understood: bool = False


@dataclass(frozen=True, slots=True)
class Item:
    """One movement as said: words ``start`` to ``end``, its base, its modifiers in the order said.

    ``strong``: a modifier or a longer name makes it a movement whatever stands around it.
    """

    start: int
    end: int
    base: MovementEntry
    modifiers: tuple[Modifier, ...]
    rung: str
    score: float
    everyday: bool
    name_words: tuple[str, ...]   # of the name that matched
    base_at: int                  # where the base itself begins
    unsure: bool = False          # mis-heard or near in spelling, and an ordinary word may be meant
    own: tuple[Meaning, ...] | None = None            # what a taught name stands for, instead of a base

    @property
    def strong(self) -> bool:
        return any(not m.weak and m.kind != "tempo" for m in self.modifiers)


def modifier_of(entry: ModifierEntry) -> Modifier:
    return Modifier(entry.name, entry.kind, entry.axis, entry.sides, entry.position, entry.equipment, entry.weak, entry.understood)


def modifier_for(entry: EquipmentEntry, said: str) -> Modifier:
    usual = entry.before[0] if entry.before else entry.name
    return Modifier(usual, "load", None, None, None, (entry.name, *entry.needs), weak=said in entry.everyday)


@dataclass(frozen=True)
class Shorter:
    """What a base and some of its modifiers amount to: ``row`` with ``bent-over`` is the entry ``bent-over row``.

    ``special``: base id -> [(modifier names, entry)], most modifiers first. ``implied``: base id -> modifier names that say
    nothing new about it.
    """

    special: Mapping[str, Sequence[tuple[frozenset[str], MovementEntry]]]
    implied: Mapping[str, frozenset[str]]

    def settle(self, base: MovementEntry, modifiers: tuple[Modifier, ...]) -> tuple[MovementEntry, tuple[Modifier, ...]]:
        """The most special entry that base and modifiers name, and the modifiers that are left."""
        while True:
            names = {m.name for m in modifiers}
            for needed, entry in self.special.get(base.id, ()):
                if needed <= names and entry is not base and self._fits(needed, modifiers):
                    base, modifiers = entry, tuple(m for m in modifiers if m.name not in needed)
                    break
            else:
                told = split(base.name)
                return base, tuple(m for m in modifiers if not set(split(m.name)) <= set(told))

    def _fits(self, needed: frozenset[str], modifiers: tuple[Modifier, ...]) -> bool:
        """By its equipment alone a base becomes another entry only when nothing tells of another position: a cable triceps
        extension is a pushdown, lying down it is not."""
        by_kit = all(m.equipment for m in modifiers if m.name in needed)
        return not by_kit or not any(m.name not in needed and m.kind in ("stance", "direction", "range") for m in modifiers)


Candidate = tuple[int, float, tuple[Modifier, ...], Name, int]


def candidates(speech: Speech, start: int) -> Sequence[Candidate]:
    """Everything that modifiers and a base from ``start`` on may be: ``(end, cost, modifiers, base name, where the base begins)``."""
    known = speech.candidates.get(start)
    if known is None:
        known = speech.candidates[start] = _candidates(speech, start)
    return known


def _candidates(speech: Speech, start: int) -> list[Candidate]:
    found = []
    states: list[tuple[int, tuple[Name, ...], float]] = [(start, (), 0.0)]
    seen = set()
    for at, mods, cost in states:
        for which, index in enumerate(speech.indexes):
            if which and at not in speech.own[which - 1]:
                continue
            for end, name, c, between in speech.walk(index.names, at, which, between=which == 0):
                modifiers = _unique(n.what for n in (*mods, *between))
                if not _grips_a_fist(name, modifiers):
                    found.append((end, cost + c, modifiers, name, at))
        if len(mods) < _MOST_MODIFIERS and at < len(speech):
            for end, name, c in speech.modifiers_at(at):
                if end < len(speech) and end not in speech.breaks and (end, mods, name.what) not in seen:
                    seen.add((end, mods, name.what))
                    states.append((end, (*mods, name), cost + c))
    return found


def _grips_a_fist(name: Name, modifiers: Sequence[Modifier]) -> bool:
    """``Close, hook``: a punch holds nothing."""
    return name.rung != "taught" and "punch" in name.what.patterns and any(m.kind == "grip" for m in modifiers)


def _unique(modifiers: Iterable[Modifier]) -> tuple[Modifier, ...]:
    return tuple(dict.fromkeys(modifiers))


def best(speech: Speech, start: int, *, before: int | None = None, exactly: int | None = None) -> Item | None:
    """The longest item that begins at ``start``; among equals the surest, then the one with the longest name.

    ``before``: it must end there or earlier. ``exactly``: it must end just there.
    """
    top: Candidate | None = None
    top_rank: tuple[float, ...] | None = None
    for candidate in candidates(speech, start):
        end, cost, modifiers, name, _at = candidate
        if before is not None and end > before or exactly is not None and end != exactly:
            continue
        rank = (end, -_doubt(cost, name), -sum(m.weak for m in modifiers), -len(modifiers), len(name.words), -cost)
        if top_rank is None or rank > top_rank:
            top, top_rank = candidate, rank
    return None if top is None else _item(start, *top)


def _doubt(cost: float, name: Name) -> float:
    """0 for words as said, then: surely mis-heard, perhaps mis-heard, near in spelling."""
    if cost >= FUZZY:
        return 2.0
    if cost >= MISHEARD or name.rung == "misheard" and cost < SURE:
        return 1.0
    return 0.5 if cost >= SURE else 0.0


def _item(start: int, end: int, cost: float, modifiers: tuple[Modifier, ...], name: Name, at: int) -> Item:
    if cost >= FUZZY:
        rung, score = "fuzzy", round(100 * max(0.5, 1 - (cost - FUZZY)), 1)
    elif cost >= SURE:
        rung, score = "misheard", 85.0 if cost >= MISHEARD else 92.0
    else:
        rung, score = name.rung, {"exact": 100.0, "alias": 98.0, "misheard": 88.0, "taught": 100.0}[name.rung]
    taught = name.rung == "taught"
    unsure = _doubt(cost, name) >= 1.0
    base: Any = None if taught else name.what  # what a taught name stands for is looked up, before anything asks for its base
    return Item(start, end, base, modifiers, "taught" if taught else rung, score, name.everyday, name.words, at,
                unsure, name.what if taught else None)


def sides_of(base: MovementEntry, modifiers: Iterable[Modifier]) -> str:
    """``both``, ``alternating`` or ``each``: the base's own, unless a modifier says otherwise. Alternating wins over one-sided."""
    told = {m.sides for m in modifiers if m.sides}
    return next((s for s in ("alternating", "each", "both") if s in told), base.sides)


def position_of(base: MovementEntry, modifiers: Iterable[Modifier]) -> str:
    told = [m.position for m in modifiers if m.position]
    return told[-1] if told else base.position


def bare_name(base: MovementEntry, kit: tuple[str, ...], position: str) -> str:
    """The name of the base as it is said with other equipment or in another position than its own: the swing of a dumbbell is no
    kettlebell swing, and a kneeling side leg raise none for standing."""
    words = base.name.split()
    left = {word for name in base.equipment if name not in kit for word in name.split()}
    if position != base.position:
        left.add(base.position)
    return " ".join(words[1:]) if len(words) > 1 and words[0] in left else base.name


def equipment_of(base: MovementEntry, modifiers: Iterable[Modifier], loads: frozenset[str]) -> tuple[str, ...]:
    """The equipment said, and of the usual equipment what it does not replace (``dumbbell bench press`` keeps the bench)."""
    modifiers = tuple(modifiers)
    said = tuple(dict.fromkeys(name for m in modifiers for name in m.equipment))
    replaced = any(name in loads for name in said) or any(m.name == "bodyweight" for m in modifiers)
    kept = tuple(name for name in base.equipment if not (replaced and name in loads))
    return tuple(dict.fromkeys((*said, *kept)))
