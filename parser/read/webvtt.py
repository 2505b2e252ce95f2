"""WebVTT by the W3C rules (https://www.w3.org/TR/webvtt1/, section 6): blocks, timings, cue text.

Tried before writing this: webvtt-py 0.6.0 keeps roll-up duplicates (787 words for 264 spoken in one talk), loses word times in
``.text``, does not unescape ``&amp;`` and takes timing lines for good that the rules refuse (27 of the 32 file-parsing cases kept
in the tests); pysubs2 1.8.1 leaves inline word stamps in the text, leaks a cue identifier and raises on some files (22 of 32).
"""

from __future__ import annotations

import html
import re
from dataclasses import dataclass

from ..errors import UnreadableInput
from . import subrip
from .draft import Draft, Line, Said, Word, join_single_words
from .rollup import drop_repeats

_TIME = re.compile(r"(?:([0-9]+):)?([0-9]{2}):([0-9]{2})\.([0-9]{3})(?![0-9])")
_SPACE = " \t\n\f\r"
_MOST_HOUR_DIGITS = 12
"""The rules set no limit; more digits than this is no length of time, and would not stay a finite number for long."""


@dataclass(slots=True)
class VttCue:
    """One cue block as the rules collect it: times in seconds, the rest as written."""

    identifier: str
    start: float
    end: float
    settings: str
    payload: str
    at_line: int


def claims(text: str) -> bool:
    """The signature: WEBVTT, then a space, a tab, a line end or nothing."""
    return text.startswith("WEBVTT") and (len(text) == 6 or text[6] in " \t\n")


def read(text: str) -> Draft:
    draft = Draft()
    blocks = parse_cues(text, draft)
    if not blocks and subrip.claims(text):
        # The header of one format over the timings of the other: every caption would be lost by the rules.
        return subrip.read(text)
    parts = [(block, _payload(block, draft)) for block in blocks]
    draft.said = drop_repeats([Said(b.start, b.end, lines, at_line=b.at_line) for b, lines in parts])
    if any(line.words for _, lines in parts for line in lines):
        _time_first_words(draft.said)
    else:
        draft.said = join_single_words(draft.said)
    return draft


def parse_cues(text: str, draft: Draft | None = None) -> list[VttCue]:
    """The cues of a WebVTT file. ``text`` has its line ends normalised; timing lines that fail are reported to ``draft``.

    Raises UnreadableInput without the signature.
    """
    if not claims(text):
        raise UnreadableInput("WebVTT must begin with the word WEBVTT on a line of its own.")
    lines = text.replace("\x00", "\ufffd").split("\n")
    cues: list[VttCue] = []
    row = 1
    if len(lines) > 1 and lines[1]:
        row = _skip_header(lines, row)
    while row < len(lines):
        row = _collect_block(lines, row, cues, draft)
    return cues


def _skip_header(lines: list[str], row: int) -> int:
    while row < len(lines) and lines[row] and "-->" not in lines[row]:
        row += 1
    return row


def _collect_block(lines: list[str], row: int, cues: list[VttCue], draft: Draft | None) -> int:
    """Read one block from ``row`` on, append its cue if it is one, and give the row after it.

    A block ends at an empty line, or above a line with an arrow that cannot be its own timing line. STYLE, REGION and NOTE
    blocks are blocks without a timing line: nothing of them is spoken.
    """
    top, cue, seen_arrow = row, None, False
    body: list[str] = []
    while row < len(lines):
        line = lines[row]
        if "-->" in line:
            if row - top > 1 or seen_arrow:
                break
            seen_arrow = True
            cue = _timing(line, identifier="\n".join(body), at_line=row + 1)
            if cue is not None:
                body = []
            elif draft is not None:
                draft.report(row + 1, f"'{line.strip()[:60]}' is no WebVTT timing line: its caption is left out.")
        elif line == "":
            row += 1
            break
        else:
            body.append(line)
        row += 1
    if cue is not None:
        cue.payload = "\n".join(body)
        cues.append(cue)
    return row


def _timing(line: str, *, identifier: str, at_line: int) -> VttCue | None:
    at = len(line) - len(line.lstrip(_SPACE))
    start, at = _timestamp(line, at)
    while at < len(line) and line[at] in _SPACE:
        at += 1
    if start is None or not line.startswith("-->", at):
        return None
    at += 3
    while at < len(line) and line[at] in _SPACE:
        at += 1
    end, at = _timestamp(line, at)
    if end is None:
        return None
    return VttCue(identifier, start, end, line[at:].strip(_SPACE), "", at_line)


def _timestamp(text: str, at: int) -> tuple[float | None, int]:
    found = _TIME.match(text, at)
    if not found:
        return None, at
    hours, minutes, whole, thousandths = found.groups()
    if int(minutes) > 59 or int(whole) > 59 or len(hours or "") > _MOST_HOUR_DIGITS:
        return None, at
    return round(int(hours or 0) * 3600 + int(minutes) * 60 + int(whole) + int(thousandths) / 1000, 3), found.end()


def _payload(cue: VttCue, draft: Draft) -> list[Line]:
    """The lines of a cue's text: markup gone, references decoded, each word after a timestamp with its time."""
    runs, open_tag = cue_text(cue.payload)
    if open_tag:
        draft.report(cue.at_line, "A '<' without its '>' hides the rest of the caption.")
    lines: list[Line] = []
    pieces: list[str] = []
    stamps: list[tuple[int, float]] = []
    at = 0
    for run, moment in [*runs, ("\n", None)]:
        if moment is not None:
            stamps.append((at, moment))
        first, *more = run.split("\n")
        pieces.append(first)
        at += len(first)
        for nexts in more:
            lines.append(_line("".join(pieces), stamps, cue.start))
            pieces, stamps, at = [nexts], [], len(nexts)
    return [line for line in lines if line.text]


def _line(raw: str, stamps: list[tuple[int, float]], cue_start: float) -> Line:
    if not stamps:
        return Line(" ".join(raw.split()))
    words, where = [], 0
    spans = [(m.start(), m.end()) for m in re.finditer(r"\S+", raw)]
    text = " ".join(raw[a:b] for a, b in spans)
    starts: dict[int, float] = {}
    place = 0
    for offset, moment in stamps:
        while place < len(spans) and spans[place][0] < offset:
            place += 1
        if place < len(spans):
            starts[place] = moment
    if starts:
        starts.setdefault(0, cue_start)
    for place, (a, b) in enumerate(spans):
        if place in starts:
            words.append(Word(where, where + b - a, starts[place]))
        where += b - a + 1
    return Line(text, words)


def cue_text(payload: str) -> tuple[list[tuple[str, float | None]], bool]:
    """``payload`` as runs of ``(text, moment)``; ``moment`` is the timestamp a run begins with, in seconds, or None.

    Tags go, also unknown ones; the small annotations of a ruby text (``<rt>``) are not spoken and go with their text. The
    second value is True where a ``<`` is never closed: by the rules it hides the rest.
    """
    runs: list[tuple[str, float | None]] = []
    moment: float | None = None
    open_tags: list[str] = []
    annotations = 0
    at = 0
    while at < len(payload):
        opened = payload.find("<", at)
        piece = payload[at : opened if opened >= 0 else len(payload)]
        if piece and not annotations:
            runs.append((html.unescape(piece), moment))
            moment = None
        if opened < 0:
            break
        closed = payload.find(">", opened)
        tag = payload[opened + 1 : closed if closed >= 0 else len(payload)]
        if tag[:1].isdecimal():
            stamp, end = _timestamp(tag, 0)
            if stamp is not None and end == len(tag):
                moment = stamp
        else:
            annotations += _step(tag, open_tags)
        if closed < 0:
            return runs, True
        at = closed + 1
    return runs, False


def _step(tag: str, open_tags: list[str]) -> int:
    """Open or close what ``tag`` says, by the rules; gives how many ruby annotations that opened (or, below zero, closed)."""
    if not tag.startswith("/"):
        name = re.split(r"[.\s]", tag, maxsplit=1)[0]
        if name in ("c", "i", "b", "u", "v", "lang", "ruby") or name == "rt" and open_tags[-1:] == ["ruby"]:
            open_tags.append(name)
            return int(name == "rt")
    elif open_tags and open_tags[-1] == tag[1:]:
        return -int(open_tags.pop() == "rt")
    elif tag == "/ruby" and open_tags[-2:] == ["ruby", "rt"]:
        del open_tags[-2:]
        return -1
    return 0


def _time_first_words(said: list[Said]) -> None:
    """In a file with word times, a caption without one is a single new word: it starts when its caption does."""
    for cue in said:
        if cue.lines and not cue.lines[0].words and cue.start is not None:
            line = cue.lines[0]
            line.words.insert(0, Word(0, len(line.text.split(None, 1)[0]), cue.start))
