"""Many files into the archive: in one process and in several, with what goes wrong on the way."""

import json
import os
import signal
import subprocess
import sys
import time
from concurrent.futures import ProcessPoolExecutor

import pytest

from parser import keeping
from parser.archive import Given, check, opened
from parser.errors import UnreadableInput
from parser.keeping import File, cores, files_in, here, in_processes, keep, made_with, own_words, understood

GIVEN = Given(tags=("wet",))
HEEDING = "import signal; signal.signal(signal.SIGINT, signal.default_int_handler); from parser.cli import main; main()"
"""A call that heeds Ctrl-C: what a shell starts in its background has it ignored, and so has all that is started from there."""
MANY = 3000
"""Classes that nobody adds before a busy machine has sent a signal."""


def kept_of(file, names, make) -> list:
    told = []
    with opened(file, create=True) as archive:
        keep(archive, names, make, given=GIVEN, tell=told.append)
        assert check(archive).faults == ()
    return told


# ---------------------------------------------------------------- which files


def test_a_folder_is_its_talks_and_plans(tmp_path):
    for name in ("b.vtt", "a.SRT", "film.mp4", "notes.docx", ".hidden.vtt", "deep/c.json", ".git/d.vtt"):
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.touch()
    assert files_in([str(tmp_path)]) == [str(tmp_path / name) for name in ("a.SRT", "b.vtt", "deep/c.json")]
    named = str(tmp_path / "film.mp4")
    assert files_in([named, "-", named]) == [named, "-"], "what is named itself is read whatever its name"


def test_a_folder_without_any(tmp_path):
    (tmp_path / "film.mp4").touch()
    with pytest.raises(UnreadableInput, match="is a folder without captions, transcripts or plans"):
        files_in([str(tmp_path)])


# ---------------------------------------------------------------- kept


@pytest.mark.parametrize("make", [here(None), in_processes(None, 2)], ids=["here", "in two processes"])
def test_the_others_are_kept_all_the_same(folder, archive, make):
    talks = folder(3)
    (talks / "empty.md").touch()
    (talks / "picture.txt").write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(range(256)))
    told = kept_of(archive, [*files_in([str(talks)]), str(talks / "none.vtt")], make)
    assert sorted(str(d.complaint).split(" ")[0] for d in told if d.complaint) == ["There", "empty.md", "picture.txt"]
    with opened(archive) as kept:
        assert sorted(shown.name for shown in kept.shown()) == ["000.md", "001.md", "002.md"]
        assert kept.tags(1) == ["wet"] and kept.versions(1)[0].path == os.path.realpath(talks / kept.get(1).shown.name)


def test_several_processes_keep_the_same(folder, archive, tmp_path):
    names = files_in([str(folder(6))])
    kept_of(archive, names, here(None))
    kept_of(tmp_path / "other.sqlite", names, in_processes(None, 2))
    with opened(archive) as one, opened(tmp_path / "other.sqlite") as other:
        assert {k.talk.name: k.reading for k in one} == {k.talk.name: k.reading for k in other}


def test_kept_already_and_changed_since(folder, archive):
    talks = folder(2)
    names = files_in([str(talks)])
    kept_of(archive, names, here(None))
    (talks / "001.md").write_text((talks / "001.md").read_text().replace("goblet squat", "push-up"))
    told = kept_of(archive, names, here(None))
    assert [d.said for d in told] == ["000.md: is kept already, as class 1. Nothing was changed.", "001.md: kept as version 2 of class 2."]


def test_what_is_kept_already_is_not_understood_again(folder, archive, monkeypatch):
    names = files_in([str(folder(2))])
    kept_of(archive, names, here(None))
    monkeypatch.setattr(keeping, "understood", lambda *_: 1 / 0)
    assert all("is kept already" in d.said for d in kept_of(archive, names, here(None)))


def test_what_is_no_class_is_kept_only_where_it_was_named(folder, archive):
    talks = folder(1)
    other = talks / "shopping.txt"
    other.write_text("Bread, lamp oil, and a new rope for the ferry.")
    names, told = files_in([str(talks)]), []
    with opened(archive, create=True) as kept:
        keep(kept, names, here(None), given=GIVEN, tell=told.append, found=names)
        assert told[1].said == "shopping.txt: left out, since no movement was heard in it. Name the file itself to keep it." and told[1].complaint is None
        keep(kept, [str(other)], here(None), given=GIVEN, tell=told.append)
        assert told[2].said == "shopping.txt: kept as class 2."


def test_a_plan_and_its_talk_are_two_classes(folder, archive, tmp_path):
    from parser.pipeline import plan
    from parser.read import read_path

    talk = folder(1) / "000.md"
    written = tmp_path / "2026-03-02.json"
    written.write_text(plan(read_path(talk)).model_dump_json())
    kept_of(archive, [str(talk), str(written)], here(None))
    with opened(archive) as kept:
        assert [k.report is None for k in kept] == [False, True] and kept.get(2).plan == kept.get(1).plan
        assert kept.get(2).shown.day.isoformat() == "2026-03-02"


def test_a_fault_of_ours_is_one_file(monkeypatch):
    monkeypatch.setattr("parser.pipeline.reading", lambda *_, **__: 1 / 0)
    made = understood(File("a.md", None, b"[0:00] Hello, goblet squat."), None)
    assert isinstance(made, UnreadableInput) and "a.md could not be understood (ZeroDivisionError" in str(made)


class ToldLate(ProcessPoolExecutor):
    """Another file is handed over only once a process is known to have ended."""

    def submit(self, call, item, /, *more):
        if item.name == "006.md":
            deadline = time.monotonic() + 60
            while not self._broken and time.monotonic() < deadline:
                time.sleep(0.01)
        return super().submit(call, item, *more)


@pytest.mark.skipif(sys.platform == "win32", reason="no process is ended so there")
@pytest.mark.parametrize("pool", [ProcessPoolExecutor, ToldLate], ids=["told when it may be", "told before the next is handed over"])
def test_a_file_that_ends_its_process(folder, archive, tmp_path, monkeypatch, pool):
    """Out of memory, say: the system ends the process without a word."""
    monkeypatch.setattr(keeping, "ProcessPoolExecutor", pool)
    (tmp_path / "sitecustomize.py").write_text(
        "import os, signal, parser.read as r\nread = r.read_bytes\n"
        "def read_bytes(data, *, name):\n    if name == '003.md':\n        os.kill(os.getpid(), signal.SIGKILL)\n    return read(data, name=name)\n"
        "r.read_bytes = read_bytes\n"
    )
    monkeypatch.setenv("PYTHONPATH", os.pathsep.join([str(tmp_path), os.getcwd()]))
    told = kept_of(archive, files_in([str(folder(8))]), in_processes(None, 2))
    assert [str(d.complaint) for d in told if d.complaint] == ["003.md ended the process that read it, maybe for want of memory. It was left out."]
    with opened(archive) as kept:
        assert len(kept.shown()) == 7


# ---------------------------------------------------------------- own words


def test_own_words_go_along(folder, archive, tmp_path):
    words = tmp_path / "words.toml"
    words.write_text('[[word]]\nname = "the kraken"\nmeans = "goblet squat"\n')
    talks = folder(2)
    for talk in talks.iterdir():
        talk.write_text(talk.read_text().replace("goblet squat", "the kraken"))
    kept_of(archive, files_in([str(talks)]), in_processes(own_words(words), 2))
    with opened(archive) as kept:
        assert [k.plan.mains[0].movements[0].parts[0].base for k in kept] == ["goblet squat"] * 2


def test_refresh_reads_all_again_with_the_words_there_are_now(folder, archive, tmp_path):
    talks = folder(2)
    (talks / "001.md").write_text((talks / "001.md").read_text().replace("goblet squat", "the kraken"))
    kept_of(archive, files_in([str(talks)]), here(None))
    words = tmp_path / "words.toml"
    words.write_text('[[word]]\nname = "the kraken"\nmeans = "goblet squat"\n')
    told = []
    with opened(archive) as kept:
        keeping.refresh(kept, here(own_words(words)), tell=told.append)
        assert sorted(d.said for d in told) == ["Class 1 (000.md): as before.", "Class 2 (001.md): understood otherwise now."]
        assert kept.get(2).plan.mains[0].movements[0].parts[0].base == "goblet squat" and len(kept.versions(2)) == 1
        assert kept.tags(2) == ["wet"] and check(kept).faults == ()


def test_as_many_processes_as_are_of_use(monkeypatch):
    chosen = []
    monkeypatch.setattr(keeping, "here", lambda words: chosen.append("here"))
    monkeypatch.setattr(keeping, "in_processes", lambda words, jobs: chosen.append(jobs))
    monkeypatch.setattr(keeping, "cores", lambda: 4)
    for files, jobs in ((1, 8), (3, 8), (100, 8), (100, 1), (0, 4), (15, None), (16, None), (100, None)):
        made_with(None, files=files, jobs=jobs)
    assert chosen == ["here", 3, 8, "here", "here", "here", 2, 4] and cores() >= 1


# ---------------------------------------------------------------- broken off


@pytest.mark.skipif(sys.platform == "win32", reason="sends the signal of Ctrl-C")
@pytest.mark.parametrize("jobs", ["1", "2"])
def test_ctrl_c_leaves_a_good_archive(folder, archive, jobs):
    process = subprocess.Popen(
        [sys.executable, "-c", HEEDING, "archive", "add", str(folder(MANY)), "--archive", str(archive), "--jobs", jobs], start_new_session=True,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env={**os.environ, "PYTHONPATH": os.getcwd()})
    told = [process.stdout.readline() for _ in range(5)]
    os.killpg(process.pid, signal.SIGINT)  # as a terminal does: to all of them
    end = time.monotonic()
    more, complaints = process.communicate(timeout=60)
    assert process.returncode == 130 and "Traceback" not in complaints and f" of {MANY}. What was told of is done" in complaints, complaints
    assert time.monotonic() - end < 60
    told += more.splitlines()
    numbers = {int(line.rpartition(" ")[2].rstrip(".\n")) for line in told if line.strip()}
    with opened(archive) as kept:
        assert numbers <= {shown.id for shown in kept.shown()} and 5 <= len(kept.shown()) < MANY and check(kept).faults == ()


# ---------------------------------------------------------------- in again


def test_lines_that_are_none_are_told_with_their_number(tmp_path, archive):
    file = tmp_path / "export.jsonl"
    file.write_text(f"\n{json.dumps({'schema_version': '1'})}\n")
    told = []
    with keeping.lines_of(str(file)) as lines, opened(archive, create=True) as kept:
        keeping.restore(kept, lines, name="export.jsonl", tell=told.append)
    (done,) = told
    assert str(done.complaint).startswith("Line 2 of export.jsonl is no class")
    with pytest.raises(UnreadableInput, match="cannot be opened"), keeping.lines_of(str(tmp_path / "none")):
        pass


# ---------------------------------------------------------------- how far it is


def test_a_bar_on_a_terminal_and_plain_lines_elsewhere(folder, archive):
    pty = pytest.importorskip("pty")
    talks = str(folder(3))
    call = [sys.executable, "-m", "parser.cli", "archive", "add", talks, "--jobs", "1", "--archive", str(archive)]
    ours, theirs = pty.openpty()
    process = subprocess.Popen(call, stdout=theirs, stderr=theirs, env={**os.environ, "PYTHONPATH": os.getcwd(), "TERM": "xterm"})
    os.close(theirs)
    shown = b""
    try:
        while more := os.read(ours, 65536):
            shown += more
    except OSError:  # Linux tells so that the other end is closed
        pass
    os.close(ours)
    assert process.wait() == 0
    assert b"3/3" in shown and b"\x1b[" in shown and b"001.md: kept as class 2." in shown
    plain = subprocess.run(call, capture_output=True, text=True, check=True, env={**os.environ, "PYTHONPATH": os.getcwd()})
    assert plain.stdout == "".join(f"00{n}.md: is kept already, as class {n + 1}. Nothing was changed.\n" for n in range(3)) and plain.stderr == ""
