"""Classes found again."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from ..model import Frozen
from .shown import Shown


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
