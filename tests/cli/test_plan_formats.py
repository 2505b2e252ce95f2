"""What a format needs is asked for before the work, in one sentence; a plan's JSON does for a talk-through."""

from __future__ import annotations

import json

import pytest

from ..render.examples import FULL
from ..render.outputs import eight_bouts

REFUSED = [
    (("a.vtt", "--format", "ics"), "ics needs the start of the class: add --start 2026-03-02T18:30."),
    (("a.vtt", "--format", "ics", "--start", "18:30"), "ics needs the date too: write --start 2026-03-02T18:30."),
    (("a.vtt", "--format", "text", "--start", "18:30"), "text has no times of day. Leave out --start, or choose another --format."),
    *(((*("a.vtt", "b.vtt"), "--format", name), f"{name} is made of one class: 2 files were given. Call it for each of them.")
      for name in ("chapters", "times", "cues")),
    (("a.vtt", "b.vtt", "--format", "ics", "--start", "2026-03-02T18:30"), "ics is made of one class: 2 files were given. Call it for each of them."),
]


@pytest.mark.parametrize(("args", "told"), REFUSED)
def test_a_call_that_cannot_be_answered_is_refused_before_the_work(run, stages, args, told):
    result = run("plan", *args)
    assert (result.code, result.out, result.err) == (2, "", f"planaloud: {told}\n")
    assert stages.asked == []


def test_a_start_that_is_none(run, stages):
    result = run("plan", "a.vtt", "--format", "card", "--start", "half six")
    assert result.code == 2 and "is no start of a class: write 18:30" in result.err


@pytest.fixture
def written(tmp_path):
    path = tmp_path / "class.json"
    path.write_text(FULL.model_dump_json())
    return path


@pytest.mark.parametrize("name", ["text", "md", "json", "card", "chapters", "times", "cues", "csv", "jsonld"])
def test_every_format_comes_of_a_plan_too(run, stages, written, name):
    result = run("plan", str(written), "--format", name)
    assert (result.code, result.err) == (0, "") and "curl + reverse lunge" in result.out
    assert stages.asked == []


def test_a_calendar_of_a_plan(run, stages, written):
    assert "SUMMARY:Lunch on the slipway" in run("plan", str(written), "--format", "ics", "--start", "2026-03-02T18:30").out


def test_a_plan_with_a_mistake_names_the_field(run, stages, written):
    tree = json.loads(written.read_text())
    tree["blocks"][1]["work_s"] = "forty"
    written.write_text(json.dumps(tree))
    result = run("plan", str(written), "--format", "card")
    assert (result.code, result.out) == (2, "")
    assert "is no plan as it should be: blocks.1.work_s: " in result.err and result.err.count("\n") == 1


def test_a_plan_that_lacks_what_a_format_needs(run, stages, tmp_path):
    path = tmp_path / "class.json"
    path.write_text(eight_bouts().model_copy(update={"blocks": []}).model_dump_json())
    for name, told in (("cues", "nothing in the plan has a length"), ("times", "nothing in it has a time")):
        result = run("plan", str(path), "--format", name)
        assert (result.code, result.out) == (2, "") and told in result.err


def test_what_was_done_goes_into_the_chapters(run, stages):
    assert "nothing in it has a time" not in run("plan", "a.vtt", "--format", "times").err
