"""What changed from one class to another."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Literal

from ..kinds import BlockKind
from ..model import Dose, Sides
from .shown import Shown


@dataclass(frozen=True, slots=True, kw_only=True)
class Doing:
    """How a movement is dosed, and on which sides."""

    sides: Sides
    dose: Dose


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One thing that differs. ``before`` and ``after`` are as the plan or the report has them; ``None`` where it is not there."""

    about: Literal["title", "focus", "stated_length", "block", "setting", "movement", "doing", "option", "equipment", "finding"]
    change: Literal["added", "removed", "moved", "changed"]
    kind: BlockKind | None = None
    block: int | None = None
    """The main block, counted from 1 as in the report: of the newer plan, or where something was removed, of the older."""
    name: str | None = None
    """The movement, the piece of equipment, or the field of the block's settings."""
    before: Any = None
    after: Any = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """What changed from one class to another, in the order of the plan."""

    schema_version: Literal["1"] = "1"
    before: Shown
    after: Shown
    changes: list[Change] = field(default_factory=list)
