"""What a call does between its arguments and its exit code: several files, one threshold, phrases from standard input."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Generic, TextIO, TypeVar

from .clock import Start
from .errors import OutputRefused, PlanaloudError

if TYPE_CHECKING:
    from .model import Report

R = TypeVar("R")
T = TypeVar("T")

THRESHOLDS = ("error", "warning", "note", "never")
_RANK = {"note": 0, "warning": 1, "error": 2, "never": 3}


@dataclass(frozen=True)
class Outcome(Generic[T]):
    done: tuple[T, ...]
    complaints: tuple[PlanaloudError, ...]
    """One for each file that could not be worked on; the others are done all the same."""

    @property
    def exit_code(self) -> int:
        return max((c.exit_code for c in self.complaints), default=0)


def for_each_file(files: Sequence[str], read: Callable[[str], R], work: Callable[[R], T]) -> Outcome[T]:
    done, complaints = [], []
    for name in files:
        try:
            done.append(work(read(name)))
        except PlanaloudError as exc:
            complaints.append(exc)
    return Outcome(tuple(done), tuple(complaints))


def check_output(name: str, output: Any, *, files: int, start: Start | None) -> None:
    """Refuse before the work what this output cannot be made of. Raises OutputRefused."""
    if files > 1 and output.together is None:
        raise OutputRefused(f"{name} is made of one class: {files} files were given. Call it for each of them.")
    if start is None and output.start == "date":
        raise OutputRefused(f"{name} needs the start of the class: add --start 2026-03-02T18:30.")
    if start is not None and output.start == "none":
        raise OutputRefused(f"{name} has no times of day. Leave out --start, or choose another --format.")
    if start is not None and start.date is None and output.start == "date":
        raise OutputRefused(f"{name} needs the date too: write --start 2026-03-02T{start.time:%H:%M}.")


def check_document(name: str, output: Any, document: Any) -> Any:
    """``document``, where this output can be made of it. Raises OutputRefused."""
    if output.lacks is not None and (lack := output.lacks(document)):
        raise OutputRefused(f"{document.source.name}: {lack}")
    return document


def verdict(reports: Iterable[Report], fail_on: str) -> int:
    """1 where a finding is at or above the threshold, else 0."""
    found = (_RANK[f.severity] for report in reports for f in report.findings)
    return int(any(rank >= _RANK[fail_on] for rank in found))


def rule_called(code: str, known: Iterable[Any]) -> Any:
    """The rule with this code. Raises PlanaloudError."""
    for rule in known:
        if rule.code == code:
            return rule
    raise PlanaloudError(f"No rule is called {code!r}. `planaloud rules` lists them all.")


def phrases(given: str, stdin: TextIO) -> Iterator[str]:
    """The phrase itself, or with ``-`` the lines of standard input that are not blank."""
    if given != "-":
        yield given
        return
    yield from (line.strip() for line in stdin if line.strip())


def pairs(a: str, b: str | None, stdin: TextIO) -> Iterator[tuple[str, str]]:
    """The pair itself, or with ``-`` the tab-separated pairs of standard input. Raises PlanaloudError."""
    if a != "-":
        if b is None:
            raise PlanaloudError("Two phrases are needed. Give a second one, or - to read pairs from standard input.")
        yield a, b
        return
    for number, line in enumerate(stdin, 1):
        fields = line.rstrip("\r\n").split("\t")
        if len(fields) == 2:
            yield fields[0].strip(), fields[1].strip()
        elif line.strip():
            raise PlanaloudError(f"Line {number} of standard input is no pair. Write two phrases with one tab between them.")
