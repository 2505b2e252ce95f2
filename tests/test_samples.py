"""The samples: what they are, the plans that come of them, and what a person wrote down about each beside the machine's plan."""

from __future__ import annotations

import json
import tomllib
from collections import Counter
from functools import cache, lru_cache
from pathlib import Path

import pytest

from parser import audit, load_lexicon, read_talk
from parser.read import FORMATS

from .make_samples import FOLDER, SAMPLES, Sample, written
from .refresh_golden import as_text, faults, golden_path, made
from .scoring import PRACTICE, words_of

FACTS = Path(__file__).with_name("facts")
BY_NAME = {sample.script: sample for sample in SAMPLES}
SETTINGS = {"format", "rounds", "work_s", "rest_s", "round_rest_s", "interval_s", "duration_s", "rep_scheme", "time_scheme"}
each_sample = pytest.mark.parametrize("sample", SAMPLES, ids=lambda s: s.script)


@lru_cache(maxsize=1)
def lexicon():
    return load_lexicon()


@cache
def plan_of(sample: Sample) -> dict:
    return made(sample, lexicon())[1]


@cache
def findings_of(sample: Sample) -> list[str]:
    """Codes of what does not agree, good practice left out."""
    report = audit(read_talk(sample.path), lexicon=lexicon())
    return sorted(f.code for f in report.findings if f.code not in PRACTICE)


# ---------------------------------------------------------------- the files


def test_samples_are_as_the_command_writes_them():
    assert {s.path.name for s in SAMPLES} == {p.name for p in FOLDER.iterdir()}
    for sample in SAMPLES:
        assert sample.path.read_text(encoding="utf-8") == written(sample), f"run python -m tests.make_samples: {sample.path.name}"


def test_there_are_samples_enough_in_formats_enough_and_long_enough():
    talks = [read_talk(sample.path) for sample in SAMPLES]
    assert len(talks) >= 8
    for talk in talks:
        assert sum(len(talk.text[slice(*c.chars)].split()) for c in talk.cues if not c.heading) >= 600, talk.name


def test_every_format_that_is_read_has_a_sample():
    assert {read_talk(sample.path).format for sample in SAMPLES} == {f.name for f in FORMATS}


# ---------------------------------------------------------------- goldens


@each_sample
def test_the_plan_is_the_golden_one(sample):
    assert as_text(plan_of(sample)) == golden_path(sample).read_text(encoding="utf-8")


@each_sample
def test_the_golden_plan_could_be_kept(sample):
    talk, _ = made(sample, lexicon())
    assert faults(json.loads(golden_path(sample).read_text(encoding="utf-8")), talk) == []


def test_what_is_not_valid_is_refused():
    talk, plan = made(SAMPLES[0], lexicon())
    wrong = json.loads(json.dumps(plan))
    wrong["blocks"][0]["sources"] = [{"start": 1.0, "end": 2.0, "quote": "never said", "chars": [0, 10]}]
    wrong["title"] = 4
    assert len(faults(wrong, talk)) == 2 and faults(plan, talk) == []


# ---------------------------------------------------------------- hand-written facts


def facts() -> list:
    return [
        pytest.param(BY_NAME[path.stem], row, id=f"{path.stem}: {row['what']}")
        for path in sorted(FACTS.glob("*.toml")) for row in tomllib.loads(path.read_text(encoding="utf-8"))["fact"]
    ]


def test_every_sample_has_facts_of_its_own():
    assert Counter(param.values[0].script for param in facts()).keys() == BY_NAME.keys()


@pytest.mark.parametrize("sample, fact", facts())
def test_fact(sample, fact):
    """A fact with ``known_miss`` must still be missed."""
    assert set(fact) <= {"what", "is", "known_miss"}
    holds, got = fact_holds(fact, sample)
    if fact.get("known_miss"):
        assert not holds, "this holds now: python -m tests.mended takes the known_miss away"
    else:
        assert holds, f"got {got}"


def fact_holds(fact: dict, sample: Sample) -> tuple[bool, object]:
    """Whether ``fact`` holds for ``sample``, and what came out."""
    got = look_up(fact["what"], sample)
    named = {"movements", "parts"} & set(fact["what"].split())
    return (are_named(fact["is"], got) if named else got == fact["is"]), got


def are_named(wanted: list[str], got: list[str] | None) -> bool:
    """Whether each name holds the words of its wanted one; ``a|b`` is either."""
    return got is not None and len(wanted) == len(got) and all(
        any(words_of(w) <= words_of(name) for w in either.split("|")) for either, name in zip(wanted, got)
    )


def look_up(what: str, sample: Sample):
    """What the plan or the report has under the words of a fact; None where it has nothing of the kind."""
    plan = plan_of(sample)
    match what.split():
        case ["stated_length"]:
            length = plan["stated_length"]
            return length and [length["seconds"], length["qualifier"]]
        case ["focus"]:
            return plan["focus"]
        case ["equipment"]:
            return sorted(e["name"] for e in plan["equipment"] if not e["optional"])
        case ["blocks"]:
            return [b["kind"] for b in plan["blocks"]]
        case ["main_s"]:
            return plan["totals"]["main_s"]
        case ["findings"]:
            return findings_of(sample)
        case [kind, n, *rest]:
            blocks = [b for b in plan["blocks"] if b["kind"] == kind]
            return in_block(blocks[int(n) - 1], rest) if len(blocks) >= int(n) else None


def in_block(block: dict, rest: list[str]):
    match rest:
        case [setting] if setting in SETTINGS:
            return block[setting]
        case ["movements"]:
            return [m["name"] for m in block["movements"]]
        case [about, number] if len(block["movements"]) >= int(number):
            movement = block["movements"][int(number) - 1]
            sides = movement["sides"]
            return {
                "sides": [sides["mode"], "nothing" if sides["seconds_each"] is None else sides["seconds_each"]],
                "reps_each": sides["reps_each"],
                "reps": movement["dose"]["reps"],
                "breaths": movement["dose"]["breaths"],
                "options": sorted({o["kind"] for o in movement["options"]}),
                "parts": [p["name"] for p in movement["parts"]],
            }[about]
    return None
