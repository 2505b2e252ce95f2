"""Classes found again, as plain lines: what each is, and the words that it was found by."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import RenderableType
from rich.padding import Padding
from rich.text import Text

from ...clock import clock
from ...review.found import Hit, Hits, Spot
from ..clean import clean
from ..console import to_text
from ..look import Look
from .days import called, classes

if TYPE_CHECKING:
    from ...review.card import Card

_INDENT = (0, 0, 0, 4)


def text(found: Hits, look: Look) -> str:
    return to_text(list(_parts(found)), look)


def _parts(found: Hits) -> Iterator[RenderableType]:
    if not found.found:
        yield Text("No class has all of this.")
        return
    shown = f"{classes(found.found)}." if found.found == len(found.hits) else f"{classes(found.found)}, of which these are the first {len(found.hits)}."
    yield Text(shown, "dim")
    for hit in found.hits:
        yield from (Text(""), Text(called(hit.shown), "bold"))
        if told := told_of(hit):
            yield Padding(Text(told, "dim"), _INDENT)
        yield from (Padding(_spot(spot), _INDENT) for spot in hit.spots)


def told_of(of: Hit | Card) -> str:
    """What the coach said of a class: who, where and tags."""
    tags = f"tags: {', '.join(map(clean, of.tags))}" if of.tags else None
    return " · ".join(filter(None, (of.coach and f"with {clean(of.coach)}", of.place and f"at {clean(of.place)}", tags)))


def _spot(spot: Spot) -> Text:
    at = "" if spot.at is None else f"[{clock(spot.at)}] "
    what = f"{clean(spot.what)}: " if spot.what and clean(spot.what) != clean(spot.words) else ""
    before, after = (f"{clean(words)} " if words.endswith((" ", "\n")) else clean(words) for words in (spot.before, spot.after))
    if spot.after[:1].isspace():
        after = f" {after}"
    return Text.assemble((at, "dim"), (what, "dim"), before, (clean(spot.words), "bold"), after)
