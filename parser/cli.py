"""The command line: arguments in, one call, exit code out.

What a command needs is imported inside it, so that ``--help`` and the schemas do not wait for the language pipeline.
"""

from __future__ import annotations

import gc
import io
import os
import sys
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn, TypeVar

import typer

from . import calls, keeping_cli, output, render
from .arguments import Files, Force, OwnWords, Target, complain, one_of, read_with, written_as
from .clock import Start, read_clock, read_start
from .errors import LexiconError, PlanaloudError
from .render import vocabulary as word_pages
from .timings import Stopwatch, Timed

if TYPE_CHECKING:
    from lexicon import Lexicon

    from .model import Plan, Recorded, TalkThrough

app = typer.Typer(
    help="Reads a coach's own timestamped talk-through of a timed class and gives back the written plan.",
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)
lexicon_app = typer.Typer(
    help="What the lexicon knows, and the coach's own words.", no_args_is_help=True, rich_markup_mode=None
)
app.add_typer(lexicon_app, name="lexicon")
app.add_typer(keeping_cli.app, name="archive")


R = TypeVar("R")
T = TypeVar("T")


OneFile = Annotated[str, typer.Argument(metavar="FILE", help="A talk-through; - is standard input.")]
PlanFiles = Annotated[
    list[str], typer.Argument(metavar="FILES", help="Captions, stamped transcripts, or plans as JSON; - is standard input.")
]
WordFormat = Annotated[str, written_as(word_pages.FORMATS)]
Timings = Annotated[bool, typer.Option("--timings", help="Tell on standard error how long each step took.")]


def _files(
    read: Callable[[str], R], work: Callable[[R], T], files: list[str], target: Path | None, force: bool,
    table: Mapping[str, render.Output], chosen: str, timed: Timed, start: Start | None = None,
) -> calls.Outcome[T]:
    """Work on every file, put out what came of them, and tell of those that could not be worked on."""
    asked = table[chosen]
    calls.check_output(chosen, asked, files=len(files), start=start)
    output.check_target(target, force=force, inputs=files)

    def read_one(name: str) -> R:
        with timed("read"):
            return read(name)

    outcome = calls.for_each_file(files, read_one, lambda found: calls.check_document(chosen, asked, work(found)))
    if outcome.done:
        look = replace(output.look(target), start=start)
        with timed("write"):
            output.emit(render.render(outcome.done, asked, look, several=len(files) > 1), target, force=force)
    for complaint in outcome.complaints:
        complain(complaint)
    return outcome


def _tell_timings(watch: Stopwatch, asked: bool) -> None:
    if asked:
        sys.stderr.write("".join(f"{line}\n" for line in watch.lines()))


def _plan_or_talk(name: str) -> Plan | TalkThrough:
    from .read import load_path, read_bytes
    from .written import plan_or_talk

    return plan_or_talk(*load_path(name), read_bytes)


@app.command()
def plan(
    files: PlanFiles,
    format: Annotated[str, written_as(render.PLAN)] = "text",
    target: Target = None,
    force: Force = False,
    start: Annotated[
        Start | None, typer.Option("--start", parser=read_with(read_start), metavar="TIME", help="When the class starts: 18:30, or 2026-03-02T18:30.")
    ] = None,
    lexicon: OwnWords = None,
    timings: Timings = False,
) -> None:
    """The written plan of each talk-through, or of a plan's JSON, in the form that is asked for."""
    watch = Stopwatch()
    with watch("import"):
        from .model import Plan, Recorded
        from .pipeline import plan as make_plan
        from .pipeline import recorded, revised
        from .vocabulary import load_lexicon

    with watch("lexicon"):
        words = load_lexicon(lexicon)
    follows = render.PLAN[format].recorded

    def work(found: Plan | TalkThrough) -> Plan | Recorded:
        if isinstance(found, Plan):
            return Recorded(plan=revised(found)) if follows else revised(found)
        return (recorded if follows else make_plan)(found, lexicon=words, timed=watch)

    outcome = _files(_plan_or_talk, work, files, target, force, render.PLAN, format, watch, start)
    _tell_timings(watch, timings)
    raise typer.Exit(outcome.exit_code)


def _meant(path: Path, words: Lexicon) -> Plan:
    from .model import Plan
    from .pipeline import plan as make_plan

    found = _plan_or_talk(str(path))
    return found if isinstance(found, Plan) else make_plan(found, lexicon=words)


@app.command()
def audit(
    files: Files,
    format: Annotated[str, written_as(render.REPORT)] = "text",
    target: Target = None,
    force: Force = False,
    strict: Annotated[bool, typer.Option("--strict", help="Raise findings about good practice.")] = False,
    fail_on: Annotated[
        str, typer.Option("--fail-on", help="Exit code 1 from this severity on.", **one_of(calls.THRESHOLDS))
    ] = "error",
    against: Annotated[
        Path | None, typer.Option("--against", metavar="FILE", help="What was meant: a plan as JSON, or the talk-through of a rehearsal.")
    ] = None,
    lexicon: OwnWords = None,
    timings: Timings = False,
) -> None:
    """What in each talk-through does not agree with itself, and what was done when. Exit code 0, 1 (findings) or 2 (a file or the
    call is wrong)."""
    watch = Stopwatch()
    with watch("import"):
        from .pipeline import audit as make_report
        from .read import read_path
        from .vocabulary import load_lexicon

    with watch("lexicon"):
        words = load_lexicon(lexicon)
    meant = None if against is None else _meant(against, words)
    outcome = _files(
        read_path, lambda talk: make_report(talk, lexicon=words, strict=strict, against=meant, timed=watch), files, target, force, render.REPORT, format, watch
    )
    _tell_timings(watch, timings)
    raise typer.Exit(outcome.exit_code or calls.verdict(outcome.done, fail_on))


@app.command()
def page(file: OneFile, target: Target = None, force: Force = False, lexicon: OwnWords = None) -> None:
    """Plan, report and talk-through side by side, as one HTML file that needs no network; printed, it is the class card."""
    from .pipeline import reading
    from .read import read_path
    from .render.page import page as make_page
    from .vocabulary import load_lexicon

    output.check_target(target, force=force, inputs=[file])
    output.emit(make_page(reading(read_path(file), lexicon=load_lexicon(lexicon))), target, force=force)


@app.command()
def explain(
    file: OneFile,
    at: Annotated[float, typer.Option("--at", parser=read_with(read_clock), metavar="TIME", help="A moment: 3:27, 1:02:03 or seconds.")],
    lexicon: OwnWords = None,
) -> None:
    """What was heard at a moment: by which pattern, what lost, and how the lexicon matched."""
    from .pipeline import explain as make_explanation
    from .read import read_path
    from .vocabulary import load_lexicon

    found = make_explanation(read_path(file), at=at, lexicon=load_lexicon(lexicon))
    output.print_text(word_pages.lines(found.lines))


@app.command()
def schema(document: Annotated[str, typer.Argument(help="Which of the two documents.", **one_of(render.SCHEMAS))]) -> None:
    """The JSON Schema of what --format json writes."""
    output.print_text(render.SCHEMAS[document]())


@app.command()
def rules(code: Annotated[str | None, typer.Argument(metavar="[CODE]", help="Print this rule's page.")] = None) -> None:
    """The rules of the report, or the page of one."""
    from .checks import RULES

    page = word_pages.rule_list(RULES) if code is None else word_pages.rule_page(calls.rule_called(code, RULES))
    output.print_text(page)


@lexicon_app.command("find")
def lexicon_find(
    phrase: Annotated[str, typer.Argument(metavar="PHRASE", help="- reads phrases from standard input, one a line.")],
    format: WordFormat = "text",
    lexicon: OwnWords = None,
) -> None:
    """How a phrase is understood: its parts, the rung of the match and the score."""
    from lexicon import find_record

    from .vocabulary import load_lexicon

    words = load_lexicon(lexicon)
    for given in calls.phrases(phrase, sys.stdin):
        output.print_text(word_pages.found(find_record(words, given), format))


@lexicon_app.command("same")
def lexicon_same(
    a: Annotated[str, typer.Argument(metavar="A", help="- reads pairs from standard input, a tab between the two.")],
    b: Annotated[str | None, typer.Argument(metavar="[B]")] = None,
    format: WordFormat = "text",
    lexicon: OwnWords = None,
) -> None:
    """Whether two phrases name one movement, and why."""
    from lexicon import same_record

    from .vocabulary import load_lexicon

    words = load_lexicon(lexicon)
    for one, other in calls.pairs(a, b, sys.stdin):
        output.print_text(word_pages.compared(same_record(words, one, other), format))


@lexicon_app.command("list")
def lexicon_list(
    pattern: Annotated[str | None, typer.Option("--pattern", help="Only this movement pattern: squat, hinge, carry ...")] = None,
    muscle: Annotated[str | None, typer.Option("--muscle", help="Only movements that train this muscle.")] = None,
    equipment: Annotated[str | None, typer.Option("--equipment", help="Only movements with this equipment.")] = None,
    lexicon: OwnWords = None,
) -> None:
    """The movements that are known."""
    from lexicon import list_movements

    from .vocabulary import load_lexicon

    found = list_movements(load_lexicon(lexicon), pattern=pattern, muscle=muscle, equipment=equipment)
    output.print_text(word_pages.listed(found))


@lexicon_app.command("check")
def lexicon_check(file: Annotated[Path, typer.Argument(metavar="FILE", help="A file of own words.")]) -> None:
    """Whether a file of own words can be used; if not, what to mend."""
    from lexicon import check

    from .vocabulary import guarded

    problems = guarded(check, file)
    for problem in problems:
        complain(problem)
    if problems:
        raise typer.Exit(LexiconError.exit_code)
    output.print_text(word_pages.lines([f"{file}: nothing to mend."]))


@lexicon_app.command("teach")
def lexicon_teach(
    name: Annotated[str, typer.Argument(metavar="NAME", help="The coach's own name for it.")],
    means: Annotated[str, typer.Option("--means", metavar="PHRASE", help="A movement that the lexicon knows.")],
    lexicon: OwnWords = None,
) -> None:
    """Keep one of the coach's own names."""
    from lexicon import teach

    from .vocabulary import guarded, own_file

    path = own_file(lexicon)
    guarded(teach, path, name, means)
    output.print_text(word_pages.lines([f"“{name}” now means {means}. Kept in {path}."]))


def main() -> NoReturn:
    """The entry point. Exit codes: 0 as asked, 1 findings at or above the threshold, 2 the call or the input was wrong."""
    # A call is short and keeps nearly all that it makes, the lexicon above all: to search that for rubbish every few hundred objects
    # would take a tenth of its time.
    gc.set_threshold(100_000, 50, 50)
    # Nothing here wants plugins of pydantic; to look for them goes through all that is installed.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    for stream in (sys.stdin, sys.stdout, sys.stderr):
        # What was said may hold any letter; a narrower encoding of the terminal is no reason to fail.
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="replace")
    try:
        app(prog_name="planaloud")
    except PlanaloudError as exc:
        complain(exc)
        sys.exit(exc.exit_code)
    except KeyboardInterrupt:
        sys.exit(130)
    finally:
        gc.freeze()     # or the interpreter searches all of it once more before it ends
    sys.exit(0)


if __name__ == "__main__":
    main()
