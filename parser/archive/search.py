"""Classes found again: by what was said, and by what the plan and the report have, all at once."""

from __future__ import annotations

import re
import sqlite3
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass
from datetime import date

from ..clock import Between
from ..review.found import Hit, Hits, Spot
from .columns import text_or_none
from .packing import unpack_starts, unsqueeze
from .store import Archive, shown_of

SPOTS = 3
"""Places of a class that are shown for each thing asked for."""
_AROUND = 60
"""Characters of the talk shown on either side."""
_TOKENIZE = "porter unicode61 remove_diacritics 2"


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """All of it has to be so of a class. Lengths are in seconds.

    ``movements``: each a chain of one part or more, all in one movement of the class; a part is any of these numbers of ``variant``.
    """

    phrases: Sequence[str] = ()
    movements: Sequence[Sequence[frozenset[int]]] = ()
    patterns: Sequence[str] = ()
    muscles: Sequence[str] = ()
    equipment: Sequence[str] = ()
    without: Sequence[str] = ()
    formats: Sequence[str] = ()
    rounds: Between | None = None
    work: Between | None = None
    rest: Between | None = None
    length: Between | None = None
    since: date | None = None
    until: date | None = None
    findings: Sequence[str] = ()
    coach: str | None = None
    place: str | None = None
    tags: Sequence[str] = ()
    by_relevance: bool = False
    limit: int = 10


def find(archive: Archive, asked: Asked) -> Hits:
    """The classes that ``asked`` is so of: how many, and the first of them. By relevance: the best match of the words first (BM25 as
    SQLite's FTS5 has it), else the newest first and those without a day last."""
    ask = archive.connection.execute
    words = match(asked.phrases)
    if asked.phrases and words is None:
        return Hits(found=0)
    query = _query(asked, words)
    (count,) = ask(f"SELECT count(*) {query.tables}", query.values).fetchone()
    by_words = asked.by_relevance and words is not None
    rows = ask(
        f"SELECT class.id, day, title, class.name, coach, place {query.tables}"
        f" ORDER BY {'bm25(words), ' if by_words else ''}day DESC, class.id DESC LIMIT ?", [*query.values, asked.limit]).fetchall()
    spots = _spots(archive, [row[0] for row in rows], asked, words)
    return Hits(found=count, hits=[
        Hit(shown=shown_of(row[:4]), coach=text_or_none(row[4]), place=text_or_none(row[5]), tags=archive.tags(row[0]), spots=spots.get(row[0], []))
        for row in rows
    ])


def match(phrases: Sequence[str]) -> str | None:
    """Phrases as a query of FTS5 that asks for all of them: whatever was typed is quoted, so that nothing in it is syntax. ``None``
    where there is no word in them at all."""
    typed = (p.encode("utf-8", "ignore").decode().replace("\0", " ").replace('"', '""') for p in phrases)
    return " AND ".join(f'"{p}"' for p in typed if any(c.isalnum() for c in p)) or None


# ---------------------------------------------------------------- the question


@dataclass(frozen=True, slots=True)
class _Query:
    tables: str
    values: list[object]


def _query(asked: Asked, words: str | None) -> _Query:
    conditions = list(_conditions(asked))
    if words is not None:
        conditions.append(("words MATCH ?", [words]))
    tables = "FROM class" if words is None else "FROM words JOIN class ON class.id = words.rowid"
    where = " AND ".join(f"({condition})" for condition, _ in conditions)
    return _Query(f"{tables} WHERE {where}" if where else tables, [value for _, values in conditions for value in values])


_Condition = tuple[str, list[object]]
"""In SQL, and the values for its marks."""


def _in(values: Sequence[object]) -> str:
    return f"IN ({', '.join('?' * len(values))})"


def _conditions(asked: Asked) -> Iterator[_Condition]:
    for chain in asked.movements:
        condition, values = _chain(chain)
        yield f"class.id IN (SELECT class FROM use WHERE {condition})", values
    for what, names in (("pattern", asked.patterns), ("muscle", asked.muscles)):
        for name in names:
            yield ("class.id IN (SELECT class FROM trains JOIN use ON use.movement = trains.movement AND use.kind = 'main'"
                   " WHERE what = ? AND name = ?)", [what, name])
    for name in asked.equipment:
        yield "EXISTS (SELECT 1 FROM kit WHERE kit.class = class.id AND kit.name = ?)", [name]
    for name in asked.without:
        yield "NOT EXISTS (SELECT 1 FROM kit WHERE kit.class = class.id AND kit.name = ? AND needed)", [name]
    yield from _of_a_block(asked)
    for column, sign, day in (("day", ">=", asked.since), ("day", "<=", asked.until)):
        if day is not None:
            yield f"{column} {sign} ?", [day.isoformat()]
    if asked.length is not None:
        yield "lasts BETWEEN ? AND ?", [asked.length.low, asked.length.high]
    for code in asked.findings:
        yield "class.id IN (SELECT class FROM finding WHERE code = ?)", [code]
    for column, called in (("coach", asked.coach), ("place", asked.place)):
        if called is not None:
            yield f"folded({column}) = folded(?)", [called]
    for tag in asked.tags:
        yield "EXISTS (SELECT 1 FROM tag WHERE tag.class = class.id AND tag = folded(?))", [tag]


def _chain(chain: Sequence[frozenset[int]]) -> _Condition:
    """Of a row of ``use``: that all parts are in its movement. A part that nothing is known by is in none."""
    values = [sorted(part) for part in chain]
    parts = [f"variant {_in(part)}" for part in values]
    also = (f"EXISTS (SELECT 1 FROM use AS other WHERE other.class = use.class AND other.item = use.item AND other.{part})" for part in parts[1:])
    return " AND ".join((f"use.{parts[0]}", *also)), [number for part in values for number in part]


def _of_a_block(asked: Asked) -> Iterator[_Condition]:
    """What is asked of a block has to be so of one and the same."""
    conditions: list[_Condition] = []
    if asked.formats:
        conditions.append((f"format {_in(asked.formats)}", [*asked.formats]))
    for column, span in (("rounds", asked.rounds), ("work", asked.work), ("rest", asked.rest)):
        if span is not None:
            conditions.append((f"{column} BETWEEN ? AND ?", [span.low, span.high]))
    if conditions:
        yield (f"EXISTS (SELECT 1 FROM block WHERE block.class = class.id AND {' AND '.join(c for c, _ in conditions)})",
               [value for _, values in conditions for value in values])


# ---------------------------------------------------------------- where it is


@dataclass(frozen=True, slots=True)
class _Place:
    """Something asked for, where it stands in a class. Without ``chars`` the words are ``what``."""

    what: str
    at: float | None
    chars: tuple[int, int] | None


@dataclass(frozen=True, slots=True)
class _Said:
    """The words of a class; where in them each cue begins, and when: nothing of a plan alone."""

    text: str
    firsts: list[int]
    starts: list[float | None]

    def moment(self, char: int) -> float | None:
        """When the cue begins that the character is in."""
        n = bisect_right(self.firsts, char) - 1
        return self.starts[n] if n >= 0 else None


def _spots(archive: Archive, numbers: Sequence[int], asked: Asked, words: str | None) -> dict[int, list[Spot]]:
    texts = _texts(archive, numbers)
    places: dict[int, list[_Place]] = {number: [] for number in numbers}
    if words is not None:
        for number, spans in _said(texts, words):
            places[number] += [_Place("", None, span) for span in spans[:SPOTS]]
    for number, found in _used(archive, numbers, asked):
        places[number] += found[:SPOTS]
    for number, found in _found(archive, numbers, asked.findings):
        places[number] += found[:SPOTS]
    return {number: [_spot(place, texts[number]) for place in found] for number, found in places.items()}


def _texts(archive: Archive, numbers: Sequence[int]) -> dict[int, _Said]:
    found = {}
    for number in numbers:
        said, talk = archive.connection.execute(
            "SELECT said, talk FROM version JOIN class ON class.id = class AND class.version = number WHERE class = ?", [number]).fetchone()
        text = unsqueeze(said)
        found[number] = _Said(text, *(([], []) if talk is None else unpack_starts(talk, text)))
    return found


def _said(texts: dict[int, _Said], words: str) -> Iterator[tuple[int, list[tuple[int, int]]]]:
    """Where the words stand: the index knows by its own rules, so the few classes that are shown are put in one of their own."""
    if not texts:
        return
    used = set().union(*(said.text for said in texts.values()))
    opens, closes = (chr(c) for c in [c for c in range(0xE000, 0xF8FF) if chr(c) not in used][:2])
    with closing(sqlite3.connect(":memory:")) as here:
        here.execute(f"CREATE VIRTUAL TABLE words USING fts5(said, tokenize='{_TOKENIZE}')")
        here.executemany("INSERT INTO words (rowid, said) VALUES (?, ?)", [(number, said.text) for number, said in texts.items()])
        for number, marked in here.execute("SELECT rowid, highlight(words, 0, ?, ?) FROM words WHERE words MATCH ?", [opens, closes, words]):
            yield number, list(_marked(marked, opens, closes))


def _marked(text: str, opens: str, closes: str) -> Iterator[tuple[int, int]]:
    """Spans between the marks, as they are without the marks."""
    begin = 0
    for marks, found in enumerate(re.finditer(f"[{opens}{closes}]", text)):
        at = found.start() - marks
        if found[0] == opens:
            begin = at
        else:
            yield begin, at


def _used(archive: Archive, numbers: Sequence[int], asked: Asked) -> Iterator[tuple[int, list[_Place]]]:
    """Movements asked for, by name, pattern or muscle: where each is said first."""
    ask = archive.connection.execute
    head = f"SELECT use.class, variant.name, use.at, begins, ends FROM use JOIN variant ON variant.id = use.variant WHERE use.class {_in(numbers)}"
    for chain in asked.movements:
        condition, values = _chain(chain)
        yield from _grouped(ask(f"{head} AND {condition} ORDER BY use.class, item", [*numbers, *values]))
    for what, names in (("pattern", asked.patterns), ("muscle", asked.muscles)):
        for name in names:
            yield from _grouped(ask(
                f"{head} AND use.kind = 'main' AND use.movement IN (SELECT movement FROM trains WHERE what = ? AND name = ?) ORDER BY use.class, item",
                [*numbers, what, name]))


def _found(archive: Archive, numbers: Sequence[int], codes: Sequence[str]) -> Iterator[tuple[int, list[_Place]]]:
    for code in codes:
        yield from _grouped(archive.connection.execute(
            f"SELECT class, message, at, begins, ends FROM finding WHERE class {_in(numbers)} AND code = ? ORDER BY class, place", [*numbers, code]))


def _grouped(rows: sqlite3.Cursor) -> Iterator[tuple[int, list[_Place]]]:
    found: dict[int, list[_Place]] = {}
    for number, what, at, begins, ends in rows:
        place = _Place(what, at, None if begins is None else (begins, ends))
        if place not in found.setdefault(number, []):
            found[number].append(place)
    yield from found.items()


def _spot(place: _Place, said: _Said) -> Spot:
    if place.chars is None:
        return Spot(what=place.what, at=place.at, before="", words=place.what, after="")
    first, end = place.chars
    at = said.moment(first) if place.at is None else place.at
    return Spot(what=place.what, at=at, before=_before(said.text, first), words=said.text[first:end], after=_after(said.text, end))


def _before(text: str, first: int) -> str:
    """Whole words, with dots for those left out."""
    return text[:first] if first <= _AROUND else f"… {text[first - _AROUND : first].partition(' ')[2]}"


def _after(text: str, end: int) -> str:
    return text[end:] if len(text) - end <= _AROUND else f"{text[end : end + _AROUND].rpartition(' ')[0]} …"
