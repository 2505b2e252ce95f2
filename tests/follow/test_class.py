"""Whole classes, short: what is followed, what is left alone."""

from __future__ import annotations

import re
from functools import lru_cache

import pytest

from parser import audit, load_lexicon
from parser.read import read_bytes

ANNOUNCED = (
    "[0:00] Two moves, forty seconds on, twenty seconds off, three rounds, and a minute between the rounds.\n"
    "[0:10] Number one, goblet squats. Bell at the chest.\n[0:20] Number two, push-ups. Hands wide.\n[0:57] Three, two, one.\n"
)
TWO_ROUNDS = (
    "[1:00] Go! Goblet squats.\n[1:40] And rest. Push-ups next.\n[2:00] Go! Push-ups.\n[2:40] And rest. That's round one.\n"
    "[3:40] Go! Goblet squats, round two.\n[4:20] And rest. Push-ups next.\n[4:40] Go! Push-ups.\n"
)
CLOSE = "[8:40] Let's cool down. Quad stretch, thirty seconds each leg.\n[9:30] Chest stretch, and breathe.\n[10:00] See you next week. Bye now.\n"
CLOCK = {"work-off", "rest-off", "round-rest-off", "countdown-off", "round-missing", "movement-skipped", "recording-ends-early"}


@lru_cache(maxsize=1)
def _lexicon():
    return load_lexicon()


def report(talk: str):
    return audit(read_bytes(talk.encode(), name="talk.txt"), lexicon=_lexicon())


def works(found) -> list[tuple]:
    return [(i.round, i.number, round(i.end - i.start), i.planned_s) for i in found.delivered if i.kind == "work"]


def test_a_change_announced_on_the_way_is_followed_and_is_no_fault():
    found = report(ANNOUNCED + TWO_ROUNDS + "[5:20] And rest. Change of plan, let's make it thirty seconds of work for the last round.\n"
                   "[6:20] Go! Goblet squats.\n[6:50] And rest. Push-ups.\n[7:10] Go! Push-ups.\n[7:40] And rest. Well done.\n" + CLOSE)
    assert works(found) == [(1, 1, 40, 40), (1, 2, 40, 40), (2, 1, 40, 40), (2, 2, 40, 40), (3, 1, 30, 30), (3, 2, 30, 30)]
    assert not CLOCK & {f.code for f in found.findings}


def test_the_same_without_a_word_is_off():
    found = report(ANNOUNCED + TWO_ROUNDS + "[5:20] And rest.\n[6:20] Go! Goblet squats.\n[6:50] And rest. Push-ups.\n[7:10] Go! Push-ups.\n"
                   "[7:50] And rest. Well done.\n" + CLOSE)
    assert [(f.code, f.round, f.number) for f in found.findings if f.code in CLOCK] == [("work-off", 3, 1)]


def test_coverage_says_what_was_done():
    found = report(ANNOUNCED + TWO_ROUNDS + "[5:20] And rest. I'm going to stop the recording there.\n")
    got = found.coverage
    assert (got.rounds_planned, got.rounds_delivered, got.movements_planned, got.movements_delivered) == (3, 2, 6, 4)
    assert got.main_s_delivered == pytest.approx(260, abs=3)


def test_a_talk_without_times_is_not_followed():
    found = report(re.sub(r"\[[\d:]+\] ", "", ANNOUNCED + TWO_ROUNDS + CLOSE))
    assert found.delivered == [] and not CLOCK & {f.code for f in found.findings}


def test_a_rehearsal_delivers_nothing():
    found = report(ANNOUNCED.replace("[0:57] Three, two, one.\n", "") + "[0:40] So that's goblet squats and push-ups. And then I say well done. Bye.\n")
    assert found.delivered == [] and found.coverage.main_s_delivered is None


def test_the_rounds_done_are_those_whose_numbers_were_said():
    """Four rounds of two, three of them done: which one was left out only the words tell."""
    head = "[0:00] Every minute on the minute, two moves, four rounds. Number one, squats, ten. Number two, rows, ten.\n[0:50] Three, two, one.\n"
    minutes = "[1:00] Go, squats.\n[2:00] And rows.\n[3:00] {} Squats.\n[4:00] And rows.\n[5:00] {} Squats.\n[6:00] And rows.\n"
    end = "[7:00] And that's it, bells down.\n[7:20] Let's cool down. Quad stretch, thirty seconds each leg.\n[8:30] Chest stretch, and breathe.\n[9:30] Bye now.\n"
    for said, rounds in (("Round two.", "Round three."), [1, 2, 3]), (("Round two.", "Round four."), [1, 2, 4]):
        found = report(head + minutes.format(*said) + end).delivered
        assert sorted({i.round for i in found}) == rounds and len(found) == 6


def test_movements_that_are_shown_as_regularly_as_they_are_to_be_done_are_not_done():
    shown = ("[0:00] Four minutes of it. Twenty seconds on, ten seconds off, four moves, and we go round twice.\n[0:18] Number one, high knees. On the spot.\n"
             "[0:48] Number two, kettlebell swings. Both hands.\n[1:18] Number three, squat jumps. Sit, and pop.\n[1:48] Number four, mountain climbers.\n"
             "[2:20] So high knees, swings, squat jumps, climbers, round again, done. It doesn't sound like much, does it?\n[2:50] That's it, I'm off home.\n")
    assert report(shown).delivered == []
