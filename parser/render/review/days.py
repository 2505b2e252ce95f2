"""Days and classes in the words that a coach reads."""

from __future__ import annotations

from datetime import date

from ...review.shown import Period, Shown
from ..clean import clean

_MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December")
"""Not from the system: a page is the same wherever it is made."""


def day(value: date | None) -> str:
    """``2026-03-02`` (ISO 8601); of a class whose day nobody gave, that."""
    return "no date" if value is None else value.isoformat()


def written(value: date) -> str:
    """``2 March 2026``."""
    return f"{value.day} {_MONTHS[value.month - 1]} {value.year}"


def short(value: date) -> str:
    """``2 Mar``."""
    return f"{value.day} {_MONTHS[value.month - 1][:3]}"


def span(period: Period) -> str:
    """``6 weeks, 2 March to 10 April 2026``."""
    since, until = period.since, period.until
    told = written(since)
    if since.year == until.year:
        told = told.removesuffix(f" {since.year}")
        if since.month == until.month:
            told = str(since.day)
    return f"{some(len(period.weeks), 'week')}, {told} to {written(until)}"


def called(shown: Shown) -> str:
    """``12 (2026-03-02, Strength tonight)``, ``12, version 2 (…)``; by its file where it was not called anything aloud."""
    version = "" if shown.version is None else f", version {shown.version}"
    return f"{shown.id}{version} ({day(shown.day)}, {clean(shown.title or shown.name)})"


def some(number: int, what: str, *, plural: str = "") -> str:
    """``1 week``, ``3 weeks``."""
    return f"{number} {what if number == 1 else plural or what + 's'}"


def classes(number: int) -> str:
    return some(number, "class", plural="classes")
