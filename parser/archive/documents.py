"""A class as blobs, and the blobs as a class again.

Plan, report and marks quote the talk at every turn. A quote that the text has at the place named is left out and cut from it again;
times and places of cues and words are columns of differences. So a class takes no more than its text two or three times.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from ..model import Cue, Mark, Plan, Report, Source, TalkThrough, WordTime
from .packing import columns, deflated, inflated, rows_of

_SOURCE = "@"
_FIELDS = set(Source.model_fields)


def pack(tree: object, said: str) -> bytes:
    """``tree``, of JSON's kinds, as a blob that ``unpack`` needs ``said`` for."""
    return deflated(_slim(tree, said), said)


def unpack(blob: bytes, said: str) -> Any:
    """Raises Damaged for what was not packed with ``said``."""
    return _whole(inflated(blob, said), said)


def _slim(node: Any, said: str) -> Any:
    if isinstance(node, dict):
        if node.keys() == _FIELDS:
            first, end = node["chars"]
            quote = () if said[first:end] == node["quote"] else (node["quote"],)
            return {_SOURCE: [node["start"], node["end"], first, end, *quote]}
        return {key: _slim(value, said) for key, value in node.items()}
    if isinstance(node, list):
        return [_slim(value, said) for value in node]
    return node


def _whole(node: Any, said: str) -> Any:
    if isinstance(node, dict):
        if _SOURCE in node:
            start, end, first, last, *quote = node[_SOURCE]
            return {"start": start, "end": end, "quote": quote[0] if quote else said[first:last], "chars": [first, last]}
        return {key: _whole(value, said) for key, value in node.items()}
    if isinstance(node, list):
        return [_whole(value, said) for value in node]
    return node


# ---------------------------------------------------------------- models


def pack_plan(plan: Plan, said: str) -> bytes:
    return pack(plan.model_dump(mode="json"), said)


def unpack_plan(blob: bytes, said: str) -> Plan:
    """Raises ValueError: not packed so, or no plan."""
    return Plan.model_validate(unpack(blob, said))


def pack_report(report: Report, said: str) -> bytes:
    return pack(report.model_dump(mode="json"), said)


def unpack_report(blob: bytes, said: str) -> Report:
    """Raises ValueError: not packed so, or no report."""
    return Report.model_validate(unpack(blob, said))


def pack_marks(marks: Iterable[Mark], meanwhile: Sequence[Source | None], said: str) -> bytes:
    return pack([[[m.kind, m.means, m.source.model_dump(mode="json")] for m in marks],
                 [s and s.model_dump(mode="json") for s in meanwhile]], said)


def unpack_marks(blob: bytes, said: str) -> tuple[tuple[Mark, ...], tuple[Source | None, ...]]:
    """Raises ValueError: not packed so, or no marks."""
    marks, meanwhile = unpack(blob, said)
    return (tuple(Mark(kind=kind, means=means, source=Source(**source)) for kind, means, source in marks),
            tuple(s and Source(**s) for s in meanwhile))


def pack_talk(talk: TalkThrough) -> bytes:
    """All of it but its text, and the times of its words."""
    tree = talk.model_dump(mode="json", exclude={"text", "words", "cues"})
    return deflated({**tree, "cues": columns(talk.cues), "headings": [n for n, c in enumerate(talk.cues) if c.heading]}, talk.text)


def pack_times(words: Sequence[WordTime], said: str) -> bytes | None:
    return deflated(columns(words), said) if words else None


def unpack_talk(blob: bytes, times: bytes | None, said: str) -> TalkThrough:
    """Raises ValueError: not packed so, or no talk-through."""
    tree = inflated(blob, said)
    headings = set(tree["headings"])
    cues = tuple(Cue(**row, heading=n in headings) for n, row in enumerate(rows_of(tree["cues"])))
    words = () if times is None else tuple(WordTime(**row) for row in rows_of(inflated(times, said)))
    rest = {key: value for key, value in tree.items() if key not in ("cues", "headings")}
    return TalkThrough(**rest, text=said, cues=cues, words=words)
