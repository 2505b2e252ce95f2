"""The class on a timer: where each interval lies, and that its sums are those of the plan format."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parser.build.totals import totals
from parser.model import Block, Dose, Movement, Part, Plan, PlanSource, Sides
from parser.schedule import schedule

SOURCE = PlanSource(name="long-room.vtt", sha256="0" * 64, format="vtt", resolution="cue", duration_s=None, words=0)


def movements(n: int, **fields) -> list[Movement]:
    return [Movement(number=k, name="squat", parts=[Part(name="squat", base="squat")], said="squat", **fields) for k in range(1, n + 1)]


def plan(*blocks: Block, replaces: bool | None = None) -> Plan:
    return Plan(source=SOURCE, blocks=list(blocks), totals=totals(blocks, replaces=replaces))


def interval(n: int, work, rest, rounds, round_rest=None, **more) -> Block:
    return Block(kind="main", format="interval", movements=movements(n), work_s=work, rest_s=rest, rounds=rounds, round_rest_s=round_rest, **more)


def short(slots) -> list[tuple]:
    return [(s.kind, s.round, s.number, s.start, s.end) for s in slots]


def test_two_rounds_of_two():
    assert short(schedule(plan(interval(2, 40, 20, 2, 90)))) == [
        ("work", 1, 1, 0, 40), ("rest", 1, 1, 40, 60), ("work", 1, 2, 60, 100), ("round_rest", 1, None, 100, 190),
        ("work", 2, 1, 190, 230), ("rest", 2, 1, 230, 250), ("work", 2, 2, 250, 290),
    ]


def test_the_longest_keeps_the_short_rest_before_the_round_rest():
    slots = schedule(plan(interval(2, 40, 20, 2, 90)), longest=True)
    assert short(slots)[3:5] == [("rest", 1, 2, 100, 120), ("round_rest", 1, None, 120, 210)]


@pytest.mark.parametrize(("replaces", "end"), [(True, 290), (False, 310)])
def test_what_the_words_decided_about_the_round_rest_holds_for_both(replaces, end):
    made = plan(interval(2, 40, 20, 2, 90), replaces=replaces)
    assert [schedule(made, longest=longest)[-1].end for longest in (False, True)] == [end, end]


@pytest.mark.parametrize("block", [interval(1, 20, 10, 8), interval(2, 20, 10, 4)])
def test_eight_bouts_of_twenty_and_ten_end_at_230(block):
    """Tabata et al. 1996, Med Sci Sports Exerc, DOI 10.1097/00005768-199610000-00018; the arithmetic is ours."""
    slots = schedule(plan(block))
    assert [s.start for s in slots if s.kind == "work"] == [30 * k for k in range(8)]
    assert slots[-1].end == 230


def test_sides_share_the_work():
    block = Block(kind="main", work_s=50, rest_s=10, rounds=1, movements=movements(1, sides=Sides(mode="each", seconds_each=25)))
    assert [(s.side, s.start, s.end) for s in schedule(plan(block))] == [("first", 0, 25), ("second", 25, 50)]


def test_sides_that_do_not_fit_the_work_are_not_laid_out():
    block = Block(kind="main", work_s=40, rounds=1, movements=movements(1, sides=Sides(mode="each", seconds_each=25)))
    assert [(s.side, s.end) for s in schedule(plan(block))] == [(None, 40)]


def test_a_hold_on_each_side_is_two_works_with_the_rest_between():
    block = Block(kind="cool_down", rest_s=5, movements=movements(2, sides=Sides(mode="each"), dose=Dose(seconds=20)))
    assert [(s.kind, s.block, s.side, s.start) for s in schedule(plan(block))] == [
        ("work", None, "first", 0), ("rest", None, None, 20), ("work", None, "second", 25), ("rest", None, None, 45),
        ("work", None, "first", 50), ("rest", None, None, 70), ("work", None, "second", 75),
    ]


def test_the_timer_stands_still_where_no_length_was_said():
    made = plan(Block(kind="warm_up", movements=movements(2)), interval(1, 30, 15, 2, rest_after_s=60), Block(kind="main", format="flow"), interval(1, 60, 0, 1))
    assert [(s.kind, s.place, s.block, s.start, s.seconds) for s in schedule(made)] == [
        ("work", 0, None, 0, None), ("work", 1, 1, 0, 30), ("rest", 1, 1, 30, 15), ("work", 1, 1, 45, 30), ("block_rest", 1, 1, 75, 60),
        ("work", 2, 2, 135, None), ("work", 3, 3, 135, 60),
    ]


def test_sets_have_their_rests_and_no_lengths_of_work():
    block = Block(kind="main", format="sets", rounds=2, rest_s=0, round_rest_s=75, movements=movements(2))
    assert [(s.kind, s.number, s.seconds) for s in schedule(plan(block))] == [
        ("work", 1, None), ("work", 2, None), ("round_rest", None, 75), ("work", 1, None), ("work", 2, None)]


def test_straight_sets_of_one_movement_rest_between_them():
    assert plan(Block(kind="main", format="sets", rounds=4, rest_s=90, movements=movements(1))).totals.main_s == (270, None)


def test_a_piece_for_time_runs_to_its_cap():
    made = plan(Block(kind="main", format="for_time", duration_s=480, movements=movements(2)), Block(kind="main", format="amrap", duration_s=600))
    assert [(s.cap, s.end) for s in schedule(made)] == [(True, 480), (False, 1080)]
    assert made.totals.main_s == (600, 1080)


def test_every_minute_five_stations_six_rounds_is_half_an_hour():
    """Common practice, no source; arithmetic: 5 x 6 minutes are 30:00."""
    slots = schedule(plan(Block(kind="main", format="emom", interval_s=60, rounds=6, movements=movements(5))))
    assert [s.start for s in slots] == [60 * k for k in range(30)] and slots[-1].end == 1800


def test_a_ladder_of_time_has_an_entry_a_round():
    """Arithmetic: 540 s of work and four minutes between are 780 s."""
    block = Block(kind="main", time_scheme=[60, 120, 180, 120, 60], rest_s=60, movements=movements(1))
    assert [s.seconds for s in schedule(plan(block)) if s.kind == "work"] == [60, 120, 180, 120, 60]
    assert schedule(plan(block))[-1].end == 780


def test_the_stated_length_of_a_warm_up_holds_for_all_of_it():
    made = plan(Block(kind="warm_up", duration_s=300, movements=movements(2, dose=Dose(seconds=30))))
    assert [(s.number, s.end) for s in schedule(made)] == [(None, 300)]


def test_a_count_that_no_class_has_is_left_open():
    made = plan(interval(3, 30, 10, 10**9))
    assert [s.seconds for s in schedule(made)] == [None]


SECONDS = st.integers(1, 300)


@given(n=st.integers(1, 12), r=st.integers(1, 10), work=SECONDS, rest=st.integers(0, 120), long=st.none() | st.integers(0, 300))
def test_the_sums_are_the_formulas_of_the_plan_format(n, r, work, rest, long):
    """Interval block of n > 1 movements: work n·w·r, rests inside a round (n−1)·rest·r, between rounds (r−1)·round_rest, in place of the
    short rest or after it. A block of one movement: r·w + (r−1)·rest. Written out here once more, apart from the laying out."""
    made = plan(interval(n, work, rest, r, long))
    if n == 1:
        low = high = r * work + (r - 1) * rest
    else:
        low = n * work * r + (n - 1) * rest * r + (r - 1) * (rest if long is None else long)
        high = low + (0 if long is None else (r - 1) * rest)
    assert made.totals.main_s == (low, high)
    assert schedule(made)[-1].end == low and schedule(made, longest=True)[-1].end == high


AMOUNT = st.none() | SECONDS | st.tuples(SECONDS, SECONDS).map(lambda ends: tuple(map(float, sorted(ends))))
MOVEMENTS = st.lists(st.builds(
    lambda number, mode, each, held: Movement(number=number, name="squat", parts=[], said="squat", sides=Sides(mode=mode, seconds_each=each), dose=Dose(seconds=held)),
    st.integers(1, 9), st.sampled_from(["both", "each", "one", "alternating"]), AMOUNT, AMOUNT), max_size=4)
BLOCKS = st.builds(
    Block, kind=st.sampled_from(["warm_up", "main", "cool_down"]), format=st.sampled_from([None, "interval", "emom", "amrap", "for_time", "sets", "flow"]),
    rounds=st.none() | st.integers(1, 5) | st.just((2.0, 3.0)), work_s=AMOUNT, rest_s=AMOUNT, round_rest_s=AMOUNT, duration_s=AMOUNT, rest_after_s=AMOUNT,
    interval_s=st.none() | SECONDS.map(float), time_scheme=st.none() | st.lists(SECONDS.map(float), min_size=1, max_size=4), movements=MOVEMENTS)


@given(st.lists(BLOCKS, max_size=5))
def test_whatever_the_plan_the_timer_runs_on_and_agrees_with_the_totals(blocks):
    made = plan(*blocks)
    for longest in (False, True):
        slots = schedule(made, longest=longest)
        assert {s.place for s in slots} == set(range(len(blocks)))
        assert all(a.end == b.start for a, b in zip(slots, slots[1:]))
        assert all(s.seconds is None or s.seconds > 0 for s in slots)
        capped = sum(s.seconds for s in slots if s.cap)
        low, high = made.totals.class_s
        end = slots[-1].end if slots else 0
        if longest and high is not None:
            assert end == pytest.approx(high)
        if not longest:
            assert end - capped == pytest.approx(low or 0)


def test_a_sequence_all_on_one_side_then_on_the_other_is_done_twice():
    slots = schedule(plan(interval(2, 40, 20, 1, each_side_through=True)))
    assert [(s.kind, s.number, s.side, s.start) for s in slots] == [
        ("work", 1, "first", 0), ("rest", 1, None, 40), ("work", 2, "first", 60), ("rest", 2, None, 100),
        ("work", 1, "second", 120), ("rest", 1, None, 160), ("work", 2, "second", 180),
    ]
