"""Roll-up captions: each line is heard once; what is truly said twice is kept.

Public bug reports give the measure of what goes wrong: 5,975 words for 3,035 spoken in one of them.
"""

import pytest

from .talk import cues, read, words

SPOKEN = [
    "feet under hips and soft knees",
    "sit back and down between your heels",
    "chest up and drive through the floor",
    "ten more seconds keep it moving",
    "and rest shake it out",
]


def stamp(seconds: float) -> str:
    return f"00:{int(seconds) // 60:02}:{seconds % 60:06.3f}"


def rolled(lines: list[str], *, window: int = 2, hold: bool = False, timed: bool = False, format: str = "vtt") -> str:
    """What captioning shows while ``lines`` are spoken, three seconds each, as WebVTT or SubRip."""
    blocks = []
    for place, line in enumerate(lines):
        start, end = 3.0 * place, 3.0 * place + 2.8
        above = lines[max(0, place - window + 1) : place]
        text = line
        if timed:
            first, *more = line.split()
            text = first + "".join(f"<{stamp(start + 0.4 * n)}><c> {word}</c>" for n, word in enumerate(more, 1))
        blocks.append((start, end, [*above, text]))
        if hold:
            blocks.append((end, end + 0.01, [*lines[max(0, place - window + 2) : place], line, " "]))
    if format == "srt":
        return "".join(
            f"{n}\n{stamp(a).replace('.', ',')} --> {stamp(b).replace('.', ',')}\n" + "\n".join(text) + "\n\n"
            for n, (a, b, text) in enumerate(blocks, 1)
        )
    return "WEBVTT\n\n" + "".join(f"{stamp(a)} --> {stamp(b)}\n" + "\n".join(text) + "\n\n" for a, b, text in blocks)


@pytest.mark.parametrize("window", [2, 3])
@pytest.mark.parametrize("hold", [False, True], ids=["no hold", "10 ms hold"])
@pytest.mark.parametrize("timed", [False, True], ids=["no word times", "word times"])
def test_every_line_is_heard_once_at_its_own_time(window, hold, timed):
    talk = read(rolled(SPOKEN, window=window, hold=hold, timed=timed))
    assert talk.text.split("\n") == SPOKEN
    assert [cue[0] for cue in cues(talk)] == [0.0, 3.0, 6.0, 9.0, 12.0]
    if timed:
        expected = [(word, 3.0 * n + 0.4 * m) for n, line in enumerate(SPOKEN) for m, word in enumerate(line.split())]
        assert [(text, round(start, 3)) for text, start, _ in words(talk)] == [(w, round(t, 3)) for w, t in expected]


def test_the_same_in_subrip():
    assert read(rolled(SPOKEN, hold=True, format="srt")).text.split("\n") == SPOKEN


@pytest.mark.parametrize("hold", [False, True], ids=["no hold", "10 ms hold"])
@pytest.mark.parametrize("timed", [False, True], ids=["no word times", "word times"])
@pytest.mark.parametrize("window", [2, 3])
def test_a_line_said_twice_or_three_times_is_heard_so_often(window, timed, hold):
    lines = [*SPOKEN[:2], "and squat", "and squat", *SPOKEN[2:4], "go go", "go go", "go go", SPOKEN[4]]
    assert read(rolled(lines, window=window, hold=hold, timed=timed)).text.split("\n") == lines


def test_a_word_said_twice_inside_a_line_is_kept():
    lines = ["squat squat and hold it there", *SPOKEN, "go go go all of you"]
    assert read(rolled(lines, timed=True)).text.split("\n") == lines


def test_captions_that_do_not_roll_keep_what_they_repeat():
    said = ["Squat.", "Squat.", "Go, go.", "Go, go.\nGo, go.", "And rest.", "Ready?\nSquat.", "Squat.\nAnd hold."]
    text = "WEBVTT\n\n" + "".join(f"{stamp(3 * n)} --> {stamp(3 * n + 2)}\n{line}\n\n" for n, line in enumerate(said))
    assert read(text).text.split("\n") == "\n".join(said).split("\n")


def test_a_line_that_grows_word_by_word_is_heard_once():
    spoken = "sit back and down between your heels".split()
    text = "WEBVTT\n\n" + "".join(f"{stamp(n)} --> {stamp(n + 1)}\n{' '.join(spoken[: n + 1])}\n\n" for n in range(len(spoken)))
    assert read(text).text.split() == spoken


def test_a_tail_repeated_without_a_line_break_is_heard_once():
    lines = [line.split() for line in SPOKEN]
    shown = [" ".join([*(lines[n - 1] if n else []), *line]) for n, line in enumerate(lines)]
    text = "WEBVTT\n\n" + "".join(f"{stamp(3 * n)} --> {stamp(3 * n + 2)}\n{line}\n\n" for n, line in enumerate(shown))
    assert read(text).text.split() == " ".join(SPOKEN).split()


def test_a_pause_that_clears_the_window_loses_nothing():
    text = rolled(SPOKEN[:3]) + rolled(SPOKEN[3:])[len("WEBVTT\n\n") :]
    assert read(text).text.split("\n") == SPOKEN


def test_a_one_word_line_in_a_file_with_word_times_starts_with_its_caption():
    lines = [*SPOKEN[:3], "rest", *SPOKEN[3:]]
    talk = read(rolled(lines, timed=True, hold=True))
    assert ("rest", 9.0) in [(text, start) for text, start, _ in words(talk)]
