"""What becomes of a file that is put in again, with the same content or another."""

from datetime import date

import pytest

from parser.archive import Added, Given, opened, parcel_of_plan
from parser.errors import ArchiveError

from .plans import block, movement, plan, reading

A, B, C = (reading(plan(block(name), title=f"All {name}"), text=name) for name in ("squat", "row", "press"))


def test_the_same_content_changes_nothing(kept):
    kept.add(A, path="/yard/a.vtt")
    assert kept.add(A, path="/yard/a.vtt") == kept.add(A, path="/elsewhere/copy.vtt") == Added(1, 1, "same")
    assert len(kept.versions(1)) == 1


def test_the_same_file_with_another_content_is_a_new_version(kept):
    kept.add(A, path="/yard/a.vtt")
    assert kept.add(B, path="/yard/a.vtt") == Added(1, 2, "version")
    assert [(v.number, v.sha256) for v in kept.versions(1)] == [(1, A.talk.sha256), (2, B.talk.sha256)]
    assert kept.get(1).reading == B and kept.get(1, 1).reading == A and kept.get(1).shown.title == "All row"
    assert len(kept.shown()) == 1


def test_what_is_asked_of_many_classes_is_of_the_version_in_force(kept):
    kept.add(A, path="/yard/a.vtt")
    kept.add(B, path="/yard/a.vtt")
    used = "SELECT base FROM use JOIN movement ON movement.id = use.movement"
    assert kept.connection.execute(used).fetchall() == [("row",)]
    assert kept.connection.execute("SELECT rowid FROM words WHERE words MATCH 'squat'").fetchall() == []
    assert kept.connection.execute("SELECT rowid FROM words WHERE words MATCH 'row'").fetchall() == [(1,)]


def test_back_to_what_it_was_is_a_version_too(kept):
    for one in (A, B, A):
        kept.add(one, path="/yard/a.vtt")
    assert [v.sha256 for v in kept.versions(1)] == [A.talk.sha256, B.talk.sha256, A.talk.sha256] and kept.get(1).reading == A


def test_an_earlier_version_from_elsewhere_is_kept_already(kept):
    kept.add(A, path="/yard/a.vtt")
    kept.add(B, path="/yard/a.vtt")
    assert kept.add(A, path="/yard/old copy of a.vtt") == Added(1, 1, "same")


def test_standard_input_has_no_versions(kept):
    assert (kept.add(A).id, kept.add(B).id) == (1, 2)


def test_what_the_coach_said_stays_with_a_new_version(kept):
    kept.add(A, path="/yard/a.vtt", day=date(2026, 3, 2), given=Given(title="Rope", coach="Marnie", place="Long Room", tags=("wet",)))
    kept.add(B, path="/yard/a.vtt")
    card = kept.card(1)
    assert (card.shown.day, card.shown.title, card.coach, card.place, card.tags) == (date(2026, 3, 2), "Rope", "Marnie", "Long Room", ["wet"])


def test_a_day_of_the_name_moves_with_it_and_a_given_one_stays(kept):
    first, second = (reading(plan(block("squat"), name=f"{day}.vtt"), text=day) for day in ("2026-03-02", "2026-03-09"))
    kept.add(first, path="/yard/a.vtt")
    assert kept.get(1).shown.day == date(2026, 3, 2)
    kept.add(second, path="/yard/a.vtt")
    assert kept.get(1).shown.day == date(2026, 3, 9)
    kept.tell(1, Given(day=date(2026, 4, 1)))
    kept.add(first, path="/yard/a.vtt")
    assert kept.get(1).shown.day == date(2026, 4, 1)


def test_a_plan_alone(kept):
    made = plan(block(movement(1, "squat", easier="Sit on the wall"), work_s=40), title="Rope")
    kept.add(parcel_of_plan(made, name="plan.json", sha256="f" * 64), path="/yard/plan.json")
    found = kept.get(1)
    assert (found.plan, found.report, found.talk) == (made, None, None) and found.shown.title == "Rope"
    assert kept.connection.execute("SELECT rowid FROM words WHERE words MATCH '\"sit on the wall\"'").fetchall() == [(1,)]
    with pytest.raises(ArchiveError, match="Class 1 was kept from a plan"):
        _ = found.reading


def test_a_version_that_is_not_there(kept):
    kept.add(A)
    for version in (0, 2, 10**30):
        with pytest.raises(ArchiveError, match=f"Class 1 has no version {version}: they are counted from 1 to 1"):
            kept.get(1, version)


def test_tags_are_the_same_however_they_are_written(kept):
    kept.add(A, given=Given(tags=("Wet  Tuesday", "wet tuesday", "Straße")))
    assert kept.tags(1) == ["strasse", "wet tuesday"]
    kept.tell(1, Given(), without=["WET TUESDAY"])
    assert kept.tags(1) == ["strasse"]


def test_what_was_said_is_taken_off_again(kept):
    kept.add(A, given=Given(title="Rope", coach="Marnie", place="Long Room", tags=(" ",)))
    assert kept.tags(1) == []
    kept.tell(1, Given(title=" ", coach="", place=""))
    card = kept.card(1)
    assert (card.shown.title, card.coach, card.place) == ("All squat", None, None)


def test_of_several_classes_all_are_told_or_none(kept):
    kept.add(A)
    with pytest.raises(ArchiveError, match="No class 7"):
        kept.tell_of([1, 7], Given(tags=("wet",)))
    assert kept.tags(1) == []


def test_taken_out_with_all_its_versions(kept):
    kept.add(A, path="/yard/a.vtt")
    kept.add(B, path="/yard/a.vtt")
    kept.add(C)
    with pytest.raises(ArchiveError, match="No class 9"):
        kept.remove([1, 9])
    assert [shown.id for shown in kept.shown()] == [2, 1]
    kept.remove([1, 1])
    assert [shown.id for shown in kept.shown()] == [2]
    tables = ("version", "use", "kit", "finding", "block", "equipment", "tag")
    assert all(not kept.connection.execute(f"SELECT 1 FROM {table} WHERE class = 1").fetchall() for table in tables)
    assert [row[0] for row in kept.connection.execute("SELECT base FROM movement")] == ["press"]
    assert kept.add(A).id == 3, "the number of a class that was taken out is no other's"


def test_what_is_taken_out_is_gone_from_the_file(tmp_path):
    file = tmp_path / "archive.sqlite"
    with opened(file, create=True) as kept:
        for number in range(40):
            kept.add(reading(plan(block("squat")), text=f"word{number} zanzibarquill{number} " * 3), given=Given(coach=f"Coachname{number}"))
        kept.remove([18])  # counted from 1
    content = file.read_bytes()
    assert b"zanzibarquill17" not in content and b"Coachname17" not in content and not file.with_name("archive.sqlite-wal").exists()
    assert b"Coachname18" in content, "what is kept can be seen in it, so that the test would see what is not gone"
    assert b"zanzibarquill" in content, "the index holds the words by what they have in common"


def test_read_again(kept):
    kept.add(A, path="/yard/a.vtt", day=date(2026, 3, 2))
    assert kept.get(1).reading == A
    from parser.archive import parcel

    assert kept.read_again(1, parcel(A)) is False
    better = A.model_copy(update={"plan": plan(block("press"))})
    assert kept.read_again(1, parcel(better)) is True
    assert kept.get(1).plan == better.plan and len(kept.versions(1)) == 1 and kept.get(1).shown.day == date(2026, 3, 2)
    assert kept.connection.execute("SELECT base FROM use JOIN movement ON movement.id = use.movement").fetchall() == [("press",)]
    with pytest.raises(ArchiveError, match="changed by another program"):
        kept.read_again(1, parcel(B))


def test_read_one_after_the_other(kept):
    for one in (A, B):
        kept.add(one)
    assert [k.reading for k in kept] == [A, B]
