"""The best way through the grid: where each edge lies, all edges at once.

Dynamic programming over the moments that each edge may lie at (``places``): for each of them the cost of the best class up to there. An
interval costs what its length does, whenever it is, so one step of the programme looks that up for every start and every end, and takes
the least over the starts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from .evidence import Evidence
from .grid import WORK, Arc, Grid, endings, shares_moment
from .places import sliding_least
from .weights import Floats, Steps, weights

_BIG = 1e9
_NO_COSTS: Floats = np.zeros(0)


@dataclass(frozen=True, slots=True)
class Step:
    """One arc of the best way, with the seconds at which it starts and ends."""

    arc: Arc
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Fit:
    steps: tuple[Step, ...]
    spread: dict[int, float]
    """How far (s) each node on the way could move for a cost of one."""
    seen: dict[int, float]
    """How well the talk marks each node on the way: log odds."""
    cost: float


class Lengths:
    """What an interval costs for its length, by the number of its steps: of each length reckoned once."""

    def __init__(self, dt: float, steps: int) -> None:
        self.dt, self.steps = dt, steps
        self._seconds = np.arange(steps) * dt
        self.least = max(1, int(round(weights()["length"]["least_s"] / dt)))
        """Steps of the shortest interval."""
        self._costs: dict[tuple[object, ...], Floats] = {}

    def of(self, arc: Arc) -> Floats:
        """The cost of each number of steps; out of reach where an interval may not be as short, and below 0, which counts as 0."""
        rests = arc.cell is not None and arc.cell.kind != WORK
        key = (arc.length, arc.cap, arc.split is not None, rests)
        known = self._costs.get(key)
        if known is None:
            off = self._seconds - (arc.length or 0.0)
            known = np.minimum.reduce([offset + np.maximum(off * long, off * -short) for offset, long, short in _lines(arc)])
            if rests:
                known *= weights()["length"]["rest_share"]
            known[: self.least] = _BIG
            self._costs[key] = known
        return known


def _lines(arc: Arc) -> list[tuple[float, float, float]]:
    """``(offset, cost a second too long, cost a second too short)`` of each line; what an interval costs is the least of them."""
    w = weights()["length"]
    if arc.cap:
        return [(0.0, w["exact_per_s"], w["cap_short_per_s"])]
    exact = (0.0, w["exact_per_s"], w["exact_per_s"])
    if arc.split is not None:
        return [exact]
    short = w["short_whole"] / max(arc.length or 0.0, 1.0)
    return [exact, (w["moved"], w["moved_per_s"], max(short, w["moved_per_s"])), (w["far"], w["far_per_s"], max(short, w["far_per_s"]))]


def _edge_cost(seen: Floats | None, base: float, missing: float) -> Floats | None:
    """The cost of an edge at each moment, from the log odds ``seen`` (which were set for edges that go unmarked at a cost of ``base``).

    A mark is worth the same whatever the share of edges without one; where that share is small, an edge without costs more.
    """
    if seen is None:
        return None
    share, usual = np.exp(-missing), np.exp(-base)
    marked = np.expm1(np.maximum(seen, 0.0)) * usual / (1.0 - usual)
    found: Floats = -np.log(share + (1.0 - share) * marked) - np.minimum(seen, 0.0)
    return found


@dataclass(frozen=True, slots=True)
class _Table:
    """What the programme reckons with, and for every node, over its places, what it found."""

    grid: Grid
    into: list[list[Arc]]
    places: list[Steps]
    lengths: Lengths
    marks: list[Floats | None]
    """Log odds of the edge at each step of the axis."""
    rewards: list[Floats | None]
    changes: dict[tuple[int, float], Floats]
    """How well the best moment inside a work marks a change of sides, at each step of the axis that the work may begin at."""
    base: float
    missing: float
    aside: Floats
    closing: Floats
    """What the end of a block costs at each step."""
    leaving: Floats
    """The same where the rest of the block is not done: less where the recording is about to end."""
    cost: list[Floats]
    """The least cost of a class up to the node."""
    bare: list[Floats]
    """The same without what the node's own words say."""

    def before(self, arc: Arc) -> Floats:
        """The costs at the start of ``arc``."""
        costs = (self.bare if shares_moment(arc, self.rewards) else self.cost)[arc.a]
        return costs if arc.split is None else costs + self._best_change(arc, arc.split)

    def _best_change(self, arc: Arc, node: int) -> Floats:
        """For each start of a work: the cost of its change of sides at the best moment inside it, wherever that is."""
        marks = self.marks[node]
        assert marks is not None and arc.length is not None  # a change of sides is marked by words, inside a work of known length
        key = (id(marks), arc.length)
        if key not in self.changes:
            edge = _split_edge(self.lengths.dt)
            width = max(1, int(round(arc.length / self.lengths.dt)) - 2 * edge)
            shifted = np.full(len(marks) + width - 1, _BIG)
            shifted[: max(0, len(marks) - edge)] = -marks[edge:]
            self.changes[key] = -sliding_least(shifted, width)
        cost = _edge_cost(self.changes[key][self.places[arc.a]], self.base, self.missing)
        assert cost is not None
        return cost

    def reached(self, node: int) -> Floats:
        """The least cost of arriving at each place of ``node``, by whichever arc."""
        ends = self.places[node]
        best = np.full(len(ends), _BIG if self.into[node] else 0.0)
        if not len(ends):
            return best
        for arc in self.into[node]:
            if not arc.closes:
                np.minimum(best, _reach(self.before(arc), arc, self.places[arc.a], ends, self.aside, self.lengths), out=best)
        for alike in endings(self.into[node]):
            costs = np.full(self.lengths.steps, _BIG)
            for arc in alike:
                starts = self.places[arc.a]
                costs[starts] = np.minimum(costs[starts], self.before(arc))
            np.minimum(best, costs[ends] + alike[0].cost + (self.leaving if alike[0].leaves else self.closing)[ends], out=best)
        return best


def _prices(arc: Arc, starts: Steps, ends: Steps, aside: Floats, lengths: Lengths) -> Floats:
    """What ``arc`` costs to each of ``ends`` (rows) from each of ``starts``.

    ``aside`` is the running cost of time spent while the talk is about something else than work.
    """
    took = ends[:, None] - starts
    if arc.length == 0.0:
        return np.where(took == 0, arc.cost, _BIG)
    if arc.length is None:
        costs = np.where(took >= lengths.least, arc.cost, _BIG)
    else:
        costs = lengths.of(arc).take(took, mode="clip")
        if arc.cost:
            costs += arc.cost
    if arc.is_timed:
        costs += aside[ends][:, None] - aside[starts]
    return costs


def _reach(before: Floats, arc: Arc, starts: Steps, ends: Steps, aside: Floats, lengths: Lengths) -> Floats:
    """The least cost of arriving by ``arc`` at each of ``ends``, from ``before`` at each of ``starts``."""
    if not len(starts) or not len(ends):
        return np.full(len(ends), _BIG)
    if arc.length == 0.0:
        at = np.searchsorted(starts[:-1], ends)
        return np.where(starts[at] == ends, before[at] + arc.cost, _BIG)
    if arc.is_timed:
        before = before - aside[starts]
    if arc.length is None:
        come = np.searchsorted(starts, ends - lengths.least, side="right")
        out = np.concatenate([[_BIG], np.minimum.accumulate(before)])[come]
    else:
        costs = lengths.of(arc).take(ends[:, None] - starts, mode="clip")
        costs += before
        out = costs.min(axis=1)
    if arc.is_timed:
        out += aside[ends]
    return out + arc.cost if arc.cost else out


def fit(grid: Grid, evidence: Evidence, *, base: float, missing: float | None = None, places: Sequence[Steps] | None = None,
        lengths: Lengths | None = None) -> Fit | None:
    """The cheapest way through ``grid``; ``None`` where no block was held. ``base`` is what an edge without a word usually costs,
    ``missing`` what it costs in this talk; a first fit, without it, leaves out how sure the edges are. ``places`` says for each node
    at which steps of the axis it may lie; without it at all. ``lengths`` keeps from one fit to the next what intervals cost."""
    sure = missing is not None
    missing = base if missing is None else missing
    if not grid.nodes or evidence.steps < 8:
        return None
    dt, turns = evidence.dt, evidence.turns_to_work()
    places = [np.arange(evidence.steps)] * len(grid.nodes) if places is None else list(places)
    marks = [evidence.at(node) for node in grid.nodes]
    rewards = [None if seen is None else _edge_cost(seen[at], base, missing) if len(at) else _NO_COSTS for seen, at in zip(marks, places)]
    into: list[list[Arc]] = [[] for _ in grid.nodes]
    for arc in grid.arcs:
        into[arc.b].append(arc)
    skip, closing = weights()["skip"], evidence.closing()
    leaving = closing + np.where(np.arange(evidence.steps) * dt > evidence.cut_off_from(), skip["cut_off"] - skip["abandon"], 0.0)
    table = _Table(grid, into, places, lengths or Lengths(dt, evidence.steps), marks, rewards, {}, base, missing, evidence.aside(), closing, leaving, [], [])
    opens = {first for _, first in grid.starts}
    for index, at in enumerate(places):
        best = table.reached(index)
        if index in opens:
            best = best - turns[at] + evidence.before_block(grid.nodes[index].block)[at]
        table.bare.append(best)
        reward = rewards[index]
        table.cost.append(best if reward is None else best + reward)
    return _trace(table, sure)


def _split_edge(dt: float) -> int:
    return max(1, int(round(weights()["length"]["least_side_s"] / dt)))


def _trace(table: _Table, sure: bool) -> Fit | None:
    node, dt = len(table.cost) - 1, table.lengths.dt
    if not len(table.cost[node]):
        return None
    last = int(np.argmin(table.cost[node]))
    at, total = int(table.places[node][last]), float(table.cost[node][last])
    if total > _BIG / 2:        # marks make what is out of reach a little cheaper
        return None
    steps: list[Step] = []
    while table.into[node]:
        choices = []
        for arc in table.into[node]:
            starts = table.places[arc.a]
            if not len(starts):
                continue
            if arc.length == 0.0:
                best = int(np.searchsorted(starts[:-1], at))
                price = float(table.before(arc)[best]) + (arc.cost if starts[best] == at else _BIG)
            else:
                prices = table.before(arc) + _prices(arc, starts, np.array([at]), table.aside, table.lengths)[0]
                # of equals the latest start: nothing is stretched over an empty talk
                best = len(prices) - 1 - int(np.argmin(prices[::-1]))
                price = float(prices[best])
            if arc.closes:
                price += float((table.leaving if arc.leaves else table.closing)[at])
            choices.append((price, int(starts[best]), arc))
        _, start, arc = min(choices, key=lambda c: c[0])
        steps += _sides(table, arc, start, at) if arc.split is not None else [Step(arc, start * dt, at * dt)]
        node, at = arc.a, start
    steps.reverse()
    if not any(s.arc.cell for s in steps):
        return None
    seen = {}
    for step in steps:
        marks = table.marks[step.arc.b]
        if marks is not None:
            seen[step.arc.b] = float(marks[int(round(step.end / dt))])
    return Fit(tuple(steps), _spread(table, steps) if sure else {}, seen, total)


def _sides(table: _Table, arc: Arc, start: int, at: int) -> list[Step]:
    """The two sides of a work that ``arc`` splits unevenly, the second first: the change lies where it costs least, of all moments inside."""
    assert arc.split is not None
    marks = table.marks[arc.split]
    assert marks is not None
    dt, edge = table.lengths.dt, _split_edge(table.lengths.dt)
    inside = np.arange(start + edge, max(at - edge, start + edge + 1))
    table.places[arc.split], table.rewards[arc.split] = inside, _edge_cost(marks[inside], table.base, table.missing)
    switch = int(inside[np.argmax(marks[inside])])
    one, other = (next(a for a in table.into[n] if a.cell) for n in (arc.split, arc.b))
    return [Step(other, switch * dt, at * dt), Step(one, start * dt, switch * dt)]


def _spread(table: _Table, steps: list[Step]) -> dict[int, float]:
    """For each node of the way: half the width of the moments that cost at most one more than the best."""
    places, dt = table.places, table.lengths.dt
    shared = {step.arc.a for step in steps if shares_moment(step.arc, table.rewards)}
    prices = []
    for step in steps:
        a, b = step.arc.a, step.arc.b
        costs = _prices(step.arc, places[a], places[b], table.aside, table.lengths)
        reward = table.rewards[b]
        prices.append(costs if reward is None or b in shared else costs + reward[:, None])
    to = [np.zeros(len(places[steps[0].arc.a]))]
    for costs in prices:
        to.append((costs + to[-1]).min(axis=1))
    on = np.zeros_like(to[-1])
    spread = {steps[0].arc.a: dt}
    for step, before, costs in zip(reversed(steps), reversed(to), reversed(prices)):
        total = before + on
        spread[step.arc.b] = _width(places[step.arc.b], total <= total.min() + 1.0, int(round(step.end / dt)), dt)
        on = (costs + on[:, None]).min(axis=0)
    return spread


def _width(places: Steps, near: npt.NDArray[np.bool_], at: int, dt: float) -> float:
    """Half the width of the moments around ``at`` that are ``near``: another far dip is another reading, not a wider edge."""
    left = right = int(np.searchsorted(places, at))
    while left > 0 and near[left - 1] and places[left - 1] == places[left] - 1:
        left -= 1
    while right + 1 < len(near) and near[right + 1] and places[right + 1] == places[right] + 1:
        right += 1
    return max(dt, (right - left) * dt / 2)
