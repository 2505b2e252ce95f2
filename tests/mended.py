"""Take the ``known_miss`` off whatever is understood by now: ``python -m tests.mended``.

In the corpus and in the facts of the samples. It only ever takes marks away; to put one on is a decision for a person.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

from .corpus import reading
from .corpus.judge import understood
from .test_samples import BY_NAME, FACTS, fact_holds

_MARKED = re.compile(r'\{say = ("(?:[^"\\]|\\.)*"), known_miss = true\}')
_MARK = ", known_miss = true}"


def mend_corpus(path: Path) -> Iterator[str]:
    """The phrases of ``path`` that are mended; the file is written without their marks."""
    known = iter([p for p in reading.phrases(path.stem) if p.known_miss])
    mended = []

    def without(found: re.Match) -> str:
        phrase = next(known)
        if not understood(path.stem, phrase)[0]:
            return found[0]
        mended.append(phrase.id)
        return found[1]

    # The marks stand in the file in the order in which the phrases are read: of each meaning first `say`, then `near`.
    path.write_text(_MARKED.sub(without, path.read_text(encoding="utf-8")), encoding="utf-8")
    yield from mended


def mend_facts(path: Path) -> Iterator[str]:
    rows = iter([row for row in tomllib.loads(path.read_text(encoding="utf-8"))["fact"] if row.get("known_miss")])
    lines = path.read_text(encoding="utf-8").splitlines()
    for n, line in enumerate(lines):
        if _MARK in line and fact_holds(row := next(rows), BY_NAME[path.stem])[0]:
            lines[n] = line.replace(_MARK, "}")
            yield f"{path.stem}: {row['what']}"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")


if __name__ == "__main__":
    for file in sorted(reading.FOLDER.glob("*.toml")):
        for line in mend_corpus(file):
            print(line)
    for file in sorted(FACTS.glob("*.toml")):
        for line in mend_facts(file):
            print(line)
