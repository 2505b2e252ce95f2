"""The tests' own eyes: a page that does what it must not is seen."""

import pytest

from . import kit

HEAD = '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Rope</title>'
STRICT = "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'\">"


def page(body: str, *, policy: str = "") -> str:
    return f"{HEAD}{policy}</head><body><main><h1>Rope</h1>{body}</main></body></html>"


@pytest.fixture
def watched(browser, tmp_path):
    """What ``kit.Watch`` notes of a page, without failing for it."""
    def call(html: str) -> list[str]:
        with browser.new_context(offline=True) as context:
            watch = kit.Watch(context)
            file = tmp_path / "page.html"
            file.write_text(html, encoding="utf-8")
            watch.allowed.add(file.as_uri())
            opened = context.new_page()
            opened.goto(file.as_uri())
            opened.wait_for_timeout(100)
            return watch.seen

    return call


def test_a_quiet_page_is_quiet(show):
    shown = show(page("<p>The yard is dry.</p>", policy=STRICT))
    assert shown.inner_text("p") == "The yard is dry."
    assert kit.violations(shown) == []
    assert not kit.scrolls_sideways(shown)


@pytest.mark.parametrize(("html", "noted"), [
    (page("<script>console.error('no rope')</script>"), "console: no rope"),
    (page("<script>throw new Error('no rope')</script>"), "thrown: "),
    (page("<script>var rope</script>", policy=STRICT), "console: "),
    (page("<p style='color: red'>rope</p>", policy=STRICT), "console: "),
    (page("<img alt='' src='https://quillhaven.example/rope.png'>"), "asked for https://quillhaven.example/rope.png"),
    (page("<script>alert('rope')</script>"), "dialog: rope"),
], ids=["console", "thrown", "script against the policy", "style against the policy", "network", "dialog"])
def test_what_a_page_must_not_do_is_noted(watched, html, noted):
    assert [note for note in watched(html) if note.startswith(noted)]


def test_axe_and_the_ruler_see_faults(show):
    shown = show(page("<input><p><span id='wide'>rope</span></p><style>#wide { display: block; width: 2000px }</style>"))
    assert any(line.startswith("label: ") for line in kit.violations(shown))
    assert kit.scrolls_sideways(shown)


def test_print_is_read_sheet_by_sheet(show):
    shown = show(page("<p>first</p><p id='next'>second</p><style>#next { break-before: page }</style>"))
    sheets = kit.printed(shown)
    assert len(sheets) == 2
    assert "first" in sheets[0] and "second" in sheets[1]
