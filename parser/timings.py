"""Where the time of a call goes, step by step."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext

Timed = Callable[[str], AbstractContextManager[None]]
"""``with timed("hear"): …`` takes the time of one step."""


def untimed(step: str) -> AbstractContextManager[None]:
    """For a call that nobody takes the time of."""
    return nullcontext()


class Stopwatch:
    """Seconds of each step, in the order in which the steps first came; several goes at a step are added up."""

    def __init__(self) -> None:
        self.seconds: dict[str, float] = {}
        self._began = time.perf_counter()

    @contextmanager
    def __call__(self, step: str) -> Iterator[None]:
        began = time.perf_counter()
        try:
            yield
        finally:
            self.seconds[step] = self.seconds.get(step, 0.0) + time.perf_counter() - began

    def lines(self) -> list[str]:
        """``hear     120 ms``, a line a step; what no step had, and the whole, at the end."""
        whole = time.perf_counter() - self._began
        rows = [*self.seconds.items(), ("the rest", max(0.0, whole - sum(self.seconds.values()))), ("in all", whole)]
        return [f"{step:<9}{1000 * seconds:7.0f} ms" for step, seconds in rows]
