"""What each number is for: a role for every length of time and every bare number, or none.

Every pattern of ``counts.toml`` and ``times.toml`` is laid over the normal layer; a number is claimed once, by the pattern
that stands first. What lost is kept for ``explain``.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import chain

from ..mentions import BARE, STOP, Phrase, Quantity, Words
from .normal import Normal
from .numbers import LENGTH, MARK, NUMBER, ORDINAL, Unit
from .shapes import Pattern, find
from .tables import table

_CLOCK_PAIR = "a length, and a shorter one"
_PAIR_GAP = 8          # words between the two
_GOES_ROUND = frozenset({"rounds", "bouts", "movements"})
_CLOCKED = frozenset({"interval", "amrap", "cap", "sets"})
_OF_ONE = frozenset({"each", "side", "hold"})
_HELD_CLASS = 5        # lengths of single movements: each is held for its own time
_FRAMES = {role: [tuple(name.split()) for name in names] for role, names in table("phases")["alone"]["names"].items()}
_BEFORE_FRAME = frozenset(table("phases")["alone"]["before"])
_FRAME_ALONE = "warm-up. Seven minutes."
_SHORTEST_FRAME_S = 60       # less is time left
_UNDER_WAY = frozenset({"countdown", "left", "round_label"})
_BARE_PAIR = "it's forty twenty today"
_SHORTEST_S = 5        # less is no length of work or rest, but a pause inside a movement: "stop for two seconds at the bottom"
_SHORTEST_CLASS_S = 300
_SLOWEST_S = 8         # no part of one repetition takes longer; common practice, no source
_MOST_ROUNDS = 60
_LONGEST_S = 900       # no single work or rest is longer
_TELLING = frozenset({"is", "that", "that's", "makes", "between", "after", "every", "per", "call"})     # before "one round": what it is, not how many
_OF_ALL = frozenset({"every", "each", "any", "no"})
_COUNTS = frozenset({"rounds", "sets", "movements", "reps", "reps_each", "reps_side", "progress"})
_NOUNS = frozenset({"round", "lap", "set", "time", "rep", "circuit", "repetition", "exercise", "movement", "move", "station", "breath",
                    "of", "on", "each", "a", "per"})


def find_quantities(layer: Normal, countdowns: Iterable[Phrase] = ()) -> list[Quantity]:
    """Every number with its role. Numbers counted aloud (``countdowns``, down or up) are only that."""
    counting = {t: c.role for c in countdowns for t in range(c.first, c.end)}
    claims: dict[int, tuple[Pattern, str, tuple[int, int]]] = {}
    lost: dict[int, list[str]] = {}
    for pattern, match in chain(find(layer, "counts"), find(layer, "times")):
        for group, role in pattern.roles:
            at = match.start(group)
            if at < 0:
                continue
            k = layer.at(at)
            unit = layer.units[k]
            if unit.first in counting or not _fits(pattern, role, unit, layer, k):
                continue
            if k in claims:
                if claims[k][0].name != pattern.name:
                    lost.setdefault(k, []).append(f"{role}: {pattern.say}")
                continue
            claims[k] = (pattern, role, (match.start(), match.end()))
    out = []
    for k, unit in enumerate(layer.units):
        if unit.value is None:
            continue
        claimed = claims.get(k)
        role = claimed[1] if claimed else BARE
        if unit.first in counting:
            role = counting[unit.first]
        span = layer.token_span(*claimed[2]) if claimed else (unit.first, unit.end)
        out.append(Quantity(role, unit.value, unit.kind, unit.first, unit.end, span, claimed[0].say if claimed else "",
                            tuple(dict.fromkeys(lost.get(k, ())))))
    return out


def with_clock_pair(words: Words, quantities: list[Quantity]) -> list[Quantity]:
    """``Three rounds. Fifty seconds you're busy, ten you're not``: where nobody says in known words how long the work is, or the rest, the
    first two lengths of one thought that can be both are that."""
    roles = {q.role for q in quantities}
    held = sum(q.role in _OF_ONE for q in quantities)
    if not roles & _GOES_ROUND or roles & _CLOCKED or {"work", "rest"} <= roles or held >= _HELD_CLASS:
        return quantities
    tokens = words.tokens
    for k, (one, two) in enumerate(zip(quantities, quantities[1:])):
        if one.role in _UNDER_WAY:
            break
        told = tuple(role if q.role == BARE and role not in roles else q.role for q, role in ((one, "work"), (two, "rest")))
        near = two.first - one.end <= _PAIR_GAP and not any(t.brk == STOP for t in tokens[one.end : two.first + 1])
        if near and told == ("work", "rest") and LENGTH in (one.kind, two.kind) and _is_work_and_rest(one.single, two.single):
            pair = [q if q.role == role else replace(q, role=role, pattern=_CLOCK_PAIR) for q, role in ((one, "work"), (two, "rest"))]
            return quantities[:k] + pair + quantities[k + 2 :]
    return quantities


def with_frame_lengths(words: Words, quantities: list[Quantity]) -> list[Quantity]:
    """``Alright, warm-up. Seven minutes.``: a length that is a sentence of its own, right behind a sentence that says no more than what begins."""
    out = list(quantities)
    for k, q in enumerate(quantities):
        if q.role not in (BARE, "left") or q.kind != LENGTH or (q.single or 0) < _SHORTEST_FRAME_S:
            continue
        first, end = words.sentence(q.first)
        if first != q.first or end != q.end or not first:
            continue
        named = [t.norm for t in words.tokens[words.sentence(first - 1)[0] : first]]
        for role, names in _FRAMES.items():
            name = next((name for name in names if tuple(named[-len(name) :]) == name), None)
            if name is not None and _BEFORE_FRAME.issuperset(named[: -len(name)]):
                out[k] = replace(q, role=role, pattern=_FRAME_ALONE)
    return out


def _is_work_and_rest(work: float | None, rest: float | None) -> bool:
    return work is not None and rest is not None and not work % 5 and not rest % 5 and 20 <= work <= 180 and _SHORTEST_S <= rest < work


def _fits(pattern: Pattern, role: str, unit: Unit, layer: Normal, k: int) -> bool:
    """Whether the value can be what the pattern takes it for: ``one`` is mostly a pronoun, nobody works for an hour."""
    if pattern.say == _BARE_PAIR:
        # "forty twenty": work first, in fives, and no year
        other = layer.units[k + 1] if role == "work" else layer.units[k - 1]
        work, rest = (unit, other) if role == "work" else (other, unit)
        after = k + (2 if role == "work" else 1)
        if after < len(layer.units) and layer.units[after].text in ("was", "were"):
            return False
        if not isinstance(work.value, float) or not isinstance(rest.value, float) or work.value % 5 or rest.value % 5:
            return False
        return 20 <= work.value <= 120 and 5 <= rest.value <= work.value
    if role == "tempo":
        return _low(unit.value) <= _SLOWEST_S
    if role == "label":
        # "every minute on the minute, four rounds": how the class runs, and no minute of it
        return [u.text for u in layer.units[max(0, k - 4) : k] if u.kind != MARK][-3:] != ["on", "the", "minute"]
    if role in ("work", "rest", "round_rest"):
        return _SHORTEST_S <= _low(unit.value) <= _LONGEST_S
    if role == "round_label" and k + 1 < len(layer.units) and layer.units[k + 1].text.endswith("s") and layer.units[k + 1].text[:-1] in _NOUNS:
        # "a circuit, five moves": things counted, not the fifth round
        return False
    if role == "round_label" and unit.kind == ORDINAL:
        # "first, round the room" is no number of a round
        return k + 1 < len(layer.units) and layer.units[k + 1].kind != MARK
    if role in ("rounds", "sets", "bouts") and not 1 <= _low(unit.value) <= _MOST_ROUNDS:
        return False
    if role == "class":
        return _low(unit.value) >= _SHORTEST_CLASS_S
    if role in ("rounds", "sets") and unit.text == "1" and (
            k and layer.units[k - 1].text in _TELLING or [u.text for u in layer.units[k + 2 : k + 3]] == ["and"]):
        return False        # "that's one round", "between one trip and the next"
    if role in _COUNTS and unit.value == 1.0:
        if k and layer.units[k - 1].text in _OF_ALL:
            return False    # "after every one of them"
        # "the next one, round four": a pronoun, and the number of a round
        numbered = k + 2 < len(layer.units) and layer.units[k + 2].kind == NUMBER
        return unit.text.endswith("twice") or k + 1 < len(layer.units) and layer.units[k + 1].text in _NOUNS and not numbered
    return True


def _low(value: float | tuple[float, float] | None) -> float:
    if value is None:
        return 0.0
    return value[0] if isinstance(value, tuple) else value
