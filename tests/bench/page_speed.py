"""How long the page of a class of 90 minutes takes to open: ``python -m tests.bench.page_speed``. Prints, asserts nothing; the goal is
under 1 s from the start of loading to a page that is drawn and answers clicks."""

from __future__ import annotations

import tempfile
import time
from pathlib import Path

from parser import load_lexicon, read_talk
from parser.clock import clock
from parser.pipeline import reading
from parser.read import read_bytes
from parser.render.page import page

ROOT = Path(__file__).resolve().parents[2]
WANTED_S = 90 * 60
PARTS = ("ropewalk-fifty-tens.md", "slipway-six-rounds.srt", "long-room-six-from-the-chair.ttml", "net-loft-minute-then-eights.vtt")
"""Samples that make one long class, one after the other."""


def long_class():
    """A talk-through of 90 minutes and more."""
    lines, now = [], 0.0
    for name in PARTS:
        talk = read_talk(ROOT / "samples" / name)
        lines += [f"[{clock(now + cue.start)}] {' '.join(talk.text[slice(*cue.chars)].split())}" for cue in talk.cues if cue.start is not None]
        now += talk.duration_s + 10
    assert now >= WANTED_S
    return read_bytes("\n\n".join(lines).encode(), name="long-class.md")


def long_page() -> str:
    return page(reading(long_class(), lexicon=load_lexicon()))


def main() -> None:
    from playwright.sync_api import sync_playwright

    from ..browser import kit

    talk, lexicon = long_class(), load_lexicon()
    made = reading(talk, lexicon=lexicon)
    began = time.perf_counter()
    html = page(made)
    print(f"written in {1000 * (time.perf_counter() - began):.0f} ms: {len(html) / 1024:.0f} KiB, {talk.duration_s / 60:.0f} minutes, "
          f"{len(made.marks)} marks, {len(made.report.delivered)} intervals, {len(made.report.findings)} findings")
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        file = Path(folder, "class.html")
        file.write_text(html, encoding="utf-8")
        browser = playwright.chromium.launch(executable_path=kit.browser_path())
        for size in (kit.WIDE, kit.PHONE):
            took = []
            for _ in range(5):
                opened = browser.new_page(viewport=size)
                opened.goto(file.as_uri())
                # Two frames after loading, what was laid out has been drawn.
                took.append(opened.evaluate("""() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(
                    () => done(performance.now()))))"""))
                opened.close()
            print(f"opened at {size['width']} px: {min(took):.0f} to {max(took):.0f} ms")
        browser.close()


if __name__ == "__main__":
    main()
