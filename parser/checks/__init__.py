"""Checking: rules over plan, mentions and delivery. A rule is data and one pure function; it says nothing unless it is sure.

``RULES`` is the ordered tuple of all rules: where two could speak of one event, the earlier has the word.
"""

from __future__ import annotations

from ..model import Finding
from . import slip_corrected
from .rule import Case, Rule, rule_of

RULES: tuple[Rule, ...] = tuple(rule_of(m) for m in (
    slip_corrected,
))

_ORDER = {"error": 0, "warning": 1, "note": 2}


def audit_case(case: Case) -> list[Finding]:
    """Every finding, worst first, then in the order of the talk."""
    found = [f for rule in RULES for f in rule.check(case)]
    return sorted(found, key=lambda f: (_ORDER[f.severity], f.said[0].chars[0] if f.said else 0))


__all__ = ["RULES", "Case", "Rule", "audit_case"]
