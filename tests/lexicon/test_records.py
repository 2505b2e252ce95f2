"""The records that the command line prints."""

import json

from lexicon import find_record, list_movements, same_record


def test_the_record_of_a_phrase(lexicon):
    record = find_record(lexicon, "single-arm dumbbell row")
    assert record.pop("neighbours")
    assert json.loads(json.dumps(record)) == {
        "phrase": "single-arm dumbbell row", "match": True, "name": "dumbbell single-arm row",
        "parts": [{
            "name": "dumbbell single-arm row", "base": "single-arm row", "modifiers": ["dumbbell"], "equipment": ["dumbbell"],
            "patterns": ["horizontal-pull"], "muscles": record["parts"][0]["muscles"],
        }],
        "sides": "each", "equipment": ["dumbbell"], "rung": "exact", "score": 100.0,
    }
    assert "lats" in record["parts"][0]["muscles"]


def test_the_record_of_no_movement(lexicon):
    record = find_record(lexicon, "goblet of fire")
    assert record["match"] is False
    assert record["name"] is record["rung"] is record["score"] is record["sides"] is None
    assert record["parts"] == record["equipment"] == []


def test_neighbours_are_near_and_not_itself(lexicon):
    near = find_record(lexicon, "goblet squat")["neighbours"]
    assert all(n["name"] != "goblet squat" and 50 <= n["score"] <= 100 for n in near)
    assert [n["score"] for n in near] == sorted((n["score"] for n in near), reverse=True)


def test_the_record_of_a_pair(lexicon):
    assert same_record(lexicon, "press-up", "push-up") == {"a": "press-up", "b": "push-up", "same": True, "why": "Both are the push-up."}


def test_the_list_is_filtered(lexicon):
    hinges = list_movements(lexicon, pattern="hinge", equipment="kb")
    assert hinges and all("hinge" in e.patterns and "kettlebell" in e.equipment for e in hinges)
    assert [e.name for e in hinges] == sorted(e.name for e in hinges)
    assert all("lats" in (*e.primary, *e.secondary) for e in list_movements(lexicon, muscle="lats"))
    assert list_movements(lexicon, pattern="no such pattern") == []
    assert len(list_movements(lexicon)) >= 450
