"""The search for many expressions at once finds what each finds alone."""

from __future__ import annotations

import random
import re

import pytest

from parser.hear import shapes
from parser.hear.tables import table

from ..accuracy import FOLDER, scripts
from ..talks import read_script

TABLES = ("blocks", "counts", "edges", "formats", "notes", "options", "order", "requests", "scopes", "sides", "times")


def alone(layer, name):
    """What ``finditer`` finds of every pattern, by the pattern's place."""
    return [(k, m.span(), m.groups()) for k, pattern in enumerate(shapes.patterns(name)) for m in re.finditer(pattern.expression.source, layer.text)]


def together(layer, name):
    places = {id(pattern): k for k, pattern in enumerate(shapes.patterns(name))}
    return [(places[id(pattern)], m.span(), m.groups()) for pattern, m in shapes.find(layer, name)]


@pytest.mark.parametrize("script", scripts())
def test_nothing_is_missed_in_a_talk(script, layer_of):
    layer = layer_of(" ".join(word.text for word in read_script(FOLDER / f"{script}.talk").words))
    found = {name: together(layer, name) for name in TABLES}
    assert found == {name: alone(layer, name) for name in TABLES} and sum(map(len, found.values())) > 50


@pytest.mark.parametrize("name", TABLES)
def test_nothing_is_missed_where_the_examples_run_into_each_other(name, layer_of):
    """All examples of a table in a row, over and over in another order, with marks and without: many places for every shape."""
    dice = random.Random(name)
    said = [row["say"] for row in table(name)["pattern"]] * 3
    dice.shuffle(said)
    for mark in (". ", ", ", " "):
        layer = layer_of(mark.join(said))
        assert together(layer, name) == alone(layer, name) != []
