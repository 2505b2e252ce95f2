"""The plan and the report as JSON, and the JSON Schema that they follow."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import TYPE_CHECKING

from .clean import escape_in_json
from .look import Look

if TYPE_CHECKING:
    from ..model import Plan, Report

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def document(value: object) -> str:
    """``value`` as JSON, laid out for reading, with nothing in it that could move a cursor."""
    return escape_in_json(json.dumps(value, ensure_ascii=False, indent=2)) + "\n"


def one(made: Plan | Report, look: Look) -> str:
    return document(made.model_dump(mode="json"))


def together(documents: Sequence[Plan | Report], look: Look) -> str:
    """Several files as one array, in the order of the call."""
    return document([d.model_dump(mode="json") for d in documents])


def plan_schema() -> str:
    from ..model import Plan

    return schema(Plan)


def report_schema() -> str:
    from ..model import Report

    return schema(Report)


def schema(model: type[Plan] | type[Report]) -> str:
    """JSON Schema of what ``one`` writes, definitions and all in one document."""
    found = model.model_json_schema(mode="serialization")
    return document({"$schema": DIALECT, **found})
