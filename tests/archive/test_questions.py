"""What the tables answer is what the plans say: both ways are reckoned and held against each other."""

import random
from datetime import date, timedelta

import pytest

from parser.archive import questions
from parser.archive.alike import likeness, traits_of
from parser.archive.store import Given
from parser.errors import ArchiveError
from parser.model import Equipment, Finding, StatedLength
from parser.render.look import Look
from parser.render.review import alike as alike_page
from parser.render.review import diff as diff_page
from parser.review.habits import Off

from .plans import TRAINS, block, movement, plan, reading, said
from .test_history import MUSCLES, PATTERNS, UNTIL, looked_back


def by_chance(dice: random.Random):
    """A class of a few blocks of movements, some of them chains."""
    def name() -> str:
        return " + ".join(dice.sample(sorted(TRAINS), dice.choice([1, 1, 1, 2])))

    def one(number: int):
        return movement(number, name(), sides=dice.choice(["both", "each", "one", "alternating"]), first=dice.choice(["left", "right", None]))

    kinds = ["warm_up", *["main"] * dice.randint(0, 3), "cool_down"]
    blocks = [
        block(*(one(n) for n in range(1, dice.randint(1, 5))), kind=kind, format=dice.choice(["interval", "sets", None]),
              work_s=dice.choice([30, (30, 40), None]), rounds=dice.choice([3, None]))
        for kind in kinds
    ]
    equipment = [Equipment(name=n, optional=dice.random() < 0.3) for n in dice.sample(["mat", "dumbbell", "band"], dice.randint(0, 3))]
    length = StatedLength(seconds=dice.choice([1200, 1800]), qualifier="about", sources=[]) if dice.random() < 0.5 else None
    return plan(*blocks, equipment=equipment, stated_length=length)


@pytest.mark.parametrize("seed", range(8))
def test_the_tables_say_what_the_plans_say(kept, seed):
    dice = random.Random(seed)
    classes = [(UNTIL + timedelta(days=dice.randint(-80, 5)), by_chance(dice)) for _ in range(30)]
    for number, (day, made) in enumerate(classes):
        kept.add(reading(made, text=str(number)), day=day)
    kept.add(reading(plan(block("squat")), text="undated"))
    past = max(day for day, _ in classes if day <= UNTIL)
    expected = looked_back(*classes, undated=1, later=sum(day > UNTIL for day, _ in classes), latest=past)
    assert questions.history(kept, until=UNTIL, weeks=4, patterns=PATTERNS, muscles=MUSCLES) == expected
    assert expected.classes and expected.movements

    found = questions.alike(kept, 1, limit=40)
    traits = {number: traits_of(made) for number, (_, made) in enumerate([*classes, (None, plan(block("squat")))], 1)}
    shares = {number: likeness(traits[1], other) for number, other in traits.items() if number != 1}
    assert {one.shown.id: one.likeness for one in found.alike} == {number: share for number, share in shares.items() if share.whole}
    assert found.compared == 30


def test_what_a_movement_trains_is_as_the_newest_class_has_it(kept):
    old = movement(1, "squat").parts[0].model_copy(update={"patterns": ["hold"]})
    kept.add(reading(plan(block(movement(1, "squat").model_copy(update={"parts": [old]}))), text="a"), day=date(2026, 3, 30))
    kept.add(reading(plan(block("squat")), text="b"), day=UNTIL)
    found = questions.history(kept, until=UNTIL, weeks=4, patterns=PATTERNS, muscles=MUSCLES)
    assert [(u.name, u.classes) for u in found.movements] == [("squat", 2)]
    assert [(u.name, u.classes) for u in found.patterns] == [("squat", 2)]


def test_an_empty_archive(kept):
    found = questions.history(kept, until=UNTIL, weeks=4, patterns=PATTERNS, muscles=MUSCLES)
    assert (found.classes, found.latest, found.movements, found.movements_unused) == (0, None, [], [])
    assert [u.last for u in found.patterns_unused] == [None] * len(PATTERNS)
    assert questions.habits(kept, about={}, by_clock=()).habits == []
    with pytest.raises(ArchiveError, match="No class 1 is kept"):
        questions.alike(kept, 1, limit=3)
    with pytest.raises(ArchiveError, match="No class 2 is kept"):
        kept.add(reading(plan(), text="a"))
        questions.difference(kept, 1, 2)


def test_findings_with_the_movement_they_are_about(kept):
    finding = Finding(code="option-missing", severity="note", message="No easier way.", said=[said(61.0, "press")], block=2, number=1)
    other = Finding(code="option-missing", severity="note", message="None either.", block=1, number=9)
    kept.add(reading(plan(block("press", kind="warm_up"), block("squat"), block("press + row")), [finding, other], text="a", followed=True), day=UNTIL)
    only = questions.habits(kept, about={"option-missing": "No easier way is offered."}, by_clock=()).habits[0]
    assert only.movements == [("press", 1), ("row", 1)] and only.patterns == [("horizontal-pull", 1), ("vertical-push", 1)]
    assert [(m.id, m.at, m.quote) for m in only.moments] == [(1, 61.0, "press"), (1, None, "")]


def test_most_alike_first_and_what_differs(kept):
    for text, made in {
        "a": plan(block("squat", "row", "press", work_s=40, rest_s=20), equipment=[Equipment(name="mat")]),
        "b": plan(block("squat", "row", "push-up", work_s=30, rest_s=20), equipment=[Equipment(name="mat"), Equipment(name="band")]),
        "c": plan(block("squat", work_s=40, rest_s=20)), "d": plan(block("march")),
    }.items():
        kept.add(reading(made, text=text), day=UNTIL)
    found = questions.alike(kept, 1, limit=5)
    assert [one.shown.id for one in found.alike] == [2, 3] and found.compared == 3
    assert alike_page.differs(found.alike[0]) == [
        "both: row, squat", "it has besides: push-up", "it lacks: press", "equipment besides: band", "40 s work, 20 s rest → 30 s work, 20 s rest",
    ]
    assert "Compared with 3 other classes." in alike_page.text(found, Look())


def test_alone_in_the_archive_nothing_is_like_it(kept):
    kept.add(reading(plan(block("squat")), text="a"))
    assert alike_page.text(questions.alike(kept, 1, limit=5), Look()) == "Most like 1 (no date, yard.vtt)\nCompared with 0 other classes.\n"


def test_how_much_longer_a_stretch_took_comes_from_the_report(kept):
    """The one stretch of ``reading`` that was followed is from 0 to 40 s."""
    one = reading(plan(block("squat")), [Finding(code="work-off", severity="warning", message="m", said=[said(0.0, "go")])], text="a", followed=True)
    done = [interval.model_copy(update={"planned_s": 30.0}) for interval in one.report.delivered]
    kept.add(one.model_copy(update={"report": one.report.model_copy(update={"delivered": done})}), day=UNTIL)
    assert questions.habits(kept, about={}, by_clock=()).habits[0].longer == Off(count=1, by_s=10.0)


def test_what_changed_in_one_class(kept):
    for text, work in (("a", 30), ("b", 40), ("c", 45)):
        kept.add(reading(plan(block("squat", work_s=work)), text=text), path="/rope/monday.vtt")
    found = questions.revision(kept, 1)
    assert (found.before.version, found.after.version) == (2, 3)
    assert [(c.name, c.before, c.after) for c in found.changes] == [("work_s", 40, 45)]
    assert [c.before for c in questions.revision(kept, 1, since=1).changes] == [30]
    assert "From 1, version 2 (no date, yard.vtt)\nto 1, version 3 (no date, yard.vtt)" in diff_page.text(found, Look())
    with pytest.raises(ArchiveError, match="has no version 9"):
        questions.revision(kept, 1, since=9)


def test_a_class_of_one_version_has_changed_from_nothing(kept):
    kept.add(reading(plan(block("squat")), text="a"))
    with pytest.raises(ArchiveError, match="Class 1 has no version before this one"):
        questions.revision(kept, 1)


def test_of_some_classes_only(kept):
    """However a name is spaced and in whatever case; every tag that is asked for."""
    for text, name, given in (
        ("a", "squat", Given(coach="Marnie", place="Net Loft", tags=("seniors", "chairs"))), ("b", "row", Given(coach="marnie ", tags=("seniors",))),
        ("c", "press", Given(coach="Dex")), ("d", "march", Given()),
    ):
        finding = Finding(code=f"code-{text}", severity="note", message="m")
        kept.add(reading(plan(block(name)), [finding], text=text), day=UNTIL, given=given)
    kept.add(reading(plan(block("pull-up")), text="e"), day=date(2026, 1, 5), given=Given(coach="Dex"))

    def asked(**group):
        past = questions.history(kept, until=UNTIL, weeks=2, patterns=PATTERNS, muscles=MUSCLES, group=questions.Group(**group))
        again = questions.habits(kept, about={}, by_clock=(), group=questions.Group(**group))
        assert past.classes + (past.latest is not None and bool(past.movements_unused)) == again.classes
        return [u.name for u in past.movements], [h.code for h in again.habits]

    assert asked(coach="MARNIE") == (["row", "squat"], ["code-a", "code-b"])
    assert asked(coach="marnie", place="net loft") == (["squat"], ["code-a"])
    assert asked(tags=("seniors",)) == (["row", "squat"], ["code-a", "code-b"])
    assert asked(tags=("Seniors", "chairs")) == (["squat"], ["code-a"])
    assert asked(coach="Dex") == (["press"], ["code-c"])
    assert asked(coach="nobody") == ([], [])
    assert asked()[0] == ["march", "press", "row", "squat"]
