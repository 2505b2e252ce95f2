"""How wide a printed page may be, and whether bold and dim can be shown."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Look:
    width: int = 80
    styled: bool = False
    """True on a terminal: bold and dim. Never colour."""
