"""Several reports in one call end with a row for each class."""

from __future__ import annotations

import pytest

from parser.model import Coverage, Finding, Interval, Report
from parser.render import REPORT, render
from parser.render.look import Look
from parser.render.rows import finding_rows, order

from .examples import FAULTY, said, source

GOOD = Report(source=source("monday.vtt"), coverage=Coverage(rounds_planned=2, rounds_delivered=2, main_s_delivered=300.0),
              delivered=[Interval(kind="work", block=1, round=1, number=1, start=10.0, end=52.0, uncertainty_s=0.4, planned_s=40.0),
                         Interval(kind="rest", block=1, round=1, number=1, start=52.0, end=71.0, uncertainty_s=0.4, planned_s=20.0)])
BAD = Report(source=source("friday.vtt"), findings=[Finding(code="option-missing", severity="note", message="a"),
                                                    Finding(code="round-missing", severity="error", message="b")])


@pytest.mark.parametrize("name", ["text", "md"])
def test_each_class_has_its_row_with_the_worst_finding_and_the_drift(name):
    text = render([GOOD, BAD], REPORT[name], Look(), several=True)
    rows = [line for line in text.splitlines() if line.lstrip("| ").startswith(("monday.vtt", "friday.vtt"))][-2:]
    assert "none" in rows[0] and "+1 s" in rows[0] and "2 of 2 done" in rows[0]
    assert "error: round-missing" in rows[1]


@pytest.mark.parametrize("name", ["text", "md"])
def test_one_class_has_no_summary(name):
    assert "monday.vtt" not in render([GOOD], REPORT[name], Look(), several=False).splitlines()[-1]
    assert "ll classes" not in render([GOOD], REPORT[name], Look(), several=True).lower()


def test_which_one_a_finding_is_on_a_page():
    severities = ["note", "error", "warning", "error"]
    findings = [FAULTY.findings[0].model_copy(update={"severity": s, "said": said(n)}) for n, s in enumerate(severities)]
    assert order(findings) == [4, 1, 3, 2]
    report = FAULTY.model_copy(update={"findings": findings})
    assert [row.severity for row in finding_rows(report)] == ["error", "error", "warning", "note"]
