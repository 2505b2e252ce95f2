"""The archive with all around it: what it asks of the stages, of the lexicon and of the rules, and the pages it becomes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from .errors import ArchiveError

if TYPE_CHECKING:
    from .archive import Archive
    from .review import Habits, History

FILE_NAME = "archive.sqlite"


def own_file(option: Path | None) -> Path:
    """The file that ``--archive`` names, else ``archive.sqlite`` in the platform's usual data folder."""
    if option is not None:
        return option
    from platformdirs import user_data_path

    return user_data_path("planaloud", appauthor=False) / FILE_NAME


def asked_movements(kept: Archive, names: Sequence[str], own_words: Path | None) -> list[list[frozenset[int]]]:
    """What the archive knows each movement by, however it was said. Raises ArchiveError for one that the lexicon does not know."""
    if not names:
        return []
    from lexicon import asked_for

    from .vocabulary import load_lexicon

    words, known = load_lexicon(own_words), kept.variants()
    found = []
    for name in names:
        parts = asked_for(words, name, known)
        if parts is None:
            raise ArchiveError(f"“{name}” is no movement that the lexicon knows. Say it in other words, or look for it as words of the talk.")
        found.append(parts)
    return found


def page_of(kept: Archive, number: int) -> str:
    """Raises ArchiveError where there is no such class, or no talk-through of it."""
    from .render.page import page

    return page(kept.get(number).reading)


def history(kept: Archive, *, until: date, weeks: int) -> History:
    """Programming over time. Raises ArchiveError for weeks that no calendar has."""
    from lexicon import MUSCLES, PATTERNS

    from .archive import questions

    try:
        return questions.history(kept, until=until, weeks=weeks, patterns=PATTERNS, muscles=MUSCLES)
    except ValueError as exc:
        raise ArchiveError(f"{weeks} weeks up to {until} cannot be looked at: {exc}.") from exc


def habits(kept: Archive) -> Habits:
    """What goes wrong again and again, each code in the words of its rule."""
    from .archive import questions
    from .checks import CLOCK, RULES

    return questions.habits(kept, about={rule.code: rule.doc.partition("\n")[0] for rule in RULES}, by_clock=CLOCK)


def pages(kept: Archive, *, until: date, weeks: int) -> Iterator[tuple[str, str]]:
    """The files of the archive as a site, name and text: a page a class, the picture, and last the index of them all."""
    from .render.page import page
    from .render.review import picture, site
    from .render.review.days import day
    from .render.rows import summary
    from .render.wording import format_line
    from .review import Listed

    listed = []
    for shown in kept.shown():
        reading = kept.get(shown.id).reading
        name = f"class-{shown.id}.html"
        mains = reading.plan.mains
        listed.append(Listed(
            shown=shown, page=name, settings=[line for block in mains if (line := format_line(block))],
            movements=[movement.name for block in mains for movement in block.movements],
            equipment=[item.name for item in reading.plan.equipment], findings=summary(reading.report.findings),
        ))
        yield name, page(reading, home=site.INDEX, kept_as=f"Class {shown.id}, {day(shown.day)}")
    past = history(kept, until=until, weeks=weeks)
    yield "history.svg", picture.svg(past)
    yield site.INDEX, site.index(listed, past, habits(kept))
