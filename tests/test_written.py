"""A plan as JSON is read again; what was mistyped in it is named; what is no plan stays a talk-through."""

from __future__ import annotations

import json

import pytest

from parser.build.totals import totals
from parser.errors import UnreadableInput
from parser.model import Plan
from parser.pipeline import revised
from parser.read import read_bytes
from parser.written import plan_or_talk

from .render.examples import FAULTY, FULL


def changed(path: str, value: object) -> bytes:
    """FULL as JSON with ``value`` at ``path``."""
    tree = json.loads(FULL.model_dump_json())
    node, keys = tree, [int(k) if k.isdigit() else k for k in path.split(".")]
    for key in keys[:-1]:
        node = node[key]
    node[keys[-1]] = value
    return json.dumps(tree).encode()


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_a_plan_comes_back_as_it_was(encoding):
    assert plan_or_talk(FULL.model_dump_json(indent=2).encode(encoding), "class.json", read_bytes) == FULL


WRONG = [
    ("blocks.1.work_s", "forty", "blocks.1.work_s"), ("blocks.1.wrok_s", 40, "blocks.1.wrok_s: Extra"), ("blocks", 3, "blocks: "),
    ("blocks.1.movements.0.sides.mode", "left", "blocks.1.movements.0.sides.mode"), ("blocks.1.rest_s", [10], "blocks.1.rest_s"),
    ("blocks.1.rest_s", -5, "blocks.1.rest_s: -5 is less or more"), ("blocks.1.rounds", 1e9, "blocks.1.rounds: 1e"),
    ("stated_length.seconds", float("nan"), "stated_length.seconds: nan"), ("schema_version", "9", "schema_version"),
    ("source", {}, "source.name: Field required"),
]


@pytest.mark.parametrize(("path", "value", "told"), WRONG)
def test_the_field_that_is_wrong_is_named(path, value, told):
    with pytest.raises(UnreadableInput) as refused:
        plan_or_talk(changed(path, value), "class.json", read_bytes)
    message = str(refused.value)
    assert message.startswith(f"class.json is no plan as it should be: {told}") and message.endswith(" says what may stand there.")
    assert "\n" not in message


def test_a_report_and_several_plans_are_told_apart():
    with pytest.raises(UnreadableInput, match="class.json is a report. Give the plan"):
        plan_or_talk(FAULTY.model_dump_json().encode(), "class.json", read_bytes)
    with pytest.raises(UnreadableInput, match="holds 2 documents in one array"):
        plan_or_talk(f"[{FULL.model_dump_json()}, {FULL.model_dump_json()}]".encode(), "class.json", read_bytes)


TALKS = {
    "speech-json": {"segments": [{"start": 0, "end": 3, "text": "Squats, forty on, twenty off."}]},
    "podcast-json": {"version": "1.0.0", "segments": [{"startTime": 0, "endTime": 3, "body": "Squats, forty on, twenty off."}]},
}


@pytest.mark.parametrize("format", TALKS)
def test_transcripts_in_json_stay_talk_throughs(format):
    assert plan_or_talk(json.dumps(TALKS[format]).encode(), "talk.json", read_bytes).format == format


def test_totals_follow_a_plan_that_was_changed_by_hand():
    """Arithmetic: three rounds of two movements of 45 s with 20 s between, twice 90 s between rounds, 120 s after them, and of two to
    three sets at least one rest of 60 s."""
    made = revised(Plan.model_validate_json(changed("blocks.1.work_s", 45)))
    assert made.totals.main_s == (3 * 2 * 45 + 3 * 20 + 2 * 90 + 120 + 60, None)
    assert revised(made) == made


@pytest.mark.parametrize("replaces", [True, False])
def test_what_the_words_decided_about_the_round_rest_is_kept(replaces):
    blocks = FULL.blocks[:2]
    made = FULL.model_copy(update={"blocks": blocks, "totals": totals(blocks, replaces=replaces)})
    assert made.totals != totals(blocks) and revised(made) == made
