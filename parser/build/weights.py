"""The few thresholds of building, from ``data/build.toml``."""

from __future__ import annotations

import tomllib
from functools import cache, lru_cache
from importlib.resources import files
from typing import Any


@lru_cache(maxsize=1)
def _data() -> dict[str, dict[str, Any]]:
    return tomllib.loads((files(__package__) / "data" / "build.toml").read_text(encoding="utf-8"))


def weight(name: str) -> float:
    value: float = _data()["weights"][name]
    return value


@cache
def words(name: str) -> frozenset[str]:
    return frozenset(_data()["words"][name])


def place(word: str) -> int | None:
    """Which block ``word`` names, counted from 1; -1 for the last."""
    place: int | None = _data()["places"].get(word)
    return place
