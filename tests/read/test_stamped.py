"""Transcripts with stamps written by hand or by a transcriber. The forms are common practice, no source."""

import pytest

from .talk import cues, headings, read

THREE = [(0.0, 8.0, "Welcome to the net loft."), (8.0, 15.0, "Grab a mat."), (15.0, None, "Rest.")]


@pytest.mark.parametrize(
    "text",
    [
        "[0:00] Welcome to the net loft.\n[0:08] Grab a mat.\n[0:15] Rest.\n",
        "[0:00] Welcome to the net loft. [0:08] Grab a mat. [0:15] Rest.",
        "[0:00:00] Welcome to the net loft.\n\n[0:00:08] Grab a mat.\n\n[0:00:15] Rest.",
        "(0:00) Welcome to the net loft.\n(0:08) Grab a mat.\n(0:15) Rest.",
        "(0:00) Welcome to the net loft. (0:08) Grab a mat. (0:15) Rest.",
        "0:00 Welcome to the net loft.\n0:08 Grab a mat.\n0:15 Rest.",
        "0:00\nWelcome to the net loft.\n0:08\nGrab a mat.\n0:15\nRest.",
        "0:00 - Welcome to the net loft.\n0:08 – Grab a mat.\n0:15: Rest.",
        "00:00:00,000 Welcome to the net loft.\n00:00:08,000 Grab a mat.\n00:00:15,000 Rest.",
        "00:00.000\nWelcome to the net loft.\n\n00:08.000\nGrab a mat.\n\n00:15.000\nRest.",
        "- [0:00] Welcome to the net loft.\n- [0:08] Grab a mat.\n- [0:15] Rest.",
        "* 0:00 Welcome to the net loft.\n* 0:08 Grab a mat.\n* 0:15 Rest.",
        "**[0:00]** Welcome to the *net loft*.\n\n**[0:08]** Grab a mat.\n\n**[0:15]** Rest.",
        "| 0:00 | Welcome to the net loft. |\n| 0:08 | Grab a mat. |\n| 0:15 | Rest. |",
        "Welcome to the net loft. [0:00]\nGrab a mat. [0:08]\nRest. [0:15]",
        "Welcome to the net loft. (0:00)\nGrab a mat. (0:08)\nRest. (0:15)",
        "[0:00]\r\nWelcome to the net loft.\r\n\r\n[0:08]\r\nGrab a mat.\r\n\r\n[0:15]\r\nRest.\r\n",
    ],
)
def test_every_way_to_stamp_gives_the_same_talk(text):
    talk = read(text)
    assert talk.format == "stamped"
    assert cues(talk) == THREE
    assert talk.problems == ()
    assert talk.duration_s == 15.0


def test_a_range_says_where_a_cue_ends():
    for text in (
        "[0:00 - 0:06] Go.\n[0:10 - 0:15] Rest.",
        "0:00 - 0:06 Go.\n0:10 – 0:15 Rest.",
        "(0:00-0:06) Go.\n(0:10-0:15) Rest.",
        "[00:00.000 --> 00:06.000]  Go.\n[00:10.000 --> 00:15.000]  Rest.",
        "0:00 --> 0:06 Go.\n0:10 --> 0:15 Rest.",
    ):
        assert cues(read(text)) == [(0.0, 6.0, "Go."), (10.0, 15.0, "Rest.")], text


def test_paragraphs_stay_with_the_stamp_above_them():
    talk = read("[0:00] Feet under hips.\n\nSoft knees.\n\n[0:30] Down.\nAnd up.\n")
    assert cues(talk) == [(0.0, 30.0, "Feet under hips.\nSoft knees."), (30.0, None, "Down.\nAnd up.")]


def test_headings_are_kept_and_not_spoken():
    talk = read("# Yard circuit\n\n[0:00] Morning.\n\n## Warm-up\n\n[0:30] March it out.\n\nMain part\n=========\n\n[1:00] Squats.\n")
    assert headings(talk) == ["Yard circuit", "Warm-up", "Main part"]
    assert cues(talk) == [(0.0, 30.0, "Morning."), (30.0, 60.0, "March it out."), (60.0, None, "Squats.")]


def test_a_stamp_in_a_heading_starts_what_follows_it():
    talk = read("## Warm-up [0:00]\n\nMarch on the spot.\n\n## [1:00] Circuit\n\nSquats first.\n\nThen rows.\n")
    assert headings(talk) == ["Warm-up", "Circuit"]
    assert cues(talk) == [(0.0, 60.0, "March on the spot."), (60.0, None, "Squats first.\nThen rows.")]


def test_a_heading_without_a_stamp_divides_the_stretch_it_stands_in():
    """Ten characters of twenty, so half the minute: where it falls is estimated by length."""
    talk = read("[0:00] March now.\n\n## Circuit\n\nSquat now.\n\n[1:00] Rest.\n")
    assert cues(talk) == [(0.0, 30.0, "March now."), (30.0, 60.0, "Squat now."), (60.0, None, "Rest.")]


def test_several_headings_divide_one_stretch():
    talk = read("[0:00] March now.\n\n## One\n\nSquat now.\n\n## Two\n\nReach now.\n\n[1:00] Rest.\n")
    assert [cue[:2] for cue in cues(talk)] == [(0.0, 20.0), (20.0, 40.0), (40.0, 60.0), (60.0, None)]


def test_a_stamp_said_again_under_its_heading_is_no_repeat():
    talk = read("## Warm-up [0:00]\n\n[0:00] March.\n\n## Circuit [1:00]\n\n[1:00] Squats.\n")
    assert cues(talk) == [(0.0, 60.0, "March."), (60.0, None, "Squats.")]
    assert talk.problems == ()


def test_lengths_in_brackets_between_stamps_are_words():
    talk = read("[1:00] Work [0:40] and rest [0:20].\n[2:00] Again work [0:40] and rest [0:20].\n[3:00] Done.\n")
    assert [cue[0] for cue in cues(talk)] == [60.0, 120.0, 180.0]
    assert cues(talk)[0][2] == "Work [0:40] and rest [0:20]."


def test_metadata_at_the_top_is_not_spoken():
    talk = read("---\ntitle: Slipway strength\nroom: the Long Room\n---\n\n[0:00] Morning.\n[0:20] Go.\n")
    assert talk.text == "Morning.\nGo."


def test_words_before_the_first_stamp_are_kept_without_a_time():
    assert cues(read("Recorded in the yard.\n\n[0:05] Go.\n[0:30] Rest.\n"))[0] == (None, None, "Recorded in the yard.")


def test_speakers_labels_stay_in_the_text():
    expected = [(0.0, 10.0, "Wren: Morning."), (10.0, 20.0, "Dee: Morning, Wren."), (20.0, None, "Wren: Mats out.")]
    assert cues(read("[0:00] Wren: Morning.\n[0:10] Dee: Morning, Wren.\n[0:20] Wren: Mats out.\n")) == expected
    assert cues(read("Wren [0:00]: Morning.\nDee [0:10]: Morning, Wren.\nWren [0:20]: Mats out.\n")) == expected
    assert cues(read("Wren: (0:00) Morning.\nDee: (0:10) Morning, Wren.\nWren: (0:20) Mats out.\n")) == expected
    assert cues(read("Coach Wren  0:00\nMorning.\n\nCoach Wren  0:10\nMats out.\n\nCoach Wren  0:20\nGo.\n")) == [
        (0.0, 10.0, "Coach Wren\nMorning."), (10.0, 20.0, "Coach Wren\nMats out."), (20.0, None, "Coach Wren\nGo."),
    ]


def test_a_stamp_with_nothing_after_it_ends_the_talk():
    talk = read("[0:00] Go.\n\n[0:30] And rest.\n\n[0:45]\n")
    assert cues(talk) == [(0.0, 30.0, "Go."), (30.0, 45.0, "And rest.")]
    assert talk.duration_s == 45.0


def test_stamps_after_the_text_can_be_ends():
    """As starts, nine words would have to fit into the second from 0:04 to 0:05; as ends they have four."""
    text = "Welcome to the net loft everybody find a space. (0:04)\nGrab a mat. (0:05)\nAnd a light pair of bells from the rack please. (0:09)"
    assert [(a, b) for a, b, _ in cues(read(text))] == [(0.0, 4.0), (4.0, 5.0), (5.0, 9.0)]


# ---------------------------------------------------------------- stamps that are wrong


def test_stamps_that_go_back_or_repeat_are_reported_and_kept_as_said():
    talk = read("[3:10] Go.\n[2:30] Rest.\n[3:50] Row.\n[3:50] Down.\n")
    assert [cue[0] for cue in cues(talk)] == [190.0, 150.0, 230.0, 230.0]
    assert cues(talk)[0][1] is None, "an end before its start would be no end"
    assert [(p.line, p.message) for p in talk.problems] == [
        (2, "The stamp [2:30] runs back behind [3:10]."),
        (4, "The stamp [3:50] comes twice."),
    ]


def test_one_wrong_stamp_does_not_lose_the_others():
    talk = read("0:10 Go.\n0:20 Rest.\n0:03 Row.\n0:40 Down.\n")
    assert [cue[0] for cue in cues(talk)] == [10.0, 20.0, 3.0, 40.0]
    assert len(talk.problems) == 1


def test_a_range_that_ends_before_it_starts_is_reported():
    talk = read("[0:00 - 0:06] Go.\n[0:20 - 0:15] Rest.\n[0:30] Row.")
    assert cues(talk)[1] == (20.0, 30.0, "Rest.")
    assert [p.line for p in talk.problems] == [2]


# ---------------------------------------------------------------- times that are no stamps


@pytest.mark.parametrize(
    "text",
    [
        "We meet at 6:30 tonight, and by 10:15 we are done.",
        "6:30 tonight we squat in the yard.\nThen home.",
        "6:00 Doors open\n6:15 Warm-up\n6:30 Circuit\n7:00 Close",
        "Work (0:40), rest (0:20), then work (0:40) again.",
        "[0:40] work [0:20] rest [0:40] work [0:20] rest",
        "Plank (0:30)\nSquat (0:30)\nRow (0:30)",
        "Plank 0:30\nSquat 0:40\nRow 0:50",
        "Work 0:40\nRest 0:20\nWork 0:40\nRest 0:20",
        "The ratio was 3:10 and not 4:75.",
        "0:40 on, 0:20 off, as ever.",
    ],
)
def test_times_of_day_and_lengths_are_words(text):
    talk = read(text)
    assert talk.format == "plain"
    assert talk.text == text
    assert talk.resolution == "none" and talk.duration_s is None


def test_a_time_of_day_inside_a_stamped_talk_stays_in_the_text():
    assert cues(read("0:00\nMorning all.\n0:10\nMats out, we meet again at\n6:30 tonight in the yard.\n0:25\nRest.\n")) == [
        (0.0, 10.0, "Morning all."),
        (10.0, 25.0, "Mats out, we meet again at\n6:30 tonight in the yard."),
        (25.0, None, "Rest."),
    ]
    assert cues(read("(0:00) Morning. (0:10) Mats out. We meet again at (6:30) tomorrow. (0:25) Rest.\n"))[1] == (
        10.0, 25.0, "Mats out. We meet again at (6:30) tomorrow.",
    )
    assert cues(read("[0:00] Morning.\n[0:10] Forty, as in\n0:40 on the clock.\n[0:25] Rest.\n"))[1] == (
        10.0, 25.0, "Forty, as in\n0:40 on the clock.",
    )


def test_a_stamp_with_seventy_five_seconds_is_none():
    assert cues(read("[12:75] Odd.\n[13:00] Go.\n[13:10] Rest.\n"))[0] == (None, None, "[12:75] Odd.")


# ---------------------------------------------------------------- how fine the times are


def test_resolution_follows_the_typical_stretch():
    assert read("".join(f"[0:{s:02}] Go.\n" for s in range(0, 60, 6))).resolution == "cue"
    assert read("".join(f"[{m}:00] Go.\n" for m in range(9))).resolution == "block"
    assert read("Go, and rest.").resolution == "none"
