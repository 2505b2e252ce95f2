"""What goes wrong again, as plain lines: how often, in which half, with what, and where to listen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.console import RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from ...clock import clock
from ...review.habits import Habit, Habits, Moment, Off, Share
from ..clean import clean
from ..console import to_text
from ..look import Look
from ..rows import CLEAN
from ..wording import length
from .days import classes, day, some, written

FOOT = (
    "Counted is what the reports found: what they cannot hear is not here.",
    "Who should do what, and how, is for a qualified professional to decide.",
)
MOMENTS = 3
"""Moments of one habit. JSON has them all."""
_NAMES = 3


def text(found: Habits, look: Look) -> str:
    return to_text(list(_parts(found, look)), look)


def _parts(found: Habits, look: Look) -> Iterator[RenderableType]:
    yield Text("What comes again", "bold")
    yield from (Text(line, "dim") for line in facts(found))
    if found.classes and not found.habits:
        yield from (Text(""), Text(CLEAN))
    for habit in again(found):
        yield Text("")
        yield Text.assemble((f"{clean(habit.about) or clean(habit.code)}", "bold"), (f"  {habit.severity}, {clean(habit.code)}", "dim"))
        yield from (Padding(Text(line), (0, 0, 0, 2)) for line in told(habit))
        yield Padding(_moments(habit), (0, 0, 0, 2))
    if single := once(found):
        yield from (Text(""), Text("In one class only", "bold"))
        yield from (Padding(Text(line), (0, 0, 0, 2)) for line in single)
    yield Text("")
    yield from (Text(line, "dim") for line in FOOT)


def again(found: Habits) -> list[Habit]:
    """What came in more than one class."""
    return [h for h in found.habits if h.overall.found > 1]


def once(found: Habits) -> list[str]:
    return [f"{clean(h.code)}: {'  '.join(filter(None, cells(h.moments[0])))}" for h in found.habits if h.overall.found == 1]


def facts(found: Habits) -> list[str]:
    if not found.classes:
        return ["No class with a report is kept."]
    lines = [f"{classes(found.classes)}, {found.clean} of them without a finding. The work of {found.followed} could be followed on the recording's clock."]
    if found.earlier and found.later:
        lines.append(
            f"Older half: {classes(found.earlier.classes)}, {written(found.earlier.since)} to {written(found.earlier.until)}. "
            f"Newer half: {classes(found.later.classes)}, {written(found.later.since)} to {written(found.later.until)}."
        )
    else:
        lines.append(f"{classes(found.dated)} with a date: too few to hold an older half against a newer.")
    return lines


def told(habit: Habit) -> list[str]:
    """``In 6 of 10 classes: 4 of 5 in the older half, 2 of 5 in the newer.``"""
    line = f"In {share(habit.overall)}"
    if habit.earlier and habit.later and habit.earlier.classes and habit.later.classes:
        line += f": {share(habit.earlier, short=True)} in the older half, {share(habit.later, short=True)} in the newer"
    lines = [line + "."]
    if habit.findings > habit.overall.found or habit.corrected:
        put_right = f", {habit.corrected} of them put right aloud" if habit.corrected else ""
        lines.append(f"{some(habit.findings, 'finding')} in all{put_right}.")
    lines += filter(None, [_off(habit.longer, "longer"), _off(habit.shorter, "less time")])
    told = {"by movement": _more_than_once(habit.movements), "by pattern": _more_than_once(habit.patterns)}
    if any(told.values()):
        lines.append(f"Most {'; '.join(f'{how}: {names}' for how, names in told.items() if names)}.")
    return lines


def _off(off: Off | None, how: str) -> str:
    """``5 took longer than announced, by 22 s in the middle.``"""
    if off is None:
        return ""
    by = length(off.by_s)
    return f"{off.count} took {how} than announced, by {by}" + (" in the middle." if off.count > 1 else ".")


def _more_than_once(counts: Sequence[tuple[str, int]]) -> str:
    return ", ".join(f"{clean(name)} {count}" for name, count in counts[:_NAMES] if count > 1)


def share(value: Share, *, short: bool = False) -> str:
    """``6 of 10 classes``."""
    return f"{value.found} of {value.classes}" if short else f"{value.found} of {classes(value.classes)}"


def _moments(habit: Habit) -> Table:
    table = Table.grid(padding=(0, 2))
    for _ in range(3):
        table.add_column(no_wrap=True)
    table.add_column(overflow="fold")
    for moment in habit.moments[:MOMENTS]:
        table.add_row(*map(Text, cells(moment)))
    return table


def cells(moment: Moment) -> tuple[str, str, str, str]:
    """``class 12``, its day, ``3:27``, what was found and the words."""
    message, words = clean(moment.message), clean(moment.quote)
    quote = f" “{words}”" if words and words.casefold() not in message.casefold() else ""
    return f"class {moment.id}", day(moment.day), "" if moment.at is None else clock(moment.at), message + quote
