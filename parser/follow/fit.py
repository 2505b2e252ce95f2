"""The best way through the grid: where each edge lies, all edges at once.

Dynamic programming over a time axis: the cost of the best class up to an edge, for every moment that the edge may lie at. An
interval's cost for departing from its length is the least of a few straight lines, so one step of the programme is a running
minimum, not a search. Every node is asked about every moment that it may lie at: of the whole recording, or, where that would be
too much, of the stretch of it in which its block is looked for (``stretches``).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from .evidence import Evidence, Stretch
from .grid import Arc, Grid
from .weights import Floats, weights

_BIG = 1e9


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


Line = tuple[float, float, float]


def _lines(arc: Arc) -> list[Line]:
    """``(offset, cost a second too long, cost a second too short)`` of each line, in the order in which they become the lowest."""
    w = weights()["length"]
    if arc.cap:
        return [(0.0, w["exact_per_s"], w["cap_short_per_s"])]
    short = w["short_whole"] / max(arc.length or 0.0, 1.0)
    if arc.split is not None:
        return [(0.0, w["exact_per_s"], w["exact_per_s"])]
    return [(0.0, w["exact_per_s"], w["exact_per_s"]), (w["moved"], w["moved_per_s"], max(short, w["moved_per_s"])),
            (w["far"], w["far_per_s"], max(short, w["far_per_s"]))]


class _Axis:
    """The steps of the time axis, and what depends on them alone: made once, and asked for by every arc of a fit."""

    def __init__(self, dt: float) -> None:
        self.dt = dt
        self.least = max(1, int(round(weights()["length"]["least_s"] / dt)))
        """Steps of the shortest interval."""
        self._ramps: dict[float, tuple[int, Floats]] = {}
        self._departing: dict[tuple[float | None, bool, bool], Floats] = {}

    def ramp(self, slope: float, first: int, end: int) -> Floats:
        """``slope`` a second at the steps from ``first`` to ``end``: the same numbers at the same step, whatever stretch is asked for, so
        that costs that are equal, as many are, are not told apart by rounding."""
        low, values = self._ramps.get(slope, (0, np.empty(0)))
        if first < low or end > low + len(values):
            low, high = min(low, first), max(low + len(values), end)
            values = slope * (np.arange(low, high, dtype=np.float64) * self.dt)
            self._ramps[slope] = low, values
        return values[first - low : end - low]

    def departing(self, arc: Arc, count: int) -> Floats:
        """What an interval of each number of steps below ``count`` costs for not having the length of ``arc``."""
        key = (arc.length, arc.cap, arc.split is not None)
        known = self._departing.get(key)
        if known is None or len(known) < count:
            off = np.arange(count) * self.dt - (arc.length or 0.0)
            known = np.minimum.reduce([offset + np.where(off >= 0, off * long, -off * short) for offset, long, short in _lines(arc)])
            self._departing[key] = known
        return known[:count]

    def steps(self, seconds: float) -> int:
        return int(seconds / self.dt)


def _reach(before: Floats, arc: Arc, aside: Floats, axis: _Axis, first: int = 0) -> Floats:
    """The least cost of arriving by ``arc`` at each step from ``first`` on, from ``before`` at its start.

    ``aside`` is the running cost of time spent while the talk is about something else than work.
    """
    if arc.cell is not None or arc.split is not None:
        return _reach_plain(before - aside, arc, axis, first) + aside
    return _reach_plain(before, arc, axis, first)


def _reach_plain(before: Floats, arc: Arc, axis: _Axis, first: int) -> Floats:
    count = len(before)
    if arc.length == 0.0:
        return before + arc.cost
    out = np.full(count, _BIG)
    if arc.length is None:
        out[axis.least :] = np.minimum.accumulate(before)[: -axis.least]
        return out + arc.cost
    size = int(round(arc.length / axis.dt))
    if size >= count:
        return out
    lines = _lines(arc)
    _later(out[size:], before[: count - size], lines, axis, first)
    _sooner(out, before, lines, axis, first, size)
    return out + arc.cost


def _later(out: Floats, before: Floats, lines: Sequence[Line], axis: _Axis, first: int) -> None:
    """Puts into ``out`` what is cheaper: to arrive as planned or later, each place being its start as planned.

    Each line is looked at only where it can be the lowest: the first near its start, the others from where they cross the one before.
    """
    for k, (offset, long, _) in enumerate(lines):
        near = axis.steps(_crossing(lines[k - 1][:2], (offset, long))) if k else 0
        ramp = axis.ramp(long, first, first + len(before))
        if k or len(lines) == 1:
            best = _least_up_to(before - ramp, near)
        else:
            far = axis.steps(_crossing((offset, long), lines[1][:2])) + 2
            padded = np.concatenate([np.full(far, _BIG), before])
            padded -= axis.ramp(long, first - far, first + len(before))
            best = _sliding_least(padded, far + 1)
        best += ramp
        if offset:
            best += offset
        np.minimum(out, best, out=out)


def _sooner(out: Floats, before: Floats, lines: Sequence[Line], axis: _Axis, first: int, size: int) -> None:
    """Puts into ``out`` what is cheaper: to arrive sooner than ``size`` steps after the start, but no sooner than an interval may end."""
    room = max(0, size - axis.least)
    # the start as planned may lie before the first step
    padded = np.concatenate([np.full(size, _BIG), before[: len(before) - size + room]])
    # a line that is nowhere below an earlier one need not be drawn
    drawn = [(offset, short) for k, (offset, _, short) in enumerate(lines) if not any(s <= short for _, _, s in lines[:k])]
    for k, (offset, short) in enumerate(drawn):
        far = min(room, axis.steps(_crossing((offset, short), drawn[k + 1])) + 2) if k + 1 < len(drawn) else room
        end = len(before) + far
        best = _sliding_least(padded[:end] + axis.ramp(short, first - size, first - size + end), far + 1)
        best -= axis.ramp(short, first - size, first - size + len(before))
        if offset:
            best += offset
        np.minimum(out, best, out=out)


def _crossing(steep: tuple[float, float], flat: tuple[float, float]) -> float:
    """From how many seconds on the second of two lines, each ``(offset, cost a second)``, is the lower."""
    return (flat[0] - steep[0]) / (steep[1] - flat[1])


def _least_up_to(values: Floats, near: int) -> Floats:
    """The least of all values up to each place; those less than ``near`` steps before it may be left out. A minimum runs from value to
    value, so it runs over blocks of values where it may."""
    block, least = 1, values
    while 2 * block < near:
        block *= 2
        least = np.minimum(least[0:-1:2], least[1::2])
    running = np.minimum.accumulate(least)
    if block == 1:
        return running
    out = np.full(len(values), _BIG)
    out[block:] = running.repeat(block)[: len(values) - block]
    return out


def _sliding_least(values: Floats, width: int) -> Floats:
    """The least of ``values[i : i + width]`` for each ``i`` where there are so many: of two, of four, of eight ..."""
    span, least = 1, values.copy() if width == 1 else values
    while span < width:
        step = min(span, width - span)
        least = np.minimum(least[: len(least) - step], least[step:])
        span += step
    return least


def _cost_from(before: Floats, arc: Arc, aside: Floats, at: int, axis: _Axis) -> Floats:
    """The cost of arriving at step ``at`` by ``arc``, for every step it may start at."""
    starts = before[: max(0, at - axis.least + 1)]
    if arc.length is None:
        return starts + arc.cost
    if arc.cell is not None or arc.split is not None:
        starts = starts + (aside[at] - aside[: len(starts)])
    return starts + arc.cost + axis.departing(arc, at + 1)[::-1][: len(starts)]


def _edge_cost(seen: Floats | None, base: float, missing: float) -> Floats | None:
    """The cost of an edge at each step, from the log odds ``seen`` (which were set for edges that go unmarked at a cost of ``base``).

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
    """What the programme reckons with, and for every node, over the steps of its ``within``, what it found."""

    grid: Grid
    into: list[list[Arc]]
    within: Sequence[Stretch]
    axis: _Axis
    marks: list[Floats | None]
    """Log odds of the edge at each step."""
    rewards: list[Floats | None]
    aside: Floats
    closing: Floats
    near_end: npt.NDArray[np.bool_]
    cost: list[Floats]
    """The least cost of a class up to the node."""
    bare: list[Floats]
    """The same without what the node's own words say."""

    def reached(self, arc: Arc) -> Floats:
        """The least cost of arriving by ``arc`` at each step."""
        first, end = self.within[arc.a]
        costs = _reach(self.before(arc), arc, self.aside[first:end], self.axis, first)
        costs = _moved(costs, (first, end), self.within[arc.b])
        first, end = self.within[arc.b]
        if arc.leaves:
            costs = np.where(self.near_end[first:end], costs - weights()["skip"]["abandon"] + weights()["skip"]["cut_off"], costs)
        return costs + self.closing[first:end] if arc.closes else costs

    def before(self, arc: Arc) -> Floats:
        """The costs at the start of ``arc``."""
        costs = (self.bare if _shares_moment(arc, self.rewards) else self.cost)[arc.a]
        if arc.split is not None:
            costs = costs + _best_split(self.rewards, arc.split, arc.length, self.axis.dt)
        return costs


def _moved(values: Floats, was: Stretch, now: Stretch) -> Floats:
    """``values`` over the stretch ``was`` as values over the stretch ``now``; out of reach where they say nothing."""
    if was == now:
        return values
    out = np.full(now[1] - now[0], _BIG)
    first, end = max(was[0], now[0]), min(was[1], now[1])
    if first < end:
        out[first - now[0] : end - now[0]] = values[first - was[0] : end - was[0]]
    return out


def fit(grid: Grid, evidence: Evidence, *, base: float, missing: float | None = None, within: Sequence[Stretch] | None = None) -> Fit | None:
    """The cheapest way through ``grid``; ``None`` where no block was held. ``base`` is what an edge without a word usually costs,
    ``missing`` what it costs in this talk; a first fit, without it, leaves out how sure the edges are. ``within`` says for each node
    where on the axis it is looked for, with no less at the two ends of a block than in it; without it everywhere."""
    sure = missing is not None
    missing = base if missing is None else missing
    if not grid.nodes or evidence.steps < 8:
        return None
    dt, turns = evidence.dt, evidence.turns_to_work()
    within = within or [(0, evidence.steps)] * len(grid.nodes)
    marks = [evidence.at(node, stretch) for node, stretch in zip(grid.nodes, within)]
    costs = {key: _edge_cost(seen, base, missing) for key, seen in {id(seen): seen for seen in marks}.items()}
    into: list[list[Arc]] = [[] for _ in grid.nodes]
    for arc in grid.arcs:
        into[arc.b].append(arc)
    table = _Table(grid, into, within, _Axis(dt), marks, [costs[id(seen)] for seen in marks], evidence.aside(), evidence.closing(),
                   np.arange(evidence.steps) * dt > evidence.cut_off_from(), [], [])
    opens = {first for _, first in grid.starts}
    for index, (first, end) in enumerate(within):
        best = np.full(end - first, _BIG if into[index] else 0.0)
        for arc in into[index]:
            np.minimum(best, table.reached(arc), out=best)
        if index in opens:
            best = best - turns[first:end] + evidence.before_block(grid.nodes[index].block)[first:end]
        table.bare.append(best)
        reward = table.rewards[index]
        table.cost.append(best if reward is None else best + reward)
    return _trace(table, sure)


def _best_split(rewards: Sequence[Floats | None], node: int, length: float | None, dt: float) -> Floats:
    """For each start of a work: the cost of its change of sides at the best moment inside it, wherever that is."""
    reward = rewards[node]
    assert reward is not None and length is not None  # a change of sides is marked by words, inside a work of known length
    edge = _split_edge(dt)
    width = max(1, int(round(length / dt)) - 2 * edge)
    shifted = np.full(len(reward) + width - 1, _BIG)
    shifted[: max(0, len(reward) - edge)] = reward[edge:]
    return _sliding_least(shifted, width)


def _split_edge(dt: float) -> int:
    return max(1, int(round(weights()["length"]["least_side_s"] / dt)))


def _shares_moment(arc: Arc, rewards: Sequence[Floats | None]) -> bool:
    """Whether both ends of ``arc`` are one edge of the clock: its words count once, for the later node."""
    return arc.length == 0.0 and rewards[arc.a] is not None and rewards[arc.b] is not None


def _trace(table: _Table, sure: bool) -> Fit | None:
    skip = weights()["skip"]
    node, dt = len(table.cost) - 1, table.axis.dt
    first = table.within[node][0]
    at = first + int(np.argmin(table.cost[node]))
    total = float(table.cost[node][at - first])
    steps: list[Step] = []
    while table.into[node]:
        choices = []
        for arc in table.into[node]:
            first, end = table.within[arc.a]
            before = table.before(arc)
            if arc.length == 0.0 and first <= at < end:
                price = before[at - first] + arc.cost
                price += table.closing[at] if arc.closes else 0.0
                if arc.leaves and table.near_end[at]:
                    price += skip["cut_off"] - skip["abandon"]
                choices.append((price, at, arc))
            if arc.length == 0.0:
                continue
            prices = _cost_from(before, arc, table.aside[first:], at - first, table.axis)
            if len(prices):
                # of equals the latest start: nothing is stretched over an empty talk
                start = len(prices) - 1 - int(np.argmin(prices[::-1]))
                choices.append((prices[start], first + start, arc))
        if not choices:
            return None
        _, start, arc = min(choices, key=lambda c: c[0])
        steps += _sides(table, arc, start, at) if arc.split is not None else [Step(arc, start * dt, at * dt)]
        node, at = arc.a, start
    steps.reverse()
    if total >= _BIG or not any(s.arc.cell for s in steps):
        return None
    seen = {}
    for step in steps:
        marks = table.marks[step.arc.b]
        if marks is not None:
            seen[step.arc.b] = float(marks[int(round(step.end / dt)) - table.within[step.arc.b][0]])
    return Fit(tuple(steps), _spread(table, steps) if sure else {}, seen, total)


def _sides(table: _Table, arc: Arc, start: int, at: int) -> list[Step]:
    """The two sides of a work that ``arc`` splits unevenly, the second first: the change lies where it costs least."""
    assert arc.split is not None
    reward = table.rewards[arc.split]
    assert reward is not None
    dt = table.axis.dt
    edge, first = _split_edge(dt), table.within[arc.split][0]
    inside = reward[start + edge - first : at - edge - first]
    switch = start + edge + (int(np.argmin(inside)) if len(inside) else 0)
    one, other = (next(a for a in table.into[n] if a.cell) for n in (arc.split, arc.b))
    return [Step(other, switch * dt, at * dt), Step(one, start * dt, switch * dt)]


def _spread(table: _Table, steps: list[Step]) -> dict[int, float]:
    """For each node of the way: half the width of the moments that cost at most one more than the best."""
    axis, dt, within = table.axis, table.axis.dt, table.within
    forward: dict[int, Floats] = {}
    shared = {step.arc.a for step in steps if _shares_moment(step.arc, table.rewards)}
    rewards = [None if n in shared else r for n, r in enumerate(table.rewards)]
    first, end = within[steps[0].arc.a]
    now = np.zeros(end - first)
    for step in steps:
        a, b = step.arc.a, step.arc.b
        forward.setdefault(a, now)
        now = _moved(_reach(now, step.arc, table.aside[slice(*within[a])], axis, within[a][0]), within[a], within[b])
        reward = rewards[b]
        if reward is not None:
            now = now + reward
        forward[b] = now
    back = np.zeros_like(now)
    spread = {}
    for step in reversed(steps):
        a, b = step.arc.a, step.arc.b
        total = forward[b] + back
        near = np.flatnonzero(total <= total.min() + 1.0)
        place = int(round(step.end / dt)) - within[b][0]
        # only the stretch around the edge itself: another far dip is another reading, not a wider edge
        left = right = place
        inside = set(near.tolist())
        while left - 1 in inside:
            left -= 1
        while right + 1 in inside:
            right += 1
        spread[b] = max(dt, (right - left) * dt / 2)
        reward = rewards[b]
        if reward is not None:
            back = back + reward
        aside = table.aside[slice(*within[a])]
        back = _reach(_moved(back, within[b], within[a])[::-1], step.arc, (aside[-1] - aside)[::-1], axis)[::-1]
    spread[steps[0].arc.a] = dt
    return spread
