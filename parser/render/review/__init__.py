"""What the archive says over its classes: programming over time, habits, classes alike, and what changed. A table of outputs each."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from ...model import Frozen
from ...review import AlikeTo, Difference, Habits, History
from ..as_json import document
from ..look import Look
from . import alike, diff, habits, history, picture


def _json(found: Frozen, look: Look) -> str:
    return document(found.model_dump(mode="json"))


def _svg(found: History, look: Look) -> str:
    return picture.svg(found)


HISTORY: Mapping[str, Callable[[History, Look], str]] = MappingProxyType({"text": history.text, "json": _json, "svg": _svg})
HABITS: Mapping[str, Callable[[Habits, Look], str]] = MappingProxyType({"text": habits.text, "json": _json})
ALIKE: Mapping[str, Callable[[AlikeTo, Look], str]] = MappingProxyType({"text": alike.text, "json": _json})
DIFFERENCE: Mapping[str, Callable[[Difference, Look], str]] = MappingProxyType({"text": diff.text, "json": _json})
