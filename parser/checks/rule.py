"""What a rule is, and what it looks at."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from dataclasses import dataclass, field
from types import ModuleType
from typing import TYPE_CHECKING, Any, TypeVar

from ..delivery import NOTHING, Delivered
from ..kinds import Severity
from ..mentions import Heard, Layout, Stretch
from ..model import Block, Finding, Plan, Source

if TYPE_CHECKING:
    from ..mentions import Match, Verdict

Found = TypeVar("Found")


@dataclass(frozen=True, slots=True)
class Case:
    """One class under audit: the plan, what it was built from, and what was delivered."""

    plan: Plan
    layout: Layout
    heard: Heard
    same: Callable[[Match, Match], Verdict]
    """Whether two lexicon matches name one movement."""
    followed: Delivered = NOTHING
    """What was done, and when."""
    strict: bool = False
    _found: dict[str, Any] = field(default_factory=dict, repr=False, compare=False)

    def once(self, what: str, look: Callable[[], Found]) -> Found:
        """What ``look`` finds, which several rules ask for: found for the first of them."""
        if what not in self._found:
            self._found[what] = look()
        found: Found = self._found[what]
        return found

    def source(self, span: tuple[int, int]) -> Source:
        return self.heard.words.source(*span)

    def mains(self) -> list[tuple[int, Block, Stretch]]:
        """``(number, block of the plan, stretch)`` of each main block, counted from 1."""
        pairs = [(b, s) for b, s in zip(self.plan.blocks, self.layout.stretches) if b.kind == "main"]
        return [(n, b, s) for n, (b, s) in enumerate(pairs, 1)]


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule: its code, how grave a finding is, its page, talk that breaks it and talk that does not."""

    code: str
    severity: Severity
    check: Callable[[Case], list[Finding]]
    doc: str
    bad: tuple[str, ...]
    good: tuple[str, ...]


def rule_of(module: ModuleType) -> Rule:
    """The rule that ``module`` holds: CODE, SEVERITY, BAD, GOOD, check() and the docstring as its page."""
    return Rule(module.CODE, module.SEVERITY, module.check, inspect.cleandoc(module.__doc__ or ""), module.BAD, module.GOOD)
