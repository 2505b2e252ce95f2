"""A plan that was written out as JSON, and maybe changed by hand since, read again."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence

from pydantic import ValidationError

from .errors import UnreadableInput
from .model import Plan, TalkThrough

_MOST = 1_000_000
"""Seconds, rounds or repetitions: no class has more (a million seconds are eleven days)."""
_HOW = "`planaloud schema plan` says what may stand there."


def plan_or_talk(data: bytes, name: str, read: Callable[..., TalkThrough]) -> Plan | TalkThrough:
    """The plan in ``data`` where it is one as ``planaloud plan --format json`` writes it, else what ``read`` makes of it.

    Raises UnreadableInput, for a plan with the field that is wrong.
    """
    tree = _tree(data)
    if isinstance(tree, list) and tree and all(_is_ours(one) for one in tree):
        raise UnreadableInput(f"{name} holds {len(tree)} documents in one array. Give each plan a file of its own.")
    if isinstance(tree, dict) and _is_ours(tree):
        return _plan(tree, name)
    del tree        # a transcript may be as large as memory allows; reading makes a tree of its own
    return read(data, name=name)


def _tree(data: bytes) -> object:
    try:
        return json.loads(data)
    except (ValueError, RecursionError):
        return None


def _is_ours(tree: object) -> bool:
    return isinstance(tree, dict) and "schema_version" in tree


def _plan(tree: dict[str, object], name: str) -> Plan:
    if "findings" in tree:
        raise UnreadableInput(f"{name} is a report. Give the plan, as `planaloud plan --format json` writes it.")
    try:
        plan = Plan.model_validate(tree)
    except ValidationError as exc:
        wrong = exc.errors()[0]
        raise UnreadableInput(f"{name} is no plan as it should be: {_field(tree, wrong['loc'])}: {wrong['msg']}. {_HOW}") from exc
    for field, number in _numbers(plan.model_dump(exclude={"source"}), ""):
        if not 0 <= number <= _MOST:
            raise UnreadableInput(f"{name} is no plan as it should be: {field}: {number:g} is less or more than a class can have. {_HOW}")
    return plan


def _field(tree: object, path: Sequence[str | int]) -> str:
    """``path`` as far as it leads through the document; what follows names kinds that were tried."""
    found = []
    for step in path:
        if not isinstance(tree, dict if isinstance(step, str) else list):
            break
        found.append(str(step))
        if isinstance(tree, list) and isinstance(step, int):
            tree = tree[step] if step < len(tree) else None
        else:
            tree = tree.get(step) if isinstance(tree, dict) else None
    return ".".join(found) or "the document"


def _numbers(node: object, path: str) -> Iterator[tuple[str, float]]:
    """Every number that is no place in a text, with where it stands."""
    if isinstance(node, dict):
        for key, value in node.items():
            if key != "sources":
                yield from _numbers(value, f"{path}.{key}" if path else key)
    elif isinstance(node, (list, tuple)):
        for place, value in enumerate(node):
            yield from _numbers(value, f"{path}.{place}")
    elif isinstance(node, (int, float)) and not isinstance(node, bool):
        yield path, node
