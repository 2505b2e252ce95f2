"""How a finding of the clock is worded, to the number: what the other tests let pass."""

import pytest

from parser.checks import RULES
from parser.pipeline import audit
from parser.read import read_bytes


@pytest.mark.parametrize(("code", "message", "expected"), [
    ("work-off", "Round 2, movement 1 (goblet squat): work of 28 s instead of 40 s, from 3:40.", "40 s"),
    ("round-missing", "Round 3 is announced and not done: 2 of 3.", "3 rounds"),
    ("recording-ends-early", "The recording ends at 4:20 with round 2, movement 2 still to come.", None),
])
def test_the_message_names_place_and_numbers(code, message, expected):
    bad = next(rule.bad[0] for rule in RULES if rule.code == code)
    found = [f for f in audit(read_bytes(bad.encode(), name="bad.md")).findings if f.code == code]
    assert [(f.message, f.expected) for f in found] == [(message, expected)]
