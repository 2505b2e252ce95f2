"""The planned class as a table: comma-separated values (RFC 4180), a row an interval, safe to open in a spreadsheet."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Sequence

from ..model import Amount, Plan
from ..schedule import Slot, schedule
from . import slots as words
from .brief import title
from .clean import clean
from .look import Look
from .wording import dose_and_sides

COLUMNS = ("class", "part", "round", "rounds", "number", "movement", "interval", "side", "dose", "start_s", "length_s")
_FORMULA = re.compile(r"(^|[;,|])(\s*)(?=[=+\-@＝＋－＠])")
"""Where a spreadsheet would begin a formula: OWASP, "CSV Injection" names the characters, and warns that a separator may begin a cell.
Tabs and line breaks, which it names too, are blanks by then."""


def one(plan: Plan, look: Look) -> str:
    return together([plan], look)


def together(plans: Sequence[Plan], look: Look) -> str:
    """The rows of all classes under one header: the first column tells them apart."""
    out = io.StringIO()
    writer = csv.writer(out, quoting=csv.QUOTE_NONNUMERIC, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for plan in plans:
        writer.writerows(_rows(plan))
    return out.getvalue()


def cell(text: str) -> str:
    """Words that no spreadsheet takes for a formula: an apostrophe before what would begin one."""
    return _FORMULA.sub(r"\1\2'", clean(text))


def _rows(plan: Plan) -> Iterator[list[str | int | float]]:
    """Starts are on a timer that stands still where no length was said, and takes the shorter where a range was."""
    longest = {_key(slot): slot.seconds for slot in schedule(plan, longest=True)}
    name = title(plan)
    for slot in schedule(plan):
        block, movement = plan.blocks[slot.place], words.movement_of(plan, slot)
        texts = [name, words.part(plan, slot), slot.round, _plain(block.rounds), slot.number, movement.name if movement else "", _kind(slot),
                 words.side(movement, slot) if slot.kind == "work" else "", dose_and_sides(movement) if movement and slot.kind == "work" else ""]
        yield [*map(_given, texts), _given(_number(slot.start)), _given(_length(slot.seconds, longest.get(_key(slot), slot.seconds)))]


def _key(slot: Slot) -> tuple[str, int, int | None, int | None, str | None]:
    return slot.kind, slot.place, slot.round, slot.number, slot.side


def _kind(slot: Slot) -> str:
    return words.KINDS[slot.kind] + (", at most" if slot.cap else "")


def _length(low: float | None, high: float | None) -> str | int | float | None:
    return _number(low) if low is None or high is None or low == high else _plain((low, high))


def _plain(amount: Amount) -> str | int | float | None:
    if isinstance(amount, tuple):
        return f"{amount[0]:g} to {amount[1]:g}"
    return _number(amount)


def _number(value: float | None) -> int | float | None:
    return int(value) if value is not None and value == int(value) else value


def _given(value: str | int | float | None) -> str | int | float:
    return cell(value) if isinstance(value, str) else "" if value is None else value
