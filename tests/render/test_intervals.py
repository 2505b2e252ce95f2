"""The table of intervals as Python's own reader of RFC 4180 has it."""

from __future__ import annotations

import csv
import io
import re

import pytest
from hypothesis import given

from parser.model import Block
from parser.render import intervals
from parser.render.clean import clean
from parser.render.look import Look
from parser.schedule import schedule

from .examples import FULL, movement
from .outputs import ANY_TEXT, eight_bouts, sided, with_totals


def rows(text: str) -> list[dict[str, str]]:
    found = list(csv.DictReader(io.StringIO(text, newline=""), strict=True))
    assert all(set(row) == set(intervals.COLUMNS) and None not in row.values() for row in found)
    return found


def test_eight_bouts_end_at_230():
    """Tabata et al. 1996, DOI 10.1097/00005768-199610000-00018."""
    table = rows(intervals.one(eight_bouts(), Look()))
    assert [row["interval"] for row in table] == ["work", "rest"] * 7 + ["work"]
    assert float(table[-1]["start_s"]) + float(table[-1]["length_s"]) == 230
    assert sum(float(row["length_s"]) for row in table) == 230


def test_a_row_an_interval():
    table = rows(intervals.one(sided(), Look()))
    assert table[3] == {"class": "ropewalk", "part": "Main block", "round": "1", "rounds": "3", "number": "2", "movement": "single-arm row", "interval": "work",
                        "side": "left side", "dose": "each side, 25 s a side, right first", "start_s": "85", "length_s": "25"}
    assert len(table) == len(schedule(sided()))


def test_ranges_are_ranges_and_what_nobody_said_is_empty():
    plan = with_totals(Block(kind="warm_up", movements=[movement(1, "march")]),
                       Block(kind="main", work_s=40, rest_s=(10.0, 15.0), rounds=(2.0, 3.0), movements=[movement(1, "row")]))
    assert [(r["length_s"], r["rounds"], r["start_s"]) for r in rows(intervals.one(plan, Look()))] == [
        ("", "", "0"), ("40", "2 to 3", "0"), ("10 to 15", "2 to 3", "40"), ("40", "2 to 3", "50")]


def test_work_for_time_is_at_most_its_cap():
    (row,) = rows(intervals.one(with_totals(Block(kind="main", format="for_time", duration_s=480, movements=[movement(1, "burpee")])), Look()))
    assert (row["interval"], row["length_s"]) == ("work, at most", "480")


def test_several_classes_stand_under_one_header():
    table = rows(intervals.together([FULL, eight_bouts()], Look()))
    assert list(dict.fromkeys(row["class"] for row in table)) == ["Lunch on the slipway", "ropewalk"]


# OWASP, "CSV Injection" (community page): these characters begin a formula, also after a separator that begins a cell.
FORMULA = re.compile(r"(?:^|[;,|\t\r\n])\s*[=+\-@\t\r]")


@given(ANY_TEXT)
def test_no_text_begins_a_formula_and_every_text_comes_back(name):
    text = intervals.one(eight_bouts(name), Look())
    assert re.fullmatch(r'(?:(?:"(?:[^"\r\n]|"")*"|-?[\d.]+)(?:,|\r\n))*', text)  # RFC 4180, section 2, with no line break inside a field
    table = rows(text)
    assert len(table) == 15
    for cell in table[0].values():
        assert not FORMULA.search(cell)
    assert table[0]["movement"].replace("'", "") == clean(name).replace("'", "")


@pytest.mark.parametrize(("said", "written"), [("=1+1", "'=1+1"), ("@SUM(A1)", "'@SUM(A1)"), ("row;=1", "row;'=1"), ("push-up", "push-up"), ("jab + cross", "jab + cross")])
def test_ordinary_names_stay_as_they_are(said, written):
    assert intervals.cell(said) == written
