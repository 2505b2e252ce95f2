"""What stands on a class card, in order, before it is laid out. All of it has passed through ``clean``."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from ...clock import Start
from ...model import Amount, Block, Movement, Plan
from ..brief import title
from ..clean import clean
from ..sheet import ORDINARY_CAUTIONS, have_ready, heading
from ..wording import asides, between, count, dose_and_sides, option_label, stated, time_amount
from .times import Times

_CAPTIONS = {"amrap": "for as many rounds as possible", "for_time": "at most, for time"}


@dataclass(frozen=True)
class Figure:
    """One number of a block's format, to be read from afar."""

    value: str
    caption: str
    light: bool = False
    """A rest: set lighter than work."""
    slash: bool = False
    """Belongs to the figure before it, ``50 / 10``."""


@dataclass(frozen=True)
class Row:
    """One numbered movement; ``options`` are pairs of label and words."""

    number: int
    name: str
    aside: str
    options: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Section:
    """A block. Warm-up and cool-down (``frame``) are set small, their movements one after another."""

    frame: bool
    heading: str
    at: str
    figures: tuple[Figure, ...]
    notes: tuple[str, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True)
class Card:
    title: str
    when: str
    facts: tuple[tuple[str, str], ...]
    sections: tuple[Section, ...]
    said: tuple[str, ...]
    """Cautions of the coach's own; ``cautions`` are the ordinary ones."""
    cautions: tuple[str, ...] = ORDINARY_CAUTIONS

    @property
    def several(self) -> bool:
        """Whether there is more than one main block."""
        return sum(not section.frame for section in self.sections) > 1


def card_sheet(plan: Plan, start: Start | None) -> Card:
    times = Times(plan, start)
    return Card(
        title=title(plan),
        when=times.of_class(),
        facts=tuple(_facts(plan)),
        sections=tuple(_sections(plan, times)),
        said=tuple(clean(c.text) for c in plan.cautions),
    )


def _facts(plan: Plan) -> Iterator[tuple[str, str]]:
    if plan.stated_length:
        yield "Length", stated(plan.stated_length)
    elif whole := between(*plan.totals.class_s):
        yield "Length", whole
    if plan.equipment:
        yield "Have ready", ", ".join(clean(have_ready(item)) for item in plan.equipment)


def _sections(plan: Plan, times: Times) -> Iterator[Section]:
    several = len(plan.mains) > 1
    for place, block in enumerate(plan.blocks):
        named = block.kind != "main" or several or block.label
        yield Section(
            frame=block.kind != "main",
            heading=heading(plan, place) if named else "",
            at=times.of_block(place),
            figures=tuple(_figures(block, several=several)),
            notes=tuple(_notes(block, times.of_rounds(place), several=several)),
            rows=tuple(map(_row, block.movements)),
        )


def _notes(block: Block, rounds: str, *, several: bool) -> Iterator[str]:
    """What is no figure; of several blocks, the rest between rounds too, for want of room."""
    if block.round_rest_s and several:
        yield f"{time_amount(block.round_rest_s)} between rounds"
    yield from asides(block)
    if block.rest_s == 0 and len(block.movements) > 1:
        yield "no rest between movements"
    if block.round_rest_s == 0:
        yield "no rest between rounds"
    if block.rest_after_s:
        yield f"then {time_amount(block.rest_after_s)} before what follows"
    if rounds:
        yield f"rounds begin at {rounds}"


def _row(movement: Movement) -> Row:
    options = tuple((clean(option_label(o, movement)), clean(o.text)) for o in movement.options)
    return Row(movement.number, clean(movement.name), clean(dose_and_sides(movement)), options)


# ---------------------------------------------------------------- the figures of a format


def _figures(block: Block, *, several: bool) -> Iterator[Figure]:
    if block.format == "emom" or block.interval_s is not None:
        yield _time(block.interval_s or 60.0, "a new start every", before=True)
    if block.duration_s is not None and block.format in _CAPTIONS:
        yield _time(block.duration_s, _CAPTIONS[block.format])
    if block.rep_scheme:
        yield Figure("-".join(map(str, block.rep_scheme)), "reps")
    if block.time_scheme:
        yield from _ladder(block.time_scheme)
    if block.format == "sets":
        yield from _rounds(block)
    if block.work_s is not None:
        yield _time(block.work_s, "work")
    if block.rest_s:
        yield _time(block.rest_s, "rest", light=True, slash=block.work_s is not None)
    if block.format != "sets":
        yield from _rounds(block)
    if block.round_rest_s and not several:
        yield _time(block.round_rest_s, "between rounds", light=True)
    if block.duration_s is not None and block.format not in _CAPTIONS:
        yield _time(block.duration_s, "in all")


def _rounds(block: Block) -> Iterator[Figure]:
    """One round goes without saying, and a coach may call the movements of it rounds."""
    if block.rounds is not None and block.rounds != 1:
        value, _, unit = count(block.rounds, "set" if block.format == "sets" else "round").rpartition(" ")
        yield Figure(value.replace(" to ", "–"), unit)


def _ladder(seconds: list[float]) -> Iterator[Figure]:
    """In minutes where all of them are whole."""
    whole = all(s % 60 == 0 for s in seconds)
    yield Figure("-".join(f"{s / 60 if whole else s:g}" for s in seconds), f"{'min' if whole else 's'} work, round by round")


def _time(amount: Amount, caption: str, *, before: bool = False, **more: Any) -> Figure:
    """``50`` over ``s work``; a length of several units stands as it is said elsewhere, ``2 min 30 s``."""
    value, _, unit = time_amount(amount).rpartition(" ")
    if any(letter.isalpha() for letter in value.replace(" to ", "")):
        return Figure(time_amount(amount), caption, **more)
    return Figure(value.replace(" to ", "–"), f"{caption} ({unit})" if before else f"{unit} {caption}", **more)
