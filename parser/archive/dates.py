"""The day of a class, out of the name of its file or out of the words. A day is only taken where no other could be meant."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from functools import cache

_FULL = ("january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december")
_MONTHS = {name: n for n, full in enumerate(_FULL, 1) for name in (full, full[:3])} | {"sept": 9}
_UNITS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_NTH = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "eleventh", "twelfth", "thirteenth",
        "fourteenth", "fifteenth", "sixteenth", "seventeenth", "eighteenth", "nineteenth", "twentieth")
_DAYS = {word: n for n, word in enumerate(_NTH, 1)} | {f"twenty {word}": 20 + n for n, word in enumerate(_NTH[:9], 1)} | {
    "thirtieth": 30, "thirty first": 31}
_LATER = {"twenty": 20, "thirty": 30} | {f"{ten} {word}": tens + n for ten, tens in (("twenty", 20), ("thirty", 30)) for n, word in enumerate(_UNITS, 1)}
_YEARS = {f"{century} {word}": 2000 + n for century in ("twenty", "two thousand", "two thousand and") for word, n in _LATER.items()}
"""2020 to 2039, as they are spoken."""
_EARLIEST, _LATEST = 1990, 2100
"""Nobody's talk-through is from another time: four digits that say so are no year."""


@cache
def _regex(source: str) -> re.Pattern[str]:
    """Only made where a class is kept: who looks for one does not wait for it."""
    return re.compile(source)


def _any(words: Iterable[str]) -> str:
    return "|".join(sorted(words, key=len, reverse=True))


def _only(days: Iterator[date]) -> date | None:
    found = set(days)
    return found.pop() if len(found) == 1 else None


def _made(year: int, month: int, day: int) -> Iterator[date]:
    try:
        if _EARLIEST <= year <= _LATEST:
            yield date(year, month, day)
    except ValueError:
        return


def _read(told: dict[str, str]) -> Iterator[date]:
    """The days that the parts of a date can be: two where day and month cannot be told apart."""
    year = int(told["year"]) if told["year"].isdecimal() else _YEARS[told["year"]]
    if "either" in told:
        yield from _made(year, int(told["other"]), int(told["either"]))
        yield from _made(year, int(told["either"]), int(told["other"]))
        return
    month = int(told["month"]) if told["month"].isdecimal() else _MONTHS[told["month"]]
    yield from _made(year, month, int(told["day"]) if told["day"].isdecimal() else _DAYS[told["day"]])


# ---------------------------------------------------------------- names of files

_NAMED = rf"(?P<month>{_any(_MONTHS)})"
_IN_NAME = tuple(rf"(?<!\d){pattern}(?!\d)" for pattern in (
    r"(?P<year>\d{4})(?P<apart>[-_. ]?)(?P<month>\d\d)(?P=apart)(?P<day>\d\d)",
    r"(?P<either>\d{1,2})(?P<apart>[-_. ])(?P<other>\d{1,2})(?P=apart)(?P<year>\d{4})",
    rf"(?P<day>\d{{1,2}})(?:st|nd|rd|th)?[-_. ]*{_NAMED}[-_., ]*(?P<year>\d{{4}})",
    rf"(?<![a-z]){_NAMED}[-_. ]*(?P<day>\d{{1,2}})(?:st|nd|rd|th)?[-_., ]+(?P<year>\d{{4}})",
    rf"(?P<year>\d{{4}})[-_. ]*{_NAMED}[-_. ]*(?P<day>\d{{1,2}})",
))


def day_in_name(name: str) -> date | None:
    """The one day in the name of a file: ``2026-03-02 rope.vtt``, ``20260302.srt``, ``2-march-2026.txt``. ``02-03-2026`` may be two
    days, so it is none; ``25-03-2026`` is one."""
    found = name.lower()
    return _only(day for pattern in _IN_NAME for told in _regex(pattern).finditer(found) for day in _read(told.groupdict()))


# ---------------------------------------------------------------- words

_BEFORE = r"(?:today is|todays|it is|its|this is|recorded on|class of|class on|session of|welcome to)"
_WEEKDAY = r"(?:the |on )?(?:(?:mon|tues|wednes|thurs|fri|satur|sun)day )?(?:the )?"
_SAID_DAY = rf"(?P<day>\d{{1,2}}(?=st|nd|rd|th|\b)|{_any(_DAYS)})(?:st|nd|rd|th)?"
_SAID_YEAR = rf"(?P<year>\d{{4}}|{_any(_YEARS)})\b"
_DATES = (rf"{_SAID_DAY} (?:of )?{_NAMED} {_SAID_YEAR}", rf"{_NAMED} (?:the )?{_SAID_DAY} {_SAID_YEAR}")
_IN_WORDS = tuple(rf"\b{_BEFORE} {_WEEKDAY}{told}" for told in _DATES)
_IN_HEADING = tuple(rf"\b{told}" for told in _DATES)
_BEGINNING = 1500
"""Characters in which a coach says what day it is: later it is another day that is spoken of."""


def day_in_words(said: str, headings: Sequence[str] = ()) -> date | None:
    """The one day that a heading names, or that is said at the beginning to be that of the class: ``It's Monday the second of March
    twenty twenty-six``. A day without its year is none."""
    for heading in headings:
        if found := day_in_name(heading) or _only(_found(_IN_HEADING, heading)):
            return found
    return _only(_found(_IN_WORDS, said[:_BEGINNING]))


def _found(patterns: Sequence[str], said: str) -> Iterator[date]:
    plain = " ".join(re.sub(r"[^\w\s]+", " ", re.sub(r"[’']", "", said.lower())).split())
    for pattern in patterns:
        for told in _regex(pattern).finditer(plain):
            yield from _read(told.groupdict())
