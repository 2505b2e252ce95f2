"""SubRip captions, with the faults they have in real life.

There is no standard; this reads what players accept: ``.`` for ``,``, a missing index, a short fraction (``,5`` is half a
second), blank lines inside a caption, no newline at the end, an end before the start (reported).

Tried before writing this: srt 3.5.3 reads ``,5`` as 5 ms; pysubs2 1.8.1 writes markup of its own (``{\\i1}``, ``\\N``) into the
text. Both leave tags and character references in it, and keep every line of roll-up captions as often as it is shown.
"""

from __future__ import annotations

import html
import re

from .clock import TIME, seconds
from .draft import Draft, Line, Said, join_single_words
from .rollup import drop_repeats

_TIMING = re.compile(rf"[ \t]*({TIME})[ \t]*-{{1,2}}>[ \t]*({TIME})[ \t]*(?:$|(?<=[ \t])[A-Za-z][A-Za-z0-9]{{0,15}}:[^ \t])")
"""A timing line; after it only settings may stand (``X1:40``, ``align:start``): with words after it, it is a stamp."""
_TAG = re.compile(r"</?(?:i|b|u|s|em|strong|font|span|c|v|ruby|rt|lang)(?:[ .\t][^<>]*)?>|\{\\[^{}]*\}|<br ?/?>", re.IGNORECASE)
_MARKS = frozenset("<{&")


def claims(text: str) -> bool:
    """A line that is a time, an arrow and a time."""
    return any("->" in line and _TIMING.match(line) for line in text.split("\n"))


def read(text: str) -> Draft:
    draft = Draft()
    lines = text.split("\n")
    timings = [(n, m) for n, line in enumerate(lines) if "->" in line and (m := _TIMING.match(line))]
    if timings and any(line.strip() and not line.strip().isdecimal() for line in lines[: timings[0][0]]):
        draft.report(1, "What stands before the first caption is left out.")
    said: list[Said] = []
    for place, (row, timing) in enumerate(timings):
        last = place + 1 == len(timings)
        stop = len(lines) if last else timings[place + 1][0]
        if not last and _is_index(lines, stop - 1, above=row):
            stop -= 1
        payload = [Line(clean) for n in range(row + 1, stop) if (clean := _payload_line(lines, n, draft))]
        said.append(Said(seconds(timing[1]), seconds(timing[2]), payload, at_line=row + 1))
    draft.said = join_single_words(drop_repeats(said))
    return draft


def _is_index(lines: list[str], row: int, *, above: int) -> bool:
    """A number right above a timing line is its index, unless it is all that the caption before it says."""
    if row <= above or not lines[row].strip().isdecimal():
        return False
    return row - 1 == above or not lines[row - 1].strip() or lines[row].strip() == _next_index(lines, above)


def _next_index(lines: list[str], timing: int) -> str | None:
    before = lines[timing - 1].strip() if timing else ""
    return str(int(before) + 1) if before.isdecimal() and len(before) < 10 else None


def _payload_line(lines: list[str], row: int, draft: Draft) -> str:
    line = lines[row]
    if "-->" in line and line.lstrip()[:1].isdecimal():
        draft.report(row + 1, f"'{line.strip()[:60]}' is no timing line: its caption continues the one before.")
        return ""
    return _bare(line)


def _bare(line: str) -> str:
    if not _MARKS.isdisjoint(line):
        line = html.unescape(_TAG.sub(lambda tag: " " if tag[0][:3].lower() == "<br" else "", line))
    return " ".join(line.split())
