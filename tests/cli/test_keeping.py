"""Putting classes in, finding them, and taking them out, as a coach calls it. The talks are real; nothing is played."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from pydantic import TypeAdapter

from parser.archive import opened, parcel_of_plan
from parser.review.card import Card
from parser.review.found import Hits

from ..archive.plans import block, movement, plan

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
TALKS = ("ropewalk-fifty-tens.md", "long-room-thursday-alone.srt", "net-loft-three-pairs.json")


@pytest.fixture(scope="module")
def samples(tmp_path_factory):
    """An archive of three samples: 1 the Ropewalk, 2 Thursday alone, 3 three pairs. Copied for each test."""
    folder = tmp_path_factory.mktemp("samples")
    file = folder / "kept.sqlite"
    subprocess.run([sys.executable, "-m", "parser.cli", "archive", "add", *(str(SAMPLES / name) for name in TALKS), "--jobs", "1", "--archive", str(file)],
                   check=True, capture_output=True, cwd=SAMPLES.parent)
    return file


@pytest.fixture
def call(run, samples, tmp_path, monkeypatch):
    """``call("find", "squat")`` on that archive, away from anybody's own words."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    file = tmp_path / "own.sqlite"
    shutil.copy(samples, file)
    return lambda *args: run("archive", *args, "--archive", str(file))


def _ids(result) -> list[int]:
    assert (result.code, result.err) == (0, "")
    return [hit.shown.id for hit in TypeAdapter(Hits).validate_json(result.out).hits]


# ---------------------------------------------------------------- found


@pytest.mark.parametrize(("asked", "classes"), [
    (["bucket"], [1]), (["half-kneeling"], [2]), (["leave the dumbbell"], [1]), (["leave", "dumbbells"], [2, 1]), (["zanzibar"], []),
    (["--movement", "half-kneeling press"], [2]), (["--movement", "half kneeling press"], [2]), (["--movement", "press"], [3, 2]), (["--movement", "squat press"], [1]),
    (["--movement", "row", "--movement", "romanian deadlift"], [3]), (["--movement", "RDL"], [3]), (["--pattern", "lunge", "--without", "dumbbell"], []),
    (["--work", "50", "--rest", "10"], [1]), (["--work", "45-60", "--length", "20-30"], [1]), (["--equipment", "bench"], [3]), (["--equipment", "Dumb bells", "--equipment", "a bench"], [3]), (["--without", "kettlebells"], [3, 2, 1]), (["--block", "interval"], [2, 1]),
    (["--rounds", "3", "--muscle", "glutes", "bucket"], [1]), (["--finding", "number-missing"], []),
])
def test_found(call, asked, classes):
    assert _ids(call("find", *asked, "--format", "json")) == classes


def test_found_as_a_coach_reads_it(call):
    told = call("find", "bucket").out
    assert told.startswith("1 class.\n\n1 (no date, ropewalk-fifty-tens.md)\n    [1:24] … ") and "hands like a bucket. Down" in " ".join(told.split())
    assert call("find", "zanzibar").out == "No class has all of this.\n"
    assert call("find", "--limit", "1").out.startswith("3 classes, of which these are the first 1.\n")


@pytest.mark.parametrize(("asked", "words"), [
    (["--movement", "blorp"], "“blorp” is no movement that the lexicon knows"), (["--work", "long"], "'long' is neither a number nor a range"),
    (["--work", "50-40"], "goes down"), (["--pattern", "sqat"], "“sqat” is no pattern. There are: abduction"), (["--muscle", "glute"], "is no muscle"),
    (["--finding", "no-such"], "is no finding"), (["--equipment", "blorp"], "“blorp” is no equipment that the lexicon knows"), (["--coach", "\udcff"], "holds what is no text"),
    (["--since", "2.3.2026"], "is no date"), (["--block", "circuit"], "is not one of"), (["--order", "size"], "is not one of"), (["--limit", "0"], "is no whole number"),
])
def test_a_wrong_question(call, asked, words):
    result = call("find", *asked)
    assert result.code == 2 and words in result.err and "Traceback" not in result.err


def test_finding_words_asks_no_language(samples):
    """A search starts at once: neither spaCy nor the lexicon nor the models are loaded for it."""
    code = ("import sys; from parser import cli\nsys.argv = ['planaloud', 'archive', 'find', 'bucket', '--pattern', 'squat', '--archive', sys.argv[1]]\n"
            "try:\n    cli.main()\nexcept SystemExit as end:\n    assert end.code == 0\n"
            "sys.exit([m for m in ('spacy', 'lexicon', 'rapidfuzz', 'parser.pipeline', 'parser.hear', 'distributed', 'parser.model') if m in sys.modules] or 0)")
    done = subprocess.run([sys.executable, "-c", code, str(samples)], capture_output=True, text=True, check=False, cwd=SAMPLES.parent)
    assert (done.returncode, done.stderr) == (0, "") and "bucket" in done.stdout


def test_an_archive_that_was_named_has_to_be_there(run, tmp_path):
    told = run("archive", "find", "bucket", "--archive", str(tmp_path / "none.sqlite"))
    assert (told.code, told.out) == (2, "") and "There is no archive" in told.err and not list(tmp_path.iterdir())


# ---------------------------------------------------------------- one class


def test_shown(call):
    told = " ".join(call("show", "1").out.split())       # where lines break depends on where the folder lies
    for words in ("Class 1 (no date, ropewalk-fifty-tens.md)", "UTC from ", "samples/ropewalk-fifty-tens.md", "5. thruster", "AS DELIVERED"):
        assert words in told
    card = TypeAdapter(Card).validate_json(call("show", "2", "--format", "json").out)
    assert card.shown.name == TALKS[1] and card.report and card.versions[0].number == card.version == 1
    assert call("show", "9").err == "planaloud: No class 9 is kept.\n"
    assert "Class 1 has no version 2" in call("show", "1", "--version", "2").err


def test_its_page_is_that_of_its_file(call, run, tmp_path):
    page = call("page", "1").out
    assert page == run("page", str(SAMPLES / TALKS[0])).out
    target = tmp_path / "class.html"
    assert call("page", "1", "-o", str(target)).code == 0 and target.read_text() == page


def test_tags_and_all_that_a_coach_says(call):
    said = ["--tag", "Wet", "--tag", "spring", "--date", "2026-03-02", "--title", "Fifty tens", "--coach", "Marnie", "--place", "Ropewalk Hall"]
    assert call("tag", "1", "3", *said).code == 0
    assert call("tag", "3", "--untag", "wet").code == 0
    assert _ids(call("find", "--tag", "wet", "--format", "json")) == [1] and _ids(call("find", "--coach", "marnie", "--place", "ropewalk hall", "--format", "json")) == [3, 1]
    assert call("show", "1").out.startswith("Class 1 (2026-03-02, Fifty tens)\nwith Marnie · at Ropewalk Hall · tags: spring, wet\n")
    assert call("tag", "1", "8", "--tag", "lost").err == "planaloud: No class 8 is kept.\n" and _ids(call("find", "--tag", "lost", "--format", "json")) == []


def test_taken_out(call):
    assert call("remove", "1", "3").out == "Class 1: taken out.\nClass 3: taken out.\n"
    assert _ids(call("find", "--format", "json")) == [2] and call("check").out == "1 class, 1 version: all whole.\n"
    assert call("remove", "2", "1").code == 2 and _ids(call("find", "--format", "json")) == [2]


# ---------------------------------------------------------------- in and out


def test_out_and_in_again(call, run, tmp_path):
    target, other = tmp_path / "all.jsonl", tmp_path / "other.sqlite"
    assert call("export", "-o", str(target)).code == 0
    told = run("archive", "import", str(target), "--archive", str(other))
    assert (told.code, told.out.splitlines()) == (0, [f"{name}: kept as class {n}." for n, name in enumerate(TALKS, 1)])
    assert run("archive", "export", "--archive", str(other)).out == target.read_text() == call("export").out
    again = run("archive", "import", str(target), "--archive", str(other))
    assert again.out.count("is kept already") == 3


def test_understood_once_more(call):
    told = call("refresh", "--jobs", "1")
    assert (told.code, sorted(told.out.splitlines())) == (0, [f"Class {n} ({name}): as before." for n, name in enumerate(TALKS, 1)])


def test_a_damaged_class_is_told(call, tmp_path):
    import sqlite3

    with sqlite3.connect(tmp_path / "own.sqlite") as broken:
        broken.execute("UPDATE version SET plan = x'00' WHERE class = 2")
    told = call("check")
    assert (told.code, told.out) == (2, "") and told.err.startswith("planaloud: Class 2, version 1: it cannot be read")
    assert call("show", "2").code == 2 and call("show", "1").code == 0


def test_words_cannot_move_a_cursor(run, tmp_path):
    file = tmp_path / "own.sqlite"
    harm = "press\x1b[31m\u202e\x07"
    with opened(file, create=True) as kept:
        made = movement(1, "press", easier=harm).model_copy(update={"said": harm, "name": harm})
        kept.add(parcel_of_plan(plan(block(made), title=harm), name=harm, sha256="a" * 64), path=harm)
    for args in (["find", "press"], ["show", "1"], ["find", "--format", "json"], ["show", "1", "--format", "json"], ["export"]):
        told = run("archive", *args, "--archive", str(file))
        assert told.code == 0 and not {"\x1b", "\u202e", "\x07"} & set(told.out)
