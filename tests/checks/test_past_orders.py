"""Numbers that run on over what has none and is an order: "number four, the row. Hinge over"."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from parser.checks import count_mismatch


def items(labels, verbal):
    """Movements with these numbers (``0``: none); those at the places ``verbal`` are words for what one does."""
    return [SimpleNamespace(mention=SimpleNamespace(label=label or None, match=SimpleNamespace(verbal=n in verbal))) for n, label in enumerate(labels)]


@pytest.mark.parametrize(("code", "labels", "verbal", "past"), [
    ("count-mismatch", [1, 2, 0, 3], [2], True),
    ("count-mismatch", [1, 0, 2, 0, 3], [1, 3], True),
    ("count-mismatch", [1, 2, 0, 3], [], False),            # a movement without a number
    ("count-mismatch", [1, 0, 2, 0, 3], [1], False),
    ("count-mismatch", [1, 2, 3, 0], [3], False),           # what comes last may be one
    ("count-mismatch", [1, 0, 2], [1], False),              # two numbers are no count
    ("count-mismatch", [1, 2, 0, 4], [2], False),           # its number is left out: it is one
    ("count-mismatch", [2, 3, 0, 4], [2], False),
    ("count-mismatch", [1, 2, 3], [], False),
])
def test_numbers_that_run_past_orders(code, labels, verbal, past):
    assert count_mismatch.CODE == code
    assert count_mismatch._numbered_past_orders(items(labels, verbal)) == past


@pytest.mark.parametrize(("code", "count", "found"), [("count-mismatch", "Four", ["3"]), ("count-mismatch", "Three", []), ("count-mismatch", "Two", ["3"])])
def test_an_order_is_not_counted(code, count, found, case_of, monkeypatch):
    case = case_of(f"[0:00] {count} moves tonight, forty on, twenty off.\n[0:10] Number one, goblet squats. Bell at the chest.\n"
                   "[0:20] Number two, push-ups. Hands wide.\n[0:30] Then we've got burpees. Jump in.\n[0:40] Number three, glute bridges. Heels close.\n")
    monkeypatch.setattr(count_mismatch, "_numbered_past_orders", lambda group: True)
    assert [f.expected for f in count_mismatch.check(case)] == found
