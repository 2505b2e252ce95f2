"""The page as markup: what is linked, what is drawn, and that nothing said is ever more than text."""

import base64
import hashlib
import re
import unicodedata
from html.parser import HTMLParser

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parser.model import Block, Plan, Reading, Report
from parser.render.page import page
from parser.render.page.links import Links
from parser.render.page.timeline import timeline

from .examples import EMPTY, reading_of, source
from .test_said_is_text import MARKUP, NASTY


class Markup(HTMLParser):
    """Tags with the names of their attributes, and the text between them."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[tuple] = []
        self.text: list[str] = []
        self.found: list[dict] = []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, *sorted(name for name, _ in attrs)))
        self.found.append({"tag": tag, **dict(attrs)})

    def handle_endtag(self, tag):
        self.tags.append(("/" + tag,))

    def handle_comment(self, data):
        self.tags.append(("comment",))

    def handle_data(self, data):
        self.text.append(data)


def test_the_same_reading_gives_the_same_bytes():
    assert page(reading_of()) == page(Reading.model_validate_json(reading_of().model_dump_json()))


# ---------------------------------------------------------------- links


def test_every_link_leads_somewhere_and_every_id_is_given_once():
    found = Markup(page(reading_of())).found
    ids = [tag["id"] for tag in found if "id" in tag]
    assert len(ids) == len(set(ids))
    named = {name for tag in found for key in ("href", "aria-labelledby", "aria-describedby", "for")
             for name in tag.get(key, "").removeprefix("#").split()}
    reached = {name for tag in found for name in re.split("[ ,]", tag.get("data-to", "")) if name}
    assert named | reached <= set(ids)


def test_links_go_both_ways():
    found = {tag["id"]: re.split("[ ,]", tag["data-to"]) for tag in Markup(page(reading_of())).found if "data-to" in tag}
    assert len(found) > 20
    for id, reached in found.items():
        # A time in the margin leads to the bar that was on; the bar leads to the words themselves.
        assert id.startswith("c") or all(id in found[other] for other in reached)


# ---------------------------------------------------------------- text only


PLAIN = Markup(page(reading_of("a-b"))).tags


@pytest.mark.parametrize("words", [*MARKUP, *NASTY, "</script><script>", "\"onclick=\"x", "'><img src=x>", "<!--", "]]>", "<bdo dir=rtl>"])
def test_what_is_said_changes_no_tag_and_no_attribute(words):
    """Page and card have the same markup, tag by tag and attribute by attribute, whatever was said."""
    assert Markup(page(reading_of(f"a{words}b"))).tags == PLAIN


@settings(max_examples=30, deadline=None)
@given(st.text(alphabet=st.characters(exclude_categories=()), max_size=20))
def test_any_text_at_all(words):
    html = page(reading_of(f"a{words}b"))
    assert Markup(html).tags == PLAIN
    html.encode("utf-8")
    assert not [c for c in html if c in "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
                or unicodedata.category(c) in ("Cc", "Zl", "Zp") and c != "\n"]


def test_the_policy_names_what_is_there_by_its_hash_and_nothing_else():
    """W3C, Content Security Policy Level 3: a hash source is the base64 of the digest of the element's exact text."""
    html = page(reading_of())
    policy = re.search('http-equiv="Content-Security-Policy" content="([^"]*)"', html)[1].replace("&#39;", "'")
    for name in ("style", "script"):
        (content,) = re.findall(f"<{name}>(.*?)</{name}>", html, re.DOTALL)
        digest = base64.b64encode(hashlib.sha256(content.encode()).digest()).decode()
        assert f"{name}-src 'sha256-{digest}';" in policy
    assert policy.startswith("default-src 'none';")
    assert "unsafe" not in policy and "data:" not in policy and "http" not in policy
    assert not re.search(r"\sstyle=|\son\w+=|https?://", html)


# ---------------------------------------------------------------- the drawing


def drawn(reading: Reading):
    return timeline(reading, Links(), [])


def test_bars_take_their_share_of_the_recording():
    found = drawn(reading_of())
    assert [(bar.x, bar.width) for bar in found.done] == [("46.154%", "11.538%"), ("57.692%", "11.538%"), ("69.231%", "30.769%")]
    # 60 of 130 s, 15 of 130 s, and so on; the plan begins where the block was begun and is a rest between two works of two sides
    assert [bar.x for bar in found.planned][:3] == ["46.154%", "57.692%", "69.231%"]
    assert len(found.planned) == 5


def test_what_is_off_is_said_of_the_bar():
    assert drawn(reading_of()).done[2].words == "Done: round 1, rest, 40 s from 1:30, +30 s"


def test_without_a_recording_the_plan_is_on_a_timer():
    reading = reading_of()
    found = drawn(reading.model_copy(update={"report": Report(source=reading.plan.source), "meanwhile": ()}))
    assert found.planned[0].x == "0.000%" and found.recorded_s is None
    assert found.notes == ("What was done when could not be followed in this recording.", "The plan on a timer from zero.")


def test_a_block_that_would_lie_over_the_next_has_a_lane_of_its_own():
    reading = reading_of()
    long = Block(kind="main", format="interval", rounds=1, work_s=60, movements=reading.plan.blocks[0].movements)
    plan = Plan(source=reading.plan.source, blocks=[long, long])
    done = [i.model_copy(update={"block": b, "round": 1, "side": None, "start": s, "end": s + 30}) for i, b, s in
            zip(reading.report.delivered, (1, 2), (0.0, 30.0))]
    found = drawn(reading.model_copy(update={"plan": plan, "report": Report(source=plan.source, delivered=done), "meanwhile": (None, None)}))
    tops = {bar.y for bar in found.planned}
    assert len(tops) > 2 or max(tops) - min(tops) >= 30


@pytest.mark.parametrize("seconds", [1, 5400, 86_400, 1e12, 1e60])
def test_a_length_of_any_size_is_drawn_with_ticks_that_can_be_told_apart(seconds):
    reading = reading_of()
    block = reading.plan.blocks[0].model_copy(update={"work_s": seconds})
    found = drawn(reading.model_copy(update={"plan": reading.plan.model_copy(update={"blocks": [block]})}))
    assert found.least_width <= 20_000 and 1 <= len(found.ticks) <= 400


def test_nothing_said_gives_a_page_that_says_so():
    reading = reading_of()
    text = "".join(Markup(page(reading.model_copy(update={"plan": EMPTY, "report": Report(source=source()), "marks": (), "meanwhile": ()}))).text)
    assert "No lengths were said that could be drawn." in text and "Nothing that disagrees was found." in text
    assert "Number one, step-up, left leg" in text


def test_a_page_among_others_leads_back_to_all_of_them():
    assert '<p class="home"><a href="index.html">All classes</a></p>' in page(reading_of(), home="index.html")
    assert '<p class="home">Class 4, 2026-03-02 · <a' in page(reading_of(), home="index.html", kept_as="Class 4, 2026-03-02")
    assert "All classes" not in page(reading_of())
