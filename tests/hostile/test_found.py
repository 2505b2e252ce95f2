"""What the fuzzer found, each with the words that broke something."""

import pytest

from parser import pipeline, read
from parser.model import Plan

from .test_any_text import hold_true


def plan_of(text: str) -> Plan:
    return pipeline.plan(read.read_bytes(text.encode(), name="found.md"))


def test_two_names_that_the_lexicon_does_not_have_are_two_movements():
    plan = plan_of("[0:00] Two moves, forty seconds on, twenty off.\n\n[0:10] Number one is the flummox wobble. Big ones.\n\n"
                   "[0:20] Number two is the grindle splat. Small ones.\n\n[0:40] Go!\n")
    assert [(m.number, m.name, m.aliases) for m in plan.blocks[0].movements] == [(1, "flummox wobble", []), (2, "grindle splat", [])]


def test_a_name_that_the_lexicon_does_not_have_said_twice_is_one_movement():
    plan = plan_of("[0:00] Two moves, forty seconds on, twenty off.\n\n[0:10] Number one is the flummox wobble. Big ones.\n\n"
                   "[0:20] Number two, push-ups.\n\n[0:40] Number one is the flummox wobble. Go!\n")
    assert sorted(m.name for m in plan.blocks[0].movements) == ["flummox wobble", "push-up"]


def test_captions_with_broken_bytes_in_their_times():
    broken = b"0:41\n00:00:43,111 --> 00:00:47,8econds to work\nand ten to get ready for\n\n3\n00:00:52,74" + b"\xff" * 40 + (
        b"1 --> 00:00:57,519\nthe next. Then after number five you\nget a minute and fiftee0)king anywhere, you're all doingYou've got fifty "
        b"seconds to work and ten to get\n0:52\nready fvr the next. Then after number five you get n, a minute and fifteen, you'r")
    hold_true(read.read_bytes(broken, name="broken.srt"))


@pytest.mark.parametrize("mark", [":", ",", ".", "/", "-", "½", "'s"])
@pytest.mark.parametrize("digits", [58, 59, 60, 61])
def test_digits_so_many_that_their_run_is_cut_behind_a_mark(digits, mark):
    # a run of letters is cut after sixty, and the piece before the cut may end with the mark
    hold_true(read.read_bytes(f"[0:00] three rounds of {'9' * digits}{mark}30 work\n".encode(), name="cut.md"))


@pytest.mark.parametrize("broken", [0, 1, 2])
def test_what_goes_from_a_caption_with_times_to_one_without(broken):
    said = ["Three rounds of squats, fifty seconds to work and ten to get", "ready. Then after number five you", "get a minute and fifteen, instead of the ten."]
    times = ['begin="bad"' if k == broken else f'begin="{5 * k}s" end="{5 * k + 4}s"' for k in range(3)]
    captions = "".join(f"<p {time}>{words}</p>" for time, words in zip(times, said))
    talk = read.read_bytes(f'<tt xmlns="http://www.w3.org/ns/ttml"><body><div>{captions}</div></body></tt>'.encode(), name="broken.ttml")
    hold_true(talk)
    sources = [source for block in pipeline.plan(talk).blocks for source in block.sources]
    assert any(source.start is not None for source in sources)


@pytest.mark.parametrize("said", [
    "Reps go twenty, ten, 4.961. Squats and push-ups", "Ladder of 9.5, 7.5, 5.5 reps. Squats and push-ups", "Number 1.5, squats. Number 2.5, push-ups",
    "2.5 rounds, round 1.5, squats", "Grab 1.5 dumbbells. Squats", "Squats, 7.5 reps. 2.5 breaths", "1.5 movements, 0.5 sets, 3.5 stations of squats",
    "Every 1.5 minutes on the minute for 10.5 rounds, squats",
])
def test_fractions_where_things_are_counted(said):
    hold_true(read.read_bytes(f"[0:00] Forty seconds on. {said}.\n\n[0:30] Go! Squats. Round 1.5. 2.5 left.\n".encode(), name="fractions.md"))


@pytest.mark.parametrize("many", [44444444, 10**12, 10**24])
@pytest.mark.parametrize("said", ["{} stations", "{} rounds", "{} sets", "{} reps of squats", "{} minute EMOM", "every {} seconds for {} minutes", "tabata, {} rounds of {} moves",
                                  "an AMRAP of {} minutes", "work for {} seconds and rest for {}", "ladder from {} down to 1", "round {} of {}", "exercise {}, swings"])
def test_a_number_beyond_all_bounds_is_no_list_of_so_many(said, many):
    """Alone, and beside other numbers."""
    words = said.format(*[many] * said.count("{}"))
    hold_true(read.read_bytes(f"[0:00] {words}. Squats and rows.\n".encode(), name="alone.md"))
    hold_true(read.read_bytes(f"[0:00] Three rounds today. {words}.\n\n[0:10] Squats, {words}. Exercise one, squats. Exercise two, rows.\n\n[0:40] Go! {words}\n".encode(), name="many.md"))
