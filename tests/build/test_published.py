"""Class lengths against published values and plain arithmetic. The source stands beside each."""

from __future__ import annotations

import pytest

from parser import load_lexicon
from parser.build.totals import block_length, totals
from parser.model import Block, Dose, Movement, Part, Sides
from parser.pipeline import plan
from parser.read import read_bytes


def movements(n: int, **fields) -> list[Movement]:
    return [Movement(number=k, name="squat", parts=[Part(name="squat", base="squat")], said="squat", **fields) for k in range(1, n + 1)]


def interval(n: int, work, rest, rounds, round_rest=None) -> Block:
    return Block(kind="main", format="interval", movements=movements(n), work_s=work, rest_s=rest, rounds=rounds, round_rest_s=round_rest)


PUBLISHED = [
    # Tabata et al. 1996, Med Sci Sports Exerc 28(10):1327-1330, DOI 10.1097/00005768-199610000-00018: 7 to 8 bouts of 20 s, 10 s
    # between. 230 s, 240 s with the last rest, which counts in neither end (arithmetic ours; found second-hand).
    ("eight bouts of 20/10", interval(1, 20, 10, 8), (230, 230)),
    ("seven bouts of 20/10", interval(1, 20, 10, 7), (200, 200)),
    # ... and as two movements that take turns: four rounds of two (arithmetic ours)
    ("two movements taking turns", interval(2, 20, 10, 4), (230, 230)),
    # Klika & Jordan 2013, ACSM's Health & Fitness Journal 17(3):8-13: twelve movements, 30 s each, 10 s between (the 30/10 found
    # second-hand): 470 s, although called seven minutes
    ("twelve movements, 30/10", interval(12, 30, 10, 1), (470, 470)),
    # arithmetic: 12 x (25 + 10) is 420 s, 410 s without the last rest
    ("twelve movements, 25/10", interval(12, 25, 10, 1), (410, 410)),
    # common practice, no source; arithmetic: the round rest in place of the short rest, or after it
    ("four movements, 40/20, four rounds, a minute between", interval(4, 40, 20, 4, 60), (1060, 1120)),
    ("five movements, 45/15, three rounds, 90 s between", interval(5, 45, 15, 3, 90), (1035, 1065)),
    # common practice, no source: the running clock, a round ends 2:05, rest 1:00, the next starts 3:05
    ("two rounds of 125 s, a minute between", interval(1, 125, 60, 2), (310, 310)),
    # arithmetic: called thirty minutes, it is five times four minutes and a minute off: 25:00 with the last rest, 24:00 without
    ("five times four minutes", interval(1, 240, 60, 5), (1440, 1440)),
]


@pytest.mark.parametrize("name, block, expected", PUBLISHED, ids=[p[0] for p in PUBLISHED])
def test_the_length_of_a_published_block(name, block, expected):
    assert block_length(block) == expected


def test_every_minute_five_stations_six_rounds_is_half_an_hour():
    """Common practice, no source; arithmetic: 5 x 6 minutes are 30:00."""
    block = Block(kind="main", format="emom", movements=movements(5), interval_s=60.0, rounds=6)
    assert block_length(block) == (1800, 1800)


def test_what_is_done_each_side_counts_twice():
    """Arithmetic: 46 s on each side are 92 s."""
    block = Block(kind="cool_down", movements=movements(1, sides=Sides(mode="each", seconds_each=46), dose=Dose(seconds=46)))
    assert totals([block]).cool_down_s == (92, 92)


SAID = [
    # the same published circuits, as somebody would say them
    ("Twelve moves, thirty seconds each with ten seconds between. Once through.", 30, 10, 1),
    ("Forty on, twenty off, four rounds, a minute between the rounds.", 40, 20, 4),
    ("It's twenty seconds of work, ten seconds of rest. Eight rounds.", 20, 10, 8),
]


@pytest.mark.parametrize("said, work, rest, rounds", SAID)
def test_a_circuit_as_said_has_the_published_clock(said, work, rest, rounds):
    talk = read_bytes(f"[0:00] Hello all. {said}\n[0:20] Number one, squats. Number two, push-ups. Number three, lunges.\n".encode(), name="said")
    main = [b for b in plan(talk, lexicon=load_lexicon()).blocks if b.kind == "main"]
    assert [(b.work_s, b.rest_s, b.rounds) for b in main] == [(work, rest, rounds)]


def test_one_repetition_of_the_four_count_rear_lunge_is_both_sides():
    """US Army FM 7-22 (October 2012), p. 6-77: count 1 left back, 2 return, 3 right back, 4 return: one repetition, both sides."""
    found = load_lexicon().find("four-count rear lunge")
    assert found is not None and found.sides == "both"
