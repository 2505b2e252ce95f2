"""What a class is kept as: its documents, and the rows that are asked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

MOBILITY = "mobility"
DayFrom = Literal["given", "name", "words"]
Row = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class Documents:
    """What a version is kept as; see the table of that name."""

    said: bytes
    plan: bytes
    report: bytes | None = None
    talk: bytes | None = None
    marks: bytes | None = None
    times: bytes | None = None


@dataclass(frozen=True, slots=True)
class Used:
    """A row of ``use`` without its class, with its movement and its variant spelled out."""

    item: int
    part: int
    base: str
    patterns: str
    muscles: str
    name: str
    modifiers: str
    rest: Row


@dataclass(frozen=True, slots=True)
class Parcel:
    name: str
    sha256: str
    title: str | None
    day: date | None
    day_from: DayFrom | None
    length: float | None
    lasts: float | None
    audited: bool
    followed: bool
    said: str
    documents: Documents
    blocks: tuple[Row, ...]
    uses: tuple[Used, ...]
    equipment: tuple[Row, ...]
    kit: tuple[Row, ...]
    findings: tuple[Row, ...]


def trained(patterns: Sequence[str], muscles: Sequence[str]) -> tuple[list[str], list[str]]:
    """What a movement counts for: a stretch in the shape of a hinge trains no hinge, and no muscle."""
    return ([MOBILITY], []) if MOBILITY in patterns else (sorted(set(patterns)), sorted(set(muscles)))
