"""Arguments in, one call, exit code out."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from .conftest import module

ROOT = Path(__file__).resolve().parents[2]


def shell(*args: str, **more) -> subprocess.CompletedProcess:
    return subprocess.run([sys.executable, *args], cwd=ROOT, capture_output=True, timeout=60, check=False, **more)


# ---------------------------------------------------------------- plan


def test_plan_prints_the_plan(run, stages):
    result = run("plan", "a.vtt")
    assert (result.code, result.err) == (0, "")
    assert result.out.startswith("Class of a.vtt\n")
    assert "PAR-Q+" in result.out


def test_plan_as_markdown_and_json(run, stages):
    assert run("plan", "a.vtt", "--format", "md").out.startswith("# Class of a.vtt\n")
    assert json.loads(run("plan", "a.vtt", "--format", "json").out)["title"] == "Class of a.vtt"


def test_several_files_come_in_the_order_of_the_call(run, stages):
    found = json.loads(run("plan", "b.vtt", "a.vtt", "--format", "json").out)
    assert [plan["title"] for plan in found] == ["Class of b.vtt", "Class of a.vtt"]
    text = run("plan", "b.vtt", "a.vtt").out
    assert text.index("== b.vtt =") < text.index("Class of b.vtt") < text.index("== a.vtt =") < text.index("Class of a.vtt")


def test_a_bad_file_among_several_stops_none_of_the_others(run, stages):
    result = run("plan", "a.vtt", "bad.bin", "c.vtt", "--format", "json")
    assert result.code == 2
    assert [plan["title"] for plan in json.loads(result.out)] == ["Class of a.vtt", "Class of c.vtt"]
    assert result.err == "planaloud: bad.bin holds no words. Give captions.\n"


def test_a_bad_file_alone(run, stages, tmp_path):
    target = tmp_path / "plan.md"
    result = run("plan", "bad\x1b[2J.bin", "-o", str(target))
    assert (result.code, result.out) == (2, "")
    assert result.err == "planaloud: bad[2J.bin holds no words. Give captions.\n"
    assert not target.exists()


# ---------------------------------------------------------------- audit


@pytest.mark.parametrize(("file", "fail_on", "code"), [
    ("clean", "note", 0), ("note", "note", 1), ("note", "warning", 0), ("warning", "warning", 1), ("warning", "error", 0),
    ("error", "error", 1), ("error", "note", 1), ("all", "never", 0), ("all", None, 1), ("warning", None, 0),
])
def test_exit_code_follows_the_threshold(run, stages, file, fail_on, code):
    options = ["--fail-on", fail_on] if fail_on else []
    result = run("audit", f"{file}.vtt", *options)
    assert (result.code, result.err) == (code, "")


def test_one_faulty_file_among_several_decides(run, stages):
    assert run("audit", "clean.vtt", "error.vtt", "clean.vtt").code == 1


def test_a_file_that_cannot_be_read_outweighs_findings(run, stages):
    result = run("audit", "error.vtt", "bad.bin", "--format", "json")
    assert result.code == 2
    assert json.loads(result.out)[0]["findings"][0]["code"] == "split-mismatch"


def test_clean_audit_is_one_line(run, stages):
    assert run("audit", "clean.vtt").out == "Nothing that disagrees was found.\n"


def test_strict_is_handed_on(run, stages):
    run("audit", "clean.vtt")
    run("audit", "clean.vtt", "--strict")
    assert [asked["strict"] for asked in stages.asked] == [False, True]


# ---------------------------------------------------------------- page


def test_page_is_one_html_file(run, stages, tmp_path):
    result = run("page", "a.vtt")
    assert (result.code, result.err) == (0, "")
    assert result.out.startswith("<!DOCTYPE html>") and "<title>step-up of a.vtt</title>" in result.out
    target = tmp_path / "class.html"
    assert run("page", "a.vtt", "-o", str(target)).out == ""
    assert target.read_text(encoding="utf-8") == result.out


def test_page_keeps_to_the_rules_of_every_output(run, stages, tmp_path):
    target = tmp_path / "class.html"
    target.write_text("mine")
    assert run("page", "a.vtt", "-o", str(target)).code == 2
    assert target.read_text() == "mine"
    assert run("page", "a.vtt", "-o", str(target), "--force", "--lexicon", "mine.toml").code == 0
    assert stages.asked[-1] == {"lexicon": ("lexicon", Path("mine.toml"))}
    assert run("page", "bad.bin").code == 2
    assert run("page", "a.vtt", "b.vtt").code == 2


# ---------------------------------------------------------------- explain, schema, rules


def test_explain_prints_the_lines_harmlessly(run, stages):
    result = run("explain", "a.vtt", "--at", "3:27")
    assert (result.code, result.out) == (0, "at 207\n    said [31m“row”\n")


@pytest.mark.parametrize("at", ["3:7", "noon", "-1"])
def test_explain_refuses_what_is_no_moment(run, stages, at):
    result = run("explain", "a.vtt", f"--at={at}")
    assert result.code == 2
    assert "is not a moment of the recording: write 3:27" in result.err


def test_explain_of_a_bad_file(run, stages):
    result = run("explain", "bad.bin", "--at", "0:10")
    assert (result.code, result.out) == (2, "")
    assert result.err.count("\n") == 1


@pytest.mark.parametrize("name", ["plan", "report"])
def test_schema(run, name):
    assert json.loads(run("schema", name).out)["title"] == name.capitalize()


RULES = (
    SimpleNamespace(code="work-off", severity="warning", doc="Work is longer or shorter than announced.\n\n## What it checks\nThe clock."),
    SimpleNamespace(code="split-mismatch", severity="error", doc="The sides do not add up."),
)


def test_rules(run, monkeypatch):
    module(monkeypatch, "parser.checks", RULES=RULES)
    assert run("rules").out.splitlines() == [
        "work-off        warning  Work is longer or shorter than announced.",
        "split-mismatch  error    The sides do not add up.",
    ]
    page = run("rules", "work-off").out
    assert page.startswith("work-off (warning)\n") and page.endswith("## What it checks\nThe clock.\n")


def test_rule_that_does_not_exist(run, monkeypatch):
    module(monkeypatch, "parser.checks", RULES=RULES)
    result = run("rules", "work-of")
    assert (result.code, result.out) == (2, "")
    assert result.err == "planaloud: No rule is called 'work-of'. `planaloud rules` lists them all.\n"


def test_rules_as_they_are(run):
    from parser.checks import RULES

    assert [line.split()[0] for line in run("rules").out.splitlines()] == [rule.code for rule in RULES]
    for rule in RULES:
        assert rule.doc in run("rules", rule.code).out


# ---------------------------------------------------------------- the coach's own words


def test_own_words_are_used_where_they_are(run, stages, tmp_path):
    from parser.vocabulary import own_file

    run("plan", "a.vtt")
    usual = own_file(None)
    usual.parent.mkdir(parents=True)
    usual.write_text("")
    run("plan", "a.vtt")
    run("plan", "a.vtt", "--lexicon", str(tmp_path / "mine.toml"))
    assert [asked["lexicon"][1] for asked in stages.asked] == [None, usual, tmp_path / "mine.toml"]


@pytest.mark.parametrize("fault", [ValueError("mine.toml: the key `naem` is not known.\nWrite `name`."), FileNotFoundError(2, "No such file", "mine.toml")])
def test_a_word_file_with_a_fault_is_told_in_one_line(run, stages, monkeypatch, fault):
    def load(taught=None):
        raise fault

    module(monkeypatch, "lexicon", load=load)
    result = run("plan", "a.vtt", "--lexicon", "mine.toml")
    assert (result.code, result.out) == (2, "")
    assert result.err.startswith("planaloud: ") and "mine.toml" in result.err and result.err.count("\n") == 1


def found_record(lexicon, phrase):
    if phrase == "a row of chairs":
        return {"phrase": phrase, "match": False, "name": None, "parts": [], "sides": None, "equipment": [], "rung": None, "score": 0.0}
    part = {"name": "single-arm row", "base": "row", "modifiers": ["single-arm"], "equipment": ["dumbbell"],
            "patterns": ["horizontal-pull"], "muscles": ["lats"]}
    return {"phrase": phrase, "match": True, "name": "single-arm row", "parts": [part], "sides": "each",
            "equipment": ["dumbbell"], "rung": "alias", "score": 100.0, "neighbours": ["bent-over row"]}


@pytest.fixture
def words(monkeypatch, stages):
    taught = []

    def teach(path, name, means):
        if means == "nothing known":
            raise ValueError("nothing known is no movement.")
        taught.append((path, name, means))

    def list_movements(lexicon, *, pattern=None, muscle=None, equipment=None):
        return [SimpleNamespace(name="row", patterns=[pattern or "any"], equipment=[equipment] if equipment else [])]

    module(
        monkeypatch, "lexicon", load=lambda taught=None: None, find_record=found_record, teach=teach, list_movements=list_movements,
        same_record=lambda lexicon, a, b: {"a": a, "b": b, "same": a == b, "why": "The names agree." if a == b else "The bases differ."},
        check=lambda path: ["Entry 2 has no name. Give it one.", "Entry 3 has no name. Give it one."] if "bad" in path.name else [],
    )
    return taught


def test_find(run, words):
    page = run("lexicon", "find", "one arm row").out
    for shown in ("one arm row: single-arm row", "alias, score 100", "sides each", "from row", "modifiers single-arm", "near: bent-over row"):
        assert shown in page
    assert run("lexicon", "find", "a row of chairs").out == "a row of chairs: no movement that the lexicon knows.\n"


def test_find_reads_phrases_from_standard_input(run, words, monkeypatch):
    import io

    monkeypatch.setattr(sys, "stdin", io.StringIO("one arm row\n\na row of chairs\n"))
    lines = run("lexicon", "find", "-", "--format", "json").out.splitlines()
    assert [json.loads(line)["match"] for line in lines] == [True, False]


def test_same(run, words):
    assert run("lexicon", "same", "row", "row").out == "row / row: one movement. The names agree.\n"
    assert json.loads(run("lexicon", "same", "row", "press", "--format", "json").out) == {
        "a": "row", "b": "press", "same": False, "why": "The bases differ."}


def test_same_reads_pairs_from_standard_input(run, words, monkeypatch):
    import io

    monkeypatch.setattr(sys, "stdin", io.StringIO("row\trow\r\n\nrow\tpress\n"))
    lines = run("lexicon", "same", "-", "--format", "json").out.splitlines()
    assert [json.loads(line)["same"] for line in lines] == [True, False]
    monkeypatch.setattr(sys, "stdin", io.StringIO("row\trow\nrow press\n"))
    result = run("lexicon", "same", "-")
    assert result.code == 2 and "Line 2 of standard input is no pair" in result.err


def test_same_needs_two(run, words):
    result = run("lexicon", "same", "row")
    assert result.code == 2 and result.err.startswith("planaloud: Two phrases are needed.")


def test_list_check_and_teach(run, words, tmp_path):
    assert run("lexicon", "list", "--pattern", "carry", "--equipment", "dumbbell").out == "row: carry; dumbbell\n"
    assert run("lexicon", "check", "mine.toml").out == "mine.toml: nothing to mend.\n"
    result = run("lexicon", "check", "bad.toml")
    assert (result.code, result.out, result.err.count("planaloud: Entry")) == (2, "", 2)
    mine = tmp_path / "mine.toml"
    assert run("lexicon", "teach", "the top shelf", "--means", "overhead press", "--lexicon", str(mine)).code == 0
    assert words == [(mine, "the top shelf", "overhead press")]
    result = run("lexicon", "teach", "the top shelf", "--means", "nothing known")
    assert (result.code, result.err) == (2, "planaloud: nothing known is no movement.\n")


# ---------------------------------------------------------------- the call itself


@pytest.mark.parametrize("args", [
    ("plan",), ("plan", "a.vtt", "--format", "docx"), ("audit", "a.vtt", "--fail-on", "sometimes"), ("sing",), ("explain", "a.vtt"),
    ("schema", "song"), ("plan", "a.vtt", "--loud"), ("lexicon", "teach", "x"),
])
def test_a_call_that_cannot_be_understood_ends_with_2(run, stages, args):
    result = run(*args)
    assert (result.code, result.out) == (2, "")
    assert "Error" in result.err and "Traceback" not in result.err


def test_help_does_not_wait_for_the_language_pipeline():
    seen = "import sys; sys.argv[1:] = %r\ntry:\n    from parser.cli import main; main()\nfinally:\n    print(sorted(m for m in ('spacy', 'lexicon.match', 'parser.hear', 'parser.pipeline', 'sqlite3', 'rich.console', 'jinja2', *others) if m in sys.modules), file=sys.stderr)"
    models = ("parser.model",)      # pydantic itself is brought in by the newest typer for every command
    for args, others in ((["--help"], ("pydantic", *models)), (["plan", "--help"], models), (["lexicon", "find", "--help"], models),
                         (["archive", "history", "--help"], models), (["schema", "plan"], ())):
        result = shell("-c", f"others = {others}; {seen % args}")
        assert result.returncode == 0
        assert result.stderr.decode().strip() == "[]"


@pytest.mark.skipif(os.name == "nt", reason="pipes end otherwise there")
def test_a_reader_that_goes_away_ends_it_quietly():
    with subprocess.Popen([sys.executable, "-m", "parser.cli", "schema", "plan"], cwd=ROOT,
                          stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        process.stdout.close()
        assert process.stderr.read() == b""
    assert process.returncode == 0


def test_a_narrow_terminal_encoding_is_no_reason_to_fail():
    result = shell("-m", "parser.cli", "schema", "plan", env={**os.environ, "PYTHONIOENCODING": "ascii"})
    assert result.returncode == 0
    assert "[low, high]" in result.stdout.decode("utf-8")


def test_no_traceback_for_a_file_that_is_not_there():
    result = shell("-m", "parser.cli", "rules", "no-such-rule")
    assert result.returncode == 2
    assert b"Traceback" not in result.stderr and result.stderr.count(b"\n") == 1


# ---------------------------------------------------------------- where the time goes


@pytest.mark.parametrize(("command", "steps"), [
    ("plan", ["import", "lexicon", "read", "hear", "build", "write", "the rest", "in all"]),
    ("audit", ["import", "lexicon", "read", "hear", "build", "follow", "check", "write", "the rest", "in all"]),
])
def test_timings_are_told_beside_the_output_and_not_in_it(tmp_path, command, steps):
    (tmp_path / "talk.md").write_text("[0:00] Two rounds, forty on, twenty off.\n\n[0:10] Number one, squats.\n")
    call = ("-m", "parser.cli", command, str(tmp_path / "talk.md"))
    plain, timed = shell(*call), shell(*call, "--timings")
    assert (timed.returncode, timed.stdout, plain.stderr) == (plain.returncode, plain.stdout, b"")
    lines = [re.fullmatch(r"([a-z ]+?) +(\d+) ms", line) for line in timed.stderr.decode().splitlines()]
    assert [line[1] for line in lines] == steps
    assert abs(sum(int(line[2]) for line in lines[:-1]) - int(lines[-1][2])) <= len(lines)
