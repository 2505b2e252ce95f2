"""What a call does between its arguments and its exit code: several files, one threshold, phrases from standard input."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Generic, TextIO, TypeVar

from pydantic import ValidationError

from .errors import PlanaloudError
from .model import Plan, Report, TalkThrough

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


def for_each_file(files: Sequence[str], read: Callable[[str], TalkThrough], work: Callable[[TalkThrough], T]) -> Outcome[T]:
    done, complaints = [], []
    for name in files:
        try:
            done.append(work(read(name)))
        except PlanaloudError as exc:
            complaints.append(exc)
    return Outcome(tuple(done), tuple(complaints))


def meant_plan(path: Path, read: Callable[[str], TalkThrough], make: Callable[[TalkThrough], Plan]) -> Plan:
    """The plan in a file: one that ``planaloud plan --format json`` wrote, or that of a talk-through. Raises PlanaloudError."""
    try:
        found = json.loads(path.read_text(encoding="utf-8-sig"))
    except (OSError, ValueError):
        found = None
    if not isinstance(found, dict) or "schema_version" not in found:
        return make(read(str(path)))
    try:
        return Plan.model_validate(found)
    except ValidationError as exc:
        wrong = exc.errors()[0]
        where = ".".join(map(str, wrong["loc"])) or "the document"
        raise PlanaloudError(f"{path} is no plan that can be compared: {where}: {wrong['msg']}. Write it with `planaloud plan --format json`.") from exc


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
