"""What a call does between its arguments and its exit code: several files, one threshold."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from .errors import PlanaloudError
from .model import Report, TalkThrough

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


def verdict(reports: Iterable[Report], fail_on: str) -> int:
    """1 where a finding is at or above the threshold, else 0."""
    found = (_RANK[f.severity] for report in reports for f in report.findings)
    return int(any(rank >= _RANK[fail_on] for rank in found))
