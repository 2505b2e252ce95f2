"""What was done, and when: the best way through the grid as intervals, with what was left out and what was said of the clock."""

from __future__ import annotations

from dataclasses import dataclass

from ..mentions import Heard, Quantity
from ..model import Coverage, Interval, Plan
from . import grid as g
from .evidence import Evidence
from .fit import Fit, Step
from .weights import weights


@dataclass(frozen=True, slots=True)
class Skipped:
    """Work that was announced and not done. ``start`` and ``end`` (s) hold the stretch where it should have been."""

    block: int
    round: int | None
    number: int | None
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class TimeLeft:
    """A statement of time left: the interval it falls in, and how far it is from the clock.

    ``error_s`` is positive where more was said to be left than there was; ``uncertainty_s`` covers word and edge.
    """

    quantity: Quantity
    interval: int
    error_s: float
    uncertainty_s: float


@dataclass(frozen=True, slots=True)
class Delivered:
    """The class as delivered. ``left_at`` is the ``(block, round, number)`` of the first work not done where a block ends
    before its plan, ``cut_off`` whether the recording ends there."""

    intervals: tuple[Interval, ...] = ()
    coverage: Coverage = Coverage()
    skipped: tuple[Skipped, ...] = ()
    time_left: tuple[TimeLeft, ...] = ()
    left_at: tuple[int, int | None, int | None] | None = None
    cut_off: bool = False
    ends_s: float | None = None


NOTHING = Delivered()


def _intervals(fit: Fit, grid: g.Grid, plan: Plan) -> list[Interval]:
    out: list[Interval] = []
    mains = [b for b in plan.blocks if b.kind == "main"]
    for step in fit.steps:
        cell = step.arc.cell
        if cell is None:
            if step.arc.length is None and out and grid.nodes[step.arc.b].block == out[-1].block + 1:
                rest = mains[out[-1].block - 1].rest_after_s
                if isinstance(rest, (int, float)):
                    out.append(Interval(kind="block_rest", block=out[-1].block, start=out[-1].end, end=step.end,
                                        uncertainty_s=_unsure(fit, step), planned_s=rest))
            continue
        number = cell.number if cell.kind != g.ROUND_REST else None
        out.append(Interval(kind=cell.kind, block=cell.block, round=cell.round, number=number, side=cell.side,
                            start=round(step.start, 2), end=round(step.end, 2), uncertainty_s=_unsure(fit, step),
                            planned_s=cell.planned_s))
    return out


def _unsure(fit: Fit, step: Step) -> float:
    """Of the length: both edges together, as independent errors add."""
    return round((fit.spread.get(step.arc.a, 0.0) ** 2 + fit.spread.get(step.arc.b, 0.0) ** 2) ** 0.5, 2)


def _skipped(fit: Fit, grid: g.Grid) -> list[Skipped]:
    out = []
    for k, step in enumerate(fit.steps):
        start = fit.steps[k - 1].start if k else step.start
        end = fit.steps[k + 1].end if k + 1 < len(fit.steps) else step.end
        out.extend(Skipped(c.block, c.round, c.number, start, end) for c in step.arc.skips)
    return out


def _time_left(heard: Heard, evidence: Evidence, intervals: list[Interval]) -> list[TimeLeft]:
    out = []
    for q in heard.quantities:
        if q.role != "left" or q.single is None:
            continue
        low, high = evidence.spans[q.first]
        said = (low + high) / 2
        inside = next((n for n, i in enumerate(intervals) if i.start <= said < i.end), None)
        if inside is None:
            continue
        now = intervals[inside]
        out.append(TimeLeft(q, inside, round(said + q.single - now.end, 2), round((high - low) / 2 + now.uncertainty_s, 2)))
    return out


def _coverage(plan: Plan, grid: g.Grid, intervals: list[Interval]) -> Coverage:
    planned = {(c.block, c.round) for c in grid.cells}
    done = {(i.block, i.round) for i in intervals if i.kind == "work"}
    movements = {(c.block, c.round, c.number) for c in grid.cells}
    moved = {(i.block, i.round, i.number) for i in intervals if i.kind == "work"}
    counted = all(isinstance(b.rounds, (int, float)) or b.format in ("amrap", "for_time") or b.time_scheme
                  for b in plan.blocks if g.timed(b))
    spans: dict[int, list[float]] = {}
    for i in intervals:
        if i.kind != "block_rest":
            spans.setdefault(i.block, []).extend((i.start, i.end))
    main_s = sum(max(v) - min(v) for v in spans.values()) + sum(i.end - i.start for i in intervals if i.kind == "block_rest")
    return Coverage(rounds_planned=len(planned) if counted else None, rounds_delivered=len(done),
                    movements_planned=len(movements) if counted else None, movements_delivered=len(moved),
                    main_s_delivered=round(main_s, 1))


def _left_at(fit: Fit, grid: g.Grid) -> tuple[tuple[int, int | None, int | None] | None, float | None]:
    for step in fit.steps:
        if step.arc.leaves:
            node = grid.nodes[step.arc.a]
            after = [c for c in grid.cells if c.block == node.block]
            done = [s.arc.cell for s in fit.steps if s.arc.cell and s.arc.cell.block == node.block and s.arc.cell.kind == g.WORK]
            place = after.index(done[-1]) + 1 if done and done[-1] in after else 0
            following = after[place] if place < len(after) else None
            return ((following.block, following.round, following.number) if following else None), step.start
    return None, None


def deliver(heard: Heard, plan: Plan, grid: g.Grid, evidence: Evidence, fit: Fit) -> Delivered:
    """The public shape of ``fit``."""
    intervals = _intervals(fit, grid, plan)
    left_at, left_s = _left_at(fit, grid)
    cut_off = left_at is not None and evidence.end - left_s <= weights()["skip"]["cut_off_s"]
    return Delivered(tuple(intervals), _coverage(plan, grid, intervals), tuple(_skipped(fit, grid)),
                     tuple(_time_left(heard, evidence, intervals)), left_at, cut_off, intervals[-1].end if intervals else None)
