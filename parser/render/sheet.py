"""A plan as the lines of a printed page, in order, before any medium lays them out.

Everything that was said passes through ``clean`` here, so that no layout can forget it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..clock import clock
from ..model import Break, Equipment, Movement, Plan, Source
from .clean import clean
from .wording import between, dose_and_sides, format_line, option_label, stated, time_amount

ORDINARY_CAUTIONS = (
    "Stop on pain, dizziness or chest discomfort, and get help if it does not pass.",
    "A screening questionnaire such as the PAR-Q+ and a qualified professional decide who should do what.",
    "This plan is what was said, not advice. Local rules apply.",
)
"""What every printed plan carries at its foot, whatever was said."""

_KIND = {"warm_up": "Warm-up", "main": "Main block", "cool_down": "Cool-down"}


@dataclass(frozen=True)
class Line:
    label: str
    text: str
    sources: tuple[Source, ...] = ()

    @property
    def at(self) -> str:
        """When it was first said, ``m:ss``; empty where the talk-through has no times."""
        return first_said(self.sources)


@dataclass(frozen=True)
class Entry:
    """One numbered movement and what stands under it."""

    number: int
    head: Line
    under: tuple[Line, ...]


@dataclass(frozen=True)
class Section:
    heading: str
    sources: tuple[Source, ...] = ()
    format: str = ""
    entries: tuple[Entry, ...] = ()
    lines: tuple[Line, ...] = ()

    @property
    def at(self) -> str:
        return first_said(self.sources)


@dataclass(frozen=True)
class Sheet:
    title: str
    origin: str
    facts: tuple[Line, ...]
    sections: tuple[Section, ...]
    foot: tuple[str, ...] = ORDINARY_CAUTIONS


def first_said(sources: Sequence[Source]) -> str:
    """The clock time of the first source that has one."""
    return next((clock(s.start) for s in sources if s.start is not None), "")


def _line(label: str, text: str, sources: Sequence[Source] = ()) -> Line:
    return Line(clean(label), clean(text), tuple(sources))


def have_ready(item: Equipment) -> str:
    """``2 × dumbbell (or bottle)``, ``mat, optional``: as said, not yet clean."""
    text = item.name if item.quantity is None else f"{item.quantity} × {item.name}"
    if item.alternatives:
        text += " (or " + ", ".join(item.alternatives) + ")"
    return text + (", optional" if item.optional else "")


def _facts(plan: Plan) -> tuple[Line, ...]:
    totals = plan.totals
    parts = {"warm-up": totals.warm_up_s, "main": totals.main_s, "cool-down": totals.cool_down_s}
    reckoned = [f"{name} {text}" for name, ends in parts.items() if (text := between(*ends))]
    lines = []
    if plan.stated_length:
        lines.append(_line("Length as said", stated(plan.stated_length), plan.stated_length.sources))
    if whole := between(*totals.class_s):
        lines.append(_line("By arithmetic", whole + (f" ({', '.join(reckoned)})" if reckoned else "")))
    elif reckoned:
        lines.append(_line("By arithmetic", ", ".join(reckoned)))
    if plan.focus:
        lines.append(_line("Focus", ", ".join(plan.focus)))
    return (*lines, *(_line("Have ready", have_ready(item), item.sources) for item in plan.equipment))


def _entry(movement: Movement) -> Entry:
    detail = dose_and_sides(movement)
    under = [_line(option_label(o, movement), o.text, o.sources) for o in movement.options]
    under += [_line("cue", c.text, c.sources) for c in movement.cues]
    if movement.equipment:
        under.insert(0, _line("with", ", ".join(movement.equipment)))
    names = [movement.said] if movement.said.casefold() != movement.name.casefold() else []
    if others := [n for n in (*names, *movement.aliases) if n]:
        under.insert(0, _line("called", ", ".join(f"“{clean(n)}”" for n in others)))
    return Entry(movement.number, Line(clean(movement.name), clean(detail), tuple(movement.sources)), tuple(under))


def heading(plan: Plan, place: int) -> str:
    """Of ``plan.blocks[place]``: ``Main block 2: the long rope``. Main blocks are counted from 1 where there are several; the frame
    around them is not."""
    block = plan.blocks[place]
    name = _KIND[block.kind]
    if block.kind == "main" and len(plan.mains) > 1:
        name = f"{name} {sum(b.kind == 'main' for b in plan.blocks[: place + 1])}"
    return clean(f"{name}: {block.label}" if block.label else name)


def _section(plan: Plan, place: int) -> Section:
    block = plan.blocks[place]
    after = time_amount(block.rest_after_s)
    return Section(
        heading=heading(plan, place),
        sources=tuple(block.sources),
        format=format_line(block),
        entries=tuple(map(_entry, block.movements)),
        lines=(Line("then", f"{after} before what follows"),) if block.rest_after_s else (),
    )


def _break(pause: Break) -> Line:
    if pause.after is None:
        return _line("", pause.text, pause.sources)
    where = f"after block {pause.after.block}"
    if pause.after.round is not None:
        where += f", round {pause.after.round}"
    return _line(where, pause.text, pause.sources)


def plan_sheet(plan: Plan) -> Sheet:
    name = clean(plan.source.name)
    tails = [
        Section("Breaks", lines=tuple(map(_break, plan.breaks))),
        Section("Cautions said", lines=tuple(_line("", c.text, c.sources) for c in plan.cautions)),
        Section("Heard, not placed", lines=tuple(_line(u.kind, u.text, u.sources) for u in plan.unplaced)),
    ]
    recorded = f", {clock(plan.source.duration_s)} long" if plan.source.duration_s is not None else ""
    return Sheet(
        title=clean(plan.title or "") or name,
        origin=f"From {name}{recorded}",
        facts=_facts(plan),
        sections=(*(_section(plan, place) for place in range(len(plan.blocks))), *(t for t in tails if t.lines)),
    )
