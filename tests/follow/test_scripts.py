"""Our own scripts, followed with the plan as gold has it: what was done is found, and found on time."""

from __future__ import annotations

import json
from functools import cache, lru_cache
from pathlib import Path

import pytest

from parser import load_lexicon
from parser.build import build_plan
from parser.checks import RULES, Case
from parser.follow import follow
from parser.hear import hear
from parser.mentions import Layout
from parser.read import read_bytes

from ..captions import WRITERS
from ..scoring import NEAR_S
from ..talks import read_script
from .truth import plan_of

GOLD = Path(__file__).resolve().parents[1] / "gold"
SCRIPTS = sorted(p.stem for p in GOLD.glob("*.talk") if read_script(p).delivered)
REHEARSALS = sorted(p.stem for p in GOLD.glob("*.talk") if not read_script(p).delivered)
# Stated above what is asked for (0.95, 0.92 and 0.85): so much was reached when it was written.
LEAST_F1 = {"vtt": 0.98, "srt": 0.97, "md": 0.90}
CLOCK = {"work-off", "rest-off", "round-rest-off", "countdown-off", "round-missing", "movement-skipped", "recording-ends-early"}
LEAST_RECALL = {"vtt": 0.9, "srt": 0.9, "md": 0.6}


@lru_cache(maxsize=1)
def _lexicon():
    return load_lexicon()


@cache
def followed(script: str, shape: str):
    """``(gold, the script, heard, plan, layout, delivered)``."""
    done = read_script(GOLD / f"{script}.talk")
    gold = json.loads((GOLD / f"{script}.gold.json").read_text(encoding="utf-8"))
    talk = read_bytes(WRITERS[shape](done.words).encode(), name=f"{script}.{shape}")
    heard = hear(talk, _lexicon())
    plan = plan_of(gold)
    layout = _layout(heard, plan)
    return gold, done, heard, plan, layout, follow(heard, plan, layout)


def _layout(heard, plan) -> Layout:
    """Where each movement was shown, as building finds it; nothing where it does not find all of them."""
    layout = build_plan(heard, _lexicon().same)[1]
    sizes = [[len(b.movements) for b in plan.blocks if b.kind == "main"], [len(s.items) for s in layout.stretches if s.kind == "main"]]
    return layout if sizes[0] == sizes[1] and len(plan.blocks) == len(layout.stretches) else Layout(())


def agreement(done, intervals, near: float) -> tuple[int, int, int]:
    """``(found, missed, extra)``."""
    left = list(intervals)
    found = 0
    for want in done:
        hit = next((i for i in left if (i.kind, i.block, i.round) == (want.kind, want.block, want.round)
                    and (want.kind == "round_rest" or i.number == want.number)
                    and abs(i.start - want.start) <= near and abs(i.end - want.end) <= near), None)
        if hit is not None:
            left.remove(hit)
            found += 1
    return found, len(done) - found, sum(i.kind != "block_rest" for i in left)


@pytest.mark.parametrize("shape", LEAST_F1)
def test_what_was_done_is_found(shape):
    total = [0, 0, 0]
    for script in SCRIPTS:
        _, done, heard, _, _, delivered = followed(script, shape)
        for k, n in enumerate(agreement(done.delivered, delivered.intervals, NEAR_S[heard.words.talk.resolution])):
            total[k] += n
    found, missed, extra = total
    assert 2 * found / (2 * found + missed + extra) >= LEAST_F1[shape], total


@pytest.mark.parametrize("shape", LEAST_F1)
@pytest.mark.parametrize("script", REHEARSALS)
def test_a_rehearsal_delivers_nothing(script, shape):
    assert followed(script, shape)[-1].intervals == ()


@pytest.mark.parametrize("shape", LEAST_F1)
def test_planted_faults_of_the_clock_are_found_and_no_others(shape):
    planted, missed, raised = 0, [], []
    for script in SCRIPTS:
        gold, _, heard, plan, layout, delivered = followed(script, shape)
        case = Case(plan, layout, heard, _lexicon().same, followed=delivered)
        left = [f for rule in RULES if rule.code in CLOCK for f in rule.check(case)]
        near = 25.0 if shape == "md" else 8.0
        for want in (f for f in gold.get("findings") or [] if f["code"] in CLOCK):
            planted += 1
            low, high = want.get("at") or (-1e9, 1e9)
            hit = next((f for f in left if f.code == want["code"] and any(s.start <= high + near and s.end >= low - near for s in f.said)), None)
            if hit is None:
                missed.append((script, want["code"]))
            else:
                left.remove(hit)
        raised += [(script, f.code, f.message) for f in left]
    assert raised == []
    assert 1 - len(missed) / planted >= LEAST_RECALL[shape], missed


@pytest.mark.parametrize("script", SCRIPTS)
def test_intervals_follow_each_other_inside_the_recording(script):
    _, _, heard, _, _, delivered = followed(script, "srt")
    rows = delivered.intervals
    assert all(i.start < i.end for i in rows)
    assert all(a.end <= b.start for a, b in zip(rows, rows[1:]))
    assert all(i.uncertainty_s > 0 for i in rows)
    assert rows[-1].end <= heard.words.talk.duration_s + 5
