"""A class as others speak of it, and the weeks that are looked at."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A class as others speak of it."""

    id: int
    day: date | None = None
    title: str | None = None
    """What it is called aloud."""
    name: str
    """The file it was read from."""
    version: int | None = None
    """Which of its versions, where several of them are spoken of."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Version:
    """One content that the file of a class had."""

    number: int
    added: datetime
    name: str
    path: str | None
    """Where the file was; ``None``: standard input."""
    sha256: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Period:
    """Whole weeks from a Monday (ISO 8601) to ``until``, whose week may be cut short."""

    since: date
    until: date
    weeks: list[date]
    """The Mondays, oldest first."""
