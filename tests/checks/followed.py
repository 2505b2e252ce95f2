"""Classes as followed, put together by hand: the rules of the clock at their limits, to the second.

``w1.2=40`` is the work of round 1, movement 2, which took 40 s; ``r`` a rest, ``R`` the rest after a round. ``w1.2a=20/25`` is its first
side, planned with 25 s; ``/-`` has no plan. ``~2`` are seconds of uncertainty. The first begins at ``START``, each where the one before ends.
"""

from __future__ import annotations

import re

from parser.delivery import Delivered
from parser.model import Interval

START = 60.0
_KINDS = {"w": "work", "r": "rest", "R": "round_rest", "B": "block_rest"}
_PLANNED = {"work": 40.0, "rest": 20.0, "round_rest": 60.0, "block_rest": 60.0}
_ROW = re.compile(r"(?:(?P<block>\d)\.)??(?P<kind>[wrRB])(?P<round>\d+)?(?:\.(?P<number>\d+))?(?P<side>[ab])?=(?P<took>[\d.]+)"
                  r"(?:/(?P<planned>[\d.]+|-))?(?:~(?P<unsure>[\d.]+))?")


def intervals(rows: str, *, start: float = START) -> tuple[Interval, ...]:
    """Raises ValueError for a row that is none."""
    out, at = [], start
    for row in rows.split():
        said = _ROW.fullmatch(row)
        if said is None:
            raise ValueError(row)
        kind = _KINDS[said["kind"]]
        planned = _PLANNED[kind] if said["planned"] is None else None if said["planned"] == "-" else float(said["planned"])
        out.append(Interval(
            kind=kind, block=int(said["block"] or 1), round=int(said["round"]) if said["round"] else None, number=int(said["number"]) if said["number"] else None,
            side={"a": "first", "b": "second", None: None}[said["side"]], start=at, end=at + float(said["took"]),
            uncertainty_s=float(said["unsure"] or 0), planned_s=planned))
        at = out[-1].end
    return tuple(out)


def delivered(rows: str, *, trusted: tuple[int, ...] = (1,), **more) -> Delivered:
    return Delivered(intervals=intervals(rows), trusted=frozenset(trusted), **more)
