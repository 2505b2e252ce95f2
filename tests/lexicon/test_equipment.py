"""Equipment with its synonyms, numbers and what does at home."""

import pytest


def found(lexicon, speech):
    return [(e.name, e.quantity) for e in lexicon.scan_equipment(speech.split(), {0})]


@pytest.mark.parametrize(("speech", "equipment"), [
    ("grab two light dumbbells a mat and a resistance band", [("dumbbell", 2), ("mat", 1), ("resistance band", 1)]),
    ("a pair of dumbbells", [("dumbbell", 2)]),
    ("two 5 kilo dumbbells", [("dumbbell", 2)]),
    ("a 12 kg kettlebell", [("kettlebell", 1)]),
    ("one or two dumbbells", [("dumbbell", None)]),
    ("dumbbells please", [("dumbbell", None)]),
    ("your dumb bells", [("dumbbell", None)]),
    ("both weights", [("weight", 2)]),
    ("a chair or a bench", [("chair", 1), ("bench", 1)]),
    ("two tins of beans or two bottles of water", [("tin of beans", 2), ("water bottle", 2)]),
    ("a tea towel and a rucksack", [("towel", 1), ("backpack", 1)]),
    ("find a wall", [("wall", 1)]),
])
def test_equipment_and_how_many(lexicon, speech, equipment):
    assert found(lexicon, speech) == equipment


@pytest.mark.parametrize(("speech", "names"), [
    ("one kettlebell now put the bell down", ["kettlebell", "kettlebell"]),
    ("two dumbbells both bells up", ["dumbbell", "dumbbell"]),
    ("pick up the bells", ["weight"]),
])
def test_a_bell_is_whichever_was_spoken_of(lexicon, speech, names):
    assert [name for name, _ in found(lexicon, speech)] == names


@pytest.mark.parametrize(("speech", "names"), [
    ("you want gloves on and you want a bag to yourself", ["boxing gloves", "punch bag"]),
    ("find your bag and then your wraps hand wraps on", ["punch bag", "hand wraps"]),
    ("a sandbag each put the bag on your shoulder", ["sandbag", "sandbag"]),
    ("put your bag by the wall", ["wall"]),
    ("we are on the rowing machines a machine each", ["rowing machine", "rowing machine"]),
    ("sit on the machine", ["machine"]),
])
def test_a_bag_and_a_machine_are_what_goes_with_what_was_spoken_of(lexicon, speech, names):
    assert [name for name, _ in found(lexicon, speech)] == names


@pytest.mark.parametrize("speech", ["step up now", "we can do it", "wall to wall", "tie your laces", "stick with it", "brick by brick", "raise the roof"])
def test_everyday_words_need_an_article_or_a_number(lexicon, speech):
    assert found(lexicon, speech) == []


def test_the_words_are_given_back(lexicon):
    (match,) = lexicon.scan_equipment("grab a yoga mat".split())
    assert (match.start, match.end, match.words) == (2, 4, ("yoga", "mat"))
