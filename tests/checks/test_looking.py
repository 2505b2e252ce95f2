"""What several rules look at, on its own."""

from __future__ import annotations

from dataclasses import replace

import pytest

from parser.checks import looking
from parser.checks.frame import is_gentle, says_any, shows_the_end, work_is_over_at
from parser.checks.kit import is_fetched, kind_of, stance, words_of
from parser.model import Coverage

from .followed import delivered

FOUR = ("[0:00] Four moves, forty on, twenty off.\n[0:10] Number one, goblet squats. Bell at the chest.\n[0:20] Number two, push-ups. Hands wide.\n"
        "[0:30] Number three, glute bridges. Heels close.\n[0:40] Number four, jumping jacks. Arms all the way.\n")


def lists(case):
    """The lists that go over the block again, by the names in them."""
    return [" ".join(case.heard.movements[n].match.name for n in found) for found in looking.recaps(case, looking.shown(case))]


@pytest.mark.parametrize(("said", "found"), [
    ("So that's goblet squats, push-ups, glute bridges.", ["goblet squat push-up glute bridge"]),
    # what follows closely in the sentence is of the list
    ("So that's goblet squats, push-ups, the bridges on the mat, thrusters.", ["goblet squat push-up glute bridge thruster"]),
    # nothing but amounts between them
    ("Goblet squats, twelve. Push-ups, ten. Glute bridges, twenty.", ["goblet squat push-up glute bridge"]),
    ("Goblet squats, twelve. Push-ups, ten.", []),
    ("Goblet squats, twelve. Push-ups, which we love, ten. Glute bridges, twenty.", []),
    ("Let's cool down. Goblet squats, twelve. Push-ups, ten. Glute bridges, twenty.", []),
])
def test_lists_that_go_over_a_block(said, found, case_of):
    assert lists(case_of(FOUR + f"[1:00] {said}\n")) == found


def test_a_demonstration_ends_where_the_work_begins(case_of):
    run = ("[0:00] Two moves, forty seconds on, twenty seconds off, two rounds.\n[0:10] Number one, goblet squats. Bell at the chest.\n"
           "[0:20] Number two, push-ups. Hands wide.\n[0:57] Three, two, one.\n[1:00] Go! Goblet squats.\n[1:40] And rest.\n")
    case = case_of(run)
    spans = [i.span for i in looking.shown(case)]
    assert [" ".join(looking.norms(case.heard, *span)) for span in spans] == ["number one goblet squats bell at the chest", "number two push ups hands wide"]
    assert looking.work_starts_at(case) is not None
    assert looking.live(case)
    assert case.heard.words.tokens[looking.work_starts_at(case)].t0 == pytest.approx(57, abs=3)
    assert looking.work_starts_at(case_of(FOUR)) is None
    assert not looking.live(case_of(FOUR))
    assert looking.work_starts_at(case_of("[0:00] Three, two, one, go!\n")) is None


def test_a_demonstration_is_no_longer_than_one_can_be(case_of):
    case = case_of("[0:00] Number one, goblet squats. " + "Nice and tall. " * 80 + "\n")
    (only,) = looking.shown(case)
    assert only.span == (0, looking.LONGEST_SHOWN)


@pytest.mark.parametrize(("phrases", "span", "found"), [
    (("forty on",), (0, 6), True),
    (("on forty",), (0, 6), False),
    (("fort",), (0, 6), False),
    (("moves",), (1, 2), True),
    (("moves",), (0, 1), False),
    (("moves",), (2, 6), False),
    (("moves",), (-4, 2), True),
    (("nowhere", "moves"), (0, 6), True),
])
def test_words_in_a_span(phrases, span, found, case_of):
    case = case_of("[0:00] Four moves, forty on, twenty off.\n")
    assert looking.has_words(case.heard, span, *phrases) == found


def test_a_sentence_within_reach(case_of):
    case = case_of("[0:00] So this is one. " + "And we go on " * 10 + "for ever. That was one.\n")
    assert looking.sentence_of(case, 1) == (0, 4)
    assert looking.sentence_of(case, 24) == (10, 38)
    assert looking.sentence_of(case, 24, reach=2) == (22, 26)
    assert looking.sentence_of(case, 45) == (31, 46)


def test_taken_back_and_its_words(case_of):
    case = case_of("[0:00] Four rounds, sorry, three rounds. And off we go.\n")
    assert looking.taken_back(case) == {0, 1, 2}
    assert looking.taken_back(case_of(FOUR)) == set()


@pytest.mark.parametrize(("said", "ours"), [
    ("Number four, sorry, number three, glute bridges.", True),
    ("Number four, sorry, three, glute bridges.", True),
    ("Four rounds, sorry, three rounds.", False),
    ("Forty seconds, sorry, thirty seconds of work.", False),
])
def test_slips_of_a_number(said, ours, case_of):
    case = case_of(f"[0:00] {said}\n")
    assert [looking.is_of_a_number(case, slip) for slip in case.heard.slips] == [ours]


@pytest.mark.parametrize(("first", "end", "changed"), [(0, 60, True), (0, 44, True), (0, 43, False), (44, 60, True), (45, 60, True), (84, 90, True), (85, 90, False)])
def test_a_change_that_is_announced(first, end, changed, case_of):
    case = case_of("[0:00] " + "We go on. " * 14 + "Up. Up. I'm changing it. " + "We go on. " * 14 + "\n")
    (note,) = [n for n in case.heard.notes if n.role == "change"]
    assert looking.changed_between(case, first - 44 + note.first, end - 44 + note.first) == changed


@pytest.mark.parametrize(("said", "word", "offered"), [
    ("Push-ups. Easier, from your knees.", "knees", True),
    ("Push-ups. Easier, from your knees. Chest down.", "chest", False),
    ("Chest down, or easier, from your knees.", "chest", False),
    ("Chest down, or easier, from your knees.", "knees", True),
    ("If anything hurts, stop there and then.", "then", False),
])
def test_words_of_an_easier_way(said, word, offered, case_of):
    case = case_of(f"[0:00] Number one, push-ups. {said}\n")
    at = next(t.i for t in case.heard.words.tokens if t.norm == word)
    assert looking.in_option(case, at) == offered


def test_an_easier_way_reaches_so_far(case_of):
    said = "easier " + "and on " * 20
    case = case_of(f"[0:00] Number one, push-ups. Then {said}.\n")
    at = next(t.i for t in case.heard.words.tokens if t.norm == "easier")
    assert looking.in_option(case, at)
    assert looking.in_option(case, at + looking.LONGEST_OPTION)
    assert not looking.in_option(case, at + looking.LONGEST_OPTION + 1)
    assert not looking.in_option(case, at - 1)


def test_without_marks_the_next_number_ends_an_easier_way(case_of):
    case = case_of("[0:00] number one push-ups easier from your knees number two glute bridges heels close\n")
    norms = [t.norm for t in case.heard.words.tokens]
    assert not case.heard.words.punctuated
    assert looking.in_option(case, norms.index("knees"))
    assert not looking.in_option(case, norms.index("heels"))


def test_seconds_between_two_words(case_of):
    case = case_of("[0:00] One word.\n[0:10] Two words.\n[0:30] Three words.\n")
    assert looking.apart_s(case, 0, 2) == looking.apart_s(case, 2, 0) == 10
    bare = case_of("One word.\n\nTwo words.\n")
    assert looking.apart_s(bare, 0, 2) == 0


def test_the_movement_in_whose_words_a_word_stands(case_of):
    items = looking.shown(case_of(FOUR))
    first, second = items[:2]
    assert looking.place_of(items, first.span[0]) is first
    assert looking.place_of(items, first.span[1] - 1) is first
    assert looking.place_of(items, second.span[0]) is second
    assert looking.place_of(items, first.span[0] - 1) is None
    assert looking.place_of(items, items[-1].span[1]) is None


# ---------------------------------------------------------------- the frame of a class


@pytest.mark.parametrize(("names", "opening", "gentle"), [
    (("goblet squats", "push-ups"), "", False),
    (("cat cow", "push-ups"), "", True),
    (("cat cow", "push-ups", "goblet squats"), "", False),
    (("cat cow", "arm circles", "push-ups"), "", True),
    (("goblet squats", "push-ups"), "A mobility session.", True),
    (("goblet squats", "push-ups"), "A recovery session.", True),
    (("goblet squats", "push-ups"), "A strength session.", False),
])
def test_a_gentle_class(names, opening, gentle, case_of):
    numbers = ("one", "two", "three")
    case = case_of(f"[0:00] {opening} Moves for everyone, forty on, twenty off.\n"
                   + "".join(f"[0:{k + 1}0] Number {numbers[k]}, {name}.\n" for k, name in enumerate(names)))
    assert is_gentle(case, looking.shown(case)) == gentle


def test_nothing_shown_is_gentle(case_of):
    assert is_gentle(case_of("[0:00] Evening everybody.\n"), [])


def test_words_that_begin_so(case_of):
    case = case_of("[0:00] We stretch now and cooling comes later.\n")
    assert says_any(case, "cool")
    assert says_any(case, "nothing", "stretch")
    assert not says_any(case, "oling")
    assert says_any(case, "stretch", first=1)
    assert not says_any(case, "stretch", first=2)
    assert says_any(case, "cool", end=5)
    assert not says_any(case, "cool", end=4)


@pytest.mark.parametrize(("leave", "shown"), [
    ("See you.", True), ("Bye everyone.", True), ("Goodbyes are hard.", False), ("Seeing you.", False), ("Same time as always.", True),
    ("Take care.", True), ("Take the kit.", False),
])
def test_taking_leave(leave, shown, case_of):
    assert shows_the_end(case_of(f"[0:00] And that is it. {leave}\n")) == shown


def test_leave_is_taken_in_the_last_sixty_words(case_of):
    def talk(after):
        return case_of("[0:00] Bye. " + "on " * after + ".\n")

    assert shows_the_end(talk(59))
    assert not shows_the_end(talk(60))


# ---------------------------------------------------------------- equipment


def test_what_does_for_each_other():
    assert kind_of("kettlebell") == kind_of("dumbbell") == "dumbbell"
    assert kind_of("foam roller") == "foam roller"
    assert kind_of("bench") == kind_of("box")
    assert is_fetched("foam roller")
    assert not is_fetched("mat")


def test_the_words_for_it():
    assert words_of("foam roller") == {"roller", "rollers"}
    assert {"bench", "benches", "box", "boxes", "chair", "chairs"} <= words_of("step")
    assert "weight" not in words_of("step")


@pytest.mark.parametrize(("name", "begins", "ends"), [
    ("glute bridges", "floor", "floor"), ("air squats", "standing", "standing"), ("push-ups", "floor", "floor"),
    ("half-kneeling press", None, None),
])
def test_where_a_movement_begins_and_ends(name, begins, ends, case_of):
    (item,) = looking.shown(case_of(f"[0:00] Number one, {name}. Like so.\n"))
    assert (stance(item, end=False), stance(item, end=True)) == (begins, ends)


# ---------------------------------------------------------------- with what was followed


def test_the_words_after_the_work(case_of):
    case = case_of(FOUR + "[2:00] On.\n[2:40] Off.\n[3:20] Over.\n")
    over = {edge: work_is_over_at(replace(case, followed=delivered(f"w1.1={edge - 60}"))) for edge in (120, 121, 160, 500)}
    tokens = case.heard.words.tokens
    assert [tokens[over[e]].norm for e in (120, 121, 160)] == ["on", "off", "off"]
    assert over[500] == len(tokens)
    assert work_is_over_at(case) is None


@pytest.mark.parametrize(("rounds", "done", "after", "shown"), [
    (2, 2, 60.0, True), (2, 2, 59.9, False), (2, 1, 60.0, False), (None, None, 60.0, False), (0, 0, 60.0, False),
])
def test_a_recording_that_goes_on(rounds, done, after, shown, case_of):
    case = case_of(FOUR)
    plan = case.plan.model_copy(update={"source": case.plan.source.model_copy(update={"duration_s": 100.0 + after})})
    followed = delivered("w1.1=40", coverage=Coverage(rounds_planned=rounds, rounds_delivered=done))
    assert shows_the_end(replace(case, plan=plan, followed=followed)) == shown
