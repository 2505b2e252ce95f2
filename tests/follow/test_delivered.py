"""What is told of a class once the best way through its grid is known: intervals, what was left out, what was said of the clock."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from parser.delivery import Left, Skipped
from parser.follow.delivered import _coverage, _explained, _intervals, _left, _off, _skipped, _time_left, _trusted, _without_stray, deliver
from parser.follow.fit import Fit, Step
from parser.follow.grid import REST, ROUND_REST, WORK, Arc, Cell, Grid, Node, unroll
from parser.mentions import Quantity
from parser.model import Block, Dose, Interval, Movement, Part, Plan, PlanSource, Sides


def move(number: int, **more) -> Movement:
    return Movement(number=number, name=f"move {number}", parts=[Part(name="x", base="x")], said="", **more)


def plan(*blocks: Block) -> Plan:
    return Plan(source=PlanSource(name="p", sha256="0" * 64, format="plan", resolution="none", duration_s=None, words=0), blocks=list(blocks))


def block(rounds=2, movements=2, **more) -> Block:
    settings = {"format": "interval", "work_s": 40, "rest_s": 20, "round_rest_s": 60} | more
    return Block(kind="main", rounds=rounds, movements=[move(n) for n in range(1, movements + 1)], **settings)


def step(kind: str, start: float, end: float, *, a: int = 0, b: int = 1, block: int = 1, planned_s: float | None = None, round: int = 1, number: int = 1,
         side: str | None = None) -> Step:
    return Step(Arc(a, b, end - start, cell=Cell(kind, block, round, number, side, planned_s)), start, end)


def made(*steps: Step, seen=None, spread=None) -> Fit:
    return Fit(steps, spread or {}, seen or {}, 0.0)


def nodes(*blocks: int) -> Grid:
    """A grid of which only the blocks of its nodes are asked for."""
    return Grid(tuple(Node("start", b) for b in blocks), (), (), ())


def span(kind: str, start: float, end: float, *, block=1, round=1, number: int | None = 1, **more) -> Interval:
    return Interval(kind=kind, block=block, round=round, number=number, start=start, end=end, **{"uncertainty_s": 0.5} | more)


# ---- intervals


def test_an_interval_is_as_sure_as_both_of_its_edges_and_as_marked_as_the_worse():
    found = made(step(WORK, 100.004, 140.0, a=1, b=2, planned_s=40.0), step(REST, 140.0, 160.0, a=2, b=3, planned_s=20.0),
                 seen={1: 3.0, 2: 1.25, 3: 2.0}, spread={1: 3.0, 2: 4.0, 3: 0.25})
    assert _intervals(found, nodes(1, 1, 1, 1), plan(block())) == [
        (span(WORK, 100.0, 140.0, uncertainty_s=5.0, planned_s=40.0), 1.25), (span(REST, 140.0, 160.0, uncertainty_s=4.01, planned_s=20.0), 1.25)]


def test_an_edge_of_which_nothing_is_known_is_not_marked_and_a_rest_between_rounds_is_of_no_movement():
    found = made(step(ROUND_REST, 100.0, 160.0, number=4, side=None), seen={0: 2.0})
    assert _intervals(found, nodes(1, 1), plan(block())) == [(span(ROUND_REST, 100.0, 160.0, number=None, uncertainty_s=0.0), 0.0)]


@pytest.mark.parametrize(("rest_after_s", "first", "second", "length", "told"), [
    (90, 1, 2, None, True), (90.0, 1, 2, None, True),
    (None, 1, 2, None, False), ((60, 90), 1, 2, None, False),      # nobody said, or not how long
    (90, 1, 3, None, False), (90, 1, 1, None, False),              # another was left out between them; inside of one
    (90, 1, 2, 90.0, False),                                       # not a wait
])
def test_the_time_between_two_blocks_is_a_rest_where_one_was_announced(rest_after_s, first, second, length, told):
    wait = Step(Arc(2, 3, length), 150.0, 230.0)
    rows = _intervals(made(step(WORK, 100.0, 140.0, block=first), wait, spread={2: 0.6, 3: 0.8}), nodes(first, first, first, second),
                      plan(block(rest_after_s=rest_after_s), block(), block()))
    rests = [i for i, _ in rows if i.kind == "block_rest"]
    assert rests == ([span("block_rest", 140.0, 230.0, block=1, round=None, number=None, uncertainty_s=1.0, planned_s=90.0)] if told else [])


def test_before_the_first_block_there_is_no_rest():
    wait = Step(Arc(0, 1, None), 0.0, 100.0)
    assert _intervals(made(wait), nodes(1, 2), plan(block(rest_after_s=90), block())) == []


@pytest.mark.parametrize(("planned", "found", "told"), [(8, 1, False), (8, 2, True), (20, 2, False), (20, 3, True), (1, 1, True), (2, 1, False)])
def test_a_block_of_which_next_to_nothing_was_found_was_not_held(planned, found, told):
    grid = Grid((), (), tuple(Cell(WORK, 1, 1, n) for n in range(planned)), ())
    rows = [(span(WORK, 100.0 + n, 101.0 + n, number=n), 1.0) for n in range(found)] + [(span(REST, 99.0, 100.0), 0.5)]
    assert _without_stray(grid, SimpleNamespace(is_work=lambda at: True), rows) == (rows if told else [])


@pytest.mark.parametrize(("at_work", "told"), [(0, False), (1, False), (2, True), (4, True)])
def test_a_block_of_which_most_lies_where_nobody_works_was_only_shown(at_work, told):
    grid = Grid((), (), tuple(Cell(WORK, 1, 1, n) for n in range(4)), ())
    rows = [(span(WORK, 100.0 + 20 * n, 110.0 + 20 * n, number=n), 1.0) for n in range(4)] + [(span(REST, 110.0, 120.0), 0.5)]
    # by the middle of each work: the talk is in its work up to just before the next one's
    evidence = SimpleNamespace(is_work=lambda at: at < 105.0 + 20 * at_work)
    assert _without_stray(grid, evidence, rows) == (rows if told else [])


# ---- what was left out


def test_what_was_left_out_lies_between_what_was_done_around_it():
    skip = Step(Arc(1, 2, 0.0, skips=(Cell(WORK, 1, 1, 2), Cell(WORK, 1, 1, 3))), 140.0, 140.0)
    before, after = step(WORK, 100.0, 140.0), step(WORK, 140.0, 185.0)
    assert _skipped(made(before, skip, after)) == (Skipped(1, 1, 2, 100.0, 185.0), Skipped(1, 1, 3, 100.0, 185.0))
    assert _skipped(made(skip, after)) == (Skipped(1, 1, 2, 140.0, 185.0), Skipped(1, 1, 3, 140.0, 185.0))
    assert _skipped(made(before, skip)) == (Skipped(1, 1, 2, 100.0, 140.0), Skipped(1, 1, 3, 100.0, 140.0))


@pytest.mark.parametrize(("at", "cut_off"), [(600.0, False), (600.5, True)])
def test_a_block_that_was_left_says_what_would_have_come_next(at, cut_off):
    grid = unroll(plan(block(), block()))
    first = next(c for c in grid.cells if c.block == 2)
    leave = Arc(next(n for n, node in enumerate(grid.nodes) if node.block == 2), len(grid.nodes) - 1, 0.0, leaves=True)
    evidence = SimpleNamespace(cut_off_from=lambda: 600.0)
    other = Step(Arc(0, 1, 40.0, cell=grid.cells[0]), 10.0, 50.0)
    done = Step(Arc(0, 1, 40.0, cell=first), 500.0, 540.0)
    assert _left(made(other, done, Step(leave, at, at)), grid, evidence) == (Left(2, 1, 2, at, cut_off),)
    assert _left(made(other, Step(leave, at, at)), grid, evidence) == (Left(2, 1, 1, at, cut_off),)
    last = Step(Arc(0, 1, 40.0, cell=[c for c in grid.cells if c.block == 2][-1]), 500.0, 540.0)
    assert _left(made(other, last, Step(leave, at, at)), grid, evidence) == ()
    assert _left(made(other, done), grid, evidence) == ()


# ---- what was said of the clock


def said(value, *, role="left", kind="length", first=0, end=1, phrase=(0, 2)) -> Quantity:
    return Quantity(role, value, kind, first, end, phrase, "")


def left(*quantities: Quantity, spans=((119.0, 121.0),), pause=0.0):
    heard = SimpleNamespace(quantities=quantities, words=SimpleNamespace(tokens=[SimpleNamespace(pause=pause)] * 3))
    intervals = (span(WORK, 100.0, 120.0), span(REST, 120.0, 135.0, uncertainty_s=0.75))
    return _time_left(heard, SimpleNamespace(spans=list(spans)), intervals)


def test_ten_seconds_left_five_seconds_before_the_end_is_too_much_by_as_many():
    (found,) = left(said(20))
    # said at 120, in the rest that ends at 135
    assert (found.interval, found.at, found.error_s, found.word_s, found.explicit) == (1, 120.0, 5.0, 2.0, True)
    assert found.uncertainty_s == 1.75 and found.seconds == 20


@pytest.mark.parametrize(("quantity", "told"), [
    (said(10, kind="number"), True), (said(15, kind="number"), True), (said(5, kind="number"), False), (said(12, kind="number"), False),    # "two left" counts movements
    (said(7), True), (said((5, 10)), False), (said(10, role="work"), False), (said(10, role="until"), False),
])
def test_what_is_said_to_be_left_is_time_where_it_can_be(quantity, told):
    assert len(left(quantity)) == told


@pytest.mark.parametrize(("pause", "kind", "value", "told"), [
    (2.0, "length", 10, True), (1.99, "length", 10, False), (2.0, "number", 10, False), (2.0, "length", (5, 10), False),
])
def test_ten_seconds_after_a_silence_is_time_left(pause, kind, value, told):
    assert len(left(said(value, role="bare", kind=kind), pause=pause)) == told


def test_a_time_alone_is_not_said_with_a_word_for_left():
    assert not left(said(10, first=0, end=2, phrase=(0, 2)))[0].explicit
    assert left(said(10, first=1, end=2, phrase=(0, 2)), spans=((0, 0), (119.0, 121.0)))[0].explicit


@pytest.mark.parametrize(("at", "interval"), [(99.9, None), (100.0, 0), (119.9, 0), (134.9, 1), (135.0, None)])
def test_what_is_said_outside_of_the_work_is_of_no_interval(at, interval):
    assert [t.interval for t in left(said(10), spans=((at, at),))] == ([] if interval is None else [interval])


# ---- how much was done


def test_coverage_counts_rounds_and_movements_and_the_time_from_the_first_edge_to_the_last():
    meant = plan(block(rest_after_s=90), block(rounds=1))
    grid = unroll(meant)
    intervals = (span(WORK, 100.0, 140.0), span(REST, 140.0, 160.0), span(WORK, 160.0, 200.0, number=2), span("block_rest", 200.0, 290.0),
                 span(WORK, 290.0, 330.04, block=2), span(WORK, 290.0, 330.0, block=2, side="second"))
    got = _coverage(meant, grid, intervals)
    assert got.main_s_delivered == 230.0
    assert (got.rounds_planned, got.rounds_delivered, got.movements_planned, got.movements_delivered) == (3, 2, 6, 3)
    assert _coverage(meant, grid, ()).main_s_delivered == 0.0


@pytest.mark.parametrize(("more", "counted"), [
    ({}, True), ({"rounds": 2.0}, True), ({"rounds": None}, False), ({"rounds": (2, 3)}, False), ({"rounds": None, "time_scheme": [30, 60]}, True),
    ({"rounds": None, "format": "amrap", "duration_s": 600}, True), ({"rounds": None, "format": "for_time", "duration_s": 600}, True),
])
def test_what_was_planned_is_known_where_the_rounds_are_counted(more, counted):
    meant = plan(block(**more), Block(kind="main", format="sets", movements=[move(1, dose=Dose(reps=8))]))
    got = _coverage(meant, unroll(meant), ())
    assert ((got.rounds_planned is not None), (got.movements_planned is not None)) == (counted, counted)


# ---- whom to believe


@pytest.mark.parametrize(("length", "off"), [(44.0, 0), (44.9, 1), (36.0, 0), (35.1, 1)])
def test_an_interval_of_forty_seconds_may_be_off_by_four(length, off):
    assert _off([(span(WORK, 100.0, 100.0 + length, planned_s=40.0), 1.0)]) == off


def test_in_a_long_one_it_is_an_eighth_of_it_and_of_two_sides_the_first_counts():
    assert [_off([(span(WORK, 0.0, length, planned_s=100.0), 1.0)]) for length in (112.0, 112.5, 88.0, 87.5)] == [0, 1, 0, 1]
    assert [_off([(span(WORK, 0.0, length, planned_s=10.0), 1.0)]) for length in (14.0, 14.5, 6.0, 5.5)] == [0, 1, 0, 1]
    assert _off([(span(WORK, 0.0, 10.0, planned_s=30.0, side="first"), 1.0), (span(WORK, 10.0, 60.0, planned_s=30.0, side="second"), 1.0)]) == 1
    assert _off([(span(WORK, 0.0, 10.0, planned_s=None), 1.0)]) == 0


def believed(rows, *, planned=10, skipped=(), resolution="word", spans=(), whole=True) -> frozenset[int]:
    grid = Grid((), (), tuple(Cell(WORK, 1, 1, n) for n in range(planned)), ())
    heard = SimpleNamespace(words=SimpleNamespace(talk=SimpleNamespace(resolution=resolution)))
    return _trusted(heard, grid, heard_words(spans), list(rows), tuple(skipped), whole=whole)


def heard_words(spans, countdowns=(), work=True):
    """Evidence of the words ``go`` at the ``spans``."""
    return SimpleNamespace(plain_edges=lambda role: list(spans) if role == "go" else [], countdown_spans=lambda: list(countdowns), is_work=lambda at: work)


def works(count, *, off=0, marks=(), kind=WORK):
    """So many works of half a minute, the first ``off`` of them ten seconds too long."""
    marks = [*marks, *[2.0] * count]
    return [(span(kind, 100.0 * n, 100.0 * n + 30.0 + 10.0 * (n < off), number=n, planned_s=30.0), marks[n]) for n in range(count)]


def test_a_block_is_believed_that_was_done_on_time_and_called():
    assert believed(works(10)) == {1}
    assert believed([]) == frozenset()


@pytest.mark.parametrize(("done", "planned", "yes"), [(3, 20, True), (2, 20, False)])
def test_not_where_little_of_it_was_done(done, planned, yes):
    assert believed(works(done), planned=planned) == ({1} if yes else set())
    # rests are no works
    assert not believed(works(done, kind=REST), planned=planned)


@pytest.mark.parametrize(("count", "off", "yes"), [(10, 3, True), (10, 4, False), (50, 6, True), (50, 7, False)])
def test_not_where_much_of_it_is_off(count, off, yes):
    assert believed(works(count, off=off)) == ({1} if yes else set())


@pytest.mark.parametrize(("off", "left_out", "yes"), [(0, 2, True), (0, 3, False), (1, 1, True), (2, 1, False)])
def test_what_was_left_out_counts_one_and_a_half(off, left_out, yes):
    rows = works(10, off=off)
    skips = [Skipped(1, 1, n, 0.0, 1.0) for n in range(left_out)]
    assert believed(rows, skipped=skips) == ({1} if yes else set())
    assert believed(rows, skipped=[Skipped(2, 1, n, 0.0, 1.0) for n in range(9)]) == {1}


@pytest.mark.parametrize(("resolution", "silent", "yes"), [("word", 1, True), ("word", 2, False), ("cue", 2, False), ("block", 12, True), ("block", 13, False)])
def test_not_where_its_edges_were_not_called(resolution, silent, yes):
    assert believed(works(20, marks=[0.69] * silent + [0.7]), planned=20, resolution=resolution) == ({1} if yes else set())


@pytest.mark.parametrize(("near", "far", "yes"), [(3, 3, False), (5, 1, True), (6, 2, True), (5, 2, False), (0, 5, True)])
def test_nor_where_the_plain_words_lie_elsewhere(near, far, yes):
    """Three of four of them lie at an edge; fewer than six say nothing."""
    rows = works(10)
    spans = [(100.0 * n - 2.6, 100.0 * n - 2.5) for n in range(near)] + [(100.0 * n + 80.0, 100.0 * n + 81.0) for n in range(far)]
    assert believed(rows, spans=spans) == ({1} if yes else set())


@pytest.mark.parametrize(("whole", "away", "yes"), [(True, 200.0, False), (False, 200.0, True), (False, 59.0, False), (False, 61.0, True)])
def test_words_said_in_sets_that_are_not_on_the_clock_say_nothing_of_what_is(whole, away, yes):
    """A minute before the first edge and after the last are of the part on the clock."""
    rows = works(10)
    spans = [(rows[-1][0].end + away, rows[-1][0].end + away + 0.5)] * 6
    assert believed(rows, spans=spans, whole=whole) == ({1} if yes else set())


def test_a_word_is_at_an_edge_within_two_and_a_half_seconds():
    edge = (span(WORK, 100.0, 140.0),)
    for low, high, at_edge in ((97.0, 97.5, True), (97.0, 97.4, False), (102.5, 103.0, True), (102.6, 103.0, False), (142.5, 143.0, True), (142.6, 143.0, False)):
        assert _explained(heard_words([(low, high)] * 6), edge, whole=True) == at_edge
        assert _explained(heard_words([], [(low, high)] * 6), edge, whole=True) == at_edge
    # what is said while nobody works is about something else
    assert _explained(heard_words([(10.0, 11.0)] * 6, work=False), edge, whole=True)


# ---- all of it


def test_all_of_it_together():
    meant = plan(block(rounds=1, movements=1, rest_s=None))
    grid = unroll(meant)
    work = next(a for a in grid.arcs if a.cell)
    heard = SimpleNamespace(quantities=(), words=SimpleNamespace(talk=SimpleNamespace(resolution="word")))
    found = deliver(heard, meant, grid, heard_words([]), made(Step(work, 100.0, 140.0), seen={work.a: 2.0, work.b: 1.0}, spread={work.a: 0.5}))
    assert found.intervals == (span(WORK, 100.0, 140.0, planned_s=40.0),) and found.marked == (1.0,)
    assert found.trusted == {1} and found.coverage.rounds_delivered == 1 and (found.skipped, found.left, found.time_left) == ((), (), ())


def test_two_sides_are_one_movement():
    meant = plan(Block(kind="main", format="interval", rounds=1, work_s=50, movements=[move(1, sides=Sides(mode="each", seconds_each=25))]))
    sides = tuple(span(WORK, 100.0, 125.0, side=side) for side in ("first", "second"))
    assert _coverage(meant, unroll(meant), sides).movements_delivered == 1


def test_each_block_is_believed_for_itself():
    late = [(i.model_copy(update={"block": 2}), mark) for i, mark in works(10, off=9)]
    grid = Grid((), (), tuple(Cell(WORK, b, 1, n) for b in (1, 2) for n in range(10)), ())
    heard = SimpleNamespace(words=SimpleNamespace(talk=SimpleNamespace(resolution="word")))
    between = [(span("block_rest", 950.0, 990.0, number=None, round=None, planned_s=10.0), 0.0)] * 9
    assert _trusted(heard, grid, heard_words([]), works(10) + between + late, (), whole=True) == {1}
