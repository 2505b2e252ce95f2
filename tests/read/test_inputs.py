"""Encodings, and everything people hand over that is no talk-through: one clear sentence or two, never a traceback."""

import gzip
import io
import os
import random
import sys
import zipfile

import pytest

from parser.errors import UnreadableInput
from parser.read import LIMIT_BYTES, read_bytes, read_path

from .talk import read

TALK = "[0:00] Plié, then chassé – “soft” knees.\n[0:20] And rest…\n"
TEXT = "Plié, then chassé – “soft” knees.\nAnd rest…"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "cp1252"])
@pytest.mark.parametrize("newline", ["\n", "\r\n", "\r"])
def test_every_encoding_and_line_end_gives_the_same_talk(encoding, newline):
    talk = read(TALK.replace("\n", newline), encoding)
    assert talk.text == TEXT
    assert [cue.start for cue in talk.cues] == [0.0, 20.0]


def test_a_marked_utf16_that_is_cut_short_loses_a_character_not_the_file():
    assert read_bytes(TALK.encode("utf-16")[:-1], name="talk").text.startswith("Plié")


def test_the_hash_is_of_the_bytes_as_given():
    # SHA-256 of the three letters abc: FIPS 180-2, appendix B.1.
    assert read_bytes(b"abc", name="talk").sha256 == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_plain_text_claims_no_times():
    talk = read("Morning all.\nGrab a mat.\n\nForty on, twenty off.\n")
    assert talk.format == "plain" and talk.resolution == "none" and talk.duration_s is None
    assert [(cue.start, cue.end) for cue in talk.cues] == [(None, None)] * 2
    assert talk.words == ()


def archive() -> bytes:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as file:
        file.writestr("talk.txt", "Go.")
    return held.getvalue()


NOISE = random.Random(7)
BAD = {
    "empty": (b"", "is empty"),
    "blank": (b" \n\t\r\n  ", "nothing but blank space"),
    "blank after a mark": (b"\xef\xbb\xbf\n\n", "nothing but blank space"),
    "zip": (archive(), "ZIP archive"),
    "gzip": (gzip.compress(b"Go."), "gzip archive"),
    "png": (b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", "PNG image"),
    "jpeg": (b"\xff\xd8\xff\xe0\x00\x10JFIF", "JPEG image"),
    "pdf": (b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n", "PDF document"),
    "rtf": (b"{\\rtf1\\ansi Go.}", "RTF document"),
    "wave": (b"RIFF\x24\x00\x00\x00WAVEfmt ", "sound recording"),
    "mp4": (b"\x00\x00\x00\x20ftypisom", "MP4 recording"),
    "mp3": (b"ID3\x04\x00\x00", "MP3 recording"),
    "noise": (bytes(NOISE.randrange(256) for _ in range(5000)), "binary data"),
    "zeros": (b"\x00" * 500, "binary data|blank space"),
    "zeros among words": (b"Go\x00and\x00rest\x00 now all of you", "binary data"),
    "html": (b"<!DOCTYPE html>\n<html><body><p>Go.</p></body></html>", "HTML or XML"),
    "another xml": (b'<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"><text>Go.</text></svg>', "HTML or XML"),
    "header without cues": (b"WEBVTT\n\nNOTE nothing yet\n", "without a spoken word"),
    "captions without words": (b"1\n00:00:01,000 --> 00:00:02,000\n\n", "without a spoken word"),
    "headings only": (b"# Yard class\n\n## Warm-up\n", "without a spoken word"),
    "numbers only": (b"12 34\n56\n", "no words"),
}


@pytest.mark.parametrize("name", BAD)
def test_what_cannot_be_read_is_named_with_what_would_work(name):
    data, found = BAD[name]
    with pytest.raises(UnreadableInput, match=found) as refused:
        read_bytes(data, name="yard.bin")
    message = str(refused.value)
    assert message.startswith("yard.bin")
    assert "\n" not in message and len(message) < 300
    assert message.count(". ") <= 1 and message.endswith(".")
    assert refused.value.exit_code == 2


def test_too_long_is_refused_before_it_is_read():
    with pytest.raises(UnreadableInput, match="32 MiB"):
        read_bytes(b" " * (LIMIT_BYTES + 1), name="yard.txt")


def test_a_file_too_long_is_refused_without_reading_it(tmp_path):
    path = tmp_path / "yard.txt"
    with open(path, "wb") as file:
        file.truncate(LIMIT_BYTES + 1)
    with pytest.raises(UnreadableInput, match="32 MiB"):
        read_path(path)


def test_a_path_is_read_by_its_content_not_its_suffix(tmp_path):
    path = tmp_path / "yard.json"
    path.write_text("WEBVTT\n\n00:01.000 --> 00:04.000\nGrab a mat.\n", encoding="utf-8")
    for given in (path, str(path)):
        talk = read_path(given)
        assert (talk.name, talk.format) == ("yard.json", "vtt")


def test_a_dash_is_standard_input(monkeypatch):
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(TALK.encode())))
    talk = read_path("-")
    assert (talk.name, talk.text) == ("standard input", TEXT)


def test_what_is_no_file_is_refused(tmp_path):
    with pytest.raises(UnreadableInput, match="directory"):
        read_path(tmp_path)
    with pytest.raises(UnreadableInput, match="There is no file"):
        read_path(tmp_path / "none.vtt")
    with pytest.raises(UnreadableInput, match="cannot be opened|There is no file"):
        read_path("a\x00b")
    with pytest.raises(UnreadableInput, match="cannot be opened"):
        read_path("x" * 5000)


@pytest.mark.skipif(hasattr(os, "geteuid") and os.geteuid() == 0, reason="the superuser may read everything")
def test_a_file_one_may_not_read_is_refused(tmp_path):
    path = tmp_path / "yard.vtt"
    path.write_text("Go.")
    path.chmod(0)
    with pytest.raises(UnreadableInput, match="permissions"):
        read_path(path)


def test_a_name_that_is_not_utf8_is_shown_as_well_as_can_be(tmp_path):
    path = os.path.join(os.fsencode(tmp_path), b"yard-\xff.txt")
    try:
        with open(path, "wb") as file:
            file.write(b"Go and rest.")
    except OSError:
        pytest.skip("this file system takes UTF-8 names only")
    assert read_path(os.fsdecode(path)).name == "yard-\ufffd.txt"
