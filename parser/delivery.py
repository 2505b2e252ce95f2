"""What was delivered: the intervals of a class with what was left out and what was said of the clock.

Following hands it to checking. Plain frozen dataclasses; moments are seconds from the start of the recording.
"""

from __future__ import annotations

from dataclasses import dataclass

from .mentions import Quantity
from .model import Coverage, Interval


@dataclass(frozen=True, slots=True)
class Skipped:
    """Work that was announced and not done. ``start`` and ``end`` hold the stretch where it should have been."""

    block: int
    round: int | None
    number: int | None
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class TimeLeft:
    """A statement of time left: the interval it falls in, and how far it is from the clock.

    ``error_s`` is positive where more was said to be left than there was; ``uncertainty_s`` covers word and edge.
    """

    quantity: Quantity
    interval: int
    at: float
    error_s: float
    uncertainty_s: float
    word_s: float
    """How long the stretch is in which the word can have been said."""
    explicit: bool
    """Said with a word for left (``ten to go``), not as a time alone."""

    @property
    def seconds(self) -> float:
        """What is said to be left; only what is one number is kept here."""
        return self.quantity.single or 0.0


@dataclass(frozen=True, slots=True)
class Left:
    """A block that ends before its plan: the first work not done, and when the block was left."""

    block: int
    round: int | None
    number: int | None
    at: float
    cut_off: bool
    """The recording ends there too."""


@dataclass(frozen=True, slots=True)
class Delivered:
    """The class as delivered.

    ``marked`` holds for each interval how well the talk marks the worse of its two edges (natural log of odds; below 0 where
    no word does). ``trusted`` are the main blocks that the talk follows closely enough to blame it where it does not.
    """

    intervals: tuple[Interval, ...] = ()
    marked: tuple[float, ...] = ()
    coverage: Coverage = Coverage()
    skipped: tuple[Skipped, ...] = ()
    time_left: tuple[TimeLeft, ...] = ()
    left: tuple[Left, ...] = ()
    trusted: frozenset[int] = frozenset()


NOTHING = Delivered()
