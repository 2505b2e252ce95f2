"""The word tables of hearing, read once and validated by whoever uses them."""

from __future__ import annotations

import tomllib
from functools import lru_cache
from importlib.resources import files


@lru_cache(maxsize=None)
def table(name: str) -> dict:
    """The table ``data/NAME.toml``."""
    return tomllib.loads((files(__package__) / "data" / f"{name}.toml").read_text(encoding="utf-8"))
