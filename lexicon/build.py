"""Makes the lexicon out of the data files: the tries, and what a base with some of its modifiers amounts to."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from functools import lru_cache

from . import index as tries
from . import kit
from .cache import cached
from .context import Context
from .entry import MovementEntry
from .files import Data, equipment_names, read_data
from .grammar import Shorter, best, candidates, modifier_for, modifier_of
from .index import Index, Name
from .kept import nothing_thrown_away
from .match import Lexicon, Trade
from .normal import split
from .phrase import Reader
from .speech import Speech

_TELLING = frozenset({"load", "side", "grip", "tempo"})  # kinds of modifier that are kept though a name of the entry holds them


@lru_cache(maxsize=1)
def shipped() -> Lexicon:
    """The lexicon of the data files that come with the package. Raises ValueError if they do not hold."""
    with nothing_thrown_away():
        return Lexicon(cached(_made))


def _made() -> Trade:
    data, problems = read_data()
    if problems:
        raise ValueError(problems[0])
    return trade_of(data)


def trade_of(data: Data) -> Trade:
    known = equipment_names(data)
    needs = {e.name: e.needs for e in data.equipment}
    entries = {e.id: _equipped(e, known, needs) for e in data.movements}
    names = [*_names(entries.values(), frozenset(split(thing) for thing in data.everyday.things)), *_turned(entries.values(), data)]
    modifiers, after, equipment = list(_modifiers(data)), list(_after(data)), list(_equipment(data))
    index = tries.build(names, modifiers, (), (), (), data.everyday.around, spoken=False)
    shorter, needless = _shorter(index, names)
    kept = [name for name in names if name.words not in needless]
    index = tries.build(kept, modifiers, after, equipment, data.confusions, data.everyday.around, stretched=_stretched(entries.values()))
    _restore(index, shorter, (name for name in names if name.words in needless))
    parts = {w: part for part in data.parts for w in (part.name, *part.words)}
    body = frozenset(w for name in parts for w in name.split()) | frozenset(f"{name}s" for name in parts)
    muscles = frozenset(split(part)[-1] for entry in data.movements for part in entry.stretched)
    for part in data.parts:
        parts.setdefault(f"{part.name}s", part)
    reader = Reader(Context(data.everyday, body, muscles, frozenset(w for name in known for w in split(name))), shorter, data.chains)
    by_name = {split(name): e.id for e in reversed(data.movements) for name in (*e.misheard, *e.aliases, e.name)}
    told = {name.what.name: name.what for name in (*modifiers, *after, *equipment)}
    loads = frozenset(e.name for e in data.equipment if e.load)
    return Trade(index, reader, entries, by_name, parts, kit.build(data.equipment, data.shared, data.everyday.around),
                 known, told, loads, shorter)


def _equipped(entry: MovementEntry, known: Mapping[str, str], needs: Mapping[str, tuple[str, ...]]) -> MovementEntry:
    """The entry with the plan's names of its equipment, and what comes with each."""
    names = [known[name] for name in entry.equipment]
    return entry.model_copy(update={"equipment": tuple(dict.fromkeys(n for name in names for n in (name, *needs[name])))})


def _names(entries: Iterable[MovementEntry], things: frozenset[tuple[str, ...]]) -> list[Name]:
    out = []
    for field, rung in (("name", "exact"), ("aliases", "alias"), ("misheard", "misheard")):
        for entry in entries:
            everyday = {split(name) for name in entry.everyday} | things
            for name in (entry.name,) if field == "name" else getattr(entry, field):
                words = split(name)
                out.append(Name(entry, rung, words, words in everyday))
    return out


def _stretched(entries: Iterable[MovementEntry]) -> Iterable[Name]:
    for entry in entries:
        for part in entry.stretched:
            yield Name(entry, "alias", split(part), everyday=True)


def _turned(entries: Iterable[MovementEntry], data: Data) -> Iterable[Name]:
    """``shoulder roll`` said as a verb: ``roll your shoulders``."""
    body = {w for part in data.parts for w in (part.name, *part.words)}
    for entry in entries:
        for name in (entry.name, *entry.aliases):
            words = split(name)
            if len(words) == 2 and words[1] in data.everyday.turned and words[0] in body:
                for between in ("your", "the", "both", "my"):
                    yield Name(entry, "alias", (words[1], between, words[0]), everyday=True)


def _modifiers(data: Data) -> Iterable[Name]:
    for entry in data.modifiers:
        for name in (entry.name, *entry.aliases):
            yield Name(modifier_of(entry), "exact", split(name))
    for piece in data.equipment:
        for said in piece.before if piece.before is not None else (piece.name, *piece.synonyms):
            yield Name(modifier_for(piece, said), "exact", split(said))


def _after(data: Data) -> Iterable[Name]:
    for entry in data.modifiers:
        for phrase in entry.after:
            yield Name(modifier_of(entry), "exact", split(phrase))


def _equipment(data: Data) -> Iterable[Name]:
    for modifier in data.modifiers:
        for phrase in modifier.title:
            yield Name(modifier_of(modifier), "exact", split(phrase))
    for entry in data.equipment:
        for said in (entry.name, *entry.synonyms):
            yield Name(modifier_for(entry, entry.name), "exact", split(said))


def _restore(index: Index, shorter: Shorter, left_out: Iterable[Name]) -> None:
    """Puts back the names whose words, taken apart, lead to another entry after all."""
    for name in left_out:
        found = best(Speech(name.words, (), (index,)), 0, exactly=len(name.words))
        if found is None or shorter.settle(found.base, found.modifiers)[0] is not name.what:
            tries.add(index.names, name)


def _shorter(index: Index, names: Iterable[Name]) -> tuple[Shorter, set[tuple[str, ...]]]:
    """Every name read as modifiers and another name. Of the same entry, the longer name says nothing new and is left out of the
    trie; of another entry, base and modifiers together mean the longer name's entry."""
    special: dict[str, dict[frozenset[str], MovementEntry]] = defaultdict(dict)
    implied: dict[str, set[str]] = defaultdict(set)
    own: dict[str, set[frozenset[str]]] = defaultdict(set)
    needless: set[tuple[str, ...]] = set()
    for name in names:
        if name.rung == "misheard" or len(name.words) < 2:
            continue
        speech = Speech(name.words, (), (index,))
        for end, _, modifiers, base, _ in candidates(speech, 0):
            if end != len(name.words) or not modifiers or base.rung == "misheard":
                continue
            told = frozenset(m.name for m in modifiers)
            if base.what is name.what:
                implied[base.what.id] |= told
                own[base.what.id].add(told)
                if name.rung == "alias" and any(m.kind in _TELLING for m in modifiers):
                    needless.add(name.words)
            elif (base.rung == "exact" or len(base.words) == 1) and not any(m.weak for m in modifiers):
                # by a base's longer other names this would go too far: a plank twist is a plank hip dip, a side plank twist none
                special[base.what.id].setdefault(told, name.what)
    ordered = {}
    for base_id, rows in special.items():
        kept = [(told, entry) for told, entry in rows.items() if told not in own[base_id]]
        ordered[base_id] = tuple(sorted(kept, key=lambda row: (-len(row[0]), sorted(row[0]))))
    return Shorter(ordered, {b: frozenset(found) for b, found in implied.items()}), needless
