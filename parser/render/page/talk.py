"""The talk-through in paragraphs, cut into pieces wherever something that was heard, or that a line rests on, begins or ends."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from ...clock import clock
from ...model import Cue, Mark, Source, Span, TalkThrough
from ..clean import clean, harmless
from .links import DONE, Link

KINDS = {
    "movement": "movement", "time": "time", "side": "side", "option": "easier, harder or different way", "number": "number or count",
}
_PAUSE_S, _LONG_S = 2.0, 25.0
"""Captions are joined to a paragraph until a pause, or until it is long (common practice, no source)."""


@dataclass(frozen=True)
class Piece:
    """Words with one look. ``id`` is empty where nothing rests on them."""

    text: str
    id: str = ""
    kinds: tuple[str, ...] = ()
    means: str = ""
    to: tuple[str, ...] = ()
    """The ids of what rests on it."""
    at: float | None = None

    @property
    def look(self) -> str:
        return " ".join(("mark", *self.kinds)) if self.kinds else "during" if self.only_during else "said"

    @property
    def only_during(self) -> bool:
        """Nothing but an interval that was on: such words are the greater part of a class, and no links of their own."""
        return not self.kinds and set(self.to) == set(self.bars)

    @property
    def bars(self) -> tuple[str, ...]:
        return tuple(id for id in self.to if id.startswith(f"{DONE}-"))


@dataclass(frozen=True)
class Spoken:
    """One cue."""

    at: float | None
    pieces: tuple[Piece, ...]


@dataclass(frozen=True)
class Paragraph:
    stamp: str
    at: float | None
    heading: bool
    cues: tuple[Spoken, ...]

    @property
    def bars(self) -> tuple[str, ...]:
        """What was on when it begins: its time in the margin leads there."""
        return next((piece.bars for piece in self.cues[0].pieces if piece.bars), ())


Edge = tuple[str, Source] | Mark
"""A link with the words it rests on, or a mark, where it begins or ends."""


@dataclass
class _Cover:
    """What lies over the text at a place while it is walked through."""

    links: dict[str, Source] = field(default_factory=dict)
    marks: list[Mark] = field(default_factory=list)

    def at(self, default: float | None) -> float | None:
        """The moment of what began last."""
        sources = [*self.links.values(), *(m.source for m in self.marks)]
        return max(sources, key=lambda s: s.chars[0]).start if sources else default


def paragraphs(talk: TalkThrough, links: Sequence[Link], marks: Sequence[Mark]) -> tuple[list[Paragraph], dict[str, list[tuple[int, str]]]]:
    """The talk, and for each link its pieces as ``(place in the text, id)``."""
    pieces, places = _cut(talk, links, marks)
    found = []
    for group in _joined(talk.cues):
        first = group[0]
        cues = tuple(Spoken(cue.start, tuple(pieces[cue.chars])) for cue in group)
        found.append(Paragraph("" if first.start is None else clock(first.start), first.start, first.heading, cues))
    return found, places


def _joined(cues: Sequence[Cue]) -> Iterator[list[Cue]]:
    group: list[Cue] = []
    for cue in cues:
        if group and not _goes_on(group, cue):
            yield group
            group = []
        group.append(cue)
    if group:
        yield group


def _goes_on(group: list[Cue], cue: Cue) -> bool:
    first, last = group[0], group[-1]
    if first.heading or cue.heading or first.start is None or last.end is None or cue.start is None:
        return False
    return 0 <= cue.start - last.end < _PAUSE_S and 0 <= cue.start - first.start < _LONG_S


def _cut(talk: TalkThrough, links: Sequence[Link], marks: Sequence[Mark]) -> tuple[dict[Span, list[Piece]], dict[str, list[tuple[int, str]]]]:
    """``(pieces of each cue by its place in the text, places)``; one walk through the text."""
    opens: dict[int, list[Edge]] = defaultdict(list)
    closes: dict[int, list[Edge]] = defaultdict(list)
    for link in links:
        for source in link.sources:
            opens[source.chars[0]].append((link.id, source))
            closes[source.chars[1]].append((link.id, source))
    for mark in marks:
        opens[mark.source.chars[0]].append(mark)
        closes[mark.source.chars[1]].append(mark)
    edges = sorted({*opens, *closes, *(e for cue in talk.cues for e in cue.chars)})
    order = {link.id: n for n, link in enumerate(links)}
    owner = {cue.chars[0]: cue for cue in reversed(talk.cues)}
    pieces: dict[tuple[int, int], list[Piece]] = {cue.chars: [] for cue in talk.cues}
    places: dict[str, list[tuple[int, str]]] = defaultdict(list)
    cover, cue, count = _Cover(), None, 0
    for start, end in zip(edges, edges[1:]):
        _step(cover, closes[start], opens[start])
        if cue is None or start >= cue.chars[1]:
            cue = None
        cue = owner.get(start, cue)
        if cue is None:
            continue
        piece = _piece(talk.text[start:end], cover, order, cue.start, f"w{count}")
        if piece.id:
            count += 1
            for id in piece.to:
                places[id].append((start, piece.id))
        pieces[cue.chars].append(piece)
    return pieces, places


def _step(cover: _Cover, closing: Sequence[Edge], opening: Sequence[Edge]) -> None:
    for what in closing:
        if isinstance(what, Mark):
            cover.marks.remove(what)
        elif cover.links.get(what[0]) is what[1]:
            del cover.links[what[0]]
    for what in opening:
        if isinstance(what, Mark):
            cover.marks.append(what)
            continue
        id, source = what
        if id not in cover.links or cover.links[id].chars[1] < source.chars[1]:
            cover.links[id] = source


def _piece(text: str, cover: _Cover, order: dict[str, int], at: float | None, id: str) -> Piece:
    text = harmless(text)
    if not text.strip() or not (cover.links or cover.marks):
        return Piece(text)
    kinds = tuple(k for k in KINDS if any(m.kind == k for m in cover.marks))
    means = next((clean(m.means) for m in cover.marks if m.kind == "movement"), "")
    return Piece(text, id, kinds, means, tuple(sorted(cover.links, key=order.__getitem__)), cover.at(at))
