"""A block while it is being filled, and which words of an announcement decide that it is one."""

from __future__ import annotations

from dataclasses import dataclass, field

SECTION = {"warm_up": "warm_up", "cool_down": "cool_down", "close": "cool_down"}
"""The phases whose movements frame the main part; every other phase belongs to it."""
FORMATS = frozenset({"emom", "amrap", "tabata", "for_time"})
DECIDING = frozenset({"work", "rounds", "bouts", "sets", "interval", "amrap", "cap"})
SETTINGS = DECIDING | {"rest", "round_rest", "movements", "block_rest"}


@dataclass(slots=True)
class OpenBlock:
    """A block being filled."""

    kind: str
    first: int
    items: list[list[int]] = field(default_factory=list)     # mention indices, the introduction first
    settings: list[int] = field(default_factory=list)
    lists: list[tuple[int, ...]] = field(default_factory=list)
    worked: bool = False
    """The clock has run in it: what is named from now on is called, not introduced."""
    worked_at: int = 0
    shown: int = 0
    """Items introduced before the clock ran."""
    formats: set[str] = field(default_factory=set)
    demonstrated: bool | None = None
    """Whether those are all of it: they are called again, not followed by new ones."""
