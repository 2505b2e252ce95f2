"""The picture of the weeks: what is drawn, that it is XML, and that it asks for nothing."""

import re
from datetime import date
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parser.archive.history import period
from parser.render.review.picture import ROWS, svg
from parser.review.history import History, Used

SVG = "{http://www.w3.org/2000/svg}"
SPAN = period(date(2026, 4, 10), 4)


def used(name: str, weeks: list[int]) -> Used:
    return Used(name=name, classes=sum(weeks), last=SPAN.until, weeks=weeks)


def history(*rows: Used, span=SPAN, **more) -> History:
    return History(**{"period": span, "classes": 5, "per_week": [2, 0, 1, 2], "movements": list(rows), **more})


def drawn(made: History):
    root = ElementTree.fromstring(svg(made))
    return root, [t.text for t in root.iter(f"{SVG}text")]


def test_a_mark_for_each_week_that_had_it():
    root, texts = drawn(history(used("squat", [1, 0, 0, 2])))
    titles = [t.text for t in root.iter(f"{SVG}title")]
    assert [t for t in titles if "squat" in t] == ["squat, week of 16 Mar: 1 class", "squat, week of 6 Apr: 2 classes"]
    assert {"all classes", "squat", "16 Mar", "30 Mar"} <= set(texts)
    assert len([r for r in root.iter(f"{SVG}rect") if r.get("class") == "mark"]) == 2 + 3


def test_a_mark_stands_in_the_column_of_its_week():
    root, _ = drawn(history(used("squat", [1, 1, 1, 1])))
    heads = {t.text: float(t.get("x")) for t in root.iter(f"{SVG}text") if "quiet middle" in t.get("class", "")}
    marks = {re.search("week of (.*):", g[0].text)[1]: float(g[1].get("x")) + float(g[1].get("width")) / 2
             for g in root.iter(f"{SVG}g") if g[0].text.startswith("squat")}
    assert heads == {week: marks[week] for week in heads} and len(marks) == 4


def test_title_and_description_name_it():
    root, _ = drawn(history(used("squat", [1, 0, 0, 2]), used("row", [1, 0, 0, 0])))
    title, told = root[0], root[1]
    assert (title.tag, told.tag) == (f"{SVG}title", f"{SVG}desc")
    assert root.get("role") == "img" and root.get("aria-labelledby") == f"{title.get('id')} {told.get('id')}"
    assert title.text == "Movements by week: 4 weeks, 16 March to 10 April 2026"
    assert told.text == "5 classes. Movements of main blocks, by how many classes have them: squat in 3; row in 1."


def test_it_asks_for_nothing():
    """No script, no link, no address but the name of SVG itself, nothing of CSS that fetches."""
    text = svg(history(used("squat", [1, 0, 0, 2])))
    assert re.findall(r"https?://[^\"']+", text) == ["http://www.w3.org/2000/svg"]
    assert not re.search(r"<(script|image|use|a|foreignObject|animate)\b|href|url\(|@import|@font-face|\son\w+=", text)
    assert "prefers-color-scheme:dark" in text


def test_more_than_can_be_drawn_is_said():
    _, texts = drawn(history(*(used(f"movement {n}", [1, 0, 0, 0]) for n in range(ROWS + 3))))
    assert "Not drawn: 3 movements of fewer classes." in texts and f"movement {ROWS}" not in texts


def test_long_names_and_many_weeks_stay_inside():
    span = period(date(2026, 4, 10), 150)
    made = history(used("w" * 80, [1] * 150), span=span, per_week=[1] * 150)
    root, texts = drawn(made)
    width = float(root.get("width"))
    assert all(0 <= float(r.get("x", 0)) and float(r.get("x", 0)) + float(r.get("width")) <= width
               for r in root.iter(f"{SVG}rect") if r.get("class") == "mark")
    assert "Not drawn: 46 weeks before these." in texts and "w" * 29 + "…" in texts


def test_no_class_no_marks():
    root, texts = drawn(history(classes=0, per_week=[0] * 4))
    assert "No class in these weeks." in texts and not [r for r in root.iter(f"{SVG}rect") if r.get("class")  == "mark"]


@settings(deadline=None)
@given(st.text(max_size=40))
def test_whatever_it_is_called_it_is_words(name):
    root, _ = drawn(history(used(name, [1, 0, 0, 0])))
    assert {e.tag.removeprefix(SVG) for e in root.iter()} <= {"svg", "title", "desc", "style", "rect", "text", "line", "g"}


@pytest.mark.parametrize("name", ["</text><script>alert(1)</script>", "a & b", "\x1b[2J", "\ufffe", "\ud800", "\u202eb"])
def test_nothing_said_is_markup(name):
    root, _ = drawn(history(used(name, [1, 0, 0, 0])))
    assert not list(root.iter(f"{SVG}script"))
