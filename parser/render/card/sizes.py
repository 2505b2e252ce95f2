"""How large a card can be set, reckoned here because a printed page cannot ask: the largest step at which it fits.

The box is what A4 (210 × 297 mm, ISO 216) and Letter (8.5 × 11 in) both leave inside margins of 10 mm. All lengths in mm.

Reading from two metres: a capital of height h is seen under h · 21600 / (2π · D) minutes of arc. ISO 9241-3 (quoted in public
ergonomics guides; the number of its successor is ISO 9241-303) prefers 20 to 22, asks for 16, and guides call 10 the least that is
usable with good contrast. At 2 m these are 9.3 mm and 5.8 mm. Capitals of Arial and its metric twins are 0.716 of the font size.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil

from .sheet import Card, Figure, Row, Section

WIDTH, HEIGHT = 190.0, 259.0
GAP, SECTION_GAP, ROW_PADDING = 5.0, 3.5, 2.0
BESIDE_WIDTH, BESIDE_FIGURE = 50.0, 13.0
"""Of several blocks each has its format beside its movements, to save height; its figures are what ISO 9241 asks for at 2 m."""
NUMBER_WIDTH = 1.5
"""Of the size of names: two digits and a blank."""
DIGITS, TIGHT, LOOSE = 0.95, 1.12, 1.25
"""Line heights: of figures, which reach below no line, of what is read from afar, and of small print."""
_SLACK = 0.97
"""Of a page is filled: fonts differ a little."""
_BROKEN = 0.9
"""Of each page is filled where there are several: a movement is not cut in two."""


@dataclass(frozen=True)
class Step:
    """Font sizes: of names and numbers of movements; of their sides and doses; of warm-up, cool-down, facts and captions; of small
    print; of the figures of a format. Names and figures never go below the least for 2 m; small print is for standing nearer."""

    name: float
    aside: float
    frame: float
    small: float
    figure: float


STEPS = (
    Step(14.0, 8.6, 7.0, 5.0, 27.0),
    Step(13.0, 8.4, 6.6, 4.8, 24.0),
    Step(12.1, 8.3, 6.3, 4.6, 22.0),
    Step(11.2, 8.2, 6.0, 4.4, 20.0),
    Step(10.3, 8.1, 5.6, 4.2, 18.0),
    Step(9.4, 8.1, 5.2, 4.0, 16.0),
    Step(8.7, 7.3, 4.8, 3.8, 14.0),
    Step(8.1, 6.5, 4.4, 3.5, 13.0),
)


@dataclass(frozen=True)
class Fit:
    step: int
    """Its place in ``STEPS``, from 1."""
    pages: int


def fit(card: Card) -> Fit:
    """The largest step at which ``card`` fits one page; where none does, the largest that fits two, else the smallest."""
    heights = [height(card, step) for step in STEPS]
    for pages, room in ((1, HEIGHT * _SLACK), (2, 2 * HEIGHT * _BROKEN)):
        for place, needed in enumerate(heights, 1):
            if needed <= room:
                return Fit(place, pages)
    return Fit(len(STEPS), ceil(heights[-1] / (HEIGHT * _BROKEN)))


def height(card: Card, step: Step) -> float:
    total = _head(card, step) + 2.0
    facts = "   ".join(f"{label} {text}" for label, text in card.facts)
    total += _paragraph(facts, step.frame) + 1.5 if facts else 0.0
    total += sum(SECTION_GAP + _section(section, step, beside=card.several) for section in card.sections)
    return total + SECTION_GAP + _paragraph(" · ".join(card.said) + "  " + " ".join(card.cautions), step.small) + 1.5


def _head(card: Card, step: Step) -> float:
    title = lines(card.title, step.name, WIDTH) * step.name * TIGHT
    side_by_side = width(card.title, step.name) + GAP + width(card.when, step.aside) <= WIDTH
    return title if side_by_side else title + lines(card.when, step.aside, WIDTH) * step.aside * TIGHT


def _paragraph(text: str, size: float, room: float = WIDTH) -> float:
    return lines(text, size, room) * size * LOOSE if text else 0.0


def _frame(section: Section, step: Step) -> float:
    facts = [section.heading, section.at, *(f"{f.value} {f.caption}" for f in section.figures), *section.notes]
    names = [f"{row.name} ({row.aside})" if row.aside else row.name for row in section.rows]
    words = "  ".join(facts) + "  " + " · ".join(names)
    return _paragraph(words, step.frame) + _paragraph("  ".join(_options(section.rows)), step.small)


def _options(rows: Iterable[Row]) -> list[str]:
    return [f"{row.name}, {label}: {words}" for row in rows for label, words in row.options]


def _section(section: Section, step: Step, *, beside: bool) -> float:
    if section.frame:
        return _frame(section, step)
    if not beside:
        return 2.0 + _format(section, step, WIDTH, step.figure, step.frame) + sum(_row(row, step, WIDTH) for row in section.rows)
    rows = sum(_row(row, step, WIDTH - BESIDE_WIDTH) for row in section.rows)
    return 2.0 + max(_format(section, step, BESIDE_WIDTH - GAP, BESIDE_FIGURE, step.small), rows)


def _format(section: Section, step: Step, room: float, figure: float, note: float) -> float:
    total = _paragraph("  ".join(filter(None, [section.heading, section.at])), step.frame, room)
    return total + _figures(section.figures, step.frame, room, figure) + _paragraph(" · ".join(section.notes), note, room)


def _figures(figures: Iterable[Figure], caption: float, room: float, size: float) -> float:
    """Figures stand side by side as far as they fit, each over its caption."""
    used = room
    heights: list[float] = []
    for figure in figures:
        own = max(width(figure.value, size), min(width(figure.caption, caption), room)) + (width("/  ", size) if figure.slash else 2 * GAP)
        needed = lines(figure.value, size, room) * size * DIGITS + _paragraph(figure.caption, caption, room)
        if used + own - 2 * GAP > room:
            heights, used = [*heights, needed], own
        else:
            heights[-1], used = max(heights[-1], needed), used + own
    return sum(heights) + (1.5 if heights else 0.0)


def _row(row: Row, step: Step, room: float) -> float:
    room -= NUMBER_WIDTH * step.name
    side_by_side = width(row.name, step.name) + GAP + width(row.aside, step.aside) <= room
    total = lines(row.name, step.name, room) * step.name * TIGHT + ROW_PADDING
    if row.aside and not side_by_side:
        total += lines(row.aside, step.aside, room) * step.aside * TIGHT
    return total + _paragraph("  ".join(f"{label}: {words}" for label, words in row.options), step.small, room)


# ---------------------------------------------------------------- the width of words

_BOLD = 1.07
"""Names are bold, and so wider; the rest is reckoned so too, to be on the safe side."""
_WIDTHS = {
    0.222: "ijl", 0.191: "'", 0.278: " !,./:;I[\\]ft|", 0.333: "()-r`", 0.355: '"', 0.389: "*", 0.5: "Jcksvxyz",
    0.556: "#$0123456789?L_abdeghnopqu", 0.584: "+<=>~", 0.611: "FTZ", 0.667: "&ABEKPSVXY", 0.722: "CDHNRUw", 0.778: "GOQ",
    0.833: "Mm", 0.889: "%", 0.944: "W", 1.015: "@",
}
"""Of the font size: Adobe's published metrics of Helvetica, which Arial and its free twins share (from memory)."""
_WIDTH = {char: share for share, chars in _WIDTHS.items() for char in chars}


def width(text: str, size: float) -> float:
    """Of ``text`` on one line, in bold."""
    return sum(_WIDTH.get(c) or (1.1 if unicodedata.east_asian_width(c) in "WF" else 0.7) for c in text) * size * _BOLD


def lines(text: str, size: float, room: float) -> int:
    """How many lines ``text`` takes when words are broken only where one is longer than a line."""
    count, used = 1, 0.0
    for word in text.split():
        own = width(word + " ", size)
        if used and used + own > room:
            count, used = count + 1, 0.0
        used += own
        if used > room:
            count, used = count + int(used // room), used % room
    return count
