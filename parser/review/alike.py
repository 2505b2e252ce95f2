"""Classes side by side."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from ..model import Block, Frozen
from .shown import Shown


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
