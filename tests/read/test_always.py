"""What holds for any input at all, however long."""

import json
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parser.errors import UnreadableInput
from parser.model import TalkThrough
from parser.read import FORMATS, read_bytes

from .talk import read


def holds(talk: TalkThrough) -> None:
    assert talk.format in {format.name for format in FORMATS}
    assert talk.text == talk.text.encode("utf-8").decode("utf-8")
    at = 0
    for cue in talk.cues:
        first, last = cue.chars
        assert at <= first < last <= len(talk.text), "cues follow each other in the text"
        assert talk.text[first:last].strip() == talk.text[first:last]
        assert talk.text[at:first].strip() == ""
        at = last
        if cue.start is not None and cue.end is not None:
            assert cue.end >= cue.start
    assert talk.text[at:].strip() == ""
    at = 0
    for word in talk.words:
        first, last = word.chars
        assert at <= first < last <= len(talk.text), "words follow each other in the text"
        assert talk.text[first:last].strip() == talk.text[first:last]
        assert any(cue.chars[0] <= first and last <= cue.chars[1] for cue in talk.cues)
        assert word.end >= word.start
        at = last
    times = [t for item in (*talk.cues, *talk.words) for t in (item.start, item.end) if t is not None]
    assert all(math.isfinite(t) and t >= 0 for t in times)
    assert talk.duration_s == max(times, default=None)
    if talk.resolution == "none":
        assert not times
    TalkThrough.model_validate_json(talk.model_dump_json())


def holds_or_is_refused(data: bytes) -> None:
    try:
        talk = read_bytes(data, name="talk")
    except UnreadableInput as refused:
        assert str(refused) and "\n" not in str(refused)
    else:
        holds(talk)


@given(st.binary(max_size=300))
def test_any_bytes(data):
    holds_or_is_refused(data)


@given(st.text(max_size=300))
def test_any_text(text):
    holds_or_is_refused(text.encode("utf-8", errors="surrogatepass"))


# Text out of the pieces that the formats are made of: it comes near their rules far more often than any text does.
PIECES = st.sampled_from(
    "\n|\n\n| |go|rest now|squat.|one|Wren:|# Warm-up|- |**|[0:00]|[0:10]|[1:00:00]|(0:20)|0:30|0:40 |6:30 pm|[0:05 - 0:09]|[9:99]"
    "|00:00:01,000 --> 00:00:02,000|00:03.000 --> 00:01.000|00:00:04.000 --> 00:00:05.000 align:start|-->|1|2|WEBVTT\n\n"
    "|<c>|</c>|<v Wren>|<00:00:01.500>|<ruby>|<rt>|</ruby>|<|>|&amp;|&lt|NOTE|STYLE|\x00|\ufeff|\r\n|\t|| go | go|---\n|===\n||".split("|")
)


@settings(max_examples=400)
@given(st.booleans(), st.lists(PIECES, max_size=40))
def test_any_mixture_of_what_captions_are_made_of(header, pieces):
    holds_or_is_refused((("WEBVTT\n\n" if header else "") + "".join(pieces)).encode())


TIME = st.one_of(st.none(), st.integers(-5, 10**20), st.floats(), st.text(max_size=3))
WORD = st.fixed_dictionaries({}, optional={"word": st.text(max_size=8), "text": st.text(max_size=8), "start": TIME, "end": TIME})
SEGMENT = st.fixed_dictionaries(
    {},
    optional={
        "text": st.text(max_size=30), "body": st.text(max_size=30), "start": TIME, "end": TIME, "startTime": TIME,
        "endTime": TIME, "words": st.lists(WORD, max_size=4), "timestamp": st.lists(TIME, max_size=3),
        "offsets": st.fixed_dictionaries({"from": TIME, "to": TIME}), "result": st.lists(WORD, max_size=4),
    },
)


@settings(max_examples=300)
@given(st.sampled_from(["segments", "chunks", "transcription", "words", "result", None]), st.lists(SEGMENT | WORD, max_size=5))
def test_any_json_of_about_the_right_shape(key, items):
    holds_or_is_refused(json.dumps(items if key is None else {key: items, "text": "go on"}).encode())


XML_TIME = st.sampled_from(["", "1s", "0.5s", "00:00:02", "00:00:01:10", "bad", "9" * 30 + "h"])
SPAN = st.builds(lambda b, t: f'<span begin="{b}">{t}</span>', XML_TIME, st.sampled_from(["go ", " rest", "", "<br/>now", "one two"]))
PARAGRAPH = st.builds(
    lambda b, e, d, s: f'<p begin="{b}" end="{e}" dur="{d}">{"".join(s)}</p>', XML_TIME, XML_TIME, XML_TIME, st.lists(SPAN, max_size=4)
)


@given(st.sampled_from(["", 'timeContainer="seq"']), XML_TIME, st.lists(PARAGRAPH, max_size=5))
def test_any_ttml(container, begin, paragraphs):
    holds_or_is_refused(f'<tt><body begin="{begin}"><div {container}>{"".join(paragraphs)}</div></body></tt>'.encode())


# ---------------------------------------------------------------- length

LONG = 8_000
REPEATED = {
    "stamped": lambda n: "".join(f"[{m // 60}:{m % 60:02}:00] Down and up.\n\n" for m in range(n)),
    "stamps in one line": lambda n: " ".join(f"[{m // 60}:{m % 60:02}:00] down" for m in range(n)),
    "stamps after": lambda n: " ".join(f"down (0:{m % 60:02})" for m in range(n)) + "\nup (0:01)\ndown (0:02)",
    "bare stamps": lambda n: "".join(f"{m // 60 % 100}:{m % 60:02} down and up\n" for m in range(n)),
    "headings": lambda n: "[0:00] Go.\n" + "# Down\n\nand up\n\n" * n,
    "brackets that never close": lambda n: "[0:00] go " + "[0:0" * n + "(" * n,
    "colons": lambda n: "0:00 go\n" + "0:" * n,
    "srt": lambda n: "".join(f"{m}\n00:{m // 60 % 60:02}:{m % 60:02},000 --> 00:59:59,000\nDown {m}\n\n" for m in range(n)),
    "srt of one caption": lambda n: "1\n00:00:01,000 --> 00:00:02,000\n" + "down <i>and\n" * n,
    "vtt": lambda n: "WEBVTT\n\n" + "".join(f"00:{m // 60 % 60:02}:{m % 60:02}.000 --> 00:59:59.000\nDown {m}\n\n" for m in range(n)),
    "vtt of open tags": lambda n: "WEBVTT\n\n00:01.000 --> 00:02.000\n" + "<c>go <ruby>" * n,
    "vtt of open brackets": lambda n: "WEBVTT\n\n00:01.000 --> 00:02.000\ngo " + "<" * n,
    "vtt of word times": lambda n: "WEBVTT\n\n00:01.000 --> 00:02.000\ngo" + "<00:01.500><c> go</c>" * n,
    "vtt of one long line that rolls": lambda n: "WEBVTT\n\n" + "".join(f"00:0{m}.000 --> 00:0{m}.900\n{'go ' * n}\n\n" for m in range(6)),
    "vtt of arrows": lambda n: "WEBVTT\n\n00:01.000 --> 00:02.000\ngo\n" + "-->\n" * n,
    "spaces": lambda n: "0:00 go" + " " * n + "x\n0:05 rest\n" + " " * n + "\n",
    "rules": lambda n: "go\n" + "- " * n + "x\n" + "=" * n + " x",
    "emphasis": lambda n: "go *" * n + "_go" * n,
    "json": lambda n: json.dumps({"segments": [{"start": m, "end": m + 1, "text": "go and rest", "words": [{"word": "and", "start": m}]} for m in range(n)]}),
    "json of words not in the text": lambda n: json.dumps([{"start": 0, "end": 1, "text": "go " * n, "words": [{"word": "row", "start": 0}] * n}]),
    "ttml": lambda n: "<tt><body>" + "".join(f'<p begin="{m}s" dur="1s">go {m}</p>' for m in range(n)) + "</body></tt>",
    "ttml of spans": lambda n: '<tt><body><p begin="0s" end="9s">' + '<span begin="1s">go </span>' * n + "</p></body></tt>",
    "plain": lambda n: "Down and up.\n\n" * n,
}


@pytest.mark.parametrize("name", REPEATED)
def test_long_and_hostile_is_read_to_its_end(name):
    """How the cost grows with the length is measured by ``python -m tests.bench.read_growth``."""
    talk = read(REPEATED[name](LONG))
    assert talk.text and talk.cues
