"""The arithmetic of the fit against plain searches that do the same slowly."""

from __future__ import annotations

import random
from math import exp, log

import numpy as np
import pytest

from parser.follow.fit import Lengths, _edge_cost, _prices, _reach, _width, fit
from parser.follow.grid import DONE, JOIN, REST, ROUND_REST, WORK, Arc, Cell, Grid, Node, unroll
from parser.follow.weights import weights
from parser.model import Dose, Sides

from .small import DT, NEVER, SMALL, by_chance, move, plan, small


def spots(*runs: tuple[int, int]) -> np.ndarray:
    """The steps of each ``(first, end)``."""
    return np.concatenate([np.arange(first, end) for first, end in runs])


ARCS = {
    "work": Arc(0, 1, 20.0, cell=Cell(WORK, 1, planned_s=20.0)), "rest": Arc(0, 1, 5.0, cost=1.5, cell=Cell(REST, 1, planned_s=5.0)),
    "rest between rounds": Arc(0, 1, 30.0, cell=Cell(ROUND_REST, 1, planned_s=30.0)), "piece for time": Arc(0, 1, 30.0, cap=True, cell=Cell(WORK, 1)),
    "any length": Arc(0, 1, None), "any length at a cost": Arc(0, 1, None, cost=2.5), "any length of work": Arc(0, 1, None, cell=Cell(WORK, 1)),
    "uneven sides": Arc(0, 1, 12.0, split=3), "no time at all": Arc(0, 1, 0.0, cost=4.2), "a second": Arc(0, 1, 1.0, cell=Cell(WORK, 1, planned_s=1.0)),
}


@pytest.mark.parametrize("arc", ARCS.values(), ids=ARCS)
def test_an_interval_costs_what_its_length_and_the_time_aside_do(arc):
    aside = np.cumsum(np.random.default_rng(3).random(160)) * 0.05
    starts, ends = spots((0, 9), (30, 90)), spots((0, 3), (20, 100), (150, 160))
    slow = prices(arc, {3: np.zeros(160)}, aside, 160)[np.ix_(starts, ends)].T
    found = _prices(arc, starts, ends, aside, Lengths(DT, 160))
    assert (found >= NEVER).tolist() == (slow >= NEVER).tolist() and (slow < NEVER).any() and (slow >= NEVER).any()
    assert found[slow < NEVER] == pytest.approx(slow[slow < NEVER], abs=1e-9)


@pytest.mark.parametrize("arc", ARCS.values(), ids=ARCS)
@pytest.mark.parametrize("runs", [
    (((0, 160),), ((0, 160),)), (((0, 9), (30, 90)), ((0, 3), (20, 100), (150, 160))), (((41, 42),), ((41, 42), (65, 66), (81, 83))),
    (((80, 100),), ((0, 84),)),
], ids=["everywhere", "here and there", "from one start", "before it"])
def test_arriving_costs_what_the_best_start_costs(arc, runs):
    dice = np.random.default_rng(3)
    starts, ends = (spots(*part) for part in runs)
    before, aside = dice.normal(size=len(starts)) * 4, np.cumsum(dice.random(160)) * 0.05
    slow = (before + prices(arc, {3: np.zeros(160)}, aside, 160)[np.ix_(starts, ends)].T).min(axis=1)
    found = _reach(before, arc, starts, ends, aside, Lengths(DT, 160))
    assert (found >= NEVER).tolist() == (slow >= NEVER / 2).tolist()
    assert found[slow < NEVER / 2] == pytest.approx(slow[slow < NEVER / 2], abs=1e-9)


@pytest.mark.parametrize("arc", ARCS.values(), ids=ARCS)
def test_from_nowhere_nothing_is_reached(arc):
    lengths, nowhere, there = Lengths(DT, 160), np.arange(0), np.arange(3, 20)
    assert (_reach(np.zeros(0), arc, nowhere, there, np.zeros(160), lengths) >= NEVER).tolist() == [True] * 17
    assert len(_reach(np.zeros(17), arc, there, nowhere, np.zeros(160), lengths)) == 0


def test_costs_of_a_length_are_reckoned_once_and_those_of_a_rest_on_their_own():
    lengths = Lengths(DT, 160)
    work, rest = (lengths.of(Arc(0, 1, 20.0, cell=Cell(kind, 1, planned_s=20.0))) for kind in (WORK, REST))
    assert lengths.of(Arc(4, 7, 20.0, cost=3.0, cell=Cell(WORK, 2, 3, 1, "first", 20.0))) is work
    share = weights()["length"]["rest_share"]
    assert rest[4:] == pytest.approx(share * work[4:]) and share < 1.0 and (rest[:4] >= NEVER).all() and (work[:4] >= NEVER).all()
    others = [Arc(0, 1, 20.0, cap=True), Arc(0, 1, 20.0, split=1), Arc(0, 1, 20.5)]
    assert all((lengths.of(arc)[4:] != work[4:]).any() for arc in others) and len(work) == 160


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

def prices(arc: Arc, rewards, aside, count: int):
    """The cost of ``arc`` from each moment to each other, [start, end]; out of reach where it cannot be."""
    w = weights()["length"]
    start, end = np.meshgrid(np.arange(count), np.arange(count), indexing="ij")
    long = (end - start) * DT
    if arc.length == 0.0:
        return np.where(start == end, arc.cost, NEVER)
    if arc.length is None:
        away = aside[end] - aside[start] if arc.cell is not None else 0.0
        return np.where(long >= w["least_s"], arc.cost + away, NEVER)
    off = long - arc.length
    if arc.cap:
        cost = np.where(off > 0, w["exact_per_s"] * off, -w["cap_short_per_s"] * off)
    else:
        cost = w["exact_per_s"] * abs(off)
        if arc.split is None:
            shrunk = w["short_whole"] / arc.length
            for more, per_s in (("moved", "moved_per_s"), ("far", "far_per_s")):
                cost = np.minimum(cost, w[more] + np.where(off > 0, w[per_s] * off, -max(shrunk, w[per_s]) * off))
    if arc.cell is not None and arc.cell.kind != WORK:
        cost = cost * w["rest_share"]
    if arc.cell is not None or arc.split is not None:
        cost = cost + aside[end] - aside[start]
    if arc.split is not None:
        side = int(w["least_side_s"] / DT)
        whole = int(arc.length / DT)
        best = [min((rewards[arc.split][k] for k in range(at + side, min(at + whole - side, count))), default=NEVER) for at in range(count)]
        cost = cost + np.array(best)[:, None]
    return np.where(long >= w["least_s"], cost + arc.cost, NEVER)


def slowly(grid, evidence, base, places=None):
    """The least cost up to each node at each moment, or at those of its ``places``."""
    count, skip = evidence.steps, weights()["skip"]
    barred = [np.full(count, places is not None) for _ in grid.nodes]
    for out, at in zip(barred, places or ()):
        out[at] = False
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
        best = np.where(barred[index], NEVER, best)
        bare.append(best)
        cost.append(best if rewards[index] is None else best + rewards[index])
    return cost, rewards


def some_places(seed: int, grid, evidence):
    """A third of the steps for each node by chance, and a class that could have been held among them: nothing is done but to wait."""
    dice = np.random.default_rng(seed)
    return [np.flatnonzero((dice.random(evidence.steps) < 0.33) | (np.arange(evidence.steps) % 10 == 0)) for _ in grid.nodes]


def total_of(found, grid, evidence, rewards) -> float:
    """What the steps of ``found`` cost one by one."""
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
    return total


@pytest.mark.parametrize("placed", [False, True], ids=["everywhere", "among some places"])
@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("name", SMALL)
def test_the_way_found_is_the_cheapest_of_all(name, seed, placed):
    grid = small(name)
    evidence = by_chance(seed, grid)
    places = some_places(seed, grid, evidence) if placed else None
    cost, rewards = slowly(grid, evidence, 1.3, places)
    found = fit(grid, evidence, base=1.3, places=places)
    assert found.cost == pytest.approx(cost[-1].min(), abs=1e-9) and found.spread == {}
    # and its steps lead from the first node to the last one, each where the one before it ended
    assert found.steps[0].arc.a == 0 and found.steps[-1].arc.b == len(grid.nodes) - 1
    assert all(one.arc.b == other.arc.a and one.end == other.start for one, other in zip(found.steps, found.steps[1:]))
    uneven = {one.arc.b for one, other in zip(found.steps, found.steps[1:])
              if one.arc.cell and one.arc.cell.side == "first" and grid.nodes[one.arc.b].kind == "switch"}
    if not uneven:
        assert total_of(found, grid, evidence, rewards) == pytest.approx(found.cost, abs=1e-9)
    if placed:
        assert all(round(s.end / DT) in places[s.arc.b] for s in found.steps if s.arc.b not in uneven)
    seen = {s.arc.b: evidence.at(grid.nodes[s.arc.b])[round(s.end / DT)] for s in found.steps if rewards[s.arc.b] is not None}
    assert found.seen == pytest.approx(seen)


@pytest.mark.parametrize("name", SMALL)
def test_every_step_of_the_axis_is_a_place_where_none_are_given(name):
    grid = small(name)
    evidence = by_chance(3, grid)
    assert fit(grid, evidence, base=1.3, missing=2.0, places=[np.arange(evidence.steps)] * len(grid.nodes)) == fit(grid, evidence, base=1.3, missing=2.0)


@pytest.mark.parametrize("placed", [False, True], ids=["everywhere", "among some places"])
@pytest.mark.parametrize("name", SMALL)
def test_an_edge_is_as_sure_as_it_could_move_for_a_cost_of_one(name, placed):
    grid = small(name)
    evidence = by_chance(5, grid)
    # the talk leaves the work again and again
    away = np.cumsum(np.random.default_rng(5).choice([0.0, 0.15], size=evidence.steps))
    evidence.aside = lambda: away
    barred = [np.full(evidence.steps, placed) for _ in grid.nodes]
    places = None
    if placed:
        # seven steps in ten and what is around the best moments, so that some edges could move further than their places reach
        dice = np.random.default_rng(6)
        best = {s.arc.b: round(s.end / DT) for s in fit(grid, evidence, base=1.3).steps} | {0: 0}
        steps = np.arange(evidence.steps)
        places = [np.flatnonzero((dice.random(evidence.steps) < 0.7) | (abs(steps - best.get(n, 0)) <= 1)) for n in range(len(grid.nodes))]
        for out, at in zip(barred, places):
            out[at] = False
    found = fit(grid, evidence, base=1.3, missing=1.3, places=places)
    rewards = [None if (seen := evidence.at(n)) is None else 1.3 - seen for n in grid.nodes]
    for step in found.steps:
        if step.arc.length == 0.0 and rewards[step.arc.a] is not None and rewards[step.arc.b] is not None:
            rewards[step.arc.a] = None
    chain = [np.where(barred[s.arc.b], NEVER, prices(s.arc, rewards, evidence.aside(), evidence.steps)
                      + (0.0 if rewards[s.arc.b] is None else rewards[s.arc.b][None, :])) for s in found.steps]
    before = [np.where(barred[0], NEVER, 0.0)]
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
    assert len(expected) > 1 and found.spread == expected | {0: DT}


@pytest.mark.parametrize(("near", "at", "width"), [
    ("111111", 12, 1.25), ("111111", 10, 1.25), ("111111", 15, 1.25), ("011110", 12, 0.75), ("110111", 10, 0.5), ("110111", 14, 0.5), ("001000", 12, 0.5),
])
def test_how_far_an_edge_could_move_is_half_of_what_is_near_around_it(near, at, width):
    assert _width(np.arange(10, 16), np.array([c == "1" for c in near]), at, DT) == width


@pytest.mark.parametrize(("at", "width"), [(4, 0.5), (10, 0.75), (13, 0.75), (15, 0.75), (18, 0.75)])
def test_an_edge_moves_within_places_that_lie_next_to_each_other(at, width):
    """At 4, from 10 to 13 and from 15 to 18, all of them near: what lies between is no place for it."""
    assert _width(spots((4, 5), (10, 14), (15, 19)), np.full(9, True), at, DT) == width


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
    silent.at = lambda node: None if node.kind in (JOIN, DONE) else np.full(silent.steps, -5.0)
    assert fit(grid, silent, base=1.3) is None


def test_of_moments_that_are_alike_the_latest_start_is_taken():
    """Nothing is stretched over an empty talk: a class begins as late as it can."""
    nodes = (Node(JOIN, 1), Node("start", 1, 1, 1), Node("stop", 1, 1))
    arcs = (Arc(0, 1, None), Arc(1, 2, 10.0, cell=Cell(WORK, 1, 1, 1, planned_s=10.0)))
    marks = {"start": np.zeros(100), "stop": np.where(np.arange(100) == 60, 3.0, 0.0)}
    evidence = by_chance(0, Grid(nodes, arcs, (), ()), seconds=50.0)
    evidence.at = lambda node: marks.get(node.kind)
    evidence.aside = lambda: np.zeros(100)
    found = fit(Grid(nodes, arcs, (), ((1, 9),)), evidence, base=1.3)
    assert [(s.start, s.end) for s in found.steps] == [(18.0, 20.0), (20.0, 30.0)]


def uneven(switch_at: float, *, places=None, work: float = 40.0, louder_at: float = -9.0):
    """A work of two sides from 20 s on, of which the first call is ``go``, and the change of sides is called at ``switch_at``."""
    nodes = (Node(JOIN, 1), Node("start", 1, 1, 1), Node("switch", 1, 1, 1), Node("stop", 1, 1))
    sides = [Arc(a, a + 1, 20.0, cell=Cell(WORK, 1, 1, 1, side, 20.0)) for a, side in ((1, "first"), (2, "second"))]
    grid = Grid(nodes, (Arc(0, 1, None), *sides, Arc(1, 3, 40.0, cost=1.0, split=2)), (), ())
    words = {"start": 20.0, "switch": switch_at, "stop": 20.0 + work}
    marks = {kind: np.where(np.arange(200) == round(at / DT), 9.0, 0.0) for kind, at in words.items()}
    marks["switch"] = np.where(np.arange(200) * DT == louder_at, 12.0, marks["switch"])
    evidence = by_chance(0, grid, seconds=100.0)
    evidence.at = lambda node: None if node.kind == JOIN else marks[node.kind]
    evidence.aside = lambda: np.zeros(200)
    return [(s.arc.cell.side, s.start, s.end) for s in fit(grid, evidence, base=1.3, places=places).steps if s.arc.cell]


@pytest.mark.parametrize("places", [None, [np.arange(200), np.arange(30, 60), np.arange(0), np.arange(90, 140)]],
                         ids=["everywhere", "from some moments to others"])
@pytest.mark.parametrize("at", [25.0, 28.0, 32.5, 50.0, 54.5])
def test_two_sides_change_where_that_is_called(at, places):
    assert uneven(at, places=places) == [("first", 20.0, at), ("second", at, 60.0)]


def test_no_side_is_shorter_than_five_seconds():
    """What is called sooner is no change of sides: the cheapest moment is the first of those that are alike."""
    assert [uneven(at)[0][2] for at in (24.5, 55.0)] == [40.0, 40.0]


@pytest.mark.parametrize("louder", [20.5, 24.5, 55.0, 57.5, 62.0])
def test_what_is_called_louder_near_the_ends_of_the_work_or_beyond_it_changes_no_sides(louder):
    assert uneven(32.5, louder_at=louder) == [("first", 20.0, 32.5), ("second", 32.5, 60.0)]


@pytest.mark.parametrize("louder", [25.0, 54.5])
def test_of_two_calls_inside_the_louder_changes_sides(louder):
    assert uneven(32.5, louder_at=louder) == [("first", 20.0, louder), ("second", louder, 60.0)]


@pytest.mark.parametrize(("ends", "left"), [(40.0, "abandon"), (40.5, "cut_off")])
def test_a_block_that_is_left_as_the_recording_ends_costs_less(ends, left):
    nodes = (Node(JOIN, 1), Node("start", 1, 1, 1), Node("stop", 1, 1), Node(DONE, 1))
    skip = weights()["skip"]
    grid = Grid(nodes, (Arc(0, 1, None), Arc(1, 2, 10.0, cell=Cell(WORK, 1, 1, 1, planned_s=10.0)), Arc(2, 3, 0.0, cost=skip["abandon"], closes=True, leaves=True)),
                (), ())
    marks = {kind: np.where(np.arange(120) == round(at / DT), 30.0, 0.0) for kind, at in (("start", ends - 10.0), ("stop", ends))}
    evidence = by_chance(0, grid)
    evidence.at, evidence.aside, evidence.closing = lambda node: marks.get(node.kind), lambda: np.zeros(120), lambda: np.zeros(120)
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
    evidence.at, evidence.aside = lambda node: marks.get(node.kind), lambda: np.zeros(200)
    found = fit(grid, evidence, base=1.3, missing=1.3)
    assert found.steps[1].end == 99.0 and 66.0 <= found.steps[1].start <= 72.0 and found.spread[1] == 3.0


# ---- among places


def one_work(*, work: float = 10.0, marked: float = 0.0):
    """A single work that is waited for, of which the end is called at 30 s with so much."""
    nodes = (Node(JOIN, 1), Node("start", 1, 1, 1), Node("stop", 1, 1))
    grid = Grid(nodes, (Arc(0, 1, None), Arc(1, 2, work, cell=Cell(WORK, 1, 1, 1, planned_s=work))), (), ())
    marks = {"start": np.zeros(100), "stop": np.where(np.arange(100) == 60, marked, 0.0)}
    evidence = by_chance(0, grid, seconds=50.0)
    evidence.at, evidence.aside = lambda node: marks.get(node.kind), lambda: np.zeros(100)
    return grid, evidence


@pytest.mark.parametrize("empty", [0, 1, 2])
def test_where_an_edge_that_has_to_be_has_no_place_there_is_no_class(empty):
    grid, evidence = one_work()
    places = [np.arange(100)] * 3
    assert fit(grid, evidence, base=1.3, places=places) is not None
    places[empty] = np.arange(0)
    assert fit(grid, evidence, base=1.3, places=places) is None


def test_an_edge_without_a_place_is_gone_round():
    """The end of the first movement may lie nowhere: that movement is left out, and the rest of the class is found."""
    grid = small("two rounds of two")
    evidence = by_chance(1, grid)
    stop = next(n for n, node in enumerate(grid.nodes) if node.kind == "stop")
    places = [np.arange(0 if n == stop else evidence.steps) for n in range(len(grid.nodes))]
    found = fit(grid, evidence, base=1.3, places=places)
    assert stop not in {s.arc.b for s in found.steps} and found.steps[1].arc.skips
    assert found.cost == pytest.approx(slowly(grid, evidence, 1.3, places)[0][-1].min(), abs=1e-9) and found.cost > fit(grid, evidence, base=1.3).cost


def test_of_places_that_are_alike_the_latest_start_is_taken():
    grid, evidence = one_work(marked=3.0)
    places = [np.arange(0, 100, 3), np.array([10, 39, 40, 41, 70]), np.array([20, 60, 90])]
    found = fit(grid, evidence, base=1.3, missing=1.3, places=places)
    # from 20 s to 30 s, and the wait from the last step of the first node that lies two seconds before
    assert [(s.start, s.end) for s in found.steps] == [(18.0, 20.0), (20.0, 30.0)]
    # 39 and 41 cost .6 more; the end has no other place next to it
    assert found.spread == {0: DT, 1: 2 * DT / 2, 2: DT}


@pytest.mark.parametrize(("more", "width"), [(0.9, 2.0), (1.1, 1.5)])
def test_an_edge_could_move_to_where_it_costs_less_than_one_more(more, width):
    """Three steps to either side cost nine tenths more than the best, and the fourth so much ``more``."""
    grid, evidence = one_work(marked=9.0)
    away = abs(np.arange(100) - 40)
    extra = np.where(away == 0, 0.0, np.where(away < 4, 0.9, more))
    start = np.where(away <= 4, weights()["length"]["exact_per_s"] * DT * away - extra, 0.0)
    stop = evidence.at(grid.nodes[2])
    evidence.at = lambda node: {"start": start, "stop": stop}.get(node.kind)
    found = fit(grid, evidence, base=1.3, missing=1.3)
    assert found.steps[1].start == 20.0 and found.spread == {0: DT, 1: width, 2: DT}


def between(*called: float | None, lengths=(20.0, 10.0, 20.0)):
    """Work, rest and work that begin at 20 s, with the seconds at which their edges are called, or not: what the edges are found at."""
    nodes = (Node(JOIN, 1), Node("start", 1, 1, 1), Node("stop", 1, 1), Node("start", 1, 1, 2), Node("stop", 1, 2))
    kinds = (WORK, REST, WORK)
    grid = Grid(nodes, (Arc(0, 1, None), *(Arc(n, n + 1, s, cell=Cell(kind, 1, 1, planned_s=s)) for n, (kind, s) in enumerate(zip(kinds, lengths), 1))), (), ())
    marks = {id(node): np.where(np.arange(240) * DT == (-9.0 if at is None else at), 9.0, 0.0) for node, at in zip(nodes[1:], called)}
    evidence = by_chance(0, grid, seconds=120.0)
    evidence.at, evidence.aside = lambda node: marks.get(id(node)), lambda: np.zeros(240)
    return [s.end for s in fit(grid, evidence, base=1.3).steps]


@pytest.mark.parametrize(("off", "found"), [
    (2.0, 40.0), (-2.0, 40.0), (6.0, 40.0), (20.0, 40.0),
])
def test_where_one_of_two_is_off_and_nothing_tells_which_the_work_ran_by_the_clock(off, found):
    """The end of the work is not called, the next start is: early or late, and it was the rest that was shorter or longer."""
    assert between(20.0, None, 50.0 + off, 70.0 + off) == [20.0, found, 50.0 + off, 70.0 + off]


def test_a_work_after_a_rest_runs_by_the_clock_too():
    """Start and stop are called around a rest whose end nobody calls."""
    assert between(20.0, 40.0, None, 73.0) == [20.0, 40.0, 53.0, 73.0]


def test_a_rest_is_off_for_a_hundredth_less_than_a_work():
    """An end that is called a little nearer to the rest's length than to that of the work is taken where it is."""
    w = weights()["length"]
    grid = Grid((Node(JOIN, 1), Node("start", 1, 1, 1), Node("stop", 1, 1)), (), (), ())
    evidence = by_chance(0, grid)
    evidence.at = lambda node: None if node.kind == JOIN else np.where(np.arange(120) == {"start": 20, "stop": 43}[node.kind], 30.0, 0.0)
    evidence.aside = lambda: np.zeros(120)
    costs = []
    for kind in (WORK, REST, ROUND_REST):
        timed = Grid(grid.nodes, (Arc(0, 1, None), Arc(1, 2, 10.0, cell=Cell(kind, 1, 1, planned_s=10.0))), (), ())
        costs.append(fit(timed, evidence, base=1.3).cost - 2 * (1.3 - 30.0))
    exact = w["exact_per_s"] * 1.5
    assert costs == pytest.approx([exact, 0.99 * exact, 0.99 * exact])


@pytest.mark.parametrize("where", [([], [], []), (None, [], None), ([], None, None), (None, [70], [60])], ids=["none", "no start", "no way in", "the end before the start"])
def test_where_the_places_leave_no_way_nothing_is_found(where):
    """Marks make what is out of reach no way."""
    nodes = (Node(JOIN, 1), Node("start", 1, 1, 1), Node("stop", 1, 1))
    grid = Grid(nodes, (Arc(0, 1, None), Arc(1, 2, 10.0, cell=Cell(WORK, 1, 1, 1, planned_s=10.0))), (), ())
    evidence = by_chance(0, grid, seconds=50.0)
    marks = {"start": np.zeros(100), "stop": np.where(np.arange(100) == 60, 3.0, 0.0)}
    evidence.at, evidence.aside = lambda node: marks.get(node.kind), lambda: np.zeros(100)
    places = [np.arange(100) if at is None else np.array(at, dtype=np.int64) for at in where]
    assert fit(grid, evidence, base=1.3, places=places) is None and fit(grid, evidence, base=1.3) is not None
