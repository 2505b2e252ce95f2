"""What goes wrong again."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from ..kinds import Severity


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """Where a finding shows: the first words that it rests on."""

    id: int
    place: int
    """Which of the class's findings it is, in the order of its report, from 0."""
    day: date | None
    at: float | None
    """Seconds from the start of the recording."""
    quote: str
    message: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """``found`` of ``classes``."""

    found: int
    classes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Off:
    """Stretches of the class that took another time than announced, and by how many seconds: the middle one of them (median)."""

    count: int
    by_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Habit:
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
    movements: list[tuple[str, int]] = field(default_factory=list)
    """What was being done, and how many of the findings it had, most first."""
    patterns: list[tuple[str, int]] = field(default_factory=list)
    moments: list[Moment] = field(default_factory=list)
    """Newest first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """The days from the first to the last of some classes."""

    since: date
    until: date
    classes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Habits:
    schema_version: Literal["1"] = "1"
    classes: int
    dated: int
    followed: int
    """Classes whose work could be followed on a recording's clock."""
    clean: int
    """Classes without any finding."""
    earlier: Stretch | None = None
    later: Stretch | None = None
    habits: list[Habit] = field(default_factory=list)
    """Those of most classes first."""
