"""The plan and the report as JSON, and the JSON Schema that they follow."""

from __future__ import annotations

import json
from collections.abc import Sequence

from ..model import Plan, Report
from .clean import escape_in_json
from .look import Look

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def _document(value: object) -> str:
    return escape_in_json(json.dumps(value, ensure_ascii=False, indent=2)) + "\n"


def one(document: Plan | Report, look: Look) -> str:
    return _document(document.model_dump(mode="json"))


def together(named: Sequence[tuple[str, str]], look: Look) -> str:
    """Several files as one array, in the order of the call."""
    return _document([json.loads(text) for _, text in named])


def schema(model: type[Plan] | type[Report]) -> str:
    """JSON Schema of what ``one`` writes, definitions and all in one document."""
    found = model.model_json_schema(mode="serialization")
    return _document({"$schema": DIALECT, **found})
