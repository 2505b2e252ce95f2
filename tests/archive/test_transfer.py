"""An archive written out is the same archive read in."""

import json
from datetime import date

import pytest

from parser.archive import Given, check, exported, opened, parcel_of_plan, restored
from parser.errors import ArchiveError
from parser.model import Mark, Source

from ..render.examples import reading_of
from .plans import block, plan, reading

A, B = (reading(plan(block(name), title=name), text=name) for name in ("squat", "row"))
MARKED = reading_of("step-up").model_copy(update={"marks": (Mark(kind="side", means="left", source=Source(start=1, end=2, quote="Go", chars=(0, 2))),)})


@pytest.fixture
def full(kept):
    kept.add(A, path="/yard/a.vtt", day=date(2026, 3, 2), given=Given(title="Rope", coach="Marnie", place="Long Room", tags=("wet", "two")))
    kept.add(B, path="/yard/a.vtt")
    kept.add(reading(plan(block("press")), text="gone"))
    kept.add(MARKED)
    kept.add(parcel_of_plan(plan(block("thruster"), title="Bars"), name="2026-05-04.json", sha256="b" * 64), path="/yard/2026-05-04.json")
    kept.remove([2])
    return kept


def _into(archive, lines) -> list:
    return [restored(archive, line.encode(), where="Line").added for line in lines]


def test_the_same_archive(full, tmp_path):
    lines = list(exported(full))
    assert len(lines) == 3
    with opened(tmp_path / "other.sqlite", create=True) as other:
        assert [(a.id, a.change) for a in _into(other, lines)] == [(1, "new"), (3, "new"), (4, "new")]
        assert list(exported(other)) == lines and check(other).faults == ()
        for number in (1, 3, 4):
            assert other.card(number) == full.card(number)
        assert other.get(3).reading == MARKED and other.get(1, 1).reading == A
        for table in ("class", "version", "tag", "block", "use", "equipment", "kit", "finding", "words_docsize"):
            # A base has its number in the order in which it was first used; what it is, the rows of the check compare.
            columns = [c[1] for c in full.connection.execute(f"PRAGMA table_info({table})") if c[1] not in ("movement", "variant")]
            rows = [sorted(archive.connection.execute(f"SELECT {', '.join(columns)} FROM {table}"), key=repr) for archive in (full, other)]
            assert rows[0] == rows[1], table


def test_into_the_same_archive_nothing_changes(full):
    lines = list(exported(full))
    assert {a.change for a in _into(full, lines)} == {"same"} and list(exported(full)) == lines


def test_into_another_that_has_classes_numbers_move_on(full, tmp_path):
    with opened(tmp_path / "other.sqlite", create=True) as other:
        other.add(reading(plan(block("march")), text="own"))
        other.add(reading(plan(block("march")), text="own too"))
        other.remove([2])
        assert [a.id for a in _into(other, exported(full))] == [3, 4, 5], "1 is another's, and 2 was"
        assert check(other).faults == ()


@pytest.mark.parametrize(("line", "words"), [
    ("", "the line: "), ("{}", "id: Field required"), ("[]", "the line: "), ("nothing", "the line: "), ('{"schema_version": "2"}', "schema_version: "),
])
def test_what_is_no_class_is_told(kept, line, words):
    with pytest.raises(ArchiveError, match="Line 7 of it is no class as `planaloud archive export` writes it") as caught:
        restored(kept, line.encode(), where="Line 7 of it")
    assert words in str(caught.value)


@pytest.mark.parametrize("change", [
    {"version": 9}, {"versions": []}, {"id": 0}, {"id": 2**63}, {"day": "monday"}, {"extra": 1}, {"tags": None}, {"day_from": "guess"},
])
def test_a_class_that_was_changed_by_hand_amiss(full, tmp_path, change):
    line = json.dumps({**json.loads(next(iter(exported(full)))), **change})
    with opened(tmp_path / "other.sqlite", create=True) as other:
        with pytest.raises(ArchiveError, match="is no class as"):
            restored(other, line.encode(), where="Line 1 of it")
        assert other.shown() == []


def test_two_versions_of_one_number(full, kept, tmp_path):
    tree = json.loads(next(iter(exported(full))))
    tree["versions"][0]["number"] = 2
    with opened(tmp_path / "other.sqlite", create=True) as other, pytest.raises(ArchiveError, match="not counted as they should be"):
        restored(other, json.dumps(tree).encode(), where="Line 1")
