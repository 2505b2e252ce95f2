"""The time axis of a recording: spans of seconds as densities over its steps, and what they say as log odds."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property
from itertools import repeat
from math import log1p

import numpy as np

from .weights import Floats, Steps, weights

Span = tuple[float, float]
Box = tuple[int, int]
"""The first step of a span, and the one after its last."""
_SHARP_S, _MIDDLE = 1.0, 1.1
_NEVER: Steps = np.arange(0)


def joined(boxes: Iterable[Box]) -> list[Box]:
    """``boxes`` in order, those that meet as one."""
    out: list[Box] = []
    for first, end in sorted(boxes):
        if out and first <= out[-1][1]:
            out[-1] = out[-1][0], max(out[-1][1], end)
        else:
            out.append((first, end))
    return out


class Axis:
    """``steps`` steps of ``dt`` seconds."""

    def __init__(self, dt: float, steps: int) -> None:
        self.dt, self.steps = dt, steps

    @cached_property
    def scratch(self) -> Floats:
        """To add up in; nothing but zeros otherwise. Made when first needed: of a stamp gone wrong the axis may be too long to have."""
        return np.zeros(self.steps)

    def box(self, low: float, high: float) -> Box:
        """The first step of a span of seconds, and the one after its last: at least one step, on the axis."""
        first, end = round(low / self.dt), round(high / self.dt) + 1
        if first < 0:
            first = 0
        elif first >= self.steps:
            first = self.steps - 1
        return first, min(end if end > first else first + 1, self.steps)

    def density(self, spans: Sequence[Span], shares: Sequence[float] | None = None) -> tuple[Steps, Floats]:
        """The steps of which any of ``spans`` tells, and the sum of one box for each span there, of area 1 or its share: most of a talk says
        nothing of any one thing."""
        total = self.scratch
        boxes, middles = [], []
        for (low, high), area in zip(spans, shares or repeat(1.0)):
            first, end = self.box(low, high)
            total[first:end] += area / ((end - first) * self.dt)
            boxes.append((first, end))
            # of a few steps that are alike the middle one: an edge is not early by rounding
            if high - low < _SHARP_S and 0 <= (middle := round((low + high) / 2 / self.dt)) < self.steps:
                middles.append(middle)
        for middle in middles:
            total[middle] *= _MIDDLE
        said = np.concatenate([np.arange(first, end) for first, end in joined(boxes)]) if boxes else _NEVER
        density = total[said]
        total[said] = 0.0
        return said, density

    def odds(self, weight: float, spans: Sequence[Span], shares: Sequence[float] | None = None) -> Floats:
        """Log odds: ``weight`` times the density, and one."""
        said, density = self.density(spans, shares)
        total = np.zeros(self.steps)
        total[said] = np.log1p(weight * density)
        return total

    def sum_of_odds(self, weight: float, spans: Sequence[Span]) -> Floats:
        """Log odds where every span is a statement of its own: several that agree say more than one."""
        total = np.zeros(self.steps)
        for low, high in spans:
            first, end = self.box(low, high)
            total[first:end] += log1p(weight / ((end - first) * self.dt))
        return np.minimum(total, weights()["when"]["most_nats"])
