"""One class as it is kept."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from pydantic import Field

from ..model import Frozen, Plan, Report
from .shown import Shown


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
