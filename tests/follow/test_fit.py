"""The arithmetic of the fit against plain searches that do the same slowly."""

from __future__ import annotations

import random
from math import exp, log
from types import SimpleNamespace

import numpy as np
import pytest

from parser.follow.fit import _Axis, _cost_from, _edge_cost, _reach, _sliding_least, fit
from parser.follow.grid import DONE, JOIN, REST, WORK, Arc, Cell, Grid, Node, unroll
from parser.follow.weights import weights
from parser.model import Block, Dose, Movement, Part, Plan, PlanSource, Sides

DT = 0.5


@pytest.mark.parametrize("width", [1, 2, 7, 50])
def test_the_sliding_least_is_the_least_of_each_window(width):
    values = np.random.default_rng(width).normal(size=53)
    slow = [values[i : i + width].min() for i in range(len(values) - width + 1)]
    assert (_sliding_least(values, width) == slow).all()


@pytest.mark.parametrize("arc", [
    Arc(0, 1, 20.0, cell=Cell(WORK, 1, planned_s=20.0)), Arc(0, 1, 5.0, cost=1.5, cell=Cell(REST, 1, planned_s=5.0)),
    Arc(0, 1, 30.0, cap=True, cell=Cell(WORK, 1)), Arc(0, 1, None), Arc(0, 1, None, cost=2.5), Arc(0, 1, 12.0, split=3),
], ids=["work", "rest", "piece for time", "any length", "any length at a cost", "uneven sides"])
def test_arriving_costs_what_the_best_start_costs(arc):
    dice = np.random.default_rng(3)
    before, aside = dice.normal(size=160) * 4, np.cumsum(dice.random(160)) * 0.05
    fast = _reach(before, arc, aside, axis := _Axis(DT))
    for at in range(4, 160):
        assert fast[at] == pytest.approx(_cost_from(before, arc, aside, at, axis).min(), abs=1e-6)


def plan(**block) -> Plan:
    return Plan(source=PlanSource(name="p", sha256="0" * 64, format="plan", resolution="none", duration_s=None, words=0),
                blocks=[Block(kind="main", **block)])


def move(number: int, **more) -> Movement:
    return Movement(number=number, name=f"move {number}", parts=[Part(name="x", base="x")], said="", **more)


def planned(grid) -> list[tuple]:
    return [(c.round, c.number, c.side, c.planned_s) for c in grid.cells]


def test_an_interval_block_unrolls_into_all_its_work():
    grid = unroll(plan(format="interval", rounds=2, work_s=40, rest_s=20, round_rest_s=60, movements=[move(1), move(2)]))
    assert planned(grid) == [(1, 1, None, 40.0), (1, 2, None, 40.0), (2, 1, None, 40.0), (2, 2, None, 40.0)]
    # between rounds: the long rest, or the short one, or both
    lengths = {a.length for a in grid.arcs if a.cell and a.cell.kind != WORK and a.cell.round == 1 and a.cell.number == 2}
    assert lengths == {60.0, 20.0}


def test_sides_split_the_work_time_or_are_works_of_their_own():
    split = unroll(plan(format="interval", rounds=1, work_s=50, rest_s=10, movements=[move(1, sides=Sides(mode="each", seconds_each=25))]))
    assert planned(split) == [(1, 1, "first", 25.0), (1, 1, "second", 25.0)]
    held = unroll(plan(rounds=1, rest_s=10, movements=[move(1, sides=Sides(mode="each", seconds_each=45), dose=Dose(seconds=45))]))
    rests = [a for a in held.arcs if a.cell and a.cell.kind == REST]
    assert planned(held) == [(1, 1, "first", 45.0), (1, 1, "second", 45.0)] and [a.length for a in rests] == [10.0]


def test_a_ladder_of_times_has_its_own_length_each_round():
    grid = unroll(plan(format="interval", rounds=3, rest_s=60, time_scheme=[60, 120, 60], movements=[move(1)]))
    assert [c.planned_s for c in grid.cells] == [60.0, 120.0, 60.0]


@pytest.mark.parametrize("block", [
    {"format": "sets", "rounds": 4, "rest_s": 90, "movements": [move(1, dose=Dose(reps=8))]}, {"format": "flow", "movements": [move(1)]},
    {"format": "amrap", "movements": [move(1)]}, {"format": "interval", "rounds": 3, "movements": [move(1)]},
], ids=["sets", "flow", "an amrap without a length", "no times"])
def test_what_has_no_clock_has_no_grid(block):
    assert unroll(plan(**block)).nodes == ()


def test_an_emom_has_no_rests_and_an_amrap_one_interval():
    emom = unroll(plan(format="emom", rounds=2, interval_s=60, movements=[move(1), move(2)]))
    assert not [a for a in emom.arcs if a.cell and a.cell.kind != WORK] and len(emom.cells) == 4
    amrap = unroll(plan(format="amrap", duration_s=600, movements=[move(1), move(2)]))
    assert planned(amrap) == [(None, None, None, 600.0)]


def test_arcs_go_forward():
    dice = random.Random(5)
    for _ in range(20):
        grid = unroll(plan(format="interval", rounds=dice.randint(1, 4), work_s=30, rest_s=dice.choice([0, 10, None]),
                           round_rest_s=dice.choice([None, 0, 60]), movements=[move(n) for n in range(1, dice.randint(2, 6))]))
        assert all(a.a < a.b for a in grid.arcs)


# ---- the whole fit against one that tries every pair of moments

NEVER = 1e8


def prices(arc: Arc, rewards, aside, count: int):
    """The cost of ``arc`` from each moment to each other, [start, end]; out of reach where it cannot be."""
    w = weights()["length"]
    start, end = np.meshgrid(np.arange(count), np.arange(count), indexing="ij")
    long = (end - start) * DT
    if arc.length == 0.0:
        return np.where(start == end, arc.cost, NEVER)
    if arc.length is None:
        return np.where(long >= w["least_s"], arc.cost, NEVER)
    off = long - arc.length
    if arc.cap:
        cost = np.where(off > 0, w["exact_per_s"] * off, -w["cap_short_per_s"] * off)
    else:
        cost = w["exact_per_s"] * abs(off)
        if arc.split is None:
            shrunk = w["short_whole"] / arc.length
            for more, per_s in (("moved", "moved_per_s"), ("far", "far_per_s")):
                cost = np.minimum(cost, w[more] + np.where(off > 0, w[per_s] * off, -max(shrunk, w[per_s]) * off))
    if arc.cell is not None or arc.split is not None:
        cost = cost + aside[end] - aside[start]
    if arc.split is not None:
        side = int(w["least_side_s"] / DT)
        whole = int(arc.length / DT)
        best = [min((rewards[arc.split][k] for k in range(at + side, min(at + whole - side, count))), default=NEVER) for at in range(count)]
        cost = cost + np.array(best)[:, None]
    return np.where(long >= w["least_s"], cost + arc.cost, NEVER)


def slowly(grid, evidence, base):
    """The least cost up to each node at each moment."""
    count, skip = evidence.steps, weights()["skip"]
    rewards = [None if (seen := evidence.at(n)) is None else base - seen for n in grid.nodes]
    bare, cost = [], []
    for index, node in enumerate(grid.nodes):
        into = [a for a in grid.arcs if a.b == index]
        best = np.zeros(count) if not into else np.full(count, NEVER)
        for arc in into:
            one_edge = arc.length == 0.0 and rewards[arc.a] is not None and rewards[index] is not None
            come = ((bare if one_edge else cost)[arc.a][:, None] + prices(arc, rewards, evidence.aside(), count)).min(axis=0)
            if arc.closes:
                come = come + evidence.closing()
            if arc.leaves:
                come = come + np.where(np.arange(count) * DT > evidence.cut_off_from(), skip["cut_off"] - skip["abandon"], 0.0)
            best = np.minimum(best, come)
        if (node.block, index) in grid.starts:
            best = best - evidence.turns_to_work() + evidence.before_block(node.block)
        bare.append(best)
        cost.append(best if rewards[index] is None else best + rewards[index])
    return cost, rewards


def by_chance(seed: int, grid, *, seconds: float = 60.0):
    """Words by chance over a recording of so many seconds."""
    dice = np.random.default_rng(seed)
    count = int(seconds / DT)
    marks = [None if n.kind in (JOIN, DONE) else dice.choice([-0.8, 0.0, 0.0, 2.5], size=count) + dice.random(count) * 0.1 for n in grid.nodes]
    place = {id(n): k for k, n in enumerate(grid.nodes)}
    turns, closing, aside = dice.normal(size=count), dice.random(count), np.cumsum(dice.choice([0.0, 0.02], size=count))
    early = np.where(np.arange(count) < count // 3, 6.0, 0.0)
    return SimpleNamespace(dt=DT, steps=count, at=lambda node, stretch=None: None if marks[place[id(node)]] is None else marks[place[id(node)]][slice(*stretch or (0, count))],
                           turns_to_work=lambda: turns, closing=lambda: closing, aside=lambda: aside,
                           before_block=lambda block: early if block > 1 else np.zeros(count), cut_off_from=lambda: seconds * 0.8)


SMALL = {
    "two rounds of two": ({"format": "interval", "rounds": 2, "work_s": 8, "rest_s": 4, "round_rest_s": 6, "movements": [move(1), move(2)]},),
    "sides that share the time": ({"format": "interval", "rounds": 1, "work_s": 16, "rest_s": 4,
                                   "movements": [move(1, sides=Sides(mode="each", seconds_each=8)), move(2)]},),
    "holds on each side": ({"rounds": 1, "rest_s": 3, "movements": [move(1, sides=Sides(mode="each", seconds_each=6), dose=Dose(seconds=6))]},),
    "an emom and a piece for time": ({"format": "emom", "rounds": 3, "interval_s": 7, "movements": [move(1)]},
                                     {"format": "for_time", "duration_s": 20, "movements": [move(1)]}),
    "more than there is time for": ({"format": "interval", "rounds": 4, "work_s": 15, "rest_s": None, "movements": [move(1), move(2)]},),
}


def small(name: str) -> Grid:
    given = plan(**SMALL[name][0])
    return unroll(given.model_copy(update={"blocks": [Block(kind="main", **block) for block in SMALL[name]]}))


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("name", SMALL)
def test_the_way_found_is_the_cheapest_of_all(name, seed):
    grid = small(name)
    evidence = by_chance(seed, grid)
    cost, rewards = slowly(grid, evidence, 1.3)
    found = fit(grid, evidence, base=1.3)
    assert found.cost == pytest.approx(cost[-1].min(), abs=1e-9) and found.spread == {}
    # and its steps lead from the first node to the last one, each where the one before it ended
    assert found.steps[0].arc.a == 0 and found.steps[-1].arc.b == len(grid.nodes) - 1
    assert all(one.arc.b == other.arc.a and one.end == other.start for one, other in zip(found.steps, found.steps[1:]))
    total = 0.0
    for k, step in enumerate(found.steps):
        a, b = round(step.start / DT), round(step.end / DT)
        mark = rewards[step.arc.b]
        following = found.steps[k + 1].arc if k + 1 < len(found.steps) else None
        shared = following is not None and following.length == 0.0 and mark is not None and rewards[following.b] is not None
        total += prices(step.arc, rewards, evidence.aside(), evidence.steps)[a, b] + (0.0 if mark is None or shared else mark[b])
        total += evidence.closing()[b] if step.arc.closes else 0.0
        total += weights()["skip"]["cut_off"] - weights()["skip"]["abandon"] if step.arc.leaves and step.end > evidence.cut_off_from() else 0.0
        if step.arc.b in {first for _, first in grid.starts}:
            total += evidence.before_block(grid.nodes[step.arc.b].block)[b] - evidence.turns_to_work()[b]
    uneven = [one for one, other in zip(found.steps, found.steps[1:]) if one.arc.cell and one.arc.cell.side == "first" and grid.nodes[one.arc.b].kind == "switch"]
    if not uneven:
        assert total == pytest.approx(found.cost, abs=1e-9)
    seen = {s.arc.b: evidence.at(grid.nodes[s.arc.b])[round(s.end / DT)] for s in found.steps if rewards[s.arc.b] is not None}
    assert found.seen == pytest.approx(seen)


@pytest.mark.parametrize("name", SMALL)
def test_an_edge_is_as_sure_as_it_could_move_for_a_cost_of_one(name):
    grid = small(name)
    evidence = by_chance(5, grid)
    # the talk leaves the work again and again
    away = np.cumsum(np.random.default_rng(5).choice([0.0, 0.15], size=evidence.steps))
    evidence.aside = lambda: away
    found = fit(grid, evidence, base=1.3, missing=1.3)
    rewards = [None if (seen := evidence.at(n)) is None else 1.3 - seen for n in grid.nodes]
    for step in found.steps:
        if step.arc.length == 0.0 and rewards[step.arc.a] is not None and rewards[step.arc.b] is not None:
            rewards[step.arc.a] = None
    chain = [prices(s.arc, rewards, evidence.aside(), evidence.steps) + (0.0 if rewards[s.arc.b] is None else rewards[s.arc.b][None, :]) for s in found.steps]
    before = [np.zeros(evidence.steps)]
    for matrix in chain:
        before.append((before[-1][:, None] + matrix).min(axis=0))
    after = [np.zeros(evidence.steps)]
    for matrix in reversed(chain):
        after.insert(0, (matrix + after[0][None, :]).min(axis=1))
    expected = {}
    for step, total in zip(found.steps, [one + other for one, other in zip(before, after)][1:]):
        near, at = total <= total.min() + 1.0, round(step.end / DT)
        left, right = at, at
        while left and near[left - 1]:
            left -= 1
        while right + 1 < len(near) and near[right + 1]:
            right += 1
        expected[step.arc.b] = max(DT, (right - left) * DT / 2)
    assert found.spread == expected | {0: DT}


# ---- what a mark is worth


def test_an_edge_costs_what_it_usually_costs_less_what_the_words_say():
    seen = np.array([-1.5, 0.0, 0.5, 4.0])
    assert _edge_cost(seen, 1.3, 1.3) == pytest.approx(1.3 - seen)
    assert _edge_cost(None, 1.3, 1.3) is None


def test_where_nearly_every_edge_is_called_one_without_a_word_costs_more_and_a_mark_is_worth_the_same():
    dear = _edge_cost(np.array([-1.5, 0.0, 9.0]), 1.3, 3.0)
    assert dear[0] == pytest.approx(4.5) and dear[1] == pytest.approx(3.0)
    # a sure mark: the share of edges with one, times how much likelier it makes the moment
    assert dear[2] == pytest.approx(-log(exp(-3.0) + (1 - exp(-3.0)) * (exp(9.0) - 1) * exp(-1.3) / (1 - exp(-1.3))))


def test_nothing_is_found_in_a_recording_of_a_few_steps_or_where_no_block_was_held():
    grid = small("two rounds of two")
    short = by_chance(0, grid, seconds=3.5)
    assert short.steps == 7 and fit(grid, short, base=1.3) is None
    assert fit(Grid((), (), (), ()), by_chance(0, grid), base=1.3) is None
    silent = by_chance(0, grid)
    silent.at = lambda node, stretch=None: None if node.kind in (JOIN, DONE) else np.full(silent.steps, -5.0)
    assert fit(grid, silent, base=1.3) is None


def test_of_moments_that_are_alike_the_latest_start_is_taken():
    """Nothing is stretched over an empty talk: a class begins as late as it can."""
    nodes = (Node(JOIN, 1), Node("start", 1, 1, 1), Node("stop", 1, 1))
    arcs = (Arc(0, 1, None), Arc(1, 2, 10.0, cell=Cell(WORK, 1, 1, 1, planned_s=10.0)))
    marks = {"start": np.zeros(100), "stop": np.where(np.arange(100) == 60, 3.0, 0.0)}
    evidence = by_chance(0, Grid(nodes, arcs, (), ()), seconds=50.0)
    evidence.at = lambda node, stretch=None: marks.get(node.kind)
    evidence.aside = lambda: np.zeros(100)
    found = fit(Grid(nodes, arcs, (), ((1, 9),)), evidence, base=1.3)
    assert [(s.start, s.end) for s in found.steps] == [(18.0, 20.0), (20.0, 30.0)]


def uneven(switch_at: float, *, within=None, work: float = 40.0):
    """A work of two sides from 20 s on, of which the first call is ``go``, and the change of sides is called at ``switch_at``."""
    nodes = (Node(JOIN, 1), Node("start", 1, 1, 1), Node("switch", 1, 1, 1), Node("stop", 1, 1))
    sides = [Arc(a, a + 1, 20.0, cell=Cell(WORK, 1, 1, 1, side, 20.0)) for a, side in ((1, "first"), (2, "second"))]
    grid = Grid(nodes, (Arc(0, 1, None), *sides, Arc(1, 3, 40.0, cost=1.0, split=2)), (), ())
    words = {"start": 20.0, "switch": switch_at, "stop": 20.0 + work}
    marks = {kind: np.where(np.arange(200) == round(at / DT), 9.0, 0.0) for kind, at in words.items()}
    evidence = by_chance(0, grid, seconds=100.0)
    evidence.at = lambda node, stretch=None: None if node.kind == JOIN else marks[node.kind][slice(*stretch or (0, 200))]
    evidence.aside = lambda: np.zeros(200)
    return [(s.arc.cell.side, s.start, s.end) for s in fit(grid, evidence, base=1.3, within=within).steps if s.arc.cell]


@pytest.mark.parametrize("within", [None, [(0, 200), (30, 140), (30, 140), (30, 140)]], ids=["everywhere", "in a stretch"])
@pytest.mark.parametrize("at", [25.0, 28.0, 32.5, 50.0, 54.5])
def test_two_sides_change_where_that_is_called(at, within):
    assert uneven(at, within=within) == [("first", 20.0, at), ("second", at, 60.0)]


def test_no_side_is_shorter_than_five_seconds():
    """What is called sooner is no change of sides: the cheapest moment is the first of those that are alike."""
    assert [uneven(at)[0][2] for at in (24.5, 55.0)] == [40.0, 40.0]


@pytest.mark.parametrize(("ends", "left"), [(40.0, "abandon"), (40.5, "cut_off")])
def test_a_block_that_is_left_as_the_recording_ends_costs_less(ends, left):
    nodes = (Node(JOIN, 1), Node("start", 1, 1, 1), Node("stop", 1, 1), Node(DONE, 1))
    skip = weights()["skip"]
    grid = Grid(nodes, (Arc(0, 1, None), Arc(1, 2, 10.0, cell=Cell(WORK, 1, 1, 1, planned_s=10.0)), Arc(2, 3, 0.0, cost=skip["abandon"], closes=True, leaves=True)),
                (), ())
    marks = {kind: np.where(np.arange(120) == round(at / DT), 30.0, 0.0) for kind, at in (("start", ends - 10.0), ("stop", ends))}
    evidence = by_chance(0, grid)
    evidence.at, evidence.aside, evidence.closing = lambda node, stretch=None: marks.get(node.kind), lambda: np.zeros(120), lambda: np.zeros(120)
    evidence.cut_off_from = lambda: 40.0
    found = fit(grid, evidence, base=1.3)
    assert found.steps[-1].end == ends and found.cost == pytest.approx(2 * (1.3 - 30.0) + skip[left])


def test_an_edge_is_no_surer_because_the_recording_ends_soon_after_it():
    """The last work is cut short, thirty seconds of forty: the start before it could still move as far as its words allow."""
    nodes = (Node(JOIN, 1), Node("start", 1, 1, 1), Node("stop", 1, 1))
    grid = Grid(nodes, (Arc(0, 1, None), Arc(1, 2, 40.0, cell=Cell(WORK, 1, 1, 1, planned_s=40.0))), (), ())
    seconds = np.arange(200) * DT
    marks = {"start": np.where(abs(seconds - 69.0) <= 3.0, 9.0, 0.0), "stop": np.where(seconds == 99.0, 9.0, 0.0)}
    evidence = by_chance(0, grid, seconds=100.0)
    evidence.at, evidence.aside = lambda node, stretch=None: marks.get(node.kind), lambda: np.zeros(200)
    found = fit(grid, evidence, base=1.3, missing=1.3)
    assert found.steps[1].end == 99.0 and 66.0 <= found.steps[1].start <= 72.0 and found.spread[1] == 3.0
