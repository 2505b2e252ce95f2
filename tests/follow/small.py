"""Small grids, and words by chance over them: for plain searches that look at every pair of moments."""

from __future__ import annotations

from types import SimpleNamespace

import numpy as np

from parser.follow.grid import DONE, JOIN, Grid, unroll
from parser.model import Block, Dose, Movement, Part, Plan, PlanSource, Sides

DT = 0.5
NEVER = 1e8


def plan(**block) -> Plan:
    return Plan(source=PlanSource(name="p", sha256="0" * 64, format="plan", resolution="none", duration_s=None, words=0),
                blocks=[Block(kind="main", **block)])


def move(number: int, **more) -> Movement:
    return Movement(number=number, name=f"move {number}", parts=[Part(name="x", base="x")], said="", **more)


def grid_of(*blocks: dict) -> Grid:
    return unroll(plan(**blocks[0]).model_copy(update={"blocks": [Block(kind="main", **block) for block in blocks]}))


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
    return grid_of(*SMALL[name])


def by_chance(seed: int, grid: Grid, *, seconds: float = 60.0):
    """Words by chance over a recording of so many seconds."""
    dice = np.random.default_rng(seed)
    count = int(seconds / DT)
    marks = [None if n.kind in (JOIN, DONE) else dice.choice([-0.8, 0.0, 0.0, 2.5], size=count) + dice.random(count) * 0.1 for n in grid.nodes]
    place = {id(n): k for k, n in enumerate(grid.nodes)}
    turns, closing, aside = dice.normal(size=count), dice.random(count), np.cumsum(dice.choice([0.0, 0.02], size=count))
    early = np.where(np.arange(count) < count // 3, 6.0, 0.0)
    return SimpleNamespace(dt=DT, steps=count, at=lambda node: marks[place[id(node)]],
                           turns_to_work=lambda: turns, closing=lambda: closing, aside=lambda: aside,
                           before_block=lambda block: early if block > 1 else np.zeros(count), cut_off_from=lambda: seconds * 0.8)
