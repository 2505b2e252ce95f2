"""The plan unrolled: the edges of the clock that it promises, and the intervals between them with their lengths.

Nodes are edges, in the order of time; arcs are intervals, or ways round what may be left out. Every way from the first node
to the last is a class that could have been held.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, NamedTuple

from ..model import Amount, Block, Movement, Plan
from ..schedule import MOST_INTERVALS
from .weights import weights

START, STOP, TURN, SWITCH, JOIN, DONE = "start", "stop", "turn", "switch", "join", "done"
WORK, REST, ROUND_REST, BLOCK_REST = "work", "rest", "round_rest", "block_rest"
_MOST_ROUNDS = 10       # followed where nobody said how many
_MOST_TIMED = 0.6       # of the movements have a length: the block can be followed


class Node(NamedTuple):
    """An edge of the clock. ``number`` is the movement that begins, ``before`` and ``after`` the lengths on either side (s). ``opens``: a
    round begins."""

    kind: str
    block: int
    round: int | None = None
    number: int | None = None
    before: float | None = None
    after: float | None = None
    opens: bool = False


@dataclass(frozen=True, slots=True)
class Cell:
    """An interval as planned; ``planned_s`` is ``None`` where nobody said."""

    kind: str
    block: int
    round: int | None = None
    number: int | None = None
    side: str | None = None
    planned_s: float | None = None


class Arc(NamedTuple):
    """From node ``a`` to node ``b``. ``length`` in seconds; ``None`` for any length, 0 for none at all."""

    a: int
    b: int
    length: float | None
    cost: float = 0.0
    cell: Cell | None = None
    cap: bool = False            # may end any time before ``length``
    split: int | None = None     # the node between two sides that fill ``length`` unevenly
    closes: bool = False         # to the end of a block that was held
    skips: tuple[Cell, ...] = ()
    leaves: bool = False         # the rest of the block is not done

    @property
    def is_timed(self) -> bool:
        """Whether it is an interval of the plan: time that the talk spends beside the work costs something in it."""
        return self.cell is not None or self.split is not None


@dataclass(frozen=True, slots=True)
class Grid:
    nodes: tuple[Node, ...]
    arcs: tuple[Arc, ...]
    cells: tuple[Cell, ...]
    """Every work interval that the plan promises: of rounds that nobody counted, those of the first."""
    starts: tuple[tuple[int, int], ...]
    """``(main block, its first node)`` of every block that is followed."""


def shares_moment(arc: Arc, rewards: Sequence[object]) -> bool:
    """Whether both ends of ``arc`` are one edge of the clock: its words count once, for the later node. ``rewards``: of each node what its
    words are worth; ``None`` for one without."""
    return arc.length == 0.0 and rewards[arc.a] is not None and rewards[arc.b] is not None


def endings(arcs: Iterable[Arc]) -> list[list[Arc]]:
    """Of ``arcs``, which lead to one node, those that close a block, in lists of those that cost the same. They take no time: a block may
    end at nearly every edge of it."""
    alike: dict[tuple[float, bool], list[Arc]] = {}
    for arc in arcs:
        if arc.closes:
            alike.setdefault((arc.cost, arc.leaves), []).append(arc)
    return list(alike.values())


def _number(value: Amount) -> float | None:
    if isinstance(value, (tuple, list)):
        return (value[0] + value[1]) / 2
    return None if value is None else float(value)


def work_of(block: Block, movement: Movement | None, round_: int) -> tuple[float | None, float | None]:
    """``(whole work, seconds a side)`` of one go at ``movement``; a part is ``None`` where it does not apply.

    Sides split the work where the block has a work time, else each side is a work of its own.
    """
    each = _number(movement.sides.seconds_each) if movement and movement.sides.mode == "each" else None
    if block.format == "emom":
        return block.interval_s or 60.0, None
    if block.time_scheme:
        return float(block.time_scheme[min(round_, len(block.time_scheme)) - 1]), None
    whole = _number(block.work_s)
    if whole is None and movement is not None:
        seconds = _number(movement.dose.seconds)
        if each is not None or (movement.sides.mode == "each" and seconds):
            return None, each or seconds
        return seconds, None
    if each is not None and whole is not None and 2 * each <= whole + 1:
        return whole, each
    return whole, None


def timed(block: Block) -> bool:
    """Whether the clock can be followed through ``block``: every movement has a length, or the whole has one, and there are no more rounds
    than any class has."""
    if block.kind != "main":
        return False
    if block.format in ("amrap", "for_time"):
        return _number(block.duration_s) is not None
    if block.format in ("sets", "flow") and block.work_s is None:
        return False
    if not block.movements or _rounds(block)[0] * len(block.movements) > MOST_INTERVALS:
        return False
    return len(timed_movements(block)) >= _MOST_TIMED * len(block.movements)


def timed_movements(block: Block) -> list[Movement]:
    """The movements that have a length; in a block of holds something named in passing may have none."""
    return [m for m in block.movements if any(work_of(block, m, 1))]


Turn = tuple[int, int, int]
"""A go at a movement: its number, the node where it begins and the one where it ends."""
Ahead = tuple[int, float | None, float, Cell | None]
"""An arc that waits for its end: from where, its length, its cost, the interval that it is."""
Pending = int | list[Ahead]
"""What leads to the next work: the node that it shares with what went before, or arcs."""


class _Unroller:
    def __init__(self, long_rests: Sequence[float], changed: Mapping[str, Sequence[float]]) -> None:
        self.long_rests, self.changed = long_rests, changed
        self.nodes: list[Node] = []
        self.arcs: list[Arc] = []
        self.cells: list[Cell] = []
        self.promised = 0
        self.skip = weights()["skip"]

    def node(self, kind: str, block: int, **more: Any) -> int:
        self.nodes.append(Node(kind, block, **more))
        return len(self.nodes) - 1

    def arc(self, a: int, b: int, length: float | None, **more: Any) -> None:
        self.arcs.append(Arc(a, b, length, **more))

    def piece(self, number: int, block: Block) -> tuple[int, int]:
        """An AMRAP or a piece for time: one stretch of work. Its first and last node."""
        length = _number(block.duration_s)
        cell = Cell(WORK, number, planned_s=length)
        start = self.node(START, number, after=length)
        end = self.node(STOP, number, before=length)
        self.arc(start, end, length, cell=cell, cap=block.format == "for_time")
        self.cells.append(cell)
        return start, end

    def rounds(self, number: int, block: Block) -> tuple[int, int]:
        """All rounds of an interval block; its first node and the node where it is done."""
        count, self.promised = _rounds(block)
        ends: list[tuple[int, list[Turn]]] = []
        pending: Pending | None = None
        movements = timed_movements(block)
        order = [(m, s) for s in ("first", "second") for m in movements] if block.each_side_through else [(m, None) for m in movements]
        starts: list[int] = []
        for r in range(1, count + 1):
            turns: list[Turn] = []
            for place, (movement, side) in enumerate(order):
                start, end = self._go(number, block, r, movement, side, pending, opens=not place)
                turns.append((movement.number, start, end))
                if place + 1 < len(order):
                    pending = self._between(number, block, r, movement.number, end)
                elif r < count:
                    pending = self._between_rounds(number, block, r, movement.number, end)
            self._skips(number, block, r, turns)
            ends.append((r, turns))
            starts.append(turns[0][1])
        done = self.node(DONE, number)
        self._leave(ends, starts, done, count)
        return starts[0], done

    def _go(self, number: int, block: Block, r: int, movement: Movement, side: str | None, pending: Pending | None, *,
            opens: bool) -> tuple[int, int]:
        """One go at ``movement``: its nodes and arcs. ``pending`` are arcs that wait for the node where it begins."""
        whole, each = work_of(block, movement, r)
        n = movement.number
        length = each if whole is None else whole
        if isinstance(pending, int):
            start = pending
            old = self.nodes[start]
            self.nodes[start] = Node(TURN, number, r, n, old.before, length, opens)
        else:
            start = self.node(START, number, round=r, number=n, after=length, opens=opens)
            for a, rest_s, cost, cell in pending or ():
                self.arcs.append(Arc(a, start, rest_s, cost, cell))
        if each is not None and whole is not None:
            switch = self.node(SWITCH, number, round=r, number=n, before=each, after=each)
            end = self.node(STOP, number, round=r, before=whole)
            self._work(start, switch, Cell(WORK, number, r, n, "first", each))
            self._work(switch, end, Cell(WORK, number, r, n, "second", whole - each))
            self.arc(start, end, whole, cost=self.skip["uneven"], split=switch)
            # nobody calls a change of sides: then it was none
            self.arc(start, end, whole, cost=self.skip["unsplit"], cell=Cell(WORK, number, r, n, planned_s=whole))
        elif each is not None:
            middle = self.node(STOP, number, round=r, before=each)
            self._work(start, middle, Cell(WORK, number, r, n, "first", each))
            again = self.node(START, number, round=r, number=n, after=each)
            rest = _number(block.rest_s)
            if rest:
                self.arc(middle, again, rest, cell=Cell(REST, number, r, n, planned_s=rest))
                self.arc(middle, again, 0.0, cost=self.skip["no_pause"])
            else:
                self.arc(middle, again, 0.0)
                self.arc(middle, again, None, cost=self.skip["no_pause"])
            end = self.node(STOP, number, round=r, before=each)
            self._work(again, end, Cell(WORK, number, r, n, "second", each))
        else:
            end = self.node(STOP, number, round=r, before=whole)
            self._work(start, end, Cell(WORK, number, r, n, side, whole))
        return start, end

    def _work(self, a: int, b: int, cell: Cell) -> None:
        if cell.round is not None and cell.round <= self.promised:
            self.cells.append(cell)
        self.arc(a, b, cell.planned_s, cell=cell)
        if cell.side is None:
            for other in self._others(cell):
                self.arc(a, b, other.planned_s, cost=self.skip["changed"], cell=other)

    def _others(self, cell: Cell) -> list[Cell]:
        """``cell`` with the lengths that held before or after a change announced on the way."""
        return [replace(cell, planned_s=s) for s in self.changed.get(cell.kind, ()) if s != cell.planned_s]

    def _between(self, number: int, block: Block, r: int, n: int, end: int) -> Pending:
        rest = _number(block.rest_s)
        if block.format == "emom" or rest == 0:
            return end
        if rest is None:
            return [(end, None, 0.0, None), (end, 0.0, 0.0, None)]
        cell = Cell(REST, number, r, n, planned_s=rest)
        return [(end, rest, 0.0, cell), *((end, c.planned_s, self.skip["changed"], c) for c in self._others(cell))]

    def _between_rounds(self, number: int, block: Block, r: int, n: int, end: int) -> Pending:
        """Round rest, short rest, or both: what was announced costs nothing, the others a little."""
        rest, long = _number(block.rest_s), _number(block.round_rest_s)
        if long is None or (long == rest):
            between = self._between(number, block, r, n, end)
            if not isinstance(between, int) and rest:
                # "and after lap two you get two minutes": said, and no setting of every round
                between += [(end, other, self.skip["unlikely_rest"], Cell(ROUND_REST, number, r, n, planned_s=other))
                         for other in self.long_rests if other > rest]
            return between
        if long == 0:
            return end
        unlikely = self.skip["unlikely_rest"]
        cell = Cell(ROUND_REST, number, r, n, planned_s=long)
        arcs: list[Ahead] = [(end, long, 0.0, cell), *((end, c.planned_s, self.skip["changed"], c) for c in self._others(cell))]
        if rest and block.format != "emom":
            arcs.append((end, rest, unlikely, Cell(REST, number, r, n, planned_s=rest)))
            join = self.node(JOIN, number, round=r, before=rest)
            self.arc(end, join, rest, cost=unlikely, cell=Cell(REST, number, r, n, planned_s=rest))
            arcs.append((join, long, 0.0, cell))
        return arcs

    def _skips(self, number: int, block: Block, r: int, turns: Sequence[Turn]) -> None:
        """Ways round one movement, and round two in a row."""
        cost = self.skip["movement"]
        for k, (n, start, end) in enumerate(turns):
            left_out = (Cell(WORK, number, r, n),)
            if k + 1 < len(turns):
                first = self.skip["first"] if r == 1 and k == 0 else 0.0
                self.arc(start, turns[k + 1][1], 0.0, cost=cost + first, skips=left_out)
            elif k:
                self.arc(turns[k - 1][2], end, 0.0, cost=cost, skips=left_out)

    def _leave(self, ends: Sequence[tuple[int, list[Turn]]], starts: Sequence[int], done: int, count: int) -> None:
        for r, turns in ends:
            for n, start, end in turns:
                if end == turns[-1][2] and r >= self.promised:
                    self.arc(end, done, 0.0, closes=True)
                else:
                    self.arc(end, done, 0.0, cost=self.skip["abandon"], closes=True, leaves=True)
                    if self.nodes[start].kind == START and (r, n) != (1, turns[0][0]):
                        self.arc(start, done, 0.0, cost=self.skip["abandon"] + self.skip["at_start"], closes=True, leaves=True)
        for r in range(1, count):
            left_out = tuple(Cell(WORK, self.nodes[starts[0]].block, r, n) for n, _, _ in ends[r - 1][1])
            self.arc(starts[r - 1], starts[r], 0.0, cost=self.skip["round"], skips=left_out)


def _rounds(block: Block) -> tuple[int, int]:
    """``(rounds unrolled, round from which the block may simply end)``."""
    if block.time_scheme:
        return len(block.time_scheme), len(block.time_scheme)
    value = block.rounds
    if value is None and block.format == "tabata" and len(block.movements) == 1:
        value = 8
    if isinstance(value, (tuple, list)):
        return int(value[1]), int(value[0])
    if value is None:
        return _MOST_ROUNDS, 1
    return max(1, int(value)), max(1, int(value))


def unroll(plan: Plan, long_rests: Sequence[float] = (), changed: Mapping[str, Sequence[float]] | None = None) -> Grid:
    """The grid of all main blocks that have a clock; empty where none has.

    ``long_rests`` are rests between rounds (s) that were mentioned at all; ``changed`` the lengths (s) said for work, rest and round
    rest in a class whose plan was changed aloud on the way, by kind.
    """
    work = _Unroller(long_rests, changed or {})
    starts: list[tuple[int, int]] = []
    previous = None
    for number, block in enumerate(plan.mains, 1):
        if not timed(block):
            continue
        enter = work.node(JOIN, number)
        if previous is not None:
            work.arc(previous[1], enter, 0.0)
        first, done = (work.piece if block.format in ("amrap", "for_time") else work.rounds)(number, block)
        work.arc(enter, first, None)
        if work.nodes[done].kind != DONE:
            last = work.node(DONE, number)
            work.arc(done, last, 0.0, closes=True)
            done = last
        work.arc(enter, done, 0.0, cost=work.skip["block"])
        starts.append((number, first))
        previous = (number, done)
    return Grid(tuple(work.nodes), tuple(work.arcs), tuple(work.cells), tuple(starts))
