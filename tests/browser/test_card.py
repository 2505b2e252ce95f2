"""The class card on paper: one page for an ordinary class, on A4 and on Letter, and nothing cut off a long one."""

from __future__ import annotations

from pathlib import Path

import pytest

from parser.clock import read_start
from parser.model import Block, Option, Plan
from parser.render import card
from parser.render.card.sheet import card_sheet
from parser.render.card.sizes import STEPS, fit, height
from parser.render.look import Look

from ..render.examples import FULL, movement
from ..render.outputs import HOSTILE, with_totals
from . import kit

GOLDEN = sorted((Path(__file__).resolve().parents[1] / "golden").glob("*.plan.json"))
LOOK = Look(start=read_start("18:30"))
MM = 96 / 25.4
"""CSS pixels in a millimetre (CSS Values and Units, section 6.2)."""


def read(path: Path) -> Plan:
    return Plan.model_validate_json(path.read_text(encoding="utf-8"))


def huge(blocks: int) -> Plan:
    options = [Option(kind="regression", text="hands on the rail, half as low, and no jump at the end of it", sources=[])]
    return with_totals(*(Block(kind="main", rounds=3, work_s=40, movements=[movement(n, f"walking lunge {k}.{n}", options=options) for n in range(1, 9)])
                         for k in range(blocks)), title="All day on the quay")


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("path", GOLDEN, ids=lambda p: p.name.split(".")[0])
def test_a_class_of_the_samples_is_one_page(show, path, paper):
    plan = read(path)
    (sheet,) = kit.printed(show(card.plan(plan, LOOK)), paper)
    assert "needs two pages" not in sheet
    for block in plan.blocks:
        for item in block.movements:
            assert item.name.split()[0] in sheet
    assert "PAR-" in sheet and "18:30" in sheet


@pytest.mark.parametrize("path", GOLDEN, ids=lambda p: p.name.split(".")[0])
def test_what_is_reckoned_is_what_is_laid_out(show, path):
    page = show(card.plan(read(path), LOOK))
    page.emulate_media(media="print")
    sheet = card_sheet(read(path), LOOK.start)
    reckoned = height(sheet, STEPS[fit(sheet).step - 1])
    laid_out = page.evaluate("document.querySelector('.plc').getBoundingClientRect().height") / MM
    assert 0.98 * laid_out <= reckoned <= 1.15 * laid_out
    wide = page.evaluate("Math.max(...[...document.querySelectorAll('.plc *')].map(e => e.getBoundingClientRect().right - document.querySelector('.plc').getBoundingClientRect().right))")
    assert wide <= 1


def test_a_long_class_says_that_it_needs_two_pages_and_loses_nothing(show):
    plan = huge(2)
    sheets = kit.printed(show(card.plan(plan, LOOK)), "Letter")
    assert len(sheets) == 2 and "This class needs two pages" in sheets[0]
    for block in plan.blocks:
        for item in block.movements:
            assert sum(item.name in " ".join(sheet.split()) for sheet in sheets) == 1


def test_a_class_of_a_day_needs_several(show):
    sheets = kit.printed(show(card.plan(huge(9), LOOK)), "A4")
    assert len(sheets) > 2 and "This class needs several pages" in sheets[0]


def test_cards_of_several_classes_have_a_page_each(show):
    assert len(kit.printed(show(card.together([FULL, FULL], LOOK)))) == 2


def test_whatever_was_said_stays_text(show):
    plan = with_totals(Block(kind="main", label="</style><script>alert(1)</script>", movements=[movement(n, text) for n, text in enumerate(HOSTILE, 1)]),
                       title="<img src=x onerror=alert(1)>")
    page = show(card.plan(plan, LOOK))
    assert page.locator(".plc-title").inner_text() == "<img src=x onerror=alert(1)>"
    assert page.locator("script, img, b b, [style], [id]").count() == 0
    assert page.locator(".plc-name").count() == len(HOSTILE)


def test_axe_finds_nothing(show):
    for size in (kit.WIDE, kit.PHONE):
        page = show(card.plan(FULL, LOOK), size=size)
        assert kit.violations(page) == []
        assert not kit.scrolls_sideways(page)
