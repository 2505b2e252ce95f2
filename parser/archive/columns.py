"""What stands in a column of a table, as what it is to be there. A torn file may have anything: each raises Damaged."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from typing import TypeVar

from .packing import Damaged

T = TypeVar("T")


def text(value: object) -> str:
    if not isinstance(value, str):
        raise Damaged(f"{value!r} is no text")
    return value


def text_or_none(value: object) -> str | None:
    return None if value is None else text(value)


def day_or_none(value: object) -> date | None:
    return None if value is None else _read(date.fromisoformat, value)


def moment(value: object) -> datetime:
    return _read(datetime.fromisoformat, value)


def _read(read: Callable[[str], T], value: object) -> T:
    try:
        return read(text(value))
    except ValueError as exc:
        raise Damaged(str(exc)) from exc
