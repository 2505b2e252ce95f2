"""A coach's own names: a small file of theirs, laid over the shipped data."""

from __future__ import annotations

import os
import tempfile
import tomllib
from collections.abc import Mapping
from pathlib import Path

from . import index as tries
from .build import shipped
from .entry import TaughtWord
from .files import read_rows
from .index import Name
from .match import Lexicon, Meaning
from .normal import split

_HEAD = "# Own names for movements. Each has a name, and what it means in words that the lexicon knows.\n"


def load(taught: Path | None = None) -> Lexicon:
    """The shipped lexicon, with the names of the file ``taught`` over it.

    Raises ValueError with a sentence for the first thing in the file that cannot be used, OSError if it cannot be read.
    """
    if taught is None:
        return shipped()
    rows, problems = _read(taught)
    if problems:
        raise ValueError(problems[0])
    return layer(shipped(), {row.name: row.means for row in rows})


def check(path: Path) -> list[str]:
    """What cannot be used in a file of own names, a sentence each. Raises OSError if it cannot be read."""
    rows, problems = _read(path)
    seen: set[tuple[str, ...]] = set()
    for row in rows:
        key = split(row.name)
        if key in seen:
            problems.append(f"{path.name}, “{row.name}”: the name is there twice. Keep one of the two.")
        seen.add(key)
        problem = _problem(shipped(), row.name, row.means)
        if problem:
            problems.append(f"{path.name}, “{row.name}”: {problem}")
    return problems


def teach(path: Path, name: str, means: str) -> None:
    """Keeps ``name`` in the file ``path``, in place of what it meant before. The file is replaced whole or not at all.

    Raises ValueError with a sentence if the name or its meaning cannot be used, OSError if the file cannot be written.
    """
    name, means = " ".join(name.split()), " ".join(means.split())
    problem = _problem(shipped(), name, means)
    if problem:
        raise ValueError(problem)
    rows, problems = _read(path) if path.exists() else ([], [])
    if problems:
        raise ValueError(f"{problems[0]} Nothing was written.")
    kept = [row for row in rows if split(row.name) != split(name)]
    _write(path, [*kept, TaughtWord(name=name, means=means)])


def layer(lexicon: Lexicon, names: Mapping[str, str]) -> Lexicon:
    """``lexicon`` with more own names; a name that is there already gets its new meaning. Raises ValueError."""
    own = dict(lexicon.own)
    for name, means in names.items():
        problem = _problem(lexicon, name, means)
        if problem:
            raise ValueError(f"“{name}”: {problem}")
        own = {n: m for n, m in own.items() if split(n) != split(name)}
        own[name] = _meaning(lexicon, means)
    rows = []
    for name, meaning in own.items():
        for words in _said(name):
            rows.append(Name(meaning, "taught", words))
    return Lexicon(lexicon.trade, own, tries.build(rows, (), (), (), (), lexicon.trade.reader.context.around))


def _said(name: str) -> list[tuple[str, ...]]:
    """The words of a name, without the article too: ``the top shelf`` is also ``top shelf``."""
    words = split(name)
    if len(words) > 2 and words[0] in ("the", "a", "an", "my"):
        return [words, words[1:]]
    return [words]


def _problem(lexicon: Lexicon, name: str, means: str) -> str | None:
    if not split(name):
        return "the name holds no word. Give the words that you say."
    if not split(means):
        return f"nothing is said for what “{name}” means. Give a movement that the lexicon knows."
    if lexicon.find(means) is None:
        return f"“{means}” is no movement that the lexicon knows. Say what “{name}” means in other words, such as single-arm overhead press."
    known = lexicon.trade.by_name.get(split(name))
    if known is not None:
        return f"“{name}” is already the {lexicon.trade.entries[known].name} in the lexicon. Choose another name."
    return None


def _meaning(lexicon: Lexicon, means: str) -> tuple[Meaning, ...]:
    return lexicon.taken_apart(means)


def _read(path: Path) -> tuple[list[TaughtWord], list[str]]:
    try:
        content = tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as exc:
        return [], [f"{path.name}: this is not valid TOML ({exc}). Mend that line."]
    problems = [f"{path.name}: “{key}” is not known here. Write each name under [[word]]." for key in content if key != "word"]
    words = content.get("word", [])
    if not isinstance(words, list):
        return [], [f"{path.name}: “word” is {words!r}. Write each name under [[word]]."]
    rows, bad = read_rows(words, TaughtWord, path.name)
    return rows, problems + bad


def _write(path: Path, rows: list[TaughtWord]) -> None:
    text = _HEAD + "".join(f"\n[[word]]\nname = {_quoted(row.name)}\nmeans = {_quoted(row.means)}\n" for row in rows)
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".tmp")
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as out:
            out.write(text)
        os.replace(temporary, path)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise


def _quoted(text: str) -> str:
    """A TOML basic string."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in escaped) + '"'
