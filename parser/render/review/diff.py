"""What changed between two classes, a line each."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import Any

from rich.console import RenderableType
from rich.padding import Padding
from rich.text import Text

from ...clock import clock
from ...kinds import BlockKind
from ...review.change import Change, Difference
from ..clean import clean
from ..console import to_text
from ..look import Look
from ..sheet import have_ready
from ..wording import doing as dose_words
from ..wording import format_line, kind_of_option, length, stated, time_amount
from .days import called

_PART = {"warm_up": "Warm-up", "main": "Main block", "cool_down": "Cool-down"}
_SETTING = {
    "label": "called", "format": "format", "rounds": "rounds", "work_s": "work", "rest_s": "rest", "round_rest_s": "rest between rounds",
    "interval_s": "a new start every", "duration_s": "length", "rep_scheme": "reps", "time_scheme": "work by round",
    "rest_after_s": "rest after it", "each_side_through": "the whole sequence on one side, then on the other", "partner": "in pairs",
}
_FORMAT = {
    "interval": "intervals", "tabata": "tabata", "emom": "on the minute", "amrap": "as many rounds as possible", "for_time": "for time",
    "sets": "sets", "flow": "flow",
}
SAME = "Nothing that a plan or a report has differs."


def text(found: Difference, look: Look) -> str:
    return to_text(list(_parts(found)), look)


def _parts(found: Difference) -> Iterator[RenderableType]:
    yield Text(f"From {called(found.before)}", "bold")
    yield Text(f"to {called(found.after)}", "bold")
    if not found.changes:
        yield from (Text(""), Text(SAME))
    for heading, group in groupby(found.changes, key=heading_of):
        yield from (Text(""), Text(heading.upper(), "bold"))
        yield from (Padding(Text(line(change)), (0, 0, 0, 2)) for change in group)


def heading_of(change: Change) -> str:
    if change.about == "finding":
        return "Findings"
    if change.kind is None:
        return "Equipment" if change.about == "equipment" else "The class"
    return part(change.kind, change.block)


def part(kind: BlockKind, block: int | None) -> str:
    return _PART[kind] + (f" {block}" if block is not None else "")


def line(change: Change) -> str:
    """One change in words, with nothing in it that moves a cursor."""
    return clean(_LINES[change.about](change))


def _turned(what: str, before: str, after: str) -> str:
    return f"{what}: {before or 'not said'} → {after or 'not said'}"


def _class(change: Change) -> str:
    if change.about == "title":
        return _turned("called", _quoted(change.before), _quoted(change.after))
    if change.about == "focus":
        return _turned("focus", ", ".join(change.before or ()), ", ".join(change.after or ()))
    return _turned("length as said", *(value and stated(value) for value in (change.before, change.after)))


def _quoted(words: str | None) -> str:
    return f"“{words}”" if words else ""


def _block(change: Change) -> str:
    block = change.after or change.before
    label = f" {_quoted(block.label)}" if block.label else ""
    settings = format_line(block)
    return f"{_IN_OUT[change.change]} block{label}" + (f": {settings}" if settings else "")


_IN_OUT = {"added": "new", "removed": "gone"}


def _setting(change: Change) -> str:
    field = str(change.name)
    return _turned(_SETTING[field], _value(field, change.before), _value(field, change.after))


def _value(field: str, value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if field == "format":
        return _FORMAT[value]
    if field == "label":
        return _quoted(value)
    if field == "partner":
        return "one works while the other waits" if value.mode == "alternate" else "both together"
    if field == "rep_scheme":
        return ", ".join(map(str, value))
    if field == "time_scheme":
        return ", ".join(map(length, value))
    if field == "rounds":
        return f"{value[0]:g} to {value[1]:g}" if isinstance(value, tuple) else f"{value:g}"
    return time_amount(value)


def _movement(change: Change) -> str:
    if change.change == "added":
        return f"new: {change.after}. {change.name}"
    if change.change == "removed":
        return f"gone: {change.before}. {change.name}"
    before = change.before
    if isinstance(before, dict):
        before = f"{part(before['kind'], before['block'])}, {before['number']}"
    return f"moved: {change.name}, from {before} to {change.after}"


def _doing(change: Change) -> str:
    return _turned(str(change.name), *(dose_words(value.sides, value.dose) for value in (change.before, change.after)))


def _option(change: Change) -> str:
    label = kind_of_option((change.after or change.before).kind)
    if change.change == "changed":
        return f"{change.name}, {label}: “{change.before.text}” → “{change.after.text}”"
    return f"{change.name}, {label} {'offered' if change.after else 'no longer offered'}: “{(change.after or change.before).text}”"


def _equipment(change: Change) -> str:
    if change.kind is not None:
        return _turned(f"{change.name}, with", ", ".join(change.before or ()), ", ".join(change.after or ()))
    if change.change == "changed":
        return _turned(str(change.name), have_ready(change.before), have_ready(change.after))
    return f"{_IN_OUT[change.change]}: {have_ready(change.after or change.before)}"


def _finding(change: Change) -> str:
    finding = change.after or change.before
    at = next((f" [{clock(s.start)}]" for s in finding.said if s.start is not None), "")
    return f"{_IN_OUT[change.change]}: {finding.severity}: {finding.message}  {finding.code}{at}"


_LINES = {
    "title": _class, "focus": _class, "stated_length": _class, "block": _block, "setting": _setting, "movement": _movement,
    "doing": _doing, "option": _option, "equipment": _equipment, "finding": _finding,
}
