"""A plan in a few plain lines, without times and coaching points: what a description of an event has room for."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import PurePath

from ..model import Plan
from .clean import clean
from .sheet import plan_sheet


def title(plan: Plan) -> str:
    """What the class is called, else the name of its file without the ending."""
    return clean(plan.title or "") or clean(PurePath(plan.source.name).stem)


def brief(plan: Plan) -> Iterator[str]:
    """Length, equipment, blocks with their numbered movements, cautions. No line is empty."""
    sheet = plan_sheet(plan)
    for fact in sheet.facts:
        yield f"{fact.label}: {fact.text}"
    for section in sheet.sections[:len(plan.blocks)]:
        yield f"{section.heading}: {section.format}" if section.format else section.heading
        for entry in section.entries:
            yield f"{entry.number}. {entry.head.label}" + (f", {entry.head.text}" if entry.head.text else "")
            yield from (f"   {line.label}: {line.text}" for line in entry.under if line.label.startswith(("easier", "harder", "instead")))
    yield from (clean(caution.text) for caution in plan.cautions if clean(caution.text))
    yield from sheet.foot
