"""Whatever a coach calls a class or a movement, no output of the archive has anything in it that moves a cursor or is markup."""

from datetime import date

import pytest

from parser.archive import questions
from parser.model import Equipment, Finding, Option
from parser.render.look import Look
from parser.render.review import ALIKE, DIFFERENCE, HABITS, HISTORY

from ..render.test_said_is_text import NASTY, dangerous
from .plans import block, movement, plan, reading, said

UNTIL = date(2026, 4, 10)


def nasty(kept, words: str):
    """Two classes with ``words`` wherever something is said, and what there is to say over them."""
    for text, name in (("a", f"a{words}"), ("b", f"b{words}")):
        one = movement(1, "squat")
        part = one.parts[0].model_copy(update={"name": words, "base": words, "patterns": [words], "muscles": [words]})
        one = one.model_copy(update={"name": name, "parts": [part], "equipment": [name], "options": [Option(kind="regression", text=name, sources=[])]})
        finding = Finding(code=words, severity="note", message=name, said=[said(1.0, words)], block=1, number=1)
        made = plan(block(one, label=name), title=name, name=name, equipment=[Equipment(name=name)])
        kept.add(reading(made, [finding], text=text), day=UNTIL)
    return {
        "history": (HISTORY, questions.history(kept, until=UNTIL, weeks=2, patterns=(words,), muscles=(words, "neck"))),
        "habits": (HABITS, questions.habits(kept, about={words: words}, by_clock=())),
        "alike": (ALIKE, questions.alike(kept, 1, limit=2)), "diff": (DIFFERENCE, questions.difference(kept, 1, 2)),
    }


@pytest.mark.parametrize("words", NASTY)
def test_no_control_character_comes_out(kept, words):
    for name, (table, found) in nasty(kept, words).items():
        for format, output in table.items():
            assert dangerous(output(found, Look())) == [], (name, format)
            assert format != "text" or dangerous(output(found, Look(styled=True)).replace("\x1b[", "")) == []


@pytest.mark.parametrize("width", [40, 80, 100])
def test_no_line_is_wider_than_it_may_be(kept, width):
    for table, found in nasty(kept, "a name of very many words that goes on and on " * 4).values():
        assert max(map(len, table["text"](found, Look(width=width)).splitlines())) <= width
