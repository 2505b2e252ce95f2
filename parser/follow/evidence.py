"""What the talk says about edges of the clock: for every kind of edge, how likely it is at each moment.

Each word is a density over the time it can have been said; an array holds, for every step of the axis, the log odds that an
edge lies there. Words that fit several edges are used by whichever the whole fit gives them to.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Callable, Hashable, Iterable, Sequence
from functools import cached_property

import numpy as np

from ..mentions import BARE, Heard, Layout, Quantity
from ..mentions import STOP as SENTENCE
from ..model import Plan
from . import grid
from .axis import Axis, Box, Span, joined
from .moments import silences, windows
from .names import Names
from .weights import Floats, Steps, weights, words

_SEVERAL = 4            # edges words of one kind this close together count once
_AT_EDGE_S, _PLACED_S = 0.5, 5.0


class Evidence:
    """The arrays over ``steps`` steps of ``dt`` seconds, each made when first asked for."""

    def __init__(self, heard: Heard, plan: Plan, layout: Layout | None = None, *, dt: float) -> None:
        self.heard, self.layout, self.dt = heard, layout, dt
        self.spans = windows(heard.words)
        tokens = heard.words.tokens
        self.end = max([self.spans[-1][1] + 2.0 if tokens else 0.0, heard.words.talk.duration_s or 0.0])
        self.axis = Axis(dt, int(self.end / dt) + 2)
        self.steps = self.axis.steps
        self._w, self._when = weights()["heard"], weights()["when"]
        self._made: dict[Hashable, Floats] = {}
        self._at: dict[Hashable, Floats] = {}
        self._said: dict[str, list[tuple[float, float, float]]] = {}
        self._stems: dict[str, tuple[Steps, Floats, list[Box]]] = {}
        self._cut_off_s: float | None = None
        self.names = Names(heard, plan, layout)

    # ---- arrays by name

    def _get(self, key: Hashable, make: Callable[[], Floats]) -> Floats:
        if key not in self._made:
            self._made[key] = make()
        return self._made[key]

    def _edge_spans(self, *roles: str) -> list[Span]:
        out: list[Span] = []
        before = -99
        for edge in self.heard.edges:
            if edge.role in roles and not self.heard.words.tokens[edge.first].quoted:
                if edge.first - before > _SEVERAL:
                    out.append(self.spans[edge.first])
                before = edge.first
        return out

    def words_at(self, role: str) -> Floats:
        return self._get(role, lambda: self.axis.odds(self._w[role], self._edge_spans(role)))

    def _bare_switch(self) -> Floats:
        """``swap`` in the middle of other words: enough where two sides were announced."""
        def make() -> Floats:
            found = [self.spans[t.i] for t in self.heard.words.tokens if t.norm in words()["turns"] and not t.quoted]
            return self.axis.odds(self._w["bare_switch"], found)
        return self._get("bare switch", make)

    def plain_edges(self, role: str) -> list[Span]:
        """When the words of one role were said."""
        return self._edge_spans(role)

    def countdown_spans(self) -> list[Span]:
        """``three, two, one``: the edge lies as many seconds after the first number as it says."""
        out = []
        for edge in self.heard.edges:
            if edge.role != "countdown":
                continue
            first = next((q.single for q in self.heard.quantities if q.first == edge.first and q.single is not None), None)
            if first is not None:
                low, high = self.spans[edge.first]
                out.append((low + first - 0.6, high + first + 0.6))
        return out

    def countdown(self) -> Floats:
        return self._get("countdown", lambda: self.axis.odds(self._w["countdown"], self.countdown_spans()))

    def ahead(self, role: str) -> Floats:
        """``ten seconds left``, ``starting in eight``: the edge lies that much later."""
        def make() -> Floats:
            width = self._when["left_width_s"]
            return self.axis.sum_of_odds(self._w[role], [(low + value - width, high + value + width)
                                                    for low, high, value in self.statements(role)])
        return self._get(("ahead", role), make)

    def statements(self, role: str) -> list[tuple[float, float, float]]:
        """``(earliest, latest, seconds)`` of every statement of time left (``left``) or until the start (``until``)."""
        if role not in self._said:
            self._said[role] = [(*self.spans[q.first], q.single) for q in self.heard.quantities
                                if q.single is not None and self._is_statement(q, q.single, role)]
        return self._said[role]

    def _is_statement(self, q: Quantity, seconds: float, role: str) -> bool:
        if q.role == "countdown":
            return False
        if q.role == role:
            return True
        # "Fifteen." alone is time left
        tokens = self.heard.words.tokens
        alone = tokens[q.first].brk == SENTENCE and (q.end >= len(tokens) or tokens[q.end].brk == SENTENCE)
        return role == "left" and q.role == BARE and alone and 5 <= seconds <= 60 and seconds % 5 == 0

    def half(self, shift: float) -> Floats:
        """``halfway``: an edge lies ``shift`` seconds from it."""
        def make() -> Floats:
            width = self._when["half_width_s"]
            spans = [(low + shift - width, high + shift + width) for low, high in self._edge_spans("half")]
            return self.axis.odds(self._w["half"], spans)
        return self._get(("half", shift), make)

    def left_from_start(self, length: float) -> Floats:
        """``ten seconds left``: an interval of ``length`` began that much before its end."""
        def make() -> Floats:
            width = self._when["left_width_s"]
            spans = [(low + value - length - width, high + value - length + width)
                     for low, high, value in self.statements("left") if value < length]
            return self.axis.sum_of_odds(self._w["left"] / 2, spans)
        return self._get(("left", length), make)

    def onset(self) -> Floats:
        """Speech that sets in after a silence."""
        def make() -> Floats:
            resolution = self.heard.words.talk.resolution
            tokens = self.heard.words.tokens
            if resolution == "block":
                sets_in = silences(self.heard.words, self.spans)
            else:
                sets_in = [(t.i, 1.0) for t in tokens if t.pause >= self._when["onset_pause_s"]]
            return self.axis.odds(self._w["onset"], [self.spans[i] for i, _ in sets_in], [share for _, share in sets_in])
        return self._get("onset", make)

    # ---- what is learnt of the coach

    def learn_words(self, kind: str, moments: Sequence[float]) -> None:
        """Take the words with which this coach opens the edges of one kind (``On.``, ``Change.``) for edge words."""
        tokens, at = self.heard.words.tokens, np.array(moments)
        opens: Counter[str] = Counter()
        lows, highs = self._said_between
        firsts = np.searchsorted(highs, at - _AT_EDGE_S - self.dt)
        ends = np.searchsorted(lows, at + _AT_EDGE_S + self.dt, side="right")
        for moment, first, end in zip(moments, firsts.tolist(), ends.tolist()):
            near = [i for i, (low, high) in enumerate(self.spans[first:end], first)
                    if low - _AT_EDGE_S <= moment <= high + _AT_EDGE_S and high - low < _PLACED_S]
            opens.update({tokens[i].norm for i in near[:2]})
        own = [w for w, n in opens.items() if n >= self._when["own_least"] and n >= self._when["own_share"] * len(moments)
               and n * self._when["own_spread"] >= len(self.names.said(w))]
        places = sorted(i for w in own for i in self.names.said(w) if not tokens[i].quoted)
        self._at.clear()
        self._made[("own", kind)] = self.axis.odds(self._w["own"], [self.spans[i] for i in places], [opens[tokens[i].norm] / len(moments) for i in places])

    @cached_property
    def _said_between(self) -> tuple[Floats, Floats]:
        """For each token the earliest that it or a later one can have been said, and the latest that it or an earlier one can."""
        lows, highs = np.array([low for low, _ in self.spans]), np.array([high for _, high in self.spans])
        return np.minimum.accumulate(lows[::-1])[::-1], np.maximum.accumulate(highs)

    def own_words(self, kind: str) -> Floats:
        """The words that were learnt to open edges of one kind; none before that."""
        return self._get(("own", kind), lambda: np.zeros(self.steps))

    def learn(self, done: Iterable[tuple[int, int, float, float]]) -> None:
        """Listen again to ``(block, number, start, end)``: what each movement was called when it was first done."""
        starts = [low for low, _ in self.spans]
        for block, number, start, end in done:
            self.names.learn(block, number, bisect_left(starts, start), bisect_left(starts, end))
        self._at.clear()
        for key in [k for k in self._made if isinstance(k, tuple) and k[0] == "called"]:
            del self._made[key]

    # ---- the movements by name

    def called(self, block: int, number: int) -> Floats:
        """The movement is named: in the rest before (a little), or in the first words (more)."""
        def make() -> Floats:
            names = self.names.of(block).get(number, {})
            total = np.full(self.steps, -self._w["unnamed"] if names else 0.0)
            stems = [(share, *self._stem(s)) for s, share in names.items()]
            near = self.axis.scratch
            for share, said, odds, around in stems:
                near[said] = np.maximum(near[said], share * odds)
                for first, end in around:
                    own = total[first:end]
                    np.maximum(own, share * self._w["named"], out=own)
            if stems:
                said = np.concatenate([said for _, said, _, _ in stems])
                total[said] += near[said]
                near[said] = 0.0
            return total
        return self._get(("called", block, number), make)

    def _stem(self, s: str) -> tuple[Steps, Floats, list[Box]]:
        """Where a name is said that has this stem: the steps in its first words, with the log odds of an edge there, and the boxes of which it
        tells in the rest before too."""
        if s not in self._stems:
            spans, when = [self.spans[i] for i in self.names.where(s)], self._when
            said, density = self.axis.density([(low - when["call_after_s"], high) for low, high in spans])
            around = [(int(max(0.0, low - when["named_after_s"]) / self.dt), int(max(0.0, high + when["named_before_s"]) / self.dt) + 1)
                      for low, high in spans]
            self._stems[s] = said, np.log1p(self._w["call"] * density), joined(around)
        return self._stems[s]

    # ---- the rounds by number

    @cached_property
    def _rounds_said(self) -> dict[int, list[Box]]:
        """``round two``: by the number the steps around it; without those that are over, ``that's round two``."""
        tokens, near, over = self.heard.words.tokens, self._when["round_s"], words()["over"]
        out: dict[int, list[Box]] = {}
        for q in self.heard.quantities:
            if q.role != "round_label" or not q.single:
                continue
            first, end = q.span
            if not (first and tokens[first - 1].norm in over or end < len(tokens) and tokens[end].norm in over):
                low, high = self.spans[q.first]
                out.setdefault(int(q.single), []).append(self.axis.box(low - near, high + near))
        return out

    def _round_said(self, number: int | None) -> Floats:
        """The number of a round is said close to where the round begins, that of another one is not."""
        def make() -> Floats:
            out = np.zeros(self.steps)
            for first, end in joined(box for boxes in self._rounds_said.values() for box in boxes):
                out[first:end] = -self._w["round"]
            return out
        total = self._get("rounds", make).copy()
        for first, end in self._rounds_said.get(number or 0, ()):
            total[first:end] = self._w["round"]
        return total

    # ---- where work begins at all

    def _working(self) -> Floats:
        """1 at each step where the talk is in its work, else 0."""
        def make() -> Floats:
            phase = np.zeros(self.steps + 1)
            for clause in self.heard.clauses:
                if clause.phase == "work":
                    a, b = self.spans[clause.first][0], self.spans[min(clause.end, len(self.spans) - 1)][0]
                    phase[int(a / self.dt) : int(b / self.dt) + 1] = 1.0
            return phase
        return self._get("working", make)

    def is_work(self, at: float) -> bool:
        return bool(self._working()[min(max(int(at / self.dt), 0), self.steps)])

    def turns_to_work(self) -> Floats:
        """How much the talk turns to work at each step; below 0 where it turns away."""
        def make() -> Floats:
            reach = int(self._when["phase_s"] / self.dt)
            total = np.concatenate([[0.0], np.cumsum(self._working())])
            at = np.arange(self.steps)
            after = (total[np.minimum(at + reach, self.steps)] - total[at]) / reach
            before = (total[at] - total[np.maximum(at - reach, 0)]) / reach
            turn: Floats = self._when["phase"] * (after - before)
            return turn
        return self._get("phase", make)

    def closing(self) -> Floats:
        """How much the end of the work lies at each step because the talk closes the class right after it."""
        def make() -> Floats:
            reach = self._when["closing_s"]
            spans = [(self.spans[b.first][0] - reach, self.spans[b.first][1]) for a, b in zip(self.heard.clauses, self.heard.clauses[1:])
                     if b.phase in ("cool_down", "close") and a.phase not in ("cool_down", "close")]
            cost = self.turns_to_work() - self.axis.odds(self._w["closing"], spans)
            # people may stand about for a while before the talk turns away from the work
            out, slope, step = cost.copy(), self._when["idle_per_s"], max(1, int(2.0 / self.dt))
            for shift in range(step, int(self._when["idle_s"] / self.dt), step):
                np.minimum(out[:-shift], cost[shift:] + slope * shift * self.dt, out=out[:-shift])
            return out
        return self._get("closing", make)

    def cut_off_from(self) -> float:
        """From when on (s) an end of the work is the recording's end: shortly before it, and after the last word of goodbye."""
        if self._cut_off_s is None:
            goodbye = words()["goodbye"]
            closing = [self.spans[t.i][0] for t in self.heard.words.tokens if t.norm in goodbye]
            self._cut_off_s = max([self.end - weights()["skip"]["cut_off_s"], *closing])
        return self._cut_off_s

    def aside(self) -> Floats:
        """The cost, up to each step, of the time in which the talk is not in its work: a movement that is shown is not done."""
        return self._get("aside", lambda: np.cumsum((1.0 - self._working()) * self._when["aside_per_s"] * self.dt)[: self.steps])

    def before_block(self, block: int) -> Floats:
        """The cost of a block that begins before it is announced."""
        def make() -> Floats:
            out = np.zeros(self.steps)
            stretches = [s for s in self.layout.stretches if s.kind == "main"] if self.layout else []
            if 1 < block <= len(stretches) and stretches[block - 1].first < len(self.spans):
                out[: int(self.spans[stretches[block - 1].first][0] / self.dt)] = self._when["too_early"]
            return out
        return self._get(("before", block), make)

    # ---- all of it, for one node

    def _calls(self, kind: str, other: str) -> Floats:
        """The words that call an edge of one ``kind``, and less what usually calls the ``other``."""
        def make() -> Floats:
            w, soft = self._w["other_kind"], self._w["other_soft"]
            return np.maximum(self.words_at(kind) + self.words_at(f"soft_{kind}"),
                              np.maximum(w * self.words_at(other), soft * self.words_at(f"soft_{other}")))
        return self._get(("calls", kind), make)

    def at(self, node: grid.Node) -> Floats | None:
        """The log odds that ``node`` lies at each step of the axis; ``None`` for nodes that no word marks."""
        if node.kind in (grid.JOIN, grid.DONE):
            return None
        # little that is said tells the rounds apart: one array for all edges that are alike
        begins = (node.block, node.number) if node.kind in (grid.START, grid.TURN) else None
        key = (node.kind, begins, node.before, node.after, node.round if node.opens and self._rounds_said else None)
        if key not in self._at:
            self._at[key] = self._seen(node)
        return self._at[key]

    def _seen(self, node: grid.Node) -> Floats:
        total = self._between(node.kind, node.before, node.after)
        if node.kind in (grid.START, grid.TURN):
            total = total + self.called(node.block, node.number or 0)
            if node.opens and self._rounds_said:
                total += self._round_said(node.round)
        return total

    def _between(self, kind: str, before: float | None, after: float | None) -> Floats:
        """What the words say of edges of one ``kind`` between intervals of such lengths, whatever movement begins there."""
        key = (kind, before, after)
        if key not in self._at:
            total = self._edge(kind)
            if before:
                total = total + self._get(("ends", before), lambda: np.maximum(self.ahead("left"), self.half(before / 2)))
            if after:
                total = total + self._get(("begins", after), lambda: np.maximum(self.left_from_start(after), self.half(-after / 2)))
            self._at[key] = total
        return self._at[key]

    def _edge(self, kind: str) -> Floats:
        """What the words say of edges of one ``kind``, whatever begins or ends there."""
        if kind not in self._at:
            total = self._get("set in", lambda: self.onset() + self.countdown())
            if kind in (grid.START, grid.TURN):
                total = total + np.maximum(self._calls("go", "stop"), self.own_words(grid.START)) + self.ahead("until")
                if kind == grid.TURN:
                    total += np.log1p(self._w["change"] / self._w["switch"] * np.expm1(self.words_at("switch")))
            elif kind == grid.SWITCH:
                total = total + np.maximum(self.words_at("switch"), np.maximum(self._bare_switch(), self.own_words(grid.SWITCH)))
            else:
                total = total + np.maximum(self._calls("stop", "go"), self.own_words(grid.STOP))
            self._at[kind] = total
        return self._at[kind]
