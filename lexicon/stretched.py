"""A part of the body named alone, ``front of thigh``: the name of its stretch where stretches are done, and nothing anywhere else."""

from __future__ import annotations

from .everyday import Around
from .grammar import Item
from .speech import Speech

_NEAR = 80    # words since the last stretch
_ASKED = 12   # words since stretching was last spoken of
_LEAD = 4     # words of going on before the part


def named_part(speech: Speech, i: int, *, end: int | None = None) -> Item | None:
    """The stretch of the part of the body named from word ``i`` on (up to just ``end``), whether or not it is meant."""
    found = [(e, n) for e, n, _ in speech.stretched_at(i) if end is None or e == end]
    if not found:
        return None
    e, name = max(found, key=lambda f: f[0])
    return Item(i, e, name.what, (), "alias", 98.0, True, name.words, i)


def is_meant(speech: Speech, item: Item, around: Around, last: Item | None) -> bool:
    """Whether the part stands where a stretch is announced: after another stretch (``last`` is the movement before) or after
    the word itself, as a thought of its own or with a dose. In a list, ``quads, calves, glutes``, it tells what is worked."""
    return _begins(speech, item.start, around) and _closes(speech, item.end, around) and _among_stretches(speech, item, around, last)


def _begins(speech: Speech, start: int, around: Around) -> bool:
    for i in range(start, max(-1, start - _LEAD - 1), -1):
        if i == 0 or i in speech.breaks:
            return not _ends_with_part(speech, i)
        if speech.words[i - 1] not in around.onward:
            return False
    return False


def _closes(speech: Speech, end: int, around: Around) -> bool:
    words = speech.words
    if end >= len(words):
        return True
    if words[end].isdigit() or words[end] in ("next", "first") or words[end] == "for" and words[end + 1 : end + 2] and words[end + 1].isdigit():
        return True
    return end in speech.breaks and not speech.stretched_at(end)


def _ends_with_part(speech: Speech, end: int) -> bool:
    return any(e == end for i in range(max(0, end - _LEAD), end) for e, _, _ in speech.stretched_at(i))


def _among_stretches(speech: Speech, item: Item, around: Around, last: Item | None) -> bool:
    since = last.end if last is not None else 0
    asked = f" {' '.join(speech.words[max(since, item.start - _ASKED) : item.start])} "
    if any(f" {phrase} " in asked for phrase in around.stretching):
        return True
    return last is not None and item.start - since <= _NEAR and is_stretch(last)


def is_stretch(item: Item) -> bool:
    return item.base is not None and "mobility" in item.base.patterns and (bool(item.base.stretched) or "stretch" in item.base.name)
