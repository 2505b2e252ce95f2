"""A name that a talk explains is understood inside that talk, and nowhere else."""

from __future__ import annotations

import pytest

from lexicon import load
from parser.hear.own_names import with_own_names
from parser.hear.tokens import hear_words

from .conftest import as_talk

EXPLAINED = [
    ("What I call the top shelf, that is a single-arm overhead press. Now the top shelf.", "top shelf", "overhead press"),
    ("what we call the top shelf is a single-arm overhead press", "top shelf", "overhead press"),
    ("Number one, high knees. Up, up, up. I call those speedies.", "speedies", "high knee"),
    ("Then dead bugs. We call them wobblers, everyone.", "wobblers", "dead bug"),
]
NOT_EXPLAINED = ["I call it a day.", "Call me if you're late.", "What I call a good morning's work is a lie-in.", "We call the register first."]


@pytest.mark.parametrize("said, name, base", EXPLAINED)
def test_an_explained_name_is_known_in_that_talk(said, name, base):
    lexicon = load()
    assert lexicon.find(name) is None
    found = with_own_names(hear_words(as_talk(said)), lexicon).find(name)
    assert found is not None and found.parts[0].base == base
    assert lexicon.find(name) is None, "another talk must not know it"


@pytest.mark.parametrize("said", NOT_EXPLAINED)
def test_nothing_explained_leaves_the_lexicon_as_it_is(said):
    lexicon = load()
    assert with_own_names(hear_words(as_talk(said)), lexicon) is lexicon
