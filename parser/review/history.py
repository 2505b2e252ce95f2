"""Programming over time."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from .shown import Period


@dataclass(frozen=True, slots=True, kw_only=True)
class Used:
    """A movement, pattern or muscle of the weeks looked at, by the classes that have it."""

    name: str
    classes: int
    last: date
    weeks: list[int]
    """Classes in each week, oldest first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Unused:
    """One that none of the weeks looked at has. ``last`` is of all the time before, ``None``: never. ``classes``: how many had it,
    told of movements only."""

    name: str
    classes: int | None = None
    last: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PushPull:
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


@dataclass(frozen=True, slots=True, kw_only=True)
class SideCount:
    """Movements by how their sides are worked, as often as a plan has them, and which side was said to be first, or to be the only
    one."""

    alternating: int = 0
    left_first: int = 0
    right_first: int = 0
    unsaid_first: int = 0
    left_only: int = 0
    right_only: int = 0
    unsaid_only: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """Movements that came in these classes, the oldest first, and in no other of the weeks looked at."""

    movements: list[str]
    classes: list[int]
    last: date


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
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
    movements: list[Used] = field(default_factory=list)
    frame: list[Used] = field(default_factory=list)
    patterns: list[Used] = field(default_factory=list)
    muscles: list[Used] = field(default_factory=list)
    stretched: list[Used] = field(default_factory=list)
    movements_unused: list[Unused] = field(default_factory=list)
    """Those that an earlier class had."""
    patterns_unused: list[Unused] = field(default_factory=list)
    muscles_unused: list[Unused] = field(default_factory=list)
    push_pull: PushPull = PushPull()
    sides: SideCount = SideCount()
    together: list[Together] = field(default_factory=list)
