"""Makes the lexicon out of the data files: the tries, and what a base with some of its modifiers amounts to."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from functools import lru_cache

from . import index as tries
from . import kit
from .context import Context
from .entry import MovementEntry
from .files import Data, equipment_names, read_data
from .grammar import Shorter, candidates, modifier_for, modifier_of
from .index import MISHEARD, Index, Name, Speech
from .match import Lexicon, Trade
from .normal import split
from .phrase import Reader

_WITH = ("with", "using", "holding")
_PLACED = ("on", "from", "off", "against", "onto", "over", "under", "to")
_DETERMINERS = ("a", "the", "your", "an")


@lru_cache(maxsize=1)
def shipped() -> Lexicon:
    """The lexicon of the data files that come with the package. Raises ValueError if they do not hold."""
    data, problems = read_data()
    if problems:
        raise ValueError(problems[0])
    return Lexicon(trade_of(data))


def trade_of(data: Data) -> Trade:
    known = equipment_names(data)
    entries = {e.id: e.model_copy(update={"equipment": tuple(known[name] for name in e.equipment)}) for e in data.movements}
    names = _names(entries.values())
    modifiers, after = list(_modifiers(data)), list(_after(data))
    index = tries.build(names, modifiers, after, ())
    shorter, needless = _shorter(index, names)
    kept = [name for name in names if name.words not in needless]
    index = tries.build(kept, modifiers, after, data.confusions)
    parts = {w: part for part in data.parts for w in (part.name, *part.words)}
    body = frozenset(w for name in parts for w in name.split()) | frozenset(f"{name}s" for name in parts)
    for part in data.parts:
        parts.setdefault(f"{part.name}s", part)
    reader = Reader(Context(data.everyday, body), shorter, data.chains)
    by_name = {split(name): e.id for e in reversed(data.movements) for name in (*e.misheard, *e.aliases, e.name)}
    told = {name.what.name: name.what for name in (*modifiers, *after)}
    loads = frozenset(e.name for e in data.equipment if e.load)
    return Trade(index, reader, entries, by_name, parts, kit.build(data.equipment, data.shared, data.everyday.around),
                 known, told, loads, shorter)


def _names(entries: Iterable[MovementEntry]) -> list[Name]:
    out = []
    for field, rung in (("name", "exact"), ("aliases", "alias"), ("misheard", "misheard")):
        for entry in entries:
            everyday = {split(name) for name in entry.everyday}
            for name in (entry.name,) if field == "name" else getattr(entry, field):
                words = split(name)
                out.append(Name(entry, rung, words, words in everyday))
    return out


def _modifiers(data: Data) -> Iterable[Name]:
    for entry in data.modifiers:
        for name in (entry.name, *entry.aliases):
            yield Name(modifier_of(entry), "exact", split(name))
    for entry in data.equipment:
        for said in entry.before if entry.before is not None else (entry.name, *entry.synonyms):
            yield Name(modifier_for(entry, said), "exact", split(said))


def _after(data: Data) -> Iterable[Name]:
    for entry in data.modifiers:
        for phrase in entry.after:
            yield Name(modifier_of(entry), "exact", split(phrase))
    for entry in data.equipment:
        for said in (entry.name, *entry.synonyms):
            modifier, words = modifier_for(entry, entry.name), split(said)
            for lead in _WITH:
                yield Name(modifier, "exact", (lead, *words))
            for lead in (*_WITH, *_PLACED):
                for determiner in _DETERMINERS:
                    yield Name(modifier, "exact", (lead, determiner, *words))
            for number in ("1", "2", "both"):
                for lead in _WITH:
                    yield Name(modifier, "exact", (lead, number, *words))


def _shorter(index: Index, names: Iterable[Name]) -> tuple[Shorter, set[tuple[str, ...]]]:
    """Every name read as modifiers and another name. Of the same entry, the longer name says nothing new and is left out of the
    trie; of another entry, base and modifiers together mean the longer name's entry."""
    special: dict[str, dict[frozenset[str], MovementEntry]] = defaultdict(dict)
    implied: dict[str, set[str]] = defaultdict(set)
    needless: set[tuple[str, ...]] = set()
    for name in names:
        if name.rung == "misheard" or len(name.words) < 2:
            continue
        speech = Speech(name.words, (), (index,))
        for end, cost, modifiers, base, _ in candidates(speech, 0):
            if end != len(name.words) or cost >= MISHEARD or not modifiers or base.rung == "misheard":
                continue
            told = frozenset(m.name for m in modifiers)
            if base.what is name.what:
                implied[base.what.id] |= told
                if name.rung == "alias":
                    needless.add(name.words)
            elif cost == 0.0:
                special[base.what.id].setdefault(told, name.what)
    ordered = {b: tuple(sorted(rows.items(), key=lambda r: (-len(r[0]), sorted(r[0])))) for b, rows in special.items()}
    return Shorter(ordered, {b: frozenset(found) for b, found in implied.items()}), needless
