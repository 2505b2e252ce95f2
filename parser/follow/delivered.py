"""The best way through the grid as intervals, with what was left out and what was said of the clock."""

from __future__ import annotations

from collections import Counter

from ..delivery import Delivered, Left, Skipped, TimeLeft
from ..mentions import BARE, Heard, Quantity
from ..model import Coverage, Interval, Plan
from . import grid as g
from .evidence import Evidence
from .fit import Fit, Step
from .weights import weights

_KINDS = (g.WORK, g.REST, g.ROUND_REST)


def deliver(heard: Heard, plan: Plan, grid: g.Grid, evidence: Evidence, fit: Fit) -> Delivered:
    """The public shape of ``fit``."""
    rows = _without_stray(grid, evidence, _intervals(fit, grid, plan))
    intervals = tuple(interval for interval, _ in rows)
    left = _left(fit, grid, evidence)
    skipped = _skipped(fit)
    trusted = _trusted(heard, grid, evidence, rows, skipped, whole=all(g.timed(b) for b in plan.mains))
    return Delivered(intervals, tuple(mark for _, mark in rows), _coverage(plan, grid, intervals), skipped,
                     tuple(_time_left(heard, evidence, intervals)), left, trusted)


def _intervals(fit: Fit, grid: g.Grid, plan: Plan) -> list[tuple[Interval, float]]:
    """``(interval, how well its edges are marked)``."""
    out: list[tuple[Interval, float]] = []
    mains = plan.mains
    for step in fit.steps:
        cell = step.arc.cell
        mark = min(fit.seen.get(step.arc.a, 0.0), fit.seen.get(step.arc.b, 0.0))
        if cell is not None:
            number = cell.number if cell.kind != g.ROUND_REST else None
            out.append((Interval(kind=cell.kind, block=cell.block, round=cell.round, number=number, side=cell.side,
                                 start=round(step.start, 2), end=round(step.end, 2), uncertainty_s=_unsure(fit, step),
                                 planned_s=cell.planned_s), mark))
        elif step.arc.length is None and out and grid.nodes[step.arc.b].block == out[-1][0].block + 1:
            before = out[-1][0]
            rest = mains[before.block - 1].rest_after_s
            if isinstance(rest, (int, float)):
                out.append((Interval(kind=g.BLOCK_REST, block=before.block, start=before.end, end=round(step.end, 2),
                                     uncertainty_s=_unsure(fit, step), planned_s=rest), mark))
    return out


def _without_stray(grid: g.Grid, evidence: Evidence, rows: list[tuple[Interval, float]]) -> list[tuple[Interval, float]]:
    """``rows`` without blocks of which next to nothing was found, or little where the talk is in its work: a rehearsal in which somebody
    says "go", or movements that are shown as regularly as they are to be done."""
    w = weights()["trust"]
    found = Counter(i.block for i, _ in rows if i.kind == g.WORK)
    at_work = Counter(i.block for i, _ in rows if i.kind == g.WORK and evidence.is_work((i.start + i.end) / 2))
    planned = Counter(c.block for c in grid.cells)
    stray = {b for b, n in planned.items() if n > 1 and found[b] < max(2.0, w["done"] * n) or at_work[b] < w["at_work"] * found[b]}
    return [(i, mark) for i, mark in rows if i.block not in stray]


def _unsure(fit: Fit, step: Step) -> float:
    """Of the length: both edges together, as independent errors add."""
    one, other = (fit.spread.get(node, 0.0) for node in (step.arc.a, step.arc.b))
    return round(float((one**2 + other**2) ** 0.5), 2)


def _skipped(fit: Fit) -> tuple[Skipped, ...]:
    out: list[Skipped] = []
    for k, step in enumerate(fit.steps):
        start = fit.steps[k - 1].start if k else step.start
        end = fit.steps[k + 1].end if k + 1 < len(fit.steps) else step.end
        out.extend(Skipped(c.block, c.round, c.number, start, end) for c in step.arc.skips)
    return tuple(out)


def _time_left(heard: Heard, evidence: Evidence, intervals: tuple[Interval, ...]) -> list[TimeLeft]:
    out = []
    for q in heard.quantities:
        if q.single is None or not (_is_time(q) or _said_alone(heard, q)):
            continue
        low, high = evidence.spans[q.first]
        said = (low + high) / 2
        inside = next((n for n, i in enumerate(intervals) if i.start <= said < i.end), None)
        if inside is None:
            continue
        now = intervals[inside]
        out.append(TimeLeft(q, inside, round(said, 2), round(said + q.single - now.end, 2),
                            round((high - low) / 2 + now.uncertainty_s, 2), round(high - low, 2),
                            q.role == "left" and q.span != (q.first, q.end)))
    return out


def _is_time(q: Quantity) -> bool:
    """Seconds that are left, said as such; ``two left`` counts movements."""
    return q.role == "left" and q.single is not None and (q.kind == "length" or q.single >= 10 and q.single % 5 == 0)


def _said_alone(heard: Heard, q: Quantity) -> bool:
    """``Ten seconds`` after a silence, and then something else: in captions without punctuation it has no sentence of its own."""
    token = heard.words.tokens[q.first]
    return q.role == BARE and q.kind == "length" and q.single is not None and token.pause >= 2.0


def _coverage(plan: Plan, grid: g.Grid, intervals: tuple[Interval, ...]) -> Coverage:
    planned = {(c.block, c.round) for c in grid.cells}
    done = {(i.block, i.round) for i in intervals if i.kind == g.WORK}
    movements = {(c.block, c.round, c.number) for c in grid.cells}
    moved = {(i.block, i.round, i.number) for i in intervals if i.kind == g.WORK}
    counted = all(isinstance(b.rounds, (int, float)) or b.format in ("amrap", "for_time") or b.time_scheme
                  for b in plan.blocks if g.timed(b))
    spans: dict[int, list[float]] = {}
    for i in intervals:
        if i.kind in _KINDS:
            spans.setdefault(i.block, []).extend((i.start, i.end))
    main_s = sum(max(v) - min(v) for v in spans.values()) + sum(i.end - i.start for i in intervals if i.kind == g.BLOCK_REST)
    return Coverage(rounds_planned=len(planned) if counted else None, rounds_delivered=len(done),
                    movements_planned=len(movements) if counted else None, movements_delivered=len(moved),
                    main_s_delivered=round(main_s, 1))


def _left(fit: Fit, grid: g.Grid, evidence: Evidence) -> tuple[Left, ...]:
    out = []
    for step in fit.steps:
        if not step.arc.leaves:
            continue
        block = grid.nodes[step.arc.a].block
        planned = [c for c in grid.cells if c.block == block]
        done = [s.arc.cell for s in fit.steps if s.arc.cell in planned]
        following = planned[planned.index(done[-1]) + 1 :] if done else planned
        if following:
            c = following[0]
            out.append(Left(block, c.round, c.number, step.start, step.start > evidence.cut_off_from()))
    return tuple(out)


def _trusted(heard: Heard, grid: g.Grid, evidence: Evidence, rows: list[tuple[Interval, float]], skipped: tuple[Skipped, ...], *,
             whole: bool) -> frozenset[int]:
    """Blocks that the grid fits closely: most of it done, on time, and called. Where it fits badly the plan may be what is wrong."""
    w = weights()["trust"]
    if not _explained(evidence, tuple(i for i, _ in rows), whole=whole):
        return frozenset()
    most_uncalled = w["uncalled_coarse" if heard.words.talk.resolution == "block" else "uncalled"]
    out = set()
    for block in {i.block for i, _ in rows}:
        own = [(i, mark) for i, mark in rows if i.block == block and i.kind in _KINDS]
        planned = sum(c.block == block for c in grid.cells)
        works = sum(i.kind == g.WORK for i, _ in own)
        faults = _off(own) + w["skip_counts"] * sum(s.block == block for s in skipped)
        uncalled = sum(mark < weights()["edge"]["silent"] for _, mark in own)
        if works >= w["done"] * planned and faults <= max(w["off"] * len(own), w["off_least"]) and uncalled <= most_uncalled * len(own):
            out.add(block)
    return frozenset(out)


def _off(own: list[tuple[Interval, float]]) -> int:
    """How many intervals are not on time; two sides that share what one lacks are one."""
    w = weights()["trust"]
    count = 0
    for i, _ in own:
        by = 0.0 if i.planned_s is None else abs(i.end - i.start - i.planned_s)
        count += i.side != "second" and by > max(w["on_time_s"], w["on_time"] * (i.planned_s or 0.0))
    return count


def _explained(evidence: Evidence, intervals: tuple[Interval, ...], *, whole: bool) -> bool:
    """Whether most of the plain edge words (go, rest, three two one) lie at an edge that was found: all that were said where the ``whole``
    class is on the clock, else those said near what is.
    """
    w = weights()["trust"]
    edges = sorted({t for i in intervals for t in (i.start, i.end)})
    spans = [span for role in ("go", "stop") for span in evidence.plain_edges(role)] + evidence.countdown_spans()
    spans = [s for s in spans if evidence.is_work(s[0])]
    if edges and not whole:
        spans = [s for s in spans if edges[0] - w["around_s"] <= s[0] <= edges[-1] + w["around_s"]]
    if len(spans) < w["words_least"]:
        return True
    near = sum(any(low - w["words_s"] <= e <= high + w["words_s"] for e in edges) for low, high in spans)
    return near >= w["words"] * len(spans)
