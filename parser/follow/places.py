"""Where each edge can lie: a look at the whole recording in coarse steps, from its start and from its end.

For every edge and every coarse step the cost of the best class that has the edge there: up to it, and on from it. What costs much more than the
best of all is no place for the edge. An interval costs as much as ``fit`` asks for it or a little less, and a step is worth the best mark
in it; so what ``fit`` would find among all moments lies among these, unless it is much dearer than it looks.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

import numpy as np

from .evidence import Evidence
from .grid import Arc, Grid, endings, shares_moment
from .weights import Floats, Steps, weights

_BIG = 1e9
_NOWHERE: Steps = np.arange(0)


def places(grid: Grid, evidence: Evidence, *, base: float) -> list[Steps]:
    """For each node the steps that it can lie at, in order. ``base`` is what an edge without a word costs."""
    near = weights()["near"]
    look = _Look(grid, evidence, base)
    most = int(near["most_s"] / look.dt)
    on = look.from_the_end()
    limit = float(on[0].min()) + near["cost"]       # the first node is no edge, and costs nothing
    return [_NOWHERE if to is None else look.fine(_nearest(to + costs, limit, most)) for to, costs in zip(look.from_the_start(on, limit), on)]


def _nearest(costs: Floats, limit: float, most: int) -> Steps:
    """The coarse steps that cost no more than ``limit``; of more than ``most`` the cheapest."""
    found = (costs <= limit).nonzero()[0]
    return found if len(found) <= most else np.sort(found[np.argsort(costs[found], kind="stable")[:most]])


class _Look:
    """What the coarse steps cost. Each is as many steps of the axis as ``each`` says."""

    def __init__(self, grid: Grid, evidence: Evidence, base: float) -> None:
        self.grid, self.steps = grid, evidence.steps
        self.each = int(weights()["near"]["steps"])
        self.dt = self.each * evidence.dt
        self.count = ceil(evidence.steps / self.each)
        known: dict[int, Floats] = {}
        self.rewards: list[Floats | None] = []
        """What the words at each node cost."""
        for node in grid.nodes:
            seen = evidence.at(node)
            if seen is not None and id(seen) not in known:
                known[id(seen)] = base - self.pooled(seen, np.maximum)
            self.rewards.append(None if seen is None else known[id(seen)])
        self.paid = list(self.rewards)
        """What each node costs wherever it is come from."""
        turns = self.pooled(evidence.turns_to_work(), np.maximum)
        for _, first in grid.starts:
            opening = self.pooled(evidence.before_block(grid.nodes[first].block), np.minimum) - turns
            paid = self.paid[first]
            self.paid[first] = opening if paid is None else paid + opening
        self.aside = self.pooled(evidence.aside(), np.minimum)
        self.closing = self.pooled(evidence.closing(), np.minimum)
        skip = weights()["skip"]
        ends = np.arange(1, self.count + 1) * self.dt
        self.leaving = self.closing + np.where(ends > evidence.cut_off_from(), skip["cut_off"] - skip["abandon"], 0.0)
        self._never = np.full(2 * self.count, _BIG)
        self._lines: dict[tuple[float, float], tuple[Floats, Floats]] = {}

    def pooled(self, values: Floats, least: np.ufunc) -> Floats:
        """The least or the most of ``values`` in each coarse step."""
        out = values[:: self.each].copy()
        for n in range(1, self.each):
            part = values[n :: self.each]
            least(out[: len(part)], part, out=out[: len(part)])
        return out

    def fine(self, coarse: Steps) -> Steps:
        """The steps of the axis in coarse steps."""
        found = (coarse[:, None] * self.each + np.arange(self.each)).ravel()
        return found if not len(found) or found[-1] < self.steps else found[found < self.steps]

    def from_the_start(self, on: Sequence[Floats] = (), limit: float = _BIG) -> list[Floats | None]:
        """The least cost of a class up to each node, and of the node. ``on`` is what it costs from each node on: a node that no class has
        which costs ``limit`` at most is left out, and so is what only comes after such."""
        into: list[list[Arc]] = [[] for _ in self.grid.nodes]
        for arc in self.grid.arcs:
            into[arc.b].append(arc)
        out: list[Floats | None] = []
        for node, (arcs, paid) in enumerate(zip(into, self.paid)):
            found = [self._onward(before, arc) for arc in arcs if not arc.closes and (before := out[arc.a]) is not None]
            for alike in endings(arcs):
                if befores := [before for arc in alike if (before := out[arc.a]) is not None]:
                    found.append(self._onward(_least(befores), alike[0]))
            best = _least(found) if found else None if arcs else np.zeros(self.count)
            if best is not None and paid is not None:
                best = best + paid
            if best is not None and on and (best + on[node]).min() > limit:
                best = None
            out.append(best)
        return out

    def from_the_end(self) -> list[Floats]:
        """The least cost of a class from each node on, without the node."""
        away: list[list[Arc]] = [[] for _ in self.grid.nodes]
        for arc in self.grid.arcs:
            away[arc.a].append(arc)
        out: list[Floats] = [np.zeros(self.count)] * len(away)
        paid_on = list(out)         # with the node
        closed: dict[tuple[int, float, bool], Floats] = {}
        for node in range(len(away) - 2, -1, -1):
            found = []
            for arc in away[node]:
                key = (arc.b, arc.cost, arc.leaves)
                if arc.closes and key in closed:
                    found.append(closed[key])
                    continue
                found.append(self._back(paid_on[arc.b], arc))
                if arc.closes:
                    closed[key] = found[-1]
            out[node] = _least(found)
            paid = self.paid[node]
            paid_on[node] = out[node] if paid is None else out[node] + paid
        return out

    def _onward(self, before: Floats, arc: Arc) -> Floats:
        before = self._starting(before, arc)
        if arc.length == 0.0:
            out = before
        elif not arc.is_timed:
            out = self._reach(before, arc)
        else:
            out = self._reach(before - self.aside, arc) + self.aside
        return self._ending(out, arc)

    def _back(self, after: Floats, arc: Arc) -> Floats:
        after = self._ending(after, arc)
        if arc.length == 0.0:
            out = after
        elif not arc.is_timed:
            out = self._reach(after[::-1], arc)[::-1]
        else:
            out = self._reach((after + self.aside)[::-1], arc)[::-1] - self.aside
        return self._starting(out, arc)

    def _starting(self, costs: Floats, arc: Arc) -> Floats:
        """With what ``arc`` costs for the moment at which it starts."""
        reward = self.rewards[arc.a]
        if arc.split is not None:
            change = self.rewards[arc.split]
            assert change is not None and arc.length is not None
            width = ceil(arc.length / self.dt)
            costs = costs + sliding_least(np.concatenate([change, np.full(width, _BIG)]), width + 1)
        elif reward is not None and shares_moment(arc, self.rewards):
            return costs - reward
        return costs

    def _ending(self, costs: Floats, arc: Arc) -> Floats:
        """With what ``arc`` costs for the moment at which it ends, and at all."""
        if arc.cost:
            costs = costs + arc.cost
        if arc.closes:
            costs = costs + (self.leaving if arc.leaves else self.closing)
        return costs

    def _reach(self, before: Floats, arc: Arc) -> Floats:
        """The least cost of an interval up to each step, from ``before`` at its start."""
        count, length = self.count, arc.length
        if length is None:
            return np.minimum.accumulate(before)
        # as planned: a length that is no number of whole steps takes one step more or less
        size, whole = int(length / self.dt), ceil(length / self.dt)
        out = self._never[:count].copy()
        planned, reached = before[: max(0, count - size)], out[size:]
        w = weights()["length"]
        if arc.split is None and not arc.cap and size < count:
            # longer than planned
            down, up = self._line(w["far_per_s"], w["moved"])
            np.subtract(planned, up[: len(planned)], out=reached)
            np.minimum.accumulate(reached, out=reached)
            reached += down[: len(planned)]
        np.minimum(reached, planned, out=reached)
        if whole > size:
            np.minimum(out[whole:], before[: max(0, count - whole)], out=out[whole:])
        beside = before + weights()["near"]["beside"]
        np.minimum(out[whole + 1 :], beside[: max(0, count - whole - 1)], out=out[whole + 1 :])
        if 0 < size <= count:
            np.minimum(out[size - 1 :], beside[: count - size + 1], out=out[size - 1 :])
        if arc.split is None and size:
            # shorter than planned: it may begin and end in one step
            slope = w["cap_short_per_s"] if arc.cap else max(w["short_whole"] / max(length, 1.0), w["far_per_s"])
            down, up = self._line(-slope, (0.0 if arc.cap else w["moved"]) + slope * self.dt * size)
            width = min(size, count)
            starts = self._never[: count + width - 1].copy()
            np.subtract(before, up, out=starts[width - 1 :])
            sooner = sliding_least(starts, width)
            sooner += down
            np.minimum(out, sooner, out=out)
        return out

    def _line(self, slope: float, offset: float) -> tuple[Floats, Floats]:
        """A cost that grows by ``slope`` a second from the first step on, with ``offset`` and without."""
        if (slope, offset) not in self._lines:
            line = np.arange(self.count, dtype=np.float64) * (slope * self.dt)
            self._lines[slope, offset] = line + offset, line
        return self._lines[slope, offset]


def _least(rows: Sequence[Floats]) -> Floats:
    best = rows[0]
    for n, row in enumerate(rows[1:]):
        best = np.minimum(best, row, out=best if n else None)
    return best


def sliding_least(values: Floats, width: int) -> Floats:
    """The least of ``values[i : i + width]`` for each ``i`` where there are so many: of two, of four, of eight ..."""
    span, least = 1, values.copy() if width == 1 else values
    while span < width:
        step = min(span, width - span)
        least = np.minimum(least[: len(least) - step], least[step:])
        span += step
    return least
