"""Amounts, formats and sides in plain words: the words beside what they stand for."""

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parser.clock import clock, read_clock
from parser.model import Block, Dose, Partner, Sides
from parser.render.wording import between, count, dose_and_sides, format_line, length, time_amount

from .examples import movement


@pytest.mark.parametrize(("seconds", "words"), [
    (0, "0 s"), (20, "20 s"), (59.5, "59.5 s"), (60, "1 min"), (75, "75 s"), (90, "90 s"), (119, "119 s"), (120, "2 min"),
    (150, "2 min 30 s"), (1800, "30 min"), (5400, "90 min"), (59.999, "1 min"),
])
def test_length(seconds, words):
    assert length(seconds) == words


@pytest.mark.parametrize(("amount", "words"), [
    (None, ""), (45, "45 s"), ((30, 45), "30 to 45 s"), ((60, 90), "1 min to 90 s"), ((120, 180), "2 to 3 min"),
    ((150, 180), "2 min 30 s to 3 min"),
])
def test_time_amount(amount, words):
    assert time_amount(amount) == words


@pytest.mark.parametrize(("amount", "words"), [(None, ""), (1, "1 rep"), (12, "12 reps"), ((8, 10), "8 to 10 reps"), (0, "0 reps")])
def test_count(amount, words):
    assert count(amount, "rep") == words


@pytest.mark.parametrize(("ends", "words"), [
    ((None, None), ""), ((1035, 1065), "17:15 to 17:45"), ((240, 240), "4:00"), ((720, None), "at least 12:00"),
    ((None, 900), "at most 15:00"), ((3600, 3900), "1:00:00 to 1:05:00"),
])
def test_total(ends, words):
    assert between(*ends) == words


def test_published_total_is_printed_as_published():
    # Eight bouts of 20 s with 10 s between: Tabata et al., Med Sci Sports Exerc 1996, DOI 10.1097/00005768-199610000-00018;
    # 8 * 20 + 7 * 10 seconds, and 8 * 30 with the last rest (arithmetic ours).
    assert between(8 * 20 + 7 * 10, 8 * 30) == "3:50 to 4:00"
    block = Block(kind="main", format="tabata", rounds=8, work_s=20, rest_s=10, movements=[movement(1, "burpee")])
    assert format_line(block) == "8 rounds · 20 s work, 10 s rest"


TWO = [movement(1, "row"), movement(2, "squat")]
FORMATS = [
    (dict(format="interval", rounds=3, work_s=40, rest_s=20, round_rest_s=90), "3 rounds · 40 s work, 20 s rest · 90 s between rounds"),
    (dict(format="interval", work_s=40, rest_s=0), "40 s work, no rest"),
    (dict(format="interval", rounds=1, duration_s=600), "1 round · 10 min in all"),
    (dict(format="emom", interval_s=60, rounds=10), "Every minute on the minute · 10 rounds"),
    (dict(format="emom", interval_s=120, rounds=5, work_s=40), "Every 2 min · 5 rounds · 40 s work"),
    (dict(format="amrap", duration_s=720), "As many rounds as possible in 12 min"),
    (dict(format="amrap"), "As many rounds as possible"),
    (dict(format="for_time", rep_scheme=[21, 15, 9], duration_s=600), "For time · 21, 15, 9 reps · cap 10 min"),
    (dict(format="sets", rounds=4, rest_s=90, movements=TWO[:1]), "4 sets · 90 s rest after each set"),
    (dict(format="sets", rounds=(3, 4), rest_s=0, round_rest_s=60, movements=TWO), "3 to 4 sets · no rest between movements · 1 min between rounds"),
    (dict(format="flow", rounds=2, each_side_through=True), "Flow · 2 rounds · the whole sequence on one side, then on the other"),
    (dict(format="interval", time_scheme=[60, 120, 60], rest_s=60), "1 min, 2 min, 1 min work, one length a round · 1 min rest"),
    (dict(rounds=8, work_s=40, rest_s=20, partner=Partner(mode="alternate", swap_s=40)),
     "8 rounds · 40 s work, 20 s rest · in pairs, one works while the other waits, swap every 40 s"),
    (dict(partner=Partner(mode="together")), "In pairs, both together"),
    (dict(round_rest_s=0), "No rest between rounds"),
    ({}, ""),
]


@pytest.mark.parametrize(("said", "line"), FORMATS)
def test_format_line(said, line):
    assert format_line(Block(kind="main", **said)) == line


@pytest.mark.parametrize(("sides", "dose", "words"), [
    (Sides(), Dose(), ""),
    (Sides(), Dose(reps=12), "12 reps"),
    (Sides(mode="alternating"), Dose(reps=(8, 10)), "8 to 10 reps, alternating sides"),
    (Sides(mode="each"), Dose(), "each side"),
    (Sides(mode="each", seconds_each=20), Dose(), "each side, 20 s a side"),
    (Sides(mode="each", reps_each=8, first="left"), Dose(reps=8), "each side, 8 reps a side, left first"),
    (Sides(mode="each", seconds_each=30), Dose(breaths=5), "each side, 5 breaths a side, 30 s a side"),
    (Sides(mode="one", first="right"), Dose(seconds=30), "30 s, right side only"),
    (Sides(mode="one"), Dose(), "one side only"),
    (Sides(), Dose(metres=200, calories=10, counts=4), "4 counts, 200 metres, 10 calories"),
])
def test_dose_and_sides(sides, dose, words):
    assert dose_and_sides(movement(1, "row", sides=sides, dose=dose)) == words


# ---------------------------------------------------------------- the clock


@given(st.integers(0, 10**6))
def test_clock_agrees_with_the_standard_library(seconds):
    # timedelta writes h:mm:ss, with days before it from 24 hours on.
    days, rest = divmod(seconds, 86400)
    hours, mm_ss = str(timedelta(seconds=rest)).split(":", 1)
    hours = int(hours) + days * 24
    assert clock(seconds) == (f"{hours}:{mm_ss}" if hours else mm_ss.removeprefix("0"))


@given(st.integers(0, 10**6))
def test_clock_is_read_as_written(seconds):
    assert read_clock(clock(seconds)) == seconds


@pytest.mark.parametrize(("text", "seconds"), [("3:27", 207), ("1:02:03", 3723), ("207", 207), ("207.5", 207.5), ("0:07.25", 7.25), (" 75:00 ", 4500)])
def test_moment_is_read(text, seconds):
    assert read_clock(text) == seconds


@pytest.mark.parametrize("text", ["", "3:7", "3:60", "1:60:00", "half past", "-3:27", "3:27:", "nan", "inf", "1e3", "٣:٢٧x"])
def test_no_moment(text):
    with pytest.raises(ValueError, match="write 3:27"):
        read_clock(text)


def test_a_moment_to_jump_to_is_never_after_the_words():
    assert clock(59.99) == "0:59"
    assert clock(207.9) == "3:27"
