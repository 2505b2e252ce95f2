"""The calendar as the library icalendar reads it (RFC 5545)."""

from __future__ import annotations

from datetime import date, datetime, time

import icalendar
import pytest
from hypothesis import given

from parser.clock import Start
from parser.model import StatedLength, Text
from parser.render import calendar
from parser.render.clean import clean
from parser.render.look import Look

from .examples import EMPTY, FULL
from .outputs import ANY_TEXT, eight_bouts, with_totals

MONDAY = Look(start=Start(time(18, 30), date(2026, 3, 2)))


def event(text: str) -> icalendar.Event:
    found = icalendar.Calendar.from_ical(text)
    assert found["VERSION"] == "2.0" and found["PRODID"] and not found.errors
    (one,) = found.walk("VEVENT")
    assert not one.errors
    return one


def test_the_event():
    one = event(calendar.one(FULL, MONDAY))
    assert one["SUMMARY"] == "Lunch on the slipway"
    assert one.decoded("DTSTART") == datetime(2026, 3, 2, 18, 30) and one.decoded("DTSTART").tzinfo is None
    assert one.decoded("DTEND") == datetime(2026, 3, 2, 19, 0)
    lines = one["DESCRIPTION"].split("\n")
    for line in ("Have ready: 2 × dumbbell (or bottle)", "2. half-kneeling press, each side, 20 s a side, left first",
                 "Main block 1: the long rope: 3 rounds · 40 s work, 20 s rest · 90 s between rounds", "keep clear of the wet boards"):
        assert line in lines
    assert "PAR-Q+" in one["DESCRIPTION"]


LENGTHS = [("exact", 1800, 1800), ("under", 1800, 1800), ("about", 1800, 1800), ("over", 1800, 230)]


@pytest.mark.parametrize(("qualifier", "said", "kept"), LENGTHS)
def test_the_end_is_the_one_that_was_said(qualifier, said, kept):
    plan = eight_bouts().model_copy(update={"stated_length": StatedLength(seconds=said, qualifier=qualifier, sources=[])})
    one = event(calendar.one(plan, MONDAY))
    assert (one.decoded("DTEND") - one.decoded("DTSTART")).total_seconds() == kept


def test_else_the_end_that_follows():
    """Tabata et al. 1996, DOI 10.1097/00005768-199610000-00018: 230 s."""
    assert event(calendar.one(eight_bouts(), MONDAY)).decoded("DTEND") == datetime(2026, 3, 2, 18, 33, 50)


def test_an_end_that_nobody_knows_is_left_out():
    assert "DTEND" not in event(calendar.one(EMPTY, MONDAY)) and "DURATION" not in event(calendar.one(EMPTY, MONDAY))


def test_the_same_call_makes_the_same_file_and_another_start_another_event():
    assert calendar.one(FULL, MONDAY) == calendar.one(FULL, MONDAY)
    tuesday = Look(start=Start(time(18, 30), date(2026, 3, 3)))
    assert event(calendar.one(FULL, tuesday))["UID"] != event(calendar.one(FULL, MONDAY))["UID"]


def test_a_plan_mended_since_is_the_same_event():
    mended = FULL.model_copy(update={"title": "Lunch on the quay"})
    assert event(calendar.one(mended, MONDAY))["UID"] == event(calendar.one(FULL, MONDAY))["UID"]


@given(ANY_TEXT)
def test_any_text_comes_back_and_no_line_is_too_long(words):
    plan = with_totals(title=words, cautions=[Text(text=words)])
    text = calendar.one(plan, MONDAY)
    lines = text.split("\r\n")
    assert lines[-1] == "" and not any("\n" in line or "\r" in line for line in lines)
    assert max(len(line.encode("utf-8")) for line in lines) <= 75  # RFC 5545, section 3.1
    one = event(text)
    assert one["SUMMARY"] == (clean(words) or "ropewalk")
    if clean(words):
        assert clean(words) in one["DESCRIPTION"].split("\n")


def test_without_a_date_there_is_no_event():
    with pytest.raises(ValueError, match="date and time"):
        calendar.one(FULL, Look(start=Start(time(18, 30))))
