"""The class as an event of a calendar (RFC 5545), with the plan as its description.

Times are local without a zone: the class starts by the clock of its room. An end is given only where one was said, or follows.
"""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from datetime import datetime, timedelta

from ..model import Plan
from .brief import brief, title
from .look import Look

_LINE_OCTETS = 75
"""RFC 5545, section 3.1."""


def one(plan: Plan, look: Look) -> str:
    """``look.start`` must have its date."""
    if look.start is None or look.start.date is None:
        raise ValueError("A calendar needs the date and time of the class.")
    return "".join(_folded(line) + "\r\n" for line in _lines(plan, look.start.moment))


def _lines(plan: Plan, start: datetime) -> Iterator[str]:
    yield from ("BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//planaloud//class plan//EN", "BEGIN:VEVENT")
    # The same class at the same time is the same event, so that a calendar replaces what it has, also by a plan mended since.
    yield f"UID:{uuid.uuid5(uuid.NAMESPACE_OID, f'{plan.source.sha256} {start.isoformat()}')}"
    # When the event was made: asked for by the standard (3.8.7.2), in UTC. The clock of the machine would make every run another file.
    yield f"DTSTAMP:{_stamp(start)}Z"
    yield f"DTSTART:{_stamp(start)}"
    seconds = length(plan)
    if seconds:
        yield f"DTEND:{_stamp(start + timedelta(seconds=seconds))}"
    yield f"SUMMARY:{_text(title(plan))}"
    yield "DESCRIPTION:" + _text("\n".join(brief(plan)))
    yield from ("END:VEVENT", "END:VCALENDAR")


def length(plan: Plan) -> float | None:
    """Seconds to keep free: the length as said, else the longest that the words allow; ``None`` where neither is known.

    ``over half an hour`` has no end that was said."""
    said = plan.stated_length
    if said is not None and said.qualifier != "over":
        return said.seconds
    return plan.totals.class_s[1]


def _stamp(moment: datetime) -> str:
    return f"{moment:%Y%m%dT%H%M%S}"


def _text(value: str) -> str:
    """Section 3.3.11."""
    for char, written in (("\\", "\\\\"), (";", "\\;"), (",", "\\,"), ("\n", "\\n")):
        value = value.replace(char, written)
    return value


def _folded(line: str) -> str:
    """Lines of at most 75 octets; a character is never cut in two."""
    rows, used = [""], 0
    for char in line:
        octets = len(char.encode("utf-8"))
        if used + octets > _LINE_OCTETS:
            rows.append(" ")
            used = 1
        rows[-1] += char
        used += octets
    return "\r\n".join(rows)
