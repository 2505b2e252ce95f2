"""Times as captions and transcripts write them, lenient: hours optional, ``,`` or ``.`` before the fraction."""

from __future__ import annotations

import re

TIME = r"(?:[0-9]{1,4}:)?[0-9]{1,4}:[0-9]{1,2}(?:[.,][0-9]{1,9})?"
"""A time in a caption file. Every repeat is bounded, so a match costs the same on any text."""

_PARTS = re.compile(r"(?:([0-9]{1,4}):)?([0-9]{1,4}):([0-9]{1,2})(?:[.,]([0-9]{1,9}))?")


def seconds(written: str) -> float:
    """``1:02:03,5`` -> 3723.5: the fraction is decimal, so ``,5`` is half a second.

    ``written`` must match TIME.
    """
    hours, minutes, whole, fraction = _PARTS.fullmatch(written).groups()  # type: ignore[union-attr]
    total = int(hours or 0) * 3600 + int(minutes) * 60 + int(whole)
    return round(total + float(f"0.{fraction}"), 3) if fraction else float(total)
