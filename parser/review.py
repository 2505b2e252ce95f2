"""What an archive says when it looks over its classes: the frozen models that pass from it to the pages.

Classes are known by the number that the archive gave them. Days are dates without a zone; ``None`` is a class whose day nobody gave.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import Any, Literal

from pydantic import Field

from .model import Block, BlockKind, Dose, Frozen, Plan, Report, Severity, Sides


class Shown(Frozen):
    """A class as others speak of it."""

    id: int
    day: date | None = None
    title: str | None = None
    """What it is called aloud."""
    name: str
    """The file it was read from."""
    version: int | None = None
    """Which of its versions, where several of them are spoken of."""


class Period(Frozen):
    """Whole weeks from a Monday (ISO 8601) to ``until``, whose week may be cut short."""

    since: date
    until: date
    weeks: list[date]
    """The Mondays, oldest first."""


# ---------------------------------------------------------------- programming over time


class Used(Frozen):
    """A movement, pattern or muscle of the weeks looked at, by the classes that have it."""

    name: str
    classes: int
    last: date
    weeks: list[int]
    """Classes in each week, oldest first."""


class Unused(Frozen):
    """One that none of the weeks looked at has. ``last`` is of all the time before, ``None``: never. ``classes``: how many had it,
    told of movements only."""

    name: str
    classes: int | None = None
    last: date | None = None


class PushPull(Frozen):
    """Movements that push and that pull, as often as a plan has them; one that does both counts for both."""

    horizontal_push: int = 0
    vertical_push: int = 0
    horizontal_pull: int = 0
    vertical_pull: int = 0

    @property
    def push(self) -> int:
        return self.horizontal_push + self.vertical_push

    @property
    def pull(self) -> int:
        return self.horizontal_pull + self.vertical_pull


class SideCount(Frozen):
    """Movements by how their sides are worked, as often as a plan has them, and which side was said to be first, or to be the only
    one."""

    alternating: int = 0
    left_first: int = 0
    right_first: int = 0
    unsaid_first: int = 0
    left_only: int = 0
    right_only: int = 0
    unsaid_only: int = 0


class Together(Frozen):
    """Movements that came in these classes, the oldest first, and in no other of the weeks looked at."""

    movements: list[str]
    classes: list[int]
    last: date


class History(Frozen):
    """Programming over a stretch of weeks. Movements are the bases of a plan's parts (``single-arm row`` of a row and a curl in one).

    Movements, patterns and muscles are those of main blocks; ``frame`` are the movements of warm-up and cool-down. A movement that
    the lexicon calls mobility counts as that pattern alone, and its muscles as stretched.
    """

    schema_version: Literal["1"] = "1"
    period: Period
    classes: int
    undated: int = 0
    """Classes of the archive without a day: in none of the weeks."""
    later: int = 0
    """Classes after ``until``."""
    latest: date | None = None
    """The last day of the archive at or before ``until``."""
    per_week: list[int]
    movements: list[Used] = Field(default_factory=list)
    frame: list[Used] = Field(default_factory=list)
    patterns: list[Used] = Field(default_factory=list)
    muscles: list[Used] = Field(default_factory=list)
    stretched: list[Used] = Field(default_factory=list)
    movements_unused: list[Unused] = Field(default_factory=list)
    """Those that an earlier class had."""
    patterns_unused: list[Unused] = Field(default_factory=list)
    muscles_unused: list[Unused] = Field(default_factory=list)
    push_pull: PushPull = PushPull()
    sides: SideCount = SideCount()
    together: list[Together] = Field(default_factory=list)


# ---------------------------------------------------------------- what goes wrong again


class Moment(Frozen):
    """Where a finding shows: the first words that it rests on."""

    id: int
    place: int
    """Which of the class's findings it is, in the order of its report, from 0."""
    day: date | None
    at: float | None
    """Seconds from the start of the recording."""
    quote: str
    message: str


class Share(Frozen):
    """``found`` of ``classes``."""

    found: int
    classes: int


class Off(Frozen):
    """Stretches of the class that took another time than announced, and by how many seconds: the middle one of them (median)."""

    count: int
    by_s: float


class Habit(Frozen):
    """One code of the report over the classes that could show it: ``overall.classes`` is all of them, or for what only the clock
    shows, those that could be followed."""

    code: str
    about: str
    severity: Severity
    """The worst that it was found with."""
    overall: Share
    earlier: Share | None = None
    """The older half of the dated classes, and ``later`` the newer; ``None`` where they are too few."""
    later: Share | None = None
    findings: int
    corrected: int
    """How many of the findings were put right aloud."""
    longer: Off | None = None
    """Of findings that measure a stretch against its announced length: those that took longer, and those that took less."""
    shorter: Off | None = None
    movements: list[tuple[str, int]] = Field(default_factory=list)
    """What was being done, and how many of the findings it had, most first."""
    patterns: list[tuple[str, int]] = Field(default_factory=list)
    moments: list[Moment] = Field(default_factory=list)
    """Newest first."""


class Stretch(Frozen):
    """The days from the first to the last of some classes."""

    since: date
    until: date
    classes: int


class Habits(Frozen):
    schema_version: Literal["1"] = "1"
    classes: int
    dated: int
    followed: int
    """Classes whose work could be followed on a recording's clock."""
    clean: int
    """Classes without any finding."""
    earlier: Stretch | None = None
    later: Stretch | None = None
    habits: list[Habit] = Field(default_factory=list)
    """Those of most classes first."""


# ---------------------------------------------------------------- classes side by side


class Likeness(Frozen):
    """How like two classes are in each respect, 0 to 1; ``None`` where neither says anything of it."""

    movements: float | None = None
    patterns: float | None = None
    format: float | None = None
    timing: float | None = None
    equipment: float | None = None
    whole: float


class Alike(Frozen):
    """One class and how it differs from the one that was asked after: what it has more, and what it lacks."""

    shown: Shown
    likeness: Likeness
    shared: list[str]
    """Movements that both have."""
    more: list[str]
    lacks: list[str]
    settings: list[tuple[Block | None, Block | None]] = Field(default_factory=list)
    """Main blocks whose settings differ, without their movements: of the one asked after, and of this."""
    equipment_more: list[str] = Field(default_factory=list)
    equipment_lacks: list[str] = Field(default_factory=list)


class AlikeTo(Frozen):
    schema_version: Literal["1"] = "1"
    shown: Shown
    compared: int
    """How many other classes there are."""
    alike: list[Alike] = Field(default_factory=list)
    """The most alike first."""


class Doing(Frozen):
    """How a movement is dosed, and on which sides."""

    sides: Sides
    dose: Dose


class Change(Frozen):
    """One thing that differs. ``before`` and ``after`` are as the plan or the report has them; ``None`` where it is not there."""

    about: Literal["title", "focus", "stated_length", "block", "setting", "movement", "doing", "option", "equipment", "finding"]
    change: Literal["added", "removed", "moved", "changed"]
    kind: BlockKind | None = None
    block: int | None = None
    """The main block, counted from 1 as in the report: of the newer plan, or where something was removed, of the older."""
    name: str | None = None
    """The movement, the piece of equipment, or the field of the block's settings."""
    before: Any = None
    after: Any = None


class Difference(Frozen):
    """What changed from one class to another, in the order of the plan."""

    schema_version: Literal["1"] = "1"
    before: Shown
    after: Shown
    changes: list[Change] = Field(default_factory=list)


# ---------------------------------------------------------------- classes found again


class Spot(Frozen):
    """A place of a class that has what was asked for: the words, and those around them."""

    what: str
    """The movement, or what was found of it; empty where the words themselves were asked for."""
    at: float | None
    """Seconds from the start of the recording."""
    before: str
    words: str
    after: str


class Hit(Frozen):
    shown: Shown
    coach: str | None = None
    place: str | None = None
    tags: list[str] = Field(default_factory=list)
    spots: list[Spot] = Field(default_factory=list)


class Hits(Frozen):
    """The first of the classes found, and how many there are."""

    schema_version: Literal["1"] = "1"
    found: int
    hits: list[Hit] = Field(default_factory=list)


# ---------------------------------------------------------------- one class


class Version(Frozen):
    """One content that the file of a class had."""

    number: int
    added: datetime
    name: str
    path: str | None
    """Where the file was; ``None``: standard input."""
    sha256: str


class Card(Frozen):
    """A class as it is kept. ``report`` is ``None`` where a plan alone was kept."""

    schema_version: Literal["1"] = "1"
    shown: Shown
    coach: str | None = None
    place: str | None = None
    tags: list[str] = Field(default_factory=list)
    version: int
    """The one that plan and report are of."""
    versions: list[Version]
    plan: Plan
    report: Report | None


# ---------------------------------------------------------------- the archive as a site


class Listed(Frozen):
    """A class in the index of all of them."""

    shown: Shown
    page: str
    """The name of the file that its page is."""
    coach: str | None = None
    place: str | None = None
    tags: list[str] = Field(default_factory=list)
    settings: list[str] = Field(default_factory=list)
    """A line a main block, as said."""
    movements: list[str] = Field(default_factory=list)
    equipment: list[str] = Field(default_factory=list)
    findings: str
    """How many of each severity, in words."""
    places: list[int] = Field(default_factory=list)
    """For each finding, in the order of the report, which one it is on the page, from 1."""
