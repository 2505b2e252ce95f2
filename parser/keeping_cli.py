"""The commands that put classes into the archive, find them again and take them out: arguments in, one call, exit code out."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Annotated, Any, get_args

import typer

from . import output, shelf
from .archive_cli import ArchiveFile, Number, app, archive_at, emit, read_count, read_day
from .arguments import Force, OwnWords, Target, complain, one_of, read_with, written_as
from .clock import Between, read_between
from .errors import ArchiveError
from .kinds import BlockFormat
from .render.clean import escape_in_json
from .render.review import CARD, HITS

__all__ = ["app"]
KeptFiles = Annotated[
    list[str], typer.Argument(metavar="FILES", help="Talk-throughs, plans as JSON, or folders of them; - is standard input.")
]
Day = Annotated[date | None, typer.Option("--date", parser=read_with(read_day), metavar="DATE", help="The day of the class.")]
Title = Annotated[str | None, typer.Option("--title", metavar="WORDS", help="What the class is called.")]
Coach = Annotated[str | None, typer.Option("--coach", metavar="NAME", help="Who gives it.")]
Room = Annotated[str | None, typer.Option("--place", metavar="NAME", help="Where.")]
Tags = Annotated[list[str] | None, typer.Option("--tag", metavar="TAG", help="A word to find it by; more than one with --tag again.")]


Jobs = Annotated[
    int | None, typer.Option("--jobs", parser=read_with(read_count), metavar="N", help="In so many processes; one a core, unless given.")
]
Cluster = Annotated[
    str | None, typer.Option("--cluster", metavar="ADDRESS", help="Understand the files on the workers of this Dask scheduler; sends them there.")
]


@app.command()
def add(
    files: KeptFiles,
    day: Day = None,
    title: Title = None,
    coach: Coach = None,
    place: Room = None,
    tag: Tags = None,
    jobs: Jobs = None,
    cluster: Cluster = None,
    archive: ArchiveFile = None,
    lexicon: OwnWords = None,
) -> None:
    """Keep classes: each talk-through with its plan, its report and where it came from. What is kept already stays as it is."""
    from . import keeping
    from .archive import Given
    from .progress import Progress

    names = keeping.files_in(files)
    words = keeping.own_words(lexicon)
    if cluster is None:
        make = keeping.made_with(words, files=len(names), jobs=jobs)
    else:
        from .cluster import on_cluster

        make = on_cluster(words, cluster)
    given = Given(day=day, title=title, coach=coach, place=place, tags=tuple(tag or ()))
    with archive_at(archive, create=True) as kept, Progress(len(names), complain) as progress:
        keeping.keep(kept, names, make, given=given, tell=progress.tell, found=set(names) - set(files))
    raise typer.Exit(progress.exit_code)


def _minutes(text: str) -> Between:
    return read_between(text).times(60)


def _named(name: str, metavar: str, help: str) -> Any:
    return typer.Option(name, metavar=metavar, help=help)


def _between(name: str, metavar: str, help: str, read: Callable[[str], Between] = read_between) -> Any:
    return typer.Option(name, parser=read_with(read), metavar=metavar, help=help)


Words = Annotated[list[str] | None, typer.Argument(metavar="[WORDS]", help="Words of the talk; those in one pair of quotation marks are a phrase.")]
Movements = Annotated[list[str] | None, _named("--movement", "NAME", "A movement, however it was said.")]
Patterns = Annotated[list[str] | None, _named("--pattern", "PATTERN", "A movement pattern of main blocks.")]
Muscles = Annotated[list[str] | None, _named("--muscle", "MUSCLE", "A muscle that main blocks train.")]
Having = Annotated[list[str] | None, _named("--equipment", "NAME", "Equipment of the class.")]
Without = Annotated[list[str] | None, _named("--without", "NAME", "Equipment that it does not need.")]
Findings = Annotated[list[str] | None, _named("--finding", "CODE", "A finding of its report.")]
Blocks = Annotated[list[str] | None, typer.Option("--block", help="A main block of this kind.", **one_of(get_args(BlockFormat)))]
Rounds = Annotated[Between | None, _between("--rounds", "N", "Rounds of a main block: 3, or 3-5.")]
Work = Annotated[Between | None, _between("--work", "TIME", "Its work: 40, 1:00, or 30-45.")]
Rest = Annotated[Between | None, _between("--rest", "TIME", "Its rest.")]
Length = Annotated[Between | None, _between("--length", "MINUTES", "Of the class: 30, or 25-35.", _minutes)]
Since = Annotated[date | None, typer.Option("--since", parser=read_with(read_day), metavar="DATE", help="On this day or later.")]
Until = Annotated[date | None, typer.Option("--until", parser=read_with(read_day), metavar="DATE", help="On this day or earlier.")]
Ordered = Annotated[str, typer.Option("--order", help="The newest first, or the best match of the words.", **one_of(("date", "relevance")))]
Limit = Annotated[int, typer.Option("--limit", parser=read_with(read_count), metavar="N", help="How many classes.")]


@app.command()
def find(
    words: Words = None,
    movement: Movements = None,
    pattern: Patterns = None,
    muscle: Muscles = None,
    equipment: Having = None,
    without: Without = None,
    block: Blocks = None,
    rounds: Rounds = None,
    work: Work = None,
    rest: Rest = None,
    length: Length = None,
    since: Since = None,
    until: Until = None,
    finding: Findings = None,
    coach: Coach = None,
    place: Room = None,
    tag: Tags = None,
    order: Ordered = "date",
    limit: Limit = 10,
    format: Annotated[str, written_as(HITS)] = "text",
    target: Target = None,
    force: Force = False,
    archive: ArchiveFile = None,
    lexicon: OwnWords = None,
) -> None:
    """Classes by what was said, and by what their plans and reports have. All that is asked for has to be so."""
    from .archive import Asked
    from .archive import find as look_for

    output.check_target(target, force=force)
    with archive_at(archive) as kept:
        shelf.check_names(kept, patterns=pattern or (), muscles=muscle or (), codes=finding or ())
        found = look_for(kept, Asked(
            phrases=words or (), movements=shelf.asked_movements(kept, movement or (), lexicon), patterns=pattern or (), muscles=muscle or (),
            equipment=shelf.asked_equipment(kept, equipment or (), lexicon), without=shelf.asked_equipment(kept, without or (), lexicon),
            formats=block or (), rounds=rounds, work=work, rest=rest, length=length,
            since=since, until=until, findings=finding or (), coach=coach, place=place, tags=tag or (), by_relevance=order == "relevance",
            limit=limit,
        ))
    emit(found, HITS, format, target, force=force)


@app.command()
def show(
    number: Number,
    version: Annotated[
        int | None, typer.Option("--version", parser=read_with(read_count), metavar="N", help="One of its versions, instead of the one in force.")
    ] = None,
    format: Annotated[str, written_as(CARD)] = "text",
    target: Target = None,
    force: Force = False,
    archive: ArchiveFile = None,
) -> None:
    """One class: when, who and where, where it came from, its plan and its report."""
    output.check_target(target, force=force)
    with archive_at(archive) as kept:
        found = kept.card(number, version)
    emit(found, CARD, format, target, force=force)


@app.command()
def page(
    number: Number, target: Target = None, force: Force = False, archive: ArchiveFile = None,
) -> None:
    """The page of one class, as `planaloud page` writes it."""
    output.check_target(target, force=force)
    with archive_at(archive) as kept:
        made = shelf.page_of(kept, number)
    output.emit(made, target, force=force)


@app.command()
def tag(
    numbers: Annotated[list[int], typer.Argument(parser=read_with(read_count), metavar="IDS", help="The numbers of classes.")],
    tags: Tags = None,
    untag: Annotated[list[str] | None, typer.Option("--untag", metavar="TAG", help="Take a tag off.")] = None,
    day: Day = None,
    title: Title = None,
    coach: Coach = None,
    place: Room = None,
    archive: ArchiveFile = None,
) -> None:
    """Say more of classes: tags, day, title, coach, place."""
    from .archive import Given

    given = Given(day=day, title=title, coach=coach, place=place, tags=tuple(tags or ()))
    with archive_at(archive) as kept:
        kept.tell_of(numbers, given, without=untag or ())


@app.command()
def remove(
    numbers: Annotated[list[int], typer.Argument(parser=read_with(read_count), metavar="IDS", help="The numbers of classes.")],
    archive: ArchiveFile = None,
) -> None:
    """Take classes out for good, with all their versions: all of them or, where one is not there, none."""
    with archive_at(archive) as kept:
        kept.remove(numbers)
    output.print_text("".join(f"Class {number}: taken out.\n" for number in dict.fromkeys(numbers)))


@app.command()
def refresh(jobs: Jobs = None, archive: ArchiveFile = None, lexicon: OwnWords = None) -> None:
    """Understand every talk-through once more, with the lexicon as it is now. What the coach said of a class stays."""
    from . import keeping
    from .progress import Progress

    words = keeping.own_words(lexicon)
    with archive_at(archive) as kept:
        count = len(kept.shown())
        with Progress(count, complain) as progress:
            keeping.refresh(kept, keeping.made_with(words, files=count, jobs=jobs), tell=progress.tell)
    raise typer.Exit(progress.exit_code)


@app.command()
def export(target: Target = None, force: Force = False, archive: ArchiveFile = None) -> None:
    """All classes with all their versions as JSON Lines, one class a line."""
    from .archive import exported

    output.check_target(target, force=force)
    with archive_at(archive) as kept:
        output.emit((f"{escape_in_json(line)}\n" for line in exported(kept)), target, force=force)


@app.command("import")
def import_(
    file: Annotated[str, typer.Argument(metavar="FILE", help="What `planaloud archive export` wrote; - is standard input.")],
    archive: ArchiveFile = None,
) -> None:
    """Put in the classes of an export. Into a new archive, that gives the same one."""
    from . import keeping
    from .progress import Progress

    with keeping.lines_of(file) as lines, archive_at(archive, create=True) as kept, Progress(None, complain) as progress:
        keeping.restore(kept, lines, name=file, tell=progress.tell)
    raise typer.Exit(progress.exit_code)


@app.command()
def check(archive: ArchiveFile = None) -> None:
    """Whether the archive is whole: the file, every class in it, and what is told of them. Exit code 2 where it is not."""
    from .archive import check as look_at
    from .render.review.days import classes, some

    with archive_at(archive) as kept:
        found = look_at(kept)
    for fault in found.faults:
        complain(fault)
    if found.faults:
        raise typer.Exit(ArchiveError.exit_code)
    output.print_text(f"{classes(found.classes)}, {some(found.versions, 'version')}: all whole.\n")
