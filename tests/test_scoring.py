"""The scorer itself: what counts as right, missed and too much, and that its figures can fall."""

from __future__ import annotations

import pytest

from . import accuracy
from .scoring import Figure, Mark, aligned, compare, figure, is_named, words_of
from .talks import Done


def movement(name: str, *, number: int = 1, mode: str = "both", options: tuple = (), **dose) -> dict:
    empty = dict.fromkeys(("seconds", "reps", "counts", "breaths", "metres", "calories"))
    return {"number": number, "name": name, "parts": [{"name": part} for part in name.split(" + ")],
            "sides": {"mode": mode, "seconds_each": None, "reps_each": None}, "dose": {**empty, **dose},
            "options": [{"kind": kind} for kind in options]}


def plan(*movements: dict, **settings) -> dict:
    return {"source": {"resolution": "cue"}, "focus": [], "stated_length": None, "equipment": [],
            "totals": {"main_s": [None, None]}, "blocks": [{"kind": "main", "format": "interval", "movements": list(movements), **settings}]}


def report(findings=(), delivered=()) -> dict:
    return {"findings": list(findings), "delivered": list(delivered)}


def finding(code: str, start: float, *, corrected: bool = False, severity: str = "warning") -> dict:
    return {"code": code, "severity": severity, "corrected": corrected, "message": "", "said": [{"start": start, "end": start + 2}]}


def work(start: float, end: float, number: int = 1) -> dict:
    return {"kind": "work", "block": 1, "round": 1, "number": number, "start": start, "end": end}


def of(marks: list[Mark], slot: str) -> Figure:
    return figure(m for m in marks if m.slot == slot)


def test_figures_of_two_right_one_missed_one_too_much():
    got = figure([Mark("x", 1, 1), Mark("x", 2, 2), Mark("x", 3, None), Mark("x", None, 4)])
    assert (got.right, got.missed, got.extra) == (2, 1, 1)
    assert got.precision == got.recall == got.f1 == pytest.approx(2 / 3)


def test_a_wrong_value_is_missed_and_too_much():
    assert figure([Mark("x", 40, 20)]) == Figure(0, 1, 1)


@pytest.mark.parametrize("got, accepted, right", [
    ("goblet squats", ["goblet squat"], True),
    ("deep goblet squat", ["goblet squat"], True),
    ("squat", ["goblet squat"], False),
    ("push ups", ["push-up", "press-up"], True),
    ("single-arm dumbbell row", ["dumb bell row"], True),
    ("split squat", ["lunge"], False),
])
def test_names(got, accepted, right):
    assert is_named({"name": got}, accepted) is right


def test_plural_and_joined_words_are_one():
    assert words_of("Press-Ups") == words_of("press up") == {"pressup"}
    assert words_of("cross") == {"cross"}


def test_movements_are_paired_in_order_and_the_rest_stand_alone():
    gold = [{"parts": [["squat"]]}, {"parts": [["row"]]}, {"parts": [["plank"]]}]
    got = [movement("row"), movement("burpee"), movement("plank")]
    assert [(g and g["parts"][0][0], p and p["name"]) for g, p in aligned(gold, got)] == [
        ("squat", None), ("row", "row"), (None, "burpee"), ("plank", "plank"),
    ]


def test_a_plan_against_its_gold():
    gold = {"blocks": [{"kind": "main", "format": "interval", "work_s": 40, "rest_s": 20, "movements": [
        {"number": 1, "parts": [["squat"]], "sides": "both", "options": ["regression"]},
        {"number": 2, "parts": [["lunge"], ["curl"]], "sides": "alternating", "dose": {"reps": 10}}]}]}
    marks = compare(gold, plan(movement("squat", options=("regression", "progression")), movement("lunge + press", number=3, mode="each", reps=10.0),
                               work_s=40.0, rest_s=None), report(), ())
    assert of(marks, "block") == Figure(1) and of(marks, "format") == Figure(1) and of(marks, "movement") == Figure(2)
    assert of(marks, "timing") == Figure(1, 1, 0)
    assert of(marks, "option") == Figure(1, 0, 1)
    assert of(marks, "part") == Figure(2, 1, 1)
    assert of(marks, "number") == of(marks, "sides") == Figure(1, 1, 1)
    assert of(marks, "dose") == Figure(1)


def test_what_gold_leaves_out_is_not_compared():
    assert compare({}, plan(movement("squat")), report([finding("work-off", 3)]), ()) == []


def test_optional_equipment_that_gold_has_not_costs_nothing():
    listed = [{"name": n, "optional": o} for n, o in (("mats", False), ("chair", True), ("rope", False))]
    marks = compare({"equipment": ["mat"]}, {**plan(), "equipment": listed}, report(), ())
    assert of(marks, "equipment") == Figure(1, 0, 1)


@pytest.mark.parametrize("got, right", [
    (finding("work-off", 101), Figure(1)),
    (finding("work-off", 130), Figure(0, 1, 1)),
    (finding("rest-off", 101), Figure(0, 1, 1)),
    (finding("work-off", 101, corrected=True), Figure(0, 1, 1)),
    (finding("option-missing", 101), Figure(0, 1, 0)),
    (finding("work-off", 130, severity="note"), Figure(0, 1, 0)),
])
def test_findings_need_the_code_and_the_place(got, right):
    gold = {"findings": [{"code": "work-off", "at": [100, 110], "corrected": False}]}
    assert of(compare(gold, plan(), report([got]), ()), "finding") == right


def test_delivered_intervals_need_their_edges_and_their_number():
    done = [Done("work", 10, 50, round=1, number=1), Done("work", 70, 110, round=1, number=2)]
    near = compare({}, plan(), report(delivered=[work(12, 48), work(70, 110, 3)]), done)
    assert of(near, "delivered") == Figure(1, 1, 1)
    far = compare({}, plan(), report(delivered=[work(14, 50)]), done[:1])
    assert of(far, "delivered") == Figure(0, 1, 1)


# ---------------------------------------------------------------- the stated figures


def test_a_figure_below_what_is_stated_is_told():
    said = {"file": {"md clean": 0.90}, "slot": {"sides": 0.80, "gone": 0.5}}
    assert accuracy.below({"file": {"md clean": 0.90}, "slot": {"sides": 0.799}}, said) == [
        "sides: 0.799, stated 0.80", "gone: 0.000, stated 0.50",
    ]


def test_stated_figures_are_never_more_than_was_reached():
    assert accuracy.floored(0.9199) == 0.91 and accuracy.floored(0.92) == 0.92 and accuracy.floored(1.0) == 1.0
