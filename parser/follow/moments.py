"""When each word was said, as far as the format lets us know: the earliest and the latest moment it can have begun."""

from __future__ import annotations

from ..mentions import STOP, Words
from .weights import weights

_WORD_SLACK_S = 0.15
_CUE_SLACK_S = 0.3
_STAMP_SLACK_S = 1.0        # stamps are whole seconds, cut off
_REGULAR = 1.6              # a stamp every so often: half of the gaps lie within this of the shortest
_SHORTEST_GAP_S = 8.0


def windows(words: Words) -> list[tuple[float, float]]:
    """``(earliest, latest)`` second at which each token begins. Between the known moments of a cue, words come at the pace of
    speech, and silence may lie wherever one sentence ends: a word of the first sentence is placed well, a later one is not.
    """
    tokens = words.tokens
    if words.talk.resolution == "word":
        return [(t.t0 - _WORD_SLACK_S, t.t0 + _WORD_SLACK_S) if t.t0 is not None else (0.0, 0.0) for t in tokens]
    slack = _CUE_SLACK_S if words.talk.resolution == "cue" else _STAMP_SLACK_S
    groups = _by_cue(words)
    gap = _stamp_gap(words) if words.talk.resolution == "block" else None
    out: list[tuple[float, float]] = [(0.0, 0.0)] * len(tokens)
    for first, end, start, stop in groups:
        limit = stop if gap is None else min(stop, start + gap)
        _place(words, first, end, start, limit, slack, out)
        if _runs_on(words, end):
            _place_back(words, first, end, stop, slack, out)
    return out


def silences(words: Words, spans: list[tuple[float, float]]) -> list[tuple[int, float]]:
    """``(token, probability)`` of every word that may set in after a silence, in talk that is placed by paragraphs only.

    The first word of a paragraph is one by the stamp's own making; inside, the silence lies before one of the sentences.
    """
    tokens = words.tokens
    out: list[tuple[int, float]] = []
    for first, end, _, _ in _by_cue(words):
        if not (_runs_on(words, first) and first):
            out.append((first, 1.0))
        opens = [i for i in range(first + 1, end) if tokens[i].brk == STOP]
        sure = [i for i in opens if spans[i][0] - spans[i - 1][1] > 1.5]
        loose = [i for i in opens if spans[i][1] - spans[i][0] > 3.0]
        out.extend((i, 1.0) for i in sure)
        if not sure:
            out.extend((i, 1.0 / (len(loose) + 1)) for i in loose)
    return out


def _by_cue(words: Words) -> list[tuple[int, int, float, float]]:
    """``(first token, end, start of the cue, its end)`` for every cue that has words."""
    tokens, cues = words.tokens, words.talk.cues
    rows: list[tuple[int, int, float, float | None]] = []
    i = 0
    while i < len(tokens):
        j = i
        while j < len(tokens) and tokens[j].cue == tokens[i].cue:
            j += 1
        cue = cues[tokens[i].cue]
        start = cue.start if cue.start is not None else 0.0
        rows.append((i, j, start, cue.end))
        i = j
    out: list[tuple[int, int, float, float]] = []
    for (first, over, start, end), following in zip(rows, [*rows[1:], None]):
        until = end if end is not None else following[2] if following else (words.talk.duration_s or start)
        out.append((first, over, start, max(until, start)))
    return out


def _stamp_gap(words: Words) -> float | None:
    """The seconds after which the transcript takes a new paragraph, where it does so by the clock.

    Then no word of a paragraph begins later than that after its stamp; the silence lies at the paragraph's end.
    """
    starts = [row[2] for row in _by_cue(words)]
    gaps = sorted(b - a for a, b in zip(starts, starts[1:]) if b > a)
    if len(gaps) < 6:
        return None
    shortest = gaps[len(gaps) // 20]
    near = sum(g <= shortest * _REGULAR for g in gaps)
    return shortest + _STAMP_SLACK_S if shortest >= _SHORTEST_GAP_S and near * 2 >= len(gaps) else None


def _runs_on(words: Words, at: int) -> bool:
    """Whether the sentence before token ``at`` goes on in it: then there is no silence between them."""
    return words.punctuated and 0 < at < len(words.tokens) and words.tokens[at].brk < STOP


def _place_back(words: Words, first: int, end: int, stop: float, slack: float, out: list[tuple[float, float]]) -> None:
    """The last sentence of a cue, which the next cue goes on with, is said right before it."""
    pace = weights()["pace"]
    for k in range(end - 1, first, -1):
        low, high = stop - (end - k) / pace["slow"], stop - (end - k) / pace["fast"] + slack
        out[k] = (min(max(out[k][0], low), out[k][1]), max(min(out[k][1], high), out[k][0]))
        if words.tokens[k].brk == STOP:
            return


def _place(words: Words, first: int, end: int, start: float, stop: float, slack: float, out: list[tuple[float, float]]) -> None:
    pace = weights()["pace"]
    count = end - first
    # where the cue is fuller than the usual pace allows, its own pace is the least
    fast = max(pace["fast"], count / max(stop - start, 0.5))
    silent = False
    for k in range(count):
        silent = silent or (k > 0 and words.tokens[first + k].brk == STOP)
        low = start + k / fast
        high = max(low, stop - (count - k) / fast)
        if not silent:
            high = min(high, start + k / pace["slow"])
        out[first + k] = (low, high + slack)
