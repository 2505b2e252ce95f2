"""The commands of the archive as a coach calls them, over classes put there by hand."""

import json
from datetime import date
from xml.etree import ElementTree

import pytest
from pydantic import TypeAdapter

from parser.archive import opened, parcel_of_plan
from parser.model import Finding
from parser.review.alike import AlikeTo
from parser.review.change import Difference
from parser.review.habits import Habits
from parser.review.history import History

from ..archive.plans import block, plan, reading, said

MODELS = {"history": History, "habits": Habits, "alike": AlikeTo, "diff": Difference}


@pytest.fixture
def home(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    return tmp_path


@pytest.fixture
def three(home):
    """Three classes in an archive of its own, and what names it in a call."""
    file = home / "own.sqlite"
    finding = Finding(code="side-missing", severity="error", message="Never the left.", said=[said(279.0, "side plank")], block=1, number=1)
    with opened(file, create=True) as kept:
        kept.add(reading(plan(block("squat", "row", work_s=40), title="Rope"), [finding], text="a"), day=date(2026, 3, 2))
        kept.add(reading(plan(block("squat", "press", work_s=30)), [finding], text="b"), day=date(2026, 3, 9))
        kept.add(reading(plan(block("march")), text="c"))
    return "--archive", str(file)


def test_kept_and_looked_over(run, stages, home):
    assert run("archive", "add", "all.vtt", "--date", "2026-03-02").out == "all.vtt: kept as class 1.\n"
    assert [p.relative_to(home).as_posix() for p in home.rglob("*") if p.is_file()] == ["data/planaloud/archive.sqlite"]
    told = run("archive", "history", "--until", "2026-03-08", "--weeks", "1")
    assert (told.code, told.err) == (0, "") and "1 week, 2 to 8 March 2026" in told.out and "1 class in these weeks." in told.out


def test_of_several_files_the_others_are_kept_all_the_same(run, stages, home):
    result = run("archive", "add", "a.vtt", "bad.vtt", "--jobs", "1")
    assert (result.code, result.out) == (2, "a.vtt: kept as class 1.\n") and "bad.vtt holds no words" in result.err


def test_the_same_file_again(run, stages, home):
    run("archive", "add", "a.vtt")
    again = run("archive", "add", "a.vtt")
    assert (again.code, again.out, again.err) == (0, "a.vtt: is kept already, as class 1. Nothing was changed.\n", "")


@pytest.mark.parametrize("call", [["history"], ["habits"], ["pages", "site"]])
def test_an_archive_that_is_empty_has_nothing_invented(run, home, monkeypatch, call):
    monkeypatch.chdir(home)
    result = run("archive", *call)
    assert (result.code, result.err) == (0, "")
    assert not (home / "data").exists()


@pytest.mark.parametrize("call", [["alike", "1"], ["diff", "1", "2"]])
def test_a_class_that_is_not_kept(run, home, call):
    result = run("archive", *call)
    assert (result.code, result.out, result.err) == (2, "", "planaloud: No class 1 is kept.\n")


CALLS = {"history": ["--until", "2026-03-15", "--weeks", "2"], "habits": [], "alike": ["1"], "diff": ["1", "2"]}


@pytest.mark.parametrize("name", CALLS)
def test_as_text_and_as_json(run, three, name):
    text = run("archive", name, *CALLS[name], *three)
    assert (text.code, text.err) == (0, "") and ("row" in text.out or "side-missing" in text.out)
    found = json.loads(run("archive", name, *CALLS[name], "--format", "json", *three).out)
    shape = TypeAdapter(MODELS[name])
    assert shape.dump_python(shape.validate_python(found), mode="json") == found


def test_habits_by_their_rules(run, three):
    told = run("archive", "habits", *three).out
    assert "One-sided work of which only one side is named.  error, side-missing\n  In 2 of 3 classes." in told
    assert "class 2  2026-03-09  4:39  Never the left. “side plank”" in told


def test_what_changed(run, three):
    told = run("archive", "diff", "1", "2", *three).out
    assert "From 1 (2026-03-02, Rope)\nto 2 (2026-03-09, yard.vtt)\n" in told
    assert "  work: 40 s → 30 s\n  gone: 2. row\n  new: 2. press\n" in told


def test_how_many_are_alike(run, three):
    assert len(json.loads(run("archive", "alike", "1", "--limit", "1", "--format", "json", *three).out)["alike"]) == 1
    assert run("archive", "alike", "1", "--limit", "0", *three).code == 2


def test_the_picture_is_a_file(run, three, home):
    target = home / "weeks.svg"
    assert run("archive", "history", *CALLS["history"], "--format", "svg", "-o", str(target), *three).code == 0
    assert ElementTree.parse(target).getroot().tag == "{http://www.w3.org/2000/svg}svg"
    again = run("archive", "history", "--format", "svg", "-o", str(target), *three)
    assert again.code == 2 and "Add --force" in again.err


@pytest.mark.parametrize(("call", "words"), [
    (["history", "--until", "9.3.2026"], "is no date: write 2026-03-02"), (["history", "--until", "2026-02-30"], "is no date"),
    (["history", "--weeks", "0"], "'0' is no whole number from 1 on"), (["history", "--weeks", "999999"], "more than the calendar has"),
    (["alike", "first"], "'first' is no whole number from 1 on"), (["diff", "1", "-2"], "No such option"), (["add", "a.vtt", "--date", "monday"], "is no date"), (["history", "--format", "md"], "is not one of"),
    (["alike", "9" * 19], f"No class {'9' * 19}"), (["alike", "9" * 5000], "is no whole number"),
])
def test_a_wrong_call(run, three, call, words):
    result = run("archive", *call, *three)
    assert result.code == 2 and words in result.err and "Traceback" not in result.err


def test_a_file_that_is_no_archive(run, home):
    (home / "mine.txt").write_text("mine")
    for call in (["history"], ["add", "a.vtt"]):
        result = run("archive", *call, "--archive", str(home / "mine.txt"))
        assert result.code == 2 and "is no archive of planaloud" in result.err
    assert (home / "mine.txt").read_text() == "mine"


def test_pages(run, three, home):
    site = home / "site"
    result = run("archive", "pages", str(site), *CALLS["history"], *three)
    told = ["class-1.html", "class-2.html", "class-3.html", "history.svg", "index.html"]
    assert result.code == 0
    assert sorted(result.out.splitlines()[:-1]) == told and result.out.splitlines()[-1] == f"5 files in {site}. Open {site / 'index.html'}."
    assert sorted(p.name for p in site.iterdir()) == [
        ".planaloud-pages", "class-1.html", "class-2.html", "class-3.html", "history.svg", "index.html",
    ]
    assert all("default-src 'none'" in p.read_text() for p in site.glob("*.html"))
    assert run("archive", "pages", str(site), *three).code == 2
    assert run("archive", "pages", str(site), "--force", *three).code == 0


def test_pages_never_over_anything_else(run, three, home):
    for call in (["pages", str(home)], ["pages", str(home / "none" / "site")], ["pages", three[1]]):
        assert run("archive", *call, "--force", *three).code == 2
    assert sorted(p.name for p in home.iterdir()) == ["own.sqlite"]


def test_what_changed_in_one_class(run, home):
    file = home / "own.sqlite"
    with opened(file, create=True) as kept:
        for text, work in (("a", 30), ("b", 40)):
            kept.add(reading(plan(block("squat", work_s=work)), text=text), path="/rope/monday.vtt")
    assert "  work: 30 s → 40 s\n" in run("archive", "diff", "1", "--archive", str(file)).out
    both = run("archive", "diff", "1", "1", "--version", "1", "--archive", str(file))
    assert (both.code, both.err) == (2, "planaloud: A version is of one class: leave out B, or --version.\n")


def test_pages_of_a_plan_alone(run, home):
    """Without a talk there is nothing to mark: its page is its card, and the index says that it has no report."""
    file = home / "own.sqlite"
    with opened(file, create=True) as kept:
        kept.add(parcel_of_plan(plan(block("squat"), title="Rope"), name="rope.json", sha256="0" * 64))
    assert run("archive", "pages", str(home / "site"), "--archive", str(file)).code == 0
    assert "squat" in (home / "site" / "class-1.html").read_text()
    assert "a plan alone, without a report" in (home / "site" / "index.html").read_text()
    for call in (["habits"], ["alike", "1"], ["history"]):
        assert run("archive", *call, "--archive", str(file)).code == 0
