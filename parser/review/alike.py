"""Classes side by side."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from ..model import Block
from .shown import Shown


@dataclass(frozen=True, slots=True, kw_only=True)
class Likeness:
    """How like two classes are in each respect, 0 to 1; ``None`` where neither says anything of it."""

    movements: float | None = None
    patterns: float | None = None
    format: float | None = None
    timing: float | None = None
    equipment: float | None = None
    whole: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Alike:
    """One class and how it differs from the one that was asked after: what it has more, and what it lacks."""

    shown: Shown
    likeness: Likeness
    shared: list[str]
    """Movements that both have."""
    more: list[str]
    lacks: list[str]
    settings: list[tuple[Block | None, Block | None]] = field(default_factory=list)
    """Main blocks whose settings differ, without their movements: of the one asked after, and of this."""
    equipment_more: list[str] = field(default_factory=list)
    equipment_lacks: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True, kw_only=True)
class AlikeTo:
    schema_version: Literal["1"] = "1"
    shown: Shown
    compared: int
    """How many other classes there are."""
    alike: list[Alike] = field(default_factory=list)
    """The most alike first."""
