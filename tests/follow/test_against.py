"""A recording against the plan that was meant: a written one, or that of a rehearsal."""

from __future__ import annotations

import pytest

from parser import audit, load_lexicon, make_plan
from parser.read import read_bytes
from parser.written import plan_or_talk

REHEARSED = (
    "[0:00] Two moves, forty five seconds on, twenty seconds off, two rounds, and a minute between the rounds.\n"
    "[0:10] Number one, goblet squats. Bell at the chest.\n[0:20] Number two, push-ups. Hands wide.\n"
)
LED = (
    "[0:00] Two moves, forty seconds on, twenty seconds off, two rounds, and a minute between the rounds.\n"
    "[0:10] Number one, goblet squats. Bell at the chest.\n[0:20] Number two, glute bridges. Heels close.\n[0:57] Three, two, one.\n"
    "[1:00] Go! Goblet squats.\n[1:40] And rest. Bridges next.\n[2:00] Go! Glute bridges.\n[2:40] And rest. That's round one.\n"
    "[3:40] Go! Goblet squats, round two.\n[4:20] And rest. Bridges next.\n[4:40] Go! Glute bridges.\n[5:20] And rest. Well done.\n"
    "[5:50] Let's cool down. Quad stretch, thirty seconds each leg.\n[6:50] See you next week. Bye now.\n"
)


@pytest.fixture(scope="module")
def lexicon():
    return load_lexicon()


def read(talk: str):
    return read_bytes(talk.encode(), name="talk.txt")


def test_what_the_recording_says_otherwise_is_told_and_planned_is_what_was_meant(lexicon):
    meant = make_plan(read(REHEARSED), lexicon=lexicon)
    report = audit(read(LED), lexicon=lexicon, against=meant)
    found = {(f.code, f.expected) for f in report.findings if f.severity == "warning"}
    assert ("timing-contradiction", "45 s") in found and ("name-changed", "push-up") in found
    works = [i for i in report.delivered if i.kind == "work"]
    assert [(i.planned_s, round(i.end - i.start)) for i in works] == [(45.0, 40)] * 4


def test_against_its_own_plan_nothing_is_different(lexicon):
    report = audit(read(LED), lexicon=lexicon, against=make_plan(read(LED), lexicon=lexicon))
    assert [f for f in report.findings if f.severity != "note"] == []
    assert len(report.delivered) == 7


def test_what_was_meant_is_read_from_a_plan_or_from_a_rehearsal(lexicon):
    plan = make_plan(read(REHEARSED), lexicon=lexicon)
    assert plan_or_talk(plan.model_dump_json().encode(), "meant.json", read_bytes) == plan
    talk = plan_or_talk(REHEARSED.encode(), "rehearsal.txt", read_bytes)
    assert make_plan(talk, lexicon=lexicon).blocks == plan.blocks
