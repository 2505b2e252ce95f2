"""What changed between two classes, as a coach would say it."""

import pytest

from parser.archive.diff import changes
from parser.model import Dose, Equipment, Finding, Partner, Sides, StatedLength
from parser.render.review.diff import heading_of, line

from .plans import block, movement, plan, said


def told(before, after, *findings):
    """Each change under its heading: ``Main block 1: work: 40 s → 45 s``."""
    return [f"{heading_of(c)}: {line(c)}" for c in changes(before, after, *findings)]


def test_a_plan_is_itself():
    one = plan(block("march", kind="warm_up"), block("squat", "row", work_s=40, rest_s=20))
    assert changes(one, one) == []


def test_where_it_was_said_is_no_difference():
    one = plan(block(movement(1, "squat", sources=[said(3.0, "squats")])), name="monday.vtt")
    other = plan(block(movement(1, "squat", sources=[said(9.0, "the squat")])), name="friday.vtt")
    assert changes(one, other) == []


SETTINGS = [
    ({"work_s": 40}, {"work_s": 45}, "work: 40 s → 45 s"),
    ({"rest_s": 20}, {}, "rest: 20 s → not said"),
    ({}, {"round_rest_s": 90}, "rest between rounds: not said → 90 s"),
    ({"rounds": 3}, {"rounds": (3, 4)}, "rounds: 3 → 3 to 4"),
    ({"format": "interval"}, {"format": "amrap"}, "format: intervals → as many rounds as possible"),
    ({"format": "emom", "interval_s": 60}, {"format": "emom", "interval_s": 120}, "a new start every: 1 min → 2 min"),
    ({"duration_s": 600}, {"duration_s": 720}, "length: 10 min → 12 min"),
    ({"rep_scheme": [21, 15, 9]}, {"rep_scheme": [15, 12, 9]}, "reps: 21, 15, 9 → 15, 12, 9"),
    ({"time_scheme": [60.0, 120.0]}, {}, "work by round: 1 min, 2 min → not said"),
    ({"rest_after_s": 60}, {"rest_after_s": 120}, "rest after it: 1 min → 2 min"),
    ({}, {"each_side_through": True}, "the whole sequence on one side, then on the other: no → yes"),
    ({}, {"partner": Partner(mode="alternate")}, "in pairs: not said → one works while the other waits"),
    ({"label": "the long rope"}, {"label": "the short rope"}, "called: “the long rope” → “the short rope”"),
]


@pytest.mark.parametrize(("before", "after", "words"), SETTINGS, ids=[words for *_, words in SETTINGS])
def test_settings(before, after, words):
    assert told(plan(block("squat", **before)), plan(block("squat", **after))) == [f"Main block 1: {words}"]


def test_every_setting_of_a_block_is_looked_at():
    from parser.archive.diff import SETTINGS
    from parser.model import Block

    assert set(SETTINGS) == set(Block.model_fields) - {"kind", "movements", "sources"}


def test_in_out_and_moved():
    before = plan(block("squat", "row", "press", "push-up"))
    after = plan(block("push-up", "squat", "row", "reverse lunge"))
    assert told(before, after) == [
        "Main block 1: gone: 3. press", "Main block 1: moved: push-up, from 4 to 1", "Main block 1: new: 4. reverse lunge",
    ]


def test_one_taken_out_moves_nothing_else():
    assert told(plan(block("squat", "row", "press")), plan(block("row", "press"))) == ["Main block 1: gone: 1. squat"]


def test_moved_to_another_block():
    before = plan(block("march", "squat", kind="warm_up"), block("row", "press"))
    after = plan(block("march", kind="warm_up"), block("row", "press", movement(3, "squat", sides="alternating")))
    assert told(before, after) == [
        "Main block 1: moved: squat, from Warm-up, 2 to 3", "Main block 1: squat: not said → alternating sides",
    ]


def test_the_same_movement_twice_is_two():
    assert told(plan(block("squat", "row", "squat")), plan(block("squat", "row"))) == ["Main block 1: gone: 3. squat"]


def test_blocks_are_known_by_what_is_done_in_them():
    long, short = block("squat", "row", work_s=40), block("press", "push-up", work_s=30)
    assert told(plan(long, short), plan(short, long)) == []
    assert told(plan(long, short), plan(block("pull-up", work_s=20), long, short)) == [
        "Main block 1: new block: 20 s work", "Main block 1: new: 1. pull-up",
    ]
    assert told(plan(long, short), plan(short)) == [
        "Main block 1: gone block: 40 s work", "Main block 1: gone: 1. squat", "Main block 1: gone: 2. row",
    ]


def test_sides_dose_equipment_and_options():
    before = plan(block(movement(1, "row", sides="each", first="left", easier="lighter bell", equipment=["dumbbell"]),
                        movement(2, "squat", dose=Dose(reps=12))))
    after = plan(block(movement(1, "row", sides="each", first="right", easier="hand on the rail", equipment=["band"]),
                       movement(2, "squat", dose=Dose(reps=(8, 10)), easier="to a chair")))
    assert told(before, after) == [
        "Main block 1: row: each side, left first → each side, right first",
        "Main block 1: row, with: dumbbell → band",
        "Main block 1: row, easier: “lighter bell” → “hand on the rail”",
        "Main block 1: squat: 12 reps → 8 to 10 reps",
        "Main block 1: squat, easier offered: “to a chair”",
    ]


def test_an_option_that_is_gone():
    before, after = plan(block(movement(1, "squat", easier="to a chair"))), plan(block("squat"))
    assert told(before, after) == ["Main block 1: squat, easier no longer offered: “to a chair”"]


def test_the_class_and_what_to_have_ready():
    before = plan(title="Monday rope", focus=["cardio"], stated_length=StatedLength(seconds=1800, qualifier="about", sources=[]),
                  equipment=[Equipment(name="mat"), Equipment(name="dumbbell", quantity=1)])
    after = plan(focus=["cardio", "core"], stated_length=StatedLength(seconds=1800, qualifier="under", sources=[said(3.0, "thirty")]),
                 equipment=[Equipment(name="dumbbell", quantity=2), Equipment(name="band")])
    assert told(before, after) == [
        "The class: called: “Monday rope” → not said", "The class: focus: cardio → cardio, core",
        "The class: length as said: about 30 min → under 30 min",
        "Equipment: dumbbell: 1 × dumbbell → 2 × dumbbell", "Equipment: new: band", "Equipment: gone: mat",
    ]


def test_findings_gone_and_new():
    kept = Finding(code="rest-off", severity="warning", message="Twelve seconds long.", block=1, round=1, number=2)
    gone = Finding(code="side-missing", severity="error", message="Never the left.", said=[said(279.0, "side plank")], block=1, number=5)
    assert told(plan(), plan(), [gone, kept], [kept, kept]) == [
        "Findings: gone: error: Never the left. side-missing [4:39]", "Findings: new: warning: Twelve seconds long. rest-off",
    ]


def test_what_is_said_moves_no_cursor():
    before, after = plan(block("squat", label="the\x1b[2Jrope")), plan(block("squat", label="a\u202eb"))
    assert told(before, after) == ["Main block 1: called: “the[2Jrope” → “ab”"]


def test_amounts_a_side_are_a_difference():
    before = plan(block(movement(1, "row").model_copy(update={"sides": Sides(mode="each", seconds_each=20)})))
    after = plan(block(movement(1, "row").model_copy(update={"sides": Sides(mode="each", seconds_each=25)})))
    assert told(before, after) == ["Main block 1: row: each side, 20 s a side → each side, 25 s a side"]


def test_three_of_one_name_are_three():
    assert told(plan(block("squat", "squat", "squat")), plan(block("squat"))) == ["Main block 1: gone: 2. squat", "Main block 1: gone: 3. squat"]


def test_of_two_ways_to_see_a_move_the_first_that_stands_stays():
    assert told(plan(block("squat", "row")), plan(block("row", "squat"))) == ["Main block 1: moved: squat, from 1 to 2"]


def test_each_block_has_one_partner():
    """Two blocks alike: the first goes with the first, and the other is new."""
    before, after = plan(block("squat", "row")), plan(block("squat", "row"), block("squat", "row"))
    assert told(before, after) == ["Main block 2: new block", "Main block 2: new: 1. squat", "Main block 2: new: 2. row"]


def test_a_finding_that_stays_is_no_change():
    one = Finding(code="rest-off", severity="warning", message="m", block=1, round=1, number=2)
    assert told(plan(), plan(), [one], [one]) == []
