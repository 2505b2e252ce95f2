"""What following does before and after the fit: when it listens at all, how finely, and what it learns of the coach from a first fit."""

from __future__ import annotations

from dataclasses import replace
from math import log
from types import SimpleNamespace

import pytest

import parser.follow as following
from parser import load_lexicon
from parser.delivery import NOTHING
from parser.follow import _changed, _listen_again, follow
from parser.follow.fit import Fit, Step
from parser.follow.grid import REST, START, STOP, SWITCH, TURN, WORK, Arc, Cell, Grid, Node
from parser.follow.weights import weights
from parser.hear import hear
from parser.mentions import Layout, Phrase, Quantity
from parser.read import read_bytes

from .random_class import make, read

BASE = 1.3


# ---- lengths changed on the way


def said(first: int, role: str, value, kind: str = "length") -> Quantity:
    return Quantity(role, value, kind, first, first + 1, (first, first + 1), "")


def changed(*quantities: Quantity, at=100, role="change", phase="work"):
    return _changed(SimpleNamespace(notes=[Phrase(role, at, at + 1, "")], quantities=quantities, phase_at=lambda token: phase))


def test_make_that_thirty_gives_both_lengths_of_the_work():
    """``Forty on, twenty off``, and later ``change of plan, thirty seconds of work``."""
    lengths = [said(5, "work", 40), said(8, "rest", 20), said(120, "work", 30)]
    assert changed(*lengths) == {"work": [30, 40]}
    assert changed(*lengths, said(130, "rest", 15), said(135, "round_rest", 60)) == {"work": [30, 40], "rest": [15, 20], "round_rest": [60]}
    assert changed(*lengths, role="caution") == changed(*lengths, phase="briefing") == {}


@pytest.mark.parametrize(("first", "counts"), [(100, True), (140, True), (141, False), (99, False)])
def test_the_new_length_follows_within_forty_words(first, counts):
    assert changed(said(5, "work", 40), said(first, "work", 30)) == ({"work": [30, 40]} if counts else {})


def test_a_range_is_no_length_and_another_interval_is_not_changed():
    assert changed(said(120, "work", (30, 40))) == {} and changed(said(120, "left", 10)) == {}


# ---- learning from a first fit


class Listener:
    """Notes what it is told to learn."""

    def __init__(self) -> None:
        self.names: list = []
        self.words: dict = {}

    def learn(self, done) -> None:
        self.names = list(done)

    def learn_words(self, kind, moments) -> None:
        self.words[kind] = moments


def learnt(steps, nodes=(), marks=()):
    listener = Listener()
    missing = _listen_again(Grid(tuple(nodes), (), (), ()), listener, Fit(tuple(steps), {}, dict(enumerate(marks)), 0.0), BASE)
    return listener, missing


@pytest.mark.parametrize(("marks", "missing"), [
    ([2.0] * 5, BASE), ([2.0] * 6, log(8)), ([2.0] * 9 + [0.69], log(12 / 2)), ([2.0] * 9 + [0.7], log(12)), ([2.0] * 18, log(20)), ([2.0] * 19, 3.0),
    ([0.1] * 20, BASE), ([0.1] * 6 + [2.0] * 20, log(28 / 7)),
])
def test_the_fewer_edges_are_silent_the_more_one_costs(marks, missing):
    # two edges more than there were, one of them silent, and never beyond e^3 to one
    assert learnt([], marks=marks)[1] == pytest.approx(min(missing, weights()["edge"]["missing_most"]))


def test_movements_are_listened_for_around_the_start_of_their_first_go():
    def go(start: float, **cell) -> Step:
        return Step(Arc(0, 0, 40.0, cell=Cell(**{"kind": WORK, "block": 1, "round": 1, "number": 2} | cell)), start, start + 40.0)

    nodes = [Node(STOP, 1)]
    listener, _ = learnt([go(100.0), go(200.0, number=3, block=2), go(300.0, round=2), go(400.0, kind=REST), go(500.0, number=None)], nodes)
    assert listener.names == [(1, 2, 88.0, 103.0), (2, 3, 188.0, 203.0)]
    assert learnt([Step(Arc(0, 0, None), 0.0, 9.0)], nodes)[0].names == []


def test_the_words_of_an_edge_are_learnt_of_six_of_its_kind():
    nodes = [Node(START, 1), Node(TURN, 1), Node(STOP, 1), Node(SWITCH, 1)]

    def to(node: int, end: float, length: float | None = 40.0) -> Step:
        return Step(Arc(0, node, length), 0.0, end)

    starts = [to(n % 2, float(n)) for n in range(6)]
    assert learnt(starts, nodes)[0].words == {START: [0.0, 1.0, 2.0, 3.0, 4.0, 5.0]}
    assert learnt(starts[1:], nodes)[0].words == {}
    # a way round is no edge of the clock, a wait leads to one
    assert learnt([*starts[1:], to(0, 9.0, 0.0)], nodes)[0].words == {} and learnt([*starts[1:], to(0, 9.0, None)], nodes)[0].words
    others = [to(k, float(n)) for k in (2, 3) for n in range(6)]
    assert learnt(others, nodes)[0].words == {STOP: [float(n) for n in range(6)], SWITCH: [float(n) for n in range(6)]}


# ---- whether, and how finely


@pytest.fixture(scope="module")
def lexicon():
    return load_lexicon()


def steps_of(heard, made, monkeypatch) -> list[float]:
    """The steps (s) of the axes that were made."""
    axes = []

    def noted(*given, dt):
        axes.append(dt)
        return evidence(*given, dt=dt)

    evidence = following.Evidence
    monkeypatch.setattr(following, "Evidence", noted)
    assert follow(heard, made.plan, Layout(())).intervals
    return axes


def longer(heard, seconds: float):
    return replace(heard, words=replace(heard.words, talk=heard.words.talk.model_copy(update={"duration_s": seconds})))


@pytest.mark.parametrize(("resolution", "seconds", "axis"), [("word", 1800.0, 0.25), ("word", 2700.0, 0.25), ("word", 2701.0, 0.5), ("cue", 1800.0, 0.25), ("block", 1800.0, 0.5)])
def test_a_class_of_up_to_three_quarters_of_an_hour_is_followed_to_a_quarter_of_a_second(resolution, seconds, axis, lexicon, monkeypatch):
    made = make(11, dropped=0.0)
    assert steps_of(longer(hear(read(made, resolution), lexicon), seconds), made, monkeypatch) == [axis]


@pytest.mark.parametrize("resolution", ["word", "block"])
def test_both_fits_look_at_the_places_that_were_found_first(resolution, lexicon, monkeypatch):
    """The places are looked for once, with what an edge costs that no word marks, and before anything was learnt of the coach."""
    made, asked = make(11, dropped=0.0), []
    heard = hear(read(made, resolution), lexicon)
    looked, fitted = following.places, following.fit

    def places(grid, evidence, *, base):
        asked.append(("places", base, dict(evidence.names.learnt)))
        return looked(grid, evidence, base=base)

    def fit(grid, evidence, *, base, missing=None, places, lengths):
        asked.append(("fit", base, missing, [at.tolist() for at in places] == [at.tolist() for at in looked(grid, following.Evidence(
            heard, made.plan, Layout(()), dt=evidence.dt), base=base)]))
        return fitted(grid, evidence, base=base, missing=missing, places=places, lengths=lengths)

    monkeypatch.setattr(following, "places", places)
    monkeypatch.setattr(following, "fit", fit)
    assert follow(heard, made.plan, Layout(())).intervals
    edge = weights()["edge"]
    base = edge["missing_coarse"] if resolution == "block" else edge["missing"]
    missing = asked[-1][2]
    assert asked == [("places", base, {}), ("fit", base, None, True), ("fit", base, missing, True)] and base <= missing <= edge["missing_most"]


def test_where_the_first_fit_finds_nothing_nothing_is_learnt(lexicon, monkeypatch):
    made, learnt = make(11, dropped=0.0), []
    heard = hear(read(made, "word"), lexicon)
    monkeypatch.setattr(following, "fit", lambda *given, **more: None)
    monkeypatch.setattr(following, "_listen_again", lambda *given: learnt.append(given))
    assert follow(heard, made.plan, Layout(())) is NOTHING and learnt == []


def test_where_the_second_fit_finds_nothing_the_first_holds(lexicon, monkeypatch):
    made, answers = make(11, dropped=0.0), []
    heard = hear(read(made, "word"), lexicon)
    fitted = following.fit

    def fit(grid, evidence, *, base, missing=None, places, lengths):
        answers.append(None if missing else fitted(grid, evidence, base=base, places=places))
        return answers[-1]

    monkeypatch.setattr(following, "fit", fit)
    found = follow(heard, made.plan, Layout(()))
    assert len(answers) == 2 and found.intervals[0].start == next(s.start for s in answers[0].steps if s.arc.cell)


def test_a_recording_that_runs_on_longer_than_any_class_is_not_followed(lexicon, monkeypatch):
    made = make(11, dropped=0.0)
    heard = hear(read(made, "word"), lexicon)
    places = len(following.unroll(made.plan, [], {}).nodes) * following.Evidence(heard, made.plan, dt=0.25).steps
    monkeypatch.setattr(following, "_MOST_PLACES", places)
    assert follow(heard, made.plan, Layout(())).intervals
    monkeypatch.setattr(following, "_MOST_PLACES", places - 1)
    assert follow(heard, made.plan, Layout(())) is NOTHING


def test_a_plan_without_a_clock_is_not_followed(lexicon):
    made = make(11, dropped=0.0)
    assert follow(hear(read(made, "word"), lexicon), made.plan.model_copy(update={"blocks": []}), Layout(())) is NOTHING


def test_a_talk_without_times_or_without_words_is_not_even_tried(lexicon, monkeypatch):
    made = make(11, dropped=0.0)
    untimed = hear(read_bytes(b"Go! Plank. And rest. Go! Plank.", name="talk.txt"), lexicon)
    timed = hear(read(made, "word"), lexicon)
    silent = replace(timed, words=replace(timed.words, tokens=()))
    asked = []
    monkeypatch.setattr(following, "unroll", lambda *given: asked.append(given) or Grid((), (), (), ()))
    for heard in (untimed, silent, timed):
        assert follow(heard, made.plan, Layout(())) is NOTHING
    assert len(asked) == 1


def test_rests_between_rounds_that_were_said_at_all_may_have_been_taken(lexicon, monkeypatch):
    made, asked = make(11, dropped=0.0), []
    heard = hear(read(made, "word"), lexicon)
    said_of = (said(1, "round_rest", 90), said(2, "round_rest", 60), said(3, "round_rest", 90), said(4, "round_rest", (60, 90)), said(5, "round_rest", 3, "number"),
               said(6, "rest", 45), said(7, "round_rest", 0))
    monkeypatch.setattr(following, "unroll", lambda plan, rests, changed: asked.append(rests) or Grid((), (), (), ()))
    assert follow(replace(heard, quantities=said_of), made.plan, Layout(())) is NOTHING and asked == [[60, 90]]
