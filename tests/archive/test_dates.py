"""The day of a class: taken where it can be no other, and else left open."""

from datetime import date

import pytest

from parser.archive.dates import day_in_name, day_in_words

SECOND_OF_MARCH = date(2026, 3, 2)


@pytest.mark.parametrize("name", [
    "2026-03-02 rope.vtt", "rope-20260302.srt", "2026_03_02.json", "2026.03.02.txt", "2-march-2026.md", "2nd March 2026.txt", "Rope 2 Mar 2026.vtt",
    "march-2-2026.vtt", "2026 mar 2.vtt", "recording20260302-183012.vtt", "2026-03-02 and again 2026-03-02.vtt",
])
def test_in_the_name_of_a_file(name):
    assert day_in_name(name) == SECOND_OF_MARCH


@pytest.mark.parametrize("name", [
    "rope.vtt", "02-03-2026.vtt", "2026-02-30.vtt", "2026-03-02 to 2026-03-09.vtt", "12345678.vtt", "class 2026.vtt", "march 2.vtt",
    "summar-2-2026.vtt", "1815-06-18.vtt", "120260302.vtt",
])
def test_no_day_in_the_name(name):
    assert day_in_name(name) is None


def test_day_and_month_told_apart_where_one_of_them_is_no_month():
    assert day_in_name("25-03-2026.vtt") == day_in_name("03-25-2026.vtt") == date(2026, 3, 25)
    assert day_in_name("03-03-2026.vtt") == date(2026, 3, 3)


@pytest.mark.parametrize("said", [
    "Hello. It's Monday the second of March twenty twenty-six, and it's cold.", "Welcome to Monday, the 2nd of March, 2026.",
    "This is March the second, two thousand and twenty-six.", "today is March 2nd 2026", "Recorded on Monday 2 March 2026",
])
def test_in_the_words(said):
    assert day_in_words(said) == SECOND_OF_MARCH


@pytest.mark.parametrize("said", [
    "It's Monday the second of March.", "The regatta is on the second of March 2026.", "We opened this hall on 2 March 2026.",
    "It's the thirty-first of February 2026.", "It's 2 March 2026. No, it's 3 March 2026.", "x" * 2000 + " today is 2 March 2026",
])
def test_no_day_in_the_words(said):
    assert day_in_words(said) is None


def test_a_heading_needs_no_more_than_the_day():
    assert day_in_words("Hello.", ["Talk-through", "Long Room, 2 March 2026"]) == SECOND_OF_MARCH
    assert day_in_words("Hello.", ["2026-03-02"]) == SECOND_OF_MARCH


@pytest.mark.parametrize(("said", "day"), [("thirty-first of december twenty thirty-nine", date(2039, 12, 31)), ("twentieth of may twenty twenty", date(2020, 5, 20))])
def test_days_and_years_as_they_are_spoken(said, day):
    assert day_in_words(f"it's the {said}") == day
