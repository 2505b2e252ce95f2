"""One digest of every plan and report of ``tests/gold``: ``python -m tests.bench.fingerprint``.

A change that is meant to make things faster, or to tidy, and nothing else, prints the same digests as before it. With ``--each`` one
line a file, to see where they part.
"""

from __future__ import annotations

import argparse
import hashlib

from parser import audit, load_lexicon, make_plan
from parser.read import read_bytes

from ..accuracy import FOLDER, scripts
from ..captions import WRITERS
from ..talks import read_script

SHAPES = ("md", "vtt")


def digest(script: str, shape: str, lexicon) -> str:
    words = read_script(FOLDER / f"{script}.talk").words
    talk = read_bytes(WRITERS[shape](words).encode(), name=f"{script}.{shape}")
    both = make_plan(talk, lexicon=lexicon).model_dump_json() + audit(talk, lexicon=lexicon).model_dump_json()
    return hashlib.sha256(both.encode()).hexdigest()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--each", action="store_true")
    each, lexicon = parser.parse_args().each, load_lexicon()
    for shape in SHAPES:
        all_of_it = hashlib.sha256()
        for script in scripts():
            found = digest(script, shape, lexicon)
            all_of_it.update(found.encode())
            if each:
                print(f"{found[:16]} {script}.{shape}")
        print(f"{all_of_it.hexdigest()[:32]} {shape}")


if __name__ == "__main__":
    main()
