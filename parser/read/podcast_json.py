"""Transcript JSON of the podcast namespace: ``{"version", "segments": [{speaker, startTime, endTime, body}]}``, seconds.

Published in the namespace's own documentation of the transcript element. A segment may be a sentence or a single word; where
it is mostly single words, they are word times, and are gathered into cues.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from .draft import Draft, Line, Said, join_single_words, usable_time


def claims(tree: object) -> bool:
    return isinstance(tree, dict) and any(True for _ in _segments(tree))


def _segments(tree: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
    items = tree.get("segments")
    for item in items if isinstance(items, list) else ():
        if isinstance(item, dict) and isinstance(item.get("body"), str) and "startTime" in item:
            yield item


def read(tree: Mapping[str, Any]) -> Draft:
    draft = Draft()
    rows = [
        (" ".join(item["body"].split()), usable_time(item["startTime"]), usable_time(item.get("endTime")))
        for item in _segments(tree)
    ]
    for number, (body, start, end) in enumerate(rows, 1):
        if start is None and body:
            draft.report(number, f"Segment {number} has no usable start time.")
        draft.said.append(Said(start, end, [Line(body)], at_line=number))
    draft.said = join_single_words(draft.said)
    return draft
