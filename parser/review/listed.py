"""A class in the index of the archive as a site."""

from __future__ import annotations

from dataclasses import dataclass, field

from .shown import Shown


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """A class in the index of all of them."""

    shown: Shown
    page: str
    """The name of the file that its page is."""
    coach: str | None = None
    place: str | None = None
    tags: list[str] = field(default_factory=list)
    settings: list[str] = field(default_factory=list)
    """A line a main block, as said."""
    movements: list[str] = field(default_factory=list)
    equipment: list[str] = field(default_factory=list)
    findings: str
    """How many of each severity, in words."""
    places: list[int] = field(default_factory=list)
    """For each finding, in the order of the report, which one it is on the page, from 1."""
