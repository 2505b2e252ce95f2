"""When a word can have been said: stamped paragraphs, cues, word times."""

from __future__ import annotations

import pytest

from parser.follow.moments import _stamp_gap, silences, windows
from parser.hear.tokens import hear_words
from parser.read import read_bytes

from ..captions import WRITERS
from ..talks import Spoken


def placed(text: str, name: str = "talk.md"):
    words = hear_words(read_bytes(text.encode(), name=name))
    return {t.norm: span for t, span in zip(words.tokens, windows(words))}, words


def test_the_first_words_of_a_stamp_are_placed_well_and_a_later_sentence_is_not():
    spans, _ = placed("[0:00] Push the floor away. Breathe.\n\n[0:22] Rest.\n")
    assert spans["push"][1] - spans["push"][0] <= 1.5
    assert spans["breathe"][0] < 3 and spans["breathe"][1] > 15


def test_a_full_paragraph_leaves_no_room():
    talk = "Push. " * 58
    spans, _ = placed(f"[0:00] {talk}\n\n[0:22] Rest.\n")
    assert spans["rest"][0] == 22
    # 58 words are 22 s of speech: the middle one is near the middle
    words = hear_words(read_bytes(f"[0:00] {talk}\n\n[0:22] Rest.\n".encode(), name="t.md"))
    low, high = windows(words)[29]
    assert 7 <= low <= 11.5 and 11 <= high <= 15


def test_where_stamps_come_by_the_clock_no_word_is_later_than_the_step():
    stamps = "".join(f"[{t // 60}:{t % 60:02}] Go on. Good.\n\n" for t in range(0, 220, 22))
    _spans, words = placed(stamps + "[4:40] Rest here. Well done.\n\n[5:02] Bye.\n")
    # before 4:40 nobody spoke for a minute: the words of 3:18 are still said within their step
    at = next(t.i for t in reversed(words.tokens) if t.norm == "good")
    assert windows(words)[at][1] <= 198 + 24


def test_a_sentence_that_runs_over_a_stamp_is_said_right_before_it():
    spans, _ = placed("[0:00] Hold it. Stretch your\n\n[0:22] legs out and lie down. Good.\n\n[0:44] Rest.\n")
    assert spans["your"][0] >= 20 and spans["your"][1] <= 23


def test_silence_lies_before_a_sentence_never_inside_one():
    _, words = placed("[0:00] Push the floor away. Breathe out.\n\n[0:22] Rest.\n")
    marks = [words.tokens[i].norm for i, _ in silences(words, windows(words))]
    assert marks == ["push", "breathe", "rest"]


def to_the_word(text: str, name: str = "talk.md") -> list[tuple[str, float, float]]:
    words = hear_words(read_bytes(text.encode(), name=name))
    return [(t.norm, round(low, 2), round(high, 2)) for t, (low, high) in zip(words.tokens, windows(words))]


# Words are said at 2.2 to 3.3 a second; a stamp cuts off up to a second, the time of a cue up to 0.3 s.


def test_a_word_with_a_time_of_its_own_is_where_it_says():
    words = [Spoken("Push", 5.0, 5.3), Spoken("now.", 6.0, 6.3), Spoken("And", 20.0, 20.2), Spoken("go!", 20.5, 20.7)]
    assert to_the_word(WRITERS["vtt"](words), "talk.vtt") == [("push", 4.85, 5.15), ("now", 5.85, 6.15), ("and", 19.85, 20.15), ("go", 20.35, 20.65)]


def test_the_words_of_a_cue_come_at_the_pace_of_speech_and_silence_lies_between_its_sentences():
    said = "1\n00:00:10,000 --> 00:00:13,000\nPush the floor. Breathe now.\n\n2\n00:00:20,000 --> 00:00:23,000\nRest.\n"
    assert to_the_word(said, "talk.srt") == [
        ("push", 10.0, 10.3), ("the", 10.3, 10.75), ("floor", 10.61, 11.21),
        # two words before the end: at the latest 2 / 3.3 s and the slack before it
        ("breathe", 10.91, 12.69), ("now", 11.21, 13.0), ("rest", 20.0, 20.3),
    ]


@pytest.mark.parametrize(("end", "step"), [("11,000", 1 / 6), ("10,100", 0.5 / 6)], ids=["a second", "a tenth, taken for half a second"])
def test_in_a_cue_fuller_than_that_they_are_spread_over_it(end, step):
    said = f"1\n00:00:10,000 --> 00:00:{end}\nOne big step and hold it\n\n2\n00:00:20,000 --> 00:00:23,000\nRest.\n"
    assert [low for _, low, _ in to_the_word(said, "talk.srt")] == [round(10 + k * step, 2) for k in range(6)] + [20.0]


def test_a_sentence_that_goes_on_under_the_next_stamp_is_said_right_before_it_to_the_word():
    said = "[0:00] Hold it. Stretch your\n\n[0:22] legs out. Good.\n\n[0:44] Rest.\n"
    assert to_the_word(said) == [
        ("hold", 0.0, 1.0), ("it", 0.3, 1.45),
        # at 2.2 to 3.3 words a second before 0:22
        ("stretch", round(22 - 2 / 2.2, 2), round(22 - 2 / 3.3 + 1, 2)), ("your", round(22 - 1 / 2.2, 2), round(22 - 1 / 3.3 + 1, 2)),
        ("legs", 22.0, 23.0), ("out", 22.3, 23.45), ("good", 22.61, round(44 - 1 / 3.3 + 1, 2)), ("rest", 44.0, 45.0),
    ]


def test_words_before_the_first_stamp_are_said_at_the_beginning():
    assert to_the_word("Hello all.\n\n[0:10] Go on.\n") == [("hello", 0.0, 1.0), ("all", 0.3, 1.45), ("go", 10.0, 11.0), ("on", 10.25, 11.25)]


@pytest.mark.parametrize(("stamps", "gap"), [
    (range(0, 147, 21), 22.0), (range(0, 126, 21), None),                                   # six gaps tell, five do not
    (range(0, 56, 8), 9.0), (range(0, 49, 7), None),                                        # so close together they come with the sentences
    ((0, 20, 40, 72, 105, 165, 225), 21.0), ((0, 20, 40, 73, 106, 166, 226), None),         # half of the gaps are within 1.6 of the shortest
    ((*range(0, 399, 21), 381), None), ((*range(0, 420, 21), 402), 22.0),                   # one in twenty may be odd
    ((0, 21, 42, 42, 63, 84, 105, 126), 22.0),                                              # a stamp said twice is no gap
])
def test_the_step_of_a_transcript_that_is_stamped_by_the_clock(stamps, gap):
    text = "\n\n".join(f"[{t // 60}:{t % 60:02}] Go on. Good." for t in stamps)
    assert _stamp_gap(hear_words(read_bytes(text.encode(), name="talk.md"))) == gap


def test_a_silence_may_lie_before_any_sentence_that_is_placed_badly_and_lies_before_one_that_is_placed_late():
    words = hear_words(read_bytes(b"[0:00] Push the floor away. Breathe out. Good.\n\n[0:22] Rest.\n", name="talk.md"))
    assert [(words.tokens[i].norm, share) for i, share in silences(words, windows(words))] == [
        ("push", 1.0), ("breathe", 1 / 3), ("good", 1 / 3), ("rest", 1.0)]
    words = hear_words(read_bytes(b"[0:00] Hold it. Stretch your\n\n[0:22] legs out and lie down. Good.\n\n[0:44] Rest.\n", name="talk.md"))
    assert [(words.tokens[i].norm, share) for i, share in silences(words, windows(words))] == [
        ("hold", 1.0), ("stretch", 1.0), ("good", 0.5), ("rest", 1.0)]


def test_in_a_full_paragraph_there_is_no_room_for_silence():
    words = hear_words(read_bytes(("[0:00] " + "Push. " * 72 + "\n\n[0:22] Rest.\n").encode(), name="talk.md"))
    assert silences(words, windows(words)) == [(0, 1.0), (72, 1.0)]
