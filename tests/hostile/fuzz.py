"""A fuzzer led by coverage over the readers or the whole pipeline: ``python -m tests.hostile.fuzz readers|pipeline [-runs=N …]``.

Needs the extra ``fuzz``; what follows the target goes to libFuzzer. It starts from ``seeds/``, keeps what reaches new code in a folder
of its own for the next run (``--corpus FOLDER``), and leaves what breaks something in the folder it was called from. What it finds
becomes a test in ``test_found.py``.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["parser", "lexicon"]):
    from parser import pipeline, read
    from parser.errors import UnreadableInput

from ..read.test_always import holds
from .test_any_text import SAYINGS, hold_true

SEEDS = Path(__file__).with_name("seeds")
_LARGEST = {"readers": 4096, "pipeline": 1024}


def reading(data: bytes) -> None:
    try:
        holds(read.read_bytes(data, name="fuzz"))
    except UnreadableInput as refused:
        assert str(refused)


def piping(data: bytes) -> None:
    try:
        talk = read.read_bytes(data, name="fuzz")
    except UnreadableInput:
        return
    both = pipeline.reading(talk)
    hold_true(talk, (both.plan, both.report))


TARGETS = {"readers": reading, "pipeline": piping}


def dictionary() -> str:
    """What talk and captions are made of, as libFuzzer reads it."""
    said = [s for s in SAYINGS if len(s) < 40]
    pieces = [*said, "[0:10] ", "(1:30)", "00:00:01,000 --> 00:00:02,000", "WEBVTT\n\n", "<c>", '"segments": [', '"text": ', '"start": ', "<p begin=", "&amp;"]
    return "".join('"' + "".join(f"\\x{byte:02x}" for byte in piece.encode()) + '"\n' for piece in pieces)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("target", choices=TARGETS)
    parser.add_argument("--corpus", type=Path, help="what is kept from run to run")
    asked, more = parser.parse_known_args()
    with tempfile.TemporaryDirectory() as folder:
        words = Path(folder, "words.dict")
        words.write_text(dictionary())
        kept = asked.corpus or Path(folder, "corpus")
        kept.mkdir(parents=True, exist_ok=True)
        atheris.Setup([sys.argv[0], f"-dict={words}", f"-max_len={_LARGEST[asked.target]}", *more, str(kept), str(SEEDS)], TARGETS[asked.target])
        atheris.Fuzz()


if __name__ == "__main__":
    main()
