"""Plain text without times: one cue a paragraph, nothing timed is claimed."""

from __future__ import annotations

import re

from .draft import Draft, Line, Said
from .markdown import blocks

_MARKUP = re.compile(r"\s*<(?:\?xml|!doctype|html|[a-z]{1,20}[ >])", re.IGNORECASE)
_LETTER = re.compile(r"[^\W\d_]")


def claims(text: str) -> bool:
    """Anything with letters in it that is not the markup of another kind of document."""
    return _LETTER.search(text) is not None and _MARKUP.match(text) is None


def read(text: str) -> Draft:
    said = [
        Said(None, None, [Line(line) for _, line in block.lines], heading=block.heading, at_line=block.lines[0][0])
        for block in blocks(text)
    ]
    return Draft(said=said)
