"""Words as the matcher compares them: accents and possessive marks gone, hyphens split, numbers as digits, and the inflected
forms of each word of the trade (plural, ``-s``, ``-ing``, ``-ed``)."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_NUMBERS = {
    word: str(n)
    for n, word in enumerate(
        "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen "
        "eighteen nineteen".split()
    )
} | {word: str(10 * n) for n, word in enumerate("twenty thirty forty fifty sixty seventy eighty ninety".split(), start=2)}
_PIECES = re.compile(r"[a-z]+(?:'[a-z]+)?|\d+")
_NUMBER_S = re.compile(r"(\d)'s\b")
_VOWELS = "aeiou"
_IRREGULAR = {  # plural or past -> plain; only where adding an ending does not give it
    "feet": "foot", "calves": "calf", "knives": "knife", "halves": "half", "swung": "swing", "held": "hold", "swam": "swim",
    "threw": "throw", "thrown": "throw", "ran": "run", "stood": "stand", "drove": "drive", "lay": "lie",
    "lying": "lie", "sat": "sit", "flies": "fly", "flys": "fly", "flyes": "fly", "flye": "fly", "ties": "tie", "swum": "swim",
}
_ODD: dict[str, list[str]] = {}
for _form, _plain in _IRREGULAR.items():
    _ODD.setdefault(_plain, []).append(_form)


@lru_cache(maxsize=65536)
def word(token: str) -> str:
    """The normal form of one spoken word; not its stem. ``Child's`` -> ``child``, ``ninety`` -> ``90``, ``plié`` -> ``plie``."""
    low = token.lower().replace("’", "'")
    if not low.isascii():
        low = "".join(c for c in unicodedata.normalize("NFKD", low) if not unicodedata.combining(c))
    low = low.removesuffix("'s")
    low = low.strip("'-.,;:!?")
    return _NUMBERS.get(low, low)


@lru_cache(maxsize=16384)
def split(phrase: str) -> tuple[str, ...]:
    """The words of a written phrase, hyphens and slashes split, normal forms."""
    low = _NUMBER_S.sub(r"\1", phrase.lower().replace("’", "'").replace("&", " and "))
    if not low.isascii():
        low = "".join(c for c in unicodedata.normalize("NFKD", low) if not unicodedata.combining(c))
    return tuple(word(piece) for piece in _PIECES.findall(low))


@lru_cache(maxsize=8192)
def inflections(plain: str) -> tuple[str, ...]:
    """What ``plain`` may be written as in speech: ``squat`` -> squats, squatting, squatted; ``press`` -> presses, ...

    Without the plain form itself. Plain plurals (``knees``) give their singular too.
    """
    forms = set(_ODD.get(plain, ()))
    if plain.isdigit() or len(plain) < 2:
        return ()
    if plain.endswith(("s", "x", "z", "ch", "sh")):
        forms.add(plain + "es")
    elif plain.endswith("y") and plain[-2] not in _VOWELS:
        forms.update((plain[:-1] + "ies", plain + "s"))
    elif plain.endswith("f"):
        forms.update((plain[:-1] + "ves", plain + "s"))
    else:
        forms.add(plain + "s")
    if plain.endswith("s") and not plain.endswith(("ss", "us", "is")) and len(plain) > 3:
        forms.add(plain[:-1])
    for ending in ("ing", "ed"):
        if plain.endswith("e") and not plain.endswith("ee"):
            forms.add(plain[:-1] + ending)
        elif plain.endswith("y") and ending == "ed" and plain[-2] not in _VOWELS:
            forms.add(plain[:-1] + "ied")
        else:
            forms.add(plain + ending)
            if len(plain) > 2 and plain[-1] not in "aeiouwxy" and plain[-2] in _VOWELS and (plain[-3] not in _VOWELS or plain[-4:-2] == "qu"):
                forms.add(plain + plain[-1] + ending)
    forms.discard(plain)
    return tuple(sorted(forms))
