"""WebVTT (W3C) as it is written: a header, notes, and cues of plain text. What was said is text there, never a tag or an arrow."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from .clean import clean


@dataclass(frozen=True)
class Cue:
    start: float
    end: float
    lines: Sequence[str]


def document(cues: Iterable[Cue], notes: Iterable[str] = ()) -> str:
    blocks = ["WEBVTT", *(f"NOTE {_text(note)}" for note in notes), *map(_cue, cues)]
    return "\n\n".join(blocks) + "\n"


def _cue(cue: Cue) -> str:
    lines = [text for line in cue.lines if (text := _text(line))]
    return "\n".join([f"{_time(cue.start)} --> {_time(max(cue.end, cue.start + 0.001))}", *lines])


def _text(line: str) -> str:
    """One line without the characters that begin a tag, an escape or an arrow."""
    return clean(line).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _time(seconds: float) -> str:
    whole, ms = divmod(round(seconds * 1000), 1000)
    return f"{whole // 3600:02}:{whole // 60 % 60:02}:{whole % 60:02}.{ms:03}"
