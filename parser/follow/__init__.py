"""Following: the announced class is laid over what was heard, and each interval gets the time at which it was done.

``grid`` unrolls the plan into edges and lengths, ``moments`` says when each word can have been said, ``evidence`` what the
words say about edges, ``fit`` finds the best way through all of it at once, ``delivered`` gives it its public shape.
"""

from __future__ import annotations

from ..delivery import NOTHING, Delivered
from ..mentions import Heard, Layout
from ..model import Plan
from .delivered import deliver
from .evidence import Evidence
from .fit import fit
from .grid import WORK, unroll
from .weights import weights

LENGTH = "length"
_CALLED_BEFORE_S = 10.0     # a movement is named so long before it begins

__all__ = ["follow"]


def follow(heard: Heard, plan: Plan, layout: Layout) -> Delivered:
    """What was done of ``plan``, and when. Nothing where the talk has no times or the plan no clock."""
    talk = heard.words.talk
    if talk.resolution == "none" or not heard.words.tokens:
        return NOTHING
    long_rests = sorted({q.single for q in heard.quantities if q.role == "round_rest" and q.single and q.kind == LENGTH})
    grid = unroll(plan, long_rests)
    if not grid.nodes:
        return NOTHING
    clock = weights()["clock"]
    evidence = Evidence(heard, plan, layout, dt=clock["coarse_s"] if talk.resolution == "block" else clock["fine_s"])
    found = fit(grid, evidence)
    if found and any(step.arc.skips or step.arc.leaves for step in found.steps):
        # something seems left out: what was it called when it was first done?
        evidence.learn((s.arc.cell.block, s.arc.cell.number, s.start - _CALLED_BEFORE_S, s.end) for s in found.steps
                       if s.arc.cell and s.arc.cell.kind == WORK and s.arc.cell.round == 1 and s.arc.cell.number is not None)
        found = fit(grid, evidence)
    return deliver(heard, plan, grid, evidence, found) if found else NOTHING
