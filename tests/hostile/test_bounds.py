"""However long and odd a file is, the work on it is bounded. What it takes is measured by ``python -m tests.bench.hostile``."""

import re
from itertools import cycle

import pytest

from parser import pipeline, read
from parser.errors import UnreadableInput
from parser.hear import shapes, tokens
from parser.hear.normal import lay
from parser.hear.numbers import read_units
from parser.hear.tables import table
from parser.hear.tokens import hear_words

from ..accuracy import FOLDER, scripts
from ..captions import WRITERS
from ..talks import read_script

TABLES = ("counts", "times", "edges", "sides", "options", "formats", "blocks", "notes", "requests", "order", "scopes")


@pytest.mark.parametrize("text", ["go " * (read.LIMIT_WORDS + 1), "x" * (read.LIMIT_LETTERS + 1)], ids=["words", "letters"])
def test_more_than_anybody_says_is_refused_in_a_line(text):
    with pytest.raises(UnreadableInput, match=r"long\.txt holds more than 100,000 words"):
        read.read_bytes(text.encode(), name="long.txt")


def test_as_much_as_somebody_might_say_is_read():
    assert read.read_bytes(b"go " * read.LIMIT_WORDS, name="long.txt").cues


@pytest.mark.parametrize("run", [",", "(", "$", "1,", "9", "a", "a.", "é", "'", "http://", "💪"])
def test_the_tokeniser_never_sees_more_than_a_word_may_hold(run, monkeypatch):
    # its time on marks without a blank between them grows faster than with the square of their number
    seen = []
    tokenise = tokens._tokeniser()
    tokens._pieces.cache_clear()
    monkeypatch.setattr(tokens, "_tokeniser", lambda: lambda text: [seen.append(text), tokenise(text)][1])
    text = f"[0:00] squats {run * 3000} and lunges {run * 3000}\n[0:10] rest {run * 20} now\n"
    words = hear_words(read.read_bytes(text.encode(), name="run.md"))
    assert max(len(found) for given in seen for found in re.findall(r"\S+", given)) <= 160      # 20 times the longest of these runs
    assert all(words.talk.text[t.start : t.end] == t.text for t in words.tokens)
    assert [t.norm for t in words.tokens if t.norm in ("squats", "lunges", "rest", "now")] == ["squats", "lunges", "rest", "now"]


def test_expressions_find_what_they_would_find_anywhere():
    """A shape is only tried where one of its first words stands, and one that may follow it: that leaves nothing out."""
    for script, shape in zip(scripts()[::2], cycle(("md", "vtt"))):      # with marks between the words, and without
        talk = read.read_bytes(WRITERS[shape](read_script(FOLDER / f"{script}.talk").words).encode(), name=f"{script}.{shape}")
        words = hear_words(talk)
        layer = lay(words, read_units(words, table("joins")), set())
        for name in TABLES:
            everywhere = [(p.shape, m.span()) for p in shapes.patterns(name) for m in re.finditer(p.expression.source, layer.text)]
            assert [(pattern.shape, match.span()) for pattern, match in shapes.find(layer, name)] == everywhere


def test_no_expression_repeats_what_repeats():
    """One repetition inside another, or two side by side of the same, is what makes an expression take forever on text that almost fits."""
    for name in TABLES:
        for pattern in shapes.patterns(name):
            for repeated in re.finditer(r"\((?:[^()]|\([^()]*\))*\)(?:[*+]|\{\d*,\d*\})", pattern.expression.source):
                # ..3 is the only repetition of a group: a few words, each with a blank before it
                assert re.search(r"\{0,\d\}$", repeated.group()), (pattern.shape, repeated.group())


@pytest.mark.parametrize("said", [
    "number " * 300, "sorry no " * 200, "one two three four " * 100, "and then " * 200, "forty on twenty off " * 100, "\u202e" * 300 + "squats",
    "squats \0 lunges", "right left " * 200, "9" * 4000 + " rounds", "1e" + "9" * 300 + " seconds", "ten " * 400, "three two one go " * 100,
])
def test_the_same_again_and_again_gives_a_plan_and_a_report(said):
    try:
        talk = read.read_bytes(f"[0:00] Two rounds, {said}\n\n[0:20] number one, {said}\n\n[90:00] {said}\n".encode(), name="again.md")
    except UnreadableInput as refused:
        assert str(refused)
        return
    assert pipeline.plan(talk).source.words
    assert pipeline.audit(talk).source.name == "again.md"


def test_a_recording_of_a_year_is_audited_without_its_clock():
    captions = ("WEBVTT\n\n00:00:00.000 --> 00:00:09.000\nThree rounds, forty on, twenty off. Number one, squats. Number two, lunges.\n\n"
                "8784:00:00.000 --> 8784:00:01.000\nGo!\n")
    report = pipeline.audit(read.read_bytes(captions.encode(), name="year.vtt"))
    assert report.delivered == []
