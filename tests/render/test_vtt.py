"""Chapters and cues: read by webvtt-py and by our own reader, and on the clock of the plan."""

from __future__ import annotations

import html
import io

import pytest
import webvtt
from hypothesis import given

from parser.clock import read_clock
from parser.model import Block, Interval, Recorded
from parser.read import read_bytes
from parser.render import chapters, cues
from parser.render.clean import clean
from parser.render.look import Look
from parser.schedule import schedule

from .examples import EMPTY, FULL, movement, said
from .outputs import ANY_TEXT, eight_bouts, sided, with_totals


def read(track: str) -> list[tuple[float, float, str]]:
    """The cues of ``track`` as webvtt-py has them, and our own reader too."""
    found = [(seconds(c.start), seconds(c.end), html.unescape(c.raw_text)) for c in webvtt.from_buffer(io.StringIO(track))]
    ours = read_bytes(track.encode(), name="track")
    assert (ours.format, ours.problems) == ("vtt", ())
    assert [(c.start, c.end, words(ours.text[slice(*c.chars)])) for c in ours.cues] == [(a, b, words(text)) for a, b, text in found]
    return found


def words(text: str) -> str:
    return " ".join(html.unescape(text).split())


def seconds(stamp: str) -> float:
    hours, minutes, rest = stamp.split(":")
    return round(int(hours) * 3600 + int(minutes) * 60 + float(rest), 3)


# ---------------------------------------------------------------- cues


def test_eight_bouts_end_at_230():
    track = read(cues.one(eight_bouts(), Look()))
    assert [start for start, _, text in track if text.startswith("Work")] == [30 * k for k in range(8)]
    assert track[-1][1] == 230


def test_a_round_as_somebody_follows_it():
    track = read(cues.one(sided(), Look()))
    assert track[:5] == [
        (0, 50, "Work: 1. sumo squat\nRound 1 of 3"),
        (50, 60, "Rest\nNext: 2. single-arm row, right side"),
        (60, 85, "Work: 2. single-arm row\nright side\nRound 1 of 3"),
        (85, 110, "Change sides: 2. single-arm row\nleft side\nRound 1 of 3"),
        (110, 185, "Rest\nNext: 1. sumo squat"),
    ]


def test_work_after_work_is_announced():
    track = read(cues.one(with_totals(Block(kind="main", format="emom", interval_s=60, rounds=1, movements=[movement(1, "clean"), movement(2, "push-up")])), Look()))
    assert track == [(0, 60, "Work: 1. clean\nNext: 2. push-up"), (60, 120, "Work: 2. push-up")]


def test_what_has_no_length_stops_the_timer():
    made = with_totals(Block(kind="main", work_s=40, rounds=1, movements=[movement(1, "row")]), Block(kind="cool_down", movements=[movement(1, "pigeon")]))
    track = cues.one(made, Look())
    assert read(track) == [(0, 40, "Work: 1. row\nThen stop the timer for: Cool-down")]
    assert "NOTE Cool-down: work without a length takes no time here" in track


def test_a_range_is_said_and_the_shorter_taken():
    track = cues.one(with_totals(Block(kind="main", work_s=40, rest_s=(10.0, 15.0), rounds=2, movements=[movement(1, "row")])), Look())
    assert [end for _, end, _ in read(track)] == [40, 50, 90]
    assert "NOTE Where the words leave a length open, the shortest" in track


@pytest.mark.parametrize("plan", [FULL, sided(), eight_bouts()])
def test_the_track_is_the_schedule(plan):
    timed = [(s.start, s.end) for s in schedule(plan) if s.seconds is not None]
    assert [(start, end) for start, end, _ in read(cues.one(plan, Look()))] == timed


def test_a_plan_without_lengths_says_why_there_is_no_track():
    assert "nothing in the plan has a length" in cues.lacks(EMPTY)
    assert cues.lacks(FULL) == ""


@given(ANY_TEXT)
def test_any_name_is_the_text_of_its_cue(name):
    track = read(cues.one(eight_bouts(name), Look()))
    assert len(track) == 15
    assert track[0][2].splitlines()[0] == clean(f"Work: {clean('1. ' + name)}")


# ---------------------------------------------------------------- chapters


def work(round_: int, number: int, start: float, **more) -> Interval:
    return Interval(kind="work", block=1, round=round_, number=number, start=start, end=start + 20, uncertainty_s=0.4, **more)


def recorded(*, delivered=(), **more) -> Recorded:
    main = Block(kind="main", rounds=2, work_s=20, movements=[movement(1, "row", sources=said(20.5)), movement(2, "plank", sources=said(41))], sources=said(10))
    warm = Block(kind="warm_up", movements=[movement(1, "march", sources=said(60))])
    cool = Block(kind="cool_down", movements=[movement(1, "pigeon", sources=[*said(12), *said(300)])])
    return Recorded(plan=with_totals(warm, main, cool, **more), delivered=list(delivered))


DONE = [
    work(1, 1, 100), work(1, 2, 130, side="first"), work(1, 2, 150, side="second"),
    Interval(kind="round_rest", block=1, round=1, start=170, end=230, uncertainty_s=1), work(2, 1, 230),
]


def test_chapters_of_a_recording_that_was_followed():
    assert read(chapters.webvtt(recorded(delivered=DONE), Look())) == [
        (0, 20.5, "Start"), (20.5, 41, "Shown: 1. row"), (41, 60, "Shown: 2. plank"), (60, 100, "Warm-up: 1. march"), (100, 130, "Round 1: 1. row"),
        (130, 170, "Round 1: 2. plank"), (170, 230, "Rest after round 1"), (230, 300, "Round 2: 1. row"), (300, 1560, "Cool-down: 1. pigeon"),
    ]


def test_of_a_plan_alone_what_was_said_when():
    assert [text for _, _, text in read(chapters.webvtt(recorded(), Look()))] == ["Start", "Cool-down: 1. pigeon", "1. row", "2. plank", "Warm-up: 1. march"]


def test_the_list_of_times():
    assert chapters.times(recorded(delivered=DONE), Look()) == (
        "0:00 Start\n0:20 Shown: 1. row\n0:41 Shown: 2. plank\n1:00 Warm-up: 1. march\n1:40 Round 1: 1. row\n2:10 Round 1: 2. plank\n"
        "2:50 Rest after round 1\n3:50 Round 2: 1. row\n5:00 Cool-down: 1. pigeon\n")


@given(ANY_TEXT, ANY_TEXT)
def test_whatever_the_names_the_list_has_a_line_a_chapter_and_ten_seconds_each(one, other):
    """Starts at 0:00, runs upward, ten seconds at least: common practice of video sites, no source."""
    plan = with_totals(Block(kind="main", rounds=9, work_s=7, movements=[movement(1, one), movement(2, other)]), title=one)
    held = Recorded(plan=plan, delivered=[work(1 + k // 2, 1 + k % 2, 4.5 + 7 * k) for k in range(18)])
    at = [read_clock(line.split(" ")[0]) for line in chapters.times(held, Look()).splitlines()]
    assert at[0] == 0 and min(b - a for a, b in zip(at, at[1:])) >= 10
    assert all(line.split(" ", 1)[1].strip() for line in chapters.times(held, Look()).splitlines())
    track = read(chapters.webvtt(held, Look()))
    assert len(track) == 19 and all(a[1] == b[0] for a, b in zip(track, track[1:]))


def test_without_times_there_are_no_chapters():
    assert "nothing in it has a time" in chapters.lacks(Recorded(plan=EMPTY))
    assert chapters.lacks(recorded()) == ""
