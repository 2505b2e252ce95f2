"""The shipped data holds, and a mistake in it is told in a sentence that says which file, which entry, what to do."""

import shutil

import pytest

from lexicon.files import FOLDER, read_data

from .conftest import table


@pytest.fixture(scope="module")
def shipped():
    data, problems = read_data()
    assert problems == []
    return data


GOOD = '''
[[movement]]
id = "rope-walk"
name = "rope walk"
patterns = ["balance"]
primary = ["calves"]
equipment = []
sides = "alternating"
position = "standing"
impact = "low"
source = "memory"
'''


def problems_with(tmp_path, text, name="movements-new.toml"):
    for path in FOLDER.glob("*.toml"):
        shutil.copy(path, tmp_path / path.name)
    (tmp_path / name).write_text(text, encoding="utf-8")
    return read_data(tmp_path)[1]


def test_there_are_movements_enough(shipped):
    assert len(shipped.movements) >= 450


def test_every_pattern_of_the_trade_is_there(shipped):
    have = {p for e in shipped.movements for p in e.patterns}
    assert {"squat", "hinge", "lunge", "horizontal-push", "vertical-push", "horizontal-pull", "vertical-pull", "carry", "rotation",
            "anti-rotation", "locomotion", "jump", "hold", "mobility"} <= have


def test_every_name_finds_its_own_entry(lexicon, shipped):
    lost = []
    for entry in shipped.movements:
        for name in (entry.name, *entry.aliases, *entry.stretched):
            match = lexicon.find(name)
            if match is None or [p.base_id for p in match.parts] != [entry.id]:
                lost.append((entry.id, name, match and match.name))
    assert lost == []


def test_a_new_movement_is_one_file(tmp_path):
    assert problems_with(tmp_path, GOOD) == []


@pytest.mark.parametrize("field", ["id", "name", "patterns", "primary", "equipment", "sides", "position", "impact", "source"])
def test_a_forgotten_line_is_named(tmp_path, field):
    text = "\n".join(line for line in GOOD.splitlines() if not line.startswith(f"{field} ="))
    (problem,) = problems_with(tmp_path, text)
    assert problem.startswith("movements-new.toml, “rope")
    assert f"`{field}` is missing. Add a line such as {field} = " in problem


@pytest.mark.parametrize(("change", "says"), [
    (('sides = "alternating"', 'sides = "left"'), "`sides` has 'left'. Use one of 'both', 'alternating' or 'each'."),
    (('source = "memory"', 'source = "memory"\ncolour = "red"'), "`colour` is not a known line."),
    (('name = "rope walk"', 'name = "Rope Walk"'), "write it in small letters"),
    (('id = "rope-walk"', 'id = "rope walk"'), "with a hyphen between words"),
    (('patterns = ["balance"]', "patterns = []"), "`patterns` is empty. Give at least one"),
    (('equipment = []', 'equipment = ["rope walk"]'), "“rope walk” is not in equipment.toml"),
    (('source = "memory"', 'source = "memory"\neasier = ["no-such-thing"]'), "no movement has that id"),
    (('source = "memory"', 'source = "memory"\nfamily = "no-such-thing"'), "`family` is “no-such-thing”"),
    (('source = "memory"', 'source = "memory"\naliases = ["goblet squat"]'), "“goblet squat” already belongs to “goblet squat”"),
    (('source = "memory"', 'source = "memory"\neveryday = ["walk"]'), "none of its names"),
    (('id = "rope-walk"', 'id = "goblet-squat"'), "this id is also in movements-"),
])
def test_a_mistake_is_told_with_what_to_do(tmp_path, change, says):
    problems = problems_with(tmp_path, GOOD.replace(*change))
    assert any(says in p for p in problems), problems
    assert all("movements-" in p for p in problems)


def test_a_broken_file_is_named(tmp_path):
    (problem,) = [p for p in problems_with(tmp_path, "[[movement]\n") if "TOML" in p]
    assert problem.startswith("movements-new.toml: this is not valid TOML")


def test_an_unknown_file_is_named(tmp_path):
    (problem,) = problems_with(tmp_path, "", name="stretches.toml")
    assert "movements-<family>.toml" in problem


def test_where_values_come_from_is_said(shipped):
    assert all(e.source for e in shipped.movements)
    assert any(e.source != "memory" for e in shipped.movements)


# US Army ATP 7-22.02 (October 2020), drill lists; the four-count rear lunge: FM 7-22 (October 2012) p. 6-77, where the left leg
# and then the right make one repetition.
@pytest.mark.parametrize("name", table("army_drills.toml")["names"])
def test_the_army_drills_are_known(lexicon, name):
    assert lexicon.find(name)


def test_the_four_count_rear_lunge_is_one_repetition_for_both_sides(lexicon):
    assert lexicon.find("four-count rear lunge").sides == "both"
    assert lexicon.find("rear lunge").sides == "alternating"


@pytest.mark.parametrize(("word", "part", "region"), [
    ("hands", "hand", "upper"), ("knee", "knee", "lower"), ("heels", "foot", "lower"), ("spine", "back", "trunk"), ("arms", "arm", "upper"),
])
def test_parts_of_the_body(lexicon, word, part, region):
    found = lexicon.body(word)
    assert (found.name, found.region) == (part, region)


@pytest.mark.parametrize(("part", "can", "cannot"), [
    ("arm", "press", "lunge"), ("hand", "row", "step"), ("leg", "drive", "punch"), ("foot", "step", "curl"), ("knee", "down", "press"),
])
def test_what_a_part_can_do(lexicon, part, can, cannot):
    found = lexicon.body(part)
    assert can in found.can and cannot in found.cannot
    assert not set(found.can) & set(found.cannot)


def test_no_part_of_the_body(lexicon):
    assert lexicon.body("banana") is None
