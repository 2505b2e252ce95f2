"""Plain text without times: one cue a paragraph, nothing timed is claimed."""

from __future__ import annotations

from .draft import Draft, Line, Said
from .markdown import blocks


def read(text: str) -> Draft:
    said = [
        Said(None, None, [Line(line) for _, line in block.lines], heading=block.heading, at_line=block.lines[0][0])
        for block in blocks(text)
    ]
    return Draft(said=said)
