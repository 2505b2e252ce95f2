"""TTML captions. Time expressions and nesting: W3C TTML2, section 12.3 (media time) and 10.2 (timing), read from memory."""

import pytest

from parser.errors import UnreadableInput
from parser.read.ttml import Rates, moment

from .talk import cues, read, words

NS = 'xmlns="http://www.w3.org/ns/ttml" xmlns:tts="http://www.w3.org/ns/ttml#styling" xmlns:ttp="http://www.w3.org/ns/ttml#parameter"'


def tt(body: str, attributes: str = "") -> str:
    return f'<?xml version="1.0" encoding="UTF-8"?>\n<tt {NS} {attributes}><head><metadata>Not said</metadata></head>{body}</tt>'


@pytest.mark.parametrize(
    "written, seconds",
    [
        ("00:01:02.500", 62.5), ("00:01:02", 62.0), ("00:01:02:15", 62.5), ("62.5s", 62.5), ("1500ms", 1.5), ("2m", 120.0),
        ("0.5h", 1800.0), ("90f", 3.0), ("9t", 9.0), ("100:00:01", 360001.0), ("12", None), ("-1s", None), ("", None),
        (None, None), ("1:2:3", None), ("9" * 400 + "s", None),
    ],
)
def test_time_expressions(written, seconds):
    assert moment(written, Rates(frames=30.0, ticks=1.0)) == seconds


def test_paragraphs_become_cues():
    talk = read(tt('<body><div><p begin="1s" end="4s">Grab a mat.<br/>And   sit.</p><p begin="5s" dur="2s">Go.</p></div></body>'))
    assert talk.format == "ttml"
    assert cues(talk) == [(1.0, 4.0, "Grab a mat.\nAnd sit."), (5.0, 7.0, "Go.")]


def test_times_nest():
    talk = read(tt('<body begin="10s"><div begin="5s"><p begin="1s" end="4s">Grab a mat.</p></div></body>'))
    assert cues(talk) == [(16.0, 19.0, "Grab a mat.")]


def test_a_sequence_counts_from_the_one_before():
    talk = read(tt('<body><div timeContainer="seq"><p dur="3s">Go.</p><p dur="4s">Rest.</p><p begin="1s" dur="2s">Row.</p></div></body>'))
    assert cues(talk) == [(0.0, 3.0, "Go."), (3.0, 7.0, "Rest."), (8.0, 10.0, "Row.")]


def test_spans_with_times_are_word_times():
    body = '<p begin="10s" end="14s"><span begin="0s">and</span> <span begin="0.5s">left</span> <span begin="1s">up</span></p>'
    talk = read(tt(f"<body><div>{body}</div></body>"))
    assert talk.resolution == "word"
    assert words(talk) == [("and", 10.0, 10.5), ("left", 10.5, 11.0), ("up", 11.0, 12.0)]


def test_frame_and_tick_rates_of_the_file_count():
    assert cues(read(tt('<body><p begin="00:00:01:12" end="50f">Go.</p></body>', 'ttp:frameRate="25"')))[0][:2] == (1.48, 2.0)
    assert cues(read(tt('<body><p begin="10000000t" end="20000000t">Go.</p></body>', 'ttp:tickRate="10000000"')))[0][:2] == (1.0, 2.0)


def test_what_is_not_spoken_is_left_out():
    body = (
        '<p begin="1s" end="2s"><metadata><desc>no</desc></metadata>pl<!-- no -->ank'
        '<span tts:ruby="container"><span tts:ruby="base"> now</span><span tts:ruby="text">NOW</span></span></p>'
    )
    assert read(tt(f"<body><div>{body}</div></body>")).text == "plank now"


def test_a_prefix_on_the_root_is_still_ttml():
    text = '<tt:tt xmlns:tt="http://www.w3.org/ns/ttml"><tt:body><tt:p begin="1s" end="2s">Go.</tt:p></tt:body></tt:tt>'
    assert cues(read(text)) == [(1.0, 2.0, "Go.")]


def test_without_any_time_nothing_timed_is_claimed():
    talk = read(tt("<body><div><p>Grab a mat.</p></div></body>"))
    assert talk.resolution == "none" and talk.duration_s is None
    assert cues(talk) == [(None, None, "Grab a mat.")]


def test_utf16_with_its_declaration():
    text = tt('<body><p begin="1s" end="2s">plié</p></body>').replace("UTF-8", "UTF-16")
    assert read(text, "utf-16").text == "plié"


def test_broken_or_hostile_xml_is_refused():
    with pytest.raises(UnreadableInput, match="line 2"):
        read(tt("<body><p>Go.</body>"))
    bomb = '<!DOCTYPE tt [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]><tt><body><p begin="1s">&b;</p></body></tt>'
    with pytest.raises(UnreadableInput, match="entities"):
        read(bomb)


def test_deep_nesting_is_no_crash():
    depth = 20_000
    text = tt("<body><p begin='1s' end='2s'>" + "<span>" * depth + "Go." + "</span>" * depth + "</p></body>")
    assert read(text).text == "Go."
