"""What was weighed before holds only where nothing around it is another."""

from __future__ import annotations

import pytest

import parser.hear as hearing
from lexicon import load
from parser.read import read_bytes

from ..accuracy import FOLDER, scripts
from ..captions import WRITERS
from ..noise import mishear
from ..talks import read_script


@pytest.mark.parametrize("shape", ["md", "vtt"])
def test_what_is_kept_from_a_first_look_is_what_a_second_would_find(shape, monkeypatch):
    looks, find = [], hearing.find_movements

    def both(words, matches, *, weighed, **given):
        afresh = find(words, matches, weighed={}, **given)
        kept = dict(weighed)
        found = find(words, matches, weighed=weighed, **given)
        assert found == afresh
        looks.append((len(kept), sum(kept.get(start) is not now for start, now in weighed.items())))
        return found

    monkeypatch.setattr(hearing, "find_movements", both)
    for script in scripts():
        words = mishear(read_script(FOLDER / f"{script}.talk").words, rate=0.3)
        hearing.hear(read_bytes(WRITERS[shape](words).encode(), name=f"talk.{shape}"), load())
    again = [(kept, weighed) for kept, weighed in looks if kept]
    assert len(again) > 1 and any(weighed for _, weighed in again), "there was nothing to weigh again"
    assert sum(weighed for _, weighed in again) < 0.5 * sum(kept for kept, _ in again), "nothing was kept"
