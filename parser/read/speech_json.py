"""Segment-and-word JSON as open speech-to-text models and their command-line tools write it.

Shapes, all with seconds unless said: ``{"segments": [{start, end, text, words: [{word, start, end}]}]}`` or the bare list of
segments; ``{"chunks": [{"timestamp": [start, end], "text"}]}``; ``{"transcription": [{"offsets": {from, to} in ms, text}]}``;
``{"result": [{word, start, end}], "text"}``, one or many; ``{"words": [...]}`` alone. Read from memory of what these tools
write: there is no standard. A word without a time of its own (some aligners skip numerals) stays in the text, untimed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from .draft import Draft, Line, Said, Word, gather_words, usable_time

_LOOK_AHEAD = 200
"""How far into a segment's text the next word is looked for, in characters: beyond it the two do not belong together."""


def claims(tree: object) -> bool:
    return next(_segments(tree), None) is not None


def read(tree: object) -> Draft:
    draft = Draft()
    for number, (start, end, text, words) in enumerate(_segments(tree), 1):
        if not text and words and start is None:
            draft.said += gather_words([(str(w.get("word", w.get("text", ""))), *_times(w)) for w in words])
            continue
        line = _line(text, words)
        if start is None and line.words:
            start = line.words[0].start
        if end is None and line.words:
            end = line.words[-1].end
        if start is None and line.text:
            draft.report(number, f"Segment {number} has no start time.")
        draft.said.append(Said(start, end, [line], at_line=number))
    return draft


Node = dict[str, Any]
Segment = tuple[float | None, float | None, str, Sequence[Node]]


def _segments(tree: object) -> Iterator[Segment]:
    """Each segment as start, end, text, words, whichever of the shapes ``tree`` has; nothing for any other shape."""
    if isinstance(tree, list):
        if any(isinstance(item, dict) and ("result" in item or "segments" in item) for item in tree):
            for item in tree:
                yield from _segments(item) if isinstance(item, dict) else ()
        else:
            yield from _each(tree)
    elif isinstance(tree, dict):
        for key in ("segments", "chunks", "transcription"):
            if isinstance(tree.get(key), list) and any(True for _ in _each(tree[key])):
                yield from _each(tree[key])
                return
        for key in ("result", "words"):
            words = _words(tree.get(key))
            if words:
                text = tree.get("text")
                if key == "result":
                    yield None, None, text if isinstance(text, str) else "", words
                else:
                    yield None, None, "", words
                return


def _each(items: list[Any]) -> Iterator[Segment]:
    for item in items:
        if not isinstance(item, dict) or not isinstance(item.get("text"), str):
            continue
        if not any(key in item for key in ("start", "end", "timestamp", "offsets", "words")):
            continue
        start, end = _times(item)
        yield start, end, item["text"], _words(item.get("words"))


def _words(items: object) -> list[Node]:
    if not isinstance(items, list):
        return []
    return [w for w in items if isinstance(w, dict) and isinstance(w.get("word", w.get("text")), str)]


def _times(item: Node) -> tuple[float | None, float | None]:
    if isinstance(pair := item.get("timestamp"), (list, tuple)) and len(pair) == 2:
        return usable_time(pair[0]), usable_time(pair[1])
    if isinstance(offsets := item.get("offsets"), dict):
        start, end = usable_time(offsets.get("from")), usable_time(offsets.get("to"))
        return (None if start is None else start / 1000), (None if end is None else end / 1000)
    return usable_time(item.get("start")), usable_time(item.get("end"))


def _line(text: str, words: Sequence[Node]) -> Line:
    text = " ".join(text.split())
    if not text:
        # Where words bring their own leading space, one without it carries on the word before ("forty", "-five").
        pieces = [_said(word) for word in words]
        spaced = any(piece.startswith(" ") for piece in pieces)
        text = " ".join(("" if spaced else " ").join(pieces).split())
    found: list[Word] = []
    at = 0
    for word in words:
        said = " ".join(_said(word).split())
        start, end = _times(word)
        place = text.find(said, at, at + _LOOK_AHEAD + len(said)) if said else -1
        if place < 0:
            continue
        at = place + len(said)
        if found and found[-1].last == place:
            # Pieces of one word ("forty", "-", "five"): one word, from the first start to the last end.
            found[-1].last, found[-1].end = at, end if end is not None else found[-1].end
        elif start is not None:
            found.append(Word(place, at, start, end))
    return Line(text, found)


def _said(word: Node) -> str:
    return str(word.get("word", word.get("text", "")))
