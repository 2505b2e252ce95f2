"""Numbers and lengths of time, as units over the words.

``forty five`` is one number, ``three two one`` are three, ``twenty one fifteen nine`` is 21, 15, 9; ``eight to ten`` is a
range; ``second`` is a length after a number and an ordinal elsewhere; ``a minute thirty`` and ``two and a half minutes``
are lengths.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from ..mentions import NO_BREAK, STOP, Token, Words
from .tables import plain_word, table

WORD, NUMBER, ORDINAL, LENGTH, MARK = "word", "number", "ordinal", "length", "mark"


class Unit(NamedTuple):
    """One unit of the normal layer: the tokens ``first`` to ``end``, what kind they make, and the value.

    ``value`` is a number, or ``(low, high)`` for a range; seconds for a length.
    """

    first: int
    end: int
    kind: str
    text: str
    value: float | tuple[float, float] | None = None


_WORDS = table("numbers")
_ONES: dict[str, int] = _WORDS["ones"]
_TENS: dict[str, int] = _WORDS["tens"]
_ORDINALS: dict[str, int] = _WORDS["ordinals"]
_SCALE = {"sec": 1.0, "min": 60.0, "hour": 3600.0}
TIME_UNITS: dict[str, float] = {word: _SCALE[unit] for unit, words in _WORDS["time_units"].items() for word in words}
"""Seconds in each."""
_BETWEEN = frozenset(_WORDS["between_number_and_unit"])
_COUNTED = frozenset(_WORDS["counted_nouns"])
_TIMES: dict[str, int] = _WORDS["times"]
_SWAPS, _WHO_SWAPS = frozenset(_WORDS["swaps"]), frozenset(_WORDS["who_swaps"])
_YEAR_AFTER = frozenset(_WORDS["before_a_year"])
_CENTURIES, _FIRST_YEAR, _LAST_YEAR = (17.0, 18.0, 19.0, 20.0), 10.0, 99.0
_SWAP_REACH = 6
_TIME_ROUND = frozenset({"time", "go", "round", "lap", "set", "pass", "loop", "trip"})
_CLOCK = re.compile(r"\d+(?::\d\d)+", re.ASCII)
_PER_SIDE = (("each", "side"), ("each", "way"), ("per", "side"), ("a", "side"), ("on", "each"))
_SOUNDS: dict[str, int] = _WORDS["sounds_like"]
_OPENERS = frozenset({"a", "an", "half", "quarter", "second", "other", "minute"}).union(_ONES, _TENS, _ORDINALS, _SOUNDS)
"""What a number or a length begins with, besides a digit: most words of a talk are none of them."""
_SECONDS: dict[str, frozenset[str]] = {
    **dict.fromkeys(("a", "an"), frozenset({"couple", "dozen", "hundred", "thousand", "quarter"}).union(_BETWEEN, TIME_UNITS)),
    **dict.fromkeys(_SOUNDS.keys() - _ONES.keys() - _TENS.keys() - _ORDINALS.keys(), _COUNTED),
}
"""What comes next where one of these begins one: they are said all the time."""
_NOTHING = ("",) * 8
"""More words than are looked at behind a word, or before it."""


def plain(value: float) -> int | float:
    """``40.0`` as ``40``."""
    return int(value) if float(value).is_integer() else round(float(value), 3)


def say(value: float | tuple[float, float]) -> str:
    if isinstance(value, tuple):
        return f"{plain(value[0])}~{plain(value[1])}"
    return str(plain(value))


class _Reader:
    """Reads units off the tokens, left to right. Holds a position and nothing else."""

    def __init__(self, tokens: tuple[Token, ...], text: str) -> None:
        self.tokens, self.text = tokens, text
        self.n = len(tokens)
        self.words = [*(plain_word(t.norm)[0] for t in tokens), *_NOTHING]
        """By token; empty behind the last one and, as Python counts, before the first."""

    def joined(self, i: int) -> bool:
        """Token ``i`` follows the one before without a break."""
        return i < self.n and self.tokens[i].brk == NO_BREAK

    def unit(self, i: int) -> Unit | None:
        """The number or length that starts at ``i``."""
        word = self.words[i]
        if word in _SECONDS and self.words[i + 1] not in _SECONDS[word]:
            return None
        number = self.number(i)
        return self._length(i, number) or self.ordinal(i) or number

    # ---- cardinals

    def cardinal(self, i: int) -> tuple[float, int] | None:
        """``(value, end)`` of the cardinal that starts at ``i``."""
        word = self.words[i]
        if not word:
            return None
        if word[0].isdecimal():
            if not word.replace(",", "").replace(".", "", 1).isdecimal():
                return None
            value = float(word.replace(",", ""))
            if self.words[i + 1] == "½" and self.joined(i + 1):
                return value + 0.5, i + 2
            return (value, i + 1) if value < 1e9 else None
        small = self._small(i)
        if small is None and word == "a" and self.words[i + 1] == "dozen":
            return 12.0, i + 2
        if small is None and word == "a" and self.words[i + 1] == "couple" and self.words[i + 3] in _COUNTED:
            return 2.0, i + 3
        if small is None and word in ("a", "one") and self.words[i + 1] in ("hundred", "thousand"):
            small = (1, i + 1)
        if small is None:
            return None
        value, end = small
        while self.words[end] in ("hundred", "thousand") and self.joined(end):
            value *= 100 if self.words[end] == "hundred" else 1000
            end += 1
            tail = end + 1 if self.words[end] == "and" and self.joined(end) else end
            rest = self._small(tail) if self.joined(tail) or tail > end else None
            if rest and rest[0] < 100 and (tail > end or self.words[end] != "hundred"):
                value, end = value + rest[0], rest[1]
        return float(value), end

    def _small(self, i: int) -> tuple[int, int] | None:
        word = self.words[i]
        if word in _TENS:
            following = self.words[i + 1]
            if following in _ONES and 0 < _ONES[following] < 10 and self.joined(i + 1):
                return _TENS[word] + _ONES[following], i + 2
            return _TENS[word], i + 1
        if word in _ONES:
            return _ONES[word], i + 1
        return None

    def mistaken(self, i: int) -> tuple[float, int] | None:
        """``for rounds`` is four rounds, ``to rounds`` two: a sound-alike right before what is counted."""
        word = self.words[i]
        if word in _SOUNDS and self.words[i + 1] in _COUNTED and self.joined(i + 1) and self.tokens[i].brk == NO_BREAK \
                and self.cardinal(i - 1) is None and self.words[i - 1] not in _WORDS["sounds_like_after"]:
            return float(_SOUNDS[word]), i + 1
        return None

    def number(self, i: int) -> Unit | None:
        """A cardinal or a range of two."""
        got = self.cardinal(i) or self.mistaken(i)
        if got is None:
            return None
        value, end = got
        half = self._and_a_half(end)
        if half:
            return Unit(i, half, NUMBER, say(value + 0.5), value + 0.5)
        if end < self.n and self.text[self.tokens[end - 1].end : self.tokens[end].start] in ("-", "–") and (high := self.cardinal(end)) \
                and value < high[0]:
            return Unit(i, high[1], NUMBER, say((value, high[0])), (value, high[0]))
        link = self.words[end]
        if link in ("to", "or", "and") and self.joined(end) and self.joined(end + 1):
            high = self.cardinal(end + 1)
            if high and value < high[0] and self._is_range(i, link, value, high):
                return Unit(i, high[1], NUMBER, say((value, high[0])), (value, high[0]))
        return Unit(i, end, NUMBER, say(value), value)

    def _is_range(self, i: int, link: str, low: float, high: tuple[float, int]) -> bool:
        if link == "to":
            count = self.words[i - 1] in ("from", "to") and self.words[i - 2] not in ("anywhere", "somewhere", "anything")
            return not count and high[0] <= low * 3 + 2
        if link == "or":
            return high[0] - low <= max(5, low * 0.5)
        return self.words[i - 1] == "between"

    def _and_a_half(self, end: int) -> int | None:
        if self.words[end] == "and" and self.words[end + 1 : end + 3] == ["a", "half"] and self.joined(end) and self.joined(end + 1):
            return end + 3
        return None

    # ---- lengths of time

    def clock(self, i: int) -> Unit | None:
        """``1:30`` said or written as a length."""
        word = self.words[i]
        if ":" not in word or not _CLOCK.fullmatch(word):
            return None
        parts = [int(p) for p in word.split(":")]
        seconds = float(sum(p * 60**k for k, p in enumerate(reversed(parts))))
        if parts[-1] > 59 or seconds > 86400 or self.words[i + 1] in ("am", "pm", "o'clock") or self.words[i - 1] in ("at", "till", "until", "by"):
            return None
        return Unit(i, i + 1, LENGTH, f"{say(seconds)}s", seconds)

    def _unit(self, i: int) -> tuple[float, int, str] | None:
        """``(scale, end, said between)``: the unit of time at ``i``, past a describing word (``two proper minutes``)."""
        between = ""
        if self.words[i] in _BETWEEN and self.joined(i):
            between = self.words[i]
            i += 1
        word = self.words[i]
        if word in TIME_UNITS and self.joined(i):
            return TIME_UNITS[word], i + 1, between
        return None

    def _length(self, i: int, number: Unit | None) -> Unit | None:
        """The length that starts at ``i``, as ``number`` does if there is one."""
        unit = self.clock(i) or self._fraction(i) or self._article(i) or self._counted(number)
        if unit is None or not isinstance(unit.value, float) or not self.joined(unit.end):
            return unit
        link = self.words[unit.end]
        if link in ("to", "or") or link == "and" and self.words[i - 1] == "between":
            high = self._fraction(unit.end + 1) or self._article(unit.end + 1) or self._counted(self.number(unit.end + 1))
            if high and isinstance(high.value, float) and unit.value < high.value <= unit.value * 3:
                value = (unit.value, high.value)
                return Unit(i, high.end, LENGTH, f"{say(value)}s", value)
        return unit

    def _fraction(self, i: int) -> Unit | None:
        """``half a minute``, ``three quarters of an hour``, ``a quarter of an hour``."""
        word, at, share = self.words[i], i, None
        if word == "half":
            share, at = 0.5, i + 1
        elif word == "quarter" or (word in ("a", "one") and self.words[i + 1] == "quarter"):
            share, at = 0.25, i + (1 if word == "quarter" else 2)
        elif self.words[i + 1] in ("quarters", "quarter") and word in ("three", "3"):
            share, at = 0.75, i + 2
        if share is None:
            return None
        if self.words[at] == "of":
            at += 1
        if self.words[at] in ("a", "an", "the", "your", "that"):
            at += 1
        elif share != 0.5 and word != "a":
            return None             # "a quarter minute"
        got = self._unit(at)
        if not got or got[0] < 60:
            return None
        seconds = share * got[0]
        return Unit(i, got[1], LENGTH, f"{say(seconds)}s", seconds)

    def _article(self, i: int) -> Unit | None:
        """``a minute``, ``an hour and a half``, ``a couple of minutes``, ``a minute thirty``, ``minute thirty``."""
        word = self.words[i]
        if word in ("a", "an"):
            if self.words[i + 1] == "couple":
                at = i + 3 if self.words[i + 2] == "of" else i + 2
                got = self._unit(at)
                return Unit(i, got[1], LENGTH, f"{say(2 * got[0])}s", 2 * got[0]) if got else None
            got = self._unit(i + 1)
            if not got or got[0] < 60:
                return None
            return self._tail(i, got[0], got[0], got[1], got[2])
        if word in ("second", "other") and self.words[i - 1] == "every" and self.words[i + 1] == "minute":
            return Unit(i, i + 2, LENGTH, "120s", 120.0)
        if word == "minute" and [self.words[i + k] for k in (1, 2, 3)] == ["and", "a", "half"] and self.words[i - 1] != "a":
            return Unit(i, i + 4, LENGTH, "90s", 90.0)
        if word == "minute" and self.words[i - 1] in ("every", "each") and self._is_swapped_by(i + 1):
            return Unit(i, i + 1, LENGTH, "60s", 60.0)
        if word == "minute" and self.words[i - 1] not in ("per", "the", "each", "that", "this", "last", "a"):
            tail = self.cardinal(i + 1) if self.joined(i + 1) else None
            if tail and tail[0] in (15, 20, 30, 40, 45, 50):
                seconds = 60 + tail[0]
                return Unit(i, tail[1], LENGTH, f"{say(seconds)}s", seconds)
            if self.joined(i + 1) and (self.words[i + 1], self.words[i + 2]) in _PER_SIDE:
                return Unit(i, i + 1, LENGTH, "60s", 60.0)
        return None

    def _is_swapped_by(self, i: int) -> bool:
        """``Every minute, on my call, you swap``: how long each place is held; ``every minute on the minute`` says how a class runs."""
        words = [self.words[k] for k in range(i, i + _SWAP_REACH)]
        return words[:3] != ["on", "the", "minute"] and any(a in _WHO_SWAPS and b in _SWAPS for a, b in zip(words, words[1:]))

    def _counted(self, number: Unit | None) -> Unit | None:
        """``forty seconds``, ``two and a half minutes``."""
        if number is None:
            return None
        got = self._unit(number.end)
        if not got:
            return self._minutes_and_seconds(number)
        scale, end, between = got
        if isinstance(number.value, tuple):
            value = (number.value[0] * scale, number.value[1] * scale)
            return Unit(number.first, end, LENGTH, f"{say(value)}s" + (f" {between}" if between == "more" else ""), value)
        return self._tail(number.first, (number.value or 0.0) * scale, scale, end, between)

    def _minutes_and_seconds(self, number: Unit) -> Unit | None:
        """``two thirty of work``: minutes and seconds without their names, where what they are for follows."""
        if not isinstance(number.value, float) or not 1 <= number.value <= 5 or not self.joined(number.end):
            return None
        small = self.cardinal(number.end)
        if small and small[0] in (15, 30, 45) and self.words[small[1]] == "of":
            seconds = number.value * 60 + small[0]
            return Unit(number.first, small[1], LENGTH, f"{say(seconds)}s", seconds)
        return None

    def _tail(self, i: int, seconds: float, scale: float, end: int, between: str) -> Unit:
        """What may follow the first unit: ``and a half``, ``thirty``, ``and twenty seconds``, ``and a quarter``."""
        words = [self.words[end + k] for k in range(3)]
        smooth = self.joined(end)
        if smooth and words == ["and", "a", "half"]:
            seconds, end = seconds + scale / 2, end + 3
        elif smooth and words == ["and", "a", "quarter"]:
            seconds, end = seconds + scale / 4, end + 3
        elif smooth and scale > 1:
            at = end + 1 if words[0] == "and" else end
            small = self.cardinal(at)
            if small and small[0] < 60:
                unit = self._unit(small[1])
                if unit and unit[0] < scale:
                    seconds, end = seconds + small[0] * unit[0], unit[1]
                elif not unit and scale == 60 and small[0] in (15, 20, 30, 40, 45, 50) and (at == end or self.words[small[1]] not in _COUNTED):
                    seconds, end = seconds + small[0], small[1]
        return Unit(i, end, LENGTH, f"{say(seconds)}s" + (f" {between}" if between == "more" else ""), seconds)

    def ordinal(self, i: int) -> Unit | None:
        word = self.words[i]
        counted = self.words[i - 1] == "a" and self.words[i + 1] in _TIME_ROUND        # "we do it all a second time"
        if word == "second" and not counted and (self.words[i - 1] in ("a", "split", "half") or self.words[i + 1] == "or"):
            return None
        if word in _ORDINALS:
            return Unit(i, i + 1, ORDINAL, f"#{_ORDINALS[word]}", float(_ORDINALS[word]))
        if word.isascii() and word.isdigit() and self.words[i + 1] in ("st", "nd", "rd", "th") and self.joined(i + 1):
            return Unit(i, i + 2, ORDINAL, f"#{int(word)}", float(word))
        if word in _TENS and self.words[i + 1] in _ORDINALS and _ORDINALS[self.words[i + 1]] < 10 and self.joined(i + 1) \
                and self.words[i + 1] != "second" and self.words[i + 2] not in _TIME_ROUND:        # "it's thirty third lap forty"
            value = _TENS[word] + _ORDINALS[self.words[i + 1]]
            return Unit(i, i + 2, ORDINAL, f"#{value}", float(value))
        return None


def read_units(words: Words, joins: dict[str, str]) -> list[Unit]:
    """Every token in exactly one unit, in order, with a mark unit (``,`` or ``.``) where a break stands.

    ``joins`` maps words that captions split or mis-hear to one word (``am rap`` to ``amrap``).
    """
    tokens, units, over = words.tokens, [], 0
    reader = _Reader(tokens, words.talk.text)
    paired = {pair.split()[0] for pair in joins if " " in pair}
    alone: dict[str, str | None] = {}
    """By its normal form the text of a word that is a unit by itself whatever stands beside it; ``None`` for one that may be more."""
    for i, token in enumerate(tokens):
        if i < over:
            continue
        norm = token.norm
        if token.brk and i:
            units.append(Unit(i, i, MARK, "." if token.brk == STOP else ","))
        if norm not in alone:
            alone[norm] = _alone(norm, joins, paired)
        if (text := alone[norm]) is not None:
            units.append(Unit(i, i + 1, WORD, text))
            continue
        unit = reader.unit(i)
        if unit is not None:
            if unit.kind in (NUMBER, ORDINAL) and plain_word(tokens[unit.end - 1].norm)[1]:
                unit = unit._replace(text=f"{unit.text} is")        # "number one's the row"
        elif norm in _TIMES:
            unit = Unit(i, i + 1, NUMBER, f"{_TIMES[norm]} twice", float(_TIMES[norm]))
        elif norm in paired and i + 1 < len(tokens) and (pair := f"{norm} {tokens[i + 1].norm}") in joins:
            unit = Unit(i, i + 2, WORD, joins[pair])
        else:
            unit = Unit(i, i + 1, WORD, _as_word(norm, joins))
        units.append(unit)
        over = unit.end
    return _with_years(units)


def _alone(norm: str, joins: dict[str, str], paired: set[str]) -> str | None:
    opening = plain_word(norm)[0]
    if opening in _OPENERS or opening[:1].isdecimal() or norm in _TIMES or norm in paired:
        return None
    return _as_word(norm, joins)


def _as_word(norm: str, joins: dict[str, str]) -> str:
    word, verb = plain_word(norm)
    word = joins.get(word, word)
    return f"{word} is" if verb else word


def _with_years(units: list[Unit]) -> list[Unit]:
    """``The floor is from eighteen eighty``: two numbers that are a year count nothing. ``From ten eight six`` goes down a ladder."""
    out: list[Unit] = []
    for k, unit in enumerate(units):
        if unit.kind == NUMBER and len(out) > 1 and _is_year(out[-2], out[-1], unit, units[k + 1] if k + 1 < len(units) else None):
            out[-1] = Unit(out[-1].first, unit.end, WORD, "year")
        else:
            out.append(unit)
    return out


def _is_year(lead: Unit, century: Unit, years: Unit, after: Unit | None) -> bool:
    if lead.text not in _YEAR_AFTER or century.kind != NUMBER or century.value not in _CENTURIES or not _is_of_a_century(years):
        return False
    return after is None or after.kind not in (NUMBER, LENGTH) and after.text not in ("on", "off")


def _is_of_a_century(unit: Unit) -> bool:
    return isinstance(unit.value, float) and _FIRST_YEAR <= unit.value <= _LAST_YEAR
