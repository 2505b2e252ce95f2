"""Files no coach should have, through the command as a person calls it: told in a line, exit code 2, never a traceback."""

import json
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

from parser import cli

ROOT = Path(__file__).resolve().parents[2]
BOTH = (
    "from parser import pipeline, read; talk = read.read_path('talk.md');"
    "print(pipeline.plan(talk).model_dump_json(), pipeline.audit(talk).model_dump_json())"
)
TALK = "[0:00] Two rounds, forty seconds on, twenty off.\n\n[0:10] Number one, [bold]squats[/bold].\n\n[0:20] Number two, \x1b[31mlunges\u202e.\n"

REFUSED = {
    "empty.srt": b"",
    "blank.txt": b"  \n\n\t",
    "binary.srt": bytes(range(256)) * 20,
    "zeros.txt": b"\0" * 9,
    "silent.vtt": b"WEBVTT\n\n",
    "list.json": b"[1, 2, 3]",
    "silent.json": b'{"segments": []}',
    "broken-off.json": b'{"segments": [',
    "deep.json": b"[" * 100_000,
    "broken-off.ttml": b'<tt xmlns="http://www.w3.org/ns/ttml"><body><div><p begin="1s" end="2s">squats',
    "entities.ttml": b'<?xml version="1.0"?><!DOCTYPE t [<!ENTITY a "x"><!ENTITY b "&a;&a;">]>'
                     b'<tt xmlns="http://www.w3.org/ns/ttml"><body><div><p begin="1s" end="2s">&b;</p></div></body></tt>',
}
BAD_WORDS = {
    "no-meaning.toml": b'[[word]]\nname = "x"\n',
    "no-toml.toml": b"junk [[[",
    "nonsense.toml": b'[[word]]\nname = "aa"\nmeans = "zzz"\n',
    "circle.toml": b'[[word]]\nname = "a a"\nmeans = "b b"\n\n[[word]]\nname = "b b"\nmeans = "a a"\n',
    "kinds.toml": b'[[word]]\nname = 5\nmeans = ["squat"]\n',
    "binary.toml": bytes(range(128, 256)),
    "flat.toml": b"word = 3\n",
}


@dataclass(frozen=True)
class Ended:
    code: int
    out: str
    err: str


@pytest.fixture
def call(capsys, monkeypatch, folder):
    """``call("plan", "talk.md")`` in the folder, as a person would call it."""
    def run(*args: str) -> Ended:
        monkeypatch.setattr(sys, "argv", ["planaloud", *args])
        with pytest.raises(SystemExit) as ended:
            cli.main()
        return Ended(ended.value.code, *capsys.readouterr())

    monkeypatch.chdir(folder)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(folder / "config"))
    return run


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "talk.md").write_text(TALK)
    (tmp_path / "inner").mkdir()
    return tmp_path


def test_each_unreadable_file_gets_its_line_and_the_good_one_comes_out(folder, call):
    for name, data in REFUSED.items():
        (folder / name).write_bytes(data)
    bad = [*REFUSED, "inner", "not-there.srt"]
    result = call("plan", "--format", "json", "talk.md", *bad)
    assert result.code == 2
    told = result.err.splitlines()
    assert len(told) == len(bad) and all(line.startswith("planaloud: ") for line in told)
    assert all(name in line for name, line in zip(bad, told))
    assert [plan["source"]["name"] for plan in json.loads(result.out)] == ["talk.md"]


def test_same_input_same_bytes_whatever_the_hash_seed(folder):
    first, second = (
        subprocess.run([sys.executable, "-c", BOTH], cwd=folder, capture_output=True, check=True, timeout=60,
                       env={**os.environ, "PYTHONPATH": str(ROOT), "PYTHONHASHSEED": seed}).stdout
        for seed in ("1", "2"))
    assert first == second != b""


def test_nothing_said_reaches_the_terminal_as_a_command(call):
    for form in ("text", "md"):
        result = call("plan", "talk.md", "--format", form)
        assert result.code == 0 and "squat" in result.out
        assert not {char for char in result.out if not char.isprintable()} - {"\n"}


def test_output_goes_nowhere_it_should_not(folder, call):
    before = (folder / "talk.md").read_bytes()
    for target in ("talk.md", "inner", "missing/plan.txt", ""):
        result = call("plan", "talk.md", "-o", target, "--force")
        assert result.code == 2 and result.out == ""
        assert result.err.startswith("planaloud: ") and result.err.count("\n") == 1
    assert (folder / "talk.md").read_bytes() == before
    assert sorted(path.name for path in folder.iterdir()) == ["inner", "talk.md"]


def test_broken_files_of_own_words_are_told_of(folder, call):
    (folder / "dir.toml").mkdir()
    for name, data in BAD_WORDS.items():
        (folder / name).write_bytes(data)
    for name in ("dir.toml", *BAD_WORDS):
        result = call("lexicon", "check", name)
        assert result.code == 2 and result.out == ""
        assert all(line.startswith("planaloud: ") and name in line for line in result.err.splitlines())


def test_teaching_leaves_a_broken_file_as_it_is(folder, call):
    (folder / "words.toml").write_bytes(BAD_WORDS["no-toml.toml"])
    result = call("lexicon", "teach", "zorks", "--means", "squat", "--lexicon", "words.toml")
    assert result.code == 2 and "Traceback" not in result.err
    assert (folder / "words.toml").read_bytes() == BAD_WORDS["no-toml.toml"]
