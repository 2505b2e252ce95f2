"""What the command line prints of the lexicon, as plain records."""

from __future__ import annotations

from typing import Any

from rapidfuzz import fuzz, process

from .entry import MovementEntry
from .match import Lexicon, Match, Part
from .normal import split

_NEIGHBOURS = 5
_NEAR = 55            # of 100; below this a name is no neighbour


def find_record(lexicon: Lexicon, phrase: str) -> dict[str, Any]:
    """``{"phrase", "match", "name", "parts": [{name, base, modifiers, equipment, patterns, muscles}], "sides", "equipment",
    "rung", "score", "neighbours": [{name, score}]}``; without a match the values are null or empty."""
    match = lexicon.find(phrase)
    record: dict[str, Any] = {"phrase": phrase, "match": match is not None}
    record |= {
        "name": match.name if match else None,
        "parts": [_part(part) for part in match.parts] if match else [],
        "sides": match.sides if match else None,
        "equipment": list(match.equipment) if match else [],
        "rung": match.rung if match else None,
        "score": match.score if match else None,
        "neighbours": neighbours(lexicon, phrase, match),
    }
    return record


def _part(part: Part) -> dict[str, Any]:
    return {
        "name": part.name, "base": part.base, "modifiers": list(part.modifiers), "equipment": list(part.equipment),
        "patterns": list(part.patterns), "muscles": list(part.muscles),
    }


def neighbours(lexicon: Lexicon, phrase: str, match: Match | None) -> list[dict[str, Any]]:
    """The names most like ``phrase`` besides the movement it was found to be, best first. ``score`` 0 to 100."""
    own = {part.base for part in match.parts} if match else set()
    names = {entry.name: " ".join(split(entry.name)) for entry in lexicon.movements() if entry.name not in own}
    near = process.extract(" ".join(split(phrase)), names, scorer=fuzz.token_sort_ratio, limit=_NEIGHBOURS, score_cutoff=_NEAR)
    return [{"name": name, "score": round(score, 1)} for _, score, name in near]


def same_record(lexicon: Lexicon, a: str, b: str) -> dict[str, Any]:
    """``{"a", "b", "same", "why"}``."""
    verdict = lexicon.same(a, b)
    return {"a": a, "b": b, "same": verdict.same, "why": verdict.why}


def list_movements(lexicon: Lexicon, *, pattern: str | None = None, muscle: str | None = None,
                   equipment: str | None = None) -> list[MovementEntry]:
    """The entries with this pattern, muscle and equipment, by name. ``equipment`` may be a synonym."""
    wanted = lexicon.trade.kit_names.get(equipment, equipment) if equipment else None
    found = [
        e for e in lexicon.movements()
        if (pattern is None or pattern in e.patterns)
        and (muscle is None or muscle in e.primary or muscle in e.secondary)
        and (wanted is None or wanted in e.equipment)
    ]
    return sorted(found, key=lambda e: e.name)
