"""Programming over time as a picture: a row a movement, a column a week, a mark for each week that had it.

One SVG document (W3C, SVG 2) that asks for nothing: no script, no font; its colours follow the reader's choice of light or dark. The
number in a mark says as much as its size, so that nothing is told by colour alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from ...review.history import History, Used
from ..clean import clean
from ..templates import fill
from .days import classes, short, span

ROWS = 40
"""Movements that are drawn: more make no picture. What is left out is said in it."""
WEEKS = 104
_NAMES, _COLUMN, _ROW, _HEAD, _FOOT, _EDGE = 230, 30, 24, 72, 54, 16
"""Pixels: room for names, a week, a row, what stands above and below, and the edge."""
_LEAST_WIDTH = 620
_NAME_LETTERS = 30
"""Letters of a name that fit beside the marks at 13 pixels; a longer one is cut here, and whole in its title."""
STYLE = (
    ".weeks{--ink:#1b1f22;--quiet:#565d60;--paper:#fff;--rule:#d4d1c6;--mark:#23404c;--on:#fff}"
    "@media(prefers-color-scheme:dark){.weeks{--ink:#e9e6dd;--quiet:#a9afb0;--paper:#1d2123;--rule:#3a4044;--mark:#b9d6e2;--on:#10191d}}"
    ".weeks text{fill:var(--ink);font:13px system-ui,'Liberation Sans',sans-serif}"
    ".weeks .paper{fill:var(--paper)}.weeks .heading{font-size:17px;font-weight:600}"
    ".weeks .quiet{fill:var(--quiet);font-size:11px}.weeks .line{stroke:var(--rule)}"
    ".weeks .mark{fill:var(--mark)}.weeks .count{fill:var(--on);text-anchor:middle;font-size:11px;font-weight:600}"
    ".weeks .middle{text-anchor:middle}.weeks .first{font-weight:600}"
)


@dataclass(frozen=True)
class Mark:
    """``x``: the middle of its column."""

    x: float
    side: float
    count: int
    title: str


@dataclass(frozen=True)
class Row:
    y: float
    name: str
    whole: str
    marks: tuple[Mark, ...]


@dataclass(frozen=True)
class Picture:
    """All in pixels. ``heads``: the weeks that are named, by the middle of their column."""

    width: int
    height: int
    title: str
    told: str
    left_out: str
    heads: tuple[tuple[float, str], ...]
    rows: tuple[Row, ...]
    edge: int = _EDGE
    head: int = _HEAD
    row: int = _ROW


def svg(history: History) -> str:
    """The picture as a file of its own."""
    return fill("review/picture.svg.j2", picture=picture(history), style=STYLE) + "\n"


def inside(history: History) -> str:
    """The picture for a page, which has ``STYLE`` among its own styles."""
    return fill("review/picture.svg.j2", picture=picture(history), style="")


def picture(history: History) -> Picture:
    weeks = history.period.weeks[-WEEKS:]
    drawn = history.movements[:ROWS]
    every = Used(name="all classes", classes=history.classes, last=history.period.until, weeks=history.per_week)
    rows = [_row(place, used, weeks) for place, used in enumerate((every, *drawn))] if history.classes else []
    step = max(2, 1 + (len(weeks) - 1) // 10)
    return Picture(
        width=max(2 * _EDGE + _NAMES + len(weeks) * _COLUMN, _LEAST_WIDTH), height=_HEAD + max(1, len(rows)) * _ROW + _FOOT,
        title=f"Movements by week: {span(history.period)}", told=_told(history, drawn), left_out=_left_out(history, weeks),
        heads=tuple((_middle(n), _head(monday, weeks)) for n, monday in enumerate(weeks) if n % step == 0), rows=tuple(rows),
    )


def _head(monday: date, weeks: Sequence[date]) -> str:
    """``2 Mar``, or where the weeks are of several years ``2 Mar 26``."""
    return short(monday) if weeks[0].year == weeks[-1].year else f"{short(monday)} {monday.year % 100:02}"


def _middle(week: int) -> float:
    return _EDGE + _NAMES + (week + 0.5) * _COLUMN


def _row(place: int, used: Used, weeks: Sequence[date]) -> Row:
    name = clean(used.name)
    return Row(
        y=_HEAD + place * _ROW, name=name if len(name) <= _NAME_LETTERS else name[: _NAME_LETTERS - 1] + "…", whole=name,
        marks=tuple(
            Mark(_middle(n), _side(count), count, f"{name}, week of {short(weeks[n])}: {classes(count)}")
            for n, count in enumerate(used.weeks[-len(weeks):]) if count
        ),
    )


def _side(count: int) -> float:
    """One class is small and still holds its number; from five on a mark fills its place."""
    return 14 + 2 * min(count - 1, 4)


def _told(history: History, drawn: Sequence[Used]) -> str:
    """The picture in words."""
    if not history.classes:
        return "No class in these weeks."
    most = "; ".join(f"{clean(u.name)} in {u.classes}" for u in drawn)
    return f"{classes(history.classes)}. Movements of main blocks, by how many classes have them: {most or 'none'}."


def _left_out(history: History, weeks: Sequence[date]) -> str:
    told = [f"{len(history.movements) - ROWS} movements of fewer classes"] if len(history.movements) > ROWS else []
    told += [f"{len(history.period.weeks) - len(weeks)} weeks before these"] if len(history.period.weeks) > len(weeks) else []
    return f"Not drawn: {', '.join(told)}." if told else ""
