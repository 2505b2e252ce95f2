"""Ladders: ``twenty one, fifteen, nine`` repetitions; ``one minute, two minutes, three, then back down, two, and one``."""

from __future__ import annotations

from collections.abc import Iterator

from ..mentions import BARE, STOP, Phrase, Quantity, Scheme, Words
from .tables import table

_T = table("schemes")
_BETWEEN: int = _T["words_between"]
_LINKS = frozenset(_T["links"])
_NEAR: int = _T["near_word"]
_FEWEST = 3
_WORDS = {kind: frozenset(_T[kind]) for kind in ("time_words", "ladder_words", "rep_words")}


def find_schemes(words: Words, quantities: list[Quantity], countdowns: list[Phrase]) -> list[Scheme]:
    """Rows of three or more numbers that stand together and rise, fall, or rise and fall."""
    counting = {t for c in countdowns for t in range(c.first, c.end)}
    out: list[Scheme] = []
    run: list[Quantity] = []
    for q in [*quantities, None]:
        if q is not None and run and _goes_on(words, run, q):
            run.append(q)
            continue
        parts = (run, *_by_sentence(words, run), *_stretches(run))
        found = next((s for part in parts if len(part) >= _FEWEST and (s := _scheme(words, part, counting))), None)
        if found is not None:
            out.append(found)
        run = [q] if q is not None and _may_be_in_one(q) else []
    return out + _round_schemes(words, quantities)


def _by_sentence(words: Words, run: list[Quantity]) -> list[list[Quantity]]:
    """``Four and four, two and two. Ten, eight, six, four, two.``: the numbers of each sentence."""
    parts: list[list[Quantity]] = []
    for q in run:
        if not parts or words.sentence(q.first)[0] > parts[-1][-1].first:
            parts.append([])
        parts[-1].append(q)
    return parts


def _stretches(run: list[Quantity]) -> Iterator[list[Quantity]]:
    """``Fifteen, twelve, nine, so you do fifteen of each, then twelve``: most of the numbers, the longest stretch first."""
    for length in range(len(run) - 1, max(_FEWEST, len(run) // 2 + 1) - 1, -1):
        yield from (run[first : first + length] for first in range(len(run) - length + 1))


def _round_schemes(words: Words, quantities: list[Quantity]) -> list[Scheme]:
    """``First time round you do thirty seconds. Second time it's forty five. The third, a whole minute``: a length for each round."""
    out: list[Scheme] = []
    for k, q in enumerate(quantities):
        if q.single == 1 and q.role == "round_label" and (not out or q.first >= out[-1].end) and (scheme := _round_by_round(words, quantities[k:])):
            out.append(scheme)
    return out


def _round_by_round(words: Words, quantities: list[Quantity]) -> Scheme | None:
    """The scheme that starts with the first of ``quantities``, which names round one."""
    values: list[float] = []
    waiting, end = True, quantities[0].end
    for q in quantities:
        if q.first - end > _T["round_gap"]:
            break
        names_round = q.kind == "ordinal" or q.role == "round_label"
        if names_round and q.single == len(values) + 1:
            waiting, end = True, q.end
            continue
        seconds = q.kind == "number" and bool(values) and q.single is not None and q.single >= _T["least_seconds"] and q.single % 5 == 0
        is_value = q.single is not None and (q.kind == "length" or seconds)
        if not is_value:
            continue
        around = [t.norm for t in (*words.tokens[end : q.first], *words.tokens[q.end : q.end + _T["ends_within"]])]
        goes_on = len(values) >= 2 and not set(_T["goes_on"]).isdisjoint(around)
        if waiting or goes_on:
            values.append(q.single or 0.0)
            waiting, end = False, q.end
    if len(values) < _FEWEST or len(set(values)) == 1:
        return None
    return Scheme("time", tuple(values), quantities[0].first, end)


def _may_be_in_one(q: Quantity) -> bool:
    """One number that is no ordinal, and not how slowly a repetition is done: ``three seconds down, one second at the bottom, one up``."""
    return q.single is not None and q.kind != "ordinal" and q.role != "tempo"


def _goes_on(words: Words, run: list[Quantity], q: Quantity) -> bool:
    of_its_own = q.role in ("rest", "round_rest") and words.tokens[q.first].brk == STOP        # "forty, thirty. Fifteen seconds between"
    if not _may_be_in_one(q) or q.role == "movements" or of_its_own:
        return False            # "twenty one, fifteen, nine. Two moves"
    between = [t.norm for t in words.tokens[run[-1].end : q.first]]
    return len(between) <= _BETWEEN and all(w in _LINKS for w in between)


def _scheme(words: Words, run: list[Quantity], counting: set[int]) -> Scheme | None:
    lengths = [q for q in run if q.kind == "length"]
    said = [q.single or 0.0 for q in run]
    first, end = run[0].first, run[-1].end

    def near(kind: str) -> bool:
        return not _WORDS[kind].isdisjoint(t.norm for t in words.tokens[max(0, first - _NEAR) : end + _NEAR])

    if len(lengths) >= 2 or len(said) > 3 and lengths == run[:1]:          # "thirty seconds, then forty, fifty, sixty"
        scale = 60.0 if (lengths[0].single or 0.0) % 60 == 0 else 1.0
        values = [value if q.kind == "length" else value * scale for q, value in zip(run, said)]
        if _shape(values) and near("time_words"):
            return Scheme("time", tuple(values), first, end)
        return None
    if lengths or any(q.first in counting for q in run) or not all(q.role in (BARE, "reps", "rounds", "countdown") for q in run):
        return None
    whole = all(value.is_integer() for value in said)      # nobody does a part of a repetition
    if not whole or not _shape(said) or any(b - a == c - b == 1 for a, b, c in zip(said, said[1:], said[2:])) and not near("ladder_words"):
        return None         # repetitions counted aloud
    if _falls_fast(said) or near("rep_words"):
        return Scheme("reps", tuple(said), first, end)
    return None


def _falls_fast(values: list[float]) -> bool:
    return all(a - b >= 2 for a, b in zip(values, values[1:])) and values[0] >= 9


def _shape(values: list[float]) -> bool:
    """Rising, falling, or rising to a top and falling again."""
    top = values.index(max(values))
    up, down = values[: top + 1], values[top:]
    return all(a < b for a, b in zip(up, up[1:])) and all(a > b for a, b in zip(down, down[1:]))
