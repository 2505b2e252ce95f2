"""Classes found again."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from .shown import Shown


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A place of a class that has what was asked for: the words, and those around them."""

    what: str
    """The movement, or what was found of it; empty where the words themselves were asked for."""
    at: float | None
    """Seconds from the start of the recording."""
    before: str
    words: str
    after: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    shown: Shown
    coach: str | None = None
    place: str | None = None
    tags: list[str] = field(default_factory=list)
    spots: list[Spot] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hits:
    """The first of the classes found, and how many there are."""

    schema_version: Literal["1"] = "1"
    found: int
    hits: list[Hit] = field(default_factory=list)
