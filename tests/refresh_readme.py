"""The README's commands and its sample: ``python -m tests.refresh_readme`` writes the sample again."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
README = ROOT / "README.md"
SHOWN_LINES = 14
"""How much of a long sample the README shows."""


SHOWN_OF_ARCHIVE = 44


def _block(name: str) -> re.Pattern:
    return re.compile(rf"(<!-- {name} -->\n```\w*\n)(.*?)(^```$)", re.DOTALL | re.MULTILINE)


def block(text: str, name: str) -> str:
    """What stands in the fenced block after ``<!-- name -->``. Raises ValueError unless there is exactly one."""
    found = _block(name).findall(text)
    if len(found) != 1:
        raise ValueError(f"README.md needs one block after <!-- {name} -->, and has {len(found)}.")
    return found[0][1]


def sample_call(text: str) -> list[str]:
    """The arguments of ``planaloud`` at the end of the try command."""
    words = shlex.split(block(text, "try-command"))
    return words[words.index(".venv/bin/planaloud") + 1 :]


def run(calls: list[list[str]]) -> list[str]:
    """What each call prints, with this Python, away from anybody's own words and archive. Raises CalledProcessError."""
    with tempfile.TemporaryDirectory() as empty:
        home = {"XDG_CONFIG_HOME": empty, "XDG_DATA_HOME": empty, "HOME": empty}
        return [
            subprocess.run(
                [sys.executable, "-m", "parser.cli", *call], cwd=ROOT, check=True, capture_output=True, env={**os.environ, **home}, timeout=120,
            ).stdout.decode("utf-8")
            for call in calls
        ]


ARCHIVE = ("archive-find", "archive")
"""Blocks of commands, each with its output: what the last of them prints."""


def archive_calls(text: str, name: str) -> list[list[str]]:
    return [shlex.split(line)[1:] for line in block(text, f"{name}-command").splitlines()]


def sample_beginning(text: str) -> str:
    return shown((ROOT / sample_call(text)[-1]).read_text(encoding="utf-8"), SHOWN_LINES)


def shown(output: str, lines: int) -> str:
    """Its first lines, and dots for the others."""
    found = output.splitlines()
    return "\n".join(found[:lines] + (["..."] if len(found) > lines else [])) + "\n"


def _with(text: str, name: str, content: str) -> str:
    block(text, name)
    return _block(name).sub(lambda found: found[1] + content + found[3], text)


def refreshed(text: str) -> str:
    text = _with(text, "sample-in", sample_beginning(text))
    return _with(text, "sample-out", run([sample_call(text)])[0])


def archive_refreshed(text: str) -> str:
    for name in ARCHIVE:
        text = _with(text, f"{name}-out", shown(run(archive_calls(text, name))[-1], SHOWN_OF_ARCHIVE))
    return text


if __name__ == "__main__":
    README.write_text(archive_refreshed(refreshed(README.read_text(encoding="utf-8"))), encoding="utf-8")
