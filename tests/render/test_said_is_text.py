"""Whatever was said reaches the page as words: no markup, no control character, nothing lost."""

import json
import re
import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from parser.model import Block, Break, Finding, Plan, Report, Text, Unplaced
from parser.render import PLAN, REPORT, SCHEMAS, as_json, render
from parser.render.clean import clean, escape_in_json
from parser.render.look import Look
from parser.render.markdown import escape

from .examples import EMPTY, FAULTY, FULL, made, movement, said, source

NASTY = [
    "\x1b[31mred\x1b[0m", "\x1b]0;title\x07", "a\rb", "a\x08b", "\x9b31m", "\x85next", "line\nbreak", "\u2028", "\u202eback", "\x7f",
    "\x00", "[bold]no[/bold]", "[link=https://quillhaven.example]x[/link]", ":wave:", "[/]",
]


def with_words(words: str) -> tuple[Plan, Report]:
    """``words`` in every field that holds something said."""
    block = Block(kind="main", label=words, movements=[movement(1, words, said=words, aliases=[words], cues=[Text(text=words, sources=said(1, words))])])
    plan = Plan(
        source=source(words), title=words, cautions=[Text(text=words)], blocks=[block], breaks=[Break(text=words, sources=said(2))],
        unplaced=[Unplaced(kind=words, text=words, sources=said(3))],
    )
    finding = Finding(code="work-off", severity="error", message=words, said=said(4, words), expected=words)
    return plan, Report(source=source(words), findings=[finding])


def dangerous(text: str) -> list[str]:
    """Line ends as CR and LF together are those of the calendar and the table, by their standards."""
    text = text.replace("\r\n", "\n")
    turns = "\u200e\u200f\u061c\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
    return [c for c in text if c in turns or (unicodedata.category(c) in ("Cc", "Zl", "Zp") and c != "\n")]


@pytest.mark.parametrize("words", NASTY)
@pytest.mark.parametrize("name", sorted(PLAN))
def test_no_control_character_comes_out(name, words):
    plan, _ = with_words(words)
    assert dangerous(made(PLAN[name], plan)) == []
    if PLAN[name].together:
        assert dangerous(render([plan, plan], PLAN[name], Look(), several=True)) == []


@pytest.mark.parametrize("words", NASTY)
@pytest.mark.parametrize("name", sorted(REPORT))
def test_no_control_character_comes_out_of_a_report(name, words):
    _, report = with_words(words)
    assert dangerous(render([report, report], REPORT[name], Look(), several=True)) == []


@settings(deadline=None)  # the first page of markup compiles its template
@given(st.text(alphabet=st.characters(exclude_categories=()), max_size=40))
def test_no_control_character_comes_out_of_any_text(words):
    plan, report = with_words(words)
    for name in PLAN:
        assert dangerous(made(PLAN[name], plan)) == []
        made(PLAN[name], plan).encode("utf-8")
    for name in REPORT:
        assert dangerous(REPORT[name].one(report, Look())) == []


def test_terminal_markup_is_words():
    plan, report = with_words("[bold]go[/bold] :wave: [/]")
    for styled in (True, False):
        assert "[bold]go[/bold] :wave: [/]" in PLAN["text"].one(plan, Look(styled=styled))
        assert "[bold]go[/bold] :wave: [/]" in REPORT["text"].one(report, Look(styled=styled))


# CommonMark and the tables of its GitHub dialect, as read by markdown-it-py (which passes the CommonMark test suite).
MARKDOWN = MarkdownIt("commonmark").enable(["table", "strikethrough"])


def printed(markdown: str) -> str:
    """The words a reader sees. Fails on anything but text, emphasis of ours, and layout."""
    words = []
    for token in MARKDOWN.parse(markdown):
        for child in token.children or ():
            assert child.type in ("text", "text_special", "strong_open", "strong_close", "em_open", "em_close", "softbreak"), child.type
            words.append(" " if child.type == "softbreak" else child.content)
        assert token.type not in ("html_block", "fence", "code_block", "blockquote_open", "ordered_list_open"), token.type
    return "".join(words)


MARKUP = [
    "*four* _count_", "**`x`**", "<b>row</b>", "[a](https://quillhaven.example)", "![a](b)", "# one", "1. one", "1) one", "- one", "+ one",
    "> one", "a | b", "~~no~~", "&amp; &lt;", "\\*", "\\", "<!-- x -->", "```", "===", "---", "20/10", "left-right", "trailing\\", "$x$",
    "a_b_c", "[1:02]: https://quillhaven.example", "12 #", "snatch*", "(go!)",
]


@pytest.mark.parametrize("words", MARKUP)
def test_markdown_prints_what_was_said(words):
    plan, report = with_words(words)
    page = printed(PLAN["md"].one(plan, Look()))
    assert page.count(words) >= 8  # title, origin, label, name, cue, caution, break, unplaced kind and text
    assert words in printed(REPORT["md"].one(report, Look()))
    assert printed(escape(words)) == words


@given(st.text(alphabet=st.characters(exclude_categories=("Cs",)), max_size=30).map(clean).filter(bool))
def test_markdown_prints_any_text(words):
    assert printed(escape(words)) == words
    plan, report = with_words(words)
    assert words in printed(PLAN["md"].one(plan, Look()))
    assert words in printed(REPORT["md"].one(report, Look()))


def test_ordinary_words_are_not_cluttered():
    for words in ("40 on, 20 off!", "left-right (your left)", "10% & up", "it's 3:27"):
        assert escape(words).replace("\\&", "&") == words


# ---------------------------------------------------------------- JSON


@given(st.text(alphabet=st.characters(exclude_categories=("Cs",)), max_size=40))
def test_json_keeps_what_was_said_to_the_letter(words):
    plan, _ = with_words(words)
    assert Plan.model_validate_json(PLAN["json"].one(plan, Look())) == plan


def test_escaping_changes_no_document():
    # RFC 8259, section 7: any character may be written as \uXXXX inside a string.
    text = json.dumps({"a": "".join(map(chr, range(0x2100)))}, ensure_ascii=False, indent=2)
    assert json.loads(escape_in_json(text)) == json.loads(text)
    assert not re.search("[\x00-\x09\x0b-\x1f\x7f-\x9f]", escape_in_json(text))


@pytest.mark.parametrize("document", [FULL, EMPTY, FAULTY])
def test_json_follows_the_schema(document):
    from jsonschema import Draft202012Validator

    schema = json.loads(as_json.schema(type(document)))
    Draft202012Validator.check_schema(schema)
    Draft202012Validator(schema).validate(json.loads(as_json.one(document, Look())))


@pytest.mark.parametrize("name", sorted(SCHEMAS))
def test_schema_says_what_it_is(name):
    schema = json.loads(SCHEMAS[name]())
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema["title"] == name.capitalize()
    assert "$id" not in schema


def test_schema_refuses_what_is_no_plan():
    from jsonschema import Draft202012Validator

    validator = Draft202012Validator(json.loads(as_json.schema(Plan)))
    good = json.loads(as_json.one(FULL, Look()))
    for wrong in ({"blocks": 3}, {"focus": ["sleep"]}, {"schema_version": "0"}):
        assert not validator.is_valid({**good, **wrong})


def test_json_of_one_file_is_an_object_and_of_several_an_array():
    assert json.loads(render([FULL], PLAN["json"], Look(), several=False))["title"] == FULL.title
    assert [p["title"] for p in json.loads(render([FULL, EMPTY], PLAN["json"], Look(), several=True))] == [FULL.title, None]
    # The shape follows from the call, also when only one of its files could be read.
    assert len(json.loads(render([FULL], PLAN["json"], Look(), several=True))) == 1
