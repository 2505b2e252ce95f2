"""The outputs by name. To add one: its file, a line here, an expected output in the tests, a line in the README."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from ..model import Plan, Report
from . import as_json, markdown, terminal
from .look import Look


@dataclass(frozen=True)
class Output:
    one: Callable[[Any, Look], str]
    together: Callable[[Sequence[tuple[str, str]], Look], str]
    """Joins what ``one`` made of several files, each with its name."""
    summary: Callable[[Sequence[Any], Look], str] | None = None
    """What stands under several of them."""


PLAN: Mapping[str, Output] = MappingProxyType({
    "text": Output(terminal.plan, terminal.together),
    "md": Output(markdown.plan, markdown.together),
    "json": Output(as_json.one, as_json.together),
})
REPORT: Mapping[str, Output] = MappingProxyType({
    "text": Output(terminal.report, terminal.together, terminal.classes),
    "md": Output(markdown.report, markdown.together, markdown.classes),
    "json": Output(as_json.one, as_json.together),
})
SCHEMAS: Mapping[str, type[Plan] | type[Report]] = MappingProxyType({"plan": Plan, "report": Report})


def render(documents: Sequence[Plan] | Sequence[Report], output: Output, look: Look, *, several: bool) -> str:
    """One document, or the documents of a call with several files: of one of these too, where the others could not
    be read, so that the shape of the output follows from the call."""
    if not several:
        return output.one(documents[0], look)
    text = output.together([(d.source.name, output.one(d, look)) for d in documents], look)
    return text + "\n" + output.summary(documents, look) if output.summary and len(documents) > 1 else text
