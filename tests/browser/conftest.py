"""A real browser for pages that are one file. ``show(html)`` opens one; the test fails if the page does what it must not."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, sync_playwright

from . import kit


@pytest.fixture(scope="session")
def browser():
    path = kit.browser_path()
    if path is None:
        missing = f"None of {', '.join(kit.NAMES)} is installed. On Debian: apt-get install chromium."
        if kit.browser_required():
            pytest.fail(missing)
        pytest.skip(missing)
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=path)
        yield running
        running.close()


@pytest.fixture
def show(browser, tmp_path):
    """``show(html, size=kit.PHONE, dark=True, …)`` writes the page to a file and opens it as a coach would, without a network.

    More options are those of Playwright's ``new_context``. After the test, anything that ``kit.Watch`` noted fails it.
    """
    opened: list[tuple] = []

    def call(html: str, *, size: dict = kit.WIDE, dark: bool = False, **more) -> Page:
        context = browser.new_context(viewport=size, color_scheme="dark" if dark else "light", offline=True, **more)
        watch = kit.Watch(context)
        opened.append((context, watch))
        file = tmp_path / f"page-{len(opened)}.html"
        file.write_text(html, encoding="utf-8", newline="\n")
        watch.allowed.add(file.as_uri())
        page = context.new_page()
        page.set_default_timeout(5_000)
        page.goto(file.as_uri())
        return page

    yield call
    seen = [trouble for _, watch in opened for trouble in watch.seen]
    for context, _ in opened:
        context.close()
    assert seen == []
