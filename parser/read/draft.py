"""What every format is read into, and how that becomes a TalkThrough.

A reader gives lines of text with times; this module joins them, fills in the ends that the format leaves open, and says how
fine the times are. All times are seconds, finite and not negative.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from statistics import median

from ..kinds import Resolution
from ..model import Cue, ReadProblem, TalkThrough, WordTime

FINE_CUE_S = 12.0
"""Cues typically longer than this say only roughly when a word falls. (Common practice, no source: captions stay on screen
for up to about seven seconds, paragraphs of a transcript run to half a minute.)"""

LONGEST_WORD_S = 1.0
"""A word with no end of its own is not held longer than this. (Our choice: at an unhurried 2.7 words a second one word
lasts 0.37 s.)"""


@dataclass(slots=True)
class Word:
    """A word with a time of its own; ``first`` and ``last`` slice the line it stands in."""

    first: int
    last: int
    start: float
    end: float | None = None


@dataclass(slots=True)
class Line:
    """A line of a caption, markup removed, no space at its edges."""

    text: str
    words: list[Word] = field(default_factory=list)


@dataclass(slots=True)
class Said:
    """A stretch of the talk as the file divides it."""

    start: float | None
    end: float | None
    lines: list[Line]
    heading: bool = False
    at_line: int = 0


@dataclass(slots=True)
class Draft:
    said: list[Said] = field(default_factory=list)
    problems: list[ReadProblem] = field(default_factory=list)

    def report(self, line: int, message: str) -> None:
        self.problems.append(ReadProblem(line=line, message=message))


def usable_time(value: object) -> float | None:
    """``value`` as seconds, or None where it is no number, not finite or negative."""
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return None
    try:
        seconds = float(value)
    except OverflowError:
        return None
    return seconds if math.isfinite(seconds) and seconds >= 0 else None


def settle_ends(draft: Draft) -> None:
    """Give each cue without an end the start of the next one; an end before its start is reported and does not count.

    A cue without a start begins with its first timed word.
    """
    following: float | None = None
    for said in reversed(draft.said):
        if said.start is None:
            said.start = next((word.start for line in said.lines for word in line.words), None)
        if said.start is None:
            said.end = None  # an end alone places nothing
        if said.heading or said.start is None:
            continue
        if said.end is not None and said.end < said.start:
            draft.report(said.at_line, f"The caption ends ({said.end:g} s) before it starts ({said.start:g} s).")
            said.end = None
        if said.end is None and following is not None and following >= said.start:
            said.end = following
        following = said.start
    draft.problems.sort(key=lambda problem: problem.line)


def assemble(draft: Draft, *, name: str, sha256: str, format: str) -> TalkThrough:
    """Join the lines of ``draft`` into one text, with each cue and word as a slice of it."""
    settle_ends(draft)
    pieces: list[str] = []
    cues: list[Cue] = []
    words: list[WordTime] = []
    at = 0
    for said in draft.said:
        lines = [line for line in said.lines if line.text]
        if not lines:
            continue
        first = at
        timed: list[tuple[int, int, Word]] = []
        for line in lines:
            timed += [(at + word.first, at + word.last, word) for word in line.words]
            pieces.append(line.text)
            at += len(line.text) + 1
        cues.append(Cue(start=said.start, end=said.end, chars=(first, at - 1), heading=said.heading))
        words += _word_times(timed, said.end)
    text = _encodable("\n".join(pieces))
    return TalkThrough(
        name=name,
        sha256=sha256,
        format=format,
        resolution=_resolution(cues, words, text),
        duration_s=_last_time(cues, words),
        text=text,
        cues=tuple(cues),
        words=tuple(words),
        problems=tuple(draft.problems),
    )


def _encodable(text: str) -> str:
    """Halves of a surrogate pair, which JSON can hold and UTF-8 cannot, become replacement characters one for one."""
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        return re.sub("[\ud800-\udfff]", "\ufffd", text)
    return text


def _word_times(timed: Sequence[tuple[int, int, Word]], cue_end: float | None) -> list[WordTime]:
    out = []
    for place, (first, last, word) in enumerate(timed):
        end = word.end
        if end is None or end < word.start:
            nexts = timed[place + 1][2].start if place + 1 < len(timed) else cue_end
            end = word.start + LONGEST_WORD_S
            if nexts is not None and nexts >= word.start:
                end = min(end, nexts)
        out.append(WordTime(chars=(first, last), start=word.start, end=end))
    return out


def _resolution(cues: Sequence[Cue], words: Sequence[WordTime], text: str) -> Resolution:
    if not any(cue.start is not None for cue in cues):
        return "none"
    spoken = sum(len(text[cue.chars[0] : cue.chars[1]].split()) for cue in cues if not cue.heading)
    if 2 * len(words) > spoken:
        return "word"
    lengths = [cue.end - cue.start for cue in cues if cue.start is not None and cue.end is not None and not cue.heading]
    if not lengths or median(lengths) > FINE_CUE_S:
        return "block"
    return "cue"


def _last_time(cues: Sequence[Cue], words: Sequence[WordTime]) -> float | None:
    known = [t for cue in cues for t in (cue.start, cue.end) if t is not None] + [word.end for word in words]
    return max(known, default=None)


_CUE_WORDS, _CUE_PAUSE_S = 14, 1.0
"""Words gathered into one cue at most, and the pause that ends it sooner. (Our choice: two caption lines.)"""


def join_single_words(said: list[Said]) -> list[Said]:
    """Captions that show one word each are word times: gathered into cues. Other captions stay as they are."""
    rows = [(line.text, cue.start, cue.end) for cue in said for line in cue.lines]
    single = sum(" " not in text for text, _, _ in rows)
    if len(rows) < 5 or single < 0.7 * len(rows) or any(line.words for cue in said for line in cue.lines):
        return said
    return gather_words(rows)


def gather_words(rows: Sequence[tuple[str, float | None, float | None]]) -> list[Said]:
    """Cues from single words ``(text, start, end)``: broken at pauses, after sentences and when long."""
    out: list[Said] = []
    last_end: float | None = None
    fresh = True
    for text, start, end in rows:
        text = " ".join(text.split())
        if not text:
            continue
        if last_end is not None and start is not None and start - last_end > _CUE_PAUSE_S:
            fresh = True
        if fresh or len(out[-1].lines[0].words) >= _CUE_WORDS:
            out.append(Said(start, None, [Line("")]))
        cue = out[-1]
        line = cue.lines[0]
        first = len(line.text) + 1 if line.text else 0
        line.text = f"{line.text} {text}" if line.text else text
        if start is not None:
            space = text.find(" ")
            whole = space < 0
            line.words.append(Word(first, len(line.text) if whole else first + space, start, end if whole else None))
            cue.start = start if cue.start is None else cue.start
        cue.end = end if end is not None else cue.end
        last_end = end if end is not None else start
        fresh = text[-1] in ".!?"
    return out
