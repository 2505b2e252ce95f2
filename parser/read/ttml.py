"""TTML captions (W3C Timed Text Markup Language 2, section 10 for timing), read with defusedxml.

Paragraphs become cues; spans with times of their own inside a paragraph give word times. Times nest: a child counts from its
parent's start, or, in a ``seq`` container, from the end of the one before it. No reader library tried keeps them all: webvtt-py
and srt do not read TTML, pysubs2 1.8.1 reads it but drops the times of spans.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from xml.etree.ElementTree import Element, ParseError

from defusedxml import DefusedXmlException
from defusedxml import ElementTree as SafeTree

from ..errors import UnreadableInput
from .draft import Draft, Line, Said, Word, join_single_words, usable_time
from .rollup import drop_repeats

_CLOCK = re.compile(r"([0-9]{2,9}):([0-9]{2}):([0-9]{2})(?:(\.[0-9]{1,9})|:([0-9]{2,9})(?:\.[0-9]{1,9})?)?")
_OFFSET = re.compile(r"([0-9]{1,12}(?:\.[0-9]{1,9})?)(h|ms|m|s|f|t)")
_ROOT = re.compile(r"<(?:[A-Za-z_][\w.-]{0,40}:)?tt[\s>]")
_UNSPOKEN = frozenset({"head", "metadata", "desc", "title", "copyright", "agent", "actor", "name", "set", "animate"})


def claims(text: str) -> bool:
    """XML whose first element is ``tt``, with or without a prefix."""
    head = text[:20000].lstrip()
    if not head.startswith("<"):
        return False
    found = _ROOT.search(head)
    first = re.search(r"<[A-Za-z_]", head)
    return bool(found and first and found.start() == first.start())


@dataclass(frozen=True, slots=True)
class Rates:
    frames: float = 30.0
    ticks: float = 1.0


@dataclass(slots=True)
class _Open:
    """An element being walked: its interval, and where the next child of a sequence begins."""

    element: Element
    start: float | None
    end: float | None
    next_start: float | None
    timed: bool


def read(text: str) -> Draft:
    try:
        root = SafeTree.fromstring(text)
    except ParseError as fault:
        line, column = fault.position
        raise UnreadableInput(
            f"The TTML breaks off at line {line}, column {column}: it is not well-formed XML there. Export it again."
        ) from None
    except (DefusedXmlException, ValueError):
        raise UnreadableInput("The TTML declares entities of its own, which are not read. Export it without them.") from None
    draft = Draft()
    _walk(root, _rates(root), draft)
    draft.said = join_single_words(drop_repeats(draft.said))
    return draft


def _rates(root: Element) -> Rates:
    parameters = {_local(key): value for key, value in root.attrib.items()}

    def number(key: str) -> float | None:
        value = parameters.get(key, "")
        return float(value) if value.isdecimal() and value.isascii() and 0 < len(value) < 12 and int(value) else None

    frames = number("frameRate") or 30.0
    multiplier = parameters.get("frameRateMultiplier", "").split()
    if len(multiplier) == 2 and all(part.isdecimal() and part.isascii() and 0 < len(part) < 12 and int(part) for part in multiplier):
        frames *= int(multiplier[0]) / int(multiplier[1])
    ticks = number("tickRate") or (frames if "frameRate" in parameters else 1.0)
    return Rates(frames, ticks)


def _local(name: str) -> str:
    return name.rsplit("}", 1)[-1]


def moment(written: str | None, rates: Rates) -> float | None:
    """A TTML time expression in seconds: ``00:01:02.5``, ``00:01:02:12`` (frames), ``62.5s``, ``1500ms``, ``90f``, ``9t``."""
    if written is None:
        return None
    written = written.strip()
    if found := _CLOCK.fullmatch(written):
        hours, minutes, seconds, fraction, frames = found.groups()
        total = int(hours) * 3600 + int(minutes) * 60 + int(seconds) + float(fraction or 0)
        return usable_time(round(total + (int(frames) / rates.frames if frames else 0), 3))
    if found := _OFFSET.fullmatch(written):
        unit = {"h": 3600, "m": 60, "s": 1, "ms": 0.001, "f": 1 / rates.frames, "t": 1 / rates.ticks}[found[2]]
        return usable_time(round(float(found[1]) * unit, 3))
    return None


def _walk(root: Element, rates: Rates, draft: Draft) -> None:
    """Depth first without recursion: a hostile file nests deeper than Python does."""
    stack: list[tuple[_Open, list[Element]]] = []
    paragraph: _Paragraph | None = None
    depth_of_paragraph = 0
    top = _opened(root, None, rates)
    stack.append((top, list(root)[::-1]))
    while stack:
        now, children = stack[-1]
        if children:
            child = children.pop()
            name = _local(child.tag) if isinstance(child.tag, str) else ""
            if not name or name in _UNSPOKEN or "Ruby" in name or _is_annotation(child):
                if paragraph is not None:
                    paragraph.add(child.tail, None)
                continue
            opened = _opened(child, now, rates)
            if name == "p" and paragraph is None:
                paragraph, depth_of_paragraph = _Paragraph(opened.start, opened.end), len(stack)
                paragraph.add(child.text, None)
            elif paragraph is not None:
                if name == "br":
                    paragraph.break_line()
                paragraph.add(child.text, opened.start if opened.timed else None)
            stack.append((opened, list(child)[::-1]))
            continue
        stack.pop()
        if paragraph is not None:
            if len(stack) == depth_of_paragraph:
                draft.said.append(Said(paragraph.start, paragraph.end, paragraph.lines(), at_line=len(draft.said) + 1))
                paragraph = None
            else:
                paragraph.add(now.element.tail, None)
        if stack and now.end is not None:
            stack[-1][0].next_start = now.end


def _is_annotation(element: Element) -> bool:
    return any(_local(key) == "ruby" and value in ("text", "textContainer", "delimiter") for key, value in element.attrib.items())


def _opened(element: Element, parent: _Open | None, rates: Rates) -> _Open:
    begin, end, length = (moment(element.get(key), rates) for key in ("begin", "end", "dur"))
    base = None if parent is None else parent.start
    if parent is not None and parent.element.get("timeContainer") == "seq" and parent.next_start is not None:
        base = parent.next_start
    if begin is not None or end is not None or length is not None:
        base = base or 0.0
    start = base if begin is None else (base or 0.0) + begin
    stop = None if end is None else (base or 0.0) + end
    if length is not None:
        ends = (start or 0.0) + length
        stop = ends if stop is None else min(stop, ends)
    timed = begin is not None
    if stop is None and parent is not None and element.tag and parent.element.get("timeContainer") != "seq":
        stop = parent.end
    return _Open(element, start, stop, start, timed)


class _Paragraph:
    """The text of one ``p`` as it is collected, runs of white space as one space (xml:space default)."""

    def __init__(self, start: float | None, end: float | None) -> None:
        self.start, self.end = start, end
        self._runs: list[list[tuple[str, float | None]]] = [[]]

    def add(self, text: str | None, moment: float | None) -> None:
        if text:
            self._runs[-1].append((text, moment))

    def break_line(self) -> None:
        self._runs.append([])

    def lines(self) -> list[Line]:
        return [line for runs in self._runs if (line := _line(runs)).text]


def _line(runs: list[tuple[str, float | None]]) -> Line:
    pieces, starts, length = [], {}, 0
    for text, moment in runs:
        if moment is not None:
            starts[length + len(text) - len(text.lstrip())] = moment
        pieces.append(text)
        length += len(text)
    raw, parts = "".join(pieces), []
    words, at = [], 0
    for found in re.finditer(r"\S+", raw):
        parts.append(found[0])
        if found.start() in starts:
            words.append(Word(at, at + len(found[0]), starts[found.start()]))
        at += len(found[0]) + 1
    return Line(" ".join(parts), words)
