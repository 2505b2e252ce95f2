"""Every format opens, and each cue and word slices the text."""

import json

import pytest

from parser.read import read_bytes

VTT = """WEBVTT

00:00:00.000 --> 00:00:02.000
 
welcome<00:00:00.500><c> to</c><00:00:00.900><c> the</c><00:00:01.200><c> hall</c>

00:00:02.000 --> 00:00:02.010
welcome to the hall
 

00:00:02.500 --> 00:00:04.000
welcome to the hall
grab<00:00:03.000><c> a</c><00:00:03.400><c> mat</c>
"""
SAMPLES = {
    "stamped": "# Net loft circuit\n\n[0:00] Welcome to the hall.\n\n[0:20] Grab a mat.\n",
    "srt": "1\n00:00:00,000 --> 00:00:02,000\nWelcome to the hall.\n\n2\n00:00:02,500 --> 00:00:04,000\nGrab a mat.\n",
    "vtt": VTT,
    "ttml": '<tt xmlns="http://www.w3.org/ns/ttml"><body><div><p begin="0s" end="2s">Welcome to the hall.</p></div></body></tt>',
    "speech-json": json.dumps({"segments": [{"start": 0, "end": 2, "text": " Welcome to the hall.", "words": []}]}),
    "podcast-json": json.dumps({"version": "1.0.0", "segments": [{"startTime": 0, "endTime": 2, "body": "Welcome to the hall."}]}),
    "plain": "Welcome to the hall. Grab a mat.\n",
}


@pytest.mark.parametrize("format", SAMPLES)
def test_each_format_is_recognised_by_its_content(format):
    talk = read_bytes(SAMPLES[format].encode(), name="talk")
    assert talk.format == format
    spoken = " ".join(talk.text[a:b] for a, b in (cue.chars for cue in talk.cues if not cue.heading))
    assert spoken.lower().startswith("welcome to the hall")


def test_rolled_lines_are_heard_once_with_their_times():
    talk = read_bytes(VTT.encode(), name="talk")
    assert talk.text == "welcome to the hall\ngrab a mat"
    assert [(talk.text[slice(*w.chars)], w.start) for w in talk.words] == [
        ("welcome", 0.0), ("to", 0.5), ("the", 0.9), ("hall", 1.2), ("grab", 2.5), ("a", 3.0), ("mat", 3.4),
    ]
