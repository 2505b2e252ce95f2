"""Roll-up captions: every line comes again above the next one, and has to be heard only once.

What repeats the tail of the window shown just before is dropped, line by line. Whether a file rolls up at all is judged over
the whole file first, so that a phrase a coach truly says twice is kept in files that do not, and within a file that does the
second saying survives as the line that is new. A line with word times of its own is always new: rolled lines come back bare.
Public bug reports tell what happens otherwise: one count gives 5,975 words for 3,035 spoken.
"""

from __future__ import annotations

from collections.abc import Sequence

from .draft import Line, Said, Word

HOLD_S = 0.05
"""A caption this short only holds the window still between two lines."""

_SHARE = 0.5
"""Of the captions that bring something new, how many must show an old line above it, for the file to count as rolling up."""


def drop_repeats(said: Sequence[Said]) -> list[Said]:
    """``said`` without what each caption repeats of the one before it. Shapes stay; a caption left empty goes."""
    shown = [[" ".join(line.text.split()) for line in cue.lines if line.text] for cue in said]
    if _rolls_by_line(said, shown):
        return _without_repeated_lines(said, shown)
    if _rolls_by_word(said, shown):
        return _without_repeated_words(said, shown)
    return list(said)


def _rolls_by_line(said: Sequence[Said], shown: Sequence[list[str]]) -> bool:
    timed = any(line.words for cue in said for line in cue.lines)
    could, does, words = 0, 0, 0
    for before, now in zip(shown, shown[1:]):
        if not now or _overlap(before, now, most=len(now)) == len(now):
            continue
        could += 1
        repeated = _overlap(before, now, most=len(now) - 1)
        if repeated:
            does += 1
            words += sum(len(line.split()) for line in now[:repeated])
    return does > 0 and does >= _SHARE * could and (timed or words >= 3)


def _overlap(before: Sequence[str], now: Sequence[str], *, most: int) -> int:
    """How many first lines of ``now`` are the last lines of ``before``; windows are a few lines, so this may be direct."""
    for count in range(min(len(before), most, 6), 0, -1):
        if list(before[-count:]) == list(now[:count]):
            return count
    return 0


def _without_repeated_lines(said: Sequence[Said], shown: Sequence[list[str]]) -> list[Said]:
    out: list[Said] = []
    before: list[str] = []
    for cue, now in zip(said, shown):
        lines = [line for line in cue.lines if line.text]
        bare = next((place for place, line in enumerate(lines) if line.words), len(lines))
        repeated = _overlap(before, now, most=bare)
        if repeated == len(lines) > 1 and _lasts(cue) and _overlap(before, now, most=repeated - 1) == repeated - 1:
            # Every line the same and shown long enough to be spoken: the phrase was said once more.
            repeated -= 1
        if lines[repeated:]:
            out.append(Said(cue.start, cue.end, lines[repeated:], cue.heading, cue.at_line))
        if now:
            before = now
    return out


def _lasts(cue: Said) -> bool:
    return cue.start is not None and cue.end is not None and cue.end - cue.start > 10 * HOLD_S


def _rolls_by_word(said: Sequence[Said], shown: Sequence[list[str]]) -> bool:
    could, does = 0, 0
    words = [" ".join(lines).split() for lines in shown]
    for before, now in zip(words, words[1:]):
        if len(now) < 3 or not before:
            continue
        could += 1
        repeated = _longest_tail(before, now)
        does += 2 <= repeated < len(now)
    return does >= 3 and does >= 0.6 * could


def _longest_tail(before: Sequence[str], now: Sequence[str]) -> int:
    """The most first words of ``now`` that are the last words of ``before`` (Knuth-Morris-Pratt, linear)."""
    tail = before[-len(now) :]
    borders = [0] * len(now)
    length = 0
    for place in range(1, len(now)):
        while length and now[place] != now[length]:
            length = borders[length - 1]
        length += now[place] == now[length]
        borders[place] = length
    length = 0
    for word in tail:
        while length and (length == len(now) or word != now[length]):
            length = borders[length - 1]
        length += word == now[length]
    return length


def _without_repeated_words(said: Sequence[Said], shown: Sequence[list[str]]) -> list[Said]:
    out: list[Said] = []
    before: list[str] = []
    for cue, lines in zip(said, shown):
        now = " ".join(lines).split()
        if not now:
            continue
        left = _longest_tail(before, now) if before else 0
        before = now
        kept: list[Line] = []
        for line in cue.lines:
            count = len(line.text.split())
            if count <= left:
                left -= count
                continue
            kept.append(_after_words(line, left))
            left = 0
        if kept:
            out.append(Said(cue.start, cue.end, kept, cue.heading, cue.at_line))
    return out


def _after_words(line: Line, count: int) -> Line:
    if not count:
        return line
    text = line.text.split(None, count)[count]
    cut = len(line.text) - len(text)
    words = [Word(w.first - cut, w.last - cut, w.start, w.end) for w in line.words if w.first >= cut]
    return Line(text, words)
