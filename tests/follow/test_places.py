"""The look at the whole recording in coarse steps, against plain searches, and what the fit finds at the places that it leaves."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np
import pytest

import parser.follow as following
from parser import load_lexicon
from parser.follow.evidence import Evidence
from parser.follow.fit import fit
from parser.follow.grid import DONE, JOIN, REST, WORK, Arc, Cell, Grid, Node, endings, unroll
from parser.follow.places import _least, _Look, _nearest, places, sliding_least
from parser.follow.weights import weights
from parser.hear import hear
from parser.mentions import Layout
from parser.model import Sides

from .random_class import Made, make, read
from .small import DT, NEVER, SMALL, by_chance, grid_of, move, small

NEAR, LENGTH, SKIP = weights()["near"], weights()["length"], weights()["skip"]
EACH = int(NEAR["steps"])
COARSE = EACH * DT
BASE = 1.3

FULLER = SMALL | {
    "lengths that are no whole steps": ({"format": "interval", "rounds": 2, "work_s": 13, "rest_s": 7, "round_rest_s": 21, "movements": [move(1), move(2)]},),
    "lengths shorter than a step": ({"format": "interval", "rounds": 2, "work_s": 4, "rest_s": 3, "movements": [move(1), move(2)]},),
    "sides of whole steps": ({"format": "interval", "rounds": 2, "work_s": 20, "rest_s": 5, "round_rest_s": 15,
                              "movements": [move(1, sides=Sides(mode="each", seconds_each=10))]},),
    "blocks of all kinds": ({"format": "interval", "rounds": 2, "work_s": 10, "rest_s": 5, "movements": [move(1), move(2)]},
                            {"format": "emom", "rounds": 2, "interval_s": 15, "movements": [move(1)]},
                            {"format": "for_time", "duration_s": 30, "movements": [move(1)]}),
}


# ---- small parts


@pytest.mark.parametrize("width", [1, 2, 3, 7, 8, 50, 53])
def test_the_sliding_least_is_the_least_of_each_window(width):
    values = np.random.default_rng(width).normal(size=53)
    slow, before = [values[i : i + width].min() for i in range(len(values) - width + 1)], values.copy()
    found = sliding_least(values, width)
    assert (found == slow).all() and found is not values and (values == before).all()


def test_the_least_of_several_rows_changes_none_of_them():
    rows = [np.array(row, dtype=float) for row in ([3, 1, 5, 4], [2, 2, 2, 9], [9, 0, 9, 3])]
    assert _least(rows).tolist() == [2, 0, 2, 3] and [row.tolist() for row in rows] == [[3, 1, 5, 4], [2, 2, 2, 9], [9, 0, 9, 3]]
    assert _least(rows[:1]) is rows[0] and _least(rows[:2]).tolist() == [2, 1, 2, 4] and rows[0].tolist() == [3, 1, 5, 4]


@pytest.mark.parametrize(("costs", "most", "found"), [
    ([9.0, 1.0, 3.0, 2.0, 3.1], 9, [1, 2, 3]), ([9.0, 1.0, 3.0, 2.0, 3.0], 4, [1, 2, 3, 4]), ([9.0, 1.0, 3.0, 2.0, 3.0], 3, [1, 2, 3]),
    ([3.0, 3.0, 2.0, 1.0], 2, [2, 3]), ([2.0, 2.0, 2.0, 1.0], 2, [0, 3]), ([3.0], 1, [0]), ([9.0, 9.0], 3, []), ([1.0, 2.0], 0, []),
])
def test_of_more_steps_than_are_looked_at_the_cheapest_are_taken_in_order(costs, most, found):
    assert _nearest(np.array(costs), 3.0, most).tolist() == found


def look_at(name: str, *, seed: int = 0, seconds: float = 60.0):
    grid = grid_of(*FULLER[name])
    evidence = by_chance(seed, grid, seconds=seconds)
    return grid, evidence, _Look(grid, evidence, BASE)


@pytest.mark.parametrize(("steps", "count"), [(120, 12), (121, 13), (119, 12), (9, 1), (10, 1), (11, 2)])
def test_the_last_coarse_step_may_be_shorter(steps, count):
    grid = small("two rounds of two")
    evidence = by_chance(0, grid, seconds=steps * DT)
    look = _Look(grid, evidence, BASE)
    assert (look.count, look.each, look.dt) == (count, EACH, COARSE)
    values = np.random.default_rng(1).normal(size=steps)
    parts, before = [values[n * EACH : (n + 1) * EACH] for n in range(count)], values.copy()
    assert look.pooled(values, np.maximum).tolist() == [part.max() for part in parts]
    assert look.pooled(values, np.minimum).tolist() == [part.min() for part in parts] and (values == before).all()
    # and back: all the steps of the axis in coarse ones, no more
    assert look.fine(np.arange(count)).tolist() == list(range(steps))
    assert look.fine(np.array([count - 1])).tolist() == list(range((count - 1) * EACH, steps)) and look.fine(np.arange(0)).tolist() == []


def test_coarse_steps_are_given_back_as_the_steps_that_they_are_made_of():
    look = look_at("two rounds of two")[2]
    assert look.fine(np.array([0, 3, 11])).tolist() == [*range(10), *range(30, 40), *range(110, 120)]


def test_ends_of_a_block_that_cost_the_same_are_one():
    """Every interval of a block may be its last: all of those ways lead to its end."""
    leave = [Arc(n, 9, 0.0, cost=6.0, closes=True, leaves=True) for n in (1, 3)]
    close, dearer, skip = Arc(5, 9, 0.0, closes=True), Arc(6, 9, 0.0, cost=6.0, closes=True), Arc(7, 9, 0.0, cost=6.0)
    assert endings([leave[0], close, skip, dearer, leave[1]]) == [leave, [close], [dearer]] and endings([skip]) == []


# ---- the look against a search that tries every pair of coarse steps


def in_coarse_steps(values, least) -> np.ndarray:
    return np.array([least(values[k : k + EACH]) for k in range(0, len(values), EACH)])


def price(arc: Arc, steps: int, count: int) -> float:
    """What ``arc`` costs by a look if it takes so many coarse steps."""
    if arc.length == 0.0:
        return 0.0 if steps == 0 else NEVER
    if arc.length is None:
        return 0.0
    low, high = int(arc.length // COARSE), -int(-arc.length // COARSE)
    found = [NEVER]
    if steps in (low, high):
        found.append(0.0)
    if steps == high + 1 or steps == low - 1 >= 0:
        found.append(NEAR["beside"])
    if arc.split is None and steps < low:
        a_second = LENGTH["cap_short_per_s"] if arc.cap else max(LENGTH["short_whole"] / max(arc.length, 1.0), LENGTH["far_per_s"])
        found.append((0.0 if arc.cap else LENGTH["moved"]) + a_second * COARSE * (low - steps))
    if arc.split is None and not arc.cap and steps >= low:
        found.append(LENGTH["moved"] + LENGTH["far_per_s"] * COARSE * (steps - low))
    return min(found)


class Slowly:
    """The same look, one pair of coarse steps after the other."""

    def __init__(self, grid, evidence) -> None:
        self.grid, self.count = grid, -(-evidence.steps // EACH)
        self.marks = [None if (seen := evidence.at(n)) is None else BASE - in_coarse_steps(seen, max) for n in grid.nodes]
        self.aside, self.closing = (in_coarse_steps(values, min) for values in (evidence.aside(), evidence.closing()))
        turns = in_coarse_steps(evidence.turns_to_work(), max)
        self.opens = {first: in_coarse_steps(evidence.before_block(grid.nodes[first].block), min) - turns for _, first in grid.starts}
        # a coarse step is near the recording's end where its end is
        self.late = [(k + 1) * COARSE > evidence.cut_off_from() for k in range(self.count)]

    def paid(self, node: int, at: int) -> float:
        """What lying at ``at`` costs ``node``."""
        mark = self.marks[node]
        return (0.0 if mark is None else mark[at]) + (self.opens[node][at] if node in self.opens else 0.0)

    def way(self, arc: Arc, start: int, end: int) -> float:
        cost = arc.cost + price(arc, end - start, self.count)
        if arc.cell is not None or arc.split is not None:
            cost += self.aside[end] - self.aside[start]
        if arc.split is not None:
            whole = -int(-arc.length // COARSE)
            cost += min(self.marks[arc.split][start : start + whole + 1])
        if arc.length == 0.0 and self.marks[arc.a] is not None and self.marks[arc.b] is not None:
            cost -= self.marks[arc.a][start]
        if arc.closes:
            cost += self.closing[end]
        if arc.leaves and self.late[end]:
            cost += SKIP["cut_off"] - SKIP["abandon"]
        return cost

    def from_the_start(self):
        out = []
        for node in range(len(self.grid.nodes)):
            into = [arc for arc in self.grid.arcs if arc.b == node]
            out.append([min((out[arc.a][start] + self.way(arc, start, end) for arc in into for start in range(end + 1)), default=0.0) + self.paid(node, end)
                        for end in range(self.count)])
        return np.array(out)

    def from_the_end(self):
        out = [[0.0] * self.count for _ in self.grid.nodes]
        for node in range(len(out) - 2, -1, -1):
            away = [arc for arc in self.grid.arcs if arc.a == node]
            out[node] = [min(self.way(arc, start, end) + self.paid(arc.b, end) + out[arc.b][end] for arc in away for end in range(start, self.count))
                         for start in range(self.count)]
        return np.array(out)


def same(found, slow) -> bool:
    """Whether both are the same where anything is in reach, and out of reach at the same steps."""
    found, there = np.array(found), slow < NEVER / 2
    return bool((found[~there] > NEVER / 2).all() and np.allclose(found[there], slow[there], atol=1e-9, rtol=0) and there.any())


@pytest.mark.parametrize(("seed", "seconds"), [(0, 60.0), (1, 61.5), (2, 78.0), (3, 120.0)])
@pytest.mark.parametrize("name", FULLER)
def test_each_coarse_step_costs_what_the_best_class_up_to_it_and_on_from_it_does(name, seed, seconds):
    grid, evidence, look = look_at(name, seed=seed, seconds=seconds)
    slowly = Slowly(grid, evidence)
    to, on = look.from_the_start(), look.from_the_end()
    assert same(to, slowly.from_the_start()) and same(on, slowly.from_the_end())
    # the best class of all is the same from either end
    assert (to[0] + on[0]).min() == pytest.approx(to[-1].min(), abs=1e-9)
    assert all((a + b).min() >= to[-1].min() - 1e-9 for a, b in zip(to, on))


@pytest.mark.parametrize("most", [24, 4])
@pytest.mark.parametrize("name", FULLER)
def test_places_are_what_the_best_class_through_them_costs_no_more_than_so_much(name, most, monkeypatch):
    monkeypatch.setitem(NEAR, "most_s", most * COARSE)
    grid, evidence, _ = look_at(name, seed=7, seconds=203.5)
    slowly = Slowly(grid, evidence)
    to, on = slowly.from_the_start(), slowly.from_the_end()
    through = to + on
    found = places(grid, evidence, base=BASE)
    assert len(found) == len(grid.nodes)
    capped = 0
    for node, at in enumerate(found):
        near = [k for k in range(slowly.count) if through[node][k] <= to[-1].min() + NEAR["cost"]]
        capped += len(near) > most
        near = sorted(sorted(near, key=lambda k: round(through[node][k], 9))[:most])
        assert at.tolist() == [k for n in near for k in range(n * EACH, min((n + 1) * EACH, evidence.steps))]
        assert at.dtype.kind == "i"
    # so many nodes have more near steps than four that the cap matters
    assert capped > 3 or most == 24


# ---- one interval at a time


def reached(arc: Arc, *, count: int = 24, start: int = 10) -> dict[int, float]:
    """``{coarse steps it took: cost}`` of an interval that begins at one coarse step and no other."""
    grid = Grid((Node(JOIN, 1), Node(JOIN, 1)), (arc,), (), ())
    nothing = np.zeros(count * EACH)
    evidence = SimpleNamespace(dt=DT, steps=count * EACH, at=lambda node: None, turns_to_work=lambda: nothing, aside=lambda: nothing,
                               closing=lambda: nothing, cut_off_from=lambda: 1e9)
    look = _Look(grid, evidence, BASE)
    before = np.full(count, NEVER)
    before[start] = 0.0
    onward, back = look._onward(before, arc), look._back(before[::-1].copy(), arc)
    # one way is the other turned round
    assert same(onward, back[::-1])
    return {k - start: round(float(v), 9) for k, v in enumerate(onward) if v < NEVER / 2}


def rest(length: float, **more) -> Arc:
    return Arc(0, 1, length, cell=Cell(REST, 1, planned_s=length), **more)


FAR, CAP = LENGTH["far_per_s"] * COARSE, LENGTH["cap_short_per_s"] * COARSE
MOVED, BESIDE = LENGTH["moved"], NEAR["beside"]


def early(length: float, steps: int) -> float:
    """What an interval costs that is so many coarse steps too short."""
    return MOVED + max(LENGTH["short_whole"] / length, LENGTH["far_per_s"]) * COARSE * steps


@pytest.mark.parametrize(("arc", "costs"), [
    (rest(15.0), {0: early(15.0, 3), 1: early(15.0, 2), 2: BESIDE, 3: 0.0, 4: BESIDE} | {n: MOVED + (n - 3) * FAR for n in range(5, 14)}),
    # thirteen seconds are two coarse steps or three
    (rest(13.0), {0: early(13.0, 2), 1: BESIDE, 2: 0.0, 3: 0.0, 4: BESIDE} | {n: MOVED + (n - 2) * FAR for n in range(5, 14)}),
    (rest(22.0, cost=1.5), {n: 1.5 + early(22.0, 4 - n) for n in range(3)} | {3: 1.5 + BESIDE, 4: 1.5, 5: 1.5, 6: 1.5 + BESIDE}
     | {n: 1.5 + MOVED + (n - 4) * FAR for n in range(7, 14)}),
    (rest(10.0), {0: early(10.0, 2), 1: BESIDE, 2: 0.0, 3: BESIDE} | {n: MOVED + (n - 2) * FAR for n in range(4, 14)}),
    (rest(5.0), {0: BESIDE, 1: 0.0, 2: BESIDE} | {n: MOVED + (n - 1) * FAR for n in range(3, 14)}),
    (rest(3.0), {0: 0.0, 1: 0.0, 2: BESIDE} | {n: MOVED + n * FAR for n in range(3, 14)}),
    # a piece for time ends when it is done
    (rest(20.0, cap=True), {n: (4 - n) * CAP for n in range(5)} | {5: BESIDE}),
    (rest(5.0, cap=True), {0: CAP, 1: 0.0, 2: BESIDE}),
    (rest(65.0), {n: early(65.0, 13 - n) for n in range(12)} | {12: BESIDE, 13: 0.0}),
    # longer than the recording: it was shorter than planned, or no interval at all
    (rest(90.0), {n: early(90.0, 18 - n) for n in range(14)}), (rest(90.0, cap=True), {n: (18 - n) * CAP for n in range(14)}),
    (Arc(0, 1, None, cost=2.5), dict.fromkeys(range(14), 2.5)), (Arc(0, 1, 0.0, cost=4.2), {0: 4.2}),
], ids=["whole steps", "no whole steps", "at a cost", "two steps", "one step", "less than one", "piece for time", "short piece", "to the very end",
        "beyond the end", "piece for time beyond the end", "any length", "none"])
def test_an_interval_may_take_a_step_more_or_less_for_a_little_and_any_other_length_for_more(arc, costs):
    assert reached(arc) == pytest.approx(costs)


def test_sides_that_change_unevenly_take_their_time_and_a_step_more_or_less():
    """From each step with the best change of sides up to the end of the work, and none beyond the recording."""
    nodes = (Node("start", 1, 1, 1), Node("switch", 1, 1, 1), Node("stop", 1, 1))
    arc = Arc(0, 2, 20.0, cost=3.0, split=1)
    grid = Grid(nodes, (Arc(0, 1, 10.0, cell=Cell(WORK, 1)), Arc(1, 2, 10.0, cell=Cell(WORK, 1)), arc), (), ())
    marks = {"switch": np.where(np.arange(120) // EACH == 6, 9.0, 0.0)}
    evidence = by_chance(0, grid)
    evidence.at, evidence.aside = lambda node: marks.get(node.kind, np.zeros(120)), lambda: np.arange(120) / EACH / 100
    look = _Look(grid, evidence, BASE)
    costs = look._onward(np.arange(12) * 1.0, arc)
    called, uncalled = 3.0 + BASE - 9.0, 3.0 + BASE
    # a start two to six steps before the end, later ones cost more here; those from step 2 to step 6 have the change inside
    slow = [min((start + (called if 2 <= start <= 6 else uncalled) + extra + (end - start) / 100
                 for start, extra in ((end - 4, 0.0), (end - 3, BESIDE), (end - 5, BESIDE)) if start >= 0), default=NEVER) for end in range(12)]
    assert costs[3:] == pytest.approx(slow[3:]) and (costs[:3] > NEVER).all()


@pytest.mark.parametrize(("end", "late"), [(40.0, False), (40.5, True), (45.0, True)])
def test_the_work_is_cut_off_where_the_coarse_step_reaches_to_the_recordings_end(end, late):
    grid = small("two rounds of two")
    evidence = by_chance(0, grid)
    evidence.closing, evidence.cut_off_from = lambda: np.zeros(120), lambda: 90.0 - end
    look = _Look(grid, evidence, BASE)
    less = [SKIP["cut_off"] - SKIP["abandon"] if (k + 1) * COARSE > 90.0 - end else 0.0 for k in range(12)]
    assert look.leaving.tolist() == less and (look.leaving[9] < 0) == late and look.closing.tolist() == [0.0] * 12


# ---- what the fit finds at the places


def held(seed: int, grid, *, seconds: float):
    """A class that was held as planned, or nearly: three of four edges are called, and now and then such a word is said for nothing.
    The talk turns to the work as it begins, and away from it as it ends."""
    dice = np.random.default_rng(seed)
    evidence = by_chance(seed, grid, seconds=seconds)
    count, node, now, edges = evidence.steps, 0, 0.0, []
    marks = [np.where(dice.random(count) < 0.01, 2.5, -0.8) + dice.random(count) * 0.1 for _ in grid.nodes]
    while node < len(grid.nodes) - 1:
        arc = next(arc for arc in grid.arcs if arc.a == node and not (arc.cost or arc.split))
        now += dice.uniform(10.0, 40.0) if arc.length is None else max(arc.length + dice.choice([0.0, 0.0, 0.0, 0.5, -0.5, 6.0]), 0.0)
        node = arc.b
        edges.append(now)
        if dice.random() < 0.75 and now < seconds:
            marks[node][int(now / DT)] = dice.choice([4.0, 6.0])
    known = {id(n): None if n.kind in (JOIN, DONE) else marks[k] for k, n in enumerate(grid.nodes)}
    turns, away = (2.0 * np.exp(-(((np.arange(count) * DT - at) / 30.0) ** 2)) for at in (edges[0], edges[-1]))
    evidence.at, evidence.turns_to_work, evidence.closing = lambda node: known[id(node)], lambda: turns - away, lambda: turns - away
    return evidence


@pytest.mark.parametrize("name", FULLER)
def test_nothing_is_out_of_reach(name, monkeypatch):
    """Whatever it costs: the cheapest class of words by chance is at the places of its edges."""
    monkeypatch.setitem(NEAR, "cost", 1e4)
    monkeypatch.setitem(NEAR, "most_s", 1e5)
    grid = grid_of(*FULLER[name])
    for seed in range(20):
        evidence = by_chance(seed, grid, seconds=60.0 + 4.5 * seed)
        found = fit(grid, evidence, base=BASE, places=places(grid, evidence, base=BASE))
        assert found.cost == pytest.approx(fit(grid, evidence, base=BASE).cost, abs=1e-9)


CLASSES = {
    "rounds": ({"format": "interval", "rounds": 2, "work_s": 40, "rest_s": 20, "round_rest_s": 60, "movements": [move(1), move(2), move(3)]},),
    "sides": ({"format": "interval", "rounds": 2, "work_s": 50, "rest_s": 10, "movements": [move(1, sides=Sides(mode="each", seconds_each=25)), move(2)]},),
    "minutes and a piece for time": ({"format": "emom", "rounds": 3, "interval_s": 60, "movements": [move(1)]},
                                     {"format": "for_time", "duration_s": 240, "movements": [move(1)]}),
    "lengths that are no whole steps": ({"format": "interval", "rounds": 3, "work_s": 33, "rest_s": 17, "movements": [move(1), move(2)]},),
    "two blocks": ({"format": "interval", "rounds": 1, "work_s": 30, "rest_s": 15, "movements": [move(1), move(2), move(3)]},
                   {"format": "interval", "rounds": 2, "work_s": 45, "rest_s": 15, "movements": [move(1), move(2)]}),
}


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("name", CLASSES)
def test_what_is_found_at_the_places_is_what_is_found_everywhere(name, seed):
    grid = grid_of(*CLASSES[name])
    evidence = held(seed, grid, seconds=597.5)
    whole, where = fit(grid, evidence, base=BASE), places(grid, evidence, base=BASE)
    found = fit(grid, evidence, base=BASE, places=where)
    assert found.cost == pytest.approx(whole.cost, abs=1e-9) and sum(map(len, where)) < 0.5 * evidence.steps * len(where)


def called(grid, seconds: float, edges, *, sure: float = 9.0):
    """A recording in which the edges of the grid are called one after the other at ``edges``, the last ones not at all, and nothing else is said."""
    evidence = by_chance(0, grid, seconds=seconds)
    count, marks = evidence.steps, {}
    marked = [n for n in grid.nodes if n.kind not in (JOIN, DONE)]
    for node, at in zip(marked, [*edges, *[None] * (len(marked) - len(edges))]):
        marks[id(node)] = np.full(count, -0.8) if at is None else np.where(np.arange(count) == round(at / DT), sure, -0.8)
    evidence.at = lambda node: marks.get(id(node))
    evidence.turns_to_work = evidence.closing = evidence.aside = lambda: np.zeros(count)
    return evidence


PIECE = {"format": "for_time", "movements": [move(1)]}
TWO = {"format": "interval", "rounds": 1, "work_s": 40, "movements": [move(1), move(2)]}


@pytest.mark.parametrize(("block", "seconds", "edges", "found"), [
    # nobody calls the end: it is where it was planned
    (PIECE | {"duration_s": 300}, 620.0, [20.0], [(20.0, 320.0)]),
    (PIECE | {"format": "amrap", "duration_s": 300}, 620.0, [20.0], [(20.0, 320.0)]),
    # done sooner than planned, and planned for longer than the recording
    (PIECE | {"duration_s": 600}, 590.0, [20.0, 500.0], [(20.0, 500.0)]),
    # in the first coarse step, and a rest within one
    (TWO | {"rest_s": 20}, 300.0, [3.0, 43.0, 63.0, 103.0], [(3.0, 43.0), (43.0, 63.0), (63.0, 103.0)]),
    (TWO | {"rest_s": None}, 300.0, [11.0, 51.0, 54.0, 94.0], [(11.0, 51.0), (54.0, 94.0)]),
], ids=["a piece for time whose end is not called", "an amrap whose end is not called", "a piece for time that was cut short", "from the third second on",
        "a rest of three seconds"])
def test_an_interval_is_found_at_its_places(block, seconds, edges, found):
    grid = grid_of(block)
    evidence = called(grid, seconds, edges)
    at_places = fit(grid, evidence, base=BASE, places=places(grid, evidence, base=BASE))
    assert [(s.start, s.end) for s in at_places.steps if s.arc.cell] == found
    assert at_places.cost == pytest.approx(fit(grid, evidence, base=BASE).cost, abs=1e-9)


def test_an_edge_that_is_called_has_few_places_and_one_that_nobody_calls_as_many_as_are_looked_at():
    grid = grid_of({"format": "interval", "rounds": 1, "work_s": 40, "rest_s": 20, "movements": [move(1), move(2)]})
    evidence = called(grid, 1000.0, [400.0, 440.0, 460.0, 500.0])
    found = places(grid, evidence, base=BASE)
    for at, edge in zip(found[1:5], (400, 440, 460, 500)):
        assert 2 * edge in at and len(at) <= 3 * EACH
    # before the class nobody waits at one moment, after it everything is over at once
    assert len(found[0]) == int(NEAR["most_s"] / DT) and 1000 in found[5] and len(found[5]) <= 3 * EACH
    silent = called(grid, 1000.0, [400.0, 440.0, 460.0, 500.0], sure=-0.8)
    found = places(grid, silent, base=BASE)
    assert all(len(at) == int(NEAR["most_s"] / DT) for at in found)


def test_silence_is_no_class():
    """Where nothing tells of any edge, a class is no cheaper than none, at its places as everywhere."""
    grid = grid_of(*FULLER["blocks of all kinds"])
    silent = called(grid, 200.0, [0.0] * 20, sure=-0.8)
    assert fit(grid, silent, base=BASE, places=places(grid, silent, base=BASE)) is None and fit(grid, silent, base=BASE) is None


def test_a_block_that_was_not_held_has_no_places_and_the_others_are_found():
    grid = grid_of(*({"format": "interval", "rounds": 2, "work_s": 20, "rest_s": 10, "movements": [move(1), move(2)]},) * 2)
    second = next(n for n, node in enumerate(grid.nodes) if node.block == 2)
    evidence = called(grid, 400.0, [30, 50, 60, 80, 90, 110, 120, 140])
    marks = {id(node): evidence.at(node) for node in grid.nodes[:second]}
    evidence.at = lambda node: None if node.kind in (JOIN, DONE) else marks.get(id(node), np.full(evidence.steps, -5.0))
    where = places(grid, evidence, base=BASE)
    found = fit(grid, evidence, base=BASE, places=where)
    assert any(not len(at) for at in where[second:]) and found == fit(grid, evidence, base=BASE)
    assert [(s.start, s.end) for s in found.steps if s.arc.cell and s.arc.cell.kind == WORK] == [(30.0, 50.0), (60.0, 80.0), (90.0, 110.0), (120.0, 140.0)]
    assert {s.arc.cell.block for s in found.steps if s.arc.cell} == {1}


# ---- whole classes


def one_after_the_other(*seeds: int, dropped: float) -> Made:
    """Classes by chance in one recording; the plan has a block for each."""
    blocks, words, edges, now = [], [], [], 0.0
    for seed in seeds:
        made = make(seed, dropped=dropped)
        blocks += made.plan.blocks
        words += [type(w)(w.text, w.start + now, w.end + now) for w in made.words]
        edges += [e + now for e in made.edges]
        now = words[-1].end + 5.0
    return Made(made.plan.model_copy(update={"blocks": blocks}), tuple(words), tuple(edges))


@pytest.fixture(scope="module")
def lexicon():
    return load_lexicon()


@pytest.mark.parametrize("resolution", ["word", "cue", "block"])
def test_a_class_that_is_called_at_half_of_its_edges_is_found_at_its_places_as_everywhere(resolution, lexicon):
    for seed in (28, 32, 15):
        made = make(seed, dropped=0.5)
        heard = hear(read(made, resolution), lexicon)
        grid, evidence = unroll(made.plan), Evidence(heard, made.plan, dt=0.5)
        found = fit(grid, evidence, base=BASE, places=places(grid, evidence, base=BASE))
        assert found.cost == pytest.approx(fit(grid, evidence, base=BASE).cost, abs=1e-9)


@pytest.mark.parametrize(("resolution", "dropped"), [("word", 0.4), ("cue", 0.2), ("block", 0.4)])
def test_several_classes_in_one_recording_are_found_at_their_places_as_everywhere(resolution, dropped, lexicon, monkeypatch):
    """In steps so long that everything can be looked at at all, and all planned lengths are whole numbers of them."""
    monkeypatch.setitem(weights()["clock"], "fine_s", 1.25)
    monkeypatch.setitem(weights()["clock"], "coarse_s", 1.25)
    monkeypatch.setitem(NEAR, "steps", 4.0)
    made = one_after_the_other(2, 15, dropped=dropped)
    heard = hear(read(made, resolution), lexicon)
    at_places = following.follow(heard, made.plan, Layout(()))
    monkeypatch.setattr(following, "places", lambda *given, **more: None)
    assert at_places == following.follow(heard, made.plan, Layout(())) and len(at_places.intervals) >= 20


def test_several_classes_in_one_recording_are_found_where_they_were_held(lexicon):
    made = one_after_the_other(7, 8, 9, dropped=0.0)
    found = following.follow(hear(read(made, "word"), lexicon), made.plan, Layout(())).intervals
    starts = [i.start for i in found]
    assert {i.block for i in found} == {1, 2, 3}
    assert sum(min(abs(edge - start) for start in starts) <= 2.0 for edge in made.edges[:-1]) >= 0.9 * len(made.edges)
