"""How like two classes are: by hand, respect by respect."""

from dataclasses import fields

import pytest

from parser.archive.alike import WEIGHTS, likeness, traits_of
from parser.model import Equipment, StatedLength
from parser.review.alike import Likeness

from .plans import block, movement, plan


def compared(one, other) -> Likeness:
    return likeness(traits_of(one), traits_of(other))


def test_a_class_is_wholly_like_itself():
    one = plan(block("squat", "row", format="interval", work_s=40, rest_s=20), equipment=[Equipment(name="dumbbell")])
    assert compared(one, one) == Likeness(movements=1, patterns=1, format=1, timing=1, equipment=1, whole=1)


def test_by_hand():
    one = plan(block("squat", "row", "press", format="interval", work_s=40, rest_s=20), equipment=[Equipment(name="dumbbell")])
    other = plan(block("squat", "row", "push-up", format="interval", work_s=30, rest_s=20, rounds=3),
                 equipment=[Equipment(name="dumbbell"), Equipment(name="mat")])
    found = compared(one, other)
    assert found.movements == 2 / 4            # squat, row of squat, row, press, push-up
    assert found.patterns == 2 / 4             # squat, horizontal-pull of these, vertical-push, horizontal-push
    assert found.format == 1
    assert found.timing == pytest.approx((30 / 40 + 1 + 0) / 3)   # work, rest, rounds that only one says
    assert found.equipment == 1 / 2
    assert found.whole == pytest.approx(0.4 * 0.5 + 0.2 * 0.5 + 0.15 + 0.15 * 1.75 / 3 + 0.1 * 0.5)


def test_order_does_not_matter_and_either_way_is_the_same():
    one, other = plan(block("squat", "row", work_s=40)), plan(block("row", "press"), block("march", work_s=20))
    assert compared(one, other) == compared(other, one)
    assert compared(plan(block("squat", "row")), plan(block("row", "squat"))).whole == 1


def test_what_neither_says_is_left_out():
    found = compared(plan(block("squat")), plan(block("squat")))
    assert (found.format, found.timing, found.equipment, found.whole) == (None, None, None, 1)


def test_empty_plans_are_not_alike():
    assert compared(plan(), plan()).whole == 0


def test_parts_of_a_chain_and_frames():
    """A chain has the movements of both of its parts; warm-up and cool-down say nothing of what a class is."""
    assert compared(plan(block("squat + press")), plan(block("squat", "press"))).movements == 1
    assert compared(plan(block("march", kind="warm_up"), block("squat")), plan(block("squat"))).whole == 1


def test_length_and_further_blocks_count():
    half_hour = StatedLength(seconds=1800, qualifier="about", sources=[])
    hour = StatedLength(seconds=3600, qualifier="about", sources=[])
    assert compared(plan(block("squat"), stated_length=half_hour), plan(block("squat"), stated_length=hour)).timing == 0.5
    assert compared(plan(block("squat", work_s=30)), plan(block("squat", work_s=30), block("row", work_s=30))).timing == 0.5
    assert compared(plan(block("squat", rest_s=0)), plan(block("squat", rest_s=0))).timing == 1


def test_the_weights_are_whole():
    assert sum(WEIGHTS.values()) == pytest.approx(1)
    assert set(WEIGHTS) == {field.name for field in fields(Likeness)} - {"whole"}


def test_a_format_counts_as_often_as_it_comes():
    three, one = plan(*(block("squat", format="sets") for _ in range(3))), plan(block("squat", format="sets"))
    assert compared(three, one).format == pytest.approx(1 / 3)
    assert compared(three, plan(block("squat", format="sets"), block("row", format="interval"))).format == 1 / 4


def test_of_a_range_its_middle():
    assert compared(plan(block("squat", work_s=(30, 50))), plan(block("squat", work_s=40))).timing == 1


def test_a_movement_is_known_by_its_base_and_else_by_its_name():
    def named(base):
        one = movement(1, "squat")
        return plan(block(one.model_copy(update={"parts": [one.parts[0].model_copy(update={"name": "wide squat", "base": base})]})))

    assert traits_of(named("squat")).movements == {"squat"} and traits_of(named(None)).movements == {"wide squat"}
