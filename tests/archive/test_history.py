"""Programming over time, by hand over classes of a few movements."""

from datetime import date, timedelta

import pytest

from parser.archive.history import Known, Use, look_back, period
from parser.render.look import Look
from parser.render.review import history as page
from parser.review.history import PushPull, SideCount

from .plans import TRAINS, block, movement, plan

PATTERNS = ("squat", "hinge", "lunge", "horizontal-push", "vertical-push", "horizontal-pull", "vertical-pull", "carry", "mobility", "hold")
MUSCLES = ("quadriceps", "hamstrings", "chest", "shoulders", "neck")
UNTIL = date(2026, 4, 10)  # a Friday


def looked_back(*classes, until=UNTIL, weeks=4, **counts):
    """``classes``: ``(day, plan)``, numbered from 1."""
    span = period(until, weeks)
    days, uses, seen = {}, [], {}
    for number, (day, made) in enumerate(classes, 1):
        own = [
            Use(number, day, b.kind, item, part.base, m.sides.mode, m.sides.first)
            for item, (b, m) in enumerate((b, m) for b in made.blocks for m in b.movements) for part in m.parts
        ]
        if day <= until:
            for name in {u.base for u in own if u.kind == "main"}:
                seen.setdefault(name, []).append(day)
        if span.since <= day <= until:
            days[number] = day
            uses += own
    known = {name: Known(*map(frozenset, TRAINS[name]), len(found), max(found)) for name, found in seen.items()}
    return look_back(span, days, uses, known, patterns=PATTERNS, muscles=MUSCLES, **counts)


def of(rows):
    return {row.name: (row.classes, row.weeks) for row in rows}


@pytest.mark.parametrize("until", [date(2026, 4, 10), date(2026, 1, 1), date(2027, 1, 3), date(2024, 2, 29)])
def test_weeks_are_those_of_iso_8601(until):
    """ISO 8601 by Python's own calendar: each week starts on a Monday, and the last one has ``until`` in it."""
    found = period(until, 6)
    assert [monday.isocalendar().weekday for monday in found.weeks] == [1] * 6
    assert found.weeks[-1].isocalendar()[:2] == until.isocalendar()[:2]
    assert [b - a for a, b in zip(found.weeks, found.weeks[1:])] == [timedelta(weeks=1)] * 5
    assert found.since == found.weeks[0] and found.until == until


@pytest.mark.parametrize("weeks", [0, -3, 10**6, 10**12])
def test_weeks_that_no_calendar_has(weeks):
    with pytest.raises(ValueError, match="week"):
        period(UNTIL, weeks)


def test_movements_by_week_and_when_last():
    found = looked_back(
        (date(2026, 3, 1), plan(block("pull-up"))), (date(2026, 3, 16), plan(block("squat", "row"))),
        (date(2026, 3, 22), plan(block("squat"), block("squat"))), (date(2026, 4, 10), plan(block("squat"))),
        (date(2026, 4, 11), plan(block("row"))),
    )
    assert found.classes == 3 and found.per_week == [2, 0, 0, 1]
    assert of(found.movements) == {"squat": (3, [2, 0, 0, 1]), "row": (1, [1, 0, 0, 0])}
    assert [u.last for u in found.movements] == [date(2026, 4, 10), date(2026, 3, 16)]
    assert [(u.name, u.classes, u.last) for u in found.movements_unused] == [("pull-up", 1, date(2026, 3, 1))]


def test_what_never():
    found = looked_back((date(2026, 3, 1), plan(block("pull-up"))), (UNTIL, plan(block("thruster"))))
    assert [(u.name, u.last) for u in found.patterns_unused] == [
        ("hinge", None), ("lunge", None), ("horizontal-push", None), ("horizontal-pull", None), ("vertical-pull", date(2026, 3, 1)),
        ("carry", None), ("mobility", None), ("hold", None),
    ]
    assert [u.name for u in found.muscles_unused] == ["hamstrings", "chest", "neck"]


def test_a_stretch_trains_nothing():
    """Its muscles are stretched, its shape is no pattern, and reaching is no push."""
    found = looked_back((UNTIL, plan(block("hamstring stretch", "downward dog", "squat"))))
    assert {u.name for u in found.patterns} == {"mobility", "squat"}
    assert {u.name for u in found.muscles} == {"quadriceps", "glutes"}
    assert {u.name for u in found.stretched} == {"hamstrings", "shoulders"}
    assert found.push_pull == PushPull()
    assert "shoulders" in {u.name for u in found.muscles_unused}


def test_warm_up_and_cool_down_stand_apart():
    found = looked_back((UNTIL, plan(block("march", "squat", kind="warm_up"), block("row"), block("hamstring stretch", kind="cool_down"))))
    assert of(found.movements).keys() == {"row"}
    assert of(found.frame).keys() == {"march", "squat", "hamstring stretch"}


def test_push_to_pull():
    found = looked_back((UNTIL, plan(block("push-up", "press", "thruster", "row"), block("press + row", "pull-up"))))
    assert found.push_pull == PushPull(horizontal_push=1, vertical_push=3, horizontal_pull=2, vertical_pull=1)
    assert (found.push_pull.push, found.push_pull.pull) == (4, 3)
    assert page.push_pull(found.push_pull) == ["push 4 (horizontal 1, vertical 3), pull 3 (horizontal 2, vertical 1)"]


def test_left_to_right():
    """A chain has its sides once, however many its parts."""
    found = looked_back((UNTIL, plan(block(
        movement(1, "row + press", sides="each", first="left"), movement(2, "row", sides="each", first="right"),
        movement(3, "row", sides="each"), movement(4, "press", sides="one", first="left"), movement(5, "reverse lunge", sides="alternating"),
        movement(6, "squat")))))
    assert found.sides == SideCount(alternating=1, left_first=1, right_first=1, unsaid_first=1, left_only=1)
    assert page.sides(found.sides) == [
        "one side, then the other: 3 (left first 1, right first 1, not said which first 1)",
        "one side only: 1 (left 1, right 0, not said which 0)", "alternating: 1",
    ]


def test_always_together():
    """Twice is chance; one class with one of them alone, and they are no pair."""
    pairs = [plan(block("squat", "row", "press")), plan(block("row", "squat", "push-up"))] * 2
    found = looked_back(*((UNTIL - timedelta(days=n), p) for n, p in enumerate(pairs)))
    assert [(t.movements, t.classes) for t in found.together] == [(["row", "squat"], [4, 3, 2, 1])]
    assert looked_back(*((UNTIL, p) for p in [*pairs, plan(block("squat"))])).together == []
    assert looked_back(*((UNTIL, p) for p in pairs[:2])).together == []


def test_an_empty_archive_has_nothing_invented():
    found = looked_back()
    assert found.classes == 0 and found.per_week == [0, 0, 0, 0] and found.movements == []
    assert "No class in these weeks." in page.text(found, Look()) and "MOVEMENTS" not in page.text(found, Look())


def test_weeks_without_a_class_say_where_to_look():
    found = looked_back((date(2026, 1, 5), plan(block("squat"))), latest=date(2026, 1, 5), undated=2, later=1)
    told = " ".join(page.text(found, Look()).split())
    assert "The last one before them was on 5 January 2026: add --until 2026-01-05 to look back from there." in told
    assert "2 classes without a date" in told and "1 class after 10 April 2026: not counted." in told


def test_the_table_as_a_coach_reads_it():
    rows = [(date(2026, 3, 16), plan(block("squat", "row")))] * 11 + [(UNTIL, plan(block("squat")))]
    lines = page.text(looked_back(*rows), Look()).splitlines()
    assert "4 weeks, 16 March to 10 April 2026" in lines
    assert "squat                          12  2026-04-10  +··1" in lines
    assert "row                            11  2026-03-16  +···" in lines


def test_many_weeks_show_the_last_that_fit():
    text = page.text(looked_back((UNTIL, plan(block("squat"))), weeks=300), Look(width=80))
    assert max(map(len, text.splitlines())) <= 80
    assert "·1\n" in text


@pytest.mark.parametrize("width", [40, 44, 60, 80])
@pytest.mark.parametrize("name", ["squat", "hamstring stretch"])
def test_a_narrow_window_cuts_no_number_and_no_date(width, name):
    lines = page.text(looked_back(*[(UNTIL, plan(block(name)))] * 12, weeks=26), Look(width=width)).splitlines()
    row = next(line for line in lines if line.startswith(name.split()[0]) and "12" in line)
    assert "  12  2026-04-10  ·······" in row and row.endswith("·+")
    assert max(map(len, lines)) <= width


def test_of_one_week():
    assert period(UNTIL, 1).weeks == [date(2026, 4, 6)]


@pytest.mark.parametrize(("times", "pairs"), [(2, []), (3, [["row", "squat"]])])
def test_three_classes_make_a_pair_of_movements(times, pairs):
    assert [t.movements for t in looked_back(*[(UNTIL, plan(block("squat", "row")))] * times).together] == pairs


def test_the_pair_of_most_classes_first():
    found = looked_back(*[(UNTIL, plan(block("squat", "row")))] * 3, *[(UNTIL, plan(block("press", "pull-up")))] * 4)
    assert [len(t.classes) for t in found.together] == [4, 3]


def test_most_used_first_then_the_last_used_then_by_name():
    early, late = date(2026, 3, 16), date(2026, 4, 6)
    classes = [(early, plan(block("squat", "row"))), (late, plan(block("squat", "press", "push-up")))]
    assert [u.name for u in looked_back(*classes).movements] == ["squat", "press", "push-up", "row"]
    before = [(day - timedelta(weeks=10), made) for day, made in classes]
    assert [u.name for u in looked_back(*before).movements_unused] == ["squat", "press", "push-up", "row"]


def test_when_a_muscle_was_last_worked_and_not_stretched():
    found = looked_back((date(2026, 2, 2), plan(block("thruster"))), (date(2026, 2, 9), plan(block("downward dog"))))
    assert {u.name: u.last for u in found.muscles_unused} == {
        "quadriceps": date(2026, 2, 2), "hamstrings": None, "chest": None, "shoulders": date(2026, 2, 2), "neck": None,
    }
