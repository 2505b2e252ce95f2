"""The words of a talk-through: each keeps its place in the text, its cue, a time, and the break before it.

The text itself is never touched. Tokens come from spaCy's blank English tokeniser; contractions stay whole (``don't``),
hyphens and digit-letter joins are split (``push-up`` is two words, ``40s`` is ``40`` and ``s``).
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache
from typing import Any

from ..mentions import COMMA, NO_BREAK, STOP, Token, Words
from ..model import Cue, TalkThrough
from .tables import table

Row = tuple[str, str, int, int, int, bool]
"""A word, its normal form, its place in the text and among the cues, the break before it, and whether it is quoted."""

_SENTENCE_MARKS = frozenset(".?!;:…")
_COMMA_MARKS = frozenset(",–—()")
_PIECES = re.compile(r"\d+:\d\d(?::\d\d)?|\d+(?:,\d{3})+(?!\d)|\d+\.\d+|\d+|[^\W\d_]+(?:['’][^\W\d_]+)*['’]?|[^\w\s]|_", re.UNICODE)
_LONGEST_RUN = 60
"""Letters without a blank that are no word any more. The tokeniser's time grows faster than with their square where they are marks."""
_DROPPED_G = 5            # letters of "doin'"
_SHORT: dict[str, str] = table("short_forms")["words"]
_WHOLE = frozenset(table("short_forms")["end_in_in"])
_APOSTROPHES = ("'", "’")
_RUN = re.compile(r"\S+")
_PAUSE_S = 0.55           # longer than this between two words, once the word itself has been said, starts a new thought
_WORD_S, _LETTER_S = 0.14, 0.055   # how long saying a word takes: common experience, no source
_PUNCTUATED = 1 / 60      # at least this many sentence marks a word: the captions have punctuation


@lru_cache(maxsize=1)
def _tokeniser() -> Callable[[str], Iterable[Any]]:
    import spacy

    tokeniser: Callable[[str], Iterable[Any]] = spacy.blank("en").tokenizer
    return tokeniser


@lru_cache(maxsize=32768)
def _pieces(run: str) -> tuple[tuple[str, str, int], ...]:
    """``(piece, normal form, start)`` for every word and mark of a run of letters and marks without a blank.

    The tokeniser looks at each run by itself, and most runs of a talk come again and again.
    """
    return tuple((piece, _normal(piece), at) for piece, at in _apart(run))


def _apart(run: str) -> list[tuple[str, int]]:
    """``(piece, start)`` of a run; contractions whole, hyphens apart."""
    if len(run) > _LONGEST_RUN:
        return [(m.group()[k : k + _LONGEST_RUN], m.start() + k) for m in _PIECES.finditer(run) for k in range(0, len(m.group()), _LONGEST_RUN)]
    pieces: list[tuple[str, int]] = []
    for token in _tokeniser()(run):
        raw, at = token.text, token.idx
        joins = pieces and (raw[0] in "'’" or raw.lower() in ("n't", "n’t")) and raw[-1].isalpha()
        if raw in _APOSTROPHES and pieces and _drops_its_g(pieces[-1][0]) and pieces[-1][1] + len(pieces[-1][0]) == at:
            pieces[-1] = (pieces[-1][0] + raw, pieces[-1][1])
        elif joins and pieces[-1][0][-1].isalpha() and len(raw) > 1:
            start = pieces[-1][1]
            pieces[-1] = (run[start : at + len(raw)], start)
        elif raw.isalpha():
            # "gonna" and "cannot" come apart in the tokeniser; speech keeps them whole
            if pieces and pieces[-1][1] + len(pieces[-1][0]) == at and pieces[-1][0].isalpha():
                start = pieces[-1][1]
                pieces[-1] = (run[start : at + len(raw)], start)
            else:
                pieces.append((raw, at))
        else:
            pieces.extend((m.group(), at + m.start()) for m in _PIECES.finditer(raw))
    return pieces


def _drops_its_g(word: str) -> bool:
    """``movin'``; not ``again'``, which ends a quotation."""
    low = word.lower()
    return low.endswith("in") and len(low) + 1 >= _DROPPED_G and low not in _WHOLE


def _spoken_pieces(text: str) -> Iterator[tuple[str, str, int]]:
    """``(piece, normal form, start)`` for every word and mark of ``text``."""
    for run in _RUN.finditer(text):
        begin = run.start()
        for piece, norm, at in _pieces(run.group()):
            yield piece, norm, begin + at


def _normal(word: str) -> str:
    low = word.lower().replace("’", "'")
    if low.endswith("in'") and _drops_its_g(low[:-1]):
        return low[:-1] + "g"
    return _SHORT.get(low) or low.rstrip("'") or word


def hear_words(talk: TalkThrough) -> Words:
    """The tokens of ``talk``, timed as finely as its format allows."""
    spoken = [(n, c) for n, c in enumerate(talk.cues) if not c.heading]
    cue_starts = [c.chars[0] for _, c in spoken]
    word_starts = [w.chars[0] for w in talk.words]
    rows: list[Row] = []
    mark, quote_open, sentence_marks = NO_BREAK, False, 0
    previous_cue = None
    for piece, norm, at in _spoken_pieces(talk.text):
        place = bisect_right(cue_starts, at) - 1
        if place < 0 or at >= spoken[place][1].chars[1]:
            mark = STOP           # a heading, or text outside every cue
            continue
        first = piece[0]
        if not (first.isalnum()):
            if first in _SENTENCE_MARKS:
                sentence_marks += mark < STOP
                mark = STOP
            elif first in _COMMA_MARKS:
                mark = max(mark, COMMA)
            elif first in '"“”«»':
                quote_open = first in "“«" or (first == '"' and not quote_open)
                mark = STOP
            continue
        if previous_cue != place:
            previous_cue = place
        rows.append((piece, norm, at, place, mark, quote_open))
        mark = NO_BREAK
    punctuated = bool(rows) and sentence_marks >= len(rows) * _PUNCTUATED
    tokens: list[Token] = []
    if not rows:
        return Words(talk, (), punctuated)
    times = _times(talk, rows, spoken, word_starts)
    for i, (piece, norm, at, place, brk, quoted) in enumerate(rows):
        t0, t1 = times[i]
        pause = 0.0
        if i and t0 is not None and talk.resolution in ("word", "cue"):
            began, over = times[i - 1]
            if began is None or over is None:
                began = over = t0
            length = _WORD_S + _LETTER_S * len(tokens[-1].text)
            fine = talk.resolution == "word" or place != rows[i - 1][3]
            if fine:
                pause = max(0.0, t0 - max(began + length, min(over, began + 2 * length)))
        if not punctuated and pause >= _PAUSE_S:
            brk = STOP
        if place != (rows[i - 1][3] if i else None) and not punctuated and talk.resolution in ("block", "none"):
            brk = STOP
        tokens.append(Token(i, piece, norm, at, at + len(piece), spoken[place][0], t0, t1, STOP if i == 0 else brk,
                            quoted, pause))
    return Words(talk, tuple(tokens), punctuated)


def _times(talk: TalkThrough, rows: list[Row], spoken: list[tuple[int, Cue]], word_starts: list[int]) -> list[tuple[float | None, float | None]]:
    """Start and end of each word: its own where the format has it, else its place within its cue."""
    out: list[tuple[float | None, float | None]] = []
    for piece, _, at, place, _, _ in rows:
        if word_starts:
            k = bisect_right(word_starts, at) - 1
            if k >= 0 and at < talk.words[k].chars[1]:
                word = talk.words[k]
                out.append((word.start, word.end))
                continue
        cue = spoken[place][1]
        if cue.start is None:
            out.append((None, None))
            continue
        length = max(1, cue.chars[1] - cue.chars[0])
        span = max(0.0, (cue.end if cue.end is not None else cue.start) - cue.start)
        out.append((cue.start + span * (at - cue.chars[0]) / length,
                    cue.start + span * min(1.0, (at + len(piece) - cue.chars[0]) / length)))
    return out
