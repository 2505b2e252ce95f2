"""What the README says of the report is what the rules are."""

from __future__ import annotations

import re

import pytest

from parser.checks import CLOCK, RULES

from ..refresh_readme import README
from .readme_table import thresholds, with_table

TEXT = README.read_text(encoding="utf-8")
SECTION = TEXT[TEXT.index("## The report") : TEXT.index("## Privacy")]


def test_the_table_is_the_one_made_from_the_rules():
    assert with_table(TEXT) == TEXT, "run python -m tests.checks.readme_table"


def test_every_code_has_its_row_with_its_severity():
    found = re.findall(r"^\| `([a-z-]+)` \| (error|warning|note) \| .+ \|$", SECTION, re.MULTILINE)
    assert found == [(rule.code, rule.severity) for rule in RULES]


def test_rules_of_the_clock_are_marked():
    assert set(re.findall(r"^\| `([a-z-]+)` .* † \|$", SECTION, re.MULTILINE)) == set(CLOCK)


@pytest.mark.parametrize("line", thresholds())
def test_thresholds_are_numbers(line):
    assert re.search(r"\d", line)


def test_what_a_coach_asks_of_severities_is_said():
    for words in ("`--strict`", "`--fail-on`", "put right aloud", "qualified\n  professional", "`planaloud rules"):
        assert words in SECTION
