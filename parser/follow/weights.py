"""The weights of the fit, from ``data/weights.toml``."""

from __future__ import annotations

import tomllib
from functools import lru_cache
from importlib.resources import files


@lru_cache(maxsize=1)
def weights() -> dict[str, dict[str, float]]:
    """``{table: {name: value}}``."""
    return tomllib.loads((files(__package__) / "data" / "weights.toml").read_text(encoding="utf-8"))
