"""The plan unrolled, drawn: every edge and every way from one to the next, for small blocks of each kind."""

from __future__ import annotations

from textwrap import dedent

import pytest

from parser.follow import grid as unrolling
from parser.follow.grid import Grid, unroll, work_of
from parser.follow.weights import weights
from parser.model import Block, Dose, Movement, Part, Plan, PlanSource, Sides

COSTS = {name: float(2**n) for n, name in enumerate(weights()["skip"])}


@pytest.fixture(autouse=True)
def _costs_that_tell(monkeypatch):
    """Each way round has a cost of its own, and no sum of them is another."""
    monkeypatch.setattr(unrolling, "weights", lambda: {"skip": COSTS})


def move(number: int, **more) -> Movement:
    return Movement(number=number, name=f"move {number}", parts=[Part(name="x", base="x")], said="", **more)


def hold(number: int, seconds: float | None = None, each: float | None = None) -> Movement:
    return move(number, sides=Sides(mode="each" if each else "both", seconds_each=each), dose=Dose(seconds=seconds))


def block(rounds=1, movements=1, **more) -> Block:
    moves = movements if isinstance(movements, list) else [move(n) for n in range(1, movements + 1)]
    return Block(kind="main", rounds=rounds, movements=moves, **{"format": "interval", "work_s": 40, "rest_s": 20} | more)


def plan(*blocks: Block) -> Plan:
    return Plan(source=PlanSource(name="p", sha256="0" * 64, format="plan", resolution="none", duration_s=None, words=0), blocks=list(blocks))


def drawn(grid: Grid) -> str:
    """``0 join; 1 start 1.2 (before|after)``, then each way: from, to, length, what it is or costs."""
    rows = []
    for n, node in enumerate(grid.nodes):
        place = "" if node.round is None else f" {node.round}" if node.number is None else f" {node.round}.{node.number}"
        lengths = "" if node.before is None and node.after is None else f" ({_plain(node.before)}|{_plain(node.after)})"
        rows.append(f"{n} {node.kind}{place}{lengths}")
    out = ["; ".join(rows)]
    for arc in grid.arcs:
        c = arc.cell
        words = [f"{arc.a}>{arc.b}", {None: "any"}.get(arc.length, _plain(arc.length))]
        if c is not None:
            words.append(f"{c.kind} {c.round}.{c.number}" + (f" {c.side}" if c.side else "") + ("" if c.planned_s == arc.length else f" planned {c.planned_s}"))
        words += [name for name, cost in COSTS.items() if int(arc.cost) & int(cost)]
        words += [name for name in ("cap", "closes", "leaves") if getattr(arc, name)]
        words += [f"split at {arc.split}"] if arc.split is not None else []
        words += ["without " + " ".join(f"{s.round}.{s.number}" for s in arc.skips)] if arc.skips else []
        out.append(" ".join(words))
    return "\n".join(out)


def _plain(value: float | None) -> str:
    return "-" if value is None else f"{value:g}"


MAPS = {
    "two movements, two rounds, a rest between the rounds": ([block(2, 2, round_rest_s=60)], {}, """
        0 join; 1 start 1.1 (-|40); 2 stop 1 (40|-); 3 start 1.2 (-|40); 4 stop 1 (40|-); 5 join 1 (20|-); 6 start 2.1 (-|40); 7 stop 2 (40|-); 8 start 2.2 (-|40); 9 stop 2 (40|-); 10 done
        1>2 40 work 1.1
        2>3 20 rest 1.1
        3>4 40 work 1.2
        4>5 20 rest 1.2 unlikely_rest
        1>3 0 movement first without 1.1
        2>4 0 movement without 1.2
        4>6 60 round_rest 1.2
        4>6 20 rest 1.2 unlikely_rest
        5>6 60 round_rest 1.2
        6>7 40 work 2.1
        7>8 20 rest 2.1
        8>9 40 work 2.2
        6>8 0 movement without 2.1
        7>9 0 movement without 2.2
        2>10 0 abandon closes leaves
        4>10 0 abandon closes leaves
        3>10 0 abandon at_start closes leaves
        7>10 0 abandon closes leaves
        6>10 0 abandon at_start closes leaves
        9>10 0 closes
        1>6 0 round without 1.1 1.2
        0>1 any
        0>10 0 block
    """),
    "rests of no given length": ([block(1, 2, rest_s=None)], {}, """
        0 join; 1 start 1.1 (-|40); 2 stop 1 (40|-); 3 start 1.2 (-|40); 4 stop 1 (40|-); 5 done
        1>2 40 work 1.1
        2>3 any
        2>3 0
        3>4 40 work 1.2
        1>3 0 movement first without 1.1
        2>4 0 movement without 1.2
        2>5 0 abandon closes leaves
        4>5 0 closes
        0>1 any
        0>5 0 block
    """),
    "no rests": ([block(1, 2, rest_s=0)], {}, """
        0 join; 1 start 1.1 (-|40); 2 turn 1.2 (40|40); 3 stop 1 (40|-); 4 done
        1>2 40 work 1.1
        2>3 40 work 1.2
        1>2 0 movement first without 1.1
        2>3 0 movement without 1.2
        2>4 0 abandon closes leaves
        3>4 0 closes
        0>1 any
        0>4 0 block
    """),
    "rounds without a rest between them": ([block(2, 2, round_rest_s=0)], {}, """
        0 join; 1 start 1.1 (-|40); 2 stop 1 (40|-); 3 start 1.2 (-|40); 4 turn 2.1 (40|40); 5 stop 2 (40|-); 6 start 2.2 (-|40); 7 stop 2 (40|-); 8 done
        1>2 40 work 1.1
        2>3 20 rest 1.1
        3>4 40 work 1.2
        1>3 0 movement first without 1.1
        2>4 0 movement without 1.2
        4>5 40 work 2.1
        5>6 20 rest 2.1
        6>7 40 work 2.2
        4>6 0 movement without 2.1
        5>7 0 movement without 2.2
        2>8 0 abandon closes leaves
        4>8 0 abandon closes leaves
        3>8 0 abandon at_start closes leaves
        5>8 0 abandon closes leaves
        7>8 0 closes
        1>4 0 round without 1.1 1.2
        0>1 any
        0>8 0 block
    """),
    "a rest between rounds that is as long as the others": ([block(2, round_rest_s=20)], {}, """
        0 join; 1 start 1.1 (-|40); 2 stop 1 (40|-); 3 start 2.1 (-|40); 4 stop 2 (40|-); 5 done
        1>2 40 work 1.1
        2>3 20 rest 1.1
        3>4 40 work 2.1
        2>5 0 abandon closes leaves
        4>5 0 closes
        1>3 0 round without 1.1
        0>1 any
        0>5 0 block
    """),
    "a long rest that was said once": ([block(2)], {"long_rests": [10, 20, 120]}, """
        0 join; 1 start 1.1 (-|40); 2 stop 1 (40|-); 3 start 2.1 (-|40); 4 stop 2 (40|-); 5 done
        1>2 40 work 1.1
        2>3 20 rest 1.1
        2>3 120 round_rest 1.1 unlikely_rest
        3>4 40 work 2.1
        2>5 0 abandon closes leaves
        4>5 0 closes
        1>3 0 round without 1.1
        0>1 any
        0>5 0 block
    """),
    "no rest and a long one": ([block(2, rest_s=0)], {"long_rests": [120]}, """
        0 join; 1 start 1.1 (-|40); 2 turn 2.1 (40|40); 3 stop 2 (40|-); 4 done
        1>2 40 work 1.1
        2>3 40 work 2.1
        2>4 0 abandon closes leaves
        3>4 0 closes
        1>2 0 round without 1.1
        0>1 any
        0>4 0 block
    """),
    "lengths changed on the way": ([block(2, round_rest_s=60)], {"changed": {"work": [30, 40], "rest": [20, 15], "round_rest": [60, 90]}}, """
        0 join; 1 start 1.1 (-|40); 2 stop 1 (40|-); 3 join 1 (20|-); 4 start 2.1 (-|40); 5 stop 2 (40|-); 6 done
        1>2 40 work 1.1
        1>2 30 work 1.1 changed
        2>3 20 rest 1.1 unlikely_rest
        2>4 60 round_rest 1.1
        2>4 90 round_rest 1.1 changed
        2>4 20 rest 1.1 unlikely_rest
        3>4 60 round_rest 1.1
        4>5 40 work 2.1
        4>5 30 work 2.1 changed
        2>6 0 abandon closes leaves
        5>6 0 closes
        1>4 0 round without 1.1
        0>1 any
        0>6 0 block
    """),
    "two or three rounds": ([block((2, 3))], {}, """
        0 join; 1 start 1.1 (-|40); 2 stop 1 (40|-); 3 start 2.1 (-|40); 4 stop 2 (40|-); 5 start 3.1 (-|40); 6 stop 3 (40|-); 7 done
        1>2 40 work 1.1
        2>3 20 rest 1.1
        3>4 40 work 2.1
        4>5 20 rest 2.1
        5>6 40 work 3.1
        2>7 0 abandon closes leaves
        4>7 0 closes
        6>7 0 closes
        1>3 0 round without 1.1
        3>5 0 round without 2.1
        0>1 any
        0>7 0 block
    """),
    "each minute on the minute": ([block(2, format="emom", interval_s=90, work_s=None)], {}, """
        0 join; 1 start 1.1 (-|90); 2 turn 2.1 (90|90); 3 stop 2 (90|-); 4 done
        1>2 90 work 1.1
        2>3 90 work 2.1
        2>4 0 abandon closes leaves
        3>4 0 closes
        1>2 0 round without 1.1
        0>1 any
        0>4 0 block
    """),
    "each minute, and a rest between the rounds": ([block(2, format="emom", interval_s=None, work_s=None, round_rest_s=60)], {}, """
        0 join; 1 start 1.1 (-|60); 2 stop 1 (60|-); 3 start 2.1 (-|60); 4 stop 2 (60|-); 5 done
        1>2 60 work 1.1
        2>3 60 round_rest 1.1
        3>4 60 work 2.1
        2>5 0 abandon closes leaves
        4>5 0 closes
        1>3 0 round without 1.1
        0>1 any
        0>5 0 block
    """),
    "sides that share the work time": ([block(movements=[hold(1, each=20)])], {}, """
        0 join; 1 start 1.1 (-|40); 2 switch 1.1 (20|20); 3 stop 1 (40|-); 4 done
        1>2 20 work 1.1 first
        2>3 20 work 1.1 second
        1>3 40 uneven split at 2
        1>3 40 work 1.1 unsplit
        3>4 0 closes
        0>1 any
        0>4 0 block
    """),
    "sides that have a work time each": ([block(movements=[hold(1, each=30)])], {}, """
        0 join; 1 start 1.1 (-|40); 2 stop 1 (40|-); 3 done
        1>2 40 work 1.1
        2>3 0 closes
        0>1 any
        0>3 0 block
    """),
    "holds on each side": ([block(work_s=None, format=None, movements=[hold(1, 45, 45)])], {}, """
        0 join; 1 start 1.1 (-|45); 2 stop 1 (45|-); 3 start 1.1 (-|45); 4 stop 1 (45|-); 5 done
        1>2 45 work 1.1 first
        2>3 20 rest 1.1
        2>3 0 no_pause
        3>4 45 work 1.1 second
        4>5 0 closes
        0>1 any
        0>5 0 block
    """),
    "holds on each side without a rest": ([block(work_s=None, format=None, rest_s=None, movements=[hold(1, 45, 45)])], {}, """
        0 join; 1 start 1.1 (-|45); 2 stop 1 (45|-); 3 start 1.1 (-|45); 4 stop 1 (45|-); 5 done
        1>2 45 work 1.1 first
        2>3 0
        2>3 any no_pause
        3>4 45 work 1.1 second
        4>5 0 closes
        0>1 any
        0>5 0 block
    """),
    "one side through, then the other": ([block(movements=2, each_side_through=True)], {}, """
        0 join; 1 start 1.1 (-|40); 2 stop 1 (40|-); 3 start 1.2 (-|40); 4 stop 1 (40|-); 5 start 1.1 (-|40); 6 stop 1 (40|-); 7 start 1.2 (-|40); 8 stop 1 (40|-); 9 done
        1>2 40 work 1.1 first
        2>3 20 rest 1.1
        3>4 40 work 1.2 first
        4>5 20 rest 1.2
        5>6 40 work 1.1 second
        6>7 20 rest 1.1
        7>8 40 work 1.2 second
        1>3 0 movement first without 1.1
        3>5 0 movement without 1.2
        5>7 0 movement without 1.1
        6>8 0 movement without 1.2
        2>9 0 abandon closes leaves
        4>9 0 abandon closes leaves
        3>9 0 abandon at_start closes leaves
        6>9 0 abandon closes leaves
        8>9 0 closes
        0>1 any
        0>9 0 block
    """),
    "a ladder of times": ([block(3, time_scheme=[60, 120, 60], work_s=None, rest_s=30)], {}, """
        0 join; 1 start 1.1 (-|60); 2 stop 1 (60|-); 3 start 2.1 (-|120); 4 stop 2 (120|-); 5 start 3.1 (-|60); 6 stop 3 (60|-); 7 done
        1>2 60 work 1.1
        2>3 30 rest 1.1
        3>4 120 work 2.1
        4>5 30 rest 2.1
        5>6 60 work 3.1
        2>7 0 abandon closes leaves
        4>7 0 abandon closes leaves
        3>7 0 abandon at_start closes leaves
        6>7 0 closes
        1>3 0 round without 1.1
        3>5 0 round without 2.1
        0>1 any
        0>7 0 block
    """),
    "ranges of work and rest": ([block(1, 2, work_s=(30, 40), rest_s=(10, 20))], {}, """
        0 join; 1 start 1.1 (-|35); 2 stop 1 (35|-); 3 start 1.2 (-|35); 4 stop 1 (35|-); 5 done
        1>2 35 work 1.1
        2>3 15 rest 1.1
        3>4 35 work 1.2
        1>3 0 movement first without 1.1
        2>4 0 movement without 1.2
        2>5 0 abandon closes leaves
        4>5 0 closes
        0>1 any
        0>5 0 block
    """),
    "a block after another": ([block(1), block(2)], {}, """
        0 join; 1 start 1.1 (-|40); 2 stop 1 (40|-); 3 done; 4 join; 5 start 1.1 (-|40); 6 stop 1 (40|-); 7 start 2.1 (-|40); 8 stop 2 (40|-); 9 done
        1>2 40 work 1.1
        2>3 0 closes
        0>1 any
        0>3 0 block
        3>4 0
        5>6 40 work 1.1
        6>7 20 rest 1.1
        7>8 40 work 2.1
        6>9 0 abandon closes leaves
        8>9 0 closes
        5>7 0 round without 1.1
        4>5 any
        4>9 0 block
    """),
    "an amrap and a piece for time": ([block(format="amrap", work_s=None, duration_s=600), block(format="for_time", work_s=None, duration_s=300)], {}, """
        0 join; 1 start (-|600); 2 stop (600|-); 3 done; 4 join; 5 start (-|300); 6 stop (300|-); 7 done
        1>2 600 work None.None
        0>1 any
        2>3 0 closes
        0>3 0 block
        3>4 0
        5>6 300 work None.None cap
        4>5 any
        6>7 0 closes
        4>7 0 block
    """),
}


@pytest.mark.parametrize("name", MAPS)
def test_every_edge_and_every_way(name):
    blocks, more, expected = MAPS[name]
    assert drawn(unroll(plan(*blocks), **more)) == dedent(expected).strip()


@pytest.mark.parametrize(("given", "movement", "round_", "expected"), [
    ({}, move(1), 1, (40.0, None)), ({}, None, 1, (40.0, None)),
    ({"format": "emom", "interval_s": 90}, move(1), 1, (90.0, None)), ({"format": "emom"}, move(1), 1, (60.0, None)),
    ({"time_scheme": [30, 60]}, move(1), 1, (30.0, None)), ({"time_scheme": [30, 60]}, move(1), 2, (60.0, None)),
    ({"time_scheme": [30, 60]}, move(1), 3, (60.0, None)),      # once more than the ladder has steps
    ({}, hold(1, each=20), 1, (40.0, 20.0)), ({}, hold(1, each=20.5), 1, (40.0, 20.5)), ({}, hold(1, each=20.6), 1, (40.0, None)),
    ({"work_s": None}, hold(1, 30), 1, (30.0, None)), ({"work_s": None}, hold(1, 30, 25), 1, (None, 25.0)),
    ({"work_s": None}, hold(1), 1, (None, None)), ({"work_s": None}, None, 1, (None, None)),
    ({"work_s": None}, move(1, sides=Sides(mode="each"), dose=Dose(seconds=(20, 30))), 1, (None, 25.0)),
    ({"work_s": None}, move(1, sides=Sides(mode="each")), 1, (None, None)),
    ({"work_s": None}, move(1, sides=Sides(mode="both", seconds_each=20), dose=Dose(seconds=30)), 1, (30.0, None)),
])
def test_how_long_one_go_is(given, movement, round_, expected):
    assert work_of(block(**given), movement, round_) == expected


@pytest.mark.parametrize(("given", "looked_for", "promised"), [
    ({"rounds": 4}, 4, 4), ({"rounds": 0}, 1, 1), ({"rounds": (2, 5)}, 5, 2), ({"rounds": None}, 10, 1),
    ({"rounds": None, "movements": 2, "format": "tabata"}, 10, 1), ({"rounds": None, "format": "tabata"}, 8, 8), ({"rounds": 3, "format": "tabata"}, 3, 3),
    ({"rounds": 5, "time_scheme": [30, 60]}, 2, 2),
])
def test_how_many_rounds_are_looked_for(given, looked_for, promised):
    grid = unroll(plan(block(**given)))
    assert max(n.round for n in grid.nodes if n.round) == looked_for
    assert max(c.round for c in grid.cells) == promised


def test_where_nobody_said_how_many_a_block_may_end_after_any_round():
    grid = unroll(plan(block(None)))
    assert [a.leaves for a in grid.arcs if a.closes] == [False] * 10


@pytest.mark.parametrize(("lengths", "followed"), [((30, 30, 30, None, None), True), ((30, 30, None, None, None), False), ((30, 30, None, None), False)])
def test_a_block_of_holds_is_followed_where_three_of_five_have_a_length(lengths, followed):
    grid = unroll(plan(block(work_s=None, format=None, movements=[hold(n, s) for n, s in enumerate(lengths, 1)])))
    # those without a length were only named in passing
    assert [c.number for c in grid.cells] == ([n for n, s in enumerate(lengths, 1) if s] if followed else [])


def test_blocks_without_a_clock_are_passed_over_and_numbers_are_those_of_the_plan():
    sets = Block(kind="main", format="sets", rounds=3, movements=[move(1, dose=Dose(reps=8))])
    warm_up = Block(kind="warm_up", format="interval", rounds=1, work_s=40, movements=[move(1)])
    grid = unroll(plan(warm_up, sets, block(), sets, block()))
    assert [(number, grid.nodes[first].kind, grid.nodes[first].block) for number, first in grid.starts] == [(2, "start", 2), (4, "start", 4)]
    assert {c.block for c in grid.cells} == {2, 4} == {n.block for n in grid.nodes}
    timed_sets = block(format="sets", work_s=40)
    assert len(unroll(plan(timed_sets)).cells) == 1
