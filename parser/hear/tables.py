"""The word tables of hearing, read once and validated by whoever uses them."""

from __future__ import annotations

import tomllib
from functools import cache, lru_cache
from importlib.resources import files
from typing import Any

_KEPT = frozenset({"it's", "that's", "there's", "here's", "let's", "what's", "who's", "he's", "she's", "where's", "how's", "i's"})


@lru_cache(maxsize=32768)
def plain_word(word: str) -> tuple[str, bool]:
    """``word`` without an ``'s``, and whether there was one: ``cool-down's`` is ``down is``. Set phrases keep theirs."""
    if word.endswith("'s") and len(word) > 2 and word not in _KEPT:
        return word[:-2], True
    return word, False


@cache
def table(name: str) -> dict[str, Any]:
    """The table ``data/NAME.toml``."""
    return tomllib.loads((files(__package__) / "data" / f"{name}.toml").read_text(encoding="utf-8"))
