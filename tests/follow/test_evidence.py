"""What the words say about edges, array by array: one word at a known second, and the odds that it gives to the moments around it."""

from __future__ import annotations

from math import log1p
from types import SimpleNamespace

import numpy as np
import pytest

from parser.follow.axis import joined
from parser.follow.evidence import Evidence
from parser.follow.grid import DONE, JOIN, START, STOP, SWITCH, TURN, Node
from parser.follow.names import _shared_out, stem
from parser.follow.weights import weights
from parser.mentions import Clause, Phrase, Quantity
from parser.model import Block, Movement, Part, Plan, PlanSource

HEARD, WHEN = weights()["heard"], weights()["when"]
DT = 0.5


def talk(said: str, *, edges=(), quantities=(), clauses=(), stamped=False, duration_s=60.0, quoted=(), pauses=None):
    """``said`` is ``second word second word …``, a full stop after the word that ends a sentence; edges are ``(role, word)``."""
    parts = said.split()
    tokens, stop = [], True
    for i, (second, word) in enumerate(zip(parts[::2], parts[1::2])):
        tokens.append(SimpleNamespace(i=i, norm=word.strip("."), t0=float(second), brk=2 if stop else 0, quoted=i in quoted, cue=0,
                                      pause=(pauses or {}).get(i, 0.0)))
        stop = word.endswith(".")
    words = SimpleNamespace(tokens=tokens, talk=SimpleNamespace(resolution="word", duration_s=duration_s), punctuated=True)
    return SimpleNamespace(words=words, edges=[Phrase(role, first, first + 1, "") for role, first in edges], quantities=list(quantities), clauses=list(clauses))


def number(first: int, value, *, role="left", kind="length", end=None) -> Quantity:
    return Quantity(role, value, kind, first, end or first + 1, (first, end or first + 1), "")


def plan(*blocks) -> Plan:
    blocks = [Block(kind="main", movements=[Movement(number=n, name=name, parts=[Part(name=name, base=name)], said=name, aliases=more)
                                            for n, (name, *more) in enumerate(moves, 1)]) for moves in blocks]
    return Plan(source=PlanSource(name="p", sha256="0" * 64, format="plan", resolution="none", duration_s=None, words=0), blocks=blocks)


def evidence(heard, meant=None, layout=None) -> Evidence:
    return Evidence(heard, meant or plan([("crab walk",)]), layout, dt=DT)


def where(values, least=1e-9) -> dict[float, float]:
    """``{second: value}`` where there is anything."""
    return {float(k * DT): round(float(values[k]), 6) for k in np.flatnonzero(np.abs(values) > least)}


def density(found: Evidence, spans, shares=None):
    """The density over the whole axis."""
    total = np.zeros(found.steps)
    said, values = found.axis.density(spans, shares)
    total[said] = values
    assert len(said) == len(set(said.tolist())) and not found.axis.scratch.any()
    return total


def odds(role: str, *, steps=1, share=1.0, middle=False) -> float:
    return round(log1p(HEARD[role] * share / (steps * DT) * (1.1 if middle else 1.0)), 6)


# ---- words


@pytest.mark.parametrize(("word", "expected"), [
    ("crawling", "crawl"), ("crawls", "crawl"), ("crawlers", "crawl"), ("crawler", "crawl"), ("lunges", "lung"), ("lunge", "lung"), ("squatting", "squat"),
    ("Squat", "squat"), ("'swings'", "swing"), ("bodies", "bodi"), ("body", "bod"), ("ring", "ring"), ("sing", "sing"), ("tees", "tee"), ("es", "es"),
    ("pees", "pee"), ("bee", "bee"), ("knee", "kne"), ("pull", "pul"), ("add", "add"),
])
def test_the_stem_of_a_word_is_what_all_its_forms_share(word, expected):
    assert stem(word) == expected


def test_a_stem_that_several_have_says_less_of_each():
    own = {1: {"squat", "goblet"}, 2: {"squat"}, 3: {"press", "row"}, 4: {"press"}, 5: {"press"}}
    assert _shared_out(own, 1.0, most=2) == {1: {"squat": 0.5, "goblet": 1.0}, 2: {"squat": 0.5}, 3: {"row": 1.0}, 4: {}, 5: {}}
    assert _shared_out(own, 0.6, most=1) == {1: {"goblet": 0.6}, 2: {}, 3: {"row": 0.6}, 4: {}, 5: {}}


# ---- boxes


def test_the_axis_reaches_from_the_beginning_to_the_end_of_the_recording_or_of_the_words():
    assert evidence(talk("5 go", duration_s=60.0)).steps == 122
    late = evidence(talk("5 go 70 rest", duration_s=60.0))
    assert late.end == 72.15 and late.steps == 146
    assert evidence(talk("5 go", duration_s=None)).end == 7.15


def test_a_word_is_a_box_of_area_one_over_the_time_it_can_have_been_said():
    found = evidence(talk("5 go"))
    assert where(density(found, [(10.0, 11.0)])) == {10.0: round(2 / 3, 6), 10.5: round(2 / 3, 6), 11.0: round(2 / 3, 6)}
    assert where(density(found, [(10.0, 11.0), (10.9, 12.0)], [0.5, 1.0])) == {
        10.0: round(1 / 3, 6), 10.5: round(1 / 3, 6), 11.0: round(1 / 3 + 2 / 3, 6), 11.5: round(2 / 3, 6), 12.0: round(2 / 3, 6)}
    # what would lie before the beginning or after the end is put there
    assert where(density(found, [(-9.0, -8.0), (90.0, 91.0)])) == {0.0: 2.0, 60.5: 2.0}


def test_of_a_few_moments_that_are_alike_the_middle_one_is_likeliest():
    found = evidence(talk("5 go"))
    assert where(density(found, [(10.0, 10.99)])) == {10.0: round(2 / 3, 6), 10.5: round(2 / 3 * 1.1, 6), 11.0: round(2 / 3, 6)}
    assert where(density(found, [(0.0, 0.1)])) == {0.0: 2.2} and where(density(found, [(60.5, 60.5)])) == {60.5: 2.2}


def plainly(found, spans, shares) -> list[float]:
    """The density of all spans, step by step and span by span."""
    total = [0.0] * found.steps
    for (low, high), share in zip(spans, shares):
        first = min(max(round(low / DT), 0), found.steps - 1)
        end = min(max(round(high / DT) + 1, first + 1), found.steps)
        for k in range(first, end):
            total[k] += share / ((end - first) * DT)
    for low, high in spans:
        middle = round((low + high) / 2 / DT)
        if high - low < 1.0 and 0 <= middle < found.steps:
            total[middle] *= 1.1
    return total


@pytest.mark.parametrize("seed", range(5))
def test_boxes_that_overlap_add_up_and_where_none_is_there_is_nothing_at_all(seed):
    dice, found = np.random.default_rng(seed), evidence(talk("5 go"))
    lows = dice.uniform(-8.0, 70.0, size=9)
    spans = [(low, low + long) for low, long in zip(lows.tolist(), dice.choice([0.0, 0.3, 0.9, 1.0, 4.0, 12.0], size=9).tolist())]
    shares = dice.uniform(0.1, 1.0, size=9).tolist()
    slow, even = plainly(found, spans, shares), plainly(found, spans, [1.0] * 9)
    assert density(found, spans, shares) == pytest.approx(slow, abs=1e-9) and density(found, spans) == pytest.approx(even, abs=1e-9)
    assert (density(found, spans) == 0.0).tolist() == [v == 0.0 for v in even]
    assert found.axis.odds(3.0, spans, shares) == pytest.approx([log1p(3.0 * v) for v in slow], abs=1e-9)
    assert density(found, []).tolist() == found.axis.odds(3.0, []).tolist() == found.axis.sum_of_odds(3.0, []).tolist() == [0.0] * found.steps


def test_a_word_behind_the_end_of_the_axis_is_told_of_its_last_step():
    found = evidence(talk("5 go"))
    assert found.steps == 122 and where(density(found, [(60.9, 61.1)])) == {60.5: 2.0}


@pytest.mark.parametrize(("boxes", "as_one"), [
    ([], []), ([(3, 5)], [(3, 5)]), ([(8, 9), (3, 5)], [(3, 5), (8, 9)]), ([(3, 5), (5, 6)], [(3, 6)]), ([(3, 9), (4, 5), (8, 10), (12, 13)], [(3, 10), (12, 13)]),
    ([(3, 5), (6, 7)], [(3, 5), (6, 7)]),
])
def test_boxes_that_meet_are_one(boxes, as_one):
    assert joined(boxes) == as_one


@pytest.mark.parametrize(("span", "box"), [
    ((10.0, 11.0), (20, 23)), ((10.2, 10.2), (20, 21)), ((10.3, 10.3), (21, 22)), ((-9.0, -8.0), (0, 1)), ((-9.0, 2.0), (0, 5)), ((90.0, 91.0), (121, 122)),
    ((60.0, 91.0), (120, 122)), ((60.5, 60.5), (121, 122)), ((61.0, 61.0), (121, 122)), ((0.0, 0.0), (0, 1)),
])
def test_a_span_is_a_box_of_whole_steps_on_the_axis(span, box):
    assert evidence(talk("5 go")).axis.box(*span) == box


def test_statements_that_agree_say_more_than_one_and_no_more_than_so_much():
    found = evidence(talk("5 go"))
    one = round(log1p(4.0 / 1.5), 6)
    assert where(found.axis.sum_of_odds(4.0, [(10.0, 11.0), (10.5, 11.5)])) == {10.0: one, 10.5: round(2 * one, 6), 11.0: round(2 * one, 6), 11.5: one}
    assert where(found.axis.sum_of_odds(4.0, [(10.0, 10.0)] * 9)) == {10.0: WHEN["most_nats"]}
    assert where(found.axis.sum_of_odds(4.0, [(-9.0, -8.0), (90.0, 91.0)])) == {0.0: round(log1p(8.0), 6), 60.5: round(log1p(8.0), 6)}


# ---- words at edges


def test_go_said_at_ten_is_a_start_at_ten():
    found = evidence(talk("10 go 20 rest", edges=[("go", 0), ("stop", 1)]))
    assert where(found.words_at("go")) == {10.0: odds("go", middle=True)} and where(found.words_at("stop")) == {20.0: odds("stop", middle=True)}
    assert where(found.words_at("soft_go")) == {}
    assert found.plain_edges("stop") == [(19.85, 20.15)]


def test_the_same_word_over_and_over_counts_once_and_what_others_say_not_at_all():
    heard = talk("1 go 2 go 3 go 4 go 5 go 6 x 7 x 8 x 9 x 10 go 11 x 12 x 13 x 14 x 15 x 16 go", edges=[("go", n) for n in (0, 1, 2, 3, 4, 9, 15)], quoted={15})
    assert [round(low + 0.15) for low, _ in evidence(heard).plain_edges("go")] == [1, 10]
    heard.edges = [Phrase("go", n, n + 1, "") for n in (0, 4)]
    assert len(evidence(heard).plain_edges("go")) == 1


def test_three_two_one_is_an_edge_three_seconds_later():
    heard = talk("10 three 11 two 12 one 20 two 30 x", edges=[("countdown", 0), ("countdown", 3), ("countdown", 4), ("go", 1)],
                 quantities=[number(0, 3, role="countdown"), number(3, (2, 3)), number(3, 2, role="countdown")])
    found = evidence(heard)
    assert [(round(low, 2), round(high, 2)) for low, high in found.countdown_spans()] == [(12.25, 13.75), (21.25, 22.75)]
    assert where(found.countdown()) == dict.fromkeys([12.0, 12.5, 13.0, 13.5, 14.0, 21.0, 21.5, 22.0, 22.5, 23.0], odds("countdown", steps=5))


@pytest.mark.parametrize(("quantity", "said", "left", "until"), [
    (number(0, 10), "10 ten.", [10], []), (number(0, 8, role="until"), "10 eight.", [], [8]), (number(0, (5, 10)), "10 ten.", [], []),
    (number(0, 15, role="bare"), "10 fifteen.", [15], []), (number(0, 15, role="bare"), "10 fifteen. 11 good.", [15], []),
    (number(0, 15, role="bare"), "10 fifteen 11 squats.", [], []), (number(1, 15, role="bare"), "10 and 11 fifteen.", [], []),
    (number(0, 5, role="bare"), "10 five.", [5], []), (number(0, 4, role="bare"), "10 four.", [], []), (number(0, 12, role="bare"), "10 twelve.", [], []),
    (number(0, 60, role="bare"), "10 sixty.", [60], []), (number(0, 65, role="bare"), "10 x.", [], []), (number(0, 0, role="bare"), "10 nought.", [], []),
    (number(0, 10, role="countdown"), "10 ten.", [], []), (number(0, 10, role="work"), "10 ten.", [], []),
])
def test_what_is_left_and_what_there_is_until_the_start(quantity, said, left, until):
    found = evidence(talk(said, quantities=[quantity]))
    assert [s for _, _, s in found.statements("left")] == left and [s for _, _, s in found.statements("until")] == until


def test_ten_seconds_left_puts_the_end_ten_seconds_later_and_the_start_before_it():
    found = evidence(talk("20 ten.", quantities=[number(0, 10)]))
    assert found.statements("left") == [(19.85, 20.15, 10)]
    # half a second and twice the width: 28.35 to 31.65
    box = [28.5, 29.0, 29.5, 30.0, 30.5, 31.0, 31.5]
    assert where(found.ahead("left")) == dict.fromkeys(box, odds("left", steps=7))
    assert where(found.left_from_start(25.0)) == dict.fromkeys([t - 25 for t in box], round(log1p(HEARD["left"] / 2 / 3.5), 6))
    assert where(found.left_from_start(10.0)) == {}      # of ten seconds ten cannot be left
    assert where(evidence(talk("20 ten.", quantities=[number(0, 10, role="until")])).ahead("until")) == dict.fromkeys(box, odds("until", steps=7))


def test_halfway_lies_half_of_it_from_either_end():
    found = evidence(talk("20 halfway", edges=[("half", 0)]))
    box = [37.5 + 0.5 * k for k in range(11)]
    assert where(found.half(20.0)) == dict.fromkeys(box, odds("half", steps=11))
    assert where(found.half(-10.0)) == dict.fromkeys([t - 30 for t in box], odds("half", steps=11))


def test_speech_that_sets_in_after_a_silence_of_a_second():
    found = evidence(talk("10 go 20 on 30 good", pauses={0: 1.0, 1: 0.99, 2: 9.0}))
    assert where(found.onset()) == {10.0: odds("onset", middle=True), 30.0: odds("onset", middle=True)}


def test_swap_in_the_middle_of_other_words_is_a_weak_change_of_sides():
    found = evidence(talk("10 and 11 swap 12 it 20 swap", quoted={3}))
    assert where(found._bare_switch()) == {11.0: odds("bare_switch", middle=True)}


# ---- movements by name


def test_a_movement_is_called_by_the_words_of_its_name_shared_with_another_less():
    found = evidence(talk("5 go"), plan([("crab walk", "sideways crawl"), ("bear crawl",), ("plank",)]))
    assert found.names.of(1) == {1: {"crab": 1.0, "walk": 1.0, "sideway": 1.0, "crawl": 0.5}, 2: {"bear": 1.0, "crawl": 0.5}, 3: {"plank": 1.0}}


def test_the_name_said_is_a_start_in_the_first_words_and_a_hint_in_the_rest_before():
    found = evidence(talk("20 crab"), plan([("crab",), ("plank",)]))
    calls = found.called(1, 1)
    # from 2.6 s before the word to the word: six steps and the one it lies in
    near = log1p(HEARD["call"] / (7 * DT))
    assert calls[40] == pytest.approx(near + HEARD["named"]) and calls[35] == pytest.approx(near + HEARD["named"])
    # named from four seconds before the word to twenty-two after it
    named = [k for k in range(found.steps) if calls[k] > 0]
    assert (named[0], named[-1]) == (int((19.85 - 4) / DT), int((20.15 + 22) / DT)) and calls[named[0]] == pytest.approx(HEARD["named"])
    assert calls[named[0] - 1] == calls[named[-1] + 1] == -HEARD["unnamed"]
    assert set(found.called(1, 2)) == {-HEARD["unnamed"]}
    # a movement without a name of its own is not expected to be called
    nameless = evidence(talk("20 crab"), plan([("the",)]))
    assert set(nameless.called(1, 1)) == {0.0}


def layout(*segments, first=0):
    return SimpleNamespace(stretches=[SimpleNamespace(kind="warm_up", items=(), first=0),
                                      SimpleNamespace(kind="main", first=first, items=[SimpleNamespace(segment=s) for s in segments])])


def test_a_nickname_is_learnt_where_the_movement_was_first_done():
    """``Number one is the crab walk``, and when it is done it is called the pincher: twice, and of no other."""
    said = "1 crab 2 pincher 3 plank 10 pincher 11 pincher 20 plank 21 hold 30 pincher"
    found = evidence(talk(said), plan([("crab walk",), ("plank",)]), layout((0, 2), (2, 3)))
    assert "pinch" not in found.names.of(1)[1]
    found.learn([(1, 1, 9.0, 12.0), (1, 2, 19.0, 22.0)])
    assert found.names.learnt == {1: [(1, 3, 5), (2, 5, 7)]}
    # said three times of it up to there; what was said once is no name
    assert found.names.of(1) == {1: {"crab": 1.0, "walk": 1.0, "pinch": 0.6}, 2: {"plank": 1.0}}


@pytest.mark.parametrize(("said", "learnt"), [
    ("1 pincher 2 pincher 30 x", True), ("1 pincher 30 x", False),                                  # once is no name
    ("1 pincher 2 pincher 3 go 40 pincher 41 plank", True),                                         # what comes later does not count
    ("1 pincher 2 pincher 11 pincher 12 plank", True), ("1 pincher 2 pincher 11 pincher 12 pincher 13 plank", False),   # hardly said of another
    ("1 pincher 2 pincher 11 pincher 12 x 40 pincher", True),
    ("1 pincher 2 pincher 7 pincher 12 plank", True), ("1 pincher 2 pincher 7 pincher 8 pincher 12 plank", False),    # or between the two
    ("1 pip 2 pip 30 x", True), ("1 an 2 an 30 x", False), ("1 it's 2 it's 30 x", False), ("1 plank 2 plank 30 x", False), ("1 and 2 and 30 x", False),
])
def test_what_is_a_nickname(said, learnt):
    found = evidence(talk(said), plan([("crab walk",), ("plank",)]))
    found.learn([(1, 1, 0.0, 5.0), (1, 2, 10.0, 20.0)])
    own = found.names.of(1)[1]
    assert (set(own) != {"crab", "walk"}) == learnt


def test_a_nickname_is_looked_for_where_the_movement_of_that_block_was_shown():
    """The words about the second block's first movement are that block's, and not those of the block before."""
    said = "1 crab 2 pincher 3 pincher 5 plank 6 table 7 table 10 crab 11 pincher 20 plank 21 table"
    shown = SimpleNamespace(stretches=[SimpleNamespace(kind="main", first=first, items=[SimpleNamespace(segment=(first, end))]) for first, end in ((0, 3), (3, 6))])
    found = evidence(talk(said), plan([("crab walk",)], [("plank",)]), shown)
    found.learn([(1, 1, 9.0, 12.0), (2, 1, 19.0, 22.0)])
    # the words of the showing count with those of the doing: twice there and once here
    assert found.names.of(1) == {1: {"crab": 1.0, "walk": 1.0, "pinch": 0.6}} and found.names.of(2) == {1: {"plank": 1.0, "tabl": 0.6}}


def test_a_name_is_where_any_word_with_its_stem_is_but_in_no_quotation():
    found = evidence(talk("1 crawls 2 go 3 crawling 4 crawl 5 crawls", quoted={3}))
    assert found.names.where("crawl") == [0, 2, 4] and found.names.where("go") == [1] and list(found.names.where("walk")) == []
    assert found.names.said("crawl") == [3] and found.names.said("crawls") == [0, 4] and list(found.names.said("walks")) == []


def test_what_was_learnt_changes_what_calls_a_movement():
    found = evidence(talk("1 pincher 2 pincher 30 pincher"), plan([("crab walk",)]))
    before = found.called(1, 1)
    found.learn([(1, 1, 0.0, 5.0)])
    after = found.called(1, 1)
    assert before[60] == -HEARD["unnamed"] and after[60] > 0.6 * HEARD["named"]


def test_a_word_with_which_the_coach_opens_most_starts_is_a_start():
    said = "10 on 11 x 20 on 21 x 30 on 31 x 40 on 41 x 50 hup 55 x"
    found = evidence(talk(said))
    found.learn_words(START, [10.0, 20.3, 30.0, 40.6, 50.0])
    # four of five; "x" follows each time, and too late
    assert where(found.own_words(START)) == dict.fromkeys([10.0, 20.0, 30.0, 40.0], odds("own", share=0.8, middle=True))
    assert where(found.own_words(STOP)) == {}


@pytest.mark.parametrize(("said", "moments", "learnt"), [
    ("10 on 20 on 30 on 40 on", [10, 20, 30, 40], True), ("10 on 20 on 30 on 40 x", [10, 20, 30, 40], False),                  # four times at least
    ("10 on 20 on 30 on 40 on", [10, 20, 30, 40] + [50] * 9, True), ("10 on 20 on 30 on 40 on", [10, 20, 30, 40] + [50] * 10, False),  # three in ten
    ("10 on 20 on 30 on 40 on 1 on 2 on 3 on 4 on", [10, 20, 30, 40], True), ("10 on 20 on 30 on 40 on 1 on 2 on 3 on 4 on 5 on", [10, 20, 30, 40], False),
    ("10 on 20 on 30 on 40 on", [10.65, 20.65, 30.65, 39.35], True), ("10 on 20 on 30 on 40 on", [10.7, 20.65, 30.65, 39.35], False),   # half a second
])
def test_what_is_an_edge_word_of_the_coach(said, moments, learnt):
    found = evidence(talk(said))
    found.learn_words(START, moments)
    on = [float(t) for t, w in zip(said.split()[::2], said.split()[1::2]) if w == "on"]
    assert any(t in where(found.own_words(START)) for t in on) == learnt


def test_the_first_two_words_open_an_edge_and_not_the_third():
    found = evidence(talk(" ".join(f"{t - 0.4} first {t} second {t + 0.4} third" for t in (10, 20, 30, 40))))
    found.learn_words(START, [10, 20, 30, 40])
    assert sorted(where(found.own_words(START))) == [t for n in (10.0, 20.0, 30.0, 40.0) for t in (n - 0.5, n)]


def test_a_word_that_is_placed_badly_opens_nothing():
    found = evidence(talk("10 on 20 on 30 on 40 on 50 x"))
    found.spans = [(t, t + 4.9) for t in (10.0, 20.0, 30.0, 40.0)] + [(50.0, 50.1)]
    found.learn_words(START, [10, 20, 30, 40])
    assert where(found.own_words(START))
    found.spans[0] = (10.0, 15.0)
    found.learn_words(START, [10, 20, 30, 40])
    assert not where(found.own_words(START))


def test_a_word_in_quotation_marks_opens_nothing():
    found = evidence(talk("10 on 20 on 30 on 40 on 50 on", quoted={4}))
    found.learn_words(START, [10, 20, 30, 40])
    assert sorted(where(found.own_words(START))) == [10.0, 20.0, 30.0, 40.0]


# ---- where work is


WORK_FROM_10_TO_40 = [Clause(0, 1, "briefing"), Clause(1, 2, "work"), Clause(2, 3, "cool_down"), Clause(3, 4, "close")]


def in_phases(said="1 hello 10 go 40 stretch 50 bye", clauses=WORK_FROM_10_TO_40, **more):
    return evidence(talk(said, clauses=clauses), **more)


def test_work_is_from_its_first_word_to_the_next_clause():
    found = in_phases()
    assert [t for t in (0.0, 9.4, 9.5, 9.9, 10.0, 39.9, 40.4, 40.5, 59.0, -5.0, 999.0) if found.is_work(t)] == [9.5, 9.9, 10.0, 39.9]
    # work to the last word
    assert in_phases(clauses=[Clause(0, 1, "briefing"), Clause(1, 4, "work")]).is_work(49.9)


def test_the_talk_turns_to_work_where_more_of_it_lies_after_than_before():
    turn = in_phases().turns_to_work()
    # 61 steps of work, 120 steps looked at on either side
    assert turn[19] == pytest.approx(WHEN["phase"] * 61 / 120) and turn[80] == pytest.approx(-WHEN["phase"] * 61 / 120)
    assert turn[49] == pytest.approx(WHEN["phase"] * (31 - 30) / 120) and turn[0] == pytest.approx(WHEN["phase"] * 61 / 120)


def test_time_aside_of_the_work_is_counted():
    aside = in_phases().aside()
    second = WHEN["aside_per_s"]
    assert len(aside) == 122
    assert [aside[k] for k in (0, 18, 19, 79, 80, 81)] == pytest.approx([s * second for s in (0.5, 9.5, 9.5, 9.5, 10.0, 10.5)])


def test_the_work_ends_where_the_talk_turns_to_the_cool_down_and_a_while_before_costs_little():
    found = in_phases()
    at = round(40 / DT)
    closing, turn = found.closing(), found.turns_to_work()
    # the ten seconds before the first word of it: 29.85 to 40.15 are 21 steps
    there = log1p(HEARD["closing"] / (21 * DT))
    assert closing[at] == pytest.approx(turn[at] - there)
    # before it, the best moment from there on and three hundredths a second
    shifts = [k for k in range(0, int(60 / DT), int(2 / DT)) if 10 + k < found.steps]
    cost = turn - found.axis.odds(HEARD["closing"], [(29.85, 40.15)])
    assert closing[10] == pytest.approx(min(cost[10 + k] + WHEN["idle_per_s"] * k * DT for k in shifts))
    # goodbye after the cool-down closes nothing any more
    assert closing[100] == pytest.approx(min(cost[100 + k] + WHEN["idle_per_s"] * k * DT for k in range(0, 20, 4)))


def test_an_end_is_the_end_of_the_recording_shortly_before_it_or_after_goodbye():
    assert in_phases("1 hello 10 go 15 stretch 17 x").cut_off_from() == 60.0 - 40.0
    assert in_phases("1 hello 10 go 40 stretch 50 bye").cut_off_from() == 49.85


def test_a_block_that_begins_before_it_is_announced_costs_more():
    meant = plan([("crab",)], [("plank",)])
    two = SimpleNamespace(stretches=[SimpleNamespace(kind="main", first=0), SimpleNamespace(kind="warm_up", first=1), SimpleNamespace(kind="main", first=2)])
    found = in_phases(meant=meant, layout=two)
    late = found.before_block(2)
    assert set(late[: int(39.85 / DT)]) == {WHEN["too_early"]} and set(late[int(39.85 / DT) :]) == {0.0}
    assert not found.before_block(1).any() and not found.before_block(3).any()
    two.stretches[2].first = 9      # beyond the words
    assert not in_phases(meant=meant, layout=two).before_block(2).any() and not in_phases(meant=meant).before_block(2).any()


# ---- all of it


def test_a_word_for_the_other_edge_says_a_little():
    found = evidence(talk("10 go 20 rest 30 and", edges=[("go", 0), ("stop", 1), ("soft_stop", 2)]))
    calls = found._calls("go", "stop")
    assert where(calls) == {10.0: odds("go", middle=True), 20.0: pytest.approx(HEARD["other_kind"] * odds("stop", middle=True), abs=1e-5),
                            30.0: pytest.approx(HEARD["other_soft"] * odds("soft_stop", middle=True), abs=1e-5)}
    both = evidence(talk("10 go 10 and", edges=[("go", 0), ("soft_go", 1)]))._calls("go", "stop")
    assert both[20] == pytest.approx(odds("go", middle=True) + odds("soft_go", middle=True), abs=1e-5)


def test_an_edge_is_what_all_that_is_said_of_it_adds_up_to():
    heard = talk("10 go 12 crab 20 halfway 30 ten. 40 rest 41 swap 45 x", edges=[("go", 0), ("half", 2), ("stop", 4), ("switch", 5)],
                 quantities=[number(3, 10)], pauses={0: 2.0, 4: 2.0})
    found = evidence(heard, plan([("crab",)]))
    set_in = found.onset()
    named = found.called(1, 1)
    assert found.at(Node(JOIN, 1)) is None and found.at(Node(DONE, 1)) is None
    plain = found.at(Node(START, 1, 1, 1))
    assert plain == pytest.approx(set_in + found._calls("go", "stop") + named)
    assert found.at(Node(START, 1, 1, 1, after=20.0)) == pytest.approx(plain + np.maximum(found.left_from_start(20.0), found.half(-10.0)))
    changes = np.log1p(HEARD["change"] / HEARD["switch"] * np.expm1(found.words_at("switch")))
    assert found.at(Node(TURN, 1, 1, 1)) == pytest.approx(plain + changes) and changes[82] > 0
    stop = found.at(Node(STOP, 1, 1))
    assert stop == pytest.approx(set_in + found._calls("stop", "go"))
    assert found.at(Node(STOP, 1, 1, before=20.0)) == pytest.approx(stop + np.maximum(found.ahead("left"), found.half(10.0)))
    switch = found.at(Node(SWITCH, 1, 1, 1))
    assert switch == pytest.approx(set_in + np.maximum(found.words_at("switch"), found._bare_switch()))
    assert found.at(Node(SWITCH, 1, 1, 1, before=20.0, after=20.0)) == pytest.approx(
        switch + np.maximum(found.ahead("left"), found.half(10.0)) + np.maximum(found.left_from_start(20.0), found.half(-10.0)))


def test_what_is_said_until_the_start_and_what_was_learnt_are_heard_at_edges():
    found = evidence(talk("10 eight. 18 on 28 on 38 on 48 on", quantities=[number(0, 8, role="until")]))
    without = {kind: found.at(Node(kind, 1, 1, 1)) for kind in (START, STOP, SWITCH)}
    assert without[START][36] == pytest.approx(-HEARD["unnamed"] + odds("until", steps=7), abs=1e-6)
    for kind in (START, STOP, SWITCH):
        found.learn_words(kind, [18, 28, 38, 48])
        assert where(found.at(Node(kind, 1, 1, 1)) - without[kind]) == dict.fromkeys([18.0, 28.0, 38.0, 48.0], odds("own", middle=True))


def test_a_countdown_and_a_silence_are_heard_at_every_edge():
    found = evidence(talk("10 three 20 x", edges=[("countdown", 0)], quantities=[number(0, 3, role="countdown")], pauses={1: 5.0}))
    assert where(found.at(Node(STOP, 1, 1))) == where(found.countdown()) | where(found.onset())


def test_what_is_heard_of_a_kind_of_edge_is_reckoned_once_and_is_the_same_for_every_block_and_length():
    found = evidence(talk("10 go 20 crab 30 rest 41 swap", edges=[("go", 0), ("stop", 2), ("switch", 3)]), plan([("crab",)], [("plank",)]))
    kinds = {kind: found._edge(kind).copy() for kind in (START, STOP, SWITCH, TURN)}
    found.at(Node(TURN, 1, 1, 1)), found.at(Node(START, 2, 1, 1, after=20.0)), found.at(Node(STOP, 1, 1, before=20.0))
    # and what the nodes add to it is not added to what is kept
    assert all((found._edge(kind) == values).all() for kind, values in kinds.items()) and found._edge(STOP) is found._edge(STOP)
    assert found.at(Node(STOP, 1, 1)) == pytest.approx(kinds[STOP]) and found.at(Node(SWITCH, 2, 1, 1)) == pytest.approx(kinds[SWITCH])
    for kind in (START, TURN):
        assert found.at(Node(kind, 2, 1, 1)) == pytest.approx(kinds[kind] + found.called(2, 1))
    assert (kinds[TURN] - kinds[START] >= 0).all() and where(kinds[TURN] - kinds[START]).keys() == where(found.words_at("switch")).keys()


def test_rounds_are_told_apart_by_nothing_that_is_said():
    found = evidence(talk("10 go", edges=[("go", 0)]), plan([("crab",), ("plank",)]))
    one = found.at(Node(START, 1, 1, 1))
    assert found.at(Node(START, 1, 2, 1)) is one and found.at(Node(START, 1, 1, 2)) is not one


def test_edges_that_were_heard_once_are_heard_anew_after_learning():
    found = evidence(talk("10 on 20 on 30 on 40 on 50 pincher 51 pincher"), plan([("crab walk",)]))
    start, stop = (found.at(Node(kind, 1, 1, 1)) for kind in (START, STOP))
    found.learn_words(START, [10, 20, 30, 40])
    assert where(found.at(Node(START, 1, 1, 1)) - start) == dict.fromkeys([10.0, 20.0, 30.0, 40.0], odds("own", middle=True))
    assert where(found.at(Node(STOP, 1, 1, 1)) - stop) == {}
    start = found.at(Node(START, 1, 1, 1))
    found.learn([(1, 1, 49.0, 52.0)])
    changed = where(found.at(Node(START, 1, 1, 1)) - start)
    assert 50.0 in changed and 20.0 not in changed


def test_what_was_said_of_time_left_and_of_goodbye_is_looked_for_once():
    heard = talk("10 ten. 40 bye", quantities=[number(0, 10)])
    found = evidence(heard)
    assert (found.statements("left"), found.statements("until"), found.cut_off_from()) == ([(9.85, 10.15, 10)], [], 39.85)
    heard.quantities.clear()
    heard.words.tokens.clear()
    assert (found.statements("left"), found.statements("until"), found.cut_off_from()) == ([(9.85, 10.15, 10)], [], 39.85)


# ---- the rounds by number


def rounds_said(said: str, *, at: int, value=2.0, start=START, round_=2, opens=True):
    """What is told of the start of round ``round_``, less what is of one that opens no round."""
    found = evidence(talk(said, quantities=[number(at, value, role="round_label", kind="number", end=at + 1)]))
    node = Node(start, 1, round_, 1, opens=opens)
    return where(found.at(node) - found.at(node._replace(opens=False, round=1)))


def test_the_number_of_a_round_tells_where_it_begins_and_where_another_one_does_not():
    around = {k / 2 for k in range(int((20 - WHEN["round_s"]) * 2), int((20 + WHEN["round_s"]) * 2) + 1)}
    for round_, odds_ in ((2, HEARD["round"]), (3, -HEARD["round"])):
        for start in (START, TURN):
            found = rounds_said("1 hello. 20 two 50 bye", at=1, start=start, round_=round_)
            assert set(found) == around and set(found.values()) == {odds_}
    assert rounds_said("1 hello. 20 two 50 bye", at=1, opens=False) == {}


@pytest.mark.parametrize("said", ["19 that's 20 two 50 bye", "1 hello. 20 two 21 done 50 bye", "1 hello. 19 of 20 two 50 bye"])
def test_the_number_of_a_round_that_is_over_tells_nothing(said):
    assert rounds_said(said, at=said.split().index("two") // 2) == {}
