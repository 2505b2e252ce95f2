"""Mis-hearing: what automatic captions do to the words of a script, at a rate, the same way every time."""

from __future__ import annotations

import random
import re
import tomllib
from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path

from .talks import Spoken

_ONES = "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen"
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety"
ONES = {word: n for n, word in enumerate(_ONES.split())}
TENS = {word: 10 * n for n, word in enumerate(_TENS.split(), 2)}
_PARTS = re.compile(r"^(\W*)(.*?)(\W*)$", re.DOTALL)


@lru_cache(maxsize=1)
def _data() -> dict:
    return tomllib.loads(Path(__file__).with_name("mishearings.toml").read_text(encoding="utf-8"))


def mishear(words: Sequence[Spoken], *, rate: float, seed: int = 11) -> list[Spoken]:
    """``words`` with mistakes: of the places where one could be made, the share ``rate`` has it. ``rate`` 0 changes nothing.

    Sound-alikes and words cut in two or joined; numbers in digits where they were words and in words where they were digits;
    marks and capitals lost; fillers dropped. Times stay: a word that becomes two shares its time out.
    """
    if not rate:
        return list(words)
    dice = random.Random(seed)
    out: list[Spoken] = []
    rest = list(words)
    while rest:
        taken, heard = _hear(rest, rate, dice)
        first, last = rest[0], rest[taken - 1]
        del rest[:taken]
        step = (last.end - first.start) / max(1, len(heard))
        out += [Spoken(text, first.start + k * step, first.start + (k + 1) * step) for k, text in enumerate(heard)]
    return out


def _hear(words: list[Spoken], rate: float, dice: random.Random) -> tuple[int, list[str]]:
    """How many of ``words`` are heard at once, and as what."""
    before, bare, after = _PARTS.match(words[0].text).groups()
    low = bare.lower()
    data = _data()
    if low in data["fillers"]["words"] and dice.random() < rate / 2 and not after:
        return 1, []
    if after.strip("'\"") and dice.random() < rate:
        after = ""
        bare = bare if bare.startswith("I") else bare.lower()
    for table in (data["sounds_like"], data["cut"]):
        if low in table and dice.random() < rate:
            return 1, (before + dice.choice(table[low]) + after).split()
    taken, number = _number(words)
    if number is not None and dice.random() < rate:
        tail = _PARTS.match(words[taken - 1].text).group(3)
        return taken, [before + str(number) + tail]
    if low.isdigit() and int(low) < 100 and dice.random() < rate:
        return 1, (before + in_words(int(low)) + after).split()
    return 1, [before + bare + after]


def _number(words: list[Spoken]) -> tuple[int, int | None]:
    """How many words make the number at the head of ``words``, and its value; small ones only before what is counted."""
    first = [_PARTS.match(w.text) for w in words[:3]]
    low = first[0].group(2).lower()
    tens, _, ones = low.partition("-")
    if tens in TENS and (not ones or ONES.get(ones, 10) < 10):
        if ones:
            return 1, TENS[tens] + ONES[ones]
        following = first[1].group(2).lower() if len(first) > 1 and not first[0].group(3) else ""
        if 0 < ONES.get(following, 0) < 10:
            return 2, TENS[tens] + ONES[following]
        return 1, TENS[tens]
    if low in ONES:
        following = first[1].group(2).lower() if len(first) > 1 else ""
        if ONES[low] >= 10 or following in _data()["numbers"]["counted"]:
            return 1, ONES[low]
    return 1, None


def in_words(n: int) -> str:
    """A number from 0 to 99 as people say it: ``forty five``."""
    small = list(ONES)
    if n < 20:
        return small[n]
    tens = {value: word for word, value in TENS.items()}[n // 10 * 10]
    return f"{tens} {small[n % 10]}" if n % 10 else tens
