"""The words of a talk-through: each keeps its place in the text, its cue, a time, and the break before it.

The text itself is never touched. Tokens come from spaCy's blank English tokeniser; contractions stay whole (``don't``),
hyphens and digit-letter joins are split (``push-up`` is two words, ``40s`` is ``40`` and ``s``).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from typing import Any

from ..mentions import COMMA, NO_BREAK, STOP, Token, Words
from ..model import Cue, TalkThrough
from .tables import table

Times = list[float | None]

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
    rows: list[tuple[str, str, int, int, int, int, bool]] = []
    mark, quote_open, sentence_marks = NO_BREAK, False, 0
    # the place among the cues that are spoken, where its cue is over and where the next one begins
    place, over, following = -1, 0, begins[0] if begins else len(talk.text)
    for run in _RUN.finditer(talk.text):
        begin = run.start()
        for piece, norm, at, kind in _pieces(run.group()):
            at += begin
            while at >= following:
                place, over = place + 1, ends[place + 1]
                following = begins[place + 1] if place + 1 < len(begins) else len(talk.text)
            if at >= over:
                mark = STOP           # a heading, or text outside every cue
            elif kind == _WORD:
                rows.append((piece, norm, at, at + len(piece), place, mark, quote_open))
                mark = NO_BREAK
            elif kind == _SENTENCE_MARK:
                sentence_marks += mark < STOP
                mark = STOP
            elif kind == _COMMA_MARK:
                mark = max(mark, COMMA)
            elif kind == _QUOTE:
                quote_open = piece[0] in "“«" or (piece[0] == '"' and not quote_open)
                mark = STOP
    if not rows:
        return Words(talk, (), False)
    punctuated = sentence_marks >= len(rows) * _PUNCTUATED
    texts, norms, starts, stops, places, marks, quoted = zip(*rows)
    t0, t1 = _times(talk, starts, stops, [spoken[place][1] for place in places])
    breaks, pauses = list(marks), [0.0] * len(rows)
    turns = range(1, len(rows)) if talk.resolution == "word" else [i for i in range(1, len(rows)) if places[i] != places[i - 1]]
    if talk.resolution in ("word", "cue"):
        for i in turns:
            start, began, over_s = t0[i], t0[i - 1], t1[i - 1]
            if start is None or began is None or over_s is None:
                continue
            said = _WORD_S + _LETTER_S * len(texts[i - 1])
            if start > began + said:
                pauses[i] = max(0.0, start - max(began + said, min(over_s, began + 2 * said)))
                if not punctuated and pauses[i] >= _PAUSE_S:
                    breaks[i] = STOP
    elif not punctuated:
        for i in turns:
            breaks[i] = STOP
    breaks[0] = STOP
    cues = [spoken[place][0] for place in places]
    tokens = tuple(map(Token._make, zip(range(len(rows)), texts, norms, starts, stops, cues, t0, t1, breaks, quoted, pauses)))
    return Words(talk, tokens, punctuated)


def _times(talk: TalkThrough, starts: Sequence[int], ends: Sequence[int], cues: Sequence[Cue]) -> tuple[Times, Times]:
    """The starts of the words and their ends: each word's own where the format has it, else by its place within its cue."""
    t0: Times = []
    t1: Times = []
    timed = iter(talk.words)
    word, following = None, next(timed, None)
    within = None
    first, begin, end, a_letter = 0, 0.0, 0.0, 0.0
    for at, over, cue in zip(starts, ends, cues):
        while following is not None and following.chars[0] <= at:
            word, following = following, next(timed, None)
        if word is not None and at < word.chars[1]:
            t0.append(word.start)
            t1.append(word.end)
        elif cue.start is None:
            t0.append(None)
            t1.append(None)
        else:
            if cue is not within:
                within, first, begin = cue, cue.chars[0], cue.start
                end = max(begin, cue.end if cue.end is not None else begin)
                a_letter = (end - begin) / max(1, cue.chars[1] - first)
            t0.append(begin + a_letter * (at - first))
            t1.append(min(end, begin + a_letter * (over - first)))
    return t0, t1
