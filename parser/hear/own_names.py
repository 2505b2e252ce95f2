"""Names that a talk explains itself: ``what I call the top shelf, that is a single-arm overhead press``; ``I call those speedies``.

They hold inside that talk, without teaching.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from ..mentions import NO_BREAK, STOP, Words
from .tables import table

if TYPE_CHECKING:
    from lexicon import Lexicon

_T = table("own_names")
_LONGEST: int = _T["longest_name"]
_BACK: int = _T["back"]
_MEANING: int = _T["meaning"]
_POINTING = frozenset(_T["pointing"])
_IS = [tuple(p.split()) for p in _T["is"]]
_ARTICLES = frozenset(["the", "a", "an", "my", "our"])
_NO_NAME = frozenset(table("intro")["words"]["no_name"])


def with_own_names(words: Words, lexicon: Lexicon) -> Lexicon:
    """``lexicon`` with the names that the talk explains laid over it; the same object where it explains none."""
    norms = [t.norm for t in words.tokens]
    for name, means in _explained(words, norms, lexicon):
        try:
            lexicon = lexicon.with_taught(name, means)
        except ValueError:
            continue            # a name that already means something, or a meaning that is no movement
    return lexicon


def _explained(words: Words, norms: Sequence[str], lexicon: Lexicon) -> Iterator[tuple[str, str]]:
    for i, word in enumerate(norms):
        if word not in ("call", "calls", "calling", "called"):
            continue
        if norms[max(0, i - 2) : i] in (["what", "i"], ["what", "we"]):
            yield from _named_first(words, norms, i + 1, lexicon)
        elif i + 1 < len(norms) and norms[i + 1] in _POINTING and word != "called" and norms[max(0, i - 1)] in ("i", "we", "i'm", "we're", "all", "always"):
            yield from _named_after(words, norms, i, lexicon)


def _name_at(words: Words, norms: Sequence[str], first: int) -> tuple[str, int] | None:
    """The name that starts at ``first`` and where it ends: up to a break or a word that no name holds."""
    if first < len(norms) and norms[first] in _ARTICLES:
        first += 1
    end = first
    while end < len(norms) and end - first < _LONGEST and norms[end] not in _NO_NAME and norms[end].isalpha() and (
            end == first or words.tokens[end].brk == NO_BREAK):
        end += 1
    return (" ".join(norms[first:end]), end) if end > first else None


def _named_first(words: Words, norms: Sequence[str], first: int, lexicon: Lexicon) -> Iterator[tuple[str, str]]:
    """``what I call the top shelf, that is a single-arm overhead press``"""
    found = _name_at(words, norms, first)
    if not found:
        return
    name, at = found
    link = next((p for p in _IS if tuple(norms[at : at + len(p)]) == p), None)
    if not link:
        return
    at += len(link)
    if at < len(norms) and norms[at] in _ARTICLES:
        at += 1
    for end in range(min(len(norms), at + _MEANING), at, -1):
        if not any(words.tokens[k].brk == STOP for k in range(at + 1, end)) and lexicon.find(" ".join(norms[at:end])):
            yield name, " ".join(norms[at:end])
            return


def _named_after(words: Words, norms: Sequence[str], at: int, lexicon: Lexicon) -> Iterator[tuple[str, str]]:
    """``High knees. … I call those speedies``"""
    found = _name_at(words, norms, at + 2)
    if not found or lexicon.find(found[0]):
        return
    start = max(0, at - _BACK)
    matches = [m for m in lexicon.scan(norms[start:at], {t.i - start for t in words.tokens[start:at] if t.brk == STOP})
               if not m.verbal and (not m.everyday or len(m.words) > 1)]
    if matches:
        yield found[0], " ".join(matches[-1].words)
