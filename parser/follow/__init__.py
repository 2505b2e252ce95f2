"""Following: the announced class is laid over what was heard, and each interval gets the time at which it was done.

``grid`` unrolls the plan into edges and lengths, ``moments`` says when each word can have been said, ``axis`` spreads that over the time of
the recording, ``evidence`` says what the words tell of edges (``names`` what they call a movement), ``places`` where each edge can lie at
all, ``fit`` finds the best way through all of it at once, ``delivered`` gives it its public shape.
"""

from __future__ import annotations

from math import log

from ..delivery import NOTHING, Delivered
from ..mentions import Heard, Layout
from ..model import Plan
from .delivered import deliver
from .evidence import Evidence
from .fit import Fit, Lengths, fit
from .grid import REST, ROUND_REST, START, STOP, SWITCH, TURN, WORK, Grid, unroll
from .places import places
from .weights import weights

LENGTH = "length"
_FEWEST_EDGES = 6
_MOST_PLACES = 40_000_000
"""Edges times moments that each may lie at: three hours of classes have some ten million, and what has more than this is no recording of
a class, but a stamp gone wrong."""
_CHANGE_REACH = 40          # words from the announcement of a change to the new length
_CALLED_BEFORE_S, _CALLED_AFTER_S = 12.0, 3.0     # a movement is named so long before and after it begins

__all__ = ["follow"]


def follow(heard: Heard, plan: Plan, layout: Layout) -> Delivered:
    """What was done of ``plan``, and when. Nothing where the talk has no times or the plan no clock,
    or where the times run on longer than any class."""
    talk = heard.words.talk
    if talk.resolution == "none" or not heard.words.tokens:
        return NOTHING
    long_rests = sorted({q.single for q in heard.quantities if q.role == "round_rest" and q.single and q.kind == LENGTH})
    grid = unroll(plan, long_rests, _changed(heard))
    if not grid.nodes:
        return NOTHING
    clock, edge = weights()["clock"], weights()["edge"]
    coarse = talk.resolution == "block"
    fine = not coarse and (talk.duration_s or 0.0) <= clock["fine_up_to_s"]
    evidence = Evidence(heard, plan, layout, dt=clock["fine_s"] if fine else clock["coarse_s"])
    if len(grid.nodes) * evidence.steps > _MOST_PLACES:
        return NOTHING
    base = edge["missing_coarse"] if coarse else edge["missing"]
    where = places(grid, evidence, base=base)
    lengths = Lengths(evidence.dt, evidence.steps)
    found = fit(grid, evidence, base=base, places=where, lengths=lengths)
    if found is None:
        return NOTHING
    missing = _listen_again(grid, evidence, found, base)
    found = fit(grid, evidence, base=base, missing=missing, places=where, lengths=lengths) or found
    return deliver(heard, plan, grid, evidence, found)


def _changed(heard: Heard) -> dict[str, list[float]]:
    """The lengths said for each kind of interval where a change was announced while the class was on; else nothing."""
    changes = [n.first for n in heard.notes if n.role == "change" and heard.phase_at(n.first) == "work"]
    out: dict[str, list[float]] = {}
    for kind in (WORK, REST, ROUND_REST):
        said = [q for q in heard.quantities if q.role == kind and q.single]
        if any(0 <= q.first - change <= _CHANGE_REACH for q in said for change in changes):
            out[kind] = sorted({q.single for q in said if q.single})
    return out


def _listen_again(grid: Grid, evidence: Evidence, found: Fit, base: float) -> float:
    """Learn from a first fit how this coach calls movements and edges, and how often an edge is not called at all.

    Returns the cost of an edge without a word.
    """
    cells = [(s.arc.cell, s) for s in found.steps if s.arc.cell is not None]
    evidence.learn((c.block, c.number, s.start - _CALLED_BEFORE_S, s.start + _CALLED_AFTER_S) for c, s in cells
                   if c.kind == WORK and c.round == 1 and c.number is not None)
    for kinds in ((START, TURN), (STOP,), (SWITCH,)):
        moments = [s.end for s in found.steps if grid.nodes[s.arc.b].kind in kinds and s.arc.length != 0.0]
        if len(moments) >= _FEWEST_EDGES:
            evidence.learn_words(kinds[0], moments)
    marks = list(found.seen.values())
    edge = weights()["edge"]
    if len(marks) < _FEWEST_EDGES:
        return base
    silent = sum(m < edge["silent"] for m in marks)
    return min(max(base, log((len(marks) + 2.0) / (silent + 1.0))), edge["missing_most"])
