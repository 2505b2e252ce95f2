"""Where in a long recording each block is looked for: between the blocks that a fit found around it, and some minutes more."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from math import ceil

from .evidence import Evidence, Stretch
from .fit import Fit, fit
from .grid import DONE, JOIN, Grid
from .weights import weights

_TRIES = 3


def fit_near(grid: Grid, evidence: Evidence, rough: Fit | None, *, base: float, missing: float | None = None) -> Fit | None:
    """``fit``, each block looked for around its place in ``rough`` only, and if it comes to lie near the end of what was looked at, around
    where it lies now. Where there is no ``rough``, or no end of it, all of it everywhere."""
    for _ in range(_TRIES):
        if rough is None:
            break
        within = stretches(grid, rough, evidence)
        found = fit(grid, evidence, base=base, missing=missing, within=within)
        if found is not None and _well_inside(grid, found, evidence, within):
            return found
        rough = found
    return fit(grid, evidence, base=base, missing=missing)


def held(found: Fit) -> dict[int, tuple[float, float]]:
    """``(start, end)`` in seconds of every block that was held."""
    out: dict[int, tuple[float, float]] = {}
    for step in found.steps:
        if step.arc.cell is not None:
            start, _ = out.get(step.arc.cell.block, (step.start, step.end))
            out[step.arc.cell.block] = (start, step.end)
    return out


def stretches(grid: Grid, found: Fit, evidence: Evidence) -> Sequence[Stretch]:
    """The stretch of each node of ``grid``, with some minutes more on either side than needed: for the two ends of a block from where the
    block held before it ended to where the one after it began; in it, where it was held and as long as it was planned to be, for a rough
    look may have left out some of it."""
    places, more = held(found), weights()["clock"]["stretch_s"]
    planned: Counter[int] = Counter()
    for arc in grid.arcs:
        if arc.cell is not None and not arc.cost:
            planned[arc.cell.block] += ceil(arc.length or 0.0)
    around: dict[int, Stretch] = {}
    inside: dict[int, Stretch] = {}
    for block in {node.block for node in grid.nodes}:
        low = max((end for other, (_, end) in places.items() if other < block), default=0.0) - more
        high = min((start for other, (start, _) in places.items() if other > block), default=evidence.end) + more
        around[block] = _steps(low, high, evidence)
        start, end = places.get(block, (low, high))
        inside[block] = _steps(max(low, min(start, end - planned[block]) - more), min(high, max(end, start + planned[block]) + more), evidence)
    return [(around if node.kind in (JOIN, DONE) else inside)[node.block] for node in grid.nodes]


def _steps(low: float, high: float, evidence: Evidence) -> Stretch:
    return max(0, int(low / evidence.dt)), min(evidence.steps, int(high / evidence.dt))


def _well_inside(grid: Grid, found: Fit, evidence: Evidence, within: Sequence[Stretch]) -> bool:
    """Whether every block that was held lies far enough from the ends of its stretch, where these are not those of the recording."""
    stretch = {node.block: limits for node, limits in zip(grid.nodes, within) if node.kind not in (JOIN, DONE)}
    room = weights()["clock"]["stretch_s"] / 4 / evidence.dt
    for block, (start, end) in held(found).items():
        first, over = stretch[block]
        if first > 0 and start / evidence.dt < first + room or over < evidence.steps and end / evidence.dt > over - room:
            return False
    return True
