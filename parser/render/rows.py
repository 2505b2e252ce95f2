"""A report as the rows of a printed page: findings worst first, then the class as it was delivered."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from ..clock import clock
from ..model import Coverage, Finding, Interval, Report, Source
from .clean import clean
from .sheet import first_said
from .wording import length

CLEAN = "Nothing that disagrees was found."
FOOT = "The report compares words, arithmetic and clock. Who should do what is for a qualified professional to decide."

_ORDER = ("error", "warning", "note")
_KIND = {"work": "work", "rest": "rest", "round_rest": "rest between rounds", "block_rest": "rest between blocks"}


@dataclass(frozen=True)
class FindingRow:
    severity: str
    at: str
    """The moment to jump to; empty where the talk-through has no times."""
    message: str
    code: str
    under: tuple[str, ...]


@dataclass(frozen=True)
class IntervalRow:
    at: str
    what: str
    planned: str
    done: str
    difference: str
    sure: str

    def cells(self) -> tuple[str, ...]:
        return (self.at, self.what, self.planned, self.done, self.difference, self.sure)


INTERVAL_HEADS = ("at", "what", "planned", "done", "difference", "sure to")


def _worst_first(finding: Finding) -> tuple[int, float]:
    starts = [s.start for s in finding.said if s.start is not None]
    return _ORDER.index(finding.severity), min(starts, default=float("inf"))


def _where(block: int | None, round_: int | None, number: int | None) -> str:
    named = {"block": block, "round": round_, "movement": number}
    return ", ".join(f"{name} {value}" for name, value in named.items() if value is not None)


def _said(source: Source) -> str:
    quote = f"“{clean(source.quote)}”"
    return f"said: {quote}" if source.start is None else f"said at {clock(source.start)}: {quote}"


def _finding(finding: Finding) -> FindingRow:
    under = [_said(s) for s in finding.said if s.quote.strip()]
    if finding.expected:
        under.append(f"expected: {clean(finding.expected)}")
    if where := _where(finding.block, finding.round, finding.number):
        under.append(f"in {where}")
    return FindingRow(finding.severity, first_said(finding.said), clean(finding.message), clean(finding.code), tuple(under))


def finding_rows(report: Report) -> list[FindingRow]:
    return [_finding(f) for f in sorted(report.findings, key=_worst_first)]


def summary(findings: Sequence[Finding]) -> str:
    """``1 error, 2 warnings, 3 notes``; a severity that does not occur is left out."""
    counts = Counter(f.severity for f in findings)
    return ", ".join(f"{counts[s]} {s}{'s' * (counts[s] > 1)}" for s in _ORDER if counts[s]) or CLEAN


def _tenths(seconds: float) -> str:
    return length(round(seconds, 1))


def _interval(interval: Interval) -> IntervalRow:
    done = interval.end - interval.start
    side = f"{interval.side} side" if interval.side else ""
    what = ", ".join(filter(None, [_KIND[interval.kind], _where(interval.block, interval.round, interval.number), side]))
    planned = interval.planned_s
    off = "" if planned is None else f"{round(done - planned, 1) + 0.0:+g} s"
    return IntervalRow(
        at=clock(interval.start),
        what=what,
        planned="" if planned is None else _tenths(planned),
        done=_tenths(done),
        difference=off,
        sure=f"± {round(interval.uncertainty_s, 1):g} s",
    )


def interval_rows(report: Report) -> list[IntervalRow]:
    return [_interval(i) for i in report.delivered]


def coverage_line(coverage: Coverage) -> str:
    """What of the plan was done, as far as it is known; empty where nothing is."""
    pieces = []
    for name in ("rounds", "movements"):
        planned, done = getattr(coverage, f"{name}_planned"), getattr(coverage, f"{name}_delivered")
        if planned is not None and done is not None:
            pieces.append(f"{name}: {done} of {planned} done")
        elif done is not None:
            pieces.append(f"{name}: {done} done")
    if coverage.main_s_delivered is not None:
        pieces.append(f"main part {clock(coverage.main_s_delivered)} long")
    line = " · ".join(pieces)
    return line[:1].upper() + line[1:]
