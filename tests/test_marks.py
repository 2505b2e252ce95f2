"""What is marked in the talk, and what was said while an interval was on."""

from pathlib import Path

import pytest

from parser.pipeline import reading
from parser.read import read_bytes, read_path

SAMPLE = str(Path(__file__).resolve().parents[1] / "samples" / "slipway-six-rounds.srt")

TALK = """[0:00] We do three rounds, forty on, twenty off, ninety seconds between rounds.

[0:20] Number one, goblet squats. Too heavy? Drop the weight and sit to a chair.

[0:40] Number two, single-arm row, twenty seconds each side. Mind the other side of the room.

[1:20] Three, two, one, go!
"""


@pytest.fixture(scope="module")
def found():
    return reading(read_bytes(TALK.encode(), name="talk.md"))


@pytest.mark.parametrize(("kind", "quote", "means"), [
    ("number", "three", "rounds"), ("time", "forty", "work"), ("time", "twenty", "rest"), ("time", "ninety seconds", "round_rest"),
    ("movement", "goblet squats", "goblet squat"), ("movement", "single-arm row", "single-arm row"), ("number", "one", "label"),
    ("time", "twenty seconds", "each"), ("side", "each side", "each"),
])
def test_what_is_heard_is_marked(found, kind, quote, means):
    assert (kind, quote, means) in {(m.kind, m.source.quote, m.means) for m in found.marks}


def test_an_easier_way_is_marked_with_all_its_words(found):
    (option,) = [m for m in found.marks if m.kind == "option"]
    assert option.means == "regression"
    assert "sit to a chair" in option.source.quote


def test_the_other_side_of_the_room_is_no_side_and_counting_down_no_number(found):
    assert not [m for m in found.marks if m.source.chars[0] >= found.talk.text.index("Mind")]


def test_marks_are_in_order_and_say_what_stands_there(found):
    assert list(found.marks) == sorted(found.marks, key=lambda m: m.source.chars)
    for mark in found.marks:
        assert found.talk.text[slice(*mark.source.chars)] == mark.source.quote


def test_each_interval_has_the_words_that_begin_in_it():
    found = reading(read_path(SAMPLE))
    rows = list(zip(found.report.delivered, found.meanwhile, strict=True))
    assert rows
    for interval, said in rows:
        assert interval.start <= said.start < interval.end
        assert found.talk.text[slice(*said.chars)] == said.quote
    # By the captions of the sample: what is called where the second round of boxing begins.
    assert [said.quote for _, said in rows][2].startswith("Jab, cross, hook.")
