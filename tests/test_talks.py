"""Scripts, the captions made of them, and the noise: what goes in can be read again."""

from __future__ import annotations

from pathlib import Path

import pytest

from parser.read import read_bytes

from .captions import WRITERS, clock
from .noise import in_words, mishear
from .talks import Done, ScriptFault, Spoken, read_script, read_script_text

GOLD = sorted(Path(__file__).with_name("gold").glob("*.talk"))
FORMAT = {"md": "stamped", "stamps": "stamped", "srt": "srt", "vtt": "vtt", "clean-vtt": "vtt", "ttml": "ttml", "json": "speech-json",
          "podcast": "podcast-json", "txt": "plain"}
SMALL = """
# A comment.
room: the yard
@0:00 Morning all.
@0:04
Three, two, one.
@0:10 work r1 m1
Go! Squats & press-ups.
@0:50 rest r1 m1
And rest.
@1:10 work b2 m3 first
Left side.
@1:30 end
"""


def only_letters(text: str) -> str:
    return "".join(ch for ch in text.lower() if ch.isalnum())


def test_words_have_the_times_of_their_stretch():
    words = read_script_text(SMALL).words
    assert [w.text for w in words[:5]] == ["Morning", "all.", "Three,", "two,", "one."]
    assert words[2].start == 4.0 and words[0].start == 0.0
    assert all(a.end <= b.start for a, b in zip(words, words[1:]))


def test_what_is_done_lasts_until_the_next_thing_begins():
    assert read_script_text(SMALL).delivered == (
        Done("work", 10, 50, round=1, number=1), Done("rest", 50, 70, round=1, number=1),
        Done("work", 70, 90, block=2, number=3, side="first"),
    )


@pytest.mark.parametrize("text, what", [
    ("@0:10 Hello.\n@0:05 Hello again.", "backwards"),
    ("Hello.\n@0:05 Hello.", "before the first time"),
    ("@0:05 work r1 q2\nHello.", "no place"),
    ("@0:00 one two three four five six seven eight nine ten\n@0:01 stop", "faster than anybody"),
])
def test_a_faulty_script_is_refused(text, what):
    with pytest.raises(ScriptFault, match=what):
        read_script_text(text)


@pytest.mark.parametrize("path", GOLD, ids=lambda p: p.stem)
def test_the_scripts_can_be_spoken_and_have_their_gold(path):
    assert len(read_script(path).words) >= 600
    assert path.with_suffix(".gold.json").is_file()


def test_there_are_scripts_enough():
    assert len(GOLD) >= 16


@pytest.mark.parametrize("shape", WRITERS)
@pytest.mark.parametrize("rate", [0.0, 0.5])
def test_a_written_file_is_read_as_what_was_said(shape, rate):
    words = mishear(read_script(GOLD[0]).words, rate=rate)
    talk = read_bytes(WRITERS[shape](words).encode(), name="talk")
    assert talk.format == FORMAT[shape]
    said = " ".join(talk.text[slice(*cue.chars)] for cue in talk.cues if not cue.heading)
    assert only_letters(said) == only_letters(" ".join(w.text for w in words))


@pytest.mark.parametrize("shape", ["vtt", "json"])
def test_word_times_come_back(shape):
    words = read_script(GOLD[0]).words
    talk = read_bytes(WRITERS[shape](words).encode(), name="talk")
    assert talk.resolution == "word"
    starts = {round(w.start, 1) for w in talk.words}
    assert sum(round(w.start, 1) in starts for w in words) > 0.95 * len(words)


def test_clock_of_captions():
    assert clock(3723.0456) == "01:02:03.046" and clock(59.9996, mark=",") == "00:01:00,000"


def said(words: list[Spoken]) -> str:
    return " ".join(w.text for w in words)


def spoken(text: str) -> list[Spoken]:
    return [Spoken(word, float(k), k + 0.9) for k, word in enumerate(text.split())]


@pytest.mark.parametrize("was, heard", [
    ("forty-five seconds", "45 seconds"),
    ("forty five seconds", "45 seconds"),
    ("Twenty on, ten off.", "20 on 10 off"),
    ("40 on", "forty on"),
    ("three rounds", "3 rounds"),
    ("the easier one is", "the easier one is"),
    ("Press-ups next.", "Press ups next"),
    ("dumbbell", "dumb bell"),
])
def test_everything_that_can_be_misheard_is_at_rate_one(was, heard):
    assert said(mishear(spoken(was), rate=1.0)).lower().replace(",", "").replace(".", "") == heard.lower()


def test_noise_is_the_same_every_time_and_none_at_rate_zero():
    words = list(read_script(GOLD[0]).words)
    assert mishear(words, rate=0.0) == words
    assert mishear(words, rate=0.3) == mishear(words, rate=0.3) != mishear(words, rate=0.6)
    assert mishear(words, rate=0.3) != mishear(words, rate=0.3, seed=12)


def test_noise_grows_with_its_rate_and_keeps_the_time():
    words = list(read_script(GOLD[0]).words)
    changed = [len({w.text for w in mishear(words, rate=rate)} - {w.text for w in words}) for rate in (0.2, 0.9)]
    assert 0 < changed[0] < changed[1]
    assert mishear(words, rate=0.9)[-1].end == pytest.approx(words[-1].end)


def test_numbers_in_words():
    assert [in_words(n) for n in (7, 15, 20, 45)] == ["seven", "fifteen", "twenty", "forty five"]
