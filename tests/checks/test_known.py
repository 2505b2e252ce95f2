"""What the rules are known to miss, and where they are known to be wrong: asserted, so that mending one shows."""

from __future__ import annotations

import pytest

from .plain_classes import BAND, BRIDGE, BUGS, CURL, JACKS, LUNGE, PUSH, ROW, SIDE, SQUAT, Class, Move


def codes(found):
    return {f.code for f in found}


FOUR = (SQUAT, PUSH, LUNGE, BRIDGE)


def unnumbered(moves, **more):
    return Class(tuple(Move(m.name, m.show, m.easier, m.each, number="Then we've got", seconds=m.seconds) for m in moves), **more)


MISSES = {
    # a wrong number that the coach goes on counting from looks like a movement that was not heard
    "number-misstated": Class((SQUAT, PUSH, LUNGE, BRIDGE, BUGS, JACKS), count=7, recap=("goblet squats",)).swap(3, number="Number five").swap(
        4, number="Number six").swap(5, number="Number seven"),
    # "to finish" is as good as a number
    "number-missing": Class(FOUR).swap(3, number="To finish"),
    # neither numbered nor said back
    "count-mismatch": unnumbered(FOUR, count=5, recap=("goblet squats",)),
    # two names are no list
    "order-changed": Class(FOUR, recap=("push-ups", "goblet squats")),
    # a name that shares a word is taken for another name of the same
    "name-changed": Class((SQUAT, ROW, LUNGE, BRIDGE), recap=("goblet squats", "upright row", "reverse lunges", "glute bridges")),
    # one of the times only
    "timing-contradiction": Class(FOUR, after="Remember, the rest is short tonight, a quarter of a minute."),
    # each side as long as the work: that may be an interval a side
    "split-mismatch": Class((SQUAT, ROW, LUNGE, BRIDGE)).swap(1, seconds=(40, 40)),
    # a side that is named once
    "side-missing": Class((SQUAT, SIDE, LUNGE, BRIDGE)).swap(1, show="On your right elbow, hips up."),
    # with another movement between the two amounts
    "side-uneven": Class((SQUAT, ROW, LUNGE, BRIDGE)).swap(1, each="Twenty five seconds on the right.").swap(
        2, show="Step back. And the row gets fifteen seconds on the left."),
    # a side without its part
    "side-contradiction": Class((SQUAT, SIDE, LUNGE, BRIDGE)).swap(1, show="Start on the right, and when I say so, swap. So, left first."),
    # two movements without an easier way
    "option-missing": Class((SQUAT, PUSH, LUNGE, BRIDGE, JACKS)).swap(0, easier="").swap(1, easier=""),
    # nothing at all was asked for
    "equipment-unannounced": Class((JACKS, BAND, LUNGE, BRIDGE), kit=""),
    # spoken of again, to no use
    "equipment-unused": Class(FOUR, kit="two dumbbells, a foam roller and a mat", after="Keep the foam roller out of the way."),
    # promised only
    "cool-down-missing": Class(FOUR, cool_down="We'd stretch now if there were time."),
    "warm-up-missing": Class(FOUR, warm_up="We'd warm up now if there were time."),
}


@pytest.mark.parametrize("code", MISSES)
def test_known_miss(code, audited):
    assert code not in codes(audited(MISSES[code].text()))


FALSE_ALARMS = {
    # time for the change is given aloud, but not as a length of rest
    "transition-tight": Class((SQUAT, BRIDGE, BUGS, CURL), rest=10, after="Take all the time you need to get down."),
    # used without being named, by a movement that does not need it
    "equipment-unused": Class(FOUR, kit="two dumbbells, a foam roller and a mat", cool_down="Let's cool down. Up and down under your calves, both legs."),
    # one side on purpose
    "side-missing": Class((SQUAT, SIDE, LUNGE, BRIDGE)).swap(1, show="Right elbow down, right hip under you, hips up, that's the whole of it tonight."),
    # a caution in nobody else's words
    "caution-missing": Class(FOUR, caution="Mind yourselves."),
    # people came running
    "warm-up-missing": Class(FOUR, warm_up="You've all run here along the front, so we go straight in."),
}


@pytest.mark.parametrize("code", FALSE_ALARMS)
def test_known_false_alarm(code, audited):
    assert code in codes(audited(FALSE_ALARMS[code].text()))


def test_the_mirror_image_is_no_contradiction(audited):
    press = Move("half-kneeling press", "My right knee's down, so your left knee down, right foot in front, bell in the left hand.", "Easier, go lighter.",
                 "{a} seconds on the left, then {b} seconds on the right.")
    assert audited(Class((SQUAT, press, LUNGE, BRIDGE)).text()) == []


@pytest.mark.parametrize("said", [
    "Right, who left the door open? Two left, right then.",
    "All right, I left my good bell on the left of the stage.",
    "That's right, right down, and there's one left.",
])
def test_left_and_right_of_nothing(said, audited):
    assert audited(Class((SQUAT, SIDE, LUNGE, BRIDGE), after=said).text()) == []
