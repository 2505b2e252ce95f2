"""The tables of ``exact/``: for one rule each, talks and to the letter what the rule finds in them.

``talk`` stands in the table with ``{places}``; a case fills them, and what it leaves out is filled from ``usual``. A line without a stamp is
said ten seconds after the one before it. A case has ``found``, or ``quiet`` with the reason why nothing is found.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path

from parser.clock import clock
from parser.model import Finding

FOLDER = Path(__file__).with_name("exact")
_STAMP = re.compile(r"\[(\d+):(\d\d)\]")
_PACE_S = 10


@dataclass(frozen=True, slots=True)
class Exact:
    """A talk and the findings of the rule ``code`` in it, as ``as_line`` writes them."""

    code: str
    name: str
    talk: str
    found: tuple[str, ...]


def exact_talks() -> list[Exact]:
    """All cases of all tables. Raises KeyError for a place that nothing fills, ValueError for a case that says nothing."""
    out = []
    for path in sorted(FOLDER.glob("*.toml")):
        table = tomllib.loads(path.read_text(encoding="utf-8"))
        for n, case in enumerate(table["case"], 1):
            if ("found" in case) == ("quiet" in case):
                raise ValueError(f"{path.name}, case {n}: found or quiet")
            talk = case.get("talk", table["talk"]).format_map(table.get("usual", {}) | case)
            out.append(Exact(path.stem, f"{path.stem} {n}", stamped(talk), tuple(case.get("found", ()))))
    return out


def stamped(talk: str) -> str:
    """``talk`` with a time before each of its lines."""
    lines, at = [], -_PACE_S
    for line in filter(None, map(str.strip, talk.splitlines())):
        said = _STAMP.match(line)
        at = int(said[1]) * 60 + int(said[2]) if said else at + _PACE_S
        lines.append(line if said else f"[{clock(at)}] {line}")
    return "\n".join(lines) + "\n"


def as_line(f: Finding) -> str:
    """``severity, block.round.number: message => expected << quote | quote``; a dash for a place that it does not name."""
    place = ".".join("-" if n is None else str(n) for n in (f.block, f.round, f.number))
    quotes = " | ".join(" ".join(s.quote.split()) for s in f.said)
    return f"{f.severity}{', corrected' if f.corrected else ''}, {place}: {f.message} => {f.expected or '-'} << {quotes}"
