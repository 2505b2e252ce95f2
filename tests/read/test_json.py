"""JSON of speech-to-text models (no standard; shapes from memory) and of the podcast namespace's transcript element."""

import json

import pytest

from parser.errors import UnreadableInput

from .talk import cues, read, words

WORDS = [
    {"word": " Grab", "start": 1.0, "end": 1.3, "probability": 0.9},
    {"word": " a", "start": 1.3, "end": 1.4, "probability": 0.9},
    {"word": " mat,", "start": 1.4, "end": 1.9, "probability": 0.9},
]
TIMED = [("Grab", 1.0, 1.3), ("a", 1.3, 1.4), ("mat,", 1.4, 1.9)]
SEGMENT = {"id": 0, "start": 1.0, "end": 2.5, "text": " Grab a mat,", "words": WORDS}


@pytest.mark.parametrize(
    "tree",
    [
        {"text": " Grab a mat,", "segments": [SEGMENT], "language": "en"},
        [SEGMENT],
        {"segments": [{**SEGMENT, "text": "Grab  a\nmat,"}]},
        {"segments": [{**SEGMENT, "words": [{**w, "word": w["word"].strip()} for w in WORDS]}]},
        {"segments": [{**SEGMENT, "words": [{"text": w["word"], "start": w["start"], "end": w["end"]} for w in WORDS]}]},
        {"segments": [{**SEGMENT, "start": None, "end": None}]},
    ],
)
def test_segments_with_words(tree):
    talk = read(json.dumps(tree))
    assert talk.format == "speech-json"
    assert talk.resolution == "word"
    assert talk.text == "Grab a mat,"
    assert words(talk) == TIMED
    assert talk.cues[0].start == 1.0


def test_segments_without_words_are_cues():
    talk = read(json.dumps({"segments": [{"start": 1, "end": 2.5, "text": " Grab a mat."}, {"start": 3, "end": 4, "text": " Go."}]}))
    assert talk.resolution == "cue"
    assert cues(talk) == [(1.0, 2.5, "Grab a mat."), (3.0, 4.0, "Go.")]


def test_chunks_with_timestamp_pairs():
    talk = read(json.dumps({"text": "", "chunks": [{"timestamp": [1.0, 2.5], "text": " Grab a mat."}, {"timestamp": [3.0, None], "text": " Go."}]}))
    assert cues(talk) == [(1.0, 2.5, "Grab a mat."), (3.0, None, "Go.")]


def test_offsets_in_milliseconds():
    talk = read(json.dumps({"transcription": [{"offsets": {"from": 1000, "to": 2500}, "text": " Grab a mat."}]}))
    assert cues(talk) == [(1.0, 2.5, "Grab a mat.")]


@pytest.mark.parametrize("joint", ["\n", "", " \n\n"])
def test_one_result_after_another(joint):
    """A recogniser that writes one JSON object an utterance, one after the other."""
    first = {"result": [{"conf": 1.0, "start": 1.0, "end": 1.3, "word": "grab"}, {"start": 1.4, "end": 1.9, "word": "mats"}], "text": "grab mats"}
    second = {"result": [{"start": 5.0, "end": 5.4, "word": "go"}], "text": "go"}
    talk = read(joint.join(json.dumps(tree, indent=1) for tree in (first, second)))
    assert words(talk) == [("grab", 1.0, 1.3), ("mats", 1.4, 1.9), ("go", 5.0, 5.4)]
    assert cues(talk) == [(1.0, 1.9, "grab mats"), (5.0, 5.4, "go")]


def test_words_alone_are_gathered_into_cues_at_pauses_and_sentences():
    rows = [("Grab", 0.0), ("mats.", 0.4), ("Sit", 0.8), ("down", 1.2), ("and", 5.0), ("up", 5.4)]
    talk = read(json.dumps({"words": [{"word": w, "start": t, "end": t + 0.3} for w, t in rows]}))
    assert talk.text.split("\n") == ["Grab mats.", "Sit down", "and up"]
    assert len(talk.words) == 6


def test_a_word_without_a_time_stays_in_the_text():
    tree = {"segments": [{"start": 0, "end": 2, "text": "go 40 seconds", "words": [{"word": "go", "start": 0, "end": 0.3}, {"word": "40"}, {"word": "seconds", "start": 1, "end": 1.5}]}]}
    talk = read(json.dumps(tree))
    assert talk.text == "go 40 seconds"
    assert words(talk) == [("go", 0.0, 0.3), ("seconds", 1.0, 1.5)]


def test_pieces_of_a_word_are_one_word():
    tree = {"segments": [{"start": 0, "end": 2, "text": " forty-five", "words": [{"word": " forty", "start": 0, "end": 0.3}, {"word": "-five", "start": 0.3, "end": 0.8}]}]}
    assert words(read(json.dumps(tree))) == [("forty-five", 0.0, 0.8)]


def test_times_that_are_none_are_none():
    text = '{"segments": [{"start": NaN, "end": Infinity, "text": "Go."}, {"start": -4, "end": 2, "text": "Rest."}, {"start": 1e999, "end": 3, "text": "Row."}]}'
    talk = read(text)
    assert [cue[0] for cue in cues(talk)] == [None, None, None]
    assert len(talk.problems) == 3


def test_half_a_surrogate_pair_does_not_break_the_text():
    talk = read('{"segments": [{"start": 0, "end": 1, "text": "go \\ud83d now"}]}')
    assert talk.text == "go \ufffd now"


# ---------------------------------------------------------------- podcast namespace


def podcast(*segments) -> str:
    return json.dumps({"version": "1.0.0", "segments": [dict(zip(("speaker", "startTime", "endTime", "body"), s)) for s in segments]})


def test_podcast_segments_are_cues():
    talk = read(podcast(("Wren", 0.5, 2.0, "Grab a mat."), ("Dee", 2.5, 4.0, "Got one.")))
    assert talk.format == "podcast-json"
    assert cues(talk) == [(0.5, 2.0, "Grab a mat."), (2.5, 4.0, "Got one.")]


def test_podcast_segments_of_one_word_are_word_times():
    rows = [("Wren", 0.5 * n, 0.5 * n + 0.4, word) for n, word in enumerate("feet under hips and soft knees now".split())]
    talk = read(podcast(*rows))
    assert talk.resolution == "word"
    assert cues(talk) == [(0.0, 3.4, "feet under hips and soft knees now")]


# ---------------------------------------------------------------- JSON of another shape


@pytest.mark.parametrize("text", ["{}", "[]", '{"a": 1}', "[1, 2, 3]", '{"segments": []}', '{"segments": [{"id": 1}]}', '{"segments": 7}', '[["0:00", "Go"]]', "[0]"])
def test_json_of_another_shape_is_refused_with_what_is_missing(text):
    with pytest.raises(UnreadableInput, match="JSON, but not a transcript"):
        read(text)


@pytest.mark.parametrize("text", ['{"segments": [{"start": 0, "te', '[{"start": 0,\n "end": }]', '{"segments": [' + "9" * 5000 + "]}"])
def test_broken_json_is_refused(text):
    with pytest.raises(UnreadableInput, match="JSON"):
        read(text)


def test_json_nested_too_deep_is_refused():
    with pytest.raises(UnreadableInput, match="nested too deep"):
        read("[" * 100_000 + "]" * 100_000)


def test_text_that_begins_with_a_bracket_is_text():
    assert read("[laughs] Morning all, grab a mat.").format == "plain"
    assert read("{whispers} Morning all, grab a mat.").format == "plain"
