"""Why a moment of a talk was heard as it was, line by line."""

from __future__ import annotations

from parser import load_lexicon
from parser.pipeline import explain
from parser.read import read_bytes

TALK = ("[0:00] Morning. Grab a kettlebell. Four rounds, fifty on, sorry, forty on, twenty off.\n"
        "[0:30] Number one is the goblet squat. If that's too much, sit to a chair. Number two, push-ups on the left side.\n"
        "[1:00] Three, two, one, go.\n[9:00] Bye.\n")


def explained(at: float):
    return explain(read_bytes(TALK.encode(), name="said.md"), at=at, lexicon=load_lexicon())


def test_the_numbers_say_what_they_are_for_and_what_they_were_said_like():
    found = explained(6.0)
    assert found.found and found.lines[0].startswith("0:0") and found.lines[1].startswith("phase: ")
    assert any(line.startswith("number 'Four': rounds, value 4.0, said like") for line in found.lines)
    assert any(line.startswith("equipment 'kettlebell': kettlebell, asked for") for line in found.lines)
    later = explained(18.0).lines
    assert "put right: number, '50' became '40'" in later and "number 'forty': work, value 40.0, said like 'forty on, twenty off'" in later
    assert "    lost: work: forty seconds of work" in later


def test_a_movement_says_how_it_was_matched_and_what_became_of_it():
    lines = explained(33.0).lines
    at = next(k for k, line in enumerate(lines) if line.startswith("movement 'goblet squat': goblet squat, rung exact, score 100"))
    assert "evidence" in lines[at + 1] and "label" in lines[at + 1]
    assert any(line.startswith("option ") and ": regression" in line for line in explained(40.0).lines)


def test_where_nobody_speaks_there_is_nothing_to_explain():
    assert explained(300.0).lines == ["Nothing was said within 6 s of 5:00."] and not explained(300.0).found
