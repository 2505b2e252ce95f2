"""How a coach puts a class into words, and the plan that it makes: one way of talking a test."""

from __future__ import annotations

import pytest

from parser import load_lexicon
from parser.pipeline import plan, recorded
from parser.read import read_bytes

FORTY = "[0:00] Forty on, twenty off, three rounds.\n"


def talk_of(text: str):
    return read_bytes(text.encode(), name="said")


def made(text: str):
    return plan(talk_of(text), lexicon=load_lexicon())


def names(block) -> list[str]:
    return [m.name for m in block.movements]


# ---------------------------------------------------------------- names and numbers


@pytest.mark.parametrize("named", [
    "Butterfly, this is.", "Butterfly, it's called.", "Butterfly, they call this.", "Butterfly, that's called.",
])
def test_what_was_described_gets_its_name(named):
    text = ("[0:00] Four stretches, forty seconds each.\n[0:20] Calf stretch. Hands on the wall.\n[1:20] Chest stretch. Hand on the wall.\n"
            f"[2:20] Sit down, soles of the feet together. {named}\n[3:20] Hamstring stretch. Strap round the foot.\n")
    assert names(made(text).mains[0]) == ["calf stretch", "chest stretch", "butterfly stretch", "hamstring stretch"]


@pytest.mark.parametrize("opening", ["Next up, rises.", "Next one, rises.", "And now, rises."])
def test_what_is_presented_as_next_needs_no_more_than_its_name(opening):
    text = f"[0:00] We open with pliés. Heels apart.\n[0:30] {opening} Up on the toes, and lower.\n[1:00] Then arabesque. Leg behind you.\n"
    assert "heel raise" in names(made(text).mains[0])


def test_now_and_the_is_no_presentation():
    text = FORTY + "[0:05] Two moves.\n[0:10] Now, the breathing. I'll say it every time.\n[0:20] Number one, roll-ups. Slow.\n[0:30] Number two, bridges. Heels close.\n"
    assert names(made(text).mains[0]) == ["roll-up", "glute bridge"]


@pytest.mark.parametrize("third", ["Three. Circles. Leg stays up, hip height, and round it goes.", "Three, circles. Leg stays up, hip height, and round it goes.",
                                   "Three. Egg stirrers. Leg stays up, hip height, and round it goes."])
def test_a_number_alone_between_its_neighbours_names_what_follows_known_or_not(third):
    text = f"[0:00] Number one, clams. Heels together.\n[0:20] Number two, leg lifts. Toes forward.\n[0:40] {third}\n[1:00] And number four, front kicks. Kick, kick, sweep.\n"
    assert [m.number for m in made(text).mains[0].movements] == [1, 2, 3, 4]


@pytest.mark.parametrize("third", ["Three. Lovely. Keep going.", "Three. Four. Five.", "Three. Slow breaths."])
def test_a_number_alone_before_no_name_is_none(third):
    text = f"[0:00] Number one, clams. Heels together.\n[0:20] Number two, leg lifts. {third}\n[1:00] And number four, front kicks. Kick, kick, sweep.\n"
    assert names(made(text).mains[0]) == ["clam", "leg lift", "front kick"]


def test_a_series_that_comes_again_on_the_other_side_is_no_cool_down():
    text = ("[0:00] Three exercises on one leg, then all three on the other.\n[0:10] Exercise one, clams. Twelve, slow.\n[0:40] Exercise two, leg lifts. Twelve.\n"
            "[1:10] Exercise three, front kicks. Ten.\n[2:00] Hug the knee in, and over we go.\n[2:10] Clams on this side. Same again, twelve. One, two, three, four.\n"
            "[2:40] Leg lifts, twelve. One, two, three, four.\n[3:10] Front kicks, ten. One, two, three.\n[4:00] Cool down. Child's pose, five breaths.\n")
    assert [(b.kind, len(b.movements)) for b in made(text).blocks] == [("main", 3), ("cool_down", 1)]


@pytest.mark.parametrize("misheard, name", [("squads", "squat"), ("lunches", "lunge"), ("suemo squad", "sumo squat")])
def test_what_stands_behind_a_number_is_a_name_even_misheard(misheard, name):
    text = FORTY + f"[0:10] Station one, push-ups. Hands wide.\n[0:20] Station two, {misheard}, feet apart.\n[0:30] Station three, burpees. Hands down.\n"
    assert names(made(text).mains[0]) == ["push-up", name, "burpee"]


def test_a_first_thing_before_number_one_is_the_warm_up():
    text = (FORTY + "[0:10] Warm-up. First thing, marching, on the spot.\n[0:30] Then hip hinges, ten of those.\n[0:50] That's you warm. I show them once.\n"
            "[1:00] Number one, the deadlift. Bell on the floor.\n[1:20] Number two, push-ups. Hands wide.\n[1:40] Number three, the halo. Slow.\n")
    warm_up, main = made(text).blocks
    assert (names(warm_up), names(main)) == (["march", "hip hinge"], ["deadlift", "push-up", "halo"])


# ---------------------------------------------------------------- sides


@pytest.mark.parametrize("two, three", [
    ("Number two is the clamshell, right side.", "And number three, clamshell, left side."),
    ("Number two, clamshell on the right.", "Number three, clamshell on the left."),
    ("Number two, clamshell, left side down.", "Three, clamshell, right side down."),
])
def test_sides_with_a_number_each_are_movements_of_their_own(two, three):
    text = f"{FORTY}[0:10] Number one, dead bug. Slow.\n[0:30] {two} Heels together.\n[0:50] {three} Same thing.\n[1:10] Number four, glute bridge. Up you go.\n"
    movements = made(text).mains[0].movements
    assert [(m.number, m.name, m.sides.mode) for m in movements][1:3] == [(2, "clam", "one"), (3, "clam", "one")]
    assert movements[1].sides.first != movements[2].sides.first
    assert [m.name for m in movements][3:] == ["glute bridge"]


def test_a_movement_shown_again_without_the_other_side_is_the_same():
    text = f"{FORTY}[0:10] Number one, dead bug. Slow.\n[0:30] Number two, clamshell, right side.\n[0:50] Number two, the clamshell, heels together.\n"
    assert names(made(text).mains[0]) == ["dead bug", "clam"]


@pytest.mark.parametrize("said", [
    "I do all three on one leg, and then we roll over and do all three on the other one.",
    "We do all three on the right leg before the left gets its turn.",
    "All of it on the right side, then all of it on the left.",
])
def test_a_series_is_done_through_on_one_side_first(said):
    text = f"[0:00] Three moves lying on your side. {said}\n[0:20] Number one, clams. Twelve.\n[0:40] Number two, leg lifts. Twelve.\n[1:00] Number three, front kicks. Ten.\n"
    block = made(text).mains[0]
    assert block.each_side_through and {m.sides.mode for m in block.movements} == {"each"}


def test_repetitions_done_on_one_side_first_are_no_series():
    text = ("[0:00] An AMRAP, ten minutes. First one, sit-to-stand. Ten of them.\n[0:20] Second, bird dog. Six each side. All six with the right leg first, and then "
            "six with the left leg.\n[0:40] Third, push-ups. Eight.\n")
    block = made(text).mains[0]
    assert not block.each_side_through and block.movements[1].sides.mode == "each"


def test_both_knees_are_both_sides_however_one_rocks():
    text = (FORTY + "[0:10] Number one, goblet squats. Slow.\n[0:20] Number two, push-ups. Hands wide.\n[0:40] Three, two, one.\n[0:45] Go! Squats.\n"
            "[1:25] And rest.\n[5:00] That's all of it. Let's cool down. Hug both knees in to your chest. Rock a bit, side to side. Five big breaths.\n"
            "[5:40] Quad stretch. Right foot first, twenty seconds, then the left.\n")
    block = next(b for b in made(text).blocks if b.kind == "cool_down")
    assert block.movements[0].sides.mode == "both"


# ---------------------------------------------------------------- how much


def test_eights_are_counts():
    text = "[0:00] Barre. We open with pliés. Two eights.\n[0:30] Next up, rises. Four eights of these.\n"
    assert [m.dose.counts for m in made(text).mains[0].movements] == [16, 32]


@pytest.mark.parametrize("noun", ["round", "bell"])
def test_a_combination_each_is_gone_through_once(noun):
    text = (f"[0:00] We've got three {noun}s. Two minutes of work, and thirty seconds of rest.\n[0:20] {noun.title()} one. Jab, cross, hook.\n"
            f"[0:40] {noun.title()} two. Jab, slip, cross.\n[1:00] {noun.title()} three. Hook, uppercut, cross.\n")
    block = made(text).mains[0]
    assert (len(block.movements), block.rounds, block.work_s, block.rest_s) == (3, 1, 120, 30)


def test_when_all_announced_have_their_numbers_a_number_said_again_opens_nothing():
    text = (FORTY + "[0:05] Three moves.\n[0:10] Number one, goblet squats. Bell at the chest.\n[0:20] Number two, push-ups. Hands wide.\n"
            "[0:30] Number three, glute bridges. Heels close.\n[0:50] The bus up here is the number ten. And mountain climbers are for Monday.\n")
    assert names(made(text).mains[0]) == ["goblet squat", "push-up", "glute bridge"]


def test_going_easy_between_the_pieces_is_no_movement():
    text = ("[0:00] Five rounds. Two minutes of work, and after every one you get a minute of easy paddling.\n"
            "[0:30] Number one, goblet squats. Slow.\n[0:40] Number two, push-ups. Hands wide.\n")
    block = made(text).mains[0]
    assert (block.work_s, block.rest_s, names(block)) == (120, 60, ["goblet squat", "push-up"])


@pytest.mark.parametrize("aside", ["So both sides, once each, and you're done.", "I did it once on one leg.", "He tried that once."])
def test_what_is_said_while_a_movement_is_shown_is_not_how_often_the_class_goes_round(aside):
    text = (FORTY + f"[0:10] Number one, goblet squats. Bell at the chest.\n[0:20] Number two, reverse lunges. {aside}\n"
            "[0:30] Number three, glute bridges. Heels close.\n")
    assert made(text).mains[0].rounds == 3


def test_the_minute_of_the_clock_is_no_number_of_a_movement():
    text = ("[0:00] An EMOM. Two moves, four times through.\n[0:20] First minute is the sandbag clean. Eight of those.\n[0:40] Second minute, box jumps. Ten of them.\n"
            "[1:00] Three, two, one.\n[1:03] Go! Cleans.\n[2:03] Box jumps.\n[3:03] That's minute three, back on the bag. Clean. Eight.\n[4:03] Minute four, boxes. Ten.\n")
    assert names(made(text).mains[0]) == ["sandbag clean", "box jump"]


@pytest.mark.parametrize("counted", [
    "Lift, two, three. Kneecap up. Five. Square hips. Seven, and eight.", "One. Two. Don't lean. Four. The ribs are closed. Six, seven, eight.",
    "Two. Three, four. Long spine, Bernard. Seven, and eight.",
])
def test_a_count_with_words_in_the_place_of_numbers_is_no_dose(counted):
    text = f"[0:00] We open with pliés. Heels apart. Two eights.\n[0:30] Then the arabesque. Leg behind you, long.\n[0:40] {counted}\n[1:00] Then bridges. Four eights.\n"
    assert [(m.dose.reps, m.dose.counts) for m in made(text).mains[0].movements] == [(None, 16), (None, None), (None, 32)]


@pytest.mark.parametrize("opening", ["next up rises", "then we have rises"])
def test_what_is_presented_after_a_silence_needs_no_marks(opening):
    text = (f"WEBVTT\n\n00:00.000 --> 00:04.000\nwe open with pliés heels apart toes out\n\n00:30.000 --> 00:34.000\n{opening} heels together up on the balls of your feet\n\n"
            "01:00.000 --> 01:04.000\nthen the arabesque leg behind you long\n")
    assert "heel raise" in names(made(text).mains[0])


def test_the_numbers_of_one_sentence_are_the_ladder():
    text = ("[0:00] A ladder, for time. Number one, thrusters. Number two, sit-ups.\n[0:30] You do ten and ten, then eight and eight, two and two. "
            "Ten, eight, six, four, two. Down the ladder and out.\n")
    assert made(text).mains[0].rep_scheme == [10, 8, 6, 4, 2]


def test_kit_that_a_movement_is_named_after_is_kit_where_it_is_asked_for():
    text = "[0:00] You'll need one of the skipping ropes and a mat. Forty on, twenty off.\n[0:10] Number one, push-ups. Hands wide.\n[0:20] Number two, bridges.\n"
    assert [e.name for e in made(text).equipment] == ["jump rope", "mat"]


def test_a_name_of_the_trade_with_the_same_number_is_what_a_nickname_is():
    text = (FORTY + "[0:10] Number one, goblet squats. Bell at the chest.\n[0:20] Number two, push-ups. Hands wide.\n[0:30] Number three's the wobblers, I'm getting giddy.\n"
            "[0:40] Number three is the glute bridge. Heels close.\n")
    assert names(made(text).mains[0]) == ["goblet squat", "push-up", "glute bridge"]


@pytest.mark.parametrize("said", [
    "Twelve minutes. You go round and round at your own pace, and nobody counts your rounds for you.",
    "It stands for as many rounds as possible, and I say as many as you feel like. It's twelve minutes, four movements.",
])
def test_the_length_of_an_amrap_may_be_said_a_little_later(said):
    text = f"[0:00] The first part's an AMRAP. {said}\n[0:20] First one, sit-to-stand. Ten of them.\n[0:30] Second, wall push-ups. Eight.\n"
    block = made(text).mains[0]
    assert (block.format, block.duration_s) == ("amrap", 720)


def test_words_said_short_are_the_words():
    text = ("[0:00] Forty on, twenty off, three rounds.\n[0:10] Let's get movin'. Jumpin' jacks, thirty of 'em.\n[0:40] That's y'all warm.\n"
            "[0:50] Number one, push-ups. Hands wide.\n[1:10] Number two, plank jacks. Easy way is steppin' it.\n")
    warm_up, main = made(text).blocks
    assert [(m.name, m.dose.reps) for m in warm_up.movements] == [("jumping jack", 30)]
    assert (names(main), [o.kind for o in main.movements[1].options]) == (["push-up", "plank jack"], ["regression"])


@pytest.mark.parametrize("announced", [
    "First trip, you're thirty seconds on each job. Second trip it's forty five. Then a full minute. And you come back down, forty five, and you finish on thirty.",
    "First loop, thirty seconds on each. Second loop, forty five. Then a minute, then back to forty five, and the last one's thirty.",
])
def test_a_ladder_of_time_by_the_coachs_own_rounds(announced):
    text = f"[0:00] It's a ladder of time. Three jobs. {announced} Five trips, five loops.\n[0:30] Job one, wall balls. Job two, step-overs. Job three, sprawls.\n"
    block = made(text).mains[0]
    assert (block.time_scheme, block.work_s, block.rounds) == ([30, 45, 60, 45, 30], None, 5)


@pytest.mark.parametrize("opener", ["Next up's a superset, so that's two moves.", "Now a superset. Two moves.", "It's a superset, two moves."])
def test_a_format_that_comes_next_opens_a_block(opener):
    text = ("[0:00] Lift number one. That's the deadlift, five sets of five. Two minutes between your sets.\n[0:30] Here we go, first set. Deadlift.\n[1:10] Rest.\n"
            f"[3:10] Last set. Pull.\n[3:50] Okay, done. Strip the bars.\n[4:20] {opener} First half of it is bench press, ten reps. Then it's a single-arm row, eight on the right, "
            "eight on the left. Three sets, ninety seconds before we go again.\n")
    assert [(names(b), b.rounds) for b in made(text).mains] == [(["deadlift"], 5), (["bench press", "single-arm row"], 3)]


@pytest.mark.parametrize("said, led", [
    ("Roll over, and we'll do pigeon. Forty five seconds.", True), ("Into pigeon. Forty five seconds.", True), ("Pigeon on the roof, look at it.", False),
    ("The pigeon's back. Forty five seconds of peace.", False),
])
def test_a_bird_is_a_pose_where_it_is_led_to(said, led):
    text = FORTY + f"[0:10] Number one, push-ups. Hands wide.\n[0:20] Number two, bridges. Heels close.\n[3:00] Let's cool down. {said}\n[4:00] Child's pose, five breaths.\n"
    blocks = [b for b in made(text).blocks if b.kind == "cool_down"]
    assert ("pigeon" in [m.name for b in blocks for m in b.movements]) == led


@pytest.mark.parametrize("fourth", ["And then glute bridges, number four. Heels close.", "Glute bridges, number four."])
def test_a_number_may_stand_behind_its_movement(fourth):
    text = FORTY + f"[0:10] Goblet squats, number one. Bell at the chest.\n[0:20] Push-ups, number two. Hands wide.\n[0:30] Number three, burpees. Hands down.\n[0:40] {fourth}\n"
    assert [(m.number, m.name) for m in made(text).mains[0].movements] == [(1, "goblet squat"), (2, "push-up"), (3, "burpee"), (4, "glute bridge")]


@pytest.mark.parametrize("first, last", [
    ("We've got goblet squats to kick us off.", "And you end with bridges."), ("Kicking off with goblet squats.", "And to round it off, bridges."),
    ("Up first we have goblet squats.", "And we close out with bridges."), ("First cab off the rank is the goblet squat.", "We wrap up with bridges."),
])
def test_what_is_shown_before_the_warm_up_is_announced_is_none_of_it(first, last):
    text = FORTY + (f"[0:20] {first} Bell at the chest.\n[0:40] Then we go to push-ups. Hands wide.\n[1:00] {last} Heels close.\n"
                    "[1:20] Right, warm up. March on the spot. Big arm circles.\n[3:00] Three, two, one. Go!\n")
    warm_up, main = made(text).blocks
    assert (names(warm_up), names(main)) == (["march", "arm circle"], ["goblet squat", "push-up", "glute bridge"])


@pytest.mark.parametrize("said, mode", [
    ("Eight on the right leg, all eight of them, and then eight on the left.", "each"), ("Eight each leg.", "alternating"), ("Swap legs every time.", "alternating"),
])
def test_sides_with_their_own_amounts_come_one_after_the_other(said, mode):
    text = f"[0:00] Every ninety seconds, two moves, four laps.\n[0:10] Number one, goblet reverse lunge. {said}\n[0:30] Number two, push-ups. Ten.\n"
    assert made(text).mains[0].movements[0].sides.mode == mode


def test_positions_held_for_breaths_are_a_flow():
    text = "[0:00] Low lunge. Left knee down. Five breaths.\n[0:40] Warrior two. Five breaths.\n[1:20] Triangle. Five breaths.\n[2:00] Tree. Six breaths.\n"
    assert made(text).mains[0].format == "flow"


@pytest.mark.parametrize("said, rest", [("Rest, ninety.", 90), ("Rest, two minutes.", 120)])
def test_of_two_rests_announced_the_one_that_is_called_holds(said, rest):
    text = ("[0:00] Two lifts together, no rest in the middle. Four sets, ninety seconds between the sets.\n[0:20] Number one, front squats. Six reps.\n"
            "[0:40] Number two, chin-ups. Six reps. And two minutes before the next set.\n[1:00] Here we go. First set.\n"
            f"[1:40] {said}\n[3:10] Second set.\n[3:50] {said}\n")
    assert made(text).mains[0].round_rest_s == rest


@pytest.mark.parametrize("said", [
    "One, jumping jacks. Two, squats. Three, push-ups. Four, plank. Five, burpees.", "One, jumping jacks, two, squats, three, push-ups, four, plank, five, burpees.",
])
def test_numbers_with_a_movement_each_are_no_repetitions_counted_aloud(said):
    text = f"[0:00] Five exercises, thirty seconds each, three rounds.\n[0:20] {said}\n"
    assert [(m.number, m.name) for m in made(text).mains[0].movements] == [(1, "jumping jack"), (2, "squat"), (3, "push-up"), (4, "plank"), (5, "burpee")]


def test_repetitions_counted_aloud_are_no_numbers():
    text = FORTY + "[0:10] Number one, squats. And one, squat. Two, squat. Three, squat. Four, squat.\n[0:30] Number two, push-ups. Hands wide.\n"
    assert names(made(text).mains[0]) == ["squat", "push-up"]


@pytest.mark.parametrize("listed, expected", [
    ("Ten burpees, twenty kettlebell swings, thirty double unders.", ["burpee", "kettlebell swing", "double under"]),
    ("Ten thrusters, fifteen sit-ups, and a two hundred metre run.", ["thruster", "sit-up", "run"]),
    ("Thrusters and pull-ups.", ["thruster", "pull-up"]),
])
def test_amounts_one_after_the_other_list_what_is_done(listed, expected):
    text = f"[0:00] Five rounds for time, twenty minute cap.\n[0:10] {listed}\n[0:20] Right, get your water.\n"
    assert names(made(text).mains[0]) == expected


@pytest.mark.parametrize("said, scheme", [
    ("Thirty seconds, then forty, fifty, sixty, then back down fifty, forty, thirty. Fifteen seconds between.", [30, 40, 50, 60, 50, 40, 30]),
    ("Twenty seconds, thirty seconds, forty seconds. Ten seconds between.", [20, 30, 40]),
])
def test_the_rest_is_no_rung_of_the_pyramid(said, scheme):
    assert made(f"[0:00] The main set's a pyramid. {said} Just the one move, kettlebell swings.\n").mains[0].time_scheme == scheme


@pytest.mark.parametrize("said", ["Then three minutes off. Water.", "Three minutes rest after that."])
def test_the_rest_after_a_piece_for_time_is_no_rest_in_it(said):
    text = ("[0:00] Part one's for time. Twenty one, fifteen, nine. There's a ten minute cap.\n[0:20] First is kettlebell swings. Two hands.\n[0:30] Second, box jumps. Step down.\n"
            f"[0:50] {said}\n[1:00] Part two. It's an AMRAP, twenty minutes. One. Single-arm press, five each side. Two. Box dips, ten.\n")
    one, two = made(text).mains
    assert (one.format, one.rest_s, one.rest_after_s, two.format, two.duration_s) == ("for_time", None, 180, "amrap", 1200)


def test_the_second_superset_may_be_the_third_block():
    text = ("[0:00] You'll need a kettlebell, a mat, and a band. There's two halves to it. The first half's an EMOM, eight minutes.\n[0:20] Minute one's kettlebell swings, fifteen. "
            "Don't squat it. Too much, do ten.\n[0:40] Minute two is press-ups. If you want more of a challenge, feet on the bench.\n[1:00] Three, two, one. Go. Swing.\n"
            "[9:00] And stop. Two minutes, get a drink.\n[11:00] Okay, part two. Supersets. First one, bent-over rows, twelve reps, and split squats, ten each leg. Three rounds, "
            "and a minute's rest after each.\n[12:00] Off you go. Twelve rows.\n[13:00] Rest. A minute.\n"
            "[18:00] Good. Second superset is glute bridges, fifteen, and a side plank, thirty seconds each side. Three rounds.\n[18:30] Go on then.\n")
    plan = made(text)
    assert [names(b) for b in plan.mains] == [["kettlebell swing", "push-up"], ["bent-over row", "split squat"], ["glute bridge", "side plank"]]
    assert [e.name for e in plan.equipment if not e.optional] == ["kettlebell", "mat", "resistance band"]


@pytest.mark.parametrize("said, interval", [("Every ninety seconds, for twelve rounds, three power cleans.", 90), ("Every two minutes, ten rounds, three power cleans.", 120)])
def test_an_interval_makes_the_format(said, interval):
    block = made(f"[0:00] {said} That's it.\n").mains[0]
    assert (block.format, block.interval_s) == ("emom", interval)


# ---------------------------------------------------------------- done


def test_a_class_of_holds_is_followed_where_nobody_counted_the_rounds():
    text = ("[0:00] Three stretches, a minute each, and fifteen seconds to change over. Stand by the wall.\n[0:27] Three, two, one.\n[0:30] Calf stretch, hold it for a minute.\n"
            "[1:30] And off. Change over.\n[1:45] Butterfly stretch, hold it for a minute.\n[2:45] And let it go. Change over.\n"
            "[3:00] Child's pose, hold it for a minute.\n[4:00] And done. That's us.\n")
    done = recorded(talk_of(text), lexicon=load_lexicon())
    assert done.plan.mains[0].rounds is None
    expected = [("work", 1, 30, 90), ("rest", 1, 90, 105), ("work", 2, 105, 165), ("rest", 2, 165, 180), ("work", 3, 180, 240)]
    assert [(i.kind, i.number) for i in done.delivered] == [e[:2] for e in expected]
    assert [t for i in done.delivered for t in (i.start, i.end)] == pytest.approx([t for e in expected for t in e[2:]], abs=2.0)     # stamps: a second or two


# ---------------------------------------------------------------- said in other words than most


SHOWN = "[0:20] Number one, goblet squats. Chest up.\n[0:40] Number two, push-ups. Hands wide.\n[1:00] Number three, mountain climbers. Hips low.\n"
WORKED = "[3:00] Three, two, one.\n[3:03] Go. Squats.\n[3:43] Rest.\n[4:03] Go. Push-ups.\n[4:43] Rest.\n[5:03] Go. Climbers.\n[5:43] Rest.\n"


@pytest.mark.parametrize("opening", ["Right then, you lot.", "Let's get the oil round first.", "Preparation first.", "Shake the rust off."])
def test_a_warm_up_that_is_announced_in_no_usual_words(opening):
    text = FORTY + SHOWN + f"[1:20] {opening} March on the spot. Tall.\n[1:50] Arm circles, both ways. Big ones.\n[2:20] Hip hinges, hands on your hips.\n" + WORKED
    warm_up = next(b for b in made(text).blocks if b.kind == "warm_up")
    assert names(warm_up) == ["march", "arm circle", "hip hinge"]


def test_a_recap_is_no_warm_up_though_a_class_gets_going_with_what_it_names():
    text = FORTY + SHOWN.replace("goblet squats. Chest up", "marching. Knees up") + "[1:20] So that's march, push-ups, climbers.\n" + WORKED
    assert not [b for b in made(text).blocks if b.kind == "warm_up"]


@pytest.mark.parametrize("said, work_s, rest_s", [
    ("Fifty seconds you're busy, ten seconds you're not.", 50, 10), ("You work for forty-five seconds, you chill for fifteen.", 45, 15),
    ("Forty seconds like you mean it, twenty like you don't.", 40, 20),
])
def test_work_and_rest_by_their_lengths_alone(said, work_s, rest_s):
    block = made(f"[0:00] Three rounds of three moves. {said}\n{SHOWN}").mains[0]
    assert (block.work_s, block.rest_s) == (work_s, rest_s)


def test_two_lengths_of_a_class_of_holds_are_no_work_and_rest():
    text = ("[0:00] Once round, five stretches. From a minute down to thirty seconds, and I'll say which.\n[0:20] Calf stretch, thirty seconds each side.\n"
            "[1:20] Quad stretch, thirty seconds each side.\n[2:20] Chest stretch, hold it for a minute.\n[3:20] Hamstring stretch, thirty seconds each side.\n"
            "[4:20] Glute stretch, thirty seconds each side.\n")
    assert [(b.work_s, b.rest_s) for b in made(text).mains] == [(None, None)]


@pytest.mark.parametrize("said, seconds", [
    ("you get fifteen minutes to breathe. Minutes! Sorry, seconds", 15), ("you get fifteen minutes off, I mean seconds", 15),
    ("you get thirty minutes of rest. Minutes? Seconds", 30),
])
def test_the_unit_alone_is_put_right(said, seconds):
    text = f"[0:00] Three rounds, forty seconds of work. After each one {said}, that's what you get.\n{SHOWN}"
    assert made(text).mains[0].rest_s == seconds


@pytest.mark.parametrize("said, needed", [
    ("Two dumbbells and a bench. The barbells are locked up, don't ask.", ["dumbbell", "bench"]),
    ("Two dumbbells and a mat. Leave the kettlebells where they are.", ["dumbbell", "mat"]),
    ("A mat each. No bands tonight, the bands are all broken.", ["mat"]), ("A chair each, and set it up against the wall.", ["chair"]),
    ("A mat each. If it hurts, stick an arm up.", ["mat"]),
])
def test_what_nobody_is_to_fetch_is_no_equipment(said, needed):
    assert [e.name for e in made(f"[0:00] You'll need something. {said} Forty on, twenty off, three rounds.\n{SHOWN}").equipment] == needed


def test_a_piece_for_time_that_is_told_of_while_the_class_rests_is_another_block():
    text = ("[0:00] First job's a pair. Bench press, ten reps. Then rows, twelve reps. You don't stop in between, and once you've done both of them you get ninety seconds. "
            "Three sets like that.\n[1:00] First set. Ten presses.\n[1:30] Twelve rows.\n[2:00] And sit. Ninety seconds.\n[3:30] Second set.\n[6:00] Last set of the three.\n"
            "[7:30] Bells down. That's your lifting. Get a drink.\n[8:00] The cut-down. This one's for time. Three things in it. Thrusters, burpees, sit-ups. You do fifteen of each. "
            "Then you go round again and it's twelve of each. Then nine. Then six.\n[8:30] There's a twelve-minute cap.\n[8:40] Thrusters. Bells on your shoulders.\n"
            "[9:00] Burpees. Chest down.\n[9:20] Sit-ups, on the mat.\n[10:00] Three, two, one. Go.\n")
    first, second = made(text).mains
    assert (first.format, first.rounds, first.rest_s, first.round_rest_s) == ("sets", 3, 0, 90)
    assert (second.format, second.duration_s, second.rep_scheme) == ("for_time", 720, [15, 12, 9, 6])


def test_a_block_that_is_known_is_named_again_and_no_other_is_opened():
    text = ("[0:00] There are two supersets. Superset one is two movements. The first is a Romanian deadlift, ten reps. The second is a floor press, eight reps. "
            "Three sets, ninety seconds after each.\n[1:00] Is that you, Jo? We're on superset one.\n[2:00] Set one. Deadlifts.\n[4:00] And finished. That's superset one. "
            "Two minutes before the next one.\n[6:00] Superset two. The first movement is the reverse fly, twelve reps. The second is the split squat, eight reps. Three sets of it.\n")
    assert [names(b) for b in made(text).mains] == [["romanian deadlift", "floor press"], ["reverse fly", "split squat"]]


def test_a_name_that_nobody_knows_is_told_by_another():
    text = FORTY + ("[0:10] Three games.\n[0:20] Game one, squats. Chest up.\n[0:40] Game two is the washing machine. Sit down, lean back a touch, hold your cushion, and twist it over to "
                    "one hip and then over to the other. Russian twists, your gym people say.\n[1:00] Game three, mountain climbers. Hips low.\n")
    assert names(made(text).mains[0]) == ["squat", "russian twist", "mountain climber"]


def test_all_of_it_on_the_other_side_is_as_much_again():
    text = ("[0:00] One series on one leg, and then all of that on the other side.\n[0:20] Number one, side leg lift. Kneecap to the front. Twelve, please.\n"
            "[0:40] Number two, leg circles. Toe pointed. Eight of them.\n[1:00] And all of that on the other side. Left leg.\n")
    assert [(m.sides.mode, m.sides.reps_each) for m in made(text).mains[0].movements] == [("each", 12), ("each", 8)]


def test_laps_that_are_laid_out_one_by_one_are_not_under_way():
    text = ("[0:00] First lap is twenty seconds of each. Second lap it's thirty. Third lap, forty. You always get fifteen seconds in between exercises.\n" + SHOWN + WORKED)
    block = made(text).mains[0]
    assert (block.time_scheme, block.rest_s) == ([20, 30, 40], 15)


def test_a_format_is_no_noun_of_the_coach():
    text = ("[0:00] Three tabatas tonight. First tabata. Two moves, four goes each.\n[0:20] Number one, squats. Chest up.\n[0:40] Number two, lunges. Long step.\n[1:00] Three, two, one. Go.\n"
            "[1:20] Rest.\n[5:00] That's one. Second tabata. Two moves again.\n[5:20] First it's push-ups. Hands wide.\n[5:40] Then second it's rows. Flat back.\n[6:00] Three, two, one. Go.\n")
    assert [names(b) for b in made(text).mains] == [["squat", "lunge"], ["push-up", "row"]]


@pytest.mark.parametrize("said, walked", [("Walk about a bit, don't sit down.", False), ("Walk to the gate and back.", True), ("Walk for two minutes.", True)])
def test_walking_for_the_breath_is_no_part_of_the_cool_down(said, walked):
    text = FORTY + SHOWN + WORKED + f"[6:00] And done. That's the work.\n[7:00] Cool down. {said} Calf stretch, twenty seconds each side.\n[8:00] Chest stretch, twenty seconds.\n"
    cool_down = next(b for b in made(text).blocks if b.kind == "cool_down")
    assert ("walk" in names(cool_down)) == walked


SECOND = [
    ("Thirty seconds on, fifteen off, four rounds of mountain climbers and jumping jacks.", "interval"),
    ("Thirty seconds on, fifteen off, four rounds, and two moves. First, mountain climbers. Second, jumping jacks.", "interval"),
    ("An eight minute AMRAP. Ten mountain climbers and ten jumping jacks, as many rounds as you can.", "amrap"),
    ("Tabata, twenty ten, eight rounds. Mountain climbers and jumping jacks, taking turns.", "tabata"),
    ("It's for time, cap of eight minutes. Twenty mountain climbers, then jumping jacks, thirty of them.", "for_time"),
    ("An EMOM, eight minutes. Minute one, ten mountain climbers. Minute two, twenty jumping jacks.", "emom"),
]


@pytest.mark.parametrize("shown_ahead", [True, False], ids=["in the welcome", "after the first"])
@pytest.mark.parametrize("said, format", SECOND)
@pytest.mark.parametrize("opener", ["Then the second half.", "Then something different.", "And after a rest, a short one."])
def test_a_second_block_by_whatever_words_it_opens(opener, said, format, shown_ahead):
    second = f"{opener} {said}\n"
    text = ("[0:00] Forty on, twenty off, two rounds, two moves.\n[0:20] Number one, goblet squats. Chest up.\n[0:30] Number two, push-ups. Hands wide.\n"
            + (f"[0:40] {second}" if shown_ahead else "") + "[3:00] Three, two, one. Go. Squats.\n[3:40] And rest.\n[4:00] Go. Push-ups.\n[4:40] Rest.\n"
            "[5:00] Round two. Squats, go.\n[5:40] Rest.\n[6:00] Push-ups, go.\n[6:40] And stop. Well done.\n" + ("" if shown_ahead else f"[7:30] {second}")
            + "[8:40] Three, two, one. Go. Climbers.\n[9:25] Jacks.\n[10:10] Climbers.\n[10:40] And stop.\n")
    plan = made(text)
    assert [names(b) for b in plan.mains] == [["goblet squat", "push-up"], ["mountain climber", "jumping jack"]]
    assert [b.format for b in plan.mains] == ["interval", format]


def test_a_block_that_is_only_promised_is_not_begun():
    text = ("[0:00] Two pieces tonight. The first is forty on, twenty off, two rounds, two moves.\n[0:20] Number one, goblet squats. Chest up.\n[0:30] Number two, push-ups. Hands wide.\n"
            "[0:40] After it you have ninety seconds. I'll explain piece two when we get there.\n[1:00] Warm up. March on the spot.\n[1:30] Arm circles. Big ones.\n"
            "[3:00] Three, two, one. Go. Squats.\n[3:40] And rest.\n[4:00] Go. Push-ups, press, press.\n[4:40] Rest.\n[5:00] Go. Squats.\n[5:40] Rest.\n[6:00] Go. Push-ups.\n[6:40] And stop.\n"
            "[7:00] Piece two. Thirty on, fifteen off, twice, two moves. First, mountain climbers. Second, jumping jacks.\n[8:40] Three, two, one. Go. Climbers.\n[9:25] Go. Jacks.\n[10:40] And stop.\n")
    assert [names(b) for b in made(text).mains] == [["goblet squat", "push-up"], ["mountain climber", "jumping jack"]]


@pytest.mark.parametrize("said", ["Time, that's sixteen minutes.", "And that's time. Sixteen minutes, done.", "Sixteen minutes, you did it."])
def test_what_has_been_done_is_no_length_of_the_cool_down(said):
    text = ("[0:00] Every minute on the minute for sixteen minutes. Number one, swings. Number two, push-ups.\n[1:00] Three, two, one, go. Swings.\n"
            f"[17:00] {said} Let's cool down. Child's pose, and breathe.\n[19:00] Thanks, everybody, bye.\n")
    cool_down = next(b for b in made(text).blocks if b.kind == "cool_down")
    assert cool_down.duration_s is None
    named = made(text.replace("Let's cool down.", "Let's cool down. Five minutes of that."))
    assert next(b for b in named.blocks if b.kind == "cool_down").duration_s == 300


def test_minutes_that_are_added_up_are_no_ladder():
    text = "[0:00] Warm-up, some rows. That's two, one, one, one, two. Seven.\n[0:30] Number one, swings, ten reps. Number two, push-ups, ten reps. Four rounds.\n"
    assert all(b.rep_scheme is None for b in made(text).mains)


def test_what_the_work_comes_to_is_no_length_of_the_class():
    text = ("[0:00] Right, it's four moves, sixteen minutes. Every minute on the minute, four rounds.\n[0:20] Warm up first, two minutes, marching.\n"
            "[2:30] Minute one, swings. Minute two, push-ups. Minute three, goblet squats. Minute four, dead bugs.\n")
    assert made(text).stated_length is None and made(text).totals.main_s == (960, 960)
    # another length is what people were told
    assert made(text.replace("four moves, sixteen", "four moves, twenty")).stated_length.seconds == 1200


# ---------------------------------------------------------------- a class of parts, each with its length


PARTS = """[0:00] Warm-up, two supersets, cool-down. Forty-five minutes, start to finish.
[0:20] Alright, warm-up. Seven minutes. Arm circles, big ones. Then leg swings.
[1:00] Superset A. Three sets. A one is the Romanian deadlift, ten reps. A two is the floor press, eight reps. Sixty seconds' rest after the pair.
[3:00] Right, after A we've got two minutes to reset, get water, change weights.
[3:20] Superset B, also three sets. B one is a one-arm row, ten reps each side. B two is step-ups, eight reps each leg. Seventy-five seconds after each pair.
"""


def test_the_length_of_the_class_is_none_of_the_warm_up_that_is_named_beside_it():
    found = made(PARTS)
    assert found.stated_length.seconds == 2700 and next(b for b in found.blocks if b.kind == "warm_up").duration_s == 420


@pytest.mark.parametrize(("said", "warm_up_s"), [
    ("Okay, first the warm-up. Five minutes. Arm circles, big ones.", 300), ("So, warm-up. Five minutes. Arm circles, big ones.", 300),
    ("Now the warm-up, arm circles, big ones. Thirty seconds.", None), ("That's the warm-up done, arm circles and all. Nearly.", None),
])
def test_a_length_alone_behind_the_word_for_it_is_that_of_the_warm_up(said, warm_up_s):
    text = f"[0:00] Three moves, forty on, twenty off, three rounds.\n[0:10] {said}\n[1:30] Number one, goblet squats.\n[1:40] Number two, push-ups.\n[1:50] Number three, lunges.\n"
    assert [b.duration_s for b in made(text).blocks if b.kind == "warm_up"] == [warm_up_s]


@pytest.mark.parametrize(("said", "rest_s"), [
    ("Right, after A we've got two minutes to reset, get water, change weights.", 120), ("Then we have two minutes to reset, get some water.", 120),
    ("After each set you've got two minutes, get water.", None), ("After every pair we've got two minutes to breathe.", None),
])
def test_the_time_before_another_block_is_the_rest_before_it_and_not_one_of_its_sets(said, rest_s):
    mains = made(PARTS.replace("Right, after A we've got two minutes to reset, get water, change weights.", said)).mains
    assert [names(b) for b in mains] == [["romanian deadlift", "floor press"], ["single-arm row", "step-up"]]
    assert mains[0].rest_after_s == rest_s


def test_a_second_superset_is_another_block_where_its_first_movement_is_named_a_little_later():
    mains = made(PARTS.replace("Superset A.", "Good mornings and squats, ten of each, that's the primer. Superset A.")).mains
    assert ["single-arm row", "step-up"] in [names(b) for b in mains] and mains[-1].round_rest_s == 75


SUPERSETS = ("[0:42] Warm-up, six minutes. Cat-cow, ten of those. Then glute bridges, fifteen.\n[1:10] Okay. First superset, we'll call it A. A one is the "
             "goblet squat, ten reps. {tempo}\n[1:38] A two is a single-arm row, hand on the bench, ten each side.\n[2:02] So squat, row left, row right, "
             "then ninety seconds off. Four sets of that pair.\n[2:35] Second superset, B. B one is the reverse lunge, eight reps each leg.\n"
             "[3:05] B two, floor press, twelve reps.\n[3:27] Three sets. Rest after the pair is seventy-five seconds.\n")


@pytest.mark.parametrize("tempo", [
    "", "The tempo is three one one, so three seconds down, one second at the bottom, one second up.", "Tempo three, zero, one.",
    "Four seconds to lower, one second to stand.",
])
def test_how_slowly_a_repetition_is_done_is_no_work_on_the_clock(tempo):
    block = made(SUPERSETS.format(tempo=tempo)).mains[0]
    assert (block.work_s, block.time_scheme, block.rep_scheme, [m.dose.reps for m in block.movements]) == (None, None, None, [10, 10])
    assert all(m.dose.seconds is None for m in block.movements)


def test_sets_said_of_a_pair_are_its_own_where_another_superset_is_opened_behind_them():
    assert [(b.rounds, names(b)) for b in made(SUPERSETS.format(tempo="")).mains] == [
        (4, ["goblet squat", "single-arm row"]), (3, ["reverse lunge", "floor press"])]


@pytest.mark.parametrize(("name", "dose"), [
    ("heel lift, twelve", (12, None)), ("single-leg stretch, eight each side", (None, 8)), ("cobra pose, five breaths", (None, None)), ("leg lift, ten times", (10, None)),
])
def test_a_dose_behind_a_name_that_ends_in_lift_or_pose_is_no_number_of_a_movement(name, dose):
    """A heel lift is no lift of a number."""
    text = f"[0:00] Mat work. First, glute bridges, ten.\n[0:20] Then the {name}.\n[0:40] Then clams, ten each side.\n[1:00] Three rounds of that.\n"
    moves = made(text).mains[0].movements
    assert len(moves) == 3 and (moves[1].dose.reps, moves[1].sides.reps_each) == dose and moves[1].dose.breaths == (5 if "breaths" in name else None)


LADDER = ("[0:00] Second half today is tabata, twenty seconds on, ten off, two moves, four times through.\n[0:20] First one's push-ups. Chest down.\n"
          "[0:40] Second one, plank jacks. Jump the feet wide.\n[1:00] {off} {opening} What I want is a ladder coming down, so it's ten, then eight, then six, then four, "
          "then two. Two moves in it. Goblet squats with the bell, and burpees.\n[1:40] And I'm giving them eight minutes for the ladder.\n")


@pytest.mark.parametrize(("off", "rest_s"), [("Two minutes off again after that.", 120), ("Ninety seconds off, then on we go.", 90), ("Good.", None)])
@pytest.mark.parametrize("opening", ["Then it's the ladder to finish.", "Then there's the ladder.", "And the ladder to finish."])
def test_a_ladder_to_finish_is_another_block_with_a_rest_before_it(off, rest_s, opening):
    first, ladder = made(LADDER.format(off=off, opening=opening)).mains
    assert names(first) == ["push-up", "plank jack"] and names(ladder) == ["goblet squat", "burpee"]
    assert (first.rest_after_s, first.round_rest_s, list(ladder.rep_scheme)) == (rest_s, None, [10, 8, 6, 4, 2])


@pytest.mark.parametrize("said", ["You won't need the bands, leave the bands in the box.", "Your water goes under the bench.", "Leave your bags behind the box."])
def test_what_other_things_lie_in_is_not_needed(said):
    text = f"[0:00] Circuit today. Everybody needs a kettlebell. {said}\n[0:20] Number one, swings. Number two, push-ups. Forty on, twenty off, three rounds.\n"
    assert [e.name for e in made(text).equipment] == ["kettlebell"]


def test_another_floor_and_the_weather_are_no_harder_way():
    text = FORTY + "[0:10] Number one, swings. Number two, push-ups.\n[0:30] If it rains we go down to level two, by the lift, and it stinks, but it's dry.\n"
    assert [m.options for m in made(text).mains[0].movements] == [[], []]


CHAIR = ("[0:00] Seven things today... no, three things, {how}. Half a minute a side where there are sides, and in between the three you get fifteen seconds.\n"
         "[0:20] Number one, straight leg hold. Right leg out, hold it for thirty, and then the same on the left side for thirty.\n"
         "[0:40] Number two, sit to stand. Nose over your toes.\n[1:00] Number three, side bend hold. Right hand slides down, thirty seconds, then the same on the left.\n")


@pytest.mark.parametrize("how", ["and we do each of them just the once", "each one just once", "and we do all of these only once"])
def test_once_is_a_number_of_rounds_and_the_same_on_the_left_is_of_the_movement_that_is_shown(how):
    block = made(CHAIR.format(how=how)).mains[0]
    assert (block.rounds, block.rest_s, block.each_side_through) == (1, 15, False)


REHEARSAL = ("[0:00] Strength tonight.\n[0:10] Warm-up, six minutes. Cat-cow, ten of those. Then glute bridges, fifteen.\n"
             "[0:40] First superset. A one is the goblet squat, ten reps. A two is a single-arm row, ten each side. Ninety seconds off. Four sets of that pair.\n"
             "[1:20] Then the finisher. Eight minutes, AMRAP. Six thrusters, eight renegade rows and ten sit-ups.\n"
             "[1:50] And then cool-down, five minutes. Pigeon pose, a minute each side. Hip flexor stretch, forty-five seconds each side. "
             "And child's pose to finish.\n")
NOTES = ("[2:10] What am I going to say while they do it. For the goblet squat, big breath before you go down, knees out over the little toes.\n"
         "[2:30] For the row, shoulder away from the ear, belly button to the floor.\n[2:50] Thrusters, drive from the heels. Nobody jumps.\n"
         "[3:10] Lunges, if I swap them in. Step back long, not wide.\n[3:20] Between the two, two minutes to have a drink and move the benches out. And another two "
         "minutes before the finisher while I set the clock.\n[3:40] On the finisher I'll call four minutes gone and one minute left, and that's all the shouting "
         "they'll get. If the plank's too much, put a knee down.\n[4:00] Right. Does that fit? It'll be fine.\n")


@pytest.mark.parametrize("after", ["", NOTES])
def test_what_is_to_be_said_of_each_after_the_cool_down_is_told_is_no_more_of_the_class(after):
    plan = made(REHEARSAL + after)
    assert [(b.kind, names(b)) for b in plan.blocks] == [
        ("warm_up", ["cat-cow", "glute bridge"]), ("main", ["goblet squat", "single-arm row"]), ("main", ["thruster", "renegade row", "sit-up"]),
        ("cool_down", ["pigeon", "hip flexor stretch", "child's pose"])]


def test_another_name_is_in_the_words_that_were_said():
    text = FORTY + "[0:10] Number one, inchworms, slow walk out. Number two, push-ups.\n[0:40] Then goblet squats. Right, inchworms again, and slow walk outs.\n"
    said = text.lower().replace("-", " ")
    assert all(alias in said for m in made(text).mains[0].movements for alias in m.aliases)
    assert any(m.aliases for m in made(text).mains[0].movements)
