"""The outputs by name. To add one: its file, a line here, an expected output in the tests, a line in the README."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, Literal

from ..model import Plan, Report
from . import as_json, calendar, card, chapters, cues, exercise_plan, intervals, markdown
from .look import Look


@dataclass(frozen=True)
class Output:
    one: Callable[[Any, Look], str]
    together: Callable[[Sequence[Any], Look], str] | None = None
    """Of several documents; ``None`` where that makes no sense."""
    summary: Callable[[Sequence[Any], Look], str] | None = None
    """What stands under several of them."""
    start: Literal["none", "time", "date"] = "none"
    """Whether it has times of day: none, where a start is given, or only with a start and its date."""
    recorded: bool = False
    """Made of a ``Recorded``: needs to know what was done when."""
    lacks: Callable[[Any], str] | None = None
    """Why it cannot be made of a document, and what to do; empty where it can."""


def _text(name: str) -> Callable[[Any, Look], str]:
    """A function of ``terminal``, which only brings its library with it when it is called."""
    def call(given: Any, look: Look) -> str:
        from . import terminal

        laid_out: str = getattr(terminal, name)(given, look)
        return laid_out

    return call


def _under_names(one: Callable[[Any, Look], str], together: Callable[[Any, Look], str]) -> Callable[[Sequence[Any], Look], str]:
    return lambda documents, look: together([(d.source.name, one(d, look)) for d in documents], look)


PLAN: Mapping[str, Output] = MappingProxyType({
    "text": Output(_text("plan"), _under_names(_text("plan"), _text("together"))),
    "md": Output(markdown.plan, _under_names(markdown.plan, markdown.together)),
    "json": Output(as_json.one, as_json.together),
    "card": Output(card.plan, card.together, start="time"),
    "chapters": Output(chapters.webvtt, recorded=True, lacks=chapters.lacks),
    "times": Output(chapters.times, recorded=True, lacks=chapters.lacks),
    "cues": Output(cues.one, lacks=cues.lacks),
    "ics": Output(calendar.one, start="date"),
    "csv": Output(intervals.one, intervals.together),
    "jsonld": Output(exercise_plan.one, exercise_plan.together),
})
REPORT: Mapping[str, Output] = MappingProxyType({
    "text": Output(_text("report"), _under_names(_text("report"), _text("together")), _text("classes")),
    "md": Output(markdown.report, _under_names(markdown.report, markdown.together), markdown.classes),
    "json": Output(as_json.one, as_json.together),
})
SCHEMAS: Mapping[str, type[Plan] | type[Report]] = MappingProxyType({"plan": Plan, "report": Report})


def render(documents: Sequence[Plan] | Sequence[Report], output: Output, look: Look, *, several: bool) -> str:
    """One document, or the documents of a call with several files: of one of these too, where the others could not
    be read, so that the shape of the output follows from the call."""
    if not several:
        return output.one(documents[0], look)
    if output.together is None:
        raise ValueError("This output is made of one document.")
    text = output.together(documents, look)
    return text + "\n" + output.summary(documents, look) if output.summary and len(documents) > 1 else text
