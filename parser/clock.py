"""Moments on the recording's clock, and times of day, written and read: the one place that knows what 3:27 means."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

_CLOCK = re.compile(r"(?:(\d{1,4}):)?(\d{1,4}):([0-5]\d(?:\.\d+)?)|(\d{1,7}(?:\.\d+)?)")


def clock(seconds: float) -> str:
    """Seconds from the start as ``m:ss``, from an hour on as ``h:mm:ss``. Whole seconds, rounded down: a moment that
    is jumped to must not lie behind the words."""
    whole = math.floor(abs(seconds))
    hours, minutes, rest = whole // 3600, whole // 60 % 60, whole % 60
    sign = "-" if seconds < 0 and whole else ""
    return f"{sign}{hours}:{minutes:02}:{rest:02}" if hours else f"{sign}{minutes}:{rest:02}"


def read_clock(text: str) -> float:
    """``m:ss``, ``h:mm:ss`` (a fraction of a second may follow) or plain seconds, as seconds.

    Raises ValueError, with a sentence that says what would work.
    """
    found = _CLOCK.fullmatch(text.strip())
    if not found or (found[1] and int(found[2]) > 59):
        raise ValueError(f"{text!r} is not a moment of the recording: write 3:27, 1:02:03 or seconds.")
    if found[4]:
        return float(found[4])
    return int(found[1] or 0) * 3600 + int(found[2]) * 60 + float(found[3])


_START = re.compile(r"(?:(\d{4}-\d\d-\d\d)[T ])?(\d{1,2}:\d\d)")


@dataclass(frozen=True)
class Start:
    """When a class starts, by the clock on the wall of its room: no zone, and a date only where one was given."""

    time: time
    date: date | None = None

    @property
    def moment(self) -> datetime:
        """On a day that does not matter where no date was given."""
        return datetime.combine(self.date or date(2000, 1, 1), self.time)

    def after(self, seconds: float) -> str:
        """The time of day so long after the start, ``18:35``. Whole minutes, rounded down, as a clock on the wall shows them."""
        return f"{self.moment + timedelta(seconds=seconds):%H:%M}"


def read_start(text: str) -> Start:
    """``18:30``, or with its date ``2026-03-02T18:30``.

    Raises ValueError, with a sentence that says what would work.
    """
    found = _START.fullmatch(text.strip())
    try:
        if not found:
            raise ValueError
        return Start(datetime.strptime(found[2], "%H:%M").time(), date.fromisoformat(found[1]) if found[1] else None)
    except ValueError:
        raise ValueError(f"{text!r} is no start of a class: write 18:30, or with its date 2026-03-02T18:30.") from None


@dataclass(frozen=True)
class Between:
    """An amount from ``low`` to ``high``, both of them too."""

    low: float
    high: float

    def times(self, factor: float) -> Between:
        return Between(self.low * factor, self.high * factor)


def read_between(text: str) -> Between:
    """``40`` or ``30-45``; either may be a time as ``read_clock`` reads it.

    Raises ValueError, with a sentence that says what would work.
    """
    low, _, high = text.partition("-")
    try:
        found = Between(read_clock(low), read_clock(high or low))
    except ValueError:
        raise ValueError(f"{text!r} is neither a number nor a range: write 3, or 3-5.") from None
    if found.high < found.low:
        raise ValueError(f"{text!r} goes down: write the lower number first, such as 3-5.")
    return found
