"""When a word can have been said: stamped paragraphs, cues, word times."""

from __future__ import annotations

from parser.follow.moments import silences, windows
from parser.hear.tokens import hear_words
from parser.read import read_bytes


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
