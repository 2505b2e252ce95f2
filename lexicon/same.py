"""Whether two phrases name one movement, and why; and which movements are what is asked for, or a kind of it."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeVar

from .normal import split

if TYPE_CHECKING:
    from .match import Lexicon, Match, Part

KIN = 60.0            # one is a more general movement than the other: never the same, but what "squats" may mean later
_DROPPED = 90.0       # one of them leaves modifiers out; less for every one
_EACH_DROPPED = 5.0
_SIDES = {"each": "one side at a time", "alternating": "on alternate sides"}
_OPENABLE = frozenset({"side", "load", "tempo"})

Key = TypeVar("Key", bound=Hashable)


@dataclass(frozen=True, slots=True)
class Same:
    """``score`` 0 to 100; with ``same`` False it says how near they are: ``KIN`` (60) when one is a kind of the other."""

    same: bool
    why: str
    score: float


def compare(lexicon: Lexicon, a: str | Match, b: str | Match) -> Same:
    one = lexicon.find(a) if isinstance(a, str) else a
    two = lexicon.find(b) if isinstance(b, str) else b
    if one is None or two is None:
        return Same(False, f"“{a if one is None else b}” is no movement that the lexicon knows.", 0.0)
    if len(one.parts) != len(two.parts):
        return _chains_differ(one, two)
    verdicts = [_parts(lexicon, x, y) for x, y in zip(one.parts, two.parts)]
    worst = verdicts[0] if len(verdicts) == 1 else min(verdicts, key=lambda v: (v.same, v.score))
    if not worst.same:
        return worst
    if one.name == two.name and [w.lower() for w in one.words] != [w.lower() for w in two.words] and worst.score == 100.0:
        return Same(True, f"Both are the {one.name}.", 100.0)
    return worst


def _chains_differ(one: Match, two: Match) -> Same:
    longer, shorter = (one, two) if len(one.parts) > len(two.parts) else (two, one)
    shared = {p.base_id for p in shorter.parts} <= {p.base_id for p in longer.parts}
    return Same(False, f"The {longer.name} is a chain of {len(longer.parts)} movements, {shorter.name} of {len(shorter.parts)}.",
                50.0 if shared else 0.0)


def _parts(lexicon: Lexicon, a: Part, b: Part) -> Same:
    if not (a.base_id and b.base_id):
        # a name that the lexicon does not have is the same as itself only
        same = a.name == b.name
        return Same(same, f"The {a.name} is not in the lexicon." if same else f"The {a.name} and the {b.name} are different names.", 100.0 * same)
    if a.base_id != b.base_id:
        kin = _kin(lexicon, a.base_id, b.base_id)
        if kin.opens:
            a, b = _opened(lexicon, a, b), _opened(lexicon, b, a)
        if a.base_id != b.base_id:
            return _bases_differ(kin, a, b)
    one, two = _telling(lexicon, a), _telling(lexicon, b)
    against = _contradiction(lexicon, a, b)
    if against:
        return Same(False, f"Both are a {a.base}, but {against}.", 40.0)
    dropped = sorted(one ^ two)
    if not dropped:
        return Same(True, f"Both are the {a.base}." if a.name != b.name else f"The same name: {a.name}.", 100.0)
    if not (one <= two or two <= one):
        return Same(False, f"Both are a {a.base}, but one is {_listed(one - two)} and the other {_listed(two - one)}.", 45.0)
    return Same(True, f"Both are a {a.base}; one of them leaves out {_listed(dropped)}.", max(70.0, _DROPPED - _EACH_DROPPED * len(dropped)))


def _opened(lexicon: Lexicon, part: Part, other: Part) -> Part:
    """``part`` as the base of ``other`` with modifiers of side, load or tempo, if it is no more than that: a single-arm row is a
    row with one arm. What another stance or direction makes of a base is a movement of its own."""
    for needed, entry in lexicon.trade.shorter.special.get(other.base_id, ()):
        if entry.id != part.base_id:
            continue
        told = [lexicon.trade.modifiers[n] for n in needed]
        named = set(split(entry.name))
        if all(m.kind in _OPENABLE and set(split(m.name)) <= named for m in told):
            return replace(part, base=other.base, base_id=other.base_id, modifiers=(*sorted(needed), *part.modifiers))
    return part


@dataclass(frozen=True, slots=True)
class Kin:
    """What two bases have to do with each other. ``opens``: one of them may be the other with modifiers. ``under``, ``over``: the first is
    a kind of the second, or the second of the first. ``near``: both are a kind of something."""

    opens: bool
    under: bool
    over: bool
    near: bool


def _kin(lexicon: Lexicon, one: str, other: str) -> Kin:
    known = lexicon.kin.get((one, other))
    if known is None:
        special = lexicon.trade.shorter.special
        opens = any(entry.id == a for a, b in ((one, other), (other, one)) for _, entry in special.get(b, ()))
        above, beside = _ancestors(lexicon, one), _ancestors(lexicon, other)
        known = lexicon.kin[one, other] = Kin(opens, other in above, one in beside, not set(above).isdisjoint(beside))
    return known


def _bases_differ(kin: Kin, a: Part, b: Part) -> Same:
    for is_kind, kind, general in ((kin.under, a, b), (kin.over, b, a)):
        if is_kind and not general.modifiers:
            return Same(False, f"The {kind.base} is a kind of {general.base}, so not every {general.base} is one.", KIN)
    return Same(False, f"The {a.name} and the {b.name} are different movements.", 30.0 if kin.near else 0.0)


def _ancestors(lexicon: Lexicon, base_id: str) -> list[str]:
    out, entry = [], lexicon.movement(base_id)
    while entry is not None and entry.family and entry.family not in out:
        out.append(entry.family)
        entry = lexicon.movement(entry.family)
    return out


def _telling(lexicon: Lexicon, part: Part) -> set[str]:
    """The modifiers of a part that say something its base does not."""
    entry = lexicon.movement(part.base_id)     # none for a name that the lexicon does not have
    implied = lexicon.trade.shorter.implied.get(part.base_id, frozenset())
    out = set()
    for name in part.modifiers:
        modifier = lexicon.trade.modifiers[name]
        usual = entry is not None and modifier.position is not None and modifier.position == entry.position
        usual |= entry is not None and bool(modifier.equipment) and set(modifier.equipment) <= set(entry.equipment)
        if not (usual or modifier.understood or name in implied):
            out.add(name)
    return out


def _contradiction(lexicon: Lexicon, a: Part, b: Part) -> str | None:
    """What is said of one that cannot be so of the other: two different modifiers of one axis, or two different loads."""
    known = lexicon.trade.modifiers
    for axis in sorted({axis for n in (*a.modifiers, *b.modifiers) if (axis := known[n].axis)}):
        x, y = ({n for n in part.modifiers if known[n].axis == axis} for part in (a, b))
        if x and y and not (x <= y or y <= x):
            return f"one is {_listed(x)} and the other {_listed(y)}"
    x, y = (_loads(lexicon, part) for part in (a, b))
    if x and y and not x & y:
        return f"one is with the {_listed(x)} and the other with the {_listed(y)}"
    if {a.sides, b.sides} == {"each", "alternating"} and all(any(known[n].sides for n in part.modifiers) for part in (a, b)):
        one, other = (_SIDES[part.sides] for part in (a, b))
        return f"one is done {one} and the other {other}"
    return None


def _loads(lexicon: Lexicon, part: Part) -> set[str]:
    """The loads that were said, not the usual ones."""
    return {e for n in part.modifiers for e in lexicon.trade.modifiers[n].equipment} & lexicon.trade.loads


def _listed(names: Iterable[str]) -> str:
    return " and ".join(sorted(names))


# ---------------------------------------------------------------- what is asked for


def asked_for(lexicon: Lexicon, phrase: str, known: Mapping[Key, tuple[str, Sequence[str]]]) -> list[frozenset[Key]] | None:
    """For each part of the movement that ``phrase`` names, which of ``known``, a base and its modifiers by name, are that or a kind of
    it: a press is also the half-kneeling one, but not the other way round. ``None`` where no movement is named."""
    match = lexicon.find(phrase)
    if match is None:
        return None
    return [frozenset(key for key, (base, modifiers) in known.items() if _is_asked(lexicon, asked, base, modifiers)) for asked in match.parts]


def _is_asked(lexicon: Lexicon, asked: Part, base: str, modifiers: Sequence[str]) -> bool:
    """Of a part as a plan has it. Another edition of the lexicon may have written what this one does not know: that is not asked for."""
    from .match import Meaning

    entry = lexicon.movement(base)
    if entry is None or not set(modifiers) <= lexicon.trade.modifiers.keys() or not _near(lexicon, asked.base_id, entry.id):
        return False
    return _takes_in(lexicon, asked, lexicon.part(Meaning(None, entry, tuple(lexicon.trade.modifiers[name] for name in modifiers))))


def _near(lexicon: Lexicon, asked: str, base_id: str) -> bool:
    """Whether the two bases can be one movement or one kind; most are not, and need no closer look."""
    special = lexicon.trade.shorter.special
    opens = any(entry.id == other for one, other in ((asked, base_id), (base_id, asked)) for _, entry in special.get(one, ()))
    return base_id == asked or opens or asked in _ancestors(lexicon, base_id)


def _takes_in(lexicon: Lexicon, asked: Part, part: Part) -> bool:
    if asked.base_id != part.base_id:
        asked, part = _opened(lexicon, asked, part), _opened(lexicon, part, asked)
    kind = asked.base_id == part.base_id or asked.base_id in _ancestors(lexicon, part.base_id)
    return kind and _telling(lexicon, asked) <= _telling(lexicon, part) and not _contradiction(lexicon, asked, part)
