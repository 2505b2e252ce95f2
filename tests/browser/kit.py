"""What the browser tests share: finding the browser, watching what a page does, axe-core, and print."""

from __future__ import annotations

import io
import os
import shutil

import pypdf
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import BrowserContext, Page

NAMES = ("chromium", "chromium-browser", "google-chrome")
"""Under which names systems install the browser."""

# Wide desktop and the narrowest phone that is common (common practice, no source).
WIDE = {"width": 1400, "height": 900}
PHONE = {"width": 360, "height": 740}


def browser_path() -> str | None:
    return next(filter(None, map(shutil.which, NAMES)), None)


def browser_required() -> bool:
    """Set where a missing browser is a fault, not a reason to skip: see .ci/run."""
    return os.environ.get("PLANALOUD_BROWSER") == "required"


class Watch:
    """Notes whatever a self-contained page must not do: complain on the console, throw, break its own content-security policy (the
    browser reports that on the console), or ask for anything but itself."""

    def __init__(self, context: BrowserContext) -> None:
        self.allowed: set[str] = set()
        self.seen: list[str] = []
        context.on("console", lambda message: message.type in ("error", "warning") and self.seen.append(f"console: {message.text}"))
        context.on("weberror", lambda error: self.seen.append(f"thrown: {error.error}"))
        context.on("request", lambda request: self._request(request.url))
        context.on("dialog", self._dialog)

    def _request(self, url: str) -> None:
        # A file that the coach picks gets an address of its own that never leaves the page.
        if url.partition("#")[0] not in self.allowed and not url.startswith("blob:"):
            self.seen.append(f"asked for {url}")

    def _dialog(self, dialog) -> None:
        self.seen.append(f"dialog: {dialog.message}")
        dialog.dismiss()


def violations(page: Page) -> list[str]:
    """What axe-core finds on the page as it is now, a line for each element: ``rule: element: how to mend it``."""
    found = Axe().run(page).response["violations"]
    return [f"{rule['id']}: {node['html'][:200]}: {node['failureSummary']}" for rule in found for node in rule["nodes"]]


def until(page: Page, condition: str, arg=None, *, tries: int = 100) -> None:
    """Wait up to 5 s for a function of the page to be true. Playwright's own wait is refused by a strict policy: it evaluates a string
    inside the page."""
    for _ in range(tries):
        if page.evaluate(condition, arg):
            return
        page.wait_for_timeout(50)
    raise AssertionError(f"never true: {condition}")


def scrolls_sideways(page: Page) -> bool:
    return page.evaluate("document.documentElement.scrollWidth > document.documentElement.clientWidth")


def printed(page: Page, paper: str = "A4") -> list[str]:
    """The words of each sheet that the page prints as, by the page's own margins."""
    pdf = pypdf.PdfReader(io.BytesIO(page.pdf(format=paper, prefer_css_page_size=False)))
    return [sheet.extract_text() for sheet in pdf.pages]
