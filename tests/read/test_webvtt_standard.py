"""WebVTT against the web-platform-tests project's cases (see wpt/LICENCE.txt for where each comes from).

Of its file-parsing tests, nineteen are here from stored copies of their files, three as other projects' tests quote them
(timings-60, timings-garbage, timings-eof), and for ten whose files were not obtainable the assertion is held against a file of
our own (header-garbage, -space, -tab, -timings; signature-bom, -space, -tab, the two without newline, -timings), as are the five
of signature-invalid. Not here: stylesheets (asserts nothing of captions), header-regions and regions-lines (not obtainable),
regions-regionanchor, regions-viewportanchor, settings-align, settings-line and settings-position (where a caption stands).
Of its cue-text-parsing tests: entities, tags, timestamps and tree-building. An older version of the entities, from before the
rules took over HTML's character references, expects six of them undecoded; the newer one is used.
"""

import json
from pathlib import Path

import pytest

from parser.errors import UnreadableInput
from parser.read import read_bytes
from parser.read.decode import decode
from parser.read.webvtt import claims, cue_text, parse_cues

WPT = Path(__file__).parent / "wpt"
FILES = json.loads((WPT / "file-parsing.json").read_text("utf-8"))["cases"]
TEXTS = json.loads((WPT / "cue-text-parsing.json").read_text("utf-8"))


@pytest.mark.parametrize("case", FILES, ids=[case["name"] for case in FILES])
def test_file_parsing(case):
    cues = parse_cues(decode(case["text"].encode("utf-8"), name=case["name"]))
    assert len(cues) == len(case["cues"])
    for cue, expected in zip(cues, case["cues"]):
        found = {"text": cue.payload, "id": cue.identifier, "start": cue.start, "end": cue.end}
        assert {key: found[key] for key in expected} == expected


@pytest.mark.parametrize(
    "text",
    # The five files of signature-invalid.html were not obtainable; these are ours for what their names say.
    ["WEBSRT\n", "WEBVTT\f\n", "WEBVTTtext\n", "WEBV", ""],
    ids=["invalid", "invalid whitespace", "missing whitespace", "partial", "empty"],
)
def test_without_the_signature_it_is_not_webvtt(text):
    assert not claims(text)
    with pytest.raises(UnreadableInput):
        parse_cues(text)


@pytest.mark.parametrize("case", TEXTS["entities"], ids=lambda case: case["text"])
def test_character_references(case):
    runs, _ = cue_text(case["text"])
    assert "".join(text for text, _ in runs) == case["spoken"]


@pytest.mark.parametrize("case", TEXTS["tags"] + TEXTS["tree-building"], ids=lambda case: case["text"])
def test_tags_go_and_ruby_annotations_with_them(case):
    """Between brackets in the data: what stands in the tree under ``<rt>``, which nobody says aloud."""
    runs, _ = cue_text(case["text"])
    expected = case["spoken"]
    while "(" in expected:
        head, _, tail = expected.partition("(")
        expected = head + tail.partition(")")[2]
    assert "".join(text for text, _ in runs) == expected


@pytest.mark.parametrize("case", TEXTS["timestamps"], ids=lambda case: case["text"])
def test_timestamps_in_cue_text(case):
    """A timestamp with nothing after it times nothing, and gives no run."""
    runs, _ = cue_text(case["text"])
    assert [list(run) for run in runs] == case["runs"]


def test_a_header_without_cues_says_so():
    with pytest.raises(UnreadableInput, match="without a"):
        read_bytes(b"WEBVTT\n\nNOTE nothing said yet\n", name="slipway.vtt")
