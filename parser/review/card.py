"""One class as it is kept."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from ..model import Plan, Report
from .shown import Shown, Version


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """A class as it is kept. ``report`` is ``None`` where a plan alone was kept."""

    schema_version: Literal["1"] = "1"
    shown: Shown
    coach: str | None = None
    place: str | None = None
    tags: list[str] = field(default_factory=list)
    version: int
    """The one that plan and report are of."""
    versions: list[Version]
    plan: Plan
    report: Report | None
