"""Programming over time as plain tables."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rich.console import RenderableType
from rich.table import Table
from rich.text import Text

from ...review.history import History, PushPull, SideCount, Together, Unused, Used
from ..clean import clean
from ..console import to_text
from ..look import Look
from .days import classes, day, short, span, written

FOOT = (
    "Counted is what the plans name, not repetitions, load or time.",
    "What people should train, and how much of it, is for a qualified professional to decide.",
)
_ROWS = 30
"""Rows of one table. JSON has them all."""
_NAME, _NARROW_NAME = 24, 9
_NUMBERS = 2 + 7 + 2 + 10 + 2
"""Columns that number and date take, with the blanks around them."""
_LEAST_WEEKS = 8
"""Weeks that are shown before a name has all its room."""


@dataclass(frozen=True)
class _Columns:
    name: int
    weeks: int


def _columns(history: History, look: Look) -> _Columns:
    weeks = len(history.period.weeks)
    name = min(_NAME, max(_NARROW_NAME, look.width - _NUMBERS - min(weeks, _LEAST_WEEKS)))
    return _Columns(name, min(weeks, max(1, look.width - _NUMBERS - name)))


def text(history: History, look: Look) -> str:
    return to_text(list(_parts(history, look)), look)


def _parts(history: History, look: Look) -> Iterator[RenderableType]:
    yield Text("Programming", "bold")
    yield Text(span(history.period), "dim")
    yield Text("")
    yield from map(Text, facts(history))
    if history.classes:
        columns = _columns(history, look)
        yield Text("")
        yield Text(_how_read(history, columns.weeks), "dim")
        yield from _tables(history, columns)
    yield Text("")
    yield from (Text(line, "dim") for line in FOOT)


def facts(history: History) -> list[str]:
    """What was counted and what not."""
    first = f"{classes(history.classes)} in these weeks." if history.classes else "No class in these weeks."
    if not history.classes and history.latest:
        first += f" The last one before them was on {written(history.latest)}: add --until {history.latest} to look back from there."
    found = [first]
    if history.undated:
        found.append(f"{classes(history.undated)} without a date: in none of the weeks.")
    if history.later:
        found.append(f"{classes(history.later)} after {written(history.period.until)}: not counted.")
    return found


def _how_read(history: History, weeks: int) -> str:
    return (f"Week by week from {short(history.period.weeks[-weeks])}, a mark a week: how many classes, · for none, + for ten or more. "
            "A class counts once for each name.")


def _tables(history: History, columns: _Columns) -> Iterator[RenderableType]:
    yield from _table("Movements of main blocks", history.movements, columns)
    yield from _unused("Used before, and not in these weeks", history.movements_unused)
    yield from _table("Patterns of main blocks", history.patterns, columns)
    yield from _unused("Not in these weeks", history.patterns_unused)
    yield from _table("Muscles worked in main blocks", history.muscles, columns)
    yield from _unused("Not in these weeks", history.muscles_unused)
    yield from _table("Muscles stretched in main blocks", history.stretched, columns)
    yield from _lines("Push and pull in main blocks", push_pull(history.push_pull))
    yield from _lines("Sides in main blocks", sides(history.sides))
    yield from _lines("Always together", [together(t) for t in history.together[:_ROWS]])
    yield from _table("Movements of warm-up and cool-down", history.frame, columns)


def _heading(title: str) -> list[RenderableType]:
    return [Text(""), Text(title.upper(), "bold")]


def _table(title: str, rows: Sequence[Used], columns: _Columns) -> Iterator[RenderableType]:
    if not rows:
        return
    yield from _heading(title)
    table = Table.grid(padding=(0, 2))
    table.add_column(overflow="fold", min_width=columns.name)
    table.add_column(justify="right")
    table.add_column(no_wrap=True)
    table.add_column(no_wrap=True)
    table.add_row(*(Text(head, "dim") for head in ("", "classes", "last", "week by week")))
    for row in rows[:_ROWS]:
        table.add_row(Text(clean(row.name)), Text(str(row.classes)), Text(day(row.last)), Text(strip(row.weeks[-columns.weeks:])))
    yield table
    if len(rows) > _ROWS:
        yield Text(f"and {len(rows) - _ROWS} more: --format json has them all", "dim")


def strip(weeks: Sequence[int]) -> str:
    """``1·2··+``: a mark a week."""
    return "".join("·" if not n else str(n) if n < 10 else "+" for n in weeks)


def _unused(title: str, rows: Sequence[Unused]) -> Iterator[RenderableType]:
    if rows:
        more = f"; and {len(rows) - _ROWS} more" if len(rows) > _ROWS else ""
        yield Text(f"{title}: " + ", ".join(map(unused, rows[:_ROWS])) + more)


def unused(row: Unused) -> str:
    """``carry (never)``, ``thruster (4 classes, last 2026-01-12)``."""
    told = [] if row.classes is None else [classes(row.classes)]
    return f"{clean(row.name)} ({', '.join([*told, f'last {day(row.last)}' if row.last else 'never'])})"


def _lines(title: str, lines: Sequence[str]) -> Iterator[RenderableType]:
    if lines:
        yield from _heading(title)
        yield from map(Text, lines)


def push_pull(count: PushPull) -> list[str]:
    if not count.push + count.pull:
        return []
    return [
        f"push {count.push} (horizontal {count.horizontal_push}, vertical {count.vertical_push}), "
        f"pull {count.pull} (horizontal {count.horizontal_pull}, vertical {count.vertical_pull})"
    ]


def sides(count: SideCount) -> list[str]:
    first = {"left first": count.left_first, "right first": count.right_first, "not said which first": count.unsaid_first}
    only = {"left": count.left_only, "right": count.right_only, "not said which": count.unsaid_only}
    lines = [_split("one side, then the other", first), _split("one side only", only)]
    return [line for line in (*lines, f"alternating: {count.alternating}" if count.alternating else "") if line]


def _split(what: str, counts: dict[str, int]) -> str:
    told = ", ".join(f"{name} {n}" for name, n in counts.items())
    return f"{what}: {sum(counts.values())} ({told})" if any(counts.values()) else ""


def together(group: Together) -> str:
    ids = ", ".join(map(str, group.classes[-5:]))
    return (f"{clean(', '.join(group.movements))}: {classes(len(group.classes))}, none of them without the others "
            f"({'last in ' if len(group.classes) > 5 else ''}{ids})")
