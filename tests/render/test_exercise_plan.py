"""The linked data as the library PyLD expands it, without a network, against what schema.org lists."""

from __future__ import annotations

import json
import re
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pyld import jsonld

from parser.model import Block, Dose, Text
from parser.render import exercise_plan
from parser.render.clean import clean
from parser.render.look import Look

from .examples import EMPTY, FULL, movement
from .outputs import ANY_TEXT, eight_bouts, with_totals

SCHEMA = "http://schema.org/"
# https://schema.org/ExercisePlan, its own properties and those it has from CreativeWork, PhysicalActivity and Thing that are used here.
PROPERTIES = {
    "activityDuration", "additionalVariable", "exerciseType", "repetitions", "restPeriods", "category", "hasPart", "position", "name", "description",
}
# https://schema.org/QuantitativeValue
QUANTITY = {"minValue", "maxValue", "unitCode"}


def load(url: str, options: dict) -> dict:
    """What schema.org serves as its context, as far as it matters here: its words are the vocabulary, and hold addresses where marked."""
    assert url == "https://schema.org"
    return {"contextUrl": None, "documentUrl": url, "contentType": "application/ld+json",
            "document": {"@context": {"@vocab": SCHEMA, "category": {"@id": SCHEMA + "category"}}}}


def expanded(text: str) -> list[dict]:
    return jsonld.expand(json.loads(text), {"documentLoader": load})


def nodes(tree: object):
    if isinstance(tree, dict):
        if "@type" in tree:
            yield tree
        for value in tree.values():
            yield from nodes(value)
    elif isinstance(tree, list):
        for value in tree:
            yield from nodes(value)


@pytest.mark.parametrize("plan", [FULL, EMPTY, eight_bouts()])
def test_every_word_is_one_of_schema_org(plan):
    found = list(nodes(expanded(exercise_plan.one(plan, Look()))))
    assert found
    for node in found:
        allowed = {"ExercisePlan": PROPERTIES, "QuantitativeValue": QUANTITY}[node["@type"][0].removeprefix(SCHEMA)]
        assert {key.removeprefix(SCHEMA) for key in node if not key.startswith("@")} <= allowed
    counted = sum(1 + len(b.movements) for b in plan.blocks) + 1
    assert sum(node["@type"] == [SCHEMA + "ExercisePlan"] for node in found) == counted


def test_what_a_plan_says():
    tree = json.loads(exercise_plan.one(FULL, Look()))
    assert (tree["name"], tree["exerciseType"], tree["category"]) == ("Lunch on the slipway", ["resistance", "core"], "https://schema.org/StrengthTraining")
    assert tree["activityDuration"] == {"@type": "QuantitativeValue", "minValue": 1275, "unitCode": "SEC"}
    warm, rope, sets, _ = tree["hasPart"]
    assert warm["activityDuration"] == "PT4M"
    assert (rope["repetitions"], rope["restPeriods"]) == (3, "20 s rest, 90 s between rounds")
    assert rope["hasPart"][0]["activityDuration"] == "PT40S"
    assert "easier (reverse lunge): step back half as far" in rope["hasPart"][0]["additionalVariable"]
    assert sets["hasPart"][0]["repetitions"] == {"@type": "QuantitativeValue", "minValue": 8, "maxValue": 10}


def test_the_whole_is_as_long_as_the_plan():
    """Tabata et al. 1996, DOI 10.1097/00005768-199610000-00018: 230 s."""
    assert json.loads(exercise_plan.one(eight_bouts(), Look()))["activityDuration"] == "PT3M50S"


def test_what_nobody_said_is_left_out():
    assert set(json.loads(exercise_plan.one(EMPTY, Look()))) == {"@context", "@type", "name", "description"}


def test_several_plans_are_a_graph():
    found = expanded(exercise_plan.together([FULL, eight_bouts()], Look()))
    assert [node[SCHEMA + "name"][0]["@value"] for node in found] == ["Lunch on the slipway", "ropewalk"]


@given(st.integers(0, 400_000).map(lambda tenths: tenths / 10))
def test_durations_are_iso_8601(seconds):
    found = re.fullmatch(r"PT(?:(\d+)H)?(?:(\d+)M)?(?:(\d+(?:\.\d+)?)S)?", exercise_plan.duration(seconds))
    assert found and any(found.groups())
    hours, minutes, rest = (float(group or 0) for group in found.groups())
    assert timedelta(hours=hours, minutes=minutes, seconds=rest) == timedelta(seconds=seconds)


@given(ANY_TEXT)
def test_any_text_is_a_value(words):
    plan = with_totals(Block(kind="main", movements=[movement(1, words, dose=Dose(seconds=30))]), title=words, cautions=[Text(text=words)])
    (found,) = expanded(exercise_plan.one(plan, Look()))
    assert found[SCHEMA + "name"] == [{"@value": clean(words) or "ropewalk"}]
