"""Small pages: an explanation, the rules, and what the lexicon answers."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from .clean import escape_in_json, harmless

FORMATS = ("text", "json")


def lines(found: Iterable[str]) -> str:
    """Each on a line of its own, its blanks as they are: they line up a table or show a tree."""
    return "".join(f"{harmless(line).rstrip()}\n" for line in found)


def rule_list(known: Sequence[Any]) -> str:
    """All rules, a line each. A rule has ``code``, ``severity`` and ``doc``."""
    wide = max((len(rule.code) for rule in known), default=0)
    return lines(f"{rule.code:{wide}}  {rule.severity:7}  {_first_sentence(rule.doc)}" for rule in known)


def rule_page(rule: Any) -> str:
    return f"{rule.code} ({rule.severity})\n\n{rule.doc.strip()}\n"


def _first_sentence(doc: str) -> str:
    return next((line.strip() for line in doc.splitlines() if line.strip()), "")


# ---------------------------------------------------------------- the lexicon


def _json_line(record: Mapping[str, Any]) -> str:
    return escape_in_json(json.dumps(record, ensure_ascii=False)) + "\n"


def _part(part: Mapping[str, Any]) -> str:
    told = {name: ", ".join(part.get(name) or ()) for name in ("modifiers", "equipment", "patterns", "muscles")}
    more = "; ".join(f"{name} {value}" for name, value in told.items() if value)
    return f"  {part['name']} (from {part['base']})" + (f": {more}" if more else "")


def found(record: Mapping[str, Any], format: str) -> str:
    """The answer to ``lexicon find``: one line of JSON, or a few lines to read."""
    if format == "json":
        return _json_line(record)
    if not record["match"]:
        return lines([f"{record['phrase']}: no movement that the lexicon knows.", *_neighbours(record)])
    return lines([
        f"{record['phrase']}: {record['name']}",
        f"  {record['rung']}, score {record['score']:g}; sides {record['sides']}",
        *map(_part, record["parts"]),
        *_neighbours(record),
    ])


def _neighbours(record: Mapping[str, Any]) -> list[str]:
    near = record.get("neighbours") or ()
    names = [n if isinstance(n, str) else f"{n['name']} ({n['score']:g})" for n in near]
    return [f"  near: {', '.join(names)}"] if names else []


def compared(record: Mapping[str, Any], format: str) -> str:
    """The answer to ``lexicon same``."""
    if format == "json":
        return _json_line(record)
    verdict = "one movement" if record["same"] else "two movements"
    return lines([f"{record['a']} / {record['b']}: {verdict}. {record['why']}"])


def listed(entries: Iterable[Any]) -> str:
    """A line a movement: its name, its patterns, its usual equipment."""
    return lines(
        f"{e.name}: {', '.join(e.patterns)}" + (f"; {', '.join(e.equipment)}" if e.equipment else "") for e in entries
    )
