"""Equipment and positions, as several rules need them."""

from __future__ import annotations

import tomllib
from functools import lru_cache
from importlib.resources import files
from typing import Any

from .looking import Shown


@lru_cache(maxsize=1)
def table() -> dict[str, Any]:
    """The tables of ``data/kit.toml``."""
    return tomllib.loads((files(__package__) / "data" / "kit.toml").read_text(encoding="utf-8"))


def kind_of(name: str) -> str:
    """What ``name`` counts as: the first of those that do for each other."""
    return next((row[0] for row in table()["alike"] if name in row), name)


def words_of(name: str) -> set[str]:
    """The words, singular and plural, by which ``name`` or what does for it may be spoken of."""
    row = next((row for row in table()["alike"] if name in row), [name])
    last = {n.split()[-1] for n in row}
    return last | {w + ("es" if w.endswith(("x", "ch")) else "s") for w in last}


def is_fetched(name: str) -> bool:
    return name in table()["fetched"]


def stance(item: Shown, *, end: bool) -> str | None:
    """``floor`` or ``standing`` where a movement begins, or ends; ``None`` for anything between."""
    parts = item.mention.match.parts
    position = parts[-1 if end else 0].position
    return next((name for name, row in table()["positions"].items() if position in row), None)
