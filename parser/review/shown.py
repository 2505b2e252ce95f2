"""A class as others speak of it, and the weeks that are looked at."""

from __future__ import annotations

from datetime import date

from ..model import Frozen


class Shown(Frozen):
    """A class as others speak of it."""

    id: int
    day: date | None = None
    title: str | None = None
    """What it is called aloud."""
    name: str
    """The file it was read from."""
    version: int | None = None
    """Which of its versions, where several of them are spoken of."""


class Period(Frozen):
    """Whole weeks from a Monday (ISO 8601) to ``until``, whose week may be cut short."""

    since: date
    until: date
    weeks: list[date]
    """The Mondays, oldest first."""
