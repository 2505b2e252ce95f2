"""Every rule has the same shape: one file, one page, talk that breaks it and talk that does not."""

from __future__ import annotations

from pathlib import Path

import pytest

from parser import checks
from parser.checks import RULES

HEADINGS = ("What it checks", "Why it matters", "Example", "Said correctly")
FOLDER = Path(checks.__file__).parent
# the rules' common ground: what several of them look at
GROUND = {"__init__", "rule", "looking", "numbering", "setups", "kit", "frame", "timing"}


def test_every_file_is_registered_once():
    files = sorted(p.stem.replace("_", "-") for p in FOLDER.glob("*.py") if p.stem not in GROUND)
    assert sorted(rule.code for rule in RULES) == files


def test_rules_are_an_ordered_tuple_of_different_codes():
    assert isinstance(RULES, tuple)
    assert len({rule.code for rule in RULES}) == len(RULES)


@pytest.mark.parametrize("rule", RULES, ids=lambda r: r.code)
def test_a_page_has_its_headings_in_order(rule):
    at = [rule.doc.find(f"\n## {heading}\n") for heading in HEADINGS]
    assert -1 not in at and at == sorted(at)
    assert rule.doc.splitlines()[0].endswith(".")


@pytest.mark.parametrize("rule", RULES, ids=lambda r: r.code)
def test_talk_of_both_kinds_is_given(rule):
    assert rule.bad and rule.good and rule.severity in ("error", "warning", "note")


@pytest.mark.parametrize(("rule", "talk"), [(r, t) for r in RULES for t in r.bad], ids=lambda v: getattr(v, "code", ""))
def test_bad_talk_is_found(rule, talk, audited):
    found = [f for f in audited(talk) if f.code == rule.code]
    assert found
    for finding in found:
        assert finding.said and finding.message
        assert finding.severity == ("note" if finding.corrected else rule.severity)


@pytest.mark.parametrize(("rule", "talk"), [(r, t) for r in RULES for t in r.good], ids=lambda v: getattr(v, "code", ""))
def test_good_talk_is_left_alone(rule, talk, audited):
    found = audited(talk)
    assert rule.code not in {f.code for f in found}
    assert [f for f in found if f.severity != "note"] == []


@pytest.mark.parametrize(("rule", "talk"), [(r, t) for r in RULES for t in r.bad], ids=lambda v: getattr(v, "code", ""))
def test_sources_slice_the_talk_and_have_times(rule, talk, audited):
    for finding in audited(talk):
        for source in finding.said:
            assert source.start is not None and source.quote.strip()


def test_strict_raises_good_practice_and_leaves_what_was_put_right(audited):
    rule = next(r for r in RULES if r.code == "caution-missing")
    raised = {f.code: f.severity for f in audited(rule.bad[0], strict=True)}
    assert raised["caution-missing"] == "warning"
    slip = next(r for r in RULES if r.code == "slip-corrected")
    assert {f.severity for f in audited(slip.bad[0], strict=True) if f.code == "slip-corrected"} == {"note"}


def test_findings_come_worst_first(audited):
    order = ["error", "warning", "note"]
    for rule in RULES:
        ranks = [order.index(f.severity) for f in audited(rule.bad[0])]
        assert ranks == sorted(ranks)
