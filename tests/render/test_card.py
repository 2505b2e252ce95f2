"""What stands on a class card, and how large."""

from __future__ import annotations

import html
import re
from math import pi

import pytest

from parser.clock import Start, read_start
from parser.model import Block, StatedLength
from parser.render import card
from parser.render.card.sheet import card_sheet
from parser.render.card.sizes import BESIDE_FIGURE, STEPS, lines, width
from parser.render.templates import source_hash

from .examples import EMPTY, FULL
from .outputs import eight_bouts, sided, with_totals

CAPITALS = 0.716  # of the font size: Arial and its metric twins (from memory)


def minutes_of_arc(font_size_mm: float) -> float:
    """As seen from 2 m: height · 21600 / (2π · distance), NUREG-0700, section 1.3.1-4."""
    return font_size_mm * CAPITALS * 21600 / (2 * pi * 2000)


def test_letters_are_large_enough_for_two_metres():
    """ISO 9241-3: 16 minutes of arc at least where text is read, 20 to 22 preferred; public guides call 10 the least that is usable."""
    assert minutes_of_arc(STEPS[0].name) >= 16 and minutes_of_arc(STEPS[1].name) == pytest.approx(16, abs=0.1)
    assert minutes_of_arc(STEPS[0].figure) > 22
    for step in STEPS:
        assert minutes_of_arc(step.name) >= 9.95 and minutes_of_arc(min(step.figure, BESIDE_FIGURE)) == pytest.approx(16, abs=0.1)
    assert all(a.name > b.name and a.small > b.small for a, b in zip(STEPS, STEPS[1:]))


def test_what_a_coach_must_find():
    body = card.card_body(FULL)
    for words in ("Lunch on the slipway", "under 30 min", "2 × dumbbell (or bottle), mat, optional", "hammer curl + reverse lunge", "alternating sides",
                  "each side, 20 s a side, left first", "step back half as far", "pause at the bottom", "Warm-up", "arm circle", "Cool-down", "pigeon",
                  "keep clear of the wet boards", "PAR-Q+", "90 s between rounds", "then 2 min before what follows"):
        assert words in body


def test_the_figures_of_a_format():
    (section,) = card_sheet(sided(), None).sections
    assert [(f.value, f.caption, f.light, f.slash) for f in section.figures] == [
        ("50", "s work", False, False), ("10", "s rest", True, True), ("3", "rounds", False, False), ("75", "s between rounds", True, False)]


FORMATS = [
    (Block(kind="main", format="emom", interval_s=60, rounds=4), [("1", "a new start every (min)"), ("4", "rounds")]),
    (Block(kind="main", format="amrap", duration_s=600), [("10", "min for as many rounds as possible")]),
    (Block(kind="main", format="for_time", duration_s=480, rep_scheme=[21, 15, 9]), [("8", "min at most, for time"), ("21-15-9", "reps")]),
    (Block(kind="main", time_scheme=[60, 120, 180], rest_s=60), [("1-2-3", "min work, round by round"), ("1", "min rest")]),
    (Block(kind="main", format="sets", rounds=(2.0, 3.0), rest_s=90), [("2–3", "sets"), ("90", "s rest")]),
    (Block(kind="main", work_s=(40.0, 45.0), rounds=1), [("40–45", "s work")]),
    (Block(kind="main", work_s=150), [("2 min 30 s", "work")]),
    (Block(kind="main", format="flow"), []),
]


@pytest.mark.parametrize(("block", "figures"), FORMATS)
def test_each_format_has_its_figures(block, figures):
    (section,) = card_sheet(with_totals(block), None).sections
    assert [(f.value, f.caption) for f in section.figures] == figures


TIMES = [("under", "18:30, done before 19:00"), ("about", "18:30 to about 19:00"), ("exact", "18:30 to 19:00"), ("over", "18:30 to after 19:00")]


@pytest.mark.parametrize(("qualifier", "when"), TIMES)
def test_the_class_by_the_clock(qualifier, when):
    plan = sided().model_copy(update={"stated_length": StatedLength(seconds=1800, qualifier=qualifier, sources=[])})
    assert card_sheet(plan, read_start("18:30")).when == when


def test_rounds_by_the_clock_and_nothing_after_what_has_no_length():
    """Arithmetic: rounds of 2·50 + 10 s and 75 s between begin 0:00, 3:05 and 6:10 after the start."""
    made = with_totals(*sided().blocks, Block(kind="main", format="flow"), *sided().blocks)
    first, second, third = card_sheet(made, read_start("18:30")).sections
    assert (first.at, second.at, third.at) == ("18:30", "18:38", "")
    assert first.notes == ("75 s between rounds", "rounds begin at 18:30, 18:33, 18:36") and third.notes == ("75 s between rounds",)


def test_without_a_start_there_are_no_times_of_day():
    assert not re.search(r"\d\d:\d\d", re.sub(r"<[^>]*>", "", card.card_body(eight_bouts())).replace("3:50", ""))


def test_what_nobody_said_is_left_out():
    body = card.card_body(EMPTY)
    assert "None" not in body and "Length" not in body and "Have ready" not in body


def test_the_page_allows_its_own_style_and_nothing_else():
    page = card.plan(FULL, look=card.Look())
    style = re.search(r"<style>(.*?)</style>", page, re.DOTALL)[1]
    policy = html.unescape(re.search(r'Content-Security-Policy" content="([^"]*)"', page)[1])
    assert policy.startswith("default-src 'none'; style-src " + source_hash(style))
    assert not re.search(r"\bstyle=|\bid=|<script|https?:", page)


def test_the_width_of_words():
    """Adobe's metrics of Helvetica, from memory: h and n and o 0.556, i 0.222; the card reckons with bold, 7 % more."""
    assert width("hoi", 10) == pytest.approx((0.556 + 0.556 + 0.222) * 10 * 1.07)
    assert lines("one two three", 10, 1000) == 1 and lines("one two three", 10, 30) == 3 and lines("x" * 100, 10, 100) >= 5


@pytest.mark.parametrize(("text", "start"), [("18:30", "18:30"), ("9:05", "09:05"), ("2026-03-02T18:30", "18:30"), ("2026-03-02 18:30", "18:30")])
def test_a_start_is_read(text, start):
    assert read_start(text).after(0) == start


@pytest.mark.parametrize("text", ["", "half six", "24:00", "18:60", "2026-02-30T18:30", "18:30Z", "18.30"])
def test_what_is_no_start_says_what_would_work(text):
    with pytest.raises(ValueError, match="write 18:30, or with its date"):
        read_start(text)


def test_a_start_near_midnight_runs_on():
    assert Start(read_start("23:50").time).after(1200) == "00:10"
