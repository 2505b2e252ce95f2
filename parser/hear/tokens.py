"""The words of a talk-through: each keeps its place in the text, its cue, a time, and the break before it.

The text itself is never touched. Tokens come from spaCy's blank English tokeniser; contractions stay whole (``don't``),
hyphens and digit-letter joins are split (``push-up`` is two words, ``40s`` is ``40`` and ``s``).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import lru_cache
from typing import Any

from ..mentions import COMMA, NO_BREAK, STOP, Token, Words
from ..model import Cue, TalkThrough
from .tables import table

Row = tuple[str, str, int, int, int, bool]
"""A word, its normal form, its place in the text and among the cues, the break before it, and whether it is quoted."""

_WORD, _SENTENCE_MARK, _COMMA_MARK, _QUOTE, _MARK = range(5)
_KINDS = dict.fromkeys(".?!;:…", _SENTENCE_MARK) | dict.fromkeys(",–—()", _COMMA_MARK) | dict.fromkeys('"“”«»', _QUOTE)
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
def _pieces(run: str) -> tuple[tuple[str, str, int, int], ...]:
    """``(piece, normal form, start, kind)`` for every word and mark of a run of letters and marks without a blank.

    The tokeniser looks at each run by itself, and most runs of a talk come again and again.
    """
    return tuple((piece, _normal(piece), at, _WORD if piece[0].isalnum() else _KINDS.get(piece[0], _MARK)) for piece, at in _apart(run))


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


def _normal(word: str) -> str:
    low = word.lower().replace("’", "'")
    if low.endswith("in'") and _drops_its_g(low[:-1]):
        return low[:-1] + "g"
    return _SHORT.get(low) or low.rstrip("'") or word


def hear_words(talk: TalkThrough) -> Words:
    """The tokens of ``talk``, timed as finely as its format allows."""
    spoken = [(n, c) for n, c in enumerate(talk.cues) if not c.heading]
    begins, ends = [c.chars[0] for _, c in spoken], [c.chars[1] for _, c in spoken]
    rows: list[Row] = []
    mark, quote_open, sentence_marks = NO_BREAK, False, 0
    place, following = -1, begins[0] if begins else len(talk.text)
    for run in _RUN.finditer(talk.text):
        begin = run.start()
        for piece, norm, at, kind in _pieces(run.group()):
            at += begin
            while at >= following:
                place += 1
                following = begins[place + 1] if place + 1 < len(begins) else len(talk.text)
            if place < 0 or at >= ends[place]:
                mark = STOP           # a heading, or text outside every cue
            elif kind == _WORD:
                rows.append((piece, norm, at, place, mark, quote_open))
                mark = NO_BREAK
            elif kind == _SENTENCE_MARK:
                sentence_marks += mark < STOP
                mark = STOP
            elif kind == _COMMA_MARK:
                mark = max(mark, COMMA)
            elif kind == _QUOTE:
                quote_open = piece[0] in "“«" or (piece[0] == '"' and not quote_open)
                mark = STOP
    punctuated = bool(rows) and sentence_marks >= len(rows) * _PUNCTUATED
    if not rows:
        return Words(talk, (), punctuated)
    times = _times(talk, rows, spoken)
    tokens: list[Token] = []
    placed, by_word = talk.resolution in ("word", "cue"), talk.resolution == "word"
    last_place, last_long = -1, 0
    began = over = None
    for i, ((piece, norm, at, place, brk, quoted), (t0, t1)) in enumerate(zip(rows, times)):
        pause = 0.0
        if i and placed and t0 is not None and (by_word or place != last_place):
            if began is None or over is None:
                began = over = t0
            length = _WORD_S + _LETTER_S * last_long
            pause = max(0.0, t0 - max(began + length, min(over, began + 2 * length)))
        if not punctuated and (pause >= _PAUSE_S or not placed and place != last_place):
            brk = STOP
        tokens.append(Token(i, piece, norm, at, at + len(piece), spoken[place][0], t0, t1, brk if i else STOP, quoted, pause))
        last_place, last_long, began, over = place, len(piece), t0, t1
    return Words(talk, tuple(tokens), punctuated)


def _times(talk: TalkThrough, rows: list[Row], spoken: list[tuple[int, Cue]]) -> list[tuple[float | None, float | None]]:
    """Start and end of each word: its own where the format has it, else its place within its cue."""
    out: list[tuple[float | None, float | None]] = []
    starts, k = [w.chars[0] for w in talk.words], -1
    place, first, begin, a_letter = -1, 0, None, 0.0
    end = 0.0
    for piece, _, at, cue_at, _, _ in rows:
        while k + 1 < len(starts) and starts[k + 1] <= at:
            k += 1
        if k >= 0 and at < talk.words[k].chars[1]:
            word = talk.words[k]
            out.append((word.start, word.end))
            continue
        if cue_at != place:
            place, cue = cue_at, spoken[cue_at][1]
            first, begin = cue.chars[0], cue.start
            if begin is not None:
                end = max(begin, cue.end if cue.end is not None else begin)
                a_letter = (end - begin) / max(1, cue.chars[1] - first)
        if begin is None:
            out.append((None, None))
        else:
            out.append((begin + a_letter * (at - first), min(end, begin + a_letter * (at + len(piece) - first))))
    return out
