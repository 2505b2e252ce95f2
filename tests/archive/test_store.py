"""Classes are kept whole and come back whole; nothing is written by looking."""

import sqlite3
from datetime import date

import pytest

from parser.archive import Added, opened
from parser.errors import ArchiveError
from parser.model import Equipment, Finding

from .plans import block, movement, plan, reading, said

WHOLE = reading(
    plan(block("march", kind="warm_up"), block(movement(1, "squat + press", sides="each", first="left"), work_s=(30, 40)),
         title="Rope and row", equipment=[Equipment(name="dumbbell", quantity=2), Equipment(name="dumbbell", optional=True)]),
    [Finding(code="side-missing", severity="error", message="Never the left.", said=[said(279.0, "side plank")], block=1, number=1)],
    text="a", followed=True,
)


def test_a_class_comes_back_whole(tmp_path):
    file = tmp_path / "archive.sqlite"
    with opened(file, create=True) as kept:
        number = kept.add(WHOLE, day=date(2026, 3, 2)).id
    with opened(file) as kept:
        found = kept.get(number)
        assert found.reading == WHOLE and (found.plan, found.report) == (WHOLE.plan, WHOLE.report)
        assert (found.shown.id, found.shown.day, found.shown.title, found.shown.name) == (1, date(2026, 3, 2), "Rope and row", "yard.vtt")


def test_the_same_file_is_kept_once(kept):
    assert kept.add(WHOLE) == Added(1, 1, "new")
    before = kept.card(1)
    assert kept.add(WHOLE, day=date(2026, 3, 2)) == Added(1, 1, "same")
    assert kept.card(1) == before and len(kept.shown()) == 1


def test_newest_first_and_undated_last(kept):
    for text, day in (("a", date(2026, 3, 2)), ("b", None), ("c", date(2026, 3, 9)), ("d", date(2026, 3, 2))):
        kept.add(reading(plan(), text=text), day=day)
    assert [shown.id for shown in kept.shown()] == [3, 4, 1, 2]


def test_a_class_that_is_not_there(kept):
    for number in (1, -1, 0, 2**62):
        with pytest.raises(ArchiveError, match=f"No class {number} is kept"):
            kept.get(number)


def test_looking_makes_no_file(tmp_path):
    with opened(tmp_path / "none.sqlite") as kept:
        assert kept.shown() == []
    assert list(tmp_path.iterdir()) == []


def test_half_a_class_is_none(kept, monkeypatch):
    monkeypatch.setattr(type(kept), "tell", lambda *_: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        kept.add(WHOLE)
    assert kept.shown() == []


@pytest.mark.parametrize("content", [b"not an archive", b"SQLite format 3\x00" + b"\xff" * 200])
def test_a_file_that_is_no_archive_is_left_alone(tmp_path, content):
    file = tmp_path / "x"
    file.write_bytes(content)
    with pytest.raises(ArchiveError), opened(file, create=True):
        pass
    assert file.read_bytes() == content


def test_anothers_sqlite_file_is_left_alone(tmp_path):
    file = tmp_path / "x"
    with sqlite3.connect(file) as other:
        other.execute("CREATE TABLE class (mine)")
    with pytest.raises(ArchiveError, match="no archive of planaloud"), opened(file, create=True):
        pass


def test_a_later_edition_is_left_alone(tmp_path):
    file = tmp_path / "x"
    with opened(file, create=True):
        pass
    with sqlite3.connect(file) as other:
        other.execute("PRAGMA user_version = 99")
    with pytest.raises(ArchiveError, match="later edition"), opened(file):
        pass


def test_not_a_folder(tmp_path):
    with pytest.raises(ArchiveError, match="is not a file"), opened(tmp_path):
        pass
