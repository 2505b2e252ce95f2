"""The archive's pages as a coach uses them: opened as files, without a server or a network."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from parser import load_lexicon, read_talk, shelf
from parser.archive import opened
from parser.archive.history import period
from parser.output import write_folder
from parser.pipeline import reading
from parser.render.clean import clean
from parser.render.review.site import index
from parser.render.rows import order
from parser.review.habits import Habit, Habits, Moment, Share
from parser.review.history import History, Unused, Used
from parser.review.listed import Listed
from parser.review.shown import Shown

from . import kit

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
SPAN = period(date(2026, 4, 10), 6)


def listed(id: int, title: str, *movements: str, **more) -> Listed:
    return Listed(**{
        "shown": Shown(id=id, day=date(2026, 3, id), title=title, name=f"class-{id}.vtt"), "page": f"class-{id}.html", "movements": list(movements),
        "settings": ["3 rounds · 40 s work, 20 s rest"], "equipment": ["mat"], "findings": "1 warning", "places": [2, 1], **more,
    })


CLASSES = [
    listed(3, "Rope and row", "sumo squat", "single-arm row"), listed(2, "Señor Quill's ladder", "squat", "press"),
    listed(1, "The long stretch", "calf stretch", equipment=["strap"], coach="Marnie", place="Net Loft", tags=["seniors"]),
]
PAST = History(
    period=SPAN, classes=3, per_week=[0, 1, 1, 0, 0, 1], movements=[Used(name="squat", classes=2, last=date(2026, 4, 6), weeks=[0, 1, 0, 0, 0, 1])],
    patterns_unused=[Unused(name="carry")],
)
AGAIN = Habits(classes=3, dated=3, followed=2, clean=1, habits=[
    Habit(code="side-missing", about="Only one side is named.", severity="error", overall=Share(found=2, classes=3), findings=2, corrected=0,
          moments=[Moment(id=2, place=1, day=date(2026, 3, 2), at=279.0, quote="side plank", message="Never the left.")]),
])
SITE = index(CLASSES, PAST, AGAIN)


def titles(shown) -> list[str]:
    # not the inner text: what the browser has not yet drawn has none
    return [" ".join(text.split()) for text in shown.locator("#list > li:visible h3").all_text_contents()]


def test_all_is_there(show):
    shown = show(SITE)
    assert titles(shown) == ["Rope and row", "Señor Quill's ladder", "The long stretch"]
    for words in ("Programming, 6 weeks, 2 March to 10 April 2026", "carry (never)", "Only one side is named.", "class 2, 2026-03-02, 4:39", "PAR-Q+"):
        assert words.casefold() in shown.locator("body").inner_text().casefold()
    assert shown.get_by_role("img", name="Movements by week").is_visible()


@pytest.mark.parametrize(("words", "ids"), [
    ("squat", [3, 2]), ("SQUAT row", [3]), ("senor", [2]), ("2026-03-01", [1]), ("strap", [1]), ("marnie seniors loft", [1]), ("40 s work", [3, 2, 1]),
    ("  ", [3, 2, 1]), ("nothing", []), ("<b>", []), (".*", []),
])
def test_search_by_every_word(show, words, ids):
    shown = show(SITE)
    shown.get_by_label("Find classes").fill(words)
    assert titles(shown) == [c.shown.title for c in CLASSES if c.shown.id in ids]
    told = shown.locator("#found").inner_text()
    assert told == (f"{len(ids)} of 3 classes" if words.strip() else "")


def test_escape_shows_all_again(show):
    shown = show(SITE)
    shown.get_by_label("Find classes").fill("strap")
    shown.keyboard.press("Escape")
    assert len(titles(shown)) == 3


def test_links_are_plain_names_beside_the_page(show):
    shown = show(SITE)
    links = [link for link in shown.eval_on_selector_all("a", "(all) => all.map((a) => a.getAttribute('href'))") if not link.startswith("#")]
    assert links == ["class-3.html", "class-2.html", "class-1.html", "class-2.html#found-1"]


def test_without_script_all_classes_stand_there(show):
    shown = show(SITE, java_script_enabled=False)
    assert len(titles(shown)) == 3 and not shown.locator("#finder").is_visible()


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("size", [kit.WIDE, kit.PHONE], ids=["wide", "phone"])
def test_axe_finds_nothing(show, dark, size):
    assert kit.violations(show(SITE, dark=dark, size=size)) == []


def test_axe_finds_nothing_in_an_empty_archive(show):
    empty = index([], History(period=SPAN, classes=0, per_week=[0] * 6), Habits(classes=0, dated=0, followed=0, clean=0))
    shown = show(empty)
    assert kit.violations(shown) == []
    assert "No class is kept yet." in shown.locator("main").inner_text() and not shown.locator("#finder").is_visible()


def test_nothing_scrolls_sideways_on_a_phone(show):
    long = [listed(1, "w" * 300, "x" * 300)]
    assert not kit.scrolls_sideways(show(index(long, PAST, AGAIN), size=kit.PHONE))


def test_what_was_said_is_text(show):
    """A page that ran any of it would complain, ask for something or open a dialogue, and fail the test."""
    evil = "</script><script>alert(1)</script><img src=x onerror=alert(2)>\u202e"
    past = replace(PAST, movements=[Used(name=evil, classes=1, last=SPAN.until, weeks=[0, 0, 0, 0, 0, 1])],
                   movements_unused=[Unused(name=evil, classes=1, last=SPAN.since)])
    moment = Moment(id=1, place=0, day=None, at=None, quote=evil, message=evil)
    again = replace(AGAIN, habits=[replace(AGAIN.habits[0], movements=[(evil, 1)], moments=[moment])])
    shown = show(index([listed(1, evil, evil, settings=[evil], equipment=[evil])], past, again))
    assert titles(shown) == [evil.removesuffix("\u202e")]
    assert shown.locator("img[src]").count() == 0 and shown.locator("script").count() == 1
    assert "\u202e" not in shown.content()


def test_many_classes(show):
    many = index([replace(CLASSES[n % 3], page=f"class-{n}.html") for n in range(1_000)], PAST, AGAIN)
    shown = show(many)
    shown.get_by_label("Find classes").fill("strap")
    kit.until(shown, "() => document.getElementById('found').textContent === '333 of 1000 classes'")


# ---------------------------------------------------------------- the whole folder


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """The pages of two samples, written as a coach has them written."""
    home = tmp_path_factory.mktemp("archive")
    words = load_lexicon()
    with opened(home / "archive.sqlite", create=True) as kept:
        for day, name in enumerate(("slipway-six-rounds.srt", "ropewalk-fifty-tens.md"), 2):
            kept.add(reading(read_talk(SAMPLES / name), lexicon=words), day=date(2026, 3, day))
        write_folder(shelf.pages(kept, until=date(2026, 3, 8), weeks=2), home / "site", force=False)
    return home / "site"


@pytest.fixture
def walked(browser, folder):
    """The index of ``folder``, opened as a file without a network; whatever a page of it does that it must not fails the test."""
    context = browser.new_context(viewport=kit.WIDE, offline=True)
    watch = kit.Watch(context)
    watch.allowed |= {file.as_uri() for file in folder.iterdir()}
    shown = context.new_page()
    shown.set_default_timeout(5_000)
    shown.goto((folder / "index.html").as_uri())
    yield shown
    context.close()
    assert watch.seen == []


def test_from_the_index_to_a_class_and_back(walked):
    walked.get_by_label("Find classes").fill("squat row")
    walked.locator("#list a").click()
    assert walked.get_by_role("heading", name="ropewalk-fifty-tens.md").is_visible()
    assert "Class 2, 2026-03-03" in walked.locator(".home").inner_text()
    walked.get_by_role("link", name="All classes").click()
    assert len(titles(walked)) == 2


def test_going_back_keeps_what_was_found(walked):
    walked.get_by_label("Find classes").fill("cross")
    walked.locator("#list a").click()
    walked.go_back()
    kit.until(walked, "() => document.getElementById('found').textContent === '1 of 2 classes'")
    assert titles(walked) == ["slipway-six-rounds.srt"]


def test_every_link_of_the_folder_leads_somewhere(walked, folder):
    for file in folder.glob("*.html"):
        walked.goto(file.as_uri())
        links = set(walked.eval_on_selector_all("a[href]", "(all) => all.map((a) => new URL(a.getAttribute('href'), location).href)"))
        assert links
        for link in links:
            target, _, place = link.partition("#")
            assert (folder / target.rpartition("/")[2]).is_file() and target.startswith(folder.as_uri())
            if target == file.as_uri() and place:
                assert walked.evaluate("(id) => document.getElementById(id) !== null", place)


def test_a_moment_leads_to_its_finding(walked, folder):
    with opened(folder.parent / "archive.sqlite") as kept:
        report = kept.get(1).report
    for finding, place in zip(report.findings, order(report.findings)):
        walked.goto(f"{(folder / 'class-1.html').as_uri()}#found-{place}")
        assert clean(finding.message) in walked.locator(f"#found-{place}").inner_text()
        assert walked.locator(f"#found-{place}").evaluate("(one) => one.matches(':target')")


def test_axe_finds_nothing_on_a_page_among_others(walked):
    walked.locator("#list a").first.click()
    assert kit.violations(walked) == []
