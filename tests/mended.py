"""Take the ``known_miss`` off whatever is understood by now: ``python -m tests.mended``.

In the corpus and in the facts of the samples. It only ever takes marks away; to put one on is a decision for a person.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

from .corpus import reading
from .corpus.judge import understood, understood_without_marks
from .test_samples import BY_NAME, FACTS, fact_holds

_MARKED = re.compile(r'\{say = ("(?:[^"\\]|\\.)*"), known_miss = true\}')
_MARK = ", known_miss = true}"


def mend_corpus(path: Path) -> Iterator[str]:
    """The phrases of ``path`` that are mended; the file is written without their marks."""
    known = [p for p in reading.phrases(path.stem) if p.known_miss]
    mended = [understood(path.stem, p)[0] for p in known]
    path.write_text(unmarked(path.read_text(encoding="utf-8"), mended), encoding="utf-8")
    yield from (p.id for p, right in zip(known, mended) if right)


def unmarked(text: str, mended: list[bool]) -> str:
    """``text`` of a corpus file without the marks that ``mended`` is true for, in the order of the file.

    That is the order of reading: of each meaning first ``say``, then ``near``. Raises ValueError unless there are as many marks.
    """
    each = iter(mended)
    made, marks = _MARKED.subn(lambda found: found[1] if next(each, False) else found[0], text)
    if marks != len(mended):
        raise ValueError(f"{marks} marks, {len(mended)} phrases: write a mark as {{say = \"…\", known_miss = true}}.")
    return made


def mend_without_marks() -> Iterator[str]:
    """The phrases on the list of ``phases.toml`` that are mended; the file is written without their lines."""
    path = reading.FOLDER / "phases.toml"
    listed = reading.corpus("phases")["without_marks"]["known_miss"]
    head, list_, tail = re.split(r"(^known_miss = \[\n.*?^\]\n)", path.read_text(encoding="utf-8"), maxsplit=1, flags=re.DOTALL | re.MULTILINE)
    mended = {p.said for p in reading.phrases("phases") if p.said in listed and understood_without_marks(p)[0]}
    for said in sorted(mended):
        list_ = list_.replace(f'  "{said}",\n', "")
    path.write_text(head + list_ + tail, encoding="utf-8")
    yield from (f"without marks: {said}" for said in sorted(mended))


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
    for line in mend_without_marks():
        print(line)
    for file in sorted(FACTS.glob("*.toml")):
        for line in mend_facts(file):
            print(line)
