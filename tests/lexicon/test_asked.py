"""What is asked for, and all kinds of it; and what is asked for of equipment."""

import pytest

from lexicon import asked_for

NAMES = ("press", "half-kneeling press", "single-arm half-kneeling press", "overhead press", "push press", "chest press", "squat", "goblet squat", "jump squat",
         "row", "single-arm row", "kettlebell row", "thruster", "sit-up")


@pytest.fixture(scope="module")
def known(lexicon):
    """Each as a plan has it."""
    return {name: (part.base, part.modifiers) for name in NAMES for part in lexicon.find(name).parts}


@pytest.mark.parametrize(("asked", "found"), [
    ("half-kneeling press", {"half-kneeling press", "single-arm half-kneeling press"}), ("half kneeling press", {"half-kneeling press", "single-arm half-kneeling press"}),
    ("squat", {"squat", "goblet squat"}), ("goblet squat", {"goblet squat"}), ("single-arm row", {"single-arm row"}), ("one arm row", {"single-arm row"}),
    ("row", {"row", "single-arm row", "kettlebell row"}), ("shoulder press", {"overhead press"}), ("sit ups", {"sit-up"}), ("squat to press", {"thruster"}),
    ("press", {"press", "half-kneeling press", "single-arm half-kneeling press", "overhead press", "push press", "chest press"}), ("burpee", set()),
])
def test_what_is_asked_for_and_its_kinds(lexicon, known, asked, found):
    assert asked_for(lexicon, asked, known) == [found]


def test_of_a_chain_each_part(lexicon, known):
    assert asked_for(lexicon, "row to goblet squat", known) == [{"row", "single-arm row", "kettlebell row"}, {"goblet squat"}]


def test_no_movement(lexicon, known):
    assert asked_for(lexicon, "wibble", known) is None


def test_what_another_edition_wrote_is_not_asked_for(lexicon):
    assert asked_for(lexicon, "row", {1: ("no such base", ()), 2: ("row", ("no such modifier",)), 3: ("row", ())}) == [{3}]


def test_every_movement_is_a_kind_of_itself(lexicon):
    entries = [m for m in lexicon.movements() if lexicon.find(m.name) is not None]
    known = {m.name: (part.base, part.modifiers) for m in entries for part in lexicon.find(m.name).parts[:1]}
    for m in entries[::7]:
        assert m.name in asked_for(lexicon, m.name, known)[0]


@pytest.mark.parametrize(("phrase", "name"), [
    ("dumbbells", "dumbbell"), ("a pair of dumbbells", "dumbbell"), ("Kettle Bell", "kettlebell"), ("yoga mat", "mat"), ("mat", "mat"), ("box", "box"),
    ("blorp", None), ("dumbbell of doom", None), ("", None),
])
def test_equipment(lexicon, phrase, name):
    assert lexicon.equipment(phrase) == name
