"""Checking: rules over plan, mentions and delivery. A rule is data and one pure function; it says nothing unless it is sure.

``RULES`` is the ordered tuple of all rules: where two could speak of one event, the earlier has the word.
"""

from __future__ import annotations

from ..model import Finding
from . import (
    caution_missing,
    cool_down_missing,
    count_mismatch,
    countdown_off,
    equipment_unannounced,
    equipment_unused,
    focus_mismatch,
    length_mismatch,
    limb_mismatch,
    movement_skipped,
    movement_unknown,
    name_changed,
    number_missing,
    number_misstated,
    option_missing,
    order_changed,
    recording_ends_early,
    rest_off,
    round_missing,
    round_rest_off,
    side_contradiction,
    side_missing,
    side_uneven,
    slip_corrected,
    split_mismatch,
    timing_contradiction,
    transition_tight,
    warm_up_missing,
    warm_up_unrelated,
    work_off,
)
from .rule import Case, Rule, rule_of

RULES: tuple[Rule, ...] = tuple(rule_of(m) for m in (
    slip_corrected,
    number_misstated,
    number_missing,
    count_mismatch,
    order_changed,
    name_changed,
    movement_unknown,
    timing_contradiction,
    split_mismatch,
    length_mismatch,
    side_contradiction,
    limb_mismatch,
    side_missing,
    side_uneven,
    work_off,
    rest_off,
    round_rest_off,
    countdown_off,
    round_missing,
    movement_skipped,
    recording_ends_early,
    option_missing,
    equipment_unannounced,
    equipment_unused,
    transition_tight,
    focus_mismatch,
    warm_up_missing,
    warm_up_unrelated,
    cool_down_missing,
    caution_missing,
))

_ORDER = {"error": 0, "warning": 1, "note": 2}


CLOCK = frozenset({"work-off", "rest-off", "round-rest-off", "countdown-off", "round-missing", "movement-skipped", "recording-ends-early"})
"""The rules that hold the recording's clock against the plan."""


def audit_case(case: Case, *, clock: Case | None = None) -> list[Finding]:
    """Every finding, worst first, then in the order of the talk. ``case.strict`` raises what is not put right to a warning.

    ``clock`` is the case that the rules of the clock look at, where it is another: the recording against a plan meant for it.
    """
    found = [f for rule in RULES for f in rule.check(clock if clock is not None and rule.code in CLOCK else case)]
    if case.strict:
        found = [f.model_copy(update={"severity": "warning"}) if f.severity == "note" and not f.corrected else f for f in found]
    return sorted(found, key=lambda f: (_ORDER[f.severity], f.said[0].chars[0] if f.said else 0))


__all__ = ["CLOCK", "RULES", "Case", "Rule", "audit_case"]
