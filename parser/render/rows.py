"""A report as the rows of a printed page: findings worst first, then the class as it was delivered."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, fields

from ..clock import clock
from ..kinds import Severity
from ..model import Coverage, Finding, Interval, Report, Source
from .clean import clean
from .sheet import first_said
from .slots import KINDS
from .wording import length

CLEAN = "Nothing that disagrees was found."
FOOT = "The report compares words, arithmetic and clock. Who should do what is for a qualified professional to decide."

_ORDER: tuple[Severity, ...] = ("error", "warning", "note")


@dataclass(frozen=True)
class FindingRow:
    severity: str
    message: str
    code: str
    said: tuple[Source, ...]
    """The words it rests on."""
    more: tuple[str, ...]

    @property
    def at(self) -> str:
        """The moment to jump to; empty where the talk-through has no times."""
        return first_said(self.said)

    @property
    def under(self) -> tuple[str, ...]:
        return (*map(said_line, self.said), *self.more)


@dataclass(frozen=True)
class IntervalRow:
    at: str
    what: str
    block: str
    round: str
    number: str
    planned: str
    done: str
    difference: str
    sure: str

    def cells(self) -> tuple[str, ...]:
        """In the order of ``INTERVAL_HEADS``."""
        return tuple(getattr(self, field.name) for field in fields(self))


INTERVAL_HEADS = ("at", "what", "block", "round", "no.", "planned", "done", "difference", "sure to")


def _worst_first(finding: Finding) -> tuple[int, float]:
    starts = [s.start for s in finding.said if s.start is not None]
    return _ORDER.index(finding.severity), min(starts, default=float("inf"))


def _where(block: int | None, round_: int | None, number: int | None) -> str:
    named = {"block": block, "round": round_, "movement": number}
    return ", ".join(f"{name} {value}" for name, value in named.items() if value is not None)


def said_line(source: Source) -> str:
    """``said at 3:27: “the words”``."""
    quote = f"“{clean(source.quote)}”"
    return f"said: {quote}" if source.start is None else f"said at {clock(source.start)}: {quote}"


def _finding(finding: Finding) -> FindingRow:
    more = [f"expected: {clean(finding.expected)}"] if finding.expected else []
    if where := _where(finding.block, finding.round, finding.number):
        more.append(f"in {where}")
    said = tuple(s for s in finding.said if s.quote.strip())
    return FindingRow(finding.severity, clean(finding.message), clean(finding.code), said, tuple(more))


def finding_rows(report: Report) -> list[FindingRow]:
    return [_finding(f) for f in sorted(report.findings, key=_worst_first)]


def order(findings: Sequence[Finding]) -> list[int]:
    """For each finding, in the order given, which one it is on a page, from 1."""
    shown = sorted(range(len(findings)), key=lambda place: _worst_first(findings[place]))
    return [shown.index(place) + 1 for place in range(len(findings))]


def summary(findings: Sequence[Finding]) -> str:
    """``1 error, 2 warnings, 3 notes``; a severity that does not occur is left out."""
    counts = Counter(f.severity for f in findings)
    return ", ".join(f"{counts[s]} {s}{'s' * (counts[s] > 1)}" for s in _ORDER if counts[s]) or CLEAN


def _tenths(seconds: float) -> str:
    return length(round(seconds, 1))


def _interval(interval: Interval) -> IntervalRow:
    done, planned = interval.end - interval.start, interval.planned_s
    return IntervalRow(
        at=clock(interval.start),
        what=KINDS[interval.kind] + (f", {interval.side} side" if interval.side else ""),
        block=str(interval.block),
        round=_given(interval.round),
        number=_given(interval.number),
        planned="" if planned is None else _tenths(planned),
        done=_tenths(done),
        difference="" if planned is None else _difference(done - planned),
        sure=f"± {round(interval.uncertainty_s, 1):g} s",
    )


def _given(value: int | None) -> str:
    return "" if value is None else str(value)


def _difference(seconds: float) -> str:
    tenths = round(seconds, 1)
    return f"{tenths:+g} s" if tenths else "0 s"


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


CLASS_HEADS = ("class", "worst finding", "coverage", "drift")


def class_rows(reports: Sequence[Report]) -> list[tuple[str, str, str, str]]:
    """One row a class, in the order of ``CLASS_HEADS``. Drift is what its planned intervals took beyond their lengths, in all."""
    out = []
    for report in reports:
        worst = min(report.findings, key=_worst_first, default=None)
        beyond = [i.end - i.start - i.planned_s for i in report.delivered if i.planned_s is not None]
        drift = _difference(sum(beyond)) if beyond else ""
        out.append((clean(report.source.name), f"{worst.severity}: {clean(worst.code)}" if worst else "none", coverage_line(report.coverage), drift))
    return out
