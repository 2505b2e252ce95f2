from __future__ import annotations

import pytest

from parser.build import build_plan
from parser.checks import Case
from parser.hear import hear
from parser.pipeline import audit
from parser.read import read_bytes


@pytest.fixture(scope="session")
def words():
    from lexicon import load

    return load()


@pytest.fixture(scope="session")
def case_of(words):
    """The case that a stamped transcript makes."""

    def make(text: str) -> Case:
        heard = hear(read_bytes(text.encode(), name="said.txt"), words)
        plan, layout = build_plan(heard, words.same)
        return Case(plan, layout, heard, words.same)

    return make


@pytest.fixture(scope="session")
def audited(words):
    """The findings on a stamped transcript given as text."""

    def run(text: str, *, strict: bool = False):
        return audit(read_bytes(text.encode(), name="said.txt"), lexicon=words, strict=strict).findings

    return run
