"""A class in the index of the archive as a site."""

from __future__ import annotations

from pydantic import Field

from ..model import Frozen
from .shown import Shown


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
