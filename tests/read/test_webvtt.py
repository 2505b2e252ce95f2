"""WebVTT: blocks, markup, word times (W3C WebVTT; the project's own cases are in test_webvtt_standard.py)."""

import pytest

from .talk import cues, read, words

CUE = "00:00:01.000 --> 00:00:04.000\nGrab a mat.\n"


@pytest.mark.parametrize(
    "text",
    [
        f"WEBVTT\n\n{CUE}",
        f"\ufeffWEBVTT\n\n{CUE}",
        f"WEBVTT - Slipway class\n\n{CUE}",
        f"WEBVTT\nKind: captions\nLanguage: en\n\n{CUE}",
        f"WEBVTT\n{CUE}",
        f"WEBVTT\r\n\r\n{CUE}".replace("\n", "\r\n").replace("\r\r", "\r"),
        f"WEBVTT\n\nNOTE not for the room\n\n{CUE}",
        f"WEBVTT\n\nNOTE\ntwo lines\nof it\n\n{CUE}",
        "WEBVTT\n\nSTYLE\n::cue { color: papayawhip }\n\nREGION\nid:bill\nwidth:40%\n\n" + CUE,
        f"WEBVTT\n\nintro\n{CUE}",
        f"WEBVTT\n\n7\n{CUE}",
        "WEBVTT\n\n00:01.000 --> 00:04.000 align:start position:10% line:-1\nGrab a mat.\n",
        "WEBVTT\n\n00:01.000 --> 00:04.000\n<v Wren>Grab <c.loud>a</c> <b>mat</b>.</v>\n",
    ],
)
def test_nothing_but_the_words_is_read(text):
    talk = read(text)
    assert talk.format == "vtt"
    assert cues(talk) == [(1.0, 4.0, "Grab a mat.")]
    assert talk.problems == ()


def test_lines_of_a_caption_stay_lines():
    assert read("WEBVTT\n\n00:01.000 --> 00:04.000\n- Grab a mat.\n- Got one.\n").text == "- Grab a mat.\n- Got one."


def test_hours_of_more_than_two_digits():
    assert cues(read("WEBVTT\n\n100:00:01.000 --> 0100:00:04.000\nStill here.\n")) == [(360001.0, 360004.0, "Still here.")]


def test_references_are_decoded_and_ruby_annotations_dropped():
    assert read("WEBVTT\n\n00:01.000 --> 00:04.000\nmats &amp; bands, reps &lt; 10&nbsp;now\n").text == "mats & bands, reps < 10 now"
    assert read("WEBVTT\n\n00:01.000 --> 00:04.000\n<ruby>plank<rt>PLANGK</rt></ruby> now\n").text == "plank now"


def test_each_timestamp_times_the_word_after_it():
    talk = read("WEBVTT\n\n00:10.000 --> 00:14.000\nand<00:10.400><c> left</c><00:11.000><c> leg</c><00:13.500><c> up</c>\n")
    assert talk.resolution == "word"
    assert words(talk) == [("and", 10.0, 10.4), ("left", 10.4, 11.0), ("leg", 11.0, 12.0), ("up", 13.5, 14.0)]


def test_a_timestamp_before_a_phrase_times_its_first_word_only():
    talk = read("WEBVTT\n\n00:10.000 --> 00:14.000\nand left <00:12.000>then the other leg\n")
    assert words(talk) == [("and", 10.0, 11.0), ("then", 12.0, 13.0)]
    assert talk.resolution == "cue"


def test_text_hidden_by_an_open_bracket_is_reported():
    """By the rules a '<' without '>' swallows the rest; nothing is dropped in silence."""
    talk = read("WEBVTT\n\n00:01.000 --> 00:04.000\nreps < 10 please\n")
    assert talk.text == "reps"
    assert [p.line for p in talk.problems] == [3]


def test_a_broken_timing_line_is_reported():
    talk = read(f"WEBVTT\n\n00:00:01,000 --> 00:00:02,000\nlost\n\n{CUE}")
    assert talk.text == "Grab a mat."
    assert [p.line for p in talk.problems] == [3]


def test_a_header_over_timings_of_the_other_format_is_still_read():
    assert cues(read("WEBVTT\n\n1\n00:00:01,000 --> 00:00:02,000\nGo.\n")) == [(1.0, 2.0, "Go.")]


def test_an_end_before_its_start_is_reported():
    talk = read("WEBVTT\n\n00:05.000 --> 00:02.000\nGo.\n\n00:07.000 --> 00:09.000\nRest.\n")
    assert cues(talk) == [(5.0, 7.0, "Go."), (7.0, 9.0, "Rest.")]
    assert [p.line for p in talk.problems] == [3]
