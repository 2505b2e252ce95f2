"""How far long work is: a bar on a terminal, plain lines elsewhere."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from .output import print_text
from .render.clean import clean

if TYPE_CHECKING:
    from .keeping import Done


KEPT = "What was told of is done; the same call goes on from there."


class Progress:
    """Tells of each thing as it is done. ``with`` draws the bar, where standard output is a terminal, and takes it away at the end.

    ``left`` says what work that is broken off leaves.
    """

    def __init__(self, total: int | None, complain: Callable[[object], None], *, left: str = KEPT) -> None:
        self.total = total
        self.left = left
        self.done = 0
        self.exit_code = 0
        self._complain = complain
        self._bar: Any = None

    def __enter__(self) -> Progress:
        if sys.stdout.isatty() and os.environ.get("TERM") != "dumb" and self.total != 1:
            from rich.console import Console
            from rich.progress import BarColumn, MofNCompleteColumn, TimeRemainingColumn
            from rich.progress import Progress as Bar

            console = Console(markup=False, emoji=False, highlight=False)
            self._bar = Bar(BarColumn(), MofNCompleteColumn(), TimeRemainingColumn(), console=console, transient=True)
            self._bar.add_task("", total=self.total)
            self._bar.start()
        return self

    def __exit__(self, kind: type[BaseException] | None, *_: object) -> None:
        if self._bar is not None:
            self._bar.stop()
        if kind is KeyboardInterrupt:
            self._complain(f"Broken off after {self.done} of {self.total or 'all'}. {self.left}")

    def step(self, said: str) -> None:
        """One thing more, of which only plain lines tell."""
        self._advance()
        if self._bar is None:
            print_text(f"{clean(said)}\n")

    def _advance(self) -> None:
        self.done += 1
        if self._bar is not None:
            self._bar.advance(self._bar.task_ids[0])

    def tell(self, done: Done) -> None:
        self._advance()
        if done.complaint is not None:
            self.exit_code = max(self.exit_code, done.complaint.exit_code)
            self._complain(done.complaint)
        else:
            print_text(f"{clean(done.said)}\n")
