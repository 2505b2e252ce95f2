"""Blobs: text and JSON deflated (RFC 1951), with the talk as the dictionary, and times and places as columns of differences."""

from __future__ import annotations

import json
import zlib
from collections.abc import Iterable, Mapping, Sequence
from itertools import accumulate
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from ..model import Cue, WordTime

_WINDOW = 32768
"""As far back as deflate can refer."""
_LEVEL = 9


class Damaged(ValueError):
    """Not what was packed."""


def squeeze(text: str) -> bytes:
    return zlib.compress(text.encode(), _LEVEL)


def unsqueeze(blob: bytes) -> str:
    """Raises Damaged for what was not squeezed so."""
    try:
        return zlib.decompress(blob).decode()
    except (zlib.error, ValueError) as exc:
        raise Damaged(str(exc)) from exc


def deflated(tree: object, said: str) -> bytes:
    """``tree``, of JSON's kinds, as a blob that ``inflated`` needs ``said`` for."""
    made = zlib.compressobj(_LEVEL, zdict=said.encode()[-_WINDOW:])
    return made.compress(json.dumps(tree, ensure_ascii=False, separators=(",", ":")).encode()) + made.flush()


def inflated(blob: bytes, said: str) -> Any:
    """Raises Damaged for what was not deflated with ``said``."""
    try:
        made = zlib.decompressobj(zdict=said.encode()[-_WINDOW:])
        return json.loads(made.decompress(blob) + made.flush())
    except (zlib.error, ValueError) as exc:
        raise Damaged(str(exc)) from exc


def unpack_starts(blob: bytes, said: str) -> tuple[list[int], list[float | None]]:
    """Where in the text each cue of a talk-through begins, and when. Raises Damaged."""
    columns = inflated(blob, said)["cues"]
    return list(accumulate(columns["first"])), _sums(columns["start"])


def columns(timed: Sequence[Cue] | Sequence[WordTime]) -> dict[str, Any]:
    """Times and places, column by column; as ``rows_of`` reads them."""
    return {
        "start": _differences([t.start for t in timed]), "end": _differences([t.end for t in timed]),
        "first": _steps([t.chars[0] for t in timed]), "long": [t.chars[1] - t.chars[0] for t in timed],
    }


def rows_of(columns: Mapping[str, Any]) -> Iterable[dict[str, Any]]:
    """``start``, ``end`` and ``chars`` of each. Raises ValueError where columns are not of one length."""
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
