"""What the README says is so: its commands, its sample, its tables."""

import re
import subprocess
from pathlib import Path

import pytest
import typer.main

from parser.archive.alike import WEIGHTS
from parser.cli import app
from parser.read import FORMATS
from parser.render import PLAN, REPORT

from . import accuracy
from .refresh_readme import README, ROOT, archive_refreshed, block, refreshed, sample_call

TEXT = README.read_text(encoding="utf-8")


def commands(group, words: tuple[str, ...] = ()):
    for name, command in group.commands.items():
        if hasattr(command, "commands"):
            yield from commands(command, (*words, name))
        else:
            yield " ".join((*words, name)), command


COMMANDS = dict(commands(typer.main.get_command(app)))
ROWS = {m[1]: m[0] for m in re.finditer(r"^\| `planaloud ((?:(?:lexicon|archive) )?[a-z]+)[^`]*` \|.*$", TEXT, re.MULTILINE)}


def test_every_command_has_its_row_and_every_row_its_command():
    assert set(ROWS) == set(COMMANDS)


@pytest.mark.parametrize("name", sorted(COMMANDS))
def test_every_option_is_documented_and_no_other(name):
    options = {opt for param in COMMANDS[name].params for opt in param.opts if opt.startswith("-")} - {"--help"}
    assert set(re.findall(r"(?<![\w-])--?[a-z][a-z-]*", ROWS[name])) == options


def test_outputs_are_documented():
    for name in {*PLAN, *REPORT}:
        assert f"`{name}`" in TEXT


@pytest.mark.parametrize("name", ["plan", "audit"])
def test_output_names_stand_in_the_order_of_the_table(name):
    assert "`--format " + "\\|".join(PLAN if name == "plan" else REPORT) + "`" in ROWS[name]


def test_formats_that_are_read_are_documented():
    table = TEXT[TEXT.index("## What can be read") : TEXT.index("## Commands")]
    assert set(re.findall(r"^\| `([\w-]+)` \|", table, re.MULTILINE)) == {f.name for f in FORMATS}


def test_sample_is_there_and_the_plan_printed_is_the_plan_made():
    assert sample_call(TEXT)[0] == "plan" and (ROOT / sample_call(TEXT)[-1]).is_file()
    assert refreshed(TEXT) == TEXT


def test_the_archive_says_what_is_printed():
    assert archive_refreshed(TEXT) == TEXT


def test_what_is_found_as_a_coach_reads_it():
    # Written by hand from the samples, beside the block that a command writes.
    told = " ".join(block(TEXT, "archive-find-out").split())
    assert told.startswith("2 classes. 7 (2026-03-02, ropewalk-fifty-tens.md) with Marnie · tags: spring [3:08]")
    assert "Too much? Leave the squat out and it's just a press." in told and "[1:25] sumo squat:" in told


def test_the_archive_as_a_coach_reads_it():
    # Written by hand from the samples, beside the block that a command writes.
    told = " ".join(block(TEXT, "archive-out").split())
    for words in ("2 weeks, 9 to 22 March 2026", "2 classes in these weeks.", "burpee 1 2026-03-19 ·1",
                  "romanian deadlift 1 2026-03-12 1·", "thruster (1 class, last 2026-03-02)"):
        assert words in told


def test_what_makes_classes_alike_is_weighed_as_stated():
    stated = re.search(r"\(weighed (\d+), (\d+), (\d+), (\d+) and (\d+) in a hundred", TEXT).groups()
    assert [int(share) for share in stated] == [round(100 * share) for share in WEIGHTS.values()]


def test_sample_as_a_coach_reads_it():
    # Written by hand from the sample, beside the block that a command writes.
    plan = block(TEXT, "sample-out")
    for words in ("under 30 min", "3 rounds · 50 s work, 10 s rest · 75 s between rounds", "1. sumo squat", "2. single-arm row",
                  "25 s a side", "3. reverse lunge", "deadlift", "5. thruster", "PAR-Q+"):
        assert words in plan


def test_accuracy_is_as_stated():
    assert accuracy.with_table(TEXT, accuracy.as_table(accuracy.stated())) == TEXT


def test_readme_carries_the_ordinary_cautions():
    assert "PAR-Q+" in TEXT and "qualified\nprofessional" in TEXT and "not advice" in TEXT


def test_ci_runs_the_test_command_word_for_word():
    shown = subprocess.run([ROOT / ".ci" / "run", "--show"], capture_output=True, text=True, check=True)
    assert shown.stdout == block(TEXT, "test-command")


def test_links_between_the_guides_lead_somewhere():
    for guide in ("README.md", "DEVELOPERS.md"):
        for target in re.findall(r"\]\(([^)#:]+)\)", Path(ROOT / guide).read_text(encoding="utf-8")):
            assert (ROOT / target).exists()
