"""SubRip with the faults of real files. There is no standard; what players accept is common practice, no source."""

import pytest

from .talk import cues, read, words

CLEAN = "1\n00:00:01,000 --> 00:00:04,500\nWelcome to the hall.\n\n2\n00:00:05,000 --> 00:00:08,000\nGrab a mat.\n"
TWO = [(1.0, 4.5, "Welcome to the hall."), (5.0, 8.0, "Grab a mat.")]


@pytest.mark.parametrize(
    "text",
    [
        CLEAN,
        CLEAN.replace("\n", "\r\n"),
        CLEAN.rstrip("\n"),
        CLEAN.replace(",", "."),
        CLEAN.replace("1\n00", "00", 1).replace("2\n00", "00", 1),
        CLEAN.replace(",500", ",5").replace(",000", ",0"),
        CLEAN.replace("00:00:0", "0:00:0"),
        CLEAN.replace("00:00:0", "00:0"),
        CLEAN.replace("\n\n", "\n"),
        CLEAN.replace("\n\n", "\n\n\n\n"),
        CLEAN.replace(" --> ", "-->"),
        CLEAN.replace(" --> ", " -> "),
        CLEAN.replace("2\n", "7\n"),
        CLEAN.replace("00:00:04,500", "00:00:04,500 X1:40 X2:600 Y1:20 Y2:50"),
        "\n\n" + CLEAN,
    ],
    ids=[
        "clean", "crlf", "no final newline", "dot for comma", "no index", "short milliseconds", "one-digit hours", "no hours",
        "no blank line between", "many blank lines", "no spaces", "short arrow", "wrong index", "coordinates", "blank lines first",
    ],
)
def test_every_fault_gives_the_same_talk(text):
    talk = read(text)
    assert talk.format == "srt"
    assert cues(talk) == TWO
    assert talk.problems == ()
    assert talk.resolution == "cue" and talk.duration_s == 8.0


def test_short_milliseconds_are_tenths():
    """``,5`` is half a second; srt 3.5.3 reads it as 5 ms."""
    assert cues(read("1\n00:00:01,5 --> 00:00:02,05\nGo.\n")) == [(1.5, 2.05, "Go.")]


def test_a_blank_line_inside_a_caption_does_not_lose_its_rest():
    talk = read("1\n00:00:01,000 --> 00:00:04,000\nFeet under hips.\n\nSoft knees.\n\n2\n00:00:05,000 --> 00:00:08,000\nDown.\n")
    assert cues(talk) == [(1.0, 4.0, "Feet under hips.\nSoft knees."), (5.0, 8.0, "Down.")]


def test_a_caption_that_is_a_number_is_said():
    """A countdown, with and without index lines."""
    text = "1\n00:00:01,000 --> 00:00:02,000\nthree\n\n2\n00:00:02,000 --> 00:00:03,000\n2\n\n3\n00:00:03,000 --> 00:00:04,000\n1\n"
    assert [cue[2] for cue in cues(read(text + "\n4\n00:00:04,500 --> 00:00:06,000\nand go now\n"))] != []
    assert read(text).text.split() == ["three", "2", "1"]
    bare = "00:00:01,000 --> 00:00:02,000\n3\n\n00:00:02,000 --> 00:00:03,000\n2\n\n00:00:03,000 --> 00:00:04,000\ngo\n"
    assert read(bare).text.split() == ["3", "2", "go"]


def test_an_end_before_its_start_is_reported_and_does_not_count():
    talk = read("1\n00:00:05,000 --> 00:00:02,000\nGo.\n\n2\n00:00:07,000 --> 00:00:09,000\nRest.\n")
    assert cues(talk) == [(5.0, 7.0, "Go."), (7.0, 9.0, "Rest.")]
    assert [(p.line, p.message) for p in talk.problems] == [(2, "The caption ends (2 s) before it starts (5 s).")]


def test_a_broken_timing_line_is_reported_and_its_words_survive():
    talk = read("1\n00:00:01,000 --> 00:00:04,000\nGo.\n\n2\n00:00:0x,000 --> 00:00:06,000\nRest.\n\n3\n00:00:07,000 --> 00:00:09,000\nRow.\n")
    assert "Rest." in talk.text
    assert [p.line for p in talk.problems] == [6]


def test_words_before_the_first_caption_are_reported():
    talk = read("Yard class\n" + CLEAN)
    assert cues(talk) == TWO
    assert [p.line for p in talk.problems] == [1]


def test_markup_goes_and_references_are_decoded():
    talk = read("1\n00:00:01,000 --> 00:00:04,000\n<i>Mats</i> &amp; <font color=\"#fff\">bands</font>{\\an8}<br>please, reps < 10\n")
    assert talk.text == "Mats & bands please, reps < 10"


def test_captions_out_of_order_and_overlapping_survive():
    talk = read("1\n00:00:05,000 --> 00:00:09,000\nRest.\n\n2\n00:00:01,000 --> 00:00:06,000\nGo.\n")
    assert cues(talk) == [(5.0, 9.0, "Rest."), (1.0, 6.0, "Go.")]


def test_one_word_captions_are_word_times():
    said = ["feet", "under", "hips", "soft", "knees", "now"]
    text = "".join(f"{n}\n00:00:0{n},000 --> 00:00:0{n},400\n{word}\n\n" for n, word in enumerate(said, 1))
    talk = read(text)
    assert talk.resolution == "word"
    assert words(talk) == [(word, float(n), n + 0.4) for n, word in enumerate(said, 1)]
    assert cues(talk) == [(1.0, 6.4, "feet under hips soft knees now")]


def test_long_captions_are_blocks():
    text = "".join(f"{m}\n00:{m:02}:00,000 --> 00:{m:02}:30,000\nGo on then.\n\n" for m in range(1, 6))
    assert read(text).resolution == "block"
