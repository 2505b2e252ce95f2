"""The little of Markdown that transcripts use: headings, paragraphs, bullets, emphasis (CommonMark's rules for these)."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

_HEADING = re.compile(r" {0,3}#{1,6}(?:[ \t]+|$)")
_BULLET = re.compile(r"[ \t]*(?:[-*+•–—>][ \t]+)+")
_RULE = re.compile(r" {0,3}(?:-[ \t]*){3,}$| {0,3}(?:\*[ \t]*){3,}$| {0,3}(?:_[ \t]*){3,}$")
_UNDERLINE = re.compile(r" {0,3}(?:=+|-+)[ \t]*$")
_CELLS = re.compile(r"[ \t]*\|.*\|[ \t]*$")
_EMPHASIS = re.compile(r"\*\*|__|(?<![\w*])[*_](?=[\w\[(])|(?<=[\w.,!?;:)\]])[*_](?![\w*])|`")


@dataclass(slots=True)
class Block:
    """A heading or a paragraph: ``lines`` holds (line number from 1, text without marks), none of them empty."""

    heading: bool = False
    lines: list[tuple[int, str]] = field(default_factory=list)


def blocks(text: str) -> Iterator[Block]:
    """The headings and paragraphs of ``text`` in order; rules and blank lines only divide."""
    rows = text.split("\n")
    current = Block()
    for number, row in _after_front_matter(rows):
        if _RULE.match(row) and not (current.lines and _UNDERLINE.match(row)) or not row.strip():
            if current.lines:
                yield current
            current = Block()
        elif _UNDERLINE.match(row) and len(current.lines) == 1 and len(row.strip()) > 2:
            current.heading = True
            yield current
            current = Block()
        elif mark := _HEADING.match(row):
            if current.lines:
                yield current
            current = Block()
            if title := bare(row[mark.end() :].rstrip(" #\t")):
                yield Block(True, [(number, title)])
        elif _CELLS.match(row):
            # A table row is a line of its own; the row of dashes under its head says nothing.
            if line := "" if not row.strip(" \t|:-") else bare(row.strip(" \t|").replace("|", " ")):
                current.lines.append((number, line))
        elif line := bare(row[mark.end() :] if (mark := _BULLET.match(row)) else row):
            current.lines.append((number, line))
    if current.lines:
        yield current


def _after_front_matter(rows: list[str]) -> Iterator[tuple[int, str]]:
    """Number the rows from 1; metadata fenced by ``---`` at the very top is left out: nobody says it."""
    first = 0
    if rows and rows[0].rstrip() == "---":
        closing = next((n for n, row in enumerate(rows[1:60], 1) if row.rstrip() in ("---", "...")), 0)
        first = closing + 1 if closing and all(":" in row or not row.strip() for row in rows[1:closing]) else 0
    yield from enumerate(rows[first:], first + 1)


def bare(line: str) -> str:
    """``line`` without emphasis marks and with single spaces."""
    if any(mark in line for mark in "*_`"):
        line = _EMPHASIS.sub("", line)
    return " ".join(line.split())
