"""The best way through the grid: where each edge lies, all edges at once.

Dynamic programming over a time axis: the cost of the best class up to an edge, for every moment that the edge may lie at. An
interval's cost for departing from its length is the least of a few straight lines, so one step of the programme is a running
minimum, not a search: the time is linear in the length of the recording.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from .evidence import Evidence
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


def _lines(arc: Arc) -> list[tuple[float, float, float]]:
    """``(offset, cost a second too long, cost a second too short)`` of each line."""
    w = weights()["length"]
    if arc.loose:
        return [(0.0, w["loose_per_s"], w["loose_per_s"])]
    if arc.cap:
        return [(0.0, w["exact_per_s"], w["cap_short_per_s"])]
    short = w["short_whole"] / max(arc.length or 0.0, 1.0)
    if arc.split is not None:
        return [(0.0, w["exact_per_s"], w["exact_per_s"])]
    return [(0.0, w["exact_per_s"], w["exact_per_s"]), (w["moved"], w["moved_per_s"], max(short, w["moved_per_s"])),
            (w["far"], w["far_per_s"], max(short, w["far_per_s"]))]


def _reach(before: Floats, arc: Arc, aside: Floats, dt: float) -> Floats:
    """The least cost of arriving by ``arc`` at each step, from ``before`` at its start.

    ``aside`` is the running cost of time spent while the talk is about something else than work.
    """
    if arc.cell is not None or arc.split is not None:
        return _reach_plain(before - aside, arc, dt) + aside
    return _reach_plain(before, arc, dt)


def _reach_plain(before: Floats, arc: Arc, dt: float) -> Floats:
    count = len(before)
    if arc.length == 0.0:
        return before + arc.cost
    least = max(1, int(round(weights()["length"]["least_s"] / dt)))
    if arc.length is None:
        out = np.full(count, _BIG)
        out[least:] = np.minimum.accumulate(before)[:-least]
        return out + arc.cost
    size = int(round(arc.length / dt))
    out = np.full(count, _BIG)
    if size >= count:
        return out
    ramp = np.arange(count, dtype=np.float64) * dt
    lines = _lines(arc)
    for k, (offset, long, short) in enumerate(lines):
        best = np.minimum.accumulate(before - long * ramp) + long * ramp
        if not any(s <= short for _, _, s in lines[:k]):
            # a line that is nowhere below an earlier one need not be drawn
            np.minimum(best, _early(before, short, ramp, size - least), out=best)
        np.minimum(out[size:], best[: count - size] + offset, out=out[size:])
    return out + arc.cost


def _early(before: Floats, short: float, ramp: Floats, room: int) -> Floats:
    """The least of starting later than the length asks for, at ``short`` a second, up to ``room`` steps later."""
    return _sliding_least(before + short * ramp, max(1, room + 1)) - short * ramp


def _sliding_least(values: Floats, width: int) -> Floats:
    """The least of ``values[i : i + width]`` for each ``i``: running minima of blocks, from both ends (van Herk 1992,
    DOI 10.1016/0167-8655(92)90069-C, from memory)."""
    count = len(values)
    padded = np.full(-(-(count + width) // width) * width, _BIG)
    padded[:count] = values
    blocks = padded.reshape(-1, width)
    up = np.minimum.accumulate(blocks, axis=1).ravel()
    down = np.minimum.accumulate(blocks[:, ::-1], axis=1)[:, ::-1].ravel()
    return np.minimum(down[:count], up[width - 1 : width - 1 + count])


def _cost_from(before: Floats, arc: Arc, aside: Floats, at: int, dt: float) -> Floats:
    """The cost of arriving at step ``at`` by ``arc``, for every step it may start at."""
    least = max(1, int(round(weights()["length"]["least_s"] / dt)))
    starts = before[: max(0, at - least + 1)]
    if arc.length is None:
        return starts + arc.cost
    if arc.cell is not None or arc.split is not None:
        starts = starts + (aside[at] - aside[: len(starts)])
    off = (at - np.arange(len(starts))) * dt - arc.length
    lines = [offset + np.where(off >= 0, off * long, -off * short) for offset, long, short in _lines(arc)]
    off_length: Floats = np.minimum.reduce(lines)
    return starts + arc.cost + off_length


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


def fit(grid: Grid, evidence: Evidence, *, base: float, missing: float | None = None) -> Fit | None:
    """The cheapest way through ``grid``; ``None`` where no block was held. ``base`` is what an edge without a word usually costs,
    ``missing`` what it costs in this talk; a first fit, without it, leaves out how sure the edges are."""
    sure = missing is not None
    missing = base if missing is None else missing
    if not grid.nodes or evidence.steps < 8:
        return None
    dt, skip = evidence.dt, weights()["skip"]
    rewards = [_edge_cost(evidence.at(node), base, missing) for node in grid.nodes]
    turns, closing = evidence.turns_to_work(), evidence.closing()
    aside = evidence.aside()
    opens = {first for _, first in grid.starts}
    near_end = np.arange(evidence.steps) * dt > evidence.cut_off_from()
    into: list[list[Arc]] = [[] for _ in grid.nodes]
    for arc in grid.arcs:
        into[arc.b].append(arc)
    cost: list[Floats] = []
    bare: list[Floats] = []
    for index in range(len(grid.nodes)):
        best = np.zeros(evidence.steps) if not into[index] else np.full(evidence.steps, _BIG)
        for arc in into[index]:
            before = (bare if _shares_moment(arc, rewards) else cost)[arc.a]
            if arc.split is not None:
                before = before + _best_split(rewards, arc.split, arc.length, dt)
            reached = _reach(before, arc, aside, dt)
            if arc.leaves:
                reached = np.where(near_end, reached - skip["abandon"] + skip["cut_off"], reached)
            if arc.closes:
                reached = reached + closing
            np.minimum(best, reached, out=best)
        if index in opens:
            best = best - turns + evidence.before_block(grid.nodes[index].block)
        bare.append(best)
        reward = rewards[index]
        cost.append(best if reward is None else best + reward)
    return _trace(grid, evidence, into, cost, bare, rewards, closing, aside, near_end, dt, sure)


def _best_split(rewards: Sequence[Floats | None], node: int, length: float | None, dt: float) -> Floats:
    """For each start of a work: the cost of its change of sides at the best moment inside it, wherever that is."""
    reward = rewards[node]
    assert reward is not None and length is not None  # a change of sides is marked by words, inside a work of known length
    edge = _split_edge(dt)
    width = max(1, int(round(length / dt)) - 2 * edge)
    shifted = np.full(len(reward), _BIG)
    shifted[: max(0, len(reward) - edge)] = reward[edge:]
    return _sliding_least(shifted, width)


def _split_edge(dt: float) -> int:
    return max(1, int(round(weights()["length"]["least_side_s"] / dt)))


def _shares_moment(arc: Arc, rewards: Sequence[Floats | None]) -> bool:
    """Whether both ends of ``arc`` are one edge of the clock: its words count once, for the later node."""
    return arc.length == 0.0 and rewards[arc.a] is not None and rewards[arc.b] is not None


def _trace(grid: Grid, evidence: Evidence, into: list[list[Arc]], cost: list[Floats], bare: list[Floats],
           rewards: list[Floats | None], closing: Floats, aside: Floats, near_end: npt.NDArray[np.bool_], dt: float, sure: bool) -> Fit | None:
    skip = weights()["skip"]
    node = len(grid.nodes) - 1
    at = int(np.argmin(cost[node]))
    total = float(cost[node][at])
    steps: list[Step] = []
    while into[node]:
        choices = []
        for arc in into[node]:
            if arc.length == 0.0:
                price = (bare if _shares_moment(arc, rewards) else cost)[arc.a][at] + arc.cost
                price += closing[at] if arc.closes else 0.0
                if arc.leaves and near_end[at]:
                    price += skip["cut_off"] - skip["abandon"]
                choices.append((price, at, arc))
                continue
            before = cost[arc.a]
            if arc.split is not None:
                before = before + _best_split(rewards, arc.split, arc.length, dt)
            prices = _cost_from(before, arc, aside, at, dt)
            if len(prices):
                # of equals the latest start: nothing is stretched over an empty talk
                start = len(prices) - 1 - int(np.argmin(prices[::-1]))
                choices.append((prices[start], start, arc))
        if not choices:
            return None
        _, start, arc = min(choices, key=lambda c: c[0])
        if arc.split is None:
            steps.append(Step(arc, start * dt, at * dt))
        else:
            edge = _split_edge(dt)
            reward = rewards[arc.split]
            inside = reward[start + edge : at - edge] if reward is not None else ()
            switch = start + edge + (int(np.argmin(inside)) if len(inside) else 0)
            sides = [next(a for a in into[n] if a.cell) for n in (arc.split, arc.b)]
            steps += [Step(sides[1], switch * dt, at * dt), Step(sides[0], start * dt, switch * dt)]
        node, at = arc.a, start
    steps.reverse()
    if not any(s.arc.cell for s in steps):
        return None
    seen = {s.arc.b: float(marks[int(round(s.end / dt))]) for s in steps if (marks := evidence.at(grid.nodes[s.arc.b])) is not None}
    return Fit(tuple(steps), _spread(grid, steps, rewards, aside, dt) if sure else {}, seen, total)


def _spread(grid: Grid, steps: list[Step], rewards: list[Floats | None], aside: Floats, dt: float) -> dict[int, float]:
    """For each node of the way: half the width of the moments that cost at most one more than the best."""
    forward: dict[int, Floats] = {}
    count = next(len(r) for r in rewards if r is not None)
    shared = {step.arc.a for step in steps if _shares_moment(step.arc, rewards)}
    rewards = [None if n in shared else r for n, r in enumerate(rewards)]
    now = np.zeros(count)
    for step in steps:
        forward.setdefault(step.arc.a, now)
        now = _reach(now, step.arc, aside, dt)
        reward = rewards[step.arc.b]
        if reward is not None:
            now = now + reward
        forward[step.arc.b] = now
    back = np.zeros(count)
    spread = {}
    for step in reversed(steps):
        total = forward[step.arc.b] + back
        near = np.flatnonzero(total <= total.min() + 1.0)
        place = int(round(step.end / dt))
        # only the stretch around the edge itself: another far dip is another reading, not a wider edge
        left = right = place
        inside = set(near.tolist())
        while left - 1 in inside:
            left -= 1
        while right + 1 in inside:
            right += 1
        spread[step.arc.b] = max(dt, (right - left) * dt / 2)
        reward = rewards[step.arc.b]
        if reward is not None:
            back = back + reward
        back = _reach(back[::-1], step.arc, (aside[-1] - aside)[::-1], dt)[::-1]
    spread[steps[0].arc.a] = dt
    return spread
