"""Write the expected outputs again: ``python -m tests.render.refresh_expected``. Read the difference before keeping it."""

from pathlib import Path

from parser.render import PLAN, REPORT
from parser.render.page import page

from .examples import FAULTY, FULL, made, reading_of

FOLDER = Path(__file__).with_name("expected")
TABLES = (("plan", PLAN, FULL), ("report", REPORT, FAULTY))


def expected() -> dict[str, str]:
    """File name -> content, one for each output of each table, and the page."""
    found = {f"{kind}.{name}": made(output, document) for kind, table, document in TABLES for name, output in table.items()}
    return {**found, "page.html": seen(page(reading_of()))}


def seen(html: str) -> str:
    """What a page shows on a screen: without its style, its script, and the card, which has an expected output of its own."""
    return html[html.index("<body>") : html.index('<div class="print">')]


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for name, content in expected().items():
        (FOLDER / name).write_text(content, encoding="utf-8", newline="")  # some end their lines as their standard has it
