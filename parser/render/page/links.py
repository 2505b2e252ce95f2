"""What on the page rests on which words: the links between lines, findings and bars on one side and the talk on the other."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from ...model import Source

PLAN, FINDING, PIN, PLANNED, DONE = "plan", "finding", "pin", "planned", "done"
"""What an id begins with."""


@dataclass(frozen=True)
class Link:
    """A line, a finding or a bar. ``at`` is the moment (s) to play; ``None`` where nothing has a time."""

    id: str
    at: float | None
    sources: tuple[Source, ...]


class Links:
    """Gives out the ids, in the order of the page, and keeps what each rests on."""

    def __init__(self) -> None:
        self.all: list[Link] = []

    def add(self, kind: str, sources: Iterable[Source | None], *, at: float | None = None) -> Link:
        known = tuple(s for s in sources if s is not None)
        if at is None:
            at = next((s.start for s in known if s.start is not None), None)
        self.all.append(Link(f"{kind}-{len(self.all) + 1}", at, known))
        return self.all[-1]


def groups(link: Link, pieces: Mapping[str, list[tuple[int, str]]]) -> str:
    """The ids of the pieces of the talk that ``link`` rests on: those of one source with blanks, the sources with commas between.

    ``pieces`` holds for each link its pieces as ``(place in the text, id)``.
    """
    own = pieces.get(link.id, [])
    found = []
    for source in link.sources:
        first, end = source.chars
        if ids := " ".join(id for place, id in own if first <= place < end):
            found.append(ids)
    return ",".join(dict.fromkeys(found))
