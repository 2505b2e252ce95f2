"""The phases of a class: a best path over its clauses, from all the evidence together.

States, weights and costs stand in ``data/phases.toml``. A clause is a sentence, cut again where a phrase opens a phase or a
movement gets its number, and never longer than some twenty-five words.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from operator import itemgetter, sub
from typing import Any

from ..mentions import STOP, Clause, Words
from .expressions import Expressions
from .normal import Normal
from .shapes import compile_shape
from .tables import table

Row = dict[str, Any]
Cue = tuple[int, int, Row]
"""The tokens ``first`` to ``end`` of a phrase that tells the phase, and its row."""

_LONGEST = 25       # words in a clause
_OPENS_WARM_UP = 3.0     # a cue of at least this weight announces the warm-up
_STARTED = frozenset({"label", "countdown"})     # from the first of these on, the main part is shown or done
_CLOCK = frozenset({"countdown", "go", "round_label"})
_CALLED = _CLOCK.union({"stop", "left", "switch"}) - {"round_label"}
_SHOWN = frozenset({"introduced", "called"})
_SEVERAL = 2             # loosening movements that make a warm-up without a word for it
_WELCOME_WORDS = 26      # nobody has led anything before that
_WARM_UP_WORDS = 260     # words after it in which circles and rolls still speak for the warm-up


@lru_cache(maxsize=1)
def _cues() -> tuple[list[Row], Expressions]:
    """The expressions of all rows, and the row of each."""
    both = [(row, compile_shape(shape, "")[0]) for row in table("phases")["cue"] for shape in row["shape"]]
    return [row for row, _ in both], Expressions([expression for _, expression in both])


def heard_cues(layer: Normal) -> list[Cue]:
    """Every cue phrase; of two that overlap the one whose row stands first."""
    found: list[Cue] = []
    taken: set[int] = set()
    rows, expressions = _cues()
    for which, match in expressions.found(layer):
        first, end = layer.token_span(match.start(), match.end())
        if taken.isdisjoint(range(first, end)):
            taken.update(range(first, end))
            found.append((first, end, rows[which]))
    return found


def announced_at(cues: Iterable[Cue]) -> set[int]:
    """The tokens behind the words that announce the warm-up or the cool-down: ``let's get moving | jumping jacks``."""
    return {end for _, end, row in cues if max(row["weights"].get(state, 0) for state in ("warm_up", "cool_down")) >= _OPENS_WARM_UP}


def find_clauses(words: Words, cues: list[Cue], evidence: Iterable[tuple[int, str]], openers: Iterable[int],
                 warm_up_s: float | None = None) -> list[Clause]:
    """The clauses of the talk with their phases. ``evidence`` are ``(token, kind)`` pairs, ``openers`` tokens that open a clause,
    ``warm_up_s`` the seconds that the warm-up is said to take."""
    count = len(words.tokens)
    if not count:
        return []
    cuts = {0} | {t.i for t in words.tokens if t.brk == STOP} | set(openers)
    cuts |= {first for first, _, row in cues if row.get("opens")}
    edges = sorted(cuts)
    firsts: list[int] = []
    for first, end in zip(edges, [*edges[1:], count]):
        firsts.extend(range(first, end, _LONGEST))
    spans = list(zip(firsts, [*firsts[1:], count]))
    scores = _score(words, spans, cues, evidence, warm_up_s)
    return [Clause(first, end, state) for (first, end), state in zip(spans, _best_path(scores))]


def _score(words: Words, spans: list[tuple[int, int]], cues: list[Cue], evidence: Iterable[tuple[int, str]],
           warm_up_s: float | None) -> list[dict[str, float]]:
    count = len(words.tokens)
    states, mention = table("phases")["states"], table("phases")["mention"]
    where: list[int] = []
    for n, (first, end) in enumerate(spans):
        where.extend([n] * (end - first))
    scores = [dict.fromkeys(states, 0.0) for _ in spans]

    def add(n: int, weights: dict[str, float]) -> None:
        for state, weight in weights.items():
            scores[n][state] += weight

    warm = [token for token, _, row in cues if row["weights"].get("warm_up", 0) >= _OPENS_WARM_UP]
    evidence = list(evidence)
    started = min((token for token, kind in evidence if kind in _STARTED), default=count)
    unasked = _loosening_before_work(evidence)
    evidence = [(token, kind) for token, kind in evidence if kind != "loosening" or any(0 <= token - at <= _WARM_UP_WORDS for at in warm)
                or _WELCOME_WORDS <= token < started or token in unasked]
    # where it is announced, what is introduced before is no part of the warm-up; "pelvic tilts, to warm up" is
    led_from = words.sentence(min([*warm, *unasked]))[0] if warm else 0
    led_until = _led_until(words, evidence, warm, warm_up_s)
    evidence = [(token, kind) for token, kind in evidence if kind not in _CALLED or not led_from <= token < led_until]
    worked_from = min((token for token, kind in evidence if kind in _CLOCK and token > led_from), default=count)
    evidence = [(token, kind) for token, kind in evidence if kind not in _SHOWN or token < led_from or kind == "introduced" and token > worked_from]
    for n, name in {(where[token], kind) for token, kind in evidence if token < count}:
        add(n, mention[name])
    seen = set()
    for token, _, row in cues:
        if (where[token], row["say"]) not in seen:
            seen.add((where[token], row["say"]))
            add(where[token], row["weights"])
    for n, (first, end) in enumerate(spans):
        if end <= led_from:
            add(n, mention["before_warm_up"])
        share = (first + end) / 2 / count
        part = "early" if share < 0.25 else "late" if share > 0.75 else "middle"
        weight = min(1.0, (end - first) / 12)
        add(n, {s: w * weight for s, w in mention[part].items()})
        if share > 0.95:
            add(n, mention["very_late"])
    return scores


def _led_until(words: Words, evidence: Sequence[tuple[int, str]], warm: Sequence[int], warm_up_s: float | None) -> int:
    """``We've four minutes of warm-up``: what is called in those minutes is no work yet, up to the first movement that gets a number. 0 where
    nobody said how long it is, and where the words have no times."""
    begun = words.tokens[min(warm)].t0 if warm else None
    if begun is None or warm_up_s is None:
        return 0
    numbered = min((token for token, kind in evidence if kind == "label"), default=0)
    over = next((t.i for t in words.tokens[min(warm) :] if t.t0 is not None and t.t0 > begun + warm_up_s), len(words.tokens))
    return min(numbered, over)


def _loosening_before_work(evidence: Sequence[tuple[int, str]]) -> set[int]:
    """Several movements with which a class gets going, named between the last number of a movement and the first word of the clock: a
    warm-up that nobody announces."""
    first = min((token for token, kind in evidence if kind == "label"), default=0)      # a round that is named before is only spoken of
    work = min((token for token, kind in evidence if kind in _CLOCK and token > first), default=0)
    shown = max((token for token, kind in evidence if kind == "label" and token < work), default=-1)
    near = [(token, kind) for token, kind in evidence if kind in ("loosening", "stretch") and shown < token < work]
    return {token for token, kind in near if kind == "loosening"} if len(near) >= _SEVERAL else set()


def _best_path(scores: list[dict[str, float]]) -> list[str]:
    data = table("phases")
    states, change, rare = data["states"], data["change"], data["change"]["rare"]
    start = data["start"]
    best = [scores[0][s] - start.get(s, rare) for s in states]
    # of equals the later change, so the state itself stands last: a phase lasts until something speaks against it
    ways = [[*(p for p in range(len(states)) if p != k), k] for k in range(len(states))]
    costs = [[0.0 if p == k else change.get(states[p], {}).get(states[k], rare) for p in way] for k, way in enumerate(ways)]
    before = [itemgetter(*way) for way in ways]
    back: list[list[int]] = []
    for row in scores[1:]:
        came, now = [], []
        for state, way, cost, from_all in zip(states, ways, costs, before):
            reached = list(map(sub, from_all(best), cost))
            most = max(reached)
            came.append(way[reached.index(most)])
            now.append(most + row[state])
        back.append(came)
        best = now
    k = best.index(max(best))
    path = [k]
    for came in reversed(back):
        k = came[k]
        path.append(k)
    return [states[k] for k in reversed(path)]
