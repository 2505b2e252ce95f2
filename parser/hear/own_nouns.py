"""A coach's own nouns for a station and for a round: ``porch one, porch two``; ``all five is one trip, and we make three trips``.

Learnt from the talk itself and from nothing else: a noun that numbers its way up names the places of the class; a noun that is
explained (``that's a shift``) and then counted (``two shifts``) names a round. The normal layer then has ``station`` and
``round`` in their place, so that no pattern needs to know them.
"""

from __future__ import annotations

from collections.abc import Sequence

from .numbers import NUMBER, ORDINAL, WORD, Unit
from .tables import table

_T = table("own_nouns")
_KNOWN = frozenset(_T["known"])
_ROUNDS = frozenset(table("own_nouns")["rounds"])
_EXPLAINED = frozenset(_T["explained_by"])
_PLACES = 3            # so many different numbers make a noun the name of a place


def _singular(word: str) -> str:
    if word.endswith(("ches", "shes", "xes")):
        return word[:-2]
    return word[:-1] if word.endswith("s") and not word.endswith("ss") else word


def _is_noun(unit: Unit) -> bool:
    return unit.kind == WORD and unit.text.isalpha() and len(unit.text) >= 3 and _singular(unit.text) not in _KNOWN and unit.text not in _KNOWN


def _places(units: Sequence[Unit], numbers: Sequence[int]) -> set[str]:
    """Nouns that number their way up, ``pot one … pot two … the third pot``, but for one number at most: "after your fifth
    pot you rest" may come first, and one may be said wrong."""
    said: dict[str, dict[float, None]] = {}
    for k in numbers:
        unit = units[k]
        if not isinstance(unit.value, float):
            continue
        if unit.kind == NUMBER and 1 <= unit.value <= 12 and k and _is_noun(units[k - 1]):
            said.setdefault(_singular(units[k - 1].text), {})[unit.value] = None
        elif unit.kind == ORDINAL and k + 1 < len(units) and _is_noun(units[k + 1]):
            said.setdefault(_singular(units[k + 1].text), {})[unit.value] = None
    return {noun for noun, numbers in said.items()
            if noun not in _ROUNDS and len(numbers) >= _PLACES and _rising(list(numbers)) >= max(_PLACES, len(numbers) - 1)}


def _rising(numbers: Sequence[float]) -> int:
    """How many of ``numbers`` go up when the others are left out."""
    best: list[int] = []
    for k, number in enumerate(numbers):
        best.append(1 + max((best[j] for j in range(k) if numbers[j] < number), default=0))
    return max(best, default=0)


def _rounds(units: Sequence[Unit], numbers: Sequence[int]) -> set[str]:
    explained, counted = set(), set()
    for k in [k for k, unit in enumerate(units) if unit.text in _EXPLAINED]:
        if k + 2 < len(units) and units[k + 1].text in ("a", "1", "our", "your") and _is_noun(units[k + 2]):
            explained.add(_singular(units[k + 2].text))
    for k in numbers:
        number = units[k]
        if number.kind == NUMBER and isinstance(number.value, float) and 2 <= number.value <= 12 and k + 1 < len(units) and _is_noun(units[k + 1]):
            counted.add(_singular(units[k + 1].text))
    return explained & counted | _ROUNDS & counted


def rename_own_nouns(units: Sequence[Unit]) -> list[Unit]:
    """``units`` with the coach's own nouns as ``station`` and ``round``."""
    numbers = [k for k, unit in enumerate(units) if unit.kind in (NUMBER, ORDINAL)]
    rounds = _rounds(units, numbers)
    names = dict.fromkeys(_places(units, numbers) - rounds, "station") | dict.fromkeys(rounds, "round")
    if not names:
        return list(units)
    called = {text: new for text in {unit.text for unit in units if unit.kind == WORD} if (new := _renamed(text, names)) is not None}
    return [unit._replace(text=called[unit.text]) if unit.text in called and unit.kind == WORD else unit for unit in units]


def _renamed(text: str, names: dict[str, str]) -> str | None:
    base = text.removesuffix(" is")
    name = names.get(_singular(base))
    if name is None:
        return None
    return name + ("s" if _singular(base) != base else "") + (" is" if base != text else "")
