"""Faults planted in classes that have none: the report finds nearly all of them and raises nothing else."""

from __future__ import annotations

from collections import Counter

import pytest

from parser.checks import RULES

from .plain_classes import FAULTS, mutants, plain_classes

# planted on the clock of a recording, not in words
CLOCK = {"work-off", "rest-off", "round-rest-off", "countdown-off", "round-missing", "movement-skipped", "recording-ends-early"}
CODES = [rule.code for rule in RULES if rule.code not in CLOCK]
FEWEST_MUTANTS = 400
FOUND_AT_LEAST = 0.95


@pytest.fixture(scope="module")
def results(audited):
    """``(class, fault, mutant, findings)`` of every mutant."""
    return [(name, fault, changed, audited(changed.text())) for name, fault, changed in mutants()]


def is_found(fault, findings) -> bool:
    return any(f.code == fault.code and f.corrected == fault.corrected for f in findings)


@pytest.mark.parametrize("name", plain_classes())
def test_nothing_is_raised_in_a_class_without_fault(name, audited):
    assert audited(plain_classes()[name].text()) == []


def test_every_rule_has_its_fault():
    assert {fault.code for fault in FAULTS} == set(CODES)


def test_there_are_enough_mutants_of_every_fault(results):
    planted = Counter(fault.code for _, fault, _, _ in results)
    assert sum(planted.values()) >= FEWEST_MUTANTS
    assert set(planted) == set(CODES)


def test_nearly_all_are_found(results):
    missed = [(name, fault.code, fault.name, changed.text()) for name, fault, changed, findings in results if not is_found(fault, findings)]
    assert 1 - len(missed) / len(results) >= FOUND_AT_LEAST, missed[:5]


@pytest.mark.parametrize("code", CODES)
def test_no_code_is_mostly_missed(code, results):
    mine = [is_found(fault, findings) for _, fault, _, findings in results if fault.code == code]
    assert sum(mine) / len(mine) >= 0.8


def test_no_other_error_or_warning_is_raised(results):
    extra = [(name, fault.code, fault.name, f.code, f.message) for name, fault, _, findings in results for f in findings
             if f.severity != "note" and f.code != fault.code and f.code not in fault.also]
    assert extra == []
