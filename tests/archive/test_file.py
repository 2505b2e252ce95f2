"""What may be wrong with the file, its disk, or with others who write to it, and what a coach is told then."""

import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import threading
from contextlib import closing
from pathlib import Path

import pytest

from parser.archive import Asked, check, find, opened
from parser.archive import file as file_module
from parser.archive.schema import APPLICATION_ID, MIGRATIONS
from parser.errors import ArchiveError

from .plans import block, plan, reading

A, B = (reading(plan(block(name)), text=name) for name in ("squat", "row"))


@pytest.fixture
def one(tmp_path):
    """An archive with one class."""
    file = tmp_path / "archive.sqlite"
    with opened(file, create=True) as kept:
        kept.add(A)
    return file


def test_one_file_and_no_more(one):
    assert [p.name for p in one.parent.iterdir()] == ["archive.sqlite"]
    with closing(sqlite3.connect(one)) as plain:
        assert plain.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert plain.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,)


# ---------------------------------------------------------------- editions


def test_each_step_to_a_newer_edition_keeps_a_copy(one, monkeypatch):
    before = one.read_bytes()
    steps = (*MIGRATIONS, "ALTER TABLE class ADD COLUMN weather TEXT;", "ALTER TABLE class ADD COLUMN tide TEXT;")
    monkeypatch.setattr(file_module, "MIGRATIONS", steps)
    with opened(one) as kept:
        assert kept.get(1).reading == A and kept.connection.execute("SELECT weather, tide FROM class").fetchall() == [(None, None)]
    copies = sorted(p.name for p in one.parent.iterdir())
    assert copies == ["archive.sqlite", "archive.sqlite.version-1", "archive.sqlite.version-2"]
    monkeypatch.undo()
    (one.parent / "before").write_bytes(before)
    with closing(sqlite3.connect(one.with_name("archive.sqlite.version-1"))) as copy, closing(sqlite3.connect(one.parent / "before")) as whole:
        assert list(copy.iterdump()) == list(whole.iterdump())


def test_a_step_that_fails_changes_nothing(one, monkeypatch):
    monkeypatch.setattr(file_module, "MIGRATIONS", (*MIGRATIONS, "ALTER TABLE class ADD COLUMN weather TEXT;\nALTER TABLE missing ADD COLUMN x TEXT;"))
    with pytest.raises(ArchiveError, match="no such table"), opened(one):
        pass
    monkeypatch.undo()
    with opened(one) as kept:
        assert kept.get(1).reading == A and "weather" not in [column[1] for column in kept.connection.execute("PRAGMA table_info(class)")]


def test_two_that_make_the_same_file(tmp_path):
    file = tmp_path / "archive.sqlite"
    begin, trouble = threading.Barrier(4), []

    def add(number: int) -> None:
        begin.wait()
        try:
            with opened(file, create=True) as kept:
                kept.add(reading(plan(block("squat")), text=str(number)))
        except ArchiveError as exc:
            trouble.append(exc)

    threads = [threading.Thread(target=add, args=(n,)) for n in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert [str(exc.__cause__) for exc in trouble] == []
    with opened(file) as kept:
        assert len(kept.shown()) == 4 and check(kept).faults == ()


# ---------------------------------------------------------------- damage


def spoil(file: Path, statement: str) -> None:
    """Change the file behind the archive's back."""
    with closing(sqlite3.connect(file)) as broken:
        broken.execute(statement)
        broken.commit()


@pytest.mark.parametrize("cut", [100, 5000, 20000])
def test_a_file_that_was_cut(one, cut):
    one.write_bytes(one.read_bytes()[:cut])
    with pytest.raises(ArchiveError, match=r"is damaged|is no archive|cannot be used"), opened(one) as kept:
        kept.get(1)


def test_damage_inside_is_told_by_the_check(one):
    spoil(one, "UPDATE version SET plan = x'00'")
    with opened(one) as kept:
        (fault,) = check(kept).faults
        assert fault.startswith("Class 1, version 1: it cannot be read")
        with pytest.raises(ArchiveError, match="Class 1 cannot be read from .*: it is damaged"):
            kept.get(1)


@pytest.mark.parametrize(("statement", "wrong"), [
    ("UPDATE class SET title = x'5371'", "is no text"), ("UPDATE class SET day = '2026-02-31'", "day"),
    ("UPDATE class SET coach = x'00'", "is no text"), ("UPDATE version SET added = 'once'", "once"),
])
def test_a_column_that_holds_something_else_is_damage(one, statement, wrong):
    spoil(one, statement)
    with pytest.raises(ArchiveError, match=rf"archive.sqlite is damaged \(.*{wrong}.*\). Keep it"), opened(one) as kept:
        find(kept, Asked())
        kept.versions(1)


@pytest.mark.parametrize(("statement", "fault"), [
    ("UPDATE use SET number = 7", "Class 1: what the tables tell of its movements is not what its plan has."),
    ("DELETE FROM use", "its movements is not"), ("DELETE FROM block", "its blocks is not"), ("INSERT INTO kit VALUES ('rope', 1, 1)", "its equipment is not"),
    ("INSERT INTO finding VALUES (1, 0, 'x', 'note', 0, '', NULL, NULL, NULL, NULL, '', NULL, NULL, NULL)", "its findings is not"),
    ("UPDATE class SET lasts = 9", "its file and length is not"), ("UPDATE class SET version = 2", "version 2 is in force, and is not kept"),
    ("DELETE FROM words_docsize", "Class 1 is in no search by words"), ("INSERT INTO words_docsize VALUES (9, x'00')", "Class 9 is found by words"),
    ("UPDATE version SET sha256 = 'x'", "its talk-through is that of another file"), ("INSERT INTO tag VALUES (9, 'wet')", "A row of tag"),
])
def test_what_does_not_agree_is_told_by_the_check(one, statement, fault):
    spoil(one, statement)
    with opened(one) as kept:
        assert any(fault in told for told in check(kept).faults)


def test_bytes_turned_over_are_never_a_traceback(one):
    whole = one.read_bytes()
    for place in range(0, len(whole), 997):
        one.write_bytes(whole[:place] + bytes([whole[place] ^ 0xFF]) + whole[place + 1 :])
        try:
            with opened(one) as kept:
                kept.card(1)
                check(kept)
        except ArchiveError as exc:
            assert "\n" not in str(exc)


# ---------------------------------------------------------------- the disk


def test_no_room_left(one):
    with pytest.raises(ArchiveError, match="There is no room left on the disk"), opened(one) as kept:
        pages = kept.connection.execute("PRAGMA page_count").fetchone()[0]
        kept.connection.execute(f"PRAGMA max_page_count = {pages}")  # SQLite tells of it as of a full disk
        for number in range(1000):
            kept.add(reading(plan(block("squat")), text=f"{number} " * 3000))
    with opened(one) as kept:
        assert check(kept).faults == () and kept.get(1).reading == A


def test_a_file_larger_than_may_be(one):
    """A real refusal of the system to write on, in a process of its own."""
    resource = pytest.importorskip("resource")
    code = (
        "import resource, sys; from pathlib import Path; from parser.archive import opened; from parser.errors import ArchiveError\n"
        "from tests.archive.plans import block, plan, reading\n"
        f"resource.setrlimit(resource.RLIMIT_FSIZE, ({one.stat().st_size}, {one.stat().st_size}))\n"
        "try:\n"
        f"    with opened(Path({str(one)!r}), create=True) as kept:\n"
        "        for n in range(300):\n"
        "            print(kept.add(reading(plan(block('squat')), text=f'{n} ' * 3000)).id, flush=True)\n"
        "except ArchiveError as exc:\n"
        "    print(exc, file=sys.stderr)\n"
    )
    assert resource.RLIMIT_FSIZE is not None
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=False, env={**os.environ, "PYTHONPATH": os.getcwd()})
    assert done.returncode == 0 and "what was told to be kept is kept" in done.stderr
    with opened(one) as kept:
        assert {int(line) for line in done.stdout.split()} <= {shown.id for shown in kept.shown()} and check(kept).faults == ()


def test_a_file_that_may_only_be_read(one):
    with closing(sqlite3.connect(f"{one.as_uri()}?mode=ro", uri=True)) as only_read, pytest.raises(sqlite3.OperationalError) as caught:
        only_read.execute("INSERT INTO tag VALUES (1, 'wet')")
    with pytest.raises(ArchiveError, match="may not be written: the file or its disk is read only"), file_module.told(one):
        raise caught.value


@pytest.fixture
def folder_of_anybody():
    """Where a user who owns nothing gets to, which the folders of tests are not."""
    with tempfile.TemporaryDirectory() as folder:
        Path(folder).chmod(0o755)
        yield Path(folder)
        Path(folder).chmod(0o755)


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="permissions are otherwise there")
def test_a_folder_that_may_only_be_read(one, folder_of_anybody):
    """What is on a disk that is read only can be looked at all the same. Tried as a user who owns nothing."""
    file = folder_of_anybody / "archive.sqlite"
    shutil.copy(one, file)
    file.chmod(0o444)
    folder_of_anybody.chmod(0o555)
    code = (
        "import os; from pathlib import Path; from parser.archive import Kept, opened, parcel; from parser.errors import ArchiveError; import tests.archive.plans as p\n"
        "if os.geteuid() == 0:\n    os.setuid(65534)\n"
        f"file = Path({str(file)!r})\n"
        "with opened(file) as kept:\n"
        "    print(kept.get(1).shown.id)\n"
        "try:\n"
        "    with opened(file, create=True) as kept:\n"
        "        kept.add(p.reading(p.plan(p.block('row')), text='row'))\n"
        "except ArchiveError as exc:\n"
        "    print(exc)\n"
        "try:\n"
        "    with opened(file.with_name('other.sqlite'), create=True) as kept:\n"
        "        print('made')\n"
        "except ArchiveError as exc:\n"
        "    print(exc)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=False, env={**os.environ, "PYTHONPATH": os.getcwd()})
    assert done.stderr == ""
    looked, written, made = done.stdout.splitlines()
    assert looked == "1" and "may not be written: the file or its disk is read only" in written and "other.sqlite cannot be opened" in made


# ---------------------------------------------------------------- two at once


def test_a_second_writer_waits_and_then_says_so(one, monkeypatch):
    monkeypatch.setattr(file_module, "WAIT_S", 0.2)
    with opened(one) as first, opened(one) as second:
        first.connection.execute("BEGIN IMMEDIATE")
        assert second.get(1).reading == A, "who only reads does not wait"
        with pytest.raises(ArchiveError, match="Another program has been writing to"), file_module.told(one):
            second.add(B)
        first.connection.execute("COMMIT")
        assert second.add(B).id == 2


def test_a_second_writer_goes_on_when_the_first_is_done(one):
    with opened(one) as first:
        first.connection.execute("BEGIN IMMEDIATE")
        ready, added = threading.Event(), []

        def add() -> None:
            with opened(one) as second:
                ready.set()
                added.append(second.add(B))

        thread = threading.Thread(target=add)
        thread.start()
        ready.wait()
        assert added == []
        first.connection.execute("COMMIT")
        thread.join()
        assert added[0].id == 2


# ---------------------------------------------------------------- nothing there


def test_an_empty_file_is_an_empty_archive(tmp_path):
    file = tmp_path / "archive.sqlite"
    file.touch()
    with opened(file) as kept:
        assert kept.shown() == []
    assert file.read_bytes() == b""
    with opened(file, create=True) as kept:
        assert kept.add(A).id == 1
