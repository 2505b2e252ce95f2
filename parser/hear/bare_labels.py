"""Numbers that name a movement without a word for it: ``Five, pull-aparts``, ``and six is the carry``.

A bare number is a label only where it is the next one of a count that is already running (or restarts at one), and a
movement comes close behind it.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import replace

from ..mentions import BARE, COMMA, NO_BREAK, STOP, MovementMention, Phrase, Quantity, Token, Words
from .numbers import NUMBER, ORDINAL
from .tables import table

_NEAR = 10         # words between the number and its movement
_CALLED = 4        # words from "two is" to the movement
_AROUND = 60       # words within which one way of numbering is kept to
_COUNTED = frozenset(table("intro")["words"]["counted"])
_LEADS = frozenset(table("intro")["words"]["before_number"])
_ITEMS = frozenset(table("intro")["words"]["before_letter"])
_NO_NAME = frozenset(table("intro")["words"]["no_name"]).union(table("intro")["words"]["vague"])
_COUNTS = 3        # words in which what a number counts is said
_CERTAIN = 4       # numbers in a row, each with a movement: no amounts, whatever was announced
_SHORT_NAME = 3    # words of a name that is a sentence
_IS = frozenset(["is", "we've", "we", "it's", "we're", "you've", "we'll", "then", "the", "a", "will"])


def find_bare_labels(words: Words, quantities: Sequence[Quantity], movements: Sequence[MovementMention],
                     edges: Sequence[Phrase]) -> tuple[list[Quantity], bool]:
    """The quantities with such numbers turned into labels, and whether any was."""
    tokens, out, changed = words.tokens, list(quantities), False
    starts = [m.first for m in movements]
    named = set(starts)
    letters = _letters(words, starts)
    if letters:
        out, changed = sorted(out + letters, key=lambda q: q.first), True
        quantities = tuple(out)
    for k in _from_one(words, quantities, starts):
        out[k] = replace(out[k], role="label", pattern="movement, a bare number of a count from one")
        changed = True
    quantities = tuple(out)
    counting = {t for e in edges if e.role == "countdown" for t in range(e.first, e.end)}
    expected: int | None = None
    for k, q in enumerate(quantities):
        if q.role == "label":
            expected = int(q.single or 0) + 1
            continue
        if q.role != BARE or expected is None or q.first in counting or q.single != expected:
            continue
        if q.kind == ORDINAL and q.end in named and (_ordered(tokens, q) or not words.punctuated):
            out[k] = replace(q, role="label", pattern="movement, an ordinal that goes on with the count")
            expected += 1
            changed = True
        if q.kind != NUMBER:
            continue
        if _counts_on(quantities, k):
            continue
        if _stands_between(words, quantities, k):
            out[k] = replace(q, role="label", pattern="movement, a bare number between the ones before and after it")
            expected += 1
            changed = True
            continue
        at = bisect_left(starts, q.end)
        if at == len(starts) or starts[at] - q.end > _NEAR or movements[at].scope:
            continue
        following = tokens[q.end].norm if q.end < len(tokens) else ""
        if _is_of_something(tokens, q.end):
            continue
        brk = tokens[q.end].brk if q.end < len(tokens) else STOP
        first = tokens[q.first].brk
        lead = first == STOP or q.first and tokens[q.first - 1].norm in ("and", "then", "so", "okay", "right", "now") and tokens[q.first - 1].brk >= COMMA
        opens = brk >= COMMA or following in _IS or following.endswith("'s")
        plain = not words.punctuated and (starts[at] == q.end or following in _IS) and not movements[at].match.verbal
        one = plain and starts[at] == q.end and (q.single or 0) > 1 and _is_one(movements[at])      # "three side leg lift" is no three of them
        if lead and (opens or plain) or plain and opens or one:
            out[k] = replace(q, role="label", pattern="movement, a bare number that goes on with the count")
            expected += 1
            changed = True
    return out, changed


def _is_one(mention: MovementMention) -> bool:
    return len(mention.match.words) > 1 and not mention.match.words[-1].endswith("s")


def _is_of_something(tokens: Sequence[Token], end: int) -> bool:
    """``five slow breaths``: not ``five, the last of them``."""
    for t in tokens[end : end + _COUNTS]:
        if t.brk > NO_BREAK:
            return False
        if t.norm in _COUNTED:
            return True
    return False


def _stands_between(words: Words, quantities: Sequence[Quantity], k: int) -> bool:
    """``Three. Circles. … And number four, front kicks``: a sentence of its own and something named at once, known or not, with the
    next number of the count as a label or as another such sentence behind it."""
    tokens, q = words.tokens, quantities[k]
    if not words.punctuated or not _opens_a_name(tokens, q):
        return False
    after = next((n for n in quantities[k + 1 :] if n.role == "label" or n.role == BARE and n.kind == NUMBER and _opens_a_name(tokens, n)), None)
    return after is not None and after.role == "label" and after.single == (q.single or 0) + 1


def _opens_a_name(tokens: Sequence[Token], q: Quantity) -> bool:
    """``Three. Circles.``: the number is a sentence, and so are one or two words after it."""
    if tokens[q.first].brk != STOP or q.end >= len(tokens) or tokens[q.end].brk < COMMA:
        return False
    stop = next((t.i for t in tokens[q.end + 1 : q.end + 1 + _SHORT_NAME] if t.brk > NO_BREAK), None)
    return stop is not None and not any(t.norm in _NO_NAME or not t.norm.isalpha() for t in tokens[q.end : stop])


def _ordered(tokens: Sequence[Token], q: Quantity) -> bool:
    """``and for the third, step-ups``: an ordinal that stands for a thing and not before one."""
    before = [t.norm for t in tokens[max(0, q.first - 2) : q.first]]
    if before[-1:] == ["and"]:
        return tokens[q.first - 1].brk == STOP and tokens[q.end].brk >= COMMA       # "And fifth, toe taps"
    return before[-1:] == ["the"] and (tokens[q.end].brk >= COMMA or before[0] in ("for", "on", "to"))


def _counts_on(quantities: Sequence[Quantity], k: int, near: int = _NEAR) -> bool:
    """One of ``one, two, three`` as repetitions are counted aloud: a neighbour is one more or one less."""
    q = quantities[k]
    before = quantities[k - 1] if k else None
    after = quantities[k + 1] if k + 1 < len(quantities) else None
    return q.single is not None and any(n is not None and n.role == BARE and n.kind == NUMBER and n.single == q.single + step
               and abs(n.first - q.first) <= near for n, step in ((before, -1), (after, 1)))


def _from_one(words: Words, quantities: Sequence[Quantity], starts: Sequence[int]) -> list[int]:
    """``One, skater hops. … Two, hollow hold. … And three, squat thrusts``: each bare number opens a thought and a movement follows
    at once; at least three in a row, from one on."""
    tokens = words.tokens
    run: list[int] = []
    best: list[int] = []
    labels = [q.first for q in quantities if q.role == "label"]
    bare = not words.punctuated         # no mark tells where a thought opens: the movement must follow the number at once ...
    for k, q in enumerate(quantities):
        # "One, squats. Two, push-ups" counts like repetitions aloud, but something is named after each
        if q.role not in (BARE, "count") or q.kind != NUMBER or q.end >= len(tokens) or _counts_on(quantities, k, near=1):
            continue
        opens = tokens[q.first].brk == STOP or q.first and tokens[q.first - 1].norm in _LEADS and tokens[q.first - 1].brk == STOP
        at = bisect_left(starts, q.end)
        if q.role == "count" and (at == len(starts) or starts[at] - q.end > 1):
            continue
        called = tokens[q.end - 1].norm.endswith("'s") or tokens[q.end].norm == "is"        # "two's a high pull"
        opens = opens or (called or q.role == "count") and tokens[q.first].brk == COMMA
        reach = _CALLED if called else 2
        named = at < len(starts) and starts[at] - q.end <= reach and (called or tokens[q.end].brk >= COMMA)
        if not (opens and named or bare and at < len(starts)
                and (called and starts[at] - q.end <= _CALLED or starts[at] == q.end and not _near_one(labels, q.first))):
            continue
        if q.single == len(run) + 1:
            run.append(k)
        elif q.single == 1:
            run = [k]
        best = list(best if len(best) >= len(run) else run)
    announced = {q.single for q in quantities if q.role == "movements"}
    certain = len(best) >= _CERTAIN or len(best) in announced
    return best if len(best) >= 3 and (not bare or certain) or len(best) == 2 and 2.0 in announced else []


def _near_one(labels: Sequence[int], at: int) -> bool:
    """... and nothing around be numbered in another way."""
    k = bisect_left(labels, at - _AROUND)
    return k < len(labels) and labels[k] <= at + _AROUND


_LETTERS = frozenset({"a", "b", "c", "d", "e", "f", "a's", "b's", "c's", "d's"})


def _letters(words: Words, starts: Sequence[int]) -> list[Quantity]:
    """``A is jump squats. … B is shoulder taps``: letters that open a thought and name a movement, from A on."""
    tokens = words.tokens
    found: dict[str, list[int]] = {}
    for t in [t for t in tokens if t.norm in _LETTERS]:
        letter = t.norm[0]
        noun = bool(t.i) and tokens[t.i - 1].norm in _ITEMS and tokens[t.i - 1].brk == STOP       # "Exercise B is a bear crawl"
        if t.brk != STOP and not noun or t.i + 1 >= len(tokens):
            continue
        following = tokens[t.i + 1]
        at = bisect_left(starts, t.i + 1)
        near = at < len(starts) and starts[at] - t.i <= 5
        if near and (following.brk >= COMMA or following.norm == "is" or t.norm.endswith("'s")):
            found.setdefault(letter, []).append(t.i)
    if not {"a", "b"} <= set(found):
        return []
    return [Quantity("label", float(ord(letter) - ord("a") + 1), NUMBER, i, i + 1, (i, i + 1), "movement, lettered")
            for letter, places in found.items() for i in places]
