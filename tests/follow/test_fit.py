"""The arithmetic of the fit against plain searches that do the same slowly."""

from __future__ import annotations

import random

import numpy as np
import pytest

from parser.follow.fit import _cost_from, _reach, _sliding_least
from parser.follow.grid import REST, WORK, Arc, Cell, unroll
from parser.model import Block, Dose, Movement, Part, Plan, PlanSource, Sides

DT = 0.5


@pytest.mark.parametrize("width", [1, 2, 7, 50])
def test_the_sliding_least_is_the_least_of_each_window(width):
    values = np.random.default_rng(width).normal(size=53)
    slow = [values[i : i + width].min() for i in range(len(values))]
    assert np.allclose(_sliding_least(values, width), slow)


@pytest.mark.parametrize("arc", [
    Arc(0, 1, 20.0, cell=Cell(WORK, 1, planned_s=20.0)), Arc(0, 1, 5.0, cost=1.5, cell=Cell(REST, 1, planned_s=5.0)),
    Arc(0, 1, 30.0, cap=True, cell=Cell(WORK, 1)), Arc(0, 1, None), Arc(0, 1, 12.0, split=3),
], ids=["work", "rest", "piece for time", "any length", "uneven sides"])
def test_arriving_costs_what_the_best_start_costs(arc):
    dice = np.random.default_rng(3)
    before, aside = dice.normal(size=160) * 4, np.cumsum(dice.random(160)) * 0.05
    fast = _reach(before, arc, aside, DT)
    for at in range(70, 160):
        assert fast[at] == pytest.approx(_cost_from(before, arc, aside, at, DT).min(), abs=1e-6)


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
