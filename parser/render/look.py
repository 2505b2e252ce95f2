"""What a call asks of a page: how wide it may be, whether bold and dim can be shown, and when the class starts."""

from __future__ import annotations

from dataclasses import dataclass

from ..clock import Start


@dataclass(frozen=True)
class Look:
    width: int = 80
    styled: bool = False
    """True on a terminal: bold and dim. Never colour."""
    start: Start | None = None
    """For pages with times of day."""
