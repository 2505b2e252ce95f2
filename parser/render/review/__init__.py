"""What the archive says of its classes: those found, one of them, programming over time, habits, classes alike, and what changed. A table
of outputs each."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from importlib import import_module
from types import MappingProxyType
from typing import Any

from ..as_json import document
from ..look import Look

Outputs = Mapping[str, Callable[[Any, Look], str]]


def _json(found: Any, look: Look) -> str:
    from pydantic_core import to_jsonable_python

    return document(to_jsonable_python(found))


def _laid_out(name: str) -> Callable[[Any, Look], str]:
    """The text of the module ``name``, which only brings its library with it when it is called."""
    def call(found: Any, look: Look) -> str:
        text: str = import_module(f".{name}", __name__).text(found, look)
        return text

    return call


def _svg(found: Any, look: Look) -> str:
    from . import picture

    return picture.svg(found)


HISTORY: Outputs = MappingProxyType({"text": _laid_out("history"), "json": _json, "svg": _svg})
HABITS: Outputs = MappingProxyType({"text": _laid_out("habits"), "json": _json})
ALIKE: Outputs = MappingProxyType({"text": _laid_out("alike"), "json": _json})
DIFFERENCE: Outputs = MappingProxyType({"text": _laid_out("diff"), "json": _json})
HITS: Outputs = MappingProxyType({"text": _laid_out("found"), "json": _json})
CARD: Outputs = MappingProxyType({"text": _laid_out("card"), "json": _json})
