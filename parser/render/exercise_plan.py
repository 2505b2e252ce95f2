"""The plan as linked data: JSON-LD (W3C) in the words of schema.org, an ExercisePlan of ExercisePlans.

Properties as https://schema.org/ExercisePlan lists them, with those it has from CreativeWork and PhysicalActivity; what has no property
of its own stands in additionalVariable, as that page suggests. Lengths of time are ISO 8601 durations, ranges QuantitativeValues.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from ..model import Amount, Block, Movement, Plan
from .as_json import document
from .brief import brief, title
from .clean import clean
from .look import Look
from .sheet import have_ready, heading
from .wording import asides, dose_and_sides, format_line, option_label, time_amount

CONTEXT = "https://schema.org"
_CATEGORY = {"cardio": "AerobicActivity", "resistance": "StrengthTraining", "balance": "Balance", "flexibility": "Flexibility"}
"""Members of schema.org's PhysicalActivityCategory; the other kinds of focus have none there."""
_SECONDS = "SEC"
"""UN/CEFACT Recommendation 20, the code of the second."""

Node = dict[str, Any]


def one(plan: Plan, look: Look) -> str:
    return document({"@context": CONTEXT, **_plan(plan)})


def together(plans: Sequence[Plan], look: Look) -> str:
    return document({"@context": CONTEXT, "@graph": [_plan(plan) for plan in plans]})


def _plan(plan: Plan) -> Node:
    return _node(
        name=title(plan),
        description="\n".join(brief(plan)),
        exerciseType=list(plan.focus),
        category=[f"https://schema.org/{_CATEGORY[f]}" for f in plan.focus if f in _CATEGORY],
        activityDuration=_total(plan),
        additionalVariable=[f"have ready: {clean(have_ready(item))}" for item in plan.equipment],
        hasPart=[_block(block, heading(plan, place), place + 1) for place, block in enumerate(plan.blocks)],
    )


def _block(block: Block, name: str, place: int) -> Node:
    rests = [time_amount(block.rest_s) and f"{time_amount(block.rest_s)} rest",
             time_amount(block.round_rest_s) and f"{time_amount(block.round_rest_s)} between rounds"]
    return _node(
        name=name,
        position=place,
        description=format_line(block),
        activityDuration=_time(block.duration_s),
        repetitions=_amount(block.rounds),
        restPeriods=", ".join(filter(None, rests)),
        additionalVariable=asides(block),
        hasPart=[_movement(movement, block) for movement in block.movements],
    )


def _movement(movement: Movement, block: Block) -> Node:
    detail = dose_and_sides(movement)
    options = [clean(f"{option_label(o, movement)}: {o.text}") for o in movement.options]
    return _node(
        name=clean(movement.name),
        position=movement.number,
        activityDuration=_time(movement.dose.seconds if movement.dose.seconds is not None else block.work_s),
        repetitions=_amount(movement.dose.reps),
        additionalVariable=[*([clean(detail)] if detail else []), *options],
    )


def _node(**properties: Any) -> Node:
    """What nobody said is left out; one value stands alone, several in a list."""
    given = {key: value for key, value in properties.items() if value not in (None, "", [])}
    return {"@type": "ExercisePlan", **{k: v[0] if isinstance(v, list) and len(v) == 1 else v for k, v in given.items()}}


def _total(plan: Plan) -> Any:
    low, high = plan.totals.class_s
    if low is None and high is None:
        return None
    return duration(low) if low is not None and low == high else _range(low, high, unitCode=_SECONDS)


def _time(amount: Amount) -> Any:
    return _either(amount, duration, unitCode=_SECONDS)


def _amount(amount: Amount) -> Any:
    return _either(amount, _number)


def _either(amount: Amount, written: Callable[[float], Any], **unit: str) -> Any:
    if amount is None:
        return None
    return _range(*amount, **unit) if isinstance(amount, tuple) else written(amount)


def _range(low: float | None, high: float | None, /, **unit: str) -> Node:
    ends = {"minValue": low, "maxValue": high}
    return {"@type": "QuantitativeValue", **{k: _number(v) for k, v in ends.items() if v is not None}, **unit}


def _number(value: float) -> int | float:
    return int(value) if value == int(value) else value


def duration(seconds: float) -> str:
    """ISO 8601: ``PT1H2M30S``, ``PT45S``, ``PT0S``."""
    hours, rest = divmod(round(seconds, 3), 3600)
    minutes, rest = divmod(rest, 60)
    pieces = [(hours, "H"), (minutes, "M"), (round(rest, 3), "S")]
    return "PT" + ("".join(f"{value:g}{unit}" for value, unit in pieces if value) or "0S")
