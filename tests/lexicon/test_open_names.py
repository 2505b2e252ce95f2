"""Other people's vocabulary: how much of an open exercise database the lexicon understands.

The database (free-exercise-db, 873 gym movements, public domain) is not part of the project; the tests that need all of it are
skipped where it does not lie beside the checkout. A sample of 200 names, read by hand, is in ``open_sample.toml``.
"""

import json
from pathlib import Path

import pytest

from .conftest import table

ALL = Path(__file__).resolve().parents[3] / "shared" / "data" / "open-movements.json"
SAMPLE = table("open_sample.toml")["name"]

# What the database calls its equipment, and which of ours fits; its "machine" is any machine, its "barbell" any long bar.
FITS = {
    "barbell": {"barbell", "ez bar", "trap bar"},
    "dumbbell": {"dumbbell"},
    "cable": {"cable machine"},
    "machine": {"machine", "treadmill", "exercise bike", "recumbent bike", "rowing machine", "cross trainer", "stair climber"},
    "kettlebells": {"kettlebell"},
    "bands": {"resistance band", "mini band"},
    "medicine ball": {"medicine ball", "slam ball"},
    "exercise ball": {"stability ball"},
    "foam roll": {"foam roller"},
    "e-z curl bar": {"ez bar"},
}


@pytest.mark.parametrize("entry", SAMPLE, ids=lambda e: e["written"])
def test_the_sample_is_read_as_it_was_by_hand(lexicon, entry):
    match = lexicon.find(entry["written"])
    found = [p.base for p in match.parts] if match else []
    assert found == entry["bases"]


def test_the_sample_holds_few_wrong_bases():
    assert len(SAMPLE) == 200
    assert sum("wrong" in e for e in SAMPLE) <= 0.02 * len(SAMPLE)


@pytest.mark.skipif(not ALL.exists(), reason="the open exercise database does not lie beside the checkout")
def test_four_names_in_five_are_known_with_the_right_equipment(lexicon):
    rows = json.loads(ALL.read_text(encoding="utf-8"))
    right = 0
    for row in rows:
        match = lexicon.find(row["name"])
        wanted = FITS.get(row["equipment"])
        right += match is not None and (not wanted or not match.equipment or bool(wanted & set(match.equipment)))
    assert len(rows) == 873
    assert right >= 0.8 * len(rows), f"{right} of {len(rows)}"
