"""The frozen models that pass between the stages, and the public shape of plan and report.

All moments are seconds from the start of the recording (float), all lengths seconds (``_s``). ``None`` means that
nobody said it and nothing implies it.
"""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field

from .kinds import BlockFormat, BlockKind, Focus, OptionKind, Resolution, Severity, SideMode

Span = tuple[int, int]
Amount = int | float | tuple[float, float] | None
"""A number, a range ``[low, high]``, or nothing said."""



class Frozen(BaseModel):
    # built when first used: a call for help makes none of them
    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)


# ---------------------------------------------------------------- the talk-through as read


class Source(Frozen):
    """Where something was said. ``chars`` slices the talk-through's text to exactly ``quote``."""

    start: float | None
    end: float | None
    quote: str
    chars: Span


class Cue(Frozen):
    """A captioned stretch of the talk. ``chars`` slices the talk-through's text to what was said in it."""

    start: float | None
    end: float | None
    chars: Span
    heading: bool = False
    """A heading of a Markdown transcript: not spoken."""


class WordTime(Frozen):
    """One word that the format itself gives a time for."""

    chars: Span
    start: float
    end: float


class ReadProblem(Frozen):
    """Something odd in the file that reading survived: a stamp that runs backwards, an end before its start."""

    line: int
    message: str


class TalkThrough(Frozen):
    """What a coach said, as read: the text is never rewritten."""

    name: str
    sha256: str
    format: str
    resolution: Resolution
    duration_s: float | None
    text: str
    cues: tuple[Cue, ...]
    words: tuple[WordTime, ...] = ()
    problems: tuple[ReadProblem, ...] = ()


# ---------------------------------------------------------------- the plan


class PlanSource(Frozen):
    name: str
    sha256: str
    format: str
    resolution: Resolution
    duration_s: float | None
    words: int


class StatedLength(Frozen):
    seconds: float
    qualifier: Literal["under", "about", "exact", "over"]
    sources: list[Source]


class Equipment(Frozen):
    name: str
    quantity: int | None = None
    optional: bool = False
    alternatives: list[str] = Field(default_factory=list)
    sources: list[Source] = Field(default_factory=list)


class Text(Frozen):
    """Something said that is worth keeping on paper: a caution, a coaching point."""

    text: str
    sources: list[Source] = Field(default_factory=list)


class Part(Frozen):
    name: str
    base: str | None
    link: Literal["then", "with", "while"] | None = None
    modifiers: list[str] = Field(default_factory=list)
    equipment: list[str] = Field(default_factory=list)
    patterns: list[str] = Field(default_factory=list)
    muscles: list[str] = Field(default_factory=list)


class Sides(Frozen):
    mode: SideMode = "both"
    seconds_each: Amount = None
    reps_each: Amount = None
    first: Literal["left", "right"] | None = None


class DosePhase(Frozen):
    text: str
    reps: int | None = None
    seconds: float | None = None


class Dose(Frozen):
    seconds: Amount = None
    reps: Amount = None
    counts: Amount = None
    breaths: Amount = None
    metres: Amount = None
    calories: Amount = None
    phases: list[DosePhase] = Field(default_factory=list)


class Option(Frozen):
    kind: OptionKind
    part: int | None = None
    text: str
    sources: list[Source]


class Movement(Frozen):
    number: int
    name: str
    parts: list[Part]
    sides: Sides = Field(default_factory=Sides)
    dose: Dose = Field(default_factory=Dose)
    options: list[Option] = Field(default_factory=list)
    cues: list[Text] = Field(default_factory=list)
    equipment: list[str] = Field(default_factory=list)
    said: str
    aliases: list[str] = Field(default_factory=list)
    sources: list[Source] = Field(default_factory=list)


class Partner(Frozen):
    mode: Literal["alternate", "together"]
    swap_s: float | None = None


class Block(Frozen):
    kind: BlockKind
    label: str | None = None
    format: BlockFormat | None = None
    rounds: Amount = None
    work_s: Amount = None
    rest_s: Amount = None
    round_rest_s: Amount = None
    interval_s: float | None = None
    duration_s: Amount = None
    rep_scheme: list[int] | None = None
    time_scheme: list[float] | None = None
    rest_after_s: Amount = None
    each_side_through: bool = False
    partner: Partner | None = None
    movements: list[Movement] = Field(default_factory=list)
    sources: list[Source] = Field(default_factory=list)

    def movement(self, number: int | None) -> Movement | None:
        """The movement with this number; ``None`` where there is none."""
        return next((m for m in self.movements if m.number == number), None)


class Place(Frozen):
    block: int
    round: int | None = None


class Break(Frozen):
    text: str
    after: Place | None = None
    sources: list[Source]


class Totals(Frozen):
    """Each ``[low, high]`` in seconds; ``None`` at an end that the words leave open."""

    warm_up_s: tuple[float | None, float | None] = (None, None)
    main_s: tuple[float | None, float | None] = (None, None)
    cool_down_s: tuple[float | None, float | None] = (None, None)
    class_s: tuple[float | None, float | None] = (None, None)


class Unplaced(Frozen):
    kind: str
    text: str
    sources: list[Source]


class Plan(Frozen):
    schema_version: Literal["1"] = "1"
    source: PlanSource
    title: str | None = None
    focus: list[Focus] = Field(default_factory=list)
    stated_length: StatedLength | None = None
    equipment: list[Equipment] = Field(default_factory=list)
    cautions: list[Text] = Field(default_factory=list)
    blocks: list[Block] = Field(default_factory=list)
    breaks: list[Break] = Field(default_factory=list)
    totals: Totals = Field(default_factory=Totals)
    unplaced: list[Unplaced] = Field(default_factory=list)

    @property
    def mains(self) -> list[Block]:
        """The main blocks: ``block`` of a finding or an interval counts them from 1."""
        return [b for b in self.blocks if b.kind == "main"]


# ---------------------------------------------------------------- the report


class Finding(Frozen):
    code: str
    severity: Severity
    message: str
    said: list[Source] = Field(default_factory=list)
    expected: str | None = None
    corrected: bool = False
    block: int | None = None
    round: int | None = None
    number: int | None = None


class Interval(Frozen):
    """One stretch of the class as delivered."""

    kind: Literal["work", "rest", "round_rest", "block_rest"]
    block: int
    round: int | None = None
    number: int | None = None
    side: Literal["first", "second"] | None = None
    start: float
    end: float
    uncertainty_s: float
    planned_s: float | None = None


class Coverage(Frozen):
    rounds_planned: int | None = None
    rounds_delivered: int | None = None
    movements_planned: int | None = None
    movements_delivered: int | None = None
    main_s_delivered: float | None = None


class Recorded(Frozen):
    """A plan with what was done of it and when, for outputs that follow the recording. Nothing is delivered where there is none."""

    plan: Plan
    delivered: list[Interval] = Field(default_factory=list)

    @property
    def source(self) -> PlanSource:
        return self.plan.source


class Report(Frozen):
    schema_version: Literal["1"] = "1"
    source: PlanSource
    findings: list[Finding] = Field(default_factory=list)
    delivered: list[Interval] = Field(default_factory=list)
    coverage: Coverage = Field(default_factory=Coverage)


# ---------------------------------------------------------------- plan, report and talk side by side

MarkKind = Literal["movement", "time", "side", "option", "number"]


class Mark(Frozen):
    """One thing heard, to be marked where it was said. ``means`` is what it was understood as: the name of a movement, the role of
    anything else; empty where nothing said what for."""

    kind: MarkKind
    means: str
    source: Source


class Reading(Frozen):
    """All that came of one talk-through, to be looked at together. Holds no more than can be found again from the talk."""

    talk: TalkThrough
    plan: Plan
    report: Report
    marks: tuple[Mark, ...] = ()
    """In the order of the talk; they may overlap."""
    meanwhile: tuple[Source | None, ...] = ()
    """What was said during each interval of ``report.delivered``; ``None`` where nothing was."""
