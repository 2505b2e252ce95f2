"""Every output of the tables has an expected output; beside them stand facts written by hand."""

import pytest

from parser.render import PLAN, REPORT, render
from parser.render.look import Look

from .examples import CLEAN, EMPTY, FAULTY, FULL
from .refresh_expected import FOLDER, expected


def test_each_output_has_its_file_and_each_file_its_output():
    assert {path.name for path in FOLDER.iterdir()} == set(expected())


@pytest.mark.parametrize("name", sorted(expected()))
def test_output_is_as_expected(name):
    assert expected()[name] == (FOLDER / name).read_bytes().decode("utf-8")


# What a coach must find on the page, whatever the layout.
ON_THE_WALL = [
    "Lunch on the slipway", "under 30 min", "17:15 to 17:45", "resistance, core", "2 × dumbbell (or bottle)", "mat, optional",
    "3 rounds · 40 s work, 20 s rest · 90 s between rounds", "hammer curl + reverse lunge", "“the mooring”",
    "each side, 20 s a side, left first", "each side, 8 to 10 reps a side", "step back half as far", "pause at the bottom",
    "sit and stand from the bench", "elbows stay by the ribs", "2 min before what follows", "right side only", "a sip of water",
    "keep clear of the wet boards", "give it a minute", "The whole sequence on one side, then on the other",
]


@pytest.mark.parametrize("name", ["text", "md"])
@pytest.mark.parametrize("words", ON_THE_WALL)
def test_plan_shows(name, words):
    assert words in PLAN[name].one(FULL, Look())


@pytest.mark.parametrize("name", ["text", "md"])
def test_each_line_is_traced(name):
    page = PLAN[name].one(FULL, Look())
    for stamp in "0:03 0:21 0:24 0:30 1:00 1:02 1:32 1:41 1:50 1:54 1:58 2:02 2:10 8:20 10:40 11:40 11:45 12:00 23:20 23:30".split():
        assert f"[{stamp}]" in page


@pytest.mark.parametrize("plan", [FULL, EMPTY])
@pytest.mark.parametrize("name", ["text", "md"])
def test_ordinary_cautions_stand_at_the_foot(name, plan):
    foot = " ".join(PLAN[name].one(plan, Look()).split()[-70:])
    for words in ("pain, dizziness or chest discomfort", "PAR-Q+", "qualified professional", "what was said, not advice", "Local rules"):
        assert words in foot


@pytest.mark.parametrize("name", ["text", "md"])
def test_what_nobody_said_is_left_out(name):
    page = PLAN[name].one(EMPTY, Look())
    for word in ("None", "null", "Length", "arithmetic", "Focus", "Have ready", "Breaks", "placed", "[", " 0 "):
        assert word.casefold() not in page.casefold()


def test_text_fits_its_width():
    for width in (40, 60, 80, 100):
        for text in (PLAN["text"].one(FULL, Look(width=width)), REPORT["text"].one(FAULTY, Look(width=width))):
            assert max(map(len, text.splitlines())) <= width


def test_bold_and_dim_only_where_asked():
    import re

    assert "\x1b" not in PLAN["text"].one(FULL, Look())
    styles = set(re.findall(r"\x1b\[([\d;]*)m", PLAN["text"].one(FULL, Look(styled=True)) + REPORT["text"].one(FAULTY, Look(styled=True))))
    assert styles == {"0", "1", "2"}  # ECMA-48, SGR: reset, bold, faint; no colour


@pytest.mark.parametrize("name", ["text", "md"])
def test_findings_come_worst_first_and_then_in_time(name):
    page = REPORT[name].one(FAULTY, Look())
    places = [page.index(code) for code in ("split-mismatch", "work-off", "slip-corrected", "caution-missing")]
    assert places == sorted(places)
    assert "1 error, 1 warning, 2 notes" in page


@pytest.mark.parametrize("name", ["text", "md"])
def test_delivered_rows_say_how_far_off_and_how_sure(name):
    page = REPORT[name].one(FAULTY, Look())
    row = next(line for line in page.splitlines() if "6:07" in line)
    for cell in ("work, first side", "40 s", "33 s", "-7 s", "± 1.5 s"):
        assert cell in row


@pytest.mark.parametrize("name", ["text", "md"])
def test_clean_report_is_one_line(name):
    assert REPORT[name].one(CLEAN, Look()) == "Nothing that disagrees was found.\n"


@pytest.mark.parametrize("name", ["text", "md"])
def test_several_files_come_one_after_another_under_their_names(name):
    other = FULL.model_copy(update={"source": FULL.source.model_copy(update={"name": "yard.srt"}), "title": "In the yard"})
    page = render([FULL, other], PLAN[name], Look(), several=True)
    places = [page.index(words) for words in ("long-room.vtt", "Lunch on the slipway", "yard.srt", "In the yard")]
    assert places == sorted(places)
