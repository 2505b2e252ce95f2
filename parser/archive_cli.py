"""The commands of the archive: arguments in, one call, exit code out."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from . import output, shelf
from .arguments import Force, Target, complain, read_with, written_as
from .errors import ArchiveError
from .progress import Progress
from .render.look import Look
from .render.review import ALIKE, DIFFERENCE, HABITS, HISTORY

if TYPE_CHECKING:
    from .archive import Archive
    from .archive.questions import Group

app = typer.Typer(help="The classes kept, and what there is to say over them.", no_args_is_help=True, rich_markup_mode=None)


def read_day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise ValueError(f"{text!r} is no date: write 2026-03-02.") from None


def read_count(given: str | int) -> int:
    """Of what was typed, or of a default, which passes through here too."""
    text = str(given)
    if not (text.isascii() and text.isdecimal() and len(text) < 20 and int(text)):
        raise ValueError(f"{text!r} is no whole number from 1 on.")
    return int(text)


ArchiveFile = Annotated[Path | None, typer.Option("--archive", metavar="FILE", help="The archive, instead of the usual file.")]
Number = Annotated[int, typer.Argument(parser=read_with(read_count), metavar="ID", help="The number of a class.")]
Weeks = Annotated[int, typer.Option("--weeks", parser=read_with(read_count), metavar="N", help="How many weeks, Monday to Sunday.")]
Until = Annotated[
    date | None, typer.Option("--until", parser=read_with(read_day), metavar="DATE", help="The last day looked at; today, unless given.")
]


OfCoach = Annotated[str | None, typer.Option("--coach", metavar="NAME", help="Only classes that this coach gives.")]
AtPlace = Annotated[str | None, typer.Option("--place", metavar="NAME", help="Only classes at this place.")]
WithTags = Annotated[list[str] | None, typer.Option("--tag", metavar="TAG", help="Only classes with this tag; with all, if given again.")]


@contextmanager
def archive_at(option: Path | None, *, create: bool = False) -> Iterator[Archive]:
    from .archive import opened

    if option is not None and not create and not os.path.exists(option):
        raise ArchiveError(f"There is no archive {option}. Look at its name; `planaloud archive add` makes one.")
    with opened(shelf.own_file(option), create=create) as kept:
        yield kept


def emit(found: Any, table: Mapping[str, Callable[[Any, Look], str]], chosen: str, target: Path | None, *, force: bool) -> None:
    output.emit(table[chosen](found, output.look(target)), target, force=force)


def _group(coach: str | None, place: str | None, tags: list[str] | None) -> Group:
    from .archive.questions import Group

    return Group(coach, place, tuple(tags or ()))


@app.command()
def history(
    weeks: Weeks = 8,
    until: Until = None,
    coach: OfCoach = None,
    place: AtPlace = None,
    tag: WithTags = None,
    format: Annotated[str, written_as(HISTORY)] = "text",
    target: Target = None,
    force: Force = False,
    archive: ArchiveFile = None,
) -> None:
    """Programming over time: what the classes of the last weeks had, when each was last used, and what was left out."""
    output.check_target(target, force=force)
    with archive_at(archive) as kept:
        found = shelf.history(kept, until=until or date.today(), weeks=weeks, group=_group(coach, place, tag))
    emit(found, HISTORY, format, target, force=force)


@app.command()
def habits(
    coach: OfCoach = None,
    place: AtPlace = None,
    tag: WithTags = None,
    format: Annotated[str, written_as(HABITS)] = "text",
    target: Target = None,
    force: Force = False,
    archive: ArchiveFile = None,
) -> None:
    """What goes wrong again and again, whether it is getting less, and the moments to listen to."""
    output.check_target(target, force=force)
    with archive_at(archive) as kept:
        found = shelf.habits(kept, group=_group(coach, place, tag))
    emit(found, HABITS, format, target, force=force)


@app.command()
def alike(
    number: Number,
    limit: Annotated[int, typer.Option("--limit", parser=read_with(read_count), metavar="N", help="How many classes.")] = 5,
    format: Annotated[str, written_as(ALIKE)] = "text",
    target: Target = None,
    force: Force = False,
    archive: ArchiveFile = None,
) -> None:
    """The classes most like one, and what differs."""
    from .archive import questions

    output.check_target(target, force=force)
    with archive_at(archive) as kept:
        found = questions.alike(kept, number, limit=limit)
    emit(found, ALIKE, format, target, force=force)


@app.command()
def diff(
    before: Annotated[int, typer.Argument(parser=read_with(read_count), metavar="A", help="The number of a class.")],
    after: Annotated[
        int | None, typer.Argument(parser=read_with(read_count), metavar="[B]", help="The number of another; left out: what changed in A.")
    ] = None,
    version: Annotated[
        int | None, typer.Option("--version", parser=read_with(read_count), metavar="N", help="Since which version of A; else the one before.")
    ] = None,
    format: Annotated[str, written_as(DIFFERENCE)] = "text",
    target: Target = None,
    force: Force = False,
    archive: ArchiveFile = None,
) -> None:
    """What changed from one class to another, or in one since an earlier version."""
    from .archive import questions

    if after is not None and version is not None:
        raise ArchiveError("A version is of one class: leave out B, or --version.")
    output.check_target(target, force=force)
    with archive_at(archive) as kept:
        found = questions.revision(kept, before, since=version) if after is None else questions.difference(kept, before, after)
    emit(found, DIFFERENCE, format, target, force=force)


def _told(files: Iterable[tuple[str, str]], progress: Progress) -> Iterator[tuple[str, str]]:
    """``files``, each told of when it is done."""
    for name, text in files:
        yield name, text
        progress.step(name)


@app.command()
def pages(
    folder: Annotated[Path, typer.Argument(metavar="DIR", help="A folder that is new or empty, or has pages from before.")],
    weeks: Weeks = 8,
    until: Until = None,
    force: Annotated[bool, typer.Option("--force", help="Write pages from before anew.")] = False,
    archive: ArchiveFile = None,
) -> None:
    """The archive as pages to open in a browser, with a search that needs no server."""
    output.check_folder(folder, force=force)
    with archive_at(archive) as kept, Progress(shelf.page_count(kept), complain, left="The folder is as it was.") as progress:
        count = output.write_folder(_told(shelf.pages(kept, until=until or date.today(), weeks=weeks), progress), folder, force=force)
    output.print_text(f"{count} files in {folder}. Open {folder / 'index.html'}.\n")
