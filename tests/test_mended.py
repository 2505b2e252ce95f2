"""Marks of known misses come off where they should, and nothing else changes."""

from __future__ import annotations

import pytest

from .mended import unmarked

TEXT = """say = [
  {say = "as \\"one\\" does", known_miss = true},
  "two",
  {say = "three", known_miss = true},
]
"""


def test_only_what_is_mended_loses_its_mark():
    assert unmarked(TEXT, [True, False]) == TEXT.replace('{say = "as \\"one\\" does", known_miss = true}', '"as \\"one\\" does"')
    assert unmarked(TEXT, [False, False]) == TEXT


def test_a_mark_written_otherwise_is_told():
    with pytest.raises(ValueError, match="write a mark"):
        unmarked(TEXT.replace("known_miss = true", "known_miss=true", 1), [True, False])
