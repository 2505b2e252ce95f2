"""The rules of the clock at their limits, over classes as ``followed`` puts them together."""

from __future__ import annotations

from dataclasses import replace

import pytest

from parser.checks import RULES
from parser.delivery import Left, Skipped, TimeLeft
from parser.mentions import Quantity

from .exact_talks import as_line, stamped
from .followed import delivered

TALK = """
Two moves, forty seconds on, twenty seconds off, {rounds} rounds, and a minute between the rounds.
Number one, goblet squats. Bell at the chest.
Number two, suitcase march. {each}
{more}
[1:00] Here we are then, all of you, on it.
[1:30] Lovely stuff.
[2:00] Sunny day.
[4:00] Nearly home, the lot of you, keep it tidy.
"""
TWICE = "w1.1=40 r1.1=20 w1.2=40 R1=60 w2.1=40 r2.1=20 w2.2=40"


@pytest.fixture(scope="module")
def found(case_of):
    """The findings of the rule ``code`` in a class followed as ``rows``."""
    checks = {rule.code: rule.check for rule in RULES}

    def run(code: str, rows: str, *, rounds="two", each="", more="", talk=TALK, **given) -> list[str]:
        case = case_of(stamped(talk.format(rounds=rounds, each=each, more=more)))
        return [as_line(f) for f in checks[code](replace(case, followed=delivered(rows, **given)))]

    return run


def changed(*rows: str) -> str:
    """The class done twice with some of its intervals as given."""
    named = {row.partition("=")[0]: row for row in rows}
    return " ".join(named.get(row.partition("=")[0], row) for row in TWICE.split())


# ---------------------------------------------------------------- how long an interval may be


@pytest.mark.parametrize(("code", "row", "line"), [
    # a tenth of forty seconds
    ("work-off", "w2.1=44", None),
    ("work-off", "w2.1=45", "warning, 1.2.1: Round 2, movement 1 (goblet squat): work of 45 s instead of 40 s, from 3:40. => 40 s"),
    ("work-off", "w2.1=36", None),
    ("work-off", "w2.1=35", "warning, 1.2.1: Round 2, movement 1 (goblet squat): work of 35 s instead of 40 s, from 3:40. => 40 s"),
    # and how surely the edges are heard
    ("work-off", "w2.1=45~1", None),
    ("work-off", "w2.1=46~1", "warning, 1.2.1: Round 2, movement 1 (goblet squat): work of 46 s instead of 40 s, from 3:40. => 40 s"),
    # three seconds are more than a tenth of twenty
    ("rest-off", "r1.1=23", None),
    ("rest-off", "r1.1=24", "warning, 1.1.1: Rest after round 1, movement 1 (goblet squat): 24 s instead of 20 s, from 1:40. => 20 s"),
    ("rest-off", "r1.1=17", None),
    ("rest-off", "r1.1=16", "warning, 1.1.1: Rest after round 1, movement 1 (goblet squat): 16 s instead of 20 s, from 1:40. => 20 s"),
    ("round-rest-off", "R1=66", None),
    ("round-rest-off", "R1=67", "warning, 1.1.-: Rest after round 1: 67 s instead of 60 s, from 2:40. => 60 s"),
    ("round-rest-off", "R1=54", None),
    ("round-rest-off", "R1=53", "warning, 1.1.-: Rest after round 1: 53 s instead of 60 s, from 2:40. => 60 s"),
    # so far off that the plan was misunderstood
    ("work-off", "w2.1=16", "warning, 1.2.1: Round 2, movement 1 (goblet squat): work of 16 s instead of 40 s, from 3:40. => 40 s"),
    ("work-off", "w2.1=15", None),
    ("work-off", "w2.1=80", "warning, 1.2.1: Round 2, movement 1 (goblet squat): work of 80 s instead of 40 s, from 3:40. => 40 s"),
    ("work-off", "w2.1=81", None),
    ("rest-off", "r1.1=5", "warning, 1.1.1: Rest after round 1, movement 1 (goblet squat): 5 s instead of 20 s, from 1:40. => 20 s"),
    ("rest-off", "r1.1=4", None),
    ("rest-off", "r1.1=60", "warning, 1.1.1: Rest after round 1, movement 1 (goblet squat): 60 s instead of 20 s, from 1:40. => 20 s"),
    ("rest-off", "r1.1=61", None),
    ("round-rest-off", "R1=15", "warning, 1.1.-: Rest after round 1: 15 s instead of 60 s, from 2:40. => 60 s"),
    ("round-rest-off", "R1=14", None),
    ("round-rest-off", "R1=180", "warning, 1.1.-: Rest after round 1: 180 s instead of 60 s, from 2:40. => 60 s"),
    ("round-rest-off", "R1=181", None),
    # without a plan for it
    ("work-off", "w2.1=60/-", None),
])
def test_an_interval_at_its_limits(code, row, line, found):
    assert [said.partition(" <<")[0] for said in found(code, changed(row))] == ([line] if line else [])


@pytest.mark.parametrize(("code", "rows", "more", "times"), [
    ("work-off", changed("w2.1=50"), {}, 1),
    ("work-off", changed("w2.1=50"), {"trusted": ()}, 0),
    ("work-off", changed("w2.1=50"), {"trusted": (2,)}, 0),
    # the same each time: its length was understood wrongly
    ("work-off", changed("w1.1=50", "w2.1=50"), {}, 0),
    ("work-off", changed("w1.1=50", "w2.1=56"), {}, 0),
    ("work-off", changed("w1.1=50", "w2.1=57"), {}, 2),
    ("work-off", changed("w1.1=50", "w2.2=50"), {}, 2),
    ("work-off", "w1.1=50 r1.1=20 w2.1=50 r2.1=20 w3.1=40 r3.1=20 w4.1=40", {}, 2),
    ("work-off", "w1.1=50 r1.1=20 w2.1=50 r2.1=20 w3.1=50 r3.1=20 w4.1=40", {}, 0),
    ("work-off", "w1.1=50 r1.1=20 w1.1=50 r1.1=20 w1.1=50", {}, 3),
    ("work-off", "w1.1=50 r1.1=20 w2.1=50/- r2.1=20 w3.1=40", {}, 1),
    ("work-off", "w1.1=50 r1.1=20 w.1=50 r2.1=20 w.1=50", {}, 3),
    # an edge called a little late: the neighbour has what this one lacks
    ("work-off", changed("w1.1=45", "r1.1=15"), {}, 0),
    ("work-off", changed("w1.1=35", "r1.1=25"), {}, 0),
    ("work-off", changed("r1.1=15", "w1.2=45"), {}, 0),
    ("work-off", changed("w1.1=47", "r1.1=16"), {}, 0),
    ("work-off", changed("w1.1=47", "r1.1=17"), {}, 1),
    ("work-off", changed("w1.1=47", "r1.1=10"), {}, 0),
    ("work-off", changed("w1.1=47", "r1.1=9"), {}, 1),
    ("work-off", changed("w1.1=47.9", "r1.1=12"), {}, 0),
    ("work-off", changed("w1.1=48", "r1.1=12"), {}, 1),
    ("work-off", changed("w1.1=32", "r1.1=28"), {}, 1),
    ("work-off", changed("w1.1=45", "r1.1=15/-"), {}, 1),
    ("work-off", changed("w1.1=45", "r1.1=25"), {}, 1),
    # two sides that fill their time: that is of the sides
    ("work-off", "w1.1a=30/20 w1.1b=10/20 r1.1=20 w1.2=40", {}, 0),
    ("work-off", "w1.1a=30/20 w1.1b=14/20 r1.1=20 w1.2=40", {}, 0),
    ("work-off", "w1.1a=30/20 w1.1b=15/20 r1.1=20 w1.2=40", {}, 2),
    ("work-off", "w1.1a=30/20 w1.1b=15/20~1 r1.1=20 w1.2=40", {}, 0),
    ("work-off", "w1.1a=30/20 w1.1b=10/- r1.1=20 w1.2=40", {}, 1),
    ("work-off", "w1.1a=30/- w1.1b=10/20 r1.1=20 w1.2=40", {}, 1),
    ("work-off", "w1.1a=30/20 r1.1=0/- w1.1b=10/20 r1.1=20 w1.2=40", {}, 2),
    ("work-off", "w1.1a=30/20 w1.2b=10/20 r1.1=20 w1.2=40", {}, 2),
    ("work-off", "w1.1=40 w1.1b=10/20", {}, 1),
    ("work-off", "w1.1b=10/20 w1.1a=30/20", {}, 2),
    # times that were said twice and differently are one fault, and not the clock's
    ("work-off", changed("w2.1=50"), {"more": "Bell at the chest, sit down between your heels, nice and tall, and I want you all to look up, and to keep "
     "your ribs down as you go, all the way. Remember, forty five seconds on, fifteen off."}, 0),
    # as long as another length that was said for it
    ("work-off", changed("w2.1=50"), {"more": "Fifty seconds on, twenty seconds off."}, 0),
    ("work-off", changed("w2.1=53"), {"more": "Fifty seconds on, twenty seconds off."}, 0),
    ("work-off", changed("w2.1=54"), {"more": "Fifty seconds on, twenty seconds off."}, 1),
    ("work-off", changed("w2.1=46"), {"more": "Fifty seconds on, twenty seconds off."}, 1),
    ("work-off", changed("w2.1=47"), {"more": "Fifty seconds on, twenty seconds off."}, 0),
    ("work-off", changed("w2.1=54~1"), {"more": "Fifty seconds on, twenty seconds off."}, 0),
])
def test_what_keeps_the_clock_quiet(code, rows, more, times, found):
    assert len(found(code, rows, **more)) == times


# ---------------------------------------------------------------- the two sides of one work


@pytest.mark.parametrize(("code", "rows", "line"), [
    ("side-uneven", "w1.2a=25/20 w1.2b=15/20", "suitcase march, round 1: one side gets 25 s, the other 15 s."),
    ("side-uneven", "w1.2a=20/20 w1.2b=20/20", None),
    ("side-uneven", "w1.2a=23/20 w1.2b=17/20", None),
    ("side-uneven", "w1.2a=24/20 w1.2b=17/20", "suitcase march, round 1: one side gets 24 s, the other 17 s."),
    ("side-uneven", "w1.2a=17/20 w1.2b=24/20", "suitcase march, round 1: one side gets 17 s, the other 24 s."),
    ("side-uneven", "w1.2a=24/20 w1.2b=21/20", None),
    ("side-uneven", "w1.2a=25/20 w1.2b=21/20", "suitcase march, round 1: one side gets 25 s, the other 21 s."),
    ("side-uneven", "w1.2a=25/20~1 w1.2b=21/20", None),
    ("side-uneven", "w1.2a=25/- w1.2b=15/20", "suitcase march, round 1: one side gets 25 s, the other 15 s."),
    ("side-uneven", "w1.2a=25/- w1.2b=15/-", None),
    ("side-uneven", "w1.2a=41/20 w1.2b=20/20", None),
    ("side-uneven", "w1.2a=20/20 w1.2b=41/20", None),
    ("side-uneven", "w1.2a=25/20 r1.2=5 w1.2b=15/20", "suitcase march, round 1: one side gets 25 s, the other 15 s."),
    ("side-uneven", "w1.2a=25/20 r1.2=5 r1.2=5 w1.2b=15/20", None),
    ("side-uneven", "w1.2a=25/20 w1.1b=15/20", None),
    ("side-uneven", "w1.2a=25/20 w2.2b=15/20", None),
    ("side-uneven", "w1.2b=25/20 w1.2a=15/20", None),
])
def test_sides_as_done(code, rows, line, found):
    assert [said.partition(": ")[2].partition(" =>")[0] for said in found(code, rows)] == ([line] if line else [])


@pytest.mark.parametrize("code", ["side-uneven"])
def test_sides_are_only_blamed_where_the_talk_follows(code, found):
    assert found(code, "w1.2a=25/20 w1.2b=15/20", trusted=()) == []


# ---------------------------------------------------------------- what is shown as evidence


@pytest.mark.parametrize(("code", "rows", "line"), [
    ("work-off", changed("w1.1=50"), "warning, 1.1.1: Round 1, movement 1 (goblet squat): work of 50 s instead of 40 s, from 1:00. => 40 s"
     " << Here we are then, all of you, on | forty seconds on, twenty seconds off"),
    # nobody spoke in it: the last words before it
    ("rest-off", changed("r2.1=30"), "warning, 1.2.1: Rest after round 2, movement 1 (goblet squat): 30 s instead of 20 s, from 4:20. => 20 s"
     " << home, the lot of you, keep it tidy | forty seconds on, twenty seconds off"),
    ("round-rest-off", changed("R1=70"), "warning, 1.1.-: Rest after round 1: 70 s instead of 60 s, from 2:40. => 60 s"
     " << day | a minute between the rounds"),
    ("work-off", "w=50", "warning, 1.-.-: Work of 50 s instead of 40 s, from 1:00. => 40 s << Here we are then, all of you, on | forty seconds on, twenty seconds off"),
    ("work-off", "w1.7=50", "warning, 1.1.7: Round 1, movement 7 (?): work of 50 s instead of 40 s, from 1:00. => 40 s << Here we are then, all of you, on |"
     " forty seconds on, twenty seconds off"),
    ("work-off", "w1.2a=36/30 w1.2b=36/30", "warning, 1.1.2: Round 1, movement 2 (suitcase march), first side: work of 36 s instead of 30 s, from 1:00. => 30 s"
     " << Here we are then, all of you, on"),
])
def test_evidence(code, rows, line, found):
    assert found(code, rows)[0] == line


def test_a_class_of_one_round_names_no_round(found):
    assert found("work-off", "w1.1=50", talk=TALK.replace("{rounds} rounds", "one round"))[0].startswith("warning, 1.1.1: Movement 1 (goblet squat): work of 50 s")


def test_a_class_of_two_blocks_names_the_block(found):
    talk = """
    Two blocks. The first block is two moves, forty seconds on, twenty seconds off, two rounds.
    Number one, goblet squats. Bell at the chest.
    Number two, push-ups. Hands wide.
    The second block is two moves, thirty seconds on, thirty seconds off, two rounds.
    Number one, jumping jacks. Arms all the way.
    Number two, dead bugs. Slow.
    [1:00] Here we are then.
    """
    said = found("work-off", "w1.1=40 2.w1.1=36/30", talk=talk, trusted=(1, 2))
    assert said == ["warning, 2.1.1: Block 2, round 1, movement 1 (jumping jack): work of 36 s instead of 30 s, from 1:40. => 30 s"
                    " << two, dead bugs. Slow. Here we are then | thirty seconds on, thirty seconds off"]


def test_a_piece_for_time_has_no_length(found):
    talk = "Two moves, two rounds for time, cap of ten minutes.\nNumber one, goblet squats.\nNumber two, push-ups.\n[1:00] Go.\n"
    assert found("work-off", "w1.1=50", talk=talk) == []


# ---------------------------------------------------------------- the time left


def left(at: float, error: float, *, seconds: float = 10, interval: int = 4, unsure: float = 0.0, word: float = 0.0, explicit: bool = True, span=(0, 2)):
    """``seconds`` said at ``at`` to be left in an interval of the class done twice, ``error`` more than there were."""
    return TimeLeft(Quantity("left", seconds, "length", *span, span, ""), interval, at, error, unsure, word, explicit)


# movement 1 of round 2 is the fifth interval, from 220 to 260 s
@pytest.mark.parametrize(("code", "said", "rows", "goes_on"), [
    ("countdown-off", [left(240, -10)], TWICE, 20),
    # five seconds
    ("countdown-off", [left(245, -5)], TWICE, None),
    ("countdown-off", [left(244, -6)], TWICE, 16),
    ("countdown-off", [left(255, 5)], TWICE, None),
    ("countdown-off", [left(256, 6)], TWICE, 4),
    # a fifth of the time
    ("countdown-off", [left(224, -6, seconds=30)], TWICE, None),
    ("countdown-off", [left(223, -7, seconds=30)], TWICE, 37),
    # how surely it is heard
    ("countdown-off", [left(244, -6, unsure=1)], TWICE, None),
    ("countdown-off", [left(243, -7, unsure=1)], TWICE, 17),
    # three more without a word for left
    ("countdown-off", [left(242, -8, explicit=False)], TWICE, None),
    ("countdown-off", [left(241, -9, explicit=False)], TWICE, 19),
    # said with nothing around it, a longer time is mostly an announcement
    ("countdown-off", [left(245, 15, seconds=30, explicit=False)], TWICE, 15),
    ("countdown-off", [left(245, 16, seconds=31, explicit=False)], TWICE, None),
    # more than the whole interval is of something else
    ("countdown-off", [left(230, 9, seconds=39)], TWICE, 30),
    ("countdown-off", [left(230, 11, seconds=41)], TWICE, None),
    # the interval itself is off, or has no plan
    ("countdown-off", [left(240, -14)], changed("w2.1=44"), 24),
    ("countdown-off", [left(240, -15)], changed("w2.1=45"), None),
    ("countdown-off", [left(240, -10)], changed("w2.1=40/-"), None),
    # a time of the plan, repeated
    ("countdown-off", [left(250, 10, seconds=20, explicit=False)], TWICE, None),
    ("countdown-off", [left(250, 10, seconds=20)], TWICE, 10),
    # the words may belong to the interval before or after
    ("countdown-off", [left(219, -31)], TWICE, 41),
    ("countdown-off", [left(218, -32)], TWICE, 42),
    ("countdown-off", [left(217, -33)], TWICE, None),
    ("countdown-off", [left(219, -31, word=2)], TWICE, 41),
    ("countdown-off", [left(219, -31, word=4)], TWICE, None),
    # nobody calls ten seconds and the end at once
    ("countdown-off", [left(258, 8)], TWICE, 2),
    ("countdown-off", [left(258.5, 8.5)], TWICE, None),
    ("countdown-off", [left(262, 12)], TWICE, None),
    ("countdown-off", [left(257, 7, word=4)], TWICE, 3),
    ("countdown-off", [left(257, 7, word=12)], TWICE, None),
    # it is the time to a later edge: the end of the round at 320 s
    ("countdown-off", [left(250, 25, seconds=35)], "w1.1=40 r1.1=20 w1.2=40 R1=60 w2.1=40 r2.1=20 w2.2=40", 10),
    # a coach who seems to be wrong again and again was misunderstood
    ("countdown-off", [left(240, -10), left(241, -9)], TWICE, None),
    ("countdown-off", [left(240, -10), *[left(250, 0)] * 3], TWICE, 20),
])
def test_time_left_at_its_limits(code, said, rows, goes_on, found):
    lines = found(code, rows, time_left=tuple(said))
    assert [line.rpartition(" goes on for ")[2].partition(".")[0] for line in lines] == ([] if goes_on is None else [f"{goes_on} s"])


# 15 s before the end of the third interval at 120 s; the round ends at 145 s, 40 s after the words
@pytest.mark.parametrize(("code", "after", "seconds", "times"), [
    ("countdown-off", "r1.1=5/- w1.2=20", 25, 1),
    ("countdown-off", "r1.1=5/- w1.2=20", 33, 1),
    ("countdown-off", "r1.1=5/- w1.2=20", 34, 0),
    ("countdown-off", "r1.1=5/- w1.2=20", 40, 0),
    ("countdown-off", "r1.1=5/- w1.2=20", 50, 0),
    ("countdown-off", "r1.1=5/- w1.2=20", 51, 1),
    # the work before a rest is no such edge, unless another round begins with the rest
    ("countdown-off", "r1.1=5/- w1.2=20 r1.2=20 w1.3=60", 40, 1),
    ("countdown-off", "r1.1=5/- w1.2=20 r2.1=20 w2.1=60", 40, 0),
    ("countdown-off", "r1.1=5/- w1.2=20 R1=20 w2.1=60", 40, 0),
    ("countdown-off", "r1.1=5/- w1.2=20 w1.3=60", 40, 0),
    ("countdown-off", "r1.1=5/- r1.2=20 w1.3=60", 40, 1),
])
def test_time_left_to_a_later_edge(code, after, seconds, times, found):
    said = (left(165, seconds - 15, seconds=seconds, interval=2),)
    assert len(found(code, f"w1.1=40 r1.1=20 w1.1=60/60 {after}", time_left=said)) == times


@pytest.mark.parametrize("code", ["countdown-off"])
def test_time_left_is_quoted_with_what_comes_then(code, found):
    said = left(240, -10, span=(3, 8))
    assert found(code, TWICE, time_left=(said,)) == [
        'warning, 1.2.1: "seconds on, twenty seconds off" at 4:00: the work of goblet squat goes on for 20 s. => 20 s'
        " << seconds on, twenty seconds off | home, the lot of you, keep it tidy"]


@pytest.mark.parametrize("code", ["countdown-off"])
def test_time_left_that_opens_an_interval(code, found):
    """"Last forty seconds" may open them."""
    assert found(code, TWICE, time_left=(left(225, 15, seconds=40, span=(0, 2)),), talk=TALK.replace("Two moves", "Final two moves")) == []
    assert len(found(code, TWICE, time_left=(left(225, 15, seconds=40, span=(1, 2)),), talk=TALK.replace("Two moves", "Final two moves"))) == 1
    assert len(found(code, TWICE, time_left=(left(225, 14, seconds=39, span=(0, 2)),), talk=TALK.replace("Two moves", "Final two moves"))) == 1


@pytest.mark.parametrize("code", ["countdown-off"])
def test_a_time_of_the_plan_close_by_says_how_long_that_is(code, found):
    assert found(code, TWICE, time_left=(left(310, 10, seconds=20, interval=6, explicit=False),)) == []
    assert len(found(code, TWICE + " R2=60 r2.2=20", time_left=(left(205, 10, seconds=25, interval=3, explicit=False),))) == 1
    assert len(found(code, "w1.1=40 r1.1=20 w1.2=40 w2.1=40 R1=60", time_left=(left(190, 10, seconds=20, interval=3, explicit=False),))) == 1


@pytest.mark.parametrize("code", ["countdown-off"])
def test_time_left_of_work_without_a_number_names_none(code, found):
    assert "the work goes on for 20 s" in found(code, "w1=40", time_left=(left(80, -10, interval=0),))[0]


@pytest.mark.parametrize("code", ["countdown-off"])
def test_time_left_of_a_rest_names_no_movement(code, found):
    assert "the round rest goes on for 30 s" in found(code, TWICE, time_left=(left(190, -20, interval=3),))[0]


@pytest.mark.parametrize(("code", "trusted"), [("countdown-off", ()), ("countdown-off", (2,))])
def test_time_left_wants_a_block_that_is_followed(code, trusted, found):
    assert found(code, TWICE, time_left=(left(240, -10),), trusted=trusted) == []


# ---------------------------------------------------------------- what is left out


THREE = "w1.1=40 r1.1=20 w1.2=40 R1=60 w2.1=40 r2.1=20 w2.2=40"


@pytest.mark.parametrize(("code", "rows", "given", "line"), [
    ("round-missing", THREE, {}, "error, 1.3.-: Round 3 is announced and not done: 2 of 3. => 3 rounds << home, the lot of you, keep it tidy | three rounds"),
    ("round-missing", THREE, {"trusted": ()}, None),
    ("round-missing", THREE, {"left": (Left(1, 3, 1, 240.0, False),)},
     "error, 1.3.-: Round 3 is announced and not done: 2 of 3. => 3 rounds << Nearly home, the lot of you, keep it | three rounds"),
    ("round-missing", THREE, {"left": (Left(1, 3, 1, 320.0, True),)}, None),
    ("round-missing", THREE, {"left": (Left(2, 3, 1, 320.0, True),)},
     "error, 1.3.-: Round 3 is announced and not done: 2 of 3. => 3 rounds << home, the lot of you, keep it tidy | three rounds"),
    ("round-missing", THREE + " R2=60 w3.1=40", {}, None),
    ("round-missing", THREE + " R2=60 r3.1=40", {}, "error, 1.3.-: Round 3 is announced and not done: 2 of 3. => 3 rounds << home, the lot of you, keep it tidy | three rounds"),
    ("round-missing", "w1.1=40 r1.1=20 w1.2=40 R1=60 w3.1=40 r3.1=20 w3.2=40", {},
     "error, 1.2.-: Round 2 is announced and not done: 2 of 3. => 3 rounds << Nearly home, the lot of you, keep it | three rounds"),
    ("round-missing", "w2.1=40 r2.1=20 w2.2=40 R2=60 w3.1=40", {},
     "error, 1.1.-: Round 1 is announced and not done: 2 of 3. => 3 rounds << Here we are then, all of you, on | three rounds"),
    ("round-missing", THREE, {"talk": TALK.replace("keep it tidy.", "this is the last")},
     "error, 1.3.-: Round 3 is announced and not done: 2 of 3. => 3 rounds << the lot of you, this is the last | three rounds"),
    # half of them are too many to be left out, and one round done may be none that was heard
    ("round-missing", THREE, {"rounds": "four"}, "error, 1.3.-: Rounds 3 to 4 are announced and not done: 2 of 4. => 4 rounds << home, the lot of you, keep it tidy | four rounds"),
    ("round-missing", THREE, {"rounds": "five"}, None),
    ("round-missing", "w1.1=40 r1.1=20 w1.2=40", {"rounds": "two"}, None),
    ("round-missing", THREE, {"rounds": "some"}, None),
    # called the last one
    ("round-missing", THREE, {"more": "[3:30] Last round, this."}, None),
    ("round-missing", THREE, {"more": "[3:30] The final one, this."}, None),
    ("round-missing", THREE, {"more": "[3:30] Last orders, this."},
     "error, 1.3.-: Round 3 is announced and not done: 2 of 3. => 3 rounds << home, the lot of you, keep it tidy | three rounds"),
    ("round-missing", THREE, {"more": "[2:30] Last round of drinks later, this."},
     "error, 1.3.-: Round 3 is announced and not done: 2 of 3. => 3 rounds << home, the lot of you, keep it tidy | three rounds"),
])
def test_rounds_left_out(code, rows, given, line, found):
    given = {"rounds": "three"} | given
    assert found(code, rows, **given) == ([line] if line else [])


SKIPPED = "w1.1=40 r1.1=20 w1.2=40 R1=60 w2.1=40 r2.1=20"
NOT_DONE = Skipped(1, 2, 2, 240.0, 280.0)


@pytest.mark.parametrize(("code", "rows", "given", "line"), [
    ("movement-skipped", SKIPPED, {"skipped": (NOT_DONE,)}, "warning, 1.2.2: Round 2: movement 2 (suitcase march) was announced and is not done. => suitcase march"
     " << Nearly home, the lot of you, keep it | suitcase march"),
    ("movement-skipped", SKIPPED, {}, None),
    ("movement-skipped", SKIPPED, {"skipped": (NOT_DONE,), "trusted": ()}, None),
    ("movement-skipped", SKIPPED, {"skipped": (NOT_DONE, Skipped(1, 1, 2, 100.0, 120.0))}, None),
    ("movement-skipped", SKIPPED, {"skipped": (NOT_DONE, Skipped(1, 2, 3, 100.0, 120.0))}, "warning, 1.2.2: Round 2: movement 2 (suitcase march) was announced and"
     " is not done. => suitcase march << Nearly home, the lot of you, keep it | suitcase march"),
    ("movement-skipped", "w1.1=40 r1.1=20 w2.1=40 r2.1=20", {"skipped": (NOT_DONE,)}, None),
    ("movement-skipped", "w1.1=40 r1.1=20 r1.2=40 R1=60 w2.1=40 r2.1=20", {"skipped": (NOT_DONE,)}, None),
    ("movement-skipped", "w1.1=40 r1.1=20 w1.2=40 R1=60 r2.1=40", {"skipped": (NOT_DONE,)}, None),
])
def test_movements_left_out(code, rows, given, line, found):
    assert found(code, rows, **given) == ([line] if line else [])


@pytest.mark.parametrize(("code", "opening", "numbers", "times"), [
    ("movement-skipped", "Two moves", ("Number one,", "Number two,"), 1),
    ("movement-skipped", "Some moves", ("Number one,", "Number two,"), 1),
    ("movement-skipped", "Two moves", ("Number one,", "And then we've got"), 1),
    ("movement-skipped", "Some moves", ("Number one,", "And then we've got"), 0),
])
def test_movements_left_out_want_a_count(code, opening, numbers, times, found):
    talk = TALK.replace("Two moves", opening).replace("Number one,", numbers[0]).replace("Number two,", numbers[1])
    assert len(found(code, SKIPPED, talk=talk, skipped=(NOT_DONE,))) == times


@pytest.mark.parametrize(("code", "given", "line"), [
    ("recording-ends-early", {"left": (Left(1, 2, 1, 250.0, True),)}, "warning, 1.2.1: The recording ends at 4:10 with round 2, movement 1 still to come. => -"
     " << home, the lot of you, keep it tidy"),
    ("recording-ends-early", {"left": (Left(1, 2, None, 242.0, True),)}, "warning, 1.2.-: The recording ends at 4:02 with round 2 still to come. => -"
     " << Nearly home, the lot of you, keep it"),
    ("recording-ends-early", {"left": (Left(1, None, 2, 250.0, True),)}, "warning, 1.-.2: The recording ends at 4:10 with movement 2 still to come. => -"
     " << home, the lot of you, keep it tidy"),
    # the words from five seconds before to half a minute after it
    ("recording-ends-early", {"left": (Left(1, 2, 1, 245.0, True),)}, "warning, 1.2.1: The recording ends at 4:05 with round 2, movement 1 still to come. => -"
     " << Nearly home, the lot of you, keep it"),
    ("recording-ends-early", {"left": (Left(1, 2, 1, 246.0, True),)}, "warning, 1.2.1: The recording ends at 4:06 with round 2, movement 1 still to come. => -"
     " << home, the lot of you, keep it tidy"),
    ("recording-ends-early", {"left": (Left(1, 2, 1, 210.0, True),)}, "warning, 1.2.1: The recording ends at 3:30 with round 2, movement 1 still to come. => -"
     " << of you, on it. Lovely stuff. Sunny day"),
    ("recording-ends-early", {"left": (Left(1, 2, 1, 210.5, True),)}, "warning, 1.2.1: The recording ends at 3:30 with round 2, movement 1 still to come. => -"
     " << Nearly home, the lot of you, keep it"),
    ("recording-ends-early", {"left": (Left(1, 2, 1, 250.0, False),)}, None),
    ("recording-ends-early", {"left": (Left(1, 2, 1, 250.0, True),), "trusted": ()}, None),
])
def test_where_the_recording_ends(code, given, line, found):
    assert found(code, "w1.1=40 r1.1=20 w1.2=40 R1=30", **given) == ([line] if line else [])
