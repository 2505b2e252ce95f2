"""Which movements are the warm-up where nobody says the word: what is led before the main block's number one."""

from __future__ import annotations

import pytest

from parser import load_lexicon
from parser.pipeline import plan
from parser.read import read_bytes

MAIN = (
    "[2:00] Number one, goblet squats. Bell at the chest.\n[2:15] Number two, push-ups. Hands wide.\n"
    "[2:30] Number three, mountain climbers.\n[2:50] Three, two, one.\n[3:00] Go! Squats.\n[3:40] And rest.\n"
)
WELCOME = "[0:00] Forty on, twenty off, three rounds.\n"

LED = [
    ("[0:30] First some arm circles, big and slow.\n[1:00] Then hip circles, both ways.\n", ["arm circle", "hip circle"]),
    ("[0:30] Arm circles, forwards and back.\n[1:00] Then good mornings, hands behind the head.\n[1:30] And leg swings.\n",
     ["arm circle", "good morning", "leg swing"]),
]
NOT_LED = [
    "",
    "[0:30] I pulled a calf on Tuesday, so no lunges for me.\n",
    "[0:30] It's goblet squats, push-ups and mountain climbers today.\n",       # an overview of what the numbers then show
]


def blocks(talk: str):
    made = plan(read_bytes((WELCOME + talk + MAIN).encode(), name="said"), lexicon=load_lexicon())
    return [(b.kind, [m.name for m in b.movements]) for b in made.blocks]


@pytest.mark.parametrize("talk, names", LED)
def test_what_is_led_before_number_one_is_the_warm_up(talk, names):
    found = blocks(talk)
    assert [kind for kind, _ in found] == ["warm_up", "main"]
    assert found[0][1] == names
    assert found[1][1] == ["goblet squat", "push-up", "mountain climber"]


@pytest.mark.parametrize("talk", NOT_LED)
def test_what_is_only_named_before_number_one_is_none(talk):
    assert blocks(talk) == [("main", ["goblet squat", "push-up", "mountain climber"])]


CALLED = (
    "[0:00] Three stations, forty on, twenty off, two rounds.\n[0:20] {} Marching on the spot first. Ready?\n[0:30] And go, march, march.\n"
    "[1:00] Ten seconds more of this.\n[1:10] Good, stop. Arm circles now, big slow ones.\n[1:30] And change, circles going backwards.\n"
    "[1:50] And stop. Hip hinges next, hands on your hips. Go.\n[2:20] Heels stay down.\n[2:30] Ten seconds.\n[2:40] And rest.\n"
    "[3:00] Station one, goblet squats. Station two, push-ups. Station three, mountain climbers.\n[4:30] Three, two, one, go. Squats.\n"
    "[5:10] And rest.\n[5:30] Go, push-ups.\n[6:10] And rest.\n"
)


@pytest.mark.parametrize("announced", ["We've got four minutes of warm-up.", "The warm-up is four minutes.", "Alright, warm-up. Four minutes."])
def test_what_is_called_in_the_minutes_of_the_warm_up_is_no_work(announced):
    made = plan(read_bytes(CALLED.format(announced).encode(), name="said"), lexicon=load_lexicon())
    warm_up, main = made.blocks
    assert [m.name for m in warm_up.movements] == ["march", "arm circle", "hip hinge"] and warm_up.duration_s == 240
    assert not any(m.dose.seconds for m in warm_up.movements), "time left is no dose"
    assert [m.name for m in main.movements] == ["goblet squat", "push-up", "mountain climber"]
