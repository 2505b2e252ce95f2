"""The pattern tables check themselves: each example is heard as what it stands for."""

from __future__ import annotations

import pytest

from parser.hear.quantities import find_quantities
from parser.hear.shapes import patterns
from parser.hear.spans import NONE, find_countdowns, find_phrases
from parser.hear.tables import table

NUMBER_TABLES = ("counts", "times")
PHRASE_TABLES = ("edges", "sides", "options", "formats", "blocks", "notes", "requests", "order", "scopes")


def rows(names):
    return [pytest.param(name, row["say"], row["role"], id=f"{name}: {row['say']}") for name in names for row in table(name)["pattern"]]


@pytest.mark.parametrize("name, say, role", rows(NUMBER_TABLES))
def test_the_example_of_a_number_pattern_is_heard_so(name, say, role, layer_of):
    layer = layer_of(say)
    roles = {q.role for q in find_quantities(layer, find_countdowns(layer))}
    wanted = {r for p in patterns(name) if p.say == say for _, r in p.roles} | {role}
    assert roles & wanted, f"{say!r} is heard as {sorted(roles)}, not as {sorted(wanted)}"


@pytest.mark.parametrize("name, say, role", rows(PHRASE_TABLES))
def test_the_example_of_a_phrase_pattern_is_heard_so(name, say, role, layer_of):
    if role == NONE:
        assert find_phrases(layer_of(say), name) == [], f"{say!r} only looks like one and must stay silent"
        return
    assert role in {p.role for p in find_phrases(layer_of(say), name)}, f"{say!r} is not heard as {role}"


@pytest.mark.parametrize("name", NUMBER_TABLES + PHRASE_TABLES)
def test_no_example_stands_twice(name):
    says = [row["say"] for row in table(name)["pattern"]]
    assert len(says) == len(set(says))


@pytest.mark.parametrize("name", NUMBER_TABLES + PHRASE_TABLES)
def test_a_row_has_no_key_that_nobody_reads(name):
    allowed = {"say", "role", "shape"} | ({"reach"} if name == "scopes" else set())
    for row in table(name)["pattern"]:
        assert set(row) <= allowed
