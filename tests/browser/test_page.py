"""The page as a coach uses it, in a real browser."""

import re
import wave
from functools import cache
from pathlib import Path

import pytest

from parser import load_lexicon, read_talk
from parser.pipeline import reading
from parser.read import read_bytes
from parser.render.clean import clean
from parser.render.page import page

from ..bench.page_speed import long_page
from . import kit

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
TIMED, TIMELESS = "slipway-six-rounds.srt", "yard-wall-evening-stretch.txt"
NO_PLAN = b"[0:00] Evening all. The kettle is on.\n\n[0:20] It rained on the slipway, so there is no class.\n"


@cache
def made(name: str):
    return reading(read_talk(SAMPLES / name), lexicon=load_lexicon())


@cache
def page_of(name: str) -> str:
    return page(made(name))


def words_of(shown, link: str) -> list[str]:
    """The words that a link says it rests on, place by place."""
    return [clean(words) for words in shown.eval_on_selector(link, """(link) => link.dataset.to.split(",").map((ids) =>
        ids.split(" ").map((id) => document.getElementById(id).textContent).join(" "))""")]


def squeezed(text: str) -> str:
    """Pieces lie on either side of a break between captions; only the letters count."""
    return re.sub(r"\s", "", text)


def lit(shown) -> str:
    return " ".join(shown.eval_on_selector_all(".lit", "(all) => all.map((one) => one.textContent)"))


# ---------------------------------------------------------------- what is shown


def test_all_is_there_side_by_side(show):
    shown = show(page_of(TIMED))
    for heading in ("Timeline", "Report", "Plan", "Talk-through"):
        assert shown.get_by_role("heading", name=heading, exact=True).is_visible()
    for words in ("jab + cross + hook", "2 min work", "PAR-Q+", "2 warnings", "52 s instead of 30 s"):
        assert words in shown.locator(".screen").inner_text()
    assert [severity.lower() for severity in shown.locator(".severity").all_inner_texts()] == ["warning", "warning"]
    for kind in ("movement", "time", "side", "option", "number"):
        assert shown.locator(f".words .mark.{kind}").count()


def test_every_word_of_the_talk_is_shown_in_order(show):
    shown = show(page_of(TIMED))
    said = "".join(made(TIMED).talk.text[slice(*cue.chars)] for cue in made(TIMED).talk.cues)
    assert squeezed("".join(shown.locator(".words .cue").all_text_contents())) == squeezed(said)


def test_bars_are_to_scale(show):
    """By the report's own seconds: the longest interval against every other, to a pixel."""
    shown = show(page_of(TIMED))
    widths = shown.eval_on_selector_all("[aria-label=Done] rect", "(all) => all.map((one) => one.getBoundingClientRect().width)")
    lengths = [i.end - i.start for i in made(TIMED).report.delivered]
    share = widths[1] / lengths[1]
    assert len(widths) == len(lengths)
    assert all(abs(width - share * length) <= 1 for width, length in zip(widths, lengths))


def test_sides_and_rests_differ_without_colour(show):
    shown = show(page_of("ropewalk-fifty-tens.md"))
    boxes = {look: shown.locator(f"[aria-label=Done] .bar.{look} rect").first.bounding_box() for look in ("whole", "first", "second", "round_rest")}
    assert boxes["first"]["y"] < boxes["second"]["y"]
    assert boxes["first"]["height"] < boxes["whole"]["height"]
    fills = {look: shown.locator(f".bar.{look} rect").first.evaluate("(one) => getComputedStyle(one).fill") for look in ("rest", "round_rest")}
    assert "hatch" in fills["rest"] and "dots" in fills["round_rest"]


# ---------------------------------------------------------------- clicks, both ways


def test_each_finding_leads_to_the_words_it_rests_on(show):
    shown = show(page_of(TIMED))
    for place, finding in enumerate(made(TIMED).report.findings):
        link = shown.locator(".finding a.message").nth(place)
        link.click()
        quotes = [squeezed(clean(s.quote)) for s in finding.said]
        assert [squeezed(w) for w in words_of(shown, f"#{link.get_attribute('id')}")] == quotes
        assert squeezed(lit(shown)) == "".join(sorted(quotes, key=squeezed(made(TIMED).talk.text).index))
        assert shown.locator("#status").inner_text() == f"1 of {len(quotes)} places in the talk-through"
        assert shown.locator(".here").first.evaluate("(one) => { const b = one.getBoundingClientRect(); return b.top >= 0 && b.bottom <= innerHeight }")


def test_a_plan_line_and_a_bar_lead_to_their_words(show):
    shown = show(page_of(TIMED))
    shown.locator(".movement a", has_text="jab + cross + hook").first.click()
    assert "jab" in lit(shown).lower()
    bar = shown.locator("[aria-label=Done] a.bar").nth(2)
    bar.click()
    assert "from 7:30" in bar.get_attribute("aria-label")
    assert squeezed(clean(made(TIMED).meanwhile[2].quote)) == squeezed(lit(shown))


def test_a_marked_word_leads_to_all_that_rests_on_it(show):
    shown = show(page_of(TIMED))
    finding = made(TIMED).report.findings[0]
    shown.locator(".finding a.message").first.click()
    word = shown.locator("a.here").first
    word.click()
    lines = shown.locator(".lit")
    assert finding.message in " ".join(lines.all_text_contents())
    assert shown.locator("[aria-label=Done] .bar.lit").count() == 1
    assert "lines and bars that rest on these words" in shown.locator("#status").inner_text()


def test_next_and_back(show):
    shown = show(page_of(TIMED))
    shown.locator(".finding a.message").first.click()
    first = shown.locator(".here").first.get_attribute("id")
    shown.get_by_role("button", name="Next").click()
    assert shown.locator(".here").first.get_attribute("id") != first
    shown.get_by_role("button", name="Before").click()
    assert shown.locator(".here").first.get_attribute("id") == first
    shown.get_by_role("button", name="Back").click()
    assert shown.locator(".lit, .here, .from").count() == 0
    assert shown.evaluate("document.activeElement.className") == "message"


# ---------------------------------------------------------------- keyboard


def test_by_keyboard_alone(show):
    shown = show(page_of(TIMED))
    for _ in range(60):
        shown.keyboard.press("Tab")
        if shown.evaluate("document.activeElement.matches('.message')"):
            break
    origin = shown.evaluate("document.activeElement.id")
    assert origin.startswith("finding-")
    shown.keyboard.press("Enter")
    assert shown.evaluate("document.activeElement.closest('.words') !== null")
    word = shown.evaluate("document.activeElement.id")
    shown.keyboard.press("ArrowRight")
    assert shown.evaluate("document.activeElement.id") != word
    shown.keyboard.press("Escape")
    assert shown.evaluate("document.activeElement.id") == origin


def test_words_marked_for_copying_keep_no_key_from_working(show):
    shown = show(page_of(TIMED))
    shown.evaluate("getSelection().selectAllChildren(document.querySelector('.words p'))")
    shown.locator(".finding a.message").first.focus()
    shown.keyboard.press("Enter")
    assert shown.locator(".words .here").count()


def test_the_talk_and_each_row_of_bars_are_one_stop_of_the_tab_key(show):
    shown = show(page_of(TIMED))
    rows = shown.locator("[data-roving]").count()
    assert rows == 4
    assert shown.locator("[data-roving] a[href][tabindex='0']").count() == rows
    shown.locator("[aria-label=Planned] a.bar").first.focus()
    shown.keyboard.press("End")
    assert shown.locator("[aria-label=Planned] a.bar").last.evaluate("(one) => one === document.activeElement")
    shown.keyboard.press("Tab")
    assert shown.evaluate("document.activeElement.closest('[aria-label=Done]') !== null")


# ---------------------------------------------------------------- everybody, everywhere


@pytest.mark.parametrize("size", [kit.WIDE, kit.PHONE], ids=["wide", "phone"])
@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("name", [TIMED, TIMELESS, "long-room-thursday-alone.srt"])
def test_axe_finds_nothing(show, name, dark, size):
    shown = show(page_of(name), dark=dark, size=size)
    assert kit.violations(shown) == []
    shown.locator("a.line").nth(1).click()
    assert kit.violations(shown) == []
    shown.locator("a.mark").nth(3).click()
    assert kit.violations(shown) == []


@pytest.mark.parametrize("name", [TIMED, TIMELESS, "long-room-thursday-alone.srt"])
def test_nothing_is_wider_than_a_phone(show, name):
    assert not kit.scrolls_sideways(show(page_of(name), size=kit.PHONE))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_print_is_the_class_card_on_one_page(show, paper):
    sheets = kit.printed(show(page_of(TIMED)), paper)
    assert len(sheets) == 1
    assert "jab + cross + hook" in sheets[0] and "PAR-Q+" in sheets[0]
    assert "Talk-through" not in sheets[0] and "blowing a hooley" not in sheets[0]


def test_it_works_as_links_without_the_script(show):
    shown = show(page_of(TIMED), java_script_enabled=False)
    link = shown.locator(".finding a.message").first
    assert shown.locator(link.get_attribute("href")).count() == 1


# ---------------------------------------------------------------- talks that are short of something


def test_without_times_nothing_is_said_of_the_clock(show):
    shown = show(page_of(TIMELESS))
    assert "The talk-through has no times" in shown.locator("#timeline").inner_text()
    assert shown.locator("#drawing, .stamp, [data-at], #recording").count() == 0
    shown.locator("a.line", has_text="thread the needle").first.click()
    assert "thread the needle" in lit(shown)


def test_without_a_plan(show):
    shown = show(page(reading(read_bytes(NO_PLAN, name="tea.md"), lexicon=load_lexicon())))
    assert "No lengths were said that could be drawn." in shown.locator("#timeline").inner_text()
    assert "no class" in shown.locator(".words").inner_text()
    assert kit.violations(shown) == []


def test_a_long_class_works(show):
    shown = show(long_page())
    assert not kit.scrolls_sideways(shown)
    bar = shown.locator("[aria-label=Done] a.bar").last
    bar.focus()
    shown.keyboard.press("Enter")
    assert lit(shown)
    assert shown.locator(".here").first.evaluate("(one) => { const b = one.getBoundingClientRect(); return b.bottom > 0 && b.top < innerHeight }")


# ---------------------------------------------------------------- the coach's own recording


@pytest.fixture
def recording(tmp_path):
    """Silence as long as the class: 8-bit mono at the least rate that browsers take."""
    file = tmp_path / "class.wav"
    with wave.open(str(file), "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(1)
        out.setframerate(3000)
        out.writeframes(b"\x80" * int(3000 * made(TIMED).talk.duration_s))
    return file


def test_a_click_plays_its_moment_of_the_coachs_own_file(show, recording):
    shown = show(page_of(TIMED))
    assert not shown.locator("#player").is_visible()
    shown.locator("#recording").set_input_files(recording)
    assert shown.locator("#player").is_visible()
    kit.until(shown, "document.getElementById('player').readyState >= 1")

    def played(from_s: float) -> None:
        kit.until(shown, """(from) => { const { paused, currentTime } = document.getElementById("player");
            return !paused && currentTime >= from && currentTime < from + 5 }""", from_s - 0.1)

    finding = made(TIMED).report.findings[0]
    shown.locator(".finding a.message").first.click()
    played(finding.said[0].start)
    bar = shown.locator("[aria-label=Done] a.bar").last
    bar.click()
    played(made(TIMED).report.delivered[-1].start)
    shown.locator(".stamp").nth(1).click()
    played(float(shown.locator(".stamp").nth(1).get_attribute("data-at")))
    kit.until(shown, "document.querySelectorAll('.cue.now').length === 1")


def test_a_file_that_cannot_be_played_is_said_to_be(show, tmp_path):
    shown = show(page_of(TIMED))
    words = tmp_path / "notes.mp3"
    words.write_text("no sound")
    shown.locator("#recording").set_input_files(words)
    kit.until(shown, "document.getElementById('status').textContent.includes('cannot play')")


# ---------------------------------------------------------------- hostile talk

HOSTILE = [
    "<script>document.title='gone'</script>", "<img src=x onerror=\"document.title='gone'\">", "</script><script>document.title='gone'</script>",
    "<style>*{display:none}</style>", "\"><svg onload=document.title='gone'>", "javascript:document.title='gone'", "{{ 7 * 7 }}{% raw %}",
    "<!-- ", "]]>", "&lt;b&gt; &amp; &#60;", "\u202edrawkcab", "\u200f\u05d0\u05d1\u05d2\u200f", "\x1b[31mred", "💪🏽👩‍🚀", "' onclick='x", "</title></p></main>",
]


def hostile_talk() -> bytes:
    """Each saying where a movement, a caution and a break would be, and as the name of a movement."""
    said = ["[0:00] Three rounds, forty seconds on, twenty off. If anything hurts, stop. Number one, squats."]
    for n, words in enumerate(HOSTILE, 1):
        said.append(f"[{n}:10] Number two, {words} lunges {words}, keep your back {words} straight, if {words} hurts then stop. "
                    f"Have a drink {words}. Easier, {words} take a chair.")
    return "\n\n".join(said).encode()


@pytest.fixture(scope="module")
def hostile():
    talk = read_bytes(hostile_talk(), name="<b>\u202ename</b>.md")
    return reading(talk, lexicon=load_lexicon())


def test_whatever_is_said_is_text(show, hostile):
    shown = show(page(hostile))
    assert "gone" not in shown.title()
    assert shown.locator("img, .words script, .words style, .words svg, iframe, object").count() == 0
    assert shown.locator("script").count() == 1
    written = squeezed("".join(shown.locator(".words .cue").all_text_contents()))
    for words in HOSTILE:
        assert squeezed(clean(words)) in written
    assert shown.evaluate("""() => [...document.querySelectorAll("*")].every((one) => [...one.attributes].every(
        ({ name }) => name !== "style" && !name.startsWith("on")))""")
    assert kit.violations(shown) == []


def test_directions_do_not_turn_our_own_labels(show, hostile):
    """Unicode Annex 9: what is isolated cannot reorder its neighbours, and no direction mark is left in it."""
    shown = show(page(hostile))
    assert not re.search("[\u200e\u200f\u202a-\u202e\u2066-\u2069]", shown.content())
    stamps = shown.eval_on_selector_all(".words p", """(all) => all.map((one) => {
        const stamp = one.querySelector(".stamp"), words = one.querySelector("bdi");
        return !stamp || stamp.getBoundingClientRect().left <= words.getBoundingClientRect().left })""")
    assert all(stamps)
    assert shown.eval_on_selector_all("bdi", "(all) => all.every((one) => getComputedStyle(one).unicodeBidi === 'isolate')")


def test_the_policy_is_in_force(browser, tmp_path, hostile):
    """Markup that got past the escaping would still not run."""
    html = page(hostile).replace("</main>", "<script>document.title = 'gone'</script><img src='https://quillhaven.example/x.png' alt=''></main>", 1)
    file = tmp_path / "page.html"
    file.write_text(html, encoding="utf-8")
    with browser.new_context(offline=True) as context:
        watch = kit.Watch(context)
        watch.allowed.add(file.as_uri())
        shown = context.new_page()
        shown.goto(file.as_uri())
        assert shown.title() != "gone"
        refused = [note for note in watch.seen if "Content Security Policy" in note]
        assert len(refused) == 2 and "script" in refused[0] + refused[1] and "img-src" in refused[0] + refused[1]
