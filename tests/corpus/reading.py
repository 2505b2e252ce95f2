"""The corpus: phrases by meaning, and what hearing makes of each one.

A file holds ``[[meaning]]`` tables: ``means`` in words, what a phrase of it says (``hears``, ``slip`` or ``phase``), ``say``, its
phrasings, and ``near``, phrases close by that do not say it. A phrase may be a table ``{say = "…", known_miss = true}``: not yet
understood, and asserted so, that mending it shows.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from parser.hear.markers import find_markers
from parser.hear.normal import lay
from parser.hear.numbers import read_units
from parser.hear.quantities import find_quantities
from parser.hear.repairs import find_number_repairs, find_word_repairs
from parser.hear.spans import find_countdowns, find_phrases
from parser.hear.tables import table
from parser.hear.tokens import hear_words
from parser.model import Cue, TalkThrough

FOLDER = Path(__file__).parent
MEANING_KEYS = {"means", "hears", "format", "slip", "about", "phase", "frame", "say", "near"}
NOTHING = {"bare", "other", "countdown"}
"""Roles of numbers that set nothing."""
SIDE_MODES = {"halves": "each", "other": "each"}
"""Roles of phrases about sides that say a mode under another name: half the time for each, the other side now."""
AMOUNTS_A_SIDE = {"each", "side", "reps_each", "reps_side"}


@dataclass(frozen=True, slots=True)
class Phrase:
    """One phrase and the meaning it belongs to. ``near``: it must not say what the meaning says."""

    said: str
    meaning: dict
    near: bool
    known_miss: bool

    @property
    def id(self) -> str:
        return f"{'not ' if self.near else ''}{self.meaning['means']}: {self.said}"


@cache
def corpus(name: str) -> dict:
    return tomllib.loads((FOLDER / f"{name}.toml").read_text(encoding="utf-8"))


def phrases(name: str) -> list[Phrase]:
    out = []
    for meaning in corpus(name)["meaning"]:
        for near, key in ((False, "say"), (True, "near")):
            for entry in meaning.get(key, []):
                row = {"say": entry} if isinstance(entry, str) else entry
                out.append(Phrase(row["say"], meaning, near, row.get("known_miss", False)))
    return out


def as_talk(text: str) -> TalkThrough:
    """``text`` as a talk-through without times."""
    return TalkThrough(name="said", sha256="0" * 64, format="plain", resolution="none", duration_s=None, text=text,
                       cues=(Cue(start=None, end=None, chars=(0, len(text))),))


@dataclass(frozen=True, slots=True)
class HeardPhrase:
    """What a phrase alone says: ``values`` as ``[role, value]``, ``sides``, ``options``, ``formats``, ``slips`` as ``[was, became]``.

    Repetitions beside ``each side`` are heard as two mentions that building joins; here they are one value, ``reps_each``.
    """

    values: list
    sides: set[str]
    options: set[str]
    formats: set[str]
    numbers: list[float]
    """Every number and length that is heard as one, whatever it is for; ranges by their low end, countdowns left out."""
    slips: list


def hear_phrase(text: str) -> HeardPhrase:
    words = hear_words(as_talk(text))
    units = read_units(words, table("joins"))
    markers = find_markers(units)
    units, void, slips = find_number_repairs(words, units, markers)
    layer = lay(words, units, void)
    countdowns = find_countdowns(layer)
    quantities = find_quantities(layer, countdowns)
    values = [[q.role, list(q.value) if isinstance(q.value, tuple) else q.value] for q in quantities if q.role not in NOTHING]
    sides = {SIDE_MODES.get(p.role, p.role) for p in find_phrases(layer, "sides")}
    if "each" in sides:
        values = [["reps_each" if role == "reps" else role, value] for role, value in values]
    if any(role in AMOUNTS_A_SIDE for role, _ in values):
        sides.add("each")
    return HeardPhrase(
        values=values + [["countdown"] for _ in countdowns], sides=sides,
        options={p.role for p in find_phrases(layer, "options")}, formats={p.role for p in find_phrases(layer, "formats")},
        numbers=[q.value[0] if isinstance(q.value, tuple) else q.value for q in quantities if q.role != "countdown"],
        slips=[[_plain(s.was), _plain(s.became)] for s in [*slips, *find_word_repairs(words, units, markers)]],
    )


def _plain(text: str) -> float | str:
    """A slip's value as a number: ``40`` for ``40s`` and ``2`` for ``#2``; words stay words."""
    try:
        return float(text.removeprefix("#").removesuffix("s"))
    except ValueError:
        return text.replace("s ", " ").removesuffix("s") if text[:1].isdigit() else text
