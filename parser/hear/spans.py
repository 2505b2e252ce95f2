"""Phrases without a number: the clock's words, scopes, cues of every kind. One finder for all tables of shapes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..mentions import COMMA, STOP, Phrase
from .normal import Normal
from .numbers import MARK, NUMBER, Unit
from .shapes import find
from .tables import table

NONE = "none"           # the role of a phrase that only looks like one: it takes its words and says nothing
_COUNTED, _COUNT_GAP = 4, 30      # numbers in a count, and words between two of them
_MOST_MISSED, _MISSED_GAP = 3.0, 12    # how far a count may jump, and the words said meanwhile
_COUNTED_NOUNS = frozenset(table("numbers")["counted_nouns"])
_SHORT_FROM = 10      # two numbers alone are a countdown only from here: "twenty nineteen" is a year


def find_phrases(layer: Normal, name: str) -> list[Phrase]:
    """Every phrase of the table ``name``, in order; of two that overlap the one whose pattern stands first."""
    found: list[tuple[int, int, int, Phrase]] = []
    for pattern, match in find(layer, name):
        first, end = layer.token_span(match.start(), match.end())
        found.append((pattern.rank, first, end, Phrase(pattern.role, first, end, pattern.say)))
    taken: set[int] = set()
    out = []
    for _, first, end, phrase in sorted(found, key=lambda f: f[0]):
        if not any(t in taken for t in range(first, end)):
            taken.update(range(first, end))
            if phrase.role != NONE:
                out.append(phrase)
    return sorted(out, key=lambda p: p.first)


def find_scopes(layer: Normal, labels: Iterable[int] = ()) -> list[Phrase]:
    """Stretches in which a movement is only mentioned; a scope ends with its sentence, its reach, or at a movement's number
    (the tokens ``labels``)."""
    numbered = set(labels)
    reach = {row["say"]: row["reach"] for row in table("scopes")["pattern"]}
    tokens = layer.words.tokens
    out = []
    for phrase in find_phrases(layer, "scopes"):
        end = phrase.end
        # what others say goes on past a comma: "Ron says, can I do three"
        stop = STOP if phrase.role == "others" else COMMA
        while end < len(tokens) and end - phrase.end < reach[phrase.pattern] and tokens[end].brk < stop and end not in numbered:
            end += 1
        out.append(Phrase(phrase.role, phrase.first, end, phrase.pattern))
    return out


def find_countdowns(layer: Normal) -> list[Phrase]:
    """``three two one`` and ``five, four, three``: two or more numbers that fall by one."""
    out, over, units = [], 0, layer.units
    for k in [k for k, unit in enumerate(units) if unit.kind == NUMBER]:
        if k < over:
            continue
        run = [k]
        j = k
        while True:
            following = j + 1
            while following < len(units) and (units[following].kind == MARK or units[following].text in ("and", "then")):
                following += 1
            if following < len(units) and units[following].kind == NUMBER and units[following].value == _less(units[j].value) \
                    and not _counts_something(units, following):
                run.append(following)
                j = following
            else:
                break
        if len(run) >= 3 or len(run) == 2 and (_number(units[k]) or 0.0) <= _SHORT_FROM:
            out.append(Phrase("countdown", units[k].first, units[run[-1]].end, "three two one"))
            over = run[-1] + 1
    return out


def find_count_ups(layer: Normal) -> list[Phrase]:
    """Repetitions counted aloud, ``one, two, keep it up, three``: each number as a phrase of its own."""
    out: list[Phrase] = []
    run: list[Unit] = []

    def close() -> None:
        if len(run) >= _COUNTED:
            out.extend(Phrase("count", u.first, u.end, "one, two, three") for u in run)
        run.clear()

    named = frozenset(table("repairs")["labels"])
    for k, unit in [(k, unit) for k, unit in enumerate(layer.units) if unit.kind == NUMBER]:
        value = _number(unit)
        if value is None or k and layer.units[k - 1].text in named or _counts_something(layer.units, k):
            continue
        if run and _goes_on(run[-1], unit, value):
            run.append(unit)
        elif value in (1.0, 2.0):
            close()
            run.append(unit)
    close()
    return out


def _goes_on(last: Unit, unit: Unit, value: float) -> bool:
    """The next of a count, or one soon after it: ``two, don't lean, four`` has words in the place of a number."""
    more, between = value - (_number(last) or 0.0), unit.first - last.end
    return more == 1.0 and between <= _COUNT_GAP or 1.0 < more <= _MOST_MISSED and 0 < between <= _MISSED_GAP


def _counts_something(units: Sequence[Unit], k: int) -> bool:
    """``The warm-up is four. Three rounds of ten things``: a number of something is none of a countdown."""
    return k + 1 < len(units) and units[k + 1].text in _COUNTED_NOUNS


def _number(unit: Unit) -> float | None:
    return None if isinstance(unit.value, tuple) else unit.value


def _less(value: float | tuple[float, float] | None) -> float | None:
    return value - 1 if isinstance(value, (int, float)) and 1 < value <= 30 else None
