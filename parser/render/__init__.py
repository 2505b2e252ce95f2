"""The outputs by name. To add one: its file, a line here, an expected output in the tests, a line in the README."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from importlib import import_module
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Literal

from .look import Look

if TYPE_CHECKING:
    from ..model import Plan, Report


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


def _of(module: str, name: str) -> Callable[..., str]:
    """A function of ``module``, which is only brought in, with its libraries, when it is called."""
    def call(*given: Any) -> str:
        laid_out: str = getattr(import_module(f".{module}", __name__), name)(*given)
        return laid_out

    return call


def _under_names(one: Callable[[Any, Look], str], together: Callable[[Any, Look], str]) -> Callable[[Sequence[Any], Look], str]:
    return lambda documents, look: together([(d.source.name, one(d, look)) for d in documents], look)


PLAN: Mapping[str, Output] = MappingProxyType({
    "text": Output(_of("terminal", "plan"), _under_names(_of("terminal", "plan"), _of("terminal", "together"))),
    "md": Output(_of("markdown", "plan"), _under_names(_of("markdown", "plan"), _of("markdown", "together"))),
    "json": Output(_of("as_json", "one"), _of("as_json", "together")),
    "card": Output(_of("card", "plan"), _of("card", "together"), start="time"),
    "chapters": Output(_of("chapters", "webvtt"), recorded=True, lacks=_of("chapters", "lacks")),
    "times": Output(_of("chapters", "times"), recorded=True, lacks=_of("chapters", "lacks")),
    "cues": Output(_of("cues", "one"), lacks=_of("cues", "lacks")),
    "ics": Output(_of("calendar", "one"), start="date"),
    "csv": Output(_of("intervals", "one"), _of("intervals", "together")),
    "jsonld": Output(_of("exercise_plan", "one"), _of("exercise_plan", "together")),
})
REPORT: Mapping[str, Output] = MappingProxyType({
    "text": Output(_of("terminal", "report"), _under_names(_of("terminal", "report"), _of("terminal", "together")), _of("terminal", "classes")),
    "md": Output(_of("markdown", "report"), _under_names(_of("markdown", "report"), _of("markdown", "together")), _of("markdown", "classes")),
    "json": Output(_of("as_json", "one"), _of("as_json", "together")),
})
SCHEMAS: Mapping[str, Callable[[], str]] = MappingProxyType({"plan": _of("as_json", "plan_schema"), "report": _of("as_json", "report_schema")})


def render(documents: Sequence[Plan] | Sequence[Report], output: Output, look: Look, *, several: bool) -> str:
    """One document, or the documents of a call with several files: of one of these too, where the others could not
    be read, so that the shape of the output follows from the call."""
    if not several:
        return output.one(documents[0], look)
    if output.together is None:
        raise ValueError("This output is made of one document.")
    text = output.together(documents, look)
    return text + "\n" + output.summary(documents, look) if output.summary and len(documents) > 1 else text
