"""The class drawn to scale: planned above, done below.

Lengths across are shares of the whole, in percent, so that the drawing takes whatever width there is; heights are pixels.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import ceil

from ...clock import clock
from ...model import Block, Interval, Movement, Plan, Reading, Source
from ...schedule import Slot, schedule
from ..clean import clean
from ..rows import FindingRow
from ..sheet import heading
from ..wording import length
from .links import DONE, PIN, PLANNED, Link, Links

PIXELS_A_SECOND = 0.45
"""The least: a drawing that has less room is moved sideways, so that a rest of ten seconds can still be seen."""
_BAR, _GAP, _LABEL, _PIN, _AXIS = 30, 16, 16, 22, 22
_NUMBER_ROOM, _ROUND_ROOM, _WORD_ROOM = 13.0, 16.0, 55.0
"""Pixels that a number in a bar, a number over it and a word over it need."""
_TICKS_S = (15, 30, 60, 120, 300, 600, 900, 1800, 3600)
_TICK_ROOM = 64.0
_WIDEST = 20_000
"""Pixels. A length that was misheard may be any number; the drawing of it is still a drawing."""
_KIND = {"work": "work", "rest": "rest", "round_rest": "rest between rounds", "block_rest": "rest between blocks"}


@dataclass(frozen=True)
class Bar:
    """``x`` and ``width`` in percent, ``y`` and ``height`` in pixels."""

    link: Link
    look: str
    words: str
    x: str
    width: str
    y: float
    height: float
    number: str = ""
    middle: str = ""


@dataclass(frozen=True)
class Swatch:
    """A look in the key; ``y`` and ``height`` in a box of 18 pixels."""

    look: str
    name: str
    y: int
    height: int


_KEY = (
    Swatch("work whole", "work", 1, 16), Swatch("work first", "first side", 1, 8), Swatch("work second", "second side", 9, 8),
    Swatch("work frame whole", "warm-up, cool-down", 1, 16), Swatch("rest whole", "rest", 4, 10),
    Swatch("round_rest whole", "rest between rounds", 4, 10), Swatch("block_rest whole", "rest between blocks", 4, 10),
)


@dataclass(frozen=True)
class Label:
    x: str
    y: float
    text: str


@dataclass(frozen=True)
class Pin:
    link: Link
    look: str
    words: str
    x: str
    y: float


@dataclass(frozen=True)
class Timeline:
    least_width: int
    height: float
    planned: tuple[Bar, ...]
    done: tuple[Bar, ...]
    pins: tuple[Pin, ...]
    labels: tuple[Label, ...]
    ticks: tuple[Label, ...]
    rows: tuple[Label, ...]
    notes: tuple[str, ...]
    recorded_s: float | None
    """The whole width in seconds, where it is the recording's clock."""

    @property
    def drawn(self) -> bool:
        return bool(self.planned or self.done)

    @property
    def key(self) -> tuple[Swatch, ...]:
        """The looks that occur."""
        found = {bar.look.removesuffix(" cap") for bar in (*self.planned, *self.done)}
        return tuple(swatch for swatch in _KEY if swatch.look in found)


@dataclass(frozen=True)
class _Placed:
    """A slot of the plan where it is drawn."""

    slot: Slot
    start: float
    lane: int

    @property
    def seconds(self) -> float:
        """What has no length is not drawn."""
        return self.slot.seconds or 0.0

    @property
    def end(self) -> float:
        return self.start + self.seconds


def timeline(reading: Reading, links: Links, findings: Sequence[tuple[FindingRow, Link]]) -> Timeline:
    plan, done = reading.plan, reading.report.delivered
    placed, untold = _place(plan, done)
    ends = [p.end for p in placed] + [i.end for i in done] + ([plan.source.duration_s or 0.0] if done else [])
    whole = max(ends, default=0.0)
    draw = _Drawing(plan, whole or 1.0, links, lanes=max((p.lane for p in placed), default=0) + 1, recorded=bool(done))
    return Timeline(
        least_width=min(_WIDEST, round(whole * PIXELS_A_SECOND)),
        height=draw.bottom,
        planned=tuple(map(draw.planned, placed)),
        done=tuple(map(draw.done, done, reading.meanwhile)),
        pins=tuple(draw.pins(findings)) if done else (),
        labels=tuple(draw.labels(placed)),
        ticks=tuple(draw.ticks()),
        rows=draw.rows(planned=bool(placed), found=bool(findings)),
        notes=tuple(_notes(reading, bool(placed), untold)),
        recorded_s=whole if done else None,
    )


def _place(plan: Plan, done: Sequence[Interval]) -> tuple[list[_Placed], list[str]]:
    """Where each slot with a length is drawn, and the blocks without any.

    On the recording's clock a block begins where it was begun, one that was not followed where it was said, if that is later than
    what comes before it. Blocks that would overlap go to lanes of their own. Without a recording it is the timer's clock.
    """
    begun: dict[int, float] = {}
    for interval in done:
        begun.setdefault(interval.block, interval.start)
    placed: list[_Placed] = []
    untold: list[str] = []
    lanes: list[float] = []
    now = 0.0
    for place, slots in groupby(schedule(plan), key=lambda s: s.place):
        block, own = plan.blocks[place], list(slots)
        told = [s for s in own if s.seconds]
        if len(told) < len(own):
            untold.append(heading(plan, place))
        if not told:
            continue
        start = now
        if done:
            start = begun[own[0].block] if own[0].block in begun else max(now, _said_at(block))
        lane = next((n for n, end in enumerate(lanes) if end <= start), len(lanes))
        placed += [_Placed(s, start + s.start - own[0].start, lane) for s in told]
        now = start + own[-1].end - own[0].start
        lanes[lane:lane + 1] = [now]
    return placed, untold


def _said_at(block: Block) -> float:
    """When a warm-up or a cool-down was led: its movements are named as they are done."""
    if block.kind == "main":
        return 0.0
    return next((s.start for m in block.movements for s in m.sources if s.start is not None), 0.0)


def _notes(reading: Reading, planned: bool, untold: list[str]) -> Iterator[str]:
    report, timeless = reading.report, reading.talk.resolution == "none"
    if timeless:
        yield "The talk-through has no times, so nothing is said of when anything was done."
    elif not report.delivered:
        yield "What was done when could not be followed in this recording."
    elif planned:
        yield "On the recording's clock. Each block of the plan is drawn from where it was begun."
    if planned and not report.delivered:
        yield "The plan on a timer from zero."
    if not planned and not report.delivered:
        yield "No lengths were said that could be drawn."
    elif untold:
        yield f"Without a length, and not drawn: {', '.join(untold)}."


class _Drawing:
    def __init__(self, plan: Plan, whole: float, links: Links, *, lanes: int, recorded: bool) -> None:
        self.mains = plan.mains
        self.plan, self.whole, self.links, self.recorded = plan, whole, links, recorded
        self.top = _LABEL
        self.done_top = self.top + lanes * (_BAR + 4) + _GAP
        self.pin_top = self.done_top + (_BAR + 8 if recorded else -_GAP + 4)
        self.axis = self.pin_top + (_PIN if recorded else 0)
        self.bottom = self.axis + _AXIS

    def x(self, seconds: float) -> str:
        return f"{100 * seconds / self.whole:.3f}%"

    def _bar(self, kind: str, link: Link, words: str, start: float, seconds: float, top: float, number: int | None, side: str | None,
             cap: bool = False) -> Bar:
        """The first side takes the upper half of its row, the second the lower: no colour is needed to tell them apart."""
        look = f"{'work' if side else kind} {side or 'whole'}" + (" cap" if cap else "")
        half = _BAR / 2
        y, height = (top, _BAR) if side is None else (top, half - 1) if side == "first" else (top + half + 1, half - 1)
        if "rest" in kind:
            y, height = top + _BAR / 4, half
        shown = number is not None and "rest" not in kind and seconds * PIXELS_A_SECOND >= _NUMBER_ROOM and side is None
        return Bar(link, look, words, self.x(start), self.x(seconds), y, height,
                   str(number) if shown else "", self.x(start + seconds / 2))

    def planned(self, placed: _Placed) -> Bar:
        slot, block = placed.slot, self.plan.blocks[placed.slot.place]
        movement = block.movement(slot.number)
        sources = movement.sources if movement and slot.kind == "work" else block.sources
        words = f"Planned: {_words(slot, movement, block)}, {'at most ' if slot.cap else ''}{length(placed.seconds)}"
        kind = "work frame" if slot.kind == "work" and block.kind != "main" else slot.kind
        return self._bar(kind, self.links.add(PLANNED, sources), words, placed.start, placed.seconds,
                         self.top + placed.lane * (_BAR + 4), slot.number, slot.side, slot.cap)

    def done(self, interval: Interval, said: Source | None) -> Bar:
        block = self.mains[interval.block - 1] if interval.block <= len(self.mains) else None
        movement = block.movement(interval.number) if block else None
        took = interval.end - interval.start
        words = f"Done: {_words(interval, movement, block)}, {length(round(took, 1))} from {clock(interval.start)}"
        if interval.planned_s is not None and round(took - interval.planned_s, 1):
            words += f", {round(took - interval.planned_s, 1):+g} s"
        return self._bar(interval.kind, self.links.add(DONE, [said], at=interval.start), words, interval.start, took, self.done_top,
                         interval.number, interval.side)

    def pins(self, findings: Sequence[tuple[FindingRow, Link]]) -> Iterator[Pin]:
        for row, link in findings:
            if link.at is not None and link.at <= self.whole:
                again = self.links.add(PIN, link.sources)
                yield Pin(again, row.severity, f"{row.severity.capitalize()} at {row.at}: {row.message}", self.x(link.at), self.pin_top + 8)

    def labels(self, placed: Sequence[_Placed]) -> Iterator[Label]:
        """Over the bars, where there is room: the number of each round, where there is more than one, and warm-up and cool-down."""
        for (place, round_), group in groupby(placed, key=lambda p: (p.slot.place, p.slot.round)):
            work = [p for p in group if p.slot.kind == "work"]
            block = self.plan.blocks[place]
            if not work or work[0].lane:
                continue
            room = (work[-1].end - work[0].start) * PIXELS_A_SECOND
            if block.kind != "main":
                text = heading(self.plan, place)
            else:
                text = "" if round_ is None or block.rounds == 1 else f"Round {round_}" if room >= _WORD_ROOM else str(round_)
            if text and room >= (_WORD_ROOM if block.kind != "main" else _ROUND_ROOM):
                yield Label(self.x(work[0].start), self.top - 5, text)

    def ticks(self) -> Iterator[Label]:
        pixels = min(PIXELS_A_SECOND, _WIDEST / self.whole)
        step = next((t for t in _TICKS_S if t * pixels >= _TICK_ROOM), _TICK_ROOM / pixels)
        for n in range(ceil(self.whole / step)):
            yield Label(self.x(n * step), self.axis + 16, clock(n * step))

    def rows(self, *, planned: bool, found: bool) -> tuple[Label, ...]:
        names = [(self.top + 20, "Planned")] if planned else []
        if self.recorded:
            names += [(self.done_top + 20, "Done"), *([(self.pin_top + 12, "Findings")] if found else [])]
        return tuple(Label("0", y, name) for y, name in names)


def _words(where: Slot | Interval, movement: Movement | None, block: Block | None) -> str:
    """``round 2, work, 3 push-up, first side``."""
    found = [f"round {where.round}" if where.round is not None and (block is None or block.rounds != 1) else "", _KIND[where.kind]]
    if where.kind == "work" and movement is not None:
        found.append(f"{movement.number} {clean(movement.name)}")
    if where.side is not None:
        found.append(f"{where.side} side")
    return ", ".join(filter(None, found))
