"""Long recordings: each block is looked for around its place in a rough look, and what is found is what a look at everything finds."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

import parser.follow as following
from parser import load_lexicon
from parser.follow.evidence import Evidence
from parser.follow.fit import Fit, Step, _moved, fit
from parser.follow.grid import DONE, JOIN, WORK, Arc, Cell, unroll
from parser.follow.stretches import _well_inside, fit_near, held, stretches
from parser.follow.weights import weights
from parser.hear import hear
from parser.mentions import Layout
from parser.model import Block, Movement, Part, Plan, PlanSource

from .random_class import Made, make, read

MORE_S = weights()["clock"]["stretch_s"]


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


@pytest.mark.parametrize(("resolution", "dropped"), [("word", 0.6), ("cue", 0.2), ("block", 0.6)])
def test_a_look_around_each_block_finds_what_a_look_at_everything_finds(resolution, dropped, lexicon, monkeypatch):
    made = one_after_the_other(40, 41, 42, dropped=dropped)
    heard = hear(read(made, resolution), lexicon)
    looked = []
    monkeypatch.setattr(following, "_MANY_PLACES", 0)
    monkeypatch.setattr("parser.follow.stretches.stretches", lambda *given: looked.append(stretches(*given)) or looked[-1])
    around = following.follow(heard, made.plan, Layout(()))
    assert looked and min(end - first for first, end in looked[-1]) < max(end for _, end in looked[-1])
    monkeypatch.setattr(following, "_MANY_PLACES", 10**12)
    assert around == following.follow(heard, made.plan, Layout(())) and len(around.intervals) > 20


def test_where_the_rough_look_was_wrong_everything_is_looked_at(lexicon):
    made = one_after_the_other(7, 8, 9, dropped=0.0)
    heard = hear(read(made, "word"), lexicon)
    grid, evidence = unroll(made.plan), Evidence(heard, made.plan, dt=0.5)
    whole = fit(grid, evidence, base=1.3)
    third = held(whole)[3][0]
    # as if the first class had been held while the third was
    late = replace(whole, steps=tuple(replace(s, start=s.start + third, end=s.end + third) for s in whole.steps if s.end < held(whole)[1][1]))
    assert fit(grid, evidence, base=1.3, within=stretches(grid, late, evidence)) != whole
    assert fit_near(grid, evidence, late, base=1.3) == whole
    assert fit_near(grid, evidence, None, base=1.3) == whole


def plan(*blocks: Block) -> Plan:
    return Plan(source=PlanSource(name="p", sha256="0" * 64, format="plan", resolution="none", duration_s=None, words=0), blocks=list(blocks))


def block(work_s: float) -> Block:
    crab = Movement(number=1, name="crab", parts=[Part(name="crab", base="crab")], said="crab")
    return Block(kind="main", format="interval", rounds=1, work_s=work_s, rest_s=10, movements=[crab])


def done(number: int, start: float, end: float) -> Step:
    return Step(Arc(0, 1, end - start, cell=Cell(WORK, number, planned_s=end - start)), start, end)


def test_a_block_was_held_from_its_first_interval_to_its_last():
    walk = Step(Arc(0, 1, None), 0.0, 100.0)
    found = Fit((walk, done(1, 100.0, 130.0), done(1, 140.0, 170.0), done(3, 400.0, 430.0)), {}, {}, 0.0)
    assert held(found) == {1: (100.0, 170.0), 3: (400.0, 430.0)}


def test_a_block_is_looked_for_as_long_as_it_was_planned_and_its_ends_between_its_neighbours():
    grid = unroll(plan(block(40.0), block(600.0), block(40.0), block(40.0)))
    evidence = SimpleNamespace(dt=0.5, steps=20001, end=10000.0)
    found = Fit((done(1, 3000.0, 3040.0), done(2, 4000.0, 4100.0), done(4, 9000.0, 9040.0)), {}, {}, 0.0)
    limits = stretches(grid, found, evidence)
    ends = {n.block: limits[k] for k, n in enumerate(grid.nodes) if n.kind in (JOIN, DONE)}
    inside = {n.block: limits[k] for k, n in enumerate(grid.nodes) if n.kind not in (JOIN, DONE)}
    seconds = {1: (0.0, 4000.0 + MORE_S), 2: (3040.0 - MORE_S, 9000.0 + MORE_S), 3: (4100.0 - MORE_S, 9000.0 + MORE_S), 4: (4100.0 - MORE_S, 10000.5)}
    assert ends == {b: (2 * low, 2 * high) for b, (low, high) in seconds.items()}
    # ten minutes were planned for the second, and only the last hundred seconds, or the first, may have been found
    seconds = {1: (3000.0 - MORE_S, 3040.0 + MORE_S), 2: (3500.0 - MORE_S, 4600.0 + MORE_S), 3: seconds[3], 4: (9000.0 - MORE_S, 9040.0 + MORE_S)}
    assert inside == {b: (2 * low, 2 * high) for b, (low, high) in seconds.items()}


@pytest.mark.parametrize(("now", "values"), [
    ((10, 13), [1.0, 2.0, 3.0]), ((11, 13), [2.0, 3.0]), ((8, 12), [1e9, 1e9, 1.0, 2.0]), ((12, 15), [3.0, 1e9, 1e9]), ((20, 22), [1e9, 1e9]),
    ((0, 2), [1e9, 1e9]),
])
def test_outside_the_stretch_nothing_is_in_reach(now, values):
    assert _moved(np.array([1.0, 2.0, 3.0]), (10, 13), now).tolist() == values


@pytest.mark.parametrize(("start", "end", "inside"), [
    (175.0, 300.0, True), (174.5, 300.0, False), (175.0, 325.0, True), (175.0, 325.5, False), (174.5, 325.5, False),
])
def test_a_block_near_the_end_of_what_was_looked_at_may_lie_beyond_it(start, end, inside):
    """A quarter of the minutes that were looked at beyond it has to be left: 75 s of the stretch from 100 to 400 s."""
    grid, evidence = unroll(plan(block(40.0))), SimpleNamespace(dt=0.5, steps=2000)
    within = [(0, 2000) if node.kind in (JOIN, DONE) else (200, 800) for node in grid.nodes]
    assert _well_inside(grid, Fit((done(1, start, end),), {}, {}, 0.0), evidence, within) == inside


@pytest.mark.parametrize(("first", "over", "start", "end"), [(0, 800, 0.0, 300.0), (200, 2000, 175.0, 1000.0), (0, 2000, 0.0, 1000.0)])
def test_beyond_the_ends_of_the_recording_there_is_nothing(first, over, start, end):
    grid, evidence = unroll(plan(block(40.0))), SimpleNamespace(dt=0.5, steps=2000)
    within = [(first, over)] * len(grid.nodes)
    assert _well_inside(grid, Fit((done(1, start, end),), {}, {}, 0.0), evidence, within)


def looks(monkeypatch, *answers):
    """What ``fit`` was asked for by ``fit_near``, which gets these answers one after the other."""
    asked, rest = [], list(answers)

    def answer(grid, evidence, *, base, missing=None, within=None):
        asked.append((base, missing, None if within is None else within[1]))
        return rest.pop(0)

    monkeypatch.setattr("parser.follow.stretches.fit", answer)
    return asked


def at(start: float) -> Fit:
    return Fit((done(1, start, start + 40.0),), {}, {}, 0.0)


def test_a_block_is_followed_to_where_it_lies(monkeypatch):
    grid, evidence = unroll(plan(block(40.0))), SimpleNamespace(dt=0.5, steps=20001, end=10000.0)
    around = [(2 * (start - MORE_S), 2 * (start + 40.0 + MORE_S)) for start in (5000.0, 5280.0, 5560.0)]
    asked = looks(monkeypatch, at(5280.0), at(5300.0))
    assert fit_near(grid, evidence, at(5000.0), base=1.3, missing=2.0) == at(5300.0)
    assert asked == [(1.3, 2.0, around[0]), (1.3, 2.0, around[1])]
    # after three looks that did not settle, everything
    asked = looks(monkeypatch, at(5280.0), at(5560.0), at(5840.0), at(100.0))
    assert fit_near(grid, evidence, at(5000.0), base=1.3) == at(100.0)
    assert [where for _, _, where in asked] == [*around, None]
    # and so where it is not found at all
    asked = looks(monkeypatch, None, at(100.0))
    assert fit_near(grid, evidence, at(5000.0), base=1.3) == at(100.0) and len(asked) == 2
