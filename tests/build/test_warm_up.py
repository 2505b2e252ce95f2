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
