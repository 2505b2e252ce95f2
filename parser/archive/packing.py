"""A class as blobs, and the blobs as a class again: the models as JSON, deflated (RFC 1951) with the talk as the dictionary.

Plan, report and marks quote the talk at every turn. A quote that the text has at the place named is left out and cut from it again;
times and places of cues and words are columns of differences. So a class takes no more than its text two or three times.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Iterable, Mapping, Sequence
from itertools import accumulate
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from ..model import Cue, Mark, Plan, Report, Source, TalkThrough, WordTime

M = TypeVar("M", bound=BaseModel)

_WINDOW = 32768
"""As far back as deflate can refer."""
_SOURCE = "@"
_FIELDS = set(Source.model_fields)
_LEVEL = 9


class Damaged(ValueError):
    """Not what was packed."""


def row_as(model: type[M], row: Mapping[str, Any]) -> M:
    """A row of the tables as the model it stands for. Raises Damaged."""
    try:
        return model.model_validate(row)
    except ValidationError as exc:
        raise Damaged(f"a {model.__name__} cannot be read") from exc


def squeeze(text: str) -> bytes:
    return zlib.compress(text.encode(), _LEVEL)


def unsqueeze(blob: bytes) -> str:
    """Raises Damaged for what was not squeezed so."""
    try:
        return zlib.decompress(blob).decode()
    except (zlib.error, ValueError) as exc:
        raise Damaged(str(exc)) from exc


def pack(tree: object, said: str) -> bytes:
    """``tree``, of JSON's kinds, as a blob that ``unpack`` needs ``said`` for."""
    return _deflated(_slim(tree, said), said)


def unpack(blob: bytes, said: str) -> Any:
    """Raises Damaged for what was not packed with ``said``."""
    return _whole(_inflated(blob, said), said)


def _deflated(tree: object, said: str) -> bytes:
    made = zlib.compressobj(_LEVEL, zdict=said.encode()[-_WINDOW:])
    return made.compress(json.dumps(tree, ensure_ascii=False, separators=(",", ":")).encode()) + made.flush()


def _inflated(blob: bytes, said: str) -> Any:
    try:
        made = zlib.decompressobj(zdict=said.encode()[-_WINDOW:])
        return json.loads(made.decompress(blob) + made.flush())
    except (zlib.error, ValueError) as exc:
        raise Damaged(str(exc)) from exc


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
    return _deflated({**tree, "cues": _columns(talk.cues), "headings": [n for n, c in enumerate(talk.cues) if c.heading]}, talk.text)


def pack_times(words: Sequence[WordTime], said: str) -> bytes | None:
    return _deflated(_columns(words), said) if words else None


def unpack_starts(blob: bytes, said: str) -> tuple[list[int], list[float | None]]:
    """Where in the text each cue of a talk-through begins, and when. Raises Damaged."""
    columns = _inflated(blob, said)["cues"]
    return list(accumulate(columns["first"])), _sums(columns["start"])


def unpack_talk(blob: bytes, times: bytes | None, said: str) -> TalkThrough:
    """Raises ValueError: not packed so, or no talk-through."""
    tree = _inflated(blob, said)
    headings = set(tree["headings"])
    cues = tuple(Cue(**row, heading=n in headings) for n, row in enumerate(_rows(tree["cues"])))
    words = () if times is None else tuple(WordTime(**row) for row in _rows(_inflated(times, said)))
    rest = {key: value for key, value in tree.items() if key not in ("cues", "headings")}
    return TalkThrough(**rest, text=said, cues=cues, words=words)


def _columns(timed: Sequence[Cue] | Sequence[WordTime]) -> dict[str, Any]:
    return {
        "start": _differences([t.start for t in timed]), "end": _differences([t.end for t in timed]),
        "first": _steps([t.chars[0] for t in timed]), "long": [t.chars[1] - t.chars[0] for t in timed],
    }


def _rows(columns: Mapping[str, Any]) -> Iterable[dict[str, Any]]:
    starts, ends = (_sums(columns[name]) for name in ("start", "end"))
    firsts = accumulate(columns["first"])
    return ({"start": start, "end": end, "chars": (first, first + long)}
            for start, end, first, long in zip(starts, ends, firsts, columns["long"], strict=True))


def _steps(values: Sequence[int]) -> list[int]:
    return [b - a for a, b in zip([0, *values], values)]


def _differences(times: Sequence[float | None]) -> dict[str, Any]:
    """Whole milliseconds as steps, where all are such; else as they are."""
    whole = [round(t * 1000) for t in times if t is not None]
    if len(whole) == len(times) and all(ms / 1000 == t for ms, t in zip(whole, times)):
        return {"ms": _steps(whole)}
    return {"s": list(times)}


def _sums(column: Mapping[str, Any]) -> list[float | None]:
    return [ms / 1000 for ms in accumulate(column["ms"])] if "ms" in column else list(column["s"])
