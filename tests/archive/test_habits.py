"""What goes wrong again, by hand."""

from datetime import date, timedelta

from parser.archive.habits import Audited, Found, habits, over
from parser.model import Finding, Interval
from parser.render.look import Look
from parser.render.review import habits as page
from parser.review.habits import Off, Share

from .plans import said

START = date(2026, 3, 2)


def audited(count: int, *, followed=lambda n: True, dated=lambda n: True) -> list[Audited]:
    """Classes 1 to ``count``, a week apart."""
    return [Audited(n, START + timedelta(weeks=n) if dated(n) else None, followed(n)) for n in range(1, count + 1)]


def found(id: int, code: str = "side-missing", **more) -> Found:
    return Found(**{"id": id, "place": 0, "code": code, "severity": "error", "corrected": False, "message": "Never.", "at": 60.0 * id, "quote": "q", **more})


def made(classes, findings, **more):
    return habits(classes, findings, **{"about": {"side-missing": "Only one side is named."}, "by_clock": {"rest-off"}, **more})


def test_how_often_and_in_which_half():
    only = made(audited(10), [found(n) for n in (1, 2, 2, 3, 4, 9)]).habits[0]
    assert (only.overall, only.earlier, only.later) == (Share(found=5, classes=10), Share(found=4, classes=5), Share(found=1, classes=5))
    assert page.told(only)[0] == "In 5 of 10 classes: 4 of 5 in the older half, 1 of 5 in the newer."
    assert only.findings == 6


def test_the_middle_of_an_odd_number_is_in_no_half():
    only = made(audited(7), [found(4)]).habits[0]
    assert (only.overall.found, only.earlier, only.later) == (1, Share(found=0, classes=3), Share(found=0, classes=3))


def test_too_few_or_undated_classes_have_no_halves():
    for classes in (audited(5), audited(9, dated=lambda n: n < 6)):
        few = made(classes, [found(1), found(2)])
        assert few.earlier is None and few.habits[0].earlier is None
        assert page.told(few.habits[0])[0] == f"In 2 of {len(classes)} classes."
        assert "5 classes with a date: too few" in " ".join(page.text(few, Look()).split())


def test_what_only_the_clock_shows_is_of_the_classes_that_could_be_followed():
    classes = audited(8, followed=lambda n: n % 2 == 0)
    clock, words = made(classes, [found(2, "rest-off"), found(4, "rest-off"), found(2), found(4)]).habits
    assert (clock.code, clock.overall) == ("rest-off", Share(found=2, classes=4))
    assert words.overall == Share(found=2, classes=8)


def test_with_what_it_comes():
    presses = {"movements": ("press",), "patterns": ("vertical-push",)}
    findings = [found(1, **presses), found(2, **presses), found(3, movements=("squat", "squat"), patterns=("squat", "squat"))]
    only = made(audited(6), findings).habits[0]
    assert only.movements == [("press", 2), ("squat", 1)] and only.patterns == [("vertical-push", 2), ("squat", 1)]
    assert "Most by movement: press 2; by pattern: vertical-push 2." in page.told(only)


def test_most_classes_first_then_the_worse():
    findings = [found(1, "b", severity="note"), found(2, "b", severity="note"), found(1, "a", severity="note"), found(1, "c")]
    assert [h.code for h in made(audited(3), findings).habits] == ["b", "c", "a"]


def test_a_slip_put_right_is_counted_as_such():
    only = made(audited(3), [found(1, severity="note", corrected=True), found(2, severity="warning")]).habits[0]
    assert (only.severity, only.findings, only.corrected) == ("warning", 2, 1)
    assert "2 findings in all, 1 of them put right aloud." in page.told(only)


def test_moments_newest_first_and_those_without_a_time():
    classes = [*audited(2), Audited(3, None, False)]
    only = made(classes, [found(1, at=90.0), found(3, at=None), found(2, at=75.0), found(2, at=30.0)]).habits[0]
    assert [(m.id, m.at) for m in only.moments] == [(2, 30.0), (2, 75.0), (1, 90.0), (3, None)]
    assert [page.cells(m) for m in only.moments][1:] == [
        ("class 2", "2026-03-16", "1:15", "Never. “q”"), ("class 1", "2026-03-09", "1:30", "Never. “q”"), ("class 3", "no date", "", "Never. “q”"),
    ]


def test_once_is_no_habit():
    text = page.text(made(audited(6), [found(1), found(2, "b"), found(3, "b")]), Look())
    assert text.index("In one class only") > text.index(" b\n")
    assert "side-missing: class 1  2026-03-09  1:00  Never. “q”" in text


def test_nothing_kept_and_nothing_found():
    assert "No class with a report is kept." in page.text(made([], []), Look())
    clean = made(audited(2), [])
    assert clean.clean == 2 and "Nothing that disagrees was found." in page.text(clean, Look())


def test_what_was_said_is_text():
    text = page.text(made(audited(2), [found(1, quote="a\x1b[2Jb", message="[bold]c"), found(2)]), Look())
    assert "\x1b" not in text and "[bold]c" in text


def test_words_that_the_message_has_are_not_said_twice():
    only = made(audited(1), [found(1, message='"Ten seconds" at 1:00: it goes on.', quote="ten  seconds")]).habits[0]
    assert page.cells(only.moments[0])[3] == '"Ten seconds" at 1:00: it goes on.'


def rested(start: float, end: float, **more) -> Interval:
    return Interval(**{"kind": "rest", "block": 1, "start": start, "end": end, "uncertainty_s": 1.0, "planned_s": 30.0, **more})


def test_how_much_longer_a_stretch_took():
    delivered = [rested(570.0, 622.0), rested(570.0, 622.0, kind="work"), rested(700.004, 720.004), rested(800, 840, planned_s=None)]
    def off(at: float | None, code: str = "rest-off") -> Finding:
        return Finding(code=code, severity="warning", message="m", said=[said(at, "and time")])

    assert over(off(570.0), delivered) == 22.0
    assert over(off(700.0), delivered) == -10.0
    assert [over(f, delivered) for f in (off(571.0), off(None), off(800.0), off(570.0, "countdown-off"))] == [None] * 4
    assert over(off(570.0), [*delivered, rested(570.0, 600.0)]) is None
    assert over(Finding(code="rest-off", severity="warning", message="m"), delivered) is None


def test_which_way_and_by_how_much():
    """The middle by hand: of 10, 22 and 40 it is 22."""
    only = made(audited(4), [found(n, "rest-off", over_s=s) for n, s in ((1, 22.0), (2, 40.0), (3, 10.0), (4, -8.0), (4, None))]).habits[0]
    assert (only.longer, only.shorter) == (Off(count=3, by_s=22.0), Off(count=1, by_s=8.0))
    assert page.told(only)[2:] == ["3 took longer than announced, by 22 s in the middle.", "1 took less time than announced, by 8 s."]


def test_six_classes_have_halves_with_their_days():
    six = made(audited(6), [found(1)])
    assert (six.earlier.since, six.earlier.until, six.earlier.classes) == (date(2026, 3, 9), date(2026, 3, 23), 3)
    assert (six.later.since, six.later.until, six.later.classes) == (date(2026, 3, 30), date(2026, 4, 13), 3)


def test_the_worst_severity_is_the_one_shown():
    severities = {1: ["note", "warning"], 2: ["note", "error"], 3: ["warning", "error"]}
    for pair in severities.values():
        assert made(audited(2), [found(n, severity=s) for n, s in enumerate(pair, 1)]).habits[0].severity == pair[1]


def test_two_on_one_day_come_with_the_later_number_first_and_without_a_time_last():
    classes = [Audited(n, START, True) for n in (1, 2)]
    moments = made(classes, [found(1, at=5.0), found(2, at=None), found(2, at=90.0)]).habits[0].moments
    assert [(m.id, m.at) for m in moments] == [(2, 90.0), (2, None), (1, 5.0)]


def test_most_of_a_movement_first_then_by_name():
    only = made(audited(3), [found(n, movements=m) for n, m in ((1, ("squat",)), (2, ("row", "squat")), (3, ("press",)))]).habits[0]
    assert only.movements == [("squat", 2), ("press", 1), ("row", 1)]


def test_as_long_as_announced_is_neither_longer_nor_less():
    only = made(audited(3), [found(n, "rest-off", over_s=s) for n, s in ((1, 0.0), (2, 0.5), (3, -0.25))]).habits[0]
    assert (only.longer, only.shorter) == (Off(count=1, by_s=0.5), Off(count=1, by_s=0.2))


def test_a_stretch_planned_at_no_length_is_over_by_all_of_it():
    assert over(Finding(code="rest-off", severity="warning", message="m", said=[said(10.0, "go")]), [rested(10.0, 15.0, planned_s=0.0)]) == 5.0
