"""The archive with all around it: what it asks of the stages, of the lexicon and of the rules, and the pages it becomes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from .errors import ArchiveError

if TYPE_CHECKING:
    from .archive import Archive
    from .archive.kept import Kept
    from .archive.questions import Group
    from .archive.store import Named
    from .review.habits import Habits
    from .review.history import History
    from .review.listed import Listed

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


def asked_equipment(kept: Archive, names: Sequence[str], own_words: Path | None) -> list[str]:
    """Each piece of equipment by the name that plans have for it. Raises ArchiveError for one that nobody knows."""
    from .vocabulary import load_lexicon

    known, found = kept.names_of("equipment"), []
    for name in names:
        plain = " ".join(name.lower().split())
        called = plain if plain in known else load_lexicon(own_words).equipment(name)
        if called is None:
            raise ArchiveError(f"“{name}” is no equipment that the lexicon knows. Say it in other words.")
        found.append(called)
    return found


def check_names(kept: Archive, *, patterns: Sequence[str], muscles: Sequence[str], codes: Sequence[str]) -> None:
    """What no class has may be mistyped: what there is, is asked only then. Raises ArchiveError for a name that nobody knows."""
    asked: dict[Named, Sequence[str]] = {"pattern": patterns, "muscle": muscles, "finding": codes}
    for what, names in asked.items():
        if (unknown := set(names) - kept.names_of(what)) and (wrong := sorted(unknown - {*_all(what)})):
            raise ArchiveError(f"“{wrong[0]}” is no {what}. There are: {', '.join(sorted(_all(what)))}.")


def _all(what: Named) -> Sequence[str]:
    if what == "finding":
        from .checks import RULES

        return [rule.code for rule in RULES]
    from lexicon import MUSCLES, PATTERNS

    return PATTERNS if what == "pattern" else MUSCLES


def page_of(kept: Archive, number: int) -> str:
    """Raises ArchiveError where there is no such class, or no talk-through of it."""
    from .render.page import page

    return page(kept.get(number).reading)


def history(kept: Archive, *, until: date, weeks: int, group: Group | None = None) -> History:
    """Programming over time. Raises ArchiveError for weeks that no calendar has."""
    from lexicon import MUSCLES, PATTERNS

    from .archive import questions

    try:
        return questions.history(kept, until=until, weeks=weeks, patterns=PATTERNS, muscles=MUSCLES, group=group or questions.EVERYBODY)
    except ValueError as exc:
        raise ArchiveError(f"{weeks} weeks up to {until} cannot be looked at: {exc}.") from exc


def habits(kept: Archive, *, group: Group | None = None) -> Habits:
    """What goes wrong again and again, each code in the words of its rule."""
    from .archive import questions
    from .checks import CLOCK, RULES

    about = {rule.code: rule.doc.partition("\n")[0] for rule in RULES}
    return questions.habits(kept, about=about, by_clock=CLOCK, group=group or questions.EVERYBODY)


def pages(kept: Archive, *, until: date, weeks: int) -> Iterator[tuple[str, str]]:
    """The files of the archive as a site, name and text: a page a class, the picture, and last the index of them all."""
    from .render.review import picture, site

    listed = []
    for shown in kept.shown():
        one = kept.get(shown.id)
        listed.append(_listed(kept, one, f"class-{shown.id}.html"))
        yield listed[-1].page, _page_among_others(one)
    past = history(kept, until=until, weeks=weeks)
    yield "history.svg", picture.svg(past)
    yield site.INDEX, site.index(listed, past, habits(kept))


def page_count(kept: Archive) -> int:
    """How many files ``pages`` makes: one a class, the picture and the index."""
    return len(kept.shown()) + 2


def _page_among_others(one: Kept) -> str:
    """A class that was kept as a plan alone has no talk to be marked: its card is its page."""
    from .render import card
    from .render.look import Look
    from .render.page import page
    from .render.review.days import day
    from .render.review.site import INDEX

    if one.talk is None:
        return card.plan(one.plan, Look())
    return page(one.reading, home=INDEX, kept_as=f"Class {one.shown.id}, {day(one.shown.day)}")


def _listed(kept: Archive, one: Kept, page: str) -> Listed:
    from .render.rows import order, summary
    from .render.wording import format_line
    from .review.listed import Listed

    mains, row = one.plan.mains, kept.row(one.shown.id)
    return Listed(
        shown=one.shown, page=page, coach=row["coach"], place=row["place"], tags=kept.tags(one.shown.id),
        settings=[line for block in mains if (line := format_line(block))],
        movements=[movement.name for block in mains for movement in block.movements], equipment=[item.name for item in one.plan.equipment],
        findings=summary(one.report.findings) if one.report else "a plan alone, without a report",
        places=order(one.report.findings) if one.report else [],
    )
