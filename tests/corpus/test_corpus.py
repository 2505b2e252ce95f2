"""Each phrase of the corpus says what its meaning says, the whole of it and nothing else; phrases close by do not."""

from __future__ import annotations

import pytest

from parser import make_plan

from .judge import holds_values, in_its_frame, lexicon, same_values, understood, understood_without_marks
from .reading import FOLDER, MEANING_KEYS, as_talk, corpus, phrases

LEAST = {"numbers-and-times": 300, "counts-and-numbering": 150, "sides": 150, "options": 120, "repairs": 100, "phases": 100}


@pytest.mark.parametrize("name, phrase", [pytest.param(name, p, id=f"{name}: {p.id}") for name in LEAST for p in phrases(name)])
def test_phrase(name, phrase):
    right, got = understood(name, phrase)
    if phrase.known_miss:
        assert not right, f"“{phrase.said}” is understood now: python -m tests.mended takes the known_miss away"
    else:
        assert right, f"“{phrase.said}” is heard as {got}"


@pytest.mark.parametrize("phrase", phrases("phases"), ids=lambda p: p.id)
def test_phase_without_capitals_and_marks(phrase):
    right, got = understood_without_marks(phrase)
    if phrase.said in corpus("phases")["without_marks"]["known_miss"]:
        assert not right, f"“{phrase.said}” is understood now: python -m tests.mended takes it off the list"
    else:
        assert right, f"“{phrase.said}” is heard as {got}"


def test_what_is_said_to_be_missed_without_marks_is_in_the_corpus():
    assert set(corpus("phases")["without_marks"]["known_miss"]) <= {p.said for p in phrases("phases")}


@pytest.mark.parametrize("phrase", [p for p in phrases("phases") if p.meaning["phase"] == "recap"], ids=lambda p: p.id)
def test_a_recap_is_no_second_circuit_and_no_longer_warm_up(phrase):
    plan = make_plan(as_talk("".join(in_its_frame(phrase))), lexicon=lexicon())
    assert [(b.kind, len(b.movements)) for b in plan.blocks] == [("warm_up", 2), ("main", 3)]


# ---------------------------------------------------------------- the corpus itself


@pytest.mark.parametrize("name", sorted(LEAST))
def test_the_corpus_is_as_large_as_we_say(name):
    assert sum(not p.near for p in phrases(name)) >= LEAST[name]


@pytest.mark.parametrize("name", sorted(LEAST))
def test_no_phrase_stands_twice_in_a_meaning_and_no_key_is_read_by_nobody(name):
    for meaning in corpus(name)["meaning"]:
        assert set(meaning) <= MEANING_KEYS
        said = [p.said for p in phrases(name) if p.meaning is meaning]
        assert len(said) == len(set(said)) > 0


def test_every_file_of_the_corpus_is_read():
    assert {path.stem for path in FOLDER.glob("*.toml")} == set(LEAST)


@pytest.mark.parametrize("wanted, got, same, held", [
    ([["work", 40]], [["work", 40.0]], True, True),
    ([["work", 40]], [["work", 40.0], ["rest", 20.0]], False, True),
    ([["work", 40]], [["rest", 40.0]], False, False),
    ([["bouts|rounds", 8]], [["rounds", 8.0]], True, True),
    ([["reps", [8, 10]]], [["reps", [8.0, 10.0]]], True, True),
    ([], [["work", 40.0]], False, True),
])
def test_what_counts_as_the_same(wanted, got, same, held):
    assert same_values(wanted, got) is same and holds_values(wanted, got) is held
