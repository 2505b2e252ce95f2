"""The weights of the fit and the words it looks for, from ``data``."""

from __future__ import annotations

import tomllib
from functools import lru_cache
from importlib.resources import files

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Steps = npt.NDArray[np.int64]
"""Steps of the time axis."""


@lru_cache(maxsize=1)
def weights() -> dict[str, dict[str, float]]:
    """``{table: {name: value}}``."""
    return tomllib.loads((files(__package__) / "data" / "weights.toml").read_text(encoding="utf-8"))


@lru_cache(maxsize=1)
def words() -> dict[str, frozenset[str]]:
    """``{name: tokens}``."""
    table = tomllib.loads((files(__package__) / "data" / "words.toml").read_text(encoding="utf-8"))
    return {name: frozenset(tokens) for name, tokens in table.items()}
